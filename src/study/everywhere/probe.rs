//! One point of the search after another, each solved from a cold start, so that a point's answer
//! does not depend on the way that led there.

use super::bounds::SearchBounds;
use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::point::budget::{self, Budget};
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::{PartResult, STILL};
use crate::point::solver::PointSolver;
use crate::thermal::{Margin, MarginIs};
use std::cmp::Ordering;
use std::sync::atomic::Ordering::Relaxed;
use std::sync::atomic::{AtomicU64, AtomicUsize};

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SearchPoint {
    /// Index into the gears of the bounds.
    pub gear: usize,
    /// Index into their days.
    pub day: usize,
    /// Road speed (m/s).
    pub speed: f64,
    pub load: f64,
    pub clear_air: f64,
}

/// How a part fares at a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct PartAtPoint {
    /// Limit less temperature (K).
    pub kelvin: f64,
    pub temperature_c: f64,
    pub flow_margin: Option<f64>,
    pub is: MarginIs,
}

impl PartAtPoint {
    /// How a part fares in a solved condition.
    pub fn of(part: &PartResult) -> PartAtPoint {
        PartAtPoint {
            kelvin: part.temperature_margin_K,
            temperature_c: part.temperature_C,
            flow_margin: part.flow_margin,
            is: part.margin_is,
        }
    }

    pub fn missed(&self) -> bool {
        match self.is {
            MarginIs::Impossible => true,
            MarginIs::Value => self.flow_margin.is_some_and(|margin| margin < 0.0),
            MarginIs::Unlimited | MarginIs::NoLimit => false,
        }
    }

    /// Whether this is worse than another.
    pub fn worse_than(&self, other: &PartAtPoint, by: WorseBy) -> bool {
        order(self, other, by).is_lt()
    }
}

/// The order of two marks, the worse one first.
pub(super) fn order(one: &PartAtPoint, other: &PartAtPoint, by: WorseBy) -> Ordering {
    let rank = |mark: &PartAtPoint| match mark.is {
        MarginIs::Impossible => 0,
        MarginIs::Value => 1,
        MarginIs::Unlimited => 2,
        MarginIs::NoLimit => 3,
    };
    let air = |mark: &PartAtPoint| mark.flow_margin.unwrap_or(0.0);
    let by_air = rank(one).cmp(&rank(other)).then(air(one).total_cmp(&air(other)));
    let by_kelvin = one.kelvin.total_cmp(&other.kelvin);
    match by {
        WorseBy::Air => by_air.then(by_kelvin),
        WorseBy::Kelvin => by_kelvin.then(by_air),
    }
}

/// What makes a point worse than another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum WorseBy {
    /// Impossible before a number before unlimited, then the flow margin, then the kelvins.
    Air,
    Kelvin,
}

/// Solves points.
pub(super) struct Probe<'s> {
    model: &'s Model,
    bounds: &'s SearchBounds,
    solver: PointSolver,
    operation: Operation,
    margins: Vec<Margin>,
    counts: &'s Counts,
    reading: u64,
}

/// How many points were solved, and how many could not be; what they took.
#[derive(Debug, Default)]
pub(super) struct Counts {
    pub solved: AtomicUsize,
    pub unsolved: AtomicUsize,
    /// Work done, in visits of an element.
    pub work: AtomicU64,
}

impl Counts {
    /// Work of a point, the mean of all so far.
    pub fn mean(&self) -> u64 {
        let points = self.solved.load(Relaxed) + self.unsolved.load(Relaxed);
        self.work.load(Relaxed) / points.max(1) as u64
    }

    /// What is left of a budget.
    pub fn left(&self, whole: Budget) -> Budget {
        let mut left = whole;
        left.spend(self.work.load(Relaxed));
        left
    }
}

impl<'s> Probe<'s> {
    pub fn new(case: &Case, model: &'s Model, bounds: &'s SearchBounds, counts: &'s Counts) -> Probe<'s> {
        Probe {
            model,
            bounds,
            solver: PointSolver::new(model),
            operation: Operation::at_speed(case, 0.0, 0.0, 1.0),
            margins: Vec::new(),
            counts,
            reading: budget::reading(case),
        }
    }

    fn solve(&mut self, point: &SearchPoint) -> Option<()> {
        self.operation.air = self.bounds.days[point.day].air;
        self.operation.speed = point.speed;
        self.operation.rpm = self.rpm(point);
        self.operation.load = point.load;
        self.operation.clear_air = point.clear_air;
        self.solver.prepare(self.model, &self.operation);
        self.solver.forget();
        let before = self.solver.work();
        let found = self.solver.solve().ok();
        if found.is_some() {
            // of two ways in which the air can settle the hotter counts
            self.solver.turn_to_hotter_on_the_way(false);
        }
        self.counts.work.fetch_add(self.solver.work() - before + self.reading, Relaxed);
        let count = if found.is_some() { &self.counts.solved } else { &self.counts.unsolved };
        count.fetch_add(1, Relaxed);
        found
    }

    /// Engine speed at a point (rev/min).
    pub fn rpm(&self, point: &SearchPoint) -> f64 {
        self.bounds.gears[point.gear].rpm_per_speed * point.speed
    }

    /// How all parts fare at a point; none where no steady state was found.
    pub fn look(&mut self, point: &SearchPoint) -> Option<Vec<PartAtPoint>> {
        self.solve(point)?;
        self.solver.margins(self.model, &mut self.margins);
        let mark = |(part, margin): (usize, &Margin)| {
            let temperature = self.solver.state.part_temperature(part);
            PartAtPoint {
                kelvin: self.solver.network.parts[part].limit - temperature,
                temperature_c: temperature - ZERO_CELSIUS,
                flow_margin: margin.flow_margin,
                is: margin.is,
            }
        };
        Some(self.margins.iter().enumerate().map(mark).collect())
    }

    /// How one part fares at a point.
    pub fn look_at(&mut self, point: &SearchPoint, part: usize) -> Option<PartAtPoint> {
        self.look(point).map(|marks| marks[part])
    }

    /// Passages of a part's own air that run back at a point.
    pub fn running_back(&mut self, case: &Case, point: &SearchPoint, part: usize) -> Vec<String> {
        if self.solve(point).is_none() {
            return Vec::new();
        }
        let passages = self.solver.network.passages.iter().enumerate();
        passages
            .filter(|(index, passage)| {
                let mut elements = passage.elements.clone();
                self.solver.state.flow[*index] < -STILL
                    && elements.any(|element| self.model.part_of[element] == Some(part))
            })
            .map(|(index, _)| case.passages[index].name.clone())
            .collect()
    }
}
