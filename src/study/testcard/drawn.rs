//! Many cars, each looked at in the conditions that count and in every run: margins, what instruments show, which way the
//! air goes through each opening.

use super::runs::{RunKind, RunPlan};
use crate::case::Case;
use crate::case::instruments::{Instrument, Instruments};
use crate::draws::lanes::{DrawsWithin, lanes};
use crate::draws::{Car, Guesses};
use crate::numerics::quantiles::Quantiles;
use crate::point::Model;
use crate::point::counted::Counted;
use crate::readings::errors::ToolErrors;
use crate::readings::operator::ReadingKind;
use crate::readings::taken::ModelError;
use crate::readings::{GaugeEnd, Quantity, Reading, expected, leaks, offered};
use crate::study::doubt::LeastOver;
use crate::study::doubt::sample::Sample;

/// Independent scrambles: the blocks by which what is explained is judged.
const SCRAMBLES: usize = 8;
/// Air through an opening (kg/s) below which a tuft hangs: some centimetres a second through a hand's breadth.
const STANDS: f64 = 1e-3;
/// What could be read.
#[derive(Clone, Copy, Debug)]
pub(super) enum ReadingAsked {
    /// One pressure as a share of another at one setting of a blower.
    Ratio(Reading, Reading),
    /// An instrument, in a run; of leaks on the bench, in none.
    Reading(Reading),
}

/// What could be read with what is in hand.
#[derive(Clone, Copy, Debug)]
pub(super) struct Candidate {
    pub asked: ReadingAsked,
    /// The run, where it is read in one.
    pub run: Option<usize>,
    pub instrument: Instrument,
    /// Its place among those in hand.
    pub tool: usize,
}

impl Candidate {
    /// What an instrument without fault shows in a car solved there (°C or Pa; of leaks a share).
    pub fn value(&self, car: &Car) -> f64 {
        match self.asked {
            ReadingAsked::Ratio(of, over) => of.value(car) / over.value(car),
            ReadingAsked::Reading(reading) => reading.shown(reading.value(car)),
        }
    }

    /// What it shows with what instrument and model are off by in a draw: readings of one instrument, and of one part or
    /// place, share some of that.
    fn with_errors(&self, car: &Car, guesses: &Guesses, seed: u64) -> f64 {
        let model = ModelError::default();
        let read = |reading: &Reading| {
            reading.shown(expected::with_errors(car, guesses, &self.as_asked(reading), &model, seed))
        };
        match self.asked {
            ReadingAsked::Ratio(of, over) => read(&of) / read(&over),
            ReadingAsked::Reading(reading) => read(&reading),
        }
    }

    /// A reading of it, as the file of readings has it.
    pub fn as_asked(&self, reading: &Reading) -> expected::ReadingWanted {
        expected::ReadingWanted {
            scene: 0,
            reading: *reading,
            test: reading.moment,
            tool: match reading.what {
                Quantity::Leaks { .. } => ToolErrors::default(),
                _ => ToolErrors::from(self.instrument),
            },
            instrument: Some(self.tool),
        }
    }
}

/// What one car says.
struct CardRow {
    margins: Vec<f64>,
    /// Whether all parts hold, by run.
    holds: Vec<bool>,
    /// What each candidate shows without any error, and with.
    clean: Vec<f64>,
    shown: Vec<f64>,
    /// Whether the air runs back, by run and passage; and whether it all but stands.
    back: Vec<bool>,
    stands: Vec<bool>,
}

/// The draws of a case.
pub(super) struct CardFleet {
    pub candidates: Vec<Candidate>,
    lanes: Vec<Vec<CardRow>>,
    conditions: usize,
    parts: usize,
    passages: usize,
    limited: Vec<bool>,
    /// Which runs are on the bench.
    bench: Vec<bool>,
}

impl CardFleet {
    pub fn new(
        case: &Case,
        model: &Model,
        guesses: &Guesses,
        runs: &[RunPlan],
        hand: &Instruments,
        hole_mm2: u32,
        wanted: DrawsWithin,
    ) -> Option<CardFleet> {
        let conditions = case.conditions.len();
        let mut moments: Vec<Counted> = (0..conditions).map(Counted::Condition).collect();
        moments.extend(runs.iter().map(|run| run.at));
        let candidates = candidates(case, model, hand, runs, hole_mm2);
        let car = Car::at(case, guesses, moments)?;
        let parts = case.parts.len();
        let fleet = CardFleet {
            candidates,
            lanes: Vec::new(),
            conditions,
            parts,
            passages: case.passages.len(),
            bench: runs.iter().map(|run| run.way == RunKind::Bench).collect(),
            limited: (0..parts).map(|part| model.network.parts[part].has_limit()).collect(),
        };
        // a draw without a steady state somewhere says nothing of what goes with what
        let lanes =
            lanes(
                &car,
                guesses,
                SCRAMBLES,
                wanted,
                |car, taken, seed| {
                    if taken { fleet.row(car, guesses, seed) } else { None }
                },
            );
        let enough = lanes.iter().all(|lane| lane.len() > 1);
        enough.then_some(CardFleet { lanes, ..fleet })
    }

