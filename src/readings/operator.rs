//! What an instrument shows in a solved car.

use super::leaks;
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, tables as t};
use crate::draws::car::Car;
use crate::element::size::PRESSURE_COEFFICIENT;
use crate::keys::Values;
use crate::keys::word::words;
use crate::point::Model;

/// Square metres of a square millimetre.
const MM2: f64 = 1e-6;

words! {
    /// What kind of reading something is.
    pub enum ReadingKind {
        /// Of a part.
        Temperature = "temperature",
        /// Of air.
        Air = "air",
        Pressure = "pressure",
        /// One pressure over another.
        Ratio = "ratio",
        /// Several of them together.
        Several = "several",
    }
}

/// One end of a pressure gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugeEnd {
    /// In a chamber, out of the draught.
    Chamber(usize),
    /// Flush with the skin beside the opening that an element of a passage is.
    Skin {
        /// The passage.
        passage: usize,
        /// Which of its elements.
        element: usize,
    },
    /// Flush with the skin at a place of the body.
    Place(usize),
    /// In still air away from the car, where the car stands.
    StillAir,
}

/// What is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Temperature of the hottest piece of a part, where its limit is measured.
    Part(usize),
    /// The mean of its pieces there.
    Mean(usize),
    /// Temperature of a chamber's air.
    Air(usize),
    /// Temperature of the air behind the element that takes a part's heat, by passage and element in the network.
    Behind {
        /// The part.
        part: usize,
        /// The passage.
        passage: usize,
        /// The element, as the network counts them.
        element: usize,
    },
    /// A pressure over another.
    Difference {
        /// The first leg.
        of: GaugeEnd,
        /// The other.
        over: GaugeEnd,
    },
    /// With everything taped and a blower on, the pressure beside a hole in the tape as a share of that without it.
    Leaks {
        /// Area of the hole (mm²), as a ruler has it.
        hole_mm2: u32,
    },
}

/// Something that can be read, and when.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What is read.
    pub what: Quantity,
    /// The moment, as the car has it.
    pub moment: usize,
}

/// What a part's gauge shows where the part stands at its limit (°C), where it has one.
pub(crate) fn gauge_at_limit(case: &Case, model: &Model, part: usize) -> Option<f64> {
    let law = &model.network.parts[part];
    law.has_limit().then(|| law.limit + case.above_mean(part) - ZERO_CELSIUS)
}

impl Reading {
    /// What an instrument without fault would show in the present solution of a car (K, Pa, or a share).
    pub fn value(&self, car: &Car) -> f64 {
        let solver = car.solver();
        let (network, state) = (&solver.network, &solver.state);
        match self.what {
            Quantity::Part(part) => car.temperature(part) + car.case().above_mean(part),
            Quantity::Mean(part) => car.temperature(part),
            Quantity::Air(chamber) => state.chamber_temperature(chamber),
            Quantity::Behind { passage, element, .. } => {
                let mut outlet = f64::NAN;
                network.follow(passage, &solver.boundary, state, |here, _, response| {
                    if here == element {
                        outlet = response.outlet;
                    }
                });
                outlet
            }
            Quantity::Difference { of, over } => pressure(car, of) - pressure(car, over),
            Quantity::Leaks { hole_mm2 } => leaks::left_beside(car, f64::from(hole_mm2) * MM2),
        }
    }

    /// Whether it is a temperature of a part.
    pub fn is_of_part(&self) -> bool {
        matches!(self.what, Quantity::Part(_) | Quantity::Mean(_))
    }

    /// What the value taken would show, as it is printed (°C, Pa, or a share).
    pub fn shown(&self, value: f64) -> f64 {
        match self.what {
            Quantity::Part(_) | Quantity::Mean(_) | Quantity::Air(_) | Quantity::Behind { .. } => {
                value - ZERO_CELSIUS
            }
            Quantity::Difference { .. } | Quantity::Leaks { .. } => value,
        }
    }

