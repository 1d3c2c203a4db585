//! The solver against other solvers, and its solutions added up again from what is published of
//! them.

mod solved_cases;

mod balance;
