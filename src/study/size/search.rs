//! The least of all that will do: many starts, a look along every opening, and whatever else is as good.
//!
//! Margins are not monotone in an exit's area, and least drag has several local minima, so that one start is
//! not enough. Starts that lie well apart are followed roughly; the best of them closely. Then every opening
//! in turn is held at sizes over its whole range while the others are made least, which finds the basins that
//! no start fell into. Nothing depends on how many threads share the work.

use super::ends::{LIKE, apart, better, feasible, only_larger, sort, thin};
use super::evaluator::{Goal, SizingEvaluator};
use super::shrunk::shrunk;
use super::starts::halton;
use super::{MARGINS, MET, NotSized, Sizing, TOGETHER};
use crate::numerics::constrained::{Effort, Evaluation, Minimum, minimise};
use crate::point::budget::Budget;
use rayon::prelude::*;

/// Followed roughly.
const ROUGH: Effort = Effort { steps: 25, close: 1e-5 };
/// Followed closely.
const FINE: Effort = Effort::fine(60);
/// Held along an opening.
const HELD: Effort = Effort { steps: 8, close: 1e-4 };
/// Points of a sequence that fills the space, looked at once.
const SPREAD: usize = 64;
/// Of these, followed.
const FOLLOWED: usize = 8;
/// Sizes over its range at which each opening is held.
const HOLDS: usize = 7;
/// Rounds of holding, each from the best of the one before.
const ROUNDS: usize = 3;
/// Ends that are followed closely.
const CLOSELY: usize = 4;
/// Share of the objective within which another set is as good.
const AS_GOOD: f64 = 0.01;
/// Distance from which on it is clearly another: some opening a fifth larger or smaller.
const CLEARLY: f64 = 0.18;
/// Share of the objective within which an end is followed on.
const PROMISING: f64 = 0.05;
/// Violation by which a solution begun anew may differ.
const STANDS: f64 = 1e-6;
/// Gradients that a start which is followed should have time for, at least.
const SOME_WAY: u64 = 4;
/// Rounds of adding points of the sweep.
const SWEEPS: usize = 12;
/// Sets as good that are kept.
const KEPT: usize = 2;
/// By so much less than the best that can be had the least openings are taken, where no sizes reach every margin: 1 K, and of a margin
/// of air a hundredth of the heat.
const ONE_KELVIN: f64 = 0.01;
/// How often what is short by most is set aside, so that the others come nearer.
const LEVELS: usize = 4;

/// Where points of the sweep count and not all margins can be reached, what can be is looked for with such a share of the budget
/// beside it.
const BESIDE: f64 = 0.4;

/// What a search found.
#[derive(Clone, Debug)]
pub(super) struct SearchResult {
    pub best: Minimum,
    /// Clearly other sets whose objective is within a hundredth of it.
    pub as_good: Vec<Minimum>,
    /// Starts that were followed to their end.
    pub starts: usize,
    /// Whether the work that may be done ended the search.
    pub spent: bool,
}

/// What is being done, and what it may still cost.
struct SizeSearch<'s> {
    sizing: &'s Sizing<'s>,
    lower: Vec<f64>,
    upper: Vec<f64>,
    budget: Budget,
    /// Work of one evaluation.
    evaluation: u64,
    starts: usize,
    spent: bool,
    /// Whether every solution is begun anew, as `check` does: where the way there leads to another state.
    cold: bool,
}

