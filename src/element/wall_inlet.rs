//! A plain opening in a surface.

use super::law::Lump;
use super::lip::taped_entry;
use super::outline::OUTLINE;
use super::ram_inlet::{EDGE_RADIUS, ENTRY_LOSS, RECIRCULATION, entry_loss};
use super::size::{
    BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, NEEDED_AREA, PLACE, PRESSURE_COEFFICIENT, WIDTH,
};
use super::{
    AreaContinuity, ElementContext, ElementKind, ElementLaw, FreeStream, Law, OpeningLies, PassageStream,
    Push, Resistance, Response, Role, Sides, SkinFace, TapedFrom,
};
use crate::keys::{Key, ValueShape, View};

/// The edge of the hole.
const EDGE: Key = Key::open(
    "edge",
    ValueShape::Word(&["sharp", "rounded", "thin"]),
    "the edge: sharp (default), rounded, or a thin free edge",
);

/// A plain opening in a surface.
pub const KIND: ElementKind = ElementKind {
    name: "wall-inlet",
    also: &[],
    sign: None,
    push: Push::Body,
    role: Role::Inlet,
    chain: AreaContinuity::Joined,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        NEEDED_AREA,
        WIDTH,
        HEIGHT,
        DIAMETER,
        COUNT,
        PRESSURE_COEFFICIENT,
        EDGE,
        EDGE_RADIUS,
        ENTRY_LOSS,
        RECIRCULATION,
        PLACE,
        OUTLINE,
    ],
    summary: "A hole in a surface that does not face the stream. Push q × Cp of the surface there; entry loss K ½ρV² by edge: sharp 0.5, rounded 0.05, thin free edge 1.0.",
    range: "Turbulent entry; cross-flow over the hole is not counted.",
    source: "classical entrance coefficients; rounded edges: Rennels & Hudson, Pipe Flow (2012)",
    example: r#"{ kind = "wall-inlet", diameter = "60 mm", pressure_coefficient = 0.2, edge = "sharp" }"#,
    further_examples: &[],
    sides: Some(Sides { taped_from: TapedFrom::LowerEdge, faces: SkinFace::Left, lies: OpeningLies::Along }),
    words: include_str!("wall_inlet.md"),
    figures: &[],
    checks: &[],
    build,
};

/// Law of a plain opening.
#[derive(Clone, Debug)]
pub struct WallInlet {
    area_of_one: f64,
    pieces: f64,
    pressure_coefficient: f64,
    entry: f64,
    push: f64,
    resistance: Resistance,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let size = context.size?;
    let entry = entry_loss(view, super::size::equivalent_diameter(size.area), "sharp");
    Some(Law::WallInlet(WallInlet {
        area_of_one: size.area,
        pieces: context.pieces,
        pressure_coefficient: view.required(&PRESSURE_COEFFICIENT),
        entry,
        push: 0.0,
        resistance: Resistance::constant(entry, size.area * context.pieces),
    }))
}

impl ElementLaw for WallInlet {
    fn prepare(&mut self, free_stream: &FreeStream, taped: f64) {
        self.push = free_stream.dynamic_pressure * self.pressure_coefficient;
        let entry = taped_entry(self.entry, taped);
        self.resistance =
            Resistance::constant(entry + taped * taped, self.area_of_one * self.pieces * (1.0 - taped));
    }

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
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
