//! Inlets re-sized to exits that stay as they are.
//!
//! The same problem as `size`, with what `[size]` says of bounds, margins and conditions; only the inlets
//! of cooling air are free, and their area is made smallest.

use super::evaluator::{Goal, SizingEvaluator};
use super::read::{bounds_of, counted};
use super::starts::halton;
use super::{LEAST, MET, MOST, MarginTarget, SPARE, Sizing, Variable, result};
use crate::case::Case;
use crate::element::Role;
use crate::numerics::constrained::{Effort, Minimum, minimise};
use crate::point::budget::Budget;
use crate::point::counted::Counted;
use crate::point::model::Model;
use crate::point::opening::Opening;
use crate::point::solver::PointSolver;

/// Where between its bounds an inlet begins, in the logarithm of its area.
const STARTS: [f64; 3] = [0.35, 0.6, 0.85];
/// Starts in all before inlets are said not to do.
const BEFORE_NONE: usize = 12;
/// Shortfall below which a margin counts as reached.
pub(in crate::study) const MET_WITHIN: f64 = MET;
/// Points of the sweep that count, beside the ends of the gears.
const POINTS: usize = 25;
/// Effort of one search.
const EFFORT: Effort = Effort { steps: 40, close: 1e-8 };

/// Which inlets are re-sized.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::study) enum Which {
    /// Those that `[size]` frees.
    Free,
    /// All inlets of cooling air, since the case frees none.
    All,
}

/// Inlets found for one state of the exits.
#[derive(Clone, Debug)]
pub(in crate::study) struct InletFit {
    /// Logarithm of the area of each variable.
    pub point: Vec<f64>,
    /// Area of them all (m²).
    pub area: f64,
    /// Largest shortfall; at most [`MET`] where every margin is reached.
    pub violation: f64,
}

/// A search for inlets.
#[derive(Clone, Debug)]
pub(in crate::study) struct Tried {
    /// The best; none where no start could be solved.
    pub fit: Option<InletFit>,
    /// Work done.
    pub work: u64,
    /// Whether the work that may be done ended it before its end.
    pub spent: bool,
}

/// How widely inlets are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::study) enum Wide {
    /// From what is given alone.
    No,
    /// From small, middling and large ones too.
    Yes,
    /// From at least ten starts that lie well apart before they are said not to do.
    Sure,
}

impl InletFit {
    /// Whether every margin asked for is reached.
    pub fn feasible(&self) -> bool {
        self.violation <= MET
    }

    fn better_than(&self, other: &InletFit) -> bool {
        match (self.feasible(), other.feasible()) {
            (true, true) => self.area < other.area,
            (a, b) if a != b => a,
            _ => self.violation < other.violation,
        }
    }
}

/// What telling apart may take that is short together (s).
const REASONS: f64 = 0.2;

impl<'c> Sizing<'c> {
    /// The sizing of the inlets of a case alone, its exits staying as they are.
    /// With it the work done.
    pub(in crate::study) fn of_inlets(case: &'c Case) -> (Sizing<'c>, Which, u64) {
        let (mut sizing, which) = Sizing::of_inlets_unbounded(case);
        // a case that is refused as drawn has no walls to be found
        let work = sizing.find_walls().unwrap_or(0);
        (sizing, which, work)
    }

