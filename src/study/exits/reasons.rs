//! Why the exits should be as large as that, in words.

use super::Study;
use super::course::{ExitCourse, part_of};
use super::result::Reasons;
use super::state::ExitState;
use super::trade::{Beyond, ExitWithInlets, Trade};
use crate::air::ZERO_CELSIUS;
use crate::keys::figures::area;
use crate::point::Model;
use crate::point::counted::Counted;
use crate::point::result::STILL;
use crate::study::size::Sizing;
use crate::study::size::inlets::Wide;
use crate::study::size::result::LimitedBy;

/// Rise or fall of a margin that is worth a word (K).
const WORTH_A_WORD: f64 = 2.0;

/// Reasons of the figures, and remarks on margins that rise and fall.
pub(super) fn reasons(study: &Study, trade: &Trade, course: &ExitCourse) -> (Reasons, Vec<String>) {
    let (ended_below, ended_above) = ends(study, trade);
    let however = match ended_above {
        Some(name) => format!("however large the exits, up to the most that {name} may have"),
        None => "however large the exits".to_string(),
    };
    let none = format!("no inlets within their bounds reach the margins asked for, {however}");
    let no_inlets = study.inlets.members.is_empty();
    let at_end = |area: f64| area >= trade.range.1 * (1.0 - 2e-3);
    let knee = match (&trade.knee, &trade.smallest) {
        (Some(_), _) if no_inlets => {
            "there is no inlet to re-size: the smallest exits that will do are also the best".to_string()
        }
        (Some(knee), Some(smallest)) if knee.0 <= smallest.0 * 1.002 => format!(
            "already at the smallest exits that will do one more cm² of exit saves less than one cm² of inlet; with {} of inlets",
            area(knee.1.area)
        ),
        (Some(knee), _) if ended_above.is_some() && at_end(knee.0) => format!(
            "exits and inlets together are smallest at the largest exits allowed, {} with {} of inlets",
            area(knee.0),
            area(knee.1.area)
        ),
        (Some(knee), _) => format!(
            "exits and inlets together are smallest here, {} of exits with {} of inlets; beyond it one more cm² of exit saves less than one cm² of inlet",
            area(knee.0),
            area(knee.1.area)
        ),
        _ => none.clone(),
    };
    let smallest_safe = match (&trade.smallest, &trade.short, ended_below) {
        (Some(_), Some(short), _) => format!("any smaller, and {}", stands_in_the_way(study, short)),
        (Some(_), None, Some(name)) => {
            format!("the smallest that {name} may have; smaller ones were not looked at")
        }
        (Some(_), None, None) => "even the smallest exits looked at would do".to_string(),
        (None, Some(short), _) => {
            format!("{none}; at best, with {} of exits, {}", area(short.0), stands_in_the_way(study, short))
        }
        (None, None, _) => none.clone(),
    };
    let pointless = match (trade.pointless, &trade.knee) {
        (Some(_), Some(_)) if trade.rises => {
            "larger exits than these soon need larger inlets again".to_string()
        }
        (Some(_), Some(_)) if !no_inlets => format!(
            "{} would spare less than 5 % of the inlets needed: what is left of the resistance lies in the inlets and behind them",
            if ended_above.is_some() {
                "larger exits, as far as they may grow,"
            } else {
                "exits without end"
            }
        ),
        (Some(_), _) => "larger exits bring the worst part less than 1 K, the inlets as drawn".to_string(),
        _ => "not reached within the areas looked at".to_string(),
    };
    let largest_safe = trade.beyond.as_ref().map(|beyond| beyond_it(study, trade, beyond));
    let mut remarks = Vec::new();
    let mut end = |name: Option<&str>, at: f64, word: &str, key: &str| {
        remarks.extend(
            name.map(|name| format!("{word} is at {}, where {name} is at what {key} allows", area(at))),
        );
    };
    end(ended_below, trade.range.0, "the smallest area looked at", "least_area or cut");
    end(ended_above, trade.range.1, "the largest area looked at", "most_area");
    remarks.extend(self::remarks(study, course));
    (Reasons { knee, smallest_safe, largest_safe, pointless }, remarks)
}

/// The exits whose bounds end the areas looked at, below and above.
fn ends<'s>(study: &'s Study, trade: &Trade) -> (Option<&'s str>, Option<&'s str>) {
    let below = study.exits.ended_by(false).filter(|_| trade.range.0 <= study.exits.least.0 * (1.0 + 1e-9));
    let above = study.exits.ended_by(true).filter(|_| trade.range.1 >= study.exits.most.0 * (1.0 - 1e-9));
    (below, above)
}

