//! A page round a drawing: head, legend, bars to measure, marks, cautions.

use super::drawing::SQUARE;
use super::scene::{Page, SheetItem, SheetLayer, Stroke, THIN, TextAnchor};
use super::{Paper, SheetOrigin};
use crate::element::SkinFace;
use crate::output::scene::font::{FontWeight, wrap};
use crate::output::text::doubt::how_often;
use crate::output::text::templates::sides;
use crate::output::text::words;
use crate::study::templates::result::{CutLine, HoleShape, LineName, Template, TemplateHand, Templates};

/// Edge that printers leave white (mm).
const EDGE: f64 = 8.0;
/// Height of the head with its legend (mm).
const HEAD: f64 = 38.0;
/// Height of the foot with bars and cautions (mm).
const FOOT: f64 = 31.0;
/// Width kept for the upright bar (mm).
const BAR: f64 = 9.0;
/// Type of the foot (mm), and from line to line.
const SMALL: (f64, f64) = (2.1, 2.75);
/// Height of a row of the legend (mm).
const ROW: f64 = 5.6;

/// A piece of a drawing on its page.
pub(super) struct Tile {
    pub page: Page,
    pub turned: bool,
}

pub(super) struct PageFrame {
    width: f64,
    height: f64,
}

/// What stands above a drawing.
pub(super) struct PageHead<'h> {
    pub origin: &'h SheetOrigin,
    pub template: &'h Template,
    pub hand: TemplateHand,
    pub templates: &'h Templates,
    pub sheet: usize,
    pub of: usize,
}

/// What an opening is called, its hand with it.
pub(super) fn called(template: &Template, hand: TemplateHand) -> String {
    match hand {
        TemplateHand::Neither => template.opening.clone(),
        hand => format!("{} {}", template.opening, hand.to_string().to_uppercase()),
    }
}

impl PageFrame {
    pub fn new(paper: Paper) -> PageFrame {
        let (width, height) = paper.size();
        PageFrame { width, height }
    }

    /// Where the drawing may lie: left, bottom, width, height.
    pub fn window(&self) -> (f64, f64, f64, f64) {
        let left = EDGE + BAR;
        (left, EDGE + FOOT, self.width - EDGE - left, self.height - 2.0 * EDGE - FOOT - HEAD)
    }

    /// A page with all that belongs on it.
    pub fn page(&self, head: &PageHead, tile: Tile) -> Page {
        let Tile { mut page, turned, .. } = tile;
        self.head(&mut page.framed, head);
        self.legend(&mut page.framed, head);
        self.compass(&mut page.framed, head, turned);
        self.bars(&mut page.framed);
        self.datum(&mut page.framed);
        self.cautions(&mut page.framed, head.template);
        page
    }

    fn head(&self, items: &mut Vec<SheetItem>, head: &PageHead) {
        let top = self.height - EDGE;
        let right = self.width - EDGE;
        items.push(SheetItem::bold((EDGE, top - 3.6), 4.6, called(head.template, head.hand)));
        items.push(end((right, top - 3.4), 3.0, format!("sheet {} of {}", head.sheet, head.of)));
        let shape = match head.template.louvres {
            Some(_) => "FIELD OF LOUVRES, NOT A HOLE".to_string(),
            None => head.template.shape.to_string(),
        };
        let kind = format!("{}, {shape}", head.template.role);
        let mut often = match (head.template.pieces, head.hand) {
            (1, TemplateHand::Left | TemplateHand::Right) => {
                "the case counts one: a pair has count = 2".to_string()
            }
            (1, _) => "cut one".to_string(),
            (2, TemplateHand::Left | TemplateHand::Right) => "cut one of this hand".to_string(),
            (pieces, TemplateHand::Left | TemplateHand::Right) => {
                format!("{} in all, half of them of this hand", pieces)
            }
            (pieces, _) => format!("cut {pieces} alike"),
        };
        let place = [head.template.place.as_deref(), head.template.position.as_deref()];
        let place: Vec<&str> = place.into_iter().flatten().collect();
        if !place.is_empty() {
            often.push_str(&format!("; {}", place.join(", ")));
        }
        items.push(SheetItem::text(
            (EDGE, top - 8.0),
            2.5,
            format!("{}: {kind}. {often}", head.origin.title),
        ));
        items.push(SheetItem::text(
            (EDGE, top - 11.4),
            2.3,
            format!("{} · outer face seen · full size, mm", head.origin.state),
        ));
    }

