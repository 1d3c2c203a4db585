//! What shows in the case file alone: guesses that count, and names without a use.

use super::condition::{address, assumed};
use super::gather::{Finding, Findings};
use super::words;
use crate::air::{ZERO_CELSIUS, standard_atmosphere};
use crate::case::{Case, tables as t};
use crate::correlations::area_change;
use crate::element::{self, ElementKind, Law, OpeningLies};
use crate::keys::figures;
use crate::keys::{Kind, Values};
use crate::point::model::{Model, day};

/// Highest limit of an oil that needs no second look (°C, common practice).
const MOST_OIL: f64 = 160.0;
/// Highest limit of a finned part that needs none (°C, common practice).
const MOST_METAL: f64 = 280.0;

/// Looks at openings, parts, places and the air.
pub(super) fn look(case: &Case, model: &Model, gathered: &mut Findings) {
    look_at_openings(case, gathered);
    look_at_last_diffusers(case, model, gathered);
    look_at_parts(case, model, gathered);
    look_at_units_of_limits(case, model, gathered);
    look_at_dead_ends(case, gathered);
    look_at_places(case, gathered);
    look_at_pressure(case, gathered);
    look_at_wind(case, gathered);
}

fn look_at_openings(case: &Case, gathered: &mut Findings) {
    for passage in &case.passages {
        for (index, values) in passage.elements.iter().enumerate() {
            match passage.kind(index).and_then(ElementKind::takes_in) {
                Some(OpeningLies::Across) if assumed(case, values, &element::ram_inlet::RECOVERY) => {
                    let recovery = case.view(values).required(&element::ram_inlet::RECOVERY);
                    gathered.in_file(Finding {
                        code: "recovery-assumed",
                        place: Some(address(case, values, &element::ram_inlet::RECOVERY)),
                        seen: format!(
                            "no recovery is given and {recovery:.2} is taken, which is right only where the stream meets the opening head-on; 0.7 to 0.95 is usual elsewhere (from memory)"
                        ),
                        what_to_do: "give recovery here or at its place, from a flow picture or from a pitot tube held in the opening".to_string(),
                        size: recovery,
                    });
                }
                Some(OpeningLies::Sunk) => look_at_flush_inlet(case, values, gathered),
                Some(OpeningLies::Along) => look_at_wall_inlet(case, values, gathered),
                _ => {}
            }
        }
    }
}

/// A place's recovery is meant for openings that face the stream.
fn look_at_flush_inlet(case: &Case, values: &Values, gathered: &mut Findings) {
    let recovery = &element::flush_inlet::RECOVERY;
    let Some(found) = case.view(values).number(recovery) else { return };
    let at = address(case, values, recovery);
    if at == values.address_of(recovery) {
        return;
    }
    gathered.in_file(Finding {
        code: "flush-recovery-from-place",
        place: Some(values.address.clone()),
        seen: format!(
            "the recovery {found:.2} of {at} is taken as it is, the skin's slow air left aside; that is meant for an opening that faces the stream, and a submerged one recovers 0.8 to 0.9 behind a thin layer, 0.55 to 0.75 behind one as thick as its lip is high (from memory)"
        ),
        what_to_do: "write the recovery here if it was measured behind such a lip; else take it out of the place and give it to the inlets that face the stream".to_string(),
        size: found,
    });
}

/// Diffusers with nothing behind them but a chamber.
fn look_at_last_diffusers(case: &Case, model: &Model, gathered: &mut Findings) {
    for (passage, network) in case.passages.iter().zip(&model.network.passages) {
        let last = model.network.laws[network.elements.clone()].last();
        let (Some(values), Some(diffuser)) = (passage.elements.last(), last.and_then(Law::as_diffuser))
        else {
            continue;
        };
        if case.chamber(&passage.to).is_none() {
            continue;
        }
        let sudden = area_change::sudden_enlargement(diffuser.area_ratio());
        gathered.in_file(Finding {
            code: "diffuser-into-chamber",
            place: Some(values.address.clone()),
            seen: format!(
                "this diffuser opens straight into {}: K = {:.2} of its smaller area's velocity head is reckoned (before wall friction), which is right with a duct or a core behind it; into open space it loses several times that (a sudden widening by as much: K = {sudden:.2}, Borda and Carnot)",
                passage.to,
                diffuser.loss_coefficient()
            ),
            what_to_do: "put a duct of some diameters, a screen or the core right behind it, or write a step instead and be on the safe side".to_string(),
            size: sudden,
        });
    }
}

