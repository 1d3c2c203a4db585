//! `compare`: the base case and its layouts side by side.

use super::common::{DepthArguments, Ready, print_json_of};
use super::drawing::DrawingArgs;
use super::files::{shown, stem};
use super::progress::Progress;
use super::{CaseArguments, Failure, terminal};
use crate::case::tables::REVISION;
use crate::output::text::{Depth, told};
use crate::output::{overlay, text};
use crate::point::budget::{Budget, seconds};
use crate::study::changes::changes;
use crate::study::changes::result::Changes;
use crate::study::compare::result::Comparison;
use crate::study::compare::{Options, compare};
use crate::study::document::Report;
use clap::Args;
use serde::Serialize;
use std::path::{Path, PathBuf};

pub(super) const EXAMPLE: &str = "Example: slowcorner compare car.toml --sized --into compared\nWrites car-compare (a bar for each layout and condition; with --detail car-compare-speeds and car-compare-parts too), each as .svg and .png; of sizes found, car-compare-sized.\nSince the last body: slowcorner compare car.toml --against car-state-2.toml";

#[derive(Debug, Args)]
pub(super) struct Compare {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Size the free openings of each layout first
    #[arg(long)]
    sized: bool,
    /// What changed since an older case instead: openings that stay, margins that moved, and by what; --set is
    /// for CASE alone
    #[arg(long, value_name = "OLD_CASE", conflicts_with_all = ["sized", "into", "svg_only"])]
    against: Option<PathBuf>,
    /// Folder for the charts; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    #[command(flatten)]
    drawing: DrawingArgs,
    /// Write the charts as SVG only
    #[arg(long)]
    svg_only: bool,
}

/// The result as JSON: what every result says, and the comparison beside it.
#[derive(Serialize)]
struct Whole<'r> {
    #[serde(flatten)]
    report: &'r Report,
    #[serde(flatten)]
    comparison: &'r Comparison,
}

/// What changed, as JSON.
#[derive(Serialize)]
struct ChangesJson<'r> {
    #[serde(flatten)]
    report: &'r Report,
    against: OlderArgs,
    changes: &'r Changes,
}

/// Whose case the older one is.
#[derive(Serialize)]
struct OlderArgs {
    title: Option<String>,
    revision: Option<String>,
    case_sha256: String,
}

impl Compare {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        if let Some(old) = &self.against {
            return self.changes(&ready, old);
        }
        let path = shown(&self.case.case);
        if ready.case().layouts.is_empty() {
            return Err(Failure::refused(
                "layouts-missing",
                &format!("{path} has no [[layout]], so that there is nothing to compare"),
                r#"write [[layout]] with a name and set = { "place/tail left/pressure_coefficient" = -0.05 }, remove = [ "…" ] or [[layout.passage]]"#,
            ));
        }
        if self.sized && ready.case().size.is_none() {
            return Err(Failure::refused(
                "size-missing",
                &format!("{path} has no [size], so that nothing can be sized"),
                r#"write [size] with free = [ "…" ], or leave --sized out"#,
            ));
        }
        let mut outputs = ready.outputs(self.into.as_deref())?;
        let comparison = {
            let progress = Progress::new("comparing");
            let drawn = (self.drawing.asked(), Budget::seconds(seconds::CHANCES));
            let options = Options {
                sized: self.sized,
                budget: Budget::seconds(seconds::COMPARE),
                drawn: (!self.drawing.is_plain()).then_some(drawn),
            };
            compare(&ready.loaded.document, ready.case(), options, &|share| progress.share(share))
        };
        if comparison.ranking.best.is_none() {
            let told: Vec<String> = (comparison.compare.iter())
                .map(|c| format!("{}: {}", c.layout, c.trouble.as_deref().unwrap_or_default()))
                .collect();
            return Err(Failure::Failed(told.join("\n")));
        }
        let report = ready.report(ready.case(), &ready.model, Vec::new());
        let told = told(&comparison);
        let name = stem(&self.case.case);
        let name = format!("{name}-compare{}", if self.sized { "-sized" } else { "" });
        outputs.add_chart(&name, &overlay::bars(&report, &told), !self.svg_only);
        if ready.case().drive.is_some() && self.depth.depth() > Depth::Short {
            let charts = [
                (format!("{name}-speeds"), overlay::worst(&report, &told)),
                (format!("{name}-parts"), overlay::parts(&report, &told)),
            ];
            outputs.add_charts(&charts, !self.svg_only);
        }
        let written = outputs.write()?;
        if self.case.json {
            print_json_of(&Whole { report: &report, comparison: &comparison })?;
        } else {
            terminal::print(&text::compare(&report, &told, &written, self.depth.depth()))?;
        }
        Ok(true)
    }

    /// What changed since an older case.
    fn changes(&self, ready: &Ready, old: &Path) -> Result<bool, Failure> {
        let arguments = CaseArguments { case: old.to_path_buf(), set: Vec::new(), json: false };
        let older = Ready::read(&arguments)?;
        let found = {
            let progress = Progress::new("comparing");
            changes(&older.loaded, &ready.loaded, &|share| progress.share(share)).map_err(Failure::Failed)?
        };
        let report = ready.report(ready.case(), &ready.model, Vec::new());
        if self.case.json {
            let against = older.report(older.case(), &older.model, Vec::new());
            print_json_of(&ChangesJson {
                report: &report,
                against: OlderArgs {
                    title: against.title,
                    revision: against.revision,
                    case_sha256: against.case_sha256,
                },
                changes: &found,
            })?;
        } else {
            let revision = older.case().top.text(&REVISION);
            let old = revision.map_or(shown(old), |revision| format!("{revision} ({})", shown(old)));
            terminal::print(&text::changes(&report, &old, &found))?;
        }
        Ok(true)
    }
}
