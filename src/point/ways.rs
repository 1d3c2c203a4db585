//! The ways in which the air of one operating point may come to rest, and the hottest of them.
//!
//! A fan pushes harder the colder the air that reaches it, and warm air rises against ram: two steady states may then be where
//! one is looked for, and a third between them in which nothing stays. They are sought in two ways.
//!
//! - From starts far apart, all of the car's air at once ([`InitialState`]).
//! - Passage by passage along a line: its flow is held at less and less, and the other way round, while all else settles. What
//!   still pushes the air then tells whether it would go back: where it pushes the other way, another steady state lies ahead,
//!   and Newton's method goes there from so near. Along such a line flows, pressures and temperatures have no folds, but for other passages
//!   that turn by themselves; that is why states are found which no start of the first kind leads to.

use super::solver::{APART, PointSolver};
use crate::network::{FlowConstraint, InitialState, NetworkState, Solver};

/// Two starts lead to the same state where the parts keep the same but for so much (K).
const ALIKE: f64 = 1e-3;
/// Flows at which a passage is held one after the other, as shares of what it carries.
const LINE: [f64; 4] = [0.3, 0.05, TURNS, -0.4];
/// Of these the one at which it has just turned round.
const TURNS: f64 = -0.03;
/// Where a car has more passages, so many are held at most, each but where its air has just turned round, and none at one of many
/// points on a way.
const MANY: usize = 16;
/// Flows that differ by less than this share of the largest are one.
const SAME_FLOW: f64 = 1e-6;
/// A passage that cools nothing and carries less than this share of the largest flow turns nothing round.
const SEAM: f64 = 0.05;
/// A passage that carries less counts as carrying this share of the largest flow.
const LITTLE: f64 = 0.02;

/// What a search begins from: a start of all air, or a passage whose flow is held along a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lead {
    Start(InitialState),
    Along(usize),
}

/// Leads to different steady states, where the air can come to rest in more than one way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ways(u64);

impl Ways {
    /// Whether there is but one way.
    pub fn is_one(self) -> bool {
        self == Ways::default()
    }

    /// Adds those of another point.
    pub fn add(&mut self, other: Ways) {
        self.0 |= other.0;
    }

    fn of(lead: Lead) -> Ways {
        let place = match lead {
            Lead::Start(start) => InitialState::ALL.iter().position(|known| *known == start),
            Lead::Along(passage) => Some(InitialState::ALL.len() + passage),
        };
        // a passage beyond those that have a place is held in whole searches alone
        Ways(place.and_then(|place| 1_u64.checked_shl(place as u32)).unwrap_or(0))
    }
}

/// How far a search goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Search {
    /// Every start, and every passage along its whole line.
    Whole,
    /// Every start, and every passage where its air has just turned round.
    Brief,
    /// Every start.
    Starts,
    /// Leads that are known to go somewhere.
    Known(Ways),
}

impl Search {
    fn takes(self, lead: Lead) -> bool {
        match self {
            Search::Whole | Search::Brief => true,
            Search::Starts => matches!(lead, Lead::Start(_)),
            Search::Known(ways) => ways.0 & Ways::of(lead).0 != 0,
        }
    }

    fn line(self) -> &'static [f64] {
        match self {
            Search::Whole => &LINE,
            Search::Brief | Search::Starts | Search::Known(_) => &[TURNS],
        }
    }
}

impl PointSolver {
    /// Whether the air may settle in more than one way: where a fan turns, or where air rises.
    pub fn may_have_two_states(&self) -> bool {
        self.network.turns() || self.network.rises()
    }

    /// Another steady state of the point solved, the hottest of those found. More than one can be where a fan turns, since a
    /// fan pushes harder the colder the air that reaches it, and where warm air rises against ram. Sought from starts far
    /// apart and passage by passage; one that leads nowhere near at hand is given up.
    pub fn other_state(&mut self) -> Option<NetworkState> {
        self.hottest_other(Search::Whole)
    }

    /// The same from those leads alone that are known to go somewhere.
    pub fn other_state_from(&mut self, ways: Ways) -> Option<NetworkState> {
        self.hottest_other(Search::Known(ways))
    }

