//! `check`: every condition of a case.

use super::common::{DepthArguments, Ready, print_json};
use super::drawing::{DrawingArgs, LongWork, stopped};
use super::{CaseArguments, Failure, terminal};
use crate::case::Warning;
use crate::draws::TallyWanted;
use crate::output::text;
use crate::point::budget::{Budget, seconds};
use crate::point::conditions::{self, ConditionUnsolved};
use crate::point::result::Condition;
use crate::study::check::beside::beside;
use crate::study::doubt::{of_conditions, of_worst};
use crate::study::everywhere::{Everywhere, everywhere_within};
use crate::study::sweep::between::between_conditions;
use crate::warnings;
use clap::Args;

pub(super) const EXAMPLE: &str =
    "Example: slowcorner check car.toml --set \"condition/hairpin/speed=38 km/h\"";

#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    #[command(flatten)]
    drawing: DrawingArgs,
    /// Also search speed, gear, load, clear air and day for the worst point of each part
    #[arg(long)]
    everywhere: bool,
}

impl CheckArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        if ready.case().conditions.is_empty() {
            return Err(ready.refuse(
                "conditions-missing",
                "the case has no [[condition]]: nothing would be checked, and nothing checked is not all clear",
                "write [[condition]] with a name, a speed and a gear or rpm: first the slowest corner, then the straight",
            ));
        }
        let mut conditions = ready.conditions()?;
        let mut left = Vec::new();
        let plain = conditions.clone();
        let (doubt, (mut around, between)) = rayon::join(
            || {
                self.drawing.doubt(
                    TallyWanted::default(),
                    ready.work_of_a_draw(),
                    &mut left,
                    |wanted, told| of_conditions(ready.case(), &mut conditions, wanted, told),
                )
            },
            || {
                rayon::join(
                    || beside(ready.case(), &ready.model, &plain),
                    || between_conditions(ready.case(), &ready.model, &plain),
                )
            },
        );
        let left_out = ready.unanswered().iter().any(ConditionUnsolved::left_out);
        let mut met = !conditions::missed(&conditions) && !left_out;
        let echoes = warnings::echoes(ready.case(), &ready.model, &conditions);
        let mut found = self.everywhere.then(|| search(&ready, &conditions, &mut left)).transpose()?;
        let draw = ready.work_of_a_draw();
        let everywhere_doubt = found.as_mut().and_then(|found| {
            self.drawing.doubt(TallyWanted::default(), draw, &mut left, |wanted, told| {
                of_worst(ready.case(), &mut found.worst, wanted, told)
            })
        });
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        report.between = between;
        report.doubt = doubt;
        report.everywhere_doubt = everywhere_doubt;
        report.warnings.append(&mut left);
        report.warnings.append(&mut around.left);
        report.unwritten = around.unwritten;
        report.ram_over_fan = around.ram_over_fan;
        report.stand_off = around.stand_off;
        report.sudden_changes = around.sudden_changes;
        report.advice = around.advice;
        if let Some(found) = found {
            met &= !found.missed();
            report.everywhere = found.worst;
            report.everywhere_within = Some(found.within);
        }
        if self.case.json {
            print_json(&report)?;
        } else {
            let of = (ready.file_name(), ready.is_sizable());
            terminal::print(&text::check(&report, &echoes, self.depth.depth(), of))?;
        }
        // the others are shown; that one has no steady state is a failure all the same
        match ready.unanswered().iter().find(|unsolved| !unsolved.left_out()) {
            Some(unsolved) => Err(Failure::Failed(unsolved.to_string())),
            None => Ok(met),
        }
    }
}

fn search(ready: &Ready, conditions: &[Condition], left: &mut Vec<Warning>) -> Result<Everywhere, Failure> {
    let work = LongWork::new("searching");
    let told = |share| work.told(share);
    let budget = Budget::seconds(seconds::EVERYWHERE);
    let found = everywhere_within(ready.case(), &ready.model, conditions, budget, left, &told);
    let found = found.map_err(|error| {
        let way_out = "look at [drive] and [sweep] of the case, or leave --everywhere out";
        Failure::refused("not-swept", &error.to_string(), way_out)
    })?;
    if let Some(share) = found.stopped_at {
        left.push(stopped(&format!(
            "after {:.0} % of the search for the worst points, {} points solved",
            100.0 * share,
            found.within.solved
        )));
    }
    Ok(found)
}
