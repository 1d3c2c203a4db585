//! Extrapolates the next solution of a row.

use super::state::NetworkState;

/// How many solutions are cached: four make a cubic.
const KEPT: usize = 4;

/// The last solutions along a row of moments, so that the next begins near its own.
#[derive(Clone, Debug)]
pub struct Extrapolator {
    states: [NetworkState; KEPT],
    positions: [f64; KEPT],
    count: usize,
}

impl Extrapolator {
    /// An empty cache for states shaped like `state`.
    pub fn new(state: &NetworkState) -> Extrapolator {
        Extrapolator { states: std::array::from_fn(|_| state.clone()), positions: [0.0; KEPT], count: 0 }
    }

    /// Forgets all but the last solution: what follows does not go on from the others.
    pub fn turn(&mut self) {
        self.count = self.count.min(1);
    }

    /// Forgets every solution.
    pub fn forget(&mut self) {
        self.count = 0;
    }

    /// Whether there is a solution to go on from.
    pub fn has_begun(&self) -> bool {
        self.count > 0
    }

    /// Caches the solution at a position (speed or time; any unit), the newest first.
    pub fn keep(&mut self, position: f64, state: &NetworkState) {
        self.states.rotate_right(1);
        self.positions.rotate_right(1);
        self.states[0].copy_from(state);
        self.positions[0] = position;
        self.count = (self.count + 1).min(KEPT);
    }

    /// Extrapolates the cached solutions to a position: the polynomial through them,
    /// where the position lies on beyond the last by no more than one and a half of its steps; the last
    /// solution itself where it does not. Nothing without a solution.
    pub fn predict(&self, position: f64, state: &mut NetworkState) {
        let count = if self.goes_on(position) { self.count } else { self.count.min(1) };
        if count == 0 {
            return;
        }
        if count == 1 {
            return state.copy_from(&self.states[0]);
        }
        // Lagrange's weights
        let weight = |i: usize| -> f64 {
            let others = (0..count).filter(|j| *j != i).map(|j| self.positions[j]);
            let parts = others.map(|other| (position - other, self.positions[i] - other));
            let (over, under) = parts.fold((1.0, 1.0), |(over, under), part| (over * part.0, under * part.1));
            over / under
        };
        let mut weights = [0.0; KEPT];
        for (i, place) in weights[..count].iter_mut().enumerate() {
            *place = weight(i);
        }
        state.mix(&weights[..count], &self.states[..count]);
    }

    /// Whether the positions run on one way to this one, in steps of about a size.
    fn goes_on(&self, position: f64) -> bool {
        if self.count < 2 {
            return false;
        }
        let step = self.positions[0] - self.positions[1];
        let share = (position - self.positions[0]) / step;
        let before = self.positions[1] - self.positions[2];
        share > 0.0 && share <= 1.5 && (self.count < 3 || (before / step > 0.5 && before / step < 2.0))
    }
}

#[cfg(test)]
mod tests {
    use super::{Extrapolator, NetworkState};

    fn state(value: f64) -> NetworkState {
        NetworkState { flow: vec![value], unknowns: vec![2.0 * value], chambers: 0 }
    }

    #[test]
    fn a_parabola_is_followed_to_the_last_bit_or_so() {
        let law = |x: f64| 3.0 - 2.0 * x + 0.5 * x * x;
        let mut track = Extrapolator::new(&state(0.0));
        assert!(!track.has_begun());
        for x in [1.0, 1.5, 2.1] {
            track.keep(x, &state(law(x)));
        }
        let mut next = state(0.0);
        track.predict(2.7, &mut next);
        assert!((next.flow[0] - law(2.7)).abs() < 1e-14);
        assert!((next.unknowns[0] - 2.0 * law(2.7)).abs() < 1e-14);
    }

    #[test]
    fn what_does_not_go_on_begins_at_the_last_solution() {
        let mut track = Extrapolator::new(&state(0.0));
        for x in [1.0, 2.0, 3.0] {
            track.keep(x, &state(x * x));
        }
        let mut next = state(0.0);
        for elsewhere in [2.5, 5.0, 3.0, f64::NAN] {
            track.predict(elsewhere, &mut next);
            assert_eq!(next, state(9.0), "{elsewhere}");
        }
        track.turn();
        track.predict(4.0, &mut next);
        assert_eq!(next, state(9.0));
        track.forget();
        let mut untouched = state(7.0);
        track.predict(4.0, &mut untouched);
        assert_eq!(untouched, state(7.0));
    }

    #[test]
    fn two_solutions_lay_a_line() {
        let mut track = Extrapolator::new(&state(0.0));
        track.keep(0.0, &state(1.0));
        track.keep(2.0, &state(2.0));
        let mut next = state(0.0);
        track.predict(4.0, &mut next);
        assert_eq!(next, state(3.0));
    }
}
