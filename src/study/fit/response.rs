//! What is read in runs in time, as smooth functions of the guesses' scores through runs that were made: what chains look at in
//! place of a run for every step.

use crate::numerics::cholesky;

/// Room for a mean that lies elsewhere (in spreads, squared).
const MEAN: f64 = 10.0;
/// What a score weighs that moves nothing, as a share of the heaviest.
const LIGHTEST: f64 = 0.01;
/// Times that the weights are learnt from the slopes.
const LEARN: usize = 3;
/// How much squares and cubes count beside the straight line, and what is not followed at all (variances, in shares of that of
/// what is shown): of these the ones that tell best what was left out.
const BENDS: [(f64, f64); 4] = [(0.05, 0.0), (0.2, 0.0), (0.1, 0.02), (0.3, 0.06)];
const NOISE: [f64; 3] = [1e-6, 1e-5, 1e-4];

/// A place that was looked at: scores, what was shown there, and how much wider than others it may be missed (variance).
#[derive(Clone, Debug)]
pub struct LookedPlace {
    pub scores: Vec<f64>,
    pub shown: Vec<f64>,
    pub loose: f64,
}

/// Polynomials of the third degree in the scores that follow what was shown at some places.
///
/// ```text
///   y(z) = m + s Σ αₙ k(zₙ, z),   k = c + p + a p² + b p³,   p = Σ λᵢ (zᵢ − oᵢ)(z'ᵢ − oᵢ)
///   (K + D) α = (yₙ − m)/s
/// ```
///
/// m and s mean and spread of what was shown, o the middle of the places, λ the squares of the slopes, a and b how much squares
/// and cubes count, D what is not followed. The error is that at each place by all the others, αₙ/((K + D)⁻¹)ₙₙ.
/// Source: Rasmussen & Williams, Gaussian Processes for Machine Learning (2006), 2.2 and, for what is left out, 5.4.2.
#[derive(Clone, Debug)]
pub struct SmoothResponse {
    /// Mean and spread of each thing shown.
    scales: Vec<(f64, f64)>,
    origin: Vec<f64>,
    bends: (f64, f64),
    /// Places from the origin, each with its weights: λᵢ (zᵢ − oᵢ).
    places: Vec<Vec<f64>>,
    /// By thing shown.
    factors: Vec<Vec<f64>>,
    /// How far each thing shown is missed where it is left out (spread, as it is shown).
    pub errors: Vec<f64>,
}

impl SmoothResponse {
    /// Through some places; none where they are too few or lie in one another.
    pub fn of(looked: &[LookedPlace]) -> Option<SmoothResponse> {
        let first = looked.first()?;
        let (coordinates, things, n) = (first.scores.len(), first.shown.len(), looked.len() as f64);
        let tight = |place: &&LookedPlace| place.loose <= 1.0;
        let near: Vec<&LookedPlace> = looked.iter().filter(tight).collect();
        let origin: Vec<f64> = (0..coordinates)
            .map(|i| near.iter().map(|place| place.scores[i]).sum::<f64>() / near.len().max(1) as f64)
            .collect();
        let scales: Vec<(f64, f64)> = (0..things)
            .map(|k| {
                let mean = looked.iter().map(|place| place.shown[k]).sum::<f64>() / n;
                let square = looked.iter().map(|place| (place.shown[k] - mean).powi(2)).sum::<f64>() / n;
                (mean, square.sqrt().max(1e-6))
            })
            .collect();
        let away: Vec<Vec<f64>> = (looked.iter())
            .map(|place| place.scores.iter().zip(&origin).map(|(z, o)| z - o).collect())
            .collect();
        let told: Vec<Vec<f64>> = (scales.iter().enumerate())
            .map(|(k, (mean, scale))| looked.iter().map(|place| (place.shown[k] - mean) / scale).collect())
            .collect();
        let loose: Vec<f64> = looked.iter().map(|place| place.loose).collect();
        let mut weights = vec![1.0 / coordinates as f64; coordinates];
        for _ in 0..LEARN {
            weights = learnt(&away, &told, &loose, &weights)?;
        }
        let mut best: Option<(f64, SolvedPlaces, (f64, f64))> = None;
        for bends in BENDS {
            for noise in NOISE {
                let Some(solved) = SolvedPlaces::of(&away, &told, &loose, (&weights, bends, noise)) else {
                    continue;
                };
                let off = solved.missed(&loose).iter().map(|off| off * off).sum::<f64>();
                if best.as_ref().is_none_or(|(least, ..)| off < *least) {
                    best = Some((off, solved, bends));
                }
            }
        }
        let (_, solved, bends) = best?;
        let errors = solved.missed(&loose).iter().zip(&scales).map(|(off, (_, scale))| off * scale).collect();
        let places = away.iter().map(|z| z.iter().zip(&weights).map(|(z, w)| z * w).collect()).collect();
        Some(SmoothResponse { scales, origin, bends, places, factors: solved.factors, errors })
    }

