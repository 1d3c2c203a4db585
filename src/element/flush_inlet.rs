//! An inlet sunk into a surface, at the end of a ramp.

use super::figure::{ElementFigure, axis, chart, curve};
use super::lip::Lip;
use super::outline::RAMP_OUTLINE;
use super::ram_inlet::{RECIRCULATION, RUN};
use super::size::{BLENDED, COUNT, KIND as KIND_KEY, NAME, PLACE};
use super::written::WrittenElement;
use super::{
    AreaContinuity, Discharge, ElementContext, ElementKind, ElementLaw, FreeStream, Law, OpeningLies,
    PassageStream, Push, Response, Role, Sides, SkinFace, TapedFrom,
};
use crate::correlations::{boundary_layer, flush_inlet};
use crate::keys::{Key, Kind, Range, Rule, RuleWords, Slot, ValueShape, View};

const WIDTH: Key = Key::required(
    "width",
    Kind::Length,
    Range::above(0.0, 4.0),
    "clear width of one in the plane of its lip",
)
.also(&["w"]);
const HEIGHT: Key = Key::required(
    "height",
    Kind::Length,
    Range::above(0.0, 4.0),
    "clear height of one in the plane of its lip: how deep the ramp goes",
)
.also(&["h"]);
/// Recovery, instead of the published band.
pub const RECOVERY: Key = Key::open("recovery", ValueShape::NumberOrPairs(Kind::Ratio, Kind::Ratio), "total pressure behind the lip over the stream's dynamic pressure, or a list [[velocity ratio, recovery], …]; left out: by published tests; a pitot tube in the lip plane").within(Range::between(0.0, 1.05)).also(&["pressure_recovery", "ram_recovery", "ram", "efficiency"]);
/// What is added to the published recovery.
pub const RECOVERY_SHIFT: Key = Key::default(
    "recovery_shift",
    Kind::Ratio,
    (0.0, -0.1, 0.1),
    Range::between(-0.3, 0.3),
    "the published curves are remembered to 0.1 (from memory: NACA ACR 5I20, RM A7I30)",
    "added to the published recovery; a pitot tube in the lip plane against one in the stream",
)
.rules(&[Rule::ReplacedBy(&["recovery"]), Rule::OneOf(&["recovery", "recovery_shift"])]);
/// Loss coefficient of the lip where the air is drawn faster than the stream.
pub const ENTRY_LOSS: Key = Key::default(
    "entry_loss",
    Kind::Ratio,
    (0.5, 0.3, 1.0),
    Range::between(0.0, 1.5),
    "drawn faster than the stream its lip is no better than a sharp hole, 0.5 (0.3 to 1, from memory)",
    "loss coefficient of the air's excess speed over the stream, on the lip plane; a blower and a U-tube with the car standing",
)
.also(&["k", "zeta", "loss", "loss_coefficient"]);
pub const RAMP_ANGLE: Key = Key::default(
    "ramp_angle",
    Kind::Angle,
    (SEVEN, SEVEN, SEVEN),
    Range::between(5.0 * DEGREE, 10.0 * DEGREE),
    "7 degrees, the angle of the published tests",
    "angle of the ramp to the surface",
)
.rules(&[Rule::Told(&Rule::AtLeastOne(&["boundary_layer", "place"]), &NO_LAYER)]);
/// Nothing of the skin's slow air.
const NO_LAYER: RuleWords = RuleWords::new(
    "layer-missing",
    "{table} lies in the skin's slow air, and boundary_layer is not given, here or by its place",
    r#"give boundary_layer = { run = "1.2 m" }: how far the air has run along the skin before it"#,
);
/// The skin's boundary layer before the ramp; a place may give it with a gap, which means nothing here.
pub const BOUNDARY_LAYER: Key = Key::open(
    "boundary_layer",
    ValueShape::Table(&[RUN]),
    "the slow air of the skin before the ramp: { run }; here or by the place",
);
const DEGREE: f64 = std::f64::consts::PI / 180.0;
const SEVEN: f64 = 7.0 * DEGREE;