    fn hottest_other(&mut self, search: Search) -> Option<NetworkState> {
        let mut hottest: Option<(f64, NetworkState)> = None;
        self.lead_on(search, |solver, _, other| {
            if other.apart(&solver.state) > APART {
                let left = solver.kelvins_left(other);
                if hottest.as_ref().is_none_or(|(least, _)| left < *least) {
                    hottest = Some((left, other.clone()));
                }
            }
        });
        hottest.map(|(_, state)| state)
    }

    /// The start that leads to the hottest of the steady states of the point solved; none where all lead to the same. The
    /// cooler ones are never shown where a hotter one is.
    pub fn ways(&mut self) -> Ways {
        let mut hottest: Option<(f64, Lead)> = None;
        let mut elsewhere = false;
        self.lead_on(Search::Brief, |solver, lead, other| {
            elsewhere |= other.apart(&solver.state) > APART;
            let left = solver.kelvins_left(other);
            // of starts that lead to the same state the first
            if hottest.is_none_or(|(least, _)| left < least - ALIKE) {
                hottest = Some((left, lead));
            }
        });
        hottest.filter(|_| elsewhere).map_or(Ways::default(), |(_, lead)| Ways::of(lead))
    }

    /// Lets somebody see the steady states to which leads go that hold themselves.
    fn lead_on(&mut self, search: Search, mut seen: impl FnMut(&PointSolver, Lead, &NetworkState)) {
        if search == Search::Known(Ways::default()) || !self.may_have_two_states() {
            return;
        }
        let mut newton = self.newton.clone();
        let mut other = self.state.clone();
        let mut several = false;
        for start in InitialState::ALL.into_iter().filter(|start| search.takes(Lead::Start(*start))) {
            other.begin_at(&self.network, &self.boundary, start);
            if newton.solve_near(&self.network, &self.boundary, &mut other, &self.state).is_none() {
                continue;
            }
            let elsewhere = other.apart(&self.state) > APART;
            several |= elsewhere;
            if !elsewhere || newton.holds_itself(&self.network, &self.boundary, &other) {
                seen(self, Lead::Start(start), &other);
            }
        }
        // each solution of a network of many spaces costs as much as its whole search otherwise does
        let passages = self.network.passages.len();
        let (line, most) = match (passages > MANY, search) {
            (true, Search::Brief) => (search.line(), 0),
            (true, _) => (&[TURNS][..], MANY),
            (false, _) => (search.line(), passages),
        };
        let held =
            (0..passages).filter(|passage| search.takes(Lead::Along(*passage)) && self.leads_along(*passage));
        let held: Vec<usize> = held.take(most).collect();
        for passage in held {
            let lead = Lead::Along(passage);
            several |= self.lead_along(passage, line, &mut newton, &mut other, |solver, state| {
                seen(solver, lead, state);
            });
        }
        // where there are several states one more may be that to which a car goes in time
        for start in [InitialState::Soaked, InitialState::Fresh] {
            if !several || !search.takes(Lead::Start(start)) {
                continue;
            }
            other.begin_at(&self.network, &self.boundary, start);
            if newton.leave_to_itself(&self.network, &self.boundary, &mut other).is_some()
                && newton.holds_itself(&self.network, &self.boundary, &other)
            {
                seen(self, Lead::Start(start), &other);
            }
        }
        self.searched += newton.work - self.newton.work;
        self.newton.work = newton.work;
    }

    /// Whether it is worth holding the flow of a passage: nothing else holds it, it is not that of a passage before it, as where
    /// one goes on in another, and it cools something or is no mere seam.
    fn leads_along(&self, passage: usize) -> bool {
        let free = |passage: usize| self.boundary.constraint[passage] == FlowConstraint::Free;
        let (flows, largest) = (&self.state.flow, self.largest_flow());
        let is_seam = flows[passage].abs() < SEAM * largest;
        if is_seam && self.network.passages[passage].parts.is_empty() {
            return false;
        }
        let same = |known: usize| {
            free(known) && (flows[known].abs() - flows[passage].abs()).abs() < SAME_FLOW * largest
        };
        free(passage) && !(0..passage).any(same)
    }

    fn largest_flow(&self) -> f64 {
        self.state.flow.iter().fold(0.0, |most, flow| f64::max(most, flow.abs()))
    }

