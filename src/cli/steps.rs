//! `steps`: cutting in steps, from line to line.

use super::common::{DepthArguments, Ready, print_json_of};
use super::files::stem;
use super::templates::{refused, sized};
use super::{CaseArguments, Failure, terminal};
use crate::draws::lanes::DrawsWithin;
use crate::output::sheets::{self, SheetOrigin};
use crate::output::text;
use crate::point::budget::{Budget, left_out, seconds};
use crate::study::document::Report;
use crate::study::size::NotSized;
use crate::study::steps::{DRAWS, NoLines, result, steps};
use crate::study::templates::templates;
use clap::Args;
use serde::Serialize;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner steps car.toml --into cut\nWrites car-steps.pdf, one page for the workshop. The lines are those of `slowcorner templates car.toml`; each step can be looked at with `check --set`.";

#[derive(Debug, Args)]
pub(super) struct StepsArgs {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Folder for the page; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Draws of the guesses at each line
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(64..=100_000))]
    draws: Option<u32>,
}

/// A report with its steps.
#[derive(Serialize)]
struct StepsJson<'s> {
    #[serde(flatten)]
    report: &'s Report,
    cutting: &'s result::Steps,
}

impl StepsArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        if !ready.is_sizable() {
            return Err(ready.not_sized(&NotSized::NoTable));
        }
        let mut outputs = ready.outputs(self.into.as_deref())?;
        let no_lines = || {
            ready.refuse(
                "lines-missing",
                &NoLines.to_string(),
                "give bands to what is guessed, name fewer openings behind free or conditions behind at; or cut to what size says and measure",
            )
        };
        let Some(sized) = sized(&ready, false)? else { return Err(no_lines()) };
        let usual = DrawsWithin { draws: DRAWS, within: Budget::seconds(seconds::STEPS) };
        let draws = self.draws.map_or(usual, |draws| DrawsWithin::asked(draws as usize));
        let cut = templates(ready.case(), Some(&sized)).map_err(|error| refused(&ready, &error))?;
        let found = steps(ready.case(), &sized, &cut, draws).map_err(|NoLines| no_lines())?;
        let fewer = (self.draws.is_none() && found.draws < DRAWS)
            .then(|| left_out(format!("{} of {DRAWS} draws were made at each line", found.draws)));
        let mut report = ready.report(ready.case(), &ready.model, Vec::new());
        report.warnings.extend(fewer);
        outputs.add(
            format!("{}-steps.pdf", stem(&self.case.case)),
            sheets::steps(&found, &SheetOrigin::of(&report)),
        );
        let written = outputs.write()?;
        if self.case.json {
            print_json_of(&StepsJson { report: &report, cutting: &found })?;
        } else {
            terminal::print(&text::steps(&report, &found, self.depth.depth(), &written))?;
        }
        Ok(found.can_be_done)
    }
}
