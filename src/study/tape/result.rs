//! The tape card, in the shape in which `--json` gives it.

use crate::element::TapedFrom;
use crate::keys::word::words;
use crate::point::result::OpeningRole;
use serde::Serialize;

words! {
    /// What tape is for.
    pub enum TapeAim {
        /// A part has a lower limit.
        KeepWarm = "keep warm",
        /// None has.
        SpareDrag = "spare drag",
    }
}

words! {
    /// What the car does in a column.
    pub enum TapedFor {
        Run = "run",
        Following = "following",
        Queue = "queue",
        Wet = "wet",
    }
}

words! {
    /// What a cell says.
    pub enum TapeSays {
        NoTape = "no tape",
        Tape = "tape",
        /// Something is over its limit without tape.
        TooHot = "too hot",
        /// The most tape that leaves all parts their margin keeps nothing warm enough.
        TooCold = "too cold",
        /// Outside of what the model holds for.
        Outside = "outside",
    }
}

/// A tape card.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Tape {
    pub tape_width_m: f64,
    /// Whether the case says so.
    pub tape_width_said: bool,
    /// Whether openings are as sizing found them; else as drawn.
    pub sized: bool,
    /// What tape is for.
    pub aim: TapeAim,
    /// Openings that may be taped.
    pub openings: Vec<Taping>,
    pub columns: Vec<TapeColumn>,
    /// Rows, the coldest first.
    pub rows: Vec<TapeRow>,
    /// Parts whose temperature is told.
    pub parts: Vec<PartTold>,
    /// What is never taped.
    pub never: Vec<String>,
    /// If this, then that.
    pub rules: Vec<String>,
    /// Draws behind the bands.
    pub draws: usize,
}

/// An opening that may be taped.
#[derive(Clone, Debug, Serialize)]
pub struct Taping {
    /// The letter that stands for it.
    pub letter: char,
    pub passage: String,
    /// Whether air goes in or out.
    pub role: OpeningRole,
    /// How many there are: each is taped alike.
    pub pieces: usize,
    /// Its height: across the strips.
    pub height_m: f64,
    /// From which edge strips are laid.
    pub from_edge: TapedFrom,
    /// Share blanked by one strip, two, and so on: as many as may be laid.
    pub shares: Vec<f64>,
}

#[derive(Clone, Debug, Serialize)]
pub struct TapeColumn {
    /// What the car does.
    pub column: TapedFor,
    /// The conditions behind it.
    pub conditions: Vec<String>,
    /// What was taken that no condition says.
    pub taken: Option<&'static str>,
}

/// A part whose temperature is told.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PartTold {
    pub part: String,
    /// Its limit where it is measured.
    pub limit_C: f64,
    /// Its lower limit.
    pub least_C: Option<f64>,
}

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct TapeRow {
    /// Air temperature in the shade.
    pub air_C: f64,
    /// A cell for each column.
    pub cells: Vec<TapeCell>,
}

#[derive(Clone, Debug, Serialize)]
pub struct TapeCell {
    /// What to do.
    pub says: TapeSays,
    /// The opening's letter, where there is tape.
    pub opening: Option<char>,
    /// Whole strips on each piece.
    pub strips: usize,
    /// Share blanked.
    pub share: f64,
    /// Whether the engine's power is corrected further in such air than its standard accepts.
    pub power_beyond_correction: bool,
    /// What each part then shows, in the condition of the column in which it is hottest; none outside.
    pub shows: Vec<Shows>,
}

/// What a part's gauge shows.
#[derive(Clone, Copy, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Shows {
    /// With the values taken.
    pub taken_C: f64,
    /// 5 in 100 lower.
    pub low_C: Option<f64>,
    /// 5 in 100 higher.
    pub high_C: Option<f64>,
}
