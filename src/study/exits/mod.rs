//! The trade behind an exit size.
//!
//! All exits are scaled together, their proportions kept, from too small to larger than is of use. At
//! each area two questions are answered: how large the inlets must then be (sized anew, the exits held),
//! and what the inlets as drawn come to. From the first follow the smallest safe exits, the knee and the
//! point beyond which nothing is gained; from the second the margins that rise and fall on the way. The
//! same is asked of the pressure where the exits lie, of inlet and exit area together, and of one exit
//! that is blocked or blown into.
//!
//! | figure | what it is |
//! | --- | --- |
//! | smallest safe | the least exit area at which inlets within their bounds reach every margin asked for |
//! | knee | exit and inlet area together are least: beyond it a cm² of exit saves less than a cm² of inlet |
//! | beyond which nothing is gained | exits without end would spare less than 5 % of the inlets needed there |
//!
//! What is asked for stands in `[size]` (margins, bounds, conditions, free inlets); without it, all inlets of
//! cooling air are re-sized to margins of zero in every condition.

mod course;
mod holes;
mod map;
mod pressure;
mod reasons;
pub mod result;
mod state;
mod trade;
mod what_if;

use super::opening::Opening;
use super::size::Sizing;
use super::size::inlets::Which;
use crate::case::{Case, Loaded, tables as t};
use holes::Group;
use result::Exits;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Why the exits cannot be studied.
#[derive(Debug, thiserror::Error)]
pub enum NotStudied {
    /// No passage ends in an exit.
    #[error("the case has no exit: no passage ends outside with an element of kind \"exit\"")]
    NoExit,
    /// No condition to look at.
    #[error("the case has no condition to look at")]
    NoCondition,
    /// The case as drawn has no steady state.
    #[error("no steady state was found for the case as it stands")]
    Unsolved,
}

/// Told how far the work has come, 0 to 1; from several threads.
pub type Tell<'t> = &'t (dyn Fn(f64) + Sync);

/// What all parts of the study share.
struct Study<'c> {
    case: &'c Case,
    sizing: Sizing<'c>,
    exits: Group,
    fixed: Vec<Opening>,
    inlets: Group,
    bay: Option<usize>,
    drag_at: usize,
}

/// Steps of the work that are done, out of all.
struct Work<'t> {
    tell: Tell<'t>,
    done: AtomicUsize,
    all: usize,
    /// Whether the courses against the pressure and the map are wanted too.
    whole: bool,
}

impl Work<'_> {
    fn step(&self) {
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        (self.tell)((done as f64 / self.all as f64).min(1.0));
    }
}

impl<'c> Study<'c> {
    fn new(case: &'c Case) -> Result<(Study<'c>, Which), NotStudied> {
        let (exits, fixed) = holes::exits(case);
        if exits.is_empty() {
            return Err(NotStudied::NoExit);
        }
        let (sizing, which) = Sizing::of_inlets(case);
        let speed = |condition: usize| case.view(&case.conditions[condition].values).given(&t::SPEED);
        let counting = sizing.counting();
        let fastest =
            counting.iter().copied().reduce(|best, here| if speed(here) > speed(best) { here } else { best });
        let asked = case.size.as_ref().and_then(|size| size.text(&t::DRAG_AT));
        let asked = asked.and_then(|name| case.condition(name)).filter(|asked| counting.contains(asked));
        let drag_at = asked.or(fastest).ok_or(NotStudied::NoCondition)?;
        let bay = holes::bay(case, &exits);
        let inlets = Group::new(sizing.groups().flatten().cloned().collect());
        Ok((Study { case, sizing, exits: Group::new(exits), fixed, inlets, bay, drag_at }, which))
    }

    /// The case with its exits at an area in all (m²).
    fn with_exits(&self, area: f64) -> Case {
        let mut case = self.case.clone();
        self.exits.set(&mut case, area);
        case
    }

    fn state_of(&self, case: &Case) -> Option<state::State> {
        state::observe(case, &self.sizing, self.bay)
    }
}

/// Studies the exits of a case, at about so many areas.
///
/// # Errors
/// [`NotStudied`] where there is nothing to study.
pub fn exits(loaded: &Loaded, points: usize, tell: Tell) -> Result<Exits, NotStudied> {
    studied(loaded, points, true, tell)
}

/// The same without the map and the courses against the pressure.
///
/// # Errors
/// As [`exits`].
pub fn exits_in_short(loaded: &Loaded, points: usize, tell: Tell) -> Result<Exits, NotStudied> {
    studied(loaded, points, false, tell)
}

fn studied(loaded: &Loaded, points: usize, whole: bool, tell: Tell) -> Result<Exits, NotStudied> {
    let case = &loaded.case;
    let (study, which) = Study::new(case)?;
    let drawn = study.state_of(case).ok_or(NotStudied::Unsolved)?;
    let places = pressure::places(&study);
    let all = trade::steps(points) + places.len() * pressure::STEPS + map::STEPS + 2;
    let work = Work { tell, done: AtomicUsize::new(0), all, whole };
    let trade = trade::trade(&study, points, &work);
    let course = course::course(&study, &trade);
    work.step();
    let (reasons, mut remarks) = reasons::reasons(&study, &trade, &course);
    let design = trade::Design::of(&study, &trade, &drawn);
    let pressure = places.iter().map(|place| pressure::against(&study, place, &design, &work)).collect();
    let what_if = what_if::what_if(&study, loaded, &design, &drawn);
    work.step();
    let map = if whole { map::map(&study, &trade, &work) } else { None };
    if which == Which::All {
        let why = if case.size.is_some() { "[size] frees no inlet" } else { "the case has no [size]" };
        let margins = if case.size.is_some() { "to its margins" } else { "to margins of zero" };
        let what = if study.inlets.members.is_empty() {
            "no inlet can be re-sized, and the exits are held"
        } else {
            "all inlets of cooling air are re-sized,"
        };
        remarks.insert(0, format!("{why}: {what} {margins}"));
    }
    let name = |index: usize| case.conditions[index].name.clone();
    let at_knee = trade.knee.as_ref().map(|(_, fit)| trade::areas(&study, &fit.point));
    Ok(Exits {
        as_drawn: trade::point(&study, study.exits.area, trade.drawn.as_ref(), &drawn),
        knee_m2: trade.knee.as_ref().map(|(area, _)| *area),
        smallest_safe_m2: trade.smallest.as_ref().map(|(area, _)| *area),
        largest_safe_m2: trade.largest,
        smallest_safe_as_drawn_m2: course.safe,
        pointless_m2: trade.pointless,
        reasons,
        inlet_area_at_knee_m2: trade.knee.as_ref().map(|(_, fit)| fit.area),
        inlets_at_knee_m2: at_knee,
        exits: study.exits.members.iter().map(|exit| holes::hole(case, exit)).collect(),
        fixed_exits: study.fixed.iter().map(|exit| holes::hole(case, exit)).collect(),
        inlets: study.inlets.members.iter().map(|inlet| holes::hole(case, inlet)).collect(),
        inlets_from_size: which == Which::Free,
        conditions: study.sizing.counting().iter().map(|index| name(*index)).collect(),
        drag_at: name(study.drag_at),
        bay: study.bay.map(|bay| case.chambers[bay].name.clone()),
        turns: course.turns,
        remarks,
        pressure,
        what_if,
        map,
        course: course.steps,
        points: trade.points,
    })
}
