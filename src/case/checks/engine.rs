//! The engine and its drive: power, strokes, shares of heat, gears.

use super::Checking;
use crate::engine::running::brake_efficiency_of;
use crate::engine::tables as e;
use crate::keys::{Kind, Origin, Slot};

impl Checking<'_> {
    pub(super) fn engine(&mut self) {
        self.power();
        let engine = &self.case.engine;
        if let Some(strokes) = self.number(engine, &e::STROKES)
            && strokes != 2.0
            && strokes != 4.0
        {
            self.fault(
                "strokes-unknown",
                format!("an engine of {strokes} strokes is not known"),
                engine.place_of(&e::STROKES),
                "write 2 or 4",
            );
        }
        self.heat();
    }

    /// A power curve of two points or more, and power at one of them.
    fn power(&mut self) {
        let engine = &self.case.engine;
        if !matches!(engine.slot(&e::POWER), Slot::Pairs(_)) || !self.sound(engine, &e::POWER) {
            return;
        }
        let points = self.case.view(engine).pairs(&e::POWER);
        let place = engine.place_of(&e::POWER);
        if points.len() < 2 {
            let count = if points.is_empty() { "no point" } else { "one point" };
            let message = format!("the power curve has {count}; it needs two or more");
            self.fault("power-points", message, place, e::GIVE_POWER);
        } else if points.iter().all(|(_, power)| *power <= 0.0) {
            let message = "the engine has no power at any of its points".to_string();
            self.fault("power-nowhere", message, place, "check the curve's second values and their unit");
        }
    }

    /// Brake power and the heat to parts and chambers are no more than the fuel's heat.
    fn heat(&mut self) {
        let engine = &self.case.engine;
        if !engine.written(&e::HEAT) {
            return;
        }
        let shares = engine.map(&e::HEAT);
        let efficiency = match self.number(engine, &e::FUEL_CONSUMPTION) {
            Some(consumption) => Some(brake_efficiency_of(consumption)),
            None if engine.written(&e::FUEL_CONSUMPTION) => None,
            None => self.number(engine, &e::BRAKE_EFFICIENCY),
        };
        let Some(efficiency) = efficiency else { return };
        let written: f64 = shares.iter().map(|(_, id)| self.case.numbers.value(*id)).sum();
        let of_brake_power = engine.text(&e::HEAT_SHARES_OF) == Some("brake power");
        let by_word =
            |(_, id): &&(String, _)| matches!(self.case.numbers.fact(*id).origin, Origin::Assumed(_));
        if let Some((name, _)) = shares.iter().find(by_word).filter(|_| of_brake_power) {
            self.fault(
                "usual-share-of-fuel",
                format!("the share of {name} is given by a word, which stands for a share of the fuel's heat, and heat_shares_of is brake power"),
                engine.place_of(&e::HEAT),
                "leave heat_shares_of out, or give every share as a number",
            );
            return;
        }
        let of_fuel = if of_brake_power { written * efficiency } else { written };
        let sum = of_fuel + efficiency;
        if sum > 1.0 + 1e-9 {
            let show = |share: f64| Kind::Share.show((share * 1e4).round() / 1e4);
            self.fault(
                "heat-shares-over-one",
                format!(
                    "heat takes {} of the fuel's heat and brake power {}, together {}",
                    show(of_fuel),
                    show(efficiency),
                    show(sum)
                ),
                engine.place_of(&e::HEAT),
                if of_brake_power {
                    "lower the shares or the efficiency; what is left leaves in the exhaust"
                } else {
                    "lower the shares, or write heat_shares_of = \"brake power\" if that is what they are shares of"
                },
            );
        }
    }

    pub(super) fn drive(&mut self) {
        let case = self.case;
        let Some(drive) = &case.drive else { return };
        let no_gears = matches!(drive.slot(&e::GEARS), Slot::Numbers(gears) if gears.is_empty());
        if no_gears && self.sound(drive, &e::GEARS) {
            self.fault(
                "gears-missing",
                "the drive has no gears".to_string(),
                drive.place_of(&e::GEARS),
                "give their ratios, first gear first; gears = [1.0] for one fixed ratio",
            );
        }
        if let (Some(low), Some(high)) = (self.number(drive, &e::LOWEST), self.number(drive, &e::HIGHEST))
            && low >= high
        {
            let rpm = Kind::RotationalSpeed;
            self.fault(
                "drive-range-upside-down",
                format!("lowest is {}, and highest {}", rpm.show(low), rpm.show(high)),
                drive.place_of(&e::HIGHEST),
                "lowest must lie below highest",
            );
        }
    }
}
