//! An oil cooler core.

mod rating;

use super::figure::{ElementFigure, axis, chart, curve};
use crate::keys::kind::short_number;
pub use rating::{Basis, EFFECTIVENESS, FACE_LOSS, FACE_SPEED, PieceRating, RATED};

use super::fins::{
    CONDUCTANCE, CONDUCTANCE_EXPONENT, PART, PRESSURE_DROP, PRESSURE_EXPONENT, REFERENCE_DENSITY,
    REFERENCE_FLOW, Surface,
};
use super::size::{AREA, BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, WIDTH};
use super::{
    AreaContinuity, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push, Response,
    Role, Sign,
};
use crate::correlations::effectiveness::{cross_flow, cross_flow_value};
use crate::keys::{Key, Kind, Range, View};

/// Oil through one core.
pub const OIL_FLOW: Key = Key::required(
    "oil_flow",
    Kind::VolumeFlow,
    Range::above(0.0, 0.1),
    "oil through one core; from the pump's displacement, or a bucket and a watch",
);
/// Engine speed at which the oil flow holds.
pub const OIL_FLOW_AT: Key = Key::optional(
    "oil_flow_at",
    Kind::RotationalSpeed,
    Range::POSITIVE,
    "engine speed at which oil_flow holds; it then follows the engine; left out: fixed",
);
pub const OIL_DENSITY: Key = Key::default(
    "oil_density",
    Kind::Density,
    (860.0, 820.0, 890.0),
    Range::between(500.0, 1200.0),
    "engine oil, warm (from memory)",
    "density of the oil, warm; a measured litre on a kitchen scale, or the maker's sheet",
);
/// Specific heat of the oil.
pub const OIL_HEAT: Key = Key::default(
    "oil_heat",
    Kind::SpecificHeat,
    (2100.0, 1950.0, 2250.0),
    Range::between(500.0, 5000.0),
    "engine oil near 100 degC (from memory)",
    "specific heat of the oil, warm; the maker's sheet",
);
/// An oil cooler core.
pub const KIND: ElementKind = ElementKind {
    name: "core",
    also: &["radiator", "cooler"],
    sign: Some(Sign::Core),
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Guarded,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        AREA,
        WIDTH,
        HEIGHT,
        DIAMETER,
        COUNT,
        PART,
        REFERENCE_FLOW,
        CONDUCTANCE,
        PRESSURE_DROP,
        CONDUCTANCE_EXPONENT,
        PRESSURE_EXPONENT,
        REFERENCE_DENSITY,
        OIL_FLOW,
        OIL_FLOW_AT,
        OIL_DENSITY,
        OIL_HEAT,
        RATED,
        EFFECTIVENESS,
        FACE_SPEED,
        FACE_LOSS,
    ],
    summary: "An oil cooler in cross-flow, both sides unmixed: ε = 1 − exp[NTU^0.22/Cr (exp(−Cr NTU^0.78) − 1)] of the smaller capacity; the part's temperature is that of the oil entering. Pressure drop as of fins. The conductance is measured, or found from the maker's rating, or from the share of the difference that such cores take.",
    range: "The approximation is within some per cent of the exact series; NTU up to about 5.",
    source: "cross-flow effectiveness: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, ch. 11",
    example: r#"{ kind = "core", part = "oil", reference_flow = "0.25 kg/s", conductance = "110 W/K", pressure_drop = "260 Pa", area = "300 cm2", oil_flow = "11 L/min" }"#,
    further_examples: &[
        r#"{ kind = "core", part = "oil", width = "210 mm", height = "140 mm", oil_flow = "11 L/min", rated = { heat = "5.2 kW", air_speed = "8 m/s", difference = "70 K" }, pressure_drop = "240 Pa" }"#,
        r#"{ kind = "core", part = "oil", width = "210 mm", height = "140 mm", oil_flow = "11 L/min" }"#,
    ],
    sides: None,
    words: include_str!("core.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of an oil cooler core.
#[derive(Clone, Debug)]
pub struct Core {
    surface: Surface,
    found: Option<PieceRating>,
    area_of_one: Option<f64>,
    pieces: f64,
    capacity: f64,
    capacity_at: Option<f64>,
    oil: f64,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let of_one = view.required(&OIL_FLOW) * view.required(&OIL_DENSITY) * view.required(&OIL_HEAT);
    let measured = [&CONDUCTANCE, &PRESSURE_DROP].into_iter().all(|key| view.values.has(key));
    let (surface, found) = if measured {
        (Surface::read(context, view), None)
    } else {
        let (surface, found) = rating::find(context, view, of_one)?;
        (surface, Some(found))
    };
    let capacity = of_one * context.pieces;
    Some(Law::Core(Core {
        surface,
        found,
        area_of_one: context.size.map(|s| s.area),
        pieces: context.pieces,
        capacity,
        capacity_at: view.number(&OIL_FLOW_AT),
        oil: capacity,
    }))
}

impl Core {
    /// The surface of all pieces.
    pub fn surface(&self) -> &Surface {
        &self.surface
    }

    /// What was found from a rating or from defaults; none where the figures are written.
    pub fn found(&self) -> Option<&PieceRating> {
        self.found.as_ref()
    }

    /// Capacity rate of the oil at the moment prepared for (W/K), all pieces.
    pub fn oil_capacity(&self) -> f64 {
        self.oil
    }
}

impl ElementLaw for Core {
    fn prepare(&mut self, free_stream: &FreeStream, _taped: f64) {
        self.oil = self.capacity * self.capacity_at.map_or(1.0, |at| free_stream.rpm / at);
    }

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, part: f64) -> Response {
        let mut response = Response::default();
        let (conductance, log) = self.surface.conductance_at(stream.magnitude);
        let air = stream.magnitude * stream.heat_capacity;
        let exponent = self.surface.conductance_exponent;
        // share of the difference that the air takes up, and its slope with ln ṁ
        let (share, share_by_log) = if self.oil <= 0.0 {
            (0.0, 0.0)
        } else if air <= self.oil {
            let (units, ratio) = (conductance / air, air / self.oil);
            let (effectiveness, by_units, by_ratio) = cross_flow(units, ratio);
            (effectiveness, by_units * units * (exponent - 1.0) + by_ratio * ratio)
        } else {
            let (units, ratio) = (conductance / self.oil, self.oil / air);
            let (effectiveness, by_units, by_ratio) = cross_flow(units, ratio);
            (effectiveness * ratio, ratio * (by_units * units * exponent - by_ratio * ratio - effectiveness))
        };
        let log_by_flow = stream.magnitude_slope / stream.magnitude;
        response.outlet = temperature + share * (part - temperature);
        response.outlet_by_flow = share_by_log * log_by_flow * (part - temperature);
        response.outlet_by_temperature = 1.0 - share;
        response.outlet_by_part = share;
        self.surface.add_drop(&mut response, stream, temperature, log);
        response
    }

    fn area(&self) -> Option<f64> {
        self.area_of_one
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }

    fn nominal_area(&self) -> Option<f64> {
        Some(self.surface.nominal_area())
    }
}

fn figure() -> Option<ElementFigure> {
    let of_ratio = |ratio: f64| {
        let name = format!("capacities as {} to 1", short_number(ratio));
        curve(name, (0.0, 5.0), move |ntu| 100.0 * cross_flow_value(ntu, ratio))
    };
    Some(chart(
        "A core in cross-flow",
        axis("Conductance over the smaller capacity", "transfer units"),
        axis("Share of the greatest heat", "%"),
        [0.25, 0.5, 1.0].map(of_ratio).into(),
        "The capacity is flow times specific heat; the smaller one, of oil or of air, decides.",
    ))
}
