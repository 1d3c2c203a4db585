//! Sizes that hold: what can be cut first, what will do with the values taken, and what holds in so many draws of the
//! guesses, each opening at least as large as in the column before.
//!
//! | file | what it does |
//! | --- | --- |
//! | `fleet` | the same many cars at one set of sizes after another |
//! | `watch` | what is asked of them, and a model of it from the few that decide |
//! | `settle` | the least that keeps it |
//! | `finish` | many draws, and no opening that could be 2 % smaller |
//! | `likely` | the most likely sizes, where none do as often as is asked |
//! | `told` | what is told of each column |

mod finish;
pub(in crate::study) mod fleet;
mod likely;
mod settle;
mod told;
mod watch;

use super::result::{Holds, SizesColumn, SizesInDraws};
use super::starts::halton;
use super::{MarginTarget, Sizing};
use crate::case::{Case, tables as t};
use crate::draws::Guesses;
use crate::keys::NumberId;
use crate::point::budget::Budget;
use crate::point::counted::Counted;
use finish::{FinishGoal, Finished, finish};
use fleet::{CaseShape, From, MarginTable, ShareTold, SizingFleet};
use likely::most_likely;
use settle::{Care, OpeningBounds, Price, SettledAt, apart, settle};
use watch::{Asks, DrawsWatch};

/// Share of the draws in which all parts are to hold, where the case does not say.
pub const HOLDS: f64 = 0.9;
/// Of the kindest draws so many let each margin be reached by what is cut first.
const KINDEST: f64 = 0.1;
/// By so much less than the best that can be had, the least area is told: one point.
const ONE_POINT: f64 = 0.01;
/// Draws that decide in the end; looked at for where to begin; fewest that say anything.
const DRAWS: (usize, usize, usize) = (1024, 64, 256);
/// Draws by which the most likely sizes are sought.
const LIKELY: usize = 192;
/// What the draw that decides may be short (K) where the search ends, for many draws to be asked.
const SHORT: f64 = 3.0;
/// What it may be short (K) after a rough look, for a close one to be worth its work.
const FAR_SHORT: f64 = 10.0;
/// Points of a sequence that fills the space, looked at for where to begin.
const SPREAD: usize = 8;
/// Of these, followed.
const FOLLOWED: usize = 2;
/// Openings larger than with the values taken by these in the logarithm of their areas, looked at too: inlets, exits.
const LARGER: [(f64, f64); 5] = [(0.0, 0.0), (0.25, 0.25), (0.0, 0.4), (0.4, 0.7), (0.4, 0.0)];
/// How it is followed roughly, then closely; and what is cut first.
const ROUGH: Care = Care { draws: 192, near: 20, rounds: 2, steps: 8 };
const CLOSE: Care = Care { draws: 512, near: 48, rounds: 3, steps: 8 };
const FIRST: Care = Care { draws: 512, near: 16, rounds: 3, steps: 8 };
/// Sizes that lie nearer than this, in the logarithm of their areas, are the same.
const SAME: f64 = 2e-3;
/// Shares of the work after which each search ends with what it has: what is cut first, where to begin, the end of that,
/// and what is most likely.
const ENDS: [f64; 4] = [0.2, 0.55, 0.7, 0.9];
/// So many looks at as many draws as decide in the end are expected, about.
const LOOKS: u64 = 25;
/// Halvings of the way back to sizes that reach what is asked.
const HALVINGS: usize = 4;

/// What is asked of the third column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holding {
    /// Share of the draws, 0 to 1.
    pub share: f64,
    /// Kelvins that all parts keep in these.
    pub margin: f64,
}

impl Holding {
    /// What the case asks for; a share from elsewhere comes first.
    pub fn of(case: &Case, share: Option<f64>) -> Holding {
        let number = |key| case.size.as_ref().and_then(|values| case.view(values).number(key));
        Holding {
            share: share.or_else(|| number(&t::HOLDS)).unwrap_or(HOLDS),
            margin: number(&t::HOLDS_MARGIN).unwrap_or(0.0),
        }
    }
}

/// The columns, and what it takes for the last to hold.
#[derive(Clone, Debug)]
pub struct Columns {
    /// Cut first, with the values taken, and what holds.
    pub columns: Vec<SizesInDraws>,
    /// What the last takes; none where it was stopped before.
    pub holds: Option<Holds>,
}

