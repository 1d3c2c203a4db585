//! Turns a solution into what a result says of it.

use super::leakage::Seams;
use super::model::Model;
use super::operation::Operation;
use super::result as r;
use super::result::STILL;
use super::solver::PointSolver;
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, tables as t};
use crate::element::Law;
use crate::engine::tables as e;
use crate::network::{Met, NetworkState, PassageEnd};
use crate::thermal::{Margin, MarginIs};

/// Flow that is rounding and no more (kg/s).
const NOTHING: f64 = 1e-12;

/// A solved condition in words and numbers.
pub fn condition(
    case: &Case,
    model: &Model,
    solver: &mut PointSolver,
    operation: &Operation,
    index: usize,
) -> r::Condition {
    let named = &case.conditions[index];
    // of two ways in which the air can settle the hotter is shown
    let other = solver.turn_to_hotter();
    let mut margins = Vec::new();
    solver.margins(model, &mut margins);
    let passages: Vec<r::PassageResult> = (0..case.passages.len())
        .map(|i| passage(case, solver, i))
        .chain(model.seams.iter().zip(case.passages.len()..).map(|(seams, i)| leak(solver, seams, i)))
        .collect();
    let free_stream = solver.free_stream;
    let carburettor = carburettor(solver, &passages);
    let drag = cooling_drag(solver);
    let fans = fans(case, solver);
    let q = free_stream.dynamic_pressure;
    r::Condition {
        name: named.name.clone(),
        speed_m_s: operation.speed,
        rpm: operation.rpm,
        gear: case.view(&named.values).number(&t::GEAR).map(|gear| gear as usize),
        load: operation.load,
        dynamic_pressure_Pa: q,
        air_density_kg_m3: operation.air.density(),
        air_temperature_C: operation.air.temperature - ZERO_CELSIUS,
        air_factor: solver.running.air_factor,
        air_fuel_ratio: air_fuel_ratio(solver, &carburettor),
        brake_power_W: solver.running.brake_power,
        fuel_power_W: solver.running.fuel_power,
        heat_to: heat_to(case, solver),
        chambers: chambers(case, solver),
        parts: parts(case, model, solver, &margins),
        carburettor,
        cooling_drag_N: drag,
        cooling_drag_area_m2: (q > 0.0).then(|| drag / q),
        cooling_power_W: drag * operation.speed,
        fan_power_W: fans.iter().map(|fan| fan.shaft_power_W).sum::<f64>() + 0.0,
        fans,
        other_state: other.map(|state| temperatures(case, &state)),
        warm: named.values.flag(&t::WARM),
        residual: solver.residual,
        passages,
    }
}

fn temperatures(case: &Case, state: &NetworkState) -> r::ByName<f64> {
    let parts = case.parts.iter().enumerate();
    let temperature = |(part, named): (usize, &crate::case::Named)| {
        (named.name.clone(), state.part_temperature(part) - ZERO_CELSIUS)
    };
    r::ByName(parts.map(temperature).collect())
}

fn heat_to(case: &Case, solver: &PointSolver) -> r::ByName<f64> {
    let heat = case.engine.map(&e::HEAT).iter().map(|(name, _)| {
        let heat = match (case.part(name), case.chamber(name)) {
            (Some(part), _) => {
                let temperature = solver.state.part_temperature(part);
                solver.network.parts[part].heat_taken(solver.boundary.part_heat[part], temperature).0
            }
            (None, Some(chamber)) => solver.boundary.chamber_heat[chamber],
            (None, None) => 0.0,
        };
        (name.clone(), heat)
    });
    r::ByName(heat.collect())
}

fn chambers(case: &Case, solver: &PointSolver) -> Vec<r::ChamberResult> {
    let q = solver.free_stream.dynamic_pressure;
    let passing = |chamber: usize| -> f64 {
        let passages = solver.network.passages.iter().zip(&solver.state.flow);
        let here = passages
            .filter(|(passage, _)| [passage.from, passage.to].contains(&PassageEnd::Chamber(chamber)));
        0.5 * here.map(|(_, flow)| flow.abs()).sum::<f64>()
    };
    let describe = |(index, chamber): (usize, &crate::case::Named)| {
        let pressure = solver.state.pressure(index);
        let temperature = solver.state.chamber_temperature(index);
        r::ChamberResult {
            name: chamber.name.clone(),
            gauge_pressure_Pa: pressure,
            pressure_coefficient: (q > 0.0).then(|| pressure / q),
            temperature_C: temperature - ZERO_CELSIUS,
            stands: passing(index) < STILL,
            without_end: temperature >= solver.network.chambers[index].endless(),
        }
    };
    case.chambers.iter().enumerate().map(describe).collect()
}

