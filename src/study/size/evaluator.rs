//! One set of sizes after another: objective and constraints.

use super::result::LimitedBy;
use super::{Holder, MarginTarget, SPARE, Sizing};
use crate::case::Case;
use crate::network::PassageEnd;
use crate::numerics::constrained::Evaluation;
use crate::point::budget::{self, Budget};
use crate::point::counted::Counted;
use crate::point::describe;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::solver::PointSolver;
use crate::study::sweep::result::SweepPart;
use crate::thermal::MarginIs;
use crate::thermal::margin::surplus;

/// What an evaluation bears of the programme of a step, in visits, times the square of the number of openings.
const STEP_SHARE: u64 = 3;

/// Work of an evaluation beside its solutions: making the case ready, reading off margins, its share of the
/// programme of a step.
fn work_beside(sizing: &Sizing) -> u64 {
    let moments = sizing.at.len() as u64;
    let constraints = moments * sizing.case.parts.len() as u64;
    let openings = sizing.variables.len() as u64;
    budget::making(sizing.case)
        + moments * budget::reading(sizing.case)
        + STEP_SHARE * openings * openings
        + constraints * openings / 2
}

/// Area that counts as one (m²).
const AREA_UNIT: f64 = 0.03;

impl MarginTarget {
    /// What a part of the present solution has over what it must keep, as a share of its heat or in
    /// hundreds of kelvin; below zero it is short of it. Infinite where the part has no limit.
    pub(super) fn left(&self, solver: &mut PointSolver, model: &Model, part: usize) -> f64 {
        if !solver.network.parts[part].has_limit() {
            return f64::INFINITY;
        }
        match self {
            MarginTarget::Flow(margin) => {
                let (held, carriers) = solver.held(model, part);
                let (left, _) = surplus(&held, carriers, -(1.0 + margin).ln());
                left / held.heat.abs().max(1.0)
            }
            MarginTarget::Kelvin(kelvin) => {
                let law = &solver.network.parts[part];
                (law.limit - solver.state.part_temperature(part) - kelvin) / 100.0
            }
        }
    }
}

/// What is made smallest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Goal {
    /// The objective of the case.
    Own,
    /// The area, the drag no more than this, in its unit.
    AreaUnder(f64),
    /// Nothing: only the margins count.
    Margins,
}

/// Evaluates one set of sizes after another.
pub(super) struct SizingEvaluator<'s> {
    sizing: &'s Sizing<'s>,
    case: Case,
    operations: Vec<Operation>,
    runners: Vec<PointSolver>,
    /// Where among the operations the drag counts.
    drag_place: Option<usize>,
    /// Whether every solution begins anew, as `check` does.
    cold: bool,
    /// Work of an evaluation beside its solutions.
    making: u64,
    made: u64,
    allowance: Budget,
    /// Benches of other body shapes.
    others: Vec<SizingEvaluator<'s>>,
    pub holders: Vec<Holder>,
}

