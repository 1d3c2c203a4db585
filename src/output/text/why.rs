//! Where a number came from.

use super::layout::{MISSED, PLAIN, QUIET, STRONG, TextColumn, TextTable, heading, item, paragraph};
use super::short::{self, Depth};
use super::{frame, words};
use crate::output::terms;
use crate::point::result::STILL;
use crate::study::document::Report;
use crate::study::why::result::{
    FormulaInput, HeldUpBy, Larger, Limits, MovingNumber, Spent, ValueOrigin, Why, WhyIs, WhyLink,
};
use crate::thermal::MarginIs;

/// So many rows of a table are shown; the rest is counted.
const ROWS: usize = 12;
/// So many on a short screen.
const FEW: usize = 6;

/// The chain from inputs to result, where the pressure goes, what limits, what larger areas buy, and which values rule it.
/// `detail` adds the sources of the formulas and every row.
pub fn why(report: &Report, why: &Why, depth: Depth) -> String {
    let detail = depth == Depth::All;
    let mut out = String::new();
    if depth == Depth::Short {
        short::head(&mut out, report, "why");
        verdict(&mut out, why);
        air(&mut out, why);
        rules(&mut out, why, FEW);
        if let Some(limits) = &why.limits {
            limit(&mut out, why, limits);
        }
        larger(&mut out, why, FEW);
        let more = "The chain of formulas, where the pressure goes, and every row: --detail, --all";
        short::end(&mut out, &[], more);
        return out;
    }
    let rows = if detail { usize::MAX } else { ROWS };
    frame::head(&mut out, report);
    verdict(&mut out, why);
    heading(&mut out, "From what is known to what comes out");
    for (index, link) in why.chain.iter().enumerate() {
        step(&mut out, index + 1, link, detail);
    }
    pressure(&mut out, &why.pressure);
    if let Some(limits) = &why.limits {
        limit(&mut out, why, limits);
    }
    larger(&mut out, why, rows);
    rules(&mut out, why, rows);
    if !why.also.is_empty() {
        paragraph(
            &mut out,
            QUIET,
            &format!("Also called that: {}; ask by the whole address.", words::list(&why.also)),
        );
    }
    if !detail {
        paragraph(&mut out, QUIET, "where each formula is from, and every row: --all");
    }
    frame::cautions(&mut out, report.conditions.iter().any(|condition| !condition.fans.is_empty()));
    out
}

fn verdict(out: &mut String, why: &Why) {
    let place = words::name(&why.condition);
    let part = match (&why.part, why.temperature_C, why.temperature_margin_K) {
        (Some(part), Some(temperature), Some(margin)) => {
            let verb = if words::is_plural(part) { "stand" } else { "stands" };
            let text = format!("{part} {verb} at {}, {}", words::celsius(temperature), words::margin(margin));
            Some((text, margin < 0.0))
        }
        _ => None,
    };
    let (text, missed) = match (why.is, part) {
        (WhyIs::Part, Some((text, missed))) => (format!("Why {text}, in {place}"), missed),
        (is, Some((text, missed))) => (
            format!("The {is} {} in {place}; watched with it: {text}", why.of.trim_start_matches("passage/")),
            missed,
        ),
        (is, None) => (format!("The {is} {} in {place}", why.of.trim_start_matches("passage/")), false),
    };
    paragraph(out, if missed { MISSED } else { STRONG }, &text);
}

/// What air moves there, in a line for each passage.
fn air(out: &mut String, why: &Why) {
    for spent in why.pressure.iter().take(FEW) {
        let flow = spent.mass_flow_kg_s;
        let text = if flow.abs() < STILL {
            format!("no air moves through {}: nothing there drives it", spent.passage)
        } else {
            let back = if flow < 0.0 { " runs back" } else { "" };
            let drives = spent.gives.iter().max_by(|a, b| a.pressure_Pa.total_cmp(&b.pressure_Pa));
            let drives = drives.map_or(String::new(), |most| {
                format!(", driven by {} ({})", most.what, words::few_pascals(most.pressure_Pa))
            });
            let takes = spent.takes.first().map_or(String::new(), |most| {
                let word = terms::of(&most.what);
                let take = if words::is_plural(&word) { "take" } else { "takes" };
                format!("; {word} {take} {}", words::share(most.share))
            });
            format!("{} g/s{back} through {}{drives}{takes}", words::grams(flow.abs()), spent.passage)
        };
        item(out, 0, "Air   ", &format!("{}.", words::sentence(&text)));
    }
}

