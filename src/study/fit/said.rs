//! What a fit says: guesses, readings, tests left out, what only moves together, what looks like a slip.

use super::accused::{Accused, off, seek};
use super::chain::ChainDraws;
use super::held;
use super::margins::Margins;
use super::newton::{Likeliest, Problem};
use super::offered::{self, Offered};
use super::result::{
    Alarm, Ask, Fit, FitVerdict, GuessMoved, GuessPair, Misfit, RatiosOnly, RunFollowed, WithoutTest,
};
use super::slips;
use super::unknowns::{Unknown, Unknowns, unknown_blower};
use super::without::{Without, dot, square, without};
use crate::case::Case;
use crate::draws::{Guess, Guesses};
use crate::keys::Kind;
use crate::numerics::normal::{self, NINE_IN_TEN};
use crate::point::result::Band;
use crate::readings::drives::test_of;
use crate::readings::expected::ExpectedReading;
use crate::readings::taken::{Readings, Shown};

/// Spreads from what all others lead to expect up to which a reading is as expected, and within reason.
const AS_EXPECTED: f64 = 1.3;
const WITHIN_REASON: f64 = 2.3;
/// Correlation from which two guesses are said to move together.
const TOGETHER: f64 = 0.7;
/// A guess whose middle went so many half bands lies at the end of its band or beyond.
const BEYOND: f64 = 1.0;

/// All that is looked at.
pub struct All<'a> {
    pub case: &'a Case,
    pub readings: &'a Readings,
    pub guesses: &'a [Guesses],
    pub unknowns: &'a Unknowns,
    pub problem: &'a Problem<'a>,
    pub likeliest: &'a Likeliest,
    pub drawn: &'a ChainDraws,
    pub expected: &'a [ExpectedReading],
    pub margins: &'a Margins,
    pub offered: &'a [Offered],
    pub runs: Vec<RunFollowed>,
}

/// What a fit says; what concerns files is left to the caller.
pub fn said(all: &All) -> Fit {
    let alone = Alone::of(all);
    let accused = seek(all.unknowns, all.problem, all.likeliest, all.expected, WITHIN_REASON);
    let misfits = misfits(all, &alone, &accused);
    let (narrowed_by, wider_without) = narrowed(all, &alone).unzip();
    let moved = moved(all, &alone);
    let unseen = unseen(all);
    let alarms = alarms(all);
    Fit {
        readings_file: String::new(),
        readings_sha256: String::new(),
        taken: all.unknowns.readings.len(),
        blank: all.readings.blank,
        guesses: moved.len() + unseen.len(),
        asks: accused.asks,
        held_back: false,
        alarms,
        unseen,
        pairs: pairs(all),
        moved,
        without_tests: tests(all),
        misfits,
        narrowed_by,
        wider_without,
        ratios_only: ratios_only(all),
        held_short: held::too_short(all.readings),
        runs: all.runs.clone(),
        chains: all.drawn.told(),
        least_by_chains_K: all.margins.by_chains,
        before: None,
        after: None,
        margins: Vec::new(),
        sizes: None,
        written: None,
    }
}

/// The fit without each reading by itself; none where the others tell nothing.
struct Alone(Vec<Option<Without>>);

impl Alone {
    fn of(all: &All) -> Alone {
        Alone((0..all.likeliest.terms.len()).map(|reading| without(all.likeliest, &[reading])).collect())
    }
}

/// What a reading would be expected to show by a fit without it, and its spread, its own error among it.
fn expected_by(all: &All, left: &Without, reading: usize) -> (f64, f64) {
    let count = all.likeliest.scores.len();
    let row = &all.likeliest.slopes[reading * count..][..count];
    let (mean, variance) = left.shows(row, all.likeliest.shown[reading]);
    (mean, (variance + all.problem.spreads[reading].powi(2)).sqrt())
}

fn own<'a>(all: &All<'a>) -> &'a Guesses {
    &all.guesses[all.guesses.len() - 1]
}

/// Every guess with the case in which it stands, those of the case first; what a test itself is unsure of last.
fn guesses<'a>(all: &All<'a>) -> Vec<(&'a Case, &'a Guesses, &'a Guess)> {
    let mut found: Vec<(&Case, &Guesses, &Guess)> =
        own(all).list.iter().map(|guess| (all.case, own(all), guess)).collect();
    for (index, unknown) in all.unknowns.list.iter().enumerate() {
        let Unknown::Guess { scene, guess } = unknown else { continue };
        if found.iter().any(|known| known.2.dimension == index) {
            continue;
        }
        let case = all.readings.scenes.get(*scene).map_or(all.case, |scene| &scene.case);
        found.push((case, &all.guesses[*scene], &all.guesses[*scene].list[*guess]));
    }
    found
}

/// The address of a guess, of a test's own by the test's name.
fn address(all: &All, case: &Case, guess: &Guess) -> String {
    let address = &case.numbers.fact(guess.numbers[0].0).address;
    let own = test_of(address)
        .and_then(|(test, key)| Some(format!("test/{}/{key}", all.readings.tests.get(test)?.name)));
    own.unwrap_or_else(|| address.clone())
}

