//! Where to look for other steady states.
//!
//! Hot air is thin: a fan pushes less with it, and it rises. So the air may settle in more ways than one: cold air
//! keeps coming because much comes, or hot air stands, or goes the other way, because little does.

use super::load::{Draught, Load};
use super::state::State;
use super::topology::Network;

/// A state to begin from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Start {
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

impl Start {
    /// All of them.
    pub const ALL: [Start; 6] =
        [Start::Plain, Start::AgainstFans, Start::Soaked, Start::SoakedBack, Start::Fresh, Start::FreshBack];
}

impl State {
    /// Takes the values of a start.
    pub fn begin_at(&mut self, network: &Network, load: &Load, start: Start) {
        self.begin(network, load);
        let (factor, soaked) = match start {
            Start::Plain | Start::AgainstFans => (1.0, 0.0),
            Start::Soaked => (0.01, 1.0),
            Start::SoakedBack => (-0.01, 1.0),
            Start::Fresh => (3.0, 0.0),
            Start::FreshBack => (-1.0, 0.0),
        };
        for ((flow, draught), passage) in self.flow.iter_mut().zip(&load.draught).zip(&network.passages) {
            if *draught == Draught::Free {
                let against = start == Start::AgainstFans && passage.turning;
                *flow *= if against { -1.0 } else { factor };
            }
        }
        if soaked > 0.0 {
            for value in &mut self.unknowns[self.chambers..2 * self.chambers] {
                *value = load.day_temperature + 300.0;
            }
            for (index, part) in network.parts.iter().enumerate() {
                self.set_part_temperature(index, part.source_temperature);
            }
        }
        if start == Start::Fresh {
            for value in &mut self.unknowns[self.chambers..2 * self.chambers] {
                *value = load.day_temperature + 5.0;
            }
        }
    }
}
