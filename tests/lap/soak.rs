//! A car that stands with its engine stopped: warm air rises, parts cool in still air.

use crate::lap::{load, run};
use slowcorner::correlations::natural_convection::still_air_and_slopes;
use slowcorner::point::conditions;

/// A bay with an opening low down and one high up, warmed by a part of 20 W/K; nothing else moves the air.
fn bay(low: &str, high: &str, surface: &str) -> String {
    format!(
        r#"
format = 1
[day]
temperature = "20 degC"
pressure = "1013.25 hPa"
[engine]
displacement = "500 cm3"
power = [["1000 rpm", "10 kW"], ["6000 rpm", "10 kW"]]
[engine.heat]
heads = 0.1
[part.heads]
limit = "200 degC"
bay_conductance = "5 W/K"
heat_capacity = "6 kJ/K"
{surface}
[chamber.bay]
skin_conductance = "0 W/K"
limit = "70 degC"
limit_for = "the resin of the hatch"
[place.low]
above_ground = "{low}"
[place.high]
above_ground = "{high}"
[[passage]]
name = "mouth"
from = "outside"
to = "bay"
element = [{{ kind = "wall-inlet", area = "100 cm2", place = "low", pressure_coefficient = 0, entry_loss = 0.5 }}]
[[passage]]
name = "vent"
from = "bay"
to = "outside"
element = [{{ kind = "exit", area = "100 cm2", place = "high", discharge = 0.6, pressure_coefficient = 0 }}]
[[condition]]
name = "stopped"
speed = "0 km/h"
rpm = "0 rpm"
[[condition]]
name = "full"
speed = "0 km/h"
rpm = "6000 rpm"
[[stint]]
name = "soak"
start = "180 degC"
step = [{{ condition = "stopped", time = "600 s" }}]
"#
    )
}

/// The stack by hand: g Δz (ρ_out − ρ_bay) = [K_in/(2 ρ_out A²) + 1/(2 ρ_bay (C A)²)] ṁ², K_in = 0.5 and the head
/// lost behind it 1, and ṁ c_p (T_bay − T_day) = G (T − T_bay).
#[test]
fn air_rises_as_by_hand() {
    let stint = &run(&bay("100 mm", "700 mm", ""), &[])[0];
    let part = f64::from(stint.course.parts[0][0]);
    let air = f64::from(stint.course.chambers[0][0]);
    let density = |celsius: f64| 101_325.0 / (287.052_874 * (celsius + 273.15));
    let flow = 5.0 * (part - air) / (1006.0 * (air - 20.0));
    let push = 9.806_65 * 0.6 * (density(20.0) - density(air));
    let loss = flow * flow * (1.5 / (2.0 * density(20.0) * 1e-4) + 1.0 / (2.0 * density(air) * 0.36e-4));
    assert!((loss / push - 1.0).abs() < 2e-3, "{loss} {push}");
    assert!(air > 40.0 && flow > 0.002, "{air} {flow}");
}

#[test]
fn openings_at_one_height_let_no_air_rise() {
    let level = &run(&bay("400 mm", "400 mm", ""), &[])[0];
    let stacked = &run(&bay("100 mm", "700 mm", ""), &[])[0];
    let hottest = |stint: &slowcorner::study::lap::result::Stint| {
        stint.chambers.get("bay").expect("the bay").hottest.peak_C
    };
    // without a way out the air is as hot as the part
    assert!(
        (hottest(level) - 180.0).abs() < 0.1 && hottest(stacked) < 100.0,
        "{} {}",
        hottest(level),
        hottest(stacked)
    );
    // over the limit of the resin, and for how long
    let bay = level.chambers.get("bay").expect("the bay");
    assert_eq!(bay.limit_for.as_deref(), Some("the resin of the hatch"));
    assert!(bay.over_limit_s > 100.0);
    let stands = level.standing.iter().find(|s| s.in_step == Some(0)).expect("it stands");
    assert_eq!(stands.chambers.get("bay").expect("the bay").to_limit_s, Some(0.0));
}

/// The push of the warm air stands in the result with the opening it acts on, and pressures close.
#[test]
fn the_push_is_told() {
    let (case, model) = load(&bay("100 mm", "700 mm", ""));
    let full = &conditions::check(&case, &model).expect("solves")[1];
    let density = |celsius: f64| 101_325.0 / (287.052_874 * (celsius + 273.15));
    let bay = full.chambers[0].temperature_C;
    let push = 9.806_65 * 0.3 * (density(20.0) - density(bay));
    for passage in &full.passages {
        // from the inlet low down and the exit high up, each 0.3 m from the mean
        assert!((passage.elements[0].push_Pa / push - 1.0).abs() < 1e-3, "{passage:?} {push}");
    }
    assert!(full.residual < 1e-9);
}

/// Heat to still air: G³ = G_bay³ + (h A)³ with h of Churchill and Chu at the same temperatures; the surface does not
/// radiate here.
#[test]
fn still_air_takes_heat_by_the_surface() {
    let stint = &run(
        &bay("100 mm", "700 mm", "surface = \"0.4 m2\"\nsurface_height = \"300 mm\"\nemissivity = 0"),
        &[],
    )[0];
    let (part, air) = (f64::from(stint.course.parts[0][0]), f64::from(stint.course.chambers[0][0]));
    let still = 0.4 * still_air_and_slopes(0.3, part + 273.15, air + 273.15, 101_325.0).0;
    let together = (5.0_f64.powi(3) + still.powi(3)).cbrt();
    // the time constant is C over the slope of the heat; here from the first two moments
    let dt = stint.course.time[1] - stint.course.time[0];
    assert!(dt > 0.0 && still > 1.5, "{dt} {still}");
    let plain = &run(&bay("100 mm", "700 mm", ""), &[])[0];
    let cooled = |stint: &slowcorner::study::lap::result::Stint| {
        stint.steps[0].parts.get("heads").expect("heads").temperature_C
    };
    assert!(cooled(stint) < cooled(plain) - 0.5, "{} {}", cooled(stint), cooled(plain));
    let first = (f64::from(stint.course.parts[0][1]) - part) / dt;
    assert!((first * -6000.0 / (together * (part - air)) - 1.0).abs() < 0.02, "{first} {together}");
}

/// A body of 6 kJ/K that loses 5 W/K to a bay and is offered heat: when it is warm enough, found by bisection on
/// the length of the warm-up itself.
#[test]
fn a_warm_up_says_when_it_must_begin() {
    let text = |seconds: f64| {
        let case = bay("100 mm", "700 mm", "least = \"90 degC\"");
        let case = case.split("[[stint]]").next().expect("the car").to_string();
        format!(
            "{case}[[condition]]\nname = \"line\"\nspeed = \"0 km/h\"\nrpm = \"6000 rpm\"\nwarm = true\n[[stint]]\nname = \"s\"\nstart = \"20 degC\"\nstep = [{{ condition = \"full\", time = \"{seconds} s\" }}, {{ condition = \"line\", time = \"5 s\" }}]\n"
        )
    };
    let early = &run(&text(20.0), &[])[0].warm_up[0];
    assert!(early.at_line_C < 90.0 && early.line_s == 20.0, "{early:?}");
    let needed = early.reached_s.expect("it gets warm");
    // a warm-up of just that length arrives at the limit
    let just = &run(&text(needed), &[])[0].warm_up[0];
    assert!((just.at_line_C - 90.0).abs() < 0.02, "{just:?}");
    let late = &run(&text(needed + 30.0), &[])[0].warm_up[0];
    assert!(late.at_line_C > 90.0 && (late.reached_s.expect("it was") - needed).abs() < 0.02, "{late:?}");
}
