//! Many cars at one set of sizes after another: the same draws of the guesses each time.

use super::super::Sizing;
use crate::case::Case;
use crate::draws::scramble::{SEED, Scramble};
use crate::draws::tally::SCRAMBLES;
use crate::draws::{Car, Guesses};
use crate::network::NetworkState;
use crate::point::budget::Budget;
use crate::point::ways::Ways;
use rayon::prelude::*;
use std::collections::HashMap;

/// Cars that are looked at side by side.
const LANES: usize = 2;
/// Draws looked at for a second steady state.
const PILOT: usize = 8;
/// What these may take after the first, in seconds of one core of a common machine.
const PILOT_SECONDS: f64 = 0.15;
/// What a part is taken to be short (K) where there is no steady state, or no car.
pub const NO_STATE: f64 = 1000.0;

/// A case that is looked at: the base, or one of its layouts.
#[derive(Clone, Copy, Debug)]
pub struct CaseShape<'s> {
    pub sizing: &'s Sizing<'s>,
    pub guesses: &'s Guesses,
}

/// A margin that is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MarginPlace {
    pub shape: usize,
    /// Its moment among those of its shape, and among all.
    pub moment: usize,
    pub of_all: usize,
    pub part: usize,
}

/// A draw, and the moments at which it is looked at.
#[derive(Clone, Copy, Debug)]
pub struct DrawAsked {
    pub draw: usize,
    /// By bit; from the 128th on all of them.
    pub moments: u128,
}

/// All moments.
pub const ALL: u128 = u128::MAX;

/// Where a draw's solutions begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// At the solution with the values taken, as `check` has it.
    Taken,
    /// As far off that as the same draw last lay, with other sizes.
    Last,
}

/// Cars that sit ready, one of each shape.
struct FleetLane<'s> {
    cars: Vec<Car<'s>>,
    /// The sizes that they have.
    at: Option<Vec<f64>>,
    point: Vec<f64>,
    /// How far the last solutions of its draws lay off those with the values taken: by draw of this lane, then moment.
    last: Vec<Vec<Option<NetworkState>>>,
}

/// Hears which share of the work is done, about, and says whether to go on.
pub type ShareTold<'t> = dyn Fn(f64) -> bool + Sync + 't;

/// Many cars.
pub struct SizingFleet<'s> {
    shapes: Vec<CaseShape<'s>>,
    lanes: Vec<FleetLane<'s>>,
    points: Vec<Scramble>,
    /// Of each shape and moment the ways in which the air settles.
    ways: Vec<Vec<Ways>>,
    places: Vec<MarginPlace>,
    changes: u64,
    /// Work with which what is under way ends.
    limit: u64,
    /// Whether any search ended at its budget.
    cut: bool,
    /// Who hears how far it is, and the work that is expected in all.
    told: Option<(&'s ShareTold<'s>, u64)>,
    stopped: bool,
    /// Work at which it stops by itself.
    end: u64,
}

/// Margins (K) row by row: one for each place, and last what the coldest part has over its lower limit.
pub struct MarginTable {
    width: usize,
    values: Vec<f64>,
}

impl MarginTable {
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

/// Draws of which several margins are asked for, each made and solved once.
struct Once {
    draws: Vec<DrawAsked>,
    /// Where the draw of each that is asked for stands among them.
    of: Vec<usize>,
}

impl Once {
    fn of(asked: &[DrawAsked]) -> Once {
        let mut draws: Vec<DrawAsked> = Vec::with_capacity(asked.len());
        let mut known: HashMap<usize, usize> = HashMap::with_capacity(asked.len());
        let of = asked.iter().map(|each| {
            let place = *known.entry(each.draw).or_insert(draws.len());
            match draws.get_mut(place) {
                Some(draw) => draw.moments |= each.moments,
                None => draws.push(*each),
            }
            place
        });
        let of = of.collect();
        Once { draws, of }
    }

