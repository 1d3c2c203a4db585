//! Where the pressure goes in the slow corner: each way of the air through the car as a falling staircase.

use super::charts::{Stair, StairChart, Stairway};
use super::curves::{CAUTION, subtitle};
use super::text::way::{labels, what_runs_back};
use super::text::words;
use crate::element::{self, Push};
use crate::point::result::{Condition, PassageResult, STILL};
use crate::study::document::Report;

/// Ways that are drawn at most.
const WAYS: usize = 6;
/// Change of pressure below which a step is gathered with others (share of the greatest level of its way; least, Pa).
const SMALL: (f64, f64) = (0.01, 0.5);

/// The condition in which the pressure is told: the slowest in which the car drives.
pub fn slowest(report: &Report) -> Option<&Condition> {
    let driven = report.conditions.iter().filter(|c| c.speed_m_s > 0.1 && c.rpm > 0.0);
    let all = || report.conditions.iter().filter(|c| c.rpm > 0.0);
    let slow = driven.min_by(|a, b| a.speed_m_s.total_cmp(&b.speed_m_s));
    slow.or_else(|| all().min_by(|a, b| a.least_kelvins().total_cmp(&b.least_kelvins())))
}

/// The staircases of a condition.
pub fn pressures(report: &Report, condition: &Condition) -> StairChart {
    let ways: Vec<Stairway> = ways(condition).iter().take(WAYS).map(|way| stairway(condition, way)).collect();
    let gear = condition.gear.map_or(String::new(), |gear| format!(", gear {gear}"));
    StairChart {
        title: format!(
            "Where the pressure goes in {}: {}",
            words::name(&condition.name),
            report.title.as_deref().unwrap_or("untitled case")
        ),
        subtitle: format!(
            "{}{gear}, {}; {}",
            words::speed(condition.speed_m_s),
            words::load_at(condition),
            subtitle(report)
        ),
        what: "Total pressure over that of the day".into(),
        unit: "Pa".into(),
        ways,
        footnotes: vec![
            "Total pressure over that of the day, along the way of the air, the same height for the same pressure in every row. Dark: where it begins, a chamber, and what it meets outside. In bold the dearest step."
                .into(),
            CAUTION.into(),
        ],
        width: None,
    }
}

/// Passages one after another, as the air runs from outside to outside.
type Passages<'c> = Vec<&'c PassageResult>;

/// Where the air comes from, and where it goes, as it really runs.
fn ends(passage: &PassageResult) -> (&str, &str) {
    if passage.reversed { (&passage.to, &passage.from) } else { (&passage.from, &passage.to) }
}

/// Ways that cool something or fill a chamber, those of most air first; then what runs back out of a chamber.
fn ways(condition: &Condition) -> Vec<Passages<'_>> {
    let moving: Vec<&PassageResult> =
        condition.passages.iter().filter(|p| p.mass_flow_kg_s.abs() > STILL && p.to != "engine").collect();
    let flow = |passage: &PassageResult| passage.mass_flow_kg_s.abs();
    let mut list: Vec<Passages> = Vec::new();
    let mut begins: Vec<&PassageResult> = moving.iter().copied().filter(|p| ends(p).0 == "outside").collect();
    begins.sort_by(|a, b| flow(b).total_cmp(&flow(a)));
    for begin in begins {
        let mut way = vec![begin];
        while let Some(last) = way.last() {
            let at = ends(last).1;
            let onward = moving.iter().rev().copied().filter(|p| {
                ends(p).0 == at && !way.iter().any(|known: &&PassageResult| known.name == p.name)
            });
            // the way meant for it, before what runs back; of these the one with most air of one piece
            let next = onward.max_by(|a, b| {
                let rank = |p: &PassageResult| (!p.reversed, flow(p) / p.count as f64);
                let (a, b) = (rank(a), rank(b));
                a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
            });
            match next {
                Some(next) if at != "outside" => way.push(next),
                _ => break,
            }
        }
        list.push(way);
    }
    let told = |p: &PassageResult| p.reversed || p.elements.iter().any(|element| element.part.is_some());
    let mut missing: Passages = moving.iter().copied().filter(|p| told(p)).collect();
    missing.retain(|p| !list.iter().flatten().any(|known| known.name == p.name));
    missing.sort_by(|a, b| flow(b).total_cmp(&flow(a)));
    list.extend(missing.into_iter().map(|passage| vec![passage]));
    // what neither cools a part nor drives air comes last
    list.sort_by_key(|way| !way.iter().any(|passage| told(passage)));
    list
}

