//! Fans in a car: the road speed from which ram outdoes them, and the power at their shafts. Worked out by hand.

use slowcorner::case::{Case, load};
use slowcorner::point::Model;
use slowcorner::point::budget::Budget;
use slowcorner::study::check::ram_over_fan::RamOverFanIs;
use slowcorner::study::check::ram_over_fan::{RamOverFan, ram_over_fan_within};

fn ram_over_fan(case: &Case, model: &Model) -> Vec<RamOverFan> {
    ram_over_fan_within(case, model, Budget::of(u64::MAX), &mut Vec::new())
}

/// A car whose fan pushes 200 Pa in air of 1.2 kg/m³, whatever goes through it. Ram and fan both go with the density, so
/// that they are equal at ½ · 1.2 · V² = 200 Pa: 18.257 m/s, 65.7 km/h, at any height.
fn car(passages: &str, fan_sweep: &str) -> String {
    format!(
        r#"format = 1
[day]
temperature = "20 degC"
altitude = "800 m"
[drive]
tyre_radius = "260 mm"
final_drive = 4.0
gears = [2.8, 1.8, 1.2]
lowest = "1000 rpm"
highest = "6000 rpm"
[engine]
displacement = "900 cm3"
power = [["1000 rpm", "5 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
bay = "1 %"
{passages}
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{{ kind = "exit", area = "100 cm2" }}]
[[condition]]
name = "road"
speed = "50 km/h"
gear = 1
{fan_sweep}
"#
    )
}

const FAN: &str = r#"{ kind = "fan", speed = "3000 rpm", reference_speed = "3000 rpm", curve = [["0 m3/s", "200 Pa"], ["40 m3/s", "199.9 Pa"]] }"#;

fn straight(fan: &str) -> String {
    format!(
        r#"[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{{ kind = "ram-inlet", area = "60 cm2", recovery = 1.0 }}, {{ kind = "loss", area = "60 cm2", k = 20 }}, {fan}]"#
    )
}

fn sweep(from: f64, to: f64) -> String {
    format!("[sweep]\nfrom = \"{from} km/h\"\nto = \"{to} km/h\"")
}

fn ready(text: &str) -> (Case, Model) {
    let case = load(text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    (case, model)
}

fn sole(text: &str) -> RamOverFan {
    let (case, model) = ready(text);
    let mut found = ram_over_fan(&case, &model);
    assert_eq!(found.len(), 1, "{found:?}");
    found.remove(0)
}

/// 65.7 km/h; the compression ahead of the car adds q M²/4: 0.07 %, so that it is 0.02 km/h less.
fn at_the_speed_of_200_pascals(found: &RamOverFan) {
    let speed = 3.6 * found.speed_m_s.unwrap();
    assert!((speed - 65.7).abs() < 0.1, "{speed}");
    assert!(found.ram_Pa > found.fan_Pa && found.ram_Pa - found.fan_Pa < 1.0, "{found:?}");
    // 65.7 km/h at 4.0 and 0.26 m: 670.3 rpm for a ratio of one; 2.8 would take 7507 rpm, 1.8 takes 4826
    assert_eq!(found.gear, 2);
}

#[test]
fn ram_outdoes_a_fan_from_a_speed_on() {
    let found = sole(&car(&straight(FAN), &sweep(20.0, 140.0)));
    assert_eq!(
        (found.is, &found.inlet[..], &found.fan[..]),
        (RamOverFanIs::Value, "passage/in/ram-inlet", "passage/in/fan")
    );
    at_the_speed_of_200_pascals(&found);
}

#[test]
fn never_and_always() {
    let never = sole(&car(&straight(FAN), &sweep(20.0, 60.0)));
    assert_eq!((never.is, never.speed_m_s), (RamOverFanIs::Never, None));
    // nearest at the highest speed
    assert!((3.6 * never.at_m_s - 60.0).abs() < 1e-9 && never.ram_Pa < never.fan_Pa, "{never:?}");
    let always = sole(&car(&straight(FAN), &sweep(70.0, 140.0)));
    assert_eq!(always.is, RamOverFanIs::Always);
    assert!((3.6 * always.speed_m_s.unwrap() - 70.0).abs() < 1e-9, "{always:?}");
}

#[test]
fn a_fan_in_a_chamber_meets_the_ram_that_feeds_it() {
    let passages = format!(
        r#"[[passage]]
name = "scoop"
from = "outside"
to = "plenum"
element = [{{ kind = "ram-inlet", area = "60 cm2", recovery = 1.0 }}]
[[passage]]
name = "low scoop"
from = "outside"
to = "plenum"
element = [{{ kind = "ram-inlet", area = "60 cm2", recovery = 0.5 }}]
[[passage]]
name = "blown"
from = "plenum"
to = "bay"
element = [{FAN}, {{ kind = "loss", area = "60 cm2", k = 20 }}]"#
    );
    let found = sole(&car(&passages, &sweep(20.0, 140.0)));
    assert_eq!(&found.inlet[..], "passage/scoop/ram-inlet", "the stronger one counts");
    at_the_speed_of_200_pascals(&found);
}

#[test]
fn nothing_is_sought_without_gears_or_for_a_fan_that_stands() {
    let standing = r#"{ kind = "fan", off = true, diameter = "90 mm", wheel = "axial" }"#;
    let (case, model) = ready(&car(&straight(standing), &sweep(20.0, 140.0)));
    assert!(ram_over_fan(&case, &model).is_empty());
    let text = car(&straight(FAN), "");
    let (start, end) = (text.find("[drive]").unwrap(), text.find("[engine]").unwrap());
    let text = format!("{}{}", &text[..start], &text[end..]).replace("gear = 1", "rpm = \"3000 rpm\"");
    let (case, model) = ready(&text);
    assert!(ram_over_fan(&case, &model).is_empty());
}

#[test]
fn power_at_the_shaft() {
    let (case, model) = ready(&car(&straight(FAN), ""));
    let condition = &slowcorner::point::conditions::check(&case, &model).unwrap()[0];
    let [fan] = &condition.fans[..] else { panic!("{:?}", condition.fans) };
    let passage = &condition.passages[0];
    // flow at the fan's own air, which nothing has warmed: kg/s over kg/m³; the push is 200 Pa · ρ/1.2
    let density = fan.push_Pa / 200.0 * 1.2;
    assert!((density / condition.air_density_kg_m3 - 1.0).abs() < 2e-3, "{density}");
    assert!((fan.flow_m3_s / (passage.mass_flow_kg_s / density) - 1.0).abs() < 1e-4, "{fan:?}");
    assert!((fan.air_power_W / (fan.flow_m3_s * fan.push_Pa) - 1.0).abs() < 1e-9, "{fan:?}");
    // the default efficiency, 45 %
    assert!((fan.shaft_power_W * 0.45 / fan.air_power_W - 1.0).abs() < 1e-12, "{fan:?}");
    assert_eq!(condition.fan_power_W, fan.shaft_power_W);
    assert_eq!(fan.tip_speed_m_s, None, "nothing says how wide the wheel is");
}

#[test]
fn air_that_turns_a_fan_takes_no_power_from_its_shaft() {
    let weak = r#"{ kind = "fan", wheel = "axial", diameter = "90 mm", speed = "3000 rpm" }"#;
    let passages = straight(weak).replace("k = 20", "k = 0.1");
    let (case, model) = ready(&car(&passages, "").replace("50 km/h", "75 km/h"));
    let condition = &slowcorner::point::conditions::check(&case, &model).unwrap()[0];
    let fan = &condition.fans[0];
    assert!(fan.push_Pa < 0.0 && fan.flow_m3_s > 0.0, "{fan:?}");
    assert_eq!((fan.air_power_W, fan.shaft_power_W, condition.fan_power_W), (0.0, 0.0, 0.0));
    assert_eq!(fan.over_reference, None, "no speed at which it was measured");
}
