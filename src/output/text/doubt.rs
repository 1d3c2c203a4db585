//! How much of an answer rests on guesses, and which of them.

use super::layout::{PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph};
use super::short::{self, Depth};
use super::{address, beyond, frame, words};
use crate::draws::doubt::{Doubt, RunsBack, WORTH_SAYING};
use crate::draws::tally::digit;
use crate::output::ranking::{Ranks, ranked};
use crate::point::budget::LEFT_OUT;
use crate::point::result::Band;
use crate::readings::operator::ReadingKind;
use crate::study::document::Report;
use crate::study::doubt::measure::{AskedMargin, MarginsAsked};
use crate::study::doubt::shares::Ranked;
use crate::study::doubt::worth::{Next, ReadingWorth};

/// Share of what the middle is off by that a guess must explain to be named.
const TENTH: f64 = 0.1;
/// So many guesses are shown; the rest is counted.
const ROWS: usize = 10;
/// Of so many it is said how to measure them.
const HOW: usize = 3;
/// Rows on a short screen.
const FEW: usize = 7;
/// Share of the band by which middle and value taken must differ for both to be said.
const FIFTH: f64 = 0.2;
/// How often a least margin must be a part's for it to be said to decide.
const DECIDES: f64 = 0.25;

/// What decides: each guess, its band, and what would be left if it were known.
pub fn doubt(report: &Report, depth: Depth, written: &[String]) -> String {
    let mut out = String::new();
    short::begin(&mut out, report, "what decides", depth);
    let Some(found) = &report.doubt else {
        let left_out = report.warnings.iter().any(|warning| warning.code == LEFT_OUT);
        let text = match left_out {
            true => "How much of the answer rests on guesses is not known.",
            false => "Nothing in this case is a guess: no number has a band.",
        };
        frame::verdict(&mut out, text, false);
        return out;
    };
    write(&mut out, &least_in_conditions(report), found);
    if let Some(by) = &report.ranked {
        table(&mut out, report, by, depth);
    }
    if let Some(fire) = short::foot::fire(&report.conditions) {
        item(&mut out, 0, "Mind  ", &fire);
    }
    paragraph(&mut out, QUIET, "How often is what is not known of this one car, not luck from lap to lap.");
    if depth == Depth::Short {
        short::end(&mut out, written, "Every guess and reading, and how each is taken: --detail, --all");
        return out;
    }
    frame::written(&mut out, written);
    frame::cautions(&mut out, report.conditions.iter().any(|condition| !condition.fans.is_empty()));
    out
}

/// The same in two sentences, under a verdict.
pub(super) fn beside(out: &mut String, report: &Report) {
    if let Some(found) = &report.doubt {
        write(out, &least_in_conditions(report), found);
        out.push('\n');
    }
}

/// The same in one sentence, for a short screen; where the air may run either way first.
pub(super) fn short(out: &mut String, report: &Report) {
    let Some(found) = &report.doubt else { return };
    back_sentences(found).for_each(|text| paragraph(out, PLAIN, &text));
    let held = how_often(found.all_hold);
    let over = least_in_conditions(report).kelvin < -0.5;
    let text = match (found.least_K, found.all_hold > 0.95) {
        (_, true) if over => format!(
            "Drawn from what is guessed, all parts stay cool: {held}. So a value taken lies at the end of its band: slowcorner doubt tells which."
        ),
        (_, true) => format!("Drawn from what is guessed, all parts stay cool: {held}."),
        (Some(_), false) => sentence(&least_in_conditions(report), found),
        (None, false) => {
            format!("Drawn from what is guessed, all parts stay cool: {held}{}.", decides(found))
        }
    };
    paragraph(out, STRONG, &text);
}

/// The same of a sweep, `taken` the least margin of it.
pub(super) fn beside_sweep(out: &mut String, taken: f64, found: &Doubt) {
    write(out, &ValuesTaken::plain(taken), found);
    out.push('\n');
}

/// The same of runs in time: what they rest on.
pub(super) fn beside_runs(out: &mut String, found: &Doubt) {
    remarks(out, found);
    paragraph(out, QUIET, &format!("How often, and 9 in 10: from {} draws of what is guessed.", found.draws));
}

