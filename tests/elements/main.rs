//! Every kind of element keeps the same promises: the test walks the list of kinds.

mod faults;
mod found;
mod tape;
mod wheels;

use slowcorner::air::Air;
use slowcorner::case::load;
use slowcorner::element::{ElementKind, ElementLaw, KINDS, Law, Moment, Role, Stream};
use slowcorner::keys::{Need, Shape};
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

fn moment(speed: f64) -> Moment {
    Moment::new(Air::new(98_000.0, 300.0, 2.0, 0.4), speed, 0.0, 1.0, 4000.0)
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

fn stream(flow: f64) -> Stream {
    let moment = moment(0.0);
    Stream::new(flow, 1e-6, moment.volume_per_kelvin, moment.air.heat_capacity)
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
            assert!(!matches!(key.shape, Shape::Elements));
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
    let _ = <slowcorner::element::demand::Demand as ElementLaw>::area;
}

/// The law of the last element of the passage under test, prepared for a road speed.
fn last_law(chain: &str, (from, to): (&str, &str), speed: f64) -> Law {
    let kind = KINDS.iter().find(|kind| kind.name == "exit").expect("exits are known");
    let text = car(Form { kind, example: kind.example, name: kind.name }).replace(
        &format!("from = \"bay\"\nto = \"outside\"\nelement = [{}]", kind.example),
        &format!("from = \"{from}\"\nto = \"{to}\"\nelement = [{chain}]"),
    );
    let loaded = load(&text, &[]).unwrap_or_else(|faults| panic!("{chain}: {faults:?}"));
    let model = Model::new(&loaded.case).unwrap_or_else(|faults| panic!("{chain}: {faults:?}"));
    let mut law = model.network.laws[model.network.passages[0].elements.end - 1].clone();
    law.prepare(&moment(speed), 0.0);
    law
}

/// Slopes with flow and temperature against differences.
fn assert_slopes(name: &str, law: &Law) {
    for flow in [0.004, 0.03, 0.11, 0.25, -0.05] {
        for temperature in [290.0, 360.0] {
            let at = |flow: f64, temperature: f64| {
                let response = law.respond(&stream(flow), temperature, 400.0);
                response.push - response.drop
            };
            let response = law.respond(&stream(flow), temperature, 400.0);
            let (step, warmer) = (1e-6 * f64::abs(flow), 1e-3);
            let by_flow = (at(flow + step, temperature) - at(flow - step, temperature)) / (2.0 * step);
            let by_temperature =
                (at(flow, temperature + warmer) - at(flow, temperature - warmer)) / (2.0 * warmer);
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-5 * a.abs().max(b.abs()).max(1e-3);
            assert!(
                near(response.rise_by_flow, by_flow),
                "{name} at {flow}: {} {by_flow}",
                response.rise_by_flow
            );
            assert!(near(response.rise_by_temperature, by_temperature), "{name} at {flow} by temperature");
        }
    }
}

#[test]
fn an_exit_in_cross_flow_loses_discharge_while_its_jet_is_slow() {
    let way_out = ("bay", "outside");
    let of = |loss: &str, speed| {
        last_law(
            &format!(
                "{{ kind = \"exit\", area = \"100 cm2\", discharge = 0.6, cross_flow_loss = \"{loss}\" }}"
            ),
            way_out,
            speed,
        )
    };
    let drop = |law: &Law, flow: f64| law.respond(&stream(flow), 300.0, 0.0).drop;
    let (plain, crossed, at_rest) = (of("0 %", 30.0), of("30 %", 30.0), of("30 %", 0.0));
    assert!(plain.lump().is_some() && crossed.lump().is_none() && at_rest.lump().is_some());
    // rho = p/(R T), 100 cm2, Cd 0.6: the jet runs with the stream at 30 m/s at this flow
    let even = 30.0 * 0.6 * 0.01 / moment(30.0).volume_per_kelvin / 300.0;
    for flow in [1.0001 * even, 2.0 * even, -0.5 * even] {
        assert_eq!(drop(&crossed, flow), drop(&plain, flow));
    }
    // half as fast: a quarter of the 30 % is lost; K + 1 = 1/(0.6 x 0.925)^2 against 1/0.6^2, on the same head
    let (whole, kept) = (1.0 / 0.36 - 1.0, 1.0 / (0.6_f64 * 0.925).powi(2) - 1.0);
    let half = 0.5 * even;
    assert!((drop(&crossed, half) / drop(&plain, half) - kept / whole).abs() < 1e-9);
    assert_eq!(drop(&at_rest, half), drop(&plain, half));
    assert_slopes("exit in cross-flow", &crossed);
    // never falls as the flow grows
    let drops: Vec<f64> = (1..400).map(|i| drop(&crossed, f64::from(i) * even / 200.0)).collect();
    assert!(drops.windows(2).all(|pair| pair[1] > pair[0]));
}

#[test]
fn a_flush_inlet_pushes_by_its_velocity_ratio() {
    let of = |more: &str, taped: f64| {
        let kind = KINDS.iter().find(|kind| kind.name == "flush-inlet").expect("it is known");
        let example = format!(
            "{{ kind = \"flush-inlet\", width = \"150 mm\", height = \"40 mm\", boundary_layer = {{ run = \"1 m\" }}{more} }}"
        );
        let text = car(Form { kind, example: kind.example, name: kind.name }).replace(kind.example, &example);
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case;
        let mut law = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}")).network.laws[0].clone();
        law.prepare(&moment(30.0), taped);
        law
    };
    let (q, speed) = (moment(30.0).dynamic_pressure, moment(30.0).local_speed);
    // flow at which the air in the lip plane, 60 cm2, runs at a share of the stream's 30 m/s
    let flow = |ratio: f64, taped: f64| {
        ratio * speed * 60e-4 * (1.0 - taped) / moment(30.0).volume_per_kelvin / 300.0
    };
    let push = |law: &Law, flow: f64| law.respond(&stream(flow), 300.0, 0.0).push;
    let curve = of(", recovery = [[0.2, 0.9], [0.5, 0.8], [1.0, 0.6]]", 0.0);
    for (ratio, recovery) in
        [(0.5, 0.8), (0.75, 0.7), (1.0, 0.6), (1.6, 0.6), (0.3, 0.9 - 0.1 / 3.0), (0.1, 0.9 - 0.1 / 3.0)]
    {
        assert!(
            (push(&curve, flow(ratio, 0.0)) / q - recovery).abs() < 1e-9,
            "{ratio}: {}",
            push(&curve, flow(ratio, 0.0)) / q
        );
    }
    // back, and at rest, what it is below 0.3
    assert_eq!(push(&curve, -0.05), push(&curve, 0.0));
    assert!((push(&curve, 0.0) / q - (0.9 - 0.1 / 3.0)).abs() < 1e-12);
    assert!((push(&of(", recovery = 0.7", 0.0), flow(0.8, 0.0)) / q - 0.7).abs() < 1e-12);
    // published, from memory: 0.90 at 0.6 less 0.22 times layer over height; layer 0.37 x Re^-0.2 by hand
    let reynolds = moment(30.0).air.density() * speed / moment(30.0).viscosity;
    let over = 0.37 * reynolds.powf(-0.2) / 0.04;
    assert!(over > 0.3 && over < 1.0);
    let published = 0.90 - 0.22 * over;
    assert!((push(&of("", 0.0), flow(0.6, 0.0)) / q - published).abs() < 1e-6);
    assert!((push(&of(", recovery_shift = 0.05", 0.0), flow(0.6, 0.0)) / q - published - 0.05).abs() < 1e-6);
    // taped by a third: the ratio is that of what is left open; below the stream's speed only the widening behind tape
    // costs, (1/3)² on what is open
    let taped = of(", recovery = 0.7", 1.0 / 3.0);
    let through = flow(0.6, 1.0 / 3.0);
    let head = 0.5 * moment(30.0).volume_per_kelvin * 300.0 * (through / 40e-4).powi(2);
    assert!((taped.respond(&stream(through), 300.0, 0.0).drop / head - 1.0 / 9.0).abs() < 1e-6);
    // drawn half as fast again as the stream: K 0.5 of the excess speed's head, (1 − 1/1.5)² of its own
    let drawn = of(", recovery = 0.7", 0.0);
    let through = flow(1.5, 0.0);
    let head = 0.5 * moment(30.0).volume_per_kelvin * 300.0 * (through / 60e-4).powi(2);
    let lost = drawn.respond(&stream(through), 300.0, 0.0).drop / head;
    assert!((lost - 0.5 * (1.0_f64 - 1.0 / 1.5).powi(2)).abs() < 1e-6, "{lost}");
    // at rest no better than a sharp hole, K 0.5
    let mut still = drawn.clone();
    still.prepare(&moment(0.0), 0.0);
    let lost = still.respond(&stream(through), 300.0, 0.0).drop / head;
    assert!((lost - 0.5).abs() < 1e-3, "{lost}");
    assert!(
        matches!(taped.discharge(false), slowcorner::element::Discharge::Area(area) if (area - 40e-4).abs() < 1e-12)
    );
    for law in [of("", 0.0), curve, of("", 0.25)] {
        assert_slopes("flush inlet", &law);
    }
}

