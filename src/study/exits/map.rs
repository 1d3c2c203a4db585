//! Margin over inlet and exit area.

use super::result::Map;
use super::state::observe;
use super::trade::Trade;
use super::{Study, WorkDone};
use crate::point::Model;
use rayon::prelude::*;

/// Rows (inlet areas) of the map, which are also its steps of work.
pub(super) const STEPS: usize = 37;
/// Columns (exit areas).
const COLUMNS: usize = 57;
/// Rows of the smallest map that is worth drawing.
const FEWEST: f64 = 6.0;

/// The largest inlets up to `wanted` that the ducts behind them take: a diffuser does not narrow.
fn largest(study: &Study, wanted: f64) -> f64 {
    let fits = |area: f64| {
        let mut case = study.case.clone();
        study.inlets.set(&mut case, area);
        Model::new(&case).is_ok()
    };
    if fits(wanted) {
        return wanted;
    }
    let (mut good, mut bad) = (study.inlets.area, wanted);
    while bad - good > 1e-3 * good {
        let middle = 0.5 * (good + bad);
        if fits(middle) { good = middle } else { bad = middle }
    }
    good
}

/// The map; none where no inlet can be scaled.
pub(super) fn map(study: &Study, trade: &Trade, work: &WorkDone) -> Option<Map> {
    if study.inlets.members.is_empty() {
        return None;
    }
    let drawn = study.inlets.area;
    let knee = trade.knee.as_ref().map_or(drawn, |(_, fit)| fit.area);
    let low = 0.3 * drawn.min(knee);
    let high = largest(study, (1.8 * drawn).max(1.5 * knee).max(3.0 * low).min(study.inlets.most.0));
    let low = low.min(0.5 * high).max(study.inlets.least.0);
    let share = study.meter.states_within(0.8) as f64 / (STEPS * COLUMNS) as f64;
    let (rows, columns) = match share.min(1.0).sqrt() {
        share if share * STEPS as f64 >= FEWEST => {
            ((share * STEPS as f64) as usize, (share * COLUMNS as f64) as usize)
        }
        // too much work for so few points that a map of them would say nothing
        _ => return None,
    };
    if high <= low || trade.range.1 <= trade.range.0 {
        return None;
    }
    let even = |low: f64, high: f64, count: usize| -> Vec<f64> {
        (0..count).map(|i| low + (high - low) * i as f64 / (count - 1) as f64).collect()
    };
    let inlets = even(low, high, rows);
    let exits = even(trade.range.0, trade.range.1, columns);
    let rows: Vec<Vec<Option<(f64, f64)>>> = inlets
        .par_iter()
        .map(|inlet| {
            let mut case = study.case.clone();
            study.inlets.set(&mut case, *inlet);
            let row = exits.iter().map(|exit| {
                study.exits.set(&mut case, *exit);
                let state = observe(&case, &study.sizing, study.bay, &study.meter)?;
                Some((state.least_kelvin().0, state.left()))
            });
            let row = row.collect();
            work.step();
            row
        })
        .collect();
    let part = |of: fn(&(f64, f64)) -> f64| -> Vec<Vec<Option<f64>>> {
        rows.iter().map(|row| row.iter().map(|cell| cell.as_ref().map(of)).collect()).collect()
    };
    Some(Map {
        least_temperature_margin_K: part(|cell| cell.0),
        left: part(|cell| cell.1),
        inlet_area_m2: inlets,
        exit_area_m2: exits,
        as_drawn_m2: (drawn, study.exits.area),
    })
}
