//! `doubt`: what decides, and what to measure next.

use super::common::{Ready, print_json, print_text};
use super::progress::Progress;
use super::{CaseArguments, Failure};
use crate::output::text;
use crate::study::doubt::{Guesses, Wanted, of_conditions, shares};
use clap::Args;

pub(super) const EXAMPLE: &str = "Example: slowcorner doubt car.toml";

#[derive(Debug, Args)]
pub(super) struct Doubt {
    #[command(flatten)]
    case: CaseArguments,
    /// Show every guess that is worth anything
    #[arg(long)]
    detail: bool,
}

impl Doubt {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut conditions = ready.conditions()?;
        let progress = Progress::new("drawing");
        let doubt = of_conditions(ready.case(), &mut conditions, Wanted::default(), &|_| true);
        let guesses = Guesses::of(ready.case());
        let ranking = shares::ranking(ready.case(), &guesses, &|share| progress.share(share));
        drop(progress);
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        report.doubt = doubt;
        if self.case.json {
            report.shares = ranking.map_or(Vec::new(), |ranking| ranking.shares);
            print_json(&report)?;
        } else {
            print_text(&text::doubt(&report, ranking.as_ref(), self.detail));
        }
        Ok(true)
    }
}
