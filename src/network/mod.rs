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

pub use learnt::Learnt;
pub use load::{Draught, Load};
pub use starts::Start;
pub use state::State;
pub use sudden::Sudden;
pub use topology::{Chamber, End, Network, Passage, Recirculation};
pub use trace::Met;
pub use track::Track;
pub use workspace::{Solver, Unsolved};
