//! Many cars at one set of sizes after another: the same draws of the guesses each time.

use super::super::Sizing;
use crate::case::Case;
use crate::numerics::sobol::Sobol;
use crate::study::doubt::draws::{SCRAMBLES, seed_of};
use crate::study::doubt::{Car, Guesses};
use rayon::prelude::*;

/// Cars that are looked at side by side.
const LANES: usize = 4;
/// Solutions for which one more car is worth its making.
const WORTH_A_LANE: usize = 150;
/// So often another point is taken for a draw that is no car.
const AGAIN: usize = 8;
/// Draws looked at for a second steady state.
const PILOT: usize = 8;
/// What a part is taken to be short (K) where there is no steady state, or no car.
pub const NO_STATE: f64 = 1000.0;
/// Seed of the points: that of `check`.
const SEED: u64 = 1;

/// A case that is looked at: the base, or one of its layouts.
#[derive(Clone, Copy, Debug)]
pub struct Shape<'s> {
    pub sizing: &'s Sizing<'s>,
    pub guesses: &'s Guesses,
}

/// A margin that is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    pub shape: usize,
    /// Its moment among those of its shape, and among all.
    pub moment: usize,
    pub of_all: usize,
    pub part: usize,
}

/// A draw, and the moments at which it is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Asked {
    pub draw: usize,
    /// By bit; from the 128th on all of them.
    pub moments: u128,
}

/// All moments.
pub const ALL: u128 = u128::MAX;

/// Cars that sit ready, one of each shape.
struct Lane<'s> {
    cars: Vec<Car<'s>>,
    /// The sizes that they have.
    at: Option<Vec<f64>>,
    point: Vec<f64>,
}

/// Many cars.
pub struct Fleet<'s> {
    shapes: Vec<Shape<'s>>,
    lanes: Vec<Lane<'s>>,
    sobols: Vec<[Sobol; AGAIN + 1]>,
    /// Of each shape, the moments in which a second steady state turns up.
    twofold: Vec<Vec<bool>>,
    places: Vec<Place>,
    changes: u64,
}

/// Margins (K) row by row: one for each place, and last what the coldest part has over its lower limit.
pub struct Table {
    width: usize,
    values: Vec<f64>,
}

impl Table {
    pub fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.values.chunks_exact(self.width)
    }

    pub fn row(&self, index: usize) -> &[f64] {
        &self.values[index * self.width..][..self.width]
    }

    pub fn count(&self) -> usize {
        self.values.len() / self.width
    }
}

impl<'s> Fleet<'s> {
    /// Cars of all shapes at sizes; none where one cannot be made ready or nothing is guessed.
    pub fn new(shapes: &[Shape<'s>], point: &[f64]) -> Option<Fleet<'s>> {
        let dimensions = shapes.first()?.guesses.dimensions;
        if shapes.iter().all(|shape| shape.guesses.is_empty()) {
            return None;
        }
        let mut places = Vec::new();
        let mut of_all = 0;
        for (shape, looked) in shapes.iter().enumerate() {
            for moment in 0..looked.sizing.at.len() {
                let parts = 0..looked.sizing.case.parts.len();
                places.extend(parts.map(|part| Place { shape, moment, of_all, part }));
                of_all += 1;
            }
        }
        let lane = || -> Option<Lane<'s>> {
            let cars = shapes.iter().map(|shape| {
                let case = shape.sizing.at_point(point);
                Car::at(&case, shape.guesses, shape.sizing.at.clone())
            });
            let cars: Vec<Car<'s>> = cars.collect::<Option<_>>()?;
            Some(Lane { cars, at: Some(point.to_vec()), point: vec![0.0; dimensions] })
        };
        let lanes = (0..LANES).map(|_| lane()).collect::<Option<Vec<_>>>()?;
        let sobols = (0..SCRAMBLES)
            .map(|scramble| {
                std::array::from_fn(|attempt| Sobol::new(dimensions, seed_of(SEED, scramble, attempt as u64)))
            })
            .collect();
        let twofold = shapes.iter().map(|shape| vec![false; shape.sizing.at.len()]).collect();
        let mut fleet = Fleet { shapes: shapes.to_vec(), lanes, sobols, twofold, places, changes: 0 };
        fleet.look_for_second_states(point)?;
        Some(fleet)
    }

    /// The margins in a row, in their order.
    pub fn places(&self) -> &[Place] {
        &self.places
    }

    pub fn shape(&self, index: usize) -> Shape<'s> {
        self.shapes[index]
    }

    /// Work done, in visits of an element.
    pub fn work(&self) -> u64 {
        self.changes + self.lanes.iter().flat_map(|lane| &lane.cars).map(Car::work).sum::<u64>()
    }

