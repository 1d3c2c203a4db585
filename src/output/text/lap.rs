//! Runs in time, in the builder's words.

use super::layout::{
    MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph,
};
use super::{beyond, doubt, frame, limits, warnings, words};
use crate::study::document::Report;
use crate::study::lap::result::{ChamberOver, MeasuredBeside, Repeats, Standing, Stint, WarmUp};

/// A part that gets so much hotter (K) after the end is told.
const HOTTER: f64 = 1.0;
/// Steps shown one by one.
const MOST_STEPS: usize = 16;

/// Every stint: whether a part gets too hot, when, and what a stop does to it.
pub(super) fn lap(report: &Report, written: &[String]) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    for stint in &report.stints {
        heading(&mut out, &words::sentence(&stint.name));
        let missed = stint.parts.iter().any(|(_, part)| part.temperature_margin_K < 0.0);
        frame::verdict(&mut out, &verdict(stint), missed);
        assumed(stint).into_iter().for_each(|line| item(&mut out, 2, "", &line));
        parts(&mut out, report, stint);
        all_the_way(&mut out, stint);
        steps(&mut out, stint);
        air(&mut out, stint);
        if let Some(repeats) = &stint.repeats {
            item(&mut out, 2, "", &laps(repeats));
        }
        measured(stint).iter().for_each(|line| item(&mut out, 2, "", line));
        stint.warm_up.iter().for_each(|warm| item(&mut out, 2, "", &warm_up(warm)));
        standing(&mut out, stint);
        if !stint.notes.is_empty() {
            heading(&mut out, "As it was read");
            stint.notes.iter().for_each(|note| item(&mut out, 2, "", &words::sentence(note)));
        }
    }
    if let Some(found) = &report.doubt {
        doubt::beside_runs(&mut out, found);
    }
    without_pipes(report).for_each(|text| item(&mut out, 0, "Note  ", &text));
    warnings::count(&mut out, &report.warnings);
    frame::written(&mut out, written);
    let fans = report.conditions.iter().any(|condition| !condition.fans.is_empty());
    frame::cautions(&mut out, fans);
    paragraph(
        &mut out,
        QUIET,
        "Resin softens, fuel boils and hoses age in the heat after stopping as well: look at the soak, not at the \
         run alone. No lap time is meant by any of this.",
    );
    out
}

/// What ends with the engine in a stint and would not in a car: no other command runs a stop.
pub(super) fn without_pipes(report: &Report) -> impl Iterator<Item = String> {
    let told = report.warnings.iter().filter(|warning| warning.code == crate::warnings::STOP_WITHOUT_PIPES);
    told.map(|warning| format!("{}.", words::sentence(&warning.message).trim_end_matches('.')))
}

/// How often all parts stay cool from beginning to end.
pub(super) fn all_the_way(out: &mut String, stint: &Stint) {
    if let Some(share) = stint.likelihood {
        let text = format!("All parts stay cool all the way: {}.", doubt::how_often(share));
        paragraph(out, STRONG, &text);
    }
}

/// A time in seconds up to two minutes, then in minutes and seconds.
pub(in crate::output) fn time(seconds: f64) -> String {
    let whole = seconds.round();
    if seconds > 0.0 && whole < 1.0 {
        "less than 1 s".to_string()
    } else if whole < 120.0 {
        format!("{whole:.0} s")
    } else if whole < 7200.0 {
        let minutes = (whole / 60.0).floor();
        match whole - 60.0 * minutes {
            rest if rest < 0.5 => format!("{minutes:.0} min"),
            rest => format!("{minutes:.0} min {rest:.0} s"),
        }
    } else {
        format!("{:.1} h", whole / 3600.0)
    }
}