    fn legend(&self, items: &mut Vec<SheetItem>, head: &PageHead) {
        let top = self.height - EDGE - 15.6;
        let room = self.width - 2.0 * EDGE - 30.0 - 84.0;
        for (row, line) in head.template.lines.iter().enumerate() {
            let y = top - ROW * row as f64;
            sample(items, line.line, EDGE, y + 0.8);
            items.push(SheetItem::bold((EDGE + 15.0, y), 2.7, line.line.to_string()));
            let size = format!("{} mm", sides(head.template.shape, line));
            items.push(SheetItem::text((EDGE + 41.0, y), 2.5, size));
            items.push(SheetItem::text((EDGE + 63.0, y), 2.2, areas(line, head.template.louvres)));
            let when = head.templates.meaning(line.line).map_or(String::new(), |meaning| {
                let holds = meaning
                    .all_hold
                    .map_or(String::new(), |share| format!("; all cool {}", how_often(share)));
                format!("{}{holds}", meaning.when)
            });
            let before = row.checked_sub(1).map(|before| &head.template.lines[before]);
            let same = before.is_some_and(|before| {
                (before.hole_width_m, before.hole_height_m) == (line.hole_width_m, line.hole_height_m)
            });
            let when = match line.cut_already {
                true => "cut already".to_string(),
                false if same => {
                    format!("as {}: nothing more is cut here", before.map_or(line.line, |before| before.line))
                }
                false if line.ends_at.is_some() => "ends here: no flange or land is left beyond".to_string(),
                false => when,
            };
            for (index, text) in wrap(&when, 2.1, FontWeight::Regular, room).into_iter().take(2).enumerate() {
                items.push(SheetItem::text((EDGE + 84.0, y + 1.0 - 2.5 * index as f64), 2.1, text));
            }
        }
    }

    /// Which way up and forward are.
    fn compass(&self, items: &mut Vec<SheetItem>, head: &PageHead, turned: bool) {
        let centre = (self.width - EDGE - 14.0, self.height - EDGE - 23.0);
        let faces = match (head.template.faces, head.hand) {
            (SkinFace::Left, TemplateHand::Right) => SkinFace::Right,
            (SkinFace::Right, TemplateHand::Right) => SkinFace::Left,
            (faces, _) => faces,
        };
        // what points up and what points to the right of the page, before the page is turned
        let (up, across, rightwards, through) = match faces {
            SkinFace::Left => ("UP", "FORWARD", false, ""),
            SkinFace::Right => ("UP", "FORWARD", true, ""),
            SkinFace::Front => ("UP", "CAR'S LEFT", true, "forward: out of the page"),
            SkinFace::Rear => ("UP", "CAR'S LEFT", false, "forward: into the page"),
            SkinFace::Bottom => ("FORWARD", "CAR'S LEFT", true, "up: into the page"),
            SkinFace::Top => ("FORWARD", "CAR'S LEFT", false, "up: out of the page"),
        };
        let side = if rightwards { (1.0, 0.0) } else { (-1.0, 0.0) };
        let turn = |(x, y): (f64, f64)| if turned { (-y, x) } else { (x, y) };
        for (direction, name) in [(turn((0.0, 1.0)), up), (turn(side), across)] {
            arrow(items, centre, direction, name);
        }
        let below = (centre.0, centre.1 - 11.5);
        items.push(SheetItem::Text {
            layer: SheetLayer::Text,
            at: below,
            size: 2.0,
            bold: false,
            anchor: TextAnchor::Middle,
            text: through.to_string(),
        });
    }

    /// Two bars at right angles.
    fn bars(&self, items: &mut Vec<SheetItem>) {
        let (x, y) = (EDGE + 4.0, EDGE + FOOT - 5.0);
        let bold = Stroke::solid(0.3);
        let mut bar = |along: (f64, f64)| {
            let (ax, ay) = along;
            let end = (x + SQUARE * ax, y + SQUARE * ay);
            items.push(SheetItem::line(SheetLayer::Scale, (x, y), end, bold));
            for tick in 0..=10 {
                let far = if tick % 10 == 0 { 3.0 } else { 1.2 };
                let at = (x + 10.0 * f64::from(tick) * ax, y + 10.0 * f64::from(tick) * ay);
                items.push(SheetItem::line(SheetLayer::Scale, at, (at.0 - far * ay, at.1 - far * ax), THIN));
            }
        };
        bar((1.0, 0.0));
        bar((0.0, 1.0));
        let text = "Measure both bars: 99.5 to 100.5 mm, or do not cut.";
        items.push(SheetItem::bold((x + 2.0, y - 6.2), 2.6, text));
    }

    /// Room for the place of the datum.
    fn datum(&self, items: &mut Vec<SheetItem>) {
        let y = EDGE + FOOT - 17.5;
        for (row, word) in ["Datum (the cross) is", "and"].iter().enumerate() {
            let y = y - 7.0 * row as f64;
            items.push(SheetItem::text((EDGE, y), 2.4, *word));
            let start = EDGE + if row == 0 { 24.0 } else { 6.0 };
            items.push(SheetItem::line(SheetLayer::Marks, (start, y - 0.4), (start + 20.0, y - 0.4), THIN));
            items.push(SheetItem::text((start + 21.0, y), 2.4, "mm from"));
            items.push(SheetItem::line(
                SheetLayer::Marks,
                (start + 32.0, y - 0.4),
                (EDGE + 100.0, y - 0.4),
                THIN,
            ));
        }
    }

