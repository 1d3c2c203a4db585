//! Sizes of the free openings such that every margin is reached and the objective is least.
//!
//! | file | what it does |
//! | --- | --- |
//! | `read` | the problem that `[size]` poses |
//! | `counted` | where the margins count: conditions and points of the sweep |
//! | `walls` | how far each opening can change before the case is refused |
//! | `evaluator` | objective and margins at one set of sizes after another |
//! | `search` | many starts, and a look along every opening, for the least of all |
//! | `alone` | of margins that are short together those that are short whatever the others are |
//! | `ends` | which end of a search is better than another, and which are the same |
//! | `shrunk` | of all openings with the same drag the least areas |
//! | `holders` | what holds the sizes where they are, each tried |
//! | `report` | what is told of it |
//! | `result` | the shape of what is found |
//! | `remarks` | what a builder should know of the way there |
//! | `hand_cut` | what 1 mm all round each opening does |
//! | `holds` | what can be cut first, and what holds in so many draws of the guesses |
//! | `looked` | what is left at one set of sizes |
//! | `inlets` | inlets re-sized to exits that stay |

mod alone;
mod ends;
mod evaluator;
mod hand_cut;
mod holders;
pub mod holds;
pub(in crate::study) mod inlets;
mod looked;
mod read;
mod remarks;
mod report;
pub mod result;
mod search;
mod shrunk;
mod starts;
mod sweeping;
mod walls;

use crate::air::ZERO_CELSIUS;
use crate::case::{Case, Diagnostic, Diagnostics, FaultPlace};
use crate::draws::doubt::Doubt;
use crate::draws::tally::{Moments, draws_at};
use crate::draws::{Guesses, TallyWanted};
use crate::element::Role;
use crate::numerics::constrained::Effort;
use crate::point::budget::{Budget, seconds};
pub(in crate::study) use crate::point::counted::Counted;
use crate::point::opening::Opening;
use crate::point::result as r;
use crate::point::speeds::NotSwept;
use crate::thermal::MarginIs;
pub use holds::Holding;
pub(in crate::study) use holds::fleet;
pub(in crate::study) use looked::least_at;
pub(in crate::study) use read::{bounds_of, free};

/// Smallest area of an opening where the case gives none (m²).
const LEAST: f64 = 1e-4;
/// Largest area of an opening where the case gives none (m²).
const MOST: f64 = 0.25;
/// What is added to every margin so that rounded sizes still reach it.
const SPARE: f64 = 2e-5;
/// Violation below which a constraint counts as met.
const MET: f64 = 1e-6;
/// How closely sizes are followed for the margins alone.
const MARGINS: Effort = Effort { steps: 30, close: 1e-6 };
/// Shortfalls within this share of the largest stand in the way together.
const TOGETHER: f64 = 0.98;
/// What rounding sizes for the page may cost: kelvins, and share of the air.
const ROUNDED: (f64, f64) = (0.1, 2e-3);
/// Share of the work that goes into the search; the rest asks what holds the sizes.
const SEARCHING: f64 = 0.8;

/// What a part must keep.
#[derive(Clone, Copy, Debug, PartialEq)]
enum MarginTarget {
    /// Air over what is needed.
    Flow(f64),
    /// Distance to the limit (K).
    Kelvin(f64),
}

/// A constraint: the moment at which it counts, by its place among them, and whom it belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Holder {
    Part {
        part: usize,
        place: usize,
    },
    Carburettor {
        place: usize,
    },
    /// One of another body shape.
    Other {
        shape: usize,
        index: usize,
    },
}

/// Openings that change together.
#[derive(Clone, Debug)]
struct Variable {
    members: Vec<Opening>,
    lower: f64,
    upper: f64,
    lower_is: result::SizeBound,
    /// What refuses it beyond its upper bound, where that is not what the case bounds it by.
    wall: Option<String>,
}

/// The sizing problem of a case.
#[derive(Clone, Debug)]
pub struct Sizing<'c> {
    case: &'c Case,
    variables: Vec<Variable>,
    at: Vec<Counted>,
    /// Whether every point of the sweep counts, and not only those in `at`.
    sweeps: bool,
    targets: Vec<MarginTarget>,
    drag_at: Option<usize>,
    /// The drag that counts as one (N).
    drag_unit: f64,
    carburettor_loss: Option<f64>,
    carburettor_heating: Option<f64>,
    /// Other body shapes that the same openings must do for, by the name of their layout.
    others: Vec<(&'c str, Sizing<'c>)>,
    /// What each constraint may be short of, where none can be kept; empty: of nothing.
    short: Vec<f64>,
}

/// What sizing found.
#[derive(Clone, Debug)]
pub struct Sized {
    /// The case with its sizes set.
    pub case: Case,
    /// The result.
    pub sizes: result::Sizes,
    /// For each opening: name, area of one, and the numbers that say it.
    pub openings: Vec<(Opening, f64)>,
    /// The moments that count.
    counting: Vec<Counted>,
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
    /// The sweep counts and has no point.
    #[error("the sweep counts behind at: {0}")]
    NotSwept(NotSwept),
    /// The case is refused at every size tried.
    #[error("the case is refused at every size tried: {}", first(.0))]
    Refused(Diagnostics),
}

