//! Watches a march: peaks between the steps, seconds over a limit, the course for the chart.

use super::march::Stride;
use super::result::TemperatureCourse;
use crate::air::ZERO_CELSIUS;
use crate::network::PassageEnd;
use crate::point::model::Model;
use crate::point::solver::PointSolver;

/// The highest value of something, and when.
#[derive(Clone, Copy, Debug)]
pub struct Peak {
    /// Temperature (K).
    pub temperature: f64,
    /// Time (s).
    pub time: f64,
    /// Road speed then (m/s).
    pub speed: f64,
    /// The step in which it came.
    pub step: usize,
}

impl Peak {
    const NONE: Peak = Peak { temperature: f64::NEG_INFINITY, time: 0.0, speed: 0.0, step: 0 };

    fn take(&mut self, temperature: f64, time: f64, speed: f64, step: usize) {
        if temperature > self.temperature {
            *self = Peak { temperature, time, speed, step };
        }
    }
}

/// Something watched against a limit.
#[derive(Clone, Copy, Debug)]
pub struct Watched {
    /// Its limit (K); infinite where it has none.
    pub limit: f64,
    /// Highest over all.
    pub peak: Peak,
    /// Highest in the present step (K).
    pub step_peak: f64,
    /// Highest in the present lap (K).
    pub lap_peak: f64,
    /// How long over the limit (s).
    pub over: f64,
    /// When it first stood over its limit (s).
    pub first_over: Option<f64>,
    /// Its lower limit (K); infinite where it has none.
    pub least: f64,
    /// When it was first warmer than its lower limit (s).
    pub first_warm: Option<f64>,
    /// Present temperature (K).
    pub now: f64,
}

impl Watched {
    fn new(limit: f64, least: Option<f64>) -> Watched {
        Watched {
            limit,
            least: least.unwrap_or(f64::INFINITY),
            first_warm: None,
            peak: Peak::NONE,
            step_peak: f64::NEG_INFINITY,
            lap_peak: f64::NEG_INFINITY,
            over: 0.0,
            first_over: None,
            now: f64::NAN,
        }
    }

    fn top(&mut self, temperature: f64, time: f64, speed: f64, step: usize) {
        self.step_peak = self.step_peak.max(temperature);
        self.lap_peak = self.lap_peak.max(temperature);
        self.peak.take(temperature, time, speed, step);
    }

    fn at(&mut self, temperature: f64, time: f64, speed: f64, step: usize) {
        self.now = temperature;
        self.top(temperature, time, speed, step);
        if temperature > self.limit && self.first_over.is_none() {
            self.first_over = Some(time);
        }
        if temperature >= self.least && self.first_warm.is_none() {
            self.first_warm = Some(time);
        }
    }
}

/// Heat that a part was given and what came of it (J).
#[derive(Clone, Copy, Debug, Default)]
pub struct Energy {
    /// Given to it by the engine.
    pub taken: f64,
    /// Given by it to air and chamber.
    pub given: f64,
}

/// Everything that is watched.
#[derive(Clone, Debug)]
pub struct LapWatch {
    pub parts: Vec<Watched>,
    /// Chambers' air.
    pub chambers: Vec<Watched>,
    /// The air at the carburettor.
    pub carburettor: Option<Watched>,
    /// Energy of each part.
    pub energy: Vec<Energy>,
    pub course: TemperatureCourse,
    /// Part temperatures at the start (K).
    pub start: Vec<f64>,
    before: Vec<(f64, f64)>,
    intake: Vec<usize>,
    speed: f64,
    step: usize,
    keep: bool,
}

