//! `size`: the free openings of a case.

use super::common::{Ready, print_json};
use super::files::{Outputs, stem};
use super::sweep::add_margin_chart;
use super::written::{Rounding, sized_copy};
use super::{CaseArguments, Failure, terminal};
use crate::case::load;
use crate::output::text;
use crate::study::size::{Sized, Sizing};
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
    /// Write over a sized case even where it was not written by this program, or was changed since
    #[arg(long)]
    replace: bool,
}

/// The case with its sizes, rounded as far as every margin is still kept.
fn copy(ready: &Ready, sizing: &Sizing, sized: &Sized) -> Result<String, String> {
    let mut last = String::new();
    for rounding in Rounding::ALL {
        last = sized_copy(&ready.source, &ready.set, sized, rounding)?;
        // where no sizes reach all that is asked for, those found are shown as near as can be cut
        if !sized.sizes.feasible || keeps(sizing, &last) {
            break;
        }
    }
    Ok(last)
}

/// Whether a case as written keeps every margin that sizing was asked for.
fn keeps(sizing: &Sizing, text: &str) -> bool {
    let Ok(loaded) = load(text, &[]) else { return false };
    let Ok(model) = Model::new(&loaded.case) else { return false };
    check::check(&loaded.case, &model).is_ok_and(|conditions| sizing.met_by(&conditions))
}

impl Size {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = Outputs::new(&ready, self.into.as_deref())?.replacing(self.replace);
        let name = format!("{}-sized", stem(&self.case.case));
        outputs.try_case(&format!("{name}.toml"))?;
        let sizing = Sizing::new(ready.case()).map_err(|error| {
            Failure::Refused(format!("{error}\nWhat to do: write [size] with free = [ \"…\" ], the passages whose opening may change"))
        })?;
        let sized = sizing.solve().map_err(|error| Failure::Failed(error.to_string()))?;
        let model =
            Model::new(&sized.case).map_err(|_| Failure::Failed("the sized case was refused".into()))?;
        let conditions =
            check::check(&sized.case, &model).map_err(|error| Failure::Failed(error.to_string()))?;
        let feasible = sized.sizes.feasible;
        let mut report = ready.report(&sized.case, &model, conditions);
        let copy = copy(&ready, &sizing, &sized).map_err(Failure::Refused)?;
        outputs.add_case(&format!("{name}.toml"), &copy);
        report.sudden_changes = sudden_changes(&sized.case, &model, &report.conditions);
        report.sizes = Some(sized.sizes);
        if sized.case.drive.is_some() {
            report.sweep = sweep::sweep(&sized.case, &model, POINTS).ok();
            add_margin_chart(&mut outputs, &report, &name, !self.svg_only);
        }
        report.sweep = None;
        let written = outputs.write()?;
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::size(&report, &written))?;
        }
        Ok(feasible)
    }
}
