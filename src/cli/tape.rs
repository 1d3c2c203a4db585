//! `tape`: how much tape today.

use super::common::{DepthArguments, Ready, print_json_of};
use super::files::stem;
use super::templates::sized;
use super::{CaseArguments, Failure, terminal};
use crate::output::sheets::{self, SheetOrigin};
use crate::output::text;
use crate::point::Model;
use crate::point::budget::{Budget, seconds};
use crate::study::document::Report;
use crate::study::tape::{DRAWS, result, tape};
use clap::Args;
use serde::Serialize;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner tape car.toml --set \"body/tape_width=38 mm\"\nWrites car-tape.pdf, a card of A5. Openings as [size] finds them; --drawn for a car that is cut.";

#[derive(Debug, Args)]
pub(super) struct TapeArgs {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Folder for the card; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Openings as the case has them, whatever [size] would find
    #[arg(long)]
    drawn: bool,
    /// Draws of the guesses behind the bands
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(64..=10_000))]
    draws: Option<u32>,
}

/// A report with its card.
#[derive(Serialize)]
struct TapeJson<'s> {
    #[serde(flatten)]
    report: &'s Report,
    tape: &'s result::Tape,
}

impl TapeArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = ready.outputs(self.into.as_deref())?;
        let sized = if self.drawn { None } else { sized(&ready, true)? };
        let sized = sized.and_then(|sized| Some((Model::new(&sized.case).ok()?, sized)));
        let (case, model) =
            sized.as_ref().map_or((ready.case(), &ready.model), |(model, sized)| (&sized.case, model));
        let draws = self.draws.map_or(DRAWS, |draws| draws as usize);
        let found =
            tape(case, model, sized.is_some(), draws, Budget::seconds(seconds::TAPE)).map_err(|error| {
                let (code, way_out) = error.told();
                ready.refuse(code, &error.to_string(), way_out)
            })?;
        let report = ready.report(ready.case(), &ready.model, Vec::new());
        outputs.add(
            format!("{}-tape.pdf", stem(&self.case.case)),
            sheets::tape(&found, &SheetOrigin::of(&report)),
        );
        let written = outputs.write()?;
        if self.case.json {
            print_json_of(&TapeJson { report: &report, tape: &found })?;
        } else {
            terminal::print(&text::tape(&report, &found, self.depth.depth(), &written))?;
        }
        Ok(true)
    }
}
