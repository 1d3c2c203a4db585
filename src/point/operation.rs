//! Operating points: a condition of the case, or a point of a sweep.

use super::gearing;
use super::model::{Model, day};
use crate::air::Air;
use crate::case::{Case, Named, tables as t};
use crate::element::FreeStream;
use crate::element::fan::FanSetting;
use crate::keys::{Slot, Values};

/// What a car meets and does at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// The day's air.
    pub air: Air,
    /// Road speed (m/s).
    pub speed: f64,
    /// Head wind (m/s).
    pub wind: f64,
    /// Share of the dynamic pressure left behind another car.
    pub clear_air: f64,
    /// Engine speed (rev/min).
    pub rpm: f64,
    pub load: f64,
    /// Share of each passage's opening that is blanked.
    pub taped: Vec<f64>,
    /// What the fans of each passage are told.
    pub fans: Vec<FanSetting>,
    /// A blower taped onto the opening of a passage: which, and the air that it gives through all of it (kg/s).
    pub blower: Option<(usize, f64)>,
}

/// Whether the engine runs in a condition: in a gear it does.
pub fn engine_runs(case: &Case, condition: &Named) -> bool {
    case.view(&condition.values).number(&t::RPM).is_none_or(|rpm| rpm > 0.0)
}

/// Whether the car moves in a condition with its engine running.
pub fn is_driven(case: &Case, condition: &Named) -> bool {
    case.view(&condition.values).required(&t::SPEED) > 0.0 && engine_runs(case, condition)
}

/// Whether the car stands in a condition with its engine running.
pub fn idles(case: &Case, condition: &Named) -> bool {
    case.view(&condition.values).required(&t::SPEED) == 0.0 && engine_runs(case, condition)
}

impl Operation {
    /// The stream that the car drives in.
    pub fn free_stream(&self) -> FreeStream {
        FreeStream::new(self.air, self.speed, self.wind, self.clear_air, self.rpm)
    }

    /// A condition of the case.
    pub fn of_condition(case: &Case, model: &Model, values: &Values) -> Operation {
        let view = case.view(values);
        let speed = view.required(&t::SPEED);
        let rpm = gearing::rpm_of(case, &model.engine, values);
        let mut taped = vec![0.0; case.passages.len()];
        for (name, id) in values.map(&t::TAPED) {
            if let Some(passage) = case.passage(name) {
                taped[passage] = case.numbers.value(*id);
            }
        }
        Operation {
            air: day(case, Some(values)),
            speed,
            wind: view.required(&t::WIND),
            clear_air: view.required(&t::CLEAR_AIR),
            rpm,
            load: view.required(&t::LOAD),
            taped,
            fans: told(case, values, vec![FanSetting::AsSet; case.passages.len()]),
            blower: None,
        }
    }

    /// What a step tells the fans beyond its condition.
    pub fn tell_fans(&mut self, case: &Case, step: &Values) {
        self.fans = told(case, step, std::mem::take(&mut self.fans));
    }

    /// Every fan off.
    pub fn fans_off(&mut self) {
        self.fans.fill(FanSetting::Off);
    }

    /// A road speed in a gear on the case's day, in clear air.
    pub fn at_speed(case: &Case, speed: f64, rpm: f64, load: f64) -> Operation {
        Operation {
            air: day(case, None),
            speed,
            wind: 0.0,
            clear_air: 1.0,
            rpm,
            load,
            taped: vec![0.0; case.passages.len()],
            fans: vec![FanSetting::AsSet; case.passages.len()],
            blower: None,
        }
    }
}

/// What a condition or a step tells the fans of each passage, beyond what they were told.
fn told(case: &Case, values: &Values, mut fans: Vec<FanSetting>) -> Vec<FanSetting> {
    let Slot::Settings(settings) = values.slot(&t::FANS) else { return fans };
    for (name, word) in settings {
        match case.passage(name) {
            Some(passage) => fans[passage] = FanSetting::of(word),
            None if name == "*" => fans.fill(FanSetting::of(word)),
            None => {}
        }
    }
    fans
}
