//! An inlet that faces the stream.

use super::figure::{ElementFigure, axis, chart, curve};
use super::lip::Lip;
use super::outline::OUTLINE;
use super::size::{BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, NEEDED_AREA, PLACE, WIDTH};
use super::{
    AreaContinuity, Discharge, ElementContext, ElementKind, ElementLaw, FreeStream, Law, OpeningLies,
    PassageStream, Push, Response, Role, Sides, SkinFace, TapedFrom,
};
use crate::correlations::area_change::rounded_entrance;
use crate::correlations::boundary_layer;
use crate::keys::kind::short_number;
use crate::keys::{Key, Kind, Range, ReferenceTarget, Rule, ValueShape, View};

/// Share of the dynamic pressure that arrives as total pressure.
pub const RECOVERY: Key = Key::default(
    "recovery",
    Kind::Ratio,
    (1.0, 0.7, 1.0),
    Range::between(0.0, 1.05),
    "right only where the stream meets the opening head-on; 0.7 to 0.95 elsewhere (from memory)",
    "total pressure at the opening over the free stream's; from a flow picture or a pitot tube held there",
)
.also(&["pressure_recovery", "ram_recovery", "ram", "efficiency"]);
/// Where the recovery holds.
pub const RECOVERY_IS: Key = Key::open(
    "recovery_is",
    ValueShape::Word(&["before the skin", "in the opening"]),
    "whether recovery is that of the stream the skin's slow air is part of (default: a flow picture, a pitot tube outside the layer; boundary_layer is counted on top), or was measured in the opening itself (a pitot tube there, mean over its height: boundary_layer is not counted again)",
);
/// The lip.
pub const EDGE: Key = Key::open(
    "edge",
    ValueShape::Word(&["rounded", "sharp", "thin"]),
    "the lip: rounded (default), sharp-edged in a wall, or a thin free edge",
);
/// Radius of the lip.
pub const EDGE_RADIUS: Key =
    Key::optional("edge_radius", Kind::Length, Range::NOT_NEGATIVE, "radius of the lip, instead of edge")
        .also(&["radius", "lip_radius"]);
/// Loss coefficient of the lip.
pub const ENTRY_LOSS: Key = Key::optional(
    "entry_loss",
    Kind::Ratio,
    Range::between(0.0, 1.5),
    "loss coefficient of the lip on the opening's area, instead of edge",
)
.also(&["k", "zeta", "loss", "loss_coefficient"])
.rules(&[
    Rule::OneOf(&["edge", "edge_radius", "entry_loss"]),
    Rule::Instead(&[&["edge"], &["edge_radius", "thickness"], &["entry_loss"], &["discharge"]]),
]);
/// Distance the air has run along the skin.
pub const RUN: Key = Key::required(
    "run",
    Kind::Length,
    Range::above(0.0, 20.0),
    "distance the air has run along the skin before the opening",
);
/// Gap kept between skin and opening.
pub const GAP: Key = Key::default(
    "gap",
    Kind::Length,
    (0.0, 0.0, 0.0),
    Range::between(0.0, 1.0),
    "an opening that lies on the skin",
    "stand-off kept between the skin and the opening's near edge",
);
/// Height of the opening over the gap, where it is not the opening's own.
pub const LAYER_HEIGHT: Key = Key::optional(
    "height",
    Kind::Length,
    Range::above(0.0, 4.0),
    "height over the gap, where it is not the opening's own",
)
.also(&["h"]);
/// The skin's boundary layer before an inlet.
pub const BOUNDARY_LAYER: Key = Key::open(
    "boundary_layer",
    ValueShape::Table(&[RUN, GAP, LAYER_HEIGHT]),
    "the slow air of the skin: { run, gap, height }",
);
/// The passage whose warm air is drawn in again.
pub const FROM: Key =
    Key::must("from", ValueShape::Name(ReferenceTarget::Passage), "a passage that ends in an exit");
/// Share of the inlet's air that comes from there.
pub const SHARE: Key = Key::required(
    "share",
    Kind::Share,
    Range::between(0.0, 0.9),
    "share of this inlet's air that comes from there; from a thermometer in the opening",
);
/// Warm air drawn in again.
pub const RECIRCULATION: Key = Key::open(
    "recirculation",
    ValueShape::Tables(&[FROM, SHARE]),
    "warm exit air drawn in again: { from, share }, or a list",
);