impl NotSized {
    /// What the case has to do with it, at its place, with the way out; none where the search itself failed.
    pub fn fault(&self) -> Option<Diagnostic> {
        let (code, place, way_out) = match self {
            NotSized::NoTable => (
                "free-openings-missing",
                FaultPlace::Whole,
                r#"write [size] with free = [ "…" ], the passages whose opening may change"#.to_string(),
            ),
            NotSized::NotSwept(_) => (
                "sweep-without-speed",
                FaultPlace::Whole,
                r#"write [drive] with its gears and [sweep] with from and to, or leave "sweep" out behind at"#.to_string(),
            ),
            NotSized::Refused(faults) => {
                let first = faults.list().first()?;
                let scaled = r#"let what stands behind an opening grow with it ([size] scale = { "oil cooler" = ["diffuser"] })"#;
                let way_out = format!("{}; or {scaled}; or give the opening bounds that fit (least_area, most_area, cut)", first.what_to_do);
                ("refused-at-every-size", first.place.clone(), way_out)
            }
            NotSized::Unsolved => return None,
        };
        Some(Diagnostic::new(code, self.to_string(), place, way_out))
    }
}

impl Sized {
    /// Whether nothing that can be cut keeps all parts cool in more than a few of the draws.
    pub fn is_hopeless(&self) -> bool {
        self.sizes.holds.as_ref().is_some_and(result::Holds::is_hopeless)
    }

    /// The doubt about the conditions at the sizes found, written beside their margins; those that count for the sizes,
    /// points of the sweep among them, count for whether all parts hold. None where nothing is guessed.
    pub fn doubt(
        &self,
        conditions: &mut [r::Condition],
        wanted: TallyWanted,
        told: &(dyn Fn(f64) -> bool + Sync),
    ) -> Option<Doubt> {
        let case = &self.case;
        let mut guesses = Guesses::of(case);
        let decided = self.openings.iter().flat_map(|(opening, _)| opening.decided());
        guesses.leave(&decided.collect::<Vec<_>>());
        let all = (0..case.conditions.len()).map(Counted::Condition);
        let mut list: Vec<Counted> = all.collect();
        list.extend(self.counting.iter().filter(|counted| counted.condition().is_none()));
        let counts = list.iter().map(|counted| self.counting.contains(counted)).collect();
        let moments = Moments { list, counts };
        let tally = draws_at(&moments, case, &guesses, wanted, told)?;
        let doubt = Doubt::at(&moments, case, &guesses, &tally);
        doubt.write_beside(case, conditions, &tally);
        Some(doubt)
    }
}

fn first(faults: &Diagnostics) -> &str {
    faults.list().first().map_or("", |fault| fault.message.as_str())
}

impl<'c> Sizing<'c> {
    /// Finds the sizes.
    ///
    /// # Errors
    /// [`NotSized::Unsolved`] where no start could be solved, [`NotSized::Refused`] where each is refused.
    pub fn solve(&self) -> Result<Sized, NotSized> {
        self.solve_within(Budget::seconds(seconds::SIZE))
    }

    /// The same within a budget of one's own.
    ///
    /// # Errors
    /// As [`Sizing::solve`].
    pub fn solve_within(&self, budget: Budget) -> Result<Sized, NotSized> {
        self.solve_and_hold(budget, None)
    }

    /// The same, with what can be cut first and what holds beside it, where that is asked for with a budget of its own.
    ///
    /// # Errors
    /// As [`Sizing::solve`].
    pub fn solve_and_hold(
        &self,
        budget: Budget,
        holding: Option<(Holding, Budget)>,
    ) -> Result<Sized, NotSized> {
        self.solve_and_hold_until(budget, holding, &|_| true)
    }

    /// The same with somebody who hears how far the columns are, and says whether to go on: those that are through are
    /// kept.
    ///
    /// # Errors
    /// As [`Sizing::solve`].
    pub fn solve_and_hold_until(
        &self,
        budget: Budget,
        holding: Option<(Holding, Budget)>,
        told: &(dyn Fn(f64) -> bool + Sync),
    ) -> Result<Sized, NotSized> {
        let mut budget = budget;
        let mut problem = self.clone();
        budget.spend(problem.find_walls()?);
        budget.spend(problem.keep_to_others()?);
        let found = problem.search(budget.share(SEARCHING))?;
        let taken = found.best.point.clone();
        let mut sized = problem.report(found, budget.share(1.0 - SEARCHING))?;
        if let Some((holding, within)) = holding
            && let Some(found) = problem.columns(&taken, sized.sizes.feasible, holding, within, told)
        {
            if found.holds.as_ref().is_some_and(|holds| holds.stopped) {
                sized.sizes.remarks.push(
                    "the search for what holds was stopped at its budget: smaller openings may do the same, and others may hold more often".to_string(),
                );
            }
            sized.sizes.columns = found.columns;
            sized.sizes.holds = found.holds;
        }
        Ok(sized)
    }

