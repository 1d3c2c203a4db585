//! What each guess is worth, and each reading: the share of the variance of the least margin in doubt that it explains,
//! and what knowing it would leave of the band.

use super::effort::takes;
use super::left::BandLeft;
use super::measure::{AskedMargin, LeastOver, MarginsAsked};
use super::sample::Sample;
use super::worth::{Next, ReadingWorth, of_readings, sample, when};
use crate::case::Case;
use crate::draws::car::Car;
use crate::draws::doubt::{GuessInput, band, input};
use crate::draws::guesses::Guesses;
use crate::numerics::conditional::{explained, normal_scores};
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol::{Sobol, mix};
use crate::numerics::sobol_shares::{Crossed, Shares, of_scrambles};
use crate::point::Model;
use crate::point::budget::Budget;
use crate::point::counted::Counted;
use crate::point::result::Band;
use crate::readings::drives::UnsureCase;
use crate::readings::expected::{ReadingWanted, with_errors};
use crate::readings::operator::{ReadingKind, gauge_at_limit};
use crate::readings::taken::ModelError;
use crate::readings::{Quantity, Reading, offered};
use rayon::prelude::*;
use serde::Serialize;
use std::sync::atomic::Ordering::Relaxed;
use std::sync::atomic::{AtomicBool, AtomicUsize};
/// Independent scrambles.
pub(super) const SCRAMBLES: usize = 8;
/// Pairs of points in each.
const PAIRS: usize = 64;
/// Pairs that say anything, at least.
const FEWEST: usize = 8;

/// What a guess is worth.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Worth {
    /// The first of its addresses.
    pub address: String,
    /// The guess.
    #[serde(flatten)]
    pub input: GuessInput,
    /// Share of the variance that it makes alone.
    pub first_order: f64,
    /// Standard error of that.
    pub first_order_error: f64,
    /// Share that it makes alone and together with others.
    pub total: f64,
    /// Standard error of that.
    pub total_error: f64,
    /// What knowing it is worth.
    #[serde(flatten)]
    pub left: BandLeft,
    /// What it stands for and how to measure it.
    pub measure: &'static str,
    /// How long that takes.
    pub takes: &'static str,
}

/// What decides: guesses and readings.
#[derive(Clone, Debug)]
#[allow(non_snake_case)]
pub struct GuessRanking {
    /// The guesses, the one worth most first.
    pub shares: Vec<Worth>,
    /// The readings, and several of them together, the one worth most first.
    pub readings: Vec<ReadingWorth>,
    /// The next best.
    pub next: Option<Next>,
    /// What it is all about.
    pub ranked: Ranked,
}

/// The margin by which guesses and readings are ranked.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Ranked {
    /// The parts and conditions of which the least margin is looked at.
    pub of: Vec<AskedMargin>,
    /// Whether these may hold or not.
    pub is: MarginsAsked,
    /// What is over its limit whatever the guesses are, and left out where others are in doubt.
    pub lost: Vec<AskedMargin>,
    /// Where some part is more likely over its limit than not: no temperature is read there, since nothing may be held there until
    /// it stands; a pressure takes seconds.
    pub too_hot: Vec<String>,
    /// Half the band of the least margin now.
    pub half_band_K: f64,
    /// The band.
    pub least_K: Band,
    /// Pairs of points that were used; each takes two cars and one more for each guess.
    pub pairs: usize,
    /// Pairs left out since one of their cars has no steady state.
    pub left_out: usize,
    /// Whether it was ended before its time.
    #[serde(skip)]
    pub stopped: bool,
}

/// What a lane works with.
struct SharesSetup<'c> {
    guesses: &'c Guesses,
    measure: &'c LeastOver,
    readings: &'c [ReadingWanted],
    /// The guesses of the case; those behind are what the drives are not sure of.
    inputs: usize,
    pairs: usize,
    /// What a lane may take.
    each: Budget,
    go_on: &'c (dyn Fn() -> bool + Sync),
}

