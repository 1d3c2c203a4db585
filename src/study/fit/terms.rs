//! What one reading says of what it should show.

use crate::numerics::normal;
use crate::readings::taken::Shown;

/// Shares smaller than this are no longer told apart from nothing.
const NOTHING: f64 = 1e-280;

/// How unlikely a reading is where `shown` should be read, and how that changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadingTerm {
    /// −ln of its likelihood, but for a constant.
    pub loss: f64,
    /// Its slope with what should be shown.
    pub slope: f64,
    /// Its curvature, above nought.
    pub curve: f64,
}

/// The term of a reading with a spread of its own.
///
/// ```text
///   value     ½ ((t − y)/σ)²
///   fields    −ln [Φ((h − t)/σ) − Φ((l − t)/σ)]
/// ```
///
/// t what should be shown, y what was read, l and h the fields between which a strip turned, σ the spread.
pub fn term(shown: &Shown, t: f64, spread: f64) -> ReadingTerm {
    match *shown {
        Shown::Value { value, .. } => quadratic((t - value) / spread, spread),
        Shown::Between { low, high, .. } => {
            let (a, b) = ((low - t) / spread, (high - t) / spread);
            // in the tail in which both ends keep their digits
            let share = if a > 0.0 {
                normal::below(-a) - normal::below(-b)
            } else {
                normal::below(b) - normal::below(a)
            };
            if share < NOTHING {
                return quadratic(if a > 0.0 { -a } else { -b }, spread);
            }
            let density = |x: f64| {
                if x.is_finite() { (-0.5 * x * x).exp() / (2.0 * std::f64::consts::PI).sqrt() } else { 0.0 }
            };
            let times = |x: f64| if x.is_finite() { x * density(x) } else { 0.0 };
            let slope = (density(b) - density(a)) / (spread * share);
            let curve = slope * slope - (times(a) - times(b)) / (spread * spread * share);
            ReadingTerm { loss: -share.ln(), slope, curve: curve.max(1e-12) }
        }
    }
}

fn quadratic(off: f64, spread: f64) -> ReadingTerm {
    ReadingTerm { loss: 0.5 * off * off, slope: off / spread, curve: 1.0 / (spread * spread) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slopes_and_curvatures_are_those_of_the_loss() {
        let fields = [(400.0, 410.0), (f64::NEG_INFINITY, 410.0), (400.0, f64::INFINITY)];
        let strips = fields.map(|(low, high)| Shown::Between { low, high, within: 1.0 });
        let value = Shown::Value { value: 405.0, within: 1.0 };
        for shown in strips.iter().chain([&value]) {
            for t in [385.0, 398.0, 404.0, 412.0, 430.0] {
                let step = 1e-3;
                let [below, here, above] = [t - step, t, t + step].map(|t| term(shown, t, 3.0));
                assert!(
                    (here.slope - (above.loss - below.loss) / (2.0 * step)).abs() < 1e-5,
                    "{shown:?} {t}"
                );
                assert!(
                    (here.curve - (above.slope - below.slope) / (2.0 * step)).abs() < 1e-5,
                    "{shown:?} {t}"
                );
            }
        }
        let far = term(&strips[0], 900.0, 3.0);
        assert!(far.loss.is_finite() && far.slope > 0.0);
    }
}
