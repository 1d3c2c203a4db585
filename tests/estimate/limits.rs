//! Limits that must behave, and what is refused.

use super::{fast, from, near, slow, told, way};
use slowcorner::study::estimate::result::Estimate;
use slowcorner::study::estimate::{Inputs, WAYS, estimate};

fn area(found: &Estimate) -> (f64, f64) {
    let all = way(slow(found), "none").openings.last().expect("all");
    (all.inlet_m2.likely, all.exit_m2.likely)
}

#[test]
fn twice_the_power_takes_twice_the_air() {
    let (one, two) = (from(&[("power", "20 kW")]), from(&[("power", "40 kW")]));
    for (a, b) in [(slow(&one), slow(&two)), (fast(&one), fast(&two))] {
        for (part, other) in a.parts.iter().zip(&b.parts) {
            for (x, y) in [
                (part.mass_flow_kg_s.likely, other.mass_flow_kg_s.likely),
                (part.mass_flow_kg_s.low, other.mass_flow_kg_s.low),
                (part.heat_W.high, other.heat_W.high),
            ] {
                near(part.part.into(), y / x, 2.0, 1e-9);
            }
        }
        near("burnt", b.combustion_air_kg_s.likely / a.combustion_air_kg_s.likely, 2.0, 1e-9);
        near(
            "exit",
            way(b, "none").openings[3].exit_m2.high / way(a, "none").openings[3].exit_m2.high,
            2.0,
            1e-9,
        );
    }
}

#[test]
fn a_hotter_or_higher_place_asks_for_larger_openings() {
    let base = area(&from(&[("power", "30 kW")]));
    for (key, text) in [("air_temperature", "40 degC"), ("altitude", "1500 m")] {
        let other = area(&from(&[("power", "30 kW"), (key, text)]));
        assert!(other.0 > base.0 && other.1 > base.1, "{key}: {other:?} against {base:?}");
    }
    let cool = area(&from(&[("power", "30 kW"), ("air_temperature", "15 degC")]));
    assert!(cool.0 < base.0 && cool.1 < base.1);
}

#[test]
fn slower_is_larger_and_a_higher_limit_smaller() {
    let base = area(&from(&[("power", "30 kW")]));
    let slower = area(&from(&[("power", "30 kW"), ("slow", "30 km/h")]));
    // inlet ∝ 1/V; exit a little less than that, since the entering air is a trifle cooler
    near("inlet", slower.0 / base.0, 40.0 / 30.0, 1e-3);
    near("exit", slower.1 / base.1, 40.0 / 30.0, 1e-3);
    let higher = area(&from(&[("power", "30 kW"), ("heads_limit", "220 degC")]));
    assert!(higher.0 < base.0 && higher.1 < base.1);
    let better = area(&from(&[("power", "30 kW"), ("brake_efficiency", "30 %")]));
    assert!(better.0 < base.0);
}

#[test]
fn a_fan_helps_most_where_ram_is_weak() {
    let found = from(&[("power", "30 kW")]);
    let gain = |moment| {
        let exit = |fan| way(moment, fan).openings[3].exit_m2.likely;
        exit("none") / exit("driven")
    };
    assert!(gain(slow(&found)) > 1.5 * gain(fast(&found)));
    assert!(gain(fast(&found)) > 1.0);
    for moment in [slow(&found), fast(&found)] {
        assert!(way(moment, "none").fan_power_W.is_none());
        let why = &way(moment, "electric").exit_against_inlet;
        let product = why.heating.likely * why.discharge.likely * why.speed.likely;
        near("product", product, why.ratio.likely, 1e-9);
    }
}

#[test]
fn no_pressure_left_is_said_and_not_reckoned_with() {
    let found = from(&[("power", "30 kW"), ("recovery", "0.2"), ("exit_pressure", "0.4")]);
    assert!(area(&found).1.is_infinite());
    assert!(way(slow(&found), "driven").openings[3].exit_m2.likely.is_finite(), "the fan still drives it");
}

