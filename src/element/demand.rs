//! The engine's own draught.

use super::law::Lump;
use super::size::{BLENDED, KIND as KIND_KEY, NAME};
use super::{
    AreaContinuity, Discharge, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push,
    Response, Role,
};
use crate::keys::{Key, Kind, Range, Rule, View};

/// A fixed mass flow.
pub const FLOW: Key = Key::optional(
    "flow",
    Kind::MassFlow,
    Range::NOT_NEGATIVE,
    "a fixed mass flow of one, instead of the engine's own",
)
.rules(&[Rule::OneOf(&["flow", "share"]), Rule::Instead(&[&["flow"], &["share"]])]);
/// Share of the volume the engine draws.
pub const SHARE: Key = Key::optional(
    "share",
    Kind::Share,
    Range::between(0.0, 1.0),
    "share of the volume the engine draws; else all passages to the engine draw alike",
);

/// The engine's air.
pub const KIND: ElementKind = ElementKind {
    name: "demand",
    also: &[],
    sign: None,
    push: Push::Own,
    role: Role::Demand,
    chain: AreaContinuity::PassedOver,
    keys: &[KIND_KEY, NAME, BLENDED, FLOW, SHARE],
    summary: "The air the engine draws: its swept volume × volumetric efficiency × the density at the passage's end, or a fixed flow. A standing engine draws nothing.",
    range: "Volumetric efficiency is that of the case at any speed.",
    source: "definition of the volumetric efficiency",
    example: r#"{ kind = "demand", share = 0.5 }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("demand.md"),
    figures: &[],
    checks: &[],
    build,
};

/// Law of the engine's draught: it fixes the passage's flow and costs no pressure.
#[derive(Clone, Debug)]
pub struct FixedFlow {
    /// Fixed mass flow of all pieces (kg/s).
    pub flow: Option<f64>,
    /// Share of the engine's volume drawn by all pieces.
    pub share: Option<f64>,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    // the case reader has made sure that one of them is given at most
    let (flow, share) = (view.number(&FLOW), view.number(&SHARE));
    Some(Law::FixedFlow(FixedFlow {
        flow: flow.map(|f| f * context.pieces),
        share: share.map(|s| s * context.pieces),
    }))
}

impl ElementLaw for FixedFlow {
    fn prepare(&mut self, _moment: &FreeStream, _taped: f64) {}

    #[inline(always)]
    fn respond(&self, _stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        Response::passing(temperature)
    }

    fn area(&self) -> Option<f64> {
        None
    }

    fn lump(&self) -> Option<Lump> {
        Some(Lump::default())
    }

    fn pieces(&self) -> f64 {
        1.0
    }

    fn discharge(&self, _forward: bool) -> Discharge {
        Discharge::Unknown
    }
}
