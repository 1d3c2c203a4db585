//! `size`: the free openings of a case.

use super::common::{DepthArguments, Ready, print_json};
use super::drawing::{DrawingArgs, LongWork, stopped};
use super::files::stem;
use super::sweep::add_margin_chart;
use super::written::{Rounding, sized_copy};
use super::{CaseArguments, Failure, terminal};
use crate::case::{Case, Warning, load};
use crate::draws::TallyWanted;
use crate::output::text::{self, Depth};
use crate::point::budget::{Budget, STOPPED, left_out, seconds};
use crate::point::{Model, conditions};
use crate::study::check::sudden::sudden_changes;
use crate::study::compare::layouts;
use crate::study::doubt::work_of_a_draw;
use crate::study::size::{Holding, Sized, Sizing};
use crate::study::sweep::between::between;
use crate::study::sweep::{self, POINTS};
use clap::Args;
use std::path::PathBuf;
use std::sync::OnceLock;

pub(super) const EXAMPLE: &str = "Example: slowcorner size car.toml --into sized\nWrites car-sized.toml, comments kept, and car-sized-margin as .svg and .png.";

#[derive(Debug, Args)]
pub(super) struct SizeArgs {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Folder for the sized case and its chart; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Write the chart as SVG only
    #[arg(long)]
    svg_only: bool,
    /// Write over a sized case even where it was not written by this program, or was changed since
    #[arg(long)]
    replace: bool,
    /// How often all parts are to hold, of all that the guesses may turn out to be: 0.9, 90 %; default that of [size]
    #[arg(long, value_name = "SHARE", conflicts_with = "plain", value_parser = share)]
    holds: Option<f64>,
    /// Also for other body shapes: openings that do for the case and every [[layout]]
    #[arg(long, value_name = "WHICH", value_parser = ["all"])]
    layouts: Option<String>,
    #[command(flatten)]
    drawing: DrawingArgs,
}

/// "0.9", "90 %".
fn share(text: &str) -> Result<f64, String> {
    let number = |text: &str| text.trim().parse::<f64>().ok();
    let found = match text.trim().strip_suffix('%') {
        Some(percent) => number(percent).map(|percent| percent / 100.0),
        None => number(text),
    };
    let accepted = |share: &f64| (0.5..=0.99).contains(share);
    found
        .filter(accepted)
        .ok_or_else(|| "how often is a share from 0.5 to 0.99, as in 0.9 or \"90 %\"".to_string())
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
    conditions::check(&loaded.case, &model).is_ok_and(|conditions| sizing.met_by(&conditions))
        && sizing.met_along_sweep(&loaded.case, &model)
}

/// The sizes, and the columns as far as nobody stops it.
fn search(
    ready: &Ready,
    sizing: &Sizing,
    holding: Option<(Holding, Budget)>,
    left: &mut Vec<Warning>,
) -> Result<Sized, Failure> {
    let budget = Budget::seconds(seconds::SIZE);
    // as long as the sizes themselves are sought there is nothing to keep
    let work = OnceLock::new();
    let told = |share| work.get_or_init(|| LongWork::new("looking for what holds")).told(share);
    let sized = sizing.solve_and_hold_until(budget, holding, &told);
    let sized = sized.map_err(|error| ready.not_sized(&error))?;
    if work.get().is_some_and(LongWork::was_stopped) {
        left.push(stopped(&format!("after {} of 3 columns of sizes", sized.sizes.columns.len())));
    }
    Ok(sized)
}

impl SizeArgs {
    /// The other body shapes that the openings are to do for.
    fn shapes(&self, ready: &Ready) -> Result<Vec<(String, Case)>, Failure> {
        if self.layouts.is_none() {
            return Ok(Vec::new());
        }
        if ready.case().layouts.is_empty() {
            return Err(ready.refuse(
                "layouts-missing",
                "the case has no [[layout]]: there is no other body shape that the openings could do for",
                "write [[layout]] with a name and set = { … }, or leave --layouts out",
            ));
        }
        layouts(&ready.loaded.document, ready.case()).map_err(Failure::Refused)
    }

    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = ready.outputs(self.into.as_deref())?.replacing(self.replace);
        let name = format!("{}-sized", stem(&self.case.case));
        outputs.try_case(&format!("{name}.toml"))?;
        let shapes = self.shapes(&ready)?;
        let not_sized = |error| ready.not_sized(&error);
        let sizing = Sizing::new(ready.case()).map_err(not_sized)?.over(&shapes).map_err(not_sized)?;
        let holding = Holding::of(ready.case(), self.holds);
        let holding = (!self.drawing.is_plain()).then_some((holding, Budget::seconds(seconds::HOLDS)));
        let mut left = Vec::new();
        let sized = search(&ready, &sizing, holding, &mut left)?;
        let model =
            Model::new(&sized.case).map_err(|_| Failure::Failed("the sized case was refused".into()))?;
        let mut conditions =
            conditions::check(&sized.case, &model).map_err(|error| Failure::Failed(error.to_string()))?;
        let feasible = sized.sizes.feasible;
        let usual =
            TallyWanted { within: Budget::seconds(seconds::DOUBT_OF_SIZES), ..TallyWanted::default() };
        let draw = work_of_a_draw(&sized.case, &model, 0);
        let doubt = (self.drawing)
            .doubt(usual, draw, &mut left, |wanted, told| sized.doubt(&mut conditions, wanted, told));
        let by_hand = left.iter().any(|warning| warning.code == STOPPED);
        if !self.drawing.is_plain() && doubt.is_some() && sized.sizes.holds.is_none() && !by_hand {
            left.push(left_out(match sized.sizes.columns.is_empty() {
                true => "what can be cut first and what holds was left out",
                false => "what holds was left out",
            }));
        }
        let mut report = ready.report(&sized.case, &model, conditions);
        report.doubt = doubt;
        report.warnings.append(&mut left);
        let copy = copy(&ready, &sizing, &sized).map_err(Failure::Refused)?;
        outputs.add_copy(&format!("{name}.toml"), &copy, &self.case.case);
        report.sudden_changes = sudden_changes(&sized.case, &model, &report.conditions);
        report.sizes = Some(sized.sizes);
        if sized.case.drive.is_some() {
            report.sweep = sweep::sweep(&sized.case, &model, POINTS).ok();
            report.between = report.sweep.as_ref().and_then(|sweep| between(sweep, &report.conditions));
            add_margin_chart(&mut outputs, &report, &name, !self.svg_only, Depth::Short);
        }
        report.sweep = None;
        let written = outputs.write()?;
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::size(&report, &written, self.depth.depth()))?;
        }
        Ok(feasible)
    }
}
