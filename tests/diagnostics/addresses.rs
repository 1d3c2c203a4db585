//! Addresses set on the command line: every shape of them, right and wrong.

use crate::diagnostics::support::{BASE, faults_with, number, plain, set, sole_with, underlined};
use slowcorner::case::FaultPlace;
use slowcorner::case::overrides::split;

fn close(found: f64, wanted: f64) {
    assert!((found - wanted).abs() <= 1e-9 * wanted.abs().max(1e-3), "{found} for {wanted}");
}

#[test]
fn every_shape_of_address() {
    for (address, text, wanted) in [
        ("part/heads/limit", "200 degC", 473.15),
        ("part/oil/bay_conductance", "6 W/K", 6.0),
        ("passage/oil cooler/core/conductance", "90 W/K", 90.0),
        ("passage/scoop/bend/angle", "180 deg", std::f64::consts::PI),
        ("passage/scoop/bend 2/angle", "90 deg", std::f64::consts::FRAC_PI_2),
        ("passage/scoop/bend 1/radius", "0.2 m", 0.2),
        ("passage/scoop/ram-inlet/recirculation/share", "3 %", 0.03),
        ("passage/heads/count", "2", 2.0),
        ("place/tail left/pressure_coefficient", "-0.3", -0.3),
        ("place/shoulder/boundary_layer/gap", "12 mm", 0.012),
        ("condition/hairpin/speed", "43 km/h", 43.0 / 3.6),
        ("condition/hairpin/taped/oil cooler", "35 %", 0.35),
        ("condition/straight/taped/left exit", "10 %", 0.1),
        ("condition/straight/day/temperature", "5 degC", 278.15),
        ("drive/gears/2", "1.9", 1.9),
        ("drive/final_drive", "4.9", 4.9),
        ("engine/heat/oil", "7 %", 0.07),
        ("engine/power/4/2", "35 kW", 35e3),
        ("engine/strokes", "2", 2.0),
        ("chamber/bay/skin_conductance", "5 W/K", 5.0),
        ("chamber/plenum/skin_conductance", "7 W/K", 7.0),
        ("sweep/load", "80 %", 0.8),
        ("size/most_area", "300 cm2", 0.03),
        ("size/least_area/other", "70 cm2", 0.007),
        ("stint/queue and climb/step/1/time", "200 s", 200.0),
        ("day/humidity", "0.5", 0.5),
        // what is put in quotes, and spaces about a name, make no difference
        ("part/heads/limit", "\"200 degC\"", 473.15),
        ("passage / oil cooler / core / conductance", "90 W/K", 90.0),
    ] {
        let plain: String = address.split('/').map(str::trim).collect::<Vec<_>>().join("/");
        let known_as = plain.replace("bend 1", "bend");
        close(number(&[(address, text)], &known_as), wanted);
    }
}