    /// The same with the bounds of another, whose exits may differ.
    pub(in crate::study) fn of_inlets_within(case: &'c Case, other: &Sizing) -> Sizing<'c> {
        let (mut sizing, _) = Sizing::of_inlets_unbounded(case);
        for (variable, other) in sizing.variables.iter_mut().zip(&other.variables) {
            (variable.lower, variable.upper) = (other.lower, other.upper);
            variable.wall.clone_from(&other.wall);
        }
        sizing
    }

    /// The same without a look at how far each inlet can change before the case is refused.
    pub(in crate::study) fn of_inlets_unbounded(case: &'c Case) -> (Sizing<'c>, Which) {
        let cools = |member: &Opening| {
            member.role(case) == Some(Role::Inlet) && case.passages[member.passage].to != "engine"
        };
        let mut sizing = Sizing::new(case).unwrap_or_else(|_| Sizing {
            case,
            variables: Vec::new(),
            at: (0..case.conditions.len()).map(Counted::Condition).collect(),
            sweeps: false,
            targets: vec![MarginTarget::Flow(0.0); case.parts.len()],
            drag_at: None,
            drag_unit: 1.0,
            carburettor_loss: None,
            carburettor_heating: None,
            others: Vec::new(),
            short: Vec::new(),
        });
        if let Some((at, true)) = counted(case, POINTS).ok().filter(|_| sizing.sweeps) {
            sizing.at = at;
        }
        sizing.drag_at = None;
        (sizing.carburettor_loss, sizing.carburettor_heating) = (None, None);
        for variable in &mut sizing.variables {
            variable.members.retain(cools);
        }
        sizing.variables.retain(|variable| !variable.members.is_empty());
        if !sizing.variables.is_empty() {
            return (sizing, Which::Free);
        }
        for (passage, table) in case.passages.iter().enumerate() {
            let inlet = table.first_of(Role::Inlet).and_then(|element| Opening::at(case, passage, element));
            // what [size] allows counts for what it does not free too
            let (least, most) = bounds_of(case, &table.name);
            sizing.variables.extend(inlet.filter(&cools).map(|inlet| Variable {
                lower: least.unwrap_or(LEAST),
                upper: most.unwrap_or(MOST),
                members: vec![inlet],
                lower_is: super::result::SizeBound::Least,
                wall: None,
            }));
        }
        (sizing, Which::All)
    }

    /// The openings that change, those of one variable together, with their bounds (m²).
    pub(in crate::study) fn groups(&self) -> impl Iterator<Item = (&[Opening], (f64, f64))> {
        self.variables.iter().map(|variable| (&variable.members[..], (variable.lower, variable.upper)))
    }

    /// Moments that count.
    pub(in crate::study) fn counting(&self) -> &[Counted] {
        &self.at
    }

    /// The sizes of the case as a point, within the bounds.
    pub(in crate::study) fn as_drawn(&self) -> Vec<f64> {
        self.drawn()
    }

    /// Sets the inlets of a case.
    pub(in crate::study) fn put(&self, case: &mut Case, point: &[f64]) {
        self.set(case, point);
    }

    /// Whether every inlet of a part stands at its upper bound.
    pub(in crate::study) fn at_most(&self, point: &[f64]) -> Vec<&str> {
        let pairs = self.variables.iter().zip(point).filter(|(v, x)| x.exp() >= v.upper * (1.0 - 1e-4));
        pairs.flat_map(|(v, _)| v.members.iter().map(|m| m.name.as_str())).collect()
    }

    /// What is left of the margin asked for, the worst of all parts in the present solution; below zero it
    /// is missed. With it the part.
    pub(in crate::study) fn left(&self, solver: &mut PointSolver, model: &Model) -> (f64, usize) {
        let each = self.targets.iter().enumerate();
        let left = each.map(|(part, target)| (target.left(solver, model, part) - SPARE, part));
        left.fold((f64::INFINITY, 0), |least, here| if here.0 < least.0 { here } else { least })
    }

    /// Between small and large inlets, in the logarithm of their areas.
    fn between(&self, share: impl Fn(usize) -> f64) -> Vec<f64> {
        let (low, high) = self.usual();
        low.iter().zip(&high).enumerate().map(|(i, (low, high))| low + share(i) * (high - low)).collect()
    }

    /// Smallest inlets from `more`, and from as many starts as `wide` says.
    pub(in crate::study) fn fit(&self, wide: Wide, more: &[Vec<f64>], allowance: Budget) -> Tried {
        let (lower, upper) = self.bounds();
        let mut starts: Vec<Vec<f64>> = more.to_vec();
        if wide != Wide::No || starts.is_empty() {
            starts.push(self.as_drawn());
            starts.extend(STARTS.iter().map(|share| self.between(|_| *share)));
        }
        let mut tried = Tried { fit: None, work: 0, spent: false };
        let mut index = 0;
        while index < starts.len() {
            let left = Budget::of(allowance.left().saturating_sub(tried.work));
            let Some(mut evaluator) = SizingEvaluator::new(self, left, false) else { break };
            let start = &starts[index];
            let outcome = if start.is_empty() {
                evaluator.evaluate(&[], Goal::Own).map(|value| Minimum { point: Vec::new(), value, steps: 0 })
            } else {
                minimise(|x| evaluator.evaluate(x, Goal::Own), start, &lower, &upper, EFFORT)
            };
            tried.work += evaluator.work();
            let found = outcome.map(|outcome| InletFit {
                area: self.total_area(&outcome.point),
                violation: outcome.value.violation(),
                point: outcome.point,
            });
            if let Some(found) = found
                && tried.fit.as_ref().is_none_or(|best| found.better_than(best))
            {
                tried.fit = Some(found);
            }
            if !allowance.allows(tried.work) {
                tried.spent = true;
                break;
            }
            index += 1;
            let none_do = !tried.fit.as_ref().is_some_and(InletFit::feasible);
            if none_do && wide == Wide::Sure && index == starts.len() && index < BEFORE_NONE && lower != upper
            {
                starts.push(self.between(|axis| halton(index, axis)));
            }
        }
        tried
    }

    /// The parts and conditions that stand in the way at a point, or hold the sizes where they are.
    pub(in crate::study) fn in_the_way(&self, fit: &InletFit) -> Vec<result::LimitedBy> {
        let evaluator = SizingEvaluator::new(self, Budget::seconds(1.0), true);
        let Some(mut evaluator) = evaluator.filter(|_| !fit.feasible()) else { return Vec::new() };
        let Some(value) = evaluator.evaluate(&fit.point, Goal::Own) else { return Vec::new() };
        let at = Minimum { point: fit.point.clone(), value, steps: 0 };
        self.in_the_way_alone(&at, Budget::seconds(REASONS))
    }
}
