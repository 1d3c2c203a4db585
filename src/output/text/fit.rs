//! What readings say: the guesses, the readings, what to believe.

use super::asked::{asked, held_back};
use super::doubt::how_often;
use super::layout::{MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, paragraph};
use super::{Depth, address, command, frame, lap, words};
use crate::draws::doubt::Doubt;
use crate::point::result::Band;
use crate::study::document::Report;
use crate::study::fit::result::{Fit, FitVerdict, GuessMoved, MarginNow, Misfit, SizeNow};

/// Rows of each table on one screen.
const ROWS: usize = 5;
const READINGS: usize = 6;
const MARGINS: usize = 3;
/// Characters of a name in a row.
const LONGEST: usize = 40;
const LONGEST_GUESS: usize = 27;
/// Pairs, questions and alarms told there.
const TOLD: usize = 2;

/// Square centimetres in a square metre.
const SQUARE_CENTIMETRES: f64 = 1e4;

/// Sizes hold as often as is asked where the draws say so but for this.
const NEARLY: f64 = 0.02;

/// The fit on one screen, or in full.
pub fn fit(report: &Report, fit: &Fit, depth: Depth, written: &[String]) -> String {
    let short = depth == Depth::Short;
    let mut out = String::new();
    frame::head(&mut out, report);
    let told = if short { TOLD } else { usize::MAX };
    asked(&mut out, fit.asks.iter().take(told));
    if short && fit.held_back {
        held_back(&mut out);
        readings(&mut out, fit, short);
        out.push('\n');
        paragraph(&mut out, QUIET, "What it would all come to with the readings as they stand: --detail");
        return out;
    }
    paragraph(&mut out, STRONG, &verdict(fit));
    moved(&mut out, fit, short);
    readings(&mut out, fit, short);
    margins(&mut out, fit, short);
    sizes(&mut out, fit, short);
    if !short || fit.sizes.is_none() {
        out.push('\n');
    }
    for line in remarks(fit, told) {
        paragraph(&mut out, PLAIN, &line);
    }
    paragraph(&mut out, QUIET, &no_proof(fit));
    if !short {
        rest(&mut out, fit);
    }
    if fit.held_back {
        held_back(&mut out);
    }
    if short {
        if let Some(first) = written.first() {
            let next = format!("slowcorner doubt {}", command::word(first));
            command::under_mark(&mut out, "Written  ", &format!("{first}; next:"), &next);
        }
    } else {
        frame::written(&mut out, written);
    }
    out
}

fn half(band: &Band) -> f64 {
    0.5 * (band.p95 - band.p05)
}

/// The answer in a sentence or two.
pub(in crate::output) fn verdict(fit: &Fit) -> String {
    let readings = words::count(fit.taken, "reading");
    let mut text = format!("{readings} moved or narrowed {} of {} guesses.", fit.moved.len(), fit.guesses);
    if let Some(row) = closest(fit)
        && let (Some(before), Some(after)) = (&row.before_K, &row.after_K)
    {
        text.push_str(&format!(
            " {} in {}: {} before, {} now, ± {} K in place of ± {} K, the model's own error counted.",
            words::sentence(&row.part),
            row.condition,
            told(before),
            told(after),
            words::whole(half(after)),
            words::whole(half(before))
        ));
    }
    if let (Some(before), Some(after)) = (&fit.before, &fit.after) {
        text.push_str(&format!(
            " All parts hold: {} before, {} now.",
            how_often(before.all_hold),
            how_often(after.all_hold)
        ));
    }
    if let (Some(number), Some(wider)) = (fit.narrowed_by, fit.wider_without)
        && let Some(misfit) = fit.misfits.iter().find(|misfit| misfit.number == number)
    {
        text.push_str(&format!(
            " Reading {number} ({}, {}) did most: without it the doubt would be {} % wider.",
            misfit.what,
            misfit.test,
            words::whole(100.0 * wider)
        ));
    }
    text
}

fn told(band: &Band) -> String {
    let [middle, low, high] = [band.p50, band.p05, band.p95].map(words::signed);
    format!("{middle} ({low} to {high}) K")
}

/// Whether a part may have held or not before anything was read.
fn in_doubt(row: &MarginNow) -> bool {
    row.held.is_some_and(|held| (0.05..=0.95).contains(&held))
}

