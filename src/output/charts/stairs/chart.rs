//! Staircases as plain data.

/// A chart of ways, one staircase each, all to one scale.
///
/// Each way stands in a row of its own, as high as its own values need: a step of so many units is as high in every row.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct StairChart {
    /// Heading.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// What the heights stand for.
    pub what: String,
    /// Their unit.
    pub unit: String,
    /// The ways, from the top down.
    pub ways: Vec<Stairway>,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width in points; 900 if absent. It is as high as its ways need.
    pub width: Option<f64>,
}

/// One way.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stairway {
    pub name: String,
    /// Said behind the name.
    pub note: String,
    /// Whether the note tells of something wrong.
    pub loud: bool,
    /// Where it begins: a name and a level.
    pub from: (String, f64),
    pub steps: Vec<Stair>,
}

/// One step of a way.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stair {
    /// What makes it.
    pub name: String,
    /// The level behind it.
    pub to: f64,
    /// Whether it is a place that stands at that level, and no step.
    pub place: bool,
    /// Whether something is wrong with it: drawn loud and hatched.
    pub loud: bool,
}
