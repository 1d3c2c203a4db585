//! `report`: everything that a case makes possible, as one page to print and hand on.

use super::common::{Ready, print_json_of};
use super::drawing::{DrawingArgs, LongWork, stopped};
use super::files::{shown, stem};
use super::recorded::read_record;
use super::{CaseArguments, Failure, terminal};
use crate::case::Named;
use crate::output::{report, text};
use crate::study::changes::changes;
use crate::study::doubt::whole;
use crate::study::everything::{OlderCase, everything};
use crate::study::lap::record::Record;
use clap::Args;
use std::path::{Path, PathBuf};

pub(super) const EXAMPLE: &str = "Example: slowcorner report car.toml --into paper\nWrites car-report.html: three sheets to hand on and two pages of charts; with --all tables, every assumption and its source. Opens from the disk, prints on A4.";

#[derive(Debug, Args)]
pub(super) struct ReportArgs {
    #[command(flatten)]
    case: CaseArguments,
    /// Folder for the page; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    #[command(flatten)]
    drawing: DrawingArgs,
    /// Every section: each condition, part, passage, assumption and warning; else three sheets and two pages of charts
    #[arg(long)]
    all: bool,
    /// An older state of the case: which openings stay valid since then, which margins moved, and by what
    #[arg(long, value_name = "OLD_CASE")]
    against: Option<PathBuf>,
}

impl ReportArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = ready.outputs(self.into.as_deref())?;
        if let Some(old) = &self.against {
            outputs.protect(old);
        }
        let work = LongWork::new("report");
        let go_on = || work.told(0.0);
        let doubt = (!self.drawing.is_plain()).then(|| whole::Extent {
            draws: self.drawing.asked(),
            whole: self.all || self.case.json,
            go_on: &go_on,
        });
        let against = self.against.as_deref().map(|old| since(&ready, old)).transpose()?;
        let mut all = everything(
            &ready.loaded,
            &ready.model,
            &|case, model, conditions| ready.report(case, model, conditions),
            self.records(&ready),
            against,
            doubt,
        );
        if work.was_stopped() {
            all.report.warnings.push(stopped("while guesses were drawn"));
        }
        let page = report::report(&all, self.all);
        outputs.add(format!("{}-report.html", stem(&self.case.case)), page);
        let written = outputs.write()?;
        if self.case.json {
            print_json_of(&all)?;
        } else {
            terminal::print(&text::report(&all, &written))?;
        }
        Ok(true)
    }

    /// The recorded run of every stint that names one, or why it cannot be read.
    fn records(&self, ready: &Ready) -> Vec<Result<Option<Record>, String>> {
        let stints = ready.case().stints.iter();
        let read =
            |stint: &Named| read_record(&self.case.case, &stint.values).map_err(|unread| unread.in_short());
        stints.map(read).collect()
    }
}

/// What changed since an older case.
fn since(ready: &Ready, old: &Path) -> Result<OlderCase, Failure> {
    let arguments = CaseArguments { case: old.to_path_buf(), set: Vec::new(), json: false };
    let older = Ready::read(&arguments)?;
    let changes = changes(&older.loaded, &ready.loaded, &|_| ()).map_err(Failure::Failed)?;
    let report = older.report(older.case(), &older.model, Vec::new());
    Ok(OlderCase {
        title: report.title,
        revision: report.revision,
        case_sha256: report.case_sha256,
        file: shown(old),
        changes,
    })
}
