//! `testcard`: what to read on the bench and on the road.

use super::common::{DepthArguments, Ready, print_json_of};
use super::files::stem;
use super::{CaseArguments, Failure, terminal};
use crate::draws::lanes::DrawsWithin;
use crate::output::sheets::{self, SheetOrigin};
use crate::output::text;
use crate::point::budget::{Budget, seconds};
use crate::readings::blank;
use crate::study::document::Report;
use crate::study::testcard::plan::plan;
use crate::study::testcard::{DRAWS, cut_short, draws_within, result, testcard};
use clap::Args;
use serde::Serialize;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner testcard car.toml --into track\nWrites car-testcard.pdf, one sheet of A4 to be filled in with a pencil, and car-readings.toml, the same\nwith blanks. The openings are those of the case: give the one that is cut.";

#[derive(Debug, Args)]
pub(super) struct Testcard {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Folder for card and readings file; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Draws of the guesses behind it
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(128..=100_000))]
    draws: Option<u32>,
    /// Let a readings file go that stands there and was filled in
    #[arg(long)]
    replace: bool,
}

/// A report with its card.
#[derive(Serialize)]
struct TestCardJson<'s> {
    #[serde(flatten)]
    report: &'s Report,
    testcard: &'s result::Card,
}

impl Testcard {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = ready.outputs(self.into.as_deref())?.replacing(self.replace);
        let name = stem(&self.case.case);
        let readings = format!("{name}-readings.toml");
        outputs.try_case(&readings)?;
        let within = || draws_within(ready.case(), &ready.model, DRAWS, Budget::seconds(seconds::CARD));
        let draws = self.draws.map_or_else(within, |draws| DrawsWithin::asked(draws as usize));
        let mut report = ready.report(ready.case(), &ready.model, Vec::new());
        let card = testcard(ready.case(), &ready.model, &report.case_sha256, draws).map_err(|error| {
            let (code, way_out) = error.told();
            ready.refuse(code, &error.to_string(), way_out)
        })?;
        if self.draws.is_none() {
            report.warnings.extend(cut_short(&card, DRAWS));
        }
        outputs.add(format!("{name}-testcard.pdf"), sheets::testcard(&card, &SheetOrigin::of(&report)));
        let plan = plan(ready.case(), &card, &report.case_sha256, &text::should_show);
        outputs.add_case(&readings, &blank::text(ready.case(), &plan));
        let written = outputs.write()?;
        if self.case.json {
            print_json_of(&TestCardJson { report: &report, testcard: &card })?;
        } else {
            terminal::print(&text::testcard(&report, &card, self.depth.depth(), &written))?;
        }
        Ok(true)
    }
}
