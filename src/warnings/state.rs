//! States outside a formula's range or a material's, and parts that are too cold.

use super::condition::{ElementInCondition, SolvedCondition, address};
use super::gather::{Finding, Findings};
use super::{CHAMBER_OVER_LIMIT, PANEL_TEMPERATURE, surfaces, words};
use crate::air::{HEAT_CAPACITY_RATIO, ZERO_CELSIUS, transport};
use crate::case::{Case, tables as t};
use crate::element::{ElementLaw, ram_inlet, screen};
use crate::keys::figures;
use crate::point::model::Model;
use crate::point::result::{ChamberResult, PartResult, STILL};
use crate::point::solver::PointSolver;
use crate::point::speeds;

/// Gauge pressure over that of the day up to which density may leave it out.
const PRESSURE_LEFT_OUT: f64 = 0.04;
/// A part counts as hotter in the other of two states from so much on (K).
const HOTTER_THERE: f64 = 1.0;
/// Mach number above which air counts as compressible: density then differs by some 4 % (any textbook of gas dynamics).
const FAST: f64 = 0.3;
/// Points of the sweep among which its ends are looked for.
const SWEPT: usize = 40;
/// Reynolds number from which a plate's skin layer counts as turbulent: Schlichting,
/// Boundary-Layer Theory.
const TURBULENT: f64 = 5e5;
/// Reynolds number on the gap from which the loss of a wire screen is published: Blevins, Applied
/// Fluid Dynamics Handbook (1984), as general-purpose libraries cite it.
const SCREEN_REYNOLDS: f64 = 400.0;
/// Air temperature at which panels of common resin are in danger (°C): polyester softens at 60 to
/// 80 °C (common practice).
pub const PANELS: f64 = 80.0;

/// Looks at chambers, parts, skin layers and screens of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    look_at_other_state(at, gathered);
    look_at_speeds(at, gathered);
    look_at_chambers(at, gathered);
    look_at_parts(at, gathered);
    for seen in at.elements() {
        let (stands, moves) = (at.standing(), seen.passage.mass_flow_kg_s.abs() > STILL);
        if let Some(layer) = seen.law.as_ram_inlet().filter(|_| !stands).and_then(|inlet| inlet.layer()) {
            let (share, reynolds) = layer.share(&at.moment);
            let met = format!("the opening was given {} of", figures::close_share(share));
            look_at_layer(at, &seen, layer.run, reynolds, &met, gathered);
        }
        // a recovery that is written has the layer in it
        let published = seen.law.as_flush_inlet().filter(|inlet| !stands && inlet.is_published());
        if let Some(inlet) = published
            && let Some((_, reynolds)) = inlet.layer(&at.moment)
        {
            let met = "the recovery was found with it at";
            look_at_layer(at, &seen, inlet.run(), reynolds, met, gathered);
        }
        if seen.law.is_screen() && moves {
            let temperature = at.entering_temperature(&seen);
            let viscosity = transport::viscosity(temperature + ZERO_CELSIUS) / at.density_at(temperature);
            let reynolds = seen
                .element
                .velocity_m_s
                .and_then(|speed| screen::gap_reynolds(&at.case.view(seen.values), speed, viscosity));
            if let Some(reynolds) = reynolds.filter(|reynolds| *reynolds < SCREEN_REYNOLDS) {
                gathered.in_condition(
                        &at.condition.name,
                        Finding {
                            code: "screen-reynolds",
                            place: Some(address(at.case, seen.values, &screen::WIRE)),
                            seen: format!(
                                "the Reynolds number on the screen's gap is {reynolds:.0}; its loss is published from {SCREEN_REYNOLDS:.0} up and is higher below"
                            ),
                            what_to_do: "take a coarser mesh or a larger screen, or measure its pressure drop and give it as a loss".to_string(),
                            size: 1.0 / reynolds,
                        },
                    );
            }
        }
        if let Some(fins) = seen.law.as_fins().filter(|_| moves)
            && let Some(found) = fins.found()
        {
            surfaces::look_at_fins(at, &seen, found, fins.pieces(), gathered);
        }
    }
}

/// A skin layer below the range of its formula.
fn look_at_layer(
    at: &SolvedCondition,
    seen: &ElementInCondition,
    run: f64,
    reynolds: f64,
    met: &str,
    gathered: &mut Findings,
) {
    if reynolds >= TURBULENT {
        return;
    }
    let written = seen.values.table(&ram_inlet::BOUNDARY_LAYER);
    gathered.in_condition(
        &at.condition.name,
        Finding {
            code: "skin-layer-reynolds",
            place: written.map(|layer| address(at.case, layer, &ram_inlet::RUN)),
            seen: format!(
                "the skin layer's Reynolds number is {reynolds:.1e} on a run of {:.0} mm, under the {TURBULENT:.0e} from which it is surely turbulent; {met} a dynamic pressure of {:.0} Pa",
                run * 1e3,
                at.moment.dynamic_pressure
            ),
            what_to_do: "check run (from the nose, along the skin); at low speed little hangs on it, else measure with a pitot tube held in the opening".to_string(),
            size: 1.0 / reynolds,
        },
    );
}