/// What guesses are worth that are drawn together: of each, the share of the variance that knowing it explains. Alone and
/// together with others are then one.
fn of_joint(guesses: &Guesses, lanes: &[SharesLane]) -> Vec<Shares> {
    let mut least = Vec::new();
    let mut blocks = Vec::new();
    for lane in lanes {
        let from = least.len();
        least.extend(lane.crossed.a.iter().zip(&lane.crossed.b).flat_map(|(a, b)| [*a, *b]));
        blocks.push(from..least.len());
    }
    let each = (0..guesses.list.len()).map(|guess| {
        let numbers: Vec<f64> = lanes.iter().flat_map(|lane| lane.places[guess].iter().copied()).collect();
        let share = explained(&least, &[&normal_scores(&numbers)], &blocks);
        Shares { first: share, total: share }
    });
    each.collect()
}

/// One scramble: what its pairs of points give.
#[derive(Default)]
struct SharesLane {
    /// Of both points of each pair: where each guess lies, as it hangs together with the others.
    places: Vec<Vec<f64>>,
    crossed: Crossed,
    /// Of both points of each pair: what each reading shows.
    read: Vec<Vec<f64>>,
    left_out: usize,
}

/// Ranks the guesses of a case, and what could be read off the car, by what they are worth, with as many pairs of points as a
/// budget allows, where a draw takes so much work; none where they would be too few, where nothing is drawn, or where it cannot
/// be made ready. `told` hears the share of the work that is done, and says whether to go on.
pub fn ranking_within(
    budget: Budget,
    draw: u64,
    case: &Case,
    guesses: &Guesses,
    measure: &LeastOver,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<GuessRanking> {
    let cars = (SCRAMBLES * (guesses.list.len() + 2)) as u64;
    let pairs = budget.times(draw.saturating_mul(cars)).min(PAIRS);
    // what draws without a steady state may take over that
    let each = budget.twice().each_of(SCRAMBLES);
    (pairs >= FEWEST).then(|| ranking_of((pairs, each), case, guesses, measure, told)).flatten()
}

fn ranking_of(
    (pairs, each): (usize, Budget),
    case: &Case,
    guesses: &Guesses,
    measure: &LeastOver,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<GuessRanking> {
    if guesses.is_empty() || measure.places.is_empty() {
        return None;
    }
    let model = Model::new(case).ok()?;
    let conditions = measure.conditions();
    let mut moments: Vec<Counted> = conditions.iter().copied().map(Counted::Condition).collect();
    let unsure = UnsureCase::of(case, &offered::moments(case, &model));
    moments.extend(&unsure.moments);
    let list = offered::all(case, &model, conditions.len(), &moments[conditions.len()..]);
    // the same guesses, with what the drives themselves are not sure of behind them
    let own = Guesses::of(&unsure.case);
    let asked: Vec<ReadingWanted> = list.iter().map(|reading| asked(case, reading)).collect();
    let car = Car::at(&unsure.case, &own, moments.clone())?;
    let done = AtomicUsize::new(0);
    let stopped = AtomicBool::new(false);
    let go_on = || {
        let done = done.fetch_add(1, Relaxed) + 1;
        let go_on = told(done as f64 / (SCRAMBLES * pairs) as f64);
        stopped.fetch_or(!go_on && done < SCRAMBLES * pairs, Relaxed);
        go_on
    };
    let course = SharesSetup {
        guesses: &own,
        inputs: guesses.list.len(),
        measure,
        readings: &asked,
        pairs,
        each,
        go_on: &go_on,
    };
    let lanes: Vec<SharesLane> = (0..SCRAMBLES)
        .into_par_iter()
        .map_init(|| car.clone(), |car, scramble| lane(car, mix(0x5eed ^ scramble as u64), &course))
        .collect();
    if lanes.iter().any(|lane| lane.crossed.a.len() < 2) {
        return None;
    }
    let crossed: Vec<Crossed> = lanes.iter().map(|lane| lane.crossed.clone()).collect();
    let mut found = Quantiles::default();
    crossed.iter().flat_map(|c| c.a.iter().chain(&c.b)).for_each(|least| found.add(*least));
    let least = band(&found);
    let half = 0.5 * (least.p95 - least.p05);
    // guesses that hang together are worth what the margin follows them by, like readings
    let together = guesses.joint().map(|_| of_joint(guesses, &lanes));
    let all = together.unwrap_or_else(|| of_scrambles(&crossed));
    let worth = guesses.list.iter().zip(all).map(|(guess, shares)| {
        let first = case.numbers.fact(guess.numbers[0].0);
        worth(input(case, guess), first.help, half, &shares)
    });
    let mut shares: Vec<Worth> = worth.collect();
    shares
        .sort_by(|a, b| b.left.worth_K.total_cmp(&a.left.worth_K).then_with(|| b.total.total_cmp(&a.total)));
    let mut sample = sample(lanes.iter().map(|lane| (&lane.crossed, &lane.read[..])), &list);
    let too_hot = too_hot(case, &model, &list, &sample);
    for (reading, alive) in list.iter().zip(&mut sample.alive) {
        *alive &= !too_hot.contains(&reading.moment) || reading.kind() == ReadingKind::Pressure;
    }
    let (readings, next) = of_readings(case, &list, &moments, &sample, half);
    let ranked = Ranked {
        of: LeastOver::named(case, &measure.places),
        is: measure.asked(),
        lost: LeastOver::named(case, &measure.lost),
        too_hot: too_hot.iter().map(|moment| when(case, &moments[*moment])).collect(),
        half_band_K: half,
        least_K: least,
        pairs: crossed.iter().map(|crossed| crossed.a.len()).sum(),
        left_out: lanes.iter().map(|lane| lane.left_out).sum(),
        stopped: stopped.into_inner(),
    };
    Some(GuessRanking { shares, readings, next, ranked })
}

/// The moments in which the gauge of some part is more likely beyond its limit than not.
fn too_hot(case: &Case, model: &Model, list: &[Reading], sample: &Sample) -> Vec<usize> {
    let mut moments: Vec<usize> = Vec::new();
    for (reading, shows) in list.iter().zip(&sample.shows) {
        if let Quantity::Part(part) = reading.what
            && gauge_at_limit(case, model, part).is_some_and(|limit| shows.p50 > limit)
            && !moments.contains(&reading.moment)
        {
            moments.push(reading.moment);
        }
    }
    moments
}

fn lane(car: &mut Car, seed: u64, course: &SharesSetup) -> SharesLane {
    let SharesSetup { guesses, readings, pairs, inputs, .. } = *course;
    // the columns of the guesses of this case alone, at A and at B
    let all: Vec<usize> = guesses.list.iter().map(|guess| guess.dimension).collect();
    let (columns, of_drives) = all.split_at(inputs);
    // what drives are not sure of, and the model's own errors where they are drawn, are no guesses to be measured: those of
    // A, and those of B
    let own_errors = guesses.errors().map(|(_, dimension)| dimension).chain(guesses.errors_anew());
    let errors: Vec<usize> = of_drives.iter().copied().chain(own_errors).collect();
    let half = inputs + errors.len();
    let sobol = Sobol::new(2 * half, seed);
    let mut found = SharesLane {
        crossed: Crossed { mixed: vec![Vec::new(); inputs], ..Crossed::default() },
        read: vec![Vec::new(); readings.len()],
        places: vec![Vec::new(); inputs],
        left_out: 0,
    };
    let mut pair = vec![0.0; 2 * half];
    let mut point = vec![0.5; guesses.dimensions];
    let mut row = vec![0.0; inputs + 2];
    let mut read = [vec![0.0; readings.len()], vec![0.0; readings.len()]];
    let begun = car.work();
    for index in 0..pairs {
        sobol.point(index as u32, &mut pair);
        row.fill(f64::NAN);
        let (a, b) = pair.split_at(half);
        // A first: the others but B differ from it by one guess
        let order = std::iter::once(inputs).chain(0..inputs).chain([inputs + 1]);
        for place in order {
            for (input, column) in columns.iter().enumerate() {
                let of_b = place == inputs + 1 || place == input;
                point[*column] = if of_b { b[input] } else { a[input] };
            }
            let of_errors = if place == inputs + 1 { &b[inputs..] } else { &a[inputs..] };
            errors.iter().zip(of_errors).for_each(|(column, share)| point[*column] = *share);
            car.begin_at_mark(place < inputs);
            let mut least = least_margin(car, &point, course.measure, place == inputs);
            if place >= inputs && least.is_finite() && {
                let row = (2 * index + place - inputs) as u64;
                !look(car, course, mix(seed ^ mix(row << 16)), &mut read[place - inputs])
            } {
                least = f64::NAN;
            }
            row[place] = least;
            if !least.is_finite() {
                break;
            }
        }
        let go_on = (course.go_on)();
        if row.iter().any(|least| !least.is_finite()) {
            found.left_out += 1;
        } else {
            found.crossed.a.push(row[inputs]);
            found.crossed.b.push(row[inputs + 1]);
            for (mixed, least) in found.crossed.mixed.iter_mut().zip(&row) {
                mixed.push(*least);
            }
            for half in [a, b] {
                columns.iter().chain(&errors).zip(half).for_each(|(column, share)| point[*column] = *share);
                let turned = guesses.turned(&point);
                columns.iter().zip(&mut found.places).for_each(|(column, all)| all.push(turned[*column]));
            }
            for (place, all) in found.read.iter_mut().enumerate() {
                all.extend(read.iter().map(|read| read[place]));
            }
        }
        if (!go_on && index + 1 >= FEWEST) || !course.each.allows(car.work() - begun) {
            break;
        }
    }
    found
}

/// The least margin of a car among those looked at (K); not a number where a condition has no steady state.
fn least_margin(car: &mut Car, point: &[f64], measure: &LeastOver, marked: bool) -> f64 {
    if car.take(point).is_err() {
        return f64::NAN;
    }
    if marked {
        car.mark();
    }
    let mut least = f64::INFINITY;
    let (mut moment, mut before) = (0, None);
    for (condition, part) in &measure.places {
        if before.replace(*condition).is_none_or(|before| before != *condition) {
            if !car.solve(moment) {
                return f64::NAN;
            }
            moment += 1;
        }
        least = least.min(car.margin(*part));
    }
    least
}

/// What every reading shows of the car as drawn, with what it is off by; whether all of its moments have a steady state.
fn look(car: &mut Car, course: &SharesSetup, seed: u64, shown: &mut [f64]) -> bool {
    let mut before = None;
    for (asked, shown) in course.readings.iter().zip(shown) {
        let moment = asked.reading.moment;
        if before.replace(moment).is_none_or(|before| before != moment) && !car.solve(moment) {
            return false;
        }
        *shown = with_errors(car, course.guesses, asked, &ModelError::default(), seed);
    }
    true
}

/// A reading that is offered, with the instrument that the case names for it.
pub(in crate::study) fn asked(case: &Case, reading: &Reading) -> ReadingWanted {
    ReadingWanted {
        scene: 0,
        reading: *reading,
        test: reading.moment,
        tool: reading.what.tool(case),
        instrument: Some(reading.what.instrument()),
    }
}

fn worth(input: GuessInput, measure: &'static str, half: f64, shares: &Shares) -> Worth {
    let (first, total) = (shares.first, shares.total);
    Worth {
        takes: takes(&input.addresses[0]),
        address: input.addresses[0].clone(),
        input,
        first_order: first.value,
        first_order_error: first.error,
        total: total.value,
        total_error: total.error,
        left: BandLeft::of(half, first.value, first.error),
        measure,
    }
}