/// Why exits larger than the largest that will do fail.
fn beyond_it(study: &Study, trade: &Trade, beyond: &Beyond) -> String {
    let short = match beyond {
        Beyond::Refused(why) => return format!("any larger, and the case is refused: {why}"),
        Beyond::Unsolved => return "for any larger no steady state was found".to_string(),
        Beyond::Short(short) => short,
    };
    let mut text = format!("any larger, and {}", stands_in_the_way(study, short));
    // whether the air goes another way is seen, not supposed
    let last = trade.largest.and_then(|area| {
        let near = std::slice::from_ref(&short.1.point);
        study.fit(area, Wide::No, near, study.meter.cap(4)).map(|fit| (area, fit))
    });
    let at = |fitted: &ExitWithInlets| {
        let mut case = study.with_exits(fitted.0);
        study.sizing.put(&mut case, &fitted.1.point);
        study.state_of(&case)
    };
    let limit = limits(study, short).into_iter().next();
    let Some((limit, (before, after))) = limit.zip(last.as_ref().and_then(at).zip(at(short))) else {
        return text;
    };
    let place = place_of(study, &limit);
    let Some((part, place)) = study.case.part(&limit.part).zip(place) else { return text };
    let entering: Vec<&str> = study
        .exits
        .members
        .iter()
        .filter(|exit| after.seen[place].flows[exit.passage] < -STILL)
        .map(|exit| exit.name.as_str())
        .collect();
    let flow = |state: &ExitState| -> f64 {
        let passages = (0..study.case.passages.len()).filter(|p| part_of(study, *p) == Some(part));
        passages.map(|p| state.seen[place].flows[p].abs()).sum()
    };
    if !entering.is_empty() {
        text.push_str(&format!("; air comes in through {} there", entering.join(" and ")));
    } else if flow(&after) < flow(&before) {
        text.push_str("; less air is drawn past it the larger they are");
    }
    text
}

/// The parts and moments that are short of their margins.
fn limits(study: &Study, short: &ExitWithInlets) -> Vec<LimitedBy> {
    let exits = study.with_exits(short.0);
    Sizing::of_inlets_within(&exits, &study.sizing).in_the_way(&short.1)
}

/// Where among the moments that count something is.
fn place_of(study: &Study, limit: &LimitedBy) -> Option<usize> {
    let when = limit.when();
    study.sizing.counting().iter().position(|counted| counted.label(study.case) == when)
}

/// "the oil in hairpin stays 12 K short, whatever the inlets; …".
fn stands_in_the_way(study: &Study, short: &ExitWithInlets) -> String {
    let limits = limits(study, short);
    let names: Vec<String> = limits.iter().map(|l| format!("the {} in {}", l.part, l.when())).collect();
    let mut text = match names.split_last() {
        None => "a margin is missed".to_string(),
        Some((last, [])) if limits[0].part.ends_with('s') => format!("{last} are short of their margin"),
        Some((last, [])) => format!("{last} is short of its margin"),
        Some((last, first)) => format!("{} and {last} are short of their margins", first.join(", ")),
    };
    if !study.inlets.members.is_empty() {
        text.push_str(", whatever the inlets");
    }
    let most = study.sizing.at_most(&short.1.point);
    if !most.is_empty() {
        text.push_str(&format!(" ({} at the largest allowed)", most.join(", ")));
    }
    let place = limits.first().and_then(|limit| place_of(study, limit));
    let part = limits.first().and_then(|limit| study.case.part(&limit.part));
    // what stands in the bay says nothing of air that never meets it
    let meets = |bay: usize| {
        let bay = study.case.chambers[bay].name.as_str();
        let passages = study.case.passages.iter().enumerate();
        let own = passages.filter(|(passage, _)| part.is_some() && part_of(study, *passage) == part);
        own.into_iter().any(|(_, table)| table.from == bay || table.to == bay)
    };
    let mut case = study.with_exits(short.0);
    study.sizing.put(&mut case, &short.1.point);
    let state = study.state_of(&case);
    let seen = state.as_ref().zip(place).and_then(|(state, place)| state.seen.get(place));
    if let (Some(seen), Some(bay)) = (seen, study.bay.filter(|bay| meets(*bay)))
        && let Some((pressure, _)) = seen.bay
    {
        let pressure = format!("{pressure:.0}").replace('-', "−");
        text.push_str(&format!(": {} stands at {pressure} Pa there", study.case.chambers[bay].name));
        if let Some(ram) = ram(study, seen.condition).filter(|ram| *ram >= 0.5) {
            text.push_str(&format!(", against {ram:.0} Pa that the stream brings"));
        }
    }
    text
}

/// Dynamic pressure at a moment (Pa).
fn ram(study: &Study, counted: Counted) -> Option<f64> {
    let model = Model::new(study.case).ok()?;
    let mut solver = crate::point::PointSolver::new(&model);
    solver.prepare(&model, &counted.operation(study.case, &model));
    Some(solver.free_stream.dynamic_pressure)
}

