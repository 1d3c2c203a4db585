//! Sizes the cooling-air openings of one-off cars with enclosed air-cooled engines, and checks
//! them down to the slowest corner.
//!
//! The path through the crate is: a case file ([`case`], read by walking the tables of [`keys`])
//! becomes a [`network`] of passages whose [`element`]s stand on published [`correlations`], loaded
//! by the [`engine`] and its [`thermal`] parts; a [`study`] asks what a builder asks; [`output`]
//! shows the answer and [`cli`] is the command line.
#![deny(missing_docs)]

pub mod air;
pub mod case;
pub mod cli;
pub mod correlations;
pub mod draws;
pub mod element;
pub mod engine;
pub mod keys;
pub mod network;
pub mod numerics;
pub mod outline;
pub mod output;
pub mod point;
pub mod readings;
pub mod study;
pub mod thermal;
pub mod warnings;
