//! A fan's curve from its wheel alone, or from its wheel and one measured point.

use super::ElementContext;
use super::figure::{ElementFigure, FigureCurve, FigurePanel, axis, chart, curve};
use super::size::DIAMETER;
use crate::correlations::wheels::{self, DIAMETERS, FLOW_BAND, HEAD_BAND, Tips, Wheel};
use crate::keys::{Key, Kind, Range, Rule, RuleWords, ValueShape, View};
use crate::numerics::monotone_cubic::MonotoneCubic;

/// Which pressure the curve gives.
pub const CURVE_IS: Key = Key::open(
    "curve_is",
    ValueShape::Word(&["total", "static"]),
    "whether the curve, or the measured point, gives the rise of total pressure (default) or of static pressure",
);
/// Shape of the wheel.
pub const WHEEL: Key = Key::open(
    "wheel",
    ValueShape::Word(&["axial", "backward-curved", "radial", "forward-curved"]),
    "shape of the wheel, instead of a curve: the usual curve of its kind is taken; axial: a propeller in a ring; the others \
     blow outwards: hold the wheel and look which way the blades' outer ends lean against the turning",
)
.rules(&[
    Rule::Told(&Rule::Without("reference_speed", &["wheel"]), &REFERENCE_IDLE),
    Rule::Told(&Rule::Without("reference_density", &["wheel"]), &REFERENCE_IDLE),
    Rule::Told(&Rule::Needs("measured", &["wheel"]), &NO_WHEEL),
    Rule::Told(&Rule::Needs("head_factor", &["wheel"]), &NO_WHEEL),
    Rule::Told(&Rule::Needs("flow_factor", &["wheel"]), &NO_WHEEL),
    Rule::Told(
        &Rule::NeedsOneOf("wheel", &["diameter", "wheel_diameter"]),
        &RuleWords::new(
            "fan-diameter-missing",
            "{table} gives its wheel and not its diameter, on which its usual curve stands",
            r#"give diameter = "230 mm", over the blade tips; or wheel_diameter where the outlet is not as wide"#,
        ),
    ),
]);
/// What belongs to a curve, beside a wheel.
const REFERENCE_IDLE: RuleWords = RuleWords::new(
    "fan-reference-idle",
    "{table}: {given} belongs to a curve, and a wheel stands in its place",
    "leave it out; the speed and density of a measured point stand in measured = { flow, pressure, speed, density }",
);
/// What stands on a wheel's usual curve, without a wheel.
const NO_WHEEL: RuleWords = RuleWords::new(
    "fan-wheel-missing",
    "{table}: {first given} stands on a wheel's usual curve, and no wheel is given",
    "put the measured point among those of the curve; or give wheel and diameter instead of the curve",
);
/// Diameter of the wheel over its blade tips.
pub const WHEEL_DIAMETER: Key = Key::optional(
    "wheel_diameter",
    Kind::Length,
    Range::above(0.0, 2.0),
    "diameter over the blade tips, where the outlet is not as wide; measure with callipers, fan standing",
);
const FLOW: Key = Key::required(
    "flow",
    Kind::VolumeFlow,
    Range::NOT_NEGATIVE,
    "volume flow there; from the speed over a known opening or a plate of known hole",
);
const PRESSURE: Key = Key::required(
    "pressure",
    Kind::Pressure,
    Range::above(0.0, 50_000.0),
    "pressure rise there, a U of water before and behind the fan",
);
const SPEED: Key = Key::required(
    "speed",
    Kind::RotationalSpeed,
    Range::above(0.0, 200_000.0),
    "fan speed then; a mark on the wheel and a strobe",
);
const DENSITY: Key = Key::default(
    "density",
    Kind::Density,
    (1.2, 1.1, 1.25),
    Range::between(0.3, 2.0),
    "air of a workshop, 1.2 kg/m3",
    "air density then; from the day's temperature and pressure",
);
/// A point that was measured.
pub const MEASURED: Key = Key::open(
    "measured",
    ValueShape::Table(&[FLOW, PRESSURE, SPEED, DENSITY]),
    "one measured point { flow, pressure, speed }: the wheel's usual curve grows or shrinks until it passes through it",
)
.rules(&[Rule::OneOf(&["measured", "head_factor"]), Rule::OneOf(&["measured", "flow_factor"]), Rule::Instead(&[&["measured"], &["head_factor", "flow_factor"]])]);
const FACTORS: &str = "usual curves of small wheels, as handbooks of fans draw them (from memory); fans of one kind differ by a third";
/// Factor on the pressure of the usual curve.
pub const HEAD_FACTOR: Key = Key::default(
    "head_factor",
    Kind::Ratio,
    (1.0, HEAD_BAND.0, HEAD_BAND.1),
    Range::between(0.2, 3.0),
    FACTORS,
    "factor on the pressure of the wheel's usual curve; measure one point instead, or close the outlet for a moment and read the U of water",
)
.rules(&[Rule::ReplacedBy(&["measured"]), Rule::OnlyWith("wheel")]);
/// Factor on the flow of the usual curve.
pub const FLOW_FACTOR: Key = Key::default(
    "flow_factor",
    Kind::Ratio,
    (1.0, FLOW_BAND.0, FLOW_BAND.1),
    Range::between(0.2, 3.0),
    FACTORS,
    "factor on the flow of the wheel's usual curve; measure one point instead, or the speed of the air with the outlet wide open",
)
.rules(&[Rule::ReplacedBy(&["measured"]), Rule::OnlyWith("wheel")]);

