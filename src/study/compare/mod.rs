//! The base case and each of its layouts side by side.

mod chances;
mod ranking;
pub mod result;
mod traps;
mod uncounted;

use super::changes::differences;
use super::size::Sizing;
use super::sweep;
use super::sweep::between::between;
use crate::case::document::Node;
use crate::case::{Case, Diagnostics, layouts, tables as t};
use crate::element::{PieceSize, Role, exit, kind, size};
use crate::keys::Slot;
use crate::point::budget::Budget;
use crate::point::conditions;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::{ByName, Condition, ConditionMargin, OpeningRole};
use crate::point::solver::PointSolver;
use crate::warnings;
use rayon::prelude::*;
use result::{Compared, Comparison, LayoutInCondition, LayoutResult, OpeningArea};
use std::sync::atomic::{AtomicUsize, Ordering};

/// The name of the case without any layout.
pub const BASE: &str = "base";

/// How layouts are compared.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// Whether the free openings of each are sized first.
    pub sized: bool,
    /// What all of them together may take.
    pub budget: Budget,
    /// Whether the guesses are drawn, so often as is asked for, else as that allows.
    pub drawn: Option<(Option<usize>, Budget)>,
}

/// Solves the base case and each layout of its document. One that cannot be solved or sized says so and
/// hides no other. `progress` is told the share that is done.
pub fn compare(
    document: &Node,
    base: &Case,
    options: Options,
    progress: &(dyn Fn(f64) + Sync),
) -> Comparison {
    let names: Vec<&str> = base.layouts.iter().map(|layout| layout.name.as_str()).collect();
    let counts = counting(base);
    let done = AtomicUsize::new(0);
    let of = |(layout, options): (Option<&&str>, Options)| {
        let compared = one(document, base, layout.copied(), options, &counts);
        let done = done.fetch_add(1, Ordering::Relaxed) + 1;
        progress(done as f64 / (names.len() + 1) as f64);
        compared
    };
    let all: Vec<Option<&&str>> = std::iter::once(None).chain(names.iter().map(Some)).collect();
    let each = options.budget.each_of(all.len());
    let options = Options { budget: each, ..options };
    let found: Vec<(Compared, Option<Case>)> =
        all.into_par_iter().map(|layout| of((layout, options))).collect();
    let (mut compare, cases): (Vec<Compared>, Vec<Option<Case>>) = found.into_iter().unzip();
    leave_out_known(&mut compare);
    uncounted::note(&mut compare);
    let chances = options.drawn.and_then(|(asked, budget)| {
        chances::chances(&mut compare, &cases, &counts, options.sized, asked, budget)
    });
    let ranking = ranking::ranking(base, &compare, counts, options.sized);
    Comparison { compare, ranking, sized: options.sized, chances }
}

/// Leaves to each layout the warnings that it brings, those that the base case does not have.
fn leave_out_known(compare: &mut [Compared]) {
    let base = compare.iter().find(|compared| compared.base).and_then(|base| base.answer.as_ref());
    let known = base.map_or(Vec::new(), |answer| answer.new_warnings.clone());
    for answer in compare.iter_mut().filter_map(|compared| compared.answer.as_mut()) {
        answer.new_warnings = warnings::brought(std::mem::take(&mut answer.new_warnings), &known);
    }
}

/// The conditions that count: those in which `[size]` wants its margins, else all.
pub(super) fn counting(case: &Case) -> Vec<String> {
    let named: Vec<String> = match case.size.as_ref().map(|values| values.slot(&t::AT)) {
        Some(Slot::Names(names)) => names.iter().filter(|name| *name != t::SWEEP_WORD).cloned().collect(),
        _ => Vec::new(),
    };
    if named.is_empty() { case.conditions.iter().map(|c| c.name.clone()).collect() } else { named }
}

/// One layout, and its case as it was solved.
fn one(
    document: &Node,
    base: &Case,
    layout: Option<&str>,
    options: Options,
    counts: &[String],
) -> (Compared, Option<Case>) {
    let mut compared = Compared {
        layout: layout.unwrap_or(BASE).to_string(),
        base: layout.is_none(),
        differs: Vec::new(),
        trouble: None,
        seen: None,
        answer: None,
    };
    let read = match layout {
        None => Ok(base.clone()),
        Some(name) => read_layout(document, name),
    };
    let outcome = read.and_then(|case| {
        compared.differs = differences(base, &case);
        answer(case, options, counts)
    });
    match outcome {
        Ok((answer, trouble, case)) => {
            (compared.answer, compared.trouble) = (Some(answer), trouble);
            (compared, Some(case))
        }
        Err(trouble) => {
            compared.trouble = Some(trouble);
            (compared, None)
        }
    }
}

/// The case with each of its layouts, by name.
///
/// # Errors
/// Why one is refused.
pub fn layouts(document: &Node, base: &Case) -> Result<Vec<(String, Case)>, String> {
    let each = base.layouts.iter().map(|layout| {
        let case = read_layout(document, &layout.name).map_err(|why| format!("{}: {why}", layout.name))?;
        Ok((layout.name.clone(), case))
    });
    each.collect()
}

fn read_layout(document: &Node, name: &str) -> Result<Case, String> {
    let told = |faults: &Diagnostics| {
        let list: Vec<&str> = faults.list().iter().map(|fault| fault.message.as_str()).collect();
        format!("it was refused: {}", list.join("; "))
    };
    let changed = layouts::layout(document, name).map_err(|faults| told(&faults))?;
    let mut faults = Diagnostics::new();
    Case::read(&changed, &mut faults).ok_or_else(|| told(&faults))
}