/// The margin that decides: the least of those that were in doubt, else the least of all.
fn closest(fit: &Fit) -> Option<&MarginNow> {
    let mut rows: Vec<&MarginNow> = fit.margins.iter().collect();
    rows.sort_by(|a, b| in_doubt(b).cmp(&in_doubt(a)).then(middle(a).total_cmp(&middle(b))));
    rows.first().copied()
}

fn moved(out: &mut String, fit: &Fit, short: bool) {
    heading(out, "Guesses, as the readings leave them");
    let mut table = TextTable::new(vec![
        (TextColumn::Left, "guess".into()),
        (TextColumn::Right, "before".into()),
        (TextColumn::Right, "band".into()),
        (TextColumn::Right, "after".into()),
        (TextColumn::Right, "band".into()),
        (TextColumn::Right, "moved".into()),
        (TextColumn::Right, "left".into()),
        (TextColumn::Right, "by".into()),
    ]);
    let rows = if short { ROWS } else { usize::MAX };
    for row in fit.moved.iter().take(rows) {
        table.row(row_of(row, short));
    }
    table.write(out);
    let more = fit.moved.len().saturating_sub(rows);
    let more = if more > 0 { format!("{more} more: --detail. ") } else { String::new() };
    let unseen = match fit.unseen.len() {
        0 => String::new(),
        count => format!(" {} that no reading saw stay.", guesses(count)),
    };
    let told = "Moved in half bands, left of its width, by which reading.";
    paragraph(out, QUIET, &format!("{more}{told}{unseen}"));
}

fn row_of(row: &GuessMoved, short: bool) -> Vec<TextCell> {
    let mut name = if short { address::in_words(&row.addresses[0]) } else { row.addresses[0].clone() };
    // that it is a share is said by its unit
    if let Some(rest) = name.strip_prefix("share of heat") {
        name = format!("heat{rest}");
    }
    if short && name.chars().count() > LONGEST_GUESS {
        name = name.chars().take(LONGEST_GUESS - 1).chain(['…']).collect();
    }
    if row.addresses.len() > 1 {
        name.push_str(&format!(" (+{})", row.addresses.len() - 1));
    }
    vec![
        TextCell::new(PLAIN, name),
        TextCell::new(PLAIN, words::on_paper(&row.before[0])),
        TextCell::new(PLAIN, band(&row.before)),
        TextCell::new(STRONG, words::on_paper(&row.after[0])),
        TextCell::new(PLAIN, band(&row.after)),
        TextCell::new(
            if row.moved_half_bands.abs() >= 1.0 { MISSED } else { PLAIN },
            words::signed_to(row.moved_half_bands, 1),
        ),
        TextCell::new(PLAIN, format!("{} %", words::whole(100.0 * row.left))),
        TextCell::new(PLAIN, row.by.to_string()),
    ]
}

/// "4.5 to 12", the unit said once beside.
fn band(texts: &[String; 3]) -> String {
    let bare = |text: &str| text.split(' ').next().unwrap_or_default().to_string();
    words::on_paper(&format!("{} to {}", bare(&texts[1]), bare(&texts[2])))
}

fn readings(out: &mut String, fit: &Fit, short: bool) {
    heading(out, "Readings");
    let mut table = TextTable::new(vec![
        (TextColumn::Right, "".into()),
        (TextColumn::Left, "reading".into()),
        (TextColumn::Right, "read".into()),
        (TextColumn::Right, "expected".into()),
        (TextColumn::Right, "after".into()),
        (TextColumn::Left, "".into()),
        (TextColumn::Left, "against the others".into()),
    ]);
    // those that fit worst are told first where not all are
    let mut order: Vec<&Misfit> = fit.misfits.iter().collect();
    if short && order.len() > READINGS {
        order.sort_by(|a, b| b.from_others.abs().total_cmp(&a.from_others.abs()));
        order.truncate(READINGS);
        order.sort_by_key(|misfit| misfit.number);
    }
    for misfit in &order {
        let style = if misfit.verdict == FitVerdict::AtOdds { MISSED } else { PLAIN };
        // no share of a pressure is below nought
        let least = if misfit.unit == "share" { 0.0 } else { f64::NEG_INFINITY };
        table.row(vec![
            TextCell::new(PLAIN, misfit.number.to_string()),
            TextCell::new(PLAIN, name_of(misfit, short)),
            TextCell::new(STRONG, words::shown(misfit.read, misfit.unit)),
            TextCell::new(
                PLAIN,
                format!(
                    "{} to {}",
                    words::shown(misfit.expected.p05.max(least), misfit.unit),
                    words::shown(misfit.expected.p95, misfit.unit)
                ),
            ),
            TextCell::new(PLAIN, words::shown(misfit.after, misfit.unit)),
            TextCell::new(PLAIN, misfit.unit.to_string()),
            TextCell::new(style, format!("{} ({})", misfit.verdict, words::signed_to(misfit.from_others, 1))),
        ]);
    }
    table.write(out);
}

