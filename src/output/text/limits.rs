//! Limits: as they were typed, and what is left of them for the mean, from which margins are counted.

use super::words;
use crate::study::document::Report;

/// What is taken off and less than this goes without a word (K).
const WORTH_A_WORD: f64 = 0.5;

/// "208 °C": the limit of a part as it was typed; where that is not known, that for the mean.
pub(in crate::output) fn typed(report: &Report, part: &str, mean: f64) -> String {
    match report.limits.iter().find(|limit| limit.part == part) {
        Some(limit) => words::on_paper(&limit.typed),
        None => words::celsius(mean),
    }
}

/// "208 °C, 198 °C for the mean".
pub(in crate::output) fn in_full(report: &Report, part: &str, mean: f64) -> String {
    match report.limits.iter().find(|limit| limit.part == part) {
        Some(limit) if limit.off_K >= WORTH_A_WORD => {
            format!("{}, {} for the mean", words::on_paper(&limit.typed), words::celsius(mean))
        }
        _ => typed(report, part, mean),
    }
}

/// "Limits as typed; for the mean heads 198 °C and barrels 174 °C.": what is left where something is taken off for the hottest.
pub(in crate::output) fn for_the_mean(report: &Report) -> Option<String> {
    let off = report.limits.iter().filter(|limit| limit.off_K >= WORTH_A_WORD);
    let told: Vec<String> =
        off.map(|limit| format!("{} {}", limit.part, words::celsius(limit.mean_C))).collect();
    (!told.is_empty()).then(|| format!("Limits as typed; for the mean {}.", words::list(&told)))
}
