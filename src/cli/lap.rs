//! `lap`: part temperatures in time.

use super::common::{DepthArguments, Ready, print_json};
use super::drawing::DrawingArgs;
use super::files::{Outputs, Slugs, shown, stem};
use super::recorded::{Unread, read_record};
use super::{CaseArguments, Failure, terminal};
use crate::case::render::render;
use crate::draws::TallyWanted;
use crate::output::{course, table, text};
use crate::point::budget::{Budget, seconds};
use crate::study::document::Report;
use crate::study::doubt::{of_runs, runs, work_of_runs};
use crate::study::lap::record::Record;
use crate::study::lap::{self, NotRun};
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner lap car.toml --into charts --csv lap.csv\nRuns every [[stint]] of the case; writes car-lap-STINT as .svg and .png.";

#[derive(Debug, Args)]
pub(super) struct Lap {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Run only the stint of this name; any number of times
    #[arg(long, value_name = "NAME")]
    stint: Vec<String>,
    /// Folder for the charts; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Also write the course of temperatures to this file
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Write the charts as SVG only
    #[arg(long)]
    svg_only: bool,
    #[command(flatten)]
    drawing: DrawingArgs,
    /// Write over a file of temperatures even where it was not written by this program, or was changed since
    #[arg(long)]
    replace: bool,
}

impl Lap {
    pub fn run(&self) -> Result<bool, Failure> {
        let mut ready = Ready::read(&self.case)?;
        // before stints are left out: what the others name is nobody's to lose either
        let mut outputs = ready.outputs(self.into.as_deref())?.replacing(self.replace);
        self.choose(&mut ready)?;
        if let Some(path) = &self.csv {
            outputs.try_table(path)?;
        }
        let records = self.records(&ready)?;
        let conditions = ready.conditions()?;
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        let runs = lap::lap(ready.case(), &ready.model, records.clone());
        report.stints = runs.map_err(|error| match error {
            NotRun::Refused(faults) => {
                Failure::Refused(render(faults.list(), &self.case.case.display().to_string(), &ready.source))
            }
            error @ NotRun::Unsolved { .. } => Failure::Failed(error.to_string()),
        })?;
        for warning in report.stints.iter().flat_map(|stint| &stint.warnings) {
            if !report.warnings.contains(warning) {
                report.warnings.push(warning.clone());
            }
        }
        let (case, model, mut left) = (ready.case(), &ready.model, Vec::new());
        let draw = work_of_runs(case, model, &report.stints);
        let within = Budget::seconds(seconds::LAP_DRAWS);
        let usual =
            TallyWanted { most: within.times(draw).min(runs::MOST), within, ..TallyWanted::default() };
        report.doubt = if usual.most < runs::FEWEST && self.drawing.asked().is_none() {
            self.drawing.left_out(&mut left);
            None
        } else {
            self.drawing.doubt(usual, draw, &mut left, |wanted, told| {
                of_runs(case, &records, &mut report.stints, wanted, told)
            })
        };
        report.warnings.append(&mut left);
        if let Some(path) = &self.csv {
            let csv = table::lap_csv(&report).map_err(|error| Failure::Failed(error.to_string()))?;
            outputs.add_table(path, &csv);
        }
        self.add_charts(&mut outputs, &report);
        let written = outputs.write()?;
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::lap(&report, &written, self.depth.depth()))?;
        }
        Ok(true)
    }

    /// Keeps the stints that were asked for.
    fn choose(&self, ready: &mut Ready) -> Result<(), Failure> {
        let stints = &mut ready.loaded.case.stints;
        if stints.is_empty() {
            return Err(Failure::refused(
                "stints-missing",
                &format!("{} has no [[stint]], so that nothing happens in time", shown(&self.case.case)),
                r#"write [[stint]] with a name and step = [ { condition = "…", time = "60 s" } ], leg = [ … ] or trace = "run.csv""#,
            ));
        }
        for name in &self.stint {
            if !stints.iter().any(|stint| &stint.name == name) {
                let known: Vec<String> = stints.iter().map(|stint| format!("{:?}", stint.name)).collect();
                let way_out = format!("name one of {}", known.join(", "));
                return Err(Failure::refused(
                    "unknown-name",
                    &format!("there is no stint {name:?}"),
                    &way_out,
                ));
            }
        }
        if !self.stint.is_empty() {
            stints.retain(|stint| self.stint.contains(&stint.name));
        }
        Ok(())
    }

    /// Reads the recorded run of every stint that names one, beside the case where its path is relative.
    fn records(&self, ready: &Ready) -> Result<Vec<Option<Record>>, Failure> {
        let stints = ready.case().stints.iter();
        stints.map(|stint| read_record(&self.case.case, &stint.values).map_err(Unread::failure)).collect()
    }

    fn add_charts(&self, outputs: &mut Outputs, report: &Report) {
        let name = stem(&self.case.case);
        let mut slugs = Slugs::default();
        for stint in &report.stints {
            let slug = slugs.of(&stint.name, "stint");
            let chart = course::temperatures(report, stint, None);
            outputs.add_chart(&format!("{name}-lap-{slug}"), &chart, !self.svg_only);
        }
    }
}
