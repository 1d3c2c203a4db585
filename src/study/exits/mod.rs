//! The trade behind an exit size.
//!
//! All exits are scaled together, their proportions kept, from too small to larger than is of use. At
//! each area two questions are answered: how large the inlets must then be (sized anew, the exits held),
//! and what the inlets as drawn come to. From the first follow the smallest exits that will do, the knee and the
//! point beyond which nothing is gained; from the second the margins that rise and fall on the way. The
//! same is asked of the pressure where the exits lie, of inlet and exit area together, and of one exit
//! that is blocked or blown into.
//!
//! | figure | what it is |
//! | --- | --- |
//! | smallest that will do | the least exit area at which inlets within their bounds reach every margin asked for |
//! | knee | exit and inlet area together are least: beyond it a cm² of exit saves less than a cm² of inlet |
//! | beyond which nothing is gained | exits without end would spare less than 5 % of the inlets needed there |
//!
//! What is asked for stands in `[size]` (margins, bounds, conditions, free inlets); without it, all inlets of
//! cooling air are re-sized to margins of zero in every condition.

mod chances;
mod course;
mod holes;
mod map;
mod meter;
mod pressure;
mod reasons;
pub mod result;
mod state;
mod trade;
mod what_if;

use super::size::inlets::{InletFit, Which, Wide};
use super::size::{Sizing, bounds_of};
use crate::case::{Case, Loaded, Warning, tables as t};
use crate::draws::TallyWanted;
use crate::point::budget::{Budget, seconds};
use crate::point::counted::Counted;
use crate::point::opening::Opening;
use crate::warnings;
use holes::Group;
use meter::Meter;
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
    /// In the share drawn the exits' bounds leave no area.
    #[error(
        "scaled together, each exit keeping its share, no area keeps the bounds of all: {least} may not be smaller than so, nor {most} larger"
    )]
    NoRoom {
        /// The exit whose least area is reached first.
        least: String,
        /// The exit whose most area is reached first.
        most: String,
    },
}

/// Told how far the work has come, 0 to 1; from several threads.
pub type ProgressTell<'t> = &'t (dyn Fn(f64) + Sync);

/// What all parts of the study share.
struct Study<'c> {
    case: &'c Case,
    sizing: Sizing<'c>,
    exits: Group,
    /// Most area of one of each exit that changes, as far as the case says so.
    most: Vec<Option<f64>>,
    fixed: Vec<Opening>,
    inlets: Group,
    bay: Option<usize>,
    drag_at: Counted,
    meter: Meter,
}

/// Steps of the work that are done, out of all.
struct WorkDone<'t> {
    tell: ProgressTell<'t>,
    done: AtomicUsize,
    all: usize,
    /// Whether the courses against the pressure and the map are wanted too.
    whole: bool,
}

impl WorkDone<'_> {
    fn step(&self) {
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        (self.tell)((done as f64 / self.all as f64).min(1.0));
    }
}

impl<'c> Study<'c> {
    fn new(case: &'c Case, budget: Budget) -> Result<(Study<'c>, Which), NotStudied> {
        let (exits, fixed) = holes::exits(case);
        if exits.is_empty() {
            return Err(NotStudied::NoExit);
        }
        let (sizing, which, walls) = Sizing::of_inlets(case);
        let speed = |counted: &Counted| match counted {
            Counted::Condition(index) => case.view(&case.conditions[*index].values).required(&t::SPEED),
            other => other.driven().map_or(0.0, |(speed, _)| speed),
        };
        let counting = sizing.counting();
        let fastest =
            counting.iter().reduce(|best, here| if speed(here) > speed(best) { here } else { best });
        let asked = case.size.as_ref().and_then(|size| size.text(&t::DRAG_AT));
        let asked = asked.and_then(|name| case.condition(name)).map(Counted::Condition);
        let asked = asked.filter(|asked| counting.contains(asked));
        let drag_at = asked.or(fastest.copied()).ok_or(NotStudied::NoCondition)?;
        let bay = holes::bay(case, &exits);
        let bounds: Vec<(Option<f64>, Option<f64>)> =
            exits.iter().map(|exit| bounds_of(case, &case.passages[exit.passage].name)).collect();
        let most = bounds.iter().map(|(_, most)| *most).collect();
        let exits = Group::new(exits, &bounds);
        if exits.least.0 > exits.most.0 {
            let name = |above| exits.ended_by(above).unwrap_or_default().to_string();
            return Err(NotStudied::NoRoom { least: name(false), most: name(true) });
        }
        let (inlets, bounds) = sizing
            .groups()
            .flat_map(|(group, (low, high))| {
                group.iter().map(move |inlet| (inlet.clone(), (Some(low), Some(high))))
            })
            .unzip::<_, _, Vec<Opening>, Vec<_>>();
        let inlets = Group::new(inlets, &bounds);
        let meter = Meter::new(budget);
        meter.spent(walls);
        Ok((Study { case, sizing, exits, most, fixed, inlets, bay, drag_at, meter }, which))
    }

    /// The case with its exits at an area in all (m²).
    fn with_exits(&self, area: f64) -> Case {
        let mut case = self.case.clone();
        self.exits.set(&mut case, area);
        case
    }

    fn state_of(&self, case: &Case) -> Option<state::ExitState> {
        state::observe(case, &self.sizing, self.bay, &self.meter)
    }

