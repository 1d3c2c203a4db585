//! Where an instrument is too coarse for what would be worth reading, and the way out.

use super::drawn::{CardFleet, ReadingAsked};
use super::result::Coarse;
use super::runs::RunPlan;
use crate::case::Case;
use crate::keys::figures;
use crate::point::{Gearing, Model};
use crate::readings::operator::ReadingKind;
use crate::readings::{GaugeEnd, Quantity, Reading};
use crate::study::doubt::sample::Sample;

/// A reading is missed where, read without error, it would take so much off half the band (K).
const WORTH: f64 = 0.5;
/// A reading wants to be so many times what it is read to: 30 Pa on a tube that is read to 1 mm are 3 times.
const TIMES: f64 = 3.5;
/// So many are told.
const MOST: usize = 2;
/// How a tube is laid over.
const SLOPE: f64 = 10.0;
/// How many times what it is read within a reading's own band wants to be.
const ENOUGH: f64 = 2.0;
/// Share of the fastest that a speed may be.
const FASTEST: f64 = 0.95;

/// Pressures that would tell much, were they read finely enough, the one worth most first.
pub(super) fn coarse(
    (case, model): (&Case, &Model),
    fleet: &CardFleet,
    sample: &Sample,
    half: f64,
    runs: &[RunPlan],
    allowed: &[usize],
    name: &dyn Fn(usize) -> String,
) -> Vec<Coarse> {
    let count = fleet.candidates.len();
    let mut found: Vec<(f64, Reading, Coarse)> = Vec::new();
    let mut fine: Vec<(f64, Reading)> = Vec::new();
    for place in allowed {
        let candidate = &fleet.candidates[*place];
        let (ReadingAsked::Reading(reading), Some(run)) = (candidate.asked, candidate.run) else { continue };
        let own = fleet.half_of(*place);
        let (within, about) = (candidate.instrument.within, sample.shows[count + place].p50.abs());
        let times = (within / own).max(TIMES * within / about);
        if reading.kind() != ReadingKind::Pressure || !sample.alive[count + place] {
            continue;
        }
        let worth = sample.left(half, &[count + place]).worth_K;
        if times <= 1.0 {
            fine.push((worth, reading));
            continue;
        }
        if worth < WORTH {
            continue;
        }
        let tool = candidate.instrument;
        let told = Coarse {
            reading: format!("{}, {}", reading.name(case), name(run)),
            about: tool.shows(sample.shows[count + place].p50),
            half_band: tool.difference(own),
            within: tool.difference(tool.within),
            unit: tool.unit,
            way_out: way_out(case, model, &reading, &runs[run], tool.is_tube() && tool.slope < SLOPE, times),
        };
        match found.iter_mut().find(|(_, known, _)| known.what == reading.what) {
            Some(known) if worth > known.0 => *known = (worth, reading, told),
            Some(_) => {}
            None => found.push((worth, reading, told)),
        }
    }
    // what is read well enough in another run, and tells as much there, is not missed
    found.retain(|(worth, missed, _)| {
        !fine.iter().any(|(tells, reading)| reading.what == missed.what && *tells > worth - WORTH)
    });
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().take(MOST).map(|(_, _, told)| told).collect()
}

/// What to do about an instrument that is so many times too coarse.
fn way_out(
    case: &Case,
    model: &Model,
    reading: &Reading,
    run: &RunPlan,
    upright: bool,
    times: f64,
) -> String {
    let mut ways = Vec::new();
    if upright {
        ways.push("lay the tube over at 1:10".to_string());
    }
    // pressures go with the square of the speed
    if let (Some((speed, _)), Some(gears)) = (run.at.driven(), Gearing::read(case, &model.engine)) {
        let wanted = speed * (ENOUGH * times).sqrt();
        let tens = (wanted * 0.36).ceil() / 0.36;
        if tens <= FASTEST * gears.range().1 {
            ways.push(format!("go {}", figures::speed(tens)));
        }
    }
    if matches!(reading.what, Quantity::Difference { over: GaugeEnd::Skin { .. } | GaugeEnd::Place(_), .. }) {
        ways.push("tap across the car, from an inlet's lip to the exit's skin".to_string());
    }
    if ways.is_empty() {
        ways.push("borrow a meter that reads a pascal".to_string());
    }
    ways.join(", or ")
}
