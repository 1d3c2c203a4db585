//! An air-cooled engine in flight: Schey & Pinkel (NACA, 1936), printed in the abstract, which alone was read: at constant
//! engine speed, brake fuel consumption, air temperature and cooling air the difference between head and air temperature
//! goes with brake power to 0.38, and with the air to −0.39 (heads) and −0.35 (barrels).

use crate::published::support::{below, between, within};
use slowcorner::case::load;
use slowcorner::point::{Model, Operation, PointSolver};

/// Fins of an invented head, known by their figures.
const MEASURED: Finned = Finned {
    part: "heads",
    share: 12.0,
    limit: 230.0,
    source: 600.0,
    fins: r#"reference_flow = "0.35 kg/s", conductance = "110 W/K", pressure_drop = "300 Pa""#,
    flow: 0.35,
};
/// The same known by their geometry: a cast head of four cylinders.
const HEADS: Finned = Finned {
    source: 620.0,
    fins: r#"fin_pitch = "7 mm", fin_thickness = "2.2 mm", fin_length = "32 mm", root_diameter = "96 mm", fin_count = 11, cylinders = 4"#,
    ..MEASURED
};
/// Barrels of steel with shorter, closer fins.
const BARRELS: Finned = Finned {
    part: "barrels",
    share: 6.0,
    limit: 170.0,
    source: 315.0,
    fins: r#"fin_pitch = "5 mm", fin_thickness = "1.4 mm", fin_length = "18 mm", root_diameter = "92 mm", fin_count = 14, cylinders = 4, conductivity = "45 W/(m K)""#,
    flow: 0.3,
};

/// A finned part of an invented engine, its heat share (%), limit and source temperature (°C; those of HEADS and
/// BARRELS are the effective gas temperatures of Pinkel, NACA TR 612, from memory).
struct Finned {
    part: &'static str,
    share: f64,
    limit: f64,
    source: f64,
    fins: &'static str,
    flow: f64,
}

/// Temperature difference of a finned part [K] against a forced air flow and a power, both as
/// shares of a middling state: the flow is set by a reservoir-like fan so that only the heat law counts.
fn difference(finned: &Finned, power: f64, flow: f64) -> f64 {
    let Finned { part, share, limit, source, fins, flow: whole } = finned;
    let text = format!(
        r#"format = 1
[day]
temperature = "20 degC"
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "{} kW"], ["5000 rpm", "{} kW"]]
power_basis = "as-measured"
friction_pressure = "0 bar"
[engine.heat]
{part} = "{share} %"
[part.{part}]
limit = "{limit} degC"
source_temperature = "{source} degC"
chamber = "outside"
[[passage]]
name = "only"
from = "outside"
to = "engine"
element = [{{ kind = "ram-inlet", area = "400 cm2" }},
  {{ kind = "fins", part = "{part}", {fins} }},
  {{ kind = "demand", flow = "{} kg/s" }}]
"#,
        16.0,
        40.0,
        whole * flow
    );
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}"));
    let operation = Operation::at_speed(&case, 40.0, 5000.0, power);
    let mut solver = PointSolver::new(&model);
    solver.prepare(&model, &operation);
    solver.solve().expect("solved");
    solver.state.part_temperature(0) - solver.free_stream.total_temperature
}

fn exponent(at: impl Fn(f64) -> f64) -> f64 {
    (at(0.9) / at(0.85)).ln() / (0.9_f64 / 0.85).ln()
}

#[test]
fn exponents_of_power_and_air_beside_those_of_the_flights() {
    // Allowed: 0.02 on the exponent worked out by hand; for the air the band around effectiveness and falling heat. The
    // printed figures are not met and are not what is asserted here.
    let by_power = exponent(|x| difference(&MEASURED, x, 1.0));
    let by_air = exponent(|x| difference(&MEASURED, 1.0, x));
    // The model: heat goes with the fuel's heat to 0.75, and falls as the head nears the 600 °C of its
    // source, so that the difference goes with less than 0.75. Fuel consumption was constant in the flights, so that no
    // richer mixture explains their 0.38: what is left stays a difference, 0.14 of the exponent here.
    within("by power, by hand", by_power, 0.52, 0.02);
    // Fins of conductance exponent 0.65 at an effectiveness of a quarter carry heat with the flow to
    // about 0.7; the falling heat of a hotter head takes a good third off that.
    between("by air", by_air, -0.55, -0.33);
}

