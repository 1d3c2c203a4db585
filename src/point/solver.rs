//! One operating point after another, solved.

use super::model::{Demand, Model};
use super::operation::Operation;
use crate::air::Air;
use crate::element::FreeStream;
use crate::engine::Running;
use crate::network::{
    AdaptivePredictor, BoundaryConditions, Extrapolator, FlowConstraint, Network, NetworkState, Patience,
    Solver, Unsolved,
};
use crate::thermal::margin::{Carrier, HeldAtLimit, Margin, margin};

/// Difference of temperature of some part or space by which two states are not one (K).
pub const APART: f64 = 0.05;

/// Solves one operating point after another; nothing is allocated between them.
#[derive(Clone, Debug)]
pub struct PointSolver {
    /// The network, prepared for the present point.
    pub network: Network,
    /// What drives it at the present point.
    pub boundary: BoundaryConditions,
    /// The present solution.
    pub state: NetworkState,
    /// The outer state at the present point.
    pub free_stream: FreeStream,
    /// The engine at the present point.
    pub running: Running,
    /// Largest relative error of the present solution.
    pub residual: f64,
    pub(super) newton: Solver,
    /// Of the work done, that of searches for other states.
    pub(super) searched: u64,
    carriers: Vec<Carrier>,
    day: Option<(Air, f64)>,
    extrapolator: Extrapolator,
    predictor: AdaptivePredictor,
    /// Speeds of road and engine at the last point, and the engine's by the road's between the last two.
    last: Option<(f64, f64, f64)>,
}

impl PointSolver {
    /// A solver for a model.
    pub fn new(model: &Model) -> PointSolver {
        let network = model.network.clone();
        let air = Air::new(101_325.0, 293.15, 0.0, 0.0);
        let free_stream = FreeStream::new(air, 0.0, 0.0, 1.0, 0.0);
        let boundary = BoundaryConditions::new(&free_stream, &network);
        let state = NetworkState::first_guess(&network, &boundary);
        let newton = Solver::new(&network);
        let carriers = Vec::with_capacity(network.laws.len());
        let extrapolator = Extrapolator::new(&state);
        let predictor = AdaptivePredictor::new(&state);
        PointSolver {
            day: None,
            searched: 0,
            extrapolator,
            predictor,
            last: None,
            network,
            boundary,
            state,
            free_stream,
            running: Running::STANDING,
            residual: f64::NAN,
            newton,
            carriers,
        }
    }

    /// Prepares an operating point without solving it.
    pub fn prepare(&mut self, model: &Model, operation: &Operation) {
        self.free_stream = operation.free_stream();
        if self.day.is_none_or(|(air, _)| air != operation.air) {
            self.day = Some((operation.air, model.engine.air_factor(&operation.air)));
        }
        let air_factor = self.day.map_or(1.0, |(_, factor)| factor);
        self.running = model.engine.running(operation.rpm, operation.load, air_factor);
        self.network.tell_fans(&operation.fans);
        self.network.prepare(&self.free_stream, &operation.taped);
        model.hot_air.prepare(&mut self.network, &self.free_stream);
        self.boundary.set_air(&self.free_stream);
        let parts = model.part_shares.iter().zip(&model.from_friction);
        for (heat, (share, from_friction)) in self.boundary.part_heat.iter_mut().zip(parts) {
            *heat = self.running.heat(*share, *from_friction);
        }
        for (heat, share) in self.boundary.chamber_heat.iter_mut().zip(&model.chamber_shares) {
            *heat = share * self.running.heat_of_share;
        }
        for (constraint, demand) in self.boundary.constraint.iter_mut().zip(&model.demands) {
            *constraint = match demand {
                Demand::None => FlowConstraint::Free,
                // a standing engine draws nothing
                Demand::Fixed(_) | Demand::Share(_) if operation.rpm <= 0.0 => FlowConstraint::Fixed(0.0),
                Demand::Fixed(flow) => FlowConstraint::Fixed(*flow),
                Demand::Share(share) => FlowConstraint::Volume(share * self.running.breathed),
            };
        }
        if let Some((passage, flow)) = operation.blower {
            self.boundary.constraint[passage] = FlowConstraint::Fixed(flow);
        }
    }

    /// Solves the prepared operating point, from the last solution where there is one.
    ///
    /// # Errors
    /// [`Unsolved`] where no steady state was found.
    pub fn solve(&mut self) -> Result<(), Unsolved> {
        let here = (self.free_stream.speed, self.free_stream.rpm);
        if self.extrapolator.has_begun() {
            self.stay_in_gear(here);
            self.extrapolator.predict(here.0, &mut self.state);
        } else {
            self.state.begin(&self.network, &self.boundary);
        }
        match self.newton.solve(&self.network, &self.boundary, &mut self.state) {
            Ok(residual) => {
                self.residual = residual;
                self.extrapolator.keep(here.0, &self.state);
                Ok(())
            }
            Err(unsolved) => {
                self.forget();
                Err(unsolved)
            }
        }
    }

    /// Solves the prepared operating point from where the state as it is, that of the last point or another, is likely
    /// to go.
    ///
    /// # Errors
    /// [`Unsolved`] where no steady state was found.
    pub fn solve_from_here(&mut self) -> Result<(), Unsolved> {
        if !self.extrapolator.has_begun() {
            self.state.begin(&self.network, &self.boundary);
            self.extrapolator.keep(0.0, &self.state);
        }
        let drives = [self.free_stream.speed, self.free_stream.rpm, self.running.heat_of_share];
        self.predictor.guess(drives, &mut self.state);
        self.residual = self.newton.solve(&self.network, &self.boundary, &mut self.state)?;
        self.predictor.learn(&self.state);
        Ok(())
    }

