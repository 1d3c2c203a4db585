//! Lines in which a slip of the pen would show: total areas, fan speeds, conductances, what a
//! chamber's air does.

use super::condition::SolvedCondition;
use super::{flush, oil, slips, surfaces, words};
use crate::air::standard_atmosphere;
use crate::case::Case;
use crate::correlations::flush_inlet;
use crate::element::flush_inlet::FlushInlet;
use crate::element::{ElementLaw, Role, exit};
use crate::keys::Kind;
use crate::keys::figures;
use crate::point::conditions::worst;
use crate::point::model::{Model, day};
use crate::point::result::Condition;

/// All lines, openings first.
pub(super) fn lines(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<String> {
    let mut lines = air_and_load(case, conditions);
    lines.extend(slips::drive(case, model));
    lines.extend(openings(case, model));
    lines.extend(inlets(case, model, conditions));
    lines.extend(fans(conditions));
    lines.extend(parts(case, model, conditions));
    lines.extend(oil::lines(case, model, conditions));
    lines.extend(surfaces::lines(case, model));
    lines.extend(chambers(case, model, conditions));
    lines
}

/// The day's pressure with the altitude it belongs to, and what each load means.
fn air_and_load(case: &Case, conditions: &[Condition]) -> Vec<String> {
    let pressure = day(case, None).pressure;
    let mut lines = vec![format!(
        "air at {:.0} hPa, as it stands at about {:.0} m above the sea; a weather app's figure, reduced to sea level, would be too high there",
        pressure / 100.0,
        // to the nearest 10 m
        10.0 * (standard_atmosphere::altitude(pressure) / 10.0).round() + 0.0
    )];
    let each = conditions.iter().map(|c| {
        format!(
            "{} {} = {} at {:.0} rpm",
            words::name(&c.name),
            figures::close_share(c.load),
            figures::power(c.brake_power_W),
            c.rpm
        )
    });
    let each: Vec<String> = each.collect();
    if !each.is_empty() {
        lines.push(format!(
            "load: {} (share of full throttle's power at that engine speed, at the flywheel; not pedal travel)",
            each.join("; ")
        ));
    }
    lines
}

/// What each ram inlet meets of the stream: its recovery, and what the skin's slow air leaves.
fn inlets(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<String> {
    let mut lines = Vec::new();
    let scenes: Vec<SolvedCondition> =
        conditions.iter().filter_map(|c| SolvedCondition::new(case, model, c)).collect();
    for (passage, table) in case.passages.iter().zip(&model.network.passages) {
        let laws = &model.network.laws[table.elements.clone()];
        for (values, law) in passage.elements.iter().zip(laws) {
            if let Some(inlet) = law.as_flush_inlet() {
                lines.push(submerged(&scenes, &values.address, inlet));
                lines.push(plan(&values.address, inlet));
                continue;
            }
            let Some(inlet) = law.as_ram_inlet() else { continue };
            let meets = match inlet.layer() {
                None => "no slow skin air is given, right only clear of the skin".to_string(),
                Some(layer) => {
                    let moving = scenes.iter().filter(|at| !at.standing());
                    let left: Vec<_> =
                        moving.map(|at| (at.condition.name.as_str(), layer.share(&at.moment).0)).collect();
                    let left = range(&left, |share| format!("{:.0} %", 100.0 * share));
                    let left = if left.is_empty() { String::new() } else { format!(" leaves {left}") };
                    format!("the skin's slow air{left} after {:.0} mm", 1e3 * layer.run)
                }
            };
            lines.push(format!(
                "inlet {}: recovery {:.2} of the stream's dynamic pressure; {meets}",
                values.address,
                inlet.recovery()
            ));
        }
    }
    lines
}

/// What a flush inlet recovers, and the skin's slow air before it.
fn submerged(scenes: &[SolvedCondition], address: &str, inlet: &FlushInlet) -> String {
    let mut recovered = Vec::new();
    let mut layers = Vec::new();
    for at in scenes.iter().filter(|at| !at.standing()) {
        let mut inlet = inlet.clone();
        inlet.prepare(&at.moment, 0.0);
        let name = at.condition.name.as_str();
        let seen = at.elements().find(|seen| seen.values.address == address);
        let ratio = seen.and_then(|seen| flush::ratio(at, &seen)).unwrap_or(0.0);
        recovered.push((name, inlet.recovery(ratio).0));
        layers.extend(inlet.layer(&at.moment).map(|(thickness, _)| (name, 1e3 * thickness)));
    }
    let by = if inlet.is_published() { "by published tests" } else { "as written" };
    let recovery = range(&recovered, |recovery| format!("{recovery:.2}"));
    let layer = range(&layers, |thickness| format!("{thickness:.0} mm"));
    if layer.is_empty() {
        return format!("inlet {address}: recovery {by}, nothing to recover at rest");
    }
    format!(
        "inlet {address}: recovery {recovery}, {by}; lip {:.0} mm high, the skin's slow air {layer}",
        1e3 * inlet.height()
    )
}

/// The plan of a flush inlet's ramp, for cutting.
fn plan(address: &str, inlet: &FlushInlet) -> String {
    let outline = inlet.outline();
    let widths: Vec<String> = outline.iter().map(|(_, half)| format!("{:.0}", 1e3 * half)).collect();
    let length = outline.last().map_or(0.0, |point| point.0);
    let depth = inlet.height();
    format!(
        "flush inlet {address}: ramp {:.0} mm long; half-widths at each tenth of it from the lip forward: {} mm; nose of the lip {:.0} mm radius, lip {:.0} mm thick",
        1e3 * length,
        widths.join(", "),
        1e3 * depth * flush_inlet::NOSE_RADIUS,
        1e3 * depth * flush_inlet::LIP_THICKNESS
    )
}

/// Each opening as number × area = total, and the totals of inlets and exits.
fn openings(case: &Case, model: &Model) -> Vec<String> {
    let mut lines = Vec::new();
    let (mut inlets, mut exits) = (0.0, 0.0);
    for (passage, table) in case.passages.iter().enumerate() {
        let first = model.network.passages[passage].elements.start;
        for (index, values) in table.elements.iter().enumerate() {
            let law = &model.network.laws[first + index];
            let (Some(kind), Some(area)) = (table.kind(index), law.area()) else { continue };
            if !matches!(kind.role, Role::Inlet | Role::Exit | Role::Leak) {
                continue;
            }
            let total = area * law.pieces();
            match kind.role {
                Role::Inlet => inlets += total,
                Role::Exit => exits += total,
                _ => {}
            }
            let louvres = case.view(values).number(&exit::LOUVRES).map_or(String::new(), |open| {
                format!(", {} open of {}", figures::close_share(open), figures::small_area(area / open))
            });
            lines.push(format!(
                "opening {}: {} × {} = {}{louvres}",
                values.address,
                words::pieces(law.pieces()),
                figures::small_area(area),
                figures::small_area(total)
            ));
        }
    }
    if !lines.is_empty() {
        lines.push(format!(
            "all inlets {}, all exits {}, untaped: each square to the flow at its narrowest, not along the skin",
            figures::small_area(inlets),
            figures::small_area(exits)
        ));
    }
    lines
}

/// The figure at its lowest and highest, with the conditions.
fn range(points: &[(&str, f64)], show: impl Fn(f64) -> String) -> String {
    let by_value = |a: &&(&str, f64), b: &&(&str, f64)| a.1.total_cmp(&b.1);
    match (points.iter().min_by(by_value), points.iter().max_by(by_value)) {
        (Some(low), Some(high)) if show(low.1) != show(high.1) => {
            format!(
                "{} in {} to {} in {}",
                show(low.1),
                words::name(low.0),
                show(high.1),
                words::name(high.0)
            )
        }
        (Some(low), _) => format!("{} throughout", show(low.1)),
        _ => String::new(),
    }
}

/// Each fan's speed over the conditions.
fn fans(conditions: &[Condition]) -> Vec<String> {
    let Some(first) = conditions.first() else { return Vec::new() };
    let describe = |(index, fan): (usize, &crate::point::result::FanTurning)| {
        let turning = |figure: fn(&crate::point::result::FanTurning) -> Option<f64>| {
            let points =
                conditions.iter().filter_map(|c| Some((c.name.as_str(), figure(c.fans.get(index)?)?)));
            points.collect::<Vec<_>>()
        };
        let speed = range(&turning(|fan| Some(fan.rpm)), |rpm| format!("{rpm:.0} rpm"));
        if turning(|fan| Some(fan.rpm)).iter().all(|(_, rpm)| *rpm == 0.0) {
            return format!("fan {}: stands throughout", fan.address);
        }
        let over = turning(|fan| fan.over_reference);
        let highest = over.iter().map(|(_, over)| *over).fold(0.0, f64::max);
        let over = if over.is_empty() {
            "the usual curve of its wheel".to_string()
        } else {
            format!("at most {highest:.2} of its curve's speed")
        };
        let tips = turning(|fan| fan.tip_speed_m_s);
        let tips = if tips.is_empty() {
            "tip speed unknown without its diameter".to_string()
        } else {
            format!("tips {}", range(&tips, |speed| format!("{speed:.0} m/s")))
        };
        let shaft = range(&turning(|fan| Some(fan.shaft_power_W)), figures::power);
        format!("fan {}: {speed}, {over}; {tips}; at its shaft {shaft}", fan.address)
    };
    first.fans.iter().enumerate().map(describe).collect()
}

/// Each part's total conductance, and what its air takes up in its worst condition.
fn parts(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<String> {
    let worst = worst(conditions);
    let describe = |(part, named): (usize, &crate::case::Named)| {
        let mut written = Vec::new();
        for (passage, table) in case.passages.iter().enumerate() {
            let first = model.network.passages[passage].elements.start;
            for (index, values) in table.elements.iter().enumerate() {
                let law = &model.network.laws[first + index];
                if model.part_of[first + index] != Some(part) {
                    continue;
                }
                if let Some(total) = law.surface().map(|surface| surface.conductance) {
                    written.push(format!(
                        "{} × {} = {} ({})",
                        words::pieces(law.pieces()),
                        Kind::ThermalConductance.show_to(total / law.pieces(), 4).trim_end_matches(" W/K"),
                        Kind::ThermalConductance.show_to(total, 4),
                        values.address
                    ));
                }
            }
        }
        let home = case.chamber_of(&named.values).map_or("the air outside".to_string(), |chamber| {
            format!("the air of {}", case.chambers[chamber].name)
        });
        let conductance = model.network.parts[part].bay_conductance;
        let mut line = format!(
            "part {}: {} at the reference flow; {} W/K to {home}",
            named.name,
            if written.is_empty() { "no fins, no core".to_string() } else { written.join(", ") },
            crate::keys::kind::short_number(conductance)
        );
        let condition =
            worst.get(&named.name).and_then(|worst| conditions.iter().find(|c| c.name == worst.condition));
        if let Some(at) = condition.and_then(|condition| SolvedCondition::new(case, model, condition)) {
            line += &air_rise(&at, part);
        }
        line
    };
    case.parts.iter().enumerate().map(describe).collect()
}

/// What the air takes up from a part in a condition.
fn air_rise(at: &SolvedCondition, part: usize) -> String {
    let mut text = String::new();
    for seen in at.elements() {
        let element = at.model.network.passages[seen.passage_index].elements.start + seen.index;
        let (Some(surface), true) = (seen.law.surface(), at.model.part_of[element] == Some(part)) else {
            continue;
        };
        let flow = seen.passage.mass_flow_kg_s.abs();
        let start =
            if text.is_empty() { format!("; worst in {}:", at.condition.name) } else { ",".to_string() };
        if flow < crate::point::result::STILL {
            text += &format!("{start} the air stands in {}", seen.values.address);
            continue;
        }
        let entering = at.entering_temperature(&seen);
        let leaving = seen.element.outlet_temperature_C;
        text += &format!(
            "{start} {:.0} W/K at {}, the air goes from {} to {} ({:+.0} K)",
            surface.conductance_at(flow).0,
            words::mass_flow(flow),
            words::celsius(entering),
            words::celsius(leaving),
            leaving - entering
        );
    }
    text
}

/// Each chamber with what enters and leaves, over the conditions.
fn chambers(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<String> {
    let describe = |chamber: &crate::case::Named| {
        let side = |enters: bool| {
            let written = case.passages.iter().map(|p| (&p.name, &p.from, &p.to));
            let seams = model.seams.iter().map(|s| (&s.name, &s.from, &s.to));
            let joined = written
                .chain(seams)
                .enumerate()
                .filter(|(_, (_, from, to))| *(if enters { to } else { from }) == &chamber.name);
            let text = joined.map(|(index, (passage, _, _))| {
                let flows: Vec<(&str, f64)> = conditions
                    .iter()
                    .filter_map(|c| Some((c.name.as_str(), c.passages.get(index)?.mass_flow_kg_s)))
                    .collect();
                if flows.is_empty() {
                    return passage.clone();
                }
                let reversed = |c: &&Condition| c.passages.get(index).is_some_and(|p| p.reversed);
                let back = words::names(conditions.iter().filter(reversed).map(|c| c.name.as_str()));
                let back = if back.is_empty() { String::new() } else { format!(", runs back in {}", back) };
                format!("{passage} ({}{back})", range(&flows, signed_flow))
            });
            let text: Vec<String> = text.collect();
            if text.is_empty() { "nothing".to_string() } else { text.join(", ") }
        };
        let heated: Vec<&str> = case
            .parts
            .iter()
            .filter(|p| case.chamber_of(&p.values).is_some_and(|c| case.chambers[c].name == chamber.name))
            .map(|p| p.name.as_str())
            .collect();
        let parts =
            if heated.is_empty() { String::new() } else { format!("; in it stand {}", heated.join(", ")) };
        format!("chamber {}: enters {}; leaves {}{parts}", chamber.name, side(true), side(false))
    };
    case.chambers.iter().map(describe).collect()
}

fn signed_flow(flow: f64) -> String {
    let sign = if flow < -crate::point::result::STILL { "−" } else { "" };
    format!("{sign}{}", words::mass_flow(flow))
}
