//! Every kind of element keeps the same promises: the test walks the list of kinds.

mod alike;
mod by_hand;
mod faults;
mod found;
mod single;
mod tape;
mod tees;
mod wheels;

use slowcorner::air::Air;
use slowcorner::case::load;
use slowcorner::element::{ElementKind, ElementLaw, FreeStream, KINDS, Law, PassageStream, Role};
use slowcorner::keys::{Need, ValueShape};
use slowcorner::point::Model;

/// A kind of element in one of the forms that its table allows.
#[derive(Clone, Copy)]
struct Form {
    kind: &'static ElementKind,
    example: &'static str,
    name: &'static str,
}

/// Every form of every kind.
fn forms() -> impl Iterator<Item = Form> {
    KINDS.iter().flat_map(|kind| {
        let examples = std::iter::once(&kind.example).chain(kind.further_examples);
        examples.map(|example| Form { kind, example, name: kind.name })
    })
}

/// A car around one element: what stands before and behind it gives it what it needs.
fn car(form: Form) -> String {
    let duct = r#"{ kind = "loss", area = "60 cm2", k = 0.5 }"#;
    let inlet = r#"{ kind = "ram-inlet", area = "60 cm2", recovery = 0.9 }"#;
    let exit = r#"{ kind = "exit", area = "200 cm2" }"#;
    // a leg of a tee has the two others beside it
    let (way_in, way_out) = match form.name {
        "tee" if form.example.contains("combined") => ("straight", "side"),
        "tee" if form.example.contains("side") => ("straight", "combined"),
        "tee" => ("side", "combined"),
        _ => ("", ""),
    };
    let leg = |leg: &str| match leg {
        "" => String::new(),
        leg => format!(
            "{{ kind = \"tee\", area = \"{} cm2\", leg = \"{leg}\" }}",
            if leg == "side" { 40 } else { 80 }
        ),
    };
    let (way_in, way_out) = (leg(way_in), leg(way_out));
    let way_in = if way_in.is_empty() { inlet.to_string() } else { format!("{inlet}, {way_in}") };
    let way_out = if way_out.is_empty() { exit.to_string() } else { format!("{way_out}, {exit}") };
    let (from, to, chain) = match form.kind.role {
        Role::Inlet => ("outside", "bay", vec![form.example, duct]),
        Role::Exit => ("bay", "outside", vec![form.example]),
        Role::Leak => ("bay", "outside", vec![form.example]),
        Role::Demand => ("outside", "engine", vec![inlet, form.example]),
        Role::Middle => ("outside", "bay", vec![inlet, form.example]),
    };
    format!(
        r#"format = 1
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "12 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
heads = "10 %"
oil = "5 %"
[part.heads]
limit = "200 degC"
bay_conductance = "3 W/K"
[part.oil]
limit = "120 degC"
bay_conductance = "3 W/K"
[[passage]]
name = "under test"
from = "{from}"
to = "{to}"
element = [{}]
[[passage]]
name = "way in"
from = "outside"
to = "bay"
element = [{way_in}]
[[passage]]
name = "way out"
from = "bay"
to = "outside"
element = [{way_out}]
[[condition]]
name = "any"
speed = "80 km/h"
rpm = "4000 rpm"
"#,
        chain.join(", ")
    )
}

fn moment(speed: f64) -> FreeStream {
    FreeStream::new(Air::new(98_000.0, 300.0, 2.0, 0.4), speed, 0.0, 1.0, 4000.0)
}

/// The law of a form's example, prepared for a road speed.
fn law(form: Form, speed: f64) -> Law {
    let loaded = load(&car(form), &[]).unwrap_or_else(|faults| panic!("{}: {faults:?}", form.example));
    let model = Model::new(&loaded.case).unwrap_or_else(|faults| panic!("{}: {faults:?}", form.example));
    let index = usize::from(matches!(form.kind.role, Role::Middle | Role::Demand));
    let mut law = model.network.laws[index].clone();
    law.prepare(&moment(speed), 0.0);
    law
}

fn stream(flow: f64) -> PassageStream {
    let moment = moment(0.0);
    PassageStream::new(flow, 1e-6, moment.volume_per_kelvin, moment.air.heat_capacity)
}

#[test]
fn tables_are_complete() {
    assert!(KINDS.len() >= 15 && forms().count() >= KINDS.len() + 4);
    for kind in KINDS {
        assert!(kind.source.len() > 10, "{} names no source", kind.name);
        assert!(kind.range.len() > 10 && kind.summary.len() > 30, "{} is not described", kind.name);
        for key in kind.keys {
            assert!(key.help.len() > 3, "{}/{} has no help", kind.name, key.name);
            if let Need::Default(assumed) = key.need {
                assert!(
                    !assumed.source.is_empty(),
                    "{}/{} has a default without a source",
                    kind.name,
                    key.name
                );
                assert!(
                    assumed.low <= assumed.value && assumed.value <= assumed.high,
                    "{}/{}: the default lies outside its band",
                    kind.name,
                    key.name
                );
                assert!(key.range.accepts(assumed.value), "{}/{}: default refused", kind.name, key.name);
            }
            let once = kind.keys.iter().filter(|other| other.name == key.name).count();
            assert_eq!(once, 1, "{}/{} stands {once} times", kind.name, key.name);
            assert!(!matches!(key.shape, ValueShape::Elements));
        }
    }
}

