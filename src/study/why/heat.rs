//! From the engine's power to a part's temperature.

use super::inputs::{found, of_id, of_keys};
use super::result::{FormulaInput, HeldUpBy, Limits, PressureShare, WhyLink};
use super::{figure, surface};
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, tables as t};
use crate::element::{core, fins};
use crate::engine::tables as e;
use crate::keys::Kind;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::STILL;
use crate::point::solver::PointSolver;

/// Air that takes heat from a part in one element.
struct Carried {
    element: usize,
    address: String,
    flow: f64,
    entering: f64,
    leaving: f64,
    conductance: f64,
    oil: Option<f64>,
}

/// The chain from power to temperature in the condition that the solver has solved.
pub(super) fn chain(
    case: &Case,
    model: &Model,
    solver: &PointSolver,
    operation: &Operation,
    condition: usize,
    part: usize,
) -> Vec<WhyLink> {
    let mut links = fuel(case, model, solver, operation, condition);
    links.extend(heat(case, model, solver, part));
    let carried = carried(case, model, solver, part);
    for each in &carried {
        links.extend(exchange(case, model, solver, each));
    }
    links.push(balance(case, solver, &carried, part));
    links
}

fn celsius(kelvin: f64) -> String {
    figure(kelvin - ZERO_CELSIUS, "°C")
}

fn power(watt: f64) -> String {
    if watt.abs() >= 1e3 { figure(watt / 1e3, "kW") } else { figure(watt, "W") }
}

/// What the engine burns at rated power and in the condition.
fn fuel(
    case: &Case,
    model: &Model,
    solver: &PointSolver,
    operation: &Operation,
    condition: usize,
) -> Vec<WhyLink> {
    let engine = &case.engine;
    let running = &solver.running;
    let values = &case.conditions[condition].values;
    let rated_power = model.engine.peak_power / running.air_factor;
    let rated = rated_power / model.engine.brake_efficiency;
    let mut inputs = of_keys(case, engine, &[&e::PEAK_POWER]);
    if inputs.is_empty() {
        inputs.push(found("highest point of engine/power", power(model.engine.peak_power)));
    }
    inputs.push(found("α of this day's air", figure(running.air_factor, "")));
    inputs.extend(of_keys(case, engine, &[&e::BRAKE_EFFICIENCY, &e::FUEL_CONSUMPTION]));
    let mut moment: Vec<FormulaInput> = of_keys(case, values, &[&t::SPEED, &t::GEAR, &t::RPM, &t::LOAD]);
    moment.push(found("engine speed", figure(operation.rpm, "rpm")));
    let full = model.engine.power.at(operation.rpm) / running.air_factor;
    moment.push(found("full-throttle power there, on this day", power(full)));
    moment.extend(of_keys(case, engine, &[&e::FRICTION_PRESSURE, &e::DISPLACEMENT]));
    vec![
        WhyLink {
            what: "fuel's heat at rated power".into(),
            formula: "F_r = P_peak/(α η),  α = (99 kPa/p_dry)^1.2 (T/298 K)^0.6".into(),
            source: "power in other air: ISO 1585 (formula from memory); α = 1 for as-measured power".into(),
            inputs,
            result: power(rated),
        },
        WhyLink {
            what: "fuel's heat now".into(),
            formula:
                "F = (load P_full + P_f)/η_i,  P_f = p_f V_d × cycles a second,  η_i = (P_full + P_f)/F_full"
                    .into(),
            source: "straight Willans line (any textbook on engines)".into(),
            inputs: moment,
            result: power(running.fuel_power),
        },
    ]
}

