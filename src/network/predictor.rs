//! Predicts the next solution of a restless row.
//!
//! A recorded run shakes: its speeds and loads move by a per cent or two from row to row, to and fro, and no
//! curve through the last solutions leads on. What the solution does as each of them moves is much the
//! same from row to row, and is adapted on the way.
//!
//! ```text
//!   s = √[(V² + c n²)/(V₀² + c n₀²)]        flows go with s, pressures with s², where all that drives does
//!   x = x₀(s) + B u,  u the relative changes of road speed, engine speed and heat
//!   B ← B + ω (x − x₀(s) − B u) uᵀ/(uᵀu)    once x is known
//! ```
//!
//! The rule that adapts B is that of least mean squares, normalised (Widrow & Hoff 1960; from memory).
//! Only the number of steps that Newton's method needs depends on it.

use super::state::NetworkState;

/// What drives a moment: road speed (m/s), engine speed (rev/min), heat offered (W).
pub type Drives = [f64; 3];

/// Gain of the adaptation: most of a miss, so that a few rows do, and not all, since it
/// shakes too.
const GAIN: f64 = 0.6;
/// Weight of (rev/min)² beside (m/s)²: 100 rev/min count as 1 m/s.
const ENGINE: f64 = 1e-4;
/// Most and least that flows may be taken to change by in one go.
const NEAR: std::ops::Range<f64> = 0.5..2.0;
/// Sum of the squared changes below which a miss tells nothing.
const STILL: f64 = 1e-8;

/// Slopes of a solution with what drives it, adapted from row to row.
#[derive(Clone, Debug)]
pub struct AdaptivePredictor {
    slopes: Vec<Drives>,
    guess: Vec<f64>,
    last: Option<Drives>,
    most_heat: f64,
    change: Drives,
}

impl AdaptivePredictor {
    /// A predictor with no slopes yet, for states shaped like `state`.
    pub fn new(state: &NetworkState) -> AdaptivePredictor {
        let size = state.flow.len() + state.unknowns.len();
        AdaptivePredictor {
            slopes: vec![[0.0; 3]; size],
            guess: vec![0.0; size],
            last: None,
            most_heat: f64::MIN_POSITIVE,
            change: [0.0; 3],
        }
    }

    /// Forgets the last row; the slopes stay.
    pub fn turn(&mut self) {
        self.last = None;
    }

    /// Predicts the solution at `now` from the last one.
    pub fn guess(&mut self, now: Drives, state: &mut NetworkState) {
        self.change = [0.0; 3];
        self.most_heat = self.most_heat.max(now[2]);
        let Some(last) = self.last.replace(now) else { return };
        let size = |drives: Drives| drives[0] * drives[0] + ENGINE * drives[1] * drives[1];
        let factor = (size(now) / size(last)).sqrt();
        // also where nothing moves, and the factor is not finite
        if !NEAR.contains(&factor) {
            return;
        }
        self.change = [
            (now[0] - last[0]) / (now[0] + last[0] + 1.0),
            (now[1] - last[1]) / (now[1] + last[1] + 100.0),
            0.5 * (now[2] - last[2]) / self.most_heat,
        ];
        state.take_along(factor);
        for ((value, slopes), guess) in state.values_mut().zip(&self.slopes).zip(&mut self.guess) {
            *value += slopes.iter().zip(&self.change).map(|(slope, change)| slope * change).sum::<f64>();
            *guess = *value;
        }
    }

    /// Adapts the slopes to what the last prediction missed.
    pub fn learn(&mut self, state: &NetworkState) {
        let size: f64 = self.change.iter().map(|change| change * change).sum();
        if size <= STILL {
            return;
        }
        for ((value, slopes), guess) in state.values().zip(&mut self.slopes).zip(&self.guess) {
            let miss = GAIN * (value - guess) / size;
            for (slope, change) in slopes.iter_mut().zip(&self.change) {
                *slope += miss * change;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{AdaptivePredictor, Drives, NetworkState};

    /// A solution that goes straight with what drives it, on top of the similarity that is assumed.
    fn solution(drives: Drives) -> NetworkState {
        let [speed, rpm, heat] = drives;
        NetworkState {
            flow: vec![0.01 * speed],
            unknowns: vec![speed * speed, 300.0 + 1e-3 * heat + 1e-3 * rpm],
            chambers: 1,
        }
    }

    #[test]
    fn a_shaking_row_is_followed_ever_better() {
        let mut learnt = AdaptivePredictor::new(&solution([30.0, 5000.0, 9000.0]));
        let mut state = solution([30.0, 5000.0, 9000.0]);
        let mut misses = Vec::new();
        for row in 0..200 {
            let shake = |rate: f64| (rate * f64::from(row)).sin();
            let drives = [30.0 + 0.6 * shake(1.7), 5000.0 + 90.0 * shake(2.9), 9000.0 + 300.0 * shake(0.7)];
            learnt.guess(drives, &mut state);
            let wanted = solution(drives);
            misses.push((state.unknowns[1] - wanted.unknowns[1]).abs());
            state = wanted;
            learnt.learn(&state);
        }
        let worst = |range: std::ops::Range<usize>| misses[range].iter().copied().fold(0.0, f64::max);
        assert!(worst(150..200) < 0.1 * worst(1..20), "{} after {}", worst(150..200), worst(1..20));
    }

    #[test]
    fn a_leap_or_a_standing_engine_leaves_the_state_alone() {
        let mut learnt = AdaptivePredictor::new(&solution([30.0, 5000.0, 0.0]));
        for (from, to) in
            [([30.0, 5000.0, 0.0], [3.0, 900.0, 0.0]), ([0.0; 3], [0.0; 3]), ([0.0; 3], [1.0, 0.0, 0.0])]
        {
            learnt.turn();
            let mut state = solution(from);
            learnt.guess(from, &mut state);
            learnt.guess(to, &mut state);
            assert_eq!(state, solution(from));
            learnt.learn(&state);
        }
    }
}
