//! A first estimate before there is a case: heat, air and openings as ranges from the power alone,
//! and from whatever else is known.
//!
//! ```text
//!   Q = s F_r (F/F_r)ⁿ      as the engine of a case has it
//!   ṁ = Q/(c_p ε (T_limit − T_in))      air that carries Q with the part at its limit
//!   A_in = ṁ/(ρ V_in)      V_in = ratio × V, with a fan at least its own
//!   Δp = p_fan + q (recovery − C_p,exit) = through + exit
//!   A_exit = ṁ/(ρ_hot C_d V_jet)      V_jet = √(2 Δp_exit/ρ_hot)
//! ```
//!
//! Everything physical is done by the functions that a case uses ([`crate::engine`],
//! [`crate::air`], [`crate::correlations`]); what a case would measure stands as a share or a
//! coefficient with a band in [`tables`]. The ranges are formed as [`METHOD`] says.

mod bands;
mod inputs;
mod reckon;
pub mod result;
pub mod tables;

pub use bands::METHOD;
pub use inputs::{EstimateValue, Fault, Inputs};
pub use reckon::{PARTS, WAYS};

use super::document::Program;
use crate::engine::tables::BRAKE_EFFICIENCY;
use bands::Variants;
use reckon::{DrivenWay, EstimatePoint, Reckoned};
use result::{
    DrivenBy, Estimate, EstimateFan, EstimateMoment, EstimateMomentName, EstimatePart, ExitAgainstInlet,
    FigureRange, GuessDecides, OpenFrame, PartAir, PartOpenings, Rest,
};

/// Air to fuel by mass that an engine can run on (common practice).
const AIR_FUEL_SENSE: std::ops::RangeInclusive<f64> = 10.0..=17.0;

/// Which guesses are named for a figure.
const NAMED: usize = 3;

/// Makes an estimate, with these of the [`WAYS`] side by side.
pub fn estimate(inputs: &Inputs, ways: &[EstimateFan]) -> Estimate {
    let variants = Variants::new(inputs);
    let speed = |key| inputs.get(key).map_or(f64::NAN, |value| value.likely);
    let moments = vec![
        moment(EstimateMomentName::Slow, speed(&tables::SLOW), &variants, ways, |reckoned| &reckoned.slow),
        moment(EstimateMomentName::Fast, speed(&tables::FAST), &variants, ways, |reckoned| &reckoned.fast),
    ];
    let notes = notes(inputs, &moments);
    Estimate {
        program: Program { name: env!("CARGO_PKG_NAME"), version: env!("CARGO_PKG_VERSION") },
        ranges: METHOD,
        decides: decides(&variants),
        notes,
        rests_on: inputs.values.iter().filter(|value| is_used(value, ways)).map(rest).collect(),
        moments,
    }
}

/// Whether a value has a part in what is shown of these ways.
fn is_used(value: &EstimateValue, ways: &[EstimateFan]) -> bool {
    let name = value.key.name;
    let any_fan = ways.iter().any(|way| *way != WAYS[0]);
    match name {
        _ if name == tables::DRIVEN_FAN.name => ways.contains(&WAYS[1]),
        _ if name == tables::ELECTRIC_FAN.name => ways.contains(&WAYS[2]),
        _ if name == tables::FAN_EFFICIENCY.name || name == tables::FAN_INLET_SPEED.name => any_fan,
        _ => true,
    }
}

fn rest(value: &EstimateValue) -> Rest {
    let show = |number| value.kind().show(number);
    Rest {
        key: value.key.name,
        help: value.key.help,
        value: show(value.likely),
        low: show(value.low),
        high: show(value.high),
        given: value.given,
        source: value.source,
    }
}

