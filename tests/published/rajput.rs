//! Rajput, A Textbook of Internal Combustion Engines.

use crate::published::support::{circle_area, dry_air, within};
use slowcorner::air::standard_atmosphere as isa;
use slowcorner::correlations::{discharge, piston_engine};
use slowcorner::numerics::root::bracketed;
use slowcorner::numerics::smooth::signed_square;

#[test]
fn example_7_2_volumetric_efficiency() {
    // Printed, p. 247: 4066 cm3, 3600 rpm, 86 kW at 0.38 kg/kWh, air/fuel 14 -> 0.85. Four
    // strokes; the air of the intake is taken as that of ISO 2533 at sea level.
    // Allowed: half of the last printed digit.
    let air = dry_air(isa::pressure(0.0), isa::temperature(0.0));
    let fuel = 0.38 * 86.0 / 3600.0;
    let swept = piston_engine::swept_volume_flow(4066e-6, 3600.0, 4.0);
    within("efficiency", 14.0 * fuel / (air.density() * swept), 0.85, 0.005);
}

#[test]
fn example_11_1_depression_in_a_choke() {
    // Printed, p. 399: four cylinders 100 × 120 mm, 1800 rpm, volumetric efficiency 0.75, choke
    // 28 mm with C_d 0.8 -> depression 4448 Pa, 0.0509 kg/s of air. Both are reproduced by air of
    // 1.2 kg/m3.
    // Allowed: half of the last printed digit; 1 Pa.
    let displacement = 4.0 * circle_area(0.100) * 0.120;
    let swept = piston_engine::swept_volume_flow(displacement, 1800.0, 4.0);
    let flow = 1.2 * 0.75 * swept;
    within("kg/s", flow, 0.0509, 0.00005);
    let area = circle_area(0.028);
    let resistance = discharge::with_last_head(0.8) / (2.0 * 1.2 * area * area);
    within("Pa", resistance * signed_square(flow, 0.0).0, 4448.0, 1.0);
    // And back: the flow that this depression draws.
    let miss = |flow: f64| resistance * signed_square(flow, 1e-9).0 - 4448.0;
    let drawn = bracketed(miss, 0.0, 1.0, miss(0.0), miss(1.0), 1e-12);
    within("kg/s", drawn, 0.0509, 0.00005);
}
