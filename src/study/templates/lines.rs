//! The four lines of an opening, each within the next.

use super::NotDrawn;
use super::result::{CutLine, LineEndsAt, LineName};
use super::shape::{OpeningCut, Shaped};
use crate::point::opening::Opening;
use crate::study::check::openings::OpeningFacts;
use crate::study::size::result::{Sizes, SizesColumn};

/// The lines, the smallest first.
pub(super) const LINES: [LineName; 4] =
    [LineName::Pilot, LineName::Next, LineName::Final, LineName::NeverBeyond];
/// The column of sizing behind each of them. Where no sizes reach every margin with the values taken, the last to be cut
/// are those with which all stays cool most often: more buys nothing.
pub(super) fn columns(sizes: Option<&Sizes>) -> [Option<SizesColumn>; 4] {
    let beyond = sizes.is_some_and(|sizes| {
        !sizes.feasible && sizes.columns.iter().any(|column| column.column == SizesColumn::Holds)
    });
    let last = if beyond { SizesColumn::Holds } else { SizesColumn::ValuesTaken };
    [Some(SizesColumn::CutFirst), None, Some(last), Some(SizesColumn::Holds)]
}

/// Millimetres by which an outline is drawn in before a wall, at most.
const WALL: usize = 4;
/// Square metres in square millimetres.
const MM2: f64 = 1e6;

/// Areas of one piece of an opening that its lines are to have (m²), as far as there are any.
pub(super) struct Areas {
    lines: [Option<f64>; 4],
    cut: Option<f64>,
}

impl Areas {
    /// Of an opening: by the columns of sizing, else by its size alone.
    pub fn of(sizes: Option<&Sizes>, opening: &Opening, fact: &OpeningFacts) -> Areas {
        let column = |wanted: SizesColumn| {
            let columns = sizes.filter(|_| fact.free).map_or(&[][..], |sizes| &sizes.columns);
            let column = columns.iter().find(|column| column.column == wanted)?;
            column.areas_m2.get(&opening.name).copied()
        };
        let last = columns(sizes)[2].and_then(column).unwrap_or_else(|| opening.area());
        let first = column(SizesColumn::CutFirst).map(|area| area.min(last));
        let holds = column(SizesColumn::Holds).map(|area| area.max(last));
        // halfway by proportion: each step then buys about as much
        let next = first.map(|first| (first * last).sqrt());
        Areas { lines: [first, next, Some(last), holds], cut: fact.cut_m2 }
    }
}

/// The lines of an opening, outlines in whole millimetres, each at least as wide and as high as the one before; `fits` says
/// whether the case stands with that area (m²) of one.
pub(super) fn lines_of(
    cut: &OpeningCut,
    areas: &Areas,
    fits: &dyn Fn(f64) -> bool,
) -> Result<Vec<CutLine>, NotDrawn> {
    let mut lines: Vec<CutLine> = Vec::new();
    let mut last: Option<(f64, f64)> = None;
    for (name, area) in LINES.into_iter().zip(areas.lines) {
        let Some(area) = area else { continue };
        let mut shaped = cut.at(MM2 * area)?;
        if let Some((width, height)) = last
            && (width > shaped.width || height > shaped.height)
        {
            shaped = Shaped {
                at_flange: shaped.at_flange,
                ..cut.drawn(width.max(shaped.width), height.max(shaped.height))
            };
        }
        // what sizing left just short of a wall is not rounded beyond it
        for _ in 0..WALL {
            if fits(shaped.seen / MM2) {
                break;
            }
            let (least_width, least_height) = last.unwrap_or((1.0, 1.0));
            let narrower = shaped.width >= shaped.height && shaped.width - 1.0 >= least_width;
            let (width, height) = (shaped.width, shaped.height);
            let (width, height) = if narrower { (width - 1.0, height) } else { (width, height - 1.0) };
            if height < least_height {
                break;
            }
            shaped = Shaped { at_flange: shaped.at_flange, ..cut.drawn(width, height) };
        }
        last = Some((shaped.width, shaped.height));
        lines.push(line(cut, name, area, shaped, areas.cut));
    }
    Ok(lines)
}

fn line(cut: &OpeningCut, name: LineName, found: f64, shaped: Shaped, already: Option<f64>) -> CutLine {
    let hole = cut.hole(&shaped.air);
    let bounds = hole.bounds();
    CutLine {
        line: name,
        width_m: 1e-3 * shaped.width,
        height_m: 1e-3 * shaped.height,
        hole_width_m: 1e-3 * bounds.width(),
        hole_height_m: 1e-3 * bounds.height(),
        found_m2: found,
        area_m2: shaped.seen / MM2,
        sheet_m2: cut.on_sheet(&hole, shaped.height) / MM2,
        hole_m2: hole.area() / MM2,
        ends_at: shaped.at_flange.then_some(LineEndsAt::Flange),
        cut_already: already.is_some_and(|cut| found <= cut * (1.0 + 1e-6)),
        hole,
        air: shaped.air,
    }
}
