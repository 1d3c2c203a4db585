//! Inlets re-sized to exits that stay as they are.
//!
//! The same problem as `size`, with what `[size]` says of bounds, margins and conditions; only the inlets
//! of cooling air are free, and their area is made smallest.

use super::super::model::Model;
use super::super::opening::Opening;
use super::super::operation::Runner;
use super::super::result as r;
use super::bench::Bench;
use super::{LEAST, MET, MOST, SPARE, Sizing, Target, Variable};
use crate::case::Case;
use crate::element::Role;
use crate::numerics::constrained::{Outcome, minimise};

/// Where between its bounds an inlet begins, in the logarithm of its area.
const STARTS: [f64; 3] = [0.35, 0.6, 0.85];
/// Shortfall below which a margin counts as reached.
pub(in crate::study) const MET_WITHIN: f64 = MET;
/// Steps of one search.
const STEPS: usize = 40;

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
pub(in crate::study) struct Fit {
    /// Logarithm of the area of each variable.
    pub point: Vec<f64>,
    /// Area of them all (m²).
    pub area: f64,
    /// Largest shortfall; at most [`MET`] where every margin is reached.
    pub violation: f64,
}

impl Fit {
    /// Whether every margin asked for is reached.
    pub fn feasible(&self) -> bool {
        self.violation <= MET
    }

    fn better_than(&self, other: &Fit) -> bool {
        match (self.feasible(), other.feasible()) {
            (true, true) => self.area < other.area,
            (a, b) if a != b => a,
            _ => self.violation < other.violation,
        }
    }
}

impl<'c> Sizing<'c> {
    /// The sizing of the inlets of a case alone, its exits staying as they are.
    pub(in crate::study) fn of_inlets(case: &'c Case) -> (Sizing<'c>, Which) {
        let cools = |member: &Opening| {
            member.role(case) == Some(Role::Inlet) && case.passages[member.passage].to != "engine"
        };
        let mut sizing = Sizing::new(case).unwrap_or_else(|_| Sizing {
            case,
            variables: Vec::new(),
            at: (0..case.conditions.len()).collect(),
            targets: vec![Target::Flow(0.0); case.parts.len()],
            drag_at: None,
            carburettor_loss: None,
            carburettor_heating: None,
        });
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
            sizing.variables.extend(inlet.filter(&cools).map(|inlet| Variable {
                members: vec![inlet],
                lower: LEAST,
                upper: MOST,
                lower_is: "least",
                given: (false, false),
            }));
        }
        (sizing, Which::All)
    }

    /// The openings that change, those of one variable together.
    pub(in crate::study) fn groups(&self) -> impl Iterator<Item = &[Opening]> {
        self.variables.iter().map(|variable| &variable.members[..])
    }

    /// Conditions that count.
    pub(in crate::study) fn counting(&self) -> &[usize] {
        &self.at
    }

    /// The sizes of the case as a point, within the bounds.
    pub(in crate::study) fn as_drawn(&self) -> Vec<f64> {
        self.logs(|v| v.members.first().map_or(LEAST, Opening::area).clamp(v.lower, v.upper))
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
    pub(in crate::study) fn left(&self, runner: &mut Runner, model: &Model) -> (f64, usize) {
        let each = self.targets.iter().enumerate();
        let left = each.map(|(part, target)| (target.left(runner, model, part) - SPARE, part));
        left.fold((f64::INFINITY, 0), |least, here| if here.0 < least.0 { here } else { least })
    }

    /// Smallest inlets from several starts: those of the case, small, middling and large ones, and
    /// `more`; `wide` false leaves the starts out.
    pub(in crate::study) fn fit(&self, wide: bool, more: &[Vec<f64>]) -> Option<Fit> {
        let lower = self.logs(|v| v.lower);
        let upper = self.logs(|v| v.upper);
        let mut starts: Vec<Vec<f64>> = more.to_vec();
        if wide || starts.is_empty() {
            starts.push(self.as_drawn());
            for share in STARTS {
                let between = |v: &Variable| {
                    let (low, high) = (v.lower.max(1e-3).min(v.upper), v.upper.min(0.12).max(v.lower));
                    low * (high / low).powf(share)
                };
                starts.push(self.logs(between));
            }
        }
        let mut best: Option<Fit> = None;
        for start in &starts {
            let Some(mut bench) = Bench::new(self) else { continue };
            let outcome = if start.is_empty() {
                bench.evaluate(&[], None).map(|value| Outcome {
                    point: Vec::new(),
                    value,
                    multipliers: Vec::new(),
                    steps: 0,
                })
            } else {
                minimise(|x| bench.evaluate(x, None), start, &lower, &upper, STEPS)
            };
            let Some(outcome) = outcome else { continue };
            let fit = Fit {
                area: self.total_area(&outcome.point),
                violation: outcome.value.violation(),
                point: outcome.point,
            };
            if best.as_ref().is_none_or(|best| fit.better_than(best)) {
                best = Some(fit);
            }
        }
        best
    }

    /// The parts and conditions that stand in the way at a point, or hold the sizes where they are.
    pub(in crate::study) fn in_the_way(&self, fit: &Fit) -> Vec<r::LimitedBy> {
        let Some(mut bench) = Bench::new(self) else { return Vec::new() };
        let Some(value) = bench.evaluate(&fit.point, None) else { return Vec::new() };
        let worst = value.violation();
        let mut limits = Vec::new();
        for (holder, slack) in bench.holders.iter().zip(&value.constraints) {
            let super::Holder::Part { part, condition } = holder else { continue };
            if if fit.feasible() { *slack < 1e-4 } else { -slack > 0.98 * worst } {
                limits.push(r::LimitedBy {
                    part: self.case.parts[*part].name.clone(),
                    condition: self.case.conditions[*condition].name.clone(),
                });
            }
        }
        limits
    }
}
