//! `check`: every condition of a case.

use super::common::{Ready, print_json, print_text};
use super::{CaseArguments, Failure};
use crate::output::text;
use crate::study::{check, warnings};
use clap::Args;

pub(super) const EXAMPLE: &str =
    "Example: slowcorner check car.toml --set \"condition/hairpin/speed=38 km/h\"";

#[derive(Debug, Args)]
pub(super) struct Check {
    #[command(flatten)]
    case: CaseArguments,
    /// Show every passage and element of every condition
    #[arg(long)]
    detail: bool,
}

impl Check {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let conditions = ready.conditions()?;
        let met = !check::missed(&conditions);
        let echoes = warnings::echoes(ready.case(), &ready.model, &conditions);
        let report = ready.report(ready.case(), &ready.model, conditions);
        if self.case.json {
            print_json(&report)?;
        } else {
            print_text(&text::check(&report, &echoes, self.detail));
        }
        Ok(met)
    }
}
