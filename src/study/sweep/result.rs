//! Margin against speed, in the shape in which `--json` gives it.

use crate::air::ZERO_CELSIUS;
use crate::keys::word::words;
use crate::point::result::{ByName, or_null};
use crate::point::speeds::LoadsOf;
use crate::point::{Model, PointSolver};
use crate::thermal::MarginIs;
use serde::Serialize;

words! {
    /// What drives the air.
    pub enum AirDriver {
        Fan = "fan",
        Leaks = "leaks",
        Ram = "ram",
        Suction = "suction",
    }
}
use std::collections::BTreeMap;

/// Margin against speed.
#[derive(Clone, Debug, Serialize)]
pub struct Sweep {
    /// Load at every speed, where it is one.
    pub load: Option<f64>,
    /// Whose load it is.
    pub load_is: LoadsOf,
    /// Points in order of speed.
    pub points: Vec<SweepPoint>,
    /// The lowest point of each part.
    pub lowest: ByName<Lowest>,
    /// Speeds at which no steady state was found.
    pub unsolved_m_s: Vec<f64>,
}

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct SweepPoint {
    /// Road speed.
    pub speed_m_s: f64,
    pub gear: usize,
    /// Engine speed.
    pub rpm: f64,
    /// Share of full-throttle power.
    pub load: f64,
    pub parts: ByName<SweepPart>,
    pub cooling_drag_N: f64,
    /// What drives the air, weighted with the flow.
    pub gives_Pa: BTreeMap<AirDriver, f64>,
    /// What takes the pressure, by kind of element, weighted with the flow.
    pub takes_Pa: BTreeMap<&'static str, f64>,
}

/// A part at a point of a sweep.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct SweepPart {
    pub temperature_C: f64,
    /// Limit less temperature; infinite, in JSON null, where there is no limit.
    pub temperature_margin_K: f64,
    /// Where that lies with every guess drawn from its band, at some of the speeds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_band_K: Option<crate::point::result::Band>,
    /// How often it is 0 K or more then, of 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likelihood: Option<f64>,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible"; in JSON null where it has no limit.
    #[serde(serialize_with = "or_null")]
    pub margin_is: MarginIs,
}

impl SweepPart {
    /// A part as the present solution has it.
    pub(in crate::study) fn now(model: &Model, solver: &mut PointSolver, part: usize) -> SweepPart {
        let mut margins = Vec::new();
        solver.margins(model, &mut margins);
        let temperature = solver.state.part_temperature(part);
        SweepPart {
            temperature_C: temperature - ZERO_CELSIUS,
            temperature_margin_K: solver.network.parts[part].limit - temperature,
            margin_band_K: None,
            likelihood: None,
            flow_margin: margins[part].flow_margin,
            margin_is: margins[part].is,
        }
    }
}

/// The lowest point of a part over a sweep.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Lowest {
    /// Road speed.
    pub speed_m_s: f64,
    pub gear: usize,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_is: MarginIs,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
}

impl Sweep {
    /// The road speeds (m/s) from and to which something is true of a part, point after point.
    pub fn ranges_of(&self, part: &str, holds: impl Fn(&SweepPart) -> bool) -> Vec<[f64; 2]> {
        let mut ranges: Vec<[f64; 2]> = Vec::new();
        let mut open = false;
        for point in &self.points {
            let here = point.parts.get(part).is_some_and(&holds);
            match ranges.last_mut() {
                Some(range) if here && open => range[1] = point.speed_m_s,
                _ if here => ranges.push([point.speed_m_s; 2]),
                _ => {}
            }
            open = here;
        }
        ranges
    }
}
