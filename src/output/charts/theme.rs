//! Colours, line patterns and type sizes.
//!
//! # How the ramp was chosen
//!
//! Curves must stay apart on a grey print, so lightness was fixed first and hue second. In CIE 1976 L*a*b* (white point D65)
//! step k = 0 … 7 has
//!
//! ```text
//! L* = 16 + 45 k / 7        even steps of 6.4; the lightest still stands 3 : 1 against white paper
//! h  = 262° + 135° k        neighbours in lightness lie more than a third of the colour circle apart
//! C* = 46, or as much as sRGB can show at that lightness and hue
//! ```
//!
//! and the colour is rounded to sRGB. The order of use takes the steps as 0 4 2 6 1 5 3 7, so that the first curves of a chart
//! are the ones farthest apart in lightness. Lightness alone does not carry eight curves; each also has its own line pattern,
//! and its name at its end behind a sample of that pattern. A ninth curve starts the colours again with other patterns.
//!
//! Bands are fills, so they use the light half: lightness alternates up and down along the stack by at least 8, each band
//! has a hatch other than its neighbours', sources take cold hues (180° to 255°) and losses warm ones (25° to 85°) at C* 20
//! and 24.

use crate::output::scene::colour::{Colour, of_lightness};
use crate::output::scene::drawing::TextLook;
use crate::output::scene::font::FontWeight;
use crate::output::scene::hatch::Hatch;

pub(super) const PAPER: Colour = Colour(255, 255, 255);
pub(super) const INK: Colour = Colour(30, 33, 38);
pub(super) const MUTED: Colour = Colour(88, 92, 98);
pub(super) const AXIS: Colour = Colour(120, 124, 130);
pub(super) const GRID: Colour = Colour(228, 229, 231);
pub(super) const MARK_LINE: Colour = Colour(204, 207, 211);
pub(super) const SHADE: Colour = Colour(184, 186, 190);

/// Air that runs the wrong way: L* 62, as much of hue 45° as sRGB shows there; hatched besides, so that a grey print tells it too.
pub(super) const LOUD: Colour = Colour(243, 108, 62);

/// Curve colours in order of use.
pub(super) const CURVES: [Colour; 8] = [
    Colour(0, 42, 68),
    Colour(126, 93, 14),
    Colour(0, 78, 62),
    Colour(198, 97, 143),
    Colour(106, 21, 14),
    Colour(4, 126, 142),
    Colour(95, 69, 142),
    Colour(119, 159, 80),
];

/// Line patterns in order of use: stroke, gap, stroke, gap, … in points; empty is solid.
pub(super) const PATTERNS: [&[f64]; 8] = [
    &[],
    &[7.0, 3.5],
    &[2.0, 2.6],
    &[10.0, 3.0, 2.2, 3.0],
    &[16.0, 4.5],
    &[9.0, 2.6, 2.0, 2.6, 2.0, 2.6],
    &[14.0, 3.0, 5.0, 3.0],
    &[2.4, 5.2],
];

/// Pattern of thin lines that lead from a curve to its name.
pub(super) const LEADER: &[f64] = &[1.5, 2.0];
/// Pattern along the cap where a curve runs above it.
pub(super) const ABOVE_CAP: &[f64] = &[1.6, 5.0];

/// Colour and pattern of the curve with this place in its panel.
pub(super) fn curve(place: usize) -> (Colour, &'static [f64]) {
    let round = place / CURVES.len();
    (CURVES[place % CURVES.len()], PATTERNS[(place + 3 * round) % PATTERNS.len()])
}

/// Fill of a band: its ground, the colour of its edge and hatch, and the hatch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct BandLook {
    pub ground: Colour,
    pub line: Colour,
    pub hatch: Hatch,
}

const SOURCES: [(Colour, Colour); 5] = [
    (Colour(176, 237, 242), Colour(36, 148, 155)),
    (Colour(127, 179, 200), Colour(1, 92, 116)),
    (Colour(160, 215, 203), Colour(35, 127, 113)),
    (Colour(118, 154, 184), Colour(0, 71, 103)),
    (Colour(138, 197, 208), Colour(0, 110, 123)),
];

const LOSSES: [(Colour, Colour); 5] = [
    (Colour(242, 218, 176), Colour(156, 131, 82)),
    (Colour(200, 149, 131), Colour(119, 66, 47)),
    (Colour(229, 192, 157), Colour(145, 106, 67)),
    (Colour(182, 125, 123), Colour(103, 43, 44)),
    (Colour(216, 169, 144), Colour(134, 85, 57)),
];

const HATCHES: [Hatch; 6] = [
    Hatch::Plain,
    Hatch::Lines { degrees: 45.0, apart: 7.0 },
    Hatch::Lines { degrees: 0.0, apart: 5.0 },
    Hatch::Lines { degrees: 135.0, apart: 7.0 },
    Hatch::Crossed { apart: 9.0 },
    Hatch::Lines { degrees: 90.0, apart: 6.0 },
];

/// Look of the source (or, with `loss`, the loss) with this place in its stack. Five grounds and six hatches: thirty looks.
pub(super) fn band(place: usize, loss: bool) -> BandLook {
    let ramp = if loss { &LOSSES } else { &SOURCES };
    let (ground, line) = ramp[place % ramp.len()];
    BandLook { ground, line, hatch: HATCHES[place % HATCHES.len()] }
}

/// Fill of a map at a share 0 (worst) to 1 (best) of its ramp.
///
/// Made for this chart: L* rises evenly from 56 to 97, so that a grey print orders the fills as the eye does; hue goes
/// from 40° (warm) to 230° (cool) through the greys between, C* from 30 through 6 to 12, within sRGB everywhere. Lines and
/// their labels say the values; the fill only says which way is better.
pub(super) fn map_fill(share: f64) -> Colour {
    let share = share.clamp(0.0, 1.0);
    let lightness = 56.0 + 41.0 * share;
    let (chroma, hue) = if share < 0.5 { (30.0 - 48.0 * share, 40.0_f64) } else { (12.0 * share, 230.0) };
    of_lightness(lightness, chroma, hue)
}

const fn look(size: f64, weight: FontWeight, colour: Colour) -> TextLook {
    TextLook { size, weight, colour }
}

pub(super) const TITLE: TextLook = look(17.0, FontWeight::Bold, INK);
pub(super) const SUBTITLE: TextLook = look(12.5, FontWeight::Regular, MUTED);
pub(super) const AXIS_LABEL: TextLook = look(12.0, FontWeight::Bold, INK);
pub(super) const AXIS_UNIT: TextLook = look(12.0, FontWeight::Regular, MUTED);
pub(super) const TICK: TextLook = look(11.5, FontWeight::Regular, MUTED);
pub(super) const MARK: TextLook = look(11.0, FontWeight::Regular, MUTED);
pub(super) const LABEL: TextLook = look(12.0, FontWeight::Regular, INK);
pub(super) const STRONG_LABEL: TextLook = look(12.0, FontWeight::Bold, INK);
pub(super) const NUMBER: TextLook = look(10.0, FontWeight::Bold, INK);
pub(super) const FOOTNOTE: TextLook = look(11.0, FontWeight::Regular, MUTED);