    /// The smallest inlets for exits at an area in all (m²), within a budget; noted as work done.
    fn fit(&self, area: f64, wide: Wide, more: &[Vec<f64>], cap: Budget) -> Option<InletFit> {
        self.fit_case(&self.with_exits(area), wide, more, cap)
    }

    /// The same for any state of the exits.
    fn fit_case(&self, case: &Case, wide: Wide, more: &[Vec<f64>], cap: Budget) -> Option<InletFit> {
        let tried = Sizing::of_inlets_within(case, &self.sizing).fit(wide, more, cap);
        self.meter.fitted(tried.work, tried.spent);
        tried.fit
    }
}

/// Studies the exits of a case, at about so many areas.
///
/// # Errors
/// [`NotStudied`] where there is nothing to study.
pub fn exits(loaded: &Loaded, points: usize, tell: ProgressTell) -> Result<Exits, NotStudied> {
    studied(loaded, points, true, Budget::seconds(seconds::EXITS), None, tell)
}

/// The same with how often the sizes that have a name hold, over so many draws of the guesses.
///
/// # Errors
/// As [`exits`].
pub fn exits_with_doubt(
    loaded: &Loaded,
    points: usize,
    wanted: TallyWanted,
    tell: ProgressTell,
) -> Result<Exits, NotStudied> {
    studied(loaded, points, true, Budget::seconds(seconds::EXITS), Some(wanted), tell)
}

/// The same without the map and the courses against the pressure, within a budget.
///
/// # Errors
/// As [`exits`].
pub fn exits_in_short(
    loaded: &Loaded,
    points: usize,
    budget: Budget,
    tell: ProgressTell,
) -> Result<Exits, NotStudied> {
    studied(loaded, points, false, budget, None, tell)
}

fn studied(
    loaded: &Loaded,
    points: usize,
    whole: bool,
    budget: Budget,
    wanted: Option<TallyWanted>,
    tell: ProgressTell,
) -> Result<Exits, NotStudied> {
    let case = &loaded.case;
    let (study, which) = Study::new(case, budget)?;
    let drawn = study.state_of(case).ok_or(NotStudied::Unsolved)?;
    let places = pressure::places(&study);
    let all = trade::steps(points) + places.len() * pressure::STEPS + map::STEPS + 2;
    let work = WorkDone { tell, done: AtomicUsize::new(0), all, whole };
    let trade = trade::trade(&study, points, &work);
    let course = course::course(&study, &trade);
    work.step();
    let (reasons, mut remarks) = reasons::reasons(&study, &trade, &course);
    let design = trade::Design::of(&study, &trade, &drawn);
    let pressure: Vec<result::PressureTrade> = places
        .iter()
        .enumerate()
        .map(|(index, place)| pressure::against(&study, place, &design, places.len() - index, &work))
        .collect();
    let what_if = what_if::what_if(&study, loaded, &design, &drawn);
    work.step();
    let map = if whole { map::map(&study, &trade, &course, &work) } else { None };
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
    remarks.extend(left_out(&study, &trade, points, whole && map.is_none()));
    let at_knee = trade.knee.as_ref().map(|(_, fit)| trade::areas(&study, &fit.point));
    let mut conditions: Vec<String> = Vec::new();
    for counted in study.sizing.counting() {
        let name = counted.name(case).to_string();
        if !conditions.contains(&name) {
            conditions.push(name);
        }
    }
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
        warnings_at_knee: warnings_at(&study, trade.knee.as_ref()),
        shares_fixed: study.exits.members.len() > 1,
        least_m2: (study.exits.least.0 > 0.0).then_some(study.exits.least.0),
        most_m2: Some(study.exits.most.0).filter(|most| most.is_finite()),
        conditions,
        drag_at: study.drag_at.label(case),
        bay: study.bay.map(|bay| case.chambers[bay].name.clone()),
        turns: course.turns,
        remarks,
        pressure,
        what_if,
        map,
        course: course.steps,
        doubt: wanted.map_or(Vec::new(), |wanted| chances::chances(&study, &trade, wanted)),
        points: trade.points,
    })
}

/// What was left out since the work would have been too much, in words.
fn left_out(study: &Study, trade: &trade::Trade, points: usize, no_map: bool) -> Vec<String> {
    let mut list = Vec::new();
    let few = trade.points.len() < points.min(12);
    let map = no_map && !study.inlets.members.is_empty() && trade.range.1 > trade.range.0;
    let mut what = study.meter.left_out();
    if study.meter.left().is_spent() || few {
        what.push(format!("{} exit areas were looked at", trade.points.len()));
    }
    if map && study.meter.left().is_spent() {
        what.push("the map of inlets against exits was left out".to_string());
    }
    if study.meter.cut() {
        what.push(
            "some searches for inlets were cut short, so that \"none do\" is not proven there".to_string(),
        );
    }
    if what.is_empty() {
        return list;
    }
    list.push(format!(
        "the case is so large that the study was stopped at its budget: {}; fewer conditions behind at, or fewer inlets behind free, leave room for more",
        what.join(", ")
    ));
    list
}

/// Warnings of the openings of the knee.
fn warnings_at(study: &Study, knee: Option<&trade::ExitWithInlets>) -> Vec<Warning> {
    let Some((area, fit)) = knee else { return Vec::new() };
    let mut case = study.with_exits(*area);
    study.sizing.put(&mut case, &fit.point);
    warnings::at_sizes(&case, study.case)
}
