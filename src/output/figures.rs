//! Figures of the elements whose law is a curve, drawn from the laws themselves over their range.

use super::charts::{Axis, Curve, LineChart, Panel};
use crate::correlations::finned_cylinder::Cylinder;
use crate::correlations::{
    LossCoefficient, area_change, bends, boundary_layer, discharge, effectiveness, flush_inlet, friction,
    screens, tees, wheels,
};
use crate::element::fins;
use crate::keys::{Need, kind::short_number};
use crate::numerics::monotone_cubic::MonotoneCubic;

/// Points of a curve.
const POINTS: u32 = 120;
/// Darcy friction factor of a smooth duct of a car, for figures of K with wall friction in it.
const FRICTION: f64 = 0.025;

/// The figure of a kind of element; none where its law is one number, or a square.
pub fn of(kind: &str) -> Option<LineChart> {
    match kind {
        "ram-inlet" => Some(ram_inlet()),
        "flush-inlet" => Some(flush()),
        "exit" => Some(exit()),
        "tee" => Some(tee()),
        "duct" => Some(duct()),
        "bend" => Some(bend()),
        "diffuser" => Some(cone("A diffuser", area_change::conical_diffuser)),
        "contraction" => Some(cone("A contraction", area_change::conical_contraction)),
        "step" => Some(step()),
        "screen" => Some(screen()),
        "fan" => fan(),
        "fins" => Some(fins_in_air()),
        "core" => Some(core()),
        _ => None,
    }
}

/// Further figures of a kind of element, each with what its name adds to the kind's.
pub fn further(kind: &str) -> Vec<(&'static str, LineChart)> {
    match kind {
        "fan" => vec![("wheels", wheels_usual())],
        _ => Vec::new(),
    }
}

fn curve(name: impl Into<String>, (low, high): (f64, f64), law: impl Fn(f64) -> f64) -> Curve {
    let points = (0..=POINTS).map(|i| {
        let x = low + (high - low) * f64::from(i) / f64::from(POINTS);
        (x, Some(law(x)))
    });
    Curve { name: name.into(), points: points.collect(), emphasis: false }
}

fn axis(label: &str, unit_note: &str) -> Axis {
    Axis { label: label.into(), unit_note: unit_note.into(), range: None }
}

fn chart(title: &str, x: Axis, y: Axis, curves: Vec<Curve>, note: &str) -> LineChart {
    LineChart {
        title: title.into(),
        x,
        panels: vec![Panel { y, curves, ..Panel::default() }],
        footnotes: vec![note.into()],
        size: Some((720.0, 420.0)),
        ..LineChart::default()
    }
}

fn flush() -> LineChart {
    let of = |name: &str, layer: f64, shift: f64| {
        curve(name, (0.0, 1.2), move |ratio| flush_inlet::recovery(ratio, layer).0 + shift)
    };
    chart(
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
    )
}

fn exit() -> LineChart {
    let of = |thickness: f64| {
        let name = format!("wall {} diameters thick", short_number(thickness));
        curve(name, (0.0, 0.5), move |radius| discharge::by_edge(radius, thickness))
    };
    chart(
        "An exit: discharge coefficient by edge and wall",
        axis("edge radius over hydraulic diameter", ""),
        axis("discharge coefficient", ""),
        vec![of(0.0), of(0.5), of(1.0), of(2.0)],
        "Sharp edge in a thin wall 0.62, short tube 0.82.",
    )
}

fn tee() -> LineChart {
    let angle = std::f64::consts::FRAC_PI_4;
    let ratio = 0.5;
    let along = (0.0, 1.0);
    chart(
        "A tee at 45°, side leg half as wide: K by share",
        axis("flow of the side leg over the combined flow", ""),
        axis("K of the combined leg's velocity head", ""),
        vec![
            curve("side leg, joining", along, move |q| tees::side_joining(q, ratio, angle)),
            curve("straight leg, joining", along, move |q| tees::straight_joining(q, ratio, angle)),
            curve("side leg, splitting", along, move |q| tees::side_splitting(q, ratio, angle)),
            curve("straight leg, splitting", along, move |q| tees::straight_splitting(q, ratio)),
        ],
        "Below nought one leg draws the other along, which pays for it.",
    )
}

