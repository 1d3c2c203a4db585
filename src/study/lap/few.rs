//! A run in a few long steps, the same for every car: a first guess of where it leads, for what is known of a better one to
//! correct.

use super::given::{self, Given};
use super::march::March;
use super::pace::{self, Pace};
use super::record::Record;
use super::{StepGiven, StintRun};
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, tables as t};
use crate::network::{NetworkState, Unsolved};
use crate::point::{Model, Operation};

/// Long steps to a step of a stint; pieces to a lap by stopwatch or a recorded run.
const STEPS: usize = 2;
const PIECES: usize = 8;
/// The step with which a run begins, over which parts stay as they are (s).
const INSTANT: f64 = 1e-3;

/// The temperatures at the ends of the long steps.
#[derive(Clone, Debug, Default)]
pub struct FewSteps {
    /// Times from the beginning (s).
    pub time: Vec<f64>,
    /// Parts (°C), one by one.
    pub parts: Vec<Vec<f32>>,
    /// Chambers' air (°C).
    pub chambers: Vec<Vec<f32>>,
    /// When the run ended, what the car then stood left out (s).
    pub end: f64,
    /// What flows at the ends of the long steps, where that is not known of a car alike.
    states: Vec<NetworkState>,
    leaps: usize,
}

/// What a run is made of, as every car is to meet it.
#[derive(Clone, Debug)]
pub struct FewGiven {
    stint: usize,
    /// Of a lap by stopwatch and a recorded run: means over pieces of it, each with the time at which it ends.
    pieces: Vec<Pace>,
    /// How parts begin (K), whatever the car.
    begins: Vec<f64>,
    soak: Option<(usize, f64)>,
    /// What flows at the end of each long step with the values taken.
    alike: Vec<NetworkState>,
}

impl FewGiven {
    /// For a stint of a case with the values taken; none where it cannot be read.
    pub fn of(
        case: &Case,
        model: &Model,
        (stint, soak): (usize, Option<(usize, f64)>),
        record: Option<&Record>,
    ) -> Option<FewGiven> {
        let named = case.stints.get(stint)?;
        let given = given::read(case, model, named, record.cloned(), false).ok()?;
        let laps = case.view(&named.values).required(&t::LAPS).round().max(1.0);
        let mut pieces = Vec::new();
        if let StintRun::Moments { paces, .. } = &given.run {
            let lap = paces.last()?.time;
            for piece in 0..PIECES {
                let share = |place: usize| laps * lap * place as f64 / PIECES as f64;
                let (from, to) = (share(piece), share(piece + 1));
                // of several laps each piece is like the lap
                let mean = if laps > 1.0 { mean(paces, 0.0, lap) } else { mean(paces, from, to) };
                pieces.push(Pace { time: to, ..mean? });
            }
        }
        let begins = given::start(case, model, &named.values, &given, None).ok()?.temperatures;
        let mut few = FewGiven { stint, pieces, begins, soak, alike: Vec::new() };
        few.alike = few.follow(case, model)?.states;
        Some(few)
    }

    /// Follows a drawn car; none where it has no solution on the way.
    pub fn follow(&self, case: &Case, model: &Model) -> Option<FewSteps> {
        let stint = &case.stints[self.stint].values;
        let given = match self.pieces.is_empty() {
            true => given::read(case, model, &case.stints[self.stint], None, false).ok()?,
            false => {
                let (base, paces) = (pace::base(case, model, stint), self.pieces.clone());
                Given::of(StintRun::Moments { base, paces })
            }
        };
        let mut march = March::new(model, self.begins.clone());
        let mut seen = FewSteps {
            parts: vec![Vec::new(); case.parts.len()],
            chambers: vec![Vec::new(); case.chambers.len()],
            ..FewSteps::default()
        };
        self.march(case, model, &given.run, &mut march, &mut seen).ok()?;
        Some(seen)
    }

    fn march(
        &self,
        case: &Case,
        model: &Model,
        run: &StintRun,
        march: &mut March,
        seen: &mut FewSteps,
    ) -> Result<(), Unsolved> {
        seen.leap((self, march), &run.first(case, model), INSTANT)?;
        match run {
            StintRun::Steps(steps) => {
                let laps = case.view(&case.stints[self.stint].values).required(&t::LAPS).round().max(1.0);
                for _ in 0..laps as usize {
                    for step in steps {
                        let StepGiven { time, .. } = step;
                        seen.leaps((self, march), &step.operation(case, model), *time)?;
                    }
                }
            }
            StintRun::Moments { base, paces } => {
                let mut operation = base.clone();
                for pace in paces {
                    pace.blend(pace, 0.0, &mut operation);
                    let time = pace.time - march.time;
                    seen.leap((self, march), &operation, time)?;
                }
            }
        }
        seen.end = march.time;
        if let Some((condition, time)) = self.soak {
            let standing = Operation::of_condition(case, model, &case.conditions[condition].values);
            seen.leaps((self, march), &standing, time)?;
        }
        Ok(())
    }
}

impl FewSteps {
    /// The hottest of a part (°C).
    pub fn hottest(&self, part: usize) -> f64 {
        f64::from(self.parts[part].iter().copied().fold(f32::NEG_INFINITY, f32::max))
    }

    /// The long steps of a step of a stint.
    fn leaps(
        &mut self,
        (few, march): (&FewGiven, &mut March),
        operation: &Operation,
        time: f64,
    ) -> Result<(), Unsolved> {
        if operation.rpm <= 0.0 && operation.speed <= 0.0 {
            // air that hardly moves takes longer to find than all the rest, and what a soak adds is left to be learnt
            march.time += time;
            self.look(march);
            return Ok(());
        }
        (0..STEPS).try_for_each(|_| self.leap((few, march), operation, time / STEPS as f64))
    }

    fn leap(
        &mut self,
        (few, march): (&FewGiven, &mut March),
        operation: &Operation,
        time: f64,
    ) -> Result<(), Unsolved> {
        let alike = few.alike.get(self.leaps);
        march.leap(operation, time, alike)?;
        if alike.is_none() {
            self.states.push(march.solver.state.clone());
        }
        self.leaps += 1;
        self.look(march);
        Ok(())
    }

    fn look(&mut self, march: &March) {
        self.time.push(march.time);
        for (column, kelvin) in self.parts.iter_mut().zip(&march.temperature) {
            column.push((kelvin - ZERO_CELSIUS) as f32);
        }
        for (index, column) in self.chambers.iter_mut().enumerate() {
            column.push((march.solver.state.chamber_temperature(index) - ZERO_CELSIUS) as f32);
        }
    }
}

/// What a car does on average between two times, straight between its moments, until the second.
fn mean(paces: &[Pace], from: f64, to: f64) -> Option<Pace> {
    let mut sum = Pace { time: to, speed: 0.0, rpm: 0.0, load: 0.0 };
    for pair in paces.windows(2) {
        let (begun, end) = (pair[0].time.max(from), pair[1].time.min(to));
        if end <= begun {
            continue;
        }
        let weight = (end - begun) / (to - from);
        let share = (0.5 * (begun + end) - pair[0].time) / (pair[1].time - pair[0].time);
        let at = |one: f64, two: f64| weight * (one + share * (two - one));
        sum.speed += at(pair[0].speed, pair[1].speed);
        sum.rpm += at(pair[0].rpm, pair[1].rpm);
        sum.load += at(pair[0].load, pair[1].load);
    }
    (to > from).then_some(sum)
}
