//! Sheets to cut by, full size: PDF to print, SVG and DXF for a plotter or a laser.
//!
//! | file | what it does |
//! | --- | --- |
//! | `scene` | lines, outlines and texts in millimetres, on layers |
//! | `drawing` | the lines of an opening with their marks, about the datum |
//! | `frame` | a page: head, bars to measure, marks, cautions |
//! | `card`, `testcard` | the tape card, the test card |
//! | `page` | a page in words |
//! | `tiles` | a drawing on one page, or on several that overlap |
//! | `pdf`, `svg`, `dxf` | writers |

mod card;
mod drawing;
mod dxf;
mod frame;
mod page;
mod pdf;
mod scene;
mod svg;
mod testcard;
mod tiles;

use crate::outline::flat::Blank;
use crate::output::text;
use crate::study::document::Report;
use crate::study::ducts::{Behind, Piece};
use crate::study::steps::result::Steps;
use crate::study::tape::result::Tape;
use crate::study::templates::result::{Template, TemplateHand, Templates};
use crate::study::testcard::result::Card;
use drawing::OpeningDrawing;
use frame::{PageFrame, PageHead};

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 297 × 420 mm.
    A3,
    /// 148 × 210 mm.
    A5,
}

impl Paper {
    /// Width and height upright (mm).
    fn size(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0, 297.0),
            Paper::A3 => (297.0, 420.0),
            Paper::A5 => (148.0, 210.0),
        }
    }
}

/// Where a case is from, as every sheet says it.
#[derive(Clone, Debug)]
pub struct SheetOrigin {
    title: String,
    state: String,
}

impl SheetOrigin {
    /// Of a report.
    pub fn of(report: &Report) -> SheetOrigin {
        let hash = report.case_sha256.get(..12).unwrap_or_default();
        let known = [report.revision.as_deref(), report.date.as_deref()].into_iter().flatten();
        let mut state: Vec<String> = known.map(str::to_string).collect();
        state.push(format!("case {hash}"));
        state.push(format!("slowcorner {}", report.program.version));
        SheetOrigin {
            title: report.title.clone().unwrap_or_else(|| "untitled case".to_string()),
            state: state.join(" · "),
        }
    }
}

/// All sheets of all openings as one PDF, full size.
pub fn pdf(templates: &Templates, origin: &SheetOrigin, paper: Paper) -> Vec<u8> {
    let mut pages = Vec::new();
    for (template, hand) in each(templates) {
        for page in tiles::pages(template, hand, paper) {
            pages.push((template, hand, page));
        }
    }
    let of = pages.len();
    let pages = pages.into_iter().enumerate().map(|(index, (template, hand, page))| {
        let head = PageHead { origin, template, hand, templates, sheet: index + 1, of };
        PageFrame::new(paper).page(&head, page)
    });
    pdf::document(&origin.title, paper, &pages.collect::<Vec<_>>())
}

/// Cutting in steps as a page of A4.
pub fn steps(steps: &Steps, origin: &SheetOrigin) -> Vec<u8> {
    let verdict = text::steps::verdict(steps);
    let page = page::page(Paper::A4, "Cutting in steps", origin, &verdict, &text::steps::said(steps));
    pdf::document(&origin.title, Paper::A4, &[page])
}

/// Mould sheet and duct schedule as a page of A4.
pub fn behind(behind: &Behind, origin: &SheetOrigin) -> Vec<u8> {
    let said = text::ducts::said(behind);
    let page = page::page(Paper::A4, "Moulds and ducts", origin, text::ducts::verdict(), &said);
    pdf::document(&origin.title, Paper::A4, &[page])
}

/// The flat blank of a piece of duct as DXF in the form of release 12, full size.
pub fn blank(piece: &Piece, blank: &Blank, origin: &SheetOrigin) -> String {
    let named = [
        origin.title.clone(),
        format!("{}, {}: flat blank without laps, {} of it", piece.passage, piece.kind, piece.pieces),
        origin.state.clone(),
        "mm; the square of 100 mm must measure 100 mm".to_string(),
    ];
    dxf::document(&OpeningDrawing::of_blank(blank), &named)
}

/// The tape card on A5.
pub fn tape(tape: &Tape, origin: &SheetOrigin) -> Vec<u8> {
    pdf::document(&origin.title, Paper::A5, &[card::card(tape, origin)])
}

/// The test card on A4.
pub fn testcard(card: &Card, origin: &SheetOrigin) -> Vec<u8> {
    pdf::document(&origin.title, Paper::A4, &[testcard::sheet(card, origin)])
}

/// Every opening with each of its hands.
pub fn each(templates: &Templates) -> impl Iterator<Item = (&Template, TemplateHand)> {
    templates.openings.iter().flat_map(|template| template.hands.iter().map(move |hand| (template, *hand)))
}

/// An opening as SVG, full size.
pub fn svg(template: &Template, hand: TemplateHand, origin: &SheetOrigin) -> String {
    svg::document(&OpeningDrawing::new(template, hand, false), &named(template, hand, origin))
}

/// An opening as DXF in the form of release 12, full size.
pub fn dxf(template: &Template, hand: TemplateHand, origin: &SheetOrigin) -> String {
    dxf::document(&OpeningDrawing::new(template, hand, false), &named(template, hand, origin))
}

/// What a file says of itself, line by line.
fn named(template: &Template, hand: TemplateHand, origin: &SheetOrigin) -> Vec<String> {
    vec![
        origin.title.clone(),
        format!("{}, outer face seen", frame::called(template, hand)),
        origin.state.clone(),
        "mm; the square of 100 mm must measure 100 mm".to_string(),
    ]
}