    /// Holds the flow of a passage at shares of what it carries, and lets somebody see the other steady states near by that hold
    /// themselves; whether there is any other.
    fn lead_along(
        &mut self,
        passage: usize,
        shares: &[f64],
        newton: &mut Solver,
        other: &mut NetworkState,
        mut seen: impl FnMut(&PointSolver, &NetworkState),
    ) -> bool {
        let carried = self.state.flow[passage];
        let scale = carried.abs().max(LITTLE * self.largest_flow()).copysign(carried);
        let mut held = self.state.clone();
        let (mut found, mut sought) = (false, false);
        for share in shares.iter().copied().filter(|share| share * scale.abs() < carried.abs()) {
            held.flow[passage] = share * scale;
            self.boundary.constraint[passage] = FlowConstraint::Fixed(share * scale);
            let solved = newton.solve_near(&self.network, &self.boundary, &mut held, &self.state);
            self.boundary.constraint[passage] = FlowConstraint::Free;
            if solved.is_none() {
                break;
            }
            let push = newton.push(&self.network, &self.boundary, &held, passage);
            let goes_back = push * carried.signum() > 0.0;
            // once for each range of flows from which the air goes on
            let goes_on = !goes_back && !sought;
            sought &= !goes_back;
            // where it all but stands it is looked into in any case: two states may lie close together there
            if !goes_on && share != TURNS {
                continue;
            }
            other.copy_from(&held);
            if newton.solve_near(&self.network, &self.boundary, other, &self.state).is_none() {
                continue;
            }
            if other.apart(&self.state) > APART {
                (found, sought) = (true, true);
                if newton.holds_itself(&self.network, &self.boundary, other) {
                    seen(self, other);
                }
            }
        }
        found
    }

    /// Where a state leads, if that is another steady state than the present one; what parts keep least there (K).
    fn leads_elsewhere(&self, newton: &mut Solver, other: &mut NetworkState) -> Option<f64> {
        newton.solve_near(&self.network, &self.boundary, other, &self.state)?;
        (other.apart(&self.state) > APART).then(|| self.kelvins_left(other))
    }

    /// Takes the steady state to which a state leads, that of a neighbour, where it is hotter than the present one. Whether
    /// it is another.
    pub fn turn_to(&mut self, neighbour: &NetworkState) -> bool {
        let mut newton = self.newton.clone();
        let mut other = neighbour.clone();
        let left = self.leads_elsewhere(&mut newton, &mut other);
        self.newton.work = newton.work;
        if left.is_some_and(|left| left < self.kelvins_left(&self.state)) {
            self.take_hotter(other);
        }
        left.is_some()
    }

    /// Takes another steady state of the point solved. Gives the one that is left.
    fn take_hotter(&mut self, other: NetworkState) -> NetworkState {
        let cooler = std::mem::replace(&mut self.state, other);
        // so that what the solver keeps of the heat given is that of the state shown
        let residual = self.newton.solve(&self.network, &self.boundary, &mut self.state);
        self.residual = residual.unwrap_or(self.residual);
        cooler
    }

    /// The least that any part keeps under its limit in a state (K).
    fn kelvins_left(&self, state: &NetworkState) -> f64 {
        let parts = self.network.parts.iter().enumerate();
        parts.map(|(part, law)| law.limit - state.part_temperature(part)).fold(f64::INFINITY, f64::min)
    }

    /// Looks for another steady state of the point solved and takes the hotter of the two, in which some part keeps
    /// least under its limit. Gives the one that is left.
    pub fn turn_to_hotter(&mut self) -> Option<NetworkState> {
        let other = self.other_state()?;
        self.turn_to_hotter_of(other)
    }

    /// The same at one of many points on a way, where the whole search would cost more than all else; passages by themselves are
    /// looked into where that is asked for.
    pub fn turn_to_hotter_on_the_way(&mut self, by_passage: bool) -> Option<NetworkState> {
        let other = self.hottest_other(if by_passage { Search::Brief } else { Search::Starts })?;
        self.turn_to_hotter_of(other)
    }

    fn turn_to_hotter_of(&mut self, other: NetworkState) -> Option<NetworkState> {
        // one that no air would stay in is never shown
        let stays = self.newton.holds_itself(&self.network, &self.boundary, &self.state);
        if stays && self.kelvins_left(&other) >= self.kelvins_left(&self.state) {
            return Some(other);
        }
        Some(self.take_hotter(other))
    }
}
