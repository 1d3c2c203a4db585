//! The card as a readings file in which every reading is still to come.

use super::result::{Card, Planned};
use crate::case::Case;
use crate::case::instruments::{Instrument, Instruments};
use crate::readings::blank::{PlannedInstrument, PlannedReading, PlannedTest, ReadingPlan};

const MINUTE: f64 = 60.0;

/// The plan of a card, `known_by` what tells the case's file from others. `expects` says in words what a reading should
/// show.
pub fn plan(case: &Case, card: &Card, known_by: &str, expects: &dyn Fn(&Planned) -> String) -> ReadingPlan {
    let hand = Instruments::of(case);
    let tool = |tool: Instrument| PlannedInstrument {
        name: tool.name.to_string(),
        pressure: !matches!(tool.unit, "°C" | "°F"),
        within: tool.within,
        zero: (tool.alike > 0.0).then_some(tool.alike),
        scale: (tool.scale > 0.0).then_some(tool.scale),
        tube: tool.fluid.map(|fluid| (fluid, tool.slope)),
    };
    let instruments = [hand.pressure, hand.part, hand.air].into_iter().flatten().map(tool);
    let tests = card.runs.iter().map(|run| {
        let readings = run.readings.iter().flat_map(|planned| {
            planned.of.iter().map(|what| PlannedReading {
                what: *what,
                with: Some(planned.instrument.to_string()),
                strip: planned.instrument == "strip",
                // of one pressure over another neither by itself
                expects: if planned.of.len() > 1 { String::new() } else { expects(planned) },
            })
        });
        let readings: Vec<PlannedReading> = readings.collect();
        let test = match &run.at {
            Some(at) => PlannedTest::at(case, at),
            None => PlannedTest { name: run.name.clone(), bench: true, ..PlannedTest::default() },
        };
        // whole minutes, as a watch has them
        let held = (run.held_s.max(run.settles_s.unwrap_or(0.0)) / MINUTE).ceil() * MINUTE;
        PlannedTest { held: Some(if run.held_s < MINUTE { run.held_s } else { held }), readings, ..test }
    });
    ReadingPlan {
        card: Some(card.id.clone()),
        case_sha256: known_by.to_string(),
        instruments: instruments.collect(),
        tests: tests.collect(),
    }
}
