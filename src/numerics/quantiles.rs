//! Quantiles of many numbers in bounded memory.

/// Numbers kept as they are before bins take their place.
const KEPT: usize = 2048;
/// Bins; a power of two.
const BINS: usize = 4096;

/// Numbers given one after another, and the quantiles of what was given.
///
/// Up to 2048 numbers are kept as they are: quantiles are exact. Then they are counted in 4096 bins of equal
/// width, doubled whenever a number lies beyond them, so that the bins always span less than four times the
/// range of the numbers: a quantile is then off by no more than one bin, a thousandth of that range. The order
/// of the numbers does not matter beyond that.
#[derive(Clone, Debug)]
pub struct Quantiles {
    count: u64,
    least: f64,
    most: f64,
    kept: Vec<f64>,
    bins: Vec<u32>,
    first: f64,
    width: f64,
}

impl Default for Quantiles {
    fn default() -> Quantiles {
        Quantiles {
            count: 0,
            least: f64::INFINITY,
            most: f64::NEG_INFINITY,
            kept: Vec::new(),
            bins: Vec::new(),
            first: 0.0,
            width: 0.0,
        }
    }
}

impl Quantiles {
    /// Adds a number; one that is not finite counts as the largest number of its sign.
    pub fn add(&mut self, number: f64) {
        let number = if number.is_nan() { f64::MIN } else { number.clamp(f64::MIN / 8.0, f64::MAX / 8.0) };
        self.count += 1;
        self.least = self.least.min(number);
        self.most = self.most.max(number);
        if self.bins.is_empty() {
            self.kept.push(number);
            if self.kept.len() > KEPT && self.least < self.most {
                self.open_bins();
            }
        } else {
            self.reach(number);
            let bin = self.bin(number);
            self.bins[bin] += 1;
        }
    }

    /// How many numbers were added.
    pub fn count(&self) -> u64 {
        self.count
    }

    #[cfg(test)]
    /// By how much a quantile may be off: nothing, or the width of a bin.
    pub fn resolution(&self) -> f64 {
        if self.bins.is_empty() { 0.0 } else { self.width }
    }

    fn open_bins(&mut self) {
        self.bins = vec![0; BINS];
        // twice the range seen so far, about its middle
        self.width = 2.0 * (self.most - self.least) / BINS as f64;
        self.first = self.least - 0.25 * self.width * BINS as f64;
        for number in std::mem::take(&mut self.kept) {
            let bin = self.bin(number);
            self.bins[bin] += 1;
        }
    }

    fn bin(&self, number: f64) -> usize {
        (((number - self.first) / self.width) as usize).min(BINS - 1)
    }

    /// Doubles the bins until they reach a number.
    fn reach(&mut self, number: f64) {
        while number < self.first || number >= self.first + self.width * BINS as f64 {
            let below = number < self.first;
            // pairs become one; what is free lies on the side where the number is
            let mut pairs = vec![0; BINS];
            let shift = if below { BINS / 2 } else { 0 };
            for (bin, count) in self.bins.iter().enumerate() {
                pairs[shift + bin / 2] += count;
            }
            if below {
                self.first -= self.width * BINS as f64;
            }
            self.width *= 2.0;
            self.bins = pairs;
        }
    }

    /// The number under which a share `p` of those added lies, 0 ≤ `p` ≤ 1; not a number where there are none.
    ///
    /// With x₁ ≤ … ≤ x_N in order: linear between them, x_h at h = (N − 1)p + 1.
    /// Source: definition 7 of Hyndman & Fan, Sample quantiles in statistical packages, The American
    /// Statistician 50 (1996) 361-365.
    pub fn quantile(&self, p: f64) -> f64 {
        let [found] = self.quantiles([p]);
        found
    }

    /// Several of them.
    pub fn quantiles<const N: usize>(&self, shares: [f64; N]) -> [f64; N] {
        let mut sorted = self.kept.clone();
        sorted.sort_unstable_by(f64::total_cmp);
        shares.map(|p| self.one(p, &sorted))
    }

    /// The quantile of a share; `sorted` holds what is kept as it is.
    fn one(&self, p: f64, sorted: &[f64]) -> f64 {
        if self.count == 0 {
            return f64::NAN;
        }
        let place = p.clamp(0.0, 1.0) * (self.count - 1) as f64;
        if self.bins.is_empty() {
            let low = place.floor() as usize;
            let high = (low + 1).min(sorted.len() - 1);
            return sorted[low] + (place - low as f64) * (sorted[high] - sorted[low]);
        }
        let mut before = 0.0;
        for (bin, count) in self.bins.iter().enumerate().filter(|(_, count)| **count > 0) {
            let count = f64::from(*count);
            if before + count > place {
                // spread evenly over the bin
                let within = (place - before + 0.5) / count;
                let value = self.first + self.width * (bin as f64 + within.min(1.0));
                return value.clamp(self.least, self.most);
            }
            before += count;
        }
        self.most
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers without order: the fractional parts of multiples of the golden section, stretched.
    fn numbers(count: u32) -> impl Iterator<Item = f64> {
        (1..=count).map(|i| {
            let u = (f64::from(i) * 0.618_033_988_749_894_9).fract();
            if i % 97 == 0 { -40.0 - 1000.0 * u } else { 300.0 * u * u - 20.0 }
        })
    }

    fn of(numbers: impl Iterator<Item = f64>) -> Quantiles {
        let mut quantiles = Quantiles::default();
        numbers.for_each(|number| quantiles.add(number));
        quantiles
    }

    #[test]
    fn few_numbers_are_exact() {
        let few = of([3.0, 1.0, 2.0, 10.0].into_iter());
        assert_eq!(few.quantile(0.0), 1.0);
        assert_eq!(few.quantile(0.5), 2.5);
        assert_eq!(few.quantile(1.0), 10.0);
        assert!(Quantiles::default().quantile(0.5).is_nan());
    }

    #[test]
    fn many_numbers_are_off_by_a_bin_at_most_and_take_no_more_memory() {
        for count in [3_000, 50_000, 400_000] {
            let found = of(numbers(count));
            let mut sorted: Vec<f64> = numbers(count).collect();
            sorted.sort_by(f64::total_cmp);
            assert!(found.kept.is_empty() && found.bins.len() == BINS);
            let range = sorted[sorted.len() - 1] - sorted[0];
            assert!(found.resolution() <= 4.0 * range / BINS as f64);
            for p in [0.001, 0.05, 0.3, 0.5, 0.77, 0.95, 0.999] {
                let exact = sorted[(p * (sorted.len() - 1) as f64) as usize];
                let error = (found.quantile(p) - exact).abs();
                assert!(error <= found.resolution() + range / f64::from(count), "{count} {p}: {error}");
            }
        }
    }

    #[test]
    fn many_alike_are_themselves() {
        let same = of((0..9000).map(|_| 7.25));
        assert_eq!(same.quantile(0.05), 7.25);
        let mostly = of((0..9000).map(|i| if i == 8500 { 9.0 } else { 7.25 }));
        assert!((mostly.quantile(0.5) - 7.25).abs() <= mostly.resolution());
    }
}
