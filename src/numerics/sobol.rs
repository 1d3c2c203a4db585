//! Sobol' points: numbers between 0 and 1 that fill a cube of many dimensions more evenly than chance does.
//!
//! Each point is found from its index alone, so that points do not depend on who asks for them, in what order
//! or on how many threads. An independent scramble gives every point the same chance to lie anywhere and keeps
//! the evenness; how far the answers of several scrambles scatter says how good their mean is.

mod directions;

use directions::DIRECTIONS;

const BITS: usize = 32;
/// Dimensions with direction numbers of their own; those beyond take them again, at shuffled points.
pub const OWN_DIMENSIONS: usize = DIRECTIONS.len() + 1;

/// Sobol' points in one scramble.
///
/// ```text
///   x_i = s(⊕ v_k over the bits k of i)/2³²
/// ```
///
/// i the index, v_k the direction numbers of the dimension, s a nested scramble: each bit is turned over or
/// not as a hash of the bits before it says. Dimensions beyond the table take it again with the index
/// scrambled in the same way, which keeps each block of 2^k points together.
/// Source: Sobol' (1967); Joe & Kuo (2008); Owen, Randomly permuted (t, m, s)-nets, in Monte Carlo and
/// quasi-Monte Carlo methods in scientific computing, Springer (1995) 299-317; the hash: Burley, Practical
/// hash-based Owen scrambling, J. Computer Graphics Techniques 9 (2020) no. 4, with the multipliers of Vegdahl
/// (2021).
#[derive(Clone, Debug)]
pub struct Sobol {
    /// Direction numbers, the lowest bit first, dimension by dimension.
    directions: Vec<[u32; BITS]>,
    /// Scramble of each dimension.
    seeds: Vec<u32>,
    /// Scramble of the index in each block of dimensions after the first.
    shuffles: Vec<u32>,
}

impl Sobol {
    /// Points of some dimensions in the scramble of a seed.
    pub fn new(dimensions: usize, seed: u64) -> Sobol {
        let own = dimensions.min(OWN_DIMENSIONS);
        let word = |kind: u64, index: usize| (mix(seed ^ mix(kind << 32 | index as u64)) >> 32) as u32;
        Sobol {
            directions: (0..own).map(reversed_directions).collect(),
            seeds: (0..dimensions).map(|dimension| word(1, dimension)).collect(),
            shuffles: (0..dimensions / OWN_DIMENSIONS).map(|block| word(2, block)).collect(),
        }
    }

    /// How many dimensions a point has.
    pub fn dimensions(&self) -> usize {
        self.seeds.len()
    }

    /// One coordinate of a point, above 0 and below 1.
    pub fn coordinate(&self, index: u32, dimension: usize) -> f64 {
        let block = dimension / OWN_DIMENSIONS;
        let index = match block.checked_sub(1) {
            None => index,
            Some(further) => scrambled(index.reverse_bits(), self.shuffles[further]).reverse_bits(),
        };
        let bits = point(&self.directions[dimension % OWN_DIMENSIONS], index);
        fraction(scrambled(bits, self.seeds[dimension]).reverse_bits())
    }

    /// A whole point, written to `coordinates`.
    pub fn point(&self, index: u32, coordinates: &mut [f64]) {
        for (dimension, x) in coordinates.iter_mut().enumerate() {
            *x = self.coordinate(index, dimension);
        }
    }
}

/// One coordinate of an unscrambled point, from 0, below 1. Dimensions: [`OWN_DIMENSIONS`].
#[cfg_attr(not(feature = "rooms"), expect(dead_code, reason = "published points are not scrambled"))]
pub fn plain(index: u32, dimension: usize) -> f64 {
    f64::from(point(&reversed_directions(dimension), index).reverse_bits()) / 4_294_967_296.0
}

/// In the middle of its 2⁻³², so that neither 0 nor 1 is met.
fn fraction(bits: u32) -> f64 {
    (f64::from(bits) + 0.5) / 4_294_967_296.0
}

/// An unscrambled coordinate, its bits reversed.
fn point(directions: &[u32; BITS], mut index: u32) -> u32 {
    let mut bits = 0;
    while index != 0 {
        bits ^= directions[index.trailing_zeros() as usize];
        index &= index - 1;
    }
    bits
}