fn stairway(condition: &Condition, way: &[&PassageResult]) -> Stairway {
    let gauge = |name: &str| {
        let chamber = condition.chambers.iter().find(|chamber| chamber.name == name);
        chamber.map(|chamber| chamber.gauge_pressure_Pa)
    };
    let first = ends(way[0]).0;
    let mut level = gauge(first).unwrap_or(0.0);
    let mut whole: Stairway = Stairway { from: (first.to_string(), level), ..Stairway::default() };
    for passage in way {
        let pieces = words::times(passage.count as f64);
        let joined = if whole.name.is_empty() { "" } else { ", then " };
        whole.name.push_str(&format!("{joined}{pieces}{}", passage.name));
        let mut steps = Vec::new();
        level = along(condition, passage, level, &mut steps);
        let end = ends(passage).1;
        let stands = gauge(end);
        let name = stands.map_or_else(|| "outside".to_string(), |_| end.to_string());
        level = stands.unwrap_or(level);
        steps.push(Stair { name, to: level, place: true, loud: false });
        whole.steps.append(&mut steps);
        if passage.reversed {
            whole.loud = true;
            let way = if ends(passage).0 == "outside" { "comes in" } else { "flows out" };
            let what = what_runs_back(condition, passage);
            whole.note = format!("Runs backwards: {what} {way} through {}", passage.name);
        }
    }
    gathered(&mut whole);
    whole
}

/// The steps of one passage; gives the level at its end.
fn along(condition: &Condition, passage: &PassageResult, mut level: f64, steps: &mut Vec<Stair>) -> f64 {
    let named = labels(passage);
    let mut met: Vec<_> = passage.elements.iter().zip(named).collect();
    if passage.reversed {
        met.reverse();
    }
    let direction = if passage.reversed { -1.0 } else { 1.0 };
    let last = met.len().saturating_sub(1);
    let to_outside = ends(passage).1 == "outside";
    let mut step = |name: String, change: f64, level: &mut f64| {
        *level += change;
        steps.push(Stair { name, to: *level, place: false, loud: passage.reversed });
    };
    for (index, (element, label)) in met.into_iter().enumerate() {
        let push = element::kind(element.kind).map_or(Push::Own, |kind| kind.push);
        let word = match push {
            Push::Own => label.clone(),
            _ if condition.dynamic_pressure_Pa <= 0.0 => "warm air rising".to_string(),
            Push::Ram => "ram".to_string(),
            Push::Body => "body pressure".to_string(),
        };
        // what the last opening meets outside is where the way ends, and no step
        let meets = index == last && to_outside && !matches!(push, Push::Own);
        if !meets && element.push_Pa != 0.0 {
            step(word, direction * element.push_Pa, &mut level);
        }
        if element.loss_Pa != 0.0 {
            let lip = index == 0 && ends(passage).0 == "outside" && matches!(push, Push::Ram | Push::Body);
            let name = match element.part.as_deref().filter(|part| *part != label) {
                _ if lip => "lip".to_string(),
                Some(part) => format!("{label} of {part}"),
                None => label.clone(),
            };
            step(name, -element.loss_Pa, &mut level);
        }
    }
    if passage.last_velocity_head_Pa != 0.0 {
        step(words::SPEED_LOST.to_string(), -passage.last_velocity_head_Pa, &mut level);
    }
    level
}

/// Gathers what is too small to be seen into one step before the next place.
fn gathered(way: &mut Stairway) {
    let highest = way.steps.iter().map(|step| step.to.abs()).fold(way.from.1.abs(), f64::max);
    let small = (SMALL.0 * highest).max(SMALL.1);
    let (mut level, mut rest, mut seen) = (way.from.1, 0.0_f64, way.from.1);
    let mut kept: Vec<Stair> = Vec::new();
    for step in std::mem::take(&mut way.steps) {
        let change = step.to - level;
        level = step.to;
        if step.place {
            if rest.abs() >= small {
                kept.push(Stair { name: "the rest".into(), to: step.to, place: false, loud: false });
            }
            rest = 0.0;
            seen = step.to;
            kept.push(step);
        } else if change.abs() < small {
            rest += change;
        } else {
            seen += change;
            kept.push(Stair { to: seen, ..step });
        }
    }
    way.steps = kept;
}