    fn row(&self, car: &mut Car, guesses: &Guesses, seed: u64) -> Option<CardRow> {
        let moments = car.conditions();
        let mut row = CardRow {
            margins: Vec::with_capacity(self.conditions * self.parts),
            holds: Vec::new(),
            clean: vec![f64::NAN; self.candidates.len()],
            shown: vec![f64::NAN; self.candidates.len()],
            back: Vec::new(),
            stands: Vec::new(),
        };
        for moment in 0..moments {
            let bench = moment.checked_sub(self.conditions).is_some_and(|run| self.bench[run]);
            if !car.solve(moment) {
                if !bench {
                    return None;
                }
                // cold air that stands: nothing is read then
                row.holds.push(true);
                row.back.extend((0..self.passages).map(|_| false));
                row.stands.extend((0..self.passages).map(|_| true));
                continue;
            }
            let margins = (0..self.parts).map(|part| car.margin(part));
            let Some(run) = moment.checked_sub(self.conditions) else {
                row.margins.extend(margins);
                continue;
            };
            row.holds.push(margins.zip(&self.limited).all(|(margin, limited)| !limited || margin >= 0.0));
            row.back.extend((0..self.passages).map(|passage| car.runs_back(passage)));
            row.stands.extend((0..self.passages).map(|passage| car.flow_through(passage) < STANDS));
            for (place, candidate) in self.candidates.iter().enumerate() {
                // leaks are read where nothing moves: they hang on no run
                if candidate.run.unwrap_or(0) == run {
                    row.clean[place] = candidate.value(car);
                    row.shown[place] = candidate.with_errors(car, guesses, seed);
                }
            }
        }
        Some(row)
    }

    fn rows(&self) -> impl Iterator<Item = &CardRow> {
        self.lanes.iter().flatten()
    }

    /// How many there are.
    pub fn draws(&self) -> usize {
        self.rows().count()
    }

    /// Share of the draws in which something is so.
    fn share(&self, is: impl Fn(&CardRow) -> bool) -> f64 {
        self.rows().filter(|row| is(row)).count() as f64 / self.draws() as f64
    }

    /// How often all parts hold in a run.
    pub fn holds(&self, run: usize) -> f64 {
        self.share(|row| row.holds[run])
    }

    /// How often the air runs back through a passage in a run.
    pub fn back(&self, run: usize, passage: usize) -> f64 {
        self.share(|row| row.back[run * self.passages + passage])
    }

    /// How often it all but stands there.
    pub fn stands(&self, run: usize, passage: usize) -> f64 {
        self.share(|row| row.stands[run * self.passages + passage])
    }

    /// The margins that readings are to narrow.
    pub fn measure(&self, case: &Case) -> LeastOver {
        let places = (0..self.conditions * self.parts).filter(|place| self.limited[place % self.parts]);
        let likely = places.map(|place| {
            let holds = self.share(|row| row.margins[place] >= 0.0);
            ((place / self.parts, place % self.parts), holds)
        });
        LeastOver::by_likelihood(case, likely)
    }

    /// The least of these in each draw, with what every candidate shows: with its errors, then without.
    pub fn sample(&self, measure: &LeastOver) -> Sample {
        let least = |row: &CardRow| {
            let margins =
                measure.places.iter().map(|(condition, part)| row.margins[condition * self.parts + part]);
            margins.fold(f64::INFINITY, f64::min)
        };
        let count = self.candidates.len();
        let lanes = self.lanes.iter().map(|lane| {
            let column = |place: usize| lane.iter().map(|row| row.shown[place]).collect();
            let clean = |place: usize| lane.iter().map(|row| row.clean[place]).collect();
            let columns = (0..count).map(column).chain((0..count).map(clean)).collect();
            (lane.iter().map(least).collect(), columns)
        });
        Sample::new(2 * count, lanes)
    }

    /// Half the band of what a candidate shows in the draws, without any error of its own.
    pub fn half_of(&self, place: usize) -> f64 {
        let mut found = Quantiles::default();
        self.rows().for_each(|row| found.add(row.clean[place]));
        let [low, high] = found.quantiles([0.05, 0.95]);
        0.5 * (high - low)
    }
}

/// Whether a pressure is that of one space over another.
fn is_inner(reading: &Reading) -> bool {
    matches!(reading.what, Quantity::Difference { of: GaugeEnd::Chamber(_), over: GaugeEnd::Chamber(_) })
}

/// Everything that can be read with what is in hand: leaks, then run by run.
fn candidates(
    case: &Case,
    model: &Model,
    hand: &Instruments,
    runs: &[RunPlan],
    hole_mm2: u32,
) -> Vec<Candidate> {
    let conditions = case.conditions.len();
    let mut all = Vec::new();
    // as the file names them, one after the other
    let [pressure, part, air] = hand.each();
    if let Some((tool, instrument)) = pressure.filter(|_| leaks::has_any(case, model)) {
        let leaks = Reading { what: Quantity::Leaks { hole_mm2 }, moment: conditions };
        all.push(Candidate { asked: ReadingAsked::Reading(leaks), run: None, instrument, tool });
    }
    let blown = runs.iter().take_while(|run| run.way == RunKind::Bench).count();
    if let Some((tool, instrument)) = pressure.filter(|_| blown > 0) {
        let offered = offered::all(case, model, conditions, &[runs[0].at]);
        let pressures: Vec<Reading> =
            offered.into_iter().filter(|reading| reading.kind() == ReadingKind::Pressure).collect();
        let inner = pressures.iter().find(|reading| is_inner(reading));
        let outer = pressures.iter().find(|reading| !is_inner(reading));
        if let (Some(inner), Some(outer)) = (inner, outer) {
            all.push(Candidate {
                asked: ReadingAsked::Ratio(*inner, *outer),
                run: Some(0),
                instrument,
                tool,
            });
        }
    }
    let at: Vec<Counted> = runs[blown..].iter().map(|run| run.at).collect();
    let read = offered::all(case, model, conditions + blown, &at).into_iter().filter_map(|reading| {
        let (tool, instrument) = match reading.kind() {
            ReadingKind::Pressure => pressure,
            ReadingKind::Air => air,
            _ => part,
        }?;
        let run = Some(reading.moment - conditions);
        Some(Candidate { asked: ReadingAsked::Reading(reading), run, instrument, tool })
    });
    all.extend(read);
    all
}