#[test]
fn whole_lists_words_and_flags() {
    let power = r#"[["2000 rpm", "10 kW"], ["6000 rpm", "40 kW"]]"#;
    let case = set(&[("engine/power", power), ("condition/hairpin/warm", "true"), ("title", "another")]).case;
    assert_eq!(case.numbers.value(case.numbers.find("engine/power/2/2").unwrap()), 40e3);
    assert!(case.numbers.find("engine/power/3/1").is_none());
    assert!(case.conditions[1].values.flag(&slowcorner::case::tables::WARM));
    assert_eq!(case.title(), "another");
    let case = set(&[("drive/gears", "[3.0, 2.0, 1.4, 1.1]"), ("condition/straight/gear", "4")]).case;
    assert_eq!(case.numbers.value(case.numbers.find("drive/gears/4").unwrap()), 1.1);
    let case = set(&[("size/free", r#"["oil cooler"]"#), ("size/margin", "10 %")]).case;
    assert_eq!(case.numbers.value(case.numbers.find("size/margin").unwrap()), 0.1);
    assert!(case.numbers.find("size/margin/oil").is_none());
}

#[test]
fn what_is_set_takes_the_place_of_its_alternatives() {
    let scoop = "passage/scoop/ram-inlet";
    for (address, text, gone) in [
        (format!("{scoop}/area"), "130 cm2", vec![format!("{scoop}/width"), format!("{scoop}/height")]),
        (format!("{scoop}/diameter"), "130 mm", vec![format!("{scoop}/width"), format!("{scoop}/height")]),
        ("passage/seams/leak/area".into(), "9 cm2", vec!["passage/seams/leak/share_of_inlets".into()]),
        ("passage/scoop/fan/speed".into(), "6000 rpm", vec!["passage/scoop/fan/drive_ratio".into()]),
        (
            "passage/scoop/fan/pulleys".into(),
            r#"{ engine = "160 mm", fan = "110 mm" }"#,
            vec!["passage/scoop/fan/drive_ratio".into()],
        ),
        ("condition/straight/rpm".into(), "5000 rpm", vec!["condition/straight/gear".into()]),
        ("condition/queue/gear".into(), "1", vec!["condition/queue/rpm".into()]),
        ("day/pressure".into(), "960 hPa", vec!["day/altitude".into()]),
        ("engine/fuel_consumption".into(), "330 g/kWh", vec!["engine/brake_efficiency".into()]),
        ("part/barrels/heat_capacity".into(), "6 kJ/K", vec!["part/barrels/mass".into()]),
        (
            "passage/oil cooler/diffuser/angle".into(),
            "9 deg",
            vec!["passage/oil cooler/diffuser/length".into()],
        ),
    ] {
        let case = set(&[(&address, text)]).case;
        assert!(case.numbers.facts().iter().any(|fact| fact.address.starts_with(&address)), "{address}");
        for other in gone {
            assert!(case.numbers.find(&other).is_none(), "{other} is left beside {address}");
        }
    }
    // one side of a rectangle leaves the other; the speed of a condition is no fan's
    close(number(&[("passage/scoop/ram-inlet/width", "160 mm")], "passage/scoop/ram-inlet/height"), 0.08);
    close(number(&[("condition/straight/speed", "90 km/h")], "condition/straight/gear"), 3.0);
    let peak = set(&[("engine/peak_power", "33 kW"), ("engine/peak_power_at", "5900 rpm")]).case;
    assert!(peak.numbers.find("engine/power/1/1").is_none());
    // the edge says what discharge said
    let case = set(&[("passage/left exit/exit/edge", "rounded")]).case;
    assert!(case.numbers.find("passage/left exit/exit/discharge").is_none());
}

#[test]
fn what_a_place_gives_may_be_said_by_the_element() {
    let own = "passage/left exit/exit/pressure_coefficient";
    assert!(set(&[]).case.numbers.find(own).is_none());
    close(number(&[(own, "-0.4")], own), -0.4);
}

#[test]
fn the_first_chamber_stays_the_first() {
    let first = |pairs: &[(&str, &str)]| set(pairs).case.chambers[0].name.clone();
    let base = first(&[]);
    assert_eq!(base, "bay");
    assert_eq!(first(&[("chamber/plenum/skin_conductance", "5 W/K")]), base);
    assert_eq!(first(&[("passage/seams/from", "plenum")]), base);
}

#[test]
fn wrong_addresses() {
    for (address, text, code, says, way_out) in [
        (
            "condition/hairpn/speed",
            "43 km/h",
            "address-unknown",
            "nothing is called \"hairpn\"",
            "did you mean hairpin?",
        ),
        ("conditon/hairpin/speed", "43 km/h", "address-unknown", "\"conditon\"", "did you mean condition?"),
        ("titel", "x", "address-unknown", "\"titel\"", "did you mean title?"),
        ("part/head/limit", "200 degC", "address-unknown", "\"head\"", "did you mean heads?"),
        ("part/sump/limit", "200 degC", "address-unknown", "\"sump\"", "known there: heads, barrels, oil"),
        (
            "passage/oil coler/core/conductance",
            "9 W/K",
            "address-unknown",
            "\"oil coler\"",
            "did you mean oil cooler?",
        ),
        ("passage/oil cooler/cor/conductance", "9 W/K", "address-unknown", "\"cor\"", "did you mean core?"),
        ("passage/scoop/bend 3/angle", "9 deg", "address-unknown", "\"bend 3\"", "did you mean bend"),
        ("passage/scoop/cuont", "2", "address-unknown", "\"cuont\"", "did you mean count?"),
        ("place/tail/recovery", "0.9", "address-unknown", "\"tail\"", "did you mean tail left?"),
        ("chamber/bya/skin_conductance", "5 W/K", "address-unknown", "\"bya\"", "did you mean bay?"),
        ("drive/gears/9", "1.0", "address-unknown", "\"9\"", "known there: 1 to 3"),
        ("drive/gears/0", "1.0", "address-unknown", "\"0\"", "known there: 1 to 3"),
        ("drive/gears/first", "1.0", "address-unknown", "\"first\"", "known there: 1 to 3"),
        ("day", "x", "address-too-short", "a whole table", "add the key"),
        ("part", "x", "address-too-short", "a whole table", "add the key"),
        ("part/heads", "x", "address-too-short", "a whole table", "add the key"),
        ("condition/hairpin", "x", "address-too-short", "a whole table", "add the key"),
        ("passage/oil cooler/core", "x", "address-too-short", "a whole table", "add the key"),
        ("day/temperature/shade", "3 degC", "address-too-long", "\"shade\"", "leave the end"),
        ("day/temperature/in/shade", "3 degC", "address-too-long", "\"in\"", "leave the end"),
        ("", "x", "address-unknown", "", ""),
        // an address that leads to a table, and a key that the table does not know
        ("part/heads/limt", "200 degC", "unknown-key", "part/heads has no key limt", "did you mean limit?"),
        ("condition/hairpin/tapd/oil cooler", "9 %", "unknown-key", "no key tapd", "did you mean taped?"),
        ("engine/heat/oill", "5 %", "unknown-name", "\"oill\"", "did you mean oil?"),
        (
            "condition/hairpin/taped/oil coler",
            "9 %",
            "unknown-name",
            "\"oil coler\"",
            "did you mean oil cooler?",
        ),
        ("passage/left exit/exit/cd", "0.6", "unknown-key", "no key cd", "write discharge: "),
        // a value that does not fit
        ("condition/hairpin/speed", "43", "unit-missing", "a speed is wanted", "\"120 km/h\""),
        ("condition/hairpin/speed", "", "number-unreadable", "nothing is written", "\"120 km/h\""),
        ("condition/hairpin/gear", "7", "gear-unknown", "in gear 7", ""),
        ("condition/hairpin/speed", "0 km/h", "standing-in-gear", "stands still", ""),
        ("drive/gears", "2.9", "list-wanted", "a list is wanted", ""),
        ("drive/gears/2", "second", "number-unreadable", "`second`", ""),
        ("passage/seams/leak/area", "-3 cm2", "out-of-range", "passage/seams/leak/area is -3 cm2", ""),
        ("format", "2", "format-unknown", "the file says 2", ""),
        ("size/free", r#"["heads"]"#, "nothing-to-size", "\"heads\"", ""),
        ("engine/heat/oil", "90 %", "heat-shares-over-one", "together", ""),
    ] {
        let found = faults_with(BASE, &[(address, text)]);
        let [fault] = &found[..] else { panic!("{address}={text}:\n{}", plain(&found, BASE)) };
        assert_eq!(fault.code, code, "{address}={text}: {}", fault.message);
        assert!(fault.message.contains(says), "{address}={text}: {}", fault.message);
        assert!(fault.what_to_do.contains(way_out), "{address}={text}: {}", fault.what_to_do);
        assert!(!fault.what_to_do.is_empty(), "{address}={text}");
        // the sum of the heat shares stands in the file
        match &fault.place {
            _ if matches!(code, "heat-shares-over-one" | "standing-in-gear") => {}
            // a fault of the address underlines the word of it that is wrong, or all of it where it ends too soon
            FaultPlace::Address { part, .. } => {
                assert!(code.starts_with("address-") || code.starts_with("unknown-"), "{address}: {code}");
                let word = &address[part.clone()];
                let whole = code == "address-too-short";
                assert!(
                    if whole { word == address } else { fault.message.contains(word) },
                    "{address}: {word}"
                );
                assert!(whole || !word.contains('/'), "{address}: {word}");
            }
            _ => {
                assert!(!code.starts_with("address-") && code != "unknown-key", "{address}: {code}");
                assert_eq!(underlined(fault, BASE), format!("--set {address}={text}"));
            }
        }
    }
}

#[test]
fn all_wrong_addresses_are_told_at_once() {
    let found =
        faults_with(BASE, &[("part/head/limit", "9"), ("part/heads/limit", "9"), ("day/temperature", "x")]);
    let mut codes: Vec<&str> = found.iter().map(|fault| fault.code).collect();
    codes.sort_unstable();
    assert_eq!(codes, ["address-unknown", "number-unreadable", "unit-missing"], "{}", plain(&found, BASE));
    let fault = sole_with(BASE, &[("sweep/from", "200 km/h")]);
    assert_eq!(fault.code, "sweep-upside-down");
}

#[test]
fn what_the_command_line_splits() {
    let pair = |a: &str, b: &str| Some((a.to_string(), b.to_string()));
    assert_eq!(split("condition/hairpin/speed=43 km/h").ok(), pair("condition/hairpin/speed", "43 km/h"));
    assert_eq!(split(" title = a = b ").ok(), pair("title", "a = b"));
    assert_eq!(split("title=").ok(), pair("title", ""));
    for text in ["", "=", "=x", "condition/hairpin/speed"] {
        assert_eq!(split(text).map_err(|fault| fault.code), Err("set-unreadable"), "{text:?}");
    }
}
