//! Sizes of the free openings such that every margin is reached and the objective is least.

mod bench;
pub(in crate::study) mod inlets;
mod remarks;

use super::describe::ZERO_CELSIUS;
use super::opening::Opening;
use super::result as r;
use crate::case::{Case, tables as t};
use crate::element::Role;
use crate::keys::{Kind, Slot};
use crate::numerics::constrained::{Outcome, Value, minimise};
use bench::Bench;
use rayon::prelude::*;

/// Smallest area of an opening where the case gives none (m²).
const LEAST: f64 = 1e-4;
/// Largest area of an opening where the case gives none (m²).
const MOST: f64 = 0.25;
/// What is added to every margin so that rounded sizes still reach it.
const SPARE: f64 = 2e-5;
/// Violation below which a constraint counts as met.
const MET: f64 = 1e-6;

/// What rounding sizes for the page may cost: kelvins, and share of the air.
const ROUNDED: (f64, f64) = (0.1, 2e-3);

/// What a part must keep.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Target {
    /// Air over what is needed.
    Flow(f64),
    /// Distance to the limit (K).
    Kelvin(f64),
}

/// A constraint and whom it belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Holder {
    Part { part: usize, condition: usize },
    Carburettor { condition: usize },
}

/// Openings that change together.
#[derive(Clone, Debug)]
struct Variable {
    members: Vec<Opening>,
    lower: f64,
    upper: f64,
    lower_is: &'static str,
    given: (bool, bool),
}

/// The sizing problem of a case.
pub struct Sizing<'c> {
    case: &'c Case,
    variables: Vec<Variable>,
    at: Vec<usize>,
    targets: Vec<Target>,
    drag_at: Option<usize>,
    carburettor_loss: Option<f64>,
    carburettor_heating: Option<f64>,
}

/// What sizing found.
#[derive(Clone, Debug)]
pub struct Sized {
    /// The case with its sizes set.
    pub case: Case,
    /// The result.
    pub sizes: r::Sizes,
    /// For each opening: name, area of one, and the numbers that say it.
    pub openings: Vec<(Opening, f64)>,
}

/// Why sizing could not be tried.
#[derive(Debug, thiserror::Error)]
pub enum NotSized {
    /// The case has no `[size]`.
    #[error("the case has no [size]: it does not say which openings are free")]
    NoTable,
    /// No start could be solved.
    #[error("no steady state was found at any of the sizes tried")]
    Unsolved,
}

