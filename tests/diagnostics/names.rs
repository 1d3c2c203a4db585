//! Names: used twice, with a slash, reserved, or naming nothing.

use crate::diagnostics::support::{edit, edited, hold, sole};

#[test]
fn names_used_twice() {
    hold(
        "names_used_twice",
        &[
            edit("[part.barrels]", "[part.heads]", "name-used-twice", "heads", "twice in one table"),
            edit(
                "altitude = \"240 m\"",
                "temperature = \"20 degC\"",
                "name-used-twice",
                "temperature",
                "twice",
            ),
            edit(
                "[chamber.bay]",
                "[chamber.bay]\n[chamber.oil]",
                "name-used-twice",
                "oil",
                "parts and chambers share",
            ),
            edit(
                "name = \"barrels\"",
                "name = \"heads\"",
                "name-used-twice",
                "\"heads\"",
                "another passage has it",
            ),
            edit(
                "",
                "[[condition]]\nname = \"queue\"\nspeed = \"9 km/h\"\ngear = 1",
                "name-used-twice",
                "\"queue\"",
                "another condition has it",
            ),
            edit(
                "",
                "[[stint]]\nname = \"queue and climb\"\nstep = { condition = \"queue\", time = \"5 s\" }",
                "name-used-twice",
                "\"queue and climb\"",
                "another stint has it",
            ),
            edit(
                "",
                "[[layout]]\nname = \"one exit\"",
                "name-used-twice",
                "\"one exit\"",
                "another layout has it",
            ),
            edit(
                ", \"straight\"]\nsmallest",
                ", \"hairpin\"]\nsmallest",
                "name-used-twice",
                r#""hairpin""#,
                "stands twice in size/at",
            ),
            edit(
                r#"{ kind = "demand", share = 1 }"#,
                r#"{ kind = "step", name = "loss", area_after = "9 cm2" }, { kind = "demand", share = 1 }"#,
                "name-used-twice",
                r#""loss""#,
                "another element of the passage goes by it",
            ),
            // the address of the second bend is taken
            edit(
                r#"{ kind = "fan", drive"#,
                r#"{ kind = "fan", name = "bend 2", drive"#,
                "name-used-twice",
                r#""bend 2""#,
                "another element of the passage",
            ),
        ],
    );
}

