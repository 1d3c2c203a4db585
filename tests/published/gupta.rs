//! Gupta, Fundamentals of Internal Combustion Engines.

use crate::support::within;
use slowcorner::correlations::piston_engine;

#[test]
fn example_16_12_heat_balance() {
    // Printed, p. 534: four cylinders 85 × 95 mm, 3000 rpm, 0.24 kg/min of fuel at 44 MJ/kg, that
    // is 10 560 kJ/min; brake 26.86 % of it, specific consumption 0.3046 kg/kWh.
    let consumption = 0.3046 / 3.6e6;
    let efficiency = piston_engine::brake_efficiency(consumption, 44e6);
    within("brake share", 100.0 * efficiency, 26.86, 0.006);
    // Both ways to brake power agree: share of the fuel's heat, and fuel over consumption.
    let by_heat = efficiency * 10_560e3 / 60.0;
    let by_fuel = 0.24 / 60.0 / consumption;
    within("brake power", by_heat, by_fuel, 0.001 * by_fuel);

    // Printed volumetric efficiency 92.6 %. Its air is not printed in what was read; at 3000 rpm
    // the swept flow makes that 3.0 m3/min, which with 0.24 kg/min of fuel and air of 1.1 to 1.2
    // kg/m3 is an air/fuel ratio in the range of petrol engines.
    let displacement = 4.0 * std::f64::consts::FRAC_PI_4 * 0.085 * 0.085 * 0.095;
    let swept = piston_engine::swept_volume_flow(displacement, 3000.0, 4.0);
    for density in [1.1, 1.2] {
        let ratio = 0.926 * swept * density / (0.24 / 60.0);
        within("air/fuel ratio", ratio, 14.7, 1.2);
    }
}