impl<'c> Sizing<'c> {
    /// Reads `[size]`.
    ///
    /// # Errors
    /// [`NotSized::NoTable`] where the case has none.
    pub fn new(case: &'c Case) -> Result<Sizing<'c>, NotSized> {
        let values = case.size.as_ref().ok_or(NotSized::NoTable)?;
        let view = case.view(values);
        let groups = match values.slot(&t::FREE) {
            Slot::Groups(groups) => groups.as_slice(),
            _ => &[],
        };
        let bound = |key: &crate::keys::Key, name: &str| -> Option<f64> {
            match values.slot(key) {
                Slot::Number(id) => Some(case.numbers.value(*id)),
                Slot::Map(map) => {
                    let find = |wanted: &str| {
                        map.iter().find(|(n, _)| n == wanted).map(|(_, id)| case.numbers.value(*id))
                    };
                    find(name).or_else(|| find("other"))
                }
                _ => None,
            }
        };
        let mut variables = Vec::new();
        for group in groups {
            let members: Vec<Opening> =
                group.iter().filter_map(|(p, e)| Opening::find(case, p, e.as_deref())).collect();
            let mut variable = Variable {
                members: Vec::new(),
                lower: LEAST,
                upper: MOST,
                lower_is: "least",
                given: (false, false),
            };
            for member in &members {
                let passage = &case.passages[member.passage].name;
                if let Some(least) = bound(&t::LEAST_AREA, passage) {
                    if !variable.given.0 || least > variable.lower {
                        variable.lower = least;
                    }
                    variable.given.0 = true;
                }
                if let Some(most) = bound(&t::MOST_AREA, passage) {
                    variable.upper = if variable.given.1 { variable.upper.min(most) } else { most };
                    variable.given.1 = true;
                }
            }
            for member in &members {
                let passage = &case.passages[member.passage].name;
                let cut = values
                    .map(&t::CUT)
                    .iter()
                    .find(|(n, _)| n == passage)
                    .map(|(_, id)| case.numbers.value(*id));
                if let Some(cut) = cut
                    && (cut >= variable.lower || !variable.given.0)
                {
                    variable.lower = cut.max(if variable.given.0 { variable.lower } else { 0.0 });
                    variable.lower_is = "cut";
                    variable.given.0 = true;
                }
            }
            variable.upper = variable.upper.max(variable.lower);
            variable.members = members;
            variables.push(variable);
        }
        let at = match values.slot(&t::AT) {
            Slot::Names(names) => names.iter().filter_map(|name| case.condition(name)).collect(),
            _ => (0..case.conditions.len()).collect(),
        };
        let target = |id: &crate::keys::NumberId| {
            let fact = case.numbers.fact(*id);
            match fact.kind {
                Kind::TemperatureDifference => Target::Kelvin(fact.value),
                _ => Target::Flow(fact.value),
            }
        };
        let targets = case
            .parts
            .iter()
            .map(|part| match values.slot(&t::MARGIN) {
                Slot::Number(id) => target(id),
                Slot::Map(map) => {
                    map.iter().find(|(n, _)| *n == part.name).map_or(Target::Flow(0.0), |(_, id)| target(id))
                }
                _ => Target::Flow(0.0),
            })
            .collect();
        let drag = values.text(&t::SMALLEST) == Some("drag");
        Ok(Sizing {
            case,
            variables,
            at,
            targets,
            drag_at: drag.then(|| values.text(&t::DRAG_AT).and_then(|name| case.condition(name))).flatten(),
            carburettor_loss: view.number(&t::MOST_CARBURETTOR_LOSS),
            carburettor_heating: view.number(&t::MOST_CARBURETTOR_HEATING),
        })
    }

    /// Whether a part keeps what `[size]` asks of it; rounded sizes count as the exact ones.
    pub fn reaches(&self, part: usize, at: &r::Part) -> bool {
        match (self.targets.get(part), at.margin_is) {
            (Some(Target::Kelvin(kelvin)), _) => at.temperature_margin_K >= kelvin - ROUNDED.0,
            (Some(Target::Flow(_)), "unlimited") | (None, _) => true,
            (Some(Target::Flow(_)), "impossible") => false,
            (Some(Target::Flow(flow)), _) => at.flow_margin.is_some_and(|margin| margin >= flow - ROUNDED.1),
        }
    }

    fn logs(&self, value: impl Fn(&Variable) -> f64) -> Vec<f64> {
        self.variables.iter().map(|v| value(v).max(1e-9).ln()).collect()
    }

    fn is_exit(&self, variable: &Variable) -> bool {
        variable.members.iter().any(|m| m.role(self.case) == Some(Role::Exit))
    }

    /// Starts that lie well apart: the case as it stands, and small, middling and large inlets with
    /// small, middling and large exits. Margins are not monotone in an exit's area, so that one
    /// start is not enough.
    fn starts(&self) -> Vec<Vec<f64>> {
        let mut starts =
            vec![self.logs(|v| v.members.first().map_or(1e-2, Opening::area).clamp(v.lower, v.upper))];
        for exit in [0.85, 0.6, 0.35] {
            for inlet in [0.3, 0.6, 0.85] {
                starts.push(
                    self.variables
                        .iter()
                        .map(|v| {
                            let (low, high) =
                                (v.lower.max(1e-3).min(v.upper).ln(), v.upper.min(0.12).max(v.lower).ln());
                            low + (high - low) * if self.is_exit(v) { exit } else { inlet }
                        })
                        .collect(),
                );
            }
        }
        // unequal splits, where several exits are free on their own
        let exits: Vec<usize> =
            (0..self.variables.len()).filter(|i| self.is_exit(&self.variables[*i])).collect();
        if exits.len() > 1 {
            for chosen in &exits {
                let mut start = starts[2].clone();
                for other in exits.iter().filter(|e| *e != chosen) {
                    start[*other] = self.variables[*other].lower.max(1e-3).ln();
                }
                starts.push(start);
            }
        }
        starts
    }

    /// Finds the sizes.
    ///
    /// # Errors
    /// [`NotSized::Unsolved`] where no start could be solved.
    pub fn solve(&self) -> Result<Sized, NotSized> {
        let lower = self.logs(|v| v.lower);
        let upper = self.logs(|v| v.upper);
        let outcomes: Vec<Option<Outcome>> = self
            .starts()
            .par_iter()
            .map(|start| {
                let mut bench = Bench::new(self)?;
                minimise(|x| bench.evaluate(x, None), start, &lower, &upper, 60)
            })
            .collect();
        let found: Vec<Outcome> = outcomes.into_iter().flatten().collect();
        let better = |a: &Outcome, b: &Outcome| {
            let (va, vb) = (a.value.violation(), b.value.violation());
            if va <= MET && vb <= MET { a.value.objective < b.value.objective } else { va < vb }
        };
        let mut best = found.first().ok_or(NotSized::Unsolved)?.clone();
        for outcome in &found {
            if better(outcome, &best) {
                best = outcome.clone();
            }
        }
        if best.value.violation() <= MET {
            best = self.polish(best, &lower, &upper);
        }
        self.report(best, &found)
    }

    /// Sharpens the best outcome; among equal drags takes the least areas.
    fn polish(&self, best: Outcome, lower: &[f64], upper: &[f64]) -> Outcome {
        let Some(mut bench) = Bench::new(self) else { return best };
        let mut best = best;
        if let Some(again) = minimise(|x| bench.evaluate(x, None), &best.point, lower, upper, 40)
            && again.value.violation() <= MET
            && again.value.objective <= best.value.objective
        {
            best = again;
        }
        if self.drag_at.is_some() {
            let most = best.value.objective + 1e-6 * best.value.objective.abs();
            let least = minimise(|x| bench.evaluate(x, Some(most)), &best.point, lower, upper, 60);
            let kept = least.filter(|least| least.value.violation() <= MET);
            let value = kept.as_ref().and_then(|least| bench.evaluate(&least.point, None));
            if let (Some(least), Some(value)) = (kept, value) {
                // what limits the sizes is what limits the drag
                best =
                    Outcome { point: least.point, value, multipliers: best.multipliers, steps: least.steps };
            }
        }
        best
    }

    fn report(&self, best: Outcome, found: &[Outcome]) -> Result<Sized, NotSized> {
        let mut bench = Bench::new(self).ok_or(NotSized::Unsolved)?;
        let value = bench.evaluate(&best.point, None).ok_or(NotSized::Unsolved)?;
        let feasible = value.violation() <= MET;
        let mut case = self.case.clone();
        self.set(&mut case, &best.point);
        let mut areas = Vec::new();
        let mut at_bound = Vec::new();
        let mut openings = Vec::new();
        for (variable, x) in self.variables.iter().zip(&best.point) {
            let area = x.exp();
            for member in &variable.members {
                areas.push((member.name.clone(), area));
                openings.push((member.clone(), area));
                if area <= variable.lower * (1.0 + 1e-6) {
                    at_bound.push((member.name.clone(), variable.lower_is));
                } else if area >= variable.upper * (1.0 - 1e-6) {
                    at_bound.push((member.name.clone(), "most"));
                }
            }
        }
        let limited_by = self.limits(&bench, &value, &best, feasible);
        let mut remarks = remarks::remarks(self, &best.point, feasible, &limited_by);
        if !feasible && found.len() > 1 {
            remarks.push(format!(
                "{} starts, from small to large inlets and exits, all end short of a margin; these are the sizes at which the worst shortfall is least",
                found.len()
            ));
        }
        let objective = match self.drag_at {
            Some(_) => value.objective,
            None => self.total_area(&best.point),
        };
        let described = openings
            .iter()
            .map(|(opening, area): &(Opening, f64)| {
                let lengths = opening.numbers(self.case, *area).into_iter();
                r::SizedOpening {
                    name: opening.name.clone(),
                    role: if opening.role(self.case) == Some(Role::Exit) { "exit" } else { "inlet" },
                    pieces: opening.pieces.round() as usize,
                    before_m2: opening.area(),
                    after_m2: *area,
                    lengths_m: r::Named(
                        lengths
                            .filter(|(_, _, kind)| *kind == Kind::Length)
                            .map(|(key, v, _)| (key, v))
                            .collect(),
                    ),
                }
            })
            .collect();
        let sizes = r::Sizes {
            openings: described,
            areas_m2: r::Named(areas),
            objective,
            smallest: if self.drag_at.is_some() { "drag" } else { "area" },
            least_margin: bench.least_margin(),
            feasible,
            at: self.at.iter().map(|index| case.conditions[*index].name.clone()).collect(),
            limited_by,
            at_bound: r::Named(at_bound),
            remarks,
        };
        Ok(Sized { case, sizes, openings })
    }

    /// The parts and conditions that hold the sizes where they are: constraints with a multiplier
    /// that are used up, or the worst violations.
    fn limits(&self, bench: &Bench, value: &Value, best: &Outcome, feasible: bool) -> Vec<r::LimitedBy> {
        let worst = value.violation();
        let mut limits: Vec<r::LimitedBy> = Vec::new();
        for (index, holder) in bench.holders.iter().enumerate() {
            let slack = value.constraints[index];
            let counts = if feasible {
                slack < 1e-4 && best.multipliers.get(index).copied().unwrap_or(0.0) > 1e-4
            } else {
                -slack > 0.98 * worst
            };
            if counts {
                let (part, condition) = match holder {
                    Holder::Part { part, condition } => (self.case.parts[*part].name.clone(), *condition),
                    Holder::Carburettor { condition } => ("carburettor".to_string(), *condition),
                };
                let limit = r::LimitedBy { part, condition: self.case.conditions[condition].name.clone() };
                if !limits.contains(&limit) {
                    limits.push(limit);
                }
            }
        }
        limits
    }

    pub(super) fn set(&self, case: &mut Case, point: &[f64]) {
        for (variable, x) in self.variables.iter().zip(point) {
            for member in &variable.members {
                member.set(case, x.exp());
            }
        }
    }

    fn total_area(&self, point: &[f64]) -> f64 {
        let variables = self.variables.iter().zip(point);
        variables.map(|(v, x)| v.members.iter().map(|m| m.pieces).sum::<f64>() * x.exp()).sum()
    }

    pub(super) fn case(&self) -> &Case {
        self.case
    }

    pub(super) fn conditions(&self) -> &[usize] {
        &self.at
    }

    /// Each variable's openings, its lower bound (m²) and whether the case gave that bound.
    pub(super) fn openings(&self) -> impl Iterator<Item = (&[Opening], f64)> {
        self.variables.iter().map(|v| (&v.members[..], v.lower))
    }
}

/// A temperature in Celsius, for remarks.
pub(super) fn celsius(kelvin: f64) -> f64 {
    kelvin - ZERO_CELSIUS
}
