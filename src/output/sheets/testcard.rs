//! The test card: one sheet for bench and road, in black and white, filled in with a pencil.

use super::page::PageWriter;
use super::scene::{Page, SheetItem, SheetLayer, Stroke, THIN, TextAnchor};
use super::{Paper, SheetOrigin};
use crate::output::scene::font::{FontWeight, width, wrap};
use crate::output::text::testcard as told;
use crate::output::text::words;
use crate::study::testcard::result::{Card, CardRun, Planned, RunWay, TuftShows};

/// Edge that is left white (mm).
const EDGE: f64 = 10.0;
/// Largest and smallest type (mm), and what it shrinks by until all fits.
const SIZES: (f64, f64, f64) = (3.3, 1.9, 0.97);
/// From line to line, in sizes of type.
const LEADING: f64 = 1.3;
/// Height and width of a box to be filled in (mm).
const BOX: (f64, f64) = (7.5, 19.0);
/// Left edges of the columns of a reading (mm from the edge): what, what it should show, boxes, suspects.
const COLUMNS: [f64; 4] = [0.0, 44.0, 76.0, 118.0];

/// The card, its type as large as lets all of it stand on one sheet.
pub(super) fn sheet(card: &Card, origin: &SheetOrigin) -> Page {
    let (width, height) = Paper::A4.size();
    let mut size = SIZES.0;
    loop {
        let mut sheet = TestCardSheet::new(size, width, height);
        sheet.write(card, origin);
        if sheet.writer.y >= EDGE || size * SIZES.2 < SIZES.1 {
            return Page { window: (0.0, 0.0, width, height), drawn: Vec::new(), framed: sheet.writer.items };
        }
        size *= SIZES.2;
    }
}

struct TestCardSheet {
    writer: PageWriter,
    size: f64,
    right: f64,
}

impl TestCardSheet {
    fn new(size: f64, width: f64, height: f64) -> TestCardSheet {
        let writer = PageWriter::new(size, height - EDGE, EDGE, width - 2.0 * EDGE);
        TestCardSheet { writer, size, right: width - EDGE }
    }

    fn write(&mut self, card: &Card, origin: &SheetOrigin) {
        let size = self.size;
        let top = self.writer.y;
        self.writer.write("Test card", 0.0, 2.0 * size, true);
        self.end((self.right, top - 2.4 * size), 1.7 * size, card.id.clone());
        self.writer.write(&format!("{} · {}", origin.title, origin.state), 0.0, 0.85 * size, false);
        self.writer.write(&told::verdict(card), 0.0, 1.05 * size, true);
        told::lost(card).iter().for_each(|text| self.writer.write(text, 0.0, size, false));
        self.writer.y -= 0.4 * size;
        self.day();
        self.rule(Stroke::solid(0.5));
        self.writer.write(&told::with(card), 0.0, size, false);
        for tap in &card.taps {
            let y = self.writer.y;
            self.writer.write(&tap.letter, 0.0, size, true);
            self.writer.y = y;
            self.writer.write(&format!("{}: {}", tap.what, tap.place), 3.0 * size, size, false);
        }
        for (index, run) in card.runs.iter().enumerate() {
            self.run(card, index + 1, run);
        }
        self.rule(Stroke::solid(0.5));
        self.writer.write(told::SIGNS, 0.0, 0.9 * size, false);
        card.coarse.iter().for_each(|coarse| self.writer.write(&told::too_coarse(coarse), 0.0, size, false));
        self.tufts(card);
        let stops: Vec<String> =
            card.stops.iter().map(|stop| format!("{} {:.0}", stop.what, stop.at_C)).collect();
        self.heading(&format!("STOP AT ONCE, °C: {}", stops.join(" · ")), 1.1 * size);
        self.writer.y -= 0.3 * size;
        told::CAUTIONS.iter().for_each(|caution| self.writer.write(caution, 0.0, 0.92 * size, false));
        self.writer.write(
            "An estimate: gauges, the engine maker's limits and a competent engineer come first. Written down as read, unit and all, into the readings file of the same number.",
            0.0,
            0.92 * size,
            false,
        );
        self.notes();
    }

