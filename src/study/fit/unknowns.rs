//! What a fit moves: guesses, the model's own errors, and what instruments are off by, each as a standard normal score.

use crate::case::Case;
use crate::draws::{Guess, Guesses};
use crate::point::counted::{Blown, Counted};
use crate::readings::drives::is_unknown;
use crate::readings::errors::{ReadingErrors, SharedError, ToolErrors};
use crate::readings::taken::{Readings, Shown, TakenReading};

/// Fields of a strip lie close together up to so many spreads.
const CLOSE: f64 = 3.0;

/// One unknown.
#[derive(Clone, Debug, PartialEq)]
pub enum Unknown {
    /// A guess of some scene, by scene and place in its list.
    Guess {
        /// The scene.
        scene: usize,
        /// The place.
        guess: usize,
    },
    /// What the model itself is off by at a part.
    Part(String),
    /// What all readings of an instrument are off by.
    Zero(usize),
    /// By which share they are too large.
    Scale(usize),
    /// What the model itself is off by at a place where air or pressure is read, by the first reading there.
    Place(usize),
    /// Nothing in this fit.
    Unused,
}

/// A reading with all that it hangs on beside the guesses.
#[derive(Clone, Debug)]
pub struct ReadingInputs {
    /// The test.
    pub test: usize,
    /// What was read.
    pub taken: TakenReading,
    /// Unknowns beside the guesses that add to what is shown, each with its weight (K or Pa for one spread).
    pub beside: Vec<(usize, f64)>,
    /// Spread of what is left: how well it was read, and the model's own error of this reading alone (K or Pa).
    pub spread: f64,
}

/// All unknowns of a fit: first the coordinates of a point, then those beside.
pub struct Unknowns {
    /// What each is.
    pub list: Vec<Unknown>,
    /// Coordinates of a point.
    pub coordinates: usize,
    /// All readings.
    pub readings: Vec<ReadingInputs>,
}

impl Unknowns {
    /// Those of a readings file; `guesses` are those of its scenes, and `reckoned` what each reading would show with the
    /// middles of all guesses.
    pub fn of(readings: &Readings, guesses: &[Guesses], reckoned: &[f64]) -> Unknowns {
        let coordinates = guesses.first().map_or(0, |first| first.dimensions);
        let mut list = vec![Unknown::Unused; coordinates];
        for (scene, own) in guesses.iter().enumerate() {
            for (place, guess) in own.list.iter().enumerate() {
                let slot = &mut list[guess.dimension];
                if *slot == Unknown::Unused {
                    *slot = Unknown::Guess { scene, guess: place };
                }
            }
            if let Some(known) = readings.scenes.get(scene) {
                for (part, dimension) in own.errors() {
                    list[dimension] = Unknown::Part(known.case.parts[part].name.clone());
                }
            }
        }
        let mut beside = |unknown: Unknown| {
            let known = list.iter().position(|other| *other == unknown);
            known.unwrap_or_else(|| {
                list.push(unknown);
                list.len() - 1
            })
        };
        let all: Vec<(usize, &TakenReading)> = (readings.tests.iter().enumerate())
            .flat_map(|(test, own)| own.readings.iter().map(move |taken| (test, taken)))
            .collect();
        let mut seen: Vec<ReadingInputs> = Vec::new();
        for (place, (test, taken)) in all.iter().enumerate() {
            let size = match taken.shown {
                // of a blower that nobody knows, what would be shown is no measure
                Shown::Value { value, .. } if unknown_blower(readings, *test) => value,
                Shown::Value { value, .. } => value.abs().max(reckoned[place].abs()),
                Shown::Between { .. } => reckoned[place],
            };
            let within = match taken.shown {
                Shown::Value { within, .. } | Shown::Between { within, .. } => within,
            };
            let tool = ToolErrors { within, ..taken.tool };
            let what = taken.reading.what;
            let errors = ReadingErrors::of(what, tool, taken.instrument, size, &readings.model_error)
                .as_one_of(readings.alike(*test, what));
            let scene = readings.tests[*test].scene;
            let same = |other: &(usize, &TakenReading)| {
                other.1.reading.what == taken.reading.what && readings.tests[other.0].scene == scene
            };
            let own = errors.shared.iter().filter_map(|(off, weight)| {
                let unknown = match off {
                    SharedError::Zero(index) => Unknown::Zero(*index),
                    SharedError::Scale(index) => Unknown::Scale(*index),
                    // that of a part is a coordinate
                    SharedError::Part(_) => return None,
                    SharedError::Place(_) => Unknown::Place(all.iter().position(same).unwrap_or(place)),
                };
                Some((beside(unknown), *weight))
            });
            let (own, spread) = (own.collect(), errors.own);
            let (shown, spread) = narrow(taken.shown, spread);
            seen.push(ReadingInputs {
                test: *test,
                taken: TakenReading { shown, ..(*taken).clone() },
                beside: own,
                spread,
            });
        }
        Unknowns { list, coordinates, readings: seen }
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.list.len()
    }
}

/// A strip between two fields that lie close together is its middle, ± a share of the step: evenly anywhere between
/// them with an error of spread σ is next to normal with σ² + w²/12, where the step w is no more than a few σ.
fn narrow(shown: Shown, spread: f64) -> (Shown, f64) {
    match shown {
        Shown::Between { low, high, within } if high - low <= CLOSE * spread => {
            (Shown::Value { value: 0.5 * (low + high), within }, spread.hypot((high - low) / 12.0_f64.sqrt()))
        }
        _ => (shown, spread),
    }
}

/// Whether a blower gave air of which nobody says how much.
pub fn unknown_blower(readings: &Readings, test: usize) -> bool {
    let own = &readings.tests[test];
    let numbers = &readings.scenes[own.scene].case.numbers;
    matches!(own.at, Counted::Blown(Blown { number: Some(id), .. }) if is_unknown(numbers.fact(id)))
}

/// Whether readings on the bench may move a guess: leaks, edges, losses, resistances, fans; nothing of what the road or the
/// fire does.
pub fn moves_on_the_bench(case: &Case, guess: &Guess) -> bool {
    let may = |address: &str| {
        let segments: Vec<&str> = address.split('/').collect();
        match segments[..] {
            ["body", "leaks"] => true,
            ["condition", ..] => true,
            ["passage", ..] => !segments.iter().any(|key| NOT_ON_THE_BENCH.contains(key)),
            _ => false,
        }
    };
    guess.numbers.iter().all(|(id, _)| may(&case.numbers.fact(*id).address))
}

/// Keys of elements that say what the road or the fire does.
const NOT_ON_THE_BENCH: &[&str] = &[
    "pressure_coefficient",
    "recovery",
    "boundary_layer",
    "recirculation",
    "conductance",
    "conductance_exponent",
    "surface_factor",
    "conductivity",
    "rated",
    "oil_flow",
    "oil_flow_at",
    "oil_density",
    "oil_heat",
];