fn look_at_wall_inlet(case: &Case, values: &Values, gathered: &mut Findings) {
    let coefficient = case.view(values).required(&element::size::PRESSURE_COEFFICIENT);
    if coefficient < 0.0 {
        gathered.in_file(Finding {
            code: "inlet-in-suction",
            place: Some(address(case, values, &element::size::PRESSURE_COEFFICIENT)),
            seen: format!(
                "this place draws air out: the pressure coefficient {coefficient:+.2} at an inlet works against the air that should enter"
            ),
            what_to_do: "look for a place with a pressure above that of the day, or check the sign (suction is negative)".to_string(),
            size: -coefficient,
        });
    }
}

/// Limits that would suit another unit.
fn look_at_units_of_limits(case: &Case, model: &Model, gathered: &mut Findings) {
    for (index, part) in case.parts.iter().enumerate() {
        let cooled_by = |law: fn(&Law) -> bool| {
            let laws = model.network.laws.iter().zip(&model.part_of);
            laws.filter(|(_, named)| **named == Some(index)).any(|(element, _)| law(element))
        };
        let (most, what) = if cooled_by(|law| law.as_core().is_some()) {
            (MOST_OIL, "oil is commonly held to 105 to 120 °C, for a short while to 140 °C")
        } else if cooled_by(|law| law.as_fins().is_some()) {
            (MOST_METAL, "aluminium alloy weakens from about 260 °C")
        } else {
            continue;
        };
        let limit = case.view(&part.values).number(&t::LIMIT).map_or(0.0, |limit| limit - ZERO_CELSIUS);
        if limit > most {
            gathered.in_file(Finding {
                code: "limit-unusual",
                place: Some(address(case, &part.values, &t::LIMIT)),
                seen: format!(
                    "the limit is {}: {what} (common practice); {limit:.0} °F would be {:.0} °C",
                    words::celsius(limit),
                    (limit - 32.0) / 1.8
                ),
                what_to_do: "check the figure and its unit; keep it if the maker gives it".to_string(),
                size: limit - most,
            });
        }
    }
}

/// Chambers that one passage alone joins: no air moves through it.
fn look_at_dead_ends(case: &Case, gathered: &mut Findings) {
    for chamber in &case.chambers {
        let joins =
            |passage: &&crate::case::PassageTable| passage.from == chamber.name || passage.to == chamber.name;
        let mut joining = case.passages.iter().filter(joins);
        if let (Some(only), None) = (joining.next(), joining.next()) {
            gathered.in_file(Finding {
                code: "chamber-dead-end",
                place: Some(only.values.address.clone()),
                seen: format!("the chamber {} has this one passage and no other (1 way), so that no air moves through it", chamber.name),
                what_to_do: "check the chamber's name in from and to, or write the passage by which its air leaves or comes".to_string(),
                size: 1.0,
            });
        }
    }
}

/// Words by which a part that holds oil is known.
const OIL: &[&str] = &["oil", "sump", "crankcase", "gearbox"];

/// What of a part's heat goes with friction: said where it holds oil, and no more than there is.
fn look_at_friction(case: &Case, model: &Model, index: usize, gathered: &mut Findings) {
    let part = &case.parts[index];
    let (share, from_friction) = (model.part_shares[index], model.from_friction[index]);
    let air = day(case, None);
    let rated = model.engine.running(model.engine.peak_rpm, 1.0, model.engine.air_factor(&air));
    let has_core = case.passages.iter().any(|passage| {
        let elements = passage.elements.iter().enumerate();
        elements.into_iter().any(|(place, values)| {
            passage.kind(place).is_some_and(|kind| kind.is_core())
                && values.text(&crate::element::fins::PART) == Some(part.name.as_str())
        })
    });
    let said = format!("{} {}", part.name, part.values.text(&t::MEASURED_AT).unwrap_or("")).to_lowercase();
    let holds_oil = said.split(|c: char| !c.is_alphanumeric()).any(|word| OIL.contains(&word));
    if share > 0.0 && holds_oil && !has_core && assumed(case, &part.values, &t::FROM_FRICTION) {
        let heat = rated.heat(share, 0.0);
        let half = rated.friction_heat_of_share * share * 0.5;
        gathered.in_file(Finding {
            code: "oil-without-friction-share",
            place: Some(address(case, &part.values, &t::FROM_FRICTION)),
            seen: format!(
                "this part seems to hold oil and no core cools it, so that 0 % of its {} at rated power is taken to go with friction; oil commonly gets 30 to 75 % that way, and with half of it {} stay at that engine speed whatever the load",
                figures::power(heat),
                figures::power(half)
            ),
            what_to_do: "write from_friction = \"50 %\", or \"0 %\" where it holds no oil".to_string(),
            size: half,
        });
    }
    // both go with the engine's speed alone, so that rated power speaks for every point
    let heat = share * from_friction * rated.friction_heat_of_share;
    if heat > rated.friction_power {
        gathered.in_file(Finding {
            code: "friction-heat-unusual",
            place: Some(address(case, &part.values, &t::FROM_FRICTION)),
            seen: format!(
                "{} of its heat would come from friction, {} at rated power, where all the engine's friction makes {}",
                figures::close_share(from_friction),
                figures::power(heat),
                figures::power(rated.friction_power)
            ),
            what_to_do: "check friction_pressure, the part's share of heat and from_friction".to_string(),
            size: heat - rated.friction_power,
        });
    }
}

