//! The network of passages and chambers, and its solution: flows, pressures and temperatures at
//! once.

mod along;
mod assemble;
mod boundary;
mod charge;
mod extrapolator;
mod fallback;
mod flows;
mod joints;
mod nodes;
mod predictor;
mod saddle;
mod solve;
mod stall;
mod standing;
mod starts;
mod state;
mod sudden;
mod topology;
mod trace;
mod workspace;

pub use boundary::{BoundaryConditions, FlowConstraint};
pub use extrapolator::Extrapolator;
pub use predictor::AdaptivePredictor;
pub use starts::InitialState;
pub use state::NetworkState;
pub use sudden::Sudden;
pub use topology::{Chamber, Network, PassageEnd, Recirculation};
pub use trace::Met;
pub use workspace::{Patience, Solver, Unsolved};
