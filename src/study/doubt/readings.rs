//! What could be read off the car to know more: temperatures and pressures at moments that can be driven or stood.

use crate::air::ZERO_CELSIUS;
use crate::case::{Case, tables as t};
use crate::draws::car::Car;
use crate::element::Role;
use crate::network::{End, Met};
use crate::numerics::{normal, sobol};
use crate::point::Gearing;
use crate::point::counted::{Counted, Driven};
use crate::point::model::Model;
use crate::point::operation::idles;
use crate::point::speeds::{Geared, Loads};

/// How well a part's temperature is read, air's, and a difference of pressure on a U-tube (K, K, Pa): 9 times in 10
/// within (common practice, from memory).
const PART: f64 = 5.0;
const AIR: f64 = 5.0;
const PRESSURE: f64 = 5.0;
/// Road speeds of steady drives: those wanted, and the shares of the speeds that are usable within which they must lie.
const WANTED: [f64; 2] = [60.0 / 3.6, 100.0 / 3.6];
const WITHIN: (f64, f64) = (0.1, 0.9);
/// Shares taken instead where they do not.
const INSTEAD: [f64; 2] = [0.35, 0.75];
/// Standing moments that are offered, at most.
const STANDING: usize = 1;

/// What is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::study) enum What {
    /// Temperature of the hottest piece of a part, where its limit is measured.
    Part(usize),
    /// Temperature of a chamber's air.
    Air(usize),
    /// Temperature of the air behind the element that takes a part's heat, by passage and element in the network.
    Behind { part: usize, passage: usize, element: usize },
    /// A chamber's pressure over that outside at the exit in which a passage ends.
    OverExit { chamber: usize, passage: usize },
    /// A chamber's pressure over that of another.
    Across { from: usize, to: usize },
}

/// Something that can be read, and when.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::study) struct Reading {
    pub what: What,
    /// The moment, as the car has it.
    pub moment: usize,
}

/// The moments in which a car is read: two steady drives where the case has gears, and one that stands with the engine
/// running; else the conditions themselves.
pub(in crate::study) fn moments(case: &Case, model: &Model) -> Vec<Counted> {
    let mut all = drives(case, model);
    let standing = (0..case.conditions.len()).filter(|index| idles(case, &case.conditions[*index]));
    all.extend(standing.take(STANDING).map(Counted::Condition));
    if all.is_empty() {
        all.extend((0..case.conditions.len()).map(Counted::Condition));
    }
    all
}

fn drives(case: &Case, model: &Model) -> Vec<Counted> {
    let Some(gears) = Gearing::read(case, model) else { return Vec::new() };
    let (low, high) = gears.range();
    let at = |share: f64| low + share * (high - low);
    let speeds = WANTED.iter().zip(INSTEAD).map(|(wanted, instead)| {
        let fits = (at(WITHIN.0)..=at(WITHIN.1)).contains(wanted);
        // whole tens of km/h, as a driver can hold them
        if fits { *wanted } else { (at(instead) * 0.36).round() / 0.36 }
    });
    let loads = Loads::of(case);
    let driven = speeds.filter_map(|speed| {
        let (gear, rpm) = gears.gear_at(speed)?;
        let point = Geared { speed, gear, rpm, load: loads.at(speed) };
        Some(Counted::Driven(Driven { point, clear_air: 1.0, day: None }))
    });
    driven.collect()
}

/// Everything that can be read in some moments, one after the other.
pub(in crate::study) fn all(case: &Case, model: &Model, moments: std::ops::Range<usize>) -> Vec<Reading> {
    let mut what: Vec<What> = (0..case.parts.len()).map(What::Part).collect();
    what.extend((0..case.chambers.len()).map(What::Air));
    let network = &model.network;
    for (index, table) in case.passages.iter().enumerate() {
        let passage = &network.passages[index];
        for element in passage.elements.clone() {
            if let Some(part) = model.part_of[element] {
                what.push(What::Behind { part, passage: index, element });
            }
        }
        let cools = passage.elements.clone().any(|element| model.part_of[element].is_some());
        match (passage.from, passage.to) {
            (End::Chamber(from), End::Chamber(to)) if cools => what.push(What::Across { from, to }),
            (End::Chamber(chamber), End::Outside) => {
                let last = table.elements.len().checked_sub(1).and_then(|last| table.kind(last));
                if last.is_some_and(|kind| kind.role == Role::Exit) {
                    what.push(What::OverExit { chamber, passage: index });
                }
            }
            _ => {}
        }
    }
    let mut different: Vec<What> = Vec::new();
    for each in what {
        let same = |known: &What| match (known, &each) {
            (What::Across { from, to }, What::Across { from: a, to: b }) => {
                (from, to) == (a, b) || (from, to) == (b, a)
            }
            // one of several exits at one place, or of several like ones, tells as much
            (What::OverExit { chamber, .. }, What::OverExit { chamber: other, .. }) => chamber == other,
            (What::Behind { part, .. }, What::Behind { part: other, .. }) => part == other,
            (known, each) => *known == *each,
        };
        if !different.iter().any(same) {
            different.push(each);
        }
    }
    moments.flat_map(|moment| different.iter().map(move |what| Reading { what: *what, moment })).collect()
}

