//! Sizes the cooling-air openings of one-off cars with enclosed air-cooled engines, and checks
//! them down to the slowest corner.
//!
//! A case is read, changed, solved and sized as a [`CaseFile`]; [`estimate`] needs none. Runnable examples stand in
//! docs/examples.
//!
//! # What is stable
//!
//! The command line with its exit statuses, the case file (`format = 1`) and what `--json` writes. Of the library the items
//! that this page shows. The rooms behind them (feature `rooms`) are open to the tests of this repository alone, stand on no
//! page, and change without notice.
#![deny(missing_docs)]

// Private as the program is built for others; open to this repository's own tests.
#[cfg(not(feature = "rooms"))]
mod air;
#[cfg(not(feature = "rooms"))]
mod case;
#[cfg(not(feature = "rooms"))]
mod cli;
#[cfg(not(feature = "rooms"))]
mod correlations;
#[cfg(not(feature = "rooms"))]
mod draws;
#[cfg(not(feature = "rooms"))]
mod element;
#[cfg(not(feature = "rooms"))]
mod engine;
#[cfg(not(feature = "rooms"))]
mod keys;
#[cfg(not(feature = "rooms"))]
mod network;
#[cfg(not(feature = "rooms"))]
mod numerics;
#[cfg(not(feature = "rooms"))]
mod outline;
#[cfg(not(feature = "rooms"))]
mod output;
#[cfg(not(feature = "rooms"))]
mod point;
#[cfg(not(feature = "rooms"))]
mod readings;
#[cfg(not(feature = "rooms"))]
mod study;
#[cfg(not(feature = "rooms"))]
mod thermal;
#[cfg(not(feature = "rooms"))]
mod warnings;

#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod air;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod case;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod cli;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod correlations;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod draws;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod element;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod engine;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod keys;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod network;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod numerics;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod outline;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod output;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod point;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod readings;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod study;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod thermal;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod warnings;

mod face;

pub use face::{
    AirMargin, CaseError, CaseFault, CaseFile, ConditionAnswer, EstimateAnswer, EstimateRange, OpeningAnswer,
    OpeningRole, PartAnswer, PassageAnswer, SizesAnswer, estimate,
};

/// Runs the program: the command line in, the exit status out.
pub fn run() -> std::process::ExitCode {
    cli::run()
}