#[test]
fn vanes_hoses_and_bends_close_behind_one_another() {
    let through = |chain: &str| {
        let law = last_law(
            &format!("{{ kind = \"ram-inlet\", area = \"60 cm2\", recovery = 0.9 }}, {chain}"),
            ("outside", "bay"),
            20.0,
        );
        law.respond(&stream(0.1), 300.0, 0.0).drop
    };
    let knee = through(r#"{ kind = "bend", area = "60 cm2" }"#);
    let ratio = |drop: f64| drop / knee;
    assert!((ratio(through(r#"{ kind = "bend", area = "60 cm2", vanes = true }"#)) - 0.25).abs() < 1e-12);
    assert!(
        (ratio(through(r#"{ kind = "bend", area = "60 cm2", vanes = true, vane_factor = 0.3 }"#)) - 0.3)
            .abs()
            < 1e-12
    );
    // an easy bend gains nothing by vanes
    let easy = through(r#"{ kind = "bend", area = "60 cm2", radius = "160 mm" }"#);
    assert_eq!(through(r#"{ kind = "bend", area = "60 cm2", radius = "160 mm", vanes = true }"#), easy);
    // a compressed hose is a wall of 9 mm, which the rounded bend's friction feels
    let rough = through(r#"{ kind = "bend", diameter = "220 mm", radius = "300 mm", roughness = "9 mm" }"#);
    assert_eq!(
        through(r#"{ kind = "bend", diameter = "220 mm", radius = "300 mm", hose = "compressed" }"#),
        rough
    );
    // the second of two knees, and the same four diameters away
    let second = |length: &str, more: &str| {
        through(&format!(
            "{{ kind = \"bend\", area = \"60 cm2\" }}, {{ kind = \"duct\", area = \"60 cm2\", length = \"{length}\" }}, {{ kind = \"bend\", area = \"60 cm2\"{more} }}"
        ))
    };
    assert!((second("100 mm", ", interaction = 1.4") / knee - 1.4).abs() < 1e-12);
    assert_eq!(second("100 mm", ""), knee);
    let assumed = |length: &str| {
        let chain = format!(
            "{{ kind = \"ram-inlet\", area = \"60 cm2\" }}, {{ kind = \"bend\", area = \"60 cm2\" }}, {{ kind = \"duct\", area = \"60 cm2\", length = \"{length}\" }}, {{ kind = \"bend\", area = \"60 cm2\" }}"
        );
        let kind = KINDS.iter().find(|kind| kind.name == "exit").expect("exits are known");
        let text = car(Form { kind, example: kind.example, name: kind.name }).replace(
            &format!("from = \"bay\"\nto = \"outside\"\nelement = [{}]", kind.example),
            &format!("from = \"outside\"\nto = \"bay\"\nelement = [{chain}]"),
        );
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case;
        case.numbers.find("passage/under test/bend 2/interaction").is_some()
    };
    assert!(assumed("100 mm") && !assumed("400 mm"), "listed only where the bends are close");
}

#[test]
fn a_leg_of_a_tee_joins_and_splits_on_the_combined_legs_head() {
    use slowcorner::correlations::tees;
    use slowcorner::element::tee::Joint;
    let joint = Joint { combined_area: 50e-4, area_ratio: 0.55, angle: 45.0_f64.to_radians() };
    let kind = KINDS.iter().find(|kind| kind.name == "tee").expect("tees are known");
    for (example, side) in [(kind.example, true), (kind.further_examples[0], false)] {
        let Law::Tee(mut tee) = law(Form { kind, example, name: kind.name }, 20.0) else { panic!("a tee") };
        tee.set_joint(joint);
        for joins in [true, false] {
            let sign = if joins { 1.0 } else { -1.0 };
            for share in [0.1, 0.4, 0.8] {
                let (own, other) = (0.25 * share, 0.25 * (1.0 - share));
                // over the specific volume
                let head = 0.5 * (0.25_f64 / 50e-4).powi(2);
                let (b, angle) = (joint.area_ratio, joint.angle);
                let k = match (side, joins) {
                    (true, true) => tees::side_joining(share, b, angle),
                    (true, false) => tees::side_splitting(share, b, angle),
                    (false, true) => tees::straight_joining(1.0 - share, b, angle),
                    (false, false) => tees::straight_splitting(1.0 - share, b),
                };
                let flows = (sign * own, sign * other);
                let at = |own: f64, other: f64| tee.loss((own, other), 1e-6);
                let (loss, by_own, by_other) = at(flows.0, flows.1);
                assert!(
                    (sign * loss / head - k).abs() < 1e-9,
                    "{example} {joins} {share}: {} {k}",
                    sign * loss / head
                );
                let step = 1e-6;
                let slope = |up: (f64, f64, f64), down: (f64, f64, f64)| (up.0 - down.0) / (2.0 * step);
                let own_slope = slope(at(flows.0 + step, flows.1), at(flows.0 - step, flows.1));
                let other_slope = slope(at(flows.0, flows.1 + step), at(flows.0, flows.1 - step));
                assert!((own_slope - by_own).abs() < 1e-4 * head, "{own_slope} {by_own}");
                assert!((other_slope - by_other).abs() < 1e-4 * head, "{other_slope} {by_other}");
            }
        }
    }
}

/// Two inlets that join: a wide one on the straight leg, a narrow one on the side leg, whose shares nobody wrote.
const JOINED: &str = r#"format = 1
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "12 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
heads = "10 %"
[part.heads]
limit = "200 degC"
bay_conductance = "30 W/K"
chamber = "bay"
[chamber.joint]
skin_conductance = "0 W/K"
[[passage]]
name = "straight"
from = "outside"
to = "joint"
element = [{ kind = "ram-inlet", area = "60 cm2", recovery = 0.95 }, { kind = "tee", area = "60 cm2", leg = "straight" }]
[[passage]]
name = "side"
from = "outside"
to = "joint"
element = [{ kind = "wall-inlet", area = "25 cm2", pressure_coefficient = 0.8 }, { kind = "tee", area = "25 cm2", leg = "side", angle = "45 deg" }]
[[passage]]
name = "trunk"
from = "joint"
to = "bay"
element = [{ kind = "tee", area = "60 cm2", leg = "combined" }, { kind = "duct", area = "60 cm2", length = "500 mm" }]
[[passage]]
name = "way out"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "200 cm2", pressure_coefficient = -0.1 }]
[[condition]]
name = "fast"
speed = "120 km/h"
rpm = "4000 rpm"
[[condition]]
name = "slow"
speed = "40 km/h"
rpm = "3000 rpm"
"#;

#[test]
fn a_tee_finds_the_share_of_its_legs() {
    use slowcorner::correlations::tees;
    use slowcorner::point::conditions;
    let case = load(JOINED, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}"));
    let angle = 45.0_f64.to_radians();
    for condition in conditions::check(&case, &model).expect("a steady state") {
        let flow = |name: &str| {
            condition.passages.iter().find(|p| p.name == name).map_or(f64::NAN, |p| p.mass_flow_kg_s)
        };
        let tee = |name: &str| {
            let passage = condition.passages.iter().find(|p| p.name == name).expect("a passage");
            passage.elements.iter().find(|e| e.kind == "tee").expect("its tee").clone()
        };
        let share = flow("side") / flow("trunk");
        assert!(
            (flow("side") + flow("straight") - flow("trunk")).abs() < 1e-9 && share > 0.02 && share < 0.98
        );
        // no heat on the way in: one density, and the head of the combined leg
        let speed = tee("trunk").velocity_m_s.expect("it has an area");
        let density = flow("trunk") / (speed * 60e-4);
        let head = 0.5 * density * speed * speed;
        let ratio = 25.0 / 60.0;
        let side = tees::side_joining(share, ratio, angle) * head;
        let straight = tees::straight_joining(share, ratio, angle) * head;
        assert!(
            (tee("side").loss_Pa - side).abs() < 1e-6 * head,
            "{}: {} {side}",
            condition.name,
            tee("side").loss_Pa
        );
        assert!((tee("straight").loss_Pa - straight).abs() < 1e-6 * head, "{}: {straight}", condition.name);
        assert_eq!(tee("trunk").loss_Pa, 0.0);
        // the slow side leg is drawn along, and says so
        assert!(side < 0.0 && condition.residual <= 1e-9, "{}: {side} Pa", condition.name);
        // the heads go through the joint: nothing is lost at the ends there
        for name in ["straight", "side"] {
            assert_eq!(
                condition.passages.iter().find(|p| p.name == name).map(|p| p.last_velocity_head_Pa),
                Some(0.0)
            );
        }
    }
    let conditions = conditions::check(&case, &model).expect("a steady state");
    let warnings = slowcorner::warnings::of_conditions(&case, &model, &conditions);
    let named = warnings.iter().find(|warning| warning.code == "negative-loss").expect("it is named");
    assert_eq!(named.place.as_deref(), Some("passage/side/tee"));
}
