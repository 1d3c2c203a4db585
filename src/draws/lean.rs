//! Where the solutions of a draw begin: at one that is known, gone on from along its slopes with the guesses.

use crate::case::Case;
use crate::keys::{NumberId, Numbers};
use crate::network::NetworkState;

/// What no solution is likely to lie beyond (K): a beginning that does is no use.
const LIKELY: std::ops::Range<f64> = 180.0..3000.0;
/// Where one guess moves a temperature by more (K), another state was met, and no slope.
const LEAPS: f64 = 120.0;

/// Slopes of the solutions with the values taken with each guess, for the moments whose solutions begin there.
#[derive(Clone, Default)]
pub(super) struct Slopes {
    /// The first number of each guess, and its value taken.
    numbers: Vec<(NumberId, f64)>,
    /// By moment and guess: the state's change by that of the number.
    by_moment: Vec<Vec<Option<NetworkState>>>,
}

/// A draw whose solutions are kept, for others that lie beside it.
#[derive(Clone, Default)]
pub(super) struct KeptDraw {
    /// Where it has the first number of each guess.
    values: Vec<f64>,
    states: Vec<Option<NetworkState>>,
}

impl Slopes {
    /// None known yet, of guesses by their first numbers.
    pub fn new(case: &Case, first: impl Iterator<Item = NumberId>, moments: usize) -> Slopes {
        let numbers: Vec<(NumberId, f64)> = first.map(|id| (id, case.numbers.value(id))).collect();
        let by_moment = vec![vec![None; numbers.len()]; moments];
        Slopes { numbers, by_moment }
    }

    /// Finds the slope with one guess of a moment from its solution as the numbers now stand.
    pub fn learn(
        &mut self,
        moment: usize,
        guess: usize,
        numbers: &Numbers,
        taken: &NetworkState,
        now: &NetworkState,
    ) {
        let (id, value) = self.numbers[guess];
        let moved = numbers.value(id) - value;
        if moved == 0.0 || now.apart(taken) > LEAPS {
            return;
        }
        let mut slope = now.clone();
        slope.add(-1.0, taken);
        slope.scale(1.0 / moved);
        self.by_moment[moment][guess] = Some(slope);
    }

    /// Goes on in `state` from the solution with the values taken, or from that of a mark, to where the numbers stand.
    pub fn go_on(
        &self,
        moment: usize,
        numbers: &Numbers,
        taken: &NetworkState,
        mark: Option<&KeptDraw>,
        state: &mut NetworkState,
    ) {
        let known = mark.and_then(|mark| Some((mark.states.get(moment)?.as_ref()?, &mark.values)));
        let base = known.map_or(taken, |(base, _)| base);
        state.copy_from(base);
        for (place, ((id, value), slope)) in self.numbers.iter().zip(&self.by_moment[moment]).enumerate() {
            let was = known.map_or(*value, |(_, values)| values[place]);
            let moved = numbers.value(*id) - was;
            if moved != 0.0
                && let Some(slope) = slope
            {
                state.add(moved, slope);
            }
        }
        keep_likely(state, base);
    }

    /// Begins a mark where the numbers stand.
    pub fn mark(&self, numbers: &Numbers, mark: &mut KeptDraw) {
        mark.values.clear();
        mark.values.extend(self.numbers.iter().map(|(id, _)| numbers.value(*id)));
        mark.states.clear();
        mark.states.resize(self.by_moment.len(), None);
    }
}

/// Puts into `state` what lies so far off a solution; itself where nothing is likely to lie there.
pub(super) fn lie_off(start: &NetworkState, off: &NetworkState, state: &mut NetworkState) {
    state.copy_from(start);
    state.add(1.0, off);
    keep_likely(state, start);
}

/// Puts into `off` how far a solution lies off that with the values taken.
pub(super) fn measure_off(state: &NetworkState, taken: &NetworkState, off: &mut NetworkState) {
    off.copy_from(state);
    off.add(-1.0, taken);
}

/// Goes back to `base` where nothing is likely to lie at `state`.
fn keep_likely(state: &mut NetworkState, base: &NetworkState) {
    if !state.temperatures().all(|kelvin| LIKELY.contains(&kelvin)) {
        state.copy_from(base);
    }
}

impl KeptDraw {
    /// Keeps the solution of a moment.
    pub fn keep(&mut self, moment: usize, state: &NetworkState) {
        if let Some(kept) = self.states.get_mut(moment) {
            *kept = Some(state.clone());
        }
    }
}

/// How the solutions of a draw lie off those with the values taken, along a row of moments: where the next is likely to
/// lie.
#[derive(Clone)]
pub(super) struct LeanRow {
    /// Off those with the values taken at the last moment and at the one before.
    off: [NetworkState; 2],
    /// Their positions (road speeds).
    at: [f64; 2],
    known: usize,
}

impl LeanRow {
    /// Nothing known of states shaped like one.
    pub fn new(state: &NetworkState) -> LeanRow {
        LeanRow { off: [state.clone(), state.clone()], at: [0.0; 2], known: 0 }
    }

    /// What follows does not lie beside.
    pub fn end(&mut self) {
        self.known = 0;
    }

    /// Keeps a solution with that of the values taken.
    pub fn keep(&mut self, position: f64, state: &NetworkState, taken: &NetworkState) {
        self.off.swap(0, 1);
        self.at.swap(0, 1);
        measure_off(state, taken, &mut self.off[0]);
        self.at[0] = position;
        self.known = (self.known + 1).min(2);
    }

    /// Puts into `state` where a moment beside the last is likely to lie, `taken` its solution with the values taken.
    pub fn predict(&self, position: f64, taken: &NetworkState, state: &mut NetworkState) {
        state.copy_from(taken);
        let ratio = (position - self.at[0]) / (self.at[0] - self.at[1]);
        let on = if self.known == 2 && ratio > 0.0 && ratio <= 1.5 { ratio } else { 0.0 };
        state.add(1.0 + on, &self.off[0]);
        if on > 0.0 {
            state.add(-on, &self.off[1]);
        }
    }
}