    /// What kind of reading it is.
    pub fn kind(&self) -> ReadingKind {
        match self.what {
            Quantity::Part(_) | Quantity::Mean(_) => ReadingKind::Temperature,
            Quantity::Air(_) | Quantity::Behind { .. } => ReadingKind::Air,
            Quantity::Difference { .. } => ReadingKind::Pressure,
            Quantity::Leaks { .. } => ReadingKind::Ratio,
        }
    }

    /// The unit in which it is printed.
    pub fn unit(&self) -> &'static str {
        match self.kind() {
            ReadingKind::Pressure => "Pa",
            ReadingKind::Ratio => "share",
            _ => "°C",
        }
    }

    /// What is read, in words.
    pub fn name(&self, case: &Case) -> String {
        let chamber = |index: usize| &case.chambers[index].name;
        let spot = |part: usize| {
            let named = &case.parts[part];
            match named.values.text(&t::MEASURED_AT) {
                Some(spot) => format!("{}, {spot}", named.name),
                None => named.name.clone(),
            }
        };
        match self.what {
            Quantity::Part(part) => spot(part),
            Quantity::Mean(part) => format!("{}, mean of all", spot(part)),
            Quantity::Air(index) => format!("air in {}", chamber(index)),
            Quantity::Behind { part, .. } => format!("air behind {}", case.parts[part].name),
            Quantity::Difference { of, over } => {
                let outside = |leg: GaugeEnd| match leg {
                    GaugeEnd::Skin { passage, .. } => format!("outside at {}", case.passages[passage].name),
                    GaugeEnd::Place(place) => format!("outside at {}", case.places[place].name),
                    GaugeEnd::Chamber(index) => chamber(index).clone(),
                    GaugeEnd::StillAir => "still air".to_string(),
                };
                format!("U-tube across {} and {}", outside(of), outside(over))
            }
            Quantity::Leaks { .. } => "share of the pressure that is left".to_string(),
        }
    }

    /// How long it takes, on the road or standing, and with what and how (common practice, from memory).
    pub fn how(&self, on_the_road: bool) -> (&'static str, &'static str) {
        let gauge = if on_the_road { "half an hour and a drive" } else { "half an hour, standing" };
        let taps = if on_the_road { "an hour and a drive" } else { "an hour, standing" };
        match self.what {
            Quantity::Part(_) | Quantity::Mean(_) => (
                gauge,
                "a thermocouple where the limit is measured, one on each of several alike: the hottest counts; held until it no longer climbs",
            ),
            Quantity::Air(_) | Quantity::Behind { .. } => (
                gauge,
                "a thermocouple in the middle of the stream, out of sight of hot metal; held until it no longer climbs",
            ),
            Quantity::Difference { over: GaugeEnd::Skin { .. } | GaugeEnd::Place(_), .. } => (
                taps,
                "a hose with water in a U, one end in the chamber out of the draught, the other flush with the skin beside the exit: 10 mm is 98 Pa",
            ),
            Quantity::Difference { .. } => {
                (taps, "a hose with water in a U, one end in each, both out of the draught: 10 mm is 98 Pa")
            }
            Quantity::Leaks { .. } => (
                taps,
                "everything taped, any blower into one of the openings: the pressure, then the same beside a hole cut into the tape",
            ),
        }
    }
}

/// Pressure over that of the air at rest that a leg of a gauge meets in the present solution of a car (Pa).
///
/// ```text
///   p = Cp q   at the skin
/// ```
fn pressure(car: &Car, leg: GaugeEnd) -> f64 {
    let (case, solver) = (car.case(), car.solver());
    let coefficient = |values: &Values| case.view(values).number(&PRESSURE_COEFFICIENT).unwrap_or(0.0);
    let at_skin = |values: &Values| coefficient(values) * solver.free_stream.dynamic_pressure;
    match leg {
        GaugeEnd::Chamber(chamber) => solver.state.pressure(chamber),
        GaugeEnd::Skin { passage, element } => at_skin(&case.passages[passage].elements[element]),
        GaugeEnd::Place(place) => at_skin(&case.places[place].values),
        GaugeEnd::StillAir => 0.0,
    }
}