impl<'s> SizingEvaluator<'s> {
    /// A bench for a sizing problem; none where its case cannot be made ready. `cold`: every solution is begun
    /// anew, as `check` does.
    pub fn new(sizing: &'s Sizing<'s>, allowance: Budget, cold: bool) -> Option<SizingEvaluator<'s>> {
        let model = Model::new(&sizing.at_point(&sizing.drawn())).ok()?;
        let drag = sizing.drag_at.map(Counted::Condition);
        let mut wanted = sizing.at.clone();
        wanted.extend(drag.filter(|drag| !sizing.at.contains(drag)));
        let operations: Vec<Operation> =
            wanted.iter().map(|counted| counted.operation(sizing.case, &model)).collect();
        let runners = operations.iter().map(|_| PointSolver::new(&model)).collect();
        let mut holders = Vec::new();
        for place in 0..sizing.at.len() {
            let limited =
                (0..model.network.parts.len()).filter(|part| model.network.parts[*part].has_limit());
            holders.extend(limited.map(|part| Holder::Part { part, place }));
            if sizing.carburettor_loss.is_some() {
                holders.push(Holder::Carburettor { place });
            }
            if sizing.carburettor_heating.is_some() {
                holders.push(Holder::Carburettor { place });
            }
        }
        let others = sizing.others.iter().map(|(_, other)| SizingEvaluator::new(other, allowance, cold));
        let others: Vec<SizingEvaluator> = others.collect::<Option<_>>()?;
        for (shape, other) in others.iter().enumerate() {
            holders.extend((0..other.holders.len()).map(|index| Holder::Other { shape, index }));
        }
        Some(SizingEvaluator {
            others,
            sizing,
            case: sizing.case.clone(),
            operations,
            runners,
            drag_place: drag.and_then(|drag| wanted.iter().position(|counted| *counted == drag)),
            cold,
            making: work_beside(sizing),
            made: 0,
            allowance,
            holders,
        })
    }

    /// Work done so far.
    pub fn work(&self) -> u64 {
        let others = self.others.iter().map(SizingEvaluator::work).sum::<u64>();
        self.made + others + self.runners.iter().map(PointSolver::work).sum::<u64>()
    }

    /// Objective and constraints at a point; none where the case is refused or has no steady state there, or
    /// where no work may be done any more.
    pub fn evaluate(&mut self, point: &[f64], goal: Goal) -> Option<Evaluation> {
        if !self.allowance.allows(self.work()) {
            return None;
        }
        let sizing = self.sizing;
        sizing.set(&mut self.case, point);
        self.made += self.making;
        let model = Model::new(&self.case).ok()?;
        let mut drag = f64::NAN;
        let mut constraints = Vec::with_capacity(self.holders.len() + 1);
        for (index, operation) in self.operations.iter().enumerate() {
            let solver = &mut self.runners[index];
            solver.network.clone_from(&model.network);
            solver.prepare(&model, operation);
            if self.cold {
                solver.forget();
                // as `check` judges it
                solver.solve_hotter().ok()?;
            } else {
                solver.solve().ok()?;
            }
            if self.drag_place == Some(index) {
                drag = describe::cooling_drag(solver) / sizing.drag_unit;
            }
            if index >= sizing.at.len() {
                continue;
            }
            for (part, target) in sizing.targets.iter().enumerate() {
                if !model.network.parts[part].has_limit() {
                    continue;
                }
                constraints.push(target.left(solver, &model, part) - SPARE);
            }
            if let Some(most) = sizing.carburettor_loss {
                constraints.push((most - carburettor_loss(solver)) / most.max(1.0) - SPARE);
            }
            if let Some(most) = sizing.carburettor_heating {
                constraints.push((most - carburettor_heating(solver)) / 10.0 - SPARE);
            }
        }
        for other in &mut self.others {
            constraints.extend(other.evaluate(point, Goal::Margins)?.constraints);
        }
        sizing.let_off(&mut constraints);
        let area = sizing.total_area(point) / AREA_UNIT;
        let objective = match (goal, sizing.drag_at) {
            (Goal::Margins, _) => 0.0,
            (Goal::AreaUnder(most), _) => {
                constraints.push((most - drag) / most.abs().max(1e-3));
                area
            }
            (Goal::Own, Some(_)) => drag,
            (Goal::Own, None) => area,
        };
        let sound = objective.is_finite() && constraints.iter().all(|c| c.is_finite());
        sound.then_some(Evaluation { objective, constraints })
    }

    /// A part's margin, at the sizes last evaluated, as what holds them.
    pub fn limited(&mut self, holder: Holder) -> Option<LimitedBy> {
        let (case, at) = (self.sizing.case, &self.sizing.at);
        match holder {
            Holder::Part { part, place } => {
                let model = Model::new(&self.case).ok()?;
                let mut limited = LimitedBy::of(&at[place], case, &case.parts[part].name);
                limited.at = Some(SweepPart::now(&model, &mut self.runners[place], part));
                Some(limited)
            }
            Holder::Carburettor { place } => Some(LimitedBy::of(&at[place], case, "carburettor")),
            Holder::Other { shape, index } => {
                let name = self.sizing.others[shape].0;
                let other = &mut self.others[shape];
                let mut limited = other.limited(other.holders[index])?;
                limited.condition = format!("{} ({name})", limited.condition);
                Some(limited)
            }
        }
    }

    /// The least flow margin over the conditions that count, at the sizes last evaluated.
    pub fn least_margin(&mut self) -> Option<f64> {
        let model = Model::new(&self.case).ok()?;
        let mut least: Option<f64> = None;
        let mut margins = Vec::new();
        for solver in &mut self.runners[..self.sizing.at.len()] {
            solver.margins(&model, &mut margins);
            for margin in &margins {
                let value = match margin.is {
                    MarginIs::Value => margin.flow_margin,
                    MarginIs::Unlimited | MarginIs::NoLimit => None,
                    MarginIs::Impossible => Some(-1.0),
                };
                least = match (least, value) {
                    (Some(a), Some(b)) => Some(a.min(b)),
                    (a, b) => a.or(b),
                };
            }
        }
        least
    }
}

/// Fall of total pressure along the passages to the engine, the largest (Pa).
fn carburettor_loss(solver: &PointSolver) -> f64 {
    let mut most: f64 = 0.0;
    for (index, passage) in solver.network.passages.iter().enumerate() {
        if passage.to == PassageEnd::Engine {
            let mut loss = 0.0;
            solver
                .network
                .follow(index, &solver.boundary, &solver.state, |_, _, response| loss += response.drop.abs());
            most = most.max(loss);
        }
    }
    most
}

/// Rise of the engine's air over the day's, the largest (K).
fn carburettor_heating(solver: &PointSolver) -> f64 {
    let mut most = f64::NEG_INFINITY;
    for (index, passage) in solver.network.passages.iter().enumerate() {
        if passage.to == PassageEnd::Engine {
            let mut outlet = f64::NAN;
            solver.network.follow(index, &solver.boundary, &solver.state, |element, entering, response| {
                outlet = if solver.network.laws[element].as_demand().is_some() {
                    entering
                } else {
                    response.outlet
                };
            });
            most = most.max(outlet - solver.boundary.day_temperature);
        }
    }
    if most.is_finite() { most } else { 0.0 }
}