fn write(out: &mut String, taken: &ValuesTaken, found: &Doubt) {
    back_sentences(found).for_each(|text| paragraph(out, PLAIN, &text));
    paragraph(out, STRONG, &sentence(taken, found));
    remarks(out, found);
}

/// The same as sentences: where the air may run back first, then the margin and how often all holds.
pub(in crate::output) fn sentences(report: &Report, found: &Doubt) -> Vec<String> {
    let mut all: Vec<String> = back_sentences(found).collect();
    all.push(sentence(&least_in_conditions(report), found));
    all
}

/// The least margin with the values taken, and how it is told.
struct ValuesTaken {
    kelvin: f64,
    told: String,
}

impl ValuesTaken {
    fn plain(kelvin: f64) -> ValuesTaken {
        ValuesTaken { kelvin, told: signed(kelvin, 1.0) }
    }
}

fn least_in_conditions(report: &Report) -> ValuesTaken {
    let parts = report.conditions.iter().flat_map(|condition| &condition.parts);
    let least = parts.min_by(|a, b| a.temperature_margin_K.total_cmp(&b.temperature_margin_K));
    let Some(least) = least else { return ValuesTaken::plain(f64::INFINITY) };
    let kelvin = least.temperature_margin_K;
    match beyond::is_lost(&report.conditions, &least.name, least.temperature_C, least.limit_C) {
        true => ValuesTaken { kelvin, told: beyond::BEYOND.to_string() },
        false => ValuesTaken::plain(kelvin),
    }
}

/// "+6 K with the values taken; not measured yet, so −30 to +10 K. All parts stay cool: 3 in 10 (barrels in the
/// straight decide)."
fn sentence(taken: &ValuesTaken, found: &Doubt) -> String {
    let held = format!("All parts stay cool: {}{}.", how_often(found.all_hold), decides(found));
    match found.least_K {
        Some(band) => {
            let middle = if (band.p50 - taken.kelvin).abs() > FIFTH * (band.p95 - band.p05) {
                let middle = signed(band.p50, digit(band.p95 - band.p05));
                let off = band.p50 - taken.kelvin;
                // a guess that moves next to nothing of it explains nothing
                let pulled = found.pulls.iter().filter(|pull| pull.moves_K / off >= TENTH);
                let by: Vec<String> = pulled.take(2).map(|pull| address::in_words(&pull.address)).collect();
                match by.is_empty() {
                    true if off < 0.0 => {
                        format!(
                            ", the middle {middle} (the least of all margins lies lower than each by itself)"
                        )
                    }
                    true => format!(", the middle {middle}"),
                    false => format!(", the middle {middle} (pulled there by {})", words::list(&by)),
                }
            } else {
                String::new()
            };
            let (low, high) = ends(&band);
            format!(
                "Least margin {} with the values taken; not all of them are measured, so {low} to {high}{middle}. {held}",
                taken.told
            )
        }
        None => held,
    }
}

fn decides(found: &Doubt) -> String {
    if found.all_hold > 0.95 {
        return String::new();
    }
    let often = || found.decides.iter().take(2).filter(|each| each.share >= DECIDES);
    let decide = match (often().count(), often().next()) {
        (1, Some(only)) if !words::is_plural(&only.part) => "decides",
        _ => "decide",
    };
    let often: Vec<String> =
        often().map(|each| format!("{} {}", each.part, place(&each.condition, each.speed_m_s))).collect();
    if often.is_empty() { String::new() } else { format!(" ({} {decide})", words::list(&often)) }
}

/// "in hairpin", "at 62 km/h".
fn place(condition: &str, speed: Option<f64>) -> String {
    match speed {
        Some(speed) => format!("at {}", words::speed(speed)),
        None => format!("in {}", words::name(condition)),
    }
}

