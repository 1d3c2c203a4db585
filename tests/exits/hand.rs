//! One ram inlet, one resistance, one exit in air of 1.2 kg/m³ at 40 m/s: every figure by hand.
//!
//! Inlet, K on 0.02 m²; engine, K 9 on 0.05 m²; exit, Cd 0.62: the pushes of 864 Pa ahead (0.9 of 960 Pa) and
//! 144 Pa behind (0.15 of it) drive ρ/2 Q² (K/0.02² + 9/0.05² + 1/(0.62 A)²). A part whose air warms by
//! less than a thousandth of a kelvin turns "so much air is asked for" into a margin.

use super::{area, read, within};
use slowcorner::study::exits::{exits, result::Exits};

/// The case, asked for a volume flow (m³/s).
fn case(asked: f64, inlet: &str, exit: f64, more: &str) -> String {
    // passages hold air at its total temperature: there it must weigh 1.2 kg/m³
    let (gas, kelvin, speed) = (287.052_874, 293.15, 40.0_f64);
    let total = kelvin + speed * speed / (2.0 * 1006.0);
    let pressure = 1.2 * gas * total;
    let mach = speed / (1.4_f64 * gas * kelvin).sqrt();
    let q = 0.5 * pressure / (gas * kelvin) * speed * speed * (1.0 + mach * mach / 4.0);
    // 0.4 W at the limit, carried by a conductance that just does at the flow asked for
    let conductance = 0.4 / (473.15 - total);
    format!(
        r#"format = 1
day = {{ temperature = "20 degC", pressure = "{pressure} Pa" }}
condition = [{{ name = "only", speed = "144 km/h", rpm = "5000 rpm" }}]
[engine]
displacement = "500 cm3"
power = [["2000 rpm", "4 kW"], ["5000 rpm", "10 kW"]]
power_basis = "as-measured"
brake_efficiency = "25 %"
heat = {{ engine block = "0.001 %" }}
[part."engine block"]
limit = "200 degC"
hottest_above_mean = "0 K"
[[passage]]
name = "inlet"
from = "outside"
to = "plenum"
element = [{{ kind = "ram-inlet", area = "200 cm2", recovery = {}, entry_loss = 0 }}, {inlet}]
[[passage]]
name = "engine air"
from = "plenum"
to = "bay"
element = [
  {{ kind = "fins", part = "engine block", reference_flow = "{} kg/s", conductance = "{conductance} W/K", pressure_drop = "1e-6 Pa" }},
  {{ kind = "loss", area = "500 cm2", k = 8 }},
]
[[passage]]
name = "exit"
from = "bay"
to = "outside"
element = [{{ kind = "exit", area = "{}", pressure_coefficient = {}, discharge = 0.62 }}]
{more}"#,
        864.0 / q,
        1.2 * asked,
        area(exit),
        -144.0 / q
    )
    .replace("engine block = \"0", "\"engine block\" = \"0")
}

/// K 0.6 on 0.02 m², the head that is lost in the plenum included.
const INLET: &str = r#"{ kind = "loss", area = "200 cm2", k = -0.4 }"#;
/// The velocity in the inlet is lost: K 1 on its own area, whatever that is.
const FREE_INLET: &str = r#"{ kind = "step" }"#;
/// The inlet may not change.
const HELD: &str =
    "[size]\nfree = [\"inlet\"]\nleast_area = { inlet = \"200 cm2\" }\nmost_area = { inlet = \"200 cm2\" }\n";

fn studied(text: &str) -> Exits {
    exits(&read(text, &[]), 24, &|_| {}).expect("studied")
}

/// Reference: computed with scipy's root finder on the same balance. Tolerance: every margin keeps a spare, which
/// for so little heat is 8e-5 of the flow, and three times that of the exit.
#[test]
fn the_exit_that_gives_half_a_cubic_metre_a_second() {
    let found = studied(&case(0.5, INLET, 0.03, ""));
    within("inlet as drawn", found.smallest_safe_as_drawn_m2.expect("found"), 0.040_072_9, 3e-4);
    let held = studied(&case(0.5, INLET, 0.03, HELD));
    within("inlet held by its bounds", held.smallest_safe_m2.expect("found"), 0.040_072_9, 6e-4);
    assert!(held.reasons.smallest_safe.contains("engine block in only"), "{}", held.reasons.smallest_safe);
}

