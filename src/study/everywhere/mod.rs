//! The worst point of each part over speed, gear, load, clear air and day.
//!
//! A grid over the bounds of the case, then a closer look round the lowest points of the grid, gear by
//! gear and day by day: margins are not monotone in speed, and the lowest point of the grid need not lie
//! beside the lowest of all. Each point is solved on its own, so that the answer does not depend on how
//! many threads share the work.

mod bounds;
mod grid;
mod look;
mod probe;
mod reasons;
pub mod result;
mod stop;

use crate::air::ZERO_CELSIUS;
use crate::case::{Case, Warning};
use crate::point::budget::{self, Budget};
use crate::point::conditions;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::Condition;
use crate::point::speeds::NotSwept;
use crate::study::lap::holding::seconds_to_limit;
use crate::thermal::MarginIs;
use bounds::SearchBounds;
use grid::{LowPoint, SpeedGrid, axis};
use look::WorseLook;
use probe::{Counts, PartAtPoint, Probe, SearchPoint, WorseBy};
use rayon::prelude::*;
use result::{AtCondition, HottestPoint, Within, WorstPoint};
use std::sync::atomic::{AtomicUsize, Ordering};
use stop::SearchWatcher;

/// Steps between two speeds of the grid (m/s): 1 km/h.
const SPEED_STEP: f64 = 1.0 / 3.6;
/// Speeds of one gear in the grid, at least and at most.
const SPEEDS: (usize, usize) = (12, 250);
/// Loads of the grid.
const LOADS: usize = 6;
/// Shares of the dynamic pressure of the grid.
const CLEAR_AIRS: usize = 3;
/// Low points of each part, gear and day that are looked at closely.
const CLOSE_LOOKS: usize = 4;
/// Low points of each part and order that are gone through along whole lines.
const POLISHED: usize = 2;
/// How often, at most.
const ROUNDS: usize = 6;
/// Points of a closer look, about.
const CLOSER: u64 = 120;
/// Points of one round along whole lines, about.
const LINES: u64 = 600;
/// Points of the coarsest grid of a gear and day.
const FEWEST: usize = 8;
/// Steps in which a low point's neighbourhood is first gone through (m/s): 0.1 km/h.
const FINE: f64 = 0.1 / 3.6;
/// Step of speed at which the closer look ends (m/s): a thousandth of a km/h, so that a margin is known to a billionth.
const FINEST: f64 = 0.001 / 3.6;

/// Steps of load and clear air at which it ends.
const SHARE_FINEST: f64 = 1e-3;
/// Rounds of steps, at most.
const MOST_STEPS: usize = 60;

/// Shares of the whole that the grids are, and the closer looks.
const GRIDS: f64 = 0.6;
const CLOSELY: f64 = 0.2;

/// What a search found.
#[derive(Clone, Debug)]
pub struct Everywhere {
    /// The worst point of each part, in the order of the case; a part is left out where nothing was solved.
    pub worst: Vec<WorstPoint>,
    /// What was searched.
    pub within: Within,
    /// The share of the search after which it was stopped by hand.
    pub stopped_at: Option<f64>,
}

impl Everywhere {
    /// Whether a part misses its limit somewhere.
    pub fn missed(&self) -> bool {
        self.worst.iter().any(|point| {
            point.margin_is == MarginIs::Impossible || point.flow_margin.is_some_and(|margin| margin < 0.0)
        })
    }
}