    /// What is shown at a place.
    pub fn show(&self, scores: &[f64], shown: &mut [f64]) {
        shown.fill(0.0);
        for (n, place) in self.places.iter().enumerate() {
            let along =
                place.iter().zip(scores.iter().zip(&self.origin)).map(|(w, (z, o))| w * (z - o)).sum::<f64>();
            let kernel = kernel(along, self.bends);
            shown.iter_mut().zip(&self.factors).for_each(|(sum, factors)| *sum += kernel * factors[n]);
        }
        shown.iter_mut().zip(&self.scales).for_each(|(shown, (mean, scale))| *shown = mean + scale * *shown);
    }
}

fn kernel(p: f64, (squares, cubes): (f64, f64)) -> f64 {
    MEAN + p * (1.0 + p * (squares + p * cubes))
}

fn along(a: &[f64], b: &[f64], weights: &[f64]) -> f64 {
    a.iter().zip(b).zip(weights).map(|((a, b), w)| a * b * w).sum()
}

/// Factors of the places, and how far each is missed by the others.
struct SolvedPlaces {
    factors: Vec<Vec<f64>>,
    /// By thing shown and place.
    missed: Vec<Vec<f64>>,
}

impl SolvedPlaces {
    fn of(
        away: &[Vec<f64>],
        told: &[Vec<f64>],
        loose: &[f64],
        (weights, bends, noise): (&[f64], (f64, f64), f64),
    ) -> Option<SolvedPlaces> {
        let factor = factor(away, loose, (weights, bends, noise))?;
        let n = away.len();
        let inverse = cholesky::inverse(&factor, n);
        let mut factors = Vec::new();
        let mut missed = Vec::new();
        for told in told {
            let mut own = told.clone();
            cholesky::solve(&factor, n, &mut own);
            missed.push((0..n).map(|i| own[i] / inverse[i * n + i]).collect());
            factors.push(own);
        }
        Some(SolvedPlaces { factors, missed })
    }

    /// Of each thing shown how far the places that count are missed (spread).
    fn missed(&self, loose: &[f64]) -> Vec<f64> {
        let spread = |off: &Vec<f64>| {
            let near: Vec<f64> =
                off.iter().zip(loose).filter(|(_, loose)| **loose <= 1.0).map(|(off, _)| off * off).collect();
            (near.iter().sum::<f64>() / near.len().max(1) as f64).sqrt()
        };
        self.missed.iter().map(spread).collect()
    }
}

fn factor(
    away: &[Vec<f64>],
    loose: &[f64],
    (weights, bends, noise): (&[f64], (f64, f64), f64),
) -> Option<Vec<f64>> {
    let n = away.len();
    let mut matrix = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..=i {
            let value = kernel(along(&away[i], &away[j], weights), bends);
            (matrix[i * n + j], matrix[j * n + i]) = (value, value);
        }
        matrix[i * n + i] += noise * loose[i];
    }
    cholesky::factor(&matrix, n)
}

/// Weights from the slopes that some weights lead to.
fn learnt(away: &[Vec<f64>], told: &[Vec<f64>], loose: &[f64], weights: &[f64]) -> Option<Vec<f64>> {
    let factor = factor(away, loose, (weights, BENDS[1], NOISE[2]))?;
    let mut squares = vec![0.0; weights.len()];
    let things = told.len() as f64;
    for told in told {
        let mut own = told.clone();
        cholesky::solve(&factor, away.len(), &mut own);
        for (i, square) in squares.iter_mut().enumerate() {
            let slope = weights[i] * own.iter().zip(away).map(|(a, z)| a * z[i]).sum::<f64>();
            *square += slope * slope / things;
        }
    }
    let most = squares.iter().copied().fold(0.0, f64::max);
    Some(squares.iter().map(|square| square.max(LIGHTEST * most)).collect())
}