    /// A row for each that is asked for, without the moments that only another asks for.
    fn for_each(
        &self,
        asked: &[DrawAsked],
        places: &[MarginPlace],
        width: usize,
        values: Vec<f64>,
    ) -> Vec<f64> {
        if self.draws.len() == asked.len() {
            return values;
        }
        let mut rows = Vec::with_capacity(width * asked.len());
        for (each, place) in asked.iter().zip(&self.of) {
            let row = &values[place * width..][..width];
            let wanted = |place: &MarginPlace| place.of_all >= 128 || each.moments >> place.of_all & 1 == 1;
            rows.extend(
                places
                    .iter()
                    .zip(row)
                    .map(|(place, margin)| if wanted(place) { *margin } else { f64::INFINITY }),
            );
            rows.extend(row.last());
        }
        rows
    }
}

impl<'s> SizingFleet<'s> {
    /// Cars of all shapes at sizes; none where one cannot be made ready or nothing is guessed.
    pub fn new(shapes: &[CaseShape<'s>], point: &[f64]) -> Option<SizingFleet<'s>> {
        let dimensions = shapes.first()?.guesses.dimensions;
        if shapes.iter().all(|shape| shape.guesses.is_empty()) {
            return None;
        }
        let mut places = Vec::new();
        let mut of_all = 0;
        for (shape, looked) in shapes.iter().enumerate() {
            for moment in 0..looked.sizing.at.len() {
                let parts = 0..looked.sizing.case.parts.len();
                places.extend(parts.map(|part| MarginPlace { shape, moment, of_all, part }));
                of_all += 1;
            }
        }
        let lane = || -> Option<FleetLane<'s>> {
            let cars = shapes.iter().map(|shape| {
                let case = shape.sizing.at_point(point);
                Car::at(&case, shape.guesses, shape.sizing.at.clone())
            });
            let cars: Vec<Car<'s>> = cars.collect::<Option<_>>()?;
            Some(FleetLane { cars, at: Some(point.to_vec()), point: vec![0.0; dimensions], last: Vec::new() })
        };
        let lanes = (0..LANES).map(|_| lane()).collect::<Option<Vec<_>>>()?;
        let points = (0..SCRAMBLES).map(|number| Scramble::new(dimensions, SEED, number)).collect();
        let ways = shapes.iter().map(|shape| vec![Ways::default(); shape.sizing.at.len()]).collect();
        let mut fleet = SizingFleet {
            shapes: shapes.to_vec(),
            lanes,
            points,
            ways,
            places,
            changes: 0,
            limit: u64::MAX,
            cut: false,
            told: None,
            stopped: false,
            end: u64::MAX,
        };
        fleet.look_for_second_states(point)?;
        Some(fleet)
    }

    /// Somebody hears how far it is, of so much work, and may stop it.
    pub fn tell(&mut self, told: &'s ShareTold<'s>, work: u64) {
        self.told = Some((told, self.work() + work));
    }

    /// Stops by itself once so much work is done from now on: draws without a steady state take far longer than was
    /// reckoned with.
    pub fn end_within(&mut self, budget: Budget) {
        self.end = self.work().saturating_add(budget.left());
    }

    /// Whether it was stopped: nothing is looked at any more.
    pub fn was_stopped(&self) -> bool {
        self.stopped
    }

    /// The margins in a row, in their order.
    pub fn places(&self) -> &[MarginPlace] {
        &self.places
    }

    pub fn shape(&self, index: usize) -> CaseShape<'s> {
        self.shapes[index]
    }

    /// Work done, in visits of an element.
    pub fn work(&self) -> u64 {
        self.changes + self.lanes.iter().map(FleetLane::work).sum::<u64>()
    }

    /// From now on a search ends when so much work is done, all told; single looks are still had.
    pub fn until(&mut self, work: u64) {
        self.limit = work;
    }

    /// Whether a search is to end with what it has.
    pub fn is_spent(&mut self) -> bool {
        let spent = self.work() >= self.limit;
        self.cut |= spent;
        spent
    }

    /// Whether any search ended at its budget.
    pub fn was_cut(&self) -> bool {
        self.cut
    }

    /// Where a part may settle in two ways the hotter counts from now on; sought in fewer draws where these take long.
    pub fn look_for_second_states(&mut self, point: &[f64]) -> Option<()> {
        let SizingFleet { shapes, lanes, points, ways, .. } = self;
        let lane = &mut lanes[0];
        lane.change(shapes, point)?;
        let begun = lane.work();
        let within = Budget::seconds(PILOT_SECONDS);
        for draw in 0..PILOT {
            if draw > 0 && !within.allows(lane.work() - begun) {
                break;
            }
            if !lane.take(points, draw) {
                continue;
            }
            for (car, ways) in lane.cars.iter_mut().zip(&mut *ways) {
                for (moment, ways) in ways.iter_mut().enumerate() {
                    if car.solve(moment) {
                        ways.add(car.ways());
                    }
                }
            }
        }
        Some(())
    }

    /// The first so many draws at all moments.
    pub fn all(&mut self, point: &[f64], draws: usize, from: From) -> Option<MarginTable> {
        let asked: Vec<DrawAsked> = (0..draws).map(|draw| DrawAsked { draw, moments: ALL }).collect();
        self.look(point, &asked, from)
    }

