//! Why a picture could not be made.

/// Why a picture could not be made.
///
/// Odd data is never a reason: empty curves, missing values and huge values all give a picture.
#[derive(Debug, thiserror::Error)]
pub enum ChartError {
    /// The drawing library refused a shape.
    #[error("the chart could not be drawn: {0}")]
    Drawing(String),
    /// The font kept in the program could not be read.
    #[error("the chart font could not be read")]
    Font,
    /// The pixels could not be packed into a PNG.
    #[error("the chart could not be packed as PNG: {0}")]
    Packing(String),
    /// The picture asked for is larger than a picture can sensibly be.
    #[error(
        "the chart would be {width:.0} × {height:.0} points; at most {limit:.0} square points can be drawn"
    )]
    TooLarge {
        /// Width asked for, in points.
        width: f64,
        /// Height needed, in points.
        height: f64,
        /// The most that is drawn, in square points.
        limit: f64,
    },
}
