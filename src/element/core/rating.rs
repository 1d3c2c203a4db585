//! A core's figures from its maker's rating, or from what such cores do.

use super::{
    CONDUCTANCE, CONDUCTANCE_EXPONENT, ElementContext, PRESSURE_DROP, PRESSURE_EXPONENT, REFERENCE_DENSITY,
    REFERENCE_FLOW, Surface,
};
use crate::air::moist::DRY_HEAT_CAPACITY;
use crate::correlations::effectiveness::transfer_units;
use crate::keys::{Key, Kind, Range, Rule, RuleWords, ValueShape, View};

/// Heat of the rating.
const HEAT: Key = Key::required(
    "heat",
    Kind::Power,
    Range::above(0.0, 500_000.0),
    "heat that the core gives off by its maker's sheet",
);
/// Air speed of the rating.
const AIR_SPEED: Key = Key::required(
    "air_speed",
    Kind::Speed,
    Range::above(0.0, 60.0),
    "speed of the air on the face at which that holds",
);
/// Difference of the rating.
const DIFFERENCE: Key = Key::required(
    "difference",
    Kind::TemperatureDifference,
    Range::above(0.0, 200.0),
    "oil entering less air entering at which that holds",
);
/// The maker's rating.
pub const RATED: Key = Key::open(
    "rated",
    ValueShape::Table(&[HEAT, AIR_SPEED, DIFFERENCE]),
    "the maker's rating instead of a conductance, at this core's own oil flow; needs the face's size",
)
.rules(&[
    Rule::Needs("conductance", &["reference_flow"]),
    Rule::Told(
        &Rule::AtLeastOneSet(&[&["conductance", "pressure_drop"], &["area"], &["width"], &["diameter"]]),
        &RuleWords::new(
            "size-missing",
            "{table} has no {first other}, which is then found on its face, and no size",
            "give the face of one core: width and height, or area; or reference_flow, conductance and pressure_drop as measured",
        ),
    ),
]);
/// Share of the difference that the smaller stream takes up.
pub const EFFECTIVENESS: Key = Key::default(
    "effectiveness",
    Kind::Share,
    (0.4, 0.25, 0.6),
    Range::between(0.02, 0.95),
    "oil coolers at 6 m/s on the face (from memory)",
    "share of the entering difference by which the smaller stream (mostly the air) changes, at face_speed; measure with three thermometers: oil in, air in, air out",
)
.rules(&[Rule::ReplacedBy(&["conductance", "rated"]), Rule::OneOf(&["conductance", "rated", "effectiveness"])]);
/// Air speed on the face at which the share holds.
pub const FACE_SPEED: Key = Key::default(
    "face_speed",
    Kind::Speed,
    (6.0, 6.0, 6.0),
    Range::above(0.0, 60.0),
    "the speed to which the effectiveness belongs",
    "air speed on the face at which effectiveness holds",
)
.rules(&[
    Rule::ReplacedBy(&["conductance", "rated"]),
    Rule::OneOf(&["conductance", "face_speed"]),
    Rule::OneOf(&["rated", "face_speed"]),
]);
/// Loss coefficient of the core on its face.
pub const FACE_LOSS: Key = Key::default(
    "face_loss",
    Kind::Ratio,
    (10.0, 5.0, 20.0),
    Range::between(0.5, 200.0),
    "oil coolers and radiators of 30 to 60 mm depth (from memory)",
    "pressure drop over the velocity head on the face; measure with a U of water before and behind, at a known air speed",
)
.rules(&[Rule::ReplacedBy(&["pressure_drop"]), Rule::OneOf(&["pressure_drop", "face_loss"])]);

/// Transfer units up to which the effectiveness formula is trusted.
const MOST_UNITS: f64 = 5.0;

/// How a core's conductance was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    Written,
    /// From the maker's rating.
    Rated,
    /// From the share of the difference that such cores take up.
    Share,
}

/// What was found for one piece, at its reference flow.
#[derive(Clone, Copy, Debug)]
pub struct PieceRating {
    /// Where the conductance is from.
    pub basis: Basis,
    /// Whether the pressure drop was found from a loss coefficient on the face.
    pub drop_assumed: bool,
    /// Air flow (kg/s) at which the conductance holds.
    pub flow: f64,
    /// Air speed (m/s) on the face then.
    pub speed: Option<f64>,
    /// Air density (kg/m³) taken.
    pub density: f64,
    /// Capacity rate of the oil (W/K).
    pub oil: f64,
    /// Effectiveness, and the transfer units that give it.
    pub effectiveness: Option<(f64, f64)>,
    /// Conductance (W/K).
    pub conductance: f64,
    /// Pressure drop (Pa) at `flow` and `density`.
    pub pressure_drop: f64,
}

