//! What a fit says, in the shape in which `--json` gives it.

use crate::case::fitted::FittedReading;
use crate::draws::doubt::Doubt;
use crate::keys::word::words;
use crate::point::result::Band;
use serde::Serialize;

words! {
    /// What is to be made of how far a reading lies from what others lead to expect.
    pub enum FitVerdict {
        AsExpected = "as expected",
        WithinReason = "within reason",
        AtOdds = "at odds",
    }
}

/// A guess that readings saw.
#[derive(Clone, Debug, Serialize)]
pub struct GuessMoved {
    /// Its addresses, the first one for the numbers below.
    pub addresses: Vec<String>,
    /// Value and ends of its band before, with their unit.
    pub before: [String; 3],
    /// Middle and ends of its band after.
    pub after: [String; 3],
    /// By how many half bands its middle moved; above nought is up.
    pub moved_half_bands: f64,
    /// What is left of the width of its band, as a share.
    pub left: f64,
    /// The reading that did most to it, by its number.
    pub by: usize,
}

/// A reading, and what was to be expected.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Misfit {
    /// Its number in the file, from 1.
    pub number: usize,
    /// The test.
    pub test: String,
    /// What was read.
    pub what: String,
    /// As it was written.
    pub written: String,
    /// The same as a number (°C or Pa); of a strip the middle between its fields, or the one that is known.
    pub read: f64,
    /// °C or Pa.
    pub unit: &'static str,
    /// Where it was to be expected before anything was read.
    pub expected: Band,
    /// Between which ends what was read may lie; null is open.
    pub read_between: [Option<f64>; 2],
    /// What the car would show as it is fitted.
    pub after: f64,
    /// Where it would be expected if it were read once more.
    pub after_band: Band,
    /// How far it lies from what all other readings lead to expect, in spreads of that.
    pub from_others: f64,
    /// What is to be made of that.
    pub verdict: FitVerdict,
    /// What the least margin would be by without this reading (K more).
    pub least_without_K: f64,
}

impl Misfit {
    /// The reading as the fitted case keeps it.
    pub fn kept(&self) -> FittedReading {
        let three = |band: &Band| [band.p05, band.p50, band.p95];
        let [low, high] = self.read_between.map(|end| end.unwrap_or(self.read));
        FittedReading {
            what: self.what.clone(),
            test: self.test.clone(),
            unit: self.unit,
            read: [self.read, low, high],
            before: three(&self.expected),
            after: three(&self.after_band),
            said: self.verdict.to_string(),
        }
    }
}

/// A test left out.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct WithoutTest {
    /// The test.
    pub test: String,
    /// How many readings it has.
    pub readings: usize,
    /// The reading of it that lies furthest from what the other tests lead to expect, in spreads of that.
    pub furthest: f64,
    /// What the least margin would be by without this test (K more).
    pub least_without_K: f64,
}

/// Two guesses that only move together.
#[derive(Clone, Debug, Serialize)]
pub struct GuessPair {
    /// The one.
    pub one: String,
    /// The other.
    pub other: String,
    /// Correlation of what is left of them.
    pub correlation: f64,
    /// The reading that would part them best, in words.
    pub parted_by: Option<String>,
    /// What it would leave of the width of their difference, as a share.
    pub leaves: Option<f64>,
}

/// Something in a reading that looks like a slip.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ask {
    /// The reading, by its number.
    pub number: usize,
    /// The question.
    pub question: String,
}

/// A guess that had to go further than its band.
#[derive(Clone, Debug, Serialize)]
pub struct Alarm {
    /// Its address.
    pub address: String,
    /// Where its middle is now, in half bands from the middle before.
    pub moved_half_bands: f64,
}

/// A test beside a blower of which nobody says what it gave.
#[derive(Clone, Debug, Serialize)]
pub struct RatiosOnly {
    /// The test.
    pub test: String,
    /// Its pressures: one less of them counts, as their ratios.
    pub pressures: usize,
}

/// A run in time, and how well what stands in its place does.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct RunFollowed {
    /// The test.
    pub test: String,
    /// Runs of drawn cars that were made.
    pub runs: usize,
    /// How far the reading that is missed most is missed where its run is left out (spread).
    pub missed_K: f64,
    /// The same at draws of the chains, run once more.
    pub off_K: f64,
}