/// What columns are found with.
struct Task<'t, 's> {
    fleet: SizingFleet<'s>,
    price: Price<'s>,
    sizing: &'s Sizing<'s>,
    bounds: OpeningBounds,
    taken: &'t [f64],
    /// Whether the sizes of the second column do what they are to do.
    feasible: bool,
    holding: Holding,
    /// Draws in the end.
    draws: usize,
    /// Work for all of it.
    work: u64,
}

/// The guesses of cases whose free openings are decided.
fn guesses_of(sizings: &[&Sizing]) -> Vec<Guesses> {
    let cases: Vec<&Case> = sizings.iter().map(|sizing| sizing.case).collect();
    let mut all = Guesses::of_all(&cases);
    for (guesses, sizing) in all.iter_mut().zip(sizings) {
        guesses.leave(&sizing.decided());
    }
    all
}

impl<'c> Sizing<'c> {
    /// A case that is only looked at, at moments of one's own: nothing is free.
    pub(in crate::study) fn looking(case: &'c Case, at: Vec<Counted>) -> Sizing<'c> {
        Sizing {
            case,
            variables: Vec::new(),
            at,
            sweeps: false,
            targets: vec![MarginTarget::Kelvin(0.0); case.parts.len()],
            drag_at: None,
            drag_unit: 1.0,
            carburettor_loss: None,
            carburettor_heating: None,
            others: Vec::new(),
            short: Vec::new(),
        }
    }

    /// Numbers that sizing decides: they are not guessed.
    pub(in crate::study) fn decided(&self) -> Vec<NumberId> {
        let members = self.variables.iter().flat_map(|variable| &variable.members);
        members.flat_map(|opening| opening.decided()).collect()
    }

    /// The three columns beside sizes found with the values taken; none where nothing is guessed, or where a look at
    /// enough draws would be too much. Whoever is told how far it is may stop it: columns that are through are kept.
    pub(super) fn columns(
        &self,
        taken: &[f64],
        feasible: bool,
        holding: Holding,
        budget: Budget,
        told: &ShareTold,
    ) -> Option<Columns> {
        let sizings: Vec<&Sizing> =
            std::iter::once(self).chain(self.others.iter().map(|(_, other)| other)).collect();
        let guesses = guesses_of(&sizings);
        let shapes: Vec<CaseShape> =
            sizings.iter().zip(&guesses).map(|(sizing, guesses)| CaseShape { sizing, guesses }).collect();
        let mut fleet = SizingFleet::new(&shapes, taken)?;
        let before = fleet.work();
        fleet.all(taken, DRAWS.1, From::Taken)?;
        let draw = (fleet.work() - before) / DRAWS.1 as u64;
        // a search takes some thirty looks at as many draws as decide in the end, all told
        let draws = (budget.times(draw) / 5).min(DRAWS.0) / 16 * 16;
        if draws < DRAWS.2 {
            return None;
        }
        fleet.tell(told, draw * draws as u64 * LOOKS);
        fleet.end_within(budget.twice());
        let (lower, upper) = self.bounds();
        let mut task = Task {
            fleet,
            price: Price::new(self),
            sizing: self,
            bounds: OpeningBounds { lower, upper },
            taken,
            feasible,
            holding,
            draws,
            work: budget.left(),
        };
        let found = task.columns();
        told(1.0);
        found
    }
}

impl Task<'_, '_> {
    fn columns(&mut self) -> Option<Columns> {
        let taken = self.taken.to_vec();
        let table = self.fleet.all(&taken, self.draws, From::Taken)?;
        let second = self.column(SizesColumn::ValuesTaken, &taken, &table, self.feasible);
        self.until(ENDS[0]);
        let first = self.cut_first(&table).filter(|_| !self.fleet.was_stopped());
        let mut columns = Vec::new();
        if let Some(first) = first.as_ref().filter(|first| apart(&first.point, &taken) < SAME) {
            // the same sizes are told by the same draws
            let same =
                SizesInDraws { column: SizesColumn::CutFirst, reached: first.is_reached(), ..second.clone() };
            columns.push(same);
        } else if let Some(first) = &first
            && let Some(there) = self.fleet.all(&first.point, self.draws.min(FIRST.draws), From::Last)
        {
            columns.push(self.column(SizesColumn::CutFirst, &first.point, &there, first.is_reached()));
        }
        columns.push(second);
        let held = self.held(first.as_ref(), &columns);
        if self.fleet.was_stopped() {
            return Some(Columns { columns, holds: None });
        }
        let (column, holds) = held?;
        columns.push(column);
        Some(Columns { columns, holds: Some(holds) })
    }

