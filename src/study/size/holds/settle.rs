//! The least that keeps what is asked of the draws: a model from the few draws that decide, made smallest, then all
//! draws again, until nothing moves.

use super::super::evaluator::{Goal, SizingEvaluator};
use super::super::{Holder, Sizing};
use super::fleet::{From, SizingFleet};
use super::watch::{DrawsWatch, Local};
use crate::numerics::constrained::{Effort, Evaluation, minimise};
use crate::point::budget::Budget;

/// Area that counts as one (m²).
const AREA_UNIT: f64 = 0.03;
/// Kelvins that count as one.
const KELVIN_UNIT: f64 = 100.0;
/// How far an opening goes in the first round, in the logarithm of its area; in every further one less.
const FIRST_WAY: f64 = 0.7;
/// Share of that in every further round.
const LESS: f64 = 0.6;
/// Nothing moves any more, in the logarithm of an area.
const STANDS: f64 = 4e-3;
/// Nor is there anywhere to go, whatever is reached.
const UNMOVED: f64 = 1e-9;
/// Kelvins within which an end counts as reached; all draws decide later.
pub const NEARLY: f64 = 0.5;

/// What sizes cost.
pub struct Price<'s> {
    sizing: &'s Sizing<'s>,
    /// Where more than areas counts.
    evaluator: Option<SizingEvaluator<'s>>,
}

impl<'s> Price<'s> {
    pub fn new(sizing: &'s Sizing<'s>) -> Price<'s> {
        let more = sizing.drag_at.is_some()
            || sizing.carburettor_loss.is_some()
            || sizing.carburettor_heating.is_some();
        let evaluator = more.then(|| SizingEvaluator::new(sizing, Budget::of(u64::MAX), false)).flatten();
        Price { sizing, evaluator }
    }

    /// The objective, and what is left to the carburettor with the values taken.
    pub fn at(&mut self, point: &[f64]) -> Option<(f64, Vec<f64>)> {
        let Some(evaluator) = &mut self.evaluator else {
            return Some((self.sizing.total_area(point) / AREA_UNIT, Vec::new()));
        };
        let value = evaluator.evaluate(point, Goal::Own)?;
        let each = value.constraints.iter().zip(&evaluator.holders);
        let carburettor = each.filter(|(_, holder)| matches!(holder, Holder::Carburettor { .. }));
        Some((value.objective, carburettor.map(|(left, _)| *left).collect()))
    }
}

/// How closely it is looked for.
#[derive(Clone, Copy, Debug)]
pub struct Care {
    /// Draws that are looked at.
    pub draws: usize,
    /// Draws that stand for each watch within a round.
    pub near: usize,
    pub rounds: usize,
    /// Steps of a round.
    pub steps: usize,
}

/// Where it ended.
#[derive(Clone, Debug)]
pub struct SettledAt {
    pub point: Vec<f64>,
    pub objective: f64,
    /// What the draws that decide have over what is asked, the least of all watches (K).
    pub reached: f64,
}

impl SettledAt {
    pub fn is_reached(&self) -> bool {
        self.reached >= -NEARLY
    }

    pub fn better_than(&self, other: &SettledAt) -> bool {
        match (self.is_reached(), other.is_reached()) {
            (true, true) => self.objective < other.objective,
            (a, b) if a != b => a,
            _ => self.reached > other.reached,
        }
    }
}

/// Openings between their bounds, as logarithms.
#[derive(Clone, Debug)]
pub struct OpeningBounds {
    pub lower: Vec<f64>,
    pub upper: Vec<f64>,
}

impl OpeningBounds {
    pub fn clamp(&self, point: &[f64]) -> Vec<f64> {
        let ends = self.lower.iter().zip(&self.upper);
        point.iter().zip(ends).map(|(x, (low, high))| x.clamp(*low, high.max(*low))).collect()
    }

    /// What of it lies within so far of a point.
    fn about(&self, point: &[f64], way: f64) -> OpeningBounds {
        let near = |side: f64| self.clamp(&point.iter().map(|x| x + side * way).collect::<Vec<_>>());
        OpeningBounds { lower: near(-1.0), upper: near(1.0) }
    }
}

/// The least from a start; none where the case is refused there or has no price.
pub fn settle(
    fleet: &mut SizingFleet,
    price: &mut Price,
    watches: &[DrawsWatch],
    start: &[f64],
    bounds: &OpeningBounds,
    care: Care,
) -> Option<SettledAt> {
    let mut point = bounds.clamp(start);
    let mut best: Option<SettledAt> = None;
    let mut way = FIRST_WAY;
    for round in 0..=care.rounds {
        let Some(table) = fleet.all(&point, care.draws, From::Last) else { break };
        let reached = watches.iter().map(|watch| watch.reached(&table)).fold(f64::INFINITY, f64::min);
        let end = SettledAt { objective: price.at(&point)?.0, point: point.clone(), reached };
        let moved = best.as_ref().map_or(f64::INFINITY, |best| apart(&best.point, &end.point));
        if best.as_ref().is_none_or(|best| end.better_than(best)) {
            best = Some(end);
        }
        if round == care.rounds
            || fleet.is_spent()
            || moved < UNMOVED
            || (moved < STANDS && reached >= -NEARLY)
        {
            break;
        }
        let locals: Vec<Local> =
            watches.iter().map(|watch| Local::new(*watch, fleet, &table, care.near)).collect();
        let about = bounds.about(&point, way);
        let evaluate = |x: &[f64]| evaluate(fleet, price, &locals, x);
        let effort = Effort { steps: care.steps, close: 1e-5 };
        let Some(found) = minimise(evaluate, &point, &about.lower, &about.upper, effort) else { break };
        point = found.point;
        way *= LESS;
    }
    best
}

fn evaluate(
    fleet: &mut SizingFleet,
    price: &mut Price,
    locals: &[Local],
    point: &[f64],
) -> Option<Evaluation> {
    if fleet.is_spent() {
        return None;
    }
    let (objective, mut constraints) = price.at(point)?;
    let asked: Vec<_> = locals.iter().flat_map(|local| local.asked.iter().copied()).collect();
    let table = fleet.look(point, &asked, From::Last)?;
    let mut rows = table.rows();
    for local in locals {
        let own: Vec<&[f64]> = rows.by_ref().take(local.asked.len()).collect();
        constraints.push(local.at(own.into_iter()) / KELVIN_UNIT);
    }
    Some(Evaluation { objective, constraints })
}

pub fn apart(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).fold(0.0, |most, (a, b)| most.max((a - b).abs()))
}