/// What was read and when; on one screen without the spot, which the case knows, and no longer than there is room for.
fn name_of(misfit: &Misfit, short: bool) -> String {
    if !short {
        return format!("{}, {}", misfit.what, misfit.test);
    }
    let what = misfit.what.split(", ").next().unwrap_or_default();
    let what = what.strip_prefix("U-tube across ").unwrap_or(what).replace(" and outside at ", " over ");
    let name = format!("{what}, {}", misfit.test);
    if name.chars().count() <= LONGEST {
        return name;
    }
    name.chars().take(LONGEST - 1).chain(['…']).collect()
}

fn margins(out: &mut String, fit: &Fit, short: bool) {
    let mut rows: Vec<&MarginNow> = fit.margins.iter().collect();
    if short {
        // what was in doubt first, the closest first
        rows.sort_by(|a, b| in_doubt(b).cmp(&in_doubt(a)).then(middle(a).total_cmp(&middle(b))));
        rows.truncate(MARGINS);
    }
    if rows.is_empty() {
        return;
    }
    heading(out, "Margins, K: middle of the draws, in brackets 9 in 10");
    let mut table = TextTable::new(vec![
        (TextColumn::Left, "".into()),
        (TextColumn::Right, "before".into()),
        (TextColumn::Right, "holds".into()),
        (TextColumn::Right, "now".into()),
        (TextColumn::Right, "holds".into()),
    ]);
    for row in rows {
        let told = |band: &Option<Band>| band.as_ref().map_or("–".to_string(), told);
        let share = |share: Option<f64>| share.map_or("–".to_string(), in_a_cell);
        table.row(vec![
            TextCell::new(PLAIN, format!("{}, {}", row.part, row.condition)),
            TextCell::new(PLAIN, told(&row.before_K)),
            TextCell::new(PLAIN, share(row.held)),
            TextCell::new(STRONG, told(&row.after_K)),
            TextCell::new(PLAIN, share(row.holds)),
        ]);
    }
    table.write(out);
}

