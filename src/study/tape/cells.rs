//! Which tape in which weather, with the values taken.

use super::result::{TapeColumn, TapeSays, TapedFor, Taping};
use crate::case::{Case, tables as t};
use crate::correlations::power_correction::ACCEPTED;
use crate::point::budget::Budget;
use crate::point::counted::{Counted, Taped};
use crate::point::operation::{idles, is_driven};
use crate::point::{Model, PointSolver};
use std::cell::RefCell;

/// Kelvins that every part keeps under its limit where tape is laid (common practice).
const KEPT: f64 = 10.0;
/// Dynamic pressure left behind another car, where no condition says it (common practice).
const BEHIND: f64 = 0.75;

/// A column: the conditions it stands for.
pub(super) struct ColumnKind {
    pub column: TapedFor,
    conditions: Vec<usize>,
    wet: bool,
    clear_air: Option<f64>,
}

impl ColumnKind {
    /// All columns that the conditions of a case give.
    pub fn all(case: &Case) -> Vec<ColumnKind> {
        let driven = |index: &usize| is_driven(case, &case.conditions[*index]);
        let clear = |index: &usize| case.view(&case.conditions[*index].values).required(&t::CLEAR_AIR) >= 1.0;
        let all = || 0..case.conditions.len();
        let run: Vec<usize> = all().filter(|index| driven(index) && clear(index)).collect();
        let follows: Vec<usize> = all().filter(|index| driven(index) && !clear(index)).collect();
        let stands: Vec<usize> = all().filter(|index| idles(case, &case.conditions[*index])).collect();
        let dry = |column, conditions| ColumnKind { column, conditions, wet: false, clear_air: None };
        let following = if follows.is_empty() {
            ColumnKind { clear_air: Some(BEHIND), ..dry(TapedFor::Following, run.clone()) }
        } else {
            dry(TapedFor::Following, follows)
        };
        let wet = ColumnKind { wet: true, ..dry(TapedFor::Wet, run.clone()) };
        let kinds = [dry(TapedFor::Run, run), following, dry(TapedFor::Queue, stands), wet];
        kinds.into_iter().filter(|kind| !kind.conditions.is_empty()).collect()
    }

    pub fn told(&self, case: &Case) -> TapeColumn {
        TapeColumn {
            column: self.column,
            conditions: self.conditions.iter().map(|index| case.conditions[*index].name.clone()).collect(),
            taken: match (self.wet, self.clear_air) {
                (true, _) => Some("air full of water, nothing added by the track"),
                (_, Some(_)) => Some("75 % of the dynamic pressure left"),
                _ => None,
            },
        }
    }

    fn moments(&self, temperature: f64, tape: Option<(usize, f64)>) -> impl Iterator<Item = Taped> {
        self.conditions.iter().map(move |condition| Taped {
            condition: *condition,
            tape,
            temperature,
            wet: self.wet,
            clear_air: self.clear_air,
        })
    }
}

/// What a cell says.
pub(super) struct CellVerdict {
    pub says: TapeSays,
    pub opening: Option<char>,
    pub strips: usize,
    pub share: f64,
    /// Whether the engine's power is corrected further than its standard accepts in some condition of the column.
    pub beyond: bool,
    /// By part: the moment of the column in which it is hottest, and its temperature (K).
    pub hottest: Vec<(Taped, f64)>,
}

/// Looks into cells.
pub(super) struct Cells<'c> {
    case: &'c Case,
    model: &'c Model,
    openings: &'c [(usize, Taping)],
    parts: Vec<usize>,
    solver: RefCell<PointSolver>,
    within: Budget,
}

/// One way of taping, looked at in all conditions of a column.
struct TapeLook {
    hottest: Vec<(Taped, f64)>,
    /// Fewest kelvins under a limit.
    least: f64,
    /// Fewest kelvins that the mean of a part's temperatures over the conditions lies above its lower limit.
    warm: f64,
}

