//! What the builder reads his car with: how well, and in which unit.

use super::{Case, tables as t};
use crate::keys::{Key, Kind, Slot, Values, View, units};

/// Usual where nothing is said (common practice, from memory): the difference of the levels of a U-tube read to a millimetre, a meter
/// with its drift, a thermocouple as it is commonly fixed, the fields of a strip.
const LEVEL: f64 = 1e-3;
const METER: f64 = 5.0;
const TEMPERATURE: f64 = 5.0;
const STEP: f64 = 10.0;
/// What all readings of one may be off by alike: wire of thermocouples type K, class 2, ± 2.5 K (IEC 60584-1, from memory); the
/// range of a small meter, 2 % (common practice, from memory).
const TEMPERATURE_ALIKE: f64 = 2.5;
const METER_SCALE: f64 = 0.02;
/// A thermometer by itself, all of its readings alike, and in proportion.
const THERMOMETER: [f64; 3] = [TEMPERATURE, TEMPERATURE_ALIKE, 0.0];
/// Densities of what is put into tubes (kg/m³): water as gauges are marked; spirit and light gauge oil from memory.
const WATER: f64 = 1000.0;
const ALCOHOL: f64 = 790.0;
const OIL: f64 = 830.0;
/// Standard acceleration of free fall (m/s²; ISO 80000-3).
const GRAVITY: f64 = 9.806_65;
/// What a strip leaves open: nine tenths of a step lie within so much of its middle.
const WITHIN_A_STEP: f64 = 0.45;
const INCH: f64 = 0.0254;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instrument {
    /// What it is called.
    pub name: &'static str,
    /// The unit that it shows; of a tube the length along it.
    pub unit: &'static str,
    /// 9 times in 10 within (K or Pa).
    pub within: f64,
    /// What all its readings may be off by alike, 9 times in 10 within (K or Pa).
    pub alike: f64,
    /// The same as a share of what is shown; of a temperature, of what it stands over 0 °C.
    pub scale: f64,
    /// What it shows for each kelvin or pascal.
    per: f64,
    /// What it shows at nought (°C or Pa).
    zero: f64,
    /// Length along a tube for each length upright; 1 of all else.
    pub slope: f64,
    /// What is in a tube.
    pub fluid: Option<&'static str>,
}

impl Instrument {
    /// What it shows (°C or Pa in).
    pub fn shows(&self, value: f64) -> f64 {
        self.zero + value * self.per
    }

    /// What a difference is on it (K or Pa in).
    pub fn difference(&self, value: f64) -> f64 {
        value * self.per
    }

    /// Whether it is a tube with a liquid in it.
    pub fn is_tube(&self) -> bool {
        self.fluid.is_some()
    }
}

/// All of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Instruments {
    /// Whether the case says what there is; else it is what is usual.
    pub said: bool,
    /// For differences of pressure.
    pub pressure: Option<Instrument>,
    /// For parts.
    pub part: Option<Instrument>,
    /// For air.
    pub air: Option<Instrument>,
    /// From field to field of the strips (K), where parts are read with them.
    pub strips: Option<f64>,
    /// Whether a logger writes it down.
    pub logger: bool,
}

impl Instruments {
    /// Those for pressures, parts and air, each with its place among all that there are.
    pub fn each(&self) -> [Option<(usize, Instrument)>; 3] {
        let mut places = 0..;
        [self.pressure, self.part, self.air].map(|own| own.and_then(|own| Some((places.next()?, own))))
    }

    /// What is usual: a U-tube with water, thermocouples, a thermometer for air.
    pub fn usual() -> Instruments {
        Instruments {
            said: false,
            pressure: Some(tube([LEVEL, 0.0], "water", 1.0, "mm")),
            part: Some(thermometer("gauge", THERMOMETER, "degC")),
            air: Some(thermometer("air probe", THERMOMETER, "degC")),
            strips: None,
            logger: false,
        }
    }

