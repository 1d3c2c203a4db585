//! Tests of the charts.

mod air;
mod bands;
mod bars;
mod cells;
mod lines;
mod maps;
mod measures;
mod places;
mod readings;
mod samples;
mod stairs;
mod writers;
