//! `exits`: the trade behind an exit size.

use super::common::{DepthArguments, Ready, print_json};
use super::drawing::DrawingArgs;
use super::files::{Outputs, stem};
use super::progress::Progress;
use super::{CaseArguments, Failure, terminal};
use crate::output::text::Depth;
use crate::output::{text, trade};
use crate::point::budget::{Budget, seconds};
use crate::study::document::Report;
use crate::study::exits::{self, NotStudied};
use crate::study::size::result::Sizes;
use crate::study::size::{Holding, Sizing};
use clap::Args;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner exits car.toml --into charts\nWrites car-exits, car-exits-pressure and car-exits-map, each as .svg and .png; with --detail the bay and the drag too, and on the map what to cut first and what holds.";

/// Draws at each size that has a name.
const DRAWS: usize = 1024;

#[derive(Debug, Args)]
pub(super) struct ExitsArgs {
    #[command(flatten)]
    case: CaseArguments,
    #[command(flatten)]
    depth: DepthArguments,
    /// How many exit areas
    #[arg(long, default_value_t = 40, value_parser = clap::value_parser!(u32).range(5..=1000))]
    points: u32,
    /// Folder for the charts; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    #[command(flatten)]
    drawing: DrawingArgs,
    /// Write the charts as SVG only
    #[arg(long)]
    svg_only: bool,
}

impl ExitsArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let mut outputs = ready.outputs(self.into.as_deref())?;
        let conditions = ready.conditions()?;
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        let progress = Progress::new("exits");
        let (points, tell) = (self.points as usize, |share| progress.share(share));
        let wanted = self.drawing.wanted(DRAWS, seconds::EXITS_DRAWN, ready.work_of_a_draw());
        let studied = match wanted {
            Some(wanted) => exits::exits_with_doubt(&ready.loaded, points, wanted, &tell),
            None => exits::exits(&ready.loaded, points, &tell),
        };
        drop(progress);
        report.exits = Some(studied.map_err(refuse)?);
        let name = format!("{}-exits", stem(&self.case.case));
        let detail = self.depth.depth() > Depth::Short;
        let sizes = detail.then(|| self.sizes(&ready)).flatten();
        add_charts(&mut outputs, &report, &name, !self.svg_only, (detail, sizes.as_ref()));
        let written = outputs.write()?;
        if self.case.json {
            print_json(&report)?;
        } else {
            terminal::print(&text::exits(&report, &written, self.depth.depth()))?;
        }
        Ok(true)
    }
}

impl ExitsArgs {
    /// The sizes that `size` would find, with what to cut first and what holds, for the map; none where the case does not say what
    /// is free.
    fn sizes(&self, ready: &Ready) -> Option<Sizes> {
        let sizing = ready.is_sizable().then(|| Sizing::new(ready.case()).ok()).flatten()?;
        let holding = Holding::of(ready.case(), None);
        let holding = (!self.drawing.is_plain()).then_some((holding, Budget::seconds(seconds::HOLDS)));
        let progress = Progress::new("sizes");
        let tell = |share| {
            progress.share(share);
            true
        };
        let found = sizing.solve_and_hold_until(Budget::seconds(seconds::SIZE), holding, &tell);
        found.ok().map(|sized| sized.sizes)
    }
}

fn refuse(error: NotStudied) -> Failure {
    let (code, way_out) = match error {
        NotStudied::NoExit => (
            "exits-missing",
            r#"write a passage from the bay to outside with element = [{ kind = "exit", area = "200 cm2" }]"#,
        ),
        NotStudied::NoCondition => {
            ("conditions-missing", "write a [[condition]] with name, speed and gear or rpm")
        }
        NotStudied::NoRoom { .. } => (
            "exits-without-room",
            "draw the exits in a share that [size] allows, raise most_area, or let `size` find each on its own",
        ),
        NotStudied::Unsolved => return Failure::Failed(error.to_string()),
    };
    Failure::refused(code, &error.to_string(), way_out)
}

/// Adds the charts of the study: against area, against the pressure at each place, and the map.
fn add_charts(
    outputs: &mut Outputs,
    report: &Report,
    name: &str,
    png: bool,
    (detail, sizes): (bool, Option<&Sizes>),
) {
    let Some(exits) = &report.exits else { return };
    outputs.add_chart(name, &trade::against_area(report, exits, detail), png);
    for (index, place) in exits.pressure.iter().enumerate() {
        let number = if index == 0 { String::new() } else { format!("-{}", index + 1) };
        let chart = trade::against_pressure(report, exits, place);
        outputs.add_chart(&format!("{name}-pressure{number}"), &chart, png);
    }
    if let Some(map) = &exits.map {
        outputs.add_chart(&format!("{name}-map"), &trade::map(report, exits, map, sizes), png);
    }
}
