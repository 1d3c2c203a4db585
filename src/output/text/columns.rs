//! What can be cut first, what will do with the values taken, and what holds.

use super::address;
use super::doubt::how_often;
use super::layout::{PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, paragraph};
use super::words::{self, newtons};
use crate::draws::doubt::PartDecides;
use crate::output::text::words::area;
use crate::study::document::Report;
use crate::study::size::result::{self as r, Holds, Sizes, SizesColumn};

/// How often a part must be what is missed for it to be named.
const NAMED: f64 = 0.2;
/// Parts, and guesses, that are named.
const MOST: usize = 2;
/// An opening grows from one column to the next by more than this (m²) to be called larger.
const LARGER: f64 = 5e-5;

/// Under a verdict: how often it holds with the values taken, and what it takes to hold.
pub(super) fn beside(out: &mut String, report: &Report, sizes: &Sizes) {
    if let Some(text) = sentence(sizes) {
        paragraph(out, STRONG, &text);
        if let Some(text) = with_what_is_left_out(report, sizes) {
            paragraph(out, PLAIN, &text);
        }
        out.push('\n');
    }
}

/// "With queue too, which [size] does not name, 2 in 10 at the sizes of the values taken.", where that is another answer than the columns give.
fn with_what_is_left_out(report: &Report, sizes: &Sizes) -> Option<String> {
    let doubt = report.doubt.as_ref()?;
    let left =
        report.conditions.iter().map(|condition| &condition.name).filter(|name| !sizes.at.contains(name));
    let left: Vec<String> = left.map(|name| words::name(name)).collect();
    let often = how_often(doubt.all_conditions_hold);
    (!left.is_empty() && often != how_often(doubt.all_hold)).then(|| {
        format!(
            "With {} too, which [size] does not name, {often} at the sizes of the values taken.",
            words::list(&left)
        )
    })
}

/// "With the values taken 640 cm² will do: all parts stay cool 2 in 10. For 9 in 10 cut 790 cm²: 150 cm² and 4 N more."
fn sentence(sizes: &Sizes) -> Option<String> {
    let column = |wanted: SizesColumn| sizes.columns.iter().find(|column| column.column == wanted);
    let taken = column(SizesColumn::ValuesTaken)?;
    let often = often_at(sizes, taken);
    if let Some(text) = best_of_all(sizes) {
        return Some(text);
    }
    let mut text = if sizes.feasible {
        format!("With the values taken {} will do: all parts stay cool {often}.", area(taken.open_area_m2))
    } else {
        format!("With {} all parts stay cool {often}.", area(taken.open_area_m2))
    };
    // stopped by hand before
    let (Some(holds), Some(held)) = (&sizes.holds, column(SizesColumn::Holds)) else { return Some(text) };
    if holds.reached {
        let asked = how_often(holds.asked);
        if holds.more_area_m2 > LARGER {
            let drag = holds.more_drag_N.map_or(String::new(), |drag| format!(" and {}", newtons(drag)));
            text.push_str(&format!(
                " For {asked} cut {}: {}{drag} more.",
                area(held.open_area_m2),
                area(holds.more_area_m2)
            ));
        } else {
            text.push_str(&format!(" That is {asked}, and no more need be cut."));
        }
    } else {
        let because = because_of(&holds.because);
        let best = at_best(holds, held);
        text.push_str(&if holds.pointless_above_m2.is_some() {
            format!(
                " No opening makes this sure: at best {best}{because}; cutting more than {} buys nothing. Measure it, or change fan, cooler or limit.",
                area(held.open_area_m2)
            )
        } else {
            format!(
                " No opening that makes this sure was found, {best} at most{because}; but the search was stopped before its end. Measure it, or change fan, cooler or limit."
            )
        });
    }
    text.push_str(&rests_on(holds));
    Some(text)
}

/// Where nothing reaches every margin: "All parts stay cool 3 in 10 at best, with 1250 cm², because of oil in the hairpin. No
/// opening makes this sure, and cutting more buys nothing: …"
fn best_of_all(sizes: &Sizes) -> Option<String> {
    let holds = sizes
        .holds
        .as_ref()
        .filter(|holds| !sizes.feasible && !holds.reached && holds.pointless_above_m2.is_some())?;
    let held = sizes.columns.iter().find(|column| column.column == SizesColumn::Holds)?;
    Some(format!(
        "All parts stay cool {} at best, with {}{}. No opening makes this sure, and cutting more buys nothing: measure it, or change fan, cooler or limit.{}",
        at_best(holds, held),
        area(held.open_area_m2),
        because_of(&holds.because),
        rests_on(holds)
    ))
}

/// "3 in 10" at the sizes of the last column; the tenth that is asked for only just not.
fn at_best(holds: &Holds, held: &r::SizesInDraws) -> String {
    let best = how_often(held.all_hold);
    if best == how_often(holds.asked) { format!("a little short of {best}") } else { best }
}

