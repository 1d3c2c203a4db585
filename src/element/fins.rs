//! A bank of fins: cylinder heads or barrels in a shroud.

mod geometry;

use super::figure::{ElementFigure, FigurePanel, axis, chart, curve};
use crate::correlations::effectiveness;
use crate::correlations::finned_cylinder::Cylinder;
pub use geometry::{
    BAFFLED, CONDUCTIVITY, CYLINDERS, DIMENSIONS, FIN_COUNT, FIN_LENGTH, FIN_PITCH, FIN_THICKNESS, FinPiece,
    PRESSURE_FACTOR, ROOT_DIAMETER, SURFACE_FACTOR,
};

use super::law::REFERENCE_SPEED;
use super::size::{AREA, BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, WIDTH};
use super::{
    AreaContinuity, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push, Response,
    Role, Sign,
};
use crate::keys::{Key, Kind, Range, ReferenceTarget, Rule, ValueShape, View};

/// The part that is cooled.
pub const PART: Key =
    Key::must("part", ValueShape::Name(ReferenceTarget::Part), "the [part] whose heat it takes");
/// Area of the duct or shroud just before the fins.
pub const FRONT_AREA: Key = Key::optional(
    "front_area",
    Kind::Area,
    Range::above(0.0, 4.0),
    "area of the duct or shroud just before them, where it is not the net area in which the air leaves",
);
/// Flow of one piece at which the reference figures hold.
pub const REFERENCE_FLOW: Key = Key::optional(
    "reference_flow",
    Kind::MassFlow,
    Range::above(0.0, 50.0),
    "air through one piece at which conductance and pressure_drop hold",
);
/// Conductance of one piece.
pub const CONDUCTANCE: Key = Key::optional(
    "conductance",
    Kind::ThermalConductance,
    Range::above(0.0, 20_000.0),
    "heat per kelvin of difference to the air at the reference flow, one piece",
)
.also(&["ua"]);
/// Pressure drop of one piece.
pub const PRESSURE_DROP: Key = Key::optional(
    "pressure_drop",
    Kind::Pressure,
    Range::between(0.0, 20_000.0),
    "pressure drop at the reference flow and density, unheated",
)
.also(&["dp"]);
pub const CONDUCTANCE_EXPONENT: Key = Key::default(
    "conductance_exponent",
    Kind::Ratio,
    (0.65, 0.5, 0.8),
    Range::between(0.3, 1.0),
    "finned surfaces, 0.5 (laminar) to 0.8 (turbulent) (from memory)",
    "exponent of the flow in the conductance; measure it at half the flow too",
)
.rules(&[Rule::ReplacedBy(&["fin_pitch"])]);
/// Exponent of the pressure drop.
pub const PRESSURE_EXPONENT: Key = Key::default(
    "pressure_exponent",
    Kind::Ratio,
    (1.8, 1.6, 1.95),
    Range::between(1.0, 2.0),
    "finned surfaces and cores, 1.6 to 1.95; 2 where friction no longer counts (from memory)",
    "exponent of the flow in the pressure drop; measure it at half the flow too",
)
.rules(&[Rule::ReplacedBy(&["fin_pitch"])]);
/// Density of the pressure drop.
pub const REFERENCE_DENSITY: Key = Key::default(
    "reference_density",
    Kind::Density,
    (1.2, 1.1, 1.25),
    Range::between(0.3, 2.0),
    "air of a workshop, 1.2 kg/m3",
    "air density at which the pressure drop holds; the day's air when it was measured",
);

