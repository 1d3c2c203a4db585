//! Which readings say stop: from what each part shows in a drive that may be made to what it will do where it counts.
//!
//! Of each part, what it lacks or keeps in the conditions that count follows from what its gauge shows in the drive by a
//! straight line through the draws:
//!
//! ```text
//!   M = a + b t ± s,   a part may be left as it is where a + b t ≥ k s
//! ```
//!
//! M its least margin (K), t what the gauge shows (°C), s what scatters about the line (K). One k ≥ 0 serves all parts: the
//! least at which, of the cars that may stop, 19 in 20 hold. Gauges err as they do in `doubt`. However likely a car is to hold, no
//! gauge that shows what stops a test at once says that it may be left as it is.

use super::DRIVEN;

/// A rule that lets fewer of the draws stop says nothing.
const FEWEST: f64 = 0.05;
/// A part that holds in so many of the draws needs no gauge.
const SURE: f64 = 0.995;
/// How far from the line limits are sought, and in what steps.
const STEPS: std::ops::RangeInclusive<i32> = 0..=40;
const STEP: f64 = 0.1;

/// What one car says.
pub(super) struct CarRow {
    /// Whether all parts hold, by moment.
    pub holds: Vec<bool>,
    /// Least margin (K) of each part in what counts; no number where something has no steady state.
    pub least: Vec<f64>,
    /// What instruments show (°C or Pa).
    pub shows: Vec<f64>,
}

/// A part's gauge in a moment, and its place among the readings.
pub(super) struct Thermometer {
    pub row: usize,
    pub part: usize,
    pub moment: usize,
    /// What it may show at most, whatever the draws say (°C).
    pub most: f64,
}

/// What gauges may show at most for the sizes to be left as they are.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct StopRule {
    pub moment: usize,
    /// By part: the most (°C).
    pub limits: Vec<(usize, f64)>,
    /// Share of the draws that stop by it, and the share of these that hold.
    pub share: f64,
    pub holds: f64,
}

/// A straight line through the draws.
struct StraightLine {
    row: usize,
    part: usize,
    a: f64,
    b: f64,
    scatter: f64,
    /// What the gauge may show at most (°C).
    most: f64,
}

impl StraightLine {
    fn through(rows: &[CarRow], gauge: &Thermometer) -> Option<StraightLine> {
        let pairs = || {
            let pairs = rows.iter().map(|row| (row.shows[gauge.row], row.least[gauge.part]));
            pairs.filter(|(shows, least)| shows.is_finite() && least.is_finite())
        };
        let count = pairs().count() as f64;
        let mean = |of: &dyn Fn((f64, f64)) -> f64| pairs().map(of).sum::<f64>() / count;
        let (t, m) = (mean(&|pair| pair.0), mean(&|pair| pair.1));
        let spread = mean(&|pair| (pair.0 - t).powi(2));
        let b = mean(&|pair| (pair.0 - t) * (pair.1 - m)) / spread;
        let a = m - b * t;
        let scatter = mean(&|pair| (pair.1 - a - b * pair.0).powi(2)).sqrt();
        // a gauge that shows more where more is left says nothing
        (b < 0.0 && scatter.is_finite()).then_some(StraightLine {
            row: gauge.row,
            part: gauge.part,
            a,
            b,
            scatter,
            most: gauge.most,
        })
    }

    /// The most that the gauge may show, whole degrees.
    fn most(&self, k: f64) -> f64 {
        ((k * self.scatter - self.a) / self.b).min(self.most).floor()
    }
}