/// How the chains did.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Chains {
    /// How many.
    pub chains: usize,
    /// Steps of each that count.
    pub steps: usize,
    /// Draws that they are worth, of the guess for which that is least.
    pub effective: f64,
    /// Split-chain agreement, of the guess for which it is worst.
    pub agreement: f64,
    /// Share of the steps that were taken.
    pub accepted: f64,
}

/// A margin before and after.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct MarginNow {
    /// The condition.
    pub condition: String,
    /// The part.
    pub part: String,
    /// Before.
    pub before_K: Option<Band>,
    /// After.
    pub after_K: Option<Band>,
    /// How likely it held before.
    pub held: Option<f64>,
    /// How likely it holds.
    pub holds: Option<f64>,
}

/// Sizes with the case before and after.
#[derive(Clone, Debug, Serialize)]
pub struct SizesNow {
    /// How often all parts are to hold in the third column.
    pub asked: f64,
    /// Whether sizes reach every margin with the values taken, before and after.
    pub reached: [bool; 2],
    /// How often all parts hold at these sizes, before and after; null where no draws were looked at.
    pub hold: [Option<f64>; 2],
    /// How often they hold at the sizes that are to hold, before and after.
    pub held: [Option<f64>; 2],
    /// The openings.
    pub openings: Vec<SizeNow>,
}

/// An opening of it.
#[derive(Clone, Debug, Serialize)]
pub struct SizeNow {
    /// PASSAGE, or PASSAGE/ELEMENT.
    pub name: String,
    /// How many there are in the whole car.
    pub pieces: usize,
    /// Open share of its louvres: areas are those of the field, of which this share is open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub louvres: Option<f64>,
    /// Area of one with the values taken, before and after.
    pub taken_m2: [f64; 2],
    /// Area of one that holds as often as is asked, before and after; null where that was not looked for.
    pub holds_m2: [Option<f64>; 2],
}

/// A test that was held for less than its temperatures take to stand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeldShort {
    pub test: String,
    /// How long it was held.
    pub held_s: f64,
    /// How long temperatures take to stand there, with the values taken.
    pub settles_s: f64,
}

/// A fit.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Fit {
    /// The readings file.
    pub readings_file: String,
    /// SHA-256 of it.
    pub readings_sha256: String,
    /// Readings taken.
    pub taken: usize,
    /// Readings that stand in the file and are not filled in.
    pub blank: usize,
    /// Guesses in all.
    pub guesses: usize,
    /// What looks like a slip.
    pub asks: Vec<Ask>,
    /// Whether the fitted case was not written for that.
    pub held_back: bool,
    /// What had to go further than its band.
    pub alarms: Vec<Alarm>,
    /// Guesses that readings saw, those that moved or narrowed most first.
    pub moved: Vec<GuessMoved>,
    /// Guesses that no reading saw.
    pub unseen: Vec<String>,
    /// Guesses that only move together.
    pub pairs: Vec<GuessPair>,
    /// Every reading.
    pub misfits: Vec<Misfit>,
    /// Each test left out.
    pub without_tests: Vec<WithoutTest>,
    /// The reading that narrowed the least margin most, by its number.
    pub narrowed_by: Option<usize>,
    /// How much wider the margin would be without it, as a share of the width now.
    pub wider_without: Option<f64>,
    /// Tests of which only the ratios of their pressures count.
    pub ratios_only: Vec<RatiosOnly>,
    /// Tests read before their temperatures stood.
    pub held_short: Vec<HeldShort>,
    /// Runs in time.
    pub runs: Vec<RunFollowed>,
    /// How the chains did.
    pub chains: Chains,
    /// Where the least margin lies by the draws of the chains.
    pub least_by_chains_K: Option<Band>,
    /// The doubt before, the model's own error not counted.
    pub before: Option<Doubt>,
    /// The doubt after, the model's own error counted: what `doubt` says of the fitted case.
    pub after: Option<Doubt>,
    /// Margins before and after.
    pub margins: Vec<MarginNow>,
    /// Sizes before and after, where the case says which openings are free.
    pub sizes: Option<SizesNow>,
    /// The fitted case that was written.
    pub written: Option<String>,
}
