//! What a readings file holds, once it is read.

pub use super::errors::ModelError;
use super::errors::ToolErrors;
use super::operator::Reading;
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
    /// A remark.
    pub note: Option<String>,
    /// Where it stands in the file.
    pub span: Range<usize>,
}

/// A test.
#[derive(Clone, Debug)]
#[cfg_attr(not(feature = "rooms"), expect(dead_code, reason = "kept as written"))]
pub struct Test {
    /// Its name.
    pub name: String,
    /// When.
    pub date: Option<String>,
    /// Whether the car stood on the bench.
    pub bench: bool,
    /// In which of the scenes.
    pub scene: usize,
    /// The moment there.
    pub(crate) at: Counted,
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
