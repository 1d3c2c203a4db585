//! The conditions side by side: what happens in each, in figures.

use super::layout::{
    GAP_OF_COLUMNS, MISSED, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, styled, width, wrap,
};
use super::{way, words};
use crate::point::result::{Carburettor, Condition, FanTurning, PassageResult};

/// A condition's name is broken into lines of this length.
const HEAD: usize = 13;

/// What a line says of a condition.
type ConditionTell<'a> = dyn Fn(&Condition) -> String + 'a;

/// One line of the table: its name and what it says of each condition.
pub(in crate::output) struct SideBySideLine {
    pub(in crate::output) name: String,
    pub(in crate::output) cells: Vec<String>,
}

impl SideBySideLine {
    /// A line that only names what stands below it.
    pub(in crate::output) fn title(name: &str, columns: usize) -> SideBySideLine {
        SideBySideLine { name: name.to_string(), cells: vec![String::new(); columns] }
    }
}

/// All conditions side by side.
pub(in crate::output) fn table(conditions: &[Condition]) -> String {
    let heads: Vec<&str> = conditions.iter().map(|condition| condition.name.as_str()).collect();
    columns(&heads, &lines(conditions))
}

/// Columns side by side under their heads, in as many tables as the width of the page asks for.
pub(in crate::output) fn columns(heads: &[&str], lines: &[Vec<SideBySideLine>]) -> String {
    let first = lines.iter().flatten().map(|line| line.name.chars().count()).max().unwrap_or(0);
    let heads: Vec<String> = heads.iter().map(|head| wrap(head, HEAD).join("\n")).collect();
    let widths: Vec<usize> = heads
        .iter()
        .enumerate()
        .map(|(index, head)| {
            let cells = lines.iter().flatten().map(|line| line.cells[index].as_str());
            head.split('\n').chain(cells).map(|text| text.chars().count()).max().unwrap_or(0)
        })
        .collect();
    let mut out = String::new();
    let mut next = 0;
    while next < heads.len() {
        let mut used = first;
        let mut end = next;
        while end < heads.len() && (end == next || used + GAP_OF_COLUMNS + widths[end] <= width()) {
            used += GAP_OF_COLUMNS + widths[end];
            end += 1;
        }
        if next > 0 {
            out.push('\n');
        }
        let mut columns = vec![(TextColumn::Left, String::new())];
        columns.extend(heads[next..end].iter().map(|head| (TextColumn::Right, head.clone())));
        let mut table = TextTable::new(columns);
        for (index, group) in lines.iter().enumerate() {
            if index > 0 {
                table.space();
            }
            for line in group {
                let style = if line.cells.is_empty() { STRONG } else { QUIET };
                let mut row = vec![TextCell::new(style, &line.name)];
                row.extend(line.cells[next..end].iter().map(|text| TextCell::from(text.as_str())));
                table.row(row);
            }
        }
        table.write(&mut out);
        next = end;
    }
    out
}

pub(in crate::output) fn lines(conditions: &[Condition]) -> Vec<Vec<SideBySideLine>> {
    let line = |name: &str, tell: &ConditionTell| SideBySideLine {
        name: name.to_string(),
        cells: conditions.iter().map(tell).collect(),
    };
    let mut car = vec![line("speed, km/h", &|c| words::whole(c.speed_m_s * 3.6))];
    if conditions.iter().any(|c| c.gear.is_some()) {
        car.push(line("gear", &|c| c.gear.map_or("–".to_string(), |gear| gear.to_string())));
    }
    car.push(line("engine, rpm", &|c| words::whole(c.rpm)));
    car.push(line("load", &|c| words::share(c.load)));
    car.push(line("power, kW", &|c| words::kilowatts(c.brake_power_W)));
    car.push(line("heat to reject, kW", &|c| {
        words::kilowatts(c.heat_to.iter().map(|(_, heat)| *heat).sum())
    }));

    let mut groups = vec![car];
    let shape = conditions.first();
    let air = shape.iter().flat_map(|c| &c.passages).enumerate();
    groups.push(
        air.filter(|(_, passage)| passage.to != "engine")
            .map(|(index, passage)| line(&air_name(passage), &|c| flow(&c.passages[index])))
            .collect(),
    );
    let mut spaces = Vec::new();
    for (index, chamber) in shape.iter().flat_map(|c| &c.chambers).enumerate() {
        let name = &chamber.name;
        spaces.push(line(&format!("{name}: pressure, Pa"), &|c| {
            words::whole(c.chambers[index].gauge_pressure_Pa)
        }));
        spaces.push(line(&format!("{name}: air, °C"), &|c| words::whole(c.chambers[index].temperature_C)));
    }
    groups.push(spaces);
    groups.push(machines(conditions, &line));
    groups.push(vec![
        line("cooling drag, N", &|c| words::whole(c.cooling_drag_N)),
        line("cooling drag, kW", &|c| words::kilowatts(c.cooling_power_W)),
    ]);
    if conditions.iter().any(|c| !c.fans.is_empty())
        && let Some(drag) = groups.last_mut()
    {
        drag.push(line("shaft power of fans, kW", &|c| words::kilowatts(c.fan_power_W)));
    }
    groups.retain(|group| !group.is_empty());
    groups
}

