//! An opening that lets the air out.

use super::figure::{ElementFigure, axis, chart, curve};
use super::law::Lump;
use super::outline::OUTLINE;
use super::size::{
    BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, NEEDED_AREA, PLACE, PRESSURE_COEFFICIENT, WIDTH,
};
use super::{
    AreaContinuity, ElementContext, ElementKind, ElementLaw, FreeStream, Law, OpeningLies, PassageStream,
    Push, Resistance, Response, Role, Sides, SkinFace, TapedFrom,
};
use crate::correlations::discharge::{self, kept_in_cross_flow};
use crate::keys::kind::short_number;
use crate::keys::{Key, Kind, Range, Rule, ValueShape, View};
use std::f64::consts::PI;

/// Discharge coefficient.
pub const DISCHARGE: Key = Key::default(
    "discharge",
    Kind::Ratio,
    (0.62, 0.55, 0.7),
    Range::between(0.3, 1.0),
    "sharp-edged hole 0.615 to 0.635 (classical)",
    "discharge coefficient on the open area, 0.62 sharp-edged, 0.95 well rounded; feel the edge, or give edge_radius and thickness",
)
.also(&["cd", "discharge_coefficient"])
.rules(&[Rule::ReplacedBy(&["edge", "edge_radius", "thickness"]), Rule::OneOf(&["edge", "edge_radius", "discharge"])]);
/// The edge, instead of a discharge coefficient.
pub const EDGE: Key = Key::open(
    "edge",
    ValueShape::Word(&["sharp", "rounded"]),
    "the edge, instead of discharge: sharp 0.62, rounded 0.95",
);
/// Radius of the edge on the side that the air comes from.
pub const EDGE_RADIUS: Key = Key::optional(
    "edge_radius",
    Kind::Length,
    Range::between(0.0, 0.2),
    "radius of the edge on the inside, instead of discharge or edge; a radius gauge or a coin",
)
.also(&["radius", "lip_radius"]);
/// Thickness of the wall.
pub const THICKNESS: Key = Key::optional(
    "thickness",
    Kind::Length,
    Range::between(0.0, 0.3),
    "thickness of the wall round the hole, or length of its flange, instead of discharge or edge; callipers",
)
.rules(&[
    Rule::OneOf(&["thickness", "discharge"]),
    Rule::OneOf(&["thickness", "edge"]),
    Rule::Instead(&[&["edge"], &["edge_radius", "thickness"], &["entry_loss"], &["discharge"]]),
]);
/// Discharge lost to the stream across the hole.
pub const CROSS_FLOW_LOSS: Key = Key::default(
    "cross_flow_loss",
    Kind::Share,
    (0.0, 0.0, 0.3),
    Range::between(0.0, 0.5),
    "nothing lost, unless said otherwise; a jet slower than the stream over it loses 10 to 30 % of its discharge, one in the wake less (from memory)",
    "share of the discharge that the stream over the hole takes where the jet hardly moves; compare the bay's pressure at speed with a blower's at rest",
);
/// Angle of the jet to the car's axis.
pub const ANGLE: Key = Key::default(
    "angle",
    Kind::Angle,
    (0.0, 0.0, PI / 4.0),
    Range::between(0.0, PI),
    "a jet straight to the rear",
    "angle between the jet and the car's axis, 0 to the rear; a protractor on the vanes or flap",
);
/// Open share of a louvred field.
pub const LOUVRES: Key =
    Key::optional("louvres", Kind::Share, Range::between(0.1, 1.0), "open share of a louvred field");

