//! What lies beneath the curves of a plot: the limit with its shaded side, and where curves may lie.

use super::chart::BadSide;
use super::plot::{LinePlot, field};
use crate::output::charts::theme;
use crate::output::scene::drawing::Scene;
use crate::output::scene::geometry::{Point, Rect};
use crate::output::scene::hatch;

const LIMIT_LINE: f64 = 2.4;
/// How much of the curve's colour its ground has: light enough for the curve and the hatch under a limit to be seen.
const GROUND: f64 = 0.16;
const EDGE: f64 = 0.7;

/// How much of the grey a shaded stretch has.
const STRETCH: f64 = 0.45;

/// Shaded stretches of the horizontal axis.
pub(super) fn shaded(scene: &mut Scene, plot: &LinePlot<'_>) {
    for (left, right, _) in &plot.shaded {
        let rect = Rect { left: *left, right: *right, ..plot.rect };
        scene.glaze(rect.corners(), theme::SHADE, STRETCH);
    }
}

/// The limit and its shaded side.
pub(super) fn limit(scene: &mut Scene, plot: &LinePlot<'_>, value: f64) {
    if !value.is_finite() {
        return;
    }
    let rect = plot.rect;
    let y = plot.y.at(value).clamp(rect.top, rect.bottom);
    let bad = match plot.data.panel.bad_side {
        BadSide::Below => Rect { top: y, ..rect },
        BadSide::Above => Rect { bottom: y, ..rect },
    };
    if bad.height() > 0.5 {
        for line in hatch::lines(&bad.corners(), 45.0, 8.0, false) {
            scene.stroke(line, theme::SHADE, 0.6, &[]);
        }
    }
    if plot.y.covers(value) {
        scene.line((rect.left, y), (rect.right, y), theme::INK, LIMIT_LINE);
    }
}

/// All spreads of a plot, cut to where curves are drawn: a light ground with a thin edge.
pub(super) fn spreads(scene: &mut Scene, plot: &LinePlot<'_>) {
    let field = field(plot);
    let within = |x: f64, y: f64| -> Point { field.nearest((plot.x.at(x), plot.y.at(y))) };
    for spread in &plot.data.panel.spreads {
        let (colour, _) = theme::curve(spread.curve);
        for run in spread.runs() {
            let low: Vec<Point> = run.iter().map(|(x, low, _)| within(*x, *low)).collect();
            let high: Vec<Point> = run.iter().map(|(x, _, high)| within(*x, *high)).collect();
            if let ([low], [high]) = (&low[..], &high[..]) {
                scene.line(*low, *high, colour, EDGE);
                continue;
            }
            scene.glaze(high.iter().chain(low.iter().rev()).copied().collect(), colour, GROUND);
            scene.stroke(low, colour, EDGE, &[]);
            scene.stroke(high, colour, EDGE, &[]);
        }
    }
}