/// A submerged inlet.
pub const KIND: ElementKind = ElementKind {
    name: "flush-inlet",
    also: &["submerged", "submerged-inlet", "naca", "naca-duct", "naca-inlet", "ramp"],
    sign: None,
    push: Push::Ram,
    role: Role::Inlet,
    chain: AreaContinuity::Joined,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        WIDTH,
        HEIGHT,
        COUNT,
        RECOVERY,
        RECOVERY_SHIFT,
        ENTRY_LOSS,
        RAMP_ANGLE,
        BOUNDARY_LAYER,
        RECIRCULATION,
        PLACE,
        RAMP_OUTLINE,
    ],
    summary: "A submerged inlet: a ramp with divergent walls down to a lip. Push q × recovery; recovery by published tests against the velocity ratio Vi/V in the lip plane (held below 0.3) and the skin layer's thickness over the lip's height, or as written. Drawn faster than the stream it loses K ½ρ (Vi − V)² at its lip, so that at rest it is no better than a sharp hole; in reverse the push of rest.",
    range: "Ramp about 7°, lip 3 to 5 times as wide as high, layer no thicker than the lip is high, velocity ratio 0.3 to 1.",
    source: "NACA ACR 5I20 (1945) and RM A7I30 (1948): abstracts read, figures from memory",
    example: r#"{ kind = "flush-inlet", width = "160 mm", height = "40 mm", boundary_layer = { run = "1.2 m" } }"#,
    further_examples: &[
        r#"{ kind = "flush-inlet", width = "160 mm", height = "40 mm", recovery = 0.7, boundary_layer = { run = "1.2 m" } }"#,
        r#"{ kind = "flush-inlet", width = "160 mm", height = "40 mm", recovery = [[0.3, 0.84], [0.6, 0.8], [1.0, 0.7]], boundary_layer = { run = "1.2 m" } }"#,
    ],
    sides: Some(Sides { taped_from: TapedFrom::Lip, faces: SkinFace::Top, lies: OpeningLies::Sunk }),
    words: include_str!("flush_inlet.md"),
    figures: &[("", figure)],
    checks: &[check],
    build,
};

/// What no rule between its keys can tell: whether its place gives a layer, or a recovery too, and how many points there are.
fn check(written: &mut WrittenElement) {
    let element = written.values();
    let has_layer = element.has(&BOUNDARY_LAYER) || element.written(&BOUNDARY_LAYER);
    if element.written(&PLACE) && !has_layer {
        written.fault_in_words(&NO_LAYER, element.place.clone());
    }
    let points = match element.slot(&RECOVERY) {
        Slot::Pairs(points) => points.len(),
        _ => 2,
    };
    if points < 2 && written.sound(element, &RECOVERY) {
        written.fault(
            "recovery-points",
            format!("{}: a recovery over the velocity ratio needs two points or more", element.address),
            element.place_of(&RECOVERY),
            "write recovery = [[0.3, 0.75], [0.6, 0.8], [1.0, 0.7]], or one number for all flows",
        );
    }
    let shift = &RECOVERY_SHIFT;
    let recovery = &RECOVERY;
    // both in one table is a fault of the table
    if element.written(shift) && element.has(recovery) && !element.written(recovery) {
        written.fault(
            "recovery-at-place",
            format!(
                "{}: recovery_shift moves the published recovery, and its place gives another",
                element.address
            ),
            element.place_of(shift),
            "take it out, or take recovery out of the place",
        );
    }
}

/// How the recovery is known.
#[derive(Clone, Debug, PartialEq)]
enum Recovery {
    /// One number.
    Written(f64),
    /// A curve over the velocity ratio.
    Curve(Vec<(f64, f64)>),
    /// By published tests, and what is added.
    Published(f64),
}

/// Law of a submerged inlet.
#[derive(Clone, Debug)]
pub struct FlushInlet {
    width: f64,
    height: f64,
    ramp_angle: f64,
    pieces: f64,
    run: f64,
    recovery: Recovery,
    entry: f64,
    lip: Lip,
    dynamic_pressure: f64,
    local_speed: f64,
    layer_over_height: f64,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let (width, height) = (view.required(&WIDTH), view.required(&HEIGHT));
    // the case reader has made sure that it is there
    let layer = view.table(&BOUNDARY_LAYER)?;
    let points = view.pairs(&RECOVERY);
    let recovery = match (view.number(&RECOVERY), points.is_empty()) {
        (Some(number), _) => Recovery::Written(number),
        (None, false) => Recovery::Curve(points),
        (None, true) => Recovery::Published(view.required(&RECOVERY_SHIFT)),
    };
    let angle = view.required(&RAMP_ANGLE);
    if (angle - SEVEN).abs() > DEGREE * 1.001 {
        context.warn(
            "flush-ramp",
            Some(&RAMP_ANGLE), || (format!(
                "the ramp stands at {:.1}°; the published inlets have 7°, steeper ones part from their ramp",
                angle / DEGREE
            ), format!(
                "make the ramp {:.0} mm long, which is 7° down to {:.0} mm",
                1e3 * flush_inlet::ramp_length(height, SEVEN),
                1e3 * height
            )));
    }
    let slenderness = width / height;
    if !(2.999..=5.001).contains(&slenderness) {
        context.warn(
            "flush-proportions",
            Some(&HEIGHT), || (format!("the lip is {slenderness:.1} times as wide as high; 3 to 5 is what the published recovery holds for (from memory)"), "change its proportions, or give a recovery that was measured".into()));
    }
    Some(Law::FlushInlet(FlushInlet {
        width,
        height,
        ramp_angle: angle,
        pieces: context.pieces,
        run: layer.required(&RUN),
        recovery,
        entry: view.required(&ENTRY_LOSS),
        lip: Lip::new(0.0, width * height * context.pieces, 0.0, 0.0),
        dynamic_pressure: 0.0,
        local_speed: 0.0,
        layer_over_height: 0.0,
    }))
}

