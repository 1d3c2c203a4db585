//! Part temperatures in time, the air quasi-steady at every moment.
//!
//! ```text
//!   C dT/dt = Q(T) − heat given to the air and the chamber
//! ```
//!
//! is stepped by the trapezoidal rule, solved together with the whole network:
//!
//! ```text
//!   2C/h (T₁ − T₀) = f₀ + f₁,   f the net heat of a part (W)
//! ```
//!
//! which is the steady network with a conductance 2C/h from each part to T₀ + f₀ h/2C. The rule is of the
//! second order and stable for any step (Dahlquist 1963); what a part takes and gives over a step adds up to
//! what it stores, so that energy closes whatever the step. A step is taken again, shorter, where the first
//! order would have been off by more than [`FIRST_ORDER`]: the rule's own error is then far smaller.

use crate::network::{NetworkState, Unsolved};
use crate::point::budget::Budget;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::solver::PointSolver;

/// Most that the first-order step may differ from the one taken (K). A body that nears its end exponentially is
/// then never off by more than a sixth of this: its error a step is h³T‴/12, the difference h²T″/2.
pub const FIRST_ORDER: f64 = 0.01;
/// Shortest step (s).
const SHORTEST: f64 = 1e-5;
/// Visits that taking up a moment is worth.
const READING: u64 = 60;
/// Time over which parts are held to find what flows at given temperatures (s).
const INSTANT: f64 = 1e-3;

/// One step that was taken: temperatures run as T₀ + f₀ s/C + (f₁ − f₀) s²/(2 h C).
#[derive(Debug)]
pub struct Stride<'a> {
    /// Its beginning, from the start of the march (s).
    pub from: f64,
    /// How long it lasts (s).
    pub length: f64,
    /// Part temperatures at its beginning (K).
    pub before: &'a [f64],
    /// Part temperatures at its end (K).
    pub after: &'a [f64],
    /// Net heat over heat capacity at its beginning (K/s).
    pub rate_before: &'a [f64],
    /// Net heat over heat capacity at its end (K/s).
    pub rate_after: &'a [f64],
    /// The solution at its end.
    pub solver: &'a PointSolver,
}

/// A march through time.
#[derive(Clone, Debug)]
pub struct March<'a> {
    model: &'a Model,
    /// The solution at the present moment.
    pub solver: PointSolver,
    capacity: Vec<f64>,
    /// The present time, from the start (s).
    pub time: f64,
    /// Part temperatures now (K).
    pub temperature: Vec<f64>,
    /// Rates now (K/s).
    rate: Vec<f64>,
    next_temperature: Vec<f64>,
    next_rate: Vec<f64>,
    step: f64,
    /// Most that the first-order step may differ from the one taken (K).
    pub first_order: f64,
    /// Operating points solved so far.
    pub solved: usize,
    /// Work that it may do.
    pub allowance: Budget,
}

