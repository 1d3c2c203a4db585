//! Many cars at one set of sizes: where it may be driven, what instruments show, which reading says stop.

use super::super::lap::settle::settles;
use super::super::size::Sized;
use super::super::testcard::stops;
use super::DRIVEN;
use super::result::{ExpectedShown, Likely, StopAt, StopReadings};
use super::rule::{self, CarRow, Thermometer};
use super::way::Station;
use crate::case::Case;
use crate::draws::doubt::band;
use crate::draws::lanes::{DrawsWithin, lanes};
use crate::draws::scramble::{SEED, Scramble};
use crate::draws::tally::{SCRAMBLES, all_ways, ways_of_first};
use crate::draws::{Car, Guesses};
use crate::numerics::quantiles::Quantiles;
use crate::point::Model;
use crate::point::counted::{Counted, DrivingPoint};
use crate::point::operation::engine_runs;
use crate::point::result::Band;
use crate::point::speeds::Geared;
use crate::point::ways::Ways;
use crate::readings::drives::UnsureCase;
use crate::readings::expected::{ReadingWanted, with_errors};
use crate::readings::operator::ReadingKind;
use crate::readings::taken::ModelError;
use crate::readings::{Quantity, Reading, offered};
use crate::study::doubt::shares::asked;
use rayon::prelude::*;

/// Draws looked at for a second steady state.
const PILOT: usize = 8;
/// Share of the load at which a steady drive is offered where no other may be made.
const EASY: f64 = 0.5;

/// Cars at one line.
pub(super) struct StepFleet {
    /// With what the drives themselves are not sure of among its numbers.
    case: Case,
    model: Model,
    guesses: Guesses,
    moments: Vec<LookMoment>,
    readings: Vec<Reading>,
    asked: Vec<ReadingWanted>,
    wanted: DrawsWithin,
}

/// When the cars are looked at.
struct LookMoment {
    at: Counted,
    /// Whether it counts for the sizes.
    counts: bool,
    /// Whether it is a gentler drive.
    easy: bool,
    name: String,
}

/// What all of them say.
pub(super) struct DrawnVerdict {
    /// Of so many draws.
    pub draws: usize,
    pub all_hold: f64,
    pub driven: Vec<Likely>,
    pub kept: Vec<Likely>,
    pub readings: Vec<ExpectedShown>,
    pub settles_s: Option<f64>,
    pub stop: Option<StopReadings>,
}

impl StepFleet {
    pub fn new(station: &Station, sized: &Sized, wanted: DrawsWithin) -> Option<StepFleet> {
        let case = &station.case;
        let model = Model::new(case).ok()?;
        let decided = sized.openings.iter().flat_map(|(opening, _)| opening.decided());
        let decided: Vec<_> = decided.collect();
        let mut guesses = Guesses::of(case);
        guesses.leave(&decided);
        if guesses.is_empty() {
            return None;
        }
        let counted: Vec<usize> = sized.counting().iter().filter_map(Counted::condition).collect();
        let conditions = 0..case.conditions.len();
        let mut moments: Vec<LookMoment> = conditions
            .map(|index| LookMoment {
                at: Counted::Condition(index),
                counts: counted.contains(&index),
                easy: false,
                name: case.conditions[index].name.clone(),
            })
            .collect();
        let others = offered::moments(case, &model).into_iter().filter_map(|moment| match moment {
            Counted::Driven(driven) => Some(driven),
            _ => None,
        });
        for driven in others {
            for easy in [false, true] {
                let load = driven.point.load * if easy { EASY } else { 1.0 };
                let driven = DrivingPoint { point: Geared { load, ..driven.point }, ..driven };
                moments.push(LookMoment {
                    at: Counted::Driven(driven),
                    counts: false,
                    easy,
                    name: steady_drive(&driven),
                });
            }
        }
        let at: Vec<Counted> = moments.iter().map(|moment| moment.at).collect();
        let readings = offered::all(case, &model, 0, &at);
        let asked = readings.iter().map(|reading| asked(case, reading)).collect();
        let unsure = UnsureCase::of(case, &at);
        moments.iter_mut().zip(unsure.moments).for_each(|(moment, at)| moment.at = at);
        let mut guesses = Guesses::of(&unsure.case);
        guesses.leave(&decided);
        Some(StepFleet { case: unsure.case, model, guesses, moments, readings, asked, wanted })
    }