/// Fans and the carburettor.
fn machines(
    conditions: &[Condition],
    line: &dyn Fn(&str, &ConditionTell) -> SideBySideLine,
) -> Vec<SideBySideLine> {
    let mut lines = Vec::new();
    let Some(shape) = conditions.first() else { return lines };
    for (index, fan) in shape.fans.iter().enumerate() {
        let alike = shape.fans.iter().filter(|other| other.passage == fan.passage).count();
        let which = shape.fans[..index].iter().filter(|other| other.passage == fan.passage).count() + 1;
        let name = match alike {
            1 => format!("fan in {}", fan.passage),
            _ => format!("fan {which} in {}", fan.passage),
        };
        let told = |tell: &dyn Fn(&FanTurning) -> Option<String>, c: &Condition| {
            c.fans.get(index).and_then(tell).unwrap_or_else(|| "–".to_string())
        };
        lines.push(line(&format!("{name}, rpm"), &|c| told(&|fan| Some(words::whole(fan.rpm)), c)));
        let turns = |fan: &FanTurning| fan.tip_speed_m_s.is_some_and(|tip| tip > 0.0);
        if conditions.iter().any(|c| c.fans.get(index).is_some_and(turns)) {
            lines.push(line("its blade tips, m/s", &|c| told(&|fan| fan.tip_speed_m_s.map(words::whole), c)));
        }
        lines.push(line("its push, Pa", &|c| told(&|fan| Some(words::whole(fan.push_Pa)), c)));
        lines.push(line("power at its shaft, W", &|c| told(&|fan| Some(words::whole(fan.shaft_power_W)), c)));
    }
    if conditions.iter().any(|c| c.carburettor.is_some()) {
        let told = |tell: &dyn Fn(&Carburettor) -> String, c: &Condition| {
            c.carburettor.as_ref().map_or("–".to_string(), tell)
        };
        lines.push(line("engine draws, g/s", &|c| told(&|k| words::grams(k.mass_flow_kg_s), c)));
        lines.push(line("carburettor: pressure, Pa", &|c| {
            told(&|k| words::whole(k.total_gauge_pressure_Pa), c)
        }));
        lines.push(line("carburettor: air, °C", &|c| told(&|k| words::whole(k.temperature_C), c)));
        lines.push(line("power with that air", &|c| told(&|k| words::share(k.power_factor), c)));
    }
    lines
}

fn air_name(passage: &PassageResult) -> String {
    match passage.count {
        1 => format!("{}, g/s", passage.name),
        count => format!("{count} × {}, g/s", passage.name),
    }
}

fn flow(passage: &PassageResult) -> String {
    match words::grams(passage.mass_flow_kg_s) {
        still if still == "0.0" => "0".to_string(),
        size if passage.reversed => format!("back {size}"),
        size => size,
    }
}

/// What runs the wrong way, under its heading.
pub(in crate::output) fn write_running_back(out: &mut String, sentences: &[String]) {
    if sentences.is_empty() {
        return;
    }
    heading(out, "Air that runs back");
    for sentence in sentences {
        for (index, line) in wrap(sentence, width() - 4).iter().enumerate() {
            let indent = if index == 0 { "  " } else { "    " };
            out.push_str(&format!("{indent}{}\n", styled(MISSED, line)));
        }
    }
}

/// What runs the wrong way, one sentence for each passage.
pub(in crate::output) fn running_back(conditions: &[Condition]) -> Vec<String> {
    let passages = conditions.first().map_or(0, |c| c.passages.len());
    let mut sentences = Vec::new();
    for index in 0..passages {
        let back: Vec<&Condition> = conditions.iter().filter(|c| c.passages[index].reversed).collect();
        let Some(most) = back
            .iter()
            .min_by(|a, b| a.passages[index].mass_flow_kg_s.total_cmp(&b.passages[index].mass_flow_kg_s))
        else {
            continue;
        };
        let passage = &most.passages[index];
        let names: Vec<String> = back.iter().map(|c| words::name(&c.name)).collect();
        let which = if back.len() == conditions.len() && back.len() > 1 {
            "in every condition".to_string()
        } else {
            format!("in {}", words::list(&names))
        };
        sentences.push(format!(
            "{}: {} flows back through it {which}{}",
            passage.name,
            way::what_runs_back(most, passage),
            against(most, passage, back.len() > 1)
        ));
    }
    sentences
}

/// The pressures that stand against each other where most air runs back.
fn against(condition: &Condition, passage: &PassageResult, several: bool) -> String {
    let way = way::PressureBudget::of(condition, passage);
    let Some((first, pascals)) = way.gives.first() else { return String::new() };
    let most = if several { format!("most in {}, ", words::name(&condition.name)) } else { String::new() };
    let mut text = format!("; {most}driven by {} of {first}", words::few_pascals(*pascals));
    let holds = way.takes.iter().find(|(name, pascals)| {
        *pascals >= 0.5
            && ["ram", "pressure in ", "body pressure", "warm air"]
                .iter()
                .any(|start| name.starts_with(start))
    });
    if let Some((name, pascals)) = holds {
        let (gives, takes) = (way.gives[0].1, *pascals);
        // two figures that round to the same would say nothing
        let held = if words::whole(gives) == words::whole(takes) {
            format!(", next to nothing more than {name}")
        } else {
            format!(" against {} of {name}", words::pascals(takes))
        };
        text.push_str(&held);
    }
    text
}