/// The part's share of it.
fn heat(case: &Case, model: &Model, solver: &PointSolver, part: usize) -> Vec<WhyLink> {
    let named = &case.parts[part];
    let law = &solver.network.parts[part];
    let share = case.engine.map(&e::HEAT).iter().find(|(name, _)| *name == named.name);
    let temperature = solver.state.part_temperature(part);
    let offered = solver.boundary.part_heat[part];
    let mut inputs: Vec<FormulaInput> = share.map(|(_, id)| of_id(case, *id)).into_iter().collect();
    inputs.extend(of_keys(case, &case.engine, &[&e::HEAT_EXPONENT]));
    let by_friction = model.from_friction[part] > 0.0;
    if by_friction {
        inputs.extend(of_keys(case, &named.values, &[&t::FROM_FRICTION]));
        let speed = solver.free_stream.rpm / model.engine.peak_rpm;
        inputs.push(found("engine speed over that of the power peak", figure(speed, "")));
    }
    if solver.running.scaled < 1.0 {
        inputs.push(found(
            "all shares scaled down, so that brake power and heat stay within the fuel's",
            figure(solver.running.scaled, ""),
        ));
    }
    let of = if model.engine.shares_of_brake_power { "P_peak/α" } else { "F_r" };
    let mut at = of_keys(case, &named.values, &[&t::SOURCE_TEMPERATURE, &t::SHARE_AT]);
    if named.values.id(&t::SHARE_AT).is_none() {
        at.push(found(
            "temperature at which the share holds: the working limit",
            celsius(law.reference_temperature),
        ));
    }
    at.push(found("temperature of the part", celsius(temperature)));
    vec![
        WhyLink {
            what: format!("heat offered to {}", named.name),
            formula: if by_friction {
                format!("Q_share = s {of} [(1 − w)(F/F_r)^n + w N/N_r]")
            } else {
                format!("Q_share = s {of} (F/F_r)^n")
            },
            source: "gas-side heat transfer with the charge flow: Taylor & Toong (1957) (from memory)".into(),
            inputs,
            result: power(offered),
        },
        WhyLink {
            what: format!("heat that {} takes", named.name),
            formula: "Q = Q_share (T_source − T)/(T_source − T_ref)".into(),
            source: "effective gas temperature: Pinkel, NACA TR 612 (1938) (values from memory)".into(),
            inputs: at,
            result: power(law.heat_taken(offered, temperature).0),
        },
    ]
}

fn carried(case: &Case, model: &Model, solver: &PointSolver, part: usize) -> Vec<Carried> {
    let mut list = Vec::new();
    for (index, passage) in solver.network.passages.iter().enumerate() {
        let flow = solver.state.flow[index].abs();
        solver.network.follow(index, &solver.boundary, &solver.state, |element, entering, response| {
            if model.part_of[element] != Some(part) {
                return;
            }
            let law = &solver.network.laws[element];
            let Some(surface) = law.surface() else { return };
            let oil = law.oil_capacity();
            list.push(Carried {
                element,
                address: case.passages[index].elements[element - passage.elements.start].address.clone(),
                flow,
                entering,
                leaving: response.outlet,
                conductance: surface.conductance_at(flow.max(STILL)).0,
                oil,
            });
        });
    }
    list
}

/// Conductance at the flow, and what the air takes up.
fn exchange(case: &Case, model: &Model, solver: &PointSolver, each: &Carried) -> Vec<WhyLink> {
    let short = each.address.trim_start_matches("passage/");
    if each.flow < STILL {
        return vec![WhyLink {
            what: format!("air through {short}"),
            formula: "pushes and losses in balance".into(),
            source: "balances of mass and total pressure, all passages at once".into(),
            inputs: Vec::new(),
            result: "stands: no heat is carried".into(),
        }];
    }
    let values = case
        .passages
        .iter()
        .flat_map(|passage| &passage.elements)
        .find(|values| values.address == each.address);
    let law = &model.network.laws[each.element];
    // what was found from a rating or a geometry holds at a flow of its own, whatever is written
    let surface = law.found_surface();
    let keys: &[&crate::keys::Key] = match surface {
        Some(_) => &[&fins::CONDUCTANCE_EXPONENT],
        None => &[&fins::CONDUCTANCE, &fins::REFERENCE_FLOW, &fins::CONDUCTANCE_EXPONENT],
    };
    let mut inputs = values.map_or_else(Vec::new, |values| of_keys(case, values, keys));
    if let Some(surface) = surface {
        inputs.push(found("UA₀, all pieces", figure(surface.conductance, "W/K")));
        inputs.push(found("ṁ₀, all pieces", figure(surface.reference_flow, "kg/s")));
    }
    inputs.push(found("air, all pieces", figure(each.flow, "kg/s")));
    inputs.push(found("pieces", format!("{:.0}", law.pieces())));
    let capacity = each.flow * solver.free_stream.air.heat_capacity;
    let mut taken = vec![
        found("conductance", figure(each.conductance, "W/K")),
        found("capacity flow of the air", figure(capacity, "W/K")),
        found("air before it", celsius(each.entering)),
    ];
    let formula = match each.oil {
        None => "T₂ = T₁ + ε(T − T₁),  ε = 1 − exp(−UA/ṁcp)",
        Some(oil) => {
            if let Some(values) = values {
                taken.extend(of_keys(
                    case,
                    values,
                    &[&core::OIL_FLOW, &core::OIL_FLOW_AT, &core::OIL_DENSITY, &core::OIL_HEAT],
                ));
            }
            taken.push(found("capacity flow of the oil", figure(oil, "W/K")));
            "cross-flow, both unmixed: ε = 1 − exp[NTU^0.22/C_r (exp(−C_r NTU^0.78) − 1)]"
        }
    };
    let reference = values.and_then(|values| surface::reference(case, values, law, short));
    let carried = [
        WhyLink {
            what: format!("conductance of {short}"),
            formula: "UA = UA₀ (ṁ/ṁ₀)^n".into(),
            source: "power law between the reference flow and this one".into(),
            inputs,
            result: figure(each.conductance, "W/K"),
        },
        WhyLink {
            what: format!("heat carried from {short}"),
            formula: format!("Q = ṁ cp (T₂ − T₁),  {formula}"),
            source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, ch. 11".into(),
            inputs: taken,
            result: format!(
                "{}; the air goes from {} to {}",
                power(capacity * (each.leaving - each.entering)),
                celsius(each.entering),
                celsius(each.leaving)
            ),
        },
    ];
    reference.into_iter().chain(carried).collect()
}

