//! The tape card: A5, the strips large enough to be read at arm's length.

use super::page::PageWriter;
use super::scene::{Page, SheetItem, SheetLayer, Stroke, THIN};
use super::{Paper, SheetOrigin};
use crate::output::text::tape::{above, below, order, reading, verdict};
use crate::study::tape::result::Tape;

/// Edge that is left white (mm).
const EDGE: f64 = 7.0;
/// Width of the column of air temperatures (mm).
const AIR: f64 = 13.0;
/// Type of the strips, of the column's heads, of what gauges show, and of the rest (mm).
const STRIPS: f64 = 4.4;
const HEADS: f64 = 3.8;
const SHOWN: f64 = 2.1;
const REST: f64 = 2.3;

pub(super) fn card(tape: &Tape, origin: &SheetOrigin) -> Page {
    let (width, height) = Paper::A5.size();
    let mut writer = PageWriter::new(REST, height - EDGE, EDGE, width - 2.0 * EDGE);
    writer.write("Tape", 0.0, 6.0, true);
    writer.write(&format!("{} · {}", origin.title, origin.state), 0.0, 1.9, false);
    writer.write(&verdict(tape), 0.0, 3.2, true);
    above(tape).iter().for_each(|said| writer.said(said));
    writer.y -= 2.0;
    let room = (width - 2.0 * EDGE - AIR) / tape.columns.len().max(1) as f64;
    let column = |index: usize| EDGE + AIR + room * index as f64;
    let bold = Stroke::solid(0.5);
    writer.y -= HEADS;
    let y = writer.y;
    writer.items.push(SheetItem::bold((EDGE, y), HEADS, "air °C"));
    for (index, kind) in tape.columns.iter().enumerate() {
        writer.items.push(SheetItem::bold((column(index) + 1.0, y), HEADS, kind.column.to_string()));
    }
    writer.y -= 1.6;
    line(&mut writer, width, bold);
    for row in &tape.rows {
        let top = writer.y - STRIPS;
        writer.items.push(SheetItem::bold((EDGE, top), STRIPS, format!("{:.0}", row.air_C)));
        for (index, cell) in row.cells.iter().enumerate() {
            let x = column(index) + 1.0;
            writer.items.push(SheetItem::bold(
                (x, top),
                if order(cell).len() > 9 { 0.75 * STRIPS } else { STRIPS },
                order(cell),
            ));
            for (place, (shows, part)) in cell.shows.iter().zip(&tape.parts).enumerate() {
                let (part, text) = (&part.part, reading(shows));
                let at = (x, top - 1.15 * SHOWN * (place as f64 + 1.0) - 0.3);
                writer.items.push(SheetItem::text(at, SHOWN, format!("{part} {text}")));
            }
        }
        let told = row.cells.iter().map(|cell| cell.shows.len()).max().unwrap_or(0);
        writer.y -= STRIPS + 1.15 * SHOWN * told as f64 + 1.6;
        line(&mut writer, width, THIN);
    }
    let bottom = writer.y;
    let upright = |x: f64| SheetItem::line(SheetLayer::Marks, (x, y + HEADS), (x, bottom), THIN);
    let uprights: Vec<SheetItem> = (0..tape.columns.len()).map(|index| upright(column(index))).collect();
    writer.items.extend(uprights);
    below(tape).iter().for_each(|said| writer.said(said));
    Page { window: (0.0, 0.0, width, height), drawn: Vec::new(), framed: writer.items }
}

fn line(writer: &mut PageWriter, width: f64, stroke: Stroke) {
    let y = writer.y;
    writer.items.push(SheetItem::line(SheetLayer::Marks, (EDGE, y), (width - EDGE, y), stroke));
}