fn look_at_parts(case: &Case, model: &Model, gathered: &mut Findings) {
    let air = day(case, None);
    let rated = model.engine.running(model.engine.peak_rpm, 1.0, model.engine.air_factor(&air));
    for (index, part) in case.parts.iter().enumerate() {
        let law = &model.network.parts[index];
        let place = Some(format!("part/{}", part.name));
        let elements = model.part_of.iter().filter(|named| **named == Some(index)).count();
        let heat = rated.heat(model.part_shares[index], model.from_friction[index]);
        let limit = law.limit - ZERO_CELSIUS;
        // what is asked of its air is asked of a part with a limit
        let carried = match law.has_limit() {
            true => law.given_to_air(law.limit, air.temperature, air.pressure).0,
            false => f64::INFINITY,
        };
        match (elements, heat > 0.0) {
            (0, false) => gathered.in_file(Finding {
                code: "part-unused",
                place,
                seen: "no heat goes to this part (0 W) and none of the elements names it".to_string(),
                what_to_do: "give it a share in [engine.heat] and fins or a core, or take the part out"
                    .to_string(),
                size: 1.0,
            }),
            (0, true) if carried < heat => gathered.in_file(Finding {
                code: "part-without-air",
                place,
                seen: format!(
                    "no fins and no core name this part: of its {} at rated power, bay_conductance ({} W/K) and a surface can carry {} to air of the day, with the part at its limit of {}",
                    figures::power(heat),
                    crate::keys::kind::short_number(law.bay_conductance),
                    figures::power(carried.max(0.0)),
                    words::celsius(limit)
                ),
                what_to_do: "name it by part = … in a fins or core element, or correct its bay_conductance"
                    .to_string(),
                size: heat,
            }),
            (0, true) => {}
            (elements, false) => gathered.in_file(Finding {
                code: "part-without-heat",
                place,
                seen: format!(
                    "this part is cooled by {}, and no heat goes to it (0 W), so that its margin says nothing",
                    words::count(elements, "element")
                ),
                what_to_do: "give it a share in [engine.heat], in percent of the fuel's heat".to_string(),
                size: 1.0,
            }),
            _ => {}
        }
        look_at_friction(case, model, index, gathered);
        if assumed(case, &part.values, &t::BAY_CONDUCTANCE) && !part.values.has(&t::SURFACE) {
            gathered.in_file(Finding {
                code: "bay-conductance-missing",
                place: Some(address(case, &part.values, &t::BAY_CONDUCTANCE)),
                seen: "no bay_conductance is given and 0 W/K is taken: the safe side for the part, but the air round it looks cooler than it is".to_string(),
                what_to_do: "give it: some W/K for heads or barrels with bare outer faces (common practice)".to_string(),
                size: 1.0,
            });
        }
    }
    look_at_limits(case, gathered);
}

/// Limits that do not say where they are measured, all in one note.
fn look_at_limits(case: &Case, gathered: &mut Findings) {
    let silent =
        || case.parts.iter().filter(|part| part.values.has(&t::LIMIT) && !part.values.has(&t::MEASURED_AT));
    let Some(first) = silent().next() else { return };
    let limits: Vec<String> = silent()
        .map(|part| {
            let limit = case.view(&part.values).required(&t::LIMIT) - ZERO_CELSIUS;
            format!("{} ({})", part.name, words::celsius(limit))
        })
        .collect();
    gathered.in_file(Finding {
        code: "limit-measured-where",
        place: Some(first.values.address_of(&t::MEASURED_AT)),
        seen: format!(
            "the limit of {} does not say where it is measured; plug washer, fin root and exhaust side of one cylinder lie 30 to 60 K apart (common practice)",
            limits.join(", of ")
        ),
        what_to_do: "write measured_at, and see that the limit and the car's gauge mean the same spot"
            .to_string(),
        size: 1.0,
    });
}

