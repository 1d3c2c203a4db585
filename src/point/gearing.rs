//! Road speed to engine speed, by `[drive]`.

use crate::case::{Case, tables as t};
use crate::engine::{Engine, tables as e};
use crate::keys::Values;

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
    pub fn read(case: &Case, engine: &Engine) -> Option<Gearing> {
        let view = case.view(case.drive.as_ref()?);
        let circumference = 2.0 * std::f64::consts::PI * view.required(&e::TYRE_RADIUS);
        let final_drive = view.required(&e::FINAL_DRIVE);
        let (lowest, highest) = engine.power.known();
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

    /// Lowest and highest road speed (m/s) at which some gear is usable; a ratio with a digit lost is no car of a
    /// thousand metres a second.
    pub fn range(&self) -> (f64, f64) {
        let tallest = self.rpm_per_speed.iter().copied().fold(f64::INFINITY, f64::min);
        let shortest = self.rpm_per_speed.first().copied().unwrap_or(tallest);
        (self.lowest / shortest, (self.highest / tallest).min(t::FASTEST))
    }
}

/// Engine speed (rev/min) of a condition: its own, or that of its gear at its road speed.
pub fn rpm_of(case: &Case, engine: &Engine, condition: &Values) -> f64 {
    let view = case.view(condition);
    view.number(&t::RPM).unwrap_or_else(|| {
        let gear = view.number(&t::GEAR).unwrap_or(1.0) as usize;
        let ratio = Gearing::read(case, engine).and_then(|g| g.rpm_per_speed.get(gear.max(1) - 1).copied());
        ratio.unwrap_or(f64::NAN) * view.required(&t::SPEED)
    })
}
