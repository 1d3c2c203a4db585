//! What changed between two cases, against cases changed by hand.

use super::{QUARRY, read, with};
use slowcorner::case::{Case, Loaded, load};
use slowcorner::point::Model;
use slowcorner::point::conditions::check;
use slowcorner::study::changes::changes;
use slowcorner::study::changes::result::OpeningFate;
use slowcorner::study::changes::result::{Changes, Fate, MarginMoved};
use slowcorner::study::size::Sizing;

/// The demo car with its openings as `size` finds them.
fn sized(set: &[(&str, &str)]) -> Loaded {
    let sizes = [
        ("passage/heads/ram-inlet/width", "82.7 mm"),
        ("passage/heads/ram-inlet/height", "41.4 mm"),
        ("passage/oil cooler/ram-inlet/area", "93.8 cm2"),
        ("passage/left exit/exit/area", "301 cm2"),
        ("passage/right exit/exit/area", "301 cm2"),
    ];
    let all = sizes.iter().chain(set).map(|(a, v)| (a.to_string(), v.to_string())).collect::<Vec<_>>();
    load(QUARRY, &all).unwrap_or_else(|faults| panic!("{faults}"))
}

fn since(old: &Loaded, new: &Loaded) -> Changes {
    changes(old, new, &|_| {}).unwrap_or_else(|error| panic!("{error}"))
}

fn margin(case: &Case, part: &str, condition: &str) -> f64 {
    let model = Model::new(case).unwrap_or_else(|faults| panic!("{faults}"));
    let conditions = check(case, &model).expect("solves");
    let at = conditions.iter().find(|c| c.name == condition).expect("a condition");
    at.parts.iter().find(|p| p.name == part).expect("a part").temperature_margin_K
}

fn moved<'c>(found: &'c Changes, part: &str, condition: &str) -> &'c MarginMoved {
    found.margins.iter().find(|m| m.part == part && m.condition == condition).expect("a margin")
}

fn fate<'c>(found: &'c Changes, passage: &str) -> &'c Fate {
    found.openings.iter().find(|o| o.passage == passage).expect("an opening")
}

#[test]
fn nothing_changed_since_itself() {
    let case = sized(&[]);
    let found = since(&case, &case);
    assert!(found.differs.is_empty() && found.unmatched.is_empty() && found.trouble.is_empty());
    assert_eq!(found.margins.len(), 3 * 4);
    assert!(found.margins.iter().all(|m| m.moved_K == 0.0 && m.because.is_empty() && m.together_K == 0.0));
    assert!(
        found.openings.iter().all(|o| o.fate == OpeningFate::Stays && o.missed.is_empty()),
        "{:?}",
        found.openings
    );
    let names: Vec<&str> = found.openings.iter().map(|o| o.passage.as_str()).collect();
    assert_eq!(names, ["fan", "heads", "oil cooler", "left exit", "right exit"]);
}

#[test]
fn a_tail_that_draws_less_asks_for_larger_exits() {
    let (old, new) = (sized(&[]), sized(&[("place/tail/pressure_coefficient", "-0.02")]));
    let found = since(&old, &new);
    // the one address that differs moves all that moves
    for m in &found.margins {
        let mover: f64 = m.because.iter().map(|mover| mover.moved_K).sum();
        assert!(m.because.is_empty() && m.moved_K.abs() < 0.05 || (mover - m.moved_K).abs() < 1e-6, "{m:?}");
        assert!(m.because.iter().all(|mover| mover.addresses == ["place/tail/pressure_coefficient"]));
    }
    let heads = moved(&found, "heads", "straight");
    assert!((heads.temperature_margin_before_K - margin(&old.case, "heads", "straight")).abs() < 1e-9);
    assert!((heads.temperature_margin_after_K - margin(&new.case, "heads", "straight")).abs() < 1e-9);
    assert!(heads.moved_K < -0.5, "less suction, less air: {heads:?}");
    let exit = fate(&found, "left exit");
    let anew = Sizing::new(&new.case).expect("a size").solve().expect("sizes");
    assert!(
        (exit.sized_m2.expect("free") - anew.sizes.areas_m2.get("left exit").expect("free")).abs() < 1e-9
    );
    assert_eq!(exit.fate, OpeningFate::MustGrow, "{exit:?}");
    // the fan's own inlet is not free, and need not change once the others do
    assert_eq!((fate(&found, "fan").fate, fate(&found, "fan").sized_m2), (OpeningFate::Stays, None));
    assert!(!exit.missed.is_empty());
    // the largest move first
    assert!(found.margins.windows(2).all(|pair| pair[0].moved_K.abs() >= pair[1].moved_K.abs()));
}

#[test]
fn a_tail_that_draws_harder_lets_every_opening_stay() {
    let found = since(&sized(&[]), &sized(&[("place/tail/pressure_coefficient", "-0.25")]));
    assert!(found.openings.iter().all(|o| o.fate == OpeningFate::Stays), "{:?}", found.openings);
    let exit = fate(&found, "left exit");
    assert!(exit.sized_m2.expect("free") < 0.97 * exit.before_m2, "and could be smaller");
}

