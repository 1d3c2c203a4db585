//! Figures that one place of the sources alone decides, by hand.

use crate::elements::by_hand::last_law;
use crate::elements::{Form, moment, stream};
use slowcorner::air::transport::viscosity;
use slowcorner::case::load;
use slowcorner::correlations::friction::churchill;
use slowcorner::correlations::{area_change, bends};
use slowcorner::element::step::AreaStep;
use slowcorner::element::tee::Tee;
use slowcorner::element::{Discharge, KINDS, Law};
use slowcorner::point::Model;
use std::f64::consts::{FRAC_PI_2, PI};

const INLET: &str = r#"{ kind = "ram-inlet", area = "60 cm2", recovery = 0.9 }"#;

/// The law of the last element behind an inlet.
fn inside(element: &str) -> Law {
    last_law(&format!("{INLET}, {element}"), ("outside", "bay"), 20.0)
}

/// Velocity heads on `area` (m²) that are lost at a flow.
fn heads(law: &Law, flow: f64, area: f64) -> f64 {
    let volume = stream(flow).volume_per_kelvin * 300.0;
    law.respond(&stream(flow), 300.0, 0.0).drop / (0.5 * volume * flow * flow.abs() / (area * area))
}

/// What two that stand alike draw beside a single one, over what that draws.
fn pair_over_single(each: &str, single: &str) -> f64 {
    let text = r#"format = 1
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "12 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
heads = "10 %"
[part.heads]
limit = "200 degC"
bay_conductance = "30 W/K"
chamber = "bay"
[[passage]]
name = "pair"
count = 2
from = "outside"
to = "engine"
element = [{ kind = "wall-inlet", area = "12 cm2" }, { kind = "demand", EACH }]
[[passage]]
name = "single"
from = "outside"
to = "engine"
element = [{ kind = "wall-inlet", area = "12 cm2" }, { kind = "demand", SINGLE }]
[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{ kind = "ram-inlet", area = "60 cm2" }]
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "200 cm2" }]
[[condition]]
name = "any"
speed = "80 km/h"
rpm = "4000 rpm"
"#;
    let text = text.replace("EACH", each).replace("SINGLE", single);
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let solved = slowcorner::point::conditions::check(&case, &model).expect("solved");
    let flow = |name: &str| {
        solved[0].passages.iter().find(|passage| passage.name == name).expect("a passage").mass_flow_kg_s
    };
    flow("pair") / flow("single")
}

