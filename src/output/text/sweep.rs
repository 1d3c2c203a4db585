//! Margin against road speed.

use super::layout::{
    MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph,
};
use super::short::{self, Depth};
use super::words::{self, is_missed, load_of};
use super::{beyond, doubt, frame, warnings};
use crate::output::terms;
use crate::point::result::Condition;
use crate::study::document::Report;
use crate::study::sweep::result::{AirDriver, Lowest, Sweep, SweepPart, SweepPoint};
use crate::thermal::MarginIs;

/// The sweep of a case: verdict, the lowest point of each part, the speeds at which a margin is
/// missed, and the files written.
pub fn sweep(report: &Report, written: &[String], depth: Depth) -> String {
    let mut out = String::new();
    short::begin(&mut out, report, "margin against speed", depth);
    let Some(sweep) = report.sweep.as_ref().filter(|sweep| !sweep.points.is_empty()) else {
        frame::verdict(&mut out, "No speed was swept.", true);
        return out;
    };
    let missed = sweep.lowest.iter().any(|(_, low)| is_missed(low.flow_margin, low.margin_is));
    frame::verdict(&mut out, &verdict(sweep, &report.conditions), missed);
    if let Some(found) = &report.doubt {
        let parts = sweep.points.iter().flat_map(|point| point.parts.iter());
        let taken = parts.map(|(_, part)| part.temperature_margin_K).fold(f64::INFINITY, f64::min);
        doubt::beside_sweep(&mut out, taken, found);
    }
    if !sweep.lowest.0.is_empty() {
        lowest(&mut out, sweep, &report.conditions);
    }
    speeds(&mut out, sweep);
    if depth == Depth::Short {
        short::end(&mut out, written, "What drives the air, what takes the pressure, and drag: --detail");
        return out;
    }
    pressure(&mut out, sweep);
    drag(&mut out, sweep);
    warnings::count(&mut out, &report.warnings);
    frame::written(&mut out, written);
    frame::cautions(&mut out, sweep.points.iter().any(|point| point.gives_Pa.contains_key(&AirDriver::Fan)));
    out
}

fn range(sweep: &Sweep) -> String {
    format!("{} at {}", speeds_swept(sweep), load_of(sweep))
}

fn speeds_swept(sweep: &Sweep) -> String {
    match (sweep.points.first(), sweep.points.last()) {
        (Some(first), Some(last)) if sweep.points.len() > 1 => {
            format!("from {} to {}", words::whole(first.speed_m_s * 3.6), words::speed(last.speed_m_s))
        }
        (Some(first), _) => format!("at {}", words::speed(first.speed_m_s)),
        _ => String::new(),
    }
}

fn verdict(sweep: &Sweep, conditions: &[Condition]) -> String {
    let all = sweep.lowest.0.len();
    let missed = sweep.lowest.iter().filter(|(_, low)| is_missed(low.flow_margin, low.margin_is));
    let over: Vec<String> = missed.map(|(name, low)| over(name, low, conditions)).collect();
    let range = range(sweep);
    if all == 0 {
        return format!("No part has a limit: what the air does was swept {range}, and nothing is checked.");
    }
    let kept = match (all - over.len(), all) {
        (0, 1) => String::new(),
        (0, _) => format!("none of the {all} parts stays below its limit all the way {range}: "),
        (1, 1) => format!("{} stays below its limit {range}; ", sweep.lowest.0[0].0),
        (1, _) => format!("1 of {all} parts stays below its limit {range}; "),
        (kept, _) if kept == all => format!("all {all} parts stay below their limit {range}; "),
        (kept, _) => format!("{kept} of {all} parts stay below their limit {range}; "),
    };
    let rest = if over.is_empty() { closest(sweep) } else { over.join("; ") };
    words::sentence(&format!("{kept}{rest}."))
}

fn over(name: &str, low: &Lowest, conditions: &[Condition]) -> String {
    let mut text = format!(
        "the {name} {} {} at {} in gear {}",
        words::is_or_are(name),
        beyond::over(conditions, name, low.temperature_margin_K),
        words::speed(low.speed_m_s),
        low.gear
    );
    if low.margin_is == MarginIs::Impossible {
        text.push_str(", where more of the air that comes is no use");
    }
    text
}

fn closest(sweep: &Sweep) -> String {
    let least =
        sweep.lowest.iter().min_by(|a, b| a.1.temperature_margin_K.total_cmp(&b.1.temperature_margin_K));
    least.map_or(String::new(), |(name, low)| {
        format!(
            "closest to it {} the {name} at {} in gear {}: {}, {}",
            words::is_or_are(name),
            words::speed(low.speed_m_s),
            low.gear,
            words::margin(low.temperature_margin_K),
            words::air(low.flow_margin, low.margin_is)
        )
    })
}

/// The point of a sweep at a speed.
fn point_at(sweep: &Sweep, speed: f64) -> Option<&SweepPoint> {
    sweep.points.iter().min_by(|a, b| (a.speed_m_s - speed).abs().total_cmp(&(b.speed_m_s - speed).abs()))
}

