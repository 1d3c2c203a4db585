//! Where and how a car is run to be read: at rest, and steadily at speeds that can be held.

use crate::case::Case;
use crate::network::PassageEnd;
use crate::point::Model;
use crate::point::counted::{Blown, Counted, DrivingPoint};
use crate::point::operation::{engine_runs, idles, is_driven};
use crate::point::speeds::Geared;
use crate::readings::drives::{BLOWER, drives, whole};

/// Road speeds of steady drives (m/s), the gentlest first.
const SPEEDS: [f64; 3] = [40.0 / 3.6, 60.0 / 3.6, 100.0 / 3.6];
/// Share of the load at which a gentler drive is offered.
const GENTLE: f64 = 0.5;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum RunKind {
    /// On the bench, engine off, a blower.
    Bench,
    /// Standing, the engine running.
    Rest,
    /// At a steady speed.
    Drive,
}

#[derive(Clone, Debug)]
pub(super) struct RunPlan {
    pub at: Counted,
    pub way: RunKind,
    /// Of a drive that is also offered with less load: which of its runs that is.
    pub gentler: Option<usize>,
}

impl RunPlan {
    fn at(at: Counted, way: RunKind) -> RunPlan {
        RunPlan { at, way, gentler: None }
    }
}

/// All that are offered: one at rest where the case has such a condition, then the drives, each followed by the same with
/// half its load. Without gears the conditions themselves.
pub(super) fn runs(case: &Case, model: &Model) -> Vec<RunPlan> {
    let mut all: Vec<RunPlan> = Vec::new();
    all.extend(blown(case, model).map(|blown| RunPlan::at(Counted::Blown(blown), RunKind::Bench)));
    let conditions = 0..case.conditions.len();
    let standing = conditions.clone().find(|index| idles(case, &case.conditions[*index]));
    all.extend(standing.map(|index| RunPlan::at(Counted::Condition(index), RunKind::Rest)));
    for driven in drives(case, model, &SPEEDS) {
        let gentle = Geared { load: whole(GENTLE * driven.point.load), ..driven.point };
        let gentler = Some(all.len() + 1);
        all.push(RunPlan { at: Counted::Driven(driven), way: RunKind::Drive, gentler });
        all.push(RunPlan::at(Counted::Driven(DrivingPoint::at(gentle)), RunKind::Drive));
    }
    if all.iter().all(|run| run.way != RunKind::Drive) {
        let moving = conditions.filter(|index| is_driven(case, &case.conditions[*index]));
        all.extend(moving.map(|index| RunPlan::at(Counted::Condition(index), RunKind::Drive)));
    }
    if all.iter().all(|run| run.way == RunKind::Bench) {
        let running = (0..case.conditions.len()).filter(|index| engine_runs(case, &case.conditions[*index]));
        all.extend(running.map(|index| RunPlan::at(Counted::Condition(index), RunKind::Rest)));
    }
    all
}

/// A blower on the opening that feeds a space from which air goes on to another: then two pressures can be read at one
/// setting, and what it gives need not be known.
fn blown(case: &Case, model: &Model) -> Option<Blown> {
    let passages = &model.network.passages;
    let goes_on = |chamber: usize| {
        passages
            .iter()
            .any(|on| on.from == PassageEnd::Chamber(chamber) && matches!(on.to, PassageEnd::Chamber(_)))
    };
    let feeds = |index: &usize| match (passages[*index].from, passages[*index].to) {
        (PassageEnd::Outside, PassageEnd::Chamber(chamber)) => {
            goes_on(chamber) && case.passages[*index].opening().is_some()
        }
        _ => false,
    };
    let into = (0..case.passages.len()).find(feeds)?;
    Some(Blown { into, flow: BLOWER, backwards: false, number: None, condition: None })
}
