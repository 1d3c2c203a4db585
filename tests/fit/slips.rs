//! Readings that look like slips.

use crate::fit::support::{BLOCKS, fitted, temperature};

/// A reading that is a hundred off drags the fit after it, so that a good one seems a hundred off the other way. Only the first
/// is asked about: without it the other is as expected.
#[test]
fn one_slip_accuses_no_good_reading() {
    let case = BLOCKS.replacen("hottest_above_mean = \"40 K\"", "hottest_above_mean = \"40 K ± 30 K\"", 1);
    let stands = |condition: usize| (temperature(BLOCKS, condition, 0) + 40.0).round();
    let fit = |run: f64, hard_run: f64| {
        let readings = format!(
            "format = 1\n\
             [[test]]\nname = \"a\"\non = \"track\"\ncondition = \"run\"\nreading = {{ part = \"heads\", shows = \"{run} degC\" }}\n\
             [[test]]\nname = \"b\"\non = \"track\"\ncondition = \"hard run\"\nreading = {{ part = \"heads\", shows = \"{hard_run} degC\" }}\n"
        );
        fitted(&case, &readings).0
    };
    let (run, hard_run) = (stands(0), stands(1));
    assert!(fit(run, hard_run).asks.is_empty());
    let asked = |fit: &slowcorner::study::fit::result::Fit| -> Vec<usize> {
        fit.asks.iter().map(|ask| ask.number).collect()
    };
    let slip = fit(run + 100.0, hard_run);
    assert_eq!(asked(&slip), [1], "{:?}", slip.asks);
    assert!(slip.misfits[1].from_others.abs() < 1.3, "{:?}", slip.misfits);
    assert!(slip.misfits[0].from_others > 3.5, "{:?}", slip.misfits);
    assert_eq!(asked(&fit(run, hard_run + 100.0)), [2]);
    // two slips are both asked about
    assert_eq!(asked(&fit(run + 100.0, hard_run - 100.0)), [1, 2]);
}

/// Two blocks that store 6 kJ/K and give 40 W/K away cool by 1/e in 150 s, a little faster since what heats them is hotter than
/// they: 5 % of the way are left after less than 450 s.
#[test]
fn a_test_read_before_its_temperatures_stood_is_named() {
    let case = BLOCKS.replace("limit = \"320 degC\"", "limit = \"320 degC\"\nheat_capacity = \"6 kJ/K\"");
    let case = case.replacen("hottest_above_mean = \"40 K\"", "hottest_above_mean = \"40 K ± 30 K\"", 1);
    let shown = (temperature(BLOCKS, 0, 0) + 40.0).round();
    let held = |time: &str| {
        let readings = format!(
            "format = 1\n[[test]]\nname = \"a\"\non = \"track\"\ncondition = \"run\"\nheld = \"{time}\"\nreading = {{ part = \"heads\", shows = \"{shown} degC\" }}\n"
        );
        fitted(&case, &readings).0.held_short
    };
    let short = held("20 s");
    assert_eq!(short.len(), 1);
    assert_eq!((short[0].test.as_str(), short[0].held_s), ("a", 20.0));
    assert!((300.0..450.0).contains(&short[0].settles_s), "{short:?}");
    assert!(held("8 min").is_empty());
}
