//! One state of the openings, solved in every condition that counts.

use super::meter::Meter;
use super::result::ExitOutcome;
use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::point::counted::Counted;
use crate::point::describe::cooling_drag;
use crate::point::{Model, PointSolver, budget};
use crate::study::size::Sizing;
use crate::study::size::inlets::MET_WITHIN;
use crate::thermal::MarginIs;

/// What was found in one condition.
#[derive(Clone, Debug)]
pub(super) struct ExitCondition {
    /// The condition, or the point of the sweep.
    pub condition: Counted,
    /// Distance of each part to its limit (K).
    pub kelvin: Vec<f64>,
    /// Flow of each passage that the case writes (kg/s); those of seams stand behind them and are left out.
    pub flows: Vec<f64>,
    /// Pressure (Pa) and temperature (K) of the bay.
    pub bay: Option<(f64, f64)>,
    /// Cooling drag (N).
    pub drag: f64,
    /// What is left of the margin asked for, the worst part.
    pub left: f64,
    /// The least flow margin, ranked, and its part.
    rank: (u8, f64, f64),
    part: usize,
}

/// What was found in all of them.
#[derive(Clone, Debug)]
pub(super) struct ExitState {
    /// Condition by condition.
    pub seen: Vec<ExitCondition>,
}

/// Solves a case in the conditions that count, each from a cold start as `check` does.
pub(super) fn observe(case: &Case, sizing: &Sizing, bay: Option<usize>, meter: &Meter) -> Option<ExitState> {
    let model = Model::new(case).ok()?;
    let mut solver = PointSolver::new(&model);
    let state = solved(case, sizing, bay, &model, &mut solver);
    let moments = sizing.counting().len() as u64;
    meter.seen(budget::making(case) + moments * budget::reading(case) + solver.work());
    state
}

fn solved(
    case: &Case,
    sizing: &Sizing,
    bay: Option<usize>,
    model: &Model,
    solver: &mut PointSolver,
) -> Option<ExitState> {
    let mut margins = Vec::new();
    let mut seen = Vec::new();
    for condition in sizing.counting() {
        solver.prepare(model, &condition.operation(case, model));
        solver.forget();
        solver.solve_hotter_on_the_way().ok()?;
        solver.margins(model, &mut margins);
        let kelvin: Vec<f64> = (0..case.parts.len())
            .map(|part| solver.network.parts[part].limit - solver.state.part_temperature(part))
            .collect();
        let ranks = margins.iter().zip(&kelvin).enumerate().map(|(part, (margin, kelvin))| {
            let (rank, value) = match margin.is {
                MarginIs::Impossible => (0, 0.0),
                MarginIs::Value => (1, margin.flow_margin.unwrap_or(-1.0)),
                MarginIs::Unlimited => (2, 0.0),
                MarginIs::NoLimit => (3, 0.0),
            };
            ((rank, value, *kelvin), part)
        });
        let none = ((3, 0.0, f64::INFINITY), 0);
        let (rank, part) = ranks.fold(none, |least, here| if here.0 < least.0 { here } else { least });
        let bay = bay.map(|bay| (solver.state.pressure(bay), solver.state.chamber_temperature(bay)));
        seen.push(ExitCondition {
            condition: *condition,
            kelvin,
            flows: solver.state.flow[..case.passages.len()].to_vec(),
            bay,
            drag: cooling_drag(solver),
            left: sizing.left(solver, model).0,
            rank,
            part,
        });
    }
    (!seen.is_empty()).then_some(ExitState { seen })
}

impl ExitState {
    /// The condition of the least margin: no air would do before a number before none needed, then the
    /// least flow margin, then the fewest kelvin.
    pub fn worst(&self) -> &ExitCondition {
        self.seen[1..]
            .iter()
            .fold(&self.seen[0], |least, here| if here.rank < least.rank { here } else { least })
    }

    /// The part of the least margin.
    pub fn worst_part(&self) -> usize {
        self.worst().part
    }

    /// The least flow margin; −1 where no air would do.
    pub fn least_margin(&self) -> Option<f64> {
        match self.worst().rank {
            (0, _, _) => Some(-1.0),
            (1, value, _) => Some(value),
            _ => None,
        }
    }

    /// For a part the least distance to its limit (K) and the condition.
    pub fn least_of(&self, part: usize) -> (f64, Counted) {
        let each = self.seen.iter().map(|seen| (seen.kelvin[part], seen.condition));
        let none = (f64::INFINITY, self.seen[0].condition);
        each.fold(none, |least, here| if here.0 < least.0 { here } else { least })
    }

    /// The least distance to a limit (K), the part and the condition.
    pub fn least_kelvin(&self) -> (f64, usize, Counted) {
        let parts = self.seen.first().map_or(0, |seen| seen.kelvin.len());
        let each = (0..parts).map(|part| {
            let (kelvin, condition) = self.least_of(part);
            (kelvin, part, condition)
        });
        let none = (f64::INFINITY, 0, self.seen[0].condition);
        each.fold(none, |least, here| if here.0 < least.0 { here } else { least })
    }

    /// What is left of the margins asked for, the worst of all.
    pub fn left(&self) -> f64 {
        self.seen.iter().fold(f64::INFINITY, |least, seen| least.min(seen.left))
    }

    /// Whether every margin asked for is reached.
    pub fn reached(&self) -> bool {
        self.left() >= -MET_WITHIN
    }

    /// Cooling drag in a condition (N).
    pub fn drag(&self, condition: Counted) -> f64 {
        self.seen.iter().find(|seen| seen.condition == condition).map_or(f64::NAN, |seen| seen.drag)
    }

    /// Pressure (Pa) and temperature (°C) of the bay in the condition of the least margin.
    pub fn bay(&self) -> Option<(f64, f64)> {
        self.worst().bay.map(|(pressure, temperature)| (pressure, temperature - ZERO_CELSIUS))
    }

    /// The margins in short.
    pub fn outcome(&self, case: &Case) -> ExitOutcome {
        let (kelvin, part, condition) = self.least_kelvin();
        ExitOutcome {
            least_margin: self.least_margin(),
            least_temperature_margin_K: kelvin,
            part: case.parts.get(part).map_or(String::new(), |part| part.name.clone()),
            condition: condition.label(case),
            reached: self.reached(),
        }
    }
}