fn look_at_places(case: &Case, gathered: &mut Findings) {
    let layouts_add = case.layouts.iter().any(|l| !l.values.tables(&t::LAYOUT_PASSAGE).is_empty());
    if layouts_add {
        // a layout's own passages may stand there
        return;
    }
    for place in &case.places {
        let elements = || case.passages.iter().flat_map(|passage| &passage.elements);
        let used = elements().any(|e| e.text(&element::size::PLACE) == Some(place.name.as_str()));
        if !used {
            gathered.in_file(Finding {
                code: "place-unused",
                place: Some(format!("place/{}", place.name)),
                seen: format!(
                    "none of the {} stands at this place, so that what it says has no effect",
                    words::count(elements().count(), "element")
                ),
                what_to_do: format!(
                    "write place = {:?} at an inlet, exit or leak, or take it out",
                    place.name
                ),
                size: 1.0,
            });
        }
    }
}

fn look_at_pressure(case: &Case, gathered: &mut Findings) {
    let own = case.conditions.iter().map(|c| (Some(c.name.as_str()), c.values.table(&t::CONDITION_DAY)));
    for (condition, values) in std::iter::once((None, Some(&case.day))).chain(own) {
        let Some(values) = values else { continue };
        let Some(pressure) = case.view(values).number(&t::PRESSURE) else { continue };
        let sea_level = standard_atmosphere::pressure(0.0);
        if pressure <= sea_level {
            continue;
        }
        let finding = Finding {
            code: "pressure-above-sea-level",
            place: Some(address(case, values, &t::PRESSURE)),
            seen: format!(
                "{:.0} hPa is above the {:.0} hPa of the standard atmosphere at sea level, which air at the place itself reaches only near the sea; a weather app reduces its figure to sea level, and at 400 m the air really stands at about {:.0} hPa",
                pressure / 100.0,
                sea_level / 100.0,
                standard_atmosphere::pressure(400.0) / 100.0
            ),
            what_to_do: "give altitude instead, or what a barometer at the place reads".to_string(),
            size: pressure,
        };
        match condition {
            Some(name) => gathered.in_condition(name, finding),
            None => gathered.in_file(finding),
        }
    }
}

fn look_at_wind(case: &Case, gathered: &mut Findings) {
    for condition in &case.conditions {
        let view = case.view(&condition.values);
        let (speed, wind) = (view.required(&t::SPEED), view.required(&t::WIND));
        if speed + wind < 0.0 {
            let finding = Finding {
                code: "wind-cut",
                place: Some(address(case, &condition.values, &t::WIND)),
                seen: format!(
                    "a tail wind of {} on a car at {} would blow from behind at {}; the air is taken as still instead",
                    Kind::Speed.show(-wind),
                    Kind::Speed.show(speed),
                    words::speed(-(speed + wind))
                ),
                what_to_do: "check the sign (a head wind is positive); what air from behind does to openings and exits is not known here".to_string(),
                size: -(speed + wind),
            };
            gathered.in_condition(&condition.name, finding);
        }
    }
}

/// Sum of the heat shares at rated power, as shares of the fuel's heat, of the parts that fins
/// name, and of those that only a core names; none where there are no such parts.
pub(super) fn shares_by_cooling(model: &Model) -> (Option<f64>, Option<f64>) {
    let basis = if model.engine.shares_of_brake_power { model.engine.brake_efficiency } else { 1.0 };
    let named_by = |part: usize, wanted: fn(&Law) -> bool| {
        model.part_of.iter().zip(&model.network.laws).any(|(named, law)| *named == Some(part) && wanted(law))
    };
    let (mut fins, mut cores) = (None, None);
    for (part, share) in model.part_shares.iter().enumerate() {
        let sum = if named_by(part, |law| law.as_fins().is_some()) {
            &mut fins
        } else if named_by(part, |law| law.as_core().is_some()) {
            &mut cores
        } else {
            continue;
        };
        *sum = Some(sum.unwrap_or(0.0) + share * basis);
    }
    (fins, cores)
}