    /// Where a part may settle in two ways the hotter counts from now on.
    pub fn look_for_second_states(&mut self, point: &[f64]) -> Option<()> {
        let Fleet { shapes, lanes, sobols, twofold, .. } = self;
        let lane = &mut lanes[0];
        lane.change(shapes, point)?;
        for draw in 0..PILOT {
            if !lane.take(sobols, draw) {
                continue;
            }
            for (car, twofold) in lane.cars.iter_mut().zip(&mut *twofold) {
                for (moment, twofold) in twofold.iter_mut().enumerate() {
                    *twofold = *twofold || (car.solve(moment) && car.has_other_state());
                }
            }
        }
        Some(())
    }

    /// The first so many draws at all moments.
    pub fn all(&mut self, point: &[f64], draws: usize) -> Option<Table> {
        let asked: Vec<Asked> = (0..draws).map(|draw| Asked { draw, moments: ALL }).collect();
        self.look(point, &asked)
    }

    /// What is asked at sizes; none where the case is refused there. Moments that are not asked for have no end of
    /// margin.
    pub fn look(&mut self, point: &[f64], asked: &[Asked]) -> Option<Table> {
        let Fleet { shapes, lanes, sobols, twofold, places, changes } = self;
        let width = places.len() + 1;
        let moments: u32 = twofold.iter().map(|each| each.len() as u32).sum();
        let solutions: usize =
            asked.iter().map(|each| each.moments.count_ones().min(moments) as usize).sum();
        let used = (solutions / WORTH_A_LANE).clamp(1, lanes.len());
        let share = asked.len().div_ceil(used).max(1);
        let making: u64 = shapes.iter().map(|shape| crate::study::budget::making(shape.sizing.case)).sum();
        *changes += making * used as u64;
        let found: Vec<Option<Vec<f64>>> = lanes[..used]
            .par_iter_mut()
            .zip(asked.par_chunks(share))
            .map(|(lane, asked)| {
                lane.change(shapes, point)?;
                let mut values = vec![f64::INFINITY; width * asked.len()];
                for (each, row) in asked.iter().zip(values.chunks_exact_mut(width)) {
                    if lane.take(sobols, each.draw) {
                        lane.read(twofold, each.moments, row);
                    } else {
                        row.fill(-NO_STATE);
                    }
                }
                Some(values)
            })
            .collect();
        let values = found.into_iter().collect::<Option<Vec<_>>>()?.concat();
        Some(Table { width, values })
    }

    /// Where a draw has every guess, 0 to 1.
    pub fn point_of(&self, draw: usize, coordinates: &mut [f64]) {
        self.sobols[draw % SCRAMBLES][0].point((draw / SCRAMBLES) as u32, coordinates);
    }
}

impl Lane<'_> {
    fn change(&mut self, shapes: &[Shape], point: &[f64]) -> Option<()> {
        if self.at.as_deref() == Some(point) {
            return Some(());
        }
        self.at = None;
        for (car, shape) in self.cars.iter_mut().zip(shapes) {
            car.change(&|case: &mut Case| shape.sizing.set(case, point)).ok()?;
        }
        self.at = Some(point.to_vec());
        Some(())
    }

    /// Makes the cars those of a draw; whether they are any.
    fn take(&mut self, sobols: &[[Sobol; AGAIN + 1]], draw: usize) -> bool {
        sobols[draw % SCRAMBLES].iter().any(|sobol| {
            sobol.point((draw / SCRAMBLES) as u32, &mut self.point);
            self.cars.iter_mut().all(|car| car.take(&self.point).is_ok())
        })
    }

    fn read(&mut self, twofold: &[Vec<bool>], moments: u128, row: &mut [f64]) {
        let last = row.len() - 1;
        let (mut first, mut of_all) = (0, 0);
        for (car, twofold) in self.cars.iter_mut().zip(twofold) {
            let parts = car.parts();
            for (moment, twofold) in twofold.iter().enumerate() {
                let margins = first..first + parts;
                let asked = of_all >= 128 || moments >> of_all & 1 == 1;
                (first, of_all) = (first + parts, of_all + 1);
                if !asked {
                    continue;
                }
                if !car.solve(moment) {
                    row[margins].fill(-NO_STATE);
                    continue;
                }
                for (part, margin) in row[margins.clone()].iter_mut().enumerate() {
                    *margin = car.margin(part).max(-NO_STATE);
                }
                if car.is_warm(moment) {
                    let over = (0..parts).map(|part| car.over_least(part));
                    row[last] = over.fold(row[last], f64::min);
                }
                if *twofold {
                    car.hotter(&mut row[margins]);
                }
            }
        }
    }
}