#[test]
fn examples_read_and_become_laws() {
    for kind in forms() {
        law(kind, 20.0);
    }
}

#[test]
fn passive_elements_cost_nothing_at_rest() {
    for kind in forms() {
        let response = law(kind, 0.0).respond(&stream(0.0), 300.0, 400.0);
        assert_eq!(response.drop, 0.0, "{} has a drop without flow", kind.name);
        if kind.name != "fan" {
            assert_eq!(response.push, 0.0, "{} pushes at rest", kind.name);
        }
    }
}

#[test]
fn drops_rise_with_flow_and_turn_with_it() {
    for kind in forms().filter(|kind| kind.name != "fan") {
        for speed in [0.0, 25.0] {
            let law = law(kind, speed);
            let mut before = f64::NEG_INFINITY;
            for i in -40..=40 {
                let flow = f64::from(i) * 0.01;
                let response = law.respond(&stream(flow), 300.0, 400.0);
                assert!(response.drop >= before - 1e-12, "{} falls at {flow}", kind.name);
                assert!(response.drop * flow >= 0.0, "{} helps the air along at {flow}", kind.name);
                before = response.drop;
            }
        }
    }
}

#[test]
fn slopes_are_finite_differences() {
    for kind in forms() {
        for speed in [0.0, 25.0] {
            let law = law(kind, speed);
            for flow in [-0.3, -0.02, -2e-6, -3e-7, 4e-7, 1e-5, 0.004, 0.11, 0.5] {
                let (temperature, part) = (310.0, 420.0);
                let at = |flow: f64, t: f64, p: f64| law.respond(&stream(flow), t, p);
                let here = at(flow, temperature, part);
                let rise = |r: &slowcorner::element::Response| r.push - r.drop;
                let check = |what: &str, slope: f64, up: f64, down: f64, step: f64, size: f64| {
                    let difference = (up - down) / (2.0 * step);
                    let allowed = 2e-5 * (slope.abs() + difference.abs()) + 1e-9 * size / step + 1e-9;
                    assert!(
                        (slope - difference).abs() <= allowed,
                        "{} {what} at {flow} kg/s, {speed} m/s: {slope} against {difference}",
                        kind.name
                    );
                };
                let step = 1e-5 * flow.abs();
                let (up, down) = (at(flow + step, temperature, part), at(flow - step, temperature, part));
                let size = here.push.abs() + here.drop.abs() + 1e-6;
                check("rise by flow", here.rise_by_flow, rise(&up), rise(&down), step, size);
                check("outlet by flow", here.outlet_by_flow, up.outlet, down.outlet, step, here.outlet);
                let (up, down) = (at(flow, temperature + 0.01, part), at(flow, temperature - 0.01, part));
                check("rise by temperature", here.rise_by_temperature, rise(&up), rise(&down), 0.01, size);
                check("outlet by temperature", here.outlet_by_temperature, up.outlet, down.outlet, 0.01, 1.0);
                let (up, down) = (at(flow, temperature, part + 0.01), at(flow, temperature, part - 0.01));
                check("rise by part", here.rise_by_part, rise(&up), rise(&down), 0.01, size);
                check("outlet by part", here.outlet_by_part, up.outlet, down.outlet, 0.01, 1.0);
            }
        }
    }
}

#[test]
fn lumps_are_the_same_law() {
    let mut lumped = 0;
    for kind in forms() {
        let law = law(kind, 25.0);
        let Some(lump) = law.lump() else { continue };
        lumped += 1;
        for flow in [-0.2, 0.07] {
            let stream = stream(flow);
            let response = law.respond(&stream, 330.0, 0.0);
            let unit = if flow > 0.0 { lump.forward } else { lump.backward } * stream.volume_per_kelvin;
            let drop = unit * 330.0 * stream.square;
            assert!((drop - response.drop).abs() <= 1e-12 * drop.abs() + 1e-15, "{}", kind.name);
            assert_eq!(lump.push, response.push, "{}", kind.name);
        }
    }
    assert!(lumped >= 6, "hardly anything is a lump any more");
}

#[test]
fn everything_stays_finite() {
    for kind in forms() {
        let law = law(kind, 40.0);
        for flow in [-50.0, -1e-9, 0.0, 1e-12, 1e-3, 80.0] {
            for temperature in [200.0, 300.0, 1500.0] {
                let r = law.respond(&stream(flow), temperature, 500.0);
                let all = [
                    r.push,
                    r.drop,
                    r.rise_by_flow,
                    r.rise_by_temperature,
                    r.rise_by_part,
                    r.outlet,
                    r.outlet_by_flow,
                ];
                assert!(
                    all.iter().all(|x| x.is_finite()),
                    "{} at {flow} kg/s, {temperature} K: {r:?}",
                    kind.name
                );
            }
        }
        if let Some(area) = law.area() {
            assert!(area > 0.0 && area.is_finite() && law.pieces() >= 1.0);
        }
    }
    let _ = <slowcorner::element::demand::FixedFlow as ElementLaw>::area;
}