/// "3 in 10" at the sizes of a column; where what is asked for reads the same and is not reached, that is said.
fn often_at(sizes: &Sizes, column: &r::SizesInDraws) -> String {
    let often = how_often(column.all_hold);
    match &sizes.holds {
        Some(holds) if column.all_hold < holds.asked && often == how_often(holds.asked) => {
            format!("nearly {often}")
        }
        _ => often,
    }
}

/// ", because of barrels in straight and oil at 62 km/h", where anything is named.
fn because_of(because: &[PartDecides]) -> String {
    let often = because.iter().take(MOST).filter(|each| each.share >= NAMED);
    let each = often.map(|each| match each.speed_m_s {
        Some(speed) => format!("{} at {}", each.part, words::speed(speed)),
        None => format!("{} in {}", each.part, words::name(&each.condition)),
    });
    match words::list(&each.collect::<Vec<_>>()) {
        named if named.is_empty() => named,
        named => format!(", because of {named}"),
    }
}

/// " What decides the difference: fan curve and leaks.", where anything does.
fn rests_on(holds: &Holds) -> String {
    let each = holds.rests_on.iter().take(MOST).filter_map(|each| each.addresses.first());
    match words::list(&each.map(|each| address::in_words(each)).collect::<Vec<_>>()) {
        named if named.is_empty() => named,
        named => format!(" What decides the difference: {named}."),
    }
}

/// The columns side by side.
pub(super) fn table(out: &mut String, sizes: &Sizes) {
    if sizes.columns.is_empty() {
        return;
    }
    heading(out, "What to cut, cm² of one");
    let mut columns =
        vec![(TextColumn::Wrapped, "opening".to_string()), (TextColumn::Right, "drawn".to_string())];
    columns.extend(sizes.columns.iter().map(|column| {
        let head = match (column.column, &sizes.holds) {
            (SizesColumn::Holds, Some(holds)) if holds.reached => format!("holds {}", how_often(holds.asked)),
            (SizesColumn::Holds, Some(_)) => format!("at best {}", how_often(column.all_hold)),
            (name, _) => name.to_string(),
        };
        (TextColumn::Right, head)
    }));
    let mut table = TextTable::new(columns);
    for opening in &sizes.openings {
        // of louvres the field is what is cut out, and what of it is open stands beside
        let area = |area: f64| words::area_in_a_cell(area, opening.louvres);
        let mut cells = vec![TextCell::new(STRONG, &opening.name), area(opening.before_m2).into()];
        cells.extend(sizes.columns.iter().map(|column| {
            let found = column.areas_m2.get(&opening.name);
            TextCell::from(found.map_or(String::new(), |found| area(*found)))
        }));
        table.row(cells);
    }
    let row = |table: &mut TextTable, name: &str, cell: &dyn Fn(&r::SizesInDraws) -> String| {
        let mut cells = vec![TextCell::new(PLAIN, name), TextCell::from(String::new())];
        cells.extend(sizes.columns.iter().map(|column| TextCell::from(cell(column))));
        table.row(cells);
    };
    row(&mut table, "drag", &|column| column.drag_N.map_or(String::new(), newtons));
    row(&mut table, "all stay cool", &|column| often_at(sizes, column));
    table.write(out);
    let flat = sizes.holds.as_ref().map_or(&[][..], |holds| &holds.flat);
    if !flat.is_empty() {
        let text = format!(
            "{} could be smaller for all the draws say: the likelihood is flat there.",
            words::list(flat)
        );
        paragraph(out, PLAIN, &text);
    }
    paragraph(out, QUIET, how_to_begin(sizes));
    out.push('\n');
}

/// What the first column is for.
fn how_to_begin(sizes: &Sizes) -> &'static str {
    match &sizes.holds {
        Some(holds) if holds.is_hopeless() => {
            "Cut nothing by these yet: with none of them does it stay cool. Change fan, cooler or limit first, and size again."
        }
        _ => {
            "Cut the first column at once: hardly any car needs less. Then measure, and go on to the line that it asks for."
        }
    }
}

/// "1 mm all round: heads ± 2 cm², 1 K; left exit ± 6 cm², less than 1 K."
pub(super) fn hand_cut(out: &mut String, sizes: &Sizes) {
    let each = sizes.hand_cut.iter().map(|cut| {
        let moved = [cut.larger_K, cut.smaller_K].into_iter().flatten().map(f64::abs).fold(0.0, f64::max);
        let moved = if moved < 0.5 { "less than 1 K".to_string() } else { words::kelvins(moved) };
        format!("{} ± {} cm², {moved}", cut.opening, words::fixed(1e4 * cut.area_m2, 1))
    });
    let each: Vec<String> = each.collect();
    if !each.is_empty() {
        let text = format!(
            "Cut 1 mm further out all round, and what that moves the least margin by: {}.",
            each.join("; ")
        );
        paragraph(out, PLAIN, &text);
    }
}