fn ram_inlet() -> LineChart {
    let of_height = |height: f64| {
        let name = format!("height {} of the layer", short_number(height));
        curve(name, (0.0, 1.5), move |gap| 100.0 * boundary_layer::dynamic_pressure_share(gap, height))
    };
    chart(
        "What the skin's slow air leaves of the dynamic pressure",
        axis("Gap between skin and opening", "in thicknesses of the layer"),
        axis("Share left", "%"),
        [0.25, 1.0, 3.0].map(of_height).into(),
        "At 100 km/h the layer is about 28 mm thick 1.5 m behind the nose.",
    )
}

fn duct() -> LineChart {
    let of_roughness = |roughness: f64| {
        let name = format!("roughness {} % of D", short_number(100.0 * roughness));
        curve(name, (2.5, 6.0), move |log| friction::churchill(10_f64.powf(log), roughness).0)
    };
    chart(
        "Friction factor of a duct",
        axis("Reynolds number", "as a power of ten"),
        axis("Darcy friction factor f", "K = f L/D"),
        [0.0, 0.005, 0.05].map(of_roughness).into(),
        "100 mm of duct at 10 m/s: about 67 000, a power of 4.8.",
    )
}

fn bend() -> LineChart {
    let of_angle = |degrees: f64| {
        let name = format!("{}°", short_number(degrees));
        curve(name, (0.5, 5.0), move |radius| bends::rounded(degrees.to_radians(), radius).at(FRICTION))
    };
    chart(
        "Loss of a rounded bend",
        axis("Radius of the centre line", "over the diameter"),
        axis("K", "on the bend's area"),
        [90.0, 60.0, 30.0].map(of_angle).into(),
        &format!(
            "Own wall friction included, f = {FRICTION}. A mitred knee of 90°: K = {:.1}.",
            bends::mitred(std::f64::consts::FRAC_PI_2).at(FRICTION)
        ),
    )
}

fn cone(what: &str, law: fn(f64, f64) -> LossCoefficient) -> LineChart {
    let of_ratio = |ratio: f64| {
        let name = format!("{} times the area", short_number(ratio));
        curve(name, (2.0, 180.0), move |angle| law((1.0 / ratio).sqrt(), angle.to_radians()).at(FRICTION))
    };
    chart(
        &format!("{what} by its included angle"),
        axis("Included angle", "°"),
        axis("K", "on the smaller area"),
        [4.0, 2.0, 1.3].map(of_ratio).into(),
        &format!(
            "Wall friction included, f = {FRICTION}; a duct behind it. Small jumps at 20° and 60° are the formula's own."
        ),
    )
}

fn step() -> LineChart {
    let sharp = |ratio: f64| area_change::sharp_contraction(ratio.sqrt());
    chart(
        "A sudden change of area",
        axis("Smaller area over larger", ""),
        axis("K", "on the smaller area"),
        vec![
            curve("widens", (0.0, 1.0), area_change::sudden_enlargement),
            curve("narrows, sharp edge", (0.0, 1.0), sharp),
        ],
        "0 stands for a chamber.",
    )
}

fn screen() -> LineChart {
    chart(
        "Screens",
        axis("Open fraction", "%"),
        axis("K", "on the gross area"),
        vec![
            curve("plate with holes", (30.0, 98.0), |open| screens::perforated_plate(0.01 * open)),
            curve("woven wire", (30.0, 98.0), |open| screens::woven(0.01 * open)),
        ],
        "Dirt and grass take away from the open fraction.",
    )
}

