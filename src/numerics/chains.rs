//! Whether several chains of draws tell the same, and how many independent draws they are worth.

/// What several chains say of one quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Agreement {
    /// Split-chain agreement: near 1 where every half of every chain tells the same.
    pub split: f64,
    /// How many independent draws they are worth.
    pub effective: f64,
}

/// Agreement and effective number of chains of equal length, each cut in two.
///
/// ```text
///   R̂ = √(V/W),   V = (n − 1)/n W + B/n
///   n_eff = M n / (−1 + 2 Σ P_t),   P_t = ρ_2t + ρ_2t+1,   ρ_t = 1 − (W − mean s² r_t)/V
/// ```
///
/// M halves of n draws each; W the mean of their variances s², B/n the variance of their means, r_t the autocorrelation of
/// a half at lag t. The sum ends before the first pair below nought, and pairs do not rise. Not a number where there are
/// fewer than eight draws to a half; where nothing varies all draws count.
/// Source: Gelman & Rubin (1992); Geyer (1992) for the pairs; as put together by Vehtari, Gelman, Simpson, Carpenter &
/// Bürkner, Rank-normalization, folding, and localization: an improved R̂, Bayesian Analysis 16 (2021) 667-718, without
/// the ranks.
pub fn agreement(chains: &[Vec<f64>]) -> Agreement {
    let half = chains.iter().map(Vec::len).min().unwrap_or(0) / 2;
    if half < 8 {
        return Agreement { split: f64::NAN, effective: f64::NAN };
    }
    let halves: Vec<&[f64]> =
        chains.iter().flat_map(|chain| [&chain[..half], &chain[chain.len() - half..]]).collect();
    let (count, n) = (halves.len() as f64, half as f64);
    let means: Vec<f64> = halves.iter().map(|x| x.iter().sum::<f64>() / n).collect();
    let mean = means.iter().sum::<f64>() / count;
    let covariance = |lag: usize| {
        let each = halves.iter().zip(&means).map(|(x, mean)| {
            x[..half - lag].iter().zip(&x[lag..]).map(|(a, b)| (a - mean) * (b - mean)).sum::<f64>() / n
        });
        each.sum::<f64>() / count
    };
    let variance = covariance(0) * n / (n - 1.0);
    let between = means.iter().map(|m| (m - mean).powi(2)).sum::<f64>() / (count - 1.0);
    let all = (n - 1.0) / n * variance + between;
    if all <= 0.0 {
        return Agreement { split: 1.0, effective: count * n };
    }
    // the autocovariance of a half is that of its n − 1 as the variance is
    let rho = |lag: usize| 1.0 - (variance - covariance(lag) * n / (n - 1.0)) / all;
    let (mut sum, mut before, mut lag) = (0.0, f64::INFINITY, 0);
    while lag + 1 < half {
        let pair = if lag == 0 { 1.0 + rho(1) } else { rho(lag) + rho(lag + 1) };
        if pair <= 0.0 {
            break;
        }
        before = pair.min(before);
        sum += before;
        lag += 2;
    }
    // draws that lie evenly say more than independent ones, but no more than this is believed
    let tau = (2.0 * sum - 1.0).max(1.0 / (count * n).log10());
    Agreement { split: (all / variance).sqrt(), effective: count * n / tau }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::normal;
    use crate::numerics::sobol::share;

    /// Chains that forget `1 − keep` of themselves with each step: worth (1 − keep)/(1 + keep) of their draws.
    fn chains(keep: f64, apart: f64, steps: u64) -> Vec<Vec<f64>> {
        let chain = |seed: u64| {
            let mut x = 0.0;
            let noise = (1.0 - keep * keep).sqrt();
            (0..steps)
                .map(|step| {
                    x = keep * x + noise * normal::quantile(share(seed << 32 ^ step));
                    x + apart * seed as f64
                })
                .collect()
        };
        (1..=4).map(chain).collect()
    }

    #[test]
    fn chains_that_forget_slowly_are_worth_less() {
        for keep in [0.0, 0.5, 0.9] {
            // so long that the estimate itself scatters by some 3 % where least is forgotten
            let found = agreement(&chains(keep, 0.0, 40_000));
            let wanted = 160_000.0 * (1.0 - keep) / (1.0 + keep);
            assert!((found.effective / wanted - 1.0).abs() < 0.12, "{keep}: {found:?} {wanted}");
            assert!((found.split - 1.0).abs() < 0.01, "{found:?}");
        }
    }

    #[test]
    fn chains_that_tell_apart_are_found_out() {
        let found = agreement(&chains(0.5, 1.0, 4000));
        assert!(found.split > 1.3 && found.effective < 50.0, "{found:?}");
        assert!(agreement(&[vec![1.0; 10]]).split.is_nan());
        assert_eq!(agreement(&[vec![2.0; 20], vec![2.0; 20]]).split, 1.0);
    }
}
