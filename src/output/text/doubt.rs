//! How much of an answer rests on guesses, and which of them.

use super::layout::{Cell, Column, PLAIN, QUIET, STRONG, Table, heading, item, paragraph};
use super::{frame, words};
use crate::study::budget::LEFT_OUT;
use crate::study::doubt::draws::digit;
use crate::study::doubt::result::{Band, Doubt, WORTH_SAYING};
use crate::study::doubt::shares::{Ranking, Worth};
use crate::study::result::Report;

/// So many guesses are shown; the rest is counted.
const ROWS: usize = 8;
/// What is worth less than this (K) decides nothing.
const NEXT_TO_NOTHING: f64 = 0.5;
/// Share of the band by which middle and value taken must differ for both to be said.
const FIFTH: f64 = 0.2;
/// How often a least margin must be a part's for it to be said to decide.
const DECIDES: f64 = 0.25;

/// What decides: each guess, its band, and what would be left if it were known.
pub fn doubt(report: &Report, ranking: Option<&Ranking>, detail: bool) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    let Some(found) = &report.doubt else {
        let left_out = report.warnings.iter().any(|warning| warning.code == LEFT_OUT);
        let text = match left_out {
            true => "How much of the answer rests on guesses is not known.",
            false => "Nothing in this case is a guess: no number has a band.",
        };
        frame::verdict(&mut out, text, false);
        return out;
    };
    write(&mut out, least_in_conditions(report), found);
    if let Some(ranking) = ranking {
        table(&mut out, ranking, detail);
    }
    paragraph(&mut out, QUIET, "How often is what is not known of this one car, not luck from lap to lap.");
    frame::cautions(&mut out, report.conditions.iter().any(|condition| !condition.fans.is_empty()));
    out
}

/// The same in two sentences, under a verdict.
pub(super) fn beside(out: &mut String, report: &Report) {
    if let Some(found) = &report.doubt {
        write(out, least_in_conditions(report), found);
        out.push('\n');
    }
}

/// The same of a sweep, `taken` the least margin of it.
pub(super) fn beside_sweep(out: &mut String, taken: f64, found: &Doubt) {
    write(out, taken, found);
    out.push('\n');
}

fn write(out: &mut String, taken: f64, found: &Doubt) {
    runs_back(out, found);
    paragraph(out, STRONG, &sentence(taken, found));
    remarks(out, found);
}

fn least_in_conditions(report: &Report) -> f64 {
    let parts = report.conditions.iter().flat_map(|condition| &condition.parts);
    parts.map(|part| part.temperature_margin_K).fold(f64::INFINITY, f64::min)
}

/// "+6 K with the values taken; not measured yet, so −30 to +10 K. All parts stay cool: 3 in 10 (barrels in the
/// straight decide)."
fn sentence(taken: f64, found: &Doubt) -> String {
    let held = format!("All parts stay cool: {}{}.", how_often(found.all_hold), decides(found));
    match found.least_K {
        Some(band) => {
            let middle = if (band.p50 - taken).abs() > FIFTH * (band.p95 - band.p05) {
                let middle = signed(band.p50, digit(band.p95 - band.p05));
                let towards = (band.p50 - taken).signum();
                let pulled = found.pulls.iter().filter(|pull| pull.moves_K.signum() == towards);
                let by: Vec<String> = pulled.take(2).map(|pull| pull.address.clone()).collect();
                match by.is_empty() {
                    true => format!(", the middle {middle}"),
                    false => format!(", the middle {middle} (pulled there by {})", words::list(&by)),
                }
            } else {
                String::new()
            };
            let (low, high) = ends(&band);
            format!(
                "Least margin {} with the values taken; not all of them are measured, so {low} to {high}{middle}. {held}",
                signed(taken, 1.0)
            )
        }
        None => held,
    }
}

fn decides(found: &Doubt) -> String {
    if found.all_hold > 0.95 {
        return String::new();
    }
    let often: Vec<String> = found
        .decides
        .iter()
        .take(2)
        .filter(|each| each.share >= DECIDES)
        .map(|each| format!("{} {}", each.part, place(&each.condition, each.speed_m_s)))
        .collect();
    if often.is_empty() { String::new() } else { format!(" ({} decide)", words::list(&often)) }
}

/// "in hairpin", "at 62 km/h".
fn place(condition: &str, speed: Option<f64>) -> String {
    match speed {
        Some(speed) => format!("at {}", words::speed(speed)),
        None => format!("in {}", words::name(condition)),
    }
}

/// What is said before all else: where two cars alike on paper may differ altogether.
fn runs_back(out: &mut String, found: &Doubt) {
    for back in found.runs_back.iter().filter(|back| (0.1..=0.9).contains(&back.likelihood)) {
        let text = format!(
            "{} the air runs back through {} in {}: there two cars alike on paper differ most.",
            words::sentence(&place(&back.condition, back.speed_m_s)),
            words::name(&back.passage),
            how_often(back.likelihood)
        );
        paragraph(out, PLAIN, &text);
    }
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

fn table(out: &mut String, ranking: &Ranking, detail: bool) {
    heading(out, "What knowing it would leave of the band");
    let now = words::whole(ranking.half_band_K);
    paragraph(out, QUIET, &format!("Half of the least margin's band is {now} K now."));
    let counts: Vec<&Worth> =
        ranking.shares.iter().filter(|worth| worth.worth_K >= NEXT_TO_NOTHING).collect();
    let shown = if detail { counts.len() } else { counts.len().min(ROWS) };
    let mut rows = Table::new(vec![
        (Column::Wrapped, "guess".to_string()),
        (Column::Right, "taken".to_string()),
        (Column::Left, "band".to_string()),
        (Column::Right, "would leave".to_string()),
        (Column::Left, String::new()),
    ]);
    for worth in &counts[..shown] {
        let more = worth.input.addresses.len() - 1;
        let others = if more > 0 { format!(" and {more} more") } else { String::new() };
        let (value, band) =
            super::defaults::value_and_band(&worth.input.value, &worth.input.low, &worth.input.high);
        let equal = if worth.about_equal { "about equal" } else { "" };
        rows.row(vec![
            Cell::from(format!("{}{others}", worth.address)),
            Cell::from(value),
            Cell::from(band),
            Cell::from(format!("± {} K", words::whole(worth.leaves_K))),
            Cell::from(equal),
        ]);
    }
    rows.write(out);
    for worth in counts.iter().take(3) {
        item(out, 0, "  ", &format!("{}: {}", worth.address, worth.measure));
    }
    let rest = ranking.shares.len() - shown;
    if rest > 0 {
        paragraph(
            out,
            QUIET,
            &format!("{rest} more guesses leave as much as now or nearly so: --detail, --json"),
        );
    }
    out.push('\n');
}

/// A share in tenths, never finer.
pub(super) fn how_often(share: f64) -> String {
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

/// Both ends of a band to its step.
fn ends(band: &Band) -> (String, String) {
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
        assert_eq!(ends(&Band { p05: -2.0, p50: 0.0, p95: 100.0 }).0, "0");
    }
}
