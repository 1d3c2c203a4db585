//! Drawing, spreads and shares of variance against published examples, exact answers and a reference library.
//!
//! Figures marked scipy were computed with scipy 1.17.1, the call given.

use crate::published::support::{below, within, within_share};
use slowcorner::numerics::sobol::{Sobol, plain};
use slowcorner::numerics::sobol_shares::{Crossed, mean_and_error, of_scrambles, shares};
use slowcorner::numerics::two_piece::TwoPiece;
use slowcorner::numerics::{normal, quantiles::Quantiles};
use std::f64::consts::PI;

/// scipy: `scipy.stats.norm.ppf` and `.cdf`.
#[test]
fn the_normal_distribution_as_scipy_has_it() {
    // Allowed: what the last bits of the argument make of the result.
    for (p, z) in [
        (1e-300, -37.0470962993612),
        (1e-20, -9.262340089798409),
        (1e-6, -4.753424308822899),
        (0.001, -3.090232306167813),
        (0.05, -1.6448536269514729),
        (0.3, -0.5244005127080409),
        (0.6, 0.2533471031357997),
        (0.925, 1.4395314709384563),
        (0.975, 1.959963984540054),
        (0.9999, 3.719016485455709),
    ] {
        within_share("quantile", normal::quantile(p), z, 1e-13);
    }
    for (z, share) in [
        (-30.0, 4.906713927147908e-198),
        (-8.0, 6.22096057427174e-16),
        (-3.0, 0.0013498980316300933),
        (-0.5, 0.3085375387259869),
        (1.0, 0.8413447460685429),
        (2.5, 0.9937903346742238),
    ] {
        // half a unit in the last place of z/√2 moves the share by z² times as much
        within_share("share below", normal::below(z), share, 1e-15 + 4e-16 * z * z);
    }
}

/// Unscrambled points by index, dimensions 0, 1, 2, 5, 17, 63, 128, 255. scipy:
/// `scipy.stats.qmc.Sobol(256, scramble=False, bits=32)`, whose n-th point is that of index n ^ (n >> 1).
#[test]
fn sobol_points_as_scipy_has_them() {
    // Allowed: nothing, the points are whole multiples of a power of two.
    let dimensions = [0, 1, 2, 5, 17, 63, 128, 255];
    for (index, figures) in [
        (1, [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]),
        (3, [0.75, 0.25, 0.25, 0.75, 0.25, 0.75, 0.25, 0.75]),
        (2, [0.25, 0.75, 0.75, 0.25, 0.75, 0.25, 0.75, 0.25]),
        (4, [0.125, 0.625, 0.375, 0.375, 0.125, 0.375, 0.875, 0.125]),
        (86, [0.4140625, 0.2578125, 0.7734375, 0.7421875, 0.7421875, 0.6484375, 0.2578125, 0.5703125]),
        (
            512,
            [
                0.0009765625,
                0.7529296875,
                0.6123046875,
                0.4384765625,
                0.8759765625,
                0.0400390625,
                0.9853515625,
                0.8427734375,
            ],
        ),
        (
            1024,
            [
                0.00048828125,
                0.62744140625,
                0.93115234375,
                0.65771484375,
                0.82373046875,
                0.98876953125,
                0.61572265625,
                0.47998046875,
            ],
        ),
    ] {
        for (dimension, figure) in dimensions.into_iter().zip(figures) {
            within(&format!("point {index}, dimension {dimension}"), plain(index, dimension), figure, 0.0);
        }
    }
}

/// Quantiles 0.01 to 0.99 of cut two-piece normals: the density integrated by `scipy.integrate.quad` and
/// the integral inverted by `scipy.optimize.brentq`.
#[test]
fn two_piece_normals_as_integrated() {
    // Allowed: the digits of the integration.
    let shares = [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99];
    type Case = ((f64, f64, f64), (f64, f64), [f64; 7]);
    let cases: [Case; 4] = [
        (
            (15.0, 5.0, 30.0),
            (0.0, 200.0),
            [
                2.4169732841,
                5.9807779691,
                12.1158193913,
                16.9720327199,
                22.443026546,
                30.8149395257,
                36.8498044107,
            ],
        ),
        (
            (0.75, 0.55, 0.95),
            (0.5, 1.0),
            [0.5203943528, 0.5686317274, 0.671753765, 0.75, 0.828246235, 0.9313682726, 0.9796056472],
        ),
        (
            (0.95, 0.9, 1.1),
            (0.3, 1.0),
            [
                0.8806350927,
                0.9017536419,
                0.9323901172,
                0.9547550827,
                0.9765487128,
                0.9950906423,
                0.9990069296,
            ],
        ),
        (
            (600.0, 280.0, 800.0),
            (185.0, 1226.85),
            [
                216.7327070299,
                291.2574587531,
                446.7762087368,
                557.9699331471,
                657.4066146982,
                785.3740671514,
                871.6524779261,
            ],
        ),
    ];
    for ((value, low, high), (least, most), figures) in cases {
        let band = TwoPiece::of_band(value, low, high).within(least, most).unwrap();
        for (share, figure) in shares.into_iter().zip(figures) {
            within("quantile", band.quantile(share), figure, 2e-10 * figure.abs().max(1.0));
        }
    }
}