/// Sizes a case where that is wanted, and solves it; with what the answer lacks.
fn answer(
    case: Case,
    options: Options,
    counts: &[String],
) -> Result<(LayoutResult, Option<String>, Case), String> {
    let mut trouble = None;
    let (case, sizes) = if options.sized {
        match Sizing::new(&case).and_then(|sizing| sizing.solve_within(options.budget.share(0.5))) {
            Ok(sized) => (sized.case, Some(sized.sizes)),
            Err(error) => {
                trouble = Some(format!("it was not sized and stands as drawn: {error}"));
                (case, None)
            }
        }
    } else {
        (case, None)
    };
    let model = Model::new(&case).map_err(|faults| {
        let list: Vec<&str> = faults.list().iter().map(|fault| fault.message.as_str()).collect();
        format!("it was refused: {}", list.join("; "))
    })?;
    let found = conditions::solved_within(&case, &model, options.budget.share(0.2));
    if let Some(first) = found.unsolved.first() {
        // the others are shown
        match found.conditions.is_empty() {
            true => return Err(first.to_string()),
            false => trouble = Some(first.to_string()),
        }
    }
    let conditions = found.conditions;
    let mut left = Vec::new();
    let sweep = sweep::sweep_within(&case, &model, sweep::POINTS, options.budget.share(0.25), &mut left).ok();
    if let Some(left) = left.into_iter().next() {
        trouble.get_or_insert(left.message);
    }
    let counted: Vec<&Condition> = conditions.iter().filter(|c| counts.contains(&c.name)).collect();
    let openings = openings(&case);
    let total = |role: OpeningRole| {
        openings.iter().filter(|o| o.role == role).map(|o| o.pieces * o.area_m2).sum::<f64>()
    };
    let answer = LayoutResult {
        kept: !counted.iter().any(|condition| conditions::missed(std::slice::from_ref(condition))),
        worst: conditions::worst(&conditions),
        least: least(&counted),
        opening_area_in_m2: total(OpeningRole::Inlet),
        opening_area_out_m2: total(OpeningRole::Exit),
        traps: traps::traps(&case, &model, &conditions),
        new_warnings: warnings::of_all(&case, &model, &conditions),
        conditions: conditions.iter().map(|condition| at(&case, &model, condition, counts)).collect(),
        openings,
        worse_uncounted: Vec::new(),
        sizes,
        between: sweep.as_ref().and_then(|sweep| between(sweep, &conditions)),
        sweep,
    };
    Ok((answer, trouble, case))
}

fn least(conditions: &[&Condition]) -> Option<ConditionMargin> {
    let all =
        conditions.iter().flat_map(|condition| condition.parts.iter().map(move |part| (condition, part)));
    let least = all
        .filter(|(_, part)| part.has_limit())
        .min_by(|a, b| a.1.temperature_margin_K.total_cmp(&b.1.temperature_margin_K));
    least.map(|(condition, part)| ConditionMargin {
        part: part.name.clone(),
        condition: condition.name.clone(),
        temperature_margin_K: part.temperature_margin_K,
    })
}

fn at(case: &Case, model: &Model, condition: &Condition, counts: &[String]) -> LayoutInCondition {
    LayoutInCondition {
        name: condition.name.clone(),
        counts: counts.contains(&condition.name),
        speed_m_s: condition.speed_m_s,
        parts: condition.parts.clone(),
        chambers: condition.chambers.clone(),
        velocity_ratios: velocity_ratios(case, model, condition),
        runs_back: running_back(case, condition),
        cooling_drag_N: condition.cooling_drag_N,
        cooling_power_W: condition.cooling_power_W,
        fan_power_W: condition.fan_power_W,
    }
}

fn running_back(case: &Case, condition: &Condition) -> Vec<String> {
    let passages = case.passages.iter().zip(&condition.passages);
    let back = passages.filter(|(table, passage)| passage.reversed && table.first_of(Role::Leak).is_none());
    back.map(|(table, _)| table.name.clone()).collect()
}

/// Speed in each ram or flush inlet over that of the stream beside it.
fn velocity_ratios(case: &Case, model: &Model, condition: &Condition) -> ByName<Option<f64>> {
    let stream = stream(case, model, condition);
    let inlets = condition.passages.iter().filter_map(|passage| {
        let inlet = passage
            .elements
            .first()
            .filter(|element| kind(element.kind).is_some_and(|kind| kind.meets_stream()))?;
        let flows = stream > 0.0 && !passage.reversed;
        Some((passage.name.clone(), inlet.velocity_m_s.filter(|_| flows).map(|speed| speed / stream)))
    });
    ByName(inlets.collect())
}

/// Speed of the air beside the body in a condition (m/s).
fn stream(case: &Case, model: &Model, condition: &Condition) -> f64 {
    let Some(named) = case.conditions.iter().find(|named| named.name == condition.name) else { return 0.0 };
    let operation = Operation::of_condition(case, model, &named.values);
    let mut solver = PointSolver::new(model);
    solver.prepare(model, &operation);
    solver.free_stream.local_speed
}

/// Openings of the cooling air to the outside, nothing taped.
pub(super) fn openings(case: &Case) -> Vec<OpeningArea> {
    let mut openings = Vec::new();
    for passage in case.passages.iter().filter(|passage| passage.to != "engine") {
        let copies = case.view(&passage.values).required(&t::COUNT);
        for (index, element) in passage.elements.iter().enumerate() {
            let role = passage.kind(index).and_then(|kind| OpeningRole::of(kind.role));
            let Some(role) = role else { continue };
            let view = case.view(element);
            let Some(whole) = PieceSize::read(&view) else { continue };
            openings.push(OpeningArea {
                passage: passage.name.clone(),
                role,
                pieces: copies * view.number(&size::COUNT).unwrap_or(1.0),
                area_m2: whole.area * view.number(&exit::LOUVRES).unwrap_or(1.0),
            });
        }
    }
    openings
}
