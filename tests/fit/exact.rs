//! A case in which what is read is linear in what is guessed, against the exact normal update; and guesses that no reading
//! can part.

use crate::fit::support::{BLOCKS, NINE_IN_TEN, fitted, score, temperature};

/// Spread of a band's half width.
fn spread(half: f64) -> f64 {
    half / NINE_IN_TEN
}

/// Solves a small system by elimination without exchange.
fn solve(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Vec<f64> {
    let n = b.len();
    for k in 0..n {
        for i in k + 1..n {
            let factor = a[i][k] / a[k][k];
            let pivot = a[k].clone();
            a[i].iter_mut().zip(&pivot).skip(k).for_each(|(below, above)| *below -= factor * above);
            b[i] -= factor * b[k];
        }
    }
    for k in (0..n).rev() {
        b[k] = (b[k] - (k + 1..n).map(|j| a[k][j] * b[j]).sum::<f64>()) / a[k][k];
    }
    b
}

/// Temperatures of the hottest cylinders are those of the parts and what these are hotter by: T = T₀ + a_p + e_p + c + ε,
/// a_p guessed, e_p the model's own error at the part, c the gauge's zero error, which both parts share. With x the
/// unknowns, A the readings' rows, P the prior and R the readings' variances the normal update is exact:
/// x = (P⁻¹ + Aᵀ R⁻¹ A)⁻¹ Aᵀ R⁻¹ (y − T₀).
#[test]
fn a_linear_case_is_the_exact_normal_update() {
    let wider = BLOCKS.replacen("hottest_above_mean = \"40 K\"", "hottest_above_mean = \"40 K ± 10 K\"", 1);
    let case = wider.replacen("hottest_above_mean = \"40 K\"", "hottest_above_mean = \"40 K ± 16 K\"", 1);
    let plain = [temperature(BLOCKS, 0, 0), temperature(BLOCKS, 0, 1)];
    let hard = [temperature(BLOCKS, 1, 0), temperature(BLOCKS, 1, 1)];
    // read minus what would be shown with the values taken, reading by reading
    let off = [12.0, -5.0, 9.0];
    let readings = format!(
        "format = 1\n[instrument.gauge]\nreads = \"temperature\"\nwithin = \"5 K\"\nzero = \"6 K\"\n\
         [[test]]\nname = \"a\"\non = \"track\"\ncondition = \"run\"\nreading = [\n\
         {{ part = \"heads\", shows = \"{} degC\", with = \"gauge\" }}, {{ part = \"barrels\", shows = \"{} degC\", with = \"gauge\" }}]\n\
         [[test]]\nname = \"b\"\non = \"track\"\ncondition = \"hard run\"\nreading = {{ part = \"heads\", shows = \"{} degC\" }}\n",
        plain[0] + 40.0 + off[0],
        plain[1] + 40.0 + off[1],
        hard[0] + 40.0 + off[2]
    );
    let (fit, left) = fitted(&case, &readings);
    assert_eq!(fit.guesses, 2, "{:?}", fit.unseen);
    let band = |address: &str| {
        let text = case.split(&format!("[part.{address}]")).nth(1).expect("a part");
        let half = text.split("± ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a band");
        half.parse::<f64>().expect("a number")
    };
    let (heads, barrels) = (band("heads"), band("barrels"));
    // half of the variance of 8 K is shared by the readings of a part, the other half each has by itself
    let shared = spread(8.0) * 0.5_f64.sqrt();
    let own = spread(5.0).powi(2) + shared * shared;
    let rows = [[1.0, 0.0, 1.0, 0.0, 1.0], [0.0, 1.0, 0.0, 1.0, 1.0], [1.0, 0.0, 1.0, 0.0, 0.0]];
    let prior = [spread(heads), spread(barrels), shared, shared, spread(6.0)];
    let matrix: Vec<Vec<f64>> = (0..5)
        .map(|i| {
            (0..5)
                .map(|j| {
                    let data: f64 = rows.iter().map(|row| row[i] * row[j] / own).sum();
                    data + if i == j { prior[i].powi(-2) } else { 0.0 }
                })
                .collect()
        })
        .collect();
    let rhs: Vec<f64> =
        (0..5).map(|i| rows.iter().zip(off).map(|(row, off)| row[i] * off / own).sum()).collect();
    let exact = solve(matrix.clone(), rhs);
    for (place, part) in ["heads", "barrels"].into_iter().enumerate() {
        let mut unit = vec![0.0; 5];
        unit[place] = 1.0;
        let variance = solve(matrix.clone(), unit)[place];
        let (mean, sd) = score(&left, &format!("part/{part}/hottest_above_mean"));
        let (wanted, wanted_sd) = (exact[place] / prior[place], variance.sqrt() / prior[place]);
        // Allowed: three standard errors of 800 draws, which the chains are worth at least
        assert!((mean - wanted).abs() < 0.11 * wanted_sd, "{part}: {mean} {wanted} ± {wanted_sd}");
        assert!((sd / wanted_sd - 1.0).abs() < 0.08, "{part}: {sd} {wanted_sd}");
    }
    assert!(fit.chains.effective >= 800.0 && fit.chains.agreement < 1.03, "{:?}", fit.chains);
}

/// Heat and conductance of a block set its temperature by their ratio alone: one temperature cannot part them.
#[test]
fn what_only_moves_together_is_named() {
    let case = BLOCKS.replacen("heads = \"6 %\"", "heads = \"6 % ± 2 %\"", 1).replacen(
        "bay_conductance = \"40 W/K\"",
        "bay_conductance = \"40 W/K ± 14 W/K\"",
        1,
    );
    let shown = temperature(BLOCKS, 0, 0) + 40.0;
    let readings = format!(
        "format = 1\n[model_error]\nparts = \"2 K\"\n[[test]]\nname = \"a\"\non = \"track\"\ncondition = \"run\"\n\
         reading = {{ part = \"heads\", shows = \"{shown} degC ± 1 K\" }}\n"
    );
    let (fit, _) = fitted(&case, &readings);
    let [pair] = &fit.pairs[..] else { panic!("{:?}", fit.pairs) };
    assert_eq!(pair.one, "engine/heat/heads");
    assert_eq!(pair.other, "part/heads/bay_conductance");
    assert!(pair.correlation > 0.85, "{pair:?}");
}

/// A reading far beyond all bands raises the alarm, and the page says which guess it was.
#[test]
fn a_value_driven_to_the_end_of_its_band_is_an_alarm() {
    let case = BLOCKS.replacen("heads = \"6 %\"", "heads = \"6 % ± 0.5 %\"", 1);
    let shown = temperature(BLOCKS, 0, 0) + 40.0 + 60.0;
    let readings = format!(
        "format = 1\n[[test]]\nname = \"a\"\non = \"track\"\ncondition = \"run\"\nreading = {{ part = \"heads\", shows = \"{shown} degC\" }}\n"
    );
    let (fit, _) = fitted(&case, &readings);
    assert_eq!(fit.alarms.len(), 1, "{fit:#?}");
    assert_eq!(fit.alarms[0].address, "engine/heat/heads");
}
