//! What the checks share.

use crate::published::page;

/// Fails unless `got` lies within `tolerance` of the `published` figure.
#[track_caller]
pub fn within(what: &str, got: f64, published: f64, tolerance: f64) {
    page::keep(what, got, published, tolerance);
    assert!(
        (got - published).abs() <= tolerance,
        "{what}: {got}, published {published}, allowed {tolerance}"
    );
}

/// Fails unless `got` lies within a `share` of the `published` figure.
#[track_caller]
pub fn within_share(what: &str, got: f64, published: f64, share: f64) {
    within(what, got, published, share * published.abs());
}

/// Fails unless `got` lies in a band.
#[track_caller]
pub fn between(what: &str, got: f64, low: f64, high: f64) {
    page::keep_band(what, got, low, high);
    assert!((low..=high).contains(&got), "{what}: {got}, outside {low}..{high}");
}

/// Fails unless `got` is less than a bound.
#[track_caller]
pub fn below(what: &str, got: f64, bound: f64) {
    page::keep_band(what, got, f64::NEG_INFINITY, bound);
    assert!(got < bound, "{what}: {got}, not below {bound}");
}

/// Fails unless `got` is more than a bound.
#[track_caller]
pub fn above(what: &str, got: f64, bound: f64) {
    page::keep_band(what, got, bound, f64::INFINITY);
    assert!(got > bound, "{what}: {got}, not above {bound}");
}

/// A dry day: pressure [Pa], temperature [K].
pub fn dry_air(pressure: f64, kelvin: f64) -> slowcorner::air::Air {
    slowcorner::air::Air::new(pressure, kelvin, 0.0, 0.0)
}

/// Geopotential altitude (m) of a geometric one: H = r Z/(r + Z), r = 6 356 766 m (ISO 2533).
pub fn geopotential_altitude(geometric: f64) -> f64 {
    6_356_766.0 * geometric / (6_356_766.0 + geometric)
}

/// Area of a circle.
pub fn circle_area(diameter: f64) -> f64 {
    0.25 * std::f64::consts::PI * diameter * diameter
}

/// Acceleration of free fall as textbooks in SI units take it [m/s²].
pub const FREE_FALL: f64 = 9.81;
/// The same in feet [ft/s²].
pub const FREE_FALL_FEET: f64 = 32.2;
