//! `doubt`: what decides, and what to measure next.

use super::common::{Ready, print_json};
use super::drawing::FEWEST_DRAWS;
use super::progress::Progress;
use super::{CaseArguments, Failure, terminal};
use crate::output::text;
use crate::study::budget::{Budget, left_out, seconds};
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
        if ready.case().conditions.is_empty() {
            return Err(ready.refuse(
                "conditions-missing",
                "the case has no [[condition]]: no margin is asked for that a guess could decide",
                "write [[condition]] with a name, a speed and a gear or rpm: first the slowest corner, then the straight",
            ));
        }
        let mut conditions = ready.conditions()?;
        let progress = Progress::new("drawing");
        let (wanted, draw) = (Wanted::default(), ready.work_of_a_draw());
        let mut left = Vec::new();
        let doubt = if wanted.within.times(draw) < FEWEST_DRAWS {
            left.push(left_out("the draws of the guesses were left out"));
            None
        } else {
            of_conditions(ready.case(), &mut conditions, wanted, &|_| true)
        };
        let guesses = Guesses::of(ready.case());
        let budget = Budget::seconds(seconds::SHARES);
        let told = |share| progress.share(share);
        let ranking = shares::ranking_within(budget, draw, ready.case(), &guesses, &told);
        if ranking.is_none() && !guesses.is_empty() {
            left.push(left_out("what each guess is worth was left out"));
        }
        drop(progress);
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        report.warnings.append(&mut left);
        report.doubt = doubt;
        if self.case.json {
            report.shares = ranking.map_or(Vec::new(), |ranking| ranking.shares);
            print_json(&report)?;
        } else {
            terminal::print(&text::doubt(&report, ranking.as_ref(), self.detail))?;
        }
        Ok(true)
    }
}
