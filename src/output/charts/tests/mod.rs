//! Tests of the charts.

mod bands;
mod lines;
mod maps;
mod measures;
mod places;
mod samples;
mod writers;
