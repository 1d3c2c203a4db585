//! A gauge that follows a course of temperatures late.

use crate::air::ZERO_CELSIUS;

/// A course that a gauge follows, straight between its points.
///
/// ```text
///   τ dG/dt = T − G,   G = T at the beginning
///   G₁ = T₁ − τ s + (G₀ − T₀ + τ s) exp(−h/τ),   s = (T₁ − T₀)/h
/// ```
///
/// τ \[s\] the lag, T what is read, G what is shown, h \[s\] the length of a piece.
/// Source: the equation of a body of one heat capacity and one conductance, solved on a straight line.
pub struct Gauge<'g> {
    /// Times (s), rising.
    pub time: &'g [f64],
    /// What is read (°C).
    pub celsius: &'g [f32],
    /// Time in which it goes two thirds of the way (s).
    pub lag: f64,
}

impl Gauge<'_> {
    /// What it shows at a time (K), that of the end beyond it.
    pub fn at(&self, time: f64) -> f64 {
        let mut shown = f64::NAN;
        self.follow(time, |_, _, last| shown = last);
        shown
    }

    /// What it shows on average between two times (K).
    pub fn mean(&self, from: f64, to: f64) -> f64 {
        let (mut sum, mut before) = (0.0, None);
        let mut take = |time: f64, shown: f64| {
            if let Some((earlier, last)) = before
                && time > from
            {
                let begun: f64 = f64::max(earlier, from);
                let share = |at: f64| last + (shown - last) * (at - earlier) / (time - earlier);
                sum += (time - begun) * 0.5 * (share(begun) + shown);
            }
            before = Some((time, shown));
        };
        self.follow(to, |_, time, shown| take(time, shown));
        sum / (to - from)
    }

    /// Shows what it shows at each point up to a time, and at that time: its place, the time, and what is shown (K).
    fn follow(&self, until: f64, mut seen: impl FnMut(usize, f64, f64)) {
        let kelvin = |place: usize| f64::from(self.celsius[place]) + ZERO_CELSIUS;
        let Some(first) = self.time.first() else { return };
        let mut shown = kelvin(0);
        seen(0, *first, shown);
        for place in 1..self.time.len() {
            let (begun, end) = (self.time[place - 1], self.time[place]);
            let (from, to) = (kelvin(place - 1), kelvin(place));
            let length = end.min(until) - begun;
            if length < 0.0 {
                return;
            }
            let slope = if end > begun { (to - from) / (end - begun) } else { 0.0 };
            let last = if end > begun { from + slope * length } else { to };
            shown = if self.lag > 0.0 && length > 0.0 {
                let behind = self.lag * slope;
                last - behind + (shown - from + behind) * (-length / self.lag).exp()
            } else if self.lag > 0.0 {
                shown
            } else {
                last
            };
            seen(place, begun + length, shown);
            if end >= until {
                return;
            }
        }
        // as the run left it, should it be read later
        if let Some(last) = self.time.last().filter(|last| **last < until) {
            let to = kelvin(self.time.len() - 1);
            let shown =
                if self.lag > 0.0 { to + (shown - to) * (-(until - last) / self.lag).exp() } else { to };
            seen(self.time.len(), until, shown);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 100 °C to 160 °C in 60 s; at no lag 130 °C after 30 s; with 20 s the gauge stands at
    /// 130 − 20 + 20 exp(−1.5) = 114.463 °C there, whether the line is cut in pieces or not.
    #[test]
    fn a_gauge_follows_a_straight_line_late() {
        let near = |found: f64, celsius: f64| {
            assert!((found - ZERO_CELSIUS - celsius).abs() < 1e-3, "{} for {celsius}", found - ZERO_CELSIUS);
        };
        for (time, celsius) in [
            (vec![0.0, 60.0], vec![100.0, 160.0]),
            (vec![0.0, 12.0, 45.0, 60.0], vec![100.0, 112.0, 145.0, 160.0]),
        ] {
            let gauge = |lag| Gauge { time: &time, celsius: &celsius, lag };
            near(gauge(0.0).at(30.0), 130.0);
            near(gauge(20.0).at(30.0), 114.463);
            near(gauge(0.0).mean(15.0, 45.0), 130.0);
            near(gauge(0.0).mean(0.0, 60.0), 130.0);
            near(gauge(0.0).at(90.0), 160.0);
        }
    }

    /// The mean of what is shown late is that of many looks.
    #[test]
    fn a_mean_is_that_of_many_looks() {
        let time: Vec<f64> = (0..=200).map(|i| 0.5 * f64::from(i)).collect();
        let celsius: Vec<f32> = time.iter().map(|t| (80.0 + 25.0 * (t / 17.0).sin()) as f32).collect();
        let gauge = Gauge { time: &time, celsius: &celsius, lag: 9.0 };
        let looks = (0..1000).map(|i| gauge.at(20.0 + 50.0 * (f64::from(i) + 0.5) / 1000.0));
        let by_looks = looks.sum::<f64>() / 1000.0;
        assert!((gauge.mean(20.0, 70.0) - by_looks).abs() < 2e-3, "{} {by_looks}", gauge.mean(20.0, 70.0));
    }
}