/// Half of the plan of the ramp of a submerged inlet as its table has it: distance ahead of the lip and half-width there (m); none
/// of another kind of element.
pub fn plan(view: &View) -> Option<Vec<(f64, f64)>> {
    let angle = view.number(&RAMP_ANGLE)?;
    Some(flush_inlet::outline(view.number(&WIDTH)?, view.number(&HEIGHT)?, angle))
}

impl FlushInlet {
    /// Thickness of the skin's layer before it (m) in a moment, with the Reynolds number on its run; none at rest.
    pub fn layer(&self, free_stream: &FreeStream) -> Option<(f64, f64)> {
        let reynolds = free_stream.air.density() * free_stream.local_speed * self.run / free_stream.viscosity;
        (reynolds > 0.0).then(|| (boundary_layer::thickness(self.run, reynolds), reynolds))
    }

    /// Distance that the air has run along the skin (m).
    pub fn run(&self) -> f64 {
        self.run
    }

    /// Width of the lip (m).
    pub fn width(&self) -> f64 {
        self.width
    }

    /// Height of the lip (m).
    pub fn height(&self) -> f64 {
        self.height
    }

    /// Whether its recovery is that of published tests.
    pub fn is_published(&self) -> bool {
        matches!(self.recovery, Recovery::Published(_))
    }

    /// Half of the plan of its ramp: distance ahead of the lip and half-width there (m).
    pub fn outline(&self) -> Vec<(f64, f64)> {
        flush_inlet::outline(self.width, self.height, self.ramp_angle)
    }

    /// Velocity ratio above which the recovery does not change any more.
    pub fn changes_up_to(&self) -> f64 {
        match &self.recovery {
            Recovery::Written(_) => 0.0,
            Recovery::Curve(points) => points.last().map_or(0.0, |point| point.0),
            Recovery::Published(_) => 1.0,
        }
    }

    /// Recovery, with its slope by the velocity ratio, at the moment prepared for.
    pub fn recovery(&self, velocity_ratio: f64) -> (f64, f64) {
        match &self.recovery {
            Recovery::Written(number) => (*number, 0.0),
            Recovery::Curve(points) => flush_inlet::along(points, velocity_ratio),
            Recovery::Published(shift) => {
                let (recovery, slope) = flush_inlet::recovery(velocity_ratio, self.layer_over_height);
                (recovery + shift, slope)
            }
        }
    }
}

impl ElementLaw for FlushInlet {
    fn prepare(&mut self, free_stream: &FreeStream, taped: f64) {
        self.dynamic_pressure = free_stream.dynamic_pressure;
        self.local_speed = free_stream.local_speed;
        self.layer_over_height =
            self.layer(free_stream).map_or(0.0, |(thickness, _)| thickness / self.height);
        self.lip =
            Lip::new(self.entry, self.width * self.height * self.pieces, taped, free_stream.local_speed);
    }

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        let volume = stream.volume_per_kelvin * temperature;
        let q = self.dynamic_pressure;
        if stream.forward && self.local_speed > 0.0 {
            let per_flow = volume / (self.lip.open_area * self.local_speed);
            let ratio = stream.flow * per_flow;
            let (recovery, slope) = self.recovery(ratio);
            response.push = q * recovery;
            response.rise_by_flow = q * slope * per_flow;
            response.rise_by_temperature = q * slope * ratio / temperature;
        } else {
            response.push = q * self.recovery(0.0).0;
        }
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
    let of = |name: &str, layer: f64, shift: f64| {
        curve(name, (0.0, 1.2), move |ratio| flush_inlet::recovery(ratio, layer).0 + shift)
    };
    Some(chart(
        "A flush inlet: recovery by velocity ratio and skin layer",
        axis("speed in the lip plane over that of the stream", ""),
        axis("recovery", ""),
        vec![
            of("thin layer, +0.1", 0.0, 0.1),
            of("thin layer", 0.0, 0.0),
            of("thin layer, −0.1", 0.0, -0.1),
            of("layer as thick as the lip is high", 1.0, 0.0),
            of("that, −0.1", 1.0, -0.1),
        ],
        "From memory; the band of 0.1 is recovery_shift. Held below 0.3 and above 1.",
    ))
}
