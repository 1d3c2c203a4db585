//! Draws: as many cars as it takes, and what is counted of them.

use super::car::Car;
use super::guesses::Guesses;
use super::scramble::{SEED, Scramble};
use crate::case::Case;
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol_shares::mean_and_error;
use crate::point::budget::{Budget, seconds};
use crate::point::counted::Counted;
use crate::point::ways::Ways;
use rayon::prelude::*;

/// Independent scrambles of the points, whose scatter is the standard error.
pub const SCRAMBLES: usize = 16;
/// Draws of each scramble in the first round; every further round makes half or a third more.
const FIRST: usize = 16;
/// Draws looked at for a second steady state before it is known whether there is one: fewer where there are many
/// moments, of which one stands for its neighbours.
const PILOT: std::ops::RangeInclusive<usize> = 2..=8;
/// Looks of that kind, about, in all moments together.
const LOOKS: usize = 64;
/// Draws of a scramble between two looks at whether to go on.
const STRETCH: usize = 32;
/// Spread (K) from which ends are given to five kelvins, below to one.
const WIDE: f64 = 10.0;
/// Share of a spread within which its ends need not be known better; the same where only the ends of the least margin are
/// told in figures, or both ends lie beyond the limit.
const OF_SPREAD: (f64, f64) = (0.05, 0.1);

/// What is wanted of the draws.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TallyWanted {
    /// Most draws.
    pub most: usize,
    /// Whether all of them are made, whatever the first say.
    pub all: bool,
    /// Whether only the ends of the least margin are told in figures; the others are drawn.
    pub least_only: bool,
    /// The seed of the points.
    pub seed: u64,
    /// What they may take; no round is begun that would be more. All of them are made whatever they take.
    pub within: Budget,
}

impl Default for TallyWanted {
    fn default() -> TallyWanted {
        TallyWanted {
            most: 4096,
            all: false,
            least_only: false,
            seed: SEED,
            within: Budget::seconds(seconds::DOUBT),
        }
    }
}

/// Everything counted over the draws.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// Draws made.
    pub draws: usize,
    /// Whether they were ended before their time.
    pub stopped: bool,
    /// Draws in which a moment has no steady state, or that are no car after several points.
    pub unsolved: usize,
    /// Draws in which the shares of heat had to shrink.
    pub shrunk: usize,
    /// Points left out for another, since laws did not fit.
    pub redrawn: usize,
    /// Share of the draws in which everything holds, with its standard error.
    pub holds: (f64, f64),
    /// The same with moments that do not count.
    pub holds_everywhere: f64,
    /// Least margin of a draw (K).
    pub least: Quantiles,
    /// Their sum.
    pub least_sum: f64,
    /// Margins (K) by moment and part: moment × parts + part.
    pub margins: Vec<Quantiles>,
    /// Draws in which that part holds in that moment.
    pub part_holds: Vec<usize>,
    /// Draws in which it has the least margin of all.
    pub part_least: Vec<usize>,
    /// Draws in which a passage runs back: moment × passages + passage.
    pub runs_back: Vec<usize>,
    /// By coordinate of a point: Σ (u − ½) and Σ (u − ½) M over the draws solved, M the least margin.
    pub leans: Vec<(f64, f64)>,
}

/// What a draw is looked at for: conditions and points of the sweep, and which of them count for whether it holds.
#[derive(Clone, Debug)]
pub(crate) struct Moments {
    pub list: Vec<Counted>,
    pub counts: Vec<bool>,
}

impl Moments {
    /// All conditions of a case, every one of which counts.
    pub fn all(case: &Case) -> Moments {
        Moments::all_of((0..case.conditions.len()).map(Counted::Condition).collect())
    }

    /// A list of which every one counts.
    pub fn all_of(list: Vec<Counted>) -> Moments {
        Moments { counts: vec![true; list.len()], list }
    }
}

/// One scramble: its points, and what it found in the round.
struct TallyLane {
    points: Scramble,
    point: Vec<f64>,
    found: Vec<Draw>,
    margins: Vec<f64>,
    runs_back: Vec<usize>,
    holds: usize,
    holds_everywhere: usize,
    ends: Vec<Quantiles>,
    leans: Vec<(f64, f64)>,
}

/// What is kept of one draw beside its margins.
struct Draw {
    solved: bool,
    holds: bool,
    /// The same with what does not count.
    everywhere: bool,
    shrunk: bool,
    redrawn: usize,
}

