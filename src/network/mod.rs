//! The network of passages and chambers, and its solution: flows, pressures and temperatures at
//! once.

mod assemble;
mod fallback;
mod flows;
mod joints;
mod learnt;
mod nodes;
mod solve;
mod stall;
mod standing;
mod starts;
mod sudden;
mod topology;
mod trace;
mod track;

pub use learnt::Learnt;
pub use solve::{Draught, Load, Solver, State, Unsolved};
pub use starts::Start;
pub use sudden::Sudden;
pub use topology::{Chamber, End, Network, Passage, Recirculation};
pub use trace::Met;
pub use track::Track;