    /// Those of a case.
    pub fn of(case: &Case) -> Instruments {
        let Some(values) = &case.instruments else { return Instruments::usual() };
        let table = |key: &Key| table(values, key);
        let number = |table: &Values, key: &Key| View { values: table, numbers: &case.numbers }.number(key);
        // of two for pressures the finer one is taken
        let tube = table(&t::U_TUBE).map(|own| {
            tube(
                [number(own, &t::LEVEL).unwrap_or(LEVEL), number(own, &t::LEVEL_ALIKE).unwrap_or(0.0)],
                own.text(&t::FLUID).unwrap_or("water"),
                number(own, &t::SLOPE).unwrap_or(1.0),
                own.text(&t::SHOWS_LENGTH).unwrap_or("mm"),
            )
        });
        let meter = table(&t::MANOMETER).map(|own| {
            let alike = number(own, &t::PRESSURE_ALIKE).unwrap_or(0.0);
            let scale = number(own, &t::PRESSURE_SCALE).unwrap_or(METER_SCALE);
            meter(
                [number(own, &t::PRESSURE_WITHIN).unwrap_or(METER), alike, scale],
                own.text(&t::SHOWS_PRESSURE).unwrap_or("Pa"),
            )
        });
        let pressure = tube.into_iter().chain(meter).min_by(|a, b| a.within.total_cmp(&b.within));
        let read = |key: &Key, name: &'static str| {
            table(key).map(|own| {
                let [within, alike, scale] = THERMOMETER;
                let well = [
                    number(own, &t::TEMPERATURE_WITHIN).unwrap_or(within),
                    number(own, &t::TEMPERATURE_ALIKE).unwrap_or(alike),
                    number(own, &t::TEMPERATURE_SCALE).unwrap_or(scale),
                ];
                thermometer(name, well, own.text(&t::SHOWS_TEMPERATURE).unwrap_or("degC"))
            })
        };
        let gauge = read(&t::GAUGE, "gauge");
        let strips = table(&t::STRIPS).filter(|_| gauge.is_none());
        let step = strips.map(|own| number(own, &t::STEP_OF_STRIPS).unwrap_or(STEP));
        let strip = strips.zip(step).map(|(own, step)| {
            let unit = own.text(&t::SHOWS_TEMPERATURE).unwrap_or("degC");
            thermometer("strip", [WITHIN_A_STEP * step, 0.0, 0.0], unit)
        });
        Instruments {
            said: true,
            pressure,
            part: gauge.or(strip),
            air: read(&t::PROBE, "air probe"),
            strips: step,
            logger: values.flag(&t::LOGGER),
        }
    }
}

/// A table within a table.
fn table<'v>(values: &'v Values, key: &Key) -> Option<&'v Values> {
    match values.slot(key) {
        Slot::Table(table) => Some(table),
        _ => None,
    }
}

fn tube([level, alike]: [f64; 2], fluid: &str, slope: f64, unit: &str) -> Instrument {
    let (density, fluid) = match fluid {
        "alcohol" => (ALCOHOL, "alcohol"),
        "oil" => (OIL, "oil"),
        _ => (WATER, "water"),
    };
    let (unit, length) = if unit == "in" { ("in", INCH) } else { ("mm", 1e-3) };
    // Δp = ρ g ℓ/s, ℓ the length along a tube of slope s
    let along = density * GRAVITY / slope;
    Instrument {
        name: "U-tube",
        unit,
        within: level * along,
        alike: alike * along,
        scale: 0.0,
        per: 1.0 / (along * length),
        zero: 0.0,
        slope,
        fluid: Some(fluid),
    }
}

fn meter([within, alike, scale]: [f64; 3], unit: &str) -> Instrument {
    let known = units::find(unit, Kind::Pressure);
    let (unit, one) = known.map_or(("Pa", 1.0), |unit| (unit.written, unit.to_canonical(1.0)));
    Instrument {
        name: "manometer",
        unit,
        within,
        alike,
        scale,
        per: 1.0 / one,
        zero: 0.0,
        slope: 1.0,
        fluid: None,
    }
}

fn thermometer(name: &'static str, [within, alike, scale]: [f64; 3], unit: &str) -> Instrument {
    let (unit, per, zero) = match unit {
        "degF" => ("°F", 1.8, 32.0),
        _ => ("°C", 1.0, 0.0),
    };
    Instrument { name, unit, within, alike, scale, per, zero, slope: 1.0, fluid: None }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Conventional millimetre of water 9.80665 Pa, inch of water 249.089 Pa (NIST SP 811, app. B, from memory).
    #[test]
    fn a_tube_shows_its_liquid_along_itself() {
        let upright = tube([1e-3, 0.0], "water", 1.0, "mm");
        assert!((upright.within - 9.806_65).abs() < 1e-9 && (upright.shows(98.0665) - 10.0).abs() < 1e-9);
        let inches = tube([1e-3, 0.0], "water", 1.0, "in");
        assert!((inches.shows(249.089) - 1.0).abs() < 1e-5);
        // laid over at 1:10 it shows tenfold, and what it is read to is a tenth
        let laid = tube([1e-3, 0.0], "water", 10.0, "mm");
        assert!((laid.shows(30.0) / upright.shows(30.0) - 10.0).abs() < 1e-9);
        assert!((upright.within / laid.within - 10.0).abs() < 1e-9);
        // a lighter liquid climbs further
        let alcohol = tube([1e-3, 0.0], "alcohol", 1.0, "mm");
        assert!((alcohol.shows(100.0) / upright.shows(100.0) - 1000.0 / 790.0).abs() < 1e-9);
    }

    #[test]
    fn meters_and_thermometers_show_their_units() {
        assert!((meter([5.0, 0.0, 0.02], "mbar").shows(250.0) - 2.5).abs() < 1e-12);
        assert!((meter([5.0, 0.0, 0.02], "inH2O").shows(249.089) - 1.0).abs() < 1e-5);
        let gauge = thermometer("gauge", THERMOMETER, "degF");
        assert!((gauge.shows(100.0) - 212.0).abs() < 1e-9 && (gauge.difference(5.0) - 9.0).abs() < 1e-9);
    }
}
