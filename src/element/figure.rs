//! The figure of a kind of element: curves drawn from its law over its range, as plain numbers.

/// Points of a curve.
const POINTS: u32 = 120;
/// Darcy friction factor of a smooth duct of a car, for figures of K with wall friction in it.
pub const FRICTION: f64 = 0.025;

#[derive(Clone, Debug)]
pub struct FigureCurve {
    /// What it is drawn for.
    pub name: String,
    pub points: Vec<(f64, f64)>,
    /// Whether it is drawn stronger than the others.
    pub emphasis: bool,
}

#[derive(Clone, Debug)]
pub struct FigureAxis {
    /// What goes along it.
    pub label: &'static str,
    pub unit: &'static str,
}

/// Curves over one another.
#[derive(Clone, Debug)]
pub struct FigurePanel {
    /// The axis upwards.
    pub y: FigureAxis,
    pub curves: Vec<FigureCurve>,
}

#[derive(Clone, Debug)]
pub struct ElementFigure {
    /// What stands above it.
    pub title: String,
    /// The axis across.
    pub x: FigureAxis,
    /// The panels, from above.
    pub panels: Vec<FigurePanel>,
    /// What stands below it.
    pub note: String,
    /// Width and height (px).
    pub size: (f64, f64),
}

/// A curve of a law over a range.
pub(super) fn curve(
    name: impl Into<String>,
    (low, high): (f64, f64),
    law: impl Fn(f64) -> f64,
) -> FigureCurve {
    let points = (0..=POINTS).map(|i| {
        let x = low + (high - low) * f64::from(i) / f64::from(POINTS);
        (x, law(x))
    });
    FigureCurve { name: name.into(), points: points.collect(), emphasis: false }
}

pub(super) fn axis(label: &'static str, unit: &'static str) -> FigureAxis {
    FigureAxis { label, unit }
}

/// A figure of one panel.
pub(super) fn chart(
    title: &str,
    x: FigureAxis,
    y: FigureAxis,
    curves: Vec<FigureCurve>,
    note: &str,
) -> ElementFigure {
    ElementFigure {
        title: title.into(),
        x,
        panels: vec![FigurePanel { y, curves }],
        note: note.into(),
        size: (720.0, 420.0),
    }
}

/// K of a cone by its included angle, `what` with the law of β and the angle.
pub(super) fn cone_figure(
    what: &str,
    law: fn(f64, f64) -> crate::correlations::LossCoefficient,
) -> ElementFigure {
    let of_ratio = |ratio: f64| {
        let name = format!("{} times the area", crate::keys::kind::short_number(ratio));
        curve(name, (2.0, 180.0), move |angle| law((1.0 / ratio).sqrt(), angle.to_radians()).at(FRICTION))
    };
    chart(
        &format!("{what} by its included angle"),
        axis("Included angle", "°"),
        axis("K", "on the smaller area"),
        [4.0, 2.0, 1.3].map(of_ratio).into(),
        &format!(
            "Wall friction included, f = {FRICTION}; a duct behind it. Small jumps at 20° and 60° are the formula's own."
        ),
    )
}
