//! The program as its user meets it, its files and pages, and the order of the house.

mod cli;
mod diagnostics;
mod docs;
mod house;
mod readings;
mod report;
