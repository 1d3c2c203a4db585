//! `why`: where a number came from.

use super::common::{DepthArguments, Ready, print_json};
use super::{CaseArguments, Failure, terminal};
use crate::output::text;
use crate::study::why::{NoAnswer, why};
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Examples: slowcorner why car.toml\n          slowcorner why car.toml heads --at hairpin\n          slowcorner why car.toml \"oil cooler/ram-inlet\"";

#[derive(Debug, Args)]
pub(super) struct WhyArgs {
    /// The case file
    case: PathBuf,
    /// A part, a passage, or PASSAGE/ELEMENT; default the part with the fewest kelvins left
    name: Option<String>,
    /// The condition; default the one in which the part has the fewest kelvins left
    #[arg(long, value_name = "CONDITION")]
    at: Option<String>,
    #[command(flatten)]
    depth: DepthArguments,
    /// Set one value of the case for this run, e.g. "condition/hairpin/speed=43 km/h"; any number of times
    #[arg(long = "set", value_name = "ADDRESS=VALUE")]
    set: Vec<String>,
    /// Write the result as one JSON object to standard output
    #[arg(long)]
    json: bool,
}

impl WhyArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let arguments = CaseArguments { case: self.case.clone(), set: self.set.clone(), json: self.json };
        let ready = Ready::read(&arguments)?;
        let mut found =
            why(ready.case(), &ready.model, self.name.as_deref(), self.at.as_deref()).map_err(refuse)?;
        let mut conditions = ready.conditions()?;
        conditions.retain(|condition| condition.name == found.condition);
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        report.warnings.append(&mut found.left_out);
        if self.json {
            report.why = Some(found);
            print_json(&report)?;
        } else {
            terminal::print(&text::why(&report, &found, self.depth.depth()))?;
        }
        Ok(true)
    }
}

fn refuse(error: NoAnswer) -> Failure {
    let (code, way_out) = match &error {
        NoAnswer::Unknown { way_out, .. } => ("unknown-name", way_out.clone()),
        NoAnswer::NoSuchCondition { known, .. } => ("unknown-name", format!("known: {}", known.join(", "))),
        NoAnswer::Nothing => {
            ("conditions-missing", "write a [[condition]] with name, speed and gear or rpm".to_string())
        }
        NoAnswer::Unsolved(_) => return Failure::Failed(error.to_string()),
    };
    Failure::refused(code, &error.to_string(), &way_out)
}
