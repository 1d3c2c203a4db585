//! The road speed from which the ram before a fan pushes more than the fan does.
//!
//! Below it the fan earns its keep; above it the ram alone would bring the air, and soon drives it through the fan.
//! Sought over the speeds of `[sweep]` (else those of the gears), in the gear that is used there, each point solved.

use crate::case::{Case, Warning};
use crate::element::Role;
use crate::element::fan::Drive;
use crate::keys::word::words;
use crate::network::PassageEnd;
use crate::point::budget::{self, Budget};
use crate::point::gearing::Gearing;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::solver::PointSolver;
use crate::point::speeds::{Loads, ends};
use serde::Serialize;

words! {
    /// Whether there is a speed from which the ram pushes more than a fan.
    pub enum RamOverFanIs {
        Value = "value",
        /// The fan pushes more at every speed.
        Never = "never",
        /// The ram does.
        Always = "always",
    }
}

/// Speeds that are tried before the one between two is sought.
const SPEEDS: usize = 25;
/// Halvings between two speeds: to well under 0.1 km/h.
const HALVINGS: usize = 10;

/// A fan and the ram before it.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct RamOverFan {
    /// Address of the fan.
    pub fan: String,
    /// The passage it stands in.
    pub passage: String,
    /// Address of the inlet whose ram reaches it.
    pub inlet: String,
    /// Whether there is such a speed.
    pub is: RamOverFanIs,
    /// Lowest road speed at which the ram pushes more; the lowest of the sweep where it always does; none where never.
    pub speed_m_s: Option<f64>,
    /// The gear there; where never, the one at the speed of the two figures below.
    pub gear: usize,
    /// Speed at which both figures stand: the above, or where never that at which the ram comes nearest.
    pub at_m_s: f64,
    /// Push of the ram there.
    pub ram_Pa: f64,
    /// Push of the fan there.
    pub fan_Pa: f64,
}

/// A fan that the ram can reach: its passage and element, the inlets' passages.
struct Sought {
    passage: usize,
    element: usize,
    inlets: Vec<usize>,
}

/// What a solved point says: gear, ram, fan, and the passage of the inlet.
#[derive(Clone, Copy, Debug)]
struct SolvedPoint {
    speed: f64,
    gear: usize,
    ram: f64,
    fan: f64,
    inlet: usize,
}

/// Every fan that does not stand and has an inlet before it in its passage, or in one that feeds its chamber; none
/// without `[drive]`. Where it would be too much for the budget it is left out and told.
pub fn ram_over_fan_within(
    case: &Case,
    model: &Model,
    budget: Budget,
    left: &mut Vec<Warning>,
) -> Vec<RamOverFan> {
    let sought = sought(case, model);
    let Some(gearing) = Gearing::read(case, &model.engine).filter(|_| !sought.is_empty()) else {
        return Vec::new();
    };
    let (from, to) = ends(case, &gearing);
    let loads = Loads::of(case);
    let mut solver = PointSolver::new(model);
    let mut solve = |speed: f64| -> Option<(usize, Vec<SolvedPoint>, u64)> {
        let (gear, rpm) = gearing.gear_at(speed)?;
        solver.prepare(model, &Operation::at_speed(case, speed, rpm, loads.at(speed)));
        solver.forget();
        let before = solver.work();
        solver.solve().ok()?;
        let points = sought.iter().map(|one| point(&solver, one, speed, gear)).collect();
        Some((gear, points, solver.work() - before))
    };
    let begun = solve(from).or_else(|| solve(to));
    let each = begun.map_or(1, |(_, _, work)| work);
    let points = SPEEDS + sought.len() * HALVINGS;
    if budget.times(each) < points {
        left.push(budget::left_out("from which speed the ram pushes more than a fan was left out"));
        return Vec::new();
    }
    let speeds = (0..SPEEDS).map(|step| from + (to - from) * step as f64 / (SPEEDS - 1) as f64);
    let points: Vec<Vec<SolvedPoint>> =
        speeds.filter_map(|speed| solve(speed).map(|(_, points, _)| points)).collect();
    let mut found = Vec::new();
    for (index, one) in sought.iter().enumerate() {
        let along: Vec<SolvedPoint> = points.iter().map(|all| all[index]).collect();
        let over = |point: &SolvedPoint| point.ram > point.fan;
        let nearest = along.iter().max_by(|a, b| (a.ram - a.fan).total_cmp(&(b.ram - b.fan)));
        let Some(nearest) = nearest.copied() else { continue };
        let (is, at) = match along.iter().position(over) {
            None => (RamOverFanIs::Never, nearest),
            Some(0) => (RamOverFanIs::Always, along[0]),
            Some(first) => {
                let (mut below, mut at) = (along[first - 1].speed, along[first]);
                for _ in 0..HALVINGS {
                    let middle = 0.5 * (below + at.speed);
                    match solve(middle).map(|(_, points, _)| points[index]) {
                        Some(point) if over(&point) => at = point,
                        _ => below = middle,
                    }
                }
                (RamOverFanIs::Value, at)
            }
        };
        // above an early gap the ram may fall behind again; "always" is meant at every speed
        let is = if is == RamOverFanIs::Always && !along.iter().all(over) { RamOverFanIs::Value } else { is };
        found.push(RamOverFan {
            fan: address(case, model, one.passage, one.element),
            passage: case.passages[one.passage].name.clone(),
            inlet: case.passages[at.inlet].elements[0].address.clone(),
            is,
            speed_m_s: (is != RamOverFanIs::Never).then_some(at.speed),
            gear: at.gear,
            at_m_s: at.speed,
            ram_Pa: at.ram,
            fan_Pa: at.fan,
        });
    }
    found
}

fn address(case: &Case, model: &Model, passage: usize, element: usize) -> String {
    let first = model.network.passages[passage].elements.start;
    case.passages[passage].elements[element - first].address.clone()
}

fn sought(case: &Case, model: &Model) -> Vec<Sought> {
    let begins_with_inlet = |passage: &usize| case.passages[*passage].first_of(Role::Inlet) == Some(0);
    let mut all = Vec::new();
    for passage in 0..case.passages.len() {
        let network = &model.network.passages[passage];
        let inlets: Vec<usize> = match network.from {
            PassageEnd::Outside => vec![passage],
            from => {
                let feeds = |other: &usize| {
                    let other = &model.network.passages[*other];
                    other.from == PassageEnd::Outside && other.to == from
                };
                (0..case.passages.len()).filter(feeds).collect()
            }
        };
        let inlets: Vec<usize> = inlets.into_iter().filter(begins_with_inlet).collect();
        for element in network.elements.clone() {
            let turns = model.network.laws[element].as_fan().is_some_and(|fan| fan.drive() != Drive::Off);
            if turns && !inlets.is_empty() {
                all.push(Sought { passage, element, inlets: inlets.clone() });
            }
        }
    }
    all
}

fn point(solver: &PointSolver, one: &Sought, speed: f64, gear: usize) -> SolvedPoint {
    let push = |passage: usize, wanted: usize| {
        let mut push = 0.0;
        solver.network.follow(passage, &solver.boundary, &solver.state, |element, _, response| {
            if element == wanted {
                push = response.push;
            }
        });
        push
    };
    let rams =
        one.inlets.iter().map(|&inlet| (push(inlet, solver.network.passages[inlet].elements.start), inlet));
    let (ram, inlet) = rams.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, one.passage));
    SolvedPoint { speed, gear, ram, fan: push(one.passage, one.element), inlet }
}