impl<'a> March<'a> {
    /// A march from part temperatures (K); all parts need a heat capacity.
    pub fn new(model: &'a Model, temperature: Vec<f64>) -> March<'a> {
        let count = temperature.len();
        let capacity = model.network.parts.iter().map(|p| p.heat_capacity.unwrap_or(f64::NAN)).collect();
        March {
            model,
            solver: PointSolver::new(model),
            capacity,
            time: 0.0,
            temperature,
            rate: vec![0.0; count],
            next_temperature: vec![0.0; count],
            next_rate: vec![0.0; count],
            step: 1.0,
            first_order: FIRST_ORDER,
            solved: 0,
            allowance: Budget::of(u64::MAX),
        }
    }

    /// Work done so far, in visits of an element.
    pub fn work(&self) -> u64 {
        self.solver.work() + self.solved as u64 * READING
    }

    /// Whether the work that it may do is done.
    pub fn spent(&self) -> bool {
        !self.allowance.allows(self.work())
    }

    /// The steady state at a moment, from one that is near where one is known.
    ///
    /// # Errors
    /// [`Unsolved`] where there is none to be found.
    pub fn steady(
        model: &Model,
        operation: &Operation,
        near: Option<&NetworkState>,
    ) -> Result<NetworkState, Unsolved> {
        let mut solver = PointSolver::new(model);
        solver.prepare(model, operation);
        match near {
            Some(near) => solver.solve_from(near)?,
            None => solver.solve()?,
        }
        Ok(solver.state)
    }

    /// Takes up a moment that does not go on from the one before: what flows at the present temperatures.
    ///
    /// # Errors
    /// [`Unsolved`] where the network has no solution there.
    pub fn turn_to(&mut self, operation: &Operation) -> Result<(), Unsolved> {
        self.solver.prepare(self.model, operation);
        for (part, held) in self.solver.boundary.held.iter_mut().enumerate() {
            *held = (self.capacity[part] / INSTANT, self.temperature[part]);
        }
        self.solve()?;
        for (part, rate) in self.rate.iter_mut().enumerate() {
            *rate = (self.solver.state.part_temperature(part) - self.temperature[part]) / INSTANT;
        }
        self.step = self.step.min(1.0);
        Ok(())
    }

    /// Marches on for `duration` (s). `set` puts into an operation what the car does at a share 0..1 of
    /// it; `seen` is shown every step.
    ///
    /// # Errors
    /// [`Unsolved`] where the network has no solution on the way.
    pub fn advance(
        &mut self,
        duration: f64,
        operation: &mut Operation,
        set: impl Fn(f64, &mut Operation),
        mut seen: impl FnMut(&Stride),
    ) -> Result<(), Unsolved> {
        let begun = self.time;
        let mut done = 0.0;
        while done < duration {
            let left = duration - done;
            // no sliver at the end
            let step = if self.step >= left * 0.999 {
                left
            } else if self.step > 0.5 * left {
                0.5 * left
            } else {
                self.step
            };
            set((done + step) / duration, operation);
            let off = match self.try_step(operation, step) {
                Ok(off) => off,
                // a long step may ask for temperatures that no air has; a short one does not
                Err(_) if step > SHORTEST => {
                    self.step = (0.1 * step).max(SHORTEST);
                    self.solver.forget();
                    continue;
                }
                Err(unsolved) => return Err(unsolved),
            };
            let change = 0.9 * (self.first_order / off.max(1e-12)).sqrt();
            if off > self.first_order && step > SHORTEST {
                self.step = (step * change.max(0.1)).max(SHORTEST);
                continue;
            }
            seen(&Stride {
                from: self.time,
                length: step,
                before: &self.temperature,
                after: &self.next_temperature,
                rate_before: &self.rate,
                rate_after: &self.next_rate,
                solver: &self.solver,
            });
            std::mem::swap(&mut self.temperature, &mut self.next_temperature);
            std::mem::swap(&mut self.rate, &mut self.next_rate);
            done = if step == left { duration } else { done + step };
            self.time = begun + done;
            // a step cut short by the end says nothing against the longer one
            self.step = (step * change.min(3.0)).max(if step < self.step { self.step } else { 0.0 });
        }
        Ok(())
    }

    /// One long step by the first order, whatever that is off by: for a first guess of where a run leads. Where what flowed
    /// there in a car alike is known, the search begins there.
    ///
    /// ```text
    ///   C (T₁ − T₀)/h = f₁
    /// ```
    ///
    /// # Errors
    /// [`Unsolved`] where the network has no solution there.
    pub fn leap(
        &mut self,
        operation: &Operation,
        step: f64,
        alike: Option<&NetworkState>,
    ) -> Result<(), Unsolved> {
        self.solver.prepare(self.model, operation);
        for (part, held) in self.solver.boundary.held.iter_mut().enumerate() {
            *held = (self.capacity[part] / step, self.temperature[part]);
        }
        if alike.is_none_or(|alike| self.solver.solve_from(alike).is_err()) {
            self.solve()?;
        }
        for (part, temperature) in self.temperature.iter_mut().enumerate() {
            *temperature = self.solver.state.part_temperature(part);
        }
        self.time += step;
        Ok(())
    }

    /// Steps from the present moment. Gives how far the first order would have been off (K).
    fn try_step(&mut self, operation: &Operation, step: f64) -> Result<f64, Unsolved> {
        self.solver.prepare(self.model, operation);
        for (part, held) in self.solver.boundary.held.iter_mut().enumerate() {
            *held = (2.0 * self.capacity[part] / step, self.temperature[part] + 0.5 * step * self.rate[part]);
        }
        self.solve()?;
        let mut off: f64 = 0.0;
        for part in 0..self.temperature.len() {
            let temperature = self.solver.state.part_temperature(part);
            let rate = 2.0 * (temperature - self.temperature[part]) / step - self.rate[part];
            self.next_temperature[part] = temperature;
            self.next_rate[part] = rate;
            off = off.max(0.5 * step * (rate - self.rate[part]).abs());
        }
        Ok(off)
    }

    fn solve(&mut self) -> Result<(), Unsolved> {
        self.solved += 1;
        self.solver.solve_from_here()
    }

    /// Time constants (s) of the parts at the present moment, each by itself:
    /// τ = −C/(∂f/∂T), by a difference of one kelvin. None where a part would not come back.
    ///
    /// # Errors
    /// [`Unsolved`] where the network has no solution.
    pub fn time_constants(&self, operation: &Operation) -> Result<Vec<Option<f64>>, Unsolved> {
        let mut here = self.clone();
        here.turn_to(operation)?;
        let mut found = Vec::new();
        for part in 0..self.temperature.len() {
            let mut warmer = here.clone();
            warmer.temperature[part] += 1.0;
            warmer.turn_to(operation)?;
            let falls = here.rate[part] - warmer.rate[part];
            found.push((falls > 0.0).then(|| 1.0 / falls));
        }
        Ok(found)
    }
}
