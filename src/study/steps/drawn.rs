//! Many cars at one set of sizes: where it may be driven, what instruments show, which reading says stop.

use super::super::doubt::readings::{self, Reading};
use super::super::size::Sized;
use super::DRIVEN;
use super::result::{Expected, Likely, Stop};
use super::way::Station;
use crate::case::Case;
use crate::draws::doubt::band;
use crate::draws::tally::{SCRAMBLES, seed_of};
use crate::draws::{Car, Guesses};
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol::Sobol;
use crate::point::Model;
use crate::point::counted::Counted;
use crate::point::result::Band;
use rayon::prelude::*;

/// Seed of the points: that of `check`.
const SEED: u64 = 1;
/// So often another point is taken for a draw that is no car.
const AGAIN: u64 = 8;
/// Draws looked at for a second steady state.
const PILOT: usize = 8;
/// A reading that lets fewer of the draws stop says nothing.
const FEWEST: f64 = 0.05;

/// Cars at one line.
pub(super) struct Fleet<'s> {
    case: &'s Case,
    guesses: Guesses,
    moments: Vec<Counted>,
    /// Moments that count for the sizes.
    counts: Vec<bool>,
    readings: Vec<Reading>,
    draws: usize,
}

/// What one car says.
struct Row {
    /// Whether all parts hold, by moment.
    holds: Vec<bool>,
    /// What instruments show (°C or Pa).
    shows: Vec<f64>,
}

/// What all of them say.
pub(super) struct Found {
    pub all_hold: f64,
    pub driven: Vec<Likely>,
    pub kept: Vec<Likely>,
    pub readings: Vec<Expected>,
    pub stop: Option<Stop>,
}

