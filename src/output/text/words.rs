//! Figures in words, as a builder says them.

use crate::keys::figures;
pub(in crate::output) use crate::keys::figures::{
    area, count, fixed, in_a_row as list, sentence, share, speed, whole,
};
use crate::point::result::Condition;
use crate::point::speeds::LoadsOf;
use crate::study::sweep::result::Sweep;
use crate::thermal::MarginIs;

/// What the air's speed is called where it is lost at the end of a passage.
pub(in crate::output) const SPEED_LOST: &str = "speed lost";

/// "full load", "34 % load", "engine off": what a condition asks of the engine.
pub(in crate::output) fn load_at(condition: &Condition) -> String {
    match condition.rpm {
        rpm if rpm <= 0.0 => "engine off".to_string(),
        _ if condition.load >= 0.995 => "full load".to_string(),
        _ => format!("{} load", share(condition.load)),
    }
}

/// What an instrument shows: a share to hundredths, else whole.
pub(in crate::output) fn shown(value: f64, unit: &str) -> String {
    if unit == "share" { fixed(value, 2) } else { whole(value) }
}

/// Whole kelvins with their sign, and no sign where there are none.
pub(in crate::output) fn signed(kelvin: f64) -> String {
    match whole(kelvin) {
        size if kelvin > 0.0 && size != "0" => format!("+{size}"),
        size => size,
    }
}

/// A number with its sign and so many decimals, and no sign where nothing is left of it.
pub(in crate::output) fn signed_to(value: f64, decimals: usize) -> String {
    let size = fixed(value, decimals);
    if value > 0.0 && size.bytes().any(|byte| matches!(byte, b'1'..=b'9')) {
        format!("+{size}")
    } else {
        size
    }
}

/// "full load", "34 % load", "the load of the conditions (34 to 100 %)": what the car does at the speeds of a sweep.
pub(in crate::output) fn load_of(sweep: &Sweep) -> String {
    let percent = |load: f64| fixed(100.0 * load, 0);
    if let Some(load) = sweep.load {
        return if load >= 1.0 { "full load".to_string() } else { format!("{} % load", percent(load)) };
    }
    let loads = || sweep.points.iter().map(|point| point.load);
    let low = percent(loads().fold(f64::INFINITY, f64::min));
    let high = percent(loads().fold(f64::NEG_INFINITY, f64::max));
    let whose = if sweep.load_is == LoadsOf::Sweep {
        "the load that [sweep] gives"
    } else {
        "the load of the conditions"
    };
    if low == high { format!("{whose} ({high} %)") } else { format!("{whose} ({low} to {high} %)") }
}

/// "2 × " before what there are several of.
pub(in crate::output) fn times(pieces: f64) -> String {
    if pieces == 1.0 { String::new() } else { format!("{pieces} × ") }
}

/// Whole millimetres.
pub(in crate::output) fn millimetres(metres: f64) -> String {
    whole(1e3 * metres)
}

/// A pressure in whole pascals.
pub(in crate::output) fn pascals(value: f64) -> String {
    format!("{} Pa", whole(value))
}

/// Whole pascals, with words for less than one.
pub(in crate::output) fn few_pascals(value: f64) -> String {
    if value < 0.5 { "less than 1 Pa".to_string() } else { pascals(value) }
}

/// A temperature in whole degrees; of a limit that there is not, a word.
pub(in crate::output) fn celsius(value: f64) -> String {
    if value == f64::INFINITY {
        return "none".to_string();
    }
    figures::celsius(value)
}

/// Whole kelvins of a difference, in words where they would round to nothing.
pub(in crate::output) fn kelvins(size: f64) -> String {
    if size < 0.5 { "< 1 K".to_string() } else { format!("{} K", whole(size)) }
}

/// Whole kelvins of a move, with its sign.
pub(super) fn kelvins_signed(value: f64) -> String {
    match whole(value) {
        nothing if nothing == "0" => "< 1 K".to_string(),
        size if value > 0.0 => format!("+{size} K"),
        size => format!("{size} K"),
    }
}

/// The distance to a limit: `+12 K`, or `over by 8 K`.
pub(in crate::output) fn margin(kelvin: f64) -> String {
    if kelvin == f64::INFINITY {
        return "no limit".to_string();
    }
    if kelvin < 0.0 { format!("over by {}", kelvins(-kelvin)) } else { format!("+{} K", whole(kelvin)) }
}

/// Air against the air that is needed.
pub(in crate::output) fn air(flow_margin: Option<f64>, margin_is: MarginIs) -> String {
    match (margin_is, flow_margin) {
        (MarginIs::Unlimited, _) => "needs none".to_string(),
        (MarginIs::NoLimit, _) => MarginIs::NoLimit.to_string(),
        (MarginIs::Impossible, _) => "more of this air is no use".to_string(),
        (_, None) => "not known".to_string(),
        (_, Some(margin)) if margin > 1.0 => "more than twice the need".to_string(),
        (_, Some(margin)) if margin <= -0.995 => "next to no air".to_string(),
        (_, Some(margin)) => match (margin * 100.0).round() {
            0.0 if margin < 0.0 => "just short of the need".to_string(),
            0.0 => "just what it needs".to_string(),
            more if more > 0.0 => format!("{more:.0} % more air than needed"),
            less => format!("{:.0} % less air than needed", -less),
        },
    }
}

