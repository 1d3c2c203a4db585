//! What elements are drawn as where the air is drawn.

use std::f64::consts::TAU;

/// What an element is drawn as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sign {
    Fan,
    /// Fins: they give heat to the air.
    Fins,
    /// A cooler's core: it gives heat to the air.
    Core,
    Screen,
    /// A sudden change of area that nobody wrote.
    Sudden,
}

/// A piece of a sign. Of its points x is in the picture's points from the middle of the channel, y a share of how tall the
/// sign is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SignPiece {
    /// A line through points.
    Line {
        points: &'static [(f64, f64)],
        /// How thick.
        thick: f64,
        /// Its dashes; none: whole.
        dashes: &'static [f64],
    },
    /// A ring, empty inside.
    Ring {
        /// Outer radius, in the picture's points.
        outer: f64,
        /// Inner radius.
        inner: f64,
    },
    /// A filled outline, the same in every channel: distances from the middle in the picture's points, angles (rad).
    Blade {
        /// How far it is turned (rad).
        turned: f64,
        /// Angle and distance of its corners beside the middle.
        corners: &'static [(f64, f64)],
    },
    /// A box as tall as the sign, crossed.
    Crossed {
        width: f64,
        /// From line to line.
        apart: f64,
    },
}

/// A line across the channel.
const fn upright(points: &'static [(f64, f64)], thick: f64, dashes: &'static [f64]) -> SignPiece {
    SignPiece::Line { points, thick, dashes }
}

const fn blade(turned: f64) -> SignPiece {
    SignPiece::Blade { turned, corners: &[(-0.15, 7.0), (0.35, 7.2), (0.75, 5.2)] }
}

impl Sign {
    /// What it means, in the key of the picture.
    pub fn means(self) -> &'static str {
        match self {
            Sign::Fan => "fan",
            Sign::Fins => "fins give heat to the air",
            Sign::Core => "a cooler gives heat to the air",
            Sign::Screen => "screen",
            Sign::Sudden => "sudden change of area",
        }
    }

    /// What it is drawn with, one piece over another.
    pub fn pieces(self) -> &'static [SignPiece] {
        match self {
            Sign::Fan => {
                &const {
                    [
                        SignPiece::Ring { outer: 9.5, inner: 8.3 },
                        blade(0.0),
                        blade(TAU / 3.0),
                        blade(2.0 * TAU / 3.0),
                    ]
                }
            }
            Sign::Fins => {
                &const {
                    [
                        upright(&[(-8.0, -0.5), (-8.0, 0.5)], 1.3, &[]),
                        upright(&[(-4.0, -0.5), (-4.0, 0.5)], 1.3, &[]),
                        upright(&[(0.0, -0.5), (0.0, 0.5)], 1.3, &[]),
                        upright(&[(4.0, -0.5), (4.0, 0.5)], 1.3, &[]),
                        upright(&[(8.0, -0.5), (8.0, 0.5)], 1.3, &[]),
                    ]
                }
            }
            Sign::Core => &[SignPiece::Crossed { width: 17.0, apart: 5.0 }],
            // the shoulders of a way that widens at once
            Sign::Sudden => {
                &const {
                    [
                        upright(&[(-5.0, -0.2), (0.0, -0.2), (0.0, -0.5)], 1.6, &[]),
                        upright(&[(-5.0, 0.2), (0.0, 0.2), (0.0, 0.5)], 1.6, &[]),
                    ]
                }
            }
            Sign::Screen => &const { [upright(&[(0.0, -0.5), (0.0, 0.5)], 2.0, &[2.0, 2.4])] },
        }
    }

    /// Whether the air is warmer behind it.
    pub fn heats(self) -> bool {
        matches!(self, Sign::Fins | Sign::Core)
    }
}
