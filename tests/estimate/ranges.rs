//! How ranges are formed, and what they rest on.

use super::{BY_HAND, fast, from, near, slow, way};
use slowcorner::keys::Need;
use slowcorner::study::estimate::tables::KEYS;

/// [`BY_HAND`] with some texts replaced.
fn with<'t>(changes: &[(&'t str, &'t str)]) -> Vec<(&'t str, &'t str)> {
    BY_HAND
        .iter()
        .map(|(key, text)| changes.iter().find(|(other, _)| other == key).copied().unwrap_or((key, text)))
        .collect()
}

#[test]
fn one_guess_gives_its_own_extremes() {
    let found = from(&with(&[("heat_share", "15..25 %")]));
    let flow = fast(&found).parts[3].mass_flow_kg_s;
    near("likely", flow.likely, 0.47714, 1e-4);
    near("low", flow.low, 0.47714 * 0.75, 1e-4);
    near("high", flow.high, 0.47714 * 1.25, 1e-4);
    assert_eq!(found.decides[0].keys[0].key, "heat_share");
    near("at low", found.decides[0].keys[0].at_low, 0.75, 1e-9);
}

#[test]
fn two_guesses_add_as_the_root_of_their_squares_in_logarithms() {
    // air ∝ power × share: each alone × 1.25 and × 0.75
    let found = from(&with(&[("heat_share", "15..25 %"), ("power", "30 kW ± 25 %")]));
    let flow = fast(&found).parts[3].mass_flow_kg_s;
    near("high", flow.high / flow.likely, (2f64.sqrt() * 1.25f64.ln()).exp(), 1e-9);
    near("low", flow.low / flow.likely, (2f64.sqrt() * 0.75f64.ln()).exp(), 1e-9);
    // less than all extremes at once, more than one alone
    let times = flow.high / flow.likely;
    assert!(times < 1.25 * 1.25 && times > 1.25, "{times}");
}

#[test]
fn what_is_known_narrows_the_range() {
    let width = |pairs: &[(&str, &str)]| {
        let band = fast(&from(pairs)).parts[3].mass_flow_kg_s;
        band.high / band.low
    };
    let rough = width(&[("power", "30 kW")]);
    let known = width(&[("power", "30 kW"), ("heat_share", "19 % ± 1 %"), ("brake_efficiency", "25 %")]);
    assert!(known < 0.7 * rough, "{known} against {rough}");
}

#[test]
fn pressure_that_may_be_used_up_leaves_no_upper_end() {
    // the tail may push in as hard as the flank gives: nothing is left for the exit there
    let found = from(&with(&[("recovery", "0.4"), ("exit_pressure", "-0.1..0.6")]));
    let exit = way(slow(&found), "none").openings[3].exit_m2;
    assert!(exit.likely.is_finite() && exit.high.is_infinite(), "{exit:?}");
    let text = serde_json::to_string(&exit).expect("JSON");
    assert!(text.contains("\"high\":null"), "{text}");
}

#[test]
fn every_assumed_value_lies_in_its_band_and_names_a_source() {
    let mut guesses = 0;
    for key in KEYS {
        let Need::Default(taken) = key.need else { continue };
        assert!(taken.low <= taken.value && taken.value <= taken.high, "{}", key.name);
        assert!([taken.value, taken.low, taken.high].iter().all(|v| key.range.accepts(*v)), "{}", key.name);
        assert!(taken.source.len() > 3 && key.help.len() > 3, "{}", key.name);
        guesses += usize::from(taken.low < taken.high);
    }
    assert!(guesses > 20, "{guesses}");
    let names: std::collections::BTreeSet<_> = KEYS.iter().map(|key| key.name).collect();
    assert_eq!(names.len(), KEYS.len(), "a name stands twice");
}

#[test]
fn the_list_shows_what_is_used_and_nothing_else() {
    let listed = |pairs: &[(&str, &str)]| -> Vec<&'static str> {
        from(pairs).rests_on.iter().map(|value| value.key).collect()
    };
    let bare = listed(&[("power", "30 kW")]);
    assert!(bare.contains(&"brake_pressure") && bare.contains(&"oil_limit"));
    assert!(!bare.contains(&"volumetric_efficiency") && !bare.contains(&"rise"));
    let told = listed(&[("power", "30 kW"), ("displacement", "900 cm3"), ("rise", "55 K")]);
    assert!(told.contains(&"volumetric_efficiency") && told.contains(&"rise"));
    assert!(!told.contains(&"brake_pressure") && !told.contains(&"oil_limit"));
}
