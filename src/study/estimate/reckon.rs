//! The reckoning for one set of values: plain numbers in, plain numbers out.

use super::tables as t;
use crate::air::{Air, standard_atmosphere};
use crate::case::tables::ALTITUDE;
use crate::correlations::jet::expanded_speed;
use crate::correlations::piston_engine::swept_volume_flow;
use crate::element::{exit, fan, fins};
use crate::engine::{Engine, Power, Running, tables as engine};
use crate::keys::Key;
use crate::study::estimate::result::{EstimateFan, EstimatePart};

/// Kinds of part, in the order of the arrays.
pub const PARTS: [EstimatePart; 3] = [EstimatePart::Heads, EstimatePart::Barrels, EstimatePart::Oil];
/// Ways of driving the air, in the order of the arrays.
pub const WAYS: [EstimateFan; 3] = [EstimateFan::None, EstimateFan::Driven, EstimateFan::Electric];
/// Density for which a fan's pressure is told (kg/m³).
const FAN_DENSITY: f64 = 1.2;

/// Values by key.
pub(super) struct ValueSet<'a> {
    pub values: Vec<(&'a str, f64)>,
}

impl ValueSet<'_> {
    fn find(&self, key: &Key) -> Option<f64> {
        self.values.iter().find(|(name, _)| *name == key.name).map(|(_, value)| *value)
    }

    /// A value that is given or assumed; not-a-number would show a fault of the program.
    fn get(&self, key: &Key) -> f64 {
        self.find(key).unwrap_or(f64::NAN)
    }
}

/// One way of driving the air.
#[derive(Clone, Copy, Debug)]
pub(super) struct DrivenWay {
    pub fan: f64,
    pub available: f64,
    pub through: f64,
    pub for_exit: f64,
    pub inlet_speed: f64,
    pub jet_speed: f64,
    pub fan_power: f64,
    /// By part, then all through one opening.
    pub inlet: [f64; 4],
    pub exit: [f64; 4],
    pub ratio: f64,
    pub heating: f64,
    pub discharge: f64,
    pub speed: f64,
}

/// One moment.
#[derive(Clone, Copy, Debug)]
pub(super) struct EstimatePoint {
    pub brake: f64,
    pub fuel: f64,
    pub combustion: f64,
    pub air_fuel: f64,
    pub dynamic_pressure: f64,
    /// By part, then all.
    pub heat: [f64; 4],
    pub flow: [f64; 4],
    pub volume: [f64; 4],
    pub rise: [f64; 4],
    pub rest_heat: f64,
    pub rest_rise: f64,
    pub per_power: f64,
    pub ways: [DrivenWay; 3],
    pub over_fins: f64,
    pub flow_ratio: f64,
    pub stream: f64,
}

/// The slow corner and full power.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reckoned {
    pub slow: EstimatePoint,
    pub fast: EstimatePoint,
}

/// Reckons both moments.
pub(super) fn reckon(set: &ValueSet) -> Reckoned {
    let pressure = standard_atmosphere::pressure(set.get(&ALTITUDE));
    let air = Air::new(pressure, set.get(&t::AIR_TEMPERATURE), 0.0, 0.0);
    let engine = engine_of(set);
    let revs = set.get(&t::SLOW_REVS);
    let load = set.get(&t::SLOW_LOAD);
    // the power is that of the day: no correction to another air
    let slow = engine.running(revs * engine.peak_rpm, load, 1.0);
    let fast = engine.running(engine.peak_rpm, 1.0, 1.0);
    let at = |running, speed, revs| moment(set, &air, &engine, running, speed, revs);
    Reckoned { slow: at(slow, set.get(&t::SLOW), revs), fast: at(fast, set.get(&t::FAST), 1.0) }
}

fn engine_of(set: &ValueSet) -> Engine {
    let (power, rpm, strokes) = (set.get(&t::POWER), set.get(&t::RPM), set.get(&engine::STROKES));
    // P = p_e V̇ gives the displacement that the mean effective pressure stands for
    let displacement = set
        .find(&t::DISPLACEMENT)
        .unwrap_or_else(|| power / (set.get(&t::BRAKE_PRESSURE) * swept_volume_flow(1.0, rpm, strokes)));
    Engine {
        power: Power::Peak { power, rpm },
        peak_power: power,
        peak_rpm: rpm,
        standard_air: false,
        displacement,
        strokes,
        brake_efficiency: set.get(&engine::BRAKE_EFFICIENCY),
        volumetric_efficiency: set.find(&engine::VOLUMETRIC_EFFICIENCY).unwrap_or(0.0),
        friction_pressure: set.get(&engine::FRICTION_PRESSURE),
        heat_exponent: set.get(&engine::HEAT_EXPONENT),
        shares_of_brake_power: false,
        total_share: set.get(&t::HEAT_SHARE) + set.get(&t::REST_SHARE),
        friction_share: shares(set)[OIL] * set.get(&t::FROM_FRICTION),
    }
}

/// Place of the oil among heads, barrels and oil.
const OIL: usize = 2;

/// Heat shares of heads, barrels and oil.
fn shares(set: &ValueSet) -> [f64; 3] {
    let all = set.get(&t::HEAT_SHARE);
    let oil = all * set.get(&t::OIL_PART);
    let heads = (all - oil) * set.get(&t::HEADS_PART);
    [heads, all - oil - heads, oil]
}

