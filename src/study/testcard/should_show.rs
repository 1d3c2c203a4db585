//! Where each reading of a card should lie: what a fit of the file that goes with the card expects of it, from the same draws.

use super::drawn::{Candidate, ReadingAsked};
use super::runs::RunPlan;
use crate::case::Case;
use crate::point::counted::Counted;
use crate::point::result::Band;
use crate::readings::Reading;
use crate::readings::drives::UnsureCase;
use crate::readings::expected::{self, CARS, LookedCase, expected};
use crate::readings::taken::ModelError;

/// The band of each of some readings (°C, Pa or a share), of runs in the order in which they are told; none of what the file does
/// not hold as it stands here; and how many cars stand behind them.
pub(super) fn bands(
    case: &Case,
    runs: &[RunPlan],
    order: &[Option<usize>],
    list: &[Candidate],
) -> (Vec<Option<Band>>, usize) {
    // leaks hang on no moment: any will do
    let at = |run: &Option<usize>| run.map_or(Counted::Condition(0), |run| runs[run].at);
    let moments: Vec<Counted> = order.iter().map(at).collect();
    let unsure = UnsureCase::of(case, &moments);
    let mut asked: Vec<expected::ReadingWanted> = Vec::new();
    let mut places: Vec<usize> = Vec::new();
    for (place, candidate) in list.iter().enumerate() {
        let ReadingAsked::Reading(reading) = candidate.asked else { continue };
        let Some(test) = order.iter().position(|known| *known == candidate.run) else { continue };
        let reading = Reading { moment: test, ..reading };
        asked.push(expected::ReadingWanted { test, ..candidate.as_asked(&reading) });
        places.push(place);
    }
    let scene = LookedCase { case: &unsure.case, moments: unsure.moments };
    let mut bands = vec![None; list.len()];
    let Some(found) = expected(&[scene], &asked, &ModelError::default()) else { return (bands, CARS) };
    for (index, one) in found.readings.iter().enumerate() {
        let shown = |value: f64| asked[index].reading.shown(value);
        let band = one.band;
        bands[places[index]] =
            Some(Band { p05: shown(band.p05), p50: shown(band.p50), p95: shown(band.p95) });
    }
    (bands, found.cars)
}
