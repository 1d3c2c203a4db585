//! Operating points: a condition of the case, or a point of a sweep.

use super::model::{Model, day};
use crate::air::Air;
use crate::case::{Case, Named, tables as t};
use crate::element::FreeStream;
use crate::element::fan::FanSetting;
use crate::engine::tables as e;
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

/// Road speed to engine speed.
#[derive(Clone, Debug, PartialEq)]
pub struct Gearing {
    /// Engine speed (rev/min) for one metre a second, in each gear.
    pub rpm_per_speed: Vec<f64>,
    /// Lowest usable engine speed (rev/min).
    pub lowest: f64,
    /// Highest usable engine speed (rev/min).
    pub highest: f64,
}

impl Gearing {
    /// Reads `[drive]`; the usable range falls back on that of the power curve.
    pub fn read(case: &Case, model: &Model) -> Option<Gearing> {
        let view = case.view(case.drive.as_ref()?);
        let circumference = 2.0 * std::f64::consts::PI * view.required(&e::TYRE_RADIUS);
        let final_drive = view.required(&e::FINAL_DRIVE);
        let (lowest, highest) = model.engine.power.known();
        Some(Gearing {
            rpm_per_speed: view
                .list(&e::GEARS)
                .iter()
                .map(|g| 60.0 / circumference * g * final_drive)
                .collect(),
            lowest: view.number(&e::LOWEST).unwrap_or(lowest),
            highest: view.number(&e::HIGHEST).unwrap_or(highest),
        })
    }

    /// The lowest gear (1 the first) whose engine speed at a road speed is usable.
    pub fn gear_at(&self, speed: f64) -> Option<(usize, f64)> {
        let (index, rpm) = self
            .rpm_per_speed
            .iter()
            .map(|ratio| ratio * speed)
            .enumerate()
            .find(|(_, rpm)| *rpm <= self.highest * (1.0 + 1e-12))?;
        (rpm >= self.lowest).then_some((index + 1, rpm))
    }

    /// Lowest and highest road speed (m/s) at which some gear is usable.
    pub fn range(&self) -> (f64, f64) {
        let tallest = self.rpm_per_speed.iter().copied().fold(f64::INFINITY, f64::min);
        let shortest = self.rpm_per_speed.first().copied().unwrap_or(tallest);
        (self.lowest / shortest, self.highest / tallest)
    }
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
        let rpm = view.number(&t::RPM).unwrap_or_else(|| {
            let gear = view.number(&t::GEAR).unwrap_or(1.0) as usize;
            let gearing = Gearing::read(case, model);
            gearing.and_then(|g| g.rpm_per_speed.get(gear.max(1) - 1).copied()).unwrap_or(f64::NAN) * speed
        });
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
