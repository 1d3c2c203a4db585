//! Moist air against the equation of state that balances are corrected with (CIPM-2007), and
//! vapour pressure against meteorological tables.

use crate::published::support::{above, within, within_share};
use slowcorner::air::{Air, moist};

/// One millimetre of mercury [Pa].
const MILLIMETRE_OF_MERCURY: f64 = 133.322387;

#[test]
fn density_of_moist_air() {
    // Printed test values of CIPM-2007 (Picard, Davis, Gläser & Fujii, Metrologia 45 (2008)),
    // as reprinted with programs that implement it. The ideal mixture leaves out the
    // compressibility Z (0.9994..0.9997 here) and the 400 ppm of CO2: 0.1 %.
    // Allowed: 0.1 %, the compressibility and the CO2 left out.
    let at = |celsius: f64, millimetres: f64| {
        let pressure = millimetres * MILLIMETRE_OF_MERCURY;
        Air::new(pressure, celsius + 273.15, 0.0, 0.40).density()
    };
    within_share("10 °C, 730 mmHg, 40 %", at(10.0, 730.0), 1.19569, 1e-3);
    within_share("40 °C, 760 mmHg, 40 %", at(40.0, 760.0), 1.11497, 1e-3);
    // Had the vapour been forgotten, the hot day would be 1 % off: the check can tell.
    let dry = Air::new(760.0 * MILLIMETRE_OF_MERCURY, 313.15, 0.0, 0.0).density();
    above("the same dry", dry / 1.11497, 1.005);
}

#[test]
fn saturation_pressure_over_water() {
    // From memory: steam tables give 611.2 Pa at 0 °C and 2339 Pa at 20 °C.
    // Allowed: the last digit remembered, 0.1 to 0.2 %.
    within_share("0 °C", moist::saturation_pressure(273.15), 611.2, 1e-3);
    within_share("20 °C", moist::saturation_pressure(293.15), 2339.0, 1e-3);
    within_share("100 °C", moist::saturation_pressure(373.15), 101_400.0, 2e-3);
}

#[test]
fn below_freezing_the_pressure_is_still_over_water() {
    // From memory: Goff-Gratch at −10 °C gives 286.3 Pa over supercooled water, 259.9 over ice;
    // at −20 °C 125.4 and 103.3. Extrapolating the formula for water costs up to 0.3 %.
    // Allowed: 0.5 and 0.8 %: the extrapolation and the last digit remembered. Over ice it would be 9 and 18 % less.
    within_share("−10 °C", moist::saturation_pressure(263.15), 286.3, 5e-3);
    within_share("−20 °C", moist::saturation_pressure(253.15), 125.4, 8e-3);
}

#[test]
fn humidity_ratio_and_heat_capacity() {
    // ASHRAE Fundamentals, psychrometric table at 101.325 kPa, from memory: saturated air at
    // 20 °C holds 0.01476 kg/kg, at 30 °C 0.0273; the enhancement of 0.4 % is left out here.
    // Allowed: 0.8 %, twice the enhancement left out.
    let saturated = |celsius: f64| Air::new(101_325.0, celsius + 273.15, 0.0, 1.0).humidity_ratio;
    within_share("20 °C", saturated(20.0), 0.01476, 8e-3);
    within_share("30 °C", saturated(30.0), 0.0273, 8e-3);
    // Steam alone: w without bound. c_p 1860 J/(kg K) and R 461.5, from memory.
    within("steam", moist::heat_capacity(1e9), 1860.0, 1.0);
    within("steam", moist::gas_constant(1e9), 461.5, 0.1);
}
