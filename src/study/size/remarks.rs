//! What a builder should know of the way to the sizes.

use super::result::LimitedBy;
use super::{Sizing, celsius};
use crate::case::Case;
use crate::element::Role;
use crate::element::exit::{ANGLE, DISCHARGE};
use crate::element::size::PRESSURE_COEFFICIENT;
use crate::network::PassageEnd;
use crate::point::counted::Counted;
use crate::point::describe;
use crate::point::model::Model;
use crate::point::opening::Opening;
use crate::point::pressure_budget::labels;
use crate::point::result::STILL;
use crate::point::solver::PointSolver;

/// Steps of the walk from the sizes of the case to those found.
const STEPS: usize = 24;

/// Conditions up to which the walk has all its steps.
const FEW: usize = 16;
/// Ways through a reversal that are told in full.
const MOST_TOLD: usize = 3;

/// Remarks on the sizes found.
pub(super) fn remarks(
    sizing: &Sizing,
    point: &[f64],
    feasible: bool,
    limited_by: &[LimitedBy],
) -> Vec<String> {
    let mut remarks = Vec::new();
    alike_exits(sizing, &mut remarks);
    if feasible {
        not_needed(sizing, point, limited_by, &mut remarks);
    }
    through_reversal(sizing, point, &mut remarks);
    if !feasible {
        what_stops_it(sizing, point, limited_by, &mut remarks);
    }
    remarks
}

fn solved(case: &Case, at: &[Counted]) -> Option<(Model, Vec<(Counted, PointSolver)>)> {
    let model = Model::new(case).ok()?;
    let mut runners = Vec::new();
    for counted in at {
        let mut solver = PointSolver::new(&model);
        solver.prepare(&model, &counted.operation(case, &model));
        solver.solve().ok()?;
        runners.push((*counted, solver));
    }
    Some((model, runners))
}

/// Whether two exits lead out of the same space against the same pressure with the same figures.
pub(super) fn only_the_sum_counts(case: &Case, first: &Opening, second: &Opening) -> bool {
    let figures = |opening: &Opening| {
        let passage = &case.passages[opening.passage];
        let view = case.view(&passage.elements[opening.element]);
        let figures = [&PRESSURE_COEFFICIENT, &DISCHARGE, &ANGLE].map(|key| view.number(key));
        (passage.from.clone(), passage.elements.len(), figures)
    };
    let exits = [first, second].iter().all(|opening| opening.role(case) == Some(Role::Exit));
    exits && figures(first) == figures(second) && figures(first).1 == 1
}

/// Exits of the same chamber with the same figures, each free on its own: only their sum counts.
fn alike_exits(sizing: &Sizing, remarks: &mut Vec<String>) {
    let case = sizing.case();
    let exits: Vec<&Opening> = sizing
        .openings()
        .filter_map(|(members, _)| members.first())
        .filter(|opening| opening.role(case) == Some(Role::Exit))
        .collect();
    for (i, first) in exits.iter().enumerate() {
        for second in &exits[i + 1..] {
            if only_the_sum_counts(case, first, second) {
                remarks.push(format!(
                    "{} and {} lead out of the same space against the same pressure: only the sum of their areas counts, and how it is split is arbitrary; an inner list in free keeps them equal",
                    first.name, second.name
                ));
            }
        }
    }
}

/// Openings that could as well be left out.
fn not_needed(sizing: &Sizing, point: &[f64], limited_by: &[LimitedBy], remarks: &mut Vec<String>) {
    let case = sizing.case();
    for (index, (members, lower)) in sizing.openings().enumerate() {
        let Some(opening) = members.first() else { continue };
        let feeds_engine = case.passages[opening.passage].to == "engine";
        if feeds_engine
            || point[index].exp() > lower * (1.0 + 1e-6)
            || opening.role(case) != Some(Role::Inlet)
        {
            continue;
        }
        let parts: Vec<&str> = case.passages[opening.passage]
            .elements
            .iter()
            .filter_map(|values| values.text(&crate::element::fins::PART))
            .collect();
        if limited_by.iter().any(|limit| parts.contains(&limit.part.as_str())) {
            continue;
        }
        // shut, but for a slit: does any part still miss its limit?
        let mut trial = case.clone();
        let mut shut = point.to_vec();
        shut[index] = (1e-6_f64).ln();
        sizing.set(&mut trial, &shut);
        let Some((model, runners)) = solved(&trial, &sizing.at) else { continue };
        let cool = runners.iter().all(|(_, solver)| {
            (0..model.network.parts.len())
                .all(|part| solver.state.part_temperature(part) <= solver.network.parts[part].limit)
        });
        if cool {
            remarks.push(format!(
                "{} turns out not to be needed: with it all but shut every part stays below its limit in the conditions that count",
                opening.name
            ));
        }
    }
}