/// An exit without end passes 0.573944 m³/s: 0.57 can be had, from 1008/(0.6 · 0.57²) − 5100 = 1/(0.62 A)²
/// with A = 0.1915 m², and 0.575 or 0.65 cannot.
#[test]
fn no_exit_gives_more_than_the_rest_lets_through() {
    let much = studied(&case(0.57, INLET, 0.03, HELD));
    let exit = (1.0_f64 / (1008.0 / (0.6 * 0.57 * 0.57) - 5100.0)).sqrt() / 0.62;
    within("0.57 m³/s", much.smallest_safe_m2.expect("found"), exit, 4e-3);
    for asked in [0.575, 0.65] {
        let found = studied(&case(asked, INLET, 0.03, HELD));
        assert!(found.smallest_safe_m2.is_none() && found.knee_m2.is_none(), "{asked}");
        assert!(found.smallest_safe_as_drawn_m2.is_none());
        assert!(found.points.iter().all(|p| !p.feasible && p.inlet_area_m2.is_none() && !p.reached_as_drawn));
        assert!(found.pressure[0].sentence.contains("no exit area"), "{}", found.pressure[0].sentence);
    }
}

/// With the inlet free and K 1 on it, 1/a² + 1/(0.62 A)² = 1008/0.15 − 3600 = 3120. a + A is least where
/// a = 0.62^⅔ A. With a at its largest, 0.25 m², A is smallest.
#[test]
fn knee_and_smallest_safe_exit_by_hand() {
    let found = studied(&case(0.5, FREE_INLET, 0.03, ""));
    let ratio = 0.62_f64.powf(2.0 / 3.0);
    let exit = ((1.0 / (ratio * ratio) + 1.0 / (0.62 * 0.62)) / 3120.0).sqrt();
    // the sum is flat there: its places are known to the root of its own closeness
    within("knee", found.knee_m2.expect("found"), exit, 3e-3);
    within("its inlet", found.inlet_area_at_knee_m2.expect("found"), ratio * exit, 3e-3);
    let both = found.knee_m2.expect("found") + found.inlet_area_at_knee_m2.expect("found");
    within("both together", both, (1.0 + ratio) * exit, 2e-4);
    let smallest = 1.0 / ((3120.0_f64 - 16.0).sqrt() * 0.62);
    within("smallest that will do", found.smallest_safe_m2.expect("found"), smallest, 5e-4);
    // the spare of 2e-5 W beside 0.4 W is 8e-5 of the flow, and twice that of the 6720 of all resistances
    for point in found.points.iter().filter(|p| p.feasible) {
        let rest = 3120.0 - 1.0 / (0.62 * point.exit_area_m2).powi(2);
        let inlet = point.inlet_area_m2.expect("found");
        assert!((1.0 / (inlet * inlet) - rest).abs() < 1.1, "{inlet} at {}", point.exit_area_m2);
    }
    // within 5 % of what an exit without end needs, 1/√3120
    let inlet = 1.05 / 3120.0_f64.sqrt();
    let pointless = 1.0 / (0.62 * (3120.0 - 1.0 / (inlet * inlet)).sqrt());
    within("nothing gained beyond", found.pointless_m2.expect("found"), pointless, 0.03);
    assert!(!found.inlets_from_size && found.remarks[0].contains("no [size]"), "{:?}", found.remarks);
}

/// As drawn with 0.05 m²: 864 − p = 0.15 (5100 + 1/(0.62 · 0.05)²) at the highest pressure p behind that will
/// do; 0.05 of q more must be made up by the exit alone.
#[test]
fn the_pressure_to_keep_by_hand() {
    let found = studied(&case(0.5, INLET, 0.05, ""));
    let place = &found.pressure[0];
    assert!(place.sizes_as_drawn);
    let q = 144.0 / -place.pressure_coefficient;
    let keep = (864.0 - 0.15 * (5100.0 + 1.0 / (0.62_f64 * 0.05).powi(2))) / q;
    assert!((place.keep_at_or_below.expect("found") - keep).abs() < 3e-4);
    let drive = 864.0 - (keep + 0.05) * q;
    let exit = 1.0 / (0.62 * (drive / 0.15 - 5100.0).sqrt());
    within("0.05 more", place.exit_for_0_05_more_m2.expect("found"), exit - 0.05, 5e-3);
    assert!(
        place.sentence.contains("keep the pressure coefficient there at or below −0.06"),
        "{}",
        place.sentence
    );
    assert!(place.sentence.contains("each 0.05 more costs 10"), "{}", place.sentence);
}
