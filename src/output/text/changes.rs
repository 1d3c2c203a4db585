//! What changed between two cases.

use super::layout::{
    KEPT, MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph,
};
use super::words::{self, is_missed};
use super::{differences, frame};
use crate::point::result::OpeningRole;
use crate::study::changes::result::{Changes, Fate, MarginMoved, OpeningFate};
use crate::study::document::Report;

/// Moves smaller than this are told together in one line (K).
const TOLD: f64 = 0.5;
/// Causes told of each move.
const CAUSES: usize = 3;

/// What changed since an older case: openings, margins with what moved them, and the addresses.
pub fn changes(report: &Report, old: &str, changes: &Changes) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    frame::verdict(&mut out, &verdict(old, changes), changes.margins.iter().any(newly_missed));
    for trouble in &changes.trouble {
        paragraph(&mut out, STRONG, &format!("{}.", words::sentence(trouble)));
    }
    openings(&mut out, &changes.openings);
    margins(&mut out, &changes.margins);
    heading(&mut out, "Addresses that differ");
    if changes.differs.is_empty() {
        item(&mut out, 2, "", "none: the two are reckoned alike");
    }
    for line in differences::lines(&changes.differs) {
        item(&mut out, 2, "", &words::on_paper(&line));
    }
    if !changes.unmatched.is_empty() {
        heading(&mut out, "Only in one of the two");
        for other in &changes.unmatched {
            let side = if other.added { "new" } else { "gone" };
            item(&mut out, 2, "", &format!("{} {}: {side}, not compared", other.what, other.name));
        }
    }
    frame::cautions(&mut out, false);
    out
}

fn missed(margin: Option<f64>, is: crate::thermal::MarginIs) -> bool {
    is_missed(margin, is)
}

fn newly_missed(moved: &MarginMoved) -> bool {
    missed(moved.flow_margin_after, moved.margin_is) && !missed(moved.flow_margin_before, moved.margin_was)
}

pub(in crate::output) fn verdict(old: &str, changes: &Changes) -> String {
    if changes.differs.is_empty() {
        return format!("Nothing changed since {old}.");
    }
    let stay = changes.openings.iter().filter(|o| o.fate == OpeningFate::Stays).count();
    let mut parts = Vec::new();
    let names = |fate: OpeningFate| -> Vec<String> {
        changes.openings.iter().filter(|o| o.fate == fate).map(|o| called(o, &changes.openings)).collect()
    };
    if stay == changes.openings.len() {
        parts.push("every opening stays as it was".to_string());
    } else {
        parts
            .push(format!("{stay} of {} stay as they were", words::count(changes.openings.len(), "opening")));
        for (fate, told) in [
            (OpeningFate::MustGrow, "must grow"),
            (OpeningFate::MustShrink, "must shrink"),
            (OpeningFate::NotEnough, "not enough any more"),
            (OpeningFate::Gone, "gone"),
        ] {
            let names = names(fate);
            if !names.is_empty() {
                parts.push(format!("{told}: {}", words::list(&names)));
            }
        }
    }
    if let Some(most) = changes.margins.first().filter(|most| most.moved_K.abs() >= TOLD) {
        parts.push(format!(
            "the margin that moved most is {} in {}, {} ({} → {})",
            most.part,
            words::name(&most.condition),
            by(most.moved_K),
            words::margin(most.temperature_margin_before_K),
            words::margin(most.temperature_margin_after_K)
        ));
    }
    let newly: Vec<String> = changes
        .margins
        .iter()
        .filter(|moved| newly_missed(moved))
        .map(|moved| format!("{} in {}", moved.part, words::name(&moved.condition)))
        .collect();
    if !newly.is_empty() {
        parts.push(format!("missed now and kept before: {}", words::list(&newly)));
    }
    format!("Since {old}: {}.", parts.join("; "))
}

/// An opening by its passage, and which end of it where both are told.
fn called(opening: &Fate, all: &[Fate]) -> String {
    let alike = all.iter().filter(|other| other.passage == opening.passage).count();
    match opening.role {
        _ if alike < 2 => opening.passage.clone(),
        OpeningRole::Exit => format!("{} out", opening.passage),
        _ => format!("{} in", opening.passage),
    }
}

pub(in crate::output) fn by(kelvin: f64) -> String {
    if kelvin >= 0.0 {
        format!("{} wider", words::kelvins(kelvin))
    } else {
        format!("{} narrower", words::kelvins(-kelvin))
    }
}

