//! How much air a part has over what it needs.

use crate::correlations::effectiveness::cross_flow;
use crate::element::fins::Surface;
use crate::keys::word::words;

/// What one element can carry away for a part held at its limit.
#[derive(Clone, Copy, Debug)]
pub struct Carrier {
    /// Capacity rate of the air as it flows, ṁcp (W/K).
    pub air: f64,
    /// Capacity rate of the oil (W/K); none for fins.
    pub oil: Option<f64>,
    /// Conductance as it flows (W/K).
    pub conductance: f64,
    /// Exponent of the flow in the conductance.
    pub exponent: f64,
    /// Temperature of the entering air (K).
    pub entering: f64,
    /// Mass flow (kg/s), without sign.
    pub flow: f64,
}

impl Carrier {
    /// From a surface, its flow (without sign) and the temperature of the entering air.
    pub fn new(surface: &Surface, oil: Option<f64>, flow: f64, heat_capacity: f64, entering: f64) -> Carrier {
        Carrier {
            air: flow * heat_capacity,
            oil,
            conductance: if flow > 0.0 { surface.conductance_at(flow).0 } else { 0.0 },
            exponent: surface.conductance_exponent,
            entering,
            flow,
        }
    }

    /// Heat per kelvin ε C_min at the flow × eˣ, and its slope with x.
    fn capacity(&self, x: f64) -> (f64, f64) {
        if self.flow <= 0.0 {
            return (0.0, 0.0);
        }
        let scale = x.exp();
        let air = self.air * scale;
        let conductance = self.conductance * (self.exponent * x).exp();
        match self.oil {
            None => {
                let units = conductance / air;
                let remaining = (-units).exp();
                let slope = air * (1.0 - remaining) + air * remaining * units * (self.exponent - 1.0);
                (air * (1.0 - remaining), slope)
            }
            Some(oil) if oil <= 0.0 => (0.0, 0.0),
            Some(oil) if air <= oil => {
                let (units, ratio) = (conductance / air, air / oil);
                let (effectiveness, by_units, by_ratio) = cross_flow(units, ratio);
                let slope = effectiveness + by_units * units * (self.exponent - 1.0) + by_ratio * ratio;
                (air * effectiveness, air * slope)
            }
            Some(oil) => {
                let (units, ratio) = (conductance / oil, oil / air);
                let (effectiveness, by_units, by_ratio) = cross_flow(units, ratio);
                (oil * effectiveness, oil * (by_units * units * self.exponent - by_ratio * ratio))
            }
        }
    }
}

/// A part held at its working limit.
#[derive(Clone, Copy, Debug)]
pub struct HeldAtLimit {
    /// Working limit (K).
    pub limit: f64,
    /// Heat it takes at the limit (W).
    pub heat: f64,
    /// Heat it gives to its chamber at the limit (W).
    pub to_chamber: f64,
}

words! {
    /// What kind of answer a flow margin is.
    pub enum MarginIs {
        /// A number.
        Value = "value",
        /// No flow at all would do.
        Unlimited = "unlimited",
        /// No flow would be enough.
        Impossible = "impossible",
        /// Nothing is asked of the part: it has no limit.
        NoLimit = "no limit",
    }
}

/// Air over what is needed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// What kind of answer it is.
    pub is: MarginIs,
    /// 0.15 = 15 % more than needed; none where it is not a number.
    pub flow_margin: Option<f64>,
    /// Share k* of the flow that would just do.
    pub required_share: Option<f64>,
}

impl Margin {
    /// That of a part without a limit.
    pub const NO_LIMIT: Margin = Margin { is: MarginIs::NoLimit, flow_margin: None, required_share: None };
}

/// ln of the largest scale at which a margin is sought.
const REACH: f64 = 6.907_755_278_982_137;
/// Points of the scan on each side where the balance may turn more than once.
const SCAN: usize = 240;

/// Surplus of heat carried over heat taken at the limit, all flows × eˣ, and its slope with x.
pub fn surplus(held: &HeldAtLimit, carriers: &[Carrier], x: f64) -> (f64, f64) {
    let mut value = held.to_chamber - held.heat;
    let mut slope = 0.0;
    for carrier in carriers {
        let (capacity, by_x) = carrier.capacity(x);
        let difference = held.limit - carrier.entering;
        value += capacity * difference;
        slope += by_x * difference;
    }
    (value, slope)
}