fn moment(
    name: EstimateMomentName,
    speed: f64,
    variants: &Variants,
    ways: &[EstimateFan],
    at: impl Fn(&Reckoned) -> &EstimatePoint + Copy,
) -> EstimateMoment {
    let band = |figure: &dyn Fn(&EstimatePoint) -> f64| variants.band(|reckoned| figure(at(reckoned)));
    let part = |index: usize, part: EstimatePart| PartAir {
        part,
        heat_W: band(&|at| at.heat[index]),
        mass_flow_kg_s: band(&|at| at.flow[index]),
        volume_flow_m3_s: band(&|at| at.volume[index]),
        rise_K: band(&|at| at.rise[index]),
    };
    let way = |index: usize, fan: EstimateFan| {
        driven(fan, &|figure: &dyn Fn(&DrivenWay) -> f64| {
            variants.band(|reckoned| figure(&at(reckoned).ways[index]))
        })
    };
    EstimateMoment {
        name,
        speed_m_s: speed,
        brake_power_W: band(&|at| at.brake),
        fuel_power_W: band(&|at| at.fuel),
        combustion_air_kg_s: band(&|at| at.combustion),
        air_fuel_ratio: variants.likely(|reckoned| at(reckoned).air_fuel),
        dynamic_pressure_Pa: band(&|at| at.dynamic_pressure),
        parts: named().map(|(index, name)| part(index, name)).collect(),
        rest_heat_W: band(&|at| at.rest_heat),
        rest_rise_K: band(&|at| at.rest_rise),
        air_per_rated_power_kg_s_W: band(&|at| at.per_power),
        ways: WAYS
            .iter()
            .enumerate()
            .filter(|(_, name)| ways.contains(name))
            .map(|(index, name)| way(index, *name))
            .collect(),
        open_frame: OpenFrame {
            over_fins_Pa: band(&|at| at.over_fins),
            flow_ratio: band(&|at| at.flow_ratio),
            stream_m2: band(&|at| at.stream),
        },
    }
}

/// Indices and names of the parts, and of all together.
fn named() -> impl Iterator<Item = (usize, EstimatePart)> {
    PARTS.iter().copied().chain([EstimatePart::All]).enumerate()
}

/// A figure of a way of driving the air.
type Figure<'f> = &'f dyn Fn(&DrivenWay) -> f64;

fn driven(fan: EstimateFan, band: &dyn Fn(Figure) -> FigureRange) -> DrivenBy {
    DrivenBy {
        fan,
        fan_Pa: band(&|way| way.fan),
        available_Pa: band(&|way| way.available),
        through_Pa: band(&|way| way.through),
        exit_Pa: band(&|way| way.for_exit),
        inlet_speed_m_s: band(&|way| way.inlet_speed),
        jet_speed_m_s: band(&|way| way.jet_speed),
        fan_power_W: (fan != WAYS[0]).then(|| band(&|way| way.fan_power)),
        openings: named()
            .map(|(index, part)| PartOpenings {
                part,
                inlet_m2: band(&|way| way.inlet[index]),
                exit_m2: band(&|way| way.exit[index]),
            })
            .collect(),
        exit_against_inlet: ExitAgainstInlet {
            ratio: band(&|way| way.ratio),
            heating: band(&|way| way.heating),
            discharge: band(&|way| way.discharge),
            speed: band(&|way| way.speed),
        },
    }
}

fn decides(variants: &Variants) -> Vec<GuessDecides> {
    let movers =
        |figure, of: &dyn Fn(&Reckoned) -> f64| GuessDecides { figure, keys: variants.movers(of, NAMED) };
    vec![
        movers("air at full power", &|reckoned| reckoned.fast.flow[3]),
        movers("air in the slow corner", &|reckoned| reckoned.slow.flow[3]),
        movers("inlets in the slow corner, ram alone", &|reckoned| reckoned.slow.ways[0].inlet[3]),
        movers("exits in the slow corner, ram alone", &|reckoned| reckoned.slow.ways[0].exit[3]),
    ]
}

/// What looks odd in what was given.
fn notes(inputs: &Inputs, moments: &[EstimateMoment]) -> Vec<String> {
    let mut notes = Vec::new();
    let ratio = moments.last().map_or(f64::NAN, |moment| moment.air_fuel_ratio);
    if inputs.get(&tables::DISPLACEMENT).is_some() && !AIR_FUEL_SENSE.contains(&ratio) {
        notes.push(format!(
            "the engine would breathe {ratio:.0} kg of air for each kg of fuel; engines run on 10 to 17 (common practice): check power, displacement, rpm and strokes, or set brake_efficiency"
        ));
    }
    if inputs.get(&BRAKE_EFFICIENCY).is_some_and(|value| value.likely > 0.35) {
        notes.push("a brake efficiency over 35 % at full throttle is rare in an air-cooled engine: less heat than is likely follows from it".into());
    }
    notes
}
