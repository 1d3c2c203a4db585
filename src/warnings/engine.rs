//! The engine: power where it is known, heat that adds up, air that fits the fuel.

use super::condition::{SolvedCondition, address};
use super::file::shares_by_cooling;
use super::gather::{Finding, Findings};
use super::words;
use crate::case::{Case, tables as t};
use crate::element::demand;
use crate::engine::{Power, tables as e};
use crate::keys::figures;
use crate::point::gearing::Gearing;
use crate::point::model::{Demand, Model, day};

/// Band in which ISO 1585 accepts its power correction (from memory).
const CORRECTION: (f64, f64) = (0.93, 1.07);
/// Air over fuel by mass at which petrol engines run (common practice).
const AIR_FUEL: (f64, f64) = (10.0, 17.0);
/// Load up to which an engine counts as idling.
const IDLE: f64 = 0.1;
/// How far an engine speed that is given may lie from a gear's, and from that of the wheels (common practice: tyres slip by
/// some per cent).
const OFF_GEAR: (f64, f64) = (0.15, 0.03);
/// Share of the fuel's heat that cooled cylinders take at full power (common practice).
const COOLING_BAND: (f64, f64) = (0.10, 0.26);
/// Share of the fuel's heat that the oil takes at full power (common practice).
const OIL_BAND: (f64, f64) = (0.03, 0.10);

/// Looks at what the file says of the engine.
pub(super) fn look_at_file(case: &Case, model: &Model, gathered: &mut Findings) {
    look_at_correction(case, model, gathered);
    look_at_shares(model, gathered);
    look_at_intakes(case, model, gathered);
    if let Some(gearing) = Gearing::read(case, &model.engine).filter(|_| case.sweep.is_some()) {
        look_at_power(model, gearing.lowest, "the sweep's lowest engine speed", &mut |finding| {
            gathered.in_file(finding)
        });
        look_at_power(model, gearing.highest, "the sweep's highest engine speed", &mut |finding| {
            gathered.in_file(finding)
        });
    }
}