    /// Says how much is to be tried from now on.
    pub fn try_with(&mut self, patience: Patience) {
        self.newton.patience = patience;
    }

    /// Takes a state to go on from, as if it had been solved last.
    pub fn begin_from(&mut self, state: &NetworkState) {
        self.state.copy_from(state);
        self.extrapolator.keep(0.0, state);
    }

    /// Solves the prepared operating point from a given state, whatever was solved before.
    ///
    /// # Errors
    /// [`Unsolved`] where no steady state was found.
    pub fn solve_from(&mut self, start: &NetworkState) -> Result<(), Unsolved> {
        self.state.copy_from(start);
        self.residual = self.newton.solve(&self.network, &self.boundary, &mut self.state)?;
        Ok(())
    }

    /// Solves the prepared operating point from the state as it is.
    ///
    /// # Errors
    /// [`Unsolved`] where no steady state was found.
    pub fn solve_as_it_is(&mut self) -> Result<(), Unsolved> {
        self.residual = self.newton.solve(&self.network, &self.boundary, &mut self.state)?;
        Ok(())
    }

    /// Lets the track turn where the engine's speed does not go on with the road's as it did: another
    /// gear.
    fn stay_in_gear(&mut self, here: (f64, f64)) {
        let Some((speed, rpm, slope)) = self.last.replace((here.0, here.1, f64::NAN)) else { return };
        let now = (here.1 - rpm) / (here.0 - speed);
        self.last = Some((here.0, here.1, now));
        if !slope.is_nan() && (now - slope).abs() > 1e-6 * slope.abs() {
            self.extrapolator.turn();
        }
    }

    /// Solves the point, and takes the hotter of two states where there are two. Gives the one that is left.
    ///
    /// # Errors
    /// As [`PointSolver::solve`].
    pub fn solve_hotter(&mut self) -> Result<Option<NetworkState>, Unsolved> {
        self.solve()?;
        Ok(self.turn_to_hotter())
    }

    /// The same where many are looked at: each passage is held but where its air turns round.
    ///
    /// # Errors
    /// As [`PointSolver::solve`].
    pub fn solve_hotter_on_the_way(&mut self) -> Result<Option<NetworkState>, Unsolved> {
        self.solve()?;
        Ok(self.turn_to_hotter_on_the_way(true))
    }

    /// Heat that a part of the present solution gives to the air of its elements and to its chamber (W).
    pub fn given_by(&self, part: usize) -> f64 {
        let law = &self.network.parts[part];
        let around = law
            .chamber
            .map_or(self.boundary.day_temperature, |chamber| self.state.chamber_temperature(chamber));
        self.newton.heat_to_air(&self.network, part)
            + law.given_to_air(self.state.part_temperature(part), around, self.boundary.pressure).0
    }

    /// Forgets the last solution.
    pub fn forget(&mut self) {
        self.extrapolator.forget();
        self.predictor.turn();
        self.last = None;
    }

    /// Steps that the last solution took.
    #[cfg_attr(not(feature = "rooms"), expect(dead_code, reason = "the bench counts them"))]
    pub fn steps(&self) -> usize {
        self.newton.steps
    }

    /// Work done by all solutions so far, in visits of an element: what a budget counts.
    pub fn work(&self) -> u64 {
        self.newton.work
    }

    /// The same without the searches for other states: what a solution beside a known one is to be reckoned by.
    pub fn work_of_solutions(&self) -> u64 {
        self.newton.work - self.searched
    }

    /// Flow margins of all parts, written to `margins`.
    pub fn margins(&mut self, model: &Model, margins: &mut Vec<Margin>) {
        margins.clear();
        for part in 0..self.network.parts.len() {
            if !self.network.parts[part].has_limit() {
                margins.push(Margin::NO_LIMIT);
                continue;
            }
            let held = self.collect_carriers(model, part);
            margins.push(margin(&held, &self.carriers));
        }
    }

    /// What a part held at its limit takes and gives, and what could carry its heat.
    pub fn held(&mut self, model: &Model, part: usize) -> (HeldAtLimit, &[Carrier]) {
        let held = self.collect_carriers(model, part);
        (held, &self.carriers)
    }

    fn collect_carriers(&mut self, model: &Model, part: usize) -> HeldAtLimit {
        self.carriers.clear();
        let law = &self.network.parts[part];
        let chamber =
            law.chamber.map_or(self.boundary.day_temperature, |c| self.state.chamber_temperature(c));
        let held = HeldAtLimit {
            limit: law.limit,
            heat: law.heat_taken(self.boundary.part_heat[part], law.limit).0,
            to_chamber: law.given_to_air(law.limit, chamber, self.boundary.pressure).0,
        };
        let carriers = &mut self.carriers;
        for index in 0..self.network.passages.len() {
            if !self.network.passages[index].elements.clone().any(|e| model.part_of[e] == Some(part)) {
                continue;
            }
            // what is left of air that stands is rounding, and no multiple of it is an answer
            let flow = self.state.flow[index].abs();
            let flow = if flow < crate::point::result::STILL { 0.0 } else { flow };
            self.network.follow(index, &self.boundary, &self.state, |element, entering, _| {
                if model.part_of[element] == Some(part) {
                    let law = &self.network.laws[element];
                    let Some(surface) = law.surface() else { return };
                    let oil = law.oil_capacity();
                    carriers.push(Carrier::new(
                        surface,
                        oil,
                        flow,
                        self.free_stream.air.heat_capacity,
                        entering,
                    ));
                }
            });
        }
        held
    }
}