    /// The same openings for other body shapes too, each with the name of its layout: every margin is to be reached in
    /// all of them.
    ///
    /// # Errors
    /// As [`Sizing::new`], of a shape.
    pub fn over(mut self, shapes: &'c [(String, Case)]) -> Result<Sizing<'c>, NotSized> {
        for (name, case) in shapes {
            self.others.push((name, Sizing::new(case)?));
        }
        Ok(self)
    }

    /// Draws the bounds in to those of all shapes. Gives the work done.
    fn keep_to_others(&mut self) -> Result<u64, NotSized> {
        let mut work = 0;
        for (_, other) in &mut self.others {
            work += other.find_walls()?;
            for (own, other) in self.variables.iter_mut().zip(&other.variables) {
                // what a shape has not, it does not bound
                if other.members.is_empty() {
                    continue;
                }
                own.lower = own.lower.max(other.lower);
                if other.upper < own.upper {
                    own.upper = other.upper.max(own.lower);
                    own.wall.clone_from(&other.wall);
                }
            }
        }
        Ok(work)
    }

    /// Whether a part keeps what `[size]` asks of it; rounded sizes count as the exact ones.
    pub fn reaches(&self, part: usize, at: &r::PartResult) -> bool {
        if at.margin_is == MarginIs::NoLimit {
            return true;
        }
        match (self.targets.get(part), at.margin_is) {
            (Some(MarginTarget::Kelvin(kelvin)), _) => at.temperature_margin_K >= kelvin - ROUNDED.0,
            (Some(MarginTarget::Flow(_)), MarginIs::Unlimited) | (None, _) => true,
            (Some(MarginTarget::Flow(_)), MarginIs::Impossible) => false,
            (Some(MarginTarget::Flow(flow)), _) => {
                at.flow_margin.is_some_and(|margin| margin >= flow - ROUNDED.1)
            }
        }
    }

    /// Whether solved conditions keep all that `[size]` asks for in those that count, rounding not forgiven.
    pub fn met_by(&self, conditions: &[r::Condition]) -> bool {
        let counted = self.conditions();
        let named = counted.iter().map(|index| self.case.conditions[*index].name.as_str());
        let found = named.map(|name| conditions.iter().find(|condition| condition.name == name));
        found.flatten().all(|condition| {
            let limited = condition.parts.iter().zip(&self.targets).filter(|(part, _)| part.has_limit());
            limited.into_iter().all(|(part, target)| match (target, part.margin_is) {
                (MarginTarget::Kelvin(kelvin), _) => part.temperature_margin_K >= *kelvin,
                (MarginTarget::Flow(_), MarginIs::Unlimited) => true,
                (MarginTarget::Flow(_), MarginIs::Impossible) => false,
                (MarginTarget::Flow(flow), _) => part.flow_margin.is_some_and(|margin| margin >= *flow),
            }) && self.carburettor_met(condition)
        })
    }

    fn carburettor_met(&self, condition: &r::Condition) -> bool {
        let intakes = condition.passages.iter().filter(|passage| passage.to == "engine");
        let loss =
            |passage: &r::PassageResult| passage.written().map(|element| element.loss_Pa.abs()).sum::<f64>();
        self.carburettor_loss.is_none_or(|most| intakes.map(loss).all(|loss| loss <= most))
    }

    fn logs(&self, value: impl Fn(&Variable) -> f64) -> Vec<f64> {
        self.variables.iter().map(|v| value(v).max(1e-9).ln()).collect()
    }

    /// Logarithms of the bounds.
    fn bounds(&self) -> (Vec<f64>, Vec<f64>) {
        (self.logs(|v| v.lower), self.logs(|v| v.upper))
    }

    fn is_exit(&self, variable: &Variable) -> bool {
        variable.members.iter().any(|m| m.role(self.case) == Some(Role::Exit))
    }

    fn set(&self, case: &mut Case, point: &[f64]) {
        for (variable, x) in self.variables.iter().zip(point) {
            for member in &variable.members {
                member.set(case, x.exp());
            }
        }
    }

    /// The case with its sizes at a point.
    fn at_point(&self, point: &[f64]) -> Case {
        let mut case = self.case.clone();
        self.set(&mut case, point);
        case
    }

    fn total_area(&self, point: &[f64]) -> f64 {
        let variables = self.variables.iter().zip(point);
        variables.map(|(v, x)| v.members.iter().map(Opening::open_pieces).sum::<f64>() * x.exp()).sum()
    }

    pub(super) fn case(&self) -> &Case {
        self.case
    }

    /// The conditions that count, without the points of the sweep.
    fn conditions(&self) -> Vec<usize> {
        self.at.iter().filter_map(Counted::condition).collect()
    }

    /// Each variable's openings, its lower bound (m²) and whether the case gave that bound.
    fn openings(&self) -> impl Iterator<Item = (&[Opening], f64)> {
        self.variables.iter().map(|v| (&v.members[..], v.lower))
    }
}

/// A temperature in Celsius, for remarks.
fn celsius(kelvin: f64) -> f64 {
    kelvin - ZERO_CELSIUS
}
