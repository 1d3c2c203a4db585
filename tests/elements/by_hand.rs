//! Laws of single elements, worked out by hand, where more than one form of flow is in them.

use crate::elements::{Form, car, moment, stream};
use slowcorner::case::load;
use slowcorner::element::{KINDS, Law};
use slowcorner::point::Model;

/// The law of the last element of the passage under test, prepared for a road speed.
pub fn last_law(chain: &str, (from, to): (&str, &str), speed: f64) -> Law {
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
