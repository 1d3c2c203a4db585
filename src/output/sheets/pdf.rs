//! Pages as a PDF document: lines as they are, texts in the program's own font, nothing scaled when printed.

use super::Paper;
use super::scene::{Page, SheetItem, Stroke, TextAnchor};
use crate::outline::Side;
use crate::output::scene::font::{self, FontWeight, clean, face, width};
use ab_glyph::Font;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Points in a millimetre: a point is 1/72 inch.
const POINTS: f64 = 72.0 / 25.4;
/// Greatest arc that one curve stands for (rad): off by less than 3e-4 of its radius.
const ARC: f64 = PI / 2.0 + 1e-9;
const FONTS: [(&[u8], &[u8], FontWeight); 2] = [
    (b"F1", b"SlowcornerChart-Regular", FontWeight::Regular),
    (b"F2", b"SlowcornerChart-Bold", FontWeight::Bold),
];
const IDENTITY: SystemInfo =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// A document of pages.
pub(super) fn document(title: &str, paper: Paper, pages: &[Page]) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let mut next = 0;
    let mut reference = || {
        next += 1;
        Ref::new(next)
    };
    let (catalog, tree, info) = (reference(), reference(), reference());
    let fonts = FONTS.map(|_| [reference(), reference(), reference(), reference(), reference()]);
    let ids: Vec<(Ref, Ref)> = pages.iter().map(|_| (reference(), reference())).collect();
    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    let mut preferences = root.viewer_preferences();
    // a printer that fits pages to its paper spoils every hole
    preferences.insert(Name(b"PrintScaling")).primitive(Name(b"None"));
    preferences.finish();
    root.finish();
    pdf.document_info(info).title(TextStr(title)).creator(TextStr("slowcorner"));
    pdf.pages(tree).kids(ids.iter().map(|(page, _)| *page)).count(pages.len() as i32);
    let (paper_width, paper_height) = paper.size();
    let sheet = Rect::new(0.0, 0.0, points(paper_width), points(paper_height));
    for (page, (id, content)) in pages.iter().zip(&ids) {
        let mut written = pdf.page(*id);
        written.media_box(sheet).parent(tree).contents(*content);
        let mut resources = written.resources();
        let mut named = resources.fonts();
        for ((name, _, _), references) in FONTS.iter().zip(&fonts) {
            named.pair(Name(name), references[0]);
        }
        named.finish();
        resources.finish();
        written.finish();
        pdf.stream(*content, &content_of(page));
    }
    for ((_, name, weight), references) in FONTS.iter().zip(fonts) {
        embed(&mut pdf, name, *weight, references);
    }
    pdf.finish().to_vec()
}

fn points(millimetres: f64) -> f32 {
    (POINTS * millimetres) as f32
}

fn content_of(page: &Page) -> Vec<u8> {
    let mut content = Content::new();
    let (left, bottom, width, height) = page.window;
    content.save_state();
    content.rect(points(left), points(bottom), points(width), points(height));
    content.clip_nonzero().end_path();
    page.drawn.iter().for_each(|item| draw(&mut content, item));
    content.restore_state();
    page.framed.iter().for_each(|item| draw(&mut content, item));
    content.finish().to_vec()
}

fn draw(content: &mut Content, item: &SheetItem) {
    match item {
        SheetItem::Line { points: line, stroke, .. } => {
            pen(content, *stroke);
            path(content, line);
            content.stroke();
        }
        SheetItem::Filled { points: line, .. } => {
            path(content, line);
            content.close_path().fill_nonzero();
        }
        SheetItem::Outline { outline, stroke, .. } => {
            pen(content, *stroke);
            for (index, side) in outline.sides().enumerate() {
                let (Side::Line { from, .. } | Side::Arc { from, .. }) = side;
                if index == 0 {
                    content.move_to(points(from.0), points(from.1));
                }
                match side {
                    Side::Line { to, .. } => _ = content.line_to(points(to.0), points(to.1)),
                    Side::Arc { centre, radius, start, sweep, .. } => {
                        arc(content, centre, radius, start, sweep);
                    }
                }
            }
            content.close_and_stroke();
        }
        SheetItem::Text { at, size, bold, anchor, text, .. } => {
            let weight = if *bold { FontWeight::Bold } else { FontWeight::Regular };
            let text = clean(text);
            let long = width(&text, *size, weight);
            let x = at.0
                - match anchor {
                    TextAnchor::Start => 0.0,
                    TextAnchor::Middle => 0.5 * long,
                    TextAnchor::End => long,
                };
            let name = FONTS[usize::from(*bold)].0;
            content.begin_text().set_font(Name(name), points(*size));
            content.next_line(points(x), points(at.1)).show(Str(&glyphs(&text, weight))).end_text();
        }
    }
}

