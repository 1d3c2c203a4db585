//! What people see, kept as snapshots of an invented report, and the rules behind the words.

mod rules;
mod sample;
mod snapshots;
