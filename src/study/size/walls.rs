//! How far each opening can change before the case is refused: a diffuser does not narrow, a bend has a
//! tightest radius. Within these walls the margins are continuous; beyond them there is no answer.

use super::{NotSized, Sizing};
use crate::case::Diagnostics;
use crate::point::budget;
use crate::point::model::Model;
use crate::point::opening::Opening;

/// Closeness of a wall, in the logarithm of the area.
const CLOSE: f64 = 1e-7;
/// Steps over the bounds of an opening in search of a size that is not refused.
const STEPS: usize = 12;

impl Sizing<'_> {
    /// Why the case is refused at a point, where it is.
    fn refused(&self, point: &[f64]) -> Option<Diagnostics> {
        Model::new(&self.at_point(point)).err()
    }

    /// The sizes of the case within the bounds, moved to where the case is not refused.
    fn standing(&self) -> Result<Vec<f64>, NotSized> {
        let (lower, upper) = self.bounds();
        let mut point = self.logs(|v| v.members.first().map_or(1e-2, Opening::area).clamp(v.lower, v.upper));
        let Some(why) = self.refused(&point) else { return Ok(point) };
        // one opening after the other over its bounds, then all of them together
        for index in 0..point.len() {
            let drawn = point[index];
            for step in 0..=STEPS {
                let share = step as f64 / STEPS as f64;
                point[index] = lower[index] + share * (upper[index] - lower[index]);
                if self.refused(&point).is_none() {
                    return Ok(point);
                }
            }
            point[index] = drawn;
        }
        for step in 0..=STEPS {
            let share = step as f64 / STEPS as f64;
            let all: Vec<f64> = lower.iter().zip(&upper).map(|(l, u)| l + share * (u - l)).collect();
            if self.refused(&all).is_none() {
                return Ok(all);
            }
        }
        Err(NotSized::Refused(why))
    }

    /// Draws the bounds in to the sizes at which the case is not refused, the other openings as drawn.
    /// Gives the work done.
    pub(super) fn find_walls(&mut self) -> Result<u64, NotSized> {
        let mut made = 0;
        let standing = self.standing()?;
        for index in 0..self.variables.len() {
            let (lower, upper) = self.bounds();
            let mut at = |x: f64| {
                made += 1;
                let mut point = standing.clone();
                point[index] = x;
                self.refused(&point)
            };
            let mut wall = |end: f64| -> Option<(f64, Diagnostics)> {
                let mut why = at(end)?;
                let (mut good, mut bad) = (standing[index], end);
                while (bad - good).abs() > CLOSE {
                    let middle = 0.5 * (good + bad);
                    match at(middle) {
                        None => good = middle,
                        Some(faults) => (bad, why) = (middle, faults),
                    }
                }
                Some((good, why))
            };
            let (above, below) = (wall(upper[index]), wall(lower[index]));
            let variable = &mut self.variables[index];
            if let Some((end, why)) = above {
                variable.upper = end.exp();
                variable.wall = why.list().first().map(|fault| fault.message.clone());
            }
            if let Some((end, _)) = below {
                variable.lower = end.exp();
            }
        }
        Ok(made * budget::making(self.case))
    }
}
