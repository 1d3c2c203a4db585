//! How warm may the day be? The demo buggy, five degrees warmer at a time, until a part is over its limit.
//!
//! `cargo run --example hotter_days`

use slowcorner::{CaseError, CaseFile, ConditionAnswer};

/// The part that keeps least, with its condition.
fn least(conditions: &[ConditionAnswer]) -> Option<(String, f64)> {
    let margins = conditions.iter().flat_map(|condition| {
        condition
            .parts
            .iter()
            .filter_map(move |part| Some((format!("{} in {}", part.name, condition.name), part.margin_K?)))
    });
    margins.min_by(|a, b| a.1.total_cmp(&b.1))
}

pub fn main() -> Result<(), CaseError> {
    let case = CaseFile::read(include_str!("../../cases/stubble-buggy.toml"))?;
    for degrees in (15..=45).step_by(5) {
        let day = case.with(&[("day/temperature", &format!("{degrees} degC"))])?;
        let Some((what, kelvins)) = least(&day.solve()?) else { break };
        println!("{degrees} °C: {what} keeps {kelvins:.0} K");
        if kelvins < 0.0 {
            break;
        }
    }
    Ok(())
}
