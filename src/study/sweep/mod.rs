//! Margin against road speed, in the gears really used.

pub mod between;
mod hotter;
pub mod result;

use crate::air::ZERO_CELSIUS;
use crate::case::{Case, Warning, tables as t};
use crate::element::Role;
use crate::keys::figures;
use crate::network::{Met, PassageEnd};
use crate::point::budget::{self, Budget, seconds};
use crate::point::describe::cooling_drag;
use crate::point::model::Model;
use crate::point::result as r;
use crate::point::result::SUDDEN_CHANGE;
use crate::point::solver::PointSolver;
use crate::point::speeds::{Geared, Loads, NotSwept, operation};
use crate::study::sweep::result::AirDriver;
use crate::thermal::margin::Margin;
use std::collections::BTreeMap;

/// Speeds of a sweep where no number is asked for: every command looks at the same.
pub const POINTS: usize = 200;
/// Speeds of the shortest sweep.
const FEWEST: usize = 12;

/// Runs through the speeds of `[sweep]`, or of the geared range, in `points` steps.
///
/// # Errors
/// [`NotSwept`] where no speed lies in a gear.
pub fn sweep(case: &Case, model: &Model, points: usize) -> Result<result::Sweep, NotSwept> {
    sweep_within(case, model, points, Budget::seconds(seconds::SWEEP), &mut Vec::new())
}

/// The same within a budget: fewer speeds where so many would be too much, and that is told.
///
/// # Errors
/// As [`sweep`].
pub fn sweep_within(
    case: &Case,
    model: &Model,
    points: usize,
    mut budget: Budget,
    left: &mut Vec<Warning>,
) -> Result<result::Sweep, NotSwept> {
    let mut geared = crate::point::speeds::points(case, model, points)?;
    let mut solver = PointSolver::new(model);
    // the first speed tells what the others may cost
    if let Some(first) = geared.first() {
        solver.prepare(model, &operation(case, first));
        let _ = solver.solve();
        solver.forget();
    }
    let each = solver.work() / 2 + budget::reading(case);
    let most = budget.times(each).max(FEWEST);
    if most < geared.len() {
        left.push(budget::left_out(format!("the sweep has {most} speeds in place of {}", geared.len())));
        geared = crate::point::speeds::points(case, model, most)?;
    }
    let mut margins = Vec::new();
    let mut swept = Vec::new();
    let mut states = Vec::new();
    let mut unsolved = Vec::new();
    for (index, point) in geared.iter().enumerate() {
        if !budget.allows(solver.work()) {
            left.push(budget::left_out(format!(
                "speeds from {} on were left out of the sweep",
                figures::speed(geared[index].speed)
            )));
            break;
        }
        solver.prepare(model, &operation(case, point));
        if solver.solve().is_err() {
            unsolved.push(point.speed);
            continue;
        }
        swept.push(read_off(case, model, &mut solver, point, &mut margins));
        states.push((*point, solver.state.clone()));
    }
    // of two ways in which the air can settle the hotter is shown
    budget.spend(solver.work());
    let found = hotter::look(case, model, &states, budget);
    if let Some(speed) = found.not_looked_from {
        left.push(budget::left_out(format!(
            "another steady state of the air was not sought from {} on in the sweep",
            figures::speed(speed)
        )));
    }
    for (index, state) in found.hotter {
        let (point, _) = &states[index];
        solver.prepare(model, &operation(case, point));
        if solver.solve_from(&state).is_ok() {
            swept[index] = read_off(case, model, &mut solver, point, &mut margins);
        }
    }
    let lowest = r::ByName(
        case.parts
            .iter()
            .filter(|part| part.values.has(&t::LIMIT))
            .filter_map(|part| lowest(&swept, &part.name).map(|low| (part.name.clone(), low)))
            .collect(),
    );
    let loads = Loads::of(case);
    Ok(result::Sweep {
        load: loads.constant(),
        load_is: loads.whose(),
        points: swept,
        lowest,
        unsolved_m_s: unsolved,
    })
}

