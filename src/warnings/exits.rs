//! Exits whose jet is slower than the stream over them.

use super::condition::{SolvedCondition, assumed};
use super::gather::{Finding, Findings};
use super::words;
use crate::correlations::discharge::kept_in_cross_flow;
use crate::element::exit;
use crate::keys::Need;
use crate::keys::figures;

/// Loss of discharge below which nothing is said.
const WORTH_A_WORD: f64 = 0.02;

/// Looks at the exits of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    let Need::Default(usual) = exit::CROSS_FLOW_LOSS.need else { return };
    for seen in at.elements() {
        let Some(law) = seen.law.as_exit() else { continue };
        let (Some(area), Some(velocity)) = (seen.element.area_m2, seen.element.velocity_m_s) else {
            continue;
        };
        // a case that says what is lost, nothing included, knows of it
        if seen.passage.reversed || !assumed(at.case, seen.values, &exit::CROSS_FLOW_LOSS) {
            continue;
        }
        let jet = velocity / law.discharge_coefficient();
        let stream = at.moment.local_speed;
        if at.standing() || jet >= stream {
            continue;
        }
        let kept = kept_in_cross_flow(jet, stream, usual.high).0;
        let lost = 1.0 - kept;
        if lost < WORTH_A_WORD {
            continue;
        }
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "exit-jet-slow",
                place: Some(seen.values.address.clone()),
                seen: format!(
                    "the jet leaves with {}, slower than the stream over it ({}); a hole across the stream then loses up to {} of its discharge (from memory), as if its {} were {}; not reckoned",
                    words::speed(jet),
                    words::speed(stream),
                    figures::close_share(lost),
                    figures::small_area(area),
                    figures::small_area(area * kept)
                ),
                what_to_do: "turn the jet to the rear with a lip or vane, lead it into the wake, make the exit smaller where there is air to spare; or try cross_flow_loss = \"0..30 %\" and see what it costs".to_string(),
                size: lost,
            },
        );
    }
}