impl Sizing<'_> {
    /// Finds the least, adding points of the sweep until none is missed.
    pub(super) fn search(&mut self, budget: Budget) -> Result<SearchResult, NotSized> {
        let mut budget = budget;
        let beside = budget.share(BESIDE);
        self.weigh_drag();
        let mut pool: Vec<Minimum> = Vec::new();
        let mut found = None;
        for round in 0..SWEEPS {
            let share = if self.sweeps && round == 0 { 0.5 } else { 1.0 };
            let mut search = SizeSearch::new(self, budget.share(share));
            pool = if round == 0 { search.explore() } else { search.again(&pool) };
            search.stand(&mut pool);
            search.least_first(&mut pool);
            if pool.is_empty() {
                pool = search.at_least();
            }
            let best = pool.first().ok_or(NotSized::Unsolved)?.clone();
            let as_good = search.as_good(&best, &pool);
            let used = budget.share(share).spent_of(&search.budget);
            let (starts, spent) = (search.starts, search.spent);
            budget.spend(used);
            let starts = found.as_ref().map_or(starts, |found: &SearchResult| found.starts);
            found = Some(SearchResult { best, as_good, starts, spent });
            let missed = match (&found, self.sweeps) {
                (Some(found), true) => self.missed_in_sweep(found),
                _ => Vec::new(),
            };
            // the first search may take half of the budget alone
            if missed.is_empty() || (spent && round > 0) {
                break;
            }
            self.at.extend(missed);
        }
        let found = found.ok_or(NotSized::Unsolved)?;
        Ok(match (feasible(&found.best), self.sweeps) {
            (true, _) => found,
            (false, true) => self.spare_along_sweep(found, beside),
            (false, false) if found.spent => found,
            (false, false) => self.spare(found, budget),
        })
    }

    /// Where no sizes reach every margin, the least that come within [`ONE_KELVIN`] of the best that can be had: the last
    /// kelvin may take half as much again of an opening, and what is cut stays cut. A margin that can be reached is reached,
    /// whatever another is short of.
    pub(super) fn spare(&mut self, found: SearchResult, budget: Budget) -> SearchResult {
        let mut budget = budget;
        let mut best = found.best.clone();
        self.short = vec![0.0; best.value.constraints.len()];
        for level in 0..LEVELS {
            let left = self.left_alike(&best);
            let worst = -left.iter().copied().fold(0.0, f64::min);
            if worst <= MET {
                break;
            }
            let last = level + 1 == LEVELS;
            let least = if last { MET } else { TOGETHER * worst };
            let short_by = |place: &usize| -left[*place] > least;
            let together: Vec<usize> = (0..left.len()).filter(short_by).collect();
            let alone = match last {
                true => together.iter().map(|place| (*place, left[*place])).collect(),
                false => self.short_alone(&best, &together, &mut budget),
            };
            for (place, left) in alone {
                self.short[place] += ONE_KELVIN - left;
            }
            if !last {
                let Some(nearer) = self.nearest(&best.point, &mut budget, |_| 0.0) else { break };
                best = nearer;
            }
        }
        let mut search = SizeSearch::new(self, budget);
        let mut pool = search.begun_at(&best);
        search.stand(&mut pool);
        search.least_first(&mut pool);
        let spent = found.spent || search.spent;
        self.short.clear();
        match pool.into_iter().next().filter(feasible) {
            Some(least) => SearchResult { best: least, spent, ..found },
            None => found,
        }
    }

    /// Takes the drag at the sizes drawn as the unit of drag.
    fn weigh_drag(&mut self) {
        if self.drag_at.is_none() {
            return;
        }
        let point = self.drawn();
        let drag = SizingEvaluator::new(self, Budget::seconds(1.0), true)
            .and_then(|mut evaluator| evaluator.evaluate(&point, Goal::Own))
            .map_or(1.0, |value| value.objective);
        self.drag_unit = drag.abs().max(0.1);
    }
}

