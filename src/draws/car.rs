//! One car after another: a case whose guesses are set to a draw, its model changed in place, every moment looked at
//! solved.

use super::guesses::{Drawn, Guesses};
use super::lean::{self, KeptDraw, LeanRow, Slopes};
use super::plan::DrawPlan;
use crate::case::{Case, tables as t};
use crate::element::leak::Leak;
use crate::engine::tables as e;
use crate::keys::{Key, NumberId};
use crate::network::{NetworkState, Patience};
use crate::point::counted::Counted;
use crate::point::leakage::seams;
use crate::point::model::{build_laws, read_engine, read_part};
use crate::point::result::STILL;
use crate::point::ways::Ways;
use crate::point::{Model, Operation, PointSolver};

/// Share of the high end of its band that a leak has, where none is taken, for the solutions from which draws
/// start: so little that it changes nothing.
const NEXT_TO_NOTHING: f64 = 1e-6;

/// How far along its distribution each guess is moved aside to see what changes: from the middle of a band of two sides to
/// 0.84 of its spread.
const ASIDE: f64 = 0.3;

/// A draw that is no car: a number without room, or laws that do not fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoCar;

/// A case, and a model of it that follows its guesses.
#[derive(Clone)]
pub struct Car<'g> {
    guesses: &'g Guesses,
    case: Case,
    model: Model,
    solver: PointSolver,
    plan: DrawPlan,
    /// What it is looked at in.
    moments: Vec<Counted>,
    operations: Vec<Operation>,
    /// The solution of each of them with the values taken.
    starts: Vec<Option<NetworkState>>,
    /// What is next to nothing with the values taken, for the solutions from which draws start.
    opened: Vec<(NumberId, f64)>,
    /// How these change with each guess.
    slopes: Slopes,
    /// What the model itself is off by at each part (K), as drawn.
    own_errors: Vec<f64>,
    /// The one that was solved last of this draw, and the row it stands in.
    last: Option<usize>,
    row: LeanRow,
    /// A draw whose solutions are kept; whether they are being kept, and whether others begin at them.
    mark: KeptDraw,
    marking: bool,
    from_mark: bool,
}

impl<'g> Car<'g> {
    /// Work done by all its solutions so far, in visits of an element.
    pub fn work(&self) -> u64 {
        self.solver.work()
    }

