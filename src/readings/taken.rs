//! What a readings file holds, once it is read.

pub use super::errors::ModelError;
use super::errors::ToolErrors;
use super::operator::{Quantity, Reading};
use crate::case::Case;
use crate::point::counted::Counted;
use std::ops::Range;

/// An instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct InstrumentUsed {
    /// Its name.
    pub name: String,
    /// Whether it reads pressures; else temperatures.
    pub pressure: bool,
    /// How well one reading is taken, 9 times in 10 within (K or Pa), where it is said.
    pub within: Option<f64>,
    /// What all its readings may be off by alike (K or Pa).
    pub zero: f64,
    /// Share of themselves that all may be too large or too small by.
    pub scale: f64,
    /// Time in which it goes two thirds of the way (s).
    pub lag: f64,
    /// Pressure of a metre along a tube (Pa/m).
    pub(super) per_metre: Option<f64>,
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shown {
    /// A value, and within what it is 9 times in 10 (K or Pa).
    Value {
        /// The value.
        value: f64,
        /// Half the width of its band.
        within: f64,
    },
    /// Somewhere between two ends (K), of which one may be open; each field is marked to within so much.
    Between {
        /// It was hotter than this.
        low: f64,
        /// And no hotter than this.
        high: f64,
        /// Half the width of the band of each end.
        within: f64,
    },
}

/// When in a run in time something is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RunMoment {
    /// The hottest since it began, what the car stood afterwards among it.
    Hottest,
    /// So long after it began (s).
    At(f64),
    /// As it ended.
    End,
    /// On average between two times from its beginning (s).
    Mean(f64, f64),
}

impl RunMoment {
    /// When, as it stands behind what was read.
    pub fn in_words(self) -> String {
        match self {
            RunMoment::Hottest => "at its hottest".to_string(),
            RunMoment::At(time) => format!("after {time:.0} s"),
            RunMoment::End => "at the end".to_string(),
            RunMoment::Mean(from, to) => format!("mean from {from:.0} s to {to:.0} s"),
        }
    }
}

/// A test in time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TestRun {
    /// The stint of its scene's case.
    pub stint: usize,
    /// The condition there in which the car then stood, and how long (s).
    pub soak: Option<(usize, f64)>,
    /// Whether the recorded run lies beside the readings file; else beside the case.
    pub beside_readings: bool,
    /// The instrument of its measured columns.
    pub instrument: Option<usize>,
    /// Readings that stand in its table, those that are not filled in among them.
    pub asked: usize,
}

/// A reading of the file.
#[derive(Clone, Debug)]
#[cfg_attr(not(feature = "rooms"), expect(dead_code, reason = "kept as written"))]
pub struct TakenReading {
    /// What it is a reading of, and the condition of its scene's case in which it was taken.
    pub reading: Reading,
    /// What was read.
    pub shown: Shown,
    /// As it was written.
    pub text: String,
    /// How well it is read: one by itself as it was written, or as the instrument is; all alike as the instrument is.
    pub tool: ToolErrors,
    /// The instrument.
    pub instrument: Option<usize>,
    /// When in its run; none in a steady test.
    pub when: Option<RunMoment>,
    /// Time in which the instrument goes two thirds of the way, where that counts (s).
    pub lag: f64,
    /// A remark.
    pub note: Option<String>,
    /// Where it stands in the file.
    pub span: Range<usize>,
}

impl TakenReading {
    /// What was read, in words.
    pub fn name(&self, case: &Case) -> String {
        let name = self.reading.name(case);
        match self.when {
            Some(when) => format!("{name}, {}", when.in_words()),
            None => name,
        }
    }
}

/// A test.
#[derive(Clone, Debug)]
pub struct Test {
    /// Its name.
    pub name: String,
    /// When.
    pub date: Option<String>,
    /// Whether the car stood on the bench.
    pub bench: bool,
    /// In which of the scenes.
    pub scene: usize,
    /// The moment there; of a run in time nothing.
    pub(crate) at: Counted,
    /// The run in time that it is.
    pub run: Option<TestRun>,
    /// How long all was held (s).
    pub held: Option<f64>,
    /// What was read.
    pub readings: Vec<TakenReading>,
}

/// The case, or a layout of it, with the tests that were made of it among its conditions.
#[derive(Clone, Debug)]
#[cfg_attr(not(feature = "rooms"), expect(dead_code, reason = "kept as written"))]
pub struct TestedCase {
    /// The layout.
    pub layout: Option<String>,
    /// The case, its own conditions first.
    pub case: Case,
}

/// A readings file.
#[derive(Clone, Debug)]
#[cfg_attr(not(feature = "rooms"), expect(dead_code, reason = "kept as written"))]
pub struct Readings {
    /// Its title.
    pub title: Option<String>,
    /// When.
    pub date: Option<String>,
    /// The card that it goes with.
    pub card: Option<String>,
    /// The state of the case that it was planned for.
    pub case_sha256: Option<String>,
    /// What was read with.
    pub instruments: Vec<InstrumentUsed>,
    /// What the model may be off by.
    pub model_error: ModelError,
    /// What was done.
    pub tests: Vec<Test>,
    /// The case as the tests found it.
    pub scenes: Vec<TestedCase>,
    /// Readings that stand in the file and are not filled in.
    pub blank: usize,
}

impl Readings {
    /// Of how many readings of one thing in one test a reading is one.
    pub fn alike(&self, test: usize, what: Quantity) -> usize {
        let own = &self.tests[test];
        own.readings.iter().filter(|taken| taken.reading.what == what).count().max(1)
    }
}
