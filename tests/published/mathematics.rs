//! Numerical tools against known solutions and a reference library.

use crate::published::support::{within, within_share};
use slowcorner::numerics::lu::solve_in_place;
use slowcorner::numerics::monotone_cubic::MonotoneCubic;
use slowcorner::numerics::root::bracketed;

type Figures = [(f64, f64, f64)];

/// x, value, slope: computed with scipy 1.17.1, `scipy.interpolate.PchipInterpolator(x, y)` and
/// its `.derivative()`, which uses the same slopes.
fn as_scipy(points: &[(f64, f64)], figures: &Figures) {
    let curve = MonotoneCubic::new(points).unwrap();
    for &(x, value, slope) in figures {
        let (our_value, our_slope) = curve.value_and_slope(x);
        within("value", our_value, value, 1e-11 * value.abs().max(1.0));
        within("slope", our_slope, slope, 1e-11 * slope.abs().max(1.0));
    }
    let (first, last) = (figures[0], figures[figures.len() - 1]);
    within("first slope", curve.first().2, first.2, 1e-11);
    within("last slope", curve.last().2, last.2, 1e-11);
}

#[test]
fn a_power_curve_as_scipy_draws_it() {
    // Allowed: the digits given, a hundred-thousand-millionth.
    let points = [(1900.0, 11.0), (3600.0, 25.0), (5200.0, 36.0), (6100.0, 39.0)];
    as_scipy(
        &points,
        &[
            (1900.0, 11.0, 0.0089360516934),
            (2500.0, 16.2197340199, 0.00845715377382),
            (3600.0, 25.0, 0.00748710897216),
            (4400.0, 31.1276273822, 0.00735347974167),
            (5900.0, 38.5227010918, 0.00270184778435),
            (6100.0, 39.0, 0.00205833333333),
        ],
    );
}

#[test]
fn a_fan_curve_with_a_hump_as_scipy_draws_it() {
    // Allowed: the digits given, a hundred-thousand-millionth.
    let points = [(0.0, 0.90), (250.0, 0.95), (500.0, 0.90), (750.0, 0.75), (1000.0, 0.40), (1200.0, 0.0)];
    as_scipy(
        &points,
        &[
            (0.0, 0.9, 0.0004),
            (100.0, 0.932, 0.00024),
            (250.0, 0.95, 0.0),
            (300.0, 0.9472, -0.000108),
            (620.0, 0.84492288, -0.000604128),
            (750.0, 0.75, -0.00084),
            (1100.0, 0.215219298246, -0.00201885964912),
            (1200.0, 0.0, -0.00226666666667),
        ],
    );
}

#[test]
fn limited_ends_as_scipy_draws_them() {
    // Allowed: the digits given, a hundred-thousand-millionth.
    let zigzag = [(0.0, 0.0), (1.0, 1.0), (2.0, 0.0), (5.0, 0.5)];
    as_scipy(
        &zigzag,
        &[
            (0.0, 0.0, 2.0),
            (0.3, 0.51, 1.4),
            (1.5, 0.5, -1.5),
            (3.0, 0.0185185185185, 0.0555555555556),
            (4.5, 0.289351851852, 0.347222222222),
            (5.0, 0.5, 0.5),
        ],
    );
    // The first slope would be seven times its interval's gradient: limited to three times.
    let cliff = [(0.0, 0.0), (1.0, 0.1), (1.5, -5.0), (2.0, -5.0)];
    as_scipy(
        &cliff,
        &[
            (0.0, 0.0, 0.3),
            (0.5, 0.0875, 0.075),
            (1.2, -1.6952, -14.688),
            (1.75, -5.0, 0.0),
            (2.0, -5.0, 0.0),
        ],
    );
}

#[test]
fn equation_of_wallis() {
    // Wallis (1685), the classical trial of root finders: x³ − 2x − 5 = 0 at 2.0945514815423265.
    // Exact to its digits.
    // Allowed: some last bits.
    let f = |x: f64| x * x * x - 2.0 * x - 5.0;
    let known = 2.094_551_481_542_326_5;
    let closed_in = bracketed(f, 2.0, 3.0, f(2.0), f(3.0), 1e-15);
    within("bracketed", closed_in, known, 1e-14);
}

#[test]
fn hilbert_matrix() {
    // The inverse of Hilbert's 5 × 5 matrix has whole numbers: its first column is 25, −300,
    // 1050, −1400, 630 (Choi, American Mathematical Monthly 90 (1983), from memory). Condition
    // 4.8e5: five digits of sixteen are lost.
    // Allowed: 1e-10, the eleven digits that the condition leaves, less one.
    let mut matrix = [0.0; 25];
    for (index, entry) in matrix.iter_mut().enumerate() {
        *entry = 1.0 / ((index / 5 + index % 5 + 1) as f64);
    }
    let mut column = [1.0, 0.0, 0.0, 0.0, 0.0];
    assert!(solve_in_place(&mut matrix, 5, &mut column));
    for (ours, known) in column.into_iter().zip([25.0, -300.0, 1050.0, -1400.0, 630.0]) {
        within_share("inverse", ours, known, 1e-10);
    }
}
