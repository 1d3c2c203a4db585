//! A test card, in the shape in which `--json` gives it.

use crate::keys::word::words;
use crate::point::counted::Counted;
use crate::point::result::Band;
use crate::readings::Quantity;
use crate::readings::operator::ReadingKind;
use crate::study::doubt::measure::{AskedMargin, MarginsAsked};
use serde::Serialize;

words! {
    /// How a run is made.
    pub enum RunWay {
        /// Engine off and cold.
        Bench = "bench",
        /// Standing, engine running.
        Rest = "rest",
        Drive = "drive",
    }
}

words! {
    /// What a reading does with more of a suspect.
    pub enum SuspectReads {
        More = "reads more",
        Less = "reads less",
    }
}

words! {
    /// Where a tuft points.
    pub enum TuftShows {
        In = "IN",
        Out = "OUT",
        /// The air all but stands.
        Hangs = "HANGS",
        Unsure = "UNSURE",
    }
}

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Card {
    /// What card and readings file are known by.
    pub id: String,
    /// The parts and conditions of which the least margin is looked at.
    pub of: Vec<AskedMargin>,
    /// Whether these may hold or not.
    pub is: MarginsAsked,
    /// What is over its limit whatever is measured.
    pub lost: Vec<AskedMargin>,
    /// Half the band of that margin now.
    pub half_band_K: f64,
    /// Half the band once all readings of the card are taken, about.
    pub leaves_K: f64,
    /// Draws behind all of it.
    pub draws: usize,
    /// Cars behind what each reading should show.
    pub shown_by: usize,
    /// Whether the case says what it is read with; else what is usual is taken.
    pub instruments_said: bool,
    /// What it is read with.
    pub instruments: Vec<Tool>,
    /// What is taped for the first test.
    pub tape: Vec<String>,
    /// Taps and thermocouples, each with its letter.
    pub taps: Vec<Tap>,
    /// The runs in their order.
    pub runs: Vec<CardRun>,
    /// What tufts show, opening by opening.
    pub tufts: Vec<Tufts>,
    /// Readings that an instrument is too coarse for, and the way out.
    pub coarse: Vec<Coarse>,
    /// When to stop at once.
    pub stops: Vec<StopAtOnce>,
}

/// An instrument.
#[derive(Clone, Debug, Serialize)]
pub struct Tool {
    /// What it is.
    pub instrument: &'static str,
    /// How well it is read, 9 times in 10 within, in what it shows.
    pub within: f64,
    /// The unit that it shows.
    pub unit: &'static str,
    /// Length along a tube for each length upright.
    pub slope: Option<f64>,
    /// What is in a tube.
    pub fluid: Option<&'static str>,
}

/// Where something is read.
#[derive(Clone, Debug, Serialize)]
pub struct Tap {
    /// What it is called on the card: P1, T1, A1.
    pub letter: String,
    /// What is read there.
    pub what: String,
    /// Where and how it goes.
    pub place: String,
}

/// A run: a bench test, standing, or a drive.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct CardRun {
    /// The moment, as the readings file has it.
    #[serde(skip)]
    pub(crate) at: Option<Counted>,
    /// Which of these.
    pub way: RunWay,
    /// What it is called.
    pub name: String,
    /// The condition, where it is one of the case.
    pub condition: Option<String>,
    /// Road speed.
    pub speed_m_s: Option<f64>,
    pub gear: Option<usize>,
    /// Engine speed.
    pub rpm: Option<f64>,
    /// Share of full load.
    pub load: Option<f64>,
    /// Brake power that it takes.
    pub brake_power_W: Option<f64>,
    /// How long it is held, each way where it is driven both ways.
    pub held_s: f64,
    /// How long temperatures take to stand; none where the case does not say what parts store.
    pub settles_s: Option<f64>,
    /// How often all parts hold in it.
    pub holds: Option<f64>,
    /// Side of the hole that is cut into the tape, on the bench.
    pub hole_m: Option<f64>,
    /// What is read.
    pub readings: Vec<Planned>,
}

/// A reading as it is planned.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Planned {
    /// What is read, as the readings file has it.
    #[serde(skip)]
    pub(crate) of: Vec<Quantity>,
    /// Its tap.
    pub letter: String,
    /// What is read.
    pub what: String,
    /// What kind it is.
    pub kind: ReadingKind,
    /// What it is read with.
    pub instrument: &'static str,
    /// The unit in which the instrument shows it.
    pub unit: &'static str,
    /// Where it lies 9 times in 10, in that unit, the errors of the instrument and of the model with it.
    pub expected: Band,
    /// How well the instrument is read, in that unit.
    pub within: f64,
    /// How many readings are worth more, and one.
    pub rank: usize,
    /// What it takes off half the band, given those of lower rank.
    pub adds_K: f64,
    /// What half the band then is.
    pub leaves_K: f64,
    /// What it is worth by itself.
    pub alone_K: f64,
    /// What to suspect first outside the band.
    pub suspects: Vec<Suspect>,
}

/// Something that moves a reading.
#[derive(Clone, Debug, Serialize)]
pub struct Suspect {
    /// In words.
    pub words: String,
    /// The first of its addresses.
    pub address: String,
    /// What more of it does.
    pub more: SuspectReads,
    /// By how much, from the low to the high end of its band (K, Pa, or a share).
    pub moves: f64,
}

/// What a tuft at an opening shows.
#[derive(Clone, Debug, Serialize)]
pub struct Tufts {
    /// The opening: its passage.
    pub opening: String,
    /// Moment by moment.
    pub at: Vec<Tuft>,
}

/// What it shows in one moment.
#[derive(Clone, Debug, Serialize)]
pub struct Tuft {
    /// The moment: a condition, or a speed.
    pub moment: String,
    /// Where it points.
    pub shows: TuftShows,
    /// How often it blows in.
    pub blows_in: f64,
}

/// An instrument that is too coarse.
#[derive(Clone, Debug, Serialize)]
pub struct Coarse {
    /// What is read, and when.
    pub reading: String,
    /// About how much it is, in the unit of the instrument.
    pub about: f64,
    /// Half of what it may differ by, from car to car, in that unit.
    pub half_band: f64,
    /// How well it is read.
    pub within: f64,
    pub unit: &'static str,
    /// What to do about it.
    pub way_out: String,
}

/// When to stop at once.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct StopAtOnce {
    /// Of what.
    pub what: String,
    /// At what temperature.
    pub at_C: f64,
    /// Where it is from.
    pub source: String,
}
