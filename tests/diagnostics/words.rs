//! Keys: unknown ones, with the nearest, and the words that builders try first.

use crate::diagnostics::support::{edit, edited, faults, hold, plain, sole, underlined};

/// Where in the base case a word is tried: the text behind which it is written.
const DAY: &str = r#"temperature = "27 degC""#;
const DRIVE: &str = "final_drive = 4.4";
const ENGINE: &str = r#"displacement = "870 cm3""#;
const PART: &str = r#"limit = "118 degC""#;
const PASSAGE: &str = r#"to = "plenum""#;
const CONDITION: &str = r#"load = "4 %""#;
const RAM_INLET: &str = r#"{ kind = "ram-inlet", area = "48 cm2""#;
const BEND: &str = r#"{ kind = "bend", diameter = "124 mm", angle = "40 deg""#;
const FAN: &str = r#"{ kind = "fan", drive_ratio = 1.5"#;
const CORE: &str = r#"{ kind = "core", part = "oil", area = "300 cm2""#;
const EXIT: &str = r#"{ kind = "exit", area = "190 cm2", edge = "sharp""#;
const LEAK: &str = r#"{ kind = "leak", share_of_inlets = "5 %""#;

#[test]
fn words_that_builders_try_first() {
    for (behind, word, meant) in [
        (RAM_INLET, "k", "entry_loss"),
        (RAM_INLET, "K", "entry_loss"),
        (RAM_INLET, "radius", "edge_radius"),
        (RAM_INLET, "size", "area"),
        (RAM_INLET, "n", "count"),
        (RAM_INLET, "w", "width"),
        (RAM_INLET, "h", "height"),
        (EXIT, "cd", "discharge"),
        (EXIT, "Cp", "pressure_coefficient"),
        (EXIT, "discharge_coefficient", "discharge"),
        (RAM_INLET, "pressure_recovery", "recovery"),
        (RAM_INLET, "zeta", "entry_loss"),
        (BEND, "centre_radius", "radius"),
        (BEND, "r_over_d", "radius"),
        (FAN, "belt", "drive_ratio"),
        (FAN, "rpm", "reference_speed"),
        (CONDITION, "following", "clear_air"),
        (LEAK, "cd", "discharge"),
        (LEAK, "cp", "pressure_coefficient"),
        (BEND, "dia", "diameter"),
        (BEND, "d", "diameter"),
        (FAN, "speed_ratio", "drive_ratio"),
        (FAN, "ratio", "drive_ratio"),
        (CORE, "ua", "conductance"),
        (CORE, "dp", "pressure_drop"),
        (CONDITION, "tow", "clear_air"),
        (CONDITION, "draft", "clear_air"),
        (CONDITION, "slipstream", "clear_air"),
        (CONDITION, "throttle", "load"),
        (CONDITION, "pedal", "load"),
        (CONDITION, "tape", "taped"),
        (DAY, "temp", "temperature"),
        (DAY, "ambient", "temperature"),
        (PART, "max", "limit"),
        (PART, "max_temperature", "limit"),
        (ENGINE, "efficiency", "brake_efficiency"),
        (ENGINE, "bsfc", "fuel_consumption"),
        (ENGINE, "capacity", "displacement"),
        (ENGINE, "hp", "peak_power"),
        (DRIVE, "tyre", "tyre_radius"),
        (DRIVE, "wheel_radius", "tyre_radius"),
        (DRIVE, "ratios", "gears"),
        (PASSAGE, "number", "count"),
    ] {
        let inline = behind.starts_with('{');
        let added = if inline { format!("{behind}, {word} = 1") } else { format!("{behind}\n{word} = 1") };
        let text = edited(behind, &added);
        let fault = sole(&text);
        assert_eq!((fault.code, underlined(&fault, &text).as_str()), ("unknown-key", word));
        let way_out = &fault.what_to_do;
        assert!(way_out.starts_with(&format!("write {meant}: ")), "{word}: {way_out}");
    }
    for word in ["mesh", "porosity", "open_area"] {
        let screen =
            format!(r#"{{ kind = "screen", open_fraction = 0.6, {word} = 1 }}, {{ kind = "loss", area"#);
        let text = edited(r#"{ kind = "loss", area"#, &screen);
        assert!(sole(&text).what_to_do.starts_with("write open_fraction: "));
    }
    // an element that reckons its own loss says where a coefficient is written
    let fault = sole(&edited(BEND, &format!("{BEND}, zeta = 0.4")));
    assert!(fault.what_to_do.contains(r#"kind = "loss""#), "{}", fault.what_to_do);
    // load is not pedal travel, and the way out says so
    let fault = sole(&edited(CONDITION, "throttle = \"4 %\""));
    assert!(fault.what_to_do.contains("not pedal travel"), "{}", fault.what_to_do);
}

#[test]
fn unknown_keys_and_tables() {
    hold(
        "unknown_keys_and_tables",
        &[
            edit(
                r#"humidity = "45 %""#,
                r#"humidty = "45 %""#,
                "unknown-key",
                "humidty",
                "day has no key humidty",
            ),
            edit(
                "revision =",
                "colour = \"red\"\nrevision =",
                "unknown-key",
                "colour",
                "the case has no key colour",
            ),
            edit("[sweep]", "[swep]", "unknown-table", "swep", "no table is called swep"),
            edit(
                r#"gap = "8 mm" }"#,
                r#"gap = "8 mm", colour = "9 mm" }"#,
                "unknown-key",
                "colour",
                "place/shoulder/boundary_layer has no key colour",
            ),
            edit(r#"kind = "leak""#, r#"kind = "leek""#, "unknown-kind", r#""leek""#, "no kind of element"),
            edit(r#"kind = "leak""#, r#"kind = "gap""#, "unknown-kind", r#""gap""#, "no kind of element"),
            edit(
                r#"kind = "bend", diameter = "124 mm", angle = "30 deg""#,
                r#"diameter = "124 mm", angle = "30 deg""#,
                "kind-missing",
                r#"{ diameter = "124 mm", angle = "30 deg", radius = "160 mm" }"#,
                "does not say its kind",
            ),
            edit(
                r#"edge = "rounded""#,
                r#"edge = "roundd""#,
                "unknown-word",
                r#""roundd""#,
                "edge cannot be",
            ),
        ],
    );
    for (from, to, meant) in [
        (r#"humidity = "45 %""#, r#"humidty = "45 %""#, "humidity"),
        (r#"humidity = "45 %""#, r#"Humidity = "45 %""#, "humidity"),
        (r#"recovery = 0.85"#, r#"recvery = 0.85"#, "recovery"),
        ("final_drive = 4.4", "final_drive = 4.4\nlowst = 3", "lowest"),
        ("[sweep]", "[swep]", "sweep"),
        ("kind = \"leak\"", "kind = \"leek\"", "leak"),
        ("edge = \"rounded\"", "edge = \"roundd\"", "rounded"),
    ] {
        let way_out = sole(&edited(from, to)).what_to_do;
        assert!(way_out.starts_with(&format!("did you mean {meant}?")), "{to}: {way_out}");
    }
    // where nothing is near, what is possible is listed
    let way_out = sole(&edited("revision =", "colour = \"red\"\nrevision =")).what_to_do;
    assert_eq!(way_out, "possible here: format, title, revision, date, author, about");
}

#[test]
fn what_must_be_there() {
    hold(
        "what_must_be_there",
        &[
            edit("displacement = \"870 cm3\"\n", "", "key-missing", "[engine]", "engine has no displacement"),
            edit(
                "limit = \"118 degC\"\n",
                "",
                "key-missing",
                "[part.oil]",
                "part/oil has neither limit nor share_at",
            ),
            edit("final_drive = 4.4\n", "", "key-missing", "[drive]", "drive has no final_drive"),
            edit(
                r#", reference_flow = "0.28 kg/s""#,
                "",
                "key-missing",
                r#"{ kind = "fins", part = "barrels", conductance = "70 W/K", pressure_drop = "500 Pa" }"#,
                "passage/barrels/fins has no reference_flow",
            ),
            edit("time = \"8 s\"", "", "key-missing", r#"{ condition = "hairpin",  }"#, "step/2 has no time"),
            edit("format = 1\n", "", "format-missing", "", "does not say its format"),
            edit("format = 1", "format = 2", "format-unknown", "2", "reads format 1; the file says 2"),
        ],
    );
    // two keys that one table lacks are two faults
    let text = edited(
        "displacement = \"870 cm3\"\npower = [[\"1800 rpm\", \"9 kW\"], [\"3400 rpm\", \"21 kW\"], [\"5000 rpm\", \"31 kW\"], [\"5900 rpm\", \"33 kW\"]]\n",
        "",
    );
    let codes: Vec<&str> = faults(&text).iter().map(|fault| fault.code).collect();
    assert_eq!(codes, ["key-missing", "power-missing"], "{}", plain(&faults(&text), &text));
    let text = edited("speed = \"5 km/h\"\nrpm = \"1500 rpm\"\n", "");
    let text = text.replace("[[condition]]\nname = \"queue\"\n", "[[condition]]\n");
    let lacks =
        |what: &str| faults(&text).iter().any(|f| f.code == "key-missing" && f.message.ends_with(what));
    assert!(lacks("has no speed") && lacks("has no name"), "{}", plain(&faults(&text), &text));
}

#[test]
fn a_misspelt_key_is_one_fault_and_not_also_missing() {
    for (from, to) in [
        ("displacement =", "displacment ="),
        ("tyre_radius =", "tire_radius ="),
        ("limit = \"118 degC\"", "max = \"118 degC\""),
        ("area = \"48 cm2\"", "aera = \"48 cm2\""),
        ("width = \"150 mm\"", "widht = \"150 mm\""),
        ("gear = 3", "gaer = 3"),
        ("power = [[", "pwoer = [["),
        ("share_of_inlets = \"5 %\"", "share_of_inlet = \"5 %\""),
        ("drag_at =", "drag_art ="),
        ("free = [", "fre = ["),
        ("step = [{", "steps = [{"),
        ("reference_flow = \"0.28 kg/s\"", "reference_flo = \"0.28 kg/s\""),
        ("from = \"25 km/h\"", "form = \"25 km/h\""),
    ] {
        let text = edited(from, to);
        let found = faults(&text);
        let codes: Vec<&str> = found.iter().map(|fault| fault.code).collect();
        assert_eq!(codes, ["unknown-key"], "{to}\n{}", plain(&found, &text));
    }
}
