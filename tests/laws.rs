//! Formulas, elements, networks and whole cars: what must hold of a solution, and figures from outside.

mod elements;
mod estimate;
mod fans;
mod fuzz;
mod invariants;
mod network;
mod published;
mod stand;
mod unwritten;
