//! What doubt makes of an answer, in the shape in which `--json` gives it.

use super::guesses::{Guess, Guesses};
use super::tally::{Moments, Tally};
use crate::case::Case;
use crate::numerics::quantiles::Quantiles;
use crate::point::counted::Counted;
use crate::point::result::{Band, Condition};
use serde::Serialize;

/// Share of draws without a steady state above which no band is shown.
const TOO_MANY_UNSOLVED: f64 = 1.0 / 200.0;
/// Share of draws above which it is said that heat and brake power came to more than the fuel.
pub const WORTH_SAYING: f64 = 0.01;
/// Shares of draws between which it is said that a passage runs back: beneath it does not, above it does.
const NOW_AND_THEN: (f64, f64) = (0.05, 0.95);

/// How far the value taken lies from the middle of a one-sided band, in shares of the draws: one side is three times
/// as wide as the other.
const ONE_SIDED: f64 = 0.25;
/// A pull of less (K) is none.
const PULLS: f64 = 0.5;

#[derive(Clone, Debug, Serialize)]
pub struct GuessInput {
    /// The addresses that are drawn together.
    pub addresses: Vec<String>,
    /// The value taken of the first.
    pub value: String,
    /// Low end of its band.
    pub low: String,
    /// High end.
    pub high: String,
    /// Whether the file states the band; else it is that of a default.
    pub stated: bool,
}

/// How often a part has the least margin of all.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PartDecides {
    /// The condition; "sweep" for a road speed.
    pub condition: String,
    /// Road speed at which that is so most often, of a sweep.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_m_s: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gear: Option<usize>,
    pub part: String,
    /// Share of the draws.
    pub share: f64,
}

/// A passage through which the air runs back in some draws and not in others.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct RunsBack {
    /// The condition; "sweep" for a road speed.
    pub condition: String,
    /// Road speed at which it is least sure, of a sweep.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_m_s: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gear: Option<usize>,
    pub passage: String,
    /// Share of the draws.
    pub likelihood: f64,
}

/// A guess that lies to one side of the value taken, and how far that alone moves the middle of the least margin.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Pull {
    /// The first of its addresses.
    pub address: String,
    /// By how much, about.
    pub moves_K: f64,
}

/// How much of the answer rests on guesses.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Doubt {
    /// Share of the draws in which every part keeps its limit in every condition, and its lower limit where the
    /// condition is warm.
    pub all_hold: f64,
    /// The same with moments that do not count for it: in sizing, conditions that `[size]` leaves out.
    pub all_conditions_hold: f64,
    /// Where the least margin lies; none where too many draws have no steady state.
    pub least_K: Option<Band>,
    pub draws: usize,
    /// Standard error of `all_hold`.
    pub standard_error: f64,
    /// What has the least margin, the most frequent first.
    pub decides: Vec<PartDecides>,
    /// One-sided guesses that pull the middle away from the value taken, the strongest first.
    pub pulls: Vec<Pull>,
    /// Where the air runs back in some draws only.
    pub runs_back: Vec<RunsBack>,
    /// Share of the draws without a steady state; they count as not holding.
    pub unsolved: f64,
    /// Share of the draws in which the shares of heat had to shrink, since with brake power they came to more than
    /// the fuel's heat.
    pub heat_shrunk: f64,
    /// The guesses.
    pub inputs: Vec<GuessInput>,
}

/// The band of what was counted.
pub fn band(found: &Quantiles) -> Band {
    let [p05, p50, p95] = found.quantiles([0.05, 0.5, 0.95]);
    Band { p05, p50, p95 }
}

/// A guess as it is listed.
pub fn input(case: &Case, guess: &Guess) -> GuessInput {
    let facts = || guess.numbers.iter().map(|(id, _)| case.numbers.fact(*id));
    let first = case.numbers.fact(guess.numbers[0].0);
    let (low, high) = first.band().unwrap_or((first.value, first.value));
    GuessInput {
        addresses: facts().map(|fact| fact.address.clone()).collect(),
        value: first.kind.show(first.value),
        low: first.kind.show(low),
        high: first.kind.show(high),
        stated: guess.stated,
    }
}

impl Doubt {
    /// What a tally of the conditions of a case says.
    pub fn new(case: &Case, guesses: &Guesses, tally: &Tally) -> Doubt {
        Doubt::at(&Moments::all(case), case, guesses, tally)
    }

    /// The same at moments of one's own.
    pub(crate) fn at(moments: &Moments, case: &Case, guesses: &Guesses, tally: &Tally) -> Doubt {
        let draws = tally.draws as f64;
        let unsolved = tally.unsolved as f64 / draws;
        Doubt {
            all_hold: tally.holds.0,
            all_conditions_hold: tally.holds_everywhere,
            least_K: (unsolved <= TOO_MANY_UNSOLVED && tally.least.count() > 0).then(|| band(&tally.least)),
            draws: tally.draws,
            standard_error: tally.holds.1,
            decides: decides(moments, case, tally),
            pulls: pulls(case, guesses, tally),
            runs_back: runs_back(moments, case, tally),
            unsolved,
            heat_shrunk: tally.shrunk as f64 / draws,
            inputs: guesses.list.iter().map(|guess| input(case, guess)).collect(),
        }
    }