    /// The third column, and what it takes.
    fn held(&mut self, first: Option<&SettledAt>, columns: &[SizesInDraws]) -> Option<(SizesInDraws, Holds)> {
        let taken = self.taken.to_vec();
        let watch = DrawsWatch { asks: Asks::All(self.holding.margin), share: self.holding.share };
        let below = if self.feasible { &taken } else { first.map_or(&taken, |first| &first.point) };
        let lower = if self.feasible || first.is_some() {
            self.bounds.clamp(below)
        } else {
            self.bounds.lower.clone()
        };
        let bounds = OpeningBounds { lower, upper: self.bounds.upper.clone() };
        let may_miss = watch.may_miss(self.draws);
        self.until(ENDS[1]);
        let ends = self.candidates(watch, &bounds);
        self.until(ENDS[2]);
        let best = ends.first().cloned();
        let finished = best.as_ref().filter(|best| best.reached > -SHORT).and_then(|best| {
            let way = FinishGoal { watch, draws: self.draws, may_miss, start: &best.point, towards: None };
            finish(&mut self.fleet, &bounds, way)
        });
        self.until(ENDS[3]);
        let (found, reached, best_share) = match finished {
            Some(found) => (found, true, None),
            None => self.as_often_as_can_be(watch, &bounds, &ends)?,
        };
        let column = self.column(SizesColumn::Holds, &found.point, &found.table, reached);
        let holds = self.holds(columns, &column, &found, reached, best_share, watch);
        Some((column, holds))
    }

    /// What is sought next ends at this share of the work.
    fn until(&mut self, share: f64) {
        self.fleet.until((share * self.work as f64) as u64);
    }

    /// What can be cut first: every margin is reached in its own kindest draws, by openings no larger than with the
    /// values taken.
    fn cut_first(&mut self, with_taken: &MarginTable) -> Option<SettledAt> {
        let places = self.fleet.places().len();
        let watches: Vec<DrawsWatch> =
            (0..places).map(|place| DrawsWatch { asks: Asks::One(place), share: KINDEST }).collect();
        let bounds = OpeningBounds { upper: self.taken.to_vec(), ..self.bounds.clone() };
        let care = Care { draws: FIRST.draws.min(self.draws), ..FIRST };
        let mut end = settle(&mut self.fleet, &mut self.price, &watches, self.taken, &bounds, care)?;
        let least = |table: &MarginTable| {
            watches.iter().map(|watch| watch.reached(table)).fold(f64::INFINITY, f64::min)
        };
        if end.reached >= 0.0 {
            return Some(end);
        }
        if least(with_taken) < 0.0 {
            return Some(end);
        }
        // back towards the values taken, with which all is reached
        let (mut missed, mut kept) = (0.0, 1.0);
        let from = end.point.clone();
        for _ in 0..HALVINGS {
            let middle = 0.5 * (missed + kept);
            let point = between(&from, self.taken, middle);
            if least(&self.fleet.all(&point, care.draws, From::Last)?) >= 0.0 {
                kept = middle;
            } else {
                missed = middle;
            }
        }
        end.point = between(&from, self.taken, kept);
        end.objective = self.price.at(&end.point)?.0;
        end.reached = 0.0;
        Some(end)
    }