impl LapWatch {
    /// A watch over a model's parts and over its chambers with their limits (K). `keep` the course.
    pub fn new(model: &Model, chamber_limits: &[Option<f64>], keep: bool) -> LapWatch {
        let parts: Vec<Watched> =
            model.network.parts.iter().map(|p| Watched::new(p.limit, p.least)).collect();
        let chambers: Vec<Watched> =
            chamber_limits.iter().map(|limit| Watched::new(limit.unwrap_or(f64::INFINITY), None)).collect();
        let passages = model.network.passages.iter().enumerate();
        let intake: Vec<usize> =
            passages.filter(|(_, p)| p.to == PassageEnd::Engine).map(|(i, _)| i).collect();
        LapWatch {
            energy: vec![Energy::default(); parts.len()],
            before: vec![(0.0, 0.0); parts.len()],
            start: vec![f64::NAN; parts.len()],
            course: TemperatureCourse {
                parts: vec![Vec::new(); parts.len()],
                chambers: vec![Vec::new(); chambers.len()],
                ..TemperatureCourse::default()
            },
            carburettor: (!intake.is_empty()).then(|| Watched::new(f64::INFINITY, None)),
            parts,
            chambers,
            intake,
            speed: 0.0,
            step: 0,
            keep,
        }
    }

    pub fn begin_lap(&mut self) {
        self.parts.iter_mut().for_each(|part| part.lap_peak = f64::NEG_INFINITY);
    }

    /// Begins a step, at the moment that a march has turned to.
    pub fn begin(&mut self, step: usize, time: f64, temperature: &[f64], solver: &PointSolver) {
        self.step = step;
        self.speed = solver.free_stream.speed;
        for (watched, temperature) in self.parts.iter_mut().zip(temperature) {
            watched.step_peak = f64::NEG_INFINITY;
            watched.at(*temperature, time, self.speed, step);
        }
        for (part, before) in self.before.iter_mut().enumerate() {
            *before = exchange(solver, part, temperature[part]);
        }
        for chamber in &mut self.chambers {
            chamber.step_peak = f64::NEG_INFINITY;
        }
        self.air(time, solver);
        self.record(time, solver);
    }

    fn air(&mut self, time: f64, solver: &PointSolver) {
        let speed = solver.free_stream.speed;
        for (index, chamber) in self.chambers.iter_mut().enumerate() {
            chamber.at(solver.state.chamber_temperature(index), time, speed, self.step);
        }
        if let Some(carburettor) = &mut self.carburettor {
            let (mut heat, mut flow) = (0.0, 0.0);
            for index in &self.intake {
                let here = solver.state.flow[*index].abs();
                solver.network.follow(*index, &solver.boundary, &solver.state, |_, _, response| {
                    carburettor.now = response.outlet;
                });
                heat += here * carburettor.now;
                flow += here;
            }
            let mean = if flow > 0.0 { heat / flow } else { carburettor.now };
            carburettor.at(mean, time, speed, self.step);
        }
    }

    fn record(&mut self, time: f64, solver: &PointSolver) {
        if !self.keep {
            return;
        }
        self.course.time.push(time);
        self.course.speed.push(solver.free_stream.speed as f32);
        for (column, part) in self.course.parts.iter_mut().zip(&self.parts) {
            column.push((part.now - ZERO_CELSIUS) as f32);
        }
        for (column, chamber) in self.course.chambers.iter_mut().zip(&self.chambers) {
            column.push((chamber.now - ZERO_CELSIUS) as f32);
        }
    }

    /// Takes up a stride.
    pub fn see(&mut self, stride: &Stride) {
        let time = stride.from + stride.length;
        let speed = stride.solver.free_stream.speed;
        for (part, watched) in self.parts.iter_mut().enumerate() {
            let (from, to) = (stride.before[part], stride.after[part]);
            let (rate, end_rate) = (stride.rate_before[part], stride.rate_after[part]);
            let bend = (end_rate - rate) / stride.length;
            if rate > 0.0 && end_rate < 0.0 {
                let at = -rate / bend;
                let top = from + 0.5 * rate * at;
                let share = at / stride.length;
                watched.top(top, stride.from + at, self.speed + share * (speed - self.speed), self.step);
            }
            let (first, over) = over_limit(from - watched.limit, rate, bend, stride.length);
            watched.over += over;
            if let (Some(first), None) = (first, watched.first_over) {
                watched.first_over = Some(stride.from + first);
            }
            if watched.first_warm.is_none() && watched.least.is_finite() {
                let (warm, _) = over_limit(from - watched.least, rate, bend, stride.length);
                watched.first_warm = warm.map(|warm| stride.from + warm);
            }
            watched.at(to, time, speed, self.step);
            let (before, after) = (self.before[part], exchange(stride.solver, part, to));
            self.energy[part].taken += 0.5 * stride.length * (before.0 + after.0);
            self.energy[part].given += 0.5 * stride.length * (before.1 + after.1);
            self.before[part] = after;
        }
        for (index, chamber) in self.chambers.iter_mut().enumerate() {
            let (from, to) =
                (chamber.now - chamber.limit, stride.solver.state.chamber_temperature(index) - chamber.limit);
            chamber.over += stride.length * share_above(from, to);
        }
        self.air(time, stride.solver);
        self.speed = speed;
        self.record(time, stride.solver);
    }
}