fn pen(content: &mut Content, stroke: Stroke) {
    content.set_line_width(points(stroke.width));
    content.set_dash_pattern(stroke.dashes.iter().map(|dash| points(*dash)), 0.0);
}

fn path(content: &mut Content, line: &[(f64, f64)]) {
    for (index, (x, y)) in line.iter().enumerate() {
        if index == 0 {
            content.move_to(points(*x), points(*y));
        } else {
            content.line_to(points(*x), points(*y));
        }
    }
}

/// An arc as curves of a quarter at most.
///
/// ```text
///   h = 4/3 tan(θ/4)
/// ```
///
/// h the length of the handles over the radius, θ the angle of one curve (rad): the classical approximation.
fn arc(content: &mut Content, (x, y): (f64, f64), radius: f64, start: f64, sweep: f64) {
    let pieces = (sweep.abs() / ARC).ceil().max(1.0);
    let step = sweep / pieces;
    let handle = 4.0 / 3.0 * (0.25 * step).tan() * radius;
    let mut angle = start;
    for _ in 0..pieces as usize {
        let (a, b) = (angle, angle + step);
        let at = |angle: f64, along: f64| {
            let (sin, cos) = angle.sin_cos();
            (points(x + radius * cos - along * sin), points(y + radius * sin + along * cos))
        };
        let (first, second, end) = (at(a, handle), at(b, -handle), at(b, 0.0));
        content.cubic_to(first.0, first.1, second.0, second.1, end.0, end.1);
        angle = b;
    }
}

/// The numbers of a text's glyphs, two bytes each; what the font lacks shows as a missing letter.
fn glyphs(text: &str, weight: FontWeight) -> Vec<u8> {
    let Ok(face) = face(weight) else { return Vec::new() };
    text.chars().flat_map(|letter| face.font.glyph_id(letter).0.to_be_bytes()).collect()
}

/// A font with its bytes, so that a sheet looks alike wherever it is printed.
fn embed(pdf: &mut Pdf, name: &[u8], weight: FontWeight, references: [Ref; 5]) {
    let [whole, descendant, descriptor, bytes, unicode] = references;
    let Ok(face) = face(weight) else { return };
    let units = f64::from(face.font.units_per_em().unwrap_or(1000.0));
    let scale = |value: f32| (1000.0 * f64::from(value) / units) as f32;
    let letters: BTreeMap<u16, char> =
        face.font.codepoint_ids().map(|(glyph, letter)| (glyph.0, letter)).collect();
    let mut top = pdf.type0_font(whole);
    top.base_font(Name(name)).encoding_predefined(Name(b"Identity-H"));
    top.descendant_font(descendant).to_unicode(unicode);
    top.finish();
    let mut below = pdf.cid_font(descendant);
    below.subtype(CidFontType::Type0).base_font(Name(name)).system_info(IDENTITY);
    below.font_descriptor(descriptor).default_width(0.0);
    let mut widths = below.widths();
    for glyph in letters.keys() {
        let advance = face.font.h_advance_unscaled(ab_glyph::GlyphId(*glyph));
        widths.same(*glyph, *glyph, scale(advance));
    }
    widths.finish();
    below.finish();
    let mut described = pdf.font_descriptor(descriptor);
    described.name(Name(name)).flags(FontFlags::NON_SYMBOLIC);
    described.bbox(Rect::new(-500.0, -500.0, 2000.0, 1500.0)).italic_angle(0.0);
    described.ascent(scale(face.font.ascent_unscaled())).descent(scale(face.font.descent_unscaled()));
    described.cap_height(700.0).stem_v(80.0).font_file3(bytes);
    described.finish();
    let mut stream = pdf.stream(bytes, font::bytes(weight));
    stream.pair(Name(b"Subtype"), Name(b"OpenType"));
    stream.finish();
    let mut map = UnicodeCmap::new(Name(b"SlowcornerMap"), IDENTITY);
    letters.iter().for_each(|(glyph, letter)| map.pair(*glyph, *letter));
    pdf.cmap(unicode, &map.finish());
}