/// What is said before all else: where two cars alike on paper may differ altogether.
fn back_sentences(found: &Doubt) -> impl Iterator<Item = String> {
    let mut passages: Vec<(&str, Vec<&RunsBack>)> = Vec::new();
    for back in found.runs_back.iter().filter(|back| (0.1..=0.9).contains(&back.likelihood)) {
        match passages.iter_mut().find(|(name, _)| *name == back.passage) {
            Some((_, own)) => own.push(back),
            None => passages.push((&back.passage, vec![back])),
        }
    }
    passages.into_iter().map(|(passage, own)| {
        let passage = words::name(passage);
        let at = |back: &RunsBack| place(&back.condition, back.speed_m_s);
        let often = match own[..] {
            [back] => format!(
                "{} the air runs back through {passage} in {}",
                words::sentence(&at(back)),
                how_often(back.likelihood)
            ),
            _ => {
                let each: Vec<String> =
                    own.iter().map(|back| format!("{} {}", how_often(back.likelihood), at(back))).collect();
                format!("The air runs back through {passage}: {}", words::list(&each))
            }
        };
        format!("{often}: there two cars alike on paper differ most.")
    })
}

/// What is said beside the band.
fn remarks(out: &mut String, found: &Doubt) {
    if found.least_K.is_none() {
        let text = format!(
            "No band is shown: {} of {} draws found no steady state; they count as not holding.",
            words::whole(found.unsolved * found.draws as f64),
            found.draws
        );
        paragraph(out, PLAIN, &text);
    }
    if found.heat_shrunk > WORTH_SAYING {
        let text = format!(
            "In {} the guessed shares of heat and the brake power come to more than the fuel: the shares then shrink in proportion.",
            how_often(found.heat_shrunk)
        );
        paragraph(out, PLAIN, &text);
    }
}

/// What measuring would leave: guesses and readings in one list.
fn table(out: &mut String, report: &Report, by: &Ranked, depth: Depth) {
    heading(out, "What to measure first");
    let places = |list: &[AskedMargin]| {
        let all: Vec<String> =
            list.iter().map(|of| format!("{} in {}", of.part, words::name(&of.condition))).collect();
        words::list(&all)
    };
    let now = format!("± {} K", words::whole(by.half_band_K));
    let of = if by.is == MarginsAsked::All { "all parts and conditions".to_string() } else { places(&by.of) };
    paragraph(out, QUIET, &format!("Half the band now: {now}, of the least margin of {of}."));
    if !by.lost.is_empty() && by.is != MarginsAsked::All {
        let text = format!(
            "Over the limit whatever is measured: {}. That wants other openings, a fan or a cooler.",
            places(&by.lost)
        );
        paragraph(out, PLAIN, &text);
    }
    if !by.too_hot.is_empty() {
        let names: Vec<String> = by.too_hot.iter().map(|moment| words::name(moment).to_string()).collect();
        let text = format!(
            "No temperatures are read in {}: some part is more likely over its limit there than not. A pressure takes seconds.",
            words::list(&names)
        );
        paragraph(out, PLAIN, &text);
    }
    let all = ranked(report);
    let (rows, how) = match depth {
        Depth::Short => (FEW, 1),
        Depth::Detail => (ROWS, HOW),
        Depth::All => (usize::MAX, HOW),
    };
    let shown = all.len().min(rows);
    let mut list = TextTable::new(vec![
        (TextColumn::Wrapped, "guess, or reading".to_string()),
        (TextColumn::Right, "taken".to_string()),
        (TextColumn::Left, "band".to_string()),
        (TextColumn::Right, "would leave".to_string()),
        (TextColumn::Left, String::new()),
    ]);
    for (each, equal) in &all[..shown] {
        let (value, band) = match each {
            Ranks::Guess(worth) => {
                super::defaults::value_and_band(&worth.input.value, &worth.input.low, &worth.input.high)
            }
            Ranks::Reading(worth) => (String::new(), shows(worth)),
        };
        list.row(vec![
            TextCell::from(each.told()),
            TextCell::from(value),
            TextCell::from(band),
            TextCell::from(format!("± {} K", words::whole(each.left().leaves_K))),
            TextCell::from(if *equal { "about equal" } else { "" }),
        ]);
    }
    list.write(out);
    for (each, _) in all.iter().take(how) {
        let how = match each {
            Ranks::Guess(worth) => format!("{}. Takes {}.", worth.measure, worth.takes),
            Ranks::Reading(worth) => format!("{}. Takes {}.", worth.how, worth.takes),
        };
        let what = match depth {
            Depth::Short => each.told(),
            _ => each.name(),
        };
        item(out, 0, "  ", &format!("{what}: {how}"));
    }
    let rest = all.len() - shown;
    if rest > 0 {
        paragraph(out, QUIET, &format!("{rest} more leave nearly as much as now: --all, --json"));
    }
    let mut loads: Vec<String> = Vec::new();
    for (speed, load) in report.readings.iter().filter_map(|worth| Some((worth.speed_m_s?, worth.load?))) {
        let told = format!("{} at {} load", words::speed(speed), words::share(load));
        if !loads.contains(&told) {
            loads.push(told);
        }
    }
    if !loads.is_empty() {
        paragraph(out, QUIET, &format!("Drives: {}.", words::list(&loads)));
    }
    if let Some(next) = &report.next {
        paragraph(out, STRONG, &next_best(next));
    }
    out.push('\n');
}