fn lowest(out: &mut String, sweep: &Sweep, conditions: &[Condition]) {
    let columns = [
        (TextColumn::Wrapped, "part"),
        (TextColumn::Right, "lowest at"),
        (TextColumn::Right, "gear"),
        (TextColumn::Right, "engine"),
        (TextColumn::Right, "margin"),
        (TextColumn::Right, "at"),
        (TextColumn::Left, "air"),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    for (name, low) in sweep.lowest.iter() {
        let style = if is_missed(low.flow_margin, low.margin_is) { MISSED } else { PLAIN };
        let point = point_at(sweep, low.speed_m_s);
        let rpm = point.map_or(String::new(), |point| format!("{} rpm", words::whole(point.rpm)));
        let temperature = point.and_then(|point| point.parts.get(name));
        let temperature = temperature.map(|part| beyond::celsius(conditions, name, part.temperature_C));
        table.row(vec![
            TextCell::new(STRONG, name),
            words::speed(low.speed_m_s).into(),
            low.gear.to_string().into(),
            rpm.into(),
            TextCell::new(style, words::margin(low.temperature_margin_K)),
            temperature.unwrap_or_default().into(),
            TextCell::new(style, words::air(low.flow_margin, low.margin_is)),
        ]);
    }
    table.write(out);
}

/// The speeds at which something is true of a part, as ranges between points that follow each other.
fn ranges(sweep: &Sweep, part: &str, holds: &dyn Fn(&SweepPart) -> bool) -> Option<String> {
    let runs = sweep.ranges_of(part, holds);
    let ends = [sweep.points.first()?.speed_m_s, sweep.points.last()?.speed_m_s];
    match runs.as_slice() {
        [] => None,
        [run] if *run == ends => Some("at every speed".to_string()),
        runs => {
            let texts: Vec<String> = runs
                .iter()
                .map(|[low, high]| match (words::whole(low * 3.6), words::whole(high * 3.6)) {
                    (low, high) if low == high => format!("at {low} km/h"),
                    (low, high) => format!("from {low} to {high} km/h"),
                })
                .collect();
            Some(words::list(&texts))
        }
    }
}

/// Where margins are missed, where no air would do, where none is needed.
fn speeds(out: &mut String, sweep: &Sweep) {
    type HoldsTest = fn(&SweepPart) -> bool;
    let questions: [(&str, HoldsTest); 3] = [
        ("Over the limit", |part| is_missed(part.flow_margin, part.margin_is)),
        ("More of the air that comes is no use", |part| part.margin_is == MarginIs::Impossible),
        ("Needs no air of its own", |part| part.margin_is == MarginIs::Unlimited),
    ];
    for (title, holds) in questions {
        let found: Vec<(&str, String)> = sweep
            .lowest
            .iter()
            .filter_map(|(name, _)| ranges(sweep, name, &holds).map(|ranges| (name, ranges)))
            .collect();
        if !found.is_empty() {
            heading(out, title);
            for (name, ranges) in found {
                item(out, 2, &format!("{name}: "), &ranges);
            }
        }
    }
    if !sweep.unsolved_m_s.is_empty() {
        heading(out, "Not solved");
        let speeds: Vec<String> = sweep.unsolved_m_s.iter().map(|speed| words::whole(speed * 3.6)).collect();
        item(out, 2, "", &format!("no steady state was found at {} km/h", words::list(&speeds)));
    }
}

/// What drives the cooling air at each lowest point and what takes most of it.
fn pressure(out: &mut String, sweep: &Sweep) {
    heading(out, "What drives the air there, and what takes the pressure (all cooling air together)");
    let mut told: Vec<(f64, String)> = Vec::new();
    for (_, low) in sweep.lowest.iter() {
        let Some(point) = point_at(sweep, low.speed_m_s) else { continue };
        if told.iter().any(|(speed, _)| *speed == point.speed_m_s) {
            continue;
        }
        told.push((point.speed_m_s, budget(point)));
    }
    told.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (speed, text) in told {
        item(out, 2, &format!("{}: ", words::speed(speed)), &text);
    }
}

fn budget(point: &SweepPoint) -> String {
    let mut gives: Vec<(&str, f64)> =
        point.gives_Pa.iter().map(|(source, pascals)| ((*source).into(), *pascals)).collect();
    gives.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let gives: Vec<String> = gives
        .iter()
        .filter(|(_, pascals)| pascals.abs() >= 0.5)
        .map(|(kind, pascals)| format!("{} {} Pa", terms::of(kind), words::whole(*pascals)))
        .collect();
    let mut takes: Vec<(&str, f64)> =
        point.takes_Pa.iter().map(|(kind, pascals)| (*kind, pascals.max(0.0))).collect();
    takes.sort_by(|a, b| b.1.total_cmp(&a.1));
    let total: f64 = takes.iter().map(|(_, pascals)| pascals).sum();
    let takes: Vec<String> = takes
        .iter()
        .take(3)
        .filter(|(_, pascals)| *pascals > 0.0)
        .map(|(kind, pascals)| format!("{} {}", taker(kind), words::share(pascals / total)))
        .collect();
    match (gives.is_empty(), takes.is_empty()) {
        (true, _) => "nothing drives the air".to_string(),
        (false, true) => words::list(&gives),
        (false, false) => format!("{}; taken by {}", words::list(&gives), takes.join(", ")),
    }
}

fn taker(kind: &str) -> String {
    terms::of(kind).replace('-', " ")
}

fn drag(out: &mut String, sweep: &Sweep) {
    let (Some(first), Some(last)) = (sweep.points.first(), sweep.points.last()) else { return };
    let told = |point: &SweepPoint| {
        format!(
            "{} N ({} kW) at {}",
            words::whole(point.cooling_drag_N),
            words::kilowatts(point.cooling_drag_N * point.speed_m_s),
            words::speed(point.speed_m_s)
        )
    };
    out.push('\n');
    paragraph(out, PLAIN, &format!("Cooling drag: {}, {}.", told(first), told(last)));
    frame::drag_note(out, sweep.points.iter().any(|point| point.cooling_drag_N <= -0.5));
    paragraph(out, QUIET, &format!("{} in all.", words::count(sweep.points.len(), "speed")));
}
