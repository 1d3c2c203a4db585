//! Where to look for other steady states.
//!
//! Hot air is thin: a fan pushes less with it, and it rises. So the air may settle in more ways than one: cold air
//! keeps coming because much comes, or hot air stands, or goes the other way, because little does.

use super::boundary::{BoundaryConditions, FlowConstraint};
use super::state::NetworkState;
use super::topology::Network;

/// A state to begin from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InitialState {
    /// Everything lukewarm, air moving gently the way passages are written.
    Plain,
    /// The same, but air running back through every turning fan.
    AgainstFans,
    /// Everything soaked with heat, the air all but standing.
    Soaked,
    /// The same, the air creeping back the way passages are written.
    SoakedBack,
    /// Everything fresh, much air moving.
    Fresh,
    /// Everything lukewarm, the air moving back.
    FreshBack,
}

impl InitialState {
    /// All of them.
    pub const ALL: [InitialState; 6] = [
        InitialState::Plain,
        InitialState::AgainstFans,
        InitialState::Soaked,
        InitialState::SoakedBack,
        InitialState::Fresh,
        InitialState::FreshBack,
    ];
}

impl NetworkState {
    /// Takes the values of a start.
    pub fn begin_at(&mut self, network: &Network, boundary: &BoundaryConditions, start: InitialState) {
        self.begin(network, boundary);
        let (factor, soaked) = match start {
            InitialState::Plain | InitialState::AgainstFans => (1.0, 0.0),
            InitialState::Soaked => (0.01, 1.0),
            InitialState::SoakedBack => (-0.01, 1.0),
            InitialState::Fresh => (3.0, 0.0),
            InitialState::FreshBack => (-1.0, 0.0),
        };
        for ((flow, constraint), passage) in
            self.flow.iter_mut().zip(&boundary.constraint).zip(&network.passages)
        {
            if *constraint == FlowConstraint::Free {
                let against = start == InitialState::AgainstFans && passage.turning;
                *flow *= if against { -1.0 } else { factor };
            }
        }
        if soaked > 0.0 {
            for value in &mut self.unknowns[self.chambers..2 * self.chambers] {
                *value = boundary.day_temperature + 300.0;
            }
            for (index, part) in network.parts.iter().enumerate() {
                self.set_part_temperature(index, part.source_temperature);
            }
        }
        if start == InitialState::Fresh {
            for value in &mut self.unknowns[self.chambers..2 * self.chambers] {
                *value = boundary.day_temperature + 5.0;
            }
        }
    }
}
