//! Least squares of another program on the same readings.

use crate::fit::support::{BLOCKS, fitted, score};

/// scipy 1.17.1, `least_squares` with this program's `check` as the forward model and the unknowns as residuals of their
/// own: likeliest scores, and their spreads from (JᵀJ)⁻¹. Worked out once beside the test: heat of the heads 6 % ± 1.5 %,
/// conductance 40 W/K ± 6 W/K, brake efficiency 25 % ± 2 %, model error 8 K, gauge ± 4 K.
const READ: [f64; 3] = [244.7135, 337.1973, 178.2027];
const SCIPY: [(&str, f64, f64); 3] = [
    ("engine/heat/heads", 0.363_131, 0.586_565),
    ("part/heads/bay_conductance", -0.234_925, 0.851_715),
    ("engine/brake_efficiency", 0.475_008, 0.737_320),
];

#[test]
fn scores_and_spreads_are_those_of_another_program() {
    let case = BLOCKS
        .replacen("heads = \"6 %\"", "heads = \"6 % ± 1.5 %\"", 1)
        .replacen("bay_conductance = \"40 W/K\"", "bay_conductance = \"40 W/K ± 6 W/K\"", 1)
        .replacen("brake_efficiency = \"25 %\"", "brake_efficiency = \"25 % ± 2 %\"", 1);
    let readings = format!(
        "format = 1\n[[test]]\nname = \"a\"\non = \"track\"\ncondition = \"run\"\nreading = [\n\
         {{ part = \"heads\", shows = \"{} degC ± 4 K\" }}, {{ part = \"barrels\", shows = \"{} degC ± 4 K\" }}]\n\
         [[test]]\nname = \"b\"\non = \"track\"\ncondition = \"hard run\"\nreading = {{ part = \"heads\", shows = \"{} degC ± 4 K\" }}\n",
        READ[0], READ[2], READ[1]
    );
    let (fit, left) = fitted(&case, &readings);
    assert_eq!(fit.guesses, 3);
    for (address, wanted, spread) in SCIPY {
        let (mean, sd) = score(&left, address);
        // Allowed: three standard errors of 800 draws, and as much again for the mean of what is not quite normal
        assert!((mean - wanted).abs() < 0.2 * spread, "{address}: {mean} {wanted}");
        assert!((sd / spread - 1.0).abs() < 0.1, "{address}: {sd} {spread}");
    }
}
