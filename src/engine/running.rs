//! Power, fuel and heat of an engine at one speed and load.

use super::power::Power;
use crate::air::Air;
use crate::correlations::piston_engine;
use crate::correlations::power_correction::iso_1585;

/// Lower heating value of petrol (J/kg) (handbooks give 42 to 44 MJ/kg).
pub const HEATING_VALUE: f64 = 43e6;

/// Brake efficiency (-) from the specific fuel consumption, `consumption` (kg/J).
pub fn brake_efficiency_of(consumption: f64) -> f64 {
    piston_engine::brake_efficiency(consumption, HEATING_VALUE)
}

#[derive(Clone, Debug)]
pub struct Engine {
    /// Full-throttle power.
    pub power: Power,
    /// Peak power (W), as stated.
    pub peak_power: f64,
    /// Engine speed of the peak (rev/min).
    pub peak_rpm: f64,
    /// Whether the power refers to standard air.
    pub standard_air: bool,
    /// Swept volume (m³).
    pub displacement: f64,
    /// Strokes of a working cycle.
    pub strokes: f64,
    /// Brake efficiency at full throttle.
    pub brake_efficiency: f64,
    pub volumetric_efficiency: f64,
    /// Mean effective friction pressure (Pa).
    pub friction_pressure: f64,
    /// Exponent of the fuel's heat in the heat to a part.
    pub heat_exponent: f64,
    /// Whether heat shares are shares of the brake power.
    pub shares_of_brake_power: bool,
    /// Sum of all heat shares.
    pub total_share: f64,
    /// What of that sum goes with friction.
    pub friction_share: f64,
}

/// An engine running at a speed and load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Running {
    /// Brake power (W).
    pub brake_power: f64,
    /// Heat of the fuel (W).
    pub fuel_power: f64,
    /// Power correction factor α of the day's air.
    pub air_factor: f64,
    /// Heat (W) for a share of 1 that goes with the charge, scaled down where the shares would exceed the fuel's heat.
    pub heat_of_share: f64,
    /// Heat (W) for a share of 1 that goes with friction, scaled down likewise.
    pub friction_heat_of_share: f64,
    /// Friction power (W).
    pub friction_power: f64,
    /// By how much the shares were scaled down; 1 where not.
    pub scaled: f64,
    /// Volume flow drawn (m³/s), at the density of the intake.
    pub breathed: f64,
}

impl Running {
    /// An engine that stands.
    pub const STANDING: Running = Running {
        brake_power: 0.0,
        fuel_power: 0.0,
        air_factor: 1.0,
        heat_of_share: 0.0,
        friction_heat_of_share: 0.0,
        friction_power: 0.0,
        scaled: 1.0,
        breathed: 0.0,
    };

    /// Heat (W) for a share of heat of which a part goes with friction.
    ///
    /// ```text
    ///   Q = s F_r [(1 − w)(F/F_r)ⁿ + w N/N_r]
    /// ```
    ///
    /// s `share` at rated power, w `from_friction` the share of this heat that friction power gives; F the fuel's heat, N
    /// the engine's speed, r rated power. Friction power of a constant mean pressure goes with speed alone.
    pub fn heat(&self, share: f64, from_friction: f64) -> f64 {
        share * ((1.0 - from_friction) * self.heat_of_share + from_friction * self.friction_heat_of_share)
    }

    /// Mass flow of fuel (kg/s).
    pub fn fuel_flow(&self) -> f64 {
        self.fuel_power / HEATING_VALUE
    }
}

impl Engine {
    /// Factor by which the day's air changes the stated power, as ISO 1585 has it.
    pub fn air_factor(&self, air: &Air) -> f64 {
        if self.standard_air { iso_1585(air.dry_pressure(), air.temperature) } else { 1.0 }
    }