fn step(out: &mut String, number: usize, link: &WhyLink, detail: bool) {
    item(out, 0, &format!("{number:>2}  "), &format!("{}: {}", link.what, words::on_paper(&link.result)));
    item(out, 4, "", &link.formula);
    let inputs: Vec<String> = link.inputs.iter().map(input).collect();
    if !inputs.is_empty() {
        item(out, 4, "with ", &inputs.join("; "));
    }
    if detail {
        item(out, 4, "from ", &link.source);
    }
}

/// "engine/brake_efficiency 25 % (assumed, 22 to 28 %)".
fn input(input: &FormulaInput) -> String {
    let band =
        input.band.as_ref().map(|(low, high)| super::defaults::value_and_band(&input.value, low, high).1);
    let mark = match (input.origin, band) {
        (ValueOrigin::Assumed, Some(band)) => format!(" (assumed, {band})"),
        (ValueOrigin::Assumed, None) => " (assumed)".to_string(),
        (_, Some(band)) => format!(" ({band})"),
        _ => String::new(),
    };
    format!("{} {}{mark}", input.name, words::on_paper(&input.value))
}

fn pressure(out: &mut String, pressure: &[Spent]) {
    if pressure.is_empty() {
        return;
    }
    heading(out, "Where the pressure goes");
    for spent in pressure {
        let gives: Vec<String> = spent
            .gives
            .iter()
            .map(|each| format!("{} {}", each.what, words::few_pascals(each.pressure_Pa)))
            .collect();
        let gives = if gives.is_empty() { "nothing drives it".to_string() } else { words::list(&gives) };
        let flow = words::grams(spent.mass_flow_kg_s);
        let back = if spent.mass_flow_kg_s < 0.0 { " back" } else { "" };
        let mut table = TextTable::new(vec![
            (TextColumn::Left, "what takes it".to_string()),
            (TextColumn::Right, "Pa".to_string()),
            (TextColumn::Right, "share".to_string()),
        ]);
        item(out, 2, "", &format!("{}, {flow} g/s{back}: driven by {gives}", spent.passage));
        for takes in &spent.takes {
            table.row(vec![
                format!("    {}", terms::of(&takes.what)).into(),
                words::whole(takes.pressure_Pa).into(),
                words::share(takes.share).into(),
            ]);
        }
        table.write(out);
    }
}

fn limit(out: &mut String, why: &Why, limits: &Limits) {
    heading(out, "What limits it");
    let part = why.part.as_deref().unwrap_or("the part");
    let way_out = match limits.is {
        _ if why.margin_is == Some(MarginIs::Impossible) => {
            "more of this air takes down some of it, never enough: cooler air is wanted, or more surface"
        }
        HeldUpBy::Air => "more air takes down most of it",
        _ => "more surface, or faster air along it, takes down most of it",
    };
    item(
        out,
        2,
        "",
        &format!(
            "{part} over the air that comes to it ({}): {} as the air itself warms, {} between that air and the part; {way_out}",
            words::celsius(limits.entering_C),
            words::kelvins(limits.air_K),
            words::kelvins(limits.surface_K)
        ),
    );
    if let (Some(resistance), Some(passage)) = (&limits.resistance, &limits.passage) {
        item(
            out,
            2,
            "",
            &format!(
                "the largest resistance: {} in {passage}, {} of {}",
                resistance.what,
                words::share(resistance.share),
                words::pascals(resistance.pressure_Pa / resistance.share)
            ),
        );
    }
}