/// Sizes before and after, and how often they hold.
fn sizes(out: &mut String, fit: &Fit, short: bool) {
    let Some(sizes) = &fit.sizes else { return };
    let often = |share: Option<f64>| share.map_or("?".to_string(), how_often);
    if short {
        let total = |area: &dyn Fn(&SizeNow) -> Option<f64>| -> Option<String> {
            let sum: Option<f64> = sizes
                .openings
                .iter()
                .map(|one| Some(one.pieces as f64 * one.louvres.unwrap_or(1.0) * area(one)?))
                .sum();
            sum.map(|area| words::whole(SQUARE_CENTIMETRES * area))
        };
        let column =
            |name: &str, area: &dyn Fn(&SizeNow, usize) -> Option<f64>, does: &dyn Fn(usize) -> bool| {
                let of = |side: usize| {
                    let area = total(&|one| area(one, side));
                    if does(side) { area } else { area.map(|_| "none".to_string()) }
                };
                Some(format!("{name} {} before, {} now", of(0)?, of(1)?))
            };
        let taken =
            column("by the values taken", &|one, side| Some(one.taken_m2[side]), &|side| sizes.reached[side]);
        let enough = |side: usize| sizes.held[side].is_some_and(|share| share >= sizes.asked - NEARLY);
        let held =
            column(&format!("for {}", how_often(sizes.asked)), &|one, side| one.holds_m2[side], &enough);
        let ask = format!("what holds {}: --sizes", how_often(sizes.asked));
        let held = held.or_else(|| sizes.held.iter().all(Option::is_none).then_some(ask));
        let both: Vec<String> = taken.into_iter().chain(held).collect();
        paragraph(out, PLAIN, &format!("Openings, open cm² in all: {}.", both.join("; ")));
        return;
    }
    heading(out, "Free openings, cm² of one");
    let mut table = TextTable::new(vec![
        (TextColumn::Left, "".into()),
        (TextColumn::Right, "taken, before".into()),
        (TextColumn::Right, "now".into()),
        (TextColumn::Right, "holds, before".into()),
        (TextColumn::Right, "now".into()),
    ]);
    let area = |area: f64| words::whole(SQUARE_CENTIMETRES * area);
    let maybe = |size: Option<f64>| size.map_or("–".to_string(), area);
    for one in &sizes.openings {
        let pieces = if one.pieces > 1 { format!("{} × ", one.pieces) } else { String::new() };
        let field = if one.louvres.is_some() { ", field" } else { "" };
        table.row(vec![
            TextCell::new(PLAIN, format!("{pieces}{}{field}", one.name)),
            TextCell::new(PLAIN, area(one.taken_m2[0])),
            TextCell::new(STRONG, area(one.taken_m2[1])),
            TextCell::new(PLAIN, maybe(one.holds_m2[0])),
            TextCell::new(STRONG, maybe(one.holds_m2[1])),
        ]);
    }
    table.row(vec![
        TextCell::new(PLAIN, "all parts hold".to_string()),
        TextCell::new(PLAIN, often(sizes.hold[0])),
        TextCell::new(PLAIN, often(sizes.hold[1])),
        TextCell::new(PLAIN, often(sizes.held[0])),
        TextCell::new(PLAIN, often(sizes.held[1])),
    ]);
    table.write(out);
    if sizes.reached.contains(&false) {
        paragraph(
            out,
            QUIET,
            "Where no sizes reach every margin with the values taken, those that come nearest stand here.",
        );
    }
}

/// The worst point before and now.
fn worst(fit: &Fit) -> Option<String> {
    let of = |doubt: &Doubt| -> Option<(String, String)> {
        let (least, first) = (doubt.least_K.as_ref()?, doubt.decides.first()?);
        Some((format!("{} in {}", first.part, first.condition), told(least)))
    };
    let ((place, before), (now_at, now)) = (of(fit.before.as_ref()?)?, of(fit.after.as_ref()?)?);
    let now_at = if now_at == place { String::new() } else { format!("{now_at} ") };
    Some(format!("Least of all, mostly {place}: {before} before, {now_at}{now} now."))
}

/// How often a part holds, in few letters.
fn in_a_cell(share: f64) -> String {
    match share {
        _ if share < 0.05 => "< 1 in 20".to_string(),
        _ if share > 0.95 => "> 19 in 20".to_string(),
        _ => how_often(share),
    }
}

fn middle(row: &MarginNow) -> f64 {
    row.after_K.as_ref().map_or(f64::INFINITY, |band| band.p50)
}