/// A fan pushes harder the colder the air that reaches it, and rising air holds itself up once it is hot, so that ram and
/// either can each hold their way.
fn look_at_other_state(at: &SolvedCondition, gathered: &mut Findings) {
    let condition = at.condition;
    let Some(other) = &condition.other_state else { return };
    let fan = condition.fans.iter().find(|fan| fan.rpm > 0.0);
    let why = match fan {
        Some(_) => "since a fan pushes less with warm air than with cold",
        None => "since warm air that rises holds itself up against the stream once it is hot",
    };
    let chamber = || condition.chambers.first().map(|chamber| format!("chamber/{}", chamber.name));
    let parts = || condition.parts.iter().zip(other.iter().map(|(_, there)| *there));
    let limited = || parts().filter(|(part, _)| part.has_limit());
    // the part that decides; without limits the one that is furthest apart
    let least = limited().min_by(|a, b| a.0.temperature_margin_K.total_cmp(&b.0.temperature_margin_K));
    let apart = |(part, there): &(&PartResult, f64)| (part.temperature_C - there).abs();
    let furthest = || parts().max_by(|a, b| apart(a).total_cmp(&apart(b)));
    let Some((part, there)) = least.or_else(furthest) else { return };
    let hotter_there: Vec<String> = limited()
        .filter(|(part, there)| there - part.temperature_C > HOTTER_THERE)
        .map(|(part, there)| {
            let (there, here) = (words::celsius(there), words::celsius(part.temperature_C));
            format!("{} at {there} in place of {here}", part.name)
        })
        .collect();
    let hotter_there = match hotter_there.as_slice() {
        [] => String::new(),
        some => format!(", with {} there", some.join(", ")),
    };
    gathered.in_condition(
        &condition.name,
        Finding {
            code: "two-steady-states",
            place: fan.map(|fan| fan.address.clone()).or_else(chamber),
            seen: format!(
                "the air can settle in two ways, {why}: {} at {} as shown, where the least margin is the smaller, or at {}{hotter_there}",
                part.name,
                words::celsius(part.temperature_C),
                words::celsius(there)
            ),
            what_to_do: "which it takes depends on what went before: reckon with the hotter, and take what works against the air's way off it (larger exits, an exit where the air is drawn out, openings at one height)".to_string(),
            size: (part.temperature_C - there).abs(),
        },
    );
}

/// Air so fast that its density falls with its pressure, which the laws do not count.
fn look_at_speeds(at: &SolvedCondition, gathered: &mut Findings) {
    for seen in at.elements() {
        let Some(speed) = seen.element.velocity_m_s else { continue };
        // the jet behind a hole is narrower, and faster, than the hole
        let speed = seen.law.as_exit().map_or(speed, |exit| speed / exit.discharge_coefficient());
        let kelvins = seen.element.outlet_temperature_C + ZERO_CELSIUS;
        let finding = too_fast(speed, kelvins, at.operation.air.gas_constant, &seen.values.address);
        if let Some(finding) = finding {
            gathered.in_condition(&at.condition.name, finding);
        }
    }
}

/// The same at the fastest point of the sweep and at that of most engine speed.
pub(super) fn look_at_sweep(case: &Case, model: &Model, gathered: &mut Findings) {
    if case.sweep.is_none() {
        return;
    }
    let points = speeds::points(case, model, SWEPT).unwrap_or_default();
    let fastest = points.iter().max_by(|a, b| a.speed.total_cmp(&b.speed));
    let highest = points.iter().max_by(|a, b| a.rpm.total_cmp(&b.rpm));
    let mut solver = PointSolver::new(model);
    for point in fastest.into_iter().chain(highest) {
        solver.prepare(model, &speeds::operation(case, point));
        if solver.solve().is_err() {
            continue;
        }
        let air = solver.free_stream.air;
        for (passage, (table, joined)) in case.passages.iter().zip(&solver.network.passages).enumerate() {
            let (flow, first) = (solver.state.flow[passage].abs(), joined.elements.start);
            solver.network.follow(passage, &solver.boundary, &solver.state, |element, _, response| {
                let law = &solver.network.laws[element];
                let Some(area) = law.area() else { return };
                let kept = law.as_exit().map_or(1.0, |exit| exit.discharge_coefficient());
                let speed = flow / (air.density_at(response.outlet) * area * law.pieces() * kept);
                let address = &table.elements[element - first].address;
                if let Some(finding) = too_fast(speed, response.outlet, air.gas_constant, address) {
                    gathered.in_condition("sweep", finding);
                }
            });
        }
    }
}

/// Air whose density falls on the way: at a speed (m/s) and a temperature (K).
fn too_fast(speed: f64, kelvins: f64, gas_constant: f64, address: &str) -> Option<Finding> {
    let mach = speed / (HEAT_CAPACITY_RATIO * gas_constant * kelvins).sqrt();
    (mach > FAST).then(|| Finding {
        code: "air-too-fast",
        place: Some(address.to_string()),
        seen: format!(
            "the air moves at {speed:.0} m/s, {mach:.2} of the speed of sound; above {FAST} its density falls on the way, which is not counted, and no such flow is reached above 1"
        ),
        what_to_do: "check the area and its unit, and what drives the air there".to_string(),
        size: mach,
    })
}

