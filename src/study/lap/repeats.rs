//! When a lap begins and ends at the same temperatures.

use super::march::March;
use super::watch::LapWatch;
use super::{REPEATS, result as r};
use crate::case::Case;
use crate::point::Model;
use crate::point::result::ByName;

/// Whether laps repeat.
pub(super) struct RepeatSearch {
    before: Vec<f64>,
    peaks: Vec<f64>,
    pub lap: Option<usize>,
    tried: usize,
}

impl RepeatSearch {
    /// Nothing run yet; the temperatures (K) at the start.
    pub fn new(before: Vec<f64>) -> RepeatSearch {
        RepeatSearch { peaks: vec![f64::NAN; before.len()], before, lap: None, tried: 0 }
    }

    /// Takes a lap's end.
    pub fn end(&mut self, march: &March, watch: &LapWatch, lap: usize) {
        let changes = march.temperature.iter().zip(&self.before).map(|(now, before)| (now - before).abs());
        let most = changes.fold(0.0, f64::max);
        self.before.copy_from_slice(&march.temperature);
        self.tried = lap;
        if self.lap.is_none() {
            for (peak, watched) in self.peaks.iter_mut().zip(&watch.parts) {
                *peak = watched.lap_peak;
            }
            if most < REPEATS {
                self.lap = Some(lap);
            }
        }
    }

    /// What is found.
    pub fn result(self, case: &Case, model: &Model) -> r::Repeats {
        let parts = case.parts.iter().zip(&model.network.parts).zip(&self.peaks);
        let limited = parts.filter(|((_, law), _)| law.has_limit());
        let margins = limited.map(|((part, law), peak)| (part.name.clone(), law.limit - peak));
        r::Repeats { lap: self.lap, tried: self.tried, temperature_margin_K: ByName(margins.collect()) }
    }
}