impl<'s> Fleet<'s> {
    pub fn new(station: &'s Station, sized: &Sized, draws: usize) -> Option<Fleet<'s>> {
        let case = &station.case;
        let model = Model::new(case).ok()?;
        let mut guesses = Guesses::of(case);
        let decided = sized.openings.iter().flat_map(|(opening, _)| opening.decided());
        guesses.leave(&decided.collect::<Vec<_>>());
        if guesses.is_empty() {
            return None;
        }
        let mut moments: Vec<Counted> = (0..case.conditions.len()).map(Counted::Condition).collect();
        let counted: Vec<usize> = sized.counting().iter().filter_map(Counted::condition).collect();
        let mut counts: Vec<bool> = (0..moments.len()).map(|index| counted.contains(&index)).collect();
        for moment in readings::moments(case, &model) {
            if !moments.contains(&moment) {
                moments.push(moment);
                counts.push(false);
            }
        }
        let readings = readings::all(case, &model, 0..moments.len());
        Some(Fleet { case, guesses, moments, counts, readings, draws })
    }

    /// All draws, lane by lane in their order.
    fn rows(&self, parts: usize) -> Option<Vec<Row>> {
        let car = Car::at(self.case, &self.guesses, self.moments.clone())?;
        let each = (self.draws / SCRAMBLES).max(1);
        let lanes: Vec<Vec<Row>> = (0..SCRAMBLES)
            .into_par_iter()
            .map(|scramble| self.lane(car.clone(), scramble, each, parts))
            .collect();
        Some(lanes.into_iter().flatten().collect())
    }

    fn lane(&self, mut car: Car, scramble: usize, draws: usize, parts: usize) -> Vec<Row> {
        let dimensions = self.guesses.dimensions;
        let mut sobols: Vec<Sobol> =
            (0..=AGAIN).map(|again| Sobol::new(dimensions, seed_of(SEED, scramble, again))).collect();
        let mut point = vec![0.0; dimensions];
        let mut twofold = vec![false; self.moments.len()];
        let mut rows = Vec::with_capacity(draws);
        for draw in 0..draws {
            let taken = sobols.iter_mut().any(|sobol| {
                sobol.point(draw as u32, &mut point);
                car.take(&point).is_ok()
            });
            let mut row =
                Row { holds: vec![false; self.moments.len()], shows: vec![f64::NAN; self.readings.len()] };
            for moment in 0..self.moments.len() {
                if !taken || !car.solve(moment) {
                    continue;
                }
                let own =
                    self.readings.iter().zip(&mut row.shows).filter(|(reading, _)| reading.moment == moment);
                own.for_each(|(reading, shows)| *shows = reading.shown(reading.value(&car)));
                let cold = car.is_warm(moment) && (0..parts).any(|part| car.is_cold(part));
                let mut margins: Vec<f64> = (0..parts).map(|part| car.margin(part)).collect();
                if draw < PILOT {
                    twofold[moment] |= car.has_other_state();
                }
                if twofold[moment] {
                    car.hotter(&mut margins);
                }
                row.holds[moment] = !cold && margins.iter().all(|margin| *margin >= 0.0);
            }
            rows.push(row);
        }
        rows
    }

    fn name(&self, moment: usize) -> String {
        match self.moments[moment].driven() {
            Some((speed, gear)) => format!("{:.0} km/h steady, gear {gear}", 3.6 * speed),
            None => self.moments[moment].name(self.case).to_string(),
        }
    }

    pub fn look(&mut self, parts: usize) -> Found {
        let rows = self.rows(parts).unwrap_or_default();
        let count = rows.len().max(1) as f64;
        let likelihood = |moment: usize| rows.iter().filter(|row| row.holds[moment]).count() as f64 / count;
        let keeps = |row: &Row| row.holds.iter().zip(&self.counts).all(|(holds, counts)| *holds || !counts);
        let all_hold = rows.iter().filter(|row| keeps(row)).count() as f64 / count;
        let is_driven: Vec<bool> =
            (0..self.moments.len()).map(|moment| likelihood(moment) >= DRIVEN).collect();
        let likely = |wanted: bool| -> Vec<Likely> {
            let moments = (0..self.moments.len()).filter(|moment| is_driven[*moment] == wanted);
            moments
                .map(|moment| Likely { moment: self.name(moment), likelihood: likelihood(moment) })
                .collect()
        };
        let stop = self.stop(&rows, &is_driven, &keeps).filter(|_| all_hold < DRIVEN);
        // where no reading says stop, the fastest that may be driven says most of what the guesses are
        let best = stop.as_ref().map(|(reading, _)| self.readings[*reading].moment);
        let best = best.or_else(|| (0..self.moments.len()).rev().find(|moment| is_driven[*moment]));
        Found {
            all_hold,
            driven: likely(true),
            kept: likely(false),
            readings: best.map_or(Vec::new(), |moment| self.expected(&rows, moment)),
            stop: stop.map(|(_, stop)| stop),
        }
    }

    fn expected(&self, rows: &[Row], moment: usize) -> Vec<Expected> {
        let own = self.readings.iter().enumerate().filter(|(_, reading)| reading.moment == moment);
        let told = own.filter(|(_, reading)| reading.kind() != "air");
        told.filter_map(|(index, reading)| {
            let shows = band_of(rows, index)?;
            let on_the_road = self.moments[moment].driven().is_some();
            Some(Expected {
                reading: reading.name(self.case),
                moment: self.name(moment),
                kind: reading.kind(),
                shows,
                how: reading.how(on_the_road).1,
            })
        })
        .collect()
    }

    /// The reading, of those in moments that may be driven, by which most of the draws may stop, all parts holding in 19 of
    /// 20 of these.
    fn stop(&self, rows: &[Row], is_driven: &[bool], keeps: &dyn Fn(&Row) -> bool) -> Option<(usize, Stop)> {
        let mut best: Option<(usize, Stop)> = None;
        for (index, reading) in self.readings.iter().enumerate() {
            if !is_driven[reading.moment] || reading.kind() == "air" {
                continue;
            }
            let mut sorted: Vec<(f64, bool)> = rows
                .iter()
                .map(|row| (row.shows[index], keeps(row)))
                .filter(|(shows, _)| shows.is_finite())
                .collect();
            sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
            for below in [true, false] {
                if !below {
                    sorted.reverse();
                }
                let Some((at, taken, held)) = furthest(&sorted, below, reading.kind()) else { continue };
                let share = taken as f64 / rows.len() as f64;
                if share >= FEWEST && best.as_ref().is_none_or(|(_, best)| share > best.share) {
                    let stop = Stop {
                        reading: reading.name(self.case),
                        moment: self.name(reading.moment),
                        kind: reading.kind(),
                        below,
                        at,
                        share,
                        holds: held as f64 / taken as f64,
                    };
                    best = Some((index, stop));
                }
            }
        }
        best
    }
}

/// The furthest step of an instrument up to which 19 in 20 hold; how many that are, and how many of them hold.
fn furthest(sorted: &[(f64, bool)], below: bool, kind: &str) -> Option<(f64, usize, usize)> {
    // as a gauge, or a U-tube with water, is read
    let step = if kind == "pressure" { 10.0 } else { 1.0 };
    let rounded = |value: f64| step * if below { (value / step).floor() } else { (value / step).ceil() };
    let mut found = None;
    let mut held = 0;
    for (index, (value, holds)) in sorted.iter().enumerate() {
        held += usize::from(*holds);
        let taken = index + 1;
        let next = sorted.get(taken).map(|next| rounded(next.0));
        // the step lies between this draw and the next
        let at = match next {
            Some(next) if (below && next >= *value) || (!below && next <= *value) => next,
            Some(_) => continue,
            None => step * if below { (value / step).ceil() } else { (value / step).floor() },
        };
        if held as f64 >= DRIVEN * taken as f64 {
            found = Some((at, taken, held));
        }
    }
    found
}

fn band_of(rows: &[Row], index: usize) -> Option<Band> {
    let mut found = Quantiles::default();
    rows.iter()
        .map(|row| row.shows[index])
        .filter(|shows| shows.is_finite())
        .for_each(|shows| found.add(shows));
    (found.count() > 0).then(|| band(&found))
}
