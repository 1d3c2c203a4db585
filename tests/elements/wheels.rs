//! Fans by their wheel: through the measured point, with the laws of fans, and the same as the curve they stand for.

use super::stream;
use slowcorner::case::load;
use slowcorner::element::{ElementLaw, Law, Response};
use slowcorner::point::Model;

/// What a fan in front of the bay does at a volume flow (m³/s), air of 300 K.
fn at(fan: &str, flow: f64) -> (Response, f64) {
    let text = format!(
        r#"format = 1
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "12 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
bay = "10 %"
[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{{ kind = "ram-inlet", area = "400 cm2" }}, {{ kind = "fan", {fan} }}]
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{{ kind = "exit", area = "200 cm2" }}]
"#
    );
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let Law::Fan(mut law) = model.network.laws[1].clone() else { panic!("no fan") };
    law.prepare(&super::moment(0.0), 0.0);
    let density = 1.0 / (stream(1.0).volume_per_kelvin * 300.0);
    (law.respond(&stream(flow * density), 300.0, 0.0), density)
}

fn near(what: &str, value: f64, wanted: f64, share: f64) {
    assert!((value / wanted - 1.0).abs() < share, "{what}: {value}, not {wanted}");
}

#[test]
fn the_curve_passes_through_the_measured_point() {
    for wheel in ["axial", "backward-curved", "radial", "forward-curved"] {
        let fan = |speed: f64| {
            format!(
                r#"wheel = "{wheel}", diameter = "230 mm", speed = "{speed} rpm", measured = {{ flow = "0.31 m3/s", pressure = "220 Pa", speed = "2900 rpm", density = "1.15 kg/m3" }}"#
            )
        };
        let (response, density) = at(&fan(2900.0), 0.31);
        near("point", response.push, 220.0 * density / 1.15, 1e-9);
        // half as fast again: flow · 1.5, pressure · 1.5², power · 1.5³
        let (faster, _) = at(&fan(4350.0), 0.465);
        near("faster", faster.push, 2.25 * response.push, 1e-9);
        near("power", faster.air_power, 3.375 * response.air_power, 1e-5);
    }
}

#[test]
fn a_measured_static_pressure_gains_the_head_of_the_outlet() {
    let fan = r#"wheel = "axial", diameter = "230 mm", speed = "2900 rpm", curve_is = "static", measured = { flow = "0.31 m3/s", pressure = "60 Pa", speed = "2900 rpm" }"#;
    let (response, density) = at(fan, 0.31);
    // by hand: 0.31/0.041548 m² = 7.4613 m/s; 60 + 0.6 · 55.67 = 93.40 Pa at 1.2 kg/m³
    near("total", response.push, 93.403 * density / 1.2, 1e-4);
}

#[test]
fn a_wheel_is_the_curve_that_its_coefficients_say() {
    // beyond the end a usual curve goes on as a standing wheel of ten heads does
    // 250 mm at 3000 rpm, by hand: U 39.2699 m/s, ½ · 1.2 · U² = 925.275 Pa, U π D²/4 = 1.927657 m³/s
    let points: Vec<String> = [(0.0, 0.28), (0.08, 0.25), (0.16, 0.19), (0.24, 0.10), (0.30, 0.0)]
        .iter()
        .map(|(phi, psi)| format!(r#"["{:.9} m3/s", "{:.6} Pa"]"#, phi * 1.927_657, psi * 925.275))
        .collect();
    let drawn = format!(
        r#"reference_speed = "3000 rpm", speed = "4000 rpm", diameter = "250 mm", off_loss = 10, curve = [{}]"#,
        points.join(", ")
    );
    for flow in [0.0, 0.2, 0.5, 0.7, 1.1] {
        let wheel = at(r#"wheel = "axial", diameter = "250 mm", speed = "4000 rpm""#, flow).0;
        let curve = at(&drawn, flow).0;
        assert!((wheel.push - curve.push).abs() < 0.01, "{flow}: {} and {}", wheel.push, curve.push);
    }
    // factors stretch it along both axes
    let (half, _) = at(
        r#"wheel = "axial", diameter = "250 mm", speed = "4000 rpm", head_factor = 0.5, flow_factor = 2"#,
        0.4,
    );
    let (whole, _) = at(r#"wheel = "axial", diameter = "250 mm", speed = "4000 rpm""#, 0.2);
    near("factors", half.push, 0.5 * whole.push, 1e-9);
}