    /// All draws, lane by lane in their order.
    fn rows(&self) -> Option<Vec<CarRow>> {
        let moments: Vec<Counted> = self.moments.iter().map(|moment| moment.at).collect();
        let car = Car::at(&self.case, &self.guesses, moments)?;
        let ways = self.ways(&car);
        let say = |car: &mut Car, taken: bool, seed: u64| Some(self.row(car, &ways, taken, seed));
        Some(lanes(&car, &self.guesses, SCRAMBLES, self.wanted, say).into_iter().flatten().collect())
    }

    /// The ways in which the air of each moment settles, in the first draw of a few scrambles.
    fn ways(&self, car: &Car) -> Vec<Ways> {
        let of_scramble = |scramble: usize| -> Vec<Ways> {
            let points = Scramble::new(self.guesses.dimensions, SEED, scramble);
            ways_of_first(&mut car.clone(), &points, &mut vec![0.0; self.guesses.dimensions])
        };
        let found: Vec<Vec<Ways>> = (0..PILOT).into_par_iter().map(of_scramble).collect();
        all_ways(&found, self.moments.len())
    }

    fn row(&self, car: &mut Car, ways: &[Ways], taken: bool, seed: u64) -> CarRow {
        let model_error = ModelError::default();
        let parts = car.parts();
        let mut row = CarRow {
            holds: vec![false; self.moments.len()],
            least: vec![if taken { f64::INFINITY } else { f64::NAN }; parts],
            shows: vec![f64::NAN; self.readings.len()],
        };
        for (moment, ways) in ways.iter().enumerate() {
            let counts = self.moments[moment].counts;
            if !taken || !car.solve(moment) {
                if counts {
                    row.least.fill(f64::NAN);
                }
                continue;
            }
            let own = self.readings.iter().enumerate().zip(&mut row.shows);
            for ((place, reading), shows) in own.filter(|((_, reading), _)| reading.moment == moment) {
                let value = with_errors(car, &self.guesses, &self.asked[place], &model_error, seed);
                *shows = reading.shown(value);
            }
            let cold = car.is_warm(moment) && (0..parts).any(|part| car.is_cold(part));
            let mut margins: Vec<f64> = (0..parts).map(|part| car.margin(part)).collect();
            if !ways.is_one() {
                car.hotter(*ways, &mut margins);
            }
            row.holds[moment] = !cold && margins.iter().all(|margin| *margin >= 0.0);
            if counts {
                row.least.iter_mut().zip(&margins).for_each(|(least, margin)| {
                    *least = if least.is_nan() { f64::NAN } else { least.min(*margin) };
                });
            }
        }
        row
    }

