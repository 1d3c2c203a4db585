//! `start`: a commented starter case that runs as it is.

use super::estimate::FanChoice;
use super::files::{shown, write_new};
use super::{Failure, terminal};
use crate::output::text::command;
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner start car.toml --fan driven\nThen: slowcorner check car.toml; slowcorner size car.toml --into sized";

#[derive(Debug, Args)]
pub(super) struct StartArgs {
    /// The case file to write; never over an existing one
    file: PathBuf,
    /// What drives the air
    #[arg(long, value_enum)]
    fan: FanChoice,
}

/// The starter case of a way of driving the air.
fn text(fan: FanChoice) -> &'static str {
    match fan {
        FanChoice::Driven => include_str!("driven.toml"),
        FanChoice::Electric => include_str!("electric.toml"),
        FanChoice::None => include_str!("none.toml"),
    }
}

impl StartArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        write_new(&self.file, text(self.fan))?;
        let file = shown(&self.file);
        let named = command::word(&file);
        terminal::print(&format!(
            "Written: {file}\nEvery figure in it is a placeholder; each line says what to measure. It runs as it is:\n  \
             slowcorner check {named}\n  slowcorner sweep {named} --into charts\n  slowcorner size {named} --into sized"
        ))?;
        Ok(true)
    }
}
