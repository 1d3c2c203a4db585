//! Submerged inlets: where their published recovery holds, and where another inlet does better.

use super::condition::{ElementInCondition, SolvedCondition};
use super::gather::{Finding, Findings};
use crate::air::ZERO_CELSIUS;
use crate::correlations::{boundary_layer, flush_inlet};
use crate::element::flush_inlet::FlushInlet;
use crate::element::{ElementLaw, PassageStream};
use crate::keys::figures;
use crate::network::Network;

/// Recovery by which a forward inlet must be better to be named.
const BETTER: f64 = 0.05;
/// Area over that of the lip from which the air counts as brought to rest: an eighth of its head or less is left.
const WIDENED: f64 = 3.0;
/// Velocity ratios at which a passage is looked at.
const LOOKS: u32 = 70;

/// Looks at the submerged inlets of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    let has_any = at.model.network.laws.iter().any(|law| law.as_flush_inlet().is_some());
    if at.standing() || !has_any {
        return;
    }
    let mut network = at.model.network.clone();
    network.prepare(&at.moment, &at.operation.taped);
    for seen in at.elements() {
        let passage = &network.passages[seen.passage_index];
        if let Some(inlet) = network.laws[passage.elements.start + seen.index].as_flush_inlet() {
            look_at_one(at, &seen, inlet, &network, gathered);
        }
    }
}

/// Speed in the lip plane over that of the stream; none where the air runs back.
pub(super) fn ratio(at: &SolvedCondition, seen: &ElementInCondition) -> Option<f64> {
    let speed = seen.element.velocity_m_s.filter(|_| !seen.passage.reversed)?;
    Some(speed / at.moment.local_speed)
}

fn look_at_one(
    at: &SolvedCondition,
    seen: &ElementInCondition,
    inlet: &FlushInlet,
    network: &Network,
    gathered: &mut Findings,
) {
    let Some((thickness, _)) = inlet.layer(&at.moment) else { return };
    let ratio = ratio(at, seen);
    let recovery = inlet.recovery(ratio.unwrap_or(0.0)).0;
    let mut tell = |code: &'static str, seen_text: String, what_to_do: &str, size: f64| {
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code,
                place: Some(seen.values.address.clone()),
                seen: seen_text,
                what_to_do: what_to_do.to_string(),
                size,
            },
        );
    };
    if let Some((low, high)) = rising(at, seen, inlet, network) {
        tell(
            "flush-inlet-rising",
            format!(
                "from a velocity ratio of {low:.2} to {high:.2} its push grows faster with the flow than all losses on the way, so that more than one state may exist (here {:.2}, with a recovery of {recovery:.2})",
                ratio.unwrap_or(0.0)
            ),
            "take a smaller lip, which runs at a higher ratio where the recovery falls, and look at the flow in the neighbouring conditions",
            high - low,
        );
    }
    let over = thickness / inlet.height();
    if inlet.is_published() && over > 1.0 {
        tell(
            "flush-layer-thick",
            format!(
                "the skin's slow air is {:.0} mm thick, {over:.2} times the lip's height; the published recovery holds up to 1 and is let fall beyond as the layer's own dynamic pressure does, to {recovery:.2} here",
                1e3 * thickness
            ),
            "move it forward, make the lip higher, or raise an inlet clear of the skin",
            over,
        );
    }
    if let Some(ratio) = ratio.filter(|ratio| inlet.is_published() && *ratio > 1.0) {
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
    let why = if over > 1.0 {
        "the skin's layer is thicker than the lip is high"
    } else if comes_to_rest(at, seen, inlet) {
        "its air is brought to rest behind it, where forward inlets may do better (abstracts of NACA ACR 5I20 and RM A7I30)"
    } else {
        return;
    };
    if ratio.is_some() && forward > recovery + BETTER {
        tell(
            "forward-inlet-better",
            format!(
                "{why}: a forward inlet as high on the same skin would meet {} of the dynamic pressure, this one recovers {}, which is {:.0} Pa less",
                figures::close_share(forward),
                figures::close_share(recovery),
                at.moment.dynamic_pressure * (forward - recovery)
            ),
            "try a ram-inlet there as a [[layout]], and weigh its drag",
            forward - recovery,
        );
    }
}

/// Whether the air gives up its speed behind an inlet: in a passage that widens, or where it is let out into a
/// chamber with nothing on the way that takes pressure of its own.
fn comes_to_rest(at: &SolvedCondition, seen: &ElementInCondition, inlet: &FlushInlet) -> bool {
    let elements = &seen.passage.elements;
    let lip = inlet.width() * inlet.height() * seen.element.count as f64;
    let widens =
        elements.iter().any(|e| e.area_m2.is_some_and(|area| area * e.count as f64 >= WIDENED * lip));
    let works = |kind: &str| crate::element::kind(kind).is_some_and(|kind| kind.works());
    let let_out = at.case.chamber(&seen.passage.to).is_some() && !elements.iter().any(|e| works(e.kind));
    widens || let_out
}

/// Velocity ratios between which the push of an inlet grows faster with the flow than all losses of its passage, at the
/// temperatures found: there one pressure belongs to several flows.
fn rising(
    at: &SolvedCondition,
    seen: &ElementInCondition,
    inlet: &FlushInlet,
    network: &Network,
) -> Option<(f64, f64)> {
    let passage = &network.passages[seen.passage_index];
    let gas = (at.moment.volume_per_kelvin, at.operation.air.heat_capacity);
    let elements: Vec<ElementInCondition> =
        at.elements().filter(|other| other.passage_index == seen.passage_index).collect();
    // what blows back came from the other end: forward the air would be that of the day
    let entering = |other: &ElementInCondition| match seen.passage.reversed {
        true => at.moment.total_temperature,
        false => at.entering_temperature(other) + ZERO_CELSIUS,
    };
    let part = |element: usize| {
        let part = at.model.part_of[element].and_then(|part| at.condition.parts.get(part));
        part.map_or(0.0, |part| part.temperature_C + ZERO_CELSIUS)
    };
    let open = inlet.area()? * inlet.pieces();
    let full = at.moment.local_speed * open / (gas.0 * entering(seen));
    let rises = |ratio: f64| {
        let stream = PassageStream::new(ratio * full, 0.0, gas.0, gas.1);
        let slopes = elements.iter().map(|other| {
            let element = passage.elements.start + other.index;
            network.laws[element].respond(&stream, entering(other), part(element)).rise_by_flow
        });
        // at a change of area the air is about as warm as where it comes in
        let changes: f64 = passage.sudden.iter().map(|change| change.resistance(true)).sum();
        let changes = 2.0 * changes * gas.0 * entering(seen) * stream.flow;
        let outlet =
            elements.last().map_or(seen.element.outlet_temperature_C, |e| e.element.outlet_temperature_C);
        let head = 2.0 * passage.head_forward * gas.0 * (outlet + ZERO_CELSIUS) * stream.flow;
        slopes.sum::<f64>() - changes - head > 0.0
    };
    let (from, to) = (flush_inlet::LEAST_RATIO, inlet.changes_up_to());
    let looks = (0..LOOKS).map(|i| from + (to - from) * (f64::from(i) + 0.5) / f64::from(LOOKS));
    let found: Vec<f64> = looks.filter(|ratio| *ratio > from && rises(*ratio)).collect();
    Some((*found.first()?, *found.last()?))
}
