//! Submerged inlets: where their published recovery holds, and where another inlet does better.

use super::gather::{Gathered, Sight};
use super::scene::{Scene, Seen};
use super::words;
use crate::correlations::boundary_layer;
use crate::element::Law;
use crate::element::flush_inlet::FlushInlet;

/// Recovery by which a forward inlet must be better to be named.
const BETTER: f64 = 0.05;

/// Looks at the submerged inlets of a solved condition.
pub(super) fn look(scene: &Scene, gathered: &mut Gathered) {
    if scene.standing() {
        return;
    }
    for seen in scene.elements() {
        let Law::FlushInlet(inlet) = seen.law else { continue };
        let mut inlet = inlet.clone();
        crate::element::ElementLaw::prepare(&mut inlet, &scene.moment, 0.0);
        look_at_one(scene, &seen, &inlet, gathered);
    }
}

fn look_at_one(scene: &Scene, seen: &Seen, inlet: &FlushInlet, gathered: &mut Gathered) {
    let Some((thickness, _)) = inlet.layer(&scene.moment) else { return };
    let running = !seen.passage.reversed;
    let speed = seen.element.velocity_m_s.filter(|_| running).unwrap_or(0.0);
    let ratio = speed / scene.moment.local_speed;
    let (recovery, slope) = inlet.recovery(ratio);
    let mut tell = |code: &'static str, seen_text: String, what_to_do: &str, size: f64| {
        gathered.in_condition(
            &scene.condition.name,
            Sight {
                code,
                place: Some(seen.values.address.clone()),
                seen: seen_text,
                what_to_do: what_to_do.to_string(),
                size,
            },
        );
    };
    if slope > 0.0 {
        tell(
            "flush-inlet-rising",
            format!(
                "at a velocity ratio of {ratio:.2} the recovery rises with the flow ({recovery:.2} here), so that more than one state may exist"
            ),
            "a smaller lip runs at a higher ratio, where the recovery falls",
            slope,
        );
    }
    let over = thickness / inlet.height();
    if inlet.is_published() && over > 1.0 {
        tell(
            "flush-layer-thick",
            format!(
                "the skin's slow air is {:.0} mm thick, {over:.1} times the lip's height; the published recovery holds up to 1 and is held there",
                1e3 * thickness
            ),
            "move it forward, make the lip higher, or raise an inlet clear of the skin",
            over,
        );
    }
    if inlet.is_published() && ratio > 1.0 {
        tell(
            "flush-beyond-tests",
            format!(
                "the air enters at {ratio:.2} of the speed of the stream; the published recovery holds up to 1 and is held there"
            ),
            "make the lip larger",
            ratio,
        );
    }
    // a forward inlet that stands on the same skin, as high
    let forward = boundary_layer::dynamic_pressure_share(0.0, inlet.height() / thickness);
    // all the speed is given up where the way leads into a chamber with nothing on it that takes pressure of its own
    let works = |kind: &str| matches!(kind, "fins" | "core" | "fan" | "demand");
    let comes_to_rest =
        seen.passage.to != "outside" && !seen.passage.elements.iter().any(|element| works(element.kind));
    if running && forward > recovery + BETTER && (comes_to_rest || over > 1.0) {
        let why = if over > 1.0 {
            "the skin's layer is thicker than the lip is high"
        } else {
            "its air is brought to rest behind it"
        };
        tell(
            "forward-inlet-better",
            format!(
                "{why}: a forward inlet as high on the same skin would meet {} of the dynamic pressure, this one recovers {}",
                words::share(forward),
                words::share(recovery)
            ),
            "try a ram-inlet there as a [[layout]], and weigh its drag",
            forward - recovery,
        );
    }
}