#[test]
fn names_that_no_address_can_hold() {
    hold(
        "names_that_no_address_can_hold",
        &[
            edit(
                "[place.shoulder]",
                "[place.\"a/b\"]\n[place.shoulder]",
                "name-with-slash",
                "\"a/b\"",
                "holds a /",
            ),
            edit(
                "name = \"scoop\"",
                "name = \"scoop/top\"",
                "name-with-slash",
                "\"scoop/top\"",
                "\"scoop/top\"",
            ),
            edit(
                "",
                "[[condition]]\nname = \"1/2\"\nspeed = \"9 km/h\"\ngear = 1",
                "name-with-slash",
                "\"1/2\"",
                "",
            ),
            edit(
                "kind = \"leak\"",
                "name = \"a/b\", kind = \"leak\"",
                "name-with-slash",
                "\"a/b\"",
                "\"a/b\"",
            ),
            edit("name = \"scoop\"", "name = \"\"", "name-empty", "\"\"", "a passage has an empty name"),
            edit(
                "name = \"scoop\"",
                "name = \" scoop\"",
                "name-with-space-around",
                "\" scoop\"",
                "begins or ends",
            ),
            edit("name = \"scoop\"", "name = \"other\"", "name-reserved", "\"other\"", "name of a passage"),
            edit(
                "kind = \"leak\"",
                "name = \"count\", kind = \"leak\"",
                "name-reserved",
                "\"count\"",
                "an element",
            ),
            edit(
                "name = \"scoop\"\nfrom = \"outside\"",
                "name = \"scoop\"\nfrom = 3",
                "text-wanted",
                "3",
                "passage/scoop/from",
            ),
        ],
    );
    // from the engine no air comes
    let fault = sole(
        &edited("from = \"outside\"\nto = \"plenum\"", "from = \"engine\"\nto = \"plenum\"")
            .replace(r#"{ kind = "ram-inlet", width"#, r#"{ kind = "loss", k = 1, area = "9 cm2" }, # "#)
            .replace("# , width", "# width"),
    );
    assert_eq!(fault.code, "name-reserved");
    // nor from a chamber that is outside with a slip of the pen
    let text = edited(
        "from = \"bay\"\nto = \"outside\"\nelement = [{ kind = \"leak\"",
        "from = \"bay\"\nto = \"Outside\"\nelement = [{ kind = \"leak\"",
    );
    let fault = sole(&text);
    assert_eq!(
        (fault.code, fault.message.as_str()),
        ("name-reserved", "the chamber's name \"Outside\" reads like outside")
    );
}

#[test]
fn names_that_nothing_defines() {
    hold(
        "names_that_nothing_defines",
        &[
            edit(
                "bay = \"2 %\"",
                "bya = \"2 %\"",
                "unknown-name",
                "bya",
                "no part or chamber is called \"bya\"",
            ),
            edit("chamber = \"bay\"", "chamber = \"bya\"", "unknown-name", "\"bya\"", "no chamber is called"),
            edit(
                "part = \"barrels\"",
                "part = \"barrel\"",
                "unknown-name",
                "\"barrel\"",
                "no part is called",
            ),
            edit(
                ", place = \"shoulder\"",
                ", place = \"sholder\"",
                "unknown-name",
                "\"sholder\"",
                "no place is called",
            ),
            edit(
                "from = \"left exit\", share",
                "from = \"left\", share",
                "unknown-name",
                "\"left\"",
                "no passage is called",
            ),
            edit(
                "taped = { \"oil cooler\"",
                "taped = { \"oil coler\"",
                "unknown-name",
                "\"oil coler\"",
                "no passage",
            ),
            edit(
                "drag_at = \"straight\"",
                "drag_at = \"strait\"",
                "unknown-name",
                "\"strait\"",
                "no condition is called",
            ),
            edit(
                "at = [\"hairpin\", ",
                "at = [\"hairpn\", ",
                "unknown-name",
                "\"hairpn\"",
                "no condition is called",
            ),
            edit(
                "condition = \"queue\", time",
                "condition = \"que\", time",
                "unknown-name",
                "\"que\"",
                "no condition",
            ),
            edit(
                "remove = [\"right exit\"]",
                "remove = [\"right\"]",
                "unknown-name",
                "\"right\"",
                "no passage",
            ),
            edit(
                "cut = { \"left exit\"",
                "cut = { \"left exist\"",
                "unknown-name",
                "\"left exist\"",
                "no passage",
            ),
            edit("least_area = { \"oil cooler\"", "least_area = { oil", "unknown-name", "oil", "no passage"),
        ],
    );
    for (from, to, meant) in [
        ("bay = \"2 %\"", "bya = \"2 %\"", "bay"),
        (", place = \"shoulder\"", ", place = \"sholder\"", "shoulder"),
        ("drag_at = \"straight\"", "drag_at = \"strait\"", "straight"),
        ("part = \"barrels\"", "part = \"Barrels\"", "barrels"),
        ("from = \"left exit\", share", "from = \"left-exit\", share", "left exit"),
    ] {
        assert_eq!(sole(&edited(from, to)).what_to_do, format!("did you mean {meant}?"));
    }
    // where nothing is near, what is known is listed, and how to define more
    let way_out = sole(&edited("part = \"barrels\"", "part = \"sump\"")).what_to_do;
    assert_eq!(way_out, "known: heads, barrels, oil; or write a table [part.NAME] for it");
}

#[test]
fn the_first_chamber_named_is_that_of_parts_that_name_none() {
    let home = |text: &str, pairs: &[(&str, &str)]| {
        let loaded = slowcorner::case::load(text, &crate::diagnostics::support::settings(pairs));
        let case = loaded.unwrap_or_else(|faults| panic!("{faults}")).case;
        let heads = case.part("heads").unwrap();
        case.chambers[case.chamber_of(&case.parts[heads].values).unwrap()].name.clone()
    };
    // [chamber.bay] and the barrels' chamber away: [engine.heat] names the bay before any passage
    // names the plenum
    let text = edited("[chamber.bay]\nskin_conductance = \"3 W/K\"\n", "");
    let text = text.replacen("chamber = \"bay\"\n", "", 1);
    assert_eq!(home(&text, &[]), "bay");
    // a what-if on that share does not move the part
    assert_eq!(home(&text, &[("engine/heat/bay", "3 %")]), "bay");
    // without heat of its own, the passages name the plenum first
    let silent = text.replacen("bay = \"2 %\"\n", "", 1);
    assert_eq!(home(&silent, &[]), "plenum");
    // a part names the bay before them
    let part =
        silent.replacen("material = \"cast iron\"\n", "material = \"cast iron\"\nchamber = \"bay\"\n", 1);
    assert_eq!(home(&part, &[]), "bay");
}
