//! `templates`: openings full size, to be cut by.

use super::common::{Ready, print_json_of};
use super::files::{Slugs, stem};
use super::{CaseArguments, Failure, terminal};
use crate::output::sheets::{self, Paper, SheetOrigin};
use crate::output::text;
use crate::point::Model;
use crate::point::budget::{Budget, seconds};
use crate::study::document::Report;
use crate::study::ducts::{Behind, behind};
use crate::study::size::{Holding, Sized, Sizing};
use crate::study::templates::result::TemplateHand;
use crate::study::templates::{NotDrawn, result, templates};
use clap::{Args, ValueEnum};
use serde::Serialize;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner templates car.toml --into cut\nWrites car-templates.pdf, to print at full size, car-OPENING as .svg and .dxf in millimetres, and\ncar-moulds.pdf with what the moulds keep and the ducts, their flat blanks as .dxf. Measure the bars on the paper first.";

/// Paper that sheets are laid out for.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum PaperChoice {
    A4,
    A3,
}

#[derive(Debug, Args)]
pub(super) struct TemplatesArgs {
    #[command(flatten)]
    case: CaseArguments,
    /// Folder for the sheets; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Paper of the PDF
    #[arg(long, value_enum, default_value = "a4")]
    paper: PaperChoice,
    /// Leave out the lines that stand on draws of the guesses: FINAL alone
    #[arg(long)]
    plain: bool,
}

/// A report with its templates.
#[derive(Serialize)]
struct TemplatesJson<'t> {
    #[serde(flatten)]
    report: &'t Report,
    templates: &'t result::Templates,
    behind: &'t Behind,
}

/// Sizes of a case's free openings with the columns that its lines stand on; none where nothing is free.
pub(super) fn sized(ready: &Ready, plain: bool) -> Result<Option<Sized>, Failure> {
    if !ready.is_sizable() {
        return Ok(None);
    }
    let failed = |error| ready.not_sized(&error);
    let sizing = Sizing::new(ready.case()).map_err(failed)?;
    let holding = (!plain).then(|| (Holding::of(ready.case(), None), Budget::seconds(seconds::HOLDS)));
    sizing.solve_and_hold(Budget::seconds(seconds::SIZE), holding).map(Some).map_err(failed)
}

impl TemplatesArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = ready.outputs(self.into.as_deref())?;
        let sized = sized(&ready, self.plain)?;
        let found = templates(ready.case(), sized.as_ref()).map_err(|error| refused(&ready, &error))?;
        let report = ready.report(ready.case(), &ready.model, Vec::new());
        let origin = SheetOrigin::of(&report);
        let paper = match self.paper {
            PaperChoice::A4 => Paper::A4,
            PaperChoice::A3 => Paper::A3,
        };
        let name = stem(&self.case.case);
        outputs.add(format!("{name}-templates.pdf"), sheets::pdf(&found, &origin, paper));
        let mut slugs = Slugs::default();
        for (template, hand) in sheets::each(&found) {
            let opening = match hand {
                TemplateHand::Neither => template.opening.clone(),
                hand => format!("{} {hand}", template.opening),
            };
            let slug = slugs.of(&opening, "opening");
            outputs.add(format!("{name}-{slug}.svg"), sheets::svg(template, hand, &origin));
            outputs.add(format!("{name}-{slug}.dxf"), sheets::dxf(template, hand, &origin));
        }
        let base = sized.as_ref().map_or(ready.case(), |sized| &sized.case);
        let model =
            Model::new(base).map_err(|_| Failure::Failed("the sized case has no model".to_string()))?;
        let behind = behind(base, &model, &found);
        outputs.add(format!("{name}-moulds.pdf"), sheets::behind(&behind, &origin));
        for piece in &behind.ducts {
            if let Some(blank) = &piece.blank {
                let slug = slugs.of(&format!("blank {} {}", piece.passage, piece.kind), "blank");
                outputs.add(format!("{name}-{slug}.dxf"), sheets::blank(piece, blank, &origin));
            }
        }
        let written = outputs.write()?;
        if self.case.json {
            print_json_of(&TemplatesJson { report: &report, templates: &found, behind: &behind })?;
        } else {
            terminal::print(&text::templates(&report, &found, &written))?;
        }
        Ok(found.can_be_done)
    }
}

/// Why nothing is drawn, at its place in the case.
pub(super) fn refused(ready: &Ready, error: &NotDrawn) -> Failure {
    let (code, way_out, by_case) = error.told();
    if by_case { ready.refuse(code, &error.to_string(), way_out) } else { Failure::Failed(error.to_string()) }
}