/// By how much the air warms over heads, barrels and cooler, each part at its limit.
fn rises(set: &ValueSet, incoming: f64) -> [f64; 3] {
    if let Some(rise) = set.find(&t::RISE) {
        return [rise; 3];
    }
    let above_mean = set.get(&t::HOTTEST_ABOVE_MEAN);
    [
        (&t::HEADS_LIMIT, above_mean, &t::HEADS_EFFECTIVENESS),
        (&t::BARRELS_LIMIT, above_mean, &t::BARRELS_EFFECTIVENESS),
        (&t::OIL_LIMIT, 0.0, &t::OIL_EFFECTIVENESS),
    ]
    .map(|(limit, above, effectiveness)| set.get(effectiveness) * (set.get(limit) - above - incoming))
}

/// Heat a second to warm a flow: ṁ c_p ΔT; here the flow that a heat asks for. None is no flow.
fn flow_for(heat: f64, air: &Air, rise: f64) -> f64 {
    if rise > 0.0 { heat / (air.heat_capacity * rise) } else { f64::INFINITY }
}

fn with_sum(parts: [f64; 3]) -> [f64; 4] {
    [parts[0], parts[1], parts[2], parts.iter().sum()]
}

fn moment(
    set: &ValueSet,
    air: &Air,
    engine: &Engine,
    running: Running,
    speed: f64,
    revs: f64,
) -> EstimatePoint {
    let incoming = air.total_temperature(speed);
    let q = air.dynamic_pressure(speed);
    let mut heat = shares(set).map(|share| running.heat(share, 0.0));
    heat[OIL] = running.heat(shares(set)[OIL], set.get(&t::FROM_FRICTION));
    let rises = rises(set, incoming);
    let mut flow = [0.0; 3];
    for part in 0..3 {
        flow[part] = flow_for(heat[part], air, rises[part]);
    }
    let (heat, flow) = (with_sum(heat), with_sum(flow));
    let mean_rise = heat[3] / (air.heat_capacity * flow[3]);
    let rest_heat = running.heat(set.get(&t::REST_SHARE), 0.0);
    let rest_rise = rest_heat / (air.heat_capacity * flow[3]);
    let combustion = match set.find(&t::DISPLACEMENT) {
        Some(_) => running.breathed * air.density_at(incoming),
        None => running.fuel_flow() * set.get(&t::AIR_FUEL),
    };
    let rise = [rises[0], rises[1], rises[2], mean_rise];
    let stream = DesignStream { air, incoming, q, speed, flow, rise, rest_rise };
    let fans = [0.0, set.get(&t::DRIVEN_FAN) * fan::affinity(revs, 1.0), set.get(&t::ELECTRIC_FAN)]
        .map(|pressure| pressure * fan::affinity(1.0, air.density_at(incoming) / FAN_DENSITY));
    let ways = fans.map(|fan| way(set, &stream, fan));
    let over_fins = q * (1.0 - set.get(&t::OPEN_PRESSURE));
    EstimatePoint {
        brake: running.brake_power,
        fuel: running.fuel_power,
        combustion,
        air_fuel: combustion / running.fuel_flow(),
        dynamic_pressure: q,
        heat,
        flow,
        volume: flow.map(|flow| flow / air.density()),
        rise,
        rest_heat,
        rest_rise,
        per_power: flow[3] / engine.peak_power,
        ways,
        over_fins,
        // Δp ∝ ṁˣ through the same fins
        flow_ratio: positive(over_fins / ways[0].through).powf(1.0 / set.get(&fins::PRESSURE_EXPONENT)),
        stream: flow[3] / (air.density() * speed),
    }
}

/// What the openings are sized for.
struct DesignStream<'a> {
    air: &'a Air,
    incoming: f64,
    q: f64,
    speed: f64,
    flow: [f64; 4],
    rise: [f64; 4],
    rest_rise: f64,
}

fn way(set: &ValueSet, stream: &DesignStream, fan: f64) -> DrivenWay {
    let ram = stream.q * (set.get(&t::RECOVERY) - set.get(&t::EXIT_PRESSURE));
    let available = fan + ram;
    let through = set.get(&t::THROUGH_SHARE) * available;
    let for_exit = available - through;
    let by_ram = set.get(&t::VELOCITY_RATIO) * stream.speed;
    let inlet_speed = if fan > 0.0 { by_ram.max(set.get(&t::FAN_INLET_SPEED)) } else { by_ram };
    let density = stream.air.density();
    let discharge = set.get(&exit::DISCHARGE);
    let (mut inlet, mut outlet) = ([0.0; 4], [0.0; 4]);
    let (mut hot, mut jet_speed) = (density, 0.0);
    for part in 0..4 {
        hot = stream.air.density_at(stream.incoming + stream.rise[part] + stream.rest_rise);
        jet_speed = expanded_speed(for_exit, hot);
        inlet[part] = stream.flow[part] / (density * inlet_speed);
        outlet[part] = positive(stream.flow[part] / (hot * discharge * jet_speed));
    }
    DrivenWay {
        fan,
        available,
        through,
        for_exit,
        inlet_speed,
        jet_speed,
        fan_power: fan * stream.flow[3] / density / set.get(&t::FAN_EFFICIENCY),
        inlet,
        exit: outlet,
        ratio: outlet[3] / inlet[3],
        heating: density / hot,
        discharge: 1.0 / discharge,
        speed: positive(inlet_speed / jet_speed),
    }
}

/// A figure that exists only where a pressure is left over: without bound where none is.
fn positive(value: f64) -> f64 {
    if value.is_finite() && value >= 0.0 { value } else { f64::INFINITY }
}