/// Searches for the worst point of each part. `conditions` are those of the case, solved; `progress` is told the share that is
/// done, and says whether to go on: where not, what was looked at so far has to do. A coarser grid and fewer low points where so
/// much would be too much for the budget, and that is told.
///
/// # Errors
/// [`NotSwept`] where the case has no `[drive]`, or no speed lies in a gear.
pub fn everywhere_within(
    case: &Case,
    model: &Model,
    conditions: &[Condition],
    budget: Budget,
    left: &mut Vec<Warning>,
    progress: &(dyn Fn(f64) -> bool + Sync),
) -> Result<Everywhere, NotSwept> {
    let bounds = SearchBounds::read(case, model)?;
    let counts = Counts::default();
    let stop = SearchWatcher::new(progress);
    let search = EverywhereSearch { case, model, bounds: &bounds, counts: &counts, budget, stop: &stop };
    let (grids, coarse) = search.grids();
    if let Some((looked, wanted)) = coarse {
        left.push(budget::left_out(format!(
            "of {wanted} points of speed, gear, load, clear air and day {looked} were looked at"
        )));
    }
    let mut starts: Vec<LowPoint> = Vec::new();
    let parts: Vec<usize> =
        (0..case.parts.len()).filter(|part| model.network.parts[*part].has_limit()).collect();
    for part in parts.iter().copied() {
        for by in [WorseBy::Air, WorseBy::Kelvin] {
            starts.extend(grids.iter().flat_map(|grid| grid.lowest(part, by)));
        }
    }
    let most = counts.left(budget).share(0.5).times(CLOSER * counts.mean());
    if most < starts.len() {
        left.push(budget::left_out(format!("of {} low points {most} were looked at closely", starts.len())));
        // the lowest of each part and order first
        starts.sort_by_key(|start| start.rank);
        starts.truncate(most);
    }
    let done = AtomicUsize::new(0);
    let looked: Vec<(SearchPoint, PartAtPoint)> = starts
        .par_iter()
        .map_init(
            || search.probe(),
            |probe, start| {
                let found = search.closer(probe, start);
                let done = done.fetch_add(1, Ordering::Relaxed) + 1;
                stop.told(GRIDS + CLOSELY * done as f64 / starts.len() as f64);
                found
            },
        )
        .collect();
    // the worst few of each order, gone through along whole lines
    let orders: Vec<(usize, WorseBy)> =
        parts.iter().flat_map(|part| [(*part, WorseBy::Air), (*part, WorseBy::Kelvin)]).collect();
    let rounds =
        counts.left(budget).times(LINES * counts.mean() * (POLISHED * orders.len()) as u64).min(ROUNDS);
    let through = AtomicUsize::new(0);
    let polished: Vec<Option<(SearchPoint, PartAtPoint)>> = orders
        .par_iter()
        .map_init(
            || search.probe(),
            |probe, (part, by)| {
                // all that was looked at closely counts for both orders
                let own = starts.iter().zip(&looked).filter(|(start, _)| start.part == *part);
                let mut best: Vec<(SearchPoint, PartAtPoint)> = own.map(|(_, look)| *look).collect();
                if best.is_empty() {
                    best.extend(
                        grids.iter().flat_map(|grid| grid.lowest(*part, *by)).map(|s| (s.point, s.mark)),
                    );
                }
                best.sort_by(|a, b| probe::order(&a.1, &b.1, *by));
                best.dedup();
                best.truncate(POLISHED);
                let ends = best.into_iter().map(|found| search.polish(probe, (*part, *by), found, rounds));
                let end = ends.min_by(|a, b| probe::order(&a.1, &b.1, *by));
                let done = through.fetch_add(1, Ordering::Relaxed) + 1;
                stop.told(GRIDS + CLOSELY + (1.0 - GRIDS - CLOSELY) * done as f64 / orders.len() as f64);
                end
            },
        )
        .collect();
    let worst_of = |place: usize, by: WorseBy| {
        let two = [polished[2 * place], polished[2 * place + 1]];
        two.into_iter().flatten().min_by(|a, b| probe::order(&a.1, &b.1, by))
    };
    let worst = parts
        .iter()
        .enumerate()
        .filter_map(|(place, part)| {
            let found = worst_of(place, WorseBy::Air)?;
            Some(search.describe(*part, found, worst_of(place, WorseBy::Kelvin)?, conditions))
        })
        .collect();
    let within =
        bounds.within(counts.solved.load(Ordering::Relaxed), counts.unsolved.load(Ordering::Relaxed));
    Ok(Everywhere { worst, within, stopped_at: stop.stopped_at() })
}

struct EverywhereSearch<'s> {
    case: &'s Case,
    model: &'s Model,
    bounds: &'s SearchBounds,
    counts: &'s Counts,
    budget: Budget,
    stop: &'s SearchWatcher<'s>,
}