/// Quantiles of Y = X₁ + … + X₄ at shares 0.025 and 0.975, and its standard deviation.
fn sum_of_four(draw: impl Fn(usize, f64) -> f64) -> (f64, f64, f64) {
    let (mut sums, mut squares, count) = (Quantiles::default(), 0.0, 1 << 17);
    let sobol = Sobol::new(4, 1);
    for index in 0..count {
        let y: f64 = (0..4).map(|i| draw(i, sobol.coordinate(index, i))).sum();
        sums.add(y);
        squares += y * y;
    }
    (sums.quantile(0.025), sums.quantile(0.975), (squares / f64::from(count)).sqrt())
}

/// JCGM 101:2008 clause 9.2, additive model: normal inputs (table 2), rectangular ones of the same standard
/// deviation (table 3) and with the fourth ten times as wide (table 4). Figures of the tables from memory, to their
/// printed digits; worked out for this check: 1.96 √4 = 3.92, and with four rectangular inputs x⁴/24 = 0.025 of the
/// sum of four numbers between 0 and 1, so 2√3 (0.600^¼ − 2) = −3.879.
#[test]
fn the_additive_examples_of_jcgm_101() {
    // Allowed: the last printed digit, which the error of 131 072 points does not reach.
    let (low, high, u) = sum_of_four(|_, share| normal::quantile(share));
    within("normal, low", low, -3.92, 0.01);
    within("normal, high", high, 3.92, 0.01);
    within("normal, u", u, 2.00, 0.005);
    let rectangular = |width: f64, share: f64| width * 3_f64.sqrt() * (2.0 * share - 1.0);
    let (low, high, u) = sum_of_four(|_, share| rectangular(1.0, share));
    within("rectangular, low", low, -3.88, 0.01);
    within("rectangular, high", high, 3.88, 0.01);
    within("rectangular, u", u, 2.00, 0.005);
    let width = |i: usize| if i == 3 { 10.0 } else { 1.0 };
    let (low, high, u) = sum_of_four(|i, share| rectangular(width(i), share));
    within("one wide, low", low, -17.0, 0.05);
    within("one wide, high", high, 17.0, 0.05);
    within("one wide, u", u, 10.1, 0.05);
}

/// Results at the points that `draw` gives for an index; `inputs` at A, as many at B.
fn crossed(
    count: u32,
    inputs: usize,
    draw: impl Fn(u32, usize) -> f64,
    model: impl Fn(&[f64]) -> f64,
) -> Crossed {
    let mut found = Crossed { mixed: vec![Vec::new(); inputs], ..Crossed::default() };
    for index in 0..count {
        let point = |offset: usize| (0..inputs).map(|i| draw(index, offset + i)).collect::<Vec<f64>>();
        let (a, b) = (point(0), point(inputs));
        for i in 0..inputs {
            let mut mixed = a.clone();
            mixed[i] = b[i];
            found.mixed[i].push(model(&mixed));
        }
        found.a.push(model(&a));
        found.b.push(model(&b));
    }
    found
}

fn ishigami(u: &[f64]) -> f64 {
    let x = |i: usize| PI * (2.0 * u[i] - 1.0);
    x(0).sin() + 7.0 * x(1).sin().powi(2) + 0.1 * x(2).powi(4) * x(0).sin()
}

/// scipy: `scipy.stats.sobol_indices` (Saltelli 2010 for the first order, Jansen for the total) given the same
/// results at 512 unscrambled points, x = −π + 2πu.
#[test]
fn shares_as_scipy_reckons_them_on_the_same_draws() {
    // Allowed: half of the eighth digit.
    let found = shares(&crossed(512, 3, plain, ishigami));
    let first = [0.32201788, 0.45523284, 0.01762798];
    let total = [0.54064716, 0.43273862, 0.23989112];
    for i in 0..3 {
        within("first order", found[i].0, first[i], 1e-8);
        within("total", found[i].1, total[i], 1e-8);
    }
}

/// Shares in 16 scrambles of 2048 points against exact ones: within four standard errors, which must themselves
/// be small.
fn hold(inputs: usize, model: impl Fn(&[f64]) -> f64, first: &[f64], total: &[f64]) {
    let scrambles: Vec<Crossed> = (0..16)
        .map(|seed| {
            let sobol = Sobol::new(2 * inputs, seed);
            crossed(2048, inputs, |index, dimension| sobol.coordinate(index, dimension), &model)
        })
        .collect();
    let found = of_scrambles(&scrambles);
    for i in 0..inputs {
        for (what, share, exact) in [("first", found[i].first, first[i]), ("total", found[i].total, total[i])]
        {
            below(&format!("{what} {i}, standard error"), share.error, 0.01);
            within(&format!("{what} {i}"), share.value, exact, 4.0 * share.error + 1e-12);
        }
    }
}