/// Looks at the engine of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    let condition = at.condition;
    let name = condition.name.as_str();
    if condition.rpm <= 0.0 {
        gathered.in_condition(
            name,
            Finding {
                code: "engine-stands",
                place: Some(address(at.case, at.values, &t::RPM)),
                seen: format!(
                    "the engine stands (0 rpm) and gives no heat, so that every margin is met, whatever the openings{}",
                    running_on(condition)
                ),
                what_to_do: "give the engine speed if it should run; what soaks out of a hot engine after stopping is a matter of time, not of this steady state".to_string(),
                size: 1.0,
            },
        );
        return;
    }
    look_at_speed(at, gathered);
    look_at_power(at.model, condition.rpm, "the engine speed", &mut |finding| {
        gathered.in_condition(name, finding);
    });
    look_at_gear(at, gathered);
    // near idle the mixture hangs on what the power curve says there, which nobody measures
    let ratio = condition.air_fuel_ratio.filter(|_| condition.load > IDLE);
    if let Some(ratio) = ratio {
        let beyond = (ratio - AIR_FUEL.1).max(AIR_FUEL.0 - ratio);
        if beyond > 0.0 {
            let (word, way) = if ratio < AIR_FUEL.0 {
                (
                    "rich",
                    "too little air for the power: a displacement or volumetric efficiency too small, a power too large (PS taken for kW?), or a brake efficiency too low",
                )
            } else {
                (
                    "lean",
                    "too much air for the power: a displacement or volumetric efficiency too large, a power too small (at the wheels?), or a brake efficiency too high",
                )
            };
            let efficiency = &at.case.engine;
            let by_fuel = efficiency.has(&e::FUEL_CONSUMPTION);
            let key = if by_fuel { &e::FUEL_CONSUMPTION } else { &e::BRAKE_EFFICIENCY };
            gathered.in_condition(
                name,
                Finding {
                    code: "air-fuel-ratio",
                    place: Some(address(at.case, efficiency, key)),
                    seen: format!(
                        "air over fuel comes out as {ratio:.1} by mass, too {word} for a petrol engine ({:.0} to {:.0})",
                        AIR_FUEL.0, AIR_FUEL.1
                    ),
                    what_to_do: format!("look for {way}"),
                    size: beyond,
                },
            );
        }
    }
    let running =
        at.model.engine.running(condition.rpm, condition.load, at.model.engine.air_factor(&at.operation.air));
    let delivered: f64 = condition.heat_to.iter().map(|(_, heat)| heat).sum();
    let excess = condition.brake_power_W + delivered - condition.fuel_power_W;
    if running.scaled >= 1.0 && excess > 1e-6 * condition.fuel_power_W {
        gathered.in_condition(
            name,
            Finding {
                code: "heat-over-fuel",
                place: Some("engine/heat".to_string()),
                seen: format!(
                    "brake power and the heat that the parts take there come to {} more than the fuel's heat of {}: parts far below the temperature of their share take more than it",
                    figures::power(excess),
                    figures::power(condition.fuel_power_W)
                ),
                what_to_do: "check share_at and source_temperature of the coldest part, and the heat shares".to_string(),
                size: excess,
            },
        );
    }
    if running.scaled < 1.0 {
        gathered.in_condition(
            name,
            Finding {
                code: "heat-scaled-down",
                place: Some("engine/heat".to_string()),
                seen: format!(
                    "brake power and heat shares would exceed the fuel's heat of {}; all shares were taken at {} of what they should be",
                    figures::power(running.fuel_power),
                    figures::close_share(running.scaled)
                ),
                what_to_do: "check load and engine speed there, friction_pressure (fuel burnt without load) and heat_exponent".to_string(),
                size: 1.0 - running.scaled,
            },
        );
    }
}

/// Fans that turn while the engine stands.
fn running_on(condition: &crate::point::result::Condition) -> String {
    let turning = condition.fans.iter().filter(|fan| fan.rpm > 0.0);
    let each: Vec<String> = turning.map(|fan| format!("{} at {:.0} rpm", fan.passage, fan.rpm)).collect();
    if each.is_empty() {
        String::new()
    } else {
        format!("; a fan runs on ({}), which fans = \"off\" would stop", each.join(", "))
    }
}

/// The engine speed against `[drive]`'s usable range.
fn look_at_speed(at: &SolvedCondition, gathered: &mut Findings) {
    let Some(drive) = &at.case.drive else { return };
    let view = at.case.view(drive);
    let rpm = at.condition.rpm;
    // a gear's engine speed is a product: a hair beyond the end is no excess
    let hair = 1e-9 * rpm;
    if let Some(highest) = view.number(&e::HIGHEST).filter(|highest| rpm > highest + hair) {
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "rpm-above-range",
                place: Some(address(at.case, drive, &e::HIGHEST)),
                seen: format!(
                    "the engine turns at {rpm:.0} rpm, above the {highest:.0} rpm given as highest"
                ),
                what_to_do:
                    "take a taller gear, check tyre_radius, final_drive and gears, or correct highest"
                        .to_string(),
                size: rpm / highest,
            },
        );
    }
    if let Some(lowest) = view.number(&e::LOWEST).filter(|lowest| rpm < lowest - hair) {
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "rpm-below-range",
                place: Some(address(at.case, drive, &e::LOWEST)),
                seen: format!("the engine turns at {rpm:.0} rpm, below the {lowest:.0} rpm given as lowest"),
                what_to_do: "take a lower gear, or give the rpm at which the clutch slips; an idling engine needs a small load to go with it".to_string(),
                size: lowest / rpm,
            },
        );
    }
}