#[test]
fn heads_and_barrels_from_their_geometry() {
    // Allowed: 0.005 on what follows by hand from the model; of the printed exponents of the air 0.08 and 0.05 for
    // other fins; the exponent of the power lies above the printed one by up to 0.17 and 0.08, a difference that is
    // left.
    let exponents = |finned: &Finned| {
        let by_power = exponent(|x| difference(finned, x, 1.0));
        let by_air = exponent(|x| difference(finned, 1.0, x));
        // By hand: the heat offered goes with power^0.75, the heat carried with the air to some n, and a part takes
        // less as it nears its source: both exponents shrink by (T_source − T)/(T_source − T_air). At 40 m/s the
        // air is met at 20.8 °C.
        let (source, air) = (finned.source, 20.8);
        let rise = difference(finned, (0.85_f64 * 0.9).sqrt(), 1.0);
        let shrunk = (source - air - rise) / (source - air);
        within(&format!("{} by power, by hand", finned.part), by_power, 0.75 * shrunk, 0.005);
        between(&format!("{} by air, unshrunk", finned.part), -by_air / shrunk, 0.55, 0.75);
        (by_power, by_air)
    };
    let (heads_by_power, heads_by_air) = exponents(&HEADS);
    let (barrels_by_power, barrels_by_air) = exponents(&BARRELS);
    // Printed: 0.38 with power (the abstract does not part heads and barrels), −0.39 and −0.35 with the air. The
    // model lies above in size, more so with power and for the heads: its heat offered goes with the fuel's heat to
    // 0.75. The difference is left: see the_exponent_that_the_flights_ask_for. Aero-engine fins are longer and closer
    // than these, of lower efficiency, which falls further as the air rises.
    between("heads by power (printed 0.38)", heads_by_power, 0.38, 0.55);
    between("barrels by power (printed 0.38)", barrels_by_power, 0.38, 0.46);
    within("heads by air", heads_by_air, -0.39, 0.08);
    within("barrels by air", barrels_by_air, -0.35, 0.05);
    // as in the flights, barrels gain less from more air than heads
    below("barrels by air over heads by air", barrels_by_air / heads_by_air, 1.0);
}

/// With the exponent of the heat at the two ends of its probable band (0.55 and 0.95) and at 0.75: what the flights
/// ask for lies at the low end, and within the band for the barrels alone.
#[test]
fn the_exponent_that_the_flights_ask_for() {
    // Worked out from the printed 0.38.
    // Allowed: 0.03, two digits of an exponent from two digits.
    let asked = |finned: &Finned| {
        let by_power = exponent(|x| difference(finned, x, 1.0));
        // both exponents go together: 0.75 gives by_power, 0.38 is given by
        0.75 * 0.38 / by_power
    };
    let (heads, barrels) = (asked(&HEADS), asked(&BARRELS));
    within("heads ask for", heads, 0.55, 0.03);
    within("barrels ask for", barrels, 0.66, 0.03);
}

#[test]
fn more_power_at_the_same_head_needs_more_air() {
    // From the printed exponents: +20 % power at the same difference asks for 1.2^(0.38/0.39) = 1.194 × the
    // air. Here both exponents are somewhat larger in the same proportion.
    // Allowed: 1.10 to 1.35, as both exponents are larger here than in the flights and not in quite the same
    // proportion.
    let wanted = difference(&MEASURED, 0.8, 1.0);
    let (mut low, mut high) = (1.0, 3.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if difference(&MEASURED, 0.96, middle) > wanted { low = middle } else { high = middle }
    }
    between("air for 20 % more power (printed 1.194)", low, 1.10, 1.35);
}

#[test]
fn airflow_of_the_rule_of_thumb() {
    // 0.012 to 0.03 kg/s for each kW of brake power (common practice), and 0.99 kg/s for 100 kW at 25 %
    // brake efficiency with 15 % of the fuel's heat into air that warms by 60 K (computed).
    // Worked out by hand.
    // Allowed: 1 %, rounding; the band is that of common practice.
    let text = r#"format = 1
[day]
temperature = "20 degC"
[engine]
displacement = "2500 cm3"
power = [["2000 rpm", "40 kW"], ["5000 rpm", "100 kW"]]
power_basis = "as-measured"
[engine.heat]
bay = "15 %"
[chamber.bay]
skin_conductance = "0 W/K"
[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{ kind = "ram-inlet", area = "400 cm2" }]
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "400 cm2" }]
"#;
    let case = load(text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}"));
    let mut solver = PointSolver::new(&model);
    // the road speed at which the air warms by 60 K
    let (mut low, mut high) = (5.0, 120.0);
    for _ in 0..60 {
        let speed = 0.5 * (low + high);
        solver.prepare(&model, &Operation::at_speed(&case, speed, 5000.0, 1.0));
        solver.solve().expect("solved");
        let rise = solver.state.chamber_temperature(0) - solver.free_stream.total_temperature;
        if rise > 60.0 { low = speed } else { high = speed }
    }
    let flow = solver.state.flow[0];
    within("kg/s", flow, 0.99, 0.01);
    // a lightly loaded engine: just below the band of the rule of thumb, within which 20 % would put it
    between("kg/s for each kW with 20 % into the air", flow / 100.0 * 20.0 / 15.0, 0.012, 0.03);
}