    /// Lines for what else was seen, where room is left.
    fn notes(&mut self) {
        let step = 2.6 * self.size;
        if self.writer.y < EDGE + 3.0 * step {
            return;
        }
        self.writer.y -= 0.8 * self.size;
        self.heading("Seen, heard, smelt", self.size);
        while self.writer.y > EDGE + step {
            self.writer.y -= step;
            let y = self.writer.y;
            self.writer.items.push(SheetItem::line(SheetLayer::Marks, (EDGE, y), (self.right, y), THIN));
        }
    }

    /// Blanks for when and in what weather it was.
    fn day(&mut self) {
        self.blanks(&[
            ("date", 0.0),
            ("place", 0.17),
            ("air in the shade", 0.42),
            ("wind, from", 0.65),
            ("read by", 0.83),
        ]);
        self.writer.y -= 0.4 * self.size;
    }

    /// Words with a line behind each, from shares of the width on.
    fn blanks(&mut self, words: &[(&str, f64)]) {
        let size = self.size;
        self.writer.y -= 1.8 * size;
        let y = self.writer.y;
        let room = self.right - EDGE;
        for (index, (word, share)) in words.iter().enumerate() {
            let x = EDGE + share * room;
            let next = words.get(index + 1).map_or(self.right, |(_, share)| EDGE + share * room - 2.0);
            self.writer.items.push(SheetItem::text((x, y), size, *word));
            let from = x + width(word, size, FontWeight::Regular) + 1.0;
            self.writer.items.push(SheetItem::line(
                SheetLayer::Marks,
                (from, y - 0.4),
                (next, y - 0.4),
                THIN,
            ));
        }
        self.writer.y -= 0.4 * size;
    }

    fn run(&mut self, card: &Card, number: usize, run: &CardRun) {
        let size = self.size;
        self.rule(Stroke::solid(0.5));
        self.heading(&format!("{number} · {}", told::head(run)), 1.2 * size);
        self.writer.write(&told::how(card, run), 0.0, 0.95 * size, false);
        if run.way == RunWay::Rest {
            self.blanks(&[("really: rpm", 0.0), ("minutes", 0.3), ("air °C", 0.5), ("wind, from", 0.7)]);
        }
        if run.way == RunWay::Drive {
            self.blanks(&[
                ("really held: km/h", 0.0),
                ("load, or what the throttle was", 0.27),
                ("minutes", 0.68),
                ("air °C", 0.84),
            ]);
        }
        self.writer.y -= 0.4 * size;
        let boxes: &[&str] = match run.way {
            RunWay::Bench if run.hole_m.is_some() => &["p₀", "p₁"],
            RunWay::Bench => &["first", "second"],
            RunWay::Drive => &["there", "back"],
            _ => &["read"],
        };
        let y = self.writer.y - 0.9 * size;
        let heads = [
            (COLUMNS[0], "tap, what"),
            (COLUMNS[1], "should show, 9 in 10"),
            (COLUMNS[3], "outside it suspect first"),
        ];
        for (x, head) in heads {
            self.writer.items.push(SheetItem::text((EDGE + x, y), 0.8 * size, head));
        }
        for (place, name) in boxes.iter().enumerate() {
            let x = EDGE + COLUMNS[2] + (BOX.1 + 1.5) * place as f64;
            self.writer.items.push(SheetItem::text((x, y), 0.8 * size, *name));
        }
        self.writer.y = y - 0.3 * size;
        for planned in &run.readings {
            self.reading(card, planned, boxes.len());
        }
    }

