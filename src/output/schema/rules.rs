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
    &["conductance", "fin_pitch"],
    &["pressure_drop", "fin_pitch"],
    &["wheel", "reference_speed"],
    &["wheel", "reference_density"],
];

/// Keys of which one at least must be given.
pub(super) const ONE_AT_LEAST: &[&[&str]] = &[
    &["power", "peak_power"],
    &["gear", "rpm"],
    &["step", "trace", "leg"],
    &["drive_ratio", "pulleys", "speed", "off"],
    &["length", "angle"],
    &["conductance", "fin_pitch"],
    &["curve", "wheel"],
    &["limit", "share_at"],
    &["area", "width", "diameter", "share_of_inlets"],
];

/// Keys that stand together or not at all.
pub(super) const TOGETHER: &[&[&str]] = &[
    &["width", "height"],
    &["mass", "material"],
    &["peak_power", "peak_power_at"],
    &["fin_pitch", "fin_thickness", "fin_length", "root_diameter", "fin_count"],
];

/// A key of a table that knows the first key of all: the key, and those that must stand beside it.
pub(super) const NEEDED_WITH: &[(&str, &str, &[&str])] = &[
    ("fin_pitch", "conductance", &["reference_flow", "pressure_drop"]),
    ("fin_pitch", "pressure_drop", &["reference_flow", "conductance"]),
    ("rated", "conductance", &["reference_flow"]),
    ("fin_pitch", "cylinders", &["fin_pitch"]),
    ("fin_pitch", "conductivity", &["fin_pitch"]),
    ("fin_pitch", "baffled", &["fin_pitch"]),
    ("fin_pitch", "surface_factor", &["fin_pitch"]),
    ("fin_pitch", "pressure_factor", &["fin_pitch"]),
    ("vanes", "hose", &["radius"]),
    ("vanes", "vane_factor", &["vanes"]),
    ("wheel", "curve", &["reference_speed"]),
    ("wheel", "measured", &["wheel"]),
    ("wheel", "head_factor", &["wheel"]),
    ("wheel", "flow_factor", &["wheel"]),
    ("share_at", "least", &["limit"]),
    ("share_at", "measured_at", &["limit"]),
    ("share_at", "hottest_above_mean", &["limit"]),
    ("share_at", "surface_height", &["surface"]),
    ("share_at", "emissivity", &["surface"]),
];

/// Sets of keys of which one at least must be given whole, in a table that knows the first key of all.
pub(super) const ALTERNATIVES: &[(&str, &[&[&str]])] = &[
    ("rated", &[&["conductance", "pressure_drop"], &["area"], &["width"], &["diameter"]]),
    ("wheel", &[&["curve"], &["diameter"], &["wheel_diameter"]]),
    ("ramp_angle", &[&["boundary_layer"], &["place"]]),
];
