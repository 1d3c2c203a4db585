//! A body whose course is known exactly.

use crate::lap::run;
use slowcorner::study::lap::march::FIRST_ORDER;
use slowcorner::study::lap::result::Stint;

/// What the step control promises of an exponential (K).
const BOUND: f64 = FIRST_ORDER / 6.0;

/// A case with one body of heat capacity `capacity` (J/K) and conductance `conductance` (W/K) to the day's air of
/// 20 °C, and a stint.
fn body(capacity: f64, conductance: f64, share: f64, stint: &str) -> String {
    format!(
        r#"
format = 1
[day]
temperature = "20 degC"
[engine]
displacement = "500 cm3"
power = [["1000 rpm", "10 kW"], ["6000 rpm", "10 kW"]]
power_basis = "as-measured"
[engine.heat]
body = {share}
[part.body]
limit = "90 degC"
share_at = "120 degC"
chamber = "outside"
bay_conductance = "{conductance} W/K"
heat_capacity = "{capacity} J/K"
source_temperature = "600 degC"
[[passage]]
name = "through"
from = "outside"
to = "outside"
element = [{{ kind = "wall-inlet", area = "10 cm2" }}, {{ kind = "exit", area = "10 cm2" }}]
[[condition]]
name = "on"
speed = "0 km/h"
rpm = "6000 rpm"
[[condition]]
name = "off"
speed = "0 km/h"
rpm = "0 rpm"
[[stint]]
name = "a"
{stint}
"#
    )
}

fn end(stint: &Stint, step: usize) -> f64 {
    stint.steps[step].parts.get("body").expect("the body").temperature_C
}

/// Heat is offered in proportion to 600 °C − T, and given in proportion to T − 20 °C: both fall together.
///
/// Fuel 10 kW/0.25 = 40 kW, of it 5 % at 120 °C: 2000 W, that is 2000/480 W/K of 600 °C − T.
#[test]
fn a_lumped_body_follows_its_exponential() {
    let (capacity, conductance) = (5000.0, 10.0);
    let source = 2000.0 / 480.0;
    let stint = &run(
        &body(
            capacity,
            conductance,
            0.05,
            "start = \"20 degC\"\nstep = [{ condition = \"on\", time = \"300 s\" }, { condition = \"off\", time = \"200 s\" }]",
        ),
        &[],
    )[0];
    let settled = (source * 600.0 + conductance * 20.0) / (source + conductance);
    let rate = (source + conductance) / capacity;
    let warm = settled + (20.0 - settled) * (-rate * 300.0_f64).exp();
    assert!((end(stint, 0) - warm).abs() < BOUND, "{} {warm}", end(stint, 0));
    let cooled = 20.0 + (warm - 20.0) * (-conductance / capacity * 200.0).exp();
    assert!((end(stint, 1) - cooled).abs() < BOUND, "{} {cooled}", end(stint, 1));
    let body = stint.parts.get("body").expect("the body");
    assert!((body.peak_C - warm).abs() < BOUND && (body.peak_at_s - 300.0).abs() < 1e-6);
    // over 90 °C from the moment it gets there until it has cooled to it
    let up = ((settled - 20.0) / (settled - 90.0)).ln() / rate;
    let down = ((warm - 20.0) / 70.0).ln() * capacity / conductance;
    assert!((body.over_limit_s - (300.0 - up + down)).abs() < 5e-3, "{}", body.over_limit_s);
    // its time constants: C/(source + conductance) warming, C/conductance cooling
    for (step, tau) in [(0, 1.0 / rate), (1, capacity / conductance)] {
        let found = stint.steps[step].parts.get("body").and_then(|p| p.time_constant_s).expect("one");
        assert!((found / tau - 1.0).abs() < 1e-3, "{found} {tau}");
    }
    assert!(body.energy_left_over.abs() < 1e-6, "{}", body.energy_left_over);
}