/// An exit.
pub const KIND: ElementKind = ElementKind {
    name: "exit",
    also: &["outlet", "vent"],
    sign: None,
    push: Push::Body,
    role: Role::Exit,
    chain: AreaContinuity::Guarded,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        NEEDED_AREA,
        WIDTH,
        HEIGHT,
        DIAMETER,
        COUNT,
        DISCHARGE,
        EDGE,
        EDGE_RADIUS,
        THICKNESS,
        CROSS_FLOW_LOSS,
        PRESSURE_COEFFICIENT,
        ANGLE,
        LOUVRES,
        PLACE,
        OUTLINE,
    ],
    summary: "An opening to outside. Push −q × Cp of the surface there (suction where Cp is negative); loss (1/Cd² − 1) ½ρV² on the open area, and the jet's own head is lost behind it.",
    range: "Cd 0.3..1; by edge radius up to one hydraulic diameter and wall thickness up to 2.4. A jet slower than the stream over it loses cross_flow_loss × (1 − Vjet/V)² of Cd, nothing unless that is given.",
    source: "definition of the discharge coefficient; sharp-edged holes 0.615-0.635, short tubes 0.82, classical; rounding: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1; thick walls: Idelchik, Handbook of Hydraulic Resistance (from memory); cross-flow: from memory",
    example: r#"{ kind = "exit", width = "200 mm", height = "90 mm", pressure_coefficient = -0.1 }"#,
    further_examples: &[
        r#"{ kind = "exit", area = "180 cm2", edge_radius = "8 mm", thickness = "3 mm" }"#,
        r#"{ kind = "exit", area = "180 cm2", pressure_coefficient = "base", cross_flow_loss = "15 %" }"#,
    ],
    sides: Some(Sides { taped_from: TapedFrom::FrontEdge, faces: SkinFace::Rear, lies: OpeningLies::Along }),
    words: include_str!("exit.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of an exit.
#[derive(Clone, Debug)]
pub struct Exit {
    area_of_one: f64,
    pieces: f64,
    pressure_coefficient: f64,
    discharge: f64,
    cross_flow_loss: f64,
    angle: f64,
    stream: f64,
    push: f64,
    resistance: Resistance,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let size = context.size?;
    let louvres = view.number(&LOUVRES).unwrap_or(1.0);
    let discharge = discharge_of(context, view, size.hydraulic_diameter);
    let pressure_coefficient = view.required(&PRESSURE_COEFFICIENT);
    if pressure_coefficient > 0.0 {
        context.warn(
            "exit-pushed-in",
            Some(&PRESSURE_COEFFICIENT), || (format!("this place pushes in: the pressure coefficient {pressure_coefficient:+.2} at an exit works against the air that should leave"), "look for a place with a pressure below that of the day, or check the sign (suction is negative)".into()));
    }
    let area_of_one = size.area * louvres;
    Some(Law::Exit(Exit {
        area_of_one,
        pieces: context.pieces,
        pressure_coefficient,
        discharge,
        cross_flow_loss: view.required(&CROSS_FLOW_LOSS),
        angle: view.required(&ANGLE),
        stream: 0.0,
        push: 0.0,
        resistance: Resistance::constant(0.0, area_of_one * context.pieces),
    }))
}

/// Discharge coefficient from `edge`, from `edge_radius` and `thickness`, or from `discharge`.
fn discharge_of(context: &mut ElementContext, view: &View, diameter: f64) -> f64 {
    match view.values.text(&EDGE) {
        Some("rounded") => return 0.95,
        Some(_) => return discharge::SHARP,
        None => {}
    }
    let (radius, thickness) = (view.number(&EDGE_RADIUS), view.number(&THICKNESS));
    if radius.is_none() && thickness.is_none() {
        return view.required(&DISCHARGE);
    }
    if view.number(&LOUVRES).is_some_and(|open| open < 1.0) {
        let key = if radius.is_some() { &EDGE_RADIUS } else { &THICKNESS };
        context.warn(
            "exit-edge-of-louvres",
            Some(key), || (format!("the edge is set against the {:.0} mm of the whole louvred field, while the air meets the edges of narrow slots", 1e3 * diameter), "write discharge instead: 0.5 to 0.7 on the free area of louvres (from memory), or what was measured".into()));
    }
    let over = |length: Option<f64>| length.unwrap_or(0.0) / diameter;
    if over(thickness) > 2.4 {
        context.warn(
            "exit-thickness-beyond-range",
            Some(&THICKNESS), || (format!("the wall is {:.1} hydraulic diameters of the hole thick; the formula holds up to 2.4 and is held there", over(thickness)), "write a duct before the exit for what is longer".into()));
    }
    if over(radius) > 1.0 {
        context.warn(
            "exit-radius-beyond-range",
            Some(&EDGE_RADIUS), || (format!("the edge's radius is {:.1} hydraulic diameters of the hole; the formula holds up to 1 and is held there", over(radius)), "check the radius and its unit; a larger one gains nothing".into()));
    }
    discharge::by_edge(over(radius), over(thickness))
}

/// Loss coefficient of a hole beside the velocity head it discharges: 1/Cd² − 1, on its area.
pub fn discharge_loss(discharge: f64) -> f64 {
    1.0 / (discharge * discharge) - 1.0
}

impl Exit {
    /// Discharge coefficient without a stream across.
    pub fn discharge_coefficient(&self) -> f64 {
        self.discharge
    }

    /// Discharge coefficient in the stream of the moment prepared for, at a flow out (kg/s) and a density (kg/m³).
    pub fn discharge_at(&self, flow: f64, density: f64) -> f64 {
        self.discharge * kept_in_cross_flow(self.jet(flow, density), self.stream, self.cross_flow_loss).0
    }

    /// Speed of the jet (m/s) without a stream across, at a flow out (kg/s) and a density (kg/m³).
    pub fn jet(&self, flow: f64, density: f64) -> f64 {
        flow / (density * self.resistance.area * self.discharge)
    }

    /// Surface pressure coefficient.
    pub fn pressure_coefficient(&self) -> f64 {
        self.pressure_coefficient
    }

    /// Angle of the jet to the car's axis (rad).
    pub fn angle(&self) -> f64 {
        self.angle
    }
}

impl Exit {
    /// Adds the drop of air that leaves into a stream across the hole, with its slopes.
    #[inline]
    fn add_drop_in_cross_flow(&self, response: &mut Response, stream: &PassageStream, temperature: f64) {
        let volume = stream.volume_per_kelvin * temperature;
        let jet = self.jet(stream.flow, 1.0 / volume);
        let (kept, by_jet) = kept_in_cross_flow(jet, self.stream, self.cross_flow_loss);
        let discharge = self.discharge * kept;
        let loss = discharge_loss(discharge);
        // the jet grows with the flow and, through the density, with the temperature
        let loss_by_jet = -2.0 * self.discharge * by_jet / discharge.powi(3);
        let head = 0.5 * volume / (self.resistance.area * self.resistance.area);
        let drop = loss * head * stream.square;
        response.drop += drop;
        response.rise_by_flow -=
            head * (loss * stream.square_slope + loss_by_jet * jet / stream.flow * stream.square);
        response.rise_by_temperature -= (drop + head * stream.square * loss_by_jet * jet) / temperature;
    }
}

impl ElementLaw for Exit {
    fn prepare(&mut self, free_stream: &FreeStream, taped: f64) {
        self.push = -free_stream.dynamic_pressure * self.pressure_coefficient;
        self.stream = free_stream.local_speed;
        let open = self.area_of_one * self.pieces * (1.0 - taped);
        self.resistance = Resistance::constant(discharge_loss(self.discharge), open);
    }

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        response.push = self.push;
        if self.cross_flow_loss > 0.0 && stream.flow > 0.0 {
            self.add_drop_in_cross_flow(&mut response, stream, temperature);
        } else {
            self.resistance.add_to(&mut response, stream, temperature);
        }
        response
    }

    fn area(&self) -> Option<f64> {
        Some(self.resistance.area / self.pieces)
    }

    fn lump(&self) -> Option<Lump> {
        if self.cross_flow_loss > 0.0 && self.stream > 0.0 { None } else { self.resistance.lump(self.push) }
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }
}

fn figure() -> Option<ElementFigure> {
    let of = |thickness: f64| {
        let name = format!("wall {} diameters thick", short_number(thickness));
        curve(name, (0.0, 0.5), move |radius| discharge::by_edge(radius, thickness))
    };
    Some(chart(
        "An exit: discharge coefficient by edge and wall",
        axis("edge radius over hydraulic diameter", ""),
        axis("discharge coefficient", ""),
        vec![of(0.0), of(0.5), of(1.0), of(2.0)],
        "Sharp edge in a thin wall 0.62, short tube 0.82.",
    ))
}
