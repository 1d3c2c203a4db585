//! What the air really meets: slow air along the skin, leaks and hot air that the case says nothing of.

use super::layout::{QUIET, TextColumn, TextTable, heading, item, paragraph};
use super::words;
use crate::study::check::offers::{Cost, Offer};
use crate::study::check::stand_off::{StandOff, StandOffGain, StandOffStep};

/// What each ten millimetres of stand-off are worth; `detail` gives every condition.
pub(super) fn stand_off(out: &mut String, inlets: &[StandOff], detail: bool) {
    let told: Vec<&StandOff> = inlets.iter().filter(|inlet| !inlet.conditions.is_empty()).collect();
    if told.is_empty() {
        return;
    }
    heading(out, "What stand-off from the skin is worth");
    let mut keys: Vec<&str> = Vec::new();
    for inlet in &told {
        if detail {
            item(out, 2, "", &one(inlet));
            table(inlet).write(out);
        } else if !keys.contains(&inlet.key.as_str()) {
            // inlets of one place share its gap: the one that gains most speaks for all
            keys.push(&inlet.key);
            let same: Vec<&&StandOff> = told.iter().filter(|other| other.key == inlet.key).collect();
            let Some(most) = same.iter().max_by(|a, b| most_gained(a).total_cmp(&most_gained(b))) else {
                continue;
            };
            let others = same.iter().filter(|other| other.inlet != most.inlet);
            let others: Vec<String> = others.map(|other| short(&other.inlet).to_string()).collect();
            let too =
                if others.is_empty() { String::new() } else { format!("; less to {}", words::list(&others)) };
            item(out, 2, "", &format!("{}{too}", one(most)));
        }
    }
    if !detail {
        paragraph(out, QUIET, "each condition: --detail");
    }
}

/// What the first step adds (Pa).
fn gain(moved: &StandOffGain) -> f64 {
    moved.steps.first().map_or(0.0, |step| step.push_gain_Pa)
}

/// The most that the first step adds in any condition (Pa).
fn most_gained(inlet: &StandOff) -> f64 {
    inlet.conditions.iter().map(gain).fold(0.0, f64::max)
}

fn short(address: &str) -> &str {
    address.trim_start_matches("passage/")
}

/// An inlet in the condition in which ten millimetres do most.
fn one(inlet: &StandOff) -> String {
    let most = inlet.conditions.iter().max_by(|a, b| gain(a).total_cmp(&gain(b)));
    let name = short(&inlet.inlet);
    let Some(moved) = most else { return name.to_string() };
    let steps: Vec<String> = moved.steps.iter().map(gains).collect();
    let shared =
        if inlet.key.starts_with("place/") { format!(" (set {})", inlet.key) } else { String::new() };
    format!(
        "{name} in {}: the skin's slow air is {:.0} mm thick after {:.0} mm; {:.0} mm off it the opening meets {} of the \
         dynamic pressure; each 10 mm further out adds {}{shared}",
        words::name(&moved.condition),
        1e3 * moved.thickness_m,
        1e3 * inlet.run_m,
        1e3 * inlet.gap_m,
        words::share(moved.share),
        steps.join(", then ")
    )
}

/// "18 Pa (oil 2 K cooler)".
fn gains(step: &StandOffStep) -> String {
    let pressure = words::few_pascals(step.push_gain_Pa);
    match (&step.part, step.temperature_fall_K) {
        (Some(part), Some(kelvins)) if kelvins >= 0.5 => {
            format!("{pressure} ({part} {} cooler)", words::kelvins(kelvins))
        }
        (None, _) => format!("{pressure} (no steady state found)"),
        _ => pressure,
    }
}

fn table(inlet: &StandOff) -> TextTable {
    let mut columns = vec![
        (TextColumn::Wrapped, "condition".to_string()),
        (TextColumn::Right, "slow air".to_string()),
        (TextColumn::Right, "meets".to_string()),
    ];
    let steps = inlet.conditions.first().map_or(&[][..], |moved| &moved.steps);
    columns.extend(steps.iter().map(|step| (TextColumn::Left, format!("gap {:.0} mm", 1e3 * step.gap_m))));
    let mut table = TextTable::new(columns);
    for moved in &inlet.conditions {
        let mut row = vec![
            format!("  {}", moved.condition).into(),
            format!("{:.0} mm", 1e3 * moved.thickness_m).into(),
            words::share(moved.share).into(),
        ];
        row.extend(
            moved.steps.iter().map(|step| format!("{}, +{}", words::share(step.share), gains(step)).into()),
        );
        table.row(row);
    }
    table
}

/// What is usual and the case says nothing of, and what it would cost.
pub(super) fn unwritten(out: &mut String, offers: &[Offer]) {
    if offers.is_empty() {
        return;
    }
    heading(out, "Usual, not said in the case, and not reckoned in");
    for offer in offers {
        let what = offer.key.trim_start_matches("body/").replace('_', " ");
        let band = format!("{} to {}", offer.low, offer.high);
        let costs: Vec<String> = offer.costs.iter().map(cost).collect();
        let costs = match (offer.applies, costs.is_empty()) {
            (false, _) => "no condition is that slow".to_string(),
            (true, true) => "less than 1 K".to_string(),
            (true, false) => costs.join(", "),
        };
        item(out, 2, "", &format!("{what}, {} ({band}): {costs}", offer.word));
    }
    paragraph(
        out,
        QUIET,
        "To reckon with it: [body] leaks = \"sealed\" or \"unsealed\", hot_air_at_rest = \"usual\", hot_air_moving = \
         \"usual\", or what you measured; 0 for none, knowingly.",
    );
}

/// "heads +3 K in hairpin (1 to 6 K)".
fn cost(cost: &Cost) -> String {
    let band = match (cost.at_low_K, cost.at_high_K) {
        (Some(low), Some(high)) => format!(" ({} to {} K)", words::whole(low), words::whole(high)),
        _ => String::new(),
    };
    format!(
        "{} {} in {}{band}",
        cost.part,
        words::kelvins_signed(cost.temperature_rise_K),
        words::name(&cost.condition)
    )
}