    /// What is asked at sizes; none where the case is refused there, or where it was stopped. Moments that are not asked for have no end of
    /// margin.
    pub fn look(&mut self, point: &[f64], asked: &[DrawAsked], from: From) -> Option<MarginTable> {
        if let Some((told, all)) = self.told {
            // the end is told by whoever is through
            let share = (self.work() as f64 / all.max(1) as f64).min(0.99);
            self.stopped = self.stopped || !told(share);
        }
        self.stopped |= self.work() >= self.end;
        if self.stopped {
            return None;
        }
        let once = Once::of(asked);
        let SizingFleet { shapes, lanes, points, ways, places, changes, .. } = self;
        let width = places.len() + 1;
        let making: u64 = shapes.iter().map(|shape| crate::point::budget::making(shape.sizing.case)).sum();
        *changes += making * LANES as u64;
        let moments = ways.iter().map(Vec::len).sum();
        let found: Vec<Option<Vec<f64>>> = lanes
            .par_iter_mut()
            .enumerate()
            .map(|(index, lane)| {
                let own = once.draws.iter().filter(|each| each.draw % LANES == index);
                lane.change(shapes, point)?;
                let mut values = vec![f64::INFINITY; width * own.clone().count()];
                for (each, row) in own.zip(values.chunks_exact_mut(width)) {
                    if lane.take(points, each.draw) {
                        lane.read(ways, moments, *each, from, row);
                    } else {
                        row.fill(-NO_STATE);
                    }
                }
                Some(values)
            })
            .collect();
        // back into the order in which they were asked for
        let found = found.into_iter().collect::<Option<Vec<_>>>()?;
        let mut rows: Vec<_> = found.iter().map(|values| values.chunks_exact(width)).collect();
        let values = once.draws.iter().flat_map(|each| rows[each.draw % LANES].next()).flatten().copied();
        let values: Vec<f64> = values.collect();
        Some(MarginTable { width, values: once.for_each(asked, places, width, values) })
    }

    /// Where a draw has every guess, 0 to 1.
    pub fn point_of(&self, draw: usize, coordinates: &mut [f64]) {
        self.points[draw % SCRAMBLES].point((draw / SCRAMBLES) as u32, coordinates);
    }
}

impl FleetLane<'_> {
    fn work(&self) -> u64 {
        self.cars.iter().map(Car::work).sum()
    }

    fn change(&mut self, shapes: &[CaseShape], point: &[f64]) -> Option<()> {
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
    fn take(&mut self, points: &[Scramble], draw: usize) -> bool {
        let FleetLane { cars, point, .. } = self;
        let all = |point: &[f64]| cars.iter_mut().try_for_each(|car| car.take(point).map(|_| ()));
        points[draw % SCRAMBLES].take((draw / SCRAMBLES) as u32, point, all).0.is_ok()
    }

    /// Margins of the draw taken, at `all` moments those that are asked for.
    fn read(&mut self, ways: &[Vec<Ways>], all: usize, asked: DrawAsked, from: From, row: &mut [f64]) {
        let place = asked.draw / LANES;
        if self.last.len() <= place {
            self.last.resize(place + 1, Vec::new());
        }
        let states = &mut self.last[place];
        states.resize(all, None);
        let coldest = row.len() - 1;
        let (mut first, mut of_all) = (0, 0);
        for (car, ways) in self.cars.iter_mut().zip(ways) {
            let parts = car.parts();
            for (moment, ways) in ways.iter().enumerate() {
                let margins = first..first + parts;
                let wanted = of_all >= 128 || asked.moments >> of_all & 1 == 1;
                let state = &mut states[of_all];
                (first, of_all) = (first + parts, of_all + 1);
                if !wanted {
                    continue;
                }
                let found = match (&*state, from) {
                    (Some(off), From::Last) => car.solve_off(moment, off),
                    _ => car.solve(moment),
                };
                if !found {
                    row[margins].fill(-NO_STATE);
                    continue;
                }
                car.keep_off(moment, state);
                for (part, margin) in row[margins.clone()].iter_mut().enumerate() {
                    *margin = car.margin(part).max(-NO_STATE);
                }
                if car.is_warm(moment) {
                    let over = (0..parts).map(|part| car.over_least(part));
                    row[coldest] = over.fold(row[coldest], f64::min);
                }
                if !ways.is_one() {
                    car.hotter(*ways, &mut row[margins]);
                }
            }
        }
    }
}