#[test]
fn an_engine_that_cannot_breathe_so_little_is_noted() {
    let odd = from(&[("power", "30 kW"), ("displacement", "200 cm3")]);
    assert!(odd.notes.iter().any(|note| note.contains("displacement")), "{:?}", odd.notes);
    let sound = from(&[("power", "30 kW"), ("displacement", "800 cm3")]);
    assert!(sound.notes.is_empty(), "{:?}", sound.notes);
}

#[test]
fn nonsense_is_refused_with_a_way_out() {
    for (pairs, code, key) in [
        (&[("power", "0 kW")][..], "out-of-range", "power"),
        (&[("power", "-12 kW")], "out-of-range", "power"),
        (&[("power", "30 W")], "out-of-range", "power"),
        (&[("power", "40000 hp")], "out-of-range", "power"),
        (&[("power", "30")], "unit-missing", "power"),
        (&[("power", "30 Pa")], "unit-of-another-kind", "power"),
        (&[("power", "much")], "number-unreadable", "power"),
        (&[("power", "3,5 kW")], "decimal-comma", "power"),
        (&[("power", "5 kW ± 6 kW")], "out-of-range", "power"),
        (&[], "power-missing", "power"),
        (&[("power", "30 kW"), ("power", "31 kW")], "given-twice", "power"),
        (&[("power", "30 kW"), ("strokes", "3")], "values-contradict", "strokes"),
        (&[("power", "30 kW"), ("strokes", "5")], "out-of-range", "strokes"),
        (&[("power", "30 kW"), ("slow", "0 km/h")], "out-of-range", "slow"),
        (&[("power", "30 kW"), ("slow", "150 km/h")], "values-contradict", "slow"),
        (
            &[("power", "30 kW"), ("oil_limit", "45 degC"), ("air_temperature", "40 degC")],
            "values-contradict",
            "oil_limit",
        ),
        (
            &[("power", "30 kW"), ("brake_efficiency", "50 %"), ("heat_share", "55 %")],
            "values-contradict",
            "heat_share",
        ),
        (&[("power", "30 kW"), ("rise", "60 K"), ("oil_limit", "110 degC")], "one-of-two", "oil_limit"),
        (&[("power", "30 kW"), ("displacement", "900 cm3"), ("air_fuel", "13")], "one-of-two", "air_fuel"),
        (&[("power", "30 kW"), ("heat_shar", "18 %")], "key-unknown", "heat_shar"),
    ] {
        let faults = Inputs::read(&told(pairs)).expect_err(&format!("{pairs:?} was taken"));
        assert!(faults.iter().any(|fault| fault.code == code && fault.key == key), "{pairs:?}: {faults:?}");
        assert!(faults.iter().all(|fault| fault.what_to_do.len() > 8), "{faults:?}");
    }
}

#[test]
fn all_faults_come_at_once_and_a_slip_is_guessed() {
    let pairs = [("power", "0 kW"), ("heat_shar", "18 %"), ("slow", "40")];
    let faults = Inputs::read(&told(&pairs)).expect_err("three faults");
    assert_eq!(faults.len(), 3, "{faults:?}");
    assert!(faults.iter().any(|fault| fault.what_to_do.contains("did you mean heat_share?")));
}

#[test]
fn units_and_spellings_are_those_of_the_case_file() {
    let metric = from(&[("power", "29.828 kW"), ("slow", "40.2336 km/h"), ("displacement", "983.22384 cm3")]);
    let imperial = from(&[("power", "40 hp"), ("Slow", "25 mph"), ("displacement", "60 in3")]);
    near(
        "air",
        slow(&imperial).parts[3].mass_flow_kg_s.likely,
        slow(&metric).parts[3].mass_flow_kg_s.likely,
        1e-5,
    );
}

#[test]
fn only_the_ways_asked_for_are_shown() {
    let inputs = Inputs::read(&told(&[("power", "30 kW")])).expect("sound");
    let ram = estimate(&inputs, &WAYS[..1]);
    assert_eq!(ram.moments[0].ways.len(), 1);
    assert!(ram.rests_on.iter().all(|value| !value.key.contains("fan")));
}
