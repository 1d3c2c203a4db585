//! The standard atmosphere of ISO 2533.

use crate::published::support::{above, dry_air, geopotential_altitude, within, within_share};
use slowcorner::air::{standard_atmosphere as isa, transport};

/// Geometric altitude [m], temperature [K], pressure [Pa]: computed with ambiance 1.3.1
/// (`Atmosphere(h).temperature`, `.pressure`) and fluids 1.3.1 (`ATMOSPHERE_1976(Z)`), which
/// differ in the seventh digit.
const GEOMETRIC: [(f64, f64, f64); 4] = [
    (0.0, 288.15, 101_325.0),
    (1000.0, 281.651, 89_876.29),
    (2000.0, 275.154, 79_501.42),
    (3000.0, 268.659, 70_121.16),
];

#[test]
fn temperature_and_pressure_at_geometric_altitude() {
    // Allowed: half of the last digit; 0.02 Pa, what the two libraries differ by.
    for (altitude, kelvin, pascal) in GEOMETRIC {
        let height = geopotential_altitude(altitude);
        within("temperature", isa::temperature(height), kelvin, 0.0006);
        // 0.02 Pa: what the two libraries differ by.
        within("pressure", isa::pressure(height), pascal, 0.02);
    }
}

#[test]
fn geopotential_altitude_is_told_from_geometric() {
    // The standard's tables, from memory: 22 632 Pa and 216.65 K at 11 000 m geopotential,
    // 113 929 Pa at −1000 m, where the two kinds of altitude differ by 2 Pa.
    // Allowed: half of the last digit remembered, 2 Pa below the sea.
    within("tropopause", isa::pressure(11_000.0), 22_632.0, 0.5);
    within("tropopause", isa::temperature(11_000.0), 216.65, 1e-9);
    within("below the sea", isa::pressure(-1000.0), 113_929.0, 2.0);
    // Taking 3000 m of one kind for the other is 11 Pa: well outside the checks above.
    let slip = isa::pressure(3000.0) - isa::pressure(geopotential_altitude(3000.0));
    above("one altitude for the other, Pa", slip.abs(), 10.0);
}

#[test]
fn sea_level_air() {
    // ISO 2533, table of sea-level values, from memory: 1.225 kg/m3, 340.294 m/s, 1.7894e-5 Pa s.
    // Allowed: the last digit remembered.
    let air = dry_air(isa::SEA_LEVEL_PRESSURE, isa::SEA_LEVEL_TEMPERATURE);
    within("density", air.density(), 1.225, 0.0005);
    within("speed of sound", air.speed_of_sound(), 340.294, 0.0006);
    within("viscosity", air.viscosity(), 1.7894e-5, 0.0006e-5);
}

#[test]
fn viscosity_at_altitude() {
    // Computed with ambiance 1.3.1, Atmosphere(h).dynamic_viscosity, h 1000 and 3000 m.
    // Allowed: half of the eighth digit.
    for (altitude, viscosity) in [(1000.0, 1.757_850_5e-5), (3000.0, 1.693_764_6e-5)] {
        let height = geopotential_altitude(altitude);
        let ours = transport::viscosity(isa::temperature(height));
        within_share("viscosity", ours, viscosity, 1e-7);
    }
}

#[test]
fn sutherland_at_300_kelvin() {
    // The formula with the standard's constants worked out by hand: 1.8460e-5 Pa s.
    // Allowed: half of the last digit worked out.
    within("viscosity", transport::viscosity(300.0), 1.8460e-5, 0.5e-9);
}