/// Air through a part's elements, each passage once (kg/s).
pub fn flow_of_part(model: &Model, solver: &PointSolver, part: usize) -> f64 {
    let passages = solver.network.passages.iter().enumerate();
    passages
        .filter(|(_, passage)| passage.elements.clone().any(|element| model.part_of[element] == Some(part)))
        .map(|(index, _)| solver.state.flow[index].abs())
        .sum()
}

fn parts(case: &Case, model: &Model, solver: &PointSolver, margins: &[Margin]) -> Vec<r::PartResult> {
    let describe = |(index, named): (usize, &crate::case::Named)| {
        let law = &solver.network.parts[index];
        let temperature = solver.state.part_temperature(index);
        let flow = flow_of_part(model, solver, index);
        let margin = margins[index];
        r::PartResult {
            name: named.name.clone(),
            temperature_C: temperature - ZERO_CELSIUS,
            limit_C: law.limit - ZERO_CELSIUS,
            temperature_margin_K: law.limit - temperature,
            margin_band_K: None,
            likelihood: None,
            flow_margin: margin.flow_margin,
            margin_is: margin.is,
            required_flow_kg_s: match margin.is {
                MarginIs::Unlimited => Some(0.0),
                MarginIs::Value => margin.required_share.map(|share| share * flow),
                MarginIs::Impossible | MarginIs::NoLimit => None,
            },
            flow_kg_s: flow,
            below_least: law.least.is_some_and(|least| temperature < least),
            least_C: law.least.map(|least| least - ZERO_CELSIUS),
            measured_at: named.values.text(&t::MEASURED_AT).map(str::to_string),
        }
    };
    case.parts.iter().enumerate().map(describe).collect()
}

/// A passage as solved.
pub fn passage(case: &Case, solver: &PointSolver, index: usize) -> r::PassageResult {
    let table = &case.passages[index];
    let flow = solver.state.flow[index];
    let network = &solver.network.passages[index];
    let first = network.elements.start;
    let copies = case.view(&table.values).required(&t::COUNT);
    let mut elements: Vec<r::Element> = Vec::new();
    let mut outlet = f64::NAN;
    solver.network.follow_all(index, &solver.boundary, &solver.state, |met, entering, response| {
        let speed = |area: f64| flow.abs() * solver.free_stream.volume_per_kelvin * entering / area;
        let loss = if flow >= 0.0 { response.drop } else { -response.drop };
        outlet = response.outlet;
        elements.push(match met {
            Met::Sudden(change) => {
                let change = &network.sudden[change];
                r::Element {
                    kind: crate::element::step::KIND.name,
                    implied: true,
                    widens: Some(change.widens(flow >= 0.0)),
                    name: None,
                    part: None,
                    count: 1,
                    area_m2: Some(change.area()),
                    velocity_m_s: Some(speed(change.area() * copies)),
                    loss_Pa: loss,
                    push_Pa: 0.0,
                    outlet_temperature_C: response.outlet - ZERO_CELSIUS,
                }
            }
            Met::Element(element) => {
                let law = &solver.network.laws[element];
                let values = &table.elements[element - first];
                let count = case.view(values).number(&crate::element::size::COUNT);
                r::Element {
                    kind: table.kind(element - first).map_or("", |kind| kind.name),
                    implied: false,
                    widens: None,
                    name: values.text(&crate::element::size::NAME).map(str::to_string),
                    part: values.text(&crate::element::fins::PART).map(str::to_string),
                    count: count.map_or(1, |count| count as usize),
                    area_m2: law.area(),
                    velocity_m_s: law.area().map(|area| speed(area * law.pieces())),
                    loss_Pa: loss,
                    push_Pa: response.push,
                    outlet_temperature_C: response.outlet - ZERO_CELSIUS,
                }
            }
        });
    });
    // in the file's order, also where the air runs back
    if flow < 0.0 {
        elements.reverse();
    }
    r::PassageResult {
        name: table.name.clone(),
        from: table.from.clone(),
        to: table.to.clone(),
        count: copies as usize,
        mass_flow_kg_s: flow,
        reversed: flow < -STILL,
        outlet_temperature_C: outlet - ZERO_CELSIUS,
        elements,
        last_velocity_head_Pa: solver.network.last_head(index, &solver.boundary, &solver.state, outlet),
    }
}