    /// A car with the values taken that sees all conditions; none where it cannot be made ready.
    pub fn new(case: &Case, guesses: &'g Guesses) -> Option<Car<'g>> {
        Car::at(case, guesses, (0..case.conditions.len()).map(Counted::Condition).collect())
    }

    /// The same at moments of one's own.
    pub fn at(case: &Case, guesses: &'g Guesses, moments: Vec<Counted>) -> Option<Car<'g>> {
        let mut case = case.clone();
        // what a draw may open is there from the start, so that nothing drawn changes what is joined
        let body = [&t::LEAKS, &t::HOT_AIR_AT_REST, &t::HOT_AIR_MOVING];
        let opened = body.into_iter().filter_map(|key| case.body.id(key));
        let opened = opened.filter(|id| guesses.numbers().any(|varied| varied == *id));
        let at_least = |id: NumberId| {
            let fact = case.numbers.fact(id);
            let high = fact.band().map_or(fact.value, |(_, high)| high);
            (id, fact.value.max(NEXT_TO_NOTHING * high))
        };
        let opened: Vec<(NumberId, f64)> = opened.map(at_least).collect();
        for (id, value) in &opened {
            case.numbers.set(*id, *value);
        }
        let model = Model::new(&case).ok()?;
        let plan = DrawPlan::new(&case, &model, guesses);
        let operations: Vec<Operation> =
            moments.iter().map(|moment| moment.operation(&case, &model)).collect();
        let mut solver = PointSolver::new(&model);
        solver.try_with(Patience::Brief);
        let starts = operations.iter().map(|operation| {
            solver.prepare(&model, operation);
            solver.forget();
            solver.solve().ok().map(|()| solver.state.clone())
        });
        let starts = starts.collect();
        let first = guesses.list.iter().map(|guess| guess.numbers[0].0);
        let slopes = Slopes::new(&case, first, moments.len());
        let row = LeanRow::new(&solver.state);
        let own_errors = vec![0.0; case.parts.len()];
        let mut car = Car {
            guesses,
            case,
            model,
            solver,
            plan,
            moments,
            operations,
            starts,
            opened,
            slopes,
            own_errors,
            last: None,
            row,
            mark: KeptDraw::default(),
            marking: false,
            from_mark: false,
        };
        car.learn_slopes();
        Some(car)
    }

    /// Finds how the solutions with the values taken change with each guess, at the moments that are not likely to begin
    /// at the one before: each guess moved by itself.
    fn learn_slopes(&mut self) {
        let begun = |moment: &usize| {
            let before = moment.checked_sub(1).map(|before| &self.moments[before]);
            before.is_none_or(|before| !before.lies_beside(&self.moments[*moment]))
        };
        let wanted: Vec<usize> = (0..self.moments.len()).filter(begun).collect();
        let guesses = self.guesses;
        let mut point = guesses.taken_point();
        for (place, guess) in guesses.list.iter().enumerate() {
            let taken = point[guess.dimension];
            point[guess.dimension] = if taken < 0.5 { taken + ASIDE } else { taken - ASIDE };
            let is_car = self.take_apart(&point).is_ok();
            point[guess.dimension] = taken;
            for moment in wanted.iter().copied().filter(|_| is_car) {
                let Some(start) = &self.starts[moment] else { continue };
                self.solver.prepare(&self.model, &self.operations[moment]);
                if self.solver.solve_from(start).is_ok() {
                    self.slopes.learn(moment, place, &self.case.numbers, start, &self.solver.state);
                }
            }
        }
        // back to the values taken
        let _ = self.take_apart(&point);
    }

    /// The solutions of the draw as it stands are kept from now on, for others beside it.
    pub fn mark(&mut self) {
        self.slopes.mark(&self.case.numbers, &mut self.mark);
        self.marking = true;
    }

    /// Whether solutions of the next draws begin at those that were kept.
    pub fn begin_at_mark(&mut self, from_mark: bool) {
        self.from_mark = from_mark;
    }

    /// Other sizes, or whatever else `change` does to the case: the model made anew with the values taken, and what
    /// draws start from solved again.
    ///
    /// # Errors
    /// [`NoCar`] where the case is refused then; nothing but another change may follow.
    pub fn change(&mut self, change: &dyn Fn(&mut Case)) -> Result<(), NoCar> {
        self.last = None;
        self.guesses.take_back(&mut self.case.numbers);
        for (id, value) in &self.opened {
            self.case.numbers.set(*id, *value);
        }
        change(&mut self.case);
        self.model = Model::new(&self.case).map_err(|_| NoCar)?;
        // neighbours of what changed stand otherwise too
        self.plan = DrawPlan::new(&self.case, &self.model, self.guesses);
        self.solver.network.clone_from(&self.model.network);
        for (place, moment) in self.moments.iter().enumerate() {
            self.operations[place] = moment.operation(&self.case, &self.model);
            self.solver.prepare(&self.model, &self.operations[place]);
            self.solver.forget();
            self.starts[place] = self.solver.solve().ok().map(|()| self.solver.state.clone());
        }
        Ok(())
    }

    /// How many conditions it has, points of the sweep among them.
    pub fn conditions(&self) -> usize {
        self.moments.len()
    }

    /// How many parts it has.
    pub fn parts(&self) -> usize {
        self.case.parts.len()
    }

    /// The case as last drawn, and a model of it.
    pub fn drawn(&mut self) -> (&Case, &Model) {
        self.model.network.clone_from(&self.solver.network);
        (&self.case, &self.model)
    }

    /// The case as last drawn.
    pub fn case(&self) -> &Case {
        &self.case
    }

    /// The present solution.
    pub fn solver(&self) -> &PointSolver {
        &self.solver
    }

    /// Sets every guess to where a point has it.
    ///
    /// # Errors
    /// [`NoCar`] where the draw breaks what must hold; the next draw begins afresh.
    pub fn take(&mut self, point: &[f64]) -> Result<Drawn, NoCar> {
        self.guesses.own_errors(point, &mut self.own_errors);
        let drawn = self.guesses.set(point, &mut self.case.numbers).map_err(|_| NoCar);
        self.follow(drawn)
    }

    /// The same, whatever readings have left of the guesses together, the model without fault.
    fn take_apart(&mut self, point: &[f64]) -> Result<Drawn, NoCar> {
        self.own_errors.fill(0.0);
        let drawn = self.guesses.set_apart(point, &mut self.case.numbers).map_err(|_| NoCar);
        self.follow(drawn)
    }

    /// Lets model and operations follow the numbers.
    fn follow(&mut self, drawn: Result<Drawn, NoCar>) -> Result<Drawn, NoCar> {
        self.last = None;
        self.marking = false;
        let drawn = drawn?;
        if self.plan.anew {
            self.model = Model::new(&self.case).map_err(|_| NoCar)?;
            self.solver.network.clone_from(&self.model.network);
        } else {
            self.renew()?;
        }
        if self.plan.operations {
            for (operation, moment) in self.operations.iter_mut().zip(&self.moments) {
                *operation = moment.operation(&self.case, &self.model);
            }
        }
        Ok(drawn)
    }

    /// Puts what varies in its place.
    fn renew(&mut self) -> Result<(), NoCar> {
        let Car { case, model, solver, plan, .. } = self;
        let network = &mut solver.network;
        network.laws_changed();
        for seat in &mut plan.seats {
            let passage = &case.passages[seat.passage];
            let view = case.view(&passage.elements[seat.element]);
            if seat.site.size.is_some() {
                seat.site.size = crate::element::PieceSize::read(&view);
            }
            seat.site.notes.clear();
            let build = passage.kind(seat.element).ok_or(NoCar)?.build;
            let law = build(&mut seat.site, &view).filter(|_| !seat.site.notes.iter().any(|note| note.fault));
            let mut law = law.ok_or(NoCar)?;
            if let (Some(step), Some(before)) = (law.as_step_mut(), network.laws[seat.law].as_step()) {
                step.free_as(before);
            }
            network.laws[seat.law] = law;
        }
        let inlets: f64 = if plan.passages.is_empty() {
            0.0
        } else {
            case.passages.iter().map(|passage| passage.inlets_as_drawn).sum()
        };
        for index in &plan.passages {
            let passage = &case.passages[*index];
            let copies = case.view(&passage.values).required(&t::COUNT);
            let mut faults = crate::case::Diagnostics::new();
            let laws = build_laws(case, passage, copies, inlets, &mut faults, None);
            let places = network.passages[*index].elements.clone();
            if !faults.is_empty() || laws.len() != places.len() {
                return Err(NoCar);
            }
            for (place, (law, _)) in network.laws[places].iter_mut().zip(laws) {
                *place = law;
            }
            let blended: Vec<bool> =
                passage.elements.iter().map(|values| values.flag(&crate::element::size::BLENDED)).collect();
            network.charge_sudden_changes(*index, copies, &blended);
        }
        for (place, id) in &plan.recirculations {
            network.recirculations[*place].share = case.numbers.value(*id);
        }
        for index in &plan.parts {
            network.parts[*index] = read_part(case, &case.parts[*index].values);
        }
        for index in &plan.chambers {
            network.chambers[*index].skin_conductance =
                case.view(&case.chambers[*index].values).required(&t::SKIN_CONDUCTANCE);
        }
        if plan.seams {
            let joints = crate::point::joints::chambers(network);
            for (index, seam) in seams(case, &joints).iter().enumerate() {
                let law = network.passages[case.passages.len() + index].elements.start;
                network.laws[law] = Leak::implied(seam.area).into();
            }
        }
        if plan.hot_air {
            let view = case.view(&case.body);
            let share = |key: &Key| view.number(key).unwrap_or(0.0);
            model.hot_air.set(share(&t::HOT_AIR_AT_REST), share(&t::HOT_AIR_MOVING));
        }
        if plan.exits {
            model.hot_air.weigh(case);
        }
        if plan.engine {
            renew_engine(case, model, plan.power)?;
        }
        Ok(())
    }

    /// Takes up a moment and solves it, from its solution with the values taken where there is one; whether a steady
    /// state was found. Where the moment before lies beside it, the way of this draw from the values taken goes on
    /// from there.
    pub fn solve(&mut self, moment: usize) -> bool {
        self.solver.prepare(&self.model, &self.operations[moment]);
        let before = self
            .last
            .take()
            .filter(|last| last + 1 == moment && self.moments[*last].lies_beside(&self.moments[moment]))
            .filter(|last| self.starts[*last].is_some());
        let position = self.operations[moment].speed;
        let found = self.starts[moment].as_ref().is_some_and(|start| {
            if before.is_some() {
                self.row.predict(position, start, &mut self.solver.state);
            } else {
                self.row.end();
                let mark = self.from_mark.then_some(&self.mark);
                self.slopes.go_on(moment, &self.case.numbers, start, mark, &mut self.solver.state);
            }
            self.solver.try_with(Patience::Near);
            self.solver.solve_as_it_is().is_ok() || self.solver.solve_from(start).is_ok()
        });
        // from air moving gently, as a case is solved that nothing is known of
        let found = found || {
            self.solver.try_with(Patience::Brief);
            self.solver.forget();
            self.solver.solve().is_ok()
        };
        self.last = found.then_some(moment);
        if found && let Some(start) = &self.starts[moment] {
            self.row.keep(position, &self.solver.state, start);
        }
        if found && self.marking {
            self.mark.keep(moment, &self.solver.state);
        }
        found
    }

    /// The same, begun as far off the solution with the values taken as this draw lay with other sizes.
    pub(crate) fn solve_off(&mut self, moment: usize, off: &NetworkState) -> bool {
        self.solver.prepare(&self.model, &self.operations[moment]);
        let found = self.starts[moment].as_ref().is_some_and(|start| {
            lean::lie_off(start, off, &mut self.solver.state);
            self.solver.try_with(Patience::Near);
            self.solver.solve_as_it_is().is_ok()
        });
        if found {
            self.last = None;
            return true;
        }
        self.solve(moment)
    }

    /// Keeps how far the present solution of a moment lies off that with the values taken; nothing where there is none.
    pub(crate) fn keep_off(&self, moment: usize, kept: &mut Option<NetworkState>) {
        let Some(start) = &self.starts[moment] else {
            *kept = None;
            return;
        };
        let off = kept.get_or_insert_with(|| start.clone());
        lean::measure_off(&self.solver.state, start, off);
    }

    /// Kelvins that a part keeps under its limit in the present solution.
    pub fn margin(&self, part: usize) -> f64 {
        self.solver.network.parts[part].limit - self.temperature(part)
    }

    /// A part's temperature in the present solution, with what the model itself is off by (K).
    pub fn temperature(&self, part: usize) -> f64 {
        self.solver.state.part_temperature(part) + self.own_errors[part]
    }

    /// The starts that lead to different steady states of the point solved.
    pub fn ways(&mut self) -> Ways {
        self.solver.ways()
    }

    /// Another steady state of the point solved, where starts lead to one, looked at by kelvins that each part keeps:
    /// written over `margins` where it has a part that is hotter than the hottest there.
    pub fn hotter(&mut self, ways: Ways, margins: &mut [f64]) {
        let Some(other) = self.solver.other_state_from(ways) else { return };
        let of = |part: usize| {
            self.solver.network.parts[part].limit - other.part_temperature(part) - self.own_errors[part]
        };
        let least = |list: &mut dyn Iterator<Item = f64>| list.fold(f64::INFINITY, f64::min);
        if least(&mut (0..margins.len()).map(of)) < least(&mut margins.iter().copied()) {
            margins.iter_mut().enumerate().for_each(|(part, margin)| *margin = of(part));
        }
    }

    /// Whether air of a passage of the case runs from its end to its beginning in the present solution.
    pub fn runs_back(&self, passage: usize) -> bool {
        self.solver.state.flow[passage] < -STILL
    }

    /// Air through a passage of the case in the present solution, whichever way (kg/s).
    pub fn flow_through(&self, passage: usize) -> f64 {
        self.solver.state.flow[passage].abs()
    }

    /// Whether a part counts where it is below its lower limit in a condition.
    pub fn is_warm(&self, condition: usize) -> bool {
        let named = self.moments[condition].condition().map(|index| &self.case.conditions[index]);
        named.is_some_and(|named| named.values.flag(&t::WARM))
    }

    /// Kelvins that a part of the present solution keeps over its lower limit; without one, no end of them.
    pub fn over_least(&self, part: usize) -> f64 {
        let least = self.solver.network.parts[part].least;
        least.map_or(f64::INFINITY, |least| self.temperature(part) - least)
    }

    /// Whether a part of the present solution is below its lower limit.
    pub fn is_cold(&self, part: usize) -> bool {
        self.solver.network.parts[part].least.is_some_and(|least| self.temperature(part) < least)
    }
}

/// Figures of the engine, in place; its power only where that varies.
fn renew_engine(case: &Case, model: &mut Model, power: bool) -> Result<(), NoCar> {
    let value = |id: &NumberId| case.numbers.value(*id);
    for (share, part) in model.part_shares.iter_mut().zip(&case.parts) {
        let heat = case.engine.map(&e::HEAT).iter().find(|(name, _)| *name == part.name);
        *share = heat.map_or(0.0, |(_, id)| value(id));
    }
    for (share, chamber) in model.chamber_shares.iter_mut().zip(&case.chambers) {
        let heat = case.engine.map(&e::HEAT).iter().find(|(name, _)| *name == chamber.name);
        *share = heat.map_or(0.0, |(_, id)| value(id));
    }
    for (share, part) in model.from_friction.iter_mut().zip(&case.parts) {
        *share = case.view(&part.values).required(&t::FROM_FRICTION);
    }
    if power {
        model.engine = read_engine(case, &mut crate::case::Diagnostics::new()).ok_or(NoCar)?;
        return Ok(());
    }
    let view = case.view(&case.engine);
    let engine = &mut model.engine;
    engine.brake_efficiency = match view.number(&e::FUEL_CONSUMPTION) {
        Some(consumption) => crate::engine::running::brake_efficiency_of(consumption),
        None => view.required(&e::BRAKE_EFFICIENCY),
    };
    engine.displacement = view.required(&e::DISPLACEMENT);
    engine.volumetric_efficiency = view.required(&e::VOLUMETRIC_EFFICIENCY);
    engine.friction_pressure = view.required(&e::FRICTION_PRESSURE);
    engine.heat_exponent = view.required(&e::HEAT_EXPONENT);
    engine.total_share = case.engine.map(&e::HEAT).iter().map(|(_, id)| value(id)).sum();
    engine.friction_share = model.part_shares.iter().zip(&model.from_friction).map(|(s, w)| s * w).sum();
    Ok(())
}