/// A bank of fins.
pub const KIND: ElementKind = ElementKind {
    name: "fins",
    also: &["cylinder"],
    sign: Some(Sign::Fins),
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
        FRONT_AREA,
        COUNT,
        PART,
        REFERENCE_FLOW,
        CONDUCTANCE,
        PRESSURE_DROP,
        CONDUCTANCE_EXPONENT,
        PRESSURE_EXPONENT,
        REFERENCE_DENSITY,
        FIN_PITCH,
        FIN_THICKNESS,
        FIN_LENGTH,
        ROOT_DIAMETER,
        FIN_COUNT,
        CYLINDERS,
        CONDUCTIVITY,
        BAFFLED,
        SURFACE_FACTOR,
        PRESSURE_FACTOR,
    ],
    summary: "A part's fins in the air: UA = UA₀ (ṁ/ṁ₀)ⁿ, effectiveness 1 − exp(−UA/ṁcp), pressure drop Δp₀ (ṁ/ṁ₀)ˣ ρ₀/ρ at the mean temperature, and ½G²(1/ρ₂ − 1/ρ₁) for the heating where an area is given. The figures of the reference flow are measured, or found from the fins' geometry.",
    range: "Flows near the reference flow; the exponents carry it further than the figures are known. From geometry: exponents between half and twice the reference flow. Beyond 238 kg/(m² s), where the air would be faster than sound, ½G² grows with the logarithm of the flow only.",
    source: "effectiveness of a surface of one temperature: Kays & London, Compact Heat Exchangers; exponents: common practice; from geometry: exact annular fin, short-duct formulas of Hausen, Gnielinski and Churchill, without a baffle Gibson (1920)",
    example: r#"{ kind = "fins", part = "heads", reference_flow = "0.3 kg/s", conductance = "150 W/K", pressure_drop = "450 Pa", area = "170 cm2" }"#,
    further_examples: &[
        r#"{ kind = "fins", part = "heads", fin_pitch = "7 mm", fin_thickness = "2 mm", fin_length = "32 mm", root_diameter = "94 mm", fin_count = 11, cylinders = 2 }"#,
        r#"{ kind = "fins", part = "heads", baffled = false, fin_pitch = "9 mm", fin_thickness = "2.5 mm", fin_length = "30 mm", root_diameter = "90 mm", fin_count = 9, conductivity = "50 W/(m K)" }"#,
    ],
    sides: None,
    words: include_str!("fins.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// The surface of a bank of fins or a core: power laws of the flow, all pieces together.
#[derive(Clone, Copy, Debug)]
pub struct Surface {
    /// Reference flow (kg/s).
    pub reference_flow: f64,
    /// Conductance at the reference flow (W/K).
    pub conductance: f64,
    pub conductance_exponent: f64,
    /// Pressure drop × density at the reference flow (Pa kg/m³).
    pub drop_density: f64,
    pub pressure_exponent: f64,
    /// Free area where the air leaves (m²).
    pub area: Option<f64>,
}

/// Density of workshop air (kg/m³), for sizes that need not be exact.
const USUAL_DENSITY: f64 = 1.2;
/// Most air that a square metre passes whatever pushes it (kg/(m² s)): that of a workshop, then as fast as sound.
///
/// ```text
///   G* = ρ₀ a₀ (2/(γ + 1))^((γ + 1)/(2(γ − 1))) = 1.2 · 343 · 0.579
/// ```
///
/// ρ₀ (kg/m³), a₀ (m/s) density and speed of sound at rest before it, γ = 1.4. Source: choked flow of an ideal gas, any
/// handbook of gas dynamics.
const CHOKED: f64 = 238.0;

impl Surface {
    /// Area (m²) in which the reference flow moves at [`REFERENCE_SPEED`].
    pub fn nominal_area(&self) -> f64 {
        self.reference_flow / (USUAL_DENSITY * REFERENCE_SPEED)
    }

    /// Reads the keys that fins and cores share.
    pub fn read(context: &ElementContext, view: &View) -> Surface {
        Surface {
            reference_flow: view.required(&REFERENCE_FLOW) * context.pieces,
            conductance: view.required(&CONDUCTANCE) * context.pieces,
            conductance_exponent: view.required(&CONDUCTANCE_EXPONENT),
            drop_density: view.required(&PRESSURE_DROP) * view.required(&REFERENCE_DENSITY),
            pressure_exponent: view.required(&PRESSURE_EXPONENT),
            area: context.size.map(|s| s.area * context.pieces),
        }
    }

    /// Conductance at a flow (W/K), and ln of the flow over the reference flow.
    #[inline]
    pub fn conductance_at(&self, magnitude: f64) -> (f64, f64) {
        let log = (magnitude / self.reference_flow).ln();
        (self.conductance * (self.conductance_exponent * log).exp(), log)
    }

    /// The signed square of the flow that the heating of the air is charged with, and its slope with the flow.
    ///
    /// ```text
    ///   G²                       up to G*
    ///   G*² (1 + ln(G²/G*²))     beyond
    /// ```
    ///
    /// G the flow over the area (kg/(m² s)), G* [`CHOKED`]. ½G²(1/ρ₂ − 1/ρ₁) is the law of slow air; where the flow would be
    /// faster than sound it would turn the last digit of a temperature into pressure. Value and slope agree at G*.
    #[inline]
    fn heating_square(stream: &PassageStream, area: f64) -> (f64, f64) {
        let most = (CHOKED * area) * (CHOKED * area);
        let size = stream.square.abs();
        if size <= most {
            return (stream.square, stream.square_slope);
        }
        let share = most / size;
        ((most * (1.0 - share.ln())).copysign(stream.square), share * stream.square_slope)
    }

    /// Adds the pressure drop to a response whose temperatures are set; `log` is
    /// ln(flow/reference flow).
    #[inline]
    pub fn add_drop(&self, response: &mut Response, stream: &PassageStream, temperature: f64, log: f64) {
        let volume = 0.5 * stream.volume_per_kelvin;
        let exponent = self.pressure_exponent - 1.0;
        let power = self.drop_density * (exponent * log).exp() / self.reference_flow;
        let unit = power * stream.flow;
        let lean = stream.flow * stream.magnitude_slope / stream.magnitude;
        let unit_slope = power * (1.0 + exponent * lean);
        let mean = volume * (temperature + response.outlet);
        response.drop = unit * mean;
        let mut by_outlet = unit * volume;
        response.rise_by_flow = -unit_slope * mean;
        response.rise_by_temperature = -unit * volume;
        if let Some(area) = self.area {
            let (square, square_slope) = Surface::heating_square(stream, area);
            let flux = volume * square / (area * area);
            response.drop += flux * (response.outlet - temperature);
            response.rise_by_flow -= volume * square_slope / (area * area) * (response.outlet - temperature);
            response.rise_by_temperature += flux;
            by_outlet += flux;
        }
        response.rise_by_flow -= by_outlet * response.outlet_by_flow;
        response.rise_by_temperature -= by_outlet * response.outlet_by_temperature;
        response.rise_by_part -= by_outlet * response.outlet_by_part;
    }
}

/// Law of a bank of fins.
#[derive(Clone, Debug)]
pub struct Fins {
    surface: Surface,
    found: Option<FinPiece>,
    area_of_one: Option<f64>,
    front: Option<f64>,
    written: bool,
    pieces: f64,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let written = context.size.map(|size| size.area);
    let front = view.number(&FRONT_AREA);
    if front.is_some() && written.is_none() {
        context.fault(
            "fins-front-without-area",
            Some(&FRONT_AREA),
            "front_area says how wide the shroud is before the fins, and nothing says how wide the air's way is where it leaves them".into(),
            r#"give the net area between the fins too, for example area = "140 cm2""#.into(),
        );
        return None;
    }
    let (surface, area_of_one, found) = if view.values.has(&FIN_PITCH) {
        let found = geometry::find(context, view)?;
        // behind the fins the air's velocity is lost in the law, unless the passage discharges there
        let area = written.or(context.last.then_some(found.free_area));
        (found.surface(context.pieces), area, Some(found))
    } else {
        (Surface::read(context, view), written, None)
    };
    Some(Law::Fins(Fins {
        surface,
        found,
        area_of_one,
        front,
        written: written.is_some(),
        pieces: context.pieces,
    }))
}

impl Fins {
    /// The surface of all pieces.
    pub fn surface(&self) -> &Surface {
        &self.surface
    }

    /// What was found from the fins' geometry; none where the figures are written.
    pub fn found(&self) -> Option<&FinPiece> {
        self.found.as_ref()
    }
}

impl ElementLaw for Fins {
    fn prepare(&mut self, _moment: &FreeStream, _taped: f64) {}

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, part: f64) -> Response {
        let mut response = Response::default();
        let (conductance, log) = self.surface.conductance_at(stream.magnitude);
        let inverse = 1.0 / stream.magnitude;
        let units = conductance * inverse / stream.heat_capacity;
        let remaining = (-units).exp();
        let share = 1.0 - remaining;
        let units_slope =
            units * (self.surface.conductance_exponent - 1.0) * stream.magnitude_slope * inverse;
        response.outlet = temperature + share * (part - temperature);
        response.outlet_by_flow = remaining * units_slope * (part - temperature);
        response.outlet_by_temperature = remaining;
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

    fn ends(&self) -> Option<(f64, f64)> {
        // an area found from the geometry is only where the air leaves for good
        let net = self.area_of_one.filter(|_| self.written)?;
        Some((self.front.unwrap_or(net), net))
    }
}

const EXAMPLE_FINS: Cylinder = Cylinder {
    pitch: 0.007,
    thickness: 0.002,
    length: 0.032,
    diameter: 0.094,
    fins: 11.0,
    conductivity: 160.0,
    baffled: true,
};
/// 20 m/s of air of 1.2 kg/m³ between them (kg/(s m²)).
const REFERENCE_FLUX: f64 = 24.0;

fn figure() -> Option<ElementFigure> {
    let (n, x) = (CONDUCTANCE_EXPONENT.assumed(), PRESSURE_EXPONENT.assumed());
    // a bank that takes half the difference at its reference flow
    let units = std::f64::consts::LN_2;
    let heat = move |flow: f64| {
        let carried = |flow: f64| flow * effectiveness::single_stream(units * flow.powf(n - 1.0)).0;
        100.0 * carried(flow) / carried(1.0)
    };
    let cylinder = EXAMPLE_FINS;
    let state = move |flow: f64, baffled: bool| {
        Cylinder { baffled, ..cylinder }.at(flow * REFERENCE_FLUX, REFERENCE_FLUX / 20.0, 1.0)
    };
    let coefficient = move |baffled: bool| {
        move |flow: f64| state(flow, baffled).map_or(f64::NAN, |state| state.coefficient)
    };
    let efficiency = move |flow: f64| state(flow, true).map_or(f64::NAN, |state| 100.0 * state.efficiency);
    Some(ElementFigure {
        size: (720.0, 800.0),
        panels: vec![
            FigurePanel {
                y: axis("Heat at one difference", "% of reference"),
                curves: vec![curve("heat carried", (0.1, 2.0), heat)],
            },
            FigurePanel {
                y: axis("Pressure drop", "% of reference"),
                curves: vec![curve("pressure drop", (0.1, 2.0), move |flow| 100.0 * flow.powf(x))],
            },
            FigurePanel {
                y: axis("Surface, from geometry", "W/(m² K)"),
                curves: vec![
                    curve("with a baffle", (0.1, 2.0), coefficient(true)),
                    curve("without", (0.1, 2.0), coefficient(false)),
                ],
            },
            FigurePanel {
                y: axis("Efficiency of a fin", "%"),
                curves: vec![curve("with a baffle", (0.1, 2.0), efficiency)],
            },
        ],
        ..chart(
            "Fins: twice the air does not carry twice the heat",
            axis("Air through them", "of the reference flow"),
            axis("", ""),
            Vec::new(),
            &format!(
                "Above: exponents at their defaults, {n} and {x}; half the difference is taken at the reference flow. Below: invented fins of aluminium, {:.0} mm long at a pitch of {:.0} mm, 20 m/s between them at the reference flow; the kinks with a baffle lie at Reynolds 2300 and 4000.",
                1e3 * cylinder.length,
                1e3 * cylinder.pitch
            ),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::{CHOKED, Surface};
    use crate::element::PassageStream;

    #[test]
    fn heating_is_charged_without_a_jump_where_air_is_as_fast_as_sound() {
        let area = 1e-3;
        let at = |share: f64| PassageStream::new(share * CHOKED * area, 1e-6, 3e-3, 1006.0);
        let charged = |share: f64| Surface::heating_square(&at(share), area);
        // below it the law of slow air, to the last digit
        assert_eq!(charged(0.999).0, at(0.999).square);
        for share in [0.999, 1.0001, 1.5, 40.0, -1.0001, -7.0] {
            let step = 1e-6;
            let difference =
                (charged(share + step).0 - charged(share - step).0) / (2.0 * step * CHOKED * area);
            let slope = charged(share).1;
            assert!((difference / slope - 1.0).abs() < 1e-6, "{share}: {difference} {slope}");
        }
        let most = (CHOKED * area) * (CHOKED * area);
        assert!((charged(1000.0).0 / most - (1.0 + 2.0 * 1000.0_f64.ln())).abs() < 1e-9);
    }
}