/// Whether a margin is missed.
pub(in crate::output) fn is_missed(flow_margin: Option<f64>, margin_is: MarginIs) -> bool {
    match margin_is {
        MarginIs::Impossible => true,
        MarginIs::Value => flow_margin.is_some_and(|margin| margin < 0.0),
        _ => false,
    }
}

/// Order of margins: what no air would mend, then figures, then what needs no air.
pub(in crate::output) fn rank(flow_margin: Option<f64>, margin_is: MarginIs) -> (u8, f64) {
    match margin_is {
        MarginIs::Impossible => (0, 0.0),
        MarginIs::Value => (1, flow_margin.unwrap_or(0.0)),
        _ => (2, 0.0),
    }
}

/// A mass flow in grams a second: whole from ten up, else to a tenth.
pub(in crate::output) fn grams(kg_s: f64) -> String {
    let grams = kg_s.abs() * 1e3;
    fixed(grams, if grams < 9.95 { 1 } else { 0 })
}

/// A power in kilowatts, to a tenth.
pub(in crate::output) fn kilowatts(watts: f64) -> String {
    fixed(watts / 1e3, 1)
}

/// Whole square centimetres.
pub(in crate::output) fn square_centimetres(m2: f64) -> String {
    whole(m2 * 1e4)
}

/// "field 817 cm², of it open 368 cm²": the area of a louvred field (m²) and the share of it that is open.
pub(in crate::output) fn louvred(field: f64, open: f64) -> String {
    format!("field {} cm², of it open {} cm²", square_centimetres(field), square_centimetres(field * open))
}

/// The name of a condition in a sentence: in quotation marks where its own words would run into it.
pub(in crate::output) fn name(name: &str) -> String {
    let runs_in = name.contains([',', ';', ':']) || name.contains(" and ") || name.contains(" in ");
    if runs_in { format!("\"{name}\"") } else { name.to_string() }
}

/// "412", of louvres "field 412, open 144": an area (m²) as it stands in a cell of cm².
pub(in crate::output) fn area_in_a_cell(area: f64, louvres: Option<f64>) -> String {
    match louvres {
        Some(open) => {
            format!("field {}, open {}", square_centimetres(area), square_centimetres(open * area))
        }
        None => square_centimetres(area),
    }
}

/// Units as a case file may write them, as they stand on paper.
pub(in crate::output) fn on_paper(text: &str) -> String {
    let mut paper = text.to_string();
    for (typed, printed) in
        [("degC", "°C"), ("kg/m3", "kg/m³"), ("m3/s", "m³/s"), ("cm3", "cm³"), ("cm2", "cm²")]
    {
        paper = paper.replace(typed, printed);
    }
    with_minus(&paper)
}

/// A hyphen before a number that stands by itself is a minus; one within a date, a range or a name stays.
fn with_minus(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = ' ';
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let alone = matches!(before, ' ' | '(' | '.') && rest.peek().is_some_and(char::is_ascii_digit);
        out.push(if c == '-' && alone { '−' } else { c });
        before = c;
    }
    out
}

/// "is" or "are", by the look of a name.
pub(in crate::output) fn is_or_are(name: &str) -> &'static str {
    if is_plural(name) { "are" } else { "is" }
}

/// Whether a name looks like several things.
pub(in crate::output) fn is_plural(name: &str) -> bool {
    name.ends_with('s') && !name.ends_with("ss")
}

/// Files as a list, one that was written in several forms named once: "car-exits.svg and .png".
pub(in crate::output) fn files(files: &[String]) -> String {
    let mut told: Vec<(&str, Vec<&str>)> = Vec::new();
    for file in files {
        let (stem, form) = file.rsplit_once('.').unwrap_or((file, ""));
        match told.last_mut() {
            Some((known, forms)) if *known == stem => forms.push(form),
            _ => told.push((stem, vec![form])),
        }
    }
    let each = told.iter().map(|(stem, forms)| {
        let more: String = forms[1..].iter().map(|form| format!(" and .{form}")).collect();
        if forms[0].is_empty() { (*stem).to_string() } else { format!("{stem}.{}{more}", forms[0]) }
    });
    each.collect::<Vec<_>>().join(", ")
}

/// A force: tenths where whole newtons would say little.
pub(in crate::output) fn newtons(force: f64) -> String {
    if force.abs() < 9.95 { format!("{} N", fixed(force, 1)) } else { format!("{} N", whole(force)) }
}