/// The next best reading, and the next best two.
fn next_best(next: &Next) -> String {
    format!(
        "Next best single reading: {}, leaves ± {} K. Next best two: {} and {}, leave ± {} K.",
        next.one,
        words::whole(next.one_leaves_K),
        next.two[0],
        next.two[1],
        words::whole(next.two_leave_K)
    )
}

/// Unit in which a kind of reading is shown.
pub(super) fn unit(kind: ReadingKind) -> &'static str {
    if kind == ReadingKind::Pressure { "Pa" } else { "°C" }
}

/// Where a reading is likely to be.
fn shows(worth: &ReadingWorth) -> String {
    let unit = unit(worth.kind);
    worth.shows.map_or(String::new(), |band| {
        format!("{} to {} {unit}", words::whole(band.p05), words::whole(band.p95))
    })
}

/// A share in tenths, never finer.
pub(in crate::output) fn how_often(share: f64) -> String {
    match share {
        _ if share < 0.05 => "fewer than 1 in 20".to_string(),
        _ if share > 0.95 => "more than 19 in 20".to_string(),
        _ => format!("{} in 10", words::whole((10.0 * share).round().clamp(1.0, 9.0))),
    }
}

/// Kelvins with their sign, to a step.
fn signed(kelvin: f64, step: f64) -> String {
    let rounded = (kelvin / step).round() * step;
    if rounded > 0.0 {
        format!("+{} K", words::whole(rounded))
    } else {
        format!("{} K", words::whole(rounded))
    }
}

/// "−40 to +10 K".
pub(in crate::output) fn span(band: &Band) -> String {
    let (low, high) = ends(band);
    format!("{low} to {high}")
}

/// Both ends of a band to its step.
pub(super) fn ends(band: &Band) -> (String, String) {
    let step = digit(band.p95 - band.p05);
    let low = signed(band.p05, step);
    (low.trim_end_matches(" K").to_string(), signed(band.p95, step))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_told_in_tenths_and_no_finer() {
        for (share, words) in [
            (0.0, "fewer than 1 in 20"),
            (0.049, "fewer than 1 in 20"),
            (0.05, "1 in 10"),
            (0.34, "3 in 10"),
            (0.95, "9 in 10"),
            (0.951, "more than 19 in 20"),
        ] {
            assert_eq!(how_often(share), words);
        }
    }

    #[test]
    fn ends_go_in_steps_of_one_or_five() {
        assert_eq!(ends(&Band { p05: -31.0, p50: 0.0, p95: 11.2 }), ("−30".to_string(), "+10 K".to_string()));
        assert_eq!(ends(&Band { p05: -1.4, p50: 0.0, p95: 3.6 }), ("−1".to_string(), "+4 K".to_string()));
        assert_eq!(ends(&Band { p05: -2.0, p50: 0.0, p95: 90.0 }).0, "0");
        assert_eq!(
            ends(&Band { p05: -356.5, p50: 0.0, p95: -83.2 }),
            ("−355".to_string(), "−85 K".to_string())
        );
    }
}