    /// The engine at a speed (rev/min) and a load (share of full-throttle power there).
    ///
    /// Part load by a straight Willans line: with friction power P_f = p_f V_d × cycles a second,
    /// η_i = (P_full + P_f)/F_full and F = (load P_full + P_f)/η_i.
    ///
    /// Heat for a share of one that goes with the charge: Q = F_r (F/F_r)ⁿ, or P_r (F/F_r)ⁿ of shares of the brake
    /// power, where r is rated power (Taylor & Toong 1957, from memory); for one that goes with friction F_r N/N_r. Brake power and heat may not
    /// exceed the fuel's heat: where they would, the shares are scaled down together.
    ///
    /// `air_factor` is that of the day, [`Engine::air_factor`].
    pub fn running(&self, rpm: f64, load: f64, air_factor: f64) -> Running {
        if rpm <= 0.0 {
            return Running { air_factor, ..Running::STANDING };
        }
        let cycles = rpm / 60.0 / (self.strokes / 2.0);
        let friction = self.friction_pressure * self.displacement * cycles;
        let full = self.power.at(rpm) / air_factor;
        let rated = self.peak_power / air_factor;
        let rated_fuel = rated / self.brake_efficiency;
        let brake_power = load * full;
        // the share of what the charge gives at full throttle: (load P_full + P_f)/(P_full + P_f); it stays where the full power,
        // and with it the fuel, goes to nothing beyond the end of a power curve
        let charge = if full + friction > 0.0 { (brake_power + friction) / (full + friction) } else { 0.0 };
        let fuel_power = charge * full / self.brake_efficiency;
        let basis = if self.shares_of_brake_power { rated } else { rated_fuel };
        let offered = basis * (fuel_power / rated_fuel).powf(self.heat_exponent);
        let by_friction = basis * rpm / self.peak_rpm;
        let left = fuel_power - brake_power;
        let all = (self.total_share - self.friction_share) * offered + self.friction_share * by_friction;
        let scaled = if all > left { left / all } else { 1.0 };
        Running {
            brake_power,
            fuel_power,
            air_factor,
            heat_of_share: offered * scaled,
            friction_heat_of_share: by_friction * scaled,
            friction_power: friction,
            scaled,
            // an engine that gives nothing and has no friction burns nothing and draws nothing
            breathed: self.volumetric_efficiency * self.displacement * cycles * charge,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 30 kW at 5000 rpm, shares of heat that leave nothing of the fuel at rated power.
    fn engine(friction_pressure: f64, shares: f64) -> Engine {
        Engine {
            power: Power::Peak { power: 30e3, rpm: 5000.0 },
            peak_power: 30e3,
            peak_rpm: 5000.0,
            standard_air: false,
            displacement: 900e-6,
            strokes: 4.0,
            brake_efficiency: 0.25,
            volumetric_efficiency: 0.8,
            friction_pressure,
            heat_exponent: 0.75,
            shares_of_brake_power: false,
            total_share: shares,
            friction_share: 0.0,
        }
    }

    #[test]
    fn brake_power_and_heat_are_the_fuels_heat_at_most() {
        // heat falls with the fuel to 0.75 only: below rated power it would be more than the fuel leaves
        let running = engine(1.2e5, 0.72).running(2500.0, 0.6, 1.0);
        assert!(running.scaled < 1.0 && running.brake_power > 0.2 * running.fuel_power);
        let heat = 0.72 * running.heat_of_share;
        assert!((running.brake_power + heat - running.fuel_power).abs() < 1e-6 * running.fuel_power);
    }

    /// Beyond 1.618 of the peak's speed (x + x² − x³ = 0 at the golden ratio) nothing is left at the brake; fuel at full throttle is power
    /// over efficiency, and goes to nothing with it, without a jump. What is drawn in stays: 900 cm³ · 75 cycles a second times the volumetric efficiency.
    #[test]
    fn where_power_ends_fuel_ends_without_a_jump() {
        let engine = engine(1.2e5, 0.3);
        let end = 5000.0 * 0.5 * (1.0 + 5.0_f64.sqrt());
        let (before, beyond) =
            (engine.running(end * (1.0 - 1e-9), 1.0, 1.0), engine.running(9000.0, 1.0, 1.0));
        assert!(before.brake_power > 0.0 && before.fuel_power < 1e-3, "{before:?}");
        assert_eq!((beyond.brake_power, beyond.fuel_power, beyond.heat_of_share), (0.0, 0.0, 0.0));
        assert!((beyond.friction_power - 8100.0).abs() < 1e-6);
        let drawn = engine.volumetric_efficiency * engine.displacement * 75.0;
        assert!((beyond.breathed - drawn).abs() < 1e-12, "{}", beyond.breathed);
    }

    #[test]
    fn no_power_and_no_friction_burn_nothing() {
        // beyond 1.62 of the peak's speed no power is left; without friction nothing is burnt for it
        let none = engine(0.0, 0.3).running(9000.0, 1.0, 1.0);
        assert_eq!((none.brake_power, none.fuel_power, none.heat_of_share), (0.0, 0.0, 0.0));
        assert_eq!(none.breathed, 0.0);
        // nor at no load below it
        let idle = engine(0.0, 0.3).running(3000.0, 0.0, 1.0);
        assert_eq!(
            (idle.brake_power, idle.fuel_power, idle.heat_of_share, idle.breathed),
            (0.0, 0.0, 0.0, 0.0)
        );
    }
}