/// 2 × 30 % of the engine's volume beside 40 %, at densities behind the inlets that are almost the same; 2 × 10 g/s
/// beside 15.
#[test]
fn a_demand_that_stands_twice_is_that_of_each() {
    let ratio = pair_over_single(r#"share = "30 %""#, r#"share = "40 %""#);
    assert!((ratio - 1.5).abs() < 0.02, "{ratio}");
    let ratio = pair_over_single(r#"flow = "10 g/s""#, r#"flow = "15 g/s""#);
    assert!((ratio - 2.0 / 1.5).abs() < 1e-9, "{ratio}");
}

/// Friction in a cone follows roughness over the smaller diameter: Churchill's factor at that Reynolds number.
#[test]
fn a_rough_cone() {
    let (small, roughness, flow) = (40e-4_f64, 0.4e-3, 0.08);
    let diameter = (4.0 * small / PI).sqrt();
    let cone = inside(
        r#"{ kind = "contraction", area_before = "60 cm2", area_after = "40 cm2", length = "120 mm", roughness = "0.4 mm" }"#,
    );
    // the same without friction's share of it: a smooth cone's loss beside a rough one's
    let smooth = inside(
        r#"{ kind = "contraction", area_before = "60 cm2", area_after = "40 cm2", length = "120 mm", roughness = "0.0004 mm" }"#,
    );
    let reynolds = flow / small * diameter / viscosity(300.0);
    let (rough_factor, _) = churchill(reynolds, roughness / diameter);
    let (smooth_factor, _) = churchill(reynolds, 1e-3 * roughness / diameter);
    let angle = 2.0 * (0.5 * ((4.0 * 60e-4_f64 / PI).sqrt() - diameter) / 0.12).atan();
    let k = area_change::conical_contraction((40.0_f64 / 60.0).sqrt(), angle);
    let wanted = k.per_friction * (rough_factor - smooth_factor);
    let found = heads(&cone, flow, small) - heads(&smooth, flow, small);
    assert!(k.per_friction > 0.0 && (found / wanted - 1.0).abs() < 1e-6, "{found} {wanted}");
}

/// Vanes or the radius: whichever of the two loses less at a friction factor of 0.02.
#[test]
fn vanes_and_a_radius_are_held_against_each_other() {
    let (area, flow) = (60e-4_f64, 0.1);
    let ratio = 0.06 / (4.0 * area / PI).sqrt();
    let rounded = bends::rounded(FRAC_PI_2, ratio);
    // the factor at which both are worth the same
    let even = rounded.at(0.02) / bends::mitred(FRAC_PI_2).at(0.02);
    let bend = |more: &str| inside(&format!(r#"{{ kind = "bend", area = "60 cm2"{more} }}"#));
    let own = heads(&bend(r#", radius = "60 mm""#), flow, area);
    let vaned = |factor: f64| {
        heads(&bend(&format!(r#", radius = "60 mm", vanes = true, vane_factor = {factor}"#)), flow, area)
    };
    // a thousandth more and the bend keeps its own loss, a thousandth less and it is that of a vaned knee
    assert_eq!(vaned(1.001 * even), own);
    let factor = 0.999 * even;
    assert!((vaned(factor) - factor * bends::mitred(FRAC_PI_2).fixed).abs() < 1e-12);
    // without a radius the vanes count, whatever their factor saves
    let knee = heads(&bend(", vanes = true, vane_factor = 0.9"), flow, area);
    assert!((knee - 0.9 * bends::mitred(FRAC_PI_2).fixed).abs() < 1e-12);
}

/// A step whose narrowing is paid for by what stands beside it, built anew: free the same way, and only where it was.
#[test]
fn a_step_built_anew_is_free_where_the_one_before_it_was() {
    let model = |chain: &str| {
        let kind = KINDS.iter().find(|kind| kind.name == "exit").expect("exits are known");
        let text = crate::elements::car(Form { kind, example: kind.example, name: kind.name }).replace(
            &format!("from = \"bay\"\nto = \"outside\"\nelement = [{}]", kind.example),
            &format!("from = \"outside\"\nto = \"bay\"\nelement = [{chain}]"),
        );
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{chain}: {faults}")).case;
        Model::new(&case).unwrap_or_else(|faults| panic!("{chain}: {faults}")).network
    };
    let step = |chain: &str, place: usize| {
        let network = model(chain);
        let law = network.laws[network.passages[0].elements.start + place].clone();
        let Law::AreaStep(step) = law else { panic!("no step") };
        step
    };
    let narrows = r#"{ kind = "step", area_before = "60 cm2", area_after = "40 cm2" }"#;
    let widens = r#"{ kind = "step", area_before = "40 cm2", area_after = "60 cm2" }"#;
    let screen = r#"{ kind = "screen", area = "40 cm2", open_fraction = 0.6 }"#;
    let duct = r#"{ kind = "duct", area = "40 cm2", length = "100 mm" }"#;
    let wide = r#"{ kind = "duct", area = "60 cm2", length = "100 mm" }"#;
    // forward into the screen, or backward into it: the way in stands in the screen's own figures
    let ahead = step(&format!("{INLET}, {narrows}, {screen}"), 1);
    let behind = step(&format!("{INLET}, {duct}, {screen}, {widens}, {wide}"), 3);
    let (plain_ahead, plain_behind) = (
        step(&format!("{INLET}, {narrows}, {duct}"), 1),
        step(&format!("{INLET}, {duct}, {widens}, {wide}"), 2),
    );
    let heads = |step: &AreaStep, flow: f64| heads(&Law::AreaStep(step.clone()), flow, 40e-4);
    let (into, out) =
        (area_change::sharp_contraction((40.0_f64 / 60.0).sqrt()), (1.0_f64 - 40.0 / 60.0).powi(2));
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9, "{found}, not {wanted}");
    for (plain, free, narrowing) in [(&plain_ahead, &ahead, 0.1), (&plain_behind, &behind, -0.1)] {
        near(heads(plain, narrowing), into);
        near(heads(plain, -narrowing), out);
        near(heads(free, narrowing), 0.0);
        near(heads(free, -narrowing), out);
        // built anew it begins as the plain one
        let mut anew = plain.clone();
        anew.free_as(free);
        near(heads(&anew, narrowing), 0.0);
        near(heads(&anew, -narrowing), out);
        let mut anew = plain.clone();
        anew.free_as(plain);
        near(heads(&anew, narrowing), into);
        near(heads(&anew, -narrowing), out);
    }
}

/// Where the jet runs half as fast as the stream a quarter of the 30 % is lost: 0.6 × (1 − 0.075).
#[test]
fn the_discharge_told_of_an_exit_in_a_stream() {
    let way_out = r#"{ kind = "exit", area = "100 cm2", discharge = 0.6, cross_flow_loss = "30 %" }"#;
    let Law::Exit(exit) = last_law(way_out, ("bay", "outside"), 30.0) else { panic!("no exit") };
    let density = 1.1;
    let even = moment(30.0).local_speed * 0.6 * 0.01 * density;
    assert!((exit.discharge_at(0.5 * even, density) - 0.6 * 0.925).abs() < 1e-12);
    assert_eq!(exit.discharge_at(even, density), 0.6);
}

/// A joint of two abreast, legs of 40 cm²: the head of a leg's flow, and the area it leaves through.
#[test]
fn the_own_head_of_a_leg() {
    let kind = KINDS.iter().find(|kind| kind.name == "tee").expect("tees are known");
    let example = r#"{ kind = "tee", area = "40 cm2", leg = "side" }"#;
    let of = |count: usize| {
        let text = crate::elements::car(Form { kind, example, name: kind.name })
            .replace("name = \"", &format!("count = {count}\nname = \""))
            .replace(&format!("[[condition]]\ncount = {count}\n"), "[[condition]]\n");
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
        let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
        let Law::Tee(tee) = &model.network.laws[1] else { panic!("a tee") };
        tee.clone()
    };
    let (one, two) = (of(1), of(2));
    // ½ ρ V² over the square of the flow and the specific volume: ½/A²
    assert!((one.head_per_square() - 31_250.0).abs() < 1e-6);
    assert!((two.head_per_square() - 7_812.5).abs() < 1e-6);
    let leaves = |tee: Tee| {
        let away = !tee.joint_behind();
        let Discharge::Area(area) = Law::Tee(tee).discharge(away) else { panic!("no area") };
        area
    };
    assert!((leaves(one) - 40e-4).abs() < 1e-15 && (leaves(two) - 80e-4).abs() < 1e-15);
}