/// Finds what the law needs where conductance or pressure drop are not written; `oil` is the capacity rate of the oil
/// (W/K) through one piece.
///
/// ```text
///   ε = heat/(C_min difference)      UA = NTU(ε, C_min/C_max) C_min      ṁ₀ = ρ V A_face
///   Δp = face_loss · ½ρV²            at the reference flow where one is written, else at ṁ₀
/// ```
///
/// C_min the smaller of ṁ₀ c_p (dry air) and that of the oil.
pub(super) fn find(context: &mut ElementContext, view: &View, oil: f64) -> Option<(Surface, PieceRating)> {
    let density = view.required(&REFERENCE_DENSITY);
    let face = context.size.map(|size| size.area);
    let exponent = view.required(&PRESSURE_EXPONENT);
    let written_flow = view.number(&REFERENCE_FLOW);
    let rating = Rating::read(view);
    let flow = match &rating {
        Some(rating) => density * rating.speed * face?,
        None => written_flow?,
    };
    let (conductance, effectiveness) = match &rating {
        Some(rating) => {
            let found = rating.conductance(context, flow, oil)?;
            (found.2, Some((found.0, found.1)))
        }
        None => (view.required(&CONDUCTANCE), None),
    };
    let speed = |flow: f64| face.map(|area| flow / (density * area));
    // a written reference flow belongs to the pressure drop, which is carried from there to this one
    let drop_at = written_flow.unwrap_or(flow);
    let drop_there = match (view.number(&PRESSURE_DROP), speed(drop_at)) {
        (Some(drop), _) => drop,
        (None, Some(speed)) => view.required(&FACE_LOSS) * 0.5 * density * speed * speed,
        (None, None) => return None,
    };
    let pressure_drop = drop_there * (flow / drop_at).powf(exponent);
    let surface = Surface {
        reference_flow: flow * context.pieces,
        conductance: conductance * context.pieces,
        conductance_exponent: view.required(&CONDUCTANCE_EXPONENT),
        drop_density: pressure_drop * density,
        pressure_exponent: exponent,
        area: face.map(|area| area * context.pieces),
    };
    let found = PieceRating {
        basis: match rating.map(|rating| rating.heat) {
            None => Basis::Written,
            Some(Heat::PerKelvin(_)) => Basis::Rated,
            Some(Heat::Share(_)) => Basis::Share,
        },
        drop_assumed: !view.values.has(&PRESSURE_DROP),
        flow,
        speed: speed(flow),
        density,
        oil,
        effectiveness,
        conductance,
        pressure_drop,
    };
    Some((surface, found))
}

/// What is known of a core's heat at an air speed.
struct Rating {
    /// Air speed on the face (m/s).
    speed: f64,
    heat: Heat,
}

/// Heat that a core gives off.
enum Heat {
    /// For each kelvin of difference (W/K), by its maker.
    PerKelvin(f64),
    /// As a share of what the smaller stream can carry.
    Share(f64),
}

impl Rating {
    fn read(view: &View) -> Option<Rating> {
        if let Some(table) = view.table(&RATED) {
            let heat = table.required(&HEAT) / table.required(&DIFFERENCE);
            return Some(Rating { speed: table.required(&AIR_SPEED), heat: Heat::PerKelvin(heat) });
        }
        let share = view.number(&EFFECTIVENESS)?;
        Some(Rating { speed: view.required(&FACE_SPEED), heat: Heat::Share(share) })
    }

    /// Effectiveness, transfer units and conductance (W/K) at the rated `flow` (kg/s).
    fn conductance(&self, context: &mut ElementContext, flow: f64, oil: f64) -> Option<(f64, f64, f64)> {
        let air = flow * DRY_HEAT_CAPACITY;
        let (smaller, larger) = (air.min(oil), air.max(oil));
        let (effectiveness, key, who) = match self.heat {
            Heat::PerKelvin(heat) => (heat / smaller, &RATED, "the rating"),
            Heat::Share(share) => (share, &EFFECTIVENESS, "the effectiveness"),
        };
        let stream = if air <= oil { "air" } else { "oil" };
        let numbers = format!(
            "the air carries {air:.0} W/K ({flow:.3} kg/s at {:.1} m/s), the oil {oil:.0} W/K",
            self.speed
        );
        let Some(units) = transfer_units(effectiveness, smaller / larger) else {
            context.fault(
                "rating-impossible",
                Some(key),
                format!(
                    "{who} asks for {:.0} W for each kelvin of difference, {:.0} % of what the {stream} can carry: {numbers}",
                    effectiveness * smaller,
                    100.0 * effectiveness
                ),
                "check heat, air_speed and difference (oil entering less air entering), the face's size and oil_flow: makers often rate at more oil than a small engine pumps".to_string(),
            );
            return None;
        };
        if units > MOST_UNITS {
            context.warn(
                "rating-near-limit",
                Some(key), || (format!(
                    "{who} means {:.0} % of what the {stream} can carry, {units:.1} transfer units; the formula is trusted up to {MOST_UNITS:.0}: {numbers}",
                    100.0 * effectiveness
                ), "little is known of the conductance so near the limit: check the rating, or take one at more air".to_string()));
        }
        Some((effectiveness, units, units * smaller))
    }
}