/// An engine speed that is given beside a road speed, against the gears. A clutch that slips or is out is no slip of the pen.
fn look_at_gear(at: &SolvedCondition, gathered: &mut Findings) {
    let (Some(drive), Some(gearing)) = (&at.case.drive, Gearing::read(at.case, &at.model.engine)) else {
        return;
    };
    let (speed, rpm) = (at.operation.speed, at.condition.rpm);
    if !at.values.has(&t::RPM) || speed <= 0.0 || at.condition.load <= 0.02 {
        return;
    }
    let wheels = 60.0 * speed / (std::f64::consts::TAU * at.case.view(drive).required(&e::TYRE_RADIUS));
    let off = |turns: f64| (rpm / turns - 1.0).abs();
    let turns = || gearing.rpm_per_speed.iter().map(|ratio| ratio * speed).enumerate();
    let Some((gear, nearest)) = turns().min_by(|a, b| off(a.1).total_cmp(&off(b.1))) else { return };
    let first = turns().map(|(_, turns)| turns).fold(0.0, f64::max);
    let slipping = rpm > nearest && first < 1.5 * gearing.lowest;
    if off(nearest) <= OFF_GEAR.0 || slipping {
        return;
    }
    let of_the_wheels = off(wheels) <= OFF_GEAR.1;
    gathered.in_condition(
        &at.condition.name,
        Finding {
            code: "rpm-fits-no-gear",
            place: Some(address(at.case, at.values, &t::RPM)),
            seen: format!(
                "{rpm:.0} rpm at {} fit no gear: the nearest, gear {}, turns the engine at {nearest:.0} rpm{}",
                words::speed(speed),
                gear + 1,
                if of_the_wheels { format!(", and {wheels:.0} rpm is what the wheels turn at") } else { String::new() }
            ),
            what_to_do: "give gear instead, or check rpm (the engine's, not the wheels'), gears, final_drive and tyre_radius".to_string(),
            size: off(nearest),
        },
    );
}

/// An engine speed against the range in which the power is known.
fn look_at_power(model: &Model, rpm: f64, whose: &str, tell: &mut dyn FnMut(Finding)) {
    let (first, last) = model.engine.power.known();
    let hair = 1e-9 * rpm;
    let peak_only = matches!(model.engine.power, Power::Peak { .. });
    if rpm > last + hair {
        let taken = match model.engine.power.at(rpm) {
            // nothing burns there, and every margin is met for it
            0.0 => "no power, and so no heat".to_string(),
            power => figures::power(power),
        };
        let (place, seen) = if peak_only {
            (
                "engine/peak_power_at",
                format!(
                    "{whose} of {rpm:.0} rpm is {:.2} times that of peak power; the usual shape of a power curve is not to be trusted above 1.1 times, and gives {taken} there",
                    1.1 * rpm / last
                ),
            )
        } else {
            (
                "engine/power",
                format!(
                    "{whose} of {rpm:.0} rpm is above the last point of the power curve at {last:.0} rpm; its {taken} are taken there"
                ),
            )
        };
        tell(Finding {
            code: "power-above-curve",
            place: Some(place.to_string()),
            seen,
            what_to_do: "give points of power up to the highest engine speed used".to_string(),
            size: rpm / last,
        });
    }
    if rpm < first - hair {
        let taken = figures::power(model.engine.power.at(rpm));
        tell(Finding {
            code: "power-below-curve",
            place: Some("engine/power".to_string()),
            seen: format!(
                "{whose} of {rpm:.0} rpm is below the first point of the power curve at {first:.0} rpm; its {taken} are taken as full throttle there, and load is a share of that"
            ),
            what_to_do: "give a point of power at the lowest engine speed used".to_string(),
            size: first / rpm,
        });
    }
}