/// Three digits say enough of a guess.
fn shown(kind: Kind, value: f64) -> String {
    kind.show_to(value, 3)
}

/// Middle and ends of what is left of a coordinate, by the chains.
fn left(all: &All, place: usize) -> [f64; 3] {
    let mut numbers: Vec<f64> = all.drawn.draws.iter().map(|z| z[place]).collect();
    numbers.sort_by(f64::total_cmp);
    [0.5, 0.05, 0.95].map(|share| numbers[((numbers.len() - 1) as f64 * share).round() as usize])
}

fn moved(all: &All, alone: &Alone) -> Vec<GuessMoved> {
    let mut found: Vec<GuessMoved> = Vec::new();
    for (case, guesses, guess) in guesses(all) {
        let place = guess.dimension;
        if !all.likeliest.sees(place) {
            continue;
        }
        let fact = case.numbers.fact(guess.numbers[0].0);
        let turned = guess.numbers[0].1;
        let sign = if turned { -1.0 } else { 1.0 };
        let at = |z: f64| shown(fact.kind, guesses.at(guess, normal::below(z)));
        let z = left(all, place);
        let ends = if turned { [z[2], z[1]] } else { [z[1], z[2]] };
        let before = [0.0, -sign * NINE_IN_TEN, sign * NINE_IN_TEN];
        found.push(GuessMoved {
            addresses: std::iter::once(address(all, case, guess))
                .chain(guess.numbers[1..].iter().map(|(id, _)| case.numbers.fact(*id).address.clone()))
                .collect(),
            before: [shown(fact.kind, fact.value), at(before[1]), at(before[2])],
            after: [at(z[0]), at(ends[0]), at(ends[1])],
            moved_half_bands: sign * z[0] / NINE_IN_TEN,
            left: (z[2] - z[1]) / (2.0 * NINE_IN_TEN),
            by: by(all, alone, place) + 1,
        });
    }
    let weight = |moved: &GuessMoved| moved.moved_half_bands.abs() + (1.0 - moved.left).max(0.0);
    found.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    found
}

/// The reading that did most to a coordinate: without which it would lie elsewhere, or less surely.
fn by(all: &All, alone: &Alone, place: usize) -> usize {
    let count = all.likeliest.scores.len();
    let variance = all.likeliest.covariance[place * count + place];
    let did = |left: &Option<Without>| {
        left.as_ref().map_or(0.0, |left| {
            let wider = left.covariance[place * count + place].sqrt() - variance.sqrt();
            left.moves[place].abs() + wider
        })
    };
    let each: Vec<f64> = alone.0.iter().map(did).collect();
    (0..each.len()).max_by(|a, b| each[*a].total_cmp(&each[*b])).unwrap_or(0)
}

fn unseen(all: &All) -> Vec<String> {
    let none = own(all).list.iter().filter(|guess| !all.likeliest.sees(guess.dimension));
    none.map(|guess| all.case.numbers.fact(guess.numbers[0].0).address.clone()).collect()
}

fn alarms(all: &All) -> Vec<Alarm> {
    let mut found = Vec::new();
    for (case, _, guess) in guesses(all) {
        let z = left(all, guess.dimension);
        let moved = z[0] / NINE_IN_TEN;
        if all.likeliest.sees(guess.dimension) && moved.abs() >= BEYOND {
            let sign = if guess.numbers[0].1 { -1.0 } else { 1.0 };
            found.push(Alarm { address: address(all, case, guess), moved_half_bands: sign * moved });
        }
    }
    found
}

fn misfits(all: &All, alone: &Alone, accused: &Accused) -> Vec<Misfit> {
    let each = all.unknowns.readings.iter().enumerate().map(|(index, seen)| {
        let shown = all.likeliest.shown[index];
        let left = alone.0[index].as_ref();
        let (mean, spread) = accused.by_others[index];
        let off = off(&seen.taken.shown, mean, spread);
        let scene = &all.readings.scenes[all.readings.tests[seen.test].scene].case;
        let reading = &seen.taken.reading;
        let read = match seen.taken.shown {
            Shown::Value { value, .. } => value,
            Shown::Between { low, high, .. } if low.is_finite() && high.is_finite() => 0.5 * (low + high),
            Shown::Between { low, high, .. } => {
                if low.is_finite() {
                    low
                } else {
                    high
                }
            }
        };
        let printed = |value: f64| reading.shown(value);
        let mut expected = all.expected[index].band;
        for end in [&mut expected.p05, &mut expected.p50, &mut expected.p95] {
            *end = printed(*end);
        }
        Misfit {
            number: index + 1,
            test: all.readings.tests[seen.test].name.clone(),
            what: seen.taken.name(scene),
            written: seen.taken.text.clone(),
            read: printed(read),
            unit: reading.unit(),
            expected,
            read_between: ends(&seen.taken.shown).map(|end| end.map(printed)),
            after: printed(shown),
            after_band: after_band(all, index, printed(shown)),
            from_others: off,
            verdict: match off.abs() {
                off if off < AS_EXPECTED => FitVerdict::AsExpected,
                off if off < WITHIN_REASON => FitVerdict::WithinReason,
                _ => FitVerdict::AtOdds,
            },
            least_without_K: left.map_or(0.0, |left| dot(&all.margins.slopes, &left.moves)),
        }
    });
    each.collect()
}

