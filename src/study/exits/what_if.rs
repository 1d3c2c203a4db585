//! One exit blocked, or blown into.

use super::Study;
use super::result::{ExitFailure, PassageRunsBack, WhatIf};
use super::state::{ExitState, observe};
use super::trade::Design;
use crate::case::{Case, Diagnostics, Loaded, tables as t, without};
use crate::element::size::{COUNT, PRESSURE_COEFFICIENT};
use crate::keys::values::{Fact, Origin};
use crate::keys::{Kind, Slot};
use crate::point::opening::Opening;
use crate::point::result::STILL;

/// Pressure coefficient of an exit that yaw blows into: the high end of what body surfaces commonly see
/// (from memory), which is the band of the default too.
pub const BLOWN_INTO: f64 = 0.3;

/// Exits that are tried, at most.
const MOST: usize = 50;

/// Each exit in turn blocked and blown into, with the openings as drawn and, where those miss what is
/// asked for, with those of the knee.
pub(super) fn what_if(study: &Study, loaded: &Loaded, design: &Design, drawn: &ExitState) -> Vec<WhatIf> {
    let exits: Vec<&Opening> = study.exits.members.iter().chain(&study.fixed).collect();
    let pieces: f64 = exits.iter().map(|exit| exit.pieces).sum();
    // four looks for each; those that are left out are told beside what else is
    let most = (study.meter.states_within(0.3) / 4).min(MOST);
    if most < exits.len() {
        study.meter.leave_out(format!("of {} exits {most} were tried blocked and blown into", exits.len()));
    }
    let exits = &exits[..exits.len().min(most)];
    let mut list = Vec::new();
    let mut states = vec![(study.case, true, drawn)];
    if !design.as_drawn {
        states.push((&design.case, false, &design.state));
    }
    for (case, as_drawn, before) in states {
        for exit in exits {
            let name = if exit.pieces > 1.5 { format!("one of {}", exit.name) } else { exit.name.clone() };
            let entry = |what, coefficient, then: Result<Option<ExitState>, String>| {
                let (then, why_not) = match then {
                    Ok(Some(state)) => (Some(state), None),
                    Ok(None) => (None, Some("no steady state was found".to_string())),
                    Err(why) => (None, Some(why)),
                };
                WhatIf {
                    exit: name.clone(),
                    what,
                    pressure_coefficient: coefficient,
                    sizes_as_drawn: as_drawn,
                    before: before.outcome(case),
                    turned_round: then
                        .as_ref()
                        .map_or(Vec::new(), |then| turned(study, loaded, exit, what, before, then)),
                    then: then.map(|then| then.outcome(case)),
                    why_not,
                }
            };
            if pieces > 1.5 {
                let blocked = blocked(loaded, case, exit).map(|case| observe_again(study, &case));
                list.push(entry(ExitFailure::Blocked, None, blocked));
            }
            let alone = exit.pieces < 1.5;
            let lower = alone
                && super::holes::pressure_of(case, exit)
                    .is_some_and(|id| case.numbers.value(id) < BLOWN_INTO);
            if lower {
                let blown = blown_into(case, exit);
                list.push(entry(ExitFailure::BlownInto, Some(BLOWN_INTO), Ok(observe_again(study, &blown))));
            }
        }
    }
    list
}

/// A changed case in the conditions that count, margins and all as before.
fn observe_again(study: &Study, case: &Case) -> Option<ExitState> {
    let (sizing, _) = crate::study::size::Sizing::of_inlets_unbounded(case);
    let bay = study.bay.and_then(|bay| case.chamber(&study.case.chambers[bay].name));
    observe(case, &sizing, bay, &study.meter)
}

/// The case with one piece of an exit gone: its passage taken away as a layout would, or one fewer of
/// several alike.
fn blocked(loaded: &Loaded, sized: &Case, exit: &Opening) -> Result<Case, String> {
    let table = &sized.passages[exit.passage];
    for (values, key) in [(&table.values, &t::COUNT), (&table.elements[exit.element], &COUNT)] {
        let id = values.id(key);
        if let Some(id) = id.filter(|id| sized.numbers.value(*id) > 1.5) {
            let mut case = sized.clone();
            let count = case.numbers.value(id);
            case.numbers.set(id, count - 1.0);
            return Ok(case);
        }
    }
    let document = without(&loaded.document, &[&table.name]);
    let mut faults = Diagnostics::new();
    let read = Case::read(&document, &mut faults);
    let Some(mut case) = read else {
        let why = faults.list().first().map_or(String::new(), |fault| fault.message.clone());
        return Err(format!("without it the case does not hold together: {why}"));
    };
    // the sizes of the case that it is taken from
    for fact in sized.numbers.facts() {
        if let Some(id) = case.numbers.find(&fact.address) {
            case.numbers.set(id, fact.value);
        }
    }
    Ok(case)
}

/// The case with one exit blown into, whatever else lies at its place.
fn blown_into(case: &Case, exit: &Opening) -> Case {
    let mut case = case.clone();
    let values = &mut case.passages[exit.passage].elements[exit.element];
    let address = values.address_of(&PRESSURE_COEFFICIENT);
    let place = values.place_of(&PRESSURE_COEFFICIENT);
    let id = case.numbers.add(Fact {
        address,
        kind: Kind::Ratio,
        value: BLOWN_INTO,
        spread: None,
        before: None,
        range: crate::keys::Range::ANY,
        origin: Origin::Written(place),
        help: "",
    });
    if let Some(slot) = values.slot_mut(&PRESSURE_COEFFICIENT) {
        *slot = Slot::Number(id);
    }
    case
}

/// Passages that run back then and did not before.
fn turned(
    study: &Study,
    loaded: &Loaded,
    exit: &Opening,
    what: ExitFailure,
    before: &ExitState,
    then: &ExitState,
) -> Vec<PassageRunsBack> {
    let gone = what == ExitFailure::Blocked
        && then.seen.first().is_some_and(|s| s.flows.len() < study.case.passages.len());
    let mut list = Vec::new();
    for (was, is) in before.seen.iter().zip(&then.seen) {
        for (passage, table) in loaded.case.passages.iter().enumerate() {
            let at = match gone {
                true if passage == exit.passage => continue,
                true if passage > exit.passage => passage - 1,
                _ => passage,
            };
            let outside = table.from == "outside" || table.to == "outside";
            let leak = table.kind(0).is_some_and(|kind| kind.role == crate::element::Role::Leak);
            if was.flows[passage] > -STILL && is.flows[at] < -STILL && outside && !leak {
                list.push(PassageRunsBack {
                    passage: table.name.clone(),
                    condition: was.condition.label(study.case),
                });
            }
        }
    }
    list
}
