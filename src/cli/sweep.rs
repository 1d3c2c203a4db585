//! `sweep`: margin against road speed.

use super::common::{DepthArguments, Ready, print_json};
use super::drawing::DrawingArgs;
use super::files::{Outputs, stem};
use super::{CaseArguments, Failure, terminal};
use crate::draws::TallyWanted;
use crate::output::charts::{LineChart, Picture};
use crate::output::text::Depth;
use crate::output::{curves, stairs, table, text};
use crate::point::budget::{Budget, seconds};
use crate::study::document::Report;
use crate::study::doubt::{of_sweep, work_of_speeds};
use crate::study::sweep;
use crate::study::sweep::result::Sweep as Swept;
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner sweep car.toml --into charts --csv margins.csv\nWrites car-margin and car-pressure (of the slowest condition; with --detail car-pressure-speeds too), each as .svg and .png.";

#[derive(Debug, Args)]
pub(super) struct SweepArgs {
    #[command(flatten)]
    case: CaseArguments,
    /// How many speeds
    #[arg(long, default_value_t = 200, value_parser = clap::value_parser!(u32).range(2..=100_000))]
    points: u32,
    /// Folder for the charts; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Also write the numbers to this file
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Write the charts as SVG only
    #[arg(long)]
    svg_only: bool,
    #[command(flatten)]
    depth: DepthArguments,
    #[command(flatten)]
    drawing: DrawingArgs,
    /// Write over a file of numbers even where it was not written by this program, or was changed since
    #[arg(long)]
    replace: bool,
}

impl SweepArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = ready.outputs(self.into.as_deref())?.replacing(self.replace);
        if let Some(path) = &self.csv {
            outputs.try_table(path)?;
        }
        let conditions = ready.conditions()?;
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        let (case, model, mut left) = (ready.case(), &ready.model, Vec::new());
        let within = Budget::seconds(seconds::SWEEP);
        let swept = sweep::sweep_within(case, model, self.points as usize, within, &mut left);
        let mut swept = swept.map_err(|error| {
            Failure::refused("not-swept", &error.to_string(), "look at [drive] and [sweep] of the case")
        })?;
        report.doubt = self.drawing.doubt(
            TallyWanted { least_only: true, ..TallyWanted::default() },
            work_of_speeds(case, model),
            &mut left,
            |wanted, told| of_sweep(case, &mut swept, wanted, told),
        );
        report.warnings.append(&mut left);
        if let Some(path) = &self.csv {
            let csv = table::sweep_csv(&swept).map_err(|error| Failure::Failed(error.to_string()))?;
            outputs.add_table(path, &csv);
        }
        report.sweep = Some(swept);
        let name = stem(&self.case.case);
        add_charts(&mut outputs, &report, &name, !self.svg_only, self.depth.depth());
        let written = outputs.write()?;
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::sweep(&report, &written, self.depth.depth()))?;
        }
        Ok(true)
    }
}

/// The margin chart; beyond the short form part by part, with air over need.
fn margin_chart(report: &Report, sweep: &Swept, depth: Depth) -> LineChart {
    match depth {
        Depth::Short => curves::margins(report, sweep),
        _ => curves::margins_in_detail(report, sweep),
    }
}

/// Adds the margin chart of a report's sweep.
pub(super) fn add_margin_chart(outputs: &mut Outputs, report: &Report, name: &str, png: bool, depth: Depth) {
    if let Some(sweep) = &report.sweep {
        outputs.add_chart(&format!("{name}-margin"), &margin_chart(report, sweep, depth), png);
    }
}

/// Adds the margin chart and the staircases of the slow corner; beyond the short form the pressure at all speeds as well. They
/// are drawn beside one another.
fn add_charts(outputs: &mut Outputs, report: &Report, name: &str, png: bool, depth: Depth) {
    let Some(sweep) = &report.sweep else { return };
    let margin = margin_chart(report, sweep, depth);
    let stairs = stairs::slowest(report).map(|condition| stairs::pressures(report, condition));
    let speeds = (depth > Depth::Short).then(|| curves::pressures(report, sweep));
    let mut charts: Vec<(String, &(dyn Picture + Sync))> = vec![(format!("{name}-margin"), &margin)];
    charts.extend(stairs.iter().map(|chart| (format!("{name}-pressure"), chart as &(dyn Picture + Sync))));
    charts.extend(
        speeds.iter().map(|chart| (format!("{name}-pressure-speeds"), chart as &(dyn Picture + Sync))),
    );
    outputs.add_charts(&charts, png);
}