/// Both ends of where what was read may lie.
fn ends(shown: &Shown) -> [Option<f64>; 2] {
    match *shown {
        Shown::Value { value, within } => [Some(value - within), Some(value + within)],
        Shown::Between { low, high, .. } => [low, high].map(|end| end.is_finite().then_some(end)),
    }
}

/// Where a reading would be expected if it were taken once more: what is left of the guesses, and what it is off by itself.
fn after_band(all: &All, index: usize, middle: f64) -> Band {
    let count = all.likeliest.scores.len();
    let row = &all.likeliest.slopes[index * count..][..count];
    let variance = square(row, &all.likeliest.covariance) + all.problem.spreads[index].powi(2);
    let half = NINE_IN_TEN * variance.sqrt();
    Band { p05: middle - half, p50: middle, p95: middle + half }
}

fn tests(all: &All) -> Vec<WithoutTest> {
    let mut found = Vec::new();
    for (test, own) in all.readings.tests.iter().enumerate() {
        let list: Vec<usize> = (0..all.unknowns.readings.len())
            .filter(|index| all.unknowns.readings[*index].test == test)
            .collect();
        // the only test has no others to be held against
        if list.is_empty() || list.len() == all.unknowns.readings.len() {
            continue;
        }
        let Some(left) = without(all.likeliest, &list) else { continue };
        let each = list.iter().map(|index| {
            let (mean, spread) = expected_by(all, &left, *index);
            off(&all.unknowns.readings[*index].taken.shown, mean, spread)
        });
        found.push(WithoutTest {
            test: own.name.clone(),
            readings: list.len(),
            furthest: each.fold(0.0, |most: f64, off| if off.abs() > most.abs() { off } else { most }),
            least_without_K: dot(&all.margins.slopes, &left.moves),
        });
    }
    found
}

/// The reading that narrowed the least margin most, and how much wider it would be without.
fn narrowed(all: &All, alone: &Alone) -> Option<(usize, f64)> {
    let slopes = &all.margins.slopes;
    if slopes.is_empty() {
        return None;
    }
    let now = square(slopes, &all.likeliest.covariance).sqrt();
    let each = alone.0.iter().enumerate().filter_map(|(reading, left)| {
        Some((reading + 1, square(slopes, &left.as_ref()?.covariance).sqrt() / now - 1.0))
    });
    each.max_by(|a, b| a.1.total_cmp(&b.1))
}

fn pairs(all: &All) -> Vec<GuessPair> {
    let count = all.likeliest.scores.len();
    let seen: Vec<(&Case, &Guess)> = guesses(all)
        .into_iter()
        .filter(|(_, _, guess)| all.likeliest.sees(guess.dimension))
        .map(|(case, _, guess)| (case, guess))
        .collect();
    let covariance = |a: usize, b: usize| all.likeliest.covariance[a * count + b];
    let mut found = Vec::new();
    for (place, (case, one)) in seen.iter().enumerate() {
        for (other_case, other) in &seen[place + 1..] {
            let (a, b) = (one.dimension, other.dimension);
            let correlation = covariance(a, b) / (covariance(a, a) * covariance(b, b)).sqrt();
            if correlation.abs() < TOGETHER {
                continue;
            }
            let sign = |guess: &Guess| if guess.numbers[0].1 { -1.0 } else { 1.0 };
            // what is not known of the two is how they go together
            let mut direction = vec![0.0; count];
            direction[a] = 1.0 / covariance(a, a).sqrt();
            direction[b] = correlation.signum() / covariance(b, b).sqrt();
            let parted = offered::best(all.offered, &direction, &all.likeliest.covariance);
            found.push(GuessPair {
                one: address(all, case, one),
                other: address(all, other_case, other),
                correlation: correlation * sign(one) * sign(other),
                parted_by: parted.map(|(name, _)| name.to_string()),
                leaves: parted.map(|(_, leaves)| leaves),
            });
        }
    }
    found.sort_by(|a, b| b.correlation.abs().total_cmp(&a.correlation.abs()));
    found
}

/// Tests beside a blower of which nobody says what it gave.
fn ratios_only(all: &All) -> Vec<RatiosOnly> {
    let tests = all.readings.tests.iter().enumerate();
    let unknown =
        tests.filter(|(place, own)| !own.readings.is_empty() && unknown_blower(all.readings, *place));
    unknown.map(|(_, own)| RatiosOnly { test: own.name.clone(), pressures: own.readings.len() }).collect()
}

/// Slips by what was to be expected before anything was read, alone.
pub fn asks_before(unknowns: &Unknowns, expected: &[ExpectedReading]) -> impl Iterator<Item = Ask> {
    let each = unknowns.readings.iter().zip(expected).enumerate();
    each.filter_map(|(index, (seen, before))| {
        slips::ask(index + 1, &seen.taken, (before.mean, before.spread))
    })
}