impl<'c> Cells<'c> {
    pub fn new(
        case: &'c Case,
        model: &'c Model,
        openings: &'c [(usize, Taping)],
        parts: Vec<usize>,
        within: Budget,
    ) -> Cells<'c> {
        Cells { case, model, openings, parts, solver: RefCell::new(PointSolver::new(model)), within }
    }

    /// Whether a part has a lower limit.
    pub fn keeps_warm(&self) -> bool {
        self.parts.iter().any(|part| self.model.network.parts[*part].least.is_some())
    }

    /// Work done, as budgets count it.
    pub fn work(&self) -> u64 {
        self.solver.borrow().work()
    }

    /// Whether the work ended at its budget: what was found last is worth nothing then.
    pub fn is_spent(&self) -> bool {
        !self.within.allows(self.work())
    }

    /// None where a condition has no steady state, or the budget is spent.
    fn look(&self, kind: &ColumnKind, temperature: f64, tape: Option<(usize, f64)>) -> Option<TapeLook> {
        let mut solver = self.solver.borrow_mut();
        let mut hottest: Vec<Option<(Taped, f64)>> = vec![None; self.parts.len()];
        let mut sums = vec![0.0; self.parts.len()];
        let (mut least, mut count) = (f64::INFINITY, 0.0);
        for moment in kind.moments(temperature, tape) {
            if !self.within.allows(solver.work()) {
                return None;
            }
            let operation = Counted::Taped(moment).operation(self.case, self.model);
            solver.prepare(self.model, &operation);
            solver.forget();
            solver.solve_hotter_on_the_way().ok()?;
            count += 1.0;
            for ((part, hottest), sum) in self.parts.iter().zip(&mut hottest).zip(&mut sums) {
                let shown = solver.state.part_temperature(*part);
                *sum += shown;
                least = f64::min(least, self.model.network.parts[*part].limit - shown);
                if hottest.is_none_or(|(_, known)| shown > known) {
                    *hottest = Some((moment, shown));
                }
            }
        }
        let over_least = self
            .parts
            .iter()
            .zip(&sums)
            .filter_map(|(part, sum)| Some(sum / count - self.model.network.parts[*part].least?));
        Some(TapeLook {
            hottest: hottest.into_iter().collect::<Option<Vec<_>>>()?,
            least,
            warm: over_least.fold(f64::INFINITY, f64::min),
        })
    }

    /// The tape for a column in air of some temperature (K).
    pub fn find(&self, kind: &ColumnKind, temperature: f64) -> CellVerdict {
        CellVerdict { beyond: self.is_beyond(kind, temperature), ..self.found(kind, temperature) }
    }

    /// Whether the power of the engine is corrected further there than its standard accepts: `check` goes on with a warning, and
    /// so does the card.
    fn is_beyond(&self, kind: &ColumnKind, temperature: f64) -> bool {
        kind.moments(temperature, None).any(|moment| {
            let operation = Counted::Taped(moment).operation(self.case, self.model);
            !ACCEPTED.contains(&self.model.engine.air_factor(&operation.air))
        })
    }

    fn found(&self, kind: &ColumnKind, temperature: f64) -> CellVerdict {
        let found = |says, look: TapeLook| CellVerdict {
            says,
            opening: None,
            strips: 0,
            share: 0.0,
            beyond: false,
            hottest: look.hottest,
        };
        let Some(bare) = self.look(kind, temperature, None) else {
            return CellVerdict {
                says: TapeSays::Outside,
                opening: None,
                strips: 0,
                share: 0.0,
                beyond: false,
                hottest: Vec::new(),
            };
        };
        if bare.least < 0.0 {
            return found(TapeSays::TooHot, bare);
        }
        let warm = self.keeps_warm();
        if kind.column == TapedFor::Queue || (warm && bare.warm >= 0.0) {
            return found(TapeSays::NoTape, bare);
        }
        // the fewest strips that keep everything warm; else the most that leave every part its margin
        let mut best: Option<(CellVerdict, f64)> = None;
        for (passage, taping) in self.openings {
            for (index, share) in taping.shares.iter().enumerate() {
                let Some(look) = self.look(kind, temperature, Some((*passage, *share))) else { break };
                if look.least < KEPT {
                    break;
                }
                let enough = warm && look.warm >= 0.0;
                let worth = match (warm, enough) {
                    // fewer strips first, of as many the opening named first
                    (true, true) => 1e6 - (index + 1) as f64,
                    (true, false) => look.warm,
                    (false, _) => *share * taping.pieces as f64 * taping.height_m.powi(2),
                };
                let says = if !warm || enough { TapeSays::Tape } else { TapeSays::TooCold };
                if best.as_ref().is_none_or(|(_, most)| worth > *most + 1e-9) {
                    let opening = Some(taping.letter);
                    let found =
                        CellVerdict { opening, strips: index + 1, share: *share, ..found(says, look) };
                    best = Some((found, worth));
                }
                if enough {
                    break;
                }
            }
        }
        match best {
            // strips that warm nothing are not laid
            Some((best, worth)) if !warm || worth > bare.warm => best,
            _ => found(if warm { TapeSays::TooCold } else { TapeSays::NoTape }, bare),
        }
    }
}
