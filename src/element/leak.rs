//! Seams and gaps.

use super::exit::discharge_loss;
use super::law::Lump;
use super::size::{
    AREA_OR_SHARE, BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, LEAST_AREA, NAME, PLACE,
    PRESSURE_COEFFICIENT, WIDTH,
};
use super::{
    AreaContinuity, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push,
    Resistance, Response, Role,
};
use crate::keys::{Key, Kind, Range, Usual, View};

/// How well seams are sealed, as shares of the inlets' area.
pub const LEAK_WORDS: &[Usual] = &[
    Usual::new(
        "sealed",
        (0.1, 0.05, 0.15),
        "seams sealed with paste or foam, 5 to 15 % of the inlets' area (common practice)",
    ),
    Usual::new(
        "unsealed",
        (0.3, 0.2, 0.4),
        "seams as they came off the moulds, about 30 % of the inlets' area (common practice)",
    ),
];
/// Area as a share of all inlets.
pub const SHARE_OF_INLETS: Key = Key::optional("share_of_inlets", Kind::Share, Range::above(0.0, 1.0), "area as a share of all inlets together, instead of a size; sealed with paste or foam, or as it came off the moulds").or_word(LEAK_WORDS);
/// Discharge coefficient of a gap that nobody measured.
const USUAL_DISCHARGE: f64 = 0.6;
/// Discharge coefficient.
pub const DISCHARGE: Key = Key::default(
    "discharge",
    Kind::Ratio,
    (USUAL_DISCHARGE, 0.45, 0.75),
    Range::between(0.4, 0.8),
    "thin slots; about 0.6 (classical)",
    "discharge coefficient of the gap; a blower and a U-tube with all else taped",
)
.also(&["cd", "discharge_coefficient"]);

/// A leak.
pub const KIND: ElementKind = ElementKind {
    name: "leak",
    also: &["gap"],
    sign: None,
    push: Push::Body,
    role: Role::Leak,
    chain: AreaContinuity::PassedOver,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        AREA_OR_SHARE,
        WIDTH,
        HEIGHT,
        DIAMETER,
        COUNT,
        SHARE_OF_INLETS,
        DISCHARGE,
        PRESSURE_COEFFICIENT,
        PLACE,
    ],
    summary: "Seams and gaps: loss (1/Cd² − 1) ½ρV² on the gap's area, the jet's head lost behind it; push +q Cp where it begins outside, −q Cp where it ends outside.",
    range: "Gaps wide enough for turbulent flow, some millimetres.",
    source: "definition of the discharge coefficient; share of the inlets' area: common practice",
    example: r#"{ kind = "leak", area = "12 cm2", discharge = 0.6 }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("leak.md"),
    figures: &[],
    checks: &[],
    build,
};

/// Law of a leak.
#[derive(Clone, Debug)]
pub struct Leak {
    area_of_one: f64,
    effective: f64,
    pieces: f64,
    signed_coefficient: f64,
    push: f64,
    resistance: Resistance,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let share = view.number(&SHARE_OF_INLETS);
    let area = match (context.size, share) {
        (Some(size), None) => size.area,
        (None, Some(share)) if context.inlet_area > 0.0 => share * context.inlet_area,
        (None, Some(_)) => {
            context.fault(
                "no-inlet-area",
                Some(&SHARE_OF_INLETS),
                "the leak is a share of the inlets, and the case has none".into(),
                r#"give the leak a size, for example area = "12 cm2""#.into(),
            );
            return None;
        }
        _ => {
            context.fault(
                "leak-size",
                None,
                "a leak needs exactly one of a size and share_of_inlets".into(),
                r#"give area = "12 cm2", or share_of_inlets = "8 %""#.into(),
            );
            return None;
        }
    };
    if area < LEAST_AREA {
        context.fault(
            "opening-too-small",
            share.map(|_| &SHARE_OF_INLETS),
            format!("the leak has {:.1e} cm2; the least that is accepted is 0.01 cm2", 1e4 * area),
            "leave it out, or check the share and its unit".into(),
        );
        return None;
    }
    let coefficient = view.required(&PRESSURE_COEFFICIENT);
    let sign = f64::from(u8::from(context.from_outside && context.first))
        - f64::from(u8::from(context.to_outside && context.last));
    let discharge = view.required(&DISCHARGE);
    Some(Law::Leak(Leak {
        area_of_one: area,
        effective: discharge * area * context.pieces,
        pieces: context.pieces,
        signed_coefficient: sign * coefficient,
        push: 0.0,
        resistance: Resistance::constant(discharge_loss(discharge), area * context.pieces),
    }))
}

impl Leak {
    /// A leak that nobody wrote down, of an area (m²), in a part of the body where the pressure of the day stands.
    pub fn implied(area: f64) -> Leak {
        Leak {
            area_of_one: area,
            effective: USUAL_DISCHARGE * area,
            pieces: 1.0,
            signed_coefficient: 0.0,
            push: 0.0,
            resistance: Resistance::constant(discharge_loss(USUAL_DISCHARGE), area),
        }
    }
}

impl Leak {
    /// Its area times its discharge coefficient (m²): what it lets through at some pressure, ṁ = CdA √(2 ρ Δp).
    pub fn effective_area(&self) -> f64 {
        self.effective
    }
}

impl ElementLaw for Leak {
    fn prepare(&mut self, free_stream: &FreeStream, _taped: f64) {
        self.push = free_stream.dynamic_pressure * self.signed_coefficient;
    }

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        response.push = self.push;
        self.resistance.add_to(&mut response, stream, temperature);
        response
    }

    fn area(&self) -> Option<f64> {
        Some(self.area_of_one)
    }

    fn lump(&self) -> Option<Lump> {
        self.resistance.lump(self.push)
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }
}

impl From<Leak> for Law {
    fn from(leak: Leak) -> Law {
        Law::Leak(leak)
    }
}
