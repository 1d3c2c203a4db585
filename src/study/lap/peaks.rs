//! The peaks of runs in time alone: what a drawn car is looked at for.

use super::march::March;
use super::record::Record;
use super::watch::LapWatch;
use super::{KeptLaps, chamber_limits, given, once};
use crate::case::{Case, tables as t};
use crate::point::Model;

/// What each part keeps under its limit at its hottest (K), stint by stint; none where one cannot be run. `records`
/// holds the recorded run of each stint that names one; `first_order` is most that a first-order step may differ (K).
pub fn least_margins(
    case: &Case,
    model: &Model,
    records: &[Option<Record>],
    first_order: f64,
) -> Option<Vec<Vec<f64>>> {
    let limits = chamber_limits(case);
    let mut all = Vec::new();
    for (index, stint) in case.stints.iter().enumerate() {
        let record = records.get(index).cloned().flatten();
        let given = given::read(case, model, stint, record, false).ok()?;
        let (temperatures, _) = given::start(case, model, &stint.values, &given).ok()?;
        let mut march = March::new(model, temperatures);
        march.first_order = first_order;
        let mut watch = LapWatch::new(model, &limits, false);
        let laps = case.view(&stint.values).required(&t::LAPS).round().max(1.0) as usize;
        for lap in 1..=laps {
            watch.begin_lap();
            once((case, model, &given.run), lap, &mut march, &mut watch, &mut KeptLaps::default()).ok()?;
        }
        all.push(watch.parts.iter().map(|part| part.limit - part.peak.temperature).collect());
    }
    Some(all)
}
