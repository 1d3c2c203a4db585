//! What all elements of a car meet at one moment: the day's air, the road speed, the engine speed.

use crate::air::Air;

/// The outer state at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeStream {
    /// The day's air at rest.
    pub air: Air,
    /// Road speed V (m/s).
    pub speed: f64,
    /// Speed of the air past the car, max(0, V + wind) (m/s).
    pub air_speed: f64,
    /// Share τ of the dynamic pressure left behind another car.
    pub clear_air: f64,
    /// Speed next to the body, V_air √τ (m/s).
    pub local_speed: f64,
    /// Dynamic pressure τ ½ρV²(1 + M²/4) (Pa).
    pub dynamic_pressure: f64,
    /// Temperature of the air brought to rest, T + V²/2cp (K).
    pub total_temperature: f64,
    /// Specific volume per kelvin, R/p (m³/(kg K)).
    pub volume_per_kelvin: f64,
    /// Viscosity of the day's air (Pa s).
    pub viscosity: f64,
    /// Engine speed (rev/min).
    pub rpm: f64,
}

impl FreeStream {
    /// The moment at a road speed and a head wind, both m/s.
    pub fn new(air: Air, speed: f64, wind: f64, clear_air: f64, rpm: f64) -> FreeStream {
        let air_speed = (speed + wind).max(0.0);
        FreeStream {
            air,
            speed,
            air_speed,
            clear_air,
            local_speed: air_speed * clear_air.sqrt(),
            dynamic_pressure: clear_air * air.dynamic_pressure(air_speed),
            total_temperature: air.total_temperature(air_speed),
            volume_per_kelvin: air.gas_constant / air.pressure,
            viscosity: air.viscosity(),
            rpm,
        }
    }
}