/// Speed (rev/min) at which a usual curve without a measured point is written down; any would do.
const WRITTEN_AT: f64 = 3000.0;
/// Density (kg/m³) at which it is written down.
const WRITTEN_DENSITY: f64 = 1.2;

/// A curve found from a wheel.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelCurve {
    /// Points of flow (m³/s) and rise of total pressure (Pa).
    pub points: Vec<(f64, f64)>,
    /// Fan speed of the points (rev/min).
    pub speed: f64,
    /// Density of the points (kg/m³).
    pub density: f64,
    /// Whether a measured point stands behind it.
    pub measured: bool,
}

/// Diameter of the wheel (m), where it is known.
pub fn diameter(view: &View) -> Option<f64> {
    view.number(&WHEEL_DIAMETER).or(view.number(&DIAMETER))
}

/// The curve of a wheel; none, with a fault, where its measured point needs an outlet that has no size.
pub fn found(
    context: &mut ElementContext,
    view: &View,
    wheel: &Wheel,
    is_static: bool,
) -> Option<WheelCurve> {
    // its absence has been faulted when the case was read
    let diameter = diameter(view)?;
    if !(DIAMETERS.0..=DIAMETERS.1).contains(&diameter) {
        let key = if view.values.has(&WHEEL_DIAMETER) { &WHEEL_DIAMETER } else { &DIAMETER };
        context.warn("fan-size-beyond-range", Some(key), || {
            (
                format!(
                    "the wheel is {:.0} mm wide; its usual curve stands for {:.0} to {:.0} mm",
                    1e3 * diameter,
                    1e3 * DIAMETERS.0,
                    1e3 * DIAMETERS.1
                ),
                "check the unit; if it is right, give a curve of its own, or a measured point".into(),
            )
        });
    }
    let Some(measured) = view.table(&MEASURED) else {
        let tips = Tips::new(diameter, WRITTEN_AT, WRITTEN_DENSITY);
        let points = tips.points(wheel, factor(view, &HEAD_FACTOR), factor(view, &FLOW_FACTOR));
        return Some(WheelCurve { points, speed: WRITTEN_AT, density: WRITTEN_DENSITY, measured: false });
    };
    let (flow, mut pressure) = (measured.required(&FLOW), measured.required(&PRESSURE));
    let (speed, density) = (measured.required(&SPEED), measured.required(&DENSITY));
    if is_static {
        let Some(area) = context.size.map(|size| size.area) else {
            context.fault(
                "fan-size-needed",
                Some(&CURVE_IS),
                "a measured static pressure needs the outlet's size".into(),
                r#"give diameter = "210 mm", or measure total pressure (a tube that faces the air)"#.into(),
            );
            return None;
        };
        pressure += 0.5 * density * (flow / area).powi(2);
    }
    let tips = Tips::new(diameter, speed, density);
    let usual = tips.points(wheel, 1.0, 1.0);
    let growth = wheels::growth(&usual, (flow, pressure))?;
    if let Some(side) = off_band(&tips, wheel, (flow, pressure)) {
        context.warn(
            "fan-point-off-band",
            Some(&MEASURED), || (format!(
                "the measured {flow:.3} m³/s at {pressure:.0} Pa and {speed:.0} rpm lie {side} what is usual for {} wheels of {:.0} mm: the curve is taken as that of one turning {growth:.2} times as fast",
                wheel.word,
                1e3 * diameter
            ), "check the units, the speed, the diameter and the shape of the wheel; if all are right, measure two points more and give the curve".into()));
    }
    let points = usual.iter().map(|(flow, rise)| (growth * flow, growth * growth * rise)).collect();
    Some(WheelCurve { points, speed, density, measured: true })
}

