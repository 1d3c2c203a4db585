//! Bars in cells as plain data.

/// A table of bars about a limit, all to one scale.
///
/// To the right of the upright line is good, to the left bad; bad bars are loud and hatched. Columns that do not fit beside one
/// another go on below.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CellChart {
    /// Heading.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// What a bar stands for, with its unit.
    pub what: String,
    /// Columns: a name and a remark.
    pub columns: Vec<(String, String)>,
    /// Rows, from the top down.
    pub rows: Vec<CellRow>,
    /// Lowest and highest value drawn; a bar beyond is cut and marked.
    pub range: (f64, f64),
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width in points; 900 if absent. It is as high as its rows need.
    pub width: Option<f64>,
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct CellRow {
    pub name: String,
    /// One for each column; none where there is no value.
    pub cells: Vec<Option<BarCell>>,
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct BarCell {
    /// Its value, from the limit.
    pub value: f64,
    /// What stands under it.
    pub label: String,
    /// Said in bold.
    pub emphasis: bool,
}
