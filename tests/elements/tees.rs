//! Tees: their legs, and the shares that nobody wrote.

use crate::elements::{Form, law};
use slowcorner::case::load;
use slowcorner::element::{KINDS, Law};
use slowcorner::point::Model;

#[test]
fn a_leg_of_a_tee_joins_and_splits_on_the_combined_legs_head() {
    use slowcorner::correlations::tees;
    use slowcorner::element::tee::TeeJoint;
    let joint = TeeJoint { combined_area: 50e-4, area_ratio: 0.55, angle: 45.0_f64.to_radians() };
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
