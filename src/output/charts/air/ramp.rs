//! Lightness by temperature.

use crate::output::scene::colour::{Colour, of_lightness};

/// Lightness of the coolest and of the hottest air.
const LIGHTNESS: (f64, f64) = (96.0, 64.0);
/// Most colour at either end; the lightest fill can show no more than this without leaving sRGB.
const CHROMA: (f64, f64) = (5.0, 26.0);
/// Hue of cool and of hot air (degrees).
const HUE: (f64, f64) = (250.0, 50.0);

/// Temperature at which the scale ends (°C): beyond it resin, hoses and fuel have suffered whatever the figure.
const HOTTEST: f64 = 150.0;

/// The range of temperatures that a picture shows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ramp {
    low: f64,
    high: f64,
    hotter: bool,
}

impl Ramp {
    /// Over the finite of some temperatures, at least 20 K wide and no higher than where the scale ends.
    pub(super) fn over(temperatures: impl Iterator<Item = f64>) -> Ramp {
        let (low, high) = temperatures
            .filter(|value| value.is_finite())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
        if low > high {
            return Ramp { low: 0.0, high: 20.0, hotter: false };
        }
        Ramp { low, high: high.min(HOTTEST).max(low + 20.0), hotter: high > HOTTEST }
    }

    /// Whether some of the air is hotter than the scale's end.
    pub(super) fn has_hotter(&self) -> bool {
        self.hotter
    }

    pub(super) fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// The fill of air at a temperature; the coolest where none is known.
    pub(super) fn at(&self, temperature: f64) -> Colour {
        let share = ((temperature - self.low) / (self.high - self.low)).clamp(0.0, 1.0);
        let share = if share.is_nan() { 0.0 } else { share };
        let lightness = LIGHTNESS.0 + share * (LIGHTNESS.1 - LIGHTNESS.0);
        // cold hues fade into grey before the warm ones begin
        let turn = 0.3;
        let (chroma, hue) = if share < turn {
            (CHROMA.0 * (1.0 - share / turn), HUE.0)
        } else {
            (CHROMA.1 * (share - turn) / (1.0 - turn), HUE.1)
        };
        of_lightness(lightness, chroma, hue)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::charts::theme::INK;
    use crate::output::scene::colour::luminance;

    #[test]
    fn hotter_is_darker_and_ink_can_be_read_on_all_of_it() {
        let ramp = Ramp::over([20.0, 220.0].into_iter());
        assert_eq!((ramp.ends(), ramp.has_hotter()), ((20.0, 150.0), true));
        assert_eq!(ramp.at(220.0), ramp.at(150.0));
        let fills: Vec<Colour> = (0..=20).map(|i| ramp.at(20.0 + 6.5 * f64::from(i))).collect();
        for pair in fills.windows(2) {
            assert!(luminance(pair[1]) < luminance(pair[0]) - 0.01, "{pair:?}");
        }
        for fill in &fills {
            // W3C, Web Content Accessibility Guidelines 2.1: 4.5 : 1 for small type
            let contrast = (luminance(*fill) + 0.05) / (luminance(INK) + 0.05);
            assert!(contrast > 4.5, "{fill:?}: {contrast}");
        }
    }
}
