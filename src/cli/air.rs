//! `air`: pictures of the air.

use super::common::{DepthArguments, Ready, print_json};
use super::files::{Slugs, shown, stem};
use super::{CaseArguments, Failure, terminal};
use crate::output::{air, text};
use crate::point::budget::left_out;
use crate::point::result::Condition;
use crate::study::document::Report;
use clap::Args;
use std::path::PathBuf;

/// Conditions that are drawn where none is named.
const MOST_DRAWN: usize = 24;

pub(super) const EXAMPLE: &str = "Example: slowcorner air car.toml --condition hairpin --into charts\nWrites car-air-CONDITION, each as .svg and .png: a plan with channels as wide as their flow, arrows as the air runs.";

#[derive(Debug, Args)]
pub(super) struct AirArgs {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Draw only the condition of this name; any number of times
    #[arg(long, value_name = "NAME")]
    condition: Vec<String>,
    /// Folder for the pictures; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Write the pictures as SVG only
    #[arg(long)]
    svg_only: bool,
}

impl AirArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        self.check_names(&ready)?;
        let mut outputs = ready.outputs(self.into.as_deref())?;
        let conditions = ready.conditions()?;
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        let drawn = self.drawn(&mut report);
        let name = stem(&self.case.case);
        let mut slugs = Slugs::default();
        for condition in &report.conditions {
            // a name keeps its file whichever of the others are drawn
            let slug = slugs.of(&condition.name, "condition");
            if drawn.contains(&condition.name) {
                let picture = air::picture(&report, condition, &report.conditions);
                outputs.add_chart(&format!("{name}-air-{slug}"), &picture, !self.svg_only);
            }
        }
        let written = outputs.write()?;
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::air(&report, &self.condition, &written, self.depth.depth()))?;
        }
        Ok(true)
    }

    /// Names of the conditions that are drawn: those asked for, else all, or those with the least margins where there
    /// are very many, which is told.
    fn drawn(&self, report: &mut Report) -> Vec<String> {
        if !self.condition.is_empty() {
            return self.condition.clone();
        }
        let mut conditions: Vec<&Condition> = report.conditions.iter().collect();
        conditions.sort_by(|a, b| a.least_kelvins().total_cmp(&b.least_kelvins()));
        let drawn: Vec<String> =
            conditions.iter().take(MOST_DRAWN).map(|condition| condition.name.clone()).collect();
        let more = report.conditions.len() - drawn.len();
        if more > 0 {
            report.warnings.push(left_out(format!(
                "pictures of the {MOST_DRAWN} conditions with the least margins were drawn, {more} others with --condition NAME"
            )));
        }
        drawn
    }

    fn check_names(&self, ready: &Ready) -> Result<(), Failure> {
        let known: Vec<&str> =
            ready.case().conditions.iter().map(|condition| condition.name.as_str()).collect();
        if known.is_empty() {
            return Err(Failure::refused(
                "conditions-missing",
                &format!("{} has no [[condition]], so that there is no air to draw", shown(&self.case.case)),
                "write [[condition]] with a name, a speed and a gear or rpm",
            ));
        }
        match self.condition.iter().find(|name| !known.contains(&name.as_str())) {
            Some(name) => {
                let way_out = format!("name one of {}", known.join(", "));
                Err(Failure::refused("unknown-name", &format!("there is no condition {name:?}"), &way_out))
            }
            None => Ok(()),
        }
    }
}