/// Seams that nobody wrote down, as a passage.
fn leak(solver: &PointSolver, seams: &Seams, index: usize) -> r::PassageResult {
    let flow = solver.state.flow[index];
    let mut elements = Vec::new();
    let mut outlet = f64::NAN;
    solver.network.follow(index, &solver.boundary, &solver.state, |_, entering, response| {
        outlet = response.outlet;
        elements.push(r::Element {
            kind: crate::element::leak::KIND.name,
            implied: false,
            widens: None,
            name: None,
            part: None,
            count: 1,
            area_m2: Some(seams.area),
            velocity_m_s: Some(flow.abs() * solver.free_stream.volume_per_kelvin * entering / seams.area),
            loss_Pa: if flow >= 0.0 { response.drop } else { -response.drop },
            push_Pa: response.push,
            outlet_temperature_C: response.outlet - ZERO_CELSIUS,
        });
    });
    r::PassageResult {
        name: seams.name.clone(),
        from: seams.from.clone(),
        to: seams.to.clone(),
        count: 1,
        mass_flow_kg_s: flow,
        reversed: flow < -STILL,
        outlet_temperature_C: outlet - ZERO_CELSIUS,
        elements,
        last_velocity_head_Pa: solver.network.last_head(index, &solver.boundary, &solver.state, outlet),
    }
}

/// Means over the passages to the engine, weighted by their flow; density from pressure and
/// temperature.
fn carburettor(solver: &PointSolver, passages: &[r::PassageResult]) -> Option<r::Carburettor> {
    let ends: Vec<(f64, f64, f64)> = (0..passages.len())
        .filter(|i| solver.network.passages[*i].to == PassageEnd::Engine)
        .map(|i| {
            let passage = &passages[i];
            let from = match solver.network.passages[i].from {
                PassageEnd::Chamber(chamber) => solver.state.pressure(chamber),
                _ => 0.0,
            };
            let sign = if passage.mass_flow_kg_s >= 0.0 { 1.0 } else { -1.0 };
            let rise: f64 = passage.elements.iter().map(|e| e.push_Pa - sign * e.loss_Pa).sum();
            (passage.mass_flow_kg_s, from + rise, passage.outlet_temperature_C + ZERO_CELSIUS)
        })
        .collect();
    if ends.is_empty() {
        return None;
    }
    let flow: f64 = ends.iter().map(|end| end.0).sum();
    let mean = |value: fn(&(f64, f64, f64)) -> f64| {
        if flow > 0.0 {
            ends.iter().map(|end| end.0 * value(end)).sum::<f64>() / flow
        } else {
            ends.iter().map(value).sum::<f64>() / ends.len() as f64
        }
    };
    let pressure = mean(|end| end.1);
    // an engine that stands draws nothing from where its air comes: what is there is the day's
    let temperature =
        if flow.abs() > NOTHING { mean(|end| end.2) } else { solver.free_stream.total_temperature };
    let air = &solver.free_stream.air;
    // an opening far too small asks for more than all of the day's pressure, and is warned of: nothing is left then
    let left = (air.pressure + pressure).max(0.0);
    Some(r::Carburettor {
        mass_flow_kg_s: flow,
        total_gauge_pressure_Pa: pressure,
        temperature_C: temperature - ZERO_CELSIUS,
        density_kg_m3: left / (air.gas_constant * temperature),
        power_factor: (left / air.pressure).powf(1.2) * (air.temperature / temperature).powf(0.6),
    })
}

