//! `doubt`: what decides, and what to measure next.

use super::common::{DepthArguments, Ready, print_json};
use super::drawing::{FEWEST_DRAWS, LongWork, stopped};
use super::files::{Outputs, stem};
use super::sweep::add_margin_chart;
use super::{CaseArguments, Failure, terminal};
use crate::case::Warning;
use crate::draws::{Guesses, TallyWanted};
use crate::output::text::Depth;
use crate::output::{ranking, text};
use crate::point::budget::{Budget, left_out, seconds};
use crate::point::result::Condition;
use crate::study::document::Report;
use crate::study::doubt::{LeastOver, of_conditions, of_sweep, shares, work_of_speeds};
use crate::study::sweep::result::Sweep;
use crate::study::sweep::{self, POINTS};
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner doubt car.toml --into charts\nWrites car-doubt, what to measure first, and car-margin, margin against speed with its band, each as .svg and .png.";

#[derive(Debug, Args)]
pub(super) struct DoubtArgs {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// Most draws of the guesses; all of them are made
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(16..=1_000_000))]
    draws: Option<u32>,
    /// Refused: doubt is what --plain leaves out of the other answers
    #[arg(long, hide = true)]
    plain: bool,
    /// Folder for the charts; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Write the charts as SVG only
    #[arg(long)]
    svg_only: bool,
}

impl DoubtArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        if self.plain {
            return Err(ready.refuse(
                "doubt-without-draws",
                "--plain leaves out how much of an answer rests on guesses, and doubt is nothing else",
                "leave --plain out; with the values taken alone: slowcorner check --plain, or slowcorner why for what each number does",
            ));
        }
        if ready.case().conditions.is_empty() {
            return Err(ready.refuse(
                "conditions-missing",
                "the case has no [[condition]]: no margin is asked for that a guess could decide",
                "write [[condition]] with a name, a speed and a gear or rpm: first the slowest corner, then the straight",
            ));
        }
        let mut outputs = ready.outputs(self.into.as_deref())?;
        let mut conditions = ready.conditions()?;
        let mut left = Vec::new();
        let doubt = self.draw(&ready, &mut conditions, &mut left);
        let ranked = rank(&ready, &conditions, &mut left);
        let swept = sweep(&ready, &mut left);
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        report.warnings.append(&mut left);
        report.doubt = doubt;
        if let Some(found) = ranked {
            report.shares = found.shares;
            report.readings = found.readings;
            report.next = found.next;
            report.ranked = Some(found.ranked);
        }
        report.sweep = swept;
        self.add_charts(&mut outputs, &report);
        let written = outputs.write()?;
        // the numbers of the sweep are those of `sweep --json`
        report.sweep = None;
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::doubt(&report, self.depth.depth(), &written))?;
        }
        Ok(true)
    }

    /// How often all holds, and where each margin lies.
    fn draw(
        &self,
        ready: &Ready,
        conditions: &mut [Condition],
        left: &mut Vec<Warning>,
    ) -> Option<crate::draws::doubt::Doubt> {
        let mut wanted = TallyWanted::default();
        if let Some(draws) = self.draws {
            wanted = TallyWanted { most: draws as usize, all: true, ..wanted };
        } else if wanted.within.times(ready.work_of_a_draw()) < FEWEST_DRAWS {
            left.push(left_out("the draws of the guesses were left out"));
            return None;
        }
        let work = LongWork::new("drawing");
        let doubt = of_conditions(ready.case(), conditions, wanted, &|share| work.told(share))?;
        if work.was_stopped() {
            left.push(stopped(&format!("after {} of at most {} draws", doubt.draws, wanted.most)));
        }
        Some(doubt)
    }

    fn add_charts(&self, outputs: &mut Outputs, report: &Report) {
        let name = stem(&self.case.case);
        if let Some(by) = &report.ranked {
            outputs.add_chart(&format!("{name}-doubt"), &ranking::chart(report, by), !self.svg_only);
        }
        add_margin_chart(outputs, report, &name, !self.svg_only, Depth::Short);
    }
}

/// What each guess, and each reading, is worth.
fn rank(ready: &Ready, conditions: &[Condition], left: &mut Vec<Warning>) -> Option<shares::GuessRanking> {
    let guesses = Guesses::of(ready.case());
    let measure = LeastOver::of(ready.case(), conditions);
    let work = LongWork::new("weighing");
    let budget = Budget::seconds(seconds::SHARES);
    let (case, draw) = (ready.case(), ready.work_of_a_draw());
    let found = shares::ranking_within(budget, draw, case, &guesses, &measure, &|share| work.told(share));
    match &found {
        None if !guesses.is_empty() => left.push(left_out("what each guess is worth was left out")),
        Some(found) if found.ranked.stopped => {
            left.push(stopped(&format!(
                "while guesses were weighed, after {} pairs of draws",
                found.ranked.pairs
            )));
        }
        _ => {}
    }
    found
}

/// Margin against speed with its band, where the case has gears.
fn sweep(ready: &Ready, left: &mut Vec<Warning>) -> Option<Sweep> {
    let (case, model) = (ready.case(), &ready.model);
    let within = Budget::seconds(seconds::SWEEP);
    let mut swept = sweep::sweep_within(case, model, POINTS, within, &mut Vec::new()).ok()?;
    let wanted = TallyWanted { least_only: true, ..TallyWanted::default() };
    if wanted.within.times(work_of_speeds(case, model)) < FEWEST_DRAWS {
        left.push(left_out("the band of the margin against speed was left out"));
        return Some(swept);
    }
    let work = LongWork::new("sweeping");
    of_sweep(case, &mut swept, wanted, &|share| work.told(share));
    Some(swept)
}