/// f = sin x₁ + a sin² x₂ + b x₃⁴ sin x₁, a = 7, b = 0.1, x uniform in ±π. Ishigami & Homma (1990); exact
/// variances from Saltelli et al., Sensitivity Analysis, Wiley (2000), ch. 2: V₁ = ½(1 + bπ⁴/5)², V₂ = a²/8,
/// V₁₃ = 8b²π⁸/225.
#[test]
fn the_function_of_ishigami() {
    // Allowed: half of the fourth printed digit; for the shares found four of their own standard errors, each below
    // 0.01.
    let (v1, v2, v13) = (0.5 * (1.0 + 0.02 * PI.powi(4)).powi(2), 49.0 / 8.0, 0.08 * PI.powi(8) / 225.0);
    let all = v1 + v2 + v13;
    // printed shares 0.3139, 0.4424, 0 and 0.5576, 0.4424, 0.2437
    within("printed", v1 / all, 0.3139, 5e-5);
    within("printed", v13 / all, 0.2437, 5e-5);
    hold(3, ishigami, &[v1 / all, v2 / all, 0.0], &[(v1 + v13) / all, v2 / all, v13 / all]);
}

/// g = Π (|4u − 2| + a)/(1 + a), a = 0, 1, 4.5, 9, 99. Sobol' (1993); V_i = ⅓/(1 + a_i)².
#[test]
fn the_g_function_of_sobol() {
    // Exact.
    // Allowed: four standard errors of the 16 scrambles, each below 0.01.
    let a = [0.0, 1.0, 4.5, 9.0, 99.0];
    let g = |u: &[f64]| -> f64 {
        u.iter().zip(a).map(|(u, a)| ((4.0 * u - 2.0).abs() + a) / (1.0 + a)).product()
    };
    let own = a.map(|a| 1.0 / 3.0 / (1.0_f64 + a).powi(2));
    let product: f64 = own.iter().map(|v| 1.0 + v).product();
    let all = product - 1.0;
    let first = own.map(|v| v / all);
    let total = own.map(|v| v * product / (1.0 + v) / all);
    hold(5, g, &first, &total);
}

/// Exact: a sum of normal inputs is normal, its quantiles and the share above nothing are known, and so are the shares of
/// each input; two inputs tied, or tied the opposite way, add up before they are squared.
#[test]
fn a_sum_has_the_exact_normal_answer() {
    // Allowed: four standard errors of the 8 scrambles, below 0.002 for the share and 1 % of sigma for the quantiles.
    let weights = [3.0, 1.5, 1.0, -0.5, 0.25];
    for tie in [0.0_f64, 1.0, -1.0] {
        let linear = |z: &[f64]| -> f64 {
            let second = if tie == 0.0 { z[1] } else { tie * z[0] };
            4.0 + weights[0] * z[0]
                + weights[1] * second
                + weights[2] * z[2]
                + weights[3] * z[3]
                + weights[4] * z[4]
        };
        let squares = |list: &[f64]| list.iter().map(|w| w * w).sum::<f64>();
        let variance = match tie {
            0.0 => squares(&weights),
            _ => (weights[0] + tie * weights[1]).powi(2) + squares(&weights[2..]),
        };
        let sigma = variance.sqrt();
        let per_scramble = |seed: u64| {
            let sobol = Sobol::new(5, seed);
            let (mut found, mut above) = (Quantiles::default(), 0.0);
            for index in 0..2048 {
                let z: Vec<f64> = (0..5).map(|i| normal::quantile(sobol.coordinate(index, i))).collect();
                found.add(linear(&z));
                above += f64::from(u8::from(linear(&z) >= 0.0)) / 2048.0;
            }
            (found, above)
        };
        let scrambles: Vec<(Quantiles, f64)> = (0..8).map(per_scramble).collect();
        let above_nothing = mean_and_error(scrambles.iter().map(|(_, above)| *above));
        within(
            "share above nothing",
            above_nothing.value,
            normal::below(4.0 / sigma),
            4.0 * above_nothing.error,
        );
        below("its standard error", above_nothing.error, 0.002);
        for share in [0.05, 0.5, 0.95] {
            let mean = mean_and_error(scrambles.iter().map(|(found, _)| found.quantile(share)));
            within(
                "quantile",
                mean.value,
                4.0 + sigma * normal::quantile(share),
                4.0 * mean.error + 1e-4 * sigma,
            );
            below("its standard error over σ", mean.error / sigma, 0.01);
        }
    }
}

/// scipy stack: `numpy.quantile(x, p)` (2.x, method linear) of x_i = i sin i², i = 1..1000.
#[test]
fn quantiles_as_numpy_reckons_them() {
    // Allowed: rounding of sums of a thousand.
    let mut found = Quantiles::default();
    (1..=1000).map(f64::from).for_each(|i| found.add((i * i).sin() * i));
    for (share, figure) in [
        (0.05, -713.504864673325),
        (0.1, -565.3222670432441),
        (0.5, -0.5563080476733582),
        (0.9, 578.711949113923),
        (0.95, 714.560886964445),
    ] {
        within("quantile", found.quantile(share), figure, 1e-9);
    }
}
