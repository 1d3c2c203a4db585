//! The solver against other solvers, and its solutions added up again from what is published of
//! them.

pub mod balance;
mod hard_states;
mod pipe_networks;
mod solved_balances;
mod solved_cases;
mod stack;