    pub fn look(&self) -> DrawnVerdict {
        let rows = self.rows().unwrap_or_default();
        let count = rows.len().max(1) as f64;
        let likelihood = |moment: usize| rows.iter().filter(|row| row.holds[moment]).count() as f64 / count;
        let keeps = |row: &CarRow| {
            row.holds.iter().zip(&self.moments).all(|(holds, moment)| *holds || !moment.counts)
        };
        let all_hold = rows.iter().filter(|row| keeps(row)).count() as f64 / count;
        let holds: Vec<bool> = (0..self.moments.len()).map(|moment| likelihood(moment) >= DRIVEN).collect();
        let moments = || self.moments.iter().zip(&holds);
        // a gentler drive is asked for only where none of the others may be made
        let gently =
            !moments().any(|(moment, holds)| moment.at.condition().is_none() && !moment.easy && *holds);
        let is_driven: Vec<bool> =
            moments().map(|(moment, holds)| *holds && (gently || !moment.easy)).collect();
        let likely = |wanted: bool| -> Vec<Likely> {
            // where the engine stands nothing is driven
            let runs = |moment: &LookMoment| {
                moment
                    .at
                    .condition()
                    .is_none_or(|index| engine_runs(&self.case, &self.case.conditions[index]))
            };
            let asked = |moment: &usize| {
                let looked = &self.moments[*moment];
                is_driven[*moment] == wanted && (wanted || !looked.easy) && runs(looked)
            };
            let moments = (0..self.moments.len()).filter(asked);
            moments
                .map(|moment| Likely {
                    moment: self.moments[moment].name.clone(),
                    likelihood: likelihood(moment),
                })
                .collect()
        };
        let stop = rule::stop(&rows, &self.thermometers(), &is_driven, &keeps).filter(|_| all_hold < DRIVEN);
        // where no reading says stop, the fastest that may be driven says most of what the guesses are
        let best = stop.as_ref().map(|rule| rule.moment);
        let best = best.or_else(|| (0..self.moments.len()).rev().find(|moment| is_driven[*moment]));
        DrawnVerdict {
            draws: rows.len(),
            all_hold,
            driven: likely(true),
            kept: likely(false),
            readings: best.map_or(Vec::new(), |moment| self.expected(&rows, moment)),
            settles_s: best.and_then(|moment| self.settles(moment)),
            stop: stop.map(|rule| self.told(&rule)),
        }
    }

    /// Readings of parts that have a limit, part by part and moment by moment.
    fn thermometers(&self) -> Vec<Thermometer> {
        let own = self.readings.iter().enumerate().filter_map(|(row, reading)| match reading.what {
            Quantity::Part(part) => {
                let most = stops::of_part(&self.case, &self.model, part)?;
                Some(Thermometer { row, part, moment: reading.moment, most })
            }
            _ => None,
        });
        own.collect()
    }

    fn told(&self, rule: &rule::StopRule) -> StopReadings {
        let limits = rule
            .limits
            .iter()
            .map(|(part, most)| StopAt { part: self.case.parts[*part].name.clone(), most_C: *most });
        StopReadings {
            moment: self.moments[rule.moment].name.clone(),
            limits: limits.collect(),
            share: rule.share,
            holds: rule.holds,
        }
    }

    /// How long temperatures take to stand (s).
    fn settles(&self, moment: usize) -> Option<f64> {
        settles(&self.model, &self.moments[moment].at.operation(&self.case, &self.model))
    }

    fn expected(&self, rows: &[CarRow], moment: usize) -> Vec<ExpectedShown> {
        let own = self.readings.iter().enumerate().filter(|(_, reading)| reading.moment == moment);
        let limited = |reading: &Reading| match reading.what {
            Quantity::Part(part) => self.model.network.parts[part].has_limit(),
            _ => true,
        };
        let told = own.filter(|(_, reading)| reading.kind() != ReadingKind::Air && limited(reading));
        told.filter_map(|(index, reading)| {
            let shows = band_of(rows, index)?;
            let on_the_road = self.moments[moment].at.driven().is_some();
            Some(ExpectedShown {
                reading: reading.name(&self.case),
                moment: self.moments[moment].name.clone(),
                kind: reading.kind(),
                shows,
                how: reading.how(on_the_road).1,
            })
        })
        .collect()
    }
}

/// "60 km/h steady in gear 2, load 34 %".
fn steady_drive(driven: &DrivingPoint) -> String {
    format!(
        "{:.0} km/h steady in gear {}, load {:.0} %",
        3.6 * driven.point.speed,
        driven.point.gear,
        100.0 * driven.point.load
    )
}

fn band_of(rows: &[CarRow], index: usize) -> Option<Band> {
    let mut found = Quantiles::default();
    rows.iter()
        .map(|row| row.shows[index])
        .filter(|shows| shows.is_finite())
        .for_each(|shows| found.add(shows));
    (found.count() > 0).then(|| band(&found))
}
