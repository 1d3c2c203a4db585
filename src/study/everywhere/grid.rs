//! The grid of the search, one for each gear and day, and its low points.

use super::CLOSE_LOOKS;
use super::probe::{self, PartAtPoint, SearchPoint, WorseBy};

/// A low point of the grid, to be looked at closely.
pub(super) struct LowPoint {
    pub part: usize,
    pub by: WorseBy,
    pub point: SearchPoint,
    pub mark: PartAtPoint,
    /// Between this speed and the next of the grid (m/s).
    pub step: f64,
    /// How many of the same grid, part and order are lower.
    pub rank: usize,
}

/// One gear on one day, point by point: the speed runs fastest, then the load, then the clear air.
pub(super) struct SpeedGrid {
    pub gear: usize,
    pub day: usize,
    pub axes: [Vec<f64>; 3],
    pub marks: Vec<Option<Vec<PartAtPoint>>>,
}

impl SpeedGrid {
    /// The point of an index.
    pub fn point(&self, index: usize) -> SearchPoint {
        let [speeds, loads, airs] = &self.axes;
        SearchPoint {
            gear: self.gear,
            day: self.day,
            speed: speeds[index % speeds.len()],
            load: loads[index / speeds.len() % loads.len()],
            clear_air: airs[index / speeds.len() / loads.len()],
        }
    }

    /// Points of all three axes.
    pub fn points(&self) -> usize {
        self.axes.iter().map(Vec::len).product()
    }

    /// Fewer loads, then fewer speeds, until there are no more points than so many; the ends of every axis stay.
    pub fn coarsen(&mut self, most: usize) {
        let shorter = |axis: &mut Vec<f64>, count: usize| {
            if let (Some(first), Some(last)) = (axis.first().copied(), axis.last().copied())
                && count < axis.len()
            {
                *axis = self::axis((first, last), count.max(2));
            }
        };
        if self.points() > most {
            shorter(&mut self.axes[1], 3);
            shorter(&mut self.axes[2], 2);
        }
        if self.points() > most {
            let others = self.axes[1].len() * self.axes[2].len();
            shorter(&mut self.axes[0], most / others);
        }
        if self.points() > most {
            shorter(&mut self.axes[1], 2);
        }
    }

    /// The indices beside one, along each axis.
    fn beside(&self, index: usize) -> impl Iterator<Item = usize> {
        let mut stride = 1;
        let mut found = Vec::with_capacity(6);
        for axis in &self.axes {
            let at = index / stride % axis.len();
            found.extend((at > 0).then(|| index - stride));
            found.extend((at + 1 < axis.len()).then(|| index + stride));
            stride *= axis.len();
        }
        found.into_iter()
    }

    /// The points at which a part is no better off than beside it, the worst first.
    pub fn lowest(&self, part: usize, by: WorseBy) -> Vec<LowPoint> {
        let mark = |index: usize| self.marks[index].as_ref().map(|marks| marks[part]);
        let mut low: Vec<(usize, PartAtPoint)> = (0..self.marks.len())
            .filter_map(|index| mark(index).map(|mark| (index, mark)))
            .filter(|(index, here)| {
                !self.beside(*index).any(|next| mark(next).is_some_and(|m| m.worse_than(here, by)))
            })
            .collect();
        low.sort_by(|(i, a), (j, b)| probe::order(a, b, by).then(i.cmp(j)));
        low.truncate(CLOSE_LOOKS);
        let speeds = &self.axes[0];
        let step = if speeds.len() > 1 { speeds[1] - speeds[0] } else { 0.0 };
        low.into_iter()
            .enumerate()
            .map(|(rank, (index, mark))| LowPoint { part, by, point: self.point(index), mark, step, rank })
            .collect()
    }
}

/// So many values from one end of a range to the other; one where the ends are the same.
pub(super) fn axis(range: (f64, f64), count: usize) -> Vec<f64> {
    if range.0 >= range.1 {
        return vec![range.0];
    }
    let last = (count - 1) as f64;
    (0..count)
        .map(|i| if i + 1 == count { range.1 } else { range.0 + (range.1 - range.0) * i as f64 / last })
        .collect()
}