    /// Where it may be begun, followed to their ends: the best first.
    fn candidates(&mut self, watch: DrawsWatch, bounds: &OpeningBounds) -> Vec<SettledAt> {
        let mut starts: Vec<Vec<f64>> = Vec::new();
        for (inlets, exits) in LARGER {
            let variables = self.taken.iter().zip(&self.sizing.variables);
            let larger =
                variables.map(|(x, variable)| x + if self.sizing.is_exit(variable) { exits } else { inlets });
            starts.push(bounds.clamp(&larger.collect::<Vec<_>>()));
        }
        let (low, high) = self.sizing.usual();
        for index in 1..=SPREAD {
            let axes = low.iter().zip(&high).enumerate();
            let point = axes.map(|(axis, (low, high))| low + halton(index, axis) * (high - low));
            starts.push(bounds.clamp(&point.collect::<Vec<_>>()));
        }
        let mut marked: Vec<SettledAt> = Vec::new();
        for point in starts {
            if !marked.is_empty() && self.fleet.is_spent() {
                break;
            }
            let Some(table) = self.fleet.all(&point, DRAWS.1, From::Last) else { continue };
            let Some((objective, _)) = self.price.at(&point) else { continue };
            marked.push(SettledAt { objective, reached: watch.reached(&table), point });
        }
        let score = |end: &SettledAt| end.objective + 0.1 * (-end.reached).max(0.0);
        marked.sort_by(|a, b| score(a).total_cmp(&score(b)));
        let mut chosen: Vec<SettledAt> = Vec::new();
        for end in marked {
            if chosen.len() < FOLLOWED && chosen.iter().all(|other| apart(&other.point, &end.point) > 0.3) {
                chosen.push(end);
            }
        }
        let rough = Care { draws: ROUGH.draws.min(self.draws), ..ROUGH };
        let close = Care { draws: CLOSE.draws.min(self.draws), ..CLOSE };
        let mut ends: Vec<SettledAt> = chosen
            .iter()
            .filter_map(|start| {
                settle(&mut self.fleet, &mut self.price, &[watch], &start.point, bounds, rough)
            })
            .collect();
        sort(&mut ends);
        let Some(best) = ends.first() else { return ends };
        if self.fleet.is_spent() {
            return ends;
        }
        let is_near = best.reached > -FAR_SHORT;
        // states that turn up at these sizes count
        let start = best.point.clone();
        if self.fleet.look_for_second_states(&start).is_some()
            && is_near
            && let Some(end) = settle(&mut self.fleet, &mut self.price, &[watch], &start, bounds, close)
        {
            ends[0] = end;
        }
        ends
    }

    /// The least sizes within one point of the most likely ones: with them the share of the draws that is the best.
    fn as_often_as_can_be(
        &mut self,
        watch: DrawsWatch,
        bounds: &OpeningBounds,
        ends: &[SettledAt],
    ) -> Option<(Finished, bool, Option<f64>)> {
        let mut best: Option<(usize, Vec<f64>, MarginTable)> = None;
        let from = ends.first().map_or(self.taken.to_vec(), |end| end.point.clone());
        let few = LIKELY.min(self.draws);
        let found = most_likely(&mut self.fleet, &mut self.price, watch, &from, bounds, few);
        // the largest openings are looked at in any case
        let draws = self.draws;
        for point in found.into_iter().chain([bounds.upper.clone()]) {
            let Some(table) = self.fleet.all(&point, draws, From::Last) else { continue };
            let kept = watch.kept(&table);
            if best.as_ref().is_none_or(|(most, ..)| kept > *most) {
                best = Some((kept, point, table));
            }
        }
        let (kept, point, table) = best?;
        let share = kept as f64 / draws as f64;
        let nearest = ends.first().map_or(&point, |end| &end.point);
        if draws - kept <= watch.may_miss(draws) {
            // it can be had after all, where no start had led
            let may_miss = watch.may_miss(draws);
            let way = FinishGoal { watch, draws, may_miss, start: nearest, towards: Some(&point) };
            let found = finish(&mut self.fleet, bounds, way);
            let found = found.unwrap_or(Finished { point, table, flat: Vec::new() });
            return Some((found, true, None));
        }
        let within = DrawsWatch { share: (share - ONE_POINT).max(0.0), ..watch };
        // the likelihood is nearly flat here: many draws stand for all
        let may_miss = within.may_miss(draws);
        let care = Care { draws: CLOSE.draws.min(draws), near: 2 * CLOSE.near, ..ROUGH };
        let least = settle(&mut self.fleet, &mut self.price, &[within], &point, bounds, care);
        let start = least.filter(|end| end.reached > -SHORT).map_or(point.clone(), |end| end.point);
        let way = FinishGoal { watch: within, draws, may_miss, start: &start, towards: Some(&point) };
        let found = finish(&mut self.fleet, bounds, way);
        let found = found.unwrap_or(Finished { point, table, flat: Vec::new() });
        Some((found, false, Some(share)))
    }
}

fn sort(ends: &mut [SettledAt]) {
    ends.sort_by(|a, b| match (a.better_than(b), b.better_than(a)) {
        (true, _) => std::cmp::Ordering::Less,
        (_, true) => std::cmp::Ordering::Greater,
        _ => std::cmp::Ordering::Equal,
    });
}

fn between(from: &[f64], to: &[f64], share: f64) -> Vec<f64> {
    from.iter().zip(to).map(|(a, b)| a + share * (b - a)).collect()
}
