//! What holds between keys of one table, so far as the tables of keys do not say it.
//!
//! Each rule counts in every table that knows all its keys. The reader has its own words for each;
//! the tests hold the two against each other.

/// Keys of which one at most may be given, beside those that the reader lists.
pub(super) const ONE_AT_MOST: &[&[&str]] = &[
    &["area", "width"],
    &["area", "height"],
    &["area", "diameter"],
    &["area", "share_of_inlets"],
    &["width", "diameter"],
    &["height", "diameter"],
    &["width", "share_of_inlets"],
    &["height", "share_of_inlets"],
    &["diameter", "share_of_inlets"],
    &["drive_ratio", "pulleys", "speed"],
    &["flow", "share"],
    &["least_speed", "top_speed"],
    &["power", "peak_power_at"],
];

/// Keys of which one at least must be given.
pub(super) const ONE_AT_LEAST: &[&[&str]] = &[
    &["power", "peak_power"],
    &["gear", "rpm"],
    &["step", "trace", "leg"],
    &["drive_ratio", "pulleys", "speed", "off"],
    &["length", "angle"],
    &["area", "width", "diameter", "share_of_inlets"],
];

/// Keys that stand together or not at all.
pub(super) const TOGETHER: &[[&str; 2]] =
    &[["width", "height"], ["mass", "material"], ["peak_power", "peak_power_at"]];