impl<'s> SizeSearch<'s> {
    fn new(sizing: &'s Sizing<'s>, budget: Budget) -> SizeSearch<'s> {
        let (lower, upper) = sizing.bounds();
        let mut search =
            SizeSearch { sizing, lower, upper, budget, evaluation: 1, starts: 0, spent: false, cold: false };
        if let Some(mut evaluator) = SizingEvaluator::new(sizing, budget, false) {
            evaluator.evaluate(&sizing.drawn(), Goal::Own);
            search.evaluation = evaluator.work().max(1);
            search.budget.spend(evaluator.work());
        }
        search
    }

    /// The best of sizes looked at once, where there is no time to follow any.
    fn at_least(&mut self) -> Vec<Minimum> {
        let (sizing, allowance) = (self.sizing, self.budget.share(0.5));
        self.spent = true;
        let Some(mut evaluator) = SizingEvaluator::new(sizing, allowance, true) else { return Vec::new() };
        let points = std::iter::once(sizing.drawn()).chain(sizing.starts());
        let looked = points.filter_map(|point| {
            let value = evaluator.evaluate(&point, Goal::Own)?;
            Some(Minimum { point, value, steps: 0 })
        });
        let mut pool: Vec<Minimum> = looked.collect();
        self.budget.spend(evaluator.work());
        sort(&mut pool);
        pool
    }

    /// So many of these as a share of the budget lets go some way; the first ones.
    fn as_many<'l, T>(&mut self, list: &'l [T], share: f64) -> &'l [T] {
        let gradient = (self.lower.len() as u64 + 1) * self.evaluation;
        let most = self.budget.share(share).times(SOME_WAY * gradient).max(1);
        if most < list.len() {
            self.spent = true;
        }
        &list[..list.len().min(most)]
    }

    /// Follows starts side by side, each with its own part of a share of the budget.
    fn follow(&mut self, starts: &[(Vec<f64>, Goal)], effort: Effort, share: f64) -> Vec<Minimum> {
        let starts = self.as_many(starts, share);
        let each = self.budget.share(share).each_of(starts.len());
        let (sizing, lower, upper, cold) = (self.sizing, &self.lower, &self.upper, self.cold);
        let ends: Vec<(Option<Minimum>, u64)> = starts
            .par_iter()
            .map(|(start, goal)| {
                let Some(mut evaluator) = SizingEvaluator::new(sizing, each, cold) else { return (None, 0) };
                let end = minimise(|x| evaluator.evaluate(x, *goal), start, lower, upper, effort);
                (end, evaluator.work())
            })
            .collect();
        self.take(ends, each)
    }

    fn take(&mut self, ends: Vec<(Option<Minimum>, u64)>, each: Budget) -> Vec<Minimum> {
        self.budget.spend(ends.iter().map(|(_, work)| work).sum());
        self.spent |= ends.iter().any(|(_, work)| !each.allows(*work));
        let ends: Vec<Minimum> = ends.into_iter().filter_map(|(end, _)| end).collect();
        self.starts += ends.len();
        ends
    }

    /// Everything from the start.
    fn explore(&mut self) -> Vec<Minimum> {
        let mut starts = self.sizing.starts();
        starts.extend(self.spread(&starts));
        let starts: Vec<(Vec<f64>, Goal)> = starts.into_iter().map(|start| (start, Goal::Own)).collect();
        let mut ends = self.follow(&starts, ROUGH, 0.3);
        if !ends.iter().any(feasible) {
            // no size does: the margins alone, from every start and from where each ended
            let mut again: Vec<(Vec<f64>, Goal)> =
                ends.iter().map(|end| (end.point.clone(), Goal::Margins)).collect();
            again.extend(starts.iter().map(|(start, _)| (start.clone(), Goal::Margins)));
            ends.extend(self.follow(&again, MARGINS, 0.5));
            let reached: Vec<(Vec<f64>, Goal)> = ends
                .iter()
                .filter(|end| feasible(end))
                .take(CLOSELY)
                .map(|end| (end.point.clone(), Goal::Own))
                .collect();
            if !reached.is_empty() {
                ends.retain(feasible);
                ends.extend(self.follow(&reached, FINE, 0.5));
            }
        }
        self.on_from(ends)
    }

    /// Begun at sizes that are known to do, and at every start besides.
    fn begun_at(&mut self, known: &Minimum) -> Vec<Minimum> {
        let own = |start: Vec<f64>| (start, Goal::Own);
        let starts: Vec<(Vec<f64>, Goal)> = self.sizing.starts().into_iter().map(own).collect();
        let mut ends = self.follow(&[own(known.point.clone())], FINE, 0.3);
        ends.extend(self.follow(&starts, ROUGH, 0.3));
        ends.retain(feasible);
        self.on_from(ends)
    }

    /// From ends found before, with margins that have been added since.
    fn again(&mut self, pool: &[Minimum]) -> Vec<Minimum> {
        let starts: Vec<(Vec<f64>, Goal)> =
            pool.iter().take(CLOSELY + KEPT).map(|end| (end.point.clone(), Goal::Own)).collect();
        let ends = self.follow(&starts, FINE, 0.3);
        if ends.iter().any(feasible) { self.on_from(ends) } else { self.explore() }
    }

    /// Follows the best ends closely, and looks along every opening for other basins.
    fn on_from(&mut self, ends: Vec<Minimum>) -> Vec<Minimum> {
        let mut pool = ends;
        self.closely(&mut pool);
        for _ in 0..ROUNDS {
            let Some(best) = pool.first().cloned() else { break };
            let others = self.hold(&best);
            let promising = |end: &Minimum| {
                feasible(end) != feasible(&best)
                    || end.value.violation() < best.value.violation() - MET
                    || end.value.objective - best.value.objective <= PROMISING * best.value.objective.abs()
            };
            pool.extend(others.into_iter().filter(promising));
            self.closely(&mut pool);
            let gained = pool.first().is_some_and(|now| {
                let fell = best.value.objective - now.value.objective;
                better(&now.value, &best.value)
                    && (!feasible(&best) || fell > 1e-5 * best.value.objective.abs())
            });
            if !gained || self.budget.is_spent() {
                break;
            }
        }
        pool
    }

    /// Follows the best few that lie apart closely; what they end at comes first.
    fn closely(&mut self, pool: &mut Vec<Minimum>) {
        sort(pool);
        thin(pool);
        let best = match pool.first() {
            Some(best) => best.value.clone(),
            None => return,
        };
        let worth = |end: &&Minimum| {
            !feasible(end) || end.value.objective - best.objective <= PROMISING * best.objective.abs()
        };
        let chosen: Vec<(Vec<f64>, Goal)> =
            pool.iter().filter(worth).take(CLOSELY).map(|end| (end.point.clone(), Goal::Own)).collect();
        let sharp = self.follow(&chosen, FINE, 0.4);
        pool.extend(sharp);
        sort(pool);
        thin(pool);
    }

    /// Among equal drags the least areas.
    fn least_areas(&mut self, ends: Vec<Minimum>) -> Vec<Minimum> {
        if self.sizing.drag_at.is_none() {
            return ends;
        }
        let each = self.budget.share(0.3).each_of(ends.len());
        let (sizing, lower, upper, cold) = (self.sizing, &self.lower, &self.upper, self.cold);
        let least: Vec<(Option<Minimum>, u64)> = ends
            .into_par_iter()
            .map(|end| {
                if !feasible(&end) {
                    return (Some(end), 0);
                }
                let Some(mut evaluator) = SizingEvaluator::new(sizing, each, cold) else {
                    return (Some(end), 0);
                };
                (Some(shrunk(&mut evaluator, end, lower, upper)), evaluator.work())
            })
            .collect();
        self.take(least, each)
    }

    /// Points of a sequence that fills the space evenly, looked at once; the best of them that lie apart from
    /// one another and from the other starts.
    fn spread(&mut self, others: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let (low, high) = self.sizing.usual();
        let points: Vec<Vec<f64>> = (1..=SPREAD)
            .map(|index| {
                let axes = low.iter().zip(&high).enumerate();
                axes.map(|(axis, (low, high))| low + halton(index, axis) * (high - low)).collect()
            })
            .collect();
        let each = self.budget.share(0.1).each_of(points.len() / 8);
        let (sizing, cold) = (self.sizing, self.cold);
        let looked: Vec<(Vec<Option<Evaluation>>, u64)> = points
            .par_chunks(8)
            .map(|points| {
                let Some(mut evaluator) = SizingEvaluator::new(sizing, each, cold) else {
                    return (Vec::new(), 0);
                };
                (points.iter().map(|point| evaluator.evaluate(point, Goal::Own)).collect(), evaluator.work())
            })
            .collect();
        self.budget.spend(looked.iter().map(|(_, work)| work).sum());
        let values = looked.into_iter().flat_map(|(values, _)| values);
        let mut marked: Vec<(f64, &Vec<f64>)> = points
            .iter()
            .zip(values)
            .filter_map(|(point, value)| value.map(|v| (v.objective + 10.0 * v.violation(), point)))
            .collect();
        marked.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut chosen: Vec<Vec<f64>> = Vec::new();
        for (_, point) in marked {
            if chosen.len() >= FOLLOWED {
                break;
            }
            let near = |other: &Vec<f64>| apart(other, point) < 0.5;
            if !chosen.iter().any(near) && !others.iter().any(near) {
                chosen.push(point.clone());
            }
        }
        chosen
    }

    /// Holds every opening in turn at sizes over its range, the others made least, and lets it go again.
    fn hold(&mut self, best: &Minimum) -> Vec<Minimum> {
        let (low, high) = self.sizing.usual();
        let mut held: Vec<(usize, f64)> = Vec::new();
        for axis in 0..best.point.len() {
            let (low, high) = (low[axis].min(best.point[axis]), high[axis].max(best.point[axis]));
            let values = (0..HOLDS).map(|step| low + (high - low) * step as f64 / (HOLDS - 1) as f64);
            held.extend(values.filter(|value| (value - best.point[axis]).abs() > 0.1).map(|v| (axis, v)));
        }
        let held = self.as_many(&held, 0.4);
        let each = self.budget.share(0.4).each_of(held.len());
        let (sizing, lower, upper, cold) = (self.sizing, &self.lower, &self.upper, self.cold);
        let ends: Vec<(Option<Minimum>, u64)> = held
            .par_iter()
            .map(|(axis, value)| {
                let Some(mut evaluator) = SizingEvaluator::new(sizing, each, cold) else { return (None, 0) };
                let (mut below, mut above, mut start) = (lower.clone(), upper.clone(), best.point.clone());
                (below[*axis], above[*axis], start[*axis]) = (*value, *value, *value);
                let held = minimise(|x| evaluator.evaluate(x, Goal::Own), &start, &below, &above, HELD);
                let end = held.and_then(|held| {
                    minimise(|x| evaluator.evaluate(x, Goal::Own), &held.point, lower, upper, ROUGH)
                });
                (end, evaluator.work())
            })
            .collect();
        self.take(ends, each)
    }

    /// Where the drag is made smallest: puts first, of the ends whose drag is like the best, the one with the
    /// least areas, each opening as small as it goes.
    fn least_first(&mut self, pool: &mut Vec<Minimum>) {
        let Some(best) = pool.first().filter(|best| feasible(best)) else { return };
        if self.sizing.drag_at.is_none() {
            return;
        }
        let most = best.value.objective + LIKE * best.value.objective.abs();
        let alike = pool.iter().take_while(|end| feasible(end) && end.value.objective <= most).count();
        let ends: Vec<Minimum> = pool.drain(..alike.min(CLOSELY)).collect();
        let mut least = self.least_areas(ends);
        let area = |end: &Minimum| self.sizing.total_area(&end.point);
        least.sort_by(|a, b| area(a).total_cmp(&area(b)));
        pool.splice(..0, least);
    }

    /// Leaves only ends at which `check` finds the same margins: where there are two steady states, the way to
    /// an end may lead to another than a solution begun anew. Where none is left, the search goes on from the
    /// best with solutions begun anew.
    fn stand(&mut self, pool: &mut Vec<Minimum>) {
        let same = |search: &mut SizeSearch, end: &Minimum| {
            let allowance = search.budget.share(0.2);
            let Some(mut evaluator) = SizingEvaluator::new(search.sizing, allowance, true) else {
                return true;
            };
            let value = evaluator.evaluate(&end.point, Goal::Own);
            search.budget.spend(evaluator.work());
            value.is_some_and(|value| value.violation() <= end.value.violation().max(MET) + STANDS)
        };
        let looked: Vec<Minimum> = pool.drain(..).take(CLOSELY + KEPT).collect();
        let (standing, fallen): (Vec<Minimum>, Vec<Minimum>) =
            looked.into_iter().partition(|end| same(self, end));
        *pool = standing;
        if pool.is_empty() || fallen.iter().any(|end| better(&end.value, &pool[0].value)) {
            self.cold = true;
            let starts: Vec<(Vec<f64>, Goal)> =
                fallen.iter().chain(pool.iter()).map(|end| (end.point.clone(), Goal::Own)).collect();
            pool.extend(self.follow(&starts, FINE, 0.7));
            sort(pool);
            thin(pool);
        }
    }

    /// Clearly other sets that are as good, each a basin of its own: followed closely, begun anew, and still there.
    fn as_good(&mut self, best: &Minimum, pool: &[Minimum]) -> Vec<Minimum> {
        let mut kept: Vec<Minimum> = Vec::new();
        let near = |end: &Minimum, share: f64| {
            feasible(end) && end.value.objective - best.value.objective <= share * best.value.objective.abs()
        };
        let sizing = self.sizing;
        let clearly = |a: &Minimum, b: &Minimum| sizing.clearly_apart(&a.point, &b.point, CLEARLY);
        let others = pool.iter().filter(|end| near(end, 2.0 * AS_GOOD) && clearly(end, best));
        let others: Vec<(Vec<f64>, Goal)> =
            others.take(CLOSELY).map(|end| (end.point.clone(), Goal::Own)).collect();
        if !feasible(best) || others.is_empty() {
            return kept;
        }
        let mut ends = self.follow(&others, FINE, 0.3);
        ends = self.least_areas(ends);
        let again: Vec<(Vec<f64>, Goal)> = ends.iter().map(|end| (end.point.clone(), Goal::Own)).collect();
        let again = self.follow(&again, FINE, 0.3);
        let mut again = self.least_areas(again);
        self.stand(&mut again);
        sort(&mut again);
        let told = |end: &&Minimum| near(end, AS_GOOD) && clearly(end, best) && !only_larger(best, end);
        for end in again.iter().filter(told) {
            if kept.len() < KEPT && kept.iter().all(|other| clearly(other, end)) {
                kept.push(end.clone());
            }
        }
        kept
    }
}
