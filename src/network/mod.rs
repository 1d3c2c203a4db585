//! The network of passages and chambers, and its solution: flows, pressures and temperatures at
//! once.

mod assemble;
mod charge;
mod fallback;
mod flows;
mod joints;
mod learnt;
mod load;
mod nodes;
mod solve;
mod stall;
mod standing;
mod starts;
mod state;
mod sudden;
mod topology;
mod trace;
mod track;
mod workspace;

pub use learnt::AdaptivePredictor;
pub use load::{BoundaryConditions, FlowConstraint};
pub use starts::InitialState;
pub use state::NetworkState;
pub use sudden::Sudden;
pub use topology::{Chamber, Network, Passage, PassageEnd, Recirculation};
pub use trace::Met;
pub use track::Extrapolator;
pub use workspace::{Solver, Unsolved};
