//! What the car does from moment to moment: road speed, engine speed, load, and how those not given are
//! found.

use crate::air::standard_atmosphere::FREE_FALL;
use crate::case::{Case, tables as t};
use crate::engine::{Engine, tables as e};
use crate::keys::Values;
use crate::point::gearing::Gearing;
use crate::point::model::Model;
use crate::point::operation::Operation;

/// Falling speed beyond which the driver is off the throttle, where the load is not given (m/s²).
const SLOWING: f64 = 0.3;
/// Mass that wheels and engine add by turning (common practice).
const TURNING_MASS: f64 = 1.05;

/// What the car does at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Time from the run's start (s).
    pub time: f64,
    /// Road speed (m/s).
    pub speed: f64,
    /// Engine speed (rev/min).
    pub rpm: f64,
    pub load: f64,
}

impl Pace {
    /// Puts what lies a share 0..1 of the way to another moment into an operation.
    pub fn blend(&self, other: &Pace, share: f64, operation: &mut Operation) {
        operation.speed = self.speed + share * (other.speed - self.speed);
        operation.rpm = self.rpm + share * (other.rpm - self.rpm);
        operation.load = self.load + share * (other.load - self.load);
    }
}

/// The car that the engine moves.
#[derive(Clone, Copy, Debug)]
struct MovingCar {
    mass: f64,
    drag_area: f64,
    rolling_resistance: f64,
    efficiency: f64,
}

/// Finds gear and load where they are not given.
#[derive(Clone, Debug)]
pub struct Finder<'a> {
    gearing: Option<Gearing>,
    engine: &'a Engine,
    car: Option<MovingCar>,
    density: f64,
    air_factor: f64,
}

impl<'a> Finder<'a> {
    /// For a case, on the day of an operation.
    pub fn new(case: &Case, model: &'a Model, operation: &Operation) -> Finder<'a> {
        let car = case.drive.as_ref().and_then(|drive| drive.table(&e::CAR)).map(|table| {
            let view = case.view(table);
            MovingCar {
                mass: view.required(&e::CAR_MASS),
                drag_area: view.required(&e::DRAG_AREA),
                rolling_resistance: view.required(&e::ROLLING_RESISTANCE),
                efficiency: view.required(&e::DRIVELINE_EFFICIENCY),
            }
        });
        Finder {
            gearing: Gearing::read(case, &model.engine),
            engine: &model.engine,
            car,
            density: operation.air.density(),
            air_factor: model.engine.air_factor(&operation.air),
        }
    }

    /// Whether road speed leads to engine speed.
    pub fn has_gears(&self) -> bool {
        self.gearing.is_some()
    }

    /// Engine speed (rev/min) for one metre a second, in each gear.
    pub fn rpm_per_speed(&self) -> Option<&[f64]> {
        self.gearing.as_ref().map(|gearing| &gearing.rpm_per_speed[..])
    }

    /// The engine's peak power (W), as stated.
    pub fn peak_power(&self) -> f64 {
        self.engine.peak_power
    }

    /// How the load is found, in words.
    pub fn load_in_words(&self) -> &'static str {
        if self.car.is_some() {
            "the load is found from how the car speeds up, its drag and its rolling resistance ([drive] car)"
        } else {
            "the load is taken as full wherever the car speeds up or holds its speed and as none where it slows down, which is on the safe side; give [drive] car = { mass = \"…\" } and it is found from how the car speeds up"
        }
    }

    /// Engine speed (rev/min) at a road speed: in the lowest usable gear; with the clutch slipping at the
    /// lowest engine speed where the car is slower than first gear allows; in top gear where it is faster
    /// than any does. None without `[drive]`.
    pub fn rpm(&self, speed: f64) -> Option<f64> {
        let gearing = self.gearing.as_ref()?;
        if let Some((_, rpm)) = gearing.gear_at(speed) {
            return Some(rpm);
        }
        let top = gearing.rpm_per_speed.iter().copied().fold(f64::INFINITY, f64::min);
        Some((top * speed).max(gearing.lowest))
    }

    /// Load at a road speed, engine speed and acceleration (m/s²).
    ///
    /// ```text
    ///   load = v (1.05 m a + ½ρ A_d v² + c_r m g)/(η P_full),   within 0..1
    /// ```
    pub fn load(&self, speed: f64, rpm: f64, acceleration: f64) -> f64 {
        let Some((asked, full)) = self.asked(speed, rpm, acceleration) else {
            return if acceleration < -SLOWING { 0.0 } else { 1.0 };
        };
        if full <= 0.0 { 0.0 } else { (asked / full).clamp(0.0, 1.0) }
    }

    /// Power that the car asks of the engine, and the most that it has there (W); none where the car is not known.
    pub fn asked(&self, speed: f64, rpm: f64, acceleration: f64) -> Option<(f64, f64)> {
        let car = self.car?;
        let force = TURNING_MASS * car.mass * acceleration
            + 0.5 * self.density * car.drag_area * speed * speed
            + car.rolling_resistance * car.mass * FREE_FALL;
        let full = self.engine.running(rpm, 1.0, self.air_factor).brake_power;
        Some((speed * force / car.efficiency, full))
    }
}

/// What legs and a recorded run leave open: the open road, or what a condition says.
pub fn base(case: &Case, model: &Model, stint: &Values) -> Operation {
    let named = stint.text(&t::AS_IN).and_then(|name| case.condition(name));
    match named {
        Some(index) => Operation::of_condition(case, model, &case.conditions[index].values),
        None => Operation::at_speed(case, 0.0, 0.0, 1.0),
    }
}
