//! Gupta, Fundamentals of Internal Combustion Engines.

use crate::published::support::within;
use slowcorner::correlations::piston_engine;
use slowcorner::engine::running::HEATING_VALUE;
use slowcorner::engine::{Engine, Power};

#[test]
fn example_16_12_heat_balance() {
    // Printed, p. 534: four cylinders 85 × 95 mm, 3000 rpm, 0.24 kg/min of fuel at 44 MJ/kg, that
    // is 10 560 kJ/min; brake 26.86 % of it, specific consumption 0.3046 kg/kWh.
    // Allowed: the last printed digits; 1.2 on the air/fuel ratio, as the density of the air is not known closer.
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

#[test]
fn example_16_12_by_the_running_engine() {
    // The same engine at full throttle: brake power 26.86 % of 10 560 kJ/min, 47.27 kW, at 3000 rpm. The printed
    // fuel has 44 MJ/kg, this program reckons with 43: it wants 44/43 of the printed fuel.
    // Allowed: the last printed digits.
    let (fuel_heat, speed) = (10_560e3 / 60.0, 3000.0);
    let brake = 0.2686 * fuel_heat;
    let engine = Engine {
        power: Power::Peak { power: brake, rpm: speed },
        peak_power: brake,
        peak_rpm: speed,
        standard_air: false,
        displacement: 4.0 * std::f64::consts::FRAC_PI_4 * 0.085 * 0.085 * 0.095,
        strokes: 4.0,
        brake_efficiency: 0.2686,
        volumetric_efficiency: 0.926,
        friction_pressure: 1.2e5,
        heat_exponent: 0.75,
        shares_of_brake_power: false,
        total_share: 0.0,
        friction_share: 0.0,
    };
    let running = engine.running(speed, 1.0, 1.0);
    within("brake power, kW", running.brake_power / 1e3, 47.27, 0.01);
    within("fuel heat, kJ/min", running.fuel_power * 60.0 / 1e3, 10_560.0, 1.0);
    within("brake share, %", 100.0 * running.brake_power / running.fuel_power, 26.86, 0.005);
    // kg/kWh, brought to the printed heating value
    let consumption = running.fuel_flow() * 3600.0 / (running.brake_power / 1e3);
    within("specific consumption", consumption * HEATING_VALUE / 44e6, 0.3046, 1e-4);
    // air at the printed volumetric efficiency: 3.0 m3/min
    within("air, m3/min", running.breathed * 60.0, 2.995, 0.005);
}
