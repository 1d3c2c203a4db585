//! Margin over inlet and exit area.

use super::course::ExitCourse;
use super::result::Map;
use super::state::observe;
use super::trade::Trade;
use super::{Study, WorkDone};
use crate::numerics::root::bracketed;
use crate::point::Model;
use rayon::prelude::*;

/// Rows (inlet areas) of the map, which are also its steps of work.
pub(super) const STEPS: usize = 37;
/// Columns (exit areas).
const COLUMNS: usize = 75;
/// Share of the columns that is spread evenly; the others stand where margins turn.
const EVENLY: f64 = 0.75;
/// Closeness with which a column's place is found, as a share of the range.
const CLOSE: f64 = 1e-9;
/// Rows of the smallest map that is worth drawing.
const FEWEST: f64 = 6.0;

/// The largest inlets up to `wanted` that the ducts behind them take: a diffuser does not narrow.
fn largest(study: &Study, wanted: f64) -> f64 {
    let fits = |area: f64| {
        let mut case = study.case.clone();
        study.inlets.set(&mut case, area);
        Model::new(&case).is_ok()
    };
    if fits(wanted) {
        return wanted;
    }
    let (mut good, mut bad) = (study.inlets.area, wanted);
    while bad - good > 1e-3 * good {
        let middle = 0.5 * (good + bad);
        if fits(middle) { good = middle } else { bad = middle }
    }
    good
}

/// Places over a range, most of them spread evenly, the others where a curve turns: there lines of equal margin bend.
fn where_it_turns(curve: &[(f64, f64)], (low, high): (f64, f64), count: usize) -> Vec<f64> {
    let slope = |pair: &[(f64, f64)]| (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0).max(1e-12);
    // how much it turns about each point, laid halfway to its neighbours
    let turns: Vec<(f64, f64, f64)> = curve
        .windows(3)
        .map(|three| {
            let turn = (slope(&three[1..]) - slope(&three[..2])).abs();
            let (from, to) = (0.5 * (three[0].0 + three[1].0), 0.5 * (three[1].0 + three[2].0));
            (from, to, if turn.is_finite() { turn } else { 0.0 })
        })
        .collect();
    let all: f64 = turns.iter().map(|turn| turn.2).sum();
    let turned = |area: f64| -> f64 {
        let share = |(from, to, turn): &(f64, f64, f64)| {
            turn * ((area - from) / (to - from).max(1e-12)).clamp(0.0, 1.0)
        };
        turns.iter().map(share).sum::<f64>() / all
    };
    let before = |area: f64| {
        let even = (area - low) / (high - low);
        if all > 0.0 { EVENLY * even + (1.0 - EVENLY) * turned(area) } else { even }
    };
    let place = |index: usize| {
        let wanted = index as f64 / (count - 1) as f64;
        bracketed(|area| before(area) - wanted, low, high, -wanted, 1.0 - wanted, CLOSE * (high - low))
    };
    (0..count)
        .map(|index| match index {
            0 => low,
            _ if index == count - 1 => high,
            _ => place(index),
        })
        .collect()
}

/// The map; none where no inlet can be scaled.
pub(super) fn map(study: &Study, trade: &Trade, course: &ExitCourse, work: &WorkDone) -> Option<Map> {
    if study.inlets.members.is_empty() {
        return None;
    }
    let drawn = study.inlets.area;
    let knee = trade.knee.as_ref().map_or(drawn, |(_, fit)| fit.area);
    let low = 0.3 * drawn.min(knee);
    let high = largest(study, (1.8 * drawn).max(1.5 * knee).max(3.0 * low).min(study.inlets.most.0));
    let low = low.min(0.5 * high).max(study.inlets.least.0);
    let share = study.meter.states_within(0.8) as f64 / (STEPS * COLUMNS) as f64;
    let (rows, columns) = match share.min(1.0).sqrt() {
        share if share * STEPS as f64 >= FEWEST => {
            ((share * STEPS as f64) as usize, (share * COLUMNS as f64) as usize)
        }
        // too much work for so few points that a map of them would say nothing
        _ => return None,
    };
    if high <= low || trade.range.1 <= trade.range.0 {
        return None;
    }
    let even = |low: f64, high: f64, count: usize| -> Vec<f64> {
        (0..count).map(|i| low + (high - low) * i as f64 / (count - 1) as f64).collect()
    };
    let inlets = even(low, high, rows);
    let margins: Vec<(f64, f64)> =
        course.states.iter().map(|(area, state)| (*area, state.least_kelvin().0)).collect();
    let exits = where_it_turns(&margins, trade.range, columns);
    let rows: Vec<Vec<Option<(f64, f64)>>> = inlets
        .par_iter()
        .map(|inlet| {
            let mut case = study.case.clone();
            study.inlets.set(&mut case, *inlet);
            let row = exits.iter().map(|exit| {
                study.exits.set(&mut case, *exit);
                let state = observe(&case, &study.sizing, study.bay, &study.meter)?;
                Some((state.least_kelvin().0, state.left()))
            });
            let row = row.collect();
            work.step();
            row
        })
        .collect();
    let part = |of: fn(&(f64, f64)) -> f64| -> Vec<Vec<Option<f64>>> {
        rows.iter().map(|row| row.iter().map(|cell| cell.as_ref().map(of)).collect()).collect()
    };
    Some(Map {
        least_temperature_margin_K: part(|cell| cell.0),
        left: part(|cell| cell.1),
        inlet_area_m2: inlets,
        exit_area_m2: exits,
        as_drawn_m2: (drawn, study.exits.area),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_stand_closer_where_a_curve_turns() {
        // falls to 0.2, rises to 0.4, level from there on
        let curve: Vec<(f64, f64)> = (0..=100)
            .map(|step| {
                let x = f64::from(step) / 100.0;
                (x, if x < 0.2 { -x } else { -0.4 + x.min(0.4) })
            })
            .collect();
        let places = where_it_turns(&curve, (0.0, 1.0), 41);
        assert_eq!((places[0], places[40], places.len()), (0.0, 1.0, 41));
        assert!(places.windows(2).all(|pair| pair[1] > pair[0]), "{places:?}");
        let within = |low: f64, high: f64| places.iter().filter(|x| **x > low && **x < high).count();
        assert!(within(0.18, 0.22) >= 6 && within(0.38, 0.42) >= 3, "{places:?}");
        assert!(within(0.5, 1.0) >= 14, "{places:?}");
        // a straight curve leaves them even
        let straight = where_it_turns(&[(0.0, 0.0), (0.5, 1.0), (1.0, 2.0)], (0.0, 1.0), 5);
        assert!(straight.iter().zip([0.0, 0.25, 0.5, 0.75, 1.0]).all(|(a, b)| (a - b).abs() < 1e-9));
    }
}