impl Reading {
    /// What an instrument without fault would show in the present solution of a car.
    pub fn value(&self, car: &Car) -> f64 {
        let runner = car.runner();
        let (network, state) = (&runner.network, &runner.state);
        match self.what {
            // the hottest of several alike is what a gauge on each of them finds
            What::Part(part) => {
                let above = car.case().view(&car.case().parts[part].values).given(&t::HOTTEST_ABOVE_MEAN);
                state.part_temperature(part) + above
            }
            What::Air(chamber) => state.chamber_temperature(chamber),
            What::Behind { passage, element, .. } => {
                let mut outlet = f64::NAN;
                network.follow(passage, &runner.load, state, |here, _, response| {
                    if here == element {
                        outlet = response.outlet;
                    }
                });
                outlet
            }
            What::OverExit { chamber, passage } => {
                let exit = network.passages[passage].elements.end - 1;
                let mut push = 0.0;
                network.follow_all(passage, &runner.load, state, |met, _, response| {
                    if matches!(met, Met::Element(element) if element == exit) {
                        push = response.push;
                    }
                });
                state.pressure(chamber) + push
            }
            What::Across { from, to } => state.pressure(from) - state.pressure(to),
        }
    }

    /// How well it is read: 9 times in 10 within (K or Pa).
    pub fn within(&self) -> f64 {
        match self.what {
            What::Part(_) => PART,
            What::Air(_) | What::Behind { .. } => AIR,
            What::OverExit { .. } | What::Across { .. } => PRESSURE,
        }
    }

    /// What an instrument might show: the value and an error of its own, by row and place in the list.
    pub fn with_error(&self, value: f64, seed: u64) -> f64 {
        let share = ((sobol::mix(seed) >> 11) as f64 + 0.5) / (1_u64 << 53) as f64;
        value + self.within() / normal::NINE_IN_TEN * normal::quantile(share)
    }

    /// Whether it is a temperature of a part.
    pub fn is_of_part(&self) -> bool {
        matches!(self.what, What::Part(_))
    }

    /// What the value taken would show, as it is printed (°C or Pa).
    pub fn shown(&self, value: f64) -> f64 {
        match self.what {
            What::Part(_) | What::Air(_) | What::Behind { .. } => value - ZERO_CELSIUS,
            What::OverExit { .. } | What::Across { .. } => value,
        }
    }

    /// "temperature", "air" or "pressure".
    pub fn kind(&self) -> &'static str {
        match self.what {
            What::Part(_) => "temperature",
            What::Air(_) | What::Behind { .. } => "air",
            What::OverExit { .. } | What::Across { .. } => "pressure",
        }
    }

    /// What is read, in words.
    pub fn name(&self, case: &Case) -> String {
        let chamber = |index: usize| &case.chambers[index].name;
        match self.what {
            What::Part(part) => {
                let named = &case.parts[part];
                match named.values.text(&t::MEASURED_AT) {
                    Some(spot) => format!("{}, {spot}", named.name),
                    None => named.name.clone(),
                }
            }
            What::Air(index) => format!("air in {}", chamber(index)),
            What::Behind { part, .. } => format!("air behind {}", case.parts[part].name),
            What::OverExit { chamber: index, passage } => {
                format!("U-tube across {} and outside at {}", chamber(index), case.passages[passage].name)
            }
            What::Across { from, to } => format!("U-tube across {} and {}", chamber(from), chamber(to)),
        }
    }

    /// How long it takes, on the road or standing, and with what and how (common practice, from memory).
    pub fn how(&self, on_the_road: bool) -> (&'static str, &'static str) {
        let gauge = if on_the_road { "half an hour and a drive" } else { "half an hour, standing" };
        let taps = if on_the_road { "an hour and a drive" } else { "an hour, standing" };
        match self.what {
            What::Part(_) => (
                gauge,
                "a thermocouple where the limit is measured, one on each of several alike: the hottest counts; held until it no longer climbs, ten minutes or so",
            ),
            What::Air(_) | What::Behind { .. } => (
                gauge,
                "a thermocouple in the middle of the stream, out of sight of hot metal; held until it no longer climbs",
            ),
            What::OverExit { .. } => (
                taps,
                "a hose with water in a U, one end in the chamber out of the draught, the other flush with the skin beside the exit: 10 mm is 98 Pa",
            ),
            What::Across { .. } => {
                (taps, "a hose with water in a U, one end in each, both out of the draught: 10 mm is 98 Pa")
            }
        }
    }
}
