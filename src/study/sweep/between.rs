//! What the sweep says between the conditions and a little beyond them: whether a part that keeps its limit in every
//! condition passes it there, and whether it is anywhere worse than in the conditions.

use super::result::{Sweep, SweepPoint};
use super::{POINTS, sweep_within};
use crate::case::Case;
use crate::point::budget::{Budget, seconds};
use crate::point::model::Model;
use crate::point::result::Condition;
use crate::point::speeds::LoadsOf;
use serde::Serialize;

/// Kelvins by which a point of the sweep must be worse than every condition to be told, where it is not over.
const WORSE: f64 = 1.0;

/// The points of the sweep beside the conditions.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Between {
    /// Lowest road speed.
    pub from_m_s: f64,
    /// Highest road speed.
    pub to_m_s: f64,
    /// Load at every speed, where it is one.
    pub load: Option<f64>,
    /// Least and most load.
    pub loads: [f64; 2],
    /// Whose load it is, as in `sweep`.
    pub load_is: LoadsOf,
    /// Points, and those at which a part is over its limit.
    pub points: usize,
    /// Points at which a part is over its limit.
    pub over: usize,
    /// Parts that are over somewhere, or worse than in every condition in which the car moves; the least margin first.
    pub parts: Vec<BetweenPart>,
}

/// Where a part is worst in the sweep.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct BetweenPart {
    pub part: String,
    /// Road speed.
    pub speed_m_s: f64,
    pub gear: usize,
    /// Share of full-throttle power.
    pub load: f64,
    /// Its temperature there.
    pub temperature_C: f64,
    /// Kelvins below its working limit there.
    pub temperature_margin_K: f64,
    /// The least of the conditions in which the car moves; null where there is none.
    pub in_conditions_K: Option<f64>,
    /// Road speeds from and to which it is over its limit.
    pub over_m_s: Vec<[f64; 2]>,
}

impl BetweenPart {
    /// Whether it is worse here than in every condition in which the car moves.
    pub fn is_worse(&self) -> bool {
        self.in_conditions_K.is_none_or(|least| self.temperature_margin_K < least - WORSE)
    }

    /// Whether it is over its limit here, and in no condition.
    pub fn is_hole(&self) -> bool {
        self.temperature_margin_K < 0.0 && self.in_conditions_K.is_none_or(|least| least >= 0.0)
    }
}

/// The sweep of a case held against its conditions, where it has gears.
pub fn between_conditions(case: &Case, model: &Model, conditions: &[Condition]) -> Option<Between> {
    let sweep = sweep_within(case, model, POINTS, Budget::seconds(seconds::BETWEEN), &mut Vec::new()).ok()?;
    between(&sweep, conditions)
}

/// Holds a sweep against the conditions; none where the sweep has no point.
pub fn between(sweep: &Sweep, conditions: &[Condition]) -> Option<Between> {
    let (first, last) = (sweep.points.first()?, sweep.points.last()?);
    let loads = sweep.points.iter().map(|point| point.load);
    let loads =
        loads.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], load| [low.min(load), high.max(load)]);
    let mut parts: Vec<BetweenPart> = (first.parts.0.iter())
        .filter_map(|(name, _)| part(name, sweep, conditions))
        .filter(|part| {
            part.temperature_margin_K < 0.0
                || part.in_conditions_K.is_none_or(|least| part.temperature_margin_K < least - WORSE)
        })
        .collect();
    parts.sort_by(|a, b| a.temperature_margin_K.total_cmp(&b.temperature_margin_K));
    let over = sweep
        .points
        .iter()
        .filter(|point| point.parts.0.iter().any(|(_, part)| part.temperature_margin_K < 0.0));
    Some(Between {
        from_m_s: first.speed_m_s,
        to_m_s: last.speed_m_s,
        load: sweep.load,
        loads,
        load_is: sweep.load_is,
        points: sweep.points.len(),
        over: over.count(),
        parts,
    })
}

/// Where one part is worst; none for a store of heat, which has no limit.
fn part(name: &str, sweep: &Sweep, conditions: &[Condition]) -> Option<BetweenPart> {
    let margin = |point: &SweepPoint| point.parts.get(name).map(|part| part.temperature_margin_K);
    let with_limit = sweep.points.iter().filter_map(|point| Some((point, margin(point)?)));
    let (worst, least) =
        with_limit.filter(|(_, margin)| margin.is_finite()).min_by(|a, b| a.1.total_cmp(&b.1))?;
    let moving = conditions.iter().filter(|condition| condition.speed_m_s > 0.0);
    let of_part = moving.flat_map(|condition| condition.parts.iter().filter(|part| part.name == name));
    let in_conditions = of_part.map(|part| part.temperature_margin_K).min_by(f64::total_cmp);
    Some(BetweenPart {
        part: name.to_string(),
        speed_m_s: worst.speed_m_s,
        gear: worst.gear,
        load: worst.load,
        temperature_C: worst.parts.get(name)?.temperature_C,
        temperature_margin_K: least,
        in_conditions_K: in_conditions,
        over_m_s: sweep.ranges_of(name, |part| part.temperature_margin_K < 0.0),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point::result::ByName;
    use crate::study::sweep::result::SweepPart;
    use std::collections::BTreeMap;

    fn point(speed: f64, margin: f64) -> SweepPoint {
        let part = SweepPart {
            temperature_C: 150.0,
            temperature_margin_K: margin,
            margin_band_K: None,
            likelihood: None,
            flow_margin: None,
            margin_is: crate::thermal::MarginIs::Value,
        };
        SweepPoint {
            speed_m_s: speed,
            gear: 1,
            rpm: 3000.0,
            load: 0.5,
            parts: ByName(vec![("oil".to_string(), part)]),
            cooling_drag_N: 0.0,
            gives_Pa: BTreeMap::new(),
            takes_Pa: BTreeMap::new(),
        }
    }

    fn sweep(margins: &[f64]) -> Sweep {
        Sweep {
            load: Some(0.5),
            load_is: LoadsOf::Sweep,
            points: margins.iter().enumerate().map(|(i, margin)| point(10.0 + i as f64, *margin)).collect(),
            lowest: ByName(Vec::new()),
            unsolved_m_s: Vec::new(),
        }
    }

    #[test]
    fn a_hole_between_is_found_with_its_ranges() {
        let found = between(&sweep(&[3.0, -2.0, -5.0, 1.0, -1.0]), &[]).expect("points");
        assert_eq!((found.points, found.over), (5, 3));
        let oil = &found.parts[0];
        assert!(oil.is_hole());
        assert_eq!((oil.speed_m_s, oil.temperature_margin_K), (12.0, -5.0));
        assert_eq!(oil.over_m_s, [[11.0, 12.0], [14.0, 14.0]]);
    }

    #[test]
    fn without_a_point_there_is_nothing_between() {
        assert!(between(&sweep(&[]), &[]).is_none());
    }
}
