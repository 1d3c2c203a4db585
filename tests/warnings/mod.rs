//! Every warning, raised by an edit of one invented car that gives no cause for any.
//!
//! Each probe says which edit raises the code, at which address, which figure and which advice the
//! message must hold, and a lesser edit of the same kind that must not raise it. Figures are worked
//! out from what is written in the file, or taken from the solution they were seen in; thresholds
//! are those of the common practice named in the messages.

mod echoes;
mod in_engine;
mod in_fans;
mod in_file;
mod in_laws;
mod in_openings;
mod in_solution;
mod slips;
mod support;

use slowcorner::warnings::CODES;
use std::collections::BTreeSet;
use support::{Probe, Seen};

fn probes() -> Vec<&'static Probe> {
    let all = [
        in_laws::PROBES,
        in_file::PROBES,
        in_solution::PROBES,
        in_openings::PROBES,
        in_fans::PROBES,
        in_engine::PROBES,
        slips::PROBES,
    ];
    all.into_iter().flatten().collect()
}

#[test]
fn the_car_as_it_is_gives_no_cause() {
    let seen = Seen::with(&[]);
    assert_eq!(seen.warnings, []);
}

#[test]
fn every_code_has_its_probe() {
    let listed: BTreeSet<&str> = CODES.iter().map(|(code, _)| *code).collect();
    // these are told by a run as a whole, not seen in a case or a solution; tests/lap raises those of runs in time
    let by_the_run = [
        "condition-unsolved",
        "left-out",
        "stint-faulty",
        "run-fits-no-gear",
        "run-speed-beyond-power",
        "run-column-constant",
        "run-gaps",
        "run-load-in-shares",
        "leg-beyond-power",
        "laps-do-not-meet",
    ];
    let probed: BTreeSet<&str> = probes().iter().map(|probe| probe.code).chain(by_the_run).collect();
    assert_eq!(listed.len(), CODES.len(), "a code is listed twice");
    assert_eq!(listed, probed);
}

#[test]
fn each_probe_raises_its_code_once_with_figure_and_advice() {
    for probe in probes() {
        let seen = Seen::with(probe.raised_by);
        let at: Vec<_> = seen.warnings.iter().filter(|w| w.code == probe.code).collect();
        let here: Vec<_> = at.iter().filter(|w| w.place.as_deref() == Some(probe.place)).collect();
        assert_eq!(here.len(), 1, "{}: {:#?}", probe.code, seen.warnings);
        let message = &here[0].message;
        for figure in (probe.figures)(&seen) {
            assert!(message.contains(&figure), "{}: no {figure:?} in {message:?}", probe.code);
        }
        let advice = message.rsplit_once("; ").map(|_| ()).and_then(|()| message.find(probe.advice));
        assert!(advice.is_some(), "{}: no {:?} in {message:?}", probe.code, probe.advice);
        let told = message.find("; ").is_some_and(|end| advice.is_some_and(|advice| advice > end));
        assert!(told, "{}: the advice does not come last in {message:?}", probe.code);
    }
}

#[test]
fn a_lesser_edit_does_not_raise_it() {
    for probe in probes() {
        let seen = Seen::with(probe.not_by);
        let raised: Vec<_> = seen.warnings.iter().filter(|w| w.code == probe.code).collect();
        assert!(raised.is_empty(), "{}: {raised:#?}", probe.code);
    }
}

#[test]
fn every_code_raised_is_listed_and_said_once_per_address() {
    for probe in probes() {
        let seen = Seen::with(probe.raised_by);
        let mut said = BTreeSet::new();
        for warning in &seen.warnings {
            assert!(CODES.iter().any(|(code, _)| *code == warning.code), "{}", warning.code);
            assert!(said.insert((warning.code, warning.place.clone())), "{warning:?} twice");
        }
    }
}

#[test]
fn an_idling_engine_is_not_judged_by_its_mixture() {
    // a power curve that begins at too much: rich at every speed near its beginning
    const RICH: support::Edit =
        support::Edit::Replace("[\"1600 rpm\", \"7.2 kW\"]", "[\"1600 rpm\", \"13 kW\"]");
    let idling = Seen::with(&[RICH]);
    assert!(idling.warnings.iter().all(|w| w.code != "air-fuel-ratio"), "{:#?}", idling.warnings);
    let loaded = Seen::with(&[RICH, support::Edit::Set("condition/queue/load", "40 %")]);
    let told = loaded.message("air-fuel-ratio", "engine/brake_efficiency");
    assert!(told.contains("too rich") && told.contains("(in queue)"), "{told}");
}