/// A forward-facing inlet.
pub const KIND: ElementKind = ElementKind {
    name: "ram-inlet",
    also: &["scoop", "intake", "inlet"],
    sign: None,
    push: Push::Ram,
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
        RECOVERY,
        RECOVERY_IS,
        EDGE,
        EDGE_RADIUS,
        ENTRY_LOSS,
        BOUNDARY_LAYER,
        RECIRCULATION,
        PLACE,
        OUTLINE,
    ],
    summary: "An opening that faces the stream. Push q × recovery × the skin layer's share; lip loss K (1 − V/Vi)² ½ρVi² where the air speeds up into it (Vi > V), none otherwise; in reverse the same push and no lip loss.",
    range: "Velocity ratio Vi/V above about 0.3; below it the opening spills, which is not part of the internal flow.",
    source: "momentum balance on a lip: Fradenburgh & Wyatt, NACA TN 3004 (1953); rounded edges: Rennels & Hudson, Pipe Flow (2012); skin layer: turbulent flat plate with the 1/7 law",
    example: r#"{ kind = "ram-inlet", width = "140 mm", height = "60 mm", recovery = 0.9, edge = "rounded" }"#,
    further_examples: &[],
    sides: Some(Sides {
        taped_from: TapedFrom::NextToSkin,
        faces: SkinFace::Front,
        lies: OpeningLies::Across,
    }),
    words: include_str!("ram_inlet.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of a ram inlet.
#[derive(Clone, Debug)]
pub struct RamInlet {
    area_of_one: f64,
    pieces: f64,
    recovery: f64,
    entry: f64,
    layer: Option<SkinLayer>,
    in_opening: bool,
    lip: Lip,
    push: f64,
}

/// The skin layer before an opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkinLayer {
    /// Distance run along the skin (m).
    pub run: f64,
    /// Gap below the opening (m).
    pub gap: f64,
    /// Height of the opening (m).
    pub height: f64,
}

impl SkinLayer {
    /// Share of the dynamic pressure that the opening meets, and the Reynolds number on `run`;
    /// the whole at rest.
    pub fn share(&self, free_stream: &FreeStream) -> (f64, f64) {
        let reynolds = free_stream.air.density() * free_stream.local_speed * self.run / free_stream.viscosity;
        if reynolds <= 0.0 {
            return (1.0, 0.0);
        }
        let thickness = boundary_layer::thickness(self.run, reynolds);
        (boundary_layer::dynamic_pressure_share(self.gap / thickness, self.height / thickness), reynolds)
    }
}

/// Loss coefficient of a lip from `entry_loss`, `edge_radius` or `edge`.
pub fn entry_loss(view: &View, diameter: f64, default_edge: &str) -> f64 {
    if let Some(k) = view.number(&ENTRY_LOSS) {
        return k;
    }
    if let Some(radius) = view.number(&EDGE_RADIUS) {
        return rounded_entrance(radius / diameter);
    }
    match view.values.text(&EDGE).unwrap_or(default_edge) {
        "sharp" => 0.5,
        "thin" => 1.0,
        _ => 0.05,
    }
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let size = context.size?;
    let diameter = super::size::equivalent_diameter(size.area);
    let layer = view.table(&BOUNDARY_LAYER).map(|layer| SkinLayer {
        run: layer.required(&RUN),
        gap: layer.required(&GAP),
        height: layer.number(&LAYER_HEIGHT).unwrap_or(size.height),
    });
    Some(Law::RamInlet(RamInlet {
        area_of_one: size.area,
        pieces: context.pieces,
        recovery: view.required(&RECOVERY),
        entry: entry_loss(view, diameter, "rounded"),
        layer,
        in_opening: view.values.text(&RECOVERY_IS) == Some("in the opening"),
        lip: Lip::new(0.0, size.area * context.pieces, 0.0, 0.0),
        push: 0.0,
    }))
}

impl RamInlet {
    /// The skin layer before the opening.
    pub fn layer(&self) -> Option<&SkinLayer> {
        self.layer.as_ref()
    }

    /// Recovery of the total pressure, the skin layer left aside.
    pub fn recovery(&self) -> f64 {
        self.recovery
    }
}

impl ElementLaw for RamInlet {
    fn prepare(&mut self, free_stream: &FreeStream, taped: f64) {
        // what a pitot tube measured in the opening holds the skin's slow air already
        let before = self.layer.filter(|_| !self.in_opening);
        let share = before.map_or(1.0, |layer| layer.share(free_stream).0);
        self.push = free_stream.dynamic_pressure * self.recovery * share;
        self.lip = Lip::new(self.entry, self.area_of_one * self.pieces, taped, free_stream.local_speed);
    }

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        response.push = self.push;
        self.lip.add_to(&mut response, stream, temperature);
        response
    }

    fn area(&self) -> Option<f64> {
        Some(self.lip.open_area / self.pieces)
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }

    fn discharge(&self, _forward: bool) -> Discharge {
        Discharge::Area(self.lip.open_area)
    }
}

fn figure() -> Option<ElementFigure> {
    let of_height = |height: f64| {
        let name = format!("height {} of the layer", short_number(height));
        curve(name, (0.0, 1.5), move |gap| 100.0 * boundary_layer::dynamic_pressure_share(gap, height))
    };
    Some(chart(
        "What the skin's slow air leaves of the dynamic pressure",
        axis("Gap between skin and opening", "in thicknesses of the layer"),
        axis("Share left", "%"),
        [0.25, 1.0, 3.0].map(of_height).into(),
        "At 100 km/h the layer is about 28 mm thick 1.5 m behind the nose.",
    ))
}
