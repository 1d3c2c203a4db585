//! `size`: the free openings of a case.

use super::common::{Ready, print_json, print_text};
use super::files::{Outputs, folder_of, stem};
use super::sweep::add_margin_chart;
use super::written::sized_copy;
use super::{CaseArguments, Failure};
use crate::output::text;
use crate::study::size::Sizing;
use crate::study::sudden::sudden_changes;
use crate::study::{Model, check, sweep};
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner size car.toml --into sized\nWrites car-sized.toml, comments kept, and car-sized-margin as .svg and .png.";

/// Speeds of the chart that goes with the sized case.
const POINTS: usize = 200;

#[derive(Debug, Args)]
pub(super) struct Size {
    #[command(flatten)]
    case: CaseArguments,
    /// Folder for the sized case and its chart; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Write the chart as SVG only
    #[arg(long)]
    svg_only: bool,
}

impl Size {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = Outputs::into(&self.into.clone().unwrap_or_else(|| folder_of(&self.case.case)))?;
        let sizing = Sizing::new(ready.case()).map_err(|error| {
            Failure::Refused(format!("{error}\nWhat to do: write [size] with free = [ \"…\" ], the passages whose opening may change"))
        })?;
        let sized = sizing.solve().map_err(|error| Failure::Failed(error.to_string()))?;
        let name = format!("{}-sized", stem(&self.case.case));
        let model =
            Model::new(&sized.case).map_err(|_| Failure::Failed("the sized case was refused".into()))?;
        let conditions =
            check::check(&sized.case, &model).map_err(|error| Failure::Failed(error.to_string()))?;
        let feasible = sized.sizes.feasible;
        let mut report = ready.report(&sized.case, &model, conditions);
        let copy = sized_copy(&ready.source, &ready.set, &sized).map_err(Failure::Refused)?;
        outputs.add(format!("{name}.toml"), copy);
        report.sudden_changes = sudden_changes(&sized.case, &model, &report.conditions);
        report.sizes = Some(sized.sizes);
        if sized.case.drive.is_some() {
            report.sweep = sweep::sweep(&sized.case, &model, POINTS).ok();
            add_margin_chart(&mut outputs, &report, &name, !self.svg_only)?;
        }
        report.sweep = None;
        let written = outputs.write(&self.case.case)?;
        if self.case.json {
            print_json(&report)?;
        } else {
            print_text(&text::size(&report, &written));
        }
        Ok(feasible)
    }
}
