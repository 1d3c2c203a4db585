//! The mould sheet and the duct schedule.

use super::said::Said;
use super::words::{self, millimetres as mm};
use crate::study::ducts::{Behind, DuctSection, DuctShape, Mould, Piece};

/// The answer in a sentence.
pub(in crate::output) fn verdict() -> &'static str {
    "Keep this much flat in the mould at each opening, and bolt in a plate: then no cut is final."
}

/// All that is said under it.
pub(in crate::output) fn said(behind: &Behind) -> Vec<Said> {
    let mut said = vec![Said::Plain(
        "Mould an insert plate of the size to keep, sunk by its own thickness, on M5 bolts; cut the plate, not the body. A larger or another opening is \
         then a new plate."
            .to_string(),
    )];
    said.push(Said::Heading("Mould sheet".to_string()));
    said.extend(behind.moulds.iter().map(|mould| Said::Row("", self::mould(mould))));
    said.push(Said::Heading("Duct schedule".to_string()));
    if behind.ducts.is_empty() {
        said.push(Said::Row("", "The case has no duct, bend, diffuser or contraction.".to_string()));
    }
    said.extend(behind.ducts.iter().map(|piece| Said::Row("", self::piece(piece))));
    said.push(Said::Quiet(
        "Sections clear inside, square to the flow; lengths along the axis. Blanks (their files have blank in the name) are without laps: add 15 mm on one edge for the seam. \
         Ends take the shape of the opening, or that which the case gives the core; from round to square, loft by hand and keep area and length. Hose: 51, 63, 76, 89, \
         102, 127, 152 mm are sold. An estimate; dust: cut wet, P3 mask."
            .to_string(),
    ));
    said
}

fn mould(mould: &Mould) -> String {
    let often = words::times(mould.pieces as f64);
    let assumed = if mould.lip_said { "" } else { " (assumed)" };
    format!(
        "{often}{}: keep {} × {} mm flat: {} {} × {} mm, lip radius {} mm{assumed} and land all round; {} mm deep behind; plate on {} bolts.",
        mould.opening,
        mm(mould.keep_width_m),
        mm(mould.keep_height_m),
        mould.line,
        mm(mould.hole_width_m),
        mm(mould.hole_height_m),
        mm(mould.lip_radius_m),
        mm(mould.depth_m),
        mould.bolts
    )
}

fn section(section: &DuctSection) -> String {
    match section.shape {
        DuctShape::Round => format!("Ø {} mm", mm(section.width_m)),
        DuctShape::Rectangle => format!("{} × {} mm", mm(section.width_m), mm(section.height_m)),
    }
}

fn piece(piece: &Piece) -> String {
    let often = words::times(piece.pieces as f64);
    let mut text = format!("{often}{}, {}: {}", piece.passage, piece.kind, section(&piece.from));
    if piece.from != piece.to {
        text.push_str(&format!(" to {}", section(&piece.to)));
    }
    match (piece.turns, piece.angle_deg, piece.radius_m) {
        (true, Some(angle), Some(radius)) => {
            text.push_str(&format!(", {angle:.0}° on a radius of {} mm", mm(radius)));
        }
        (true, Some(angle), None) => text.push_str(&format!(", {angle:.0}° mitred")),
        (_, Some(angle), _) => {
            text.push_str(&format!(", {} mm long, {angle:.0}° in all", mm(piece.length_m)))
        }
        _ => text.push_str(&format!(", {} mm long", mm(piece.length_m))),
    }
    if let Some(hose) = piece.hose_m {
        text.push_str(&format!("; next hose {} mm", mm(hose)));
    }
    if let Some(sheet) = piece.sheet_m2 {
        text.push_str(&format!("; {} cm² of sheet", words::square_centimetres(sheet)));
    }
    text.push('.');
    text
}
