//! Where a number came from, in the shape in which `--json` gives it.

use crate::keys::word::words;
use crate::thermal::MarginIs;
use serde::Serialize;

words! {
    /// What an address is of.
    pub enum WhyIs {
        Part = "part",
        Passage = "passage",
        Opening = "opening",
        Element = "element",
    }
}

words! {
    /// Where a value is from.
    pub enum ValueOrigin {
        Written = "written",
        Assumed = "assumed",
        /// Found on the way.
        Found = "found",
    }
}

words! {
    /// What holds a part's temperature over that of its air.
    pub enum HeldUpBy {
        /// The air's own warming: more air takes it down.
        Air = "air",
        /// What stands between air and part.
        Surface = "surface",
    }
}

/// The way from what is known to a part's temperature, a passage's flow or what an opening does.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Why {
    /// What was asked for: the address.
    pub of: String,
    /// What that is.
    pub is: WhyIs,
    /// What else goes by that name.
    pub also: Vec<String>,
    pub condition: String,
    /// The part whose kelvins are watched.
    pub part: Option<String>,
    pub temperature_C: Option<f64>,
    /// What it keeps under its limit.
    pub temperature_margin_K: Option<f64>,
    /// Whether more of the air that comes to it would do.
    pub margin_is: Option<MarginIs>,
    /// From inputs to result, one formula after another.
    pub chain: Vec<WhyLink>,
    /// Where the pressure goes, passage by passage.
    pub pressure: Vec<Spent>,
    /// What holds the part's temperature where it is.
    pub limits: Option<Limits>,
    /// Every area a tenth larger, one at a time, the one that buys most first.
    pub larger: Vec<Larger>,
    /// Every number that moves the part, the one that moves it most first.
    pub rules: Vec<MovingNumber>,
    /// How far the part's margin falls if all assumed values are independent and each may be at its worse end: the root of the
    /// sum of squares.
    pub assumed_falls_K: f64,
    /// The same for what the case says with a band of its own.
    pub stated_falls_K: f64,
    /// What was left out; stands among the warnings.
    #[serde(skip)]
    pub left_out: Vec<crate::case::Warning>,
}

/// One step of the chain.
#[derive(Clone, Debug, Serialize)]
pub struct WhyLink {
    /// What is found.
    pub what: String,
    pub formula: String,
    /// Where it is from.
    pub source: String,
    /// What goes in.
    pub inputs: Vec<FormulaInput>,
    /// What comes out.
    pub result: String,
}

/// A value that goes into a formula.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FormulaInput {
    /// Its address, or what it is where it was found on the way.
    pub name: String,
    pub value: String,
    /// Where it is from.
    pub origin: ValueOrigin,
    /// Its band, where it has one.
    pub band: Option<(String, String)>,
    /// Where a default is from.
    pub source: Option<&'static str>,
}

/// Where the pressure goes in a passage.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Spent {
    pub passage: String,
    pub mass_flow_kg_s: f64,
    /// What drives the air.
    pub gives: Vec<PressureShare>,
    /// What takes it, the largest first.
    pub takes: Vec<PressureShare>,
}

/// A pressure that drives air or is lost.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PressureShare {
    /// What gives or takes it.
    pub what: String,
    /// How much.
    pub pressure_Pa: f64,
    /// Of all that is given, or taken.
    pub share: f64,
}

/// What holds a part's temperature over that of its air.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Limits {
    /// Temperature of the air that comes to it, weighted by flow.
    pub entering_C: f64,
    /// How much of the difference is the air's own warming: more air takes it down.
    pub air_K: f64,
    /// How much stands between the air that leaves and the part: more surface, or faster air, takes it down.
    pub surface_K: f64,
    /// Whichever is larger.
    pub is: HeldUpBy,
    /// What takes most of the pressure on the way there.
    pub resistance: Option<PressureShare>,
    /// In which passage.
    pub passage: Option<String>,
}

/// An area a tenth larger.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Larger {
    pub element: String,
    /// Area of one as it is.
    pub area_m2: f64,
    /// How many.
    pub pieces: f64,
    /// How many kelvins the watched part gains; none where no steady state was found.
    pub gains_K: Option<f64>,
    /// How much cooling drag is added.
    pub drag_N: Option<f64>,
    /// The part that then has the fewest kelvins left, and what it loses, where one loses half a kelvin or more.
    pub costs: Option<(String, f64)>,
}

/// A number that moves the part.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct MovingNumber {
    /// Its address.
    pub key: String,
    pub value: String,
    /// Where it is from.
    pub origin: ValueOrigin,
    /// Whether it has a band; where it has none, a tenth either way is tried (5 K of a temperature).
    pub band: bool,
    /// Low end tried.
    pub low: String,
    /// High end tried.
    pub high: String,
    /// How many kelvins the margin gains there; none where that cannot be solved.
    pub at_low_K: Option<f64>,
    /// The same at the high end.
    pub at_high_K: Option<f64>,
    /// Where a default is from.
    pub source: Option<&'static str>,
    /// What it stands for and how to measure it.
    pub measure: &'static str,
}

impl MovingNumber {
    /// How far it moves the part, whichever way.
    pub fn moves(&self) -> f64 {
        [self.at_low_K, self.at_high_K].into_iter().flatten().fold(0.0, |most, by| f64::max(most, by.abs()))
    }

    /// How far the margin falls at its worse end.
    pub fn falls(&self) -> f64 {
        [self.at_low_K, self.at_high_K].into_iter().flatten().fold(0.0, |most, by| f64::max(most, -by))
    }
}