/// Share of a straight line from `from` to `to` that lies above zero.
fn share_above(from: f64, to: f64) -> f64 {
    match (from > 0.0, to > 0.0) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        (true, false) => from / (from - to),
        (false, true) => to / (to - from),
    }
}

/// When within `length` (s) a part first stands over its limit, and how long: its distance `over` (K) to
/// the limit runs as over + rate s + ½ bend s².
fn over_limit(over: f64, rate: f64, bend: f64, length: f64) -> (Option<f64>, f64) {
    let end = over + length * (rate + 0.5 * bend * length);
    let top = if rate > 0.0 && rate + bend * length < 0.0 {
        over - 0.5 * rate * rate / bend
    } else {
        over.max(end)
    };
    if top <= 0.0 {
        return (None, 0.0);
    }
    // roots of ½ bend s² + rate s + over, without cancellation
    let mut crossings = [0.0, length, length, length];
    let mut count = 1;
    let discriminant = rate * rate - 2.0 * bend * over;
    if discriminant >= 0.0 {
        let sum = -(rate + discriminant.sqrt().copysign(rate));
        let mut roots = [sum / bend, 2.0 * over / sum];
        if roots[0] > roots[1] {
            roots.swap(0, 1);
        }
        for root in roots {
            if root > 0.0 && root < length {
                crossings[count] = root;
                count += 1;
            }
        }
    }
    crossings[count] = length;
    let mut time = 0.0;
    let mut first = None;
    for pair in crossings[..=count].windows(2) {
        let middle = 0.5 * (pair[0] + pair[1]);
        if over + middle * (rate + 0.5 * bend * middle) > 0.0 {
            time += pair[1] - pair[0];
            first = first.or(Some(pair[0]));
        }
    }
    (first, time)
}

/// Heat that a part takes from the engine, and gives to air and chamber (W).
fn exchange(solver: &PointSolver, part: usize, temperature: f64) -> (f64, f64) {
    let law = &solver.network.parts[part];
    let taken = law.heat_taken(solver.boundary.part_heat[part], temperature).0;
    (taken, solver.given_by(part))
}

#[cfg(test)]
mod tests {
    use super::over_limit;

    #[test]
    fn time_over_a_limit_on_a_parabola() {
        // −3 + 4 s − s²: over between 1 and 3
        let (first, time) = over_limit(-3.0, 4.0, -2.0, 10.0);
        assert!((first.unwrap_or(f64::NAN) - 1.0).abs() < 1e-12 && (time - 2.0).abs() < 1e-12);
        // cut off at 2
        assert!((over_limit(-3.0, 4.0, -2.0, 2.0).1 - 1.0).abs() < 1e-12);
        // from over to under and over again: 3 − 4 s + s²
        let (first, time) = over_limit(3.0, -4.0, 2.0, 5.0);
        assert_eq!(first, Some(0.0));
        assert!((time - 3.0).abs() < 1e-12);
        // a straight line, and none at all
        assert_eq!(over_limit(-1.0, 1.0, 0.0, 4.0), (Some(1.0), 3.0));
        assert_eq!(over_limit(-1.0, 0.0, 0.0, 4.0), (None, 0.0));
        assert_eq!(over_limit(1.0, 0.0, 0.0, 4.0), (Some(0.0), 4.0));
    }
}