/// A factor of the usual curve; one where a what-if gave the wheel after the defaults were taken.
fn factor(view: &View, key: &Key) -> f64 {
    view.number(key).unwrap_or(1.0)
}

/// On which side of the usual band a point lies, if outside it.
fn off_band(tips: &Tips, wheel: &Wheel, (flow, pressure): (f64, f64)) -> Option<&'static str> {
    let reaches = |head: f64, share: f64| {
        let points = tips.points(wheel, head, share);
        let end = points.last().map_or(0.0, |last| last.0);
        let curve = MonotoneCubic::new(&points)?;
        Some(if flow > end { 0.0 } else { curve.value_and_slope(flow).0 })
    };
    if pressure > reaches(HEAD_BAND.1, FLOW_BAND.1)? {
        return Some("above");
    }
    (pressure < reaches(HEAD_BAND.0, FLOW_BAND.0)?).then_some("below")
}

/// The usual curves of wheels, each with its band.
pub(super) fn usual_curves() -> Option<ElementFigure> {
    let of = |wheel: &wheels::Wheel, (head, flow): (f64, f64), name: &str| {
        let end = wheel.points.last().map_or(0.0, |last| last.0) * flow;
        let points: Vec<(f64, f64)> =
            wheel.points.iter().map(|(phi, psi)| (phi * flow, psi * head)).collect();
        let law = MonotoneCubic::new(&points);
        let psi = move |phi: f64| law.as_ref().map_or(f64::NAN, |law| law.value_and_slope(phi).0);
        curve(name, (0.0, end), psi)
    };
    let panel = |name: &'static str| {
        let wheel = wheels::wheel(name)?;
        Some(FigurePanel {
            y: axis(name, "ψ"),
            curves: vec![
                of(wheel, (wheels::HEAD_BAND.1, wheels::FLOW_BAND.1), "high"),
                FigureCurve { emphasis: true, ..of(wheel, (1.0, 1.0), "usual") },
                of(wheel, (wheels::HEAD_BAND.0, wheels::FLOW_BAND.0), "low"),
            ],
        })
    };
    Some(ElementFigure {
        size: (720.0, 980.0),
        panels: wheels::WHEELS.iter().filter_map(|wheel| panel(wheel.word)).collect(),
        ..chart(
            "Usual curves of wheels, with their bands",
            axis("Flow over that of the tips, φ = Q/(U π D²/4)", ""),
            axis("", ""),
            Vec::new(),
            "ψ = Δp/(½ρU²), rise of total pressure. Usual small wheels, from memory; band: head_factor and flow_factor.",
        )
    })
}
