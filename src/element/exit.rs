//! An opening that lets the air out.

use super::size::{AREA, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, PLACE, PRESSURE_COEFFICIENT, WIDTH};
use super::law::Lump;
use super::{ElementKind, ElementLaw, Law, Moment, Resistance, Response, Role, Site, Stream};
use crate::keys::{Key, Kind, Range, Shape, View};
use std::f64::consts::PI;

/// Discharge coefficient.
pub const DISCHARGE: Key = Key::default(
    "discharge",
    Kind::Ratio,
    (0.62, 0.55, 0.7),
    Range::between(0.3, 1.0),
    "sharp-edged hole 0.615 to 0.635 (classical); cross-flow takes 10 to 30 % (from memory)",
    "discharge coefficient on the open area; 0.62 sharp-edged, 0.95 well rounded",
);
/// The edge, instead of a discharge coefficient.
pub const EDGE: Key = Key::open("edge", Shape::Word(&["sharp", "rounded"]), "the edge, instead of discharge: sharp 0.62, rounded 0.95");
/// Angle of the jet to the car's axis.
pub const ANGLE: Key = Key::default(
    "angle",
    Kind::Angle,
    (0.0, 0.0, PI / 4.0),
    Range::between(0.0, PI),
    "a jet straight to the rear",
    "angle between the jet and the car's axis, 0 to the rear",
);
/// Open share of a louvred field.
pub const LOUVRES: Key = Key::optional("louvres", Kind::Share, Range::between(0.1, 1.0), "open share of a louvred field");

/// An exit.
pub const KIND: ElementKind = ElementKind {
    name: "exit",
    role: Role::Exit,
    keys: &[
        KIND_KEY, NAME, AREA, WIDTH, HEIGHT, DIAMETER, COUNT, DISCHARGE, EDGE, PRESSURE_COEFFICIENT, ANGLE, LOUVRES, PLACE,
    ],
    needs_size: true,
    summary: "An opening to outside. Push −q × Cp of the surface there (suction where Cp is negative); loss (1/Cd² − 1) ½ρV² on the open area, and the jet's own head is lost behind it.",
    range: "Cd 0.3..1; cross-flow past a slow jet takes 10 to 30 % of it, which is not counted.",
    source: "definition of the discharge coefficient; sharp-edged holes 0.615-0.635, classical",
    example: r#"{ kind = "exit", width = "200 mm", height = "90 mm", pressure_coefficient = -0.1 }"#,
    further_examples: &[],
    build,
};

/// Law of an exit.
#[derive(Clone, Debug)]
pub struct Exit {
    area_of_one: f64,
    pieces: f64,
    pressure_coefficient: f64,
    discharge: f64,
    angle: f64,
    push: f64,
    resistance: Resistance,
}

fn build(site: &mut Site, view: &View) -> Option<Law> {
    let size = site.size?;
    let discharge = match view.values.text(&EDGE) {
        Some("rounded") => 0.95,
        Some(_) => 0.62,
        None => view.given(&DISCHARGE),
    };
    let pressure_coefficient = view.given(&PRESSURE_COEFFICIENT);
    if pressure_coefficient > 0.0 {
        site.warn(
            "exit-pushed-in",
            Some(&PRESSURE_COEFFICIENT),
            format!("this place pushes in: the pressure coefficient {pressure_coefficient:+.2} at an exit works against the air that should leave"),
            "look for a place with a pressure below that of the day, or check the sign (suction is negative)".into(),
        );
    }
    let area_of_one = size.area * view.number(&LOUVRES).unwrap_or(1.0);
    Some(Law::Exit(Exit {
        area_of_one,
        pieces: site.pieces,
        pressure_coefficient,
        discharge,
        angle: view.given(&ANGLE),
        push: 0.0,
        resistance: Resistance::constant(0.0, area_of_one * site.pieces),
    }))
}

/// Loss coefficient of a hole beside the velocity head it discharges: 1/Cd² − 1, on its area.
pub fn discharge_loss(discharge: f64) -> f64 {
    1.0 / (discharge * discharge) - 1.0
}

impl Exit {
    /// Discharge coefficient.
    pub fn discharge_coefficient(&self) -> f64 {
        self.discharge
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

impl ElementLaw for Exit {
    fn prepare(&mut self, moment: &Moment, taped: f64) {
        self.push = -moment.dynamic_pressure * self.pressure_coefficient;
        let open = self.area_of_one * self.pieces * (1.0 - taped);
        self.resistance = Resistance::constant(discharge_loss(self.discharge), open);
    }

    #[inline]
    fn respond(&self, stream: &Stream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        response.push = self.push;
        self.resistance.add_to(&mut response, stream, temperature);
        response
    }

    fn area(&self) -> Option<f64> {
        Some(self.resistance.area / self.pieces)
    }

    fn lump(&self) -> Option<Lump> {
        self.resistance.lump(self.push)
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }
}