    fn cautions(&self, items: &mut Vec<SheetItem>, template: &Template) {
        let left = EDGE + 110.0;
        let mut y = EDGE + FOOT - 7.0;
        let room = self.width - EDGE - left;
        for text in notes(template) {
            for line in wrap(&text, SMALL.0, FontWeight::Regular, room) {
                items.push(SheetItem::text((left, y), SMALL.0, line));
                y -= SMALL.1;
            }
        }
    }
}

/// What the cutter has to know of this opening.
fn notes(template: &Template) -> Vec<String> {
    let mut notes = vec![match template.louvres {
        Some(open) => format!(
            "FIELD OF LOUVRES: do not saw this outline out. Louvres fill it; {:.0} % of it is to be open.",
            100.0 * open
        ),
        None => "Saw with the blade inside the line, on the waste; file to the line.".to_string(),
    }];
    let corner = if template.corner_radius_m > 0.0 {
        format!("; corners of radius {:.0} mm or more", 1e3 * template.corner_radius_m)
    } else {
        String::new()
    };
    let edge = if template.edge.is_empty() {
        String::new()
    } else {
        format!("Finish the edge: {}{corner}. ", template.edge)
    };
    notes.push(format!("{edge}Keep {:.0} mm of sound skin all round.", 1e3 * template.land_m));
    if template.bonded_lip_m > 0.0 {
        notes.push(format!(
            "The saw follows the hole; the opening is the dotted line, {:.1} mm further in: the bonded lip.",
            1e3 * template.bonded_lip_m
        ));
    }
    if template.stretch > 1.0 + 1e-9 {
        notes.push(format!(
            "The skin lies at {:.0}° to the air: the hole is {:.2} times as long along its {} as the air sees it.",
            template.skin_angle_deg, template.stretch, template.slopes_along
        ));
    }
    if let Some(radius) = template.curvature_radius_m {
        notes.push(format!(
            "Lay the sheet round the skin: drawn for a radius of {:.0} mm. Flat it would be {:.1} mm too narrow.",
            1e3 * radius,
            1e3 * template.flat_error_m
        ));
    } else if template.flat_error_m > 0.0 {
        notes.push(format!(
            "On the bulging skin the flat sheet is {:.1} mm too narrow.",
            1e3 * template.flat_error_m
        ));
    }
    if template.shape == HoleShape::Ramp {
        notes.push("Plan of the ramp; the lip is its straight end at the datum.".to_string());
    }
    notes.push(
        "Dust: cut wet, P3 mask and goggles, carburettor covered, nothing live behind the skin.".to_string(),
    );
    notes.push("An estimate. Check your rule book.".to_string());
    notes
}

/// "34 cm² of air", and the hole where that is another area; of louvres what of it is open.
fn areas(line: &CutLine, louvres: Option<f64>) -> String {
    let air = words::square_centimetres(line.sheet_m2);
    if let Some(open) = louvres {
        return format!("{air}, open {}", words::square_centimetres(open * line.sheet_m2));
    }
    if (line.hole_m2 - line.sheet_m2).abs() > 0.005 * line.sheet_m2 {
        return format!("{air} cm², hole {}", words::square_centimetres(line.hole_m2));
    }
    format!("{air} cm²")
}

fn sample(items: &mut Vec<SheetItem>, line: LineName, x: f64, y: f64) {
    let (layer, stroke) = (SheetLayer::Text, Stroke::of_line(line));
    items.push(SheetItem::line(layer, (x, y), (x + 13.0, y), stroke));
    if SheetLayer::of_line(line) == SheetLayer::Never {
        items.push(SheetItem::line(
            layer,
            (x, y + super::drawing::DOUBLE),
            (x + 13.0, y + super::drawing::DOUBLE),
            stroke,
        ));
    }
}

fn end(at: (f64, f64), size: f64, text: String) -> SheetItem {
    SheetItem::Text { layer: SheetLayer::Text, at, size, bold: true, anchor: TextAnchor::End, text }
}

fn arrow(items: &mut Vec<SheetItem>, from: (f64, f64), (x, y): (f64, f64), name: &str) {
    let tip = (from.0 + 7.0 * x, from.1 + 7.0 * y);
    items.push(SheetItem::line(SheetLayer::Marks, from, tip, Stroke::solid(0.35)));
    let back = (tip.0 - 2.4 * x, tip.1 - 2.4 * y);
    let points = vec![tip, (back.0 - 0.9 * y, back.1 + 0.9 * x), (back.0 + 0.9 * y, back.1 - 0.9 * x)];
    items.push(SheetItem::Filled { layer: SheetLayer::Marks, points });
    let (at, anchor) = if x.abs() < 0.5 {
        let up = if y > 0.0 { 1.0 } else { -3.0 };
        ((tip.0, tip.1 + up), TextAnchor::Middle)
    } else {
        ((from.0 + 4.0 * x, from.1 - 3.2), TextAnchor::Middle)
    };
    items.push(SheetItem::Text {
        layer: SheetLayer::Text,
        at,
        size: 2.2,
        bold: true,
        anchor,
        text: name.to_string(),
    });
}