/// Flow margin of a part.
///
/// ```text
///   f(k) = Σ ε C_min(k ṁ) (T_L − T_in) + h (T_L − T_chamber) − Q(T_L),   margin = 1/k* − 1
/// ```
///
/// k* is the root nearest 1 (the largest below where f(1) ≥ 0, else the smallest above), sought
/// between 1/1000 and 1000; entering and chamber temperatures as solved.
pub fn margin(held: &HeldAtLimit, carriers: &[Carrier]) -> Margin {
    let (now, slope) = surplus(held, carriers, 0.0);
    let found = |x: f64| {
        let share = x.exp();
        Margin { is: MarginIs::Value, flow_margin: Some(1.0 / share - 1.0), required_share: Some(share) }
    };
    let without_value = |is| Margin { is, flow_margin: None, required_share: None };
    if carriers.is_empty() || carriers.iter().all(|c| c.flow <= 0.0) {
        return if now >= 0.0 {
            without_value(MarginIs::Unlimited)
        } else if carriers.is_empty() {
            without_value(MarginIs::Impossible)
        } else {
            Margin { is: MarginIs::Value, flow_margin: Some(-1.0), required_share: None }
        };
    }
    let end = if now >= 0.0 { -REACH } else { REACH };
    let one_sided = carriers.iter().all(|c| c.entering <= held.limit)
        || carriers.iter().all(|c| c.entering >= held.limit);
    let root = if one_sided {
        // every term changes the same way with the flow: one root at most
        root_between(held, carriers, 0.0, end, now, slope)
    } else {
        let mut previous = (0.0, now, slope);
        (1..=SCAN).find_map(|i| {
            let x = end * i as f64 / SCAN as f64;
            let (value, by_x) = surplus(held, carriers, x);
            let hit = (value >= 0.0) != (now >= 0.0);
            let root = hit.then(|| root_between(held, carriers, previous.0, x, previous.1, previous.2));
            previous = (x, value, by_x);
            root.flatten()
        })
    };
    match root {
        Some(x) => found(x),
        None => without_value(if now >= 0.0 { MarginIs::Unlimited } else { MarginIs::Impossible }),
    }
}

/// The root between `from` (value and slope known) and `to`, by Newton's method kept inside.
fn root_between(
    held: &HeldAtLimit,
    carriers: &[Carrier],
    from: f64,
    to: f64,
    value: f64,
    slope: f64,
) -> Option<f64> {
    if value == 0.0 {
        return Some(from);
    }
    let positive = value > 0.0;
    let (mut inside, mut outside) = (from, to);
    let mut x = from;
    let (mut value, mut slope) = (value, slope);
    let mut end_checked = false;
    let scale = held.heat.abs().max(1e-9);
    for _ in 0..200 {
        // what is carried goes nearly as a power of the flow: Newton's step is taken on logarithms
        let (needed, carried) = (held.heat - held.to_chamber, value + held.heat - held.to_chamber);
        let mut next = if needed > 0.0 && carried > 0.0 {
            x + (needed / carried).ln() * carried / slope
        } else {
            x - value / slope
        };
        let beyond = if outside > inside {
            next >= outside || next <= inside
        } else {
            next <= outside || next >= inside
        };
        if !next.is_finite() || beyond {
            if !end_checked {
                let (last, _) = surplus(held, carriers, to);
                if (last >= 0.0) == positive {
                    return None;
                }
                end_checked = true;
            }
            next = 0.5 * (inside + outside);
        }
        let step = (next - x).abs();
        x = next;
        // Newton's error is of the order of the step's square: a short step ends it
        if step < 1e-6 && !beyond {
            return Some(x);
        }
        (value, slope) = surplus(held, carriers, x);
        if value.abs() <= 1e-13 * scale || step <= 1e-13 {
            return Some(x);
        }
        if (value > 0.0) == positive {
            inside = x;
        } else {
            outside = x;
            end_checked = true;
        }
    }
    Some(x)
}
