//! How much a warning matters to whoever reads the answer.

/// What a warning does to the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// The answer may be wrong, or is that of another car.
    Spoils,
    /// Worth a look before anything is cut.
    LookAt,
    /// Good to know.
    Information,
}

/// Slips that were probably made, answers that are missing, and air that goes where nobody meant it to.
const SPOILS: &[&str] = &[
    "condition-unsolved",
    "left-out",
    "exit-pushed-in",
    "oil-without-friction-share",
    "inlet-in-suction",
    "flush-recovery-from-place",
    "chamber-names-alike",
    "chamber-dead-end",
    "part-without-air",
    "part-without-heat",
    "limit-unusual",
    "pressure-above-sea-level",
    "temperature-unusual",
    "tyre-radius-unusual",
    "gears-rising",
    "top-speed-unusual",
    "size-unusual",
    "fan-curve-unusual",
    "inlet-blows-out",
    "exit-draws-in",
    "passage-runs-back",
    "nothing-moves-the-air",
    "rpm-fits-no-gear",
    "power-above-curve",
    "air-fuel-ratio",
    "heat-over-fuel",
    "engine-stands",
    "oil-flow-unusual",
    "two-steady-states",
    "heat-without-end",
    "air-too-fast",
    "tape-left-on",
    "run-fits-no-gear",
    "run-speed-beyond-power",
    "run-column-constant",
    "run-gaps",
    "run-load-in-shares",
];

/// What is assumed and said, and formulas a little outside their range.
const INFORMATION: &[&str] = &[
    "fan-size-beyond-range",
    "fan-point-off-band",
    "roughness-beyond-range",
    "vanes-beyond-range",
    "exit-thickness-beyond-range",
    "exit-edge-of-louvres",
    "exit-radius-beyond-range",
    "rating-near-limit",
    "recovery-assumed",
    "bay-conductance-missing",
    "part-unused",
    "place-unused",
    "limit-measured-where",
    "power-correction-beyond-range",
    "wind-cut",
    "recirculation-off",
    "flush-ramp",
    "flush-proportions",
    "exit-jet-slow",
    "fan-reynolds",
    "rpm-below-range",
    "power-below-curve",
    "skin-layer-reynolds",
    "screen-reynolds",
    "fins-reynolds",
    "below-least",
];

/// How much a warning of a code matters.
pub fn of(code: &str) -> Weight {
    if SPOILS.contains(&code) {
        Weight::Spoils
    } else if INFORMATION.contains(&code) {
        Weight::Information
    } else {
        Weight::LookAt
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::warnings::CODES;

    #[test]
    fn each_code_that_is_ranked_is_one_and_ranked_once() {
        for code in SPOILS.iter().chain(INFORMATION) {
            assert!(CODES.iter().any(|(known, _)| known == code), "{code} is no code");
        }
        assert!(SPOILS.iter().all(|code| !INFORMATION.contains(code)));
        assert_eq!(of("sudden-change"), Weight::LookAt);
    }
}