/// The power correction on the day, and on each condition's own day.
fn look_at_correction(case: &Case, model: &Model, gathered: &mut Findings) {
    if !model.engine.standard_air {
        return;
    }
    let finding = |factor: f64, place: String| {
        let beyond = (factor - CORRECTION.1).max(CORRECTION.0 - factor);
        // what is shown with three digits is judged with three
        (beyond > 5e-4).then(|| Finding {
            code: "power-correction-beyond-range",
            place: Some(place),
            seen: format!(
                "the power correction is α = {factor:.3}, outside {} to {} where ISO 1585 accepts it: the engine is taken to give {} of its stated power",
                CORRECTION.0,
                CORRECTION.1,
                figures::close_share(1.0 / factor)
            ),
            what_to_do: "take power and heat with care on such a day; if the power was measured in air like it, write power_basis = \"as-measured\"".to_string(),
            size: beyond,
        })
    };
    let day_itself = case.sweep.is_some() || case.conditions.is_empty();
    let factor = model.engine.air_factor(&day(case, None));
    if let Some(finding) = finding(factor, "day".to_string()).filter(|_| day_itself) {
        gathered.in_file(finding);
    }
    for condition in &case.conditions {
        let place = match condition.values.table(&t::CONDITION_DAY) {
            Some(own) => own.address.clone(),
            None => "day".to_string(),
        };
        let factor = model.engine.air_factor(&day(case, Some(&condition.values)));
        if let Some(finding) = finding(factor, place) {
            gathered.in_condition(&condition.name, finding);
        }
    }
}

/// Heat shares against what is usual.
fn look_at_shares(model: &Model, gathered: &mut Findings) {
    let (fins, cores) = shares_by_cooling(model);
    let mut judge = |code, sum: Option<f64>, band: (f64, f64), whose: &str| {
        let Some(sum) = sum.filter(|sum| *sum > 0.0) else { return };
        // sums of written percentages: a hair outside is inside
        let beyond = (sum - band.1).max(band.0 - sum);
        if beyond > 1e-6 {
            let side = if sum < band.0 { "less, and flatters the margins" } else { "more" };
            gathered.in_file(Finding {
                code,
                place: Some("engine/heat".to_string()),
                seen: format!(
                    "{whose} take {} of the fuel's heat at rated power; {} to {} is usual (common practice), this is {side}",
                    figures::close_share(sum),
                    figures::close_share(band.0),
                    figures::close_share(band.1)
                ),
                what_to_do: "check the shares, and whether they are of the fuel's heat or of brake power (heat_shares_of); keep them if they were measured".to_string(),
                size: beyond,
            });
        }
    };
    judge("cooling-share-unusual", fins, COOLING_BAND, "the parts with fins together");
    judge("oil-share-unusual", cores, OIL_BAND, "the parts with a core alone");
}

/// What the passages to the engine draw together.
fn look_at_intakes(case: &Case, model: &Model, gathered: &mut Findings) {
    let mut sum = 0.0;
    let mut fixed = 0;
    let mut sharing = 0;
    for demand in &model.demands {
        match demand {
            Demand::Share(share) => {
                sum += share;
                sharing += 1;
            }
            Demand::Fixed(_) => fixed += 1,
            Demand::None => {}
        }
    }
    // beside a fixed flow the rest may well be less than all
    let wrong = if fixed > 0 { sum > 1.0 + 1e-6 } else { (sum - 1.0_f64).abs() > 1e-6 };
    if sharing == 0 || !wrong {
        return;
    }
    let written = case.passages.iter().flat_map(|p| &p.elements).find(|v| v.has(&demand::SHARE));
    gathered.in_file(Finding {
        code: "engine-air-shares",
        place: written.map(|values| values.address_of(&demand::SHARE)),
        seen: format!(
            "{} to the engine, counted as often as {} there, draw {} of its air together",
            words::count(sharing, "passage"),
            if sharing == 1 { "it is" } else { "they are" },
            figures::close_share(sum)
        ),
        what_to_do: "make the shares add up to 100 %, or leave them all out: then all draw alike".to_string(),
        size: (sum - 1.0).abs(),
    });
}
