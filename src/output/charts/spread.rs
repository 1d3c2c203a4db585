//! The spread about a curve: where it may lie, as a light ground with a thin edge.

use super::geometry::Point;
use super::line_curves::field;
use super::line_layout::Plot;
use super::scale::drawable;
use super::scene::Scene;
use super::theme;

/// How much of the curve's colour its ground has: light enough for the curve and the hatch under a limit to be seen.
const GROUND: f64 = 0.16;
const EDGE: f64 = 0.7;

/// A range up the vertical axis at each place along the horizontal one.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Spread {
    /// Whose spread it is: the place of its curve in the panel.
    pub curve: usize,
    /// Place, low and high end. `None` (and a value that is no finite number) breaks it.
    pub points: Vec<(f64, Option<(f64, f64)>)>,
}

impl Spread {
    /// Unbroken runs of places with both ends.
    fn runs(&self) -> Vec<Vec<(f64, f64, f64)>> {
        let mut out = vec![Vec::new()];
        for (x, ends) in &self.points {
            let ends = ends.and_then(|(low, high)| drawable(low).zip(drawable(high)));
            match (drawable(*x), ends) {
                (Some(x), Some((low, high))) => {
                    if let Some(run) = out.last_mut() {
                        run.push((x, low, high));
                    }
                }
                _ => out.push(Vec::new()),
            }
        }
        out.retain(|run| !run.is_empty());
        out
    }

    /// Every end.
    pub(super) fn values(&self) -> impl Iterator<Item = f64> {
        self.runs().into_iter().flatten().flat_map(|(_, low, high)| [low, high])
    }
}

/// All spreads of a plot, cut to where curves are drawn.
pub(super) fn draw(scene: &mut Scene, plot: &Plot<'_>) {
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