    fn reading(&mut self, card: &Card, planned: &Planned, boxes: usize) {
        let size = self.size;
        let top = self.writer.y;
        let worth = format!("worth {} (no. {})", words::kelvins(planned.adds_K), planned.rank);
        let lines = [
            self.column(COLUMNS[0], COLUMNS[1] - 1.5, top, 1.15 * size, &planned.letter, true),
            self.column(COLUMNS[1], COLUMNS[2] - 1.5, top, 1.25 * size, &told::expected(planned), true),
            self.column(
                COLUMNS[3],
                self.right - EDGE,
                top,
                0.92 * size,
                &told::suspects(&planned.suspects),
                false,
            ),
        ];
        let below = self.column(COLUMNS[0], COLUMNS[1] - 1.5, lines[0], 0.92 * size, &planned.what, false);
        let worth = self.column(COLUMNS[1], COLUMNS[2] - 1.5, lines[1], 0.85 * size, &worth, false);
        for place in 0..boxes {
            let x = EDGE + COLUMNS[2] + (BOX.1 + 1.5) * place as f64;
            let (bottom, right) = (top - 0.8 - BOX.0, x + BOX.1);
            let corners =
                vec![(x, top - 0.8), (right, top - 0.8), (right, bottom), (x, bottom), (x, top - 0.8)];
            self.writer.items.push(SheetItem::Line {
                layer: SheetLayer::Marks,
                points: corners,
                stroke: Stroke::solid(0.35),
            });
            // what is read for a share are two pressures
            let tool = card.instruments.iter().find(|tool| tool.instrument == planned.instrument);
            let unit = match planned.unit {
                "share" => tool.map_or("", |tool| tool.unit),
                unit => unit,
            };
            self.writer.items.push(SheetItem::Text {
                layer: SheetLayer::Text,
                at: (right - 0.8, bottom + 0.9),
                size: 0.75 * size,
                bold: false,
                anchor: TextAnchor::End,
                text: unit.to_string(),
            });
        }
        let lowest = [below, worth, lines[2], top - 0.8 - BOX.0].into_iter().fold(f64::INFINITY, f64::min);
        self.writer.y = lowest - 0.5 * size;
    }

    /// A text in a column; gives how far down it goes.
    fn column(&mut self, left: f64, right: f64, top: f64, size: f64, text: &str, bold: bool) -> f64 {
        let weight = if bold { FontWeight::Bold } else { FontWeight::Regular };
        let mut y = top;
        for line in wrap(text, size, weight, right - left) {
            y -= LEADING * size;
            let at = (EDGE + left, y);
            self.writer.items.push(if bold {
                SheetItem::bold(at, size, line)
            } else {
                SheetItem::text(at, size, line)
            });
        }
        y
    }

    /// Tufts: openings down, moments across, a box to tick behind what is expected.
    fn tufts(&mut self, card: &Card) {
        let Some(first) = card.tufts.first() else { return };
        let size = self.size;
        self.writer.y -= 0.4 * size;
        let room = (self.right - EDGE - 46.0) / first.at.len().max(1) as f64;
        let x = |place: usize| EDGE + 46.0 + room * place as f64;
        self.writer.y -= LEADING * size;
        let y = self.writer.y;
        self.writer.items.push(SheetItem::bold((EDGE, y), size, "Tufts should lie"));
        for (place, tuft) in first.at.iter().enumerate() {
            self.writer.items.push(SheetItem::text((x(place), y), 0.85 * size, tuft.moment.clone()));
        }
        for row in &card.tufts {
            self.writer.y -= 1.45 * size;
            let y = self.writer.y;
            self.writer.items.push(SheetItem::text((EDGE, y), size, row.opening.clone()));
            for (place, tuft) in row.at.iter().enumerate() {
                let word = if tuft.shows == TuftShows::Unsure {
                    "UNSURE: IN   OUT".to_string()
                } else {
                    tuft.shows.to_string()
                };
                self.writer.items.push(SheetItem::bold((x(place) + 1.3 * size, y), size, word));
                let side = 0.95 * size;
                let (left, low) = (x(place), y - 0.1 * size);
                let corners = vec![
                    (left, low),
                    (left + side, low),
                    (left + side, low + side),
                    (left, low + side),
                    (left, low),
                ];
                self.writer.items.push(SheetItem::Line {
                    layer: SheetLayer::Marks,
                    points: corners,
                    stroke: THIN,
                });
            }
        }
        self.writer.y -= 0.5 * size;
    }

    fn heading(&mut self, text: &str, size: f64) {
        self.writer.write(text, 0.0, size, true);
    }

    fn rule(&mut self, stroke: Stroke) {
        self.writer.y -= 0.5 * self.size;
        let y = self.writer.y;
        self.writer.items.push(SheetItem::line(SheetLayer::Marks, (EDGE, y), (self.right, y), stroke));
        self.writer.y -= 0.1 * self.size;
    }

    fn end(&mut self, at: (f64, f64), size: f64, text: String) {
        self.writer.items.push(SheetItem::Text {
            layer: SheetLayer::Text,
            at,
            size,
            bold: true,
            anchor: TextAnchor::End,
            text,
        });
    }
}
