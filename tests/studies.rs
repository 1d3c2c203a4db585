//! The answers of the studies: sizes, exits, comparisons, stints, doubt, readings taken back into a case.

mod compare;
mod doubt;
mod everywhere;
mod exits;
mod fit;
mod lap;
mod sizing;
mod warnings;
mod why;