/// Where in a stint a step stands, in words.
pub(in crate::output) fn place(stint: &Stint, step: usize) -> String {
    let Some(found) = stint.steps.get(step) else { return String::new() };
    let many = stint.steps.last().is_some_and(|last| last.lap > 1);
    match (&found.condition, many) {
        (Some(condition), false) => format!(" in {}", words::name(condition)),
        (Some(condition), true) => format!(" in {} of lap {}", words::name(condition), found.lap),
        (None, true) => format!(" in lap {}", found.lap),
        (None, false) => String::new(),
    }
}

/// What was taken for the start where nothing was said of it.
pub(in crate::output) fn assumed(stint: &Stint) -> Option<String> {
    let start = |name: &String| {
        let taken = stint.start_C.get(name).map_or(f64::NAN, |start| *start);
        format!("{name} taken as {}", words::celsius(taken))
    };
    (!stint.start_assumed.is_empty()).then(|| {
        format!(
            "No start is given: {}, as the first moment would leave them if it never ended. Say otherwise with start = \"60 degC\".",
            stint.start_assumed.iter().map(start).collect::<Vec<_>>().join(", ")
        )
    })
}

/// What was measured beside what was found, one line each.
pub(in crate::output) fn measured(stint: &Stint) -> Vec<String> {
    let line = |measured: &MeasuredBeside| {
        let side =
            |kelvin: f64| format!("{:.0} K {}", kelvin.abs(), if kelvin < 0.0 { "cooler" } else { "hotter" });
        let lag = match measured.lag_s {
            Some(lag) if lag.abs() < 0.5 => "; both move together".to_string(),
            Some(lag) => format!(
                "; the gauge comes {:.0} s {}",
                lag.abs(),
                if lag > 0.0 { "later" } else { "earlier" }
            ),
            None => String::new(),
        };
        words::sentence(&format!(
            "{} measured ({}) {} than found on average, at worst {} {} after the start{lag}.",
            measured.of,
            measured.column,
            side(measured.mean_difference_K),
            side(measured.worst_difference_K),
            time(measured.worst_at_s)
        ))
    };
    stint.measured.iter().map(line).collect()
}

pub(in crate::output) fn verdict(stint: &Stint) -> String {
    let over: Vec<String> = stint
        .parts
        .iter()
        .filter(|(_, part)| part.temperature_margin_K < 0.0)
        .map(|(name, part)| {
            format!(
                "the {name} {} over the limit for {}, by {} at worst, {} after the start{}",
                words::is_or_are(name),
                time(part.over_limit_s),
                words::kelvins(-part.temperature_margin_K),
                time(part.peak_at_s),
                place(stint, part.peak_step)
            )
        })
        .collect();
    if !over.is_empty() {
        return words::sentence(&format!("{}.", over.join("; ")));
    }
    let least =
        stint.parts.iter().min_by(|a, b| a.1.temperature_margin_K.total_cmp(&b.1.temperature_margin_K));
    least.map_or(String::new(), |(name, part)| {
        let rest = format!(
            "the {name}: {}, {} after the start{}",
            words::margin(part.temperature_margin_K),
            time(part.peak_at_s),
            place(stint, part.peak_step)
        );
        match stint.parts.0.iter().filter(|(_, part)| part.limit_C.is_finite()).count() {
            1 => words::sentence(&format!("{rest}.")),
            all => format!(
                "All {all} parts stay below their limits. Closest to it {} {rest}.",
                words::is_or_are(name)
            ),
        }
    })
}