/// Where heat in and heat out meet.
fn balance(case: &Case, solver: &PointSolver, carried: &[Carried], part: usize) -> WhyLink {
    let named = &case.parts[part];
    let law = &solver.network.parts[part];
    let temperature = solver.state.part_temperature(part);
    let around = law
        .chamber
        .map_or(solver.boundary.day_temperature, |chamber| solver.state.chamber_temperature(chamber));
    let given = law.given_to_air(temperature, around, solver.boundary.pressure).0;
    let taken: f64 = carried
        .iter()
        .map(|c| c.flow * solver.free_stream.air.heat_capacity * (c.leaving - c.entering))
        .sum();
    let place = law.chamber.map_or("outside".to_string(), |chamber| case.chambers[chamber].name.clone());
    let mut inputs = vec![found("heat carried by its air", power(taken))];
    inputs.extend(of_keys(case, &named.values, &[&t::BAY_CONDUCTANCE]));
    inputs.push(found(format!("air of {place}"), celsius(around)));
    inputs.push(found(format!("heat to the air of {place}"), power(given)));
    if law.surface.is_some() {
        inputs.extend(of_keys(case, &named.values, &[&t::SURFACE, &t::EMISSIVITY]));
    }
    inputs.extend(of_keys(case, &named.values, &[&t::LIMIT, &t::HOTTEST_ABOVE_MEAN]));
    let left = law.limit - temperature;
    let kelvins = Kind::TemperatureDifference.show(left.abs().round());
    let radiates = if law.surface.is_some() { " + ε σ A (T⁴ − T_air⁴)" } else { "" };
    let (margin, against) = if law.has_limit() {
        let left = if left < 0.0 { format!("over by {kelvins}") } else { format!("{kelvins} left") };
        (
            ";  margin = limit − hottest_above_mean − T",
            format!(", working limit {}: {left}", celsius(law.limit)),
        )
    } else {
        ("", ": a store of heat, without a limit".to_string())
    };
    WhyLink {
        what: format!("temperature of {}", named.name),
        formula: format!("Q(T) = Σ Q carried + h (T − T_air){radiates}{margin}"),
        source: "balance of heat".into(),
        inputs,
        result: format!("{}{against}", celsius(temperature)),
    }
}

/// What holds the part where it is: too little air, or too little surface; and what takes the pressure.
pub(super) fn limits(
    case: &Case,
    model: &Model,
    solver: &PointSolver,
    part: usize,
    resistance: Option<(String, PressureShare)>,
) -> Option<Limits> {
    let carried = carried(case, model, solver, part);
    let flow: f64 = carried.iter().map(|each| each.flow).sum();
    if flow < STILL {
        return None;
    }
    let mean = |of: fn(&Carried) -> f64| carried.iter().map(|each| each.flow * of(each)).sum::<f64>() / flow;
    let (entering, leaving) = (mean(|each| each.entering), mean(|each| each.leaving));
    let (air, surface) = (leaving - entering, solver.state.part_temperature(part) - leaving);
    let (passage, resistance) = resistance.unzip();
    Some(Limits {
        entering_C: entering - ZERO_CELSIUS,
        air_K: air,
        surface_K: surface,
        is: if air >= surface { HeldUpBy::Air } else { HeldUpBy::Surface },
        resistance,
        passage,
    })
}
