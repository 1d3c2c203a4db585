//! A case at one operating point, solved: what all studies stand on.
//!
//! | module | what it gives |
//! | --- | --- |
//! | [`model`] | the network, engine and parts of a case |
//! | `joints`, [`leakage`], `shut_in`, `overdriven` | what a model needs beside its tables: tees, seams and hot air that nobody wrote, heat without a way out, fans beyond what air takes |
//! | [`operation`], [`gearing`], [`speeds`], [`counted`] | what the car meets and does: a condition, a road speed in its gear, whatever counts |
//! | [`solver`] | solves one after another |
//! | [`conditions`], [`margins`] | all conditions solved; the least margins of a case with a change |
//! | [`describe`], [`result`] | a condition as it was solved, as every result shows it |
//! | [`pressure_budget`] | where the pressure goes along a passage |
//! | [`opening`] | an opening's area as a number that can be changed |
//! | [`budget`] | how much may be solved |

pub mod budget;
pub mod conditions;
pub mod counted;
pub mod describe;
pub mod gearing;
pub(crate) mod joints;
pub mod leakage;
pub mod margins;
pub mod model;
pub mod opening;
pub mod operation;
mod overdriven;
pub mod pressure_budget;
pub mod result;
mod shut_in;
pub mod solver;
pub mod speeds;
pub mod ways;

pub use gearing::Gearing;
pub use model::Model;
pub use operation::Operation;
pub use solver::PointSolver;