impl<'s> EverywhereSearch<'s> {
    fn probe(&self) -> Probe<'s> {
        Probe::new(self.case, self.model, self.bounds, self.counts)
    }

    /// The grids, one for each gear and day; where they are coarser than they should be, how many points were
    /// looked at and how many should have been.
    fn grids(&self) -> (Vec<SpeedGrid>, Option<(usize, usize)>) {
        let whole: Vec<SpeedGrid> = self.whole_grids();
        let wanted: usize = whole.iter().map(SpeedGrid::points).sum();
        self.sample(&whole);
        let mut grids: Vec<SpeedGrid> = Vec::new();
        let mut looked = 0;
        for (index, mut grid) in whole.into_iter().enumerate() {
            // an even part of what is left for the grids, at what a point has taken so far
            let spare = self.counts.left(self.budget).left().saturating_sub(self.budget.share(0.4).left());
            let most = Budget::of(spare).each_of(self.bounds.pairs() - index).times(self.counts.mean());
            grid.coarsen(most.max(FEWEST));
            looked += grid.points();
            let lines: Vec<usize> = (0..grid.axes[1].len() * grid.axes[2].len()).collect();
            // lines of speeds are handed out, not points: the order within a grid stays
            let solved: Vec<Vec<Option<Vec<PartAtPoint>>>> = lines
                .par_iter()
                .map_init(
                    || self.probe(),
                    |probe, line| {
                        let count = grid.axes[0].len();
                        (0..count).map(|i| probe.look(&grid.point(line * count + i))).collect::<Vec<_>>()
                    },
                )
                .collect();
            grid.marks.extend(solved.into_iter().flatten());
            grids.push(grid);
            if !self.stop.told(GRIDS * (index + 1) as f64 / self.bounds.pairs() as f64) {
                return (grids, None);
            }
        }
        (grids, (looked < wanted).then_some((looked, wanted)))
    }

    /// The grids as fine as they should be, nothing looked at yet.
    fn whole_grids(&self) -> Vec<SpeedGrid> {
        let mut grids = Vec::new();
        for (gear, range) in self.bounds.gears.iter().enumerate() {
            let wanted = ((range.speed.1 - range.speed.0) / SPEED_STEP).ceil() as usize + 1;
            let speeds = axis(range.speed, wanted.clamp(SPEEDS.0, SPEEDS.1));
            let axes = [speeds, axis(self.bounds.load, LOADS), axis(self.bounds.clear_air, CLEAR_AIRS)];
            for day in 0..self.bounds.days.len() {
                grids.push(SpeedGrid { gear, day, axes: axes.clone(), marks: Vec::new() });
            }
        }
        grids
    }

    /// Looks at a few points, so that it is known what one takes.
    fn sample(&self, grids: &[SpeedGrid]) {
        let mut probe = self.probe();
        for grid in [grids.first(), grids.last()].into_iter().flatten() {
            for share in [0.0, 0.5, 1.0] {
                probe.look(&grid.point(((grid.points() - 1) as f64 * share) as usize));
            }
        }
    }

    /// Looks closer round a low point of the grid: first all speeds up to the next points of the grid,
    /// 0.1 km/h apart, then ever smaller steps.
    fn closer(&self, probe: &mut Probe, start: &LowPoint) -> (SearchPoint, PartAtPoint) {
        let mut look = WorseLook {
            search: self,
            probe,
            part: start.part,
            by: start.by,
            best: (start.point, start.mark),
        };
        if !self.stop.goes_on() {
            return look.best;
        }
        let speed = self.bounds.gears[start.point.gear].speed;
        let near =
            ((start.point.speed - start.step).max(speed.0), (start.point.speed + start.step).min(speed.1));
        look.along(axis(near, ((near.1 - near.0) / FINE).ceil() as usize + 1), |point, value| {
            point.speed = value
        });
        look.descend();
        look.best
    }

    /// Goes on from a low point along whole lines of speed, load and clear air until none of them holds
    /// anything worse: where a part's air comes to a stand the margin changes by jumps, and steps from
    /// point to point can end at one.
    fn polish(
        &self,
        probe: &mut Probe,
        (part, by): (usize, WorseBy),
        (point, mark): (SearchPoint, PartAtPoint),
        rounds: usize,
    ) -> (SearchPoint, PartAtPoint) {
        let mut look = WorseLook { search: self, probe, part, by, best: (point, mark) };
        let speed = self.bounds.gears[point.gear].speed;
        let count = |range: (f64, f64), step: f64| ((range.1 - range.0) / step).ceil() as usize + 1;
        for _ in (0..rounds).take_while(|_| self.stop.goes_on()) {
            let before = look.best;
            look.along(axis(speed, count(speed, FINE)), |point, value| point.speed = value);
            for (range, set) in [
                (self.bounds.load, (|point, value| point.load = value) as fn(&mut SearchPoint, f64)),
                (self.bounds.clear_air, |point, value| point.clear_air = value),
            ] {
                look.along(axis(range, count(range, 0.01)), set);
            }
            if look.best == before {
                break;
            }
            look.descend();
        }
        look.best
    }

    /// How long a point at which a part misses its limit may be held, coming from the condition in which the parts
    /// keep most, and that condition.
    fn held(
        &self,
        part: usize,
        point: &SearchPoint,
        mark: &PartAtPoint,
        conditions: &[Condition],
    ) -> (Option<f64>, Option<String>) {
        let moving = conditions.iter().filter(|condition| condition.speed_m_s > 0.0);
        let coolest = moving.max_by(|a, b| a.least_kelvins().total_cmp(&b.least_kelvins()));
        let Some(coolest) = coolest.filter(|_| mark.kelvin < 0.0) else { return (None, None) };
        let from: Vec<f64> = coolest.parts.iter().map(|part| part.temperature_C + ZERO_CELSIUS).collect();
        let rpm = self.probe().rpm(point);
        let mut operation = Operation::at_speed(self.case, point.speed, rpm, point.load);
        operation.clear_air = point.clear_air;
        operation.air = self.bounds.days[point.day].air;
        (seconds_to_limit(self.model, &from, &operation, part), Some(coolest.name.clone()))
    }

    fn describe(
        &self,
        part: usize,
        (point, mark): (SearchPoint, PartAtPoint),
        (hot, hottest): (SearchPoint, PartAtPoint),
        conditions: &[Condition],
    ) -> WorstPoint {
        let (point, mark) = (&point, &mark);
        let mut probe = self.probe();
        let name = &self.case.parts[part].name;
        let day = &self.bounds.days[point.day];
        let worst = conditions::worst(conditions);
        let worst_condition = worst.get(name).and_then(|worst| {
            let condition = conditions.iter().find(|condition| condition.name == worst.condition)?;
            let there = condition.parts.get(part)?;
            Some(AtCondition {
                condition: worst.condition.clone(),
                standing: condition.speed_m_s == 0.0,
                temperature_margin_K: there.temperature_margin_K,
                worse: PartAtPoint::of(there).worse_than(mark, WorseBy::Air),
            })
        });
        let fewest_kelvins = (hottest.kelvin < mark.kelvin - 0.5).then(|| HottestPoint {
            speed_m_s: hot.speed,
            gear: self.bounds.gears[hot.gear].number,
            load: hot.load,
            clear_air: hot.clear_air,
            day: self.bounds.days[hot.day].name.clone(),
            temperature_margin_K: hottest.kelvin,
        });
        let (limit_after_s, from) = self.held(part, point, mark, conditions);
        WorstPoint {
            part: name.clone(),
            speed_m_s: point.speed,
            gear: self.bounds.gears[point.gear].number,
            rpm: probe.rpm(point),
            load: point.load,
            clear_air: point.clear_air,
            flow_margin: mark.flow_margin,
            margin_is: mark.is,
            temperature_margin_K: mark.kelvin,
            margin_band_K: None,
            likelihood: None,
            temperature_C: mark.temperature_c,
            day: day.name.clone(),
            day_of: day.condition,
            air_temperature_C: day.air.temperature - ZERO_CELSIUS,
            because: reasons::reasons(self.bounds, &mut probe, part, point, mark),
            runs_back: probe.running_back(self.case, point, part),
            met_up_to_load: reasons::met_up_to_load(&mut probe, part, point, mark),
            limit_after_s,
            limit_from: limit_after_s.and(from),
            fewest_kelvins,
            worst_condition,
        }
    }
}