/// Makes the draws of a case, each looked at in every condition; none where it cannot be made ready, or nothing is
/// drawn. `told` hears the share of the most draws that is done, and says whether to go on.
pub fn draws(
    case: &Case,
    guesses: &Guesses,
    wanted: TallyWanted,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Tally> {
    draws_at(&Moments::all(case), case, guesses, wanted, told)
}

/// The same at moments of one's own, some of which may not count.
pub(crate) fn draws_at(
    moments: &Moments,
    case: &Case,
    guesses: &Guesses,
    wanted: TallyWanted,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Tally> {
    if guesses.is_empty() || moments.list.is_empty() {
        return None;
    }
    let car = Car::at(case, guesses, moments.list.clone())?;
    let (conditions, parts, passages) = (car.conditions(), car.parts(), case.passages.len());
    let mut lanes: Vec<TallyLane> = (0..SCRAMBLES)
        .map(|scramble| TallyLane {
            points: Scramble::new(guesses.dimensions, wanted.seed, scramble),
            point: vec![0.0; guesses.dimensions],
            found: Vec::new(),
            margins: Vec::new(),
            runs_back: vec![0; conditions * passages],
            holds: 0,
            holds_everywhere: 0,
            leans: vec![(0.0, 0.0); guesses.dimensions],
            ends: vec![Quantiles::default(); conditions * parts + 1],
        })
        .collect();
    // a draw leaves nothing in a car for the next: a few cars serve all lanes, enough for the threads to share them out
    let each = SCRAMBLES.div_ceil(2 * rayon::current_num_threads());
    let begun = car.work();
    let mut cars = vec![car; SCRAMBLES.div_ceil(each)];
    let twofold = twofold(&mut cars, &mut lanes, conditions);
    let looked: Vec<(bool, Ways)> = moments.counts.iter().copied().zip(twofold).collect();
    let mut tally = Tally {
        margins: vec![Quantiles::default(); conditions * parts],
        part_holds: vec![0; conditions * parts],
        part_least: vec![0; conditions * parts],
        runs_back: vec![0; conditions * passages],
        leans: vec![(0.0, 0.0); guesses.dimensions],
        ..Tally::default()
    };
    let most = (wanted.most / SCRAMBLES).max(1);
    let (mut from, mut to) = (0, FIRST.min(most));
    loop {
        let mut made = from;
        let mut go_on = true;
        while made < to && go_on {
            let until = (made + STRETCH).min(to);
            lanes.par_chunks_mut(each).zip(cars.par_iter_mut()).for_each(|(lanes, car)| {
                for lane in lanes {
                    (made..until).for_each(|index| lane.draw(car, index as u32, &looked));
                }
            });
            made = until;
            for lane in &mut lanes {
                tally.add(lane, &moments.counts, parts);
            }
            go_on = told(made as f64 / most as f64);
        }
        tally.stopped = !go_on && made < most;
        let made = made as f64;
        let holds = mean_and_error(lanes.iter().map(|lane| lane.holds as f64 / made));
        let all: usize = lanes.iter().map(|lane| lane.holds).sum();
        tally.holds = (all as f64 / tally.draws as f64, holds.error);
        let everywhere: usize = lanes.iter().map(|lane| lane.holds_everywhere).sum();
        tally.holds_everywhere = everywhere as f64 / tally.draws as f64;
        let next = if to.is_power_of_two() { to + to / 2 } else { to + to / 3 }.min(most);
        // the same however many cars there are
        let work = begun + cars.iter().map(|car| car.work() - begun).sum::<u64>();
        let spent = !wanted.all && !wanted.within.allows(work * next as u64 / to as u64);
        if to >= most || !go_on || spent || (!wanted.all && settled(&lanes, wanted.least_only)) {
            return Some(tally);
        }
        (from, to) = (to, next.max(to + 1));
    }
}

/// Whether every end shown is known to the digit in which it is shown, or to a share of the spread where that is more: twice its standard error is no more.
/// Source: JCGM 101:2008, 7.9.4, with one significant digit.
fn settled(lanes: &[TallyLane], least_only: bool) -> bool {
    // the last is that of the least margin
    let last = lanes[0].ends.len() - 1;
    let of_spread = if least_only { OF_SPREAD.1 } else { OF_SPREAD.0 };
    (if least_only { last } else { 0 }..=last).all(|index| {
        let ends: Vec<[f64; 2]> = lanes.iter().map(|lane| lane.ends[index].quantiles([0.05, 0.95])).collect();
        let at = |end: usize| mean_and_error(ends.iter().map(|ends| ends[end]));
        let (low, high) = (at(0), at(1));
        let width = high.value - low.value;
        // what is over its limit nine times in ten and more is told roughly: nothing hangs on how far
        let of_spread = if high.value + 2.0 * high.error < 0.0 { OF_SPREAD.1 } else { of_spread };
        let digit = digit(width).max(of_spread * width);
        // ends that are not finite belong to a condition without a steady state in any draw, or to a part without a limit
        !low.value.is_finite() || (2.0 * low.error <= digit && 2.0 * high.error <= digit)
    })
}

/// Of each condition the ways in which the air settles in the first draws of a few scrambles.
fn twofold(cars: &mut [Car], lanes: &mut [TallyLane], conditions: usize) -> Vec<Ways> {
    let pilot = (LOOKS / conditions.max(1)).clamp(*PILOT.start(), *PILOT.end());
    let each = pilot.div_ceil(cars.len());
    let found = lanes[..pilot].par_chunks_mut(each).zip(cars).flat_map_iter(|(lanes, car)| {
        lanes.iter_mut().map(|lane| ways_of_first(car, &lane.points, &mut lane.point))
    });
    all_ways(&found.collect::<Vec<_>>(), conditions)
}

/// Of each moment of a car the ways in which its air settles in the first draw of a scramble.
pub(crate) fn ways_of_first(car: &mut Car, points: &Scramble, point: &mut [f64]) -> Vec<Ways> {
    let taken = points.take(0, point, |point| car.take(point)).0.is_ok();
    let moments = 0..car.conditions();
    moments.map(|moment| if taken && car.solve(moment) { car.ways() } else { Ways::default() }).collect()
}

/// What such draws show together, moment by moment.
pub(crate) fn all_ways(found: &[Vec<Ways>], moments: usize) -> Vec<Ways> {
    let mut all = vec![Ways::default(); moments];
    for each in found {
        all.iter_mut().zip(each).for_each(|(all, ways)| all.add(*ways));
    }
    all
}

/// The step (K) in which the ends of a band of some width are given.
pub fn digit(width: f64) -> f64 {
    match width {
        _ if width < WIDE => 1.0,
        _ => 5.0,
    }
}

impl TallyLane {
    /// One draw; of each condition, whether it counts and in which ways its air settles.
    fn draw(&mut self, car: &mut Car, index: u32, looked: &[(bool, Ways)]) {
        let (taken, redrawn) = self.points.take(index, &mut self.point, |point| car.take(point));
        let (conditions, parts) = (car.conditions(), car.parts());
        let first = self.margins.len();
        self.margins.resize(first + conditions * parts, f64::NAN);
        let mut draw = Draw {
            solved: taken.is_ok(),
            holds: taken.is_ok(),
            everywhere: taken.is_ok(),
            shrunk: taken.is_ok_and(|d| d.shrunk),
            redrawn,
        };
        let passages = self.runs_back.len() / conditions.max(1);
        let mut least = f64::INFINITY;
        for (condition, (counts, ways)) in looked.iter().enumerate().take_while(|_| taken.is_ok()) {
            if !car.solve(condition) {
                (draw.solved, draw.holds) = (draw.solved && !counts, draw.holds && !counts);
                draw.everywhere = false;
                continue;
            }
            let row = &mut self.margins[first + condition * parts..][..parts];
            for (part, margin) in row.iter_mut().enumerate() {
                *margin = car.margin(part);
            }
            for passage in 0..passages {
                self.runs_back[condition * passages + passage] += usize::from(car.runs_back(passage));
            }
            let cold = car.is_warm(condition) && (0..parts).any(|part| car.is_cold(part));
            if !ways.is_one() {
                car.hotter(*ways, row);
            }
            let holds = !cold && row.iter().all(|margin| *margin >= 0.0);
            draw.everywhere &= holds;
            if *counts {
                draw.holds &= holds;
                least = row.iter().copied().fold(least, f64::min);
            }
        }
        let row = &self.margins[first..];
        if draw.solved {
            let each = self.ends.iter_mut().zip(row.iter().chain([&least]));
            each.filter(|(_, margin)| !margin.is_nan()).for_each(|(ends, margin)| ends.add(*margin));
            for ((sum, product), u) in self.leans.iter_mut().zip(&self.point) {
                *sum += u - 0.5;
                *product += (u - 0.5) * least;
            }
        }
        self.holds += usize::from(draw.holds);
        self.holds_everywhere += usize::from(draw.everywhere);
        self.found.push(draw);
    }
}

impl Tally {
    /// Adds what a lane found in a round, and empties it.
    fn add(&mut self, lane: &mut TallyLane, counts: &[bool], parts: usize) {
        let rows = lane.margins.chunks_exact((counts.len() * parts).max(1));
        for (draw, row) in lane.found.iter().zip(rows) {
            self.draws += 1;
            self.unsolved += usize::from(!draw.solved);
            self.shrunk += usize::from(draw.shrunk);
            self.redrawn += draw.redrawn;
            let mut least: Option<usize> = None;
            for (place, margin) in row.iter().enumerate().filter(|(_, margin)| !margin.is_nan()) {
                self.margins[place].add(*margin);
                self.part_holds[place] += usize::from(*margin >= 0.0);
                if counts[place / parts] && least.is_none_or(|least| *margin < row[least]) {
                    least = Some(place);
                }
            }
            if let Some(place) = least.filter(|_| draw.solved) {
                self.part_least[place] += 1;
                self.least.add(row[place]);
                self.least_sum += row[place];
            }
        }
        for (all, here) in self.runs_back.iter_mut().zip(&mut lane.runs_back) {
            *all += std::mem::take(here);
        }
        for ((sum, product), here) in self.leans.iter_mut().zip(&mut lane.leans) {
            let (more, with) = std::mem::take(here);
            *sum += more;
            *product += with;
        }
        lane.found.clear();
        lane.margins.clear();
    }
}
