//! Numbers: units, ranges, what is no number, how sure the builder is.

use crate::diagnostics::support::{
    BASE, edit, edited, faults_with, hold, number, plain, set, sole, sole_with, underlined,
};
use slowcorner::keys::Origin;
use slowcorner::keys::measure::Spread;

#[test]
fn units() {
    hold(
        "units",
        &[
            edit(
                r#"length = "220 mm""#,
                "length = 220",
                "unit-missing",
                "220",
                "`220` has no unit; a length",
            ),
            edit(
                r#"pressure_drop = "420 Pa""#,
                r#"pressure_drop = "420""#,
                "unit-missing",
                r#""420""#,
                "a pressure",
            ),
            edit(r#"speed = "40 km/h""#, r#"speed = "40 kmh/""#, "unit-unknown", r#""40 kmh/""#, "a speed"),
            edit(
                r#"speed = "40 km/h""#,
                r#"speed = "40 kW""#,
                "unit-of-another-kind",
                r#""40 kW""#,
                "is a power",
            ),
            edit(
                "final_drive = 4.4",
                r#"final_drive = "4.4 m""#,
                "unit-of-another-kind",
                r#""4.4 m""#,
                "a plain number",
            ),
            edit(
                r#"speed = "40 km/h""#,
                r#"speed = "40,5 km/h""#,
                "decimal-comma",
                r#""40,5 km/h""#,
                "comma",
            ),
            edit(r#"title ="#, "title = 3 #", "text-wanted", "3", "title is a bare number; text is wanted"),
            edit(
                "recovery = 0.85",
                "recovery = true",
                "number-wanted",
                "true",
                "true or false; a plain number",
            ),
            edit("recovery = 0.85", "recovery = 2024-05-01", "number-wanted", "2024-05-01", "is a date"),
            edit("mass = \"9 kg\"", "mass = [\"9 kg\"]", "number-wanted", "[\"9 kg\"]", "is a list; a mass"),
            edit(
                r#"temperature = "27 degC""#,
                r#"temperature = "-300 degC""#,
                "below-absolute-zero",
                r#""-300 degC""#,
                "below absolute zero",
            ),
            edit(
                r#"["3400 rpm", "21 kW"]"#,
                r#"["3400 rpm", "21 mw"]"#,
                "unit-ambiguous",
                r#""21 mw""#,
                "MW or mW",
            ),
        ],
    );
    // a bare number: the kind of quantity and an example
    for (from, to, kind, example) in [
        (r#"temperature = "27 degC""#, "temperature = 27", "a temperature", "\"35 degC\""),
        (r#"tyre_radius = "271 mm""#, "tyre_radius = 271", "a length", "\"240 mm\""),
        (r#"area = "48 cm2""#, "area = 48", "an area", "\"90 cm2\""),
        (r#"speed = "40 km/h""#, "speed = 40", "a speed", "\"120 km/h\""),
        (r#"conductance = "70 W/K""#, "conductance = 70", "a thermal conductance", "\"110 W/K\""),
        (r#"reference_flow = "0.3 kg/s""#, "reference_flow = 0.3", "a mass flow", "\"0.25 kg/s\""),
    ] {
        let fault = sole(&edited(from, to));
        assert_eq!(fault.code, "unit-missing");
        assert!(fault.message.ends_with(&format!("has no unit; {kind} is wanted here")), "{}", fault.message);
        assert!(fault.what_to_do.contains(&format!("for example {example}")), "{}", fault.what_to_do);
    }
}

#[test]
fn numbers_that_are_none_or_out_of_range() {
    hold(
        "numbers_that_are_none_or_out_of_range",
        &[
            edit("recovery = 0.85", "recovery = nan", "number-not-finite", "nan", "not a finite number"),
            edit("recovery = 0.85", "recovery = inf", "number-not-finite", "inf", "`inf`"),
            edit("recovery = 0.85", "recovery = -inf", "number-not-finite", "-inf", "`-inf`"),
            edit("recovery = 0.85", r#"recovery = "NaN""#, "number-unreadable", r#""NaN""#, "`NaN`"),
            edit(
                r#"area = "48 cm2""#,
                r#"area = "inf cm2""#,
                "number-unreadable",
                r#""inf cm2""#,
                "`inf cm2`",
            ),
            edit(
                r#"area = "48 cm2""#,
                r#"area = "1e999 cm2""#,
                "number-not-finite",
                r#""1e999 cm2""#,
                "1e999",
            ),
            edit(
                r#"area = "48 cm2""#,
                r#"area = "-48 cm2""#,
                "out-of-range",
                r#""-48 cm2""#,
                "area is -48 cm2; accepted: above 0 cm2, up to 4 m2",
            ),
            edit(r#"area = "48 cm2""#, r#"area = "0 cm2""#, "out-of-range", r#""0 cm2""#, "above 0 cm2"),
            edit(
                r#"length = "220 mm""#,
                r#"length = "0 mm""#,
                "out-of-range",
                r#""0 mm""#,
                "length is 0 mm; accepted: above 0 mm",
            ),
            edit(r#"area = "48 cm2""#, r#"area = "48 m2""#, "out-of-range", r#""48 m2""#, "up to 4 m2"),
            edit(
                r#"taped = { "oil cooler" = "20 %" }"#,
                r#"taped = { "oil cooler" = "99 %" }"#,
                "out-of-range",
                r#""99 %""#,
                "0 % to 95 %",
            ),
            edit("gear = 3", "gear = 0", "count-not-whole", "0", "whole number"),
            edit("gear = 3", "gear = 1.5", "count-not-whole", "1.5", "whole number"),
            edit(
                "gear = 3",
                "gear = 99999999999999999999",
                "out-of-range",
                "99999999999999999999",
                "condition/straight/gear",
            ),
            edit(
                "recovery = 0.85",
                "recovery = 85",
                "out-of-range",
                "85",
                "recovery is 85; accepted: 0 to 1.05",
            ),
            edit(
                r#"temperature = "27 degC""#,
                r#"temperature = "300 degC""#,
                "out-of-range",
                r#""300 degC""#,
                "-50 degC to 60 degC",
            ),
        ],
    );
}

#[test]
fn lists_and_curves() {
    hold(
        "lists_and_curves",
        &[
            edit("gears = [2.8, 1.7, 1.15]", "gears = 2.8", "list-wanted", "2.8", "a list is wanted"),
            edit(
                "gears = [2.8, 1.7, 1.15]",
                "gears = [2.8, \"x\", 1.15]",
                "number-unreadable",
                "\"x\"",
                "does not begin with a number",
            ),
            edit(
                r#"["3400 rpm", "21 kW"]"#,
                r#"["3400 rpm"]"#,
                "pair-wanted",
                r#"["3400 rpm"]"#,
                "point 2 of engine/power has one value; two are wanted",
            ),
            edit(
                r#"["3400 rpm", "21 kW"]"#,
                r#""21 kW""#,
                "pair-wanted",
                r#""21 kW""#,
                "point 2 of engine/power is text",
            ),
            edit(
                r#"["3400 rpm", "21 kW"]"#,
                r#"["1400 rpm", "21 kW"]"#,
                "points-out-of-order",
                r#""1400 rpm""#,
                "must rise",
            ),
            edit(
                r#"["0.3 m3/s", "900 Pa"]"#,
                r#"["0.3 m3/s", "900"]"#,
                "unit-missing",
                r#""900""#,
                "a pressure",
            ),
            edit(
                r#"element = [{ kind = "leak", share_of_inlets = "5 %" }]"#,
                "element = 3",
                "list-wanted",
                "3",
                "element is a bare number",
            ),
            edit(
                "load = \"4 %\"",
                "load = \"4 %\"\nwarm = \"yes\"",
                "flag-wanted",
                "\"yes\"",
                "true or false is wanted",
            ),
        ],
    );
    // a gear that cannot be read is no reason to miss one
    let text = edited("gears = [2.8, 1.7, 1.15]", "gears = [2.8, 1.7, \"one\"]");
    assert_eq!(sole(&text).code, "number-unreadable");
}

/// The grammar of the case file for ± and ranges, met through a case.
#[test]
fn how_sure_the_builder_is() {
    const DISCHARGE: &str = "passage/left exit/exit/discharge";
    let spread = |address: &str, text: &str| {
        let case = set(&[(address, text)]).case;
        let fact = case.numbers.fact(case.numbers.find(address).unwrap()).clone();
        (fact.value, fact.spread)
    };
    let close = |a: f64, b: f64| (a - b).abs() < 1e-9 * b.abs().max(1e-3);
    for (address, text, value, half) in [
        (DISCHARGE, "0.62 ± 0.05", 0.62, 0.05),
        (DISCHARGE, "0.62+-0.05", 0.62, 0.05),
        (DISCHARGE, "0.62 ± 10 %", 0.62, 0.062),
        ("passage/oil cooler/ram-inlet/area", "90 ± 5 cm2", 0.009, 0.0005),
        ("passage/oil cooler/ram-inlet/area", "90 cm2 ± 10 %", 0.009, 0.0009),
        ("passage/oil cooler/ram-inlet/area", "90 cm2 ± 500 mm2", 0.009, 0.0005),
        ("engine/heat/oil", "5 % ± 1 %", 0.05, 0.01),
        ("engine/heat/oil", "0.05 ± 0.01", 0.05, 0.01),
        ("day/temperature", "31 degC ± 2 K", 304.15, 2.0),
        ("day/temperature", "68 ± 9 degF", 293.15, 5.0),
    ] {
        let (found, spread) = spread(address, text);
        let Some(Spread::Within { half_width }) = spread else { panic!("{text}: {spread:?}") };
        assert!(close(found, value) && close(half_width, half), "{text}: {found} ± {half_width}");
    }
    for (address, text, low, high) in [
        (DISCHARGE, "0.5..0.7", 0.5, 0.7),
        ("engine/heat/oil", "4..6 %", 0.04, 0.06),
        ("passage/oil cooler/diffuser/length", "200 mm..30 cm", 0.2, 0.3),
        ("place/tail left/pressure_coefficient", "-0.2 .. -0.1", -0.2, -0.1),
    ] {
        let (found, spread) = spread(address, text);
        let Some(Spread::Between { low: below, high: above }) = spread else { panic!("{text}: {spread:?}") };
        assert!(close(below, low) && close(above, high) && close(found, (low + high) / 2.0), "{text}");
    }
    for (address, text, code) in [
        (DISCHARGE, "0.7..0.5", "spread-upside-down"),
        (DISCHARGE, "0.62 ± -0.05", "spread-negative"),
        (DISCHARGE, "0.62 ± 0,05", "decimal-comma"),
        (DISCHARGE, "0.5...0.7", "spread-unreadable"),
        (DISCHARGE, "0.5 to 0.7", "spread-unreadable"),
        ("day/temperature", "31 degC ± 5 %", "spread-unreadable"),
        ("passage/oil cooler/ram-inlet/area", "90 ± 10 %", "unit-missing"),
        ("condition/straight/gear", "3 ± 1", "spread-unreadable"),
    ] {
        let fault = sole_with(BASE, &[(address, text)]);
        assert_eq!((fault.code, underlined(&fault, BASE)), (code, format!("--set {address}={text}")));
    }
}

#[test]
fn what_is_left_out_takes_a_default_with_a_band() {
    let case = set(&[]).case;
    let fact = |address: &str| case.numbers.fact(case.numbers.find(address).unwrap()).clone();
    for (address, value, low, high) in [
        ("engine/strokes", 4.0, 4.0, 4.0),
        ("engine/friction_pressure", 1.2e5, 0.9e5, 1.7e5),
        ("part/oil/source_temperature", 873.15, 553.15, 1073.15),
        ("condition/straight/clear_air", 1.0, 1.0, 1.0),
        ("passage/right exit/exit/angle", 0.0, 0.0, std::f64::consts::FRAC_PI_4),
    ] {
        let fact = fact(address);
        assert!(matches!(&fact.origin, Origin::Assumed(source) if !source.is_empty()), "{address}");
        assert_eq!((fact.value, fact.spread), (value, Some(Spread::Between { low, high })), "{address}");
    }
    assert!(matches!(fact("engine/brake_efficiency").origin, Origin::Written(_)));
    // a default that another key replaces is not taken
    assert!(case.numbers.find("passage/right exit/exit/discharge").is_none());
    assert_eq!(number(&[("day/altitude", "0 m")], "day/altitude"), 0.0);
    let by_pressure = set(&[("day/pressure", "960 hPa")]).case;
    assert!(by_pressure.numbers.find("day/altitude").is_none());
}

#[test]
fn one_margin_in_either_kind() {
    assert_eq!(number(&[("size/margin", "15 %")], "size/margin"), 0.15);
    assert_eq!(number(&[("size/margin/oil", "20 %")], "size/margin/oil"), 0.2);
    let found = faults_with(BASE, &[("size/margin/oil", "20 mm")]);
    assert_eq!(found.len(), 1, "{}", plain(&found, BASE));
}

#[test]
fn a_word_for_what_is_usual() {
    let leak = "passage/seams/leak/share_of_inlets";
    let case = set(&[(leak, "unsealed"), ("engine/heat/oil", "oil")]).case;
    for (address, value, low, high) in [(leak, 0.3, 0.2, 0.4), ("engine/heat/oil", 0.06, 0.03, 0.10)] {
        let fact = case.numbers.fact(case.numbers.find(address).unwrap());
        assert!(
            matches!(&fact.origin, Origin::Assumed(source) if source.contains("common practice")),
            "{address}"
        );
        assert_eq!((fact.value, fact.spread), (value, Some(Spread::Between { low, high })), "{address}");
    }
    hold(
        "usual",
        &[
            edit(
                r#"share_of_inlets = "5 %""#,
                r#"share_of_inlets = "tight""#,
                "number-unreadable",
                r#""tight""#,
                "`tight` does not",
            ),
            edit(
                "[engine.heat]\nheads = \"11 %\"",
                "heat_shares_of = \"brake power\"\n[engine.heat]\nheads = \"heads\"",
                "usual-share-of-fuel",
                "[engine.heat]",
                "the share of heads is given by a word",
            ),
        ],
    );
}

/// A fan that all but stands, as the search for errors once wrote it; a mark of thousands is refused all the same.
#[test]
fn a_power_of_ten_is_no_mark_of_thousands() {
    use slowcorner::case::load;
    use slowcorner::point::{Model, conditions};
    let text = include_str!("../../cases/stubble-buggy.toml");
    let with = |speed: &str| load(text, &[("passage/fan/fan/speed".to_string(), speed.to_string())]);
    let case = with("4.976e-5 rpm").unwrap_or_else(|faults| panic!("{faults}")).case;
    let speed = case.numbers.value(case.numbers.find("passage/fan/fan/speed").unwrap());
    assert!(
        (speed / (4.976e-5 / 60.0) - 1.0).abs() < 1e-12 || (speed / 4.976e-5 - 1.0).abs() < 1e-12,
        "{speed}"
    );
    let found = conditions::check(&case, &Model::new(&case).unwrap()).expect("every condition is solved");
    let fan = |name: &str| found.iter().find(|condition| condition.name == name).unwrap().fans[0].clone();
    assert!(fan("headland").rpm < 1e-3 && fan("headland").rpm > 0.0);
    let refused = with("4.976 rpm").expect_err("four turns are no fan").to_string();
    assert!(refused.contains("thousands-point"), "{refused}");
}