/// Walks from the sizes of the case to those found and tells of flows that pass through zero.
fn through_reversal(sizing: &Sizing, point: &[f64], remarks: &mut Vec<String>) {
    let case = sizing.case();
    let begun: Vec<f64> = sizing
        .openings()
        .map(|(members, lower)| members.first().map_or(lower, Opening::area).max(1e-6).ln())
        .collect();
    let exits = |at: &[f64]| -> f64 {
        let sum = sizing.openings().zip(at).map(|((members, _), x)| {
            let exits = members.iter().filter(|m| m.role(case) == Some(Role::Exit));
            exits.map(Opening::open_pieces).sum::<f64>() * x.exp()
        });
        sum.sum::<f64>() * 1e4
    };
    let conditions = sizing.conditions();
    let counted: Vec<Counted> = conditions.iter().copied().map(Counted::Condition).collect();
    // for each condition and passage that feeds a part: flow, hottest part, exit area, step by step
    let mut walks: Vec<Vec<SizeRemark>> = Vec::new();
    // fewer steps where there are many conditions
    let steps = (STEPS * FEW / conditions.len().max(1)).clamp(4, STEPS);
    for step in 0..=steps {
        let share = step as f64 / steps as f64;
        let at: Vec<f64> = begun.iter().zip(point).map(|(a, b)| a + share * (b - a)).collect();
        let mut trial = case.clone();
        sizing.set(&mut trial, &at);
        let Some((model, runners)) = solved(&trial, &counted) else { continue };
        for (place, (_, solver)) in runners.iter().enumerate() {
            if walks.len() <= place {
                walks.push(Vec::new());
            }
            walks[place].push(SizeRemark {
                exits: exits(&at),
                flows: solver.state.flow.clone(),
                parts: (0..model.network.parts.len()).map(|p| solver.state.part_temperature(p)).collect(),
            });
        }
    }
    let mut told: Vec<(f64, String)> = Vec::new();
    for (place, walk) in walks.iter().enumerate() {
        let condition = &case.conditions[conditions[place]].name;
        for (passage, table) in case.passages.iter().enumerate() {
            let part = table.elements.iter().find_map(|values| values.text(&crate::element::fins::PART));
            let Some((name, part)) = part.and_then(|name| case.part(name).map(|index| (name, index))) else {
                continue;
            };
            let (Some(first), Some(last)) = (walk.first(), walk.last()) else { continue };
            let back = walk.iter().any(|step| step.flows[passage] < -STILL);
            if !back {
                continue;
            }
            let hottest = walk.iter().fold(first, |a, b| if b.parts[part] > a.parts[part] { b } else { a });
            let turned = last.flows[passage] >= -STILL;
            let ends = if turned {
                "runs the right way at the sizes found"
            } else {
                "still runs back at the sizes found"
            };
            let mut text = format!(
                "in {condition}, hot air flows back through {} at the sizes of the case or on the way from them; it {ends}",
                table.name
            );
            if turned && hottest.parts[part] > first.parts[part].max(last.parts[part]) + 1.0 {
                let most = walk.iter().map(|step| step.flows[passage].abs()).fold(0.0, f64::max);
                let stands = if hottest.flows[passage].abs() < 0.1 * most {
                    ", where its flow all but stands"
                } else {
                    ""
                };
                text.push_str(&format!(
                    ". The margin of {name} first falls and then rises: {:.0} °C at {:.0} cm² of exits, {:.0} °C at {:.0} cm²{stands}, {:.0} °C at {:.0} cm². First it stops blowing back, then it starts cooling",
                    celsius(first.parts[part]),
                    first.exits,
                    celsius(hottest.parts[part]),
                    hottest.exits,
                    celsius(last.parts[part]),
                    last.exits
                ));
            }
            told.push((hottest.parts[part] - first.parts[part].max(last.parts[part]), text));
        }
    }
    // the deepest falls in full, the others by their number
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    let others = told.len().saturating_sub(MOST_TOLD);
    remarks.extend(told.into_iter().take(MOST_TOLD).map(|(_, text)| text));
    if others > 0 {
        remarks.push(format!(
            "air runs back so in {others} other {} of passage and condition",
            if others == 1 { "pair" } else { "pairs" }
        ));
    }
}