/// Incropera, Fundamentals of Heat and Mass Transfer, example 5.1 (from memory): the junction of a
/// thermocouple, 0.706 mm across, 8500 kg/m³, 400 J/(kg K), 400 W/(m² K), goes from 25 °C to 199 °C in gas of
/// 200 °C in 5.2 s. Turned round here: 175 K over the air down to 1 K over it.
#[test]
fn the_textbook_thermocouple() {
    let diameter: f64 = 7.06e-4;
    let capacity = 8500.0 * std::f64::consts::PI / 6.0 * diameter.powi(3) * 400.0;
    let conductance = 400.0 * std::f64::consts::PI * diameter.powi(2);
    let stint = &run(
        &body(
            capacity,
            conductance,
            0.0,
            "start = \"195 degC\"\nstep = [{ condition = \"off\", time = \"5.2 s\" }]",
        ),
        &[],
    )[0];
    assert!((end(stint, 0) - 21.0).abs() < 0.05, "{}", end(stint, 0));
    // "τ = 1 s"
    let tau = stint.steps[0].parts.get("body").and_then(|p| p.time_constant_s).expect("one");
    assert!((tau - 1.0).abs() < 0.005, "{tau}");
}

/// A body that follows in a hundredth of a second, over steps of minutes: the rule must not swing.
#[test]
fn a_very_light_body_is_where_it_would_settle() {
    let stint = &run(
        &body(0.1, 10.0, 0.05, "start = \"20 degC\"\nstep = [{ condition = \"on\", time = \"600 s\" }]"),
        &[],
    )[0];
    let source = 2000.0 / 480.0;
    let settled = (source * 600.0 + 10.0 * 20.0) / (source + 10.0);
    assert!((end(stint, 0) - settled).abs() < 1e-3, "{} {settled}", end(stint, 0));
    let body = stint.parts.get("body").expect("the body");
    assert!(body.peak_C < settled + FIRST_ORDER, "{}", body.peak_C);
}

/// A triangle of load in a recorded run at 1 Hz: the peak lies between the rows.
#[test]
fn a_peak_is_found_between_the_rows() {
    let rows = "time (s),speed (km/h),rpm,load (%)\n0,0,6000,100\n60,0,6000,100\n61,0,0,0\n200,0,0,0\n";
    let text = body(5000.0, 10.0, 0.05, "start = \"20 degC\"\ntrace = \"run.csv\"");
    let stint = &run(&text, &[rows])[0];
    let body = stint.parts.get("body").expect("the body");
    // the engine is stopped within a second: the peak comes where what it offers falls under what the body gives
    assert!(body.peak_at_s > 60.0 && body.peak_at_s < 61.0, "{}", body.peak_at_s);
    let course = &stint.course;
    let highest = course.parts[0].iter().copied().fold(f32::MIN, f32::max);
    assert!(body.peak_C >= f64::from(highest) - 1e-4);
}

/// Laps that repeat begin where they end; an exact period: T at the start of the lap is the fixed point of
/// heating for 60 s and cooling for 60 s.
#[test]
fn laps_end_in_the_period_of_the_body() {
    let stint = &run(
        &body(
            2000.0,
            10.0,
            0.05,
            "start = \"20 degC\"\nlaps = 40\nstep = [{ condition = \"on\", time = \"60 s\" }, { condition = \"off\", time = \"60 s\" }]",
        ),
        &[],
    )[0];
    let source = 2000.0 / 480.0;
    let settled = (source * 600.0 + 10.0 * 20.0) / (source + 10.0);
    let (up, down) = ((-(source + 10.0) / 2000.0 * 60.0_f64).exp(), (-10.0 / 2000.0 * 60.0_f64).exp());
    // T0 = 20 + (T1 − 20) down, T1 = settled + (T0 − settled) up
    let first = (20.0 + (settled * (1.0 - up) - 20.0) * down) / (1.0 - up * down);
    let last = end(stint, stint.steps.len() - 1);
    assert!((last - first).abs() < 5e-3, "{last} {first}");
    let repeats = stint.repeats.as_ref().expect("laps");
    // the change over a lap falls by up·down a lap: from 20 °C it is under 0.1 K after n laps
    let change = |n: i32| (first - 20.0) * (1.0 - up * down) * (up * down).powi(n - 1);
    let expected = (1..).find(|n| change(*n).abs() < 0.1).expect("some lap");
    assert_eq!(repeats.lap, Some(expected as usize));
    let top = settled + (first - settled) * up;
    let margin = repeats.temperature_margin_K.get("body").expect("the body");
    assert!((margin - (90.0 - top)).abs() < 0.1, "{margin} {top}");
}