fn larger(out: &mut String, why: &Why, most: usize) {
    let detail = most == usize::MAX;
    let worth = |each: &&Larger| {
        detail
            || each.gains_K.is_none_or(|kelvins| kelvins.abs() >= 0.5)
            || each.drag_N.is_none_or(|drag| drag.abs() >= 0.5)
    };
    let rows: Vec<&Larger> = why.larger.iter().filter(worth).collect();
    if why.larger.is_empty() {
        return;
    }
    heading(out, "What 10 % more of each area buys, one at a time");
    let part = why.part.as_deref().unwrap_or("part");
    let mut table = TextTable::new(vec![
        (TextColumn::Wrapped, "area".to_string()),
        (TextColumn::Right, "now".to_string()),
        (TextColumn::Right, format!("margin of {part}, K")),
        (TextColumn::Right, "drag, N".to_string()),
        (TextColumn::Wrapped, "".to_string()),
    ]);
    for each in rows.iter().take(most) {
        let times = if each.pieces > 1.0 { format!("{:.0} × ", each.pieces) } else { String::new() };
        let costs = each.costs.as_ref().filter(|(hurt, _)| Some(hurt) != why.part.as_ref());
        table.row(vec![
            each.element.trim_start_matches("passage/").into(),
            format!("{times}{}", words::area(each.area_m2)).into(),
            each.gains_K.map_or("no steady state".to_string(), signed).into(),
            each.drag_N.map_or(String::new(), |drag| words::fixed(drag, 1)).into(),
            costs
                .map_or(String::new(), |(hurt, kelvins)| format!("{hurt} −{}", words::kelvins(*kelvins)))
                .into(),
        ]);
    }
    if rows.is_empty() {
        item(out, 2, "", "nothing that would be seen: less than 1 K and 1 N each");
    } else {
        table.write(out);
    }
    if why.pressure.iter().any(|spent| spent.mass_flow_kg_s < 0.0) {
        let text = "Its air runs back: a wider way out first lets less of it run back, which cools it less, and only a much wider \
                    one lets fresh air in; slowcorner exits shows the whole way.";
        paragraph(out, PLAIN, text);
    }
    let left = why.larger.len() - rows.len().min(most);
    if left > 0 && !rows.is_empty() {
        paragraph(out, QUIET, &format!("and {left} that buy less: --all"));
    }
}

/// Whole kelvins with a sign; a tenth where they are few.
fn signed(kelvins: f64) -> String {
    let text = words::fixed(kelvins, usize::from(kelvins.abs() < 9.95));
    if text.starts_with('−') || kelvins.abs() < 0.05 { text } else { format!("+{text}") }
}

fn rules(out: &mut String, why: &Why, most: usize) {
    if why.rules.is_empty() {
        return;
    }
    let part = why.part.as_deref().unwrap_or("part");
    heading(out, "Which values rule it");
    let mut table = TextTable::new(vec![
        (TextColumn::Wrapped, "value".to_string()),
        (TextColumn::Right, "taken".to_string()),
        (TextColumn::Left, "tried".to_string()),
        (TextColumn::Right, format!("margin of {part}, K")),
    ]);
    let shown = &why.rules[..why.rules.len().min(most)];
    shown.iter().for_each(|rule| table.row(row(rule)));
    table.write(out);
    let left = why.rules.len() - shown.len();
    if left > 0 {
        paragraph(out, QUIET, &format!("and {left} that move it less: --all"));
    }
    paragraph(
        out,
        PLAIN,
        &format!(
            "If all are independent and each may be at its worse end, what is assumed takes {} off the margin of the {part}, and \
             what the case states with a band {}. + is cooler.",
            words::kelvins(why.assumed_falls_K),
            words::kelvins(why.stated_falls_K)
        ),
    );
    let assumed: Vec<&MovingNumber> =
        shown.iter().filter(|rule| rule.origin == ValueOrigin::Assumed).collect();
    if !assumed.is_empty() && most > FEW {
        heading(out, "What the assumed ones are, and how to measure them");
        for rule in assumed {
            let key = rule.key.trim_start_matches("passage/");
            item(out, 2, "", &format!("{key}: {}", rule.measure));
        }
    }
}

fn row(rule: &MovingNumber) -> Vec<super::layout::TextCell> {
    let (value, band) = super::defaults::value_and_band(&rule.value, &rule.low, &rule.high);
    let band = match (rule.origin, rule.band) {
        (ValueOrigin::Assumed, _) => format!("{band}, assumed"),
        (_, true) => band,
        _ => format!("{band}, if a slip"),
    };
    let end = |kelvins: Option<f64>| kelvins.map_or("–".to_string(), signed);
    vec![
        rule.key.trim_start_matches("passage/").into(),
        value.into(),
        band.into(),
        format!("{} … {}", end(rule.at_low_K), end(rule.at_high_K)).into(),
    ]
}