struct SizeRemark {
    exits: f64,
    flows: Vec<f64>,
    parts: Vec<f64>,
}

/// Which resistance stands in the way of the part that is short.
fn what_stops_it(sizing: &Sizing, point: &[f64], limited_by: &[LimitedBy], remarks: &mut Vec<String>) {
    let case = sizing.case();
    let mut trial = case.clone();
    sizing.set(&mut trial, point);
    let Some((model, runners)) = solved(&trial, &sizing.at) else { return };
    for limit in limited_by {
        let Some(part) = case.part(&limit.part) else { continue };
        let is_meant = |counted: &Counted| {
            let found = LimitedBy::of(counted, case, &limit.part);
            (found.condition, found.speed_m_s) == (limit.condition.clone(), limit.speed_m_s)
        };
        let Some((_, solver)) = runners.iter().find(|(counted, _)| is_meant(counted)) else { continue };
        let over = solver.state.part_temperature(part) - solver.network.parts[part].limit;
        let mut worst: Option<(String, f64, f64)> = None;
        for (index, passage) in solver.network.passages.iter().enumerate() {
            let serves = passage.elements.clone().any(|element| model.part_of[element] == Some(part));
            if passage.to == PassageEnd::Engine || !serves {
                continue;
            }
            let forward = solver.state.flow[index] >= 0.0;
            let mut total = 0.0;
            let mut largest = (String::new(), 0.0_f64);
            let mut take = |what: String, pressure: f64| {
                total += pressure.max(0.0);
                if pressure > largest.1 {
                    largest = (what, pressure);
                }
            };
            // what takes it is what every other screen says of this passage
            let told = describe::passage(&trial, solver, index);
            for (element, label) in told.elements.iter().zip(labels(&told)) {
                take(format!("{}/{label}", told.name), element.loss_Pa);
            }
            take("the speed lost where its air leaves".to_string(), told.last_velocity_head_Pa);
            // what still stands as pressure where the air arrives is what the ways out of there take
            if let PassageEnd::Chamber(chamber) = if forward { passage.to } else { passage.from } {
                let name = &case.chambers[chamber].name;
                take(
                    format!("the pressure in {name}, which the ways out of it need,"),
                    solver.state.pressure(chamber),
                );
            }
            if worst.as_ref().is_none_or(|(_, most, _)| largest.1 > *most) {
                worst = Some((largest.0, largest.1, total));
            }
        }
        let resistance = worst.map_or(String::new(), |(what, taken, total)| {
            if total < 1.0 {
                return "; less than 1 Pa drives air through it, so that no opening helps".to_string();
            }
            format!("; on the way to it {what} takes most of the pressure, {taken:.0} of {total:.0} Pa")
        });
        remarks.push(if over > 0.0 {
            format!(
                "{} in {} stops it: at the best sizes within the bounds it is still {over:.0} K over its limit{resistance}",
                limit.part,
                limit.when()
            )
        } else {
            format!(
                "{} in {} stops it: at the best sizes within the bounds it stays {:.0} K below its limit, less than was asked for{resistance}",
                limit.part,
                limit.when(),
                -over
            )
        });
    }
}