fn look_at_chambers(at: &SolvedCondition, gathered: &mut Findings) {
    let ambient = at.operation.air.pressure;
    for chamber in &at.condition.chambers {
        let place = Some(format!("chamber/{}", chamber.name));
        let share = chamber.gauge_pressure_Pa.abs() / ambient;
        if share > PRESSURE_LEFT_OUT {
            gathered.in_condition(
                &at.condition.name,
                Finding {
                    code: "chamber-pressure",
                    place: place.clone(),
                    seen: format!(
                        "{} stands at {:+.0} Pa, {} of the day's pressure; densities leave that out and are off by as much",
                        chamber.name,
                        chamber.gauge_pressure_Pa,
                        figures::close_share(share)
                    ),
                    what_to_do: format!(
                        "look for a slip in the fan's curve or speed, or in the areas: what holds to {} covers any ordinary car",
                        figures::close_share(PRESSURE_LEFT_OUT)
                    ),
                    size: share,
                },
            );
        }
        let Some(hot) = too_hot(at, chamber) else { continue };
        gathered.in_condition(&at.condition.name, Finding { place, ..hot });
    }
}

/// Air of a chamber over the limit that was typed for it; without one, hot enough to soften resin.
fn too_hot(at: &SolvedCondition, chamber: &ChamberResult) -> Option<Finding> {
    let celsius = chamber.temperature_C;
    let values = &at.case.chambers.get(at.case.chamber(&chamber.name)?)?.values;
    if let Some(limit) = at.case.view(values).number(&t::CHAMBER_LIMIT) {
        let limit = limit - ZERO_CELSIUS;
        let what =
            values.text(&t::LIMIT_FOR).map_or("its limit".to_string(), |what| format!("the limit of {what}"));
        return (celsius > limit).then(|| Finding {
            code: CHAMBER_OVER_LIMIT,
            place: None,
            seen: format!(
                "the air in {} reaches {}, over {what}, {}",
                chamber.name,
                words::celsius(celsius),
                words::celsius(limit)
            ),
            what_to_do: "it gets hotter still after stopping: vent the chamber, shield what the limit is for, or move it"
                .to_string(),
            size: celsius - limit,
        });
    }
    (celsius > PANELS).then(|| Finding {
        code: PANEL_TEMPERATURE,
        place: None,
        seen: format!(
            "the air in {} reaches {}; polyester resin softens at 60 to 80 °C (common practice), and it gets hotter still after stopping",
            chamber.name,
            words::celsius(celsius)
        ),
        what_to_do: "shield the panels, vent the chamber, or use a resin that stands it; mind hoses, wiring and fuel there too".to_string(),
        size: celsius,
    })
}

fn look_at_parts(at: &SolvedCondition, gathered: &mut Findings) {
    let condition = at.condition;
    for (index, part) in condition.parts.iter().enumerate() {
        if let Some(least) = part.least_C.filter(|_| part.below_least) {
            let seen = format!(
                "{} is at {}, under its lower limit of {}",
                part.name,
                words::celsius(part.temperature_C),
                words::celsius(least)
            );
            let (code, what_to_do) = if condition.warm {
                (
                    "least-missed",
                    "this counts as missed, since the car is warm there: tape part of its opening in that condition, or put a thermostat in, where it is the oil",
                )
            } else {
                (
                    "below-least",
                    "a note only: if the car is warm there, write warm = true in the condition and it counts as missed; tape is the usual cure",
                )
            };
            gathered.in_condition(
                &condition.name,
                Finding {
                    code,
                    place: Some(format!("part/{}/least", part.name)),
                    seen,
                    what_to_do: what_to_do.to_string(),
                    size: least - part.temperature_C,
                },
            );
        }
        if part.temperature_margin_K < 0.0 {
            look_at_tape(at, index, gathered);
        }
    }
}

/// A part too hot while an opening of its own air is taped.
fn look_at_tape(at: &SolvedCondition, part: usize, gathered: &mut Findings) {
    let found = &at.condition.parts[part];
    for (name, id) in at.values.map(&t::TAPED) {
        let taped = at.case.numbers.value(*id);
        let Some(passage) = at.case.passage(name) else { continue };
        let mut elements = at.model.network.passages[passage].elements.clone();
        if taped <= 0.0 || !elements.any(|element| at.model.part_of[element] == Some(part)) {
            continue;
        }
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "tape-left-on",
                place: Some(at.case.numbers.fact(*id).address.clone()),
                seen: format!(
                    "{} is {:.0} K over its limit with {} of its opening taped",
                    found.name,
                    -found.temperature_margin_K,
                    figures::close_share(taped)
                ),
                what_to_do: "take the tape off there, or some of it".to_string(),
                size: -found.temperature_margin_K,
            },
        );
    }
}