fn air_fuel_ratio(solver: &PointSolver, carburettor: &Option<r::Carburettor>) -> Option<f64> {
    let fuel = solver.running.fuel_flow();
    if fuel <= 0.0 {
        return None;
    }
    let air = match carburettor {
        Some(carburettor) => carburettor.mass_flow_kg_s,
        None => {
            solver.running.breathed * solver.free_stream.air.density_at(solver.free_stream.total_temperature)
        }
    };
    Some(air / fuel)
}

fn fans(case: &Case, solver: &PointSolver) -> Vec<r::FanTurning> {
    let mut fans = Vec::new();
    for (index, passage) in case.passages.iter().enumerate() {
        let first = solver.network.passages[index].elements.start;
        let here = fans.len();
        solver.network.follow(index, &solver.boundary, &solver.state, |element, entering, response| {
            let Some(fan) = solver.network.laws[element].as_fan() else { return };
            let speed = fan.speed_at(solver.free_stream.rpm);
            let (air_power, shaft_power) = fan.power(response);
            fans.push(r::FanTurning {
                passage: passage.name.clone(),
                address: passage.elements[element - first].address.clone(),
                rpm: speed,
                tip_speed_m_s: fan.tip_speed(speed),
                over_reference: fan.over_reference(speed),
                flow_m3_s: solver.state.flow[index] * solver.free_stream.volume_per_kelvin * entering,
                push_Pa: response.push,
                air_power_W: air_power,
                shaft_power_W: shaft_power,
            });
        });
        // air that runs back meets them in the reverse order
        if solver.state.flow[index] < 0.0 {
            fans[here..].reverse();
        }
    }
    fans
}

/// Cooling drag (N): the change of momentum of all air that passes through the car.
///
/// ```text
///   D = Σ |ṁ| V (entering) − Σ |ṁ| V_w cos θ (exits) + Σ |ṁ| V_jet (inlets blowing out) − ṁ_engine V
///   ½ρV_w² = Cp q + ½ρV_jet²,   V_jet = |ṁ|/(ρ A Cd)
/// ```
///
/// Every jet is taken as expanded to the pressure of the day, after Küchemann & Weber,
/// Aerodynamics of Propulsion (from memory). Air that the engine draws straight from outside is no
/// cooling air; what it draws from a chamber is taken off. Spillage round an oversized inlet is
/// not included.
pub fn cooling_drag(solver: &PointSolver) -> f64 {
    let speed = solver.free_stream.local_speed;
    let mut drag = 0.0;
    for (index, passage) in solver.network.passages.iter().enumerate() {
        let flow = solver.state.flow[index];
        let size = flow.abs();
        if passage.to == PassageEnd::Engine {
            if matches!(passage.from, PassageEnd::Chamber(_)) {
                drag -= flow * speed;
            }
            continue;
        }
        let (enters, leaves) =
            if flow >= 0.0 { (passage.from, passage.to) } else { (passage.to, passage.from) };
        if enters == PassageEnd::Outside {
            drag += size * speed;
        }
        if leaves != PassageEnd::Outside {
            continue;
        }
        let mut outlet = f64::NAN;
        solver
            .network
            .follow(index, &solver.boundary, &solver.state, |_, _, response| outlet = response.outlet);
        let density = 1.0 / (solver.free_stream.volume_per_kelvin * outlet);
        let laws = &solver.network.laws[passage.elements.clone()];
        if flow >= 0.0 {
            if let Some(exit) = laws.last().and_then(Law::as_exit) {
                let area = crate::element::ElementLaw::area(exit).unwrap_or(f64::INFINITY)
                    * crate::element::ElementLaw::pieces(exit);
                let jet = size / (density * area * exit.discharge_at(size, density));
                let head = exit.pressure_coefficient() * solver.free_stream.dynamic_pressure
                    + 0.5 * density * jet * jet;
                drag -= size * crate::correlations::jet::expanded_speed(head, density) * exit.angle().cos();
            }
        } else if let Some(inlet) = laws.first().filter(|law| law.faces_stream()) {
            drag += size * size / (density * inlet.area().unwrap_or(f64::INFINITY) * inlet.pieces());
        }
    }
    drag
}