/// What must be minded: alarms, readings at odds, tests that say something else, pairs.
fn remarks(fit: &Fit, most: usize) -> Vec<String> {
    let mut all: Vec<String> = worst(fit).into_iter().collect();
    for held in fit.held_short.iter().take(most) {
        all.push(format!(
            "{} was held {}, and its temperatures stand after some {}: taken as steady, and not steady. Hold it longer, or hang the test on a stint (stint = \"…\").",
            words::sentence(&held.test),
            lap::time(held.held_s),
            lap::time((held.settles_s / 60.0).ceil() * 60.0)
        ));
    }
    for alarm in fit.alarms.iter().take(most) {
        all.push(format!(
            "Alarm: {} had to go {} half bands, to the end of its band or beyond: a path is missing from the case, or a reading is not what it seems.",
            alarm.address,
            words::signed_to(alarm.moved_half_bands, 1)
        ));
    }
    for ratio in fit.ratios_only.iter().take(most) {
        let ratios = words::count(ratio.pressures.saturating_sub(1), "ratio");
        all.push(format!(
            "{}: nobody says what the blower gave, so that its {} count as {ratios}: how resistances and openings stand to one another, not how large all of them are together. A bellmouth before it would tell.",
            words::sentence(&ratio.test),
            words::count(ratio.pressures, "pressure")
        ));
    }
    let odds: Vec<&Misfit> =
        fit.misfits.iter().filter(|misfit| misfit.verdict == FitVerdict::AtOdds).collect();
    for misfit in odds.iter().take(most) {
        all.push(format!(
            "Reading {} is at odds with the others ({} spreads) and was kept; without it the least margin would be {}.",
            misfit.number,
            words::signed_to(misfit.from_others, 1),
            more(misfit.least_without_K)
        ));
    }
    let tests = fit.without_tests.iter().filter(|test| test.furthest.abs() >= 2.3);
    for test in tests.take(most) {
        all.push(format!(
            "{} tells something else than the other tests ({} spreads); without it the least margin would be {}.",
            words::sentence(&test.test),
            words::signed_to(test.furthest, 1),
            more(test.least_without_K)
        ));
    }
    for pair in fit.pairs.iter().take(most) {
        let way = if pair.correlation > 0.0 { "with" } else { "against" };
        let parted = match (&pair.parted_by, pair.leaves) {
            (Some(reading), Some(leaves)) => {
                format!(
                    "; {reading} would part them (leaves {} % of their difference)",
                    words::whole(100.0 * leaves)
                )
            }
            _ => "; no reading that is offered would part them".to_string(),
        };
        all.push(format!("{} only moves {way} {}{parted}.", pair.one, pair.other));
    }
    all
}

/// Why agreement proves nothing.
fn no_proof(fit: &Fit) -> String {
    format!(
        "Agreement is no proof: {} cannot contradict {}; this fit would look as good if the car were wrong in a way that the case does not describe.",
        words::count(fit.taken, "reading"),
        guesses(fit.guesses)
    )
}

/// What stands behind it.
fn rest(out: &mut String, fit: &Fit) {
    heading(out, "Each test left out");
    for test in &fit.without_tests {
        paragraph(
            out,
            PLAIN,
            &format!(
                "{} ({}): furthest from what the others lead to expect {} spreads; the least margin would be {}",
                test.test,
                words::count(test.readings, "reading"),
                words::signed_to(test.furthest, 1),
                more(test.least_without_K)
            ),
        );
    }
    heading(out, "Guesses that no reading saw");
    paragraph(out, PLAIN, &words::list(&fit.unseen.iter().map(String::as_str).collect::<Vec<_>>()));
    heading(out, "How it was drawn");
    for run in &fit.runs {
        paragraph(
            out,
            PLAIN,
            &format!(
                "{}: what {} of drawn cars show, followed to {} K, to {} K where the chains went (spreads, counted among the errors of its readings).",
                words::sentence(&run.test),
                words::count(run.runs, "run"),
                words::fixed(run.missed_K, 1),
                words::fixed(run.off_K, 1)
            ),
        );
    }
    let chains = fit.chains;
    paragraph(
        out,
        PLAIN,
        &format!(
            "{} chains of {} steps with fixed seeds; {:.0} % of the steps taken; worth {:.0} draws (400 at least), split-chain agreement {:.3} (1.05 at most).",
            chains.chains,
            chains.steps,
            100.0 * chains.accepted,
            chains.effective,
            chains.agreement
        ),
    );
    if let (Some(chains), Some(after)) =
        (&fit.least_by_chains_K, fit.after.as_ref().and_then(|after| after.least_K))
    {
        paragraph(
            out,
            PLAIN,
            &format!("Least margin by the chains {}, by the fitted case {}.", told(chains), told(&after)),
        );
    }
}

/// "as it is", "3 K more": what the least margin would be.
fn more(kelvin: f64) -> String {
    match words::whole(kelvin.abs()) {
        nothing if nothing == "0" => "as it is".to_string(),
        size if kelvin > 0.0 => format!("{size} K more"),
        size => format!("{size} K less"),
    }
}

/// "27 guesses".
fn guesses(count: usize) -> String {
    if count == 1 { "1 guess".to_string() } else { format!("{count} guesses") }
}