/// The fan of an example, at three speeds.
fn fan() -> Option<LineChart> {
    let points = [(0.0, 1390.0), (0.16, 1210.0), (0.3, 760.0), (0.42, 0.0)];
    let law = MonotoneCubic::new(&points)?;
    let of_speed = |ratio: f64| {
        let law = law.clone();
        curve(format!("{:.0} % of its speed", 100.0 * ratio), (0.0, 0.42 * ratio), move |flow| {
            ratio * ratio * law.value_and_slope(flow / ratio).0
        })
    };
    Some(chart(
        "One curve carried to other speeds",
        axis("Volume flow", "m³/s"),
        axis("Rise of total pressure", "Pa"),
        [1.2, 1.0, 0.7].map(of_speed).into(),
        "An invented fan. Half the speed: half the flow, a quarter of the pressure.",
    ))
}

/// The usual curves of wheels, each with its band.
fn wheels_usual() -> LineChart {
    let of = |wheel: &wheels::Wheel, (head, flow): (f64, f64), name: &str| {
        let end = wheel.points.last().map_or(0.0, |last| last.0) * flow;
        let points: Vec<(f64, f64)> =
            wheel.points.iter().map(|(phi, psi)| (phi * flow, psi * head)).collect();
        let law = MonotoneCubic::new(&points);
        let psi = move |phi: f64| law.as_ref().map_or(f64::NAN, |law| law.value_and_slope(phi).0);
        curve(name, (0.0, end), psi)
    };
    let panel = |name: &str| {
        let wheel = wheels::wheel(name)?;
        Some(Panel {
            y: axis(name, "ψ"),
            curves: vec![
                of(wheel, (wheels::HEAD_BAND.1, wheels::FLOW_BAND.1), "high"),
                Curve { emphasis: true, ..of(wheel, (1.0, 1.0), "usual") },
                of(wheel, (wheels::HEAD_BAND.0, wheels::FLOW_BAND.0), "low"),
            ],
            ..Panel::default()
        })
    };
    LineChart {
        size: Some((720.0, 980.0)),
        panels: wheels::WHEELS.iter().filter_map(|wheel| panel(wheel.word)).collect(),
        ..chart(
            "Usual curves of wheels, with their bands",
            axis("Flow over that of the tips, φ = Q/(U π D²/4)", ""),
            axis("", ""),
            Vec::new(),
            "ψ = Δp/(½ρU²), rise of total pressure. Usual small wheels, from memory; band: head_factor and flow_factor.",
        )
    }
}

fn assumed(key: &crate::keys::Key) -> f64 {
    match key.need {
        Need::Default(assumed) => assumed.value,
        _ => 1.0,
    }
}

/// The fins of an example.
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

fn fins_in_air() -> LineChart {
    let (n, x) = (assumed(&fins::CONDUCTANCE_EXPONENT), assumed(&fins::PRESSURE_EXPONENT));
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
    LineChart {
        size: Some((720.0, 800.0)),
        panels: vec![
            Panel {
                y: axis("Heat at one difference", "% of reference"),
                curves: vec![curve("heat carried", (0.1, 2.0), heat)],
                ..Panel::default()
            },
            Panel {
                y: axis("Pressure drop", "% of reference"),
                curves: vec![curve("pressure drop", (0.1, 2.0), move |flow| 100.0 * flow.powf(x))],
                ..Panel::default()
            },
            Panel {
                y: axis("Surface, from geometry", "W/(m² K)"),
                curves: vec![
                    curve("with a baffle", (0.1, 2.0), coefficient(true)),
                    curve("without", (0.1, 2.0), coefficient(false)),
                ],
                ..Panel::default()
            },
            Panel {
                y: axis("Efficiency of a fin", "%"),
                curves: vec![curve("with a baffle", (0.1, 2.0), efficiency)],
                ..Panel::default()
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
    }
}

fn core() -> LineChart {
    let of_ratio = |ratio: f64| {
        let name = format!("capacities as {} to 1", short_number(ratio));
        curve(name, (0.0, 5.0), move |ntu| 100.0 * effectiveness::cross_flow_value(ntu, ratio))
    };
    chart(
        "A core in cross-flow",
        axis("Conductance over the smaller capacity", "transfer units"),
        axis("Share of the greatest heat", "%"),
        [0.25, 0.5, 1.0].map(of_ratio).into(),
        "The capacity is flow times specific heat; the smaller one, of oil or of air, decides.",
    )
}