#[test]
fn openings_drawn_otherwise_are_judged_by_the_old_ones() {
    // the newer case draws its exits far too small: that says nothing of those already cut
    let small = [("passage/left exit/exit/area", "100 cm2"), ("passage/right exit/exit/area", "100 cm2")];
    let found = since(&sized(&[]), &sized(&small));
    let exit = fate(&found, "left exit");
    assert_eq!((exit.fate, exit.drawn_m2), (OpeningFate::Stays, Some(0.01)));
    assert!(moved(&found, "oil", "hairpin").moved_K < -50.0, "as drawn now it would cook");
}

#[test]
fn each_table_is_put_into_the_older_case_on_its_own() {
    let tail = ("place/tail/pressure_coefficient", "-0.05");
    let oil = ("engine/heat/oil", "4.9 %");
    let cooler = ("passage/oil cooler/core/conductance", "118 W/K");
    let hairpin = ("condition/hairpin/load", "38 %");
    let (old, new) = (sized(&[]), sized(&[tail, oil, cooler, hairpin]));
    let found = since(&old, &new);
    let at = moved(&found, "oil", "hairpin");
    let before = margin(&old.case, "oil", "hairpin");
    for (table, one) in [
        ("place/tail", tail),
        ("engine", oil),
        ("passage/oil cooler", cooler),
        ("condition/hairpin", hairpin),
    ] {
        let mover = at.because.iter().find(|mover| mover.table == table).unwrap_or_else(|| panic!("{table}"));
        let alone = margin(&sized(&[one]).case, "oil", "hairpin") - before;
        assert!((mover.moved_K - alone).abs() < 1e-6, "{table}: {} {alone}", mover.moved_K);
        assert_eq!(mover.addresses, [one.0]);
    }
    let sum: f64 = at.because.iter().map(|mover| mover.moved_K).sum();
    assert!((at.moved_K - sum - at.together_K).abs() < 1e-9);
    assert!(at.because.windows(2).all(|pair| pair[0].moved_K.abs() >= pair[1].moved_K.abs()));
    // the hairpin's own load moves nothing elsewhere
    let straight = moved(&found, "oil", "straight");
    assert!(straight.because.iter().all(|mover| mover.table != "condition/hairpin"));
}

#[test]
fn what_only_one_of_them_has_is_said_and_stops_nothing() {
    let old = read(QUARRY);
    let text = QUARRY
        .replace("name = \"queue\"\nspeed", "name = \"paddock\"\nspeed")
        .replace("condition = \"queue\"", "condition = \"paddock\"")
        .replace("name = \"seams\"", "name = \"gaps\"")
        .replace(
            "[part.oil]",
            "[part.gearbox]\nlimit = \"130 degC\"\nbay_conductance = \"3 W/K\"\n\n[part.oil]",
        );
    let found = since(&old, &read(&text));
    let told: Vec<(&str, &str, bool)> =
        found.unmatched.iter().map(|u| (u.what.into(), u.name.as_str(), u.added)).collect();
    for one in [
        ("condition", "queue", false),
        ("condition", "paddock", true),
        ("passage", "seams", false),
        ("passage", "gaps", true),
        ("part", "gearbox", true),
    ] {
        assert!(told.contains(&one), "{told:?}");
    }
    assert_eq!(found.margins.len(), 3 * 3, "three parts in the three conditions that both have");
}

#[test]
fn a_passage_and_the_new_place_it_names_are_put_in_together() {
    let old = read(QUARRY);
    let text = QUARRY
        .replace("[[passage]]\nname = \"fan\"", "[place.spine]\npressure_coefficient = -0.3\n\n[[passage]]\nname = \"fan\"")
        .replace(
            "name = \"left exit\"\nfrom = \"bay\"\nto = \"outside\"\nelement = [{ kind = \"exit\", area = \"100 cm2\", place = \"tail\"",
            "name = \"left exit\"\nfrom = \"bay\"\nto = \"outside\"\nelement = [{ kind = \"exit\", area = \"100 cm2\", place = \"spine\"",
        )
        .replace("altitude = \"260 m\"", "altitude = \"900 m\"");
    let found = since(&old, &read(&text));
    assert!(found.trouble.is_empty(), "{:?}", found.trouble);
    let at = moved(&found, "oil", "straight");
    let tables: Vec<&str> = at.because.iter().map(|mover| mover.table.as_str()).collect();
    assert!(tables.contains(&"day"), "{tables:?}");
    assert!(
        tables.iter().any(|t| t.contains("place/spine") && t.contains("passage/left exit")),
        "{tables:?}"
    );
}

#[test]
fn without_a_size_nothing_is_said_of_how_much() {
    let (begin, rest) = QUARRY.split_once("[size]").expect("a size");
    let text = format!("{begin}[[stint]]{}", rest.split_once("[[stint]]").expect("a stint").1);
    let found = since(
        &read(&text),
        &read(&text.replace("pressure_coefficient = -0.15", "pressure_coefficient = 0.1")),
    );
    assert!(found.trouble.iter().any(|trouble| trouble.contains("no [size]")), "{:?}", found.trouble);
    assert!(found.openings.iter().all(|o| o.sized_m2.is_none()));
    assert_eq!(fate(&found, "left exit").fate, OpeningFate::NotEnough);
    assert!(with(&text, &[]).size.is_none());
}