    /// Writes the band and likelihood of each part beside its margin, all conditions of the case standing first among
    /// the moments.
    pub fn write_beside(&self, case: &Case, conditions: &mut [Condition], tally: &Tally) {
        // a condition without an answer has its place in the draws all the same
        for condition in conditions {
            let Some(index) = case.condition(&condition.name) else { continue };
            let first = index * condition.parts.len();
            let margins = tally.margins.iter().zip(&tally.part_holds).skip(first);
            for (part, (found, holds)) in condition.parts.iter_mut().zip(margins) {
                if !part.has_limit() {
                    continue;
                }
                part.margin_band_K = self.least_K.map(|_| band(found));
                part.likelihood = Some(*holds as f64 / tally.draws.max(1) as f64);
            }
        }
    }
}

/// Where a moment is told of: its condition, or "sweep" with speed and gear.
fn told(case: &Case, moment: &Counted) -> (String, Option<f64>, Option<usize>) {
    let driven = moment.driven();
    (moment.name(case).to_string(), driven.map(|(speed, _)| speed), driven.map(|(_, gear)| gear))
}

/// What has the least margin, the most frequent first. Road speeds count together: the speed told is the most
/// frequent.
fn decides(moments: &Moments, case: &Case, tally: &Tally) -> Vec<PartDecides> {
    let parts = case.parts.len().max(1);
    let mut all: Vec<(PartDecides, usize)> = Vec::new();
    for (place, count) in tally.part_least.iter().enumerate().filter(|(_, count)| **count > 0) {
        let (condition, speed_m_s, gear) = told(case, &moments.list[place / parts]);
        let part = &case.parts[place % parts].name;
        let share = *count as f64 / tally.draws as f64;
        match all.iter_mut().find(|(known, _)| known.condition == condition && known.part == *part) {
            Some((known, most)) => {
                known.share += share;
                if count > most {
                    (known.speed_m_s, known.gear, *most) = (speed_m_s, gear, *count);
                }
            }
            None => all.push((PartDecides { condition, speed_m_s, gear, part: part.clone(), share }, *count)),
        }
    }
    let mut all: Vec<PartDecides> = all.into_iter().map(|(decides, _)| decides).collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all
}

/// How far each one-sided guess moves the middle: the slope of the least margin M with its coordinate u, all others
/// drawn, times the way from the value taken to the middle of its band.
///
/// ```text
///   (½ − u₀) cov(u, M)/var(u),   var(u) = 1/12
/// ```
fn pulls(case: &Case, guesses: &Guesses, tally: &Tally) -> Vec<Pull> {
    let solved = tally.least.count() as f64;
    let mean = tally.least_sum / solved;
    let one = |guess: &Guess| {
        let from_middle = 0.5 - guesses.taken(guess);
        let (sum, product) = tally.leans[guess.dimension];
        let slope = 12.0 * (product - sum * mean) / solved;
        let first = case.numbers.fact(guess.numbers[0].0);
        let pull = Pull { address: first.address.clone(), moves_K: from_middle * slope };
        (!guesses.is_fitted(guess) && from_middle.abs() > ONE_SIDED && pull.moves_K.abs() >= PULLS)
            .then_some(pull)
    };
    let mut all: Vec<Pull> = guesses.list.iter().filter_map(one).collect();
    all.sort_by(|a, b| b.moves_K.abs().total_cmp(&a.moves_K.abs()));
    all
}

/// Where the air runs back in some draws and not in others; of road speeds the one where it is least sure.
fn runs_back(moments: &Moments, case: &Case, tally: &Tally) -> Vec<RunsBack> {
    let passages = case.passages.len().max(1);
    let mut all: Vec<RunsBack> = Vec::new();
    for (place, count) in tally.runs_back.iter().enumerate() {
        let likelihood = *count as f64 / tally.draws as f64;
        if !(NOW_AND_THEN.0..=NOW_AND_THEN.1).contains(&likelihood) {
            continue;
        }
        let (condition, speed_m_s, gear) = told(case, &moments.list[place / passages]);
        let passage = case.passages[place % passages].name.clone();
        let back = RunsBack { condition, speed_m_s, gear, passage, likelihood };
        let known = all.iter_mut().find(|known| {
            known.condition == back.condition && known.passage == back.passage && known.speed_m_s.is_some()
        });
        match known {
            Some(known) if (likelihood - 0.5).abs() < (known.likelihood - 0.5).abs() => *known = back,
            Some(_) => {}
            None => all.push(back),
        }
    }
    all
}
