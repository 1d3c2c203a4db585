//! Which input a result's variance comes from: first-order and total shares of Sobol'.
//!
//! Two independent points A and B are drawn; for each input the point A with that one input of B. How the
//! results differ tells what the input does alone (first order) and with all others (total).

/// Results at one pair of points: at A, at B, and at A with each input of B in turn.
#[derive(Clone, Debug, Default)]
pub struct Crossed {
    /// At A.
    pub a: Vec<f64>,
    /// At B.
    pub b: Vec<f64>,
    /// At A with one input of B: input by input, each as long as `a`.
    pub mixed: Vec<Vec<f64>>,
}

/// A share with its standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The share of the variance.
    pub value: f64,
    /// Its standard error; not a number where there was one scramble only.
    pub error: f64,
}

/// First-order and total shares of one input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shares {
    /// What the input moves alone.
    pub first: Share,
    /// What it moves alone and together with others.
    pub total: Share,
}

/// First-order and total shares of every input from one set of results.
///
/// ```text
///   S_i = mean[f(B) (f(A_B^i) − f(A))]/V,   T_i = mean[(f(A) − f(A_B^i))²]/2V
/// ```
///
/// f less its mean over A and B, V its variance over both. Zero where nothing varies.
/// Source: first order Saltelli et al., Variance based sensitivity analysis of model output, Computer Physics
/// Communications 181 (2010) 259-270, table 2 (b); total Jansen, Computer Physics Communications 117 (1999)
/// 35-43, table 2 (f) of the former.
pub fn shares(found: &Crossed) -> Vec<(f64, f64)> {
    let count = found.a.len() as f64;
    let both = || found.a.iter().chain(&found.b);
    let mean = both().sum::<f64>() / (2.0 * count);
    let variance = both().map(|f| (f - mean).powi(2)).sum::<f64>() / (2.0 * count);
    if variance <= 0.0 {
        return vec![(0.0, 0.0); found.mixed.len()];
    }
    let one = |mixed: &Vec<f64>| {
        let rows = || found.a.iter().zip(&found.b).zip(mixed);
        let first: f64 = rows().map(|((a, b), m)| (b - mean) * (m - a)).sum();
        let total: f64 = rows().map(|((a, _), m)| (a - m).powi(2)).sum();
        (first / count / variance, 0.5 * total / count / variance)
    };
    found.mixed.iter().map(one).collect()
}

/// Shares from several independent scrambles of the points: their mean, and its standard error from how they
/// scatter.
pub fn of_scrambles(scrambles: &[Crossed]) -> Vec<Shares> {
    let each: Vec<Vec<(f64, f64)>> = scrambles.iter().map(shares).collect();
    let inputs = each.iter().map(Vec::len).min().unwrap_or(0);
    let gather = |pick: fn(&(f64, f64)) -> f64, input: usize| {
        mean_and_error(each.iter().map(move |s| pick(&s[input])))
    };
    (0..inputs).map(|input| Shares { first: gather(|s| s.0, input), total: gather(|s| s.1, input) }).collect()
}

/// Mean of independent estimates and its standard error, s/√n.
pub fn mean_and_error(estimates: impl Iterator<Item = f64> + Clone) -> Share {
    let count = estimates.clone().count() as f64;
    let value = estimates.clone().sum::<f64>() / count;
    let squares: f64 = estimates.map(|estimate| (estimate - value).powi(2)).sum();
    Share { value, error: (squares / (count - 1.0) / count).sqrt() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_vary_has_no_share() {
        let same = Crossed { a: vec![2.0; 4], b: vec![2.0; 4], mixed: vec![vec![2.0; 4]; 3] };
        assert_eq!(shares(&same), vec![(0.0, 0.0); 3]);
    }

    #[test]
    fn one_input_alone_has_it_all() {
        let a = vec![0.1, 0.9, 0.4, 0.6];
        let b = vec![0.7, 0.2, 0.3, 0.8];
        let shares = shares(&Crossed { mixed: vec![b.clone(), a.clone()], a, b });
        // of four rows only an estimate, and nothing for what does nothing
        assert!(shares[0].0 > 0.7 && shares[0].1 > 0.7);
        assert_eq!(shares[1], (0.0, 0.0));
    }
}