/// The rule, of those for moments that may be driven, by which most of the draws may stop, all parts holding in 19 of 20
/// of these.
pub(super) fn stop(
    rows: &[CarRow],
    gauges: &[Thermometer],
    is_driven: &[bool],
    keeps: &dyn Fn(&CarRow) -> bool,
) -> Option<StopRule> {
    let sure = |part: usize| {
        rows.iter().filter(|row| row.least[part] >= 0.0).count() as f64 >= SURE * rows.len() as f64
    };
    let mut best: Option<StopRule> = None;
    for moment in (0..is_driven.len()).filter(|moment| is_driven[*moment]) {
        let own = gauges.iter().filter(|gauge| gauge.moment == moment && !sure(gauge.part));
        let lines: Vec<StraightLine> = own.filter_map(|gauge| StraightLine::through(rows, gauge)).collect();
        if lines.is_empty() {
            continue;
        }
        for k in STEPS.map(|step| STEP * f64::from(step)) {
            let limits: Vec<(usize, f64, usize)> =
                lines.iter().map(|line| (line.part, line.most(k), line.row)).collect();
            let stops = |row: &&CarRow| limits.iter().all(|(_, most, place)| row.shows[*place] <= *most);
            let taken = rows.iter().filter(stops).count();
            let held = rows.iter().filter(stops).filter(|row| keeps(row)).count();
            let share = taken as f64 / rows.len() as f64;
            if share < FEWEST {
                break;
            }
            if held as f64 >= DRIVEN * taken as f64 {
                if best.as_ref().is_none_or(|best| share > best.share) {
                    best = Some(StopRule {
                        moment,
                        limits: limits.iter().map(|(part, most, _)| (*part, *most)).collect(),
                        share,
                        holds: held as f64 / taken as f64,
                    });
                }
                break;
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cars of which one part alone decides: its margin is what the gauge shows, turned round, and some scatter.
    fn cars(scatter: f64) -> Vec<CarRow> {
        (0..400)
            .map(|index| {
                let shows = 60.0 + 0.25 * f64::from(index % 400);
                let least = 100.0 - shows + scatter * f64::from((index * 37) % 41 - 20) / 20.0;
                CarRow { holds: vec![true, least >= 0.0], least: vec![least], shows: vec![shows] }
            })
            .collect()
    }

    fn gauge() -> Vec<Thermometer> {
        vec![Thermometer { row: 0, part: 0, moment: 0, most: 130.0 }]
    }

    #[test]
    fn a_gauge_that_tells_all_stops_just_where_the_margin_ends() {
        let rule = stop(&cars(1e-9), &gauge(), &[true, false], &|row| row.holds[1]).expect("a rule");
        // 1 in 20 of those that stop may be wrong; the line itself is exact
        assert!((99.0..=100.0).contains(&rule.limits[0].1), "{rule:?}");
        assert!(rule.holds >= DRIVEN);
    }

    #[test]
    fn a_gauge_that_scatters_stops_earlier() {
        let exact = stop(&cars(1e-9), &gauge(), &[true, false], &|row| row.holds[1]).expect("a rule");
        let rough = stop(&cars(25.0), &gauge(), &[true, false], &|row| row.holds[1]).expect("a rule");
        assert!(rough.limits[0].1 < exact.limits[0].1 - 2.0, "{rough:?}");
        assert!(rough.holds >= DRIVEN && rough.share < exact.share);
    }

    #[test]
    fn no_gauge_at_what_stops_a_test_says_that_all_is_well() {
        // nineteen in twenty hold whatever the gauge shows
        let mut cars = cars(25.0);
        for (index, car) in cars.iter_mut().enumerate() {
            car.holds[1] = index % 25 != 0;
        }
        let at = |most: f64| {
            let gauges = vec![Thermometer { most, ..gauge().remove(0) }];
            stop(&cars, &gauges, &[true, false], &|row| row.holds[1]).expect("a rule").limits[0].1
        };
        let free = at(f64::INFINITY);
        // where the line itself leaves nothing it does not say stop
        assert!((99.0..=100.0).contains(&free), "{free}");
        assert_eq!(at(85.5), 85.0);
    }

    #[test]
    fn what_may_not_be_driven_says_nothing() {
        assert_eq!(stop(&cars(1.0), &gauge(), &[false, false], &|row| row.holds[1]), None);
    }
}
