//! A page in words: as large as it fits on the paper.

use super::scene::{Page, SheetItem, SheetLayer, THIN};
use super::{Paper, SheetOrigin};
use crate::output::scene::font::{FontWeight, wrap};
use crate::output::text::said::Said;

/// Edge that is left white (mm): room for a punch and a thumb.
const EDGE: f64 = 12.0;
/// Largest and smallest type (mm), and what it shrinks by until all fits.
const SIZES: (f64, f64, f64) = (4.2, 2.0, 0.96);
/// From line to line, in sizes of type.
const LEADING: f64 = 1.3;
/// Room for the word before what is said of it, in sizes of type.
const WORD: f64 = 4.8;

/// Writes from the top of a page downwards.
pub(super) struct PageWriter {
    pub items: Vec<SheetItem>,
    size: f64,
    pub y: f64,
    left: f64,
    room: f64,
}

impl PageWriter {
    pub fn new(size: f64, top: f64, left: f64, room: f64) -> PageWriter {
        PageWriter { items: Vec::new(), size, y: top, left, room }
    }

    pub fn write(&mut self, text: &str, indent: f64, size: f64, bold: bool) {
        let weight = if bold { FontWeight::Bold } else { FontWeight::Regular };
        for line in wrap(text, size, weight, self.room - indent) {
            self.y -= LEADING * size;
            let at = (self.left + indent, self.y);
            self.items.push(if bold {
                SheetItem::bold(at, size, line)
            } else {
                SheetItem::text(at, size, line)
            });
        }
    }

    pub fn said(&mut self, said: &Said) {
        let size = self.size;
        match said {
            Said::Plain(text) => self.write(text, 0.0, size, false),
            Said::Alarm(text) => self.write(text, 0.0, size, true),
            Said::Heading(text) => {
                self.y -= 0.5 * size;
                self.write(text, 0.0, 1.1 * size, true);
            }
            Said::Row(word, text) => {
                let before = self.y;
                self.write(word, size, size, true);
                self.y = before;
                self.write(text, if word.is_empty() { size } else { WORD * size }, size, false);
            }
            Said::Quiet(text) => {
                self.y -= 0.5 * size;
                self.write(text, 0.0, 0.85 * size, false);
            }
        }
    }
}

/// A page, its type as large as lets all of it stand on the paper.
pub(super) fn page(paper: Paper, title: &str, origin: &SheetOrigin, verdict: &str, said: &[Said]) -> Page {
    let (width, height) = paper.size();
    let mut size = SIZES.0;
    loop {
        let mut writer = PageWriter::new(size, height - EDGE, EDGE, width - 2.0 * EDGE);
        writer.write(title, 0.0, 1.5 * size, true);
        writer.write(&format!("{} · {}", origin.title, origin.state), 0.0, 0.85 * size, false);
        writer.y -= 0.6 * size;
        let line = ((EDGE, writer.y), (width - EDGE, writer.y));
        writer.items.push(SheetItem::line(SheetLayer::Marks, line.0, line.1, THIN));
        writer.write(verdict, 0.0, 1.1 * size, true);
        said.iter().for_each(|each| writer.said(each));
        if writer.y >= EDGE || size * SIZES.2 < SIZES.1 {
            return Page { window: (0.0, 0.0, width, height), drawn: Vec::new(), framed: writer.items };
        }
        size *= SIZES.2;
    }
}