/// What is told of a solved operating point.
fn read_off(
    case: &Case,
    model: &Model,
    solver: &mut PointSolver,
    point: &Geared,
    margins: &mut Vec<Margin>,
) -> result::SweepPoint {
    solver.margins(model, margins);
    let parts = case.parts.iter().zip(&*margins).enumerate().map(|(index, (part, margin))| {
        let temperature = solver.state.part_temperature(index);
        let swept = result::SweepPart {
            temperature_C: temperature - ZERO_CELSIUS,
            temperature_margin_K: solver.network.parts[index].limit - temperature,
            margin_band_K: None,
            likelihood: None,
            flow_margin: margin.flow_margin,
            margin_is: margin.is,
        };
        (part.name.clone(), swept)
    });
    let parts = r::ByName(parts.collect());
    let (gives, takes) = pressure_budget(case, solver);
    result::SweepPoint {
        speed_m_s: point.speed,
        gear: point.gear,
        rpm: point.rpm,
        load: point.load,
        parts,
        cooling_drag_N: cooling_drag(solver),
        gives_Pa: gives,
        takes_Pa: takes,
    }
}

/// The lowest point of a part: the fewest kelvins below its limit.
fn lowest(points: &[result::SweepPoint], part: &str) -> Option<result::Lowest> {
    let mut found: Option<(&result::SweepPoint, &result::SweepPart)> = None;
    for point in points {
        let Some(at) = point.parts.get(part) else { continue };
        if found.is_none_or(|(_, best)| at.temperature_margin_K < best.temperature_margin_K) {
            found = Some((point, at));
        }
    }
    found.map(|(point, at)| result::Lowest {
        speed_m_s: point.speed_m_s,
        gear: point.gear,
        flow_margin: at.flow_margin,
        margin_is: at.margin_is,
        temperature_margin_K: at.temperature_margin_K,
    })
}

/// Pressure budget of the cooling air: what pushes it and what takes the pressure, by kind (Pa).
///
/// Every push and loss is weighted with the flow it acts on and divided by all air that comes in
/// (the engine's own intake left aside): Σ ṁ Δp/Σ ṁ. Where the flows balance, so do the two sides,
/// since what a chamber's pressure takes from one passage it gives to another; what the engine draws
/// from a chamber takes that pressure along.
#[allow(clippy::type_complexity)]
fn pressure_budget(
    case: &Case,
    solver: &PointSolver,
) -> (BTreeMap<AirDriver, f64>, BTreeMap<&'static str, f64>) {
    let mut gives: BTreeMap<AirDriver, f64> = BTreeMap::new();
    let mut takes: BTreeMap<&'static str, f64> = BTreeMap::new();
    let mut inflow = 0.0;
    for (index, passage) in solver.network.passages.iter().enumerate() {
        let flow = solver.state.flow[index];
        if passage.to == PassageEnd::Engine {
            if let PassageEnd::Chamber(chamber) = passage.from {
                *takes.entry("air drawn by the engine").or_default() += flow * solver.state.pressure(chamber);
            }
            continue;
        }
        let enters = if flow >= 0.0 { passage.from } else { passage.to };
        if enters == PassageEnd::Outside {
            inflow += flow.abs();
        }
        // seams that nobody wrote down stand behind the passages of the case
        let table = case.passages.get(index);
        let mut outlet = f64::NAN;
        solver.network.follow_all(index, &solver.boundary, &solver.state, |met, _, response| {
            outlet = response.outlet;
            let Met::Element(element) = met else {
                *takes.entry(SUDDEN_CHANGE).or_default() += flow * response.drop;
                return;
            };
            let kind = table.and_then(|table| table.kind(element - passage.elements.start));
            *takes.entry(kind.map_or(crate::element::leak::KIND.name, |k| k.name)).or_default() +=
                flow * response.drop;
            let source = match (solver.network.laws[element].as_fan(), kind.map(|k| k.role)) {
                (Some(_), _) => AirDriver::Fan,
                (_, Some(Role::Inlet)) => AirDriver::Ram,
                (_, Some(Role::Exit)) => AirDriver::Suction,
                _ => AirDriver::Leaks,
            };
            if response.push != 0.0 {
                *gives.entry(source).or_default() += flow * response.push;
            }
        });
        let head = solver.network.last_head(index, &solver.boundary, &solver.state, outlet);
        *takes.entry("last velocity head").or_default() += flow.abs() * head;
    }
    let share = if inflow > 0.0 { 1.0 / inflow } else { 0.0 };
    gives.values_mut().chain(takes.values_mut()).for_each(|value| *value *= share);
    takes.retain(|_, value| *value != 0.0);
    (gives, takes)
}