/// Margins that rise and fall along the way, condition by condition and part by part.
fn remarks(study: &Study, course: &ExitCourse) -> Vec<String> {
    let mut remarks = Vec::new();
    let Some((_, first)) = course.states.first() else { return remarks };
    for place in 0..first.seen.len() {
        for part in 0..study.case.parts.len() {
            remarks.extend(of_part(study, course, place, part));
        }
    }
    for (passage, table) in study.case.passages.iter().enumerate() {
        let exits = study.exits.members.iter().chain(&study.fixed);
        if exits.into_iter().any(|exit| exit.passage == passage) {
            remarks.extend(of_exit(study, course, passage, &table.name));
        }
    }
    remarks
}

fn of_part(study: &Study, course: &ExitCourse, place: usize, part: usize) -> Option<String> {
    let name = &study.case.parts[part].name;
    let condition = &study.sizing.counting()[place].label(study.case);
    let kelvin = |state: &ExitState| state.seen[place].kelvin[part];
    let law = Model::new(study.case).ok()?.network.parts[part].clone();
    if !law.has_limit() {
        return None;
    }
    let limit = law.limit - ZERO_CELSIUS;
    let hot = |at: &(f64, ExitState)| format!("{:.0} °C at {}", limit - kelvin(&at.1), area(at.0));
    let states = &course.states;
    let (first, last) = (states.first()?, states.last()?);
    let turn = course.turns.iter().find(|turn| {
        turn.part.as_deref() == Some(name) && turn.condition == *condition && turn.forward_above
    });
    let lowest = states.iter().reduce(|a, b| if kelvin(&b.1) < kelvin(&a.1) { b } else { a })?;
    let dips = kelvin(&lowest.1) < kelvin(&first.1).min(kelvin(&last.1)) - WORTH_A_WORD;
    if let Some(turn) = turn {
        let mut text = format!(
            "in {condition}, hot air runs back through {} as long as the exits are below {}",
            turn.passage,
            area(turn.exit_area_m2)
        );
        if dips {
            text.push_str(&format!(
                "; there its air stands. The {name} first get hotter as the exits grow, then cooler: {}, {}, {}. First it stops blowing back, then it starts cooling",
                hot(first),
                hot(lowest),
                hot(last)
            ));
        }
        return Some(
            text.replace(&format!("The {name} first get"), &format!("The {name} first {}", get(name))),
        );
    }
    if dips {
        return Some(format!(
            "in {condition}, the margin of {name} falls before it rises: {}, {}, {}",
            hot(first),
            hot(lowest),
            hot(last)
        ));
    }
    let best = states.iter().reduce(|a, b| if kelvin(&b.1) > kelvin(&a.1) { b } else { a })?;
    if kelvin(&best.1) - kelvin(&last.1) < WORTH_A_WORD {
        return None;
    }
    let entering: Vec<&str> = study
        .exits
        .members
        .iter()
        .filter(|exit| last.1.seen[place].flows[exit.passage] < -STILL)
        .map(|exit| exit.name.as_str())
        .collect();
    let flow = |at: &ExitState| -> f64 {
        let passages = (0..study.case.passages.len()).filter(|p| part_of(study, *p) == Some(part));
        passages.map(|p| at.seen[place].flows[p].abs()).sum()
    };
    let why = if !entering.is_empty() {
        format!(": air comes in through {}", entering.join(" and "))
    } else if flow(&last.1) < flow(&best.1) {
        ": less air is drawn past it".to_string()
    } else {
        String::new()
    };
    let rises = if kelvin(&best.1) - kelvin(&first.1) > WORTH_A_WORD {
        format!("{} is coolest with the exits at {} and hotter again beyond", name, area(best.0))
    } else {
        format!("larger exits make {name} hotter")
    };
    Some(format!("in {condition}, {rises}{why}: {}, {}", hot(best), hot(last)))
}

fn get(name: &str) -> &'static str {
    if name.ends_with('s') && !name.ends_with("ss") { "get" } else { "gets" }
}

/// Exits through which air comes in.
fn of_exit(study: &Study, course: &ExitCourse, passage: usize, name: &str) -> Option<String> {
    let states = &course.states;
    let conditions = study.sizing.counting().iter().enumerate().filter_map(|(place, condition)| {
        let back: Vec<f64> =
            states.iter().filter(|(_, s)| s.seen[place].flows[passage] < -STILL).map(|(a, _)| *a).collect();
        let (low, high) = (back.first()?, back.last()?);
        let condition = condition.label(study.case);
        Some(if back.len() == states.len() {
            format!("in {condition} at every exit area looked at")
        } else if *high >= states.last()?.0 {
            format!("in {condition} from {} on", area(*low))
        } else {
            format!("in {condition} between {} and {}", area(*low), area(*high))
        })
    });
    let conditions: Vec<String> = conditions.collect();
    (!conditions.is_empty()).then(|| format!("{name} lets air in instead of out {}", conditions.join(", ")))
}
