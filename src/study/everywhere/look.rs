//! From a low point to worse ones.

use super::probe::{By, Mark, Point, Probe};
use super::{CLEAR_AIRS, FINE, FINEST, LOADS, Search};

/// A look from one point to worse ones.
pub(super) struct Look<'l, 's, 'p> {
    pub search: &'l Search<'s>,
    pub probe: &'l mut Probe<'p>,
    pub part: usize,
    pub by: By,
    pub best: (Point, Mark),
}

impl Look<'_, '_, '_> {
    /// Takes a point that is worse than the worst so far.
    fn take(&mut self, point: Point) -> bool {
        let mark = self.probe.look_at(&point, self.part);
        let worse = mark.filter(|mark| mark.worse_than(&self.best.1, self.by));
        if let Some(mark) = worse {
            self.best = (point, mark);
        }
        worse.is_some()
    }

    /// Goes along a line through the point where it begins.
    pub fn along(&mut self, values: Vec<f64>, set: impl Fn(&mut Point, f64)) {
        let begin = self.best.0;
        for value in values {
            let mut point = begin;
            set(&mut point, value);
            if point != begin {
                self.take(point);
            }
        }
    }

    /// Goes to worse points in ever smaller steps of speed, load and clear air.
    pub fn descend(&mut self) {
        let bounds = self.search.bounds;
        let speed = bounds.gears[self.best.0.gear].speed;
        let half = |range: (f64, f64), count: usize| 0.5 * (range.1 - range.0) / (count - 1) as f64;
        let mut steps = [FINE / 2.0, half(bounds.load, LOADS), half(bounds.clear_air, CLEAR_AIRS)];
        while steps[0] > FINEST || steps[1] > 1e-3 || steps[2] > 1e-3 {
            let at = self.best.0;
            let mut moved = false;
            for sign in [-1.0, 1.0] {
                let within = |value: f64, range: (f64, f64)| value.clamp(range.0, range.1);
                let tries = [
                    Point { speed: within(at.speed + sign * steps[0], speed), ..at },
                    Point { load: within(at.load + sign * steps[1], bounds.load), ..at },
                    Point { clear_air: within(at.clear_air + sign * steps[2], bounds.clear_air), ..at },
                ];
                for point in tries.into_iter().filter(|point| *point != at) {
                    moved |= self.take(point);
                }
            }
            if !moved {
                steps.iter_mut().for_each(|step| *step /= 2.0);
            }
        }
    }
}