pub(super) fn parts(out: &mut String, report: &Report, stint: &Stint) {
    let columns = [
        (TextColumn::Wrapped, "part"),
        (TextColumn::Right, "start"),
        (TextColumn::Right, "hottest"),
        (TextColumn::Right, "limit"),
        (TextColumn::Right, "margin"),
        (TextColumn::Left, "9 in 10"),
        (TextColumn::Right, "at"),
        (TextColumn::Right, "over for"),
        (TextColumn::Right, "end"),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    for (index, (name, part)) in stint.parts.iter().enumerate() {
        let style = if part.temperature_margin_K < 0.0 { MISSED } else { PLAIN };
        let limited = part.limit_C.is_finite();
        let last = stint.steps.last().and_then(|step| step.parts.get(name));
        let start = stint.start_C.0.get(index).map_or(f64::NAN, |(_, start)| *start);
        table.row(vec![
            TextCell::new(STRONG, name),
            words::celsius(start).into(),
            beyond::celsius(&report.conditions, name, part.peak_C).into(),
            if limited { limits::typed(report, name, part.limit_C) } else { "none".to_string() }.into(),
            TextCell::new(
                style,
                if limited { words::margin(part.temperature_margin_K) } else { "–".to_string() },
            ),
            part.margin_band_K.map_or(String::new(), |band| doubt::span(&band)).into(),
            time(part.peak_at_s).into(),
            TextCell::new(
                style,
                match part.over_limit_s {
                    over if over > 0.0 => time(over),
                    _ if limited => "never".to_string(),
                    _ => String::new(),
                },
            ),
            last.map_or(String::new(), |last| words::celsius(last.temperature_C)).into(),
        ]);
    }
    table.write(out);
}

/// The steps, each with temperatures at its end and time constants.
fn steps(out: &mut String, stint: &Stint) {
    if stint.steps.len() < 2 && stint.steps.first().is_none_or(|step| step.condition.is_none()) {
        constants(out, stint);
        return;
    }
    let mut columns =
        vec![(TextColumn::Wrapped, "step".to_string()), (TextColumn::Right, "until".to_string())];
    columns.extend(stint.parts.iter().map(|(name, _)| (TextColumn::Right, name.to_string())));
    let mut table = TextTable::new(columns);
    let skipped = stint.steps.len().saturating_sub(MOST_STEPS);
    for step in stint.steps.iter().skip(skipped) {
        let label = match &step.condition {
            Some(condition) if stint.steps.last().is_some_and(|last| last.lap > 1) => {
                format!("{condition}, lap {}", step.lap)
            }
            Some(condition) => condition.clone(),
            None => format!("lap {}", step.lap),
        };
        let mut row = vec![label.into(), TextCell::from(time(step.until_s))];
        row.extend(step.parts.iter().map(|(_, part)| TextCell::from(words::celsius(part.temperature_C))));
        table.row(row);
    }
    heading(out, "Temperatures at the end of each step");
    if skipped > 0 {
        paragraph(
            out,
            QUIET,
            &format!("the last {MOST_STEPS} of {} steps; all of them: --json", stint.steps.len()),
        );
    }
    table.write(out);
    constants(out, stint);
}

/// How fast parts follow.
fn constants(out: &mut String, stint: &Stint) {
    let Some(last) = stint.steps.last() else { return };
    let range = |name: &str| -> Option<String> {
        let all = stint.steps.iter().filter_map(|step| step.parts.get(name)?.time_constant_s);
        let (low, high) =
            all.fold((f64::INFINITY, 0.0_f64), |(low, high), tau| (low.min(tau), high.max(tau)));
        if low > high {
            None
        } else if high < 1.15 * low {
            Some(format!("{name} {}", time(high)))
        } else {
            Some(format!("{name} {} to {}", time(low), time(high)))
        }
    };
    let all: Vec<String> = last.parts.iter().filter_map(|(name, _)| range(name)).collect();
    if !all.is_empty() {
        out.push('\n');
        item(
            out,
            2,
            "",
            &format!("Time constants (63 % of the way to what a step would lead to): {}.", words::list(&all)),
        );
    }
}

/// Chambers whose air is over the limit that was typed for them.
pub(super) fn chambers_over(stint: &Stint) -> Vec<String> {
    let over = stint.chambers.iter().filter(|(_, over)| over.over_limit_s > 0.0);
    over.map(|(name, over)| air_of(name, over)).collect()
}

/// The hottest air of a chamber, held to its limit where one is typed.
fn air_of(name: &str, over: &ChamberOver) -> String {
    let mut text = format!(
        "Air in {name}: at most {}, {} after the start",
        words::celsius(over.hottest.peak_C),
        time(over.hottest.peak_at_s)
    );
    if let Some(limit) = over.limit_C {
        let what = over.limit_for.as_deref().unwrap_or("its limit");
        let found = limit - over.hottest.peak_C;
        if found < 0.0 {
            text.push_str(&format!(
                "; over the {} of {what} for {}",
                words::celsius(limit),
                time(over.over_limit_s)
            ));
        } else {
            text.push_str(&format!(
                "; {} under the {} of {what}",
                words::kelvins(found),
                words::celsius(limit)
            ));
        }
    }
    format!("{text}.")
}

fn air(out: &mut String, stint: &Stint) {
    stint.chambers.iter().for_each(|(name, over)| item(out, 2, "", &air_of(name, over)));
    if let Some(carburettor) = &stint.carburettor {
        item(
            out,
            2,
            "",
            &format!(
                "Air at the carburettor: at most {}, {} after the start.",
                words::celsius(carburettor.peak_C),
                time(carburettor.peak_at_s)
            ),
        );
    }
}

pub(in crate::output) fn laps(repeats: &Repeats) -> String {
    let least = repeats.temperature_margin_K.iter().min_by(|a, b| a.1.total_cmp(b.1));
    let margin = least.map_or(String::new(), |(name, margin)| {
        format!("closest to its limit then: {name}, {}", words::margin(*margin))
    });
    match repeats.lap {
        Some(lap) => format!("Laps repeat themselves to a tenth of a kelvin from lap {lap} on; {margin}."),
        None => {
            format!("After {} laps they do not yet repeat to a tenth of a kelvin; {margin}.", repeats.tried)
        }
    }
}

pub(in crate::output) fn warm_up(warm: &WarmUp) -> String {
    let name = &warm.part;
    let at = format!(
        "{} {} at {} when it counts ({} after the start)",
        words::sentence(name),
        words::is_or_are(name),
        words::celsius(warm.at_line_C),
        time(warm.line_s)
    );
    let least = words::celsius(warm.least_C);
    match warm.reached_s {
        Some(reached) if warm.at_line_C >= warm.least_C => {
            format!(
                "{at}, warm enough ({least}): the warm-up could begin {} later.",
                time((warm.line_s - reached).max(0.0))
            )
        }
        Some(reached) => format!(
            "{at}, too cold for {least}: begin the warm-up {} earlier at the latest.",
            time(reached - warm.line_s)
        ),
        None => format!(
            "{at}, too cold for {least}, and the step before would never warm it so far: tape its opening, or warm up at a higher engine speed."
        ),
    }
}

/// What gets hotter after the end than on the way, where the car is then left: on one screen the soak is not to be missed.
pub(super) fn after_the_end(stint: &Stint) -> Option<String> {
    let mut said: Vec<String> = Vec::new();
    for stands in stint.standing.iter().filter(|stands| stands.in_step.is_none()) {
        let hotter = stands.parts.iter().filter_map(|(name, part)| {
            let over = stint.parts.get(name).filter(|over| over.limit_C.is_finite())?;
            (part.peak_C > over.peak_C + HOTTER).then(|| {
                let margin = words::margin(over.limit_C - part.peak_C);
                format!("{name} {} after {} ({margin})", words::celsius(part.peak_C), time(part.peak_at_s))
            })
        });
        let hotter: Vec<String> = hotter.collect();
        if !hotter.is_empty() {
            let left = match stands.engine_off {
                true => "engine stopped".to_string(),
                false => format!("left standing as in {}", words::name(&stands.condition)),
            };
            said.push(format!("{left}, {}", words::list(&hotter)));
        }
    }
    (!said.is_empty()).then(|| format!("Hotter still after the end: {}.", said.join("; ")))
}

fn standing(out: &mut String, stint: &Stint) {
    if stint.standing.is_empty() {
        return;
    }
    heading(out, "Standing still");
    for stands in &stint.standing {
        let begin = match (stands.in_step, stands.from_s) {
            (Some(_), Some(from)) => {
                format!("In {} from {} on, were it to last", words::name(&stands.condition), time(from))
            }
            _ if stands.engine_off => {
                format!("Engine stopped at the end ({})", words::name(&stands.condition))
            }
            _ => format!("Left standing at the end as in {}", words::name(&stands.condition)),
        };
        item(out, 2, "", &format!("{begin}: {}.", outcome(stint, stands)));
        fans_off(stands).into_iter().for_each(|line| item(out, 4, "", &line));
    }
}

/// Where the engine is off and a fan runs on: that it does, and what were it off too.
pub(in crate::output) fn fans_off(stands: &Standing) -> Option<String> {
    let off = stands.with_fans_off.as_ref()?;
    let running =
        stands.fans_running.iter().map(|(name, rpm)| format!("{} at {rpm:.0} rpm", words::name(name)));
    let each = off.iter().map(|(name, part)| {
        let limit = part.to_limit_s.map_or(String::new(), |at| format!(", at the limit after {}", time(at)));
        format!("{name} at most {}{limit}", words::celsius(part.peak_C))
    });
    Some(format!(
        "The engine is off and a fan runs on ({}). With it off too: {}. Say which: fans = \"off\" in the condition or step.",
        running.collect::<Vec<_>>().join(", "),
        each.collect::<Vec<_>>().join(", ")
    ))
}

pub(in crate::output) fn outcome(stint: &Stint, stands: &Standing) -> String {
    let mut said: Vec<String> = Vec::new();
    for (name, part) in stands.parts.iter() {
        let limit = stint.parts.get(name).map_or(f64::NAN, |over| over.limit_C);
        match part.to_limit_s {
            Some(at) if at <= 0.0 => said.push(format!("the {name} over the limit from the start")),
            Some(at) => said.push(format!("the {name} at the limit after {}", time(at))),
            // a store of heat, of which nothing is asked
            None if limit == f64::INFINITY && part.peak_at_s <= 1.0 => said.push(format!(
                "the {name} from {} to {}",
                words::celsius(part.peak_C),
                words::celsius(part.last_C)
            )),
            None if limit == f64::INFINITY => {
                said.push(format!("the {name} at most {}", words::celsius(part.peak_C)));
            }
            None if part.peak_at_s > 1.0 && part.peak_C > part.last_C + 0.5 => said.push(format!(
                "the {name} hottest after {} at {}, {} under the limit",
                time(part.peak_at_s),
                words::celsius(part.peak_C),
                words::kelvins(limit - part.peak_C)
            )),
            None if part.peak_at_s > 1.0 => {
                said.push(format!("the {name} no hotter than {}", words::celsius(part.peak_C)))
            }
            None if words::is_plural(name) => said.push(format!("the {name} cool down")),
            None => said.push(format!("the {name} cools down")),
        }
    }
    for (name, air) in stands.chambers.iter() {
        let limit = stint
            .chambers
            .get(name)
            .and_then(|over| over.limit_C.map(|limit| (limit, over.limit_for.clone())));
        let when = if air.peak_at_s < 0.5 {
            "at once".to_string()
        } else {
            format!("after {}", time(air.peak_at_s))
        };
        let mut text = format!("the air in {name} at most {} {when}", words::celsius(air.peak_C));
        if let (Some((limit, what)), Some(at)) = (limit, air.to_limit_s) {
            let what = what.unwrap_or_else(|| "its limit".to_string());
            text = format!("{text}, over the {} of {what} after {}", words::celsius(limit), time(at));
        }
        said.push(text);
    }
    if let Some(intake) = &stands.carburettor {
        said.push(format!("the air at the carburettor at most {}", words::celsius(intake.peak_C)));
    }
    said.join("; ")
}
