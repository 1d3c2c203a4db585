//! Temperatures that were measured, beside those that were found.

use super::record::MeasuredColumn;
use super::result as r;
use crate::air::ZERO_CELSIUS;
use crate::case::Case;

/// Moments at which the two are compared.
const MOMENTS: usize = 1500;
/// How far a course may lag behind the other (s).
const MOST_LAG: f64 = 120.0;
/// Lags tried on either side.
const LAGS: i32 = 60;
/// Course (K) below which nothing lags.
const LEAST_COURSE: f64 = 5.0;
/// Share by which a lag must lessen what is left for it to be told.
const WORTH: f64 = 0.1;

/// A course: values at rising times.
struct TimeCourse<'a> {
    time: &'a [f64],
    value: &'a [f64],
}

impl TimeCourse<'_> {
    /// The value at a time, straight between the points, the nearest beyond the ends.
    fn at(&self, time: f64) -> f64 {
        let after = self.time.partition_point(|t| *t <= time);
        if after == 0 {
            return self.value[0];
        }
        if after >= self.time.len() {
            return self.value[self.value.len() - 1];
        }
        let (a, b) = (self.time[after - 1], self.time[after]);
        self.value[after - 1] + (self.value[after] - self.value[after - 1]) * (time - a) / (b - a)
    }
}

/// What was measured, laid beside the course that was found. `time` of the record's rows, from its first (s).
pub(super) fn compare(
    case: &Case,
    course: &r::TemperatureCourse,
    time: &[f64],
    measured: &[MeasuredColumn],
) -> Vec<r::MeasuredBeside> {
    measured.iter().filter_map(|measured| one(case, course, time, measured)).collect()
}

fn one(
    case: &Case,
    course: &r::TemperatureCourse,
    time: &[f64],
    measured: &MeasuredColumn,
) -> Option<r::MeasuredBeside> {
    let found = match (case.part(&measured.of), case.chamber(&measured.of)) {
        (Some(part), _) => course.parts.get(part)?,
        (None, Some(chamber)) => course.chambers.get(chamber)?,
        _ => return None,
    };
    let found: Vec<f64> = found.iter().map(|celsius| f64::from(*celsius)).collect();
    let celsius: Vec<f64> = measured.kelvin.iter().map(|kelvin| kelvin - ZERO_CELSIUS).collect();
    if found.len() < 2 || celsius.len() < 2 {
        return None;
    }
    let reckoned = TimeCourse { time: &course.time, value: &found };
    let gauge = TimeCourse { time, value: &celsius };
    let end = time[time.len() - 1].min(course.time[course.time.len() - 1]);
    let step = end / MOMENTS as f64;
    let moments: Vec<f64> = (0..=MOMENTS).map(|i| step * i as f64).collect();
    let apart: Vec<f64> = moments.iter().map(|at| gauge.at(*at) - reckoned.at(*at)).collect();
    let mean = apart.iter().sum::<f64>() / apart.len() as f64;
    let worst = (0..apart.len()).max_by(|a, b| apart[*a].abs().total_cmp(&apart[*b].abs())).unwrap_or(0);
    let kept: Vec<usize> = (0..time.len()).step_by(time.len().div_ceil(4 * MOMENTS).max(1)).collect();
    Some(r::MeasuredBeside {
        of: measured.of.clone(),
        column: measured.column.clone(),
        mean_difference_K: mean,
        worst_difference_K: apart[worst],
        worst_at_s: moments[worst],
        lag_s: lag(&gauge, &reckoned, &moments),
        time: kept.iter().map(|i| time[*i]).collect(),
        celsius: kept.iter().map(|i| celsius[*i] as f32).collect(),
    })
}

/// How far what was measured comes behind what was found (s): the shift that leaves least of the difference, a constant
/// one aside. None where nothing much happens, or a shift gains little.
fn lag(gauge: &TimeCourse, reckoned: &TimeCourse, moments: &[f64]) -> Option<f64> {
    let end = *moments.last()?;
    let most = MOST_LAG.min(0.2 * end);
    let course = |line: &TimeCourse| {
        let values = || moments.iter().map(|at| line.at(*at));
        values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min)
    };
    if course(gauge) < LEAST_COURSE || course(reckoned) < LEAST_COURSE {
        return None;
    }
    let left = |shift: f64| {
        let inside = || moments.iter().filter(|at| (most..=end - most).contains(*at));
        let apart = || inside().map(|at| gauge.at(at + shift) - reckoned.at(*at));
        let count = inside().count().max(1) as f64;
        let mean = apart().sum::<f64>() / count;
        (apart().map(|apart| (apart - mean).powi(2)).sum::<f64>() / count).sqrt()
    };
    let unshifted = left(0.0);
    let shifts = (-LAGS..=LAGS).map(|i| most * f64::from(i) / f64::from(LAGS));
    let (best, least) = shifts.map(|shift| (shift, left(shift))).min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(if least < (1.0 - WORTH) * unshifted { best } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gauge_that_follows_late_is_found_late() {
        let time: Vec<f64> = (0..=600).map(f64::from).collect();
        let course = |at: f64| 100.0 + 30.0 * (at / 60.0).sin();
        let found: Vec<f64> = time.iter().map(|t| course(*t)).collect();
        let late: Vec<f64> = time.iter().map(|t| course(*t - 14.0) + 8.0).collect();
        let (found, late) =
            (TimeCourse { time: &time, value: &found }, TimeCourse { time: &time, value: &late });
        let shift = lag(&late, &found, &time).unwrap_or(f64::NAN);
        assert!((shift - 14.0).abs() <= 2.0, "{shift}");
        assert_eq!(lag(&found, &found, &time), Some(0.0));
        let flat = TimeCourse { time: &time, value: &vec![90.0; 601] };
        assert_eq!(lag(&flat, &found, &time), None);
    }
}