fn openings(out: &mut String, fates: &[Fate]) {
    heading(out, "The openings of the older case on the newer body");
    let columns = [
        (TextColumn::Wrapped, "opening"),
        (TextColumn::Right, "was, cm²"),
        (TextColumn::Right, "drawn now"),
        (TextColumn::Right, "sized anew"),
        (TextColumn::Left, ""),
        (TextColumn::Wrapped, "short of what is asked"),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    let area = |area: Option<f64>| area.map_or("–".to_string(), words::square_centimetres);
    for fate in fates {
        let pieces = words::times(fate.pieces);
        let missed: Vec<String> =
            fate.missed.iter().map(|at| format!("{} in {}", at.part, words::name(&at.condition))).collect();
        let style = if fate.fate == OpeningFate::Stays { PLAIN } else { MISSED };
        let told = match (fate.fate, fate.sized_m2) {
            (OpeningFate::MustGrow | OpeningFate::MustShrink, Some(sized)) => {
                format!("{} by {} cm²", fate.fate, words::square_centimetres((sized - fate.before_m2).abs()))
            }
            (fate, _) => fate.to_string(),
        };
        table.row(vec![
            TextCell::new(
                STRONG,
                format!("{} {}", fate.passage, if fate.role == OpeningRole::Exit { "out" } else { "in" }),
            ),
            format!("{pieces}{}", words::square_centimetres(fate.before_m2)).into(),
            area(fate.drawn_m2).into(),
            area(fate.sized_m2).into(),
            TextCell::new(style, told),
            missed.join(", ").into(),
        ]);
    }
    table.write(out);
    let text = "An opening stays where the margins that hang on it are still reached with all openings as they were, or where \
                it is not free and others mend it. What \
                must change, must change together: the areas sized anew are of one set, and the least that will do.";
    paragraph(out, QUIET, text);
}

fn margins(out: &mut String, margins: &[MarginMoved]) {
    heading(out, "Margins that moved, and by what");
    let (told, quiet): (Vec<&MarginMoved>, Vec<&MarginMoved>) =
        margins.iter().partition(|moved| moved.moved_K.abs() >= TOLD);
    for moved in &told {
        let style = if missed(moved.flow_margin_after, moved.margin_is) { MISSED } else { STRONG };
        let head = format!(
            "{KEPT}{KEPT}{} in {}: {} → {}, {}",
            moved.part,
            words::name(&moved.condition),
            words::margin(moved.temperature_margin_before_K),
            words::margin(moved.temperature_margin_after_K),
            by(moved.moved_K)
        );
        paragraph(out, style, &head);
        item(out, 6, "", &causes(moved));
    }
    if told.is_empty() {
        item(out, 2, "", "none by as much as half a kelvin");
    } else if !quiet.is_empty() {
        item(
            out,
            2,
            "",
            &format!("{} moved by less than half a kelvin", words::count(quiet.len(), "other margin")),
        );
    }
}

fn causes(moved: &MarginMoved) -> String {
    let mut told: Vec<String> = moved
        .because
        .iter()
        .take(CAUSES)
        .map(|mover| format!("{} {}", mover.table, words::kelvins_signed(mover.moved_K)))
        .collect();
    if moved.because.len() > CAUSES {
        told.push(format!("{} more", moved.because.len() - CAUSES));
    }
    if told.is_empty() {
        return "no table moves it on its own".to_string();
    }
    if moved.together_K.abs() >= TOLD && moved.because.len() > 1 {
        told.push(format!("acting on each other {}", words::kelvins_signed(moved.together_K)));
    }
    format!("each on its own: {}", told.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ends_of_a_passage_are_told_apart() {
        let fate = |passage: &str, role| Fate {
            passage: passage.to_string(),
            role,
            pieces: 1.0,
            before_m2: 0.01,
            drawn_m2: None,
            sized_m2: None,
            fate: OpeningFate::NotEnough,
            missed: Vec::new(),
        };
        let all = [
            fate("oil cooler", OpeningRole::Inlet),
            fate("oil cooler", OpeningRole::Exit),
            fate("tail hole", OpeningRole::Exit),
        ];
        let told: Vec<String> = all.iter().map(|one| called(one, &all)).collect();
        assert_eq!(told, ["oil cooler in", "oil cooler out", "tail hole"]);
    }
}
