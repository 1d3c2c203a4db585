//! `check`: every condition of a case.

use super::common::{Ready, print_json};
use super::progress::Progress;
use super::{CaseArguments, Failure, terminal};
use crate::output::text;
use crate::study::doubt::result::Doubt;
use crate::study::doubt::{Wanted, of_conditions};
use crate::study::everywhere::{Everywhere, everywhere};
use crate::study::offers::offers;
use crate::study::ram_over_fan::ram_over_fan;
use crate::study::result::Condition;
use crate::study::stand_off::stand_off;
use crate::study::sudden::sudden_changes;
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
    /// Leave out how much of the answer rests on guesses
    #[arg(long)]
    plain: bool,
    /// Most draws of the guesses; all of them are made
    #[arg(long, value_name = "NUMBER", conflicts_with = "plain", value_parser = clap::value_parser!(u32).range(16..=1_000_000))]
    draws: Option<u32>,
    /// Also search speed, gear, load, clear air and day for the worst point of each part
    #[arg(long)]
    everywhere: bool,
}

impl Check {
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
        let doubt = if self.plain { None } else { doubt(&ready, &mut conditions, self.draws) };
        let mut met = !check::missed(&conditions);
        let echoes = warnings::echoes(ready.case(), &ready.model, &conditions);
        let found = self.everywhere.then(|| search(&ready, &conditions)).transpose()?;
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        report.doubt = doubt;
        report.unwritten = offers(ready.case(), &ready.model);
        report.ram_over_fan = ram_over_fan(ready.case(), &ready.model);
        report.stand_off = stand_off(ready.case(), &ready.model);
        report.sudden_changes = sudden_changes(ready.case(), &ready.model, &report.conditions);
        if let Some(found) = found {
            met &= !found.missed();
            report.everywhere = found.worst;
            report.everywhere_within = Some(found.within);
        }
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::check(&report, &echoes, self.detail))?;
        }
        Ok(met)
    }
}

/// How much of the answer rests on guesses.
fn doubt(ready: &Ready, conditions: &mut [Condition], draws: Option<u32>) -> Option<Doubt> {
    let progress = Progress::new("drawing");
    let wanted = match draws {
        Some(draws) => Wanted { most: draws as usize, all: true, ..Wanted::default() },
        None => Wanted::default(),
    };
    of_conditions(ready.case(), conditions, wanted, &|share| {
        progress.share(share);
        true
    })
}

fn search(ready: &Ready, conditions: &[Condition]) -> Result<Everywhere, Failure> {
    let progress = Progress::new("searching");
    everywhere(ready.case(), &ready.model, conditions, &|share| progress.share(share)).map_err(|error| {
        Failure::Refused(format!(
            "{error}\nWhat to do: look at [drive] and [sweep] of the case, or leave --everywhere out"
        ))
    })
}
