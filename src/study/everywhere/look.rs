//! From a low point to worse ones.

use super::probe::{PartAtPoint, Probe, SearchPoint, WorseBy};
use super::{CLEAR_AIRS, EverywhereSearch, FINE, FINEST, LOADS, MOST_STEPS, SHARE_FINEST, SPEED_STEP};

/// A look from one point to worse ones.
pub(super) struct WorseLook<'l, 's, 'p> {
    pub search: &'l EverywhereSearch<'s>,
    pub probe: &'l mut Probe<'p>,
    pub part: usize,
    pub by: WorseBy,
    pub best: (SearchPoint, PartAtPoint),
}

impl WorseLook<'_, '_, '_> {
    /// Takes a point that is worse than the worst so far.
    fn take(&mut self, point: SearchPoint) -> bool {
        let mark = self.probe.look_at(&point, self.part);
        let worse = mark.filter(|mark| mark.worse_than(&self.best.1, self.by));
        if let Some(mark) = worse {
            self.best = (point, mark);
        }
        worse.is_some()
    }

    /// Goes along a line through the point where it begins.
    pub fn along(&mut self, values: Vec<f64>, set: impl Fn(&mut SearchPoint, f64)) {
        let begin = self.best.0;
        for value in values {
            let mut point = begin;
            set(&mut point, value);
            if point != begin {
                self.take(point);
            }
        }
    }

    /// Goes to worse points step by step, one of speed, load and clear air after the other: a step that
    /// finds a worse point is doubled for the next time, one that does not is halved.
    pub fn descend(&mut self) {
        let bounds = self.search.bounds;
        let speed = bounds.gears[self.best.0.gear].speed;
        let grid = |range: (f64, f64), count: usize| (range.1 - range.0) / (count - 1) as f64;
        let most = [SPEED_STEP, grid(bounds.load, LOADS), grid(bounds.clear_air, CLEAR_AIRS)];
        let least = [FINEST, SHARE_FINEST, SHARE_FINEST];
        let mut steps = [FINE / 2.0, most[1] / 2.0, most[2] / 2.0];
        for _ in 0..MOST_STEPS {
            if steps.iter().zip(&least).all(|(step, least)| step <= least) {
                break;
            }
            for axis in 0..3 {
                let step = steps[axis];
                let found = step > 0.0
                    && [-step, step].into_iter().any(|step| {
                        let at = self.best.0;
                        let mut point = at;
                        match axis {
                            0 => point.speed = (at.speed + step).clamp(speed.0, speed.1),
                            1 => point.load = (at.load + step).clamp(bounds.load.0, bounds.load.1),
                            _ => {
                                point.clear_air =
                                    (at.clear_air + step).clamp(bounds.clear_air.0, bounds.clear_air.1);
                            }
                        }
                        point != at && self.take(point)
                    });
                // a step already as small as it need be waits for the others
                steps[axis] =
                    if found { (2.0 * step).min(most[axis]) } else { (step / 2.0).max(0.5 * least[axis]) };
            }
        }
    }
}