/// Direction numbers of a dimension, each with its bits reversed.
fn reversed_directions(dimension: usize) -> [u32; BITS] {
    let mut v = [0_u32; BITS];
    match dimension.checked_sub(1).and_then(|index| DIRECTIONS.get(index)) {
        None => (0..BITS).for_each(|k| v[k] = 1 << (BITS - 1 - k)),
        Some((polynomial, first)) => {
            let degree = first.len();
            for k in 0..BITS {
                v[k] = if k < degree {
                    first[k] << (BITS - 1 - k)
                } else {
                    // a coefficient for each power between the highest and the lowest
                    let inner = (1..degree).filter(|j| polynomial >> (degree - j) & 1 == 1);
                    inner.fold(v[k - degree] ^ (v[k - degree] >> degree), |sum, j| sum ^ v[k - j])
                };
            }
        }
    }
    v.map(u32::reverse_bits)
}

/// Turns each bit over or not as the lower bits say.
fn scrambled(mut bits: u32, seed: u32) -> u32 {
    bits ^= bits.wrapping_mul(0x3d20_adea);
    bits = bits.wrapping_add(seed);
    bits = bits.wrapping_mul(seed >> 16 | 1);
    bits ^= bits.wrapping_mul(0x0552_6c56);
    bits ^ bits.wrapping_mul(0x53a2_2864)
}

/// A well mixed word of a number: the finaliser of Steele, Lea & Flood, Fast splittable pseudorandom number
/// generators, OOPSLA (2014).
pub fn mix(number: u64) -> u64 {
    let mut word = number.wrapping_add(0x9e37_79b9_7f4a_7c15);
    word = (word ^ word >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    word = (word ^ word >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
    word ^ word >> 31
}

/// A share between 0 and 1 of a number, neither of them reached: the middle of one of 2⁵³ steps.
pub fn share(number: u64) -> f64 {
    ((mix(number) >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every block of 2^k points has one in each of 2^k equal intervals, in every dimension, also of those
    /// that take the table again.
    #[test]
    fn scrambled_points_stay_one_to_an_interval() {
        let dimensions = OWN_DIMENSIONS + 40;
        let sobol = Sobol::new(dimensions, 7);
        for dimension in (0..dimensions).step_by(9).chain([0, 1, OWN_DIMENSIONS, dimensions - 1]) {
            for first in [0, 64, 4096] {
                let mut seen = [false; 64];
                for index in first..first + 64 {
                    let x = sobol.coordinate(index, dimension);
                    assert!(x > 0.0 && x < 1.0);
                    seen[(x * 64.0) as usize] = true;
                }
                assert!(seen.iter().all(|hit| *hit), "dimension {dimension} from {first}");
            }
        }
    }

    /// Each bit of a coordinate is turned over in half of the scrambles, whatever the bits before it are.
    #[test]
    fn scrambles_are_fair_and_differ() {
        let scrambles = 4096;
        for (index, dimension) in [(0, 0), (1, 0), (5, 3), (77, 40), (1000, 120)] {
            let mut counts = [0_u32; 12];
            let mut pairs = [0_u32; 11];
            for seed in 0..scrambles {
                let x = Sobol::new(dimension + 1, seed).coordinate(index, dimension);
                let bit = |k: i32| (x * 2_f64.powi(k)) as u64 & 1;
                (1..=12).for_each(|k| counts[k as usize - 1] += bit(k) as u32);
                (1..12).for_each(|k| pairs[k as usize - 1] += (bit(k) ^ bit(k + 1)) as u32);
            }
            for count in counts.into_iter().chain(pairs) {
                // five standard deviations of 4096 tosses
                assert!((f64::from(count) - 2048.0).abs() < 160.0, "{counts:?} {pairs:?}");
            }
        }
    }

    /// The mean over a scramble is off by far less than that of as many draws by chance, and without bias.
    #[test]
    fn means_of_scrambles_scatter_little_about_the_truth() {
        // (x + ½) over ten dimensions: mean 1, variance (13/12)^10 − 1
        let (count, scrambles) = (1024, 32_u32);
        let mut point = [0.0; 10];
        let means: Vec<f64> = (0..scrambles)
            .map(|seed| {
                let sobol = Sobol::new(10, u64::from(seed));
                let value = |index: u32, point: &mut [f64; 10]| -> f64 {
                    sobol.point(index, point);
                    point.iter().map(|x| x + 0.5).product()
                };
                (0..count).map(|index| value(index, &mut point)).sum::<f64>() / f64::from(count)
            })
            .collect();
        let error = means.iter().map(|mean| (mean - 1.0).powi(2)).sum::<f64>() / f64::from(scrambles);
        let by_chance = ((13.0_f64 / 12.0).powi(10) - 1.0) / f64::from(count);
        assert!(error < by_chance / 40.0, "{error:e} against {by_chance:e}");
        let bias = means.iter().sum::<f64>() / f64::from(scrambles) - 1.0;
        assert!(bias.abs() < 4.0 * (error / f64::from(scrambles)).sqrt(), "{bias:e}");
    }
}
