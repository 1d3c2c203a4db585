//! Munson, Young, Okiishi & Huebsch, Fundamentals of Fluid Mechanics, in feet, pounds.

use crate::published::support::{FREE_FALL_FEET, circle_area, within, within_share};
use slowcorner::correlations::LossCoefficient;
use slowcorner::numerics::lu::solve_in_place;
use slowcorner::numerics::root::bracketed;
use slowcorner::numerics::smooth::signed_square;

#[test]
fn example_8_10_exhaust_duct_of_a_dryer() {
    // Printed, p. 454: 4 in diameter, 20 ft, four elbows of K 1.5 and an entrance of 0.5, f
    // 0.022, 0.2 in of water, γ 0.0709 lbf/ft3 -> 0.90 ft3/s (0.9031 with all digits). The last
    // velocity head is lost at the vent.
    // Allowed: half of the last printed digit; of all digits the last.
    let diameter = 4.0 / 12.0;
    let k = LossCoefficient { fixed: 1.0 + 4.0 * 1.5 + 0.5, per_friction: 20.0 / diameter };
    let area = circle_area(diameter);
    let head = 0.2 / 12.0 * 62.4 / 0.0709;
    let resistance = k.at(0.022) / (2.0 * FREE_FALL_FEET * area * area);
    let miss = |flow: f64| resistance * signed_square(flow, 0.0).0 - head;
    let flow = bracketed(miss, 0.0, 10.0, miss(0.0), miss(10.0), 1e-12);
    within("ft3/s", flow, 0.90, 0.005);
    within("ft3/s, all digits", flow, 0.9031, 0.0005);
}

#[test]
fn example_8_14_three_reservoirs() {
    // Printed, p. 462: 12.5, 2.26 and 10.3 ft3/s. Pipes from memory (1 ft, f 0.02, 1000, 500 and
    // 400 ft from levels of 100, 20 and 0 ft to one junction); they give the all-digits answer
    // 12.506, 2.233 and 10.274 found by another solver. The printed 2.26 carries the rounding of
    // three velocities: 1.2 %.
    // Allowed: the last of all digits; of the print its own rounding.
    let area = circle_area(1.0);
    let resistance = |length: f64| 0.02 * length / (2.0 * FREE_FALL_FEET * area * area);
    let pipes = [(100.0, 1000.0), (20.0, 500.0), (0.0, 400.0)];

    // Unknown: the flows towards the junction and the head there. Newton on all four, from a
    // start where the middle pipe runs the wrong way.
    let mut state = [5.0, 5.0, -5.0, 10.0];
    for _ in 0..50 {
        let mut matrix = [0.0; 16];
        let mut step = [0.0; 4];
        for (i, (level, length)) in pipes.into_iter().enumerate() {
            let (square, slope) = signed_square(state[i], 1e-9);
            step[i] = level - state[3] - resistance(length) * square;
            matrix[4 * i + i] = resistance(length) * slope;
            matrix[4 * i + 3] = 1.0;
            matrix[12 + i] = 1.0;
            step[3] -= state[i];
        }
        assert!(solve_in_place(&mut matrix, 4, &mut step));
        for (value, change) in state.iter_mut().zip(step) {
            *value += change;
        }
    }
    let [first, second, third, head] = state;
    for (flow, all_digits, printed, rounding) in
        [(first, 12.506, 12.5, 0.05), (-second, 2.233, 2.26, 0.035), (-third, 10.274, 10.3, 0.05)]
    {
        within("ft3/s, all digits", flow, all_digits, 0.002);
        within("ft3/s", flow, printed, rounding);
    }

    // The same by closing in on the head of the junction alone.
    let imbalance = |head: f64| -> f64 {
        let flow = |(level, length): (f64, f64)| {
            let push: f64 = level - head;
            push.signum() * (push.abs() / resistance(length)).sqrt()
        };
        pipes.into_iter().map(flow).sum()
    };
    let closed_in = bracketed(imbalance, 0.0, 100.0, imbalance(0.0), imbalance(100.0), 1e-12);
    within("head", closed_in, head, 1e-9);
}

#[test]
fn example_8_6_losses_round_a_wind_tunnel() {
    // Printed, p. 446: 200 ft/s in the test section, standard air: the fan must raise the
    // pressure by 0.297 psi and gives the air 62.3 hp. Sections and coefficients from memory: 4
    // ft2 test section; corners K 0.2 at 10, 18, 28 and 35 ft2, diffuser 0.6 and nozzle 0.2 on
    // the test section, screen 4.0 at 35 ft2. Each K is brought to the test section's area.
    // Allowed: the last printed digit, and 0.1 % on the speed that follows from it.
    let parts = [(0.2, 10.0), (0.2, 18.0), (0.2, 28.0), (0.2, 35.0), (0.6, 4.0), (0.2, 4.0), (4.0, 35.0)];
    let on_test_section = |(k, area): (f64, f64)| {
        let ratio: f64 = 4.0 / area;
        (LossCoefficient::from(k) * (ratio * ratio)).at(0.0)
    };
    let k: f64 = parts.into_iter().map(on_test_section).sum();
    let (specific_weight, horsepower) = (0.0765, 550.0);
    let loss = |speed: f64| k * signed_square(speed, 0.0).0 / (2.0 * FREE_FALL_FEET);
    within("psi", specific_weight * loss(200.0) / 144.0, 0.297, 0.0006);
    let power = |speed: f64| specific_weight * 4.0 * speed * loss(speed) / horsepower;
    within("hp", power(200.0), 62.3, 0.1);
    // And back: the speed that 62.3 hp sustain.
    let miss = |speed: f64| power(speed) - 62.3;
    let speed = bracketed(miss, 1.0, 1000.0, miss(1.0), miss(1000.0), 1e-9);
    within_share("ft/s", speed, 200.0, 1e-3);
}
