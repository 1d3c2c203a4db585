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
