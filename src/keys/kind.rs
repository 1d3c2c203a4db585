//! Kinds of quantity: what a number of the case file may be.
//!
//! Inside the program every number stands in the canonical unit of its kind: the SI unit, with
//! rpm for rotational speeds, rad for angles, K (absolute) for temperatures, kg/J for fuel
//! consumptions and a fraction of one for shares. On paper it stands in an everyday unit.

use std::f64::consts::PI;

/// A kind of quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A plain number: a coefficient, a ratio.
    Ratio,
    /// A share of a whole, as a plain number or in per cent; a fraction of one inside.
    Share,
    /// A whole number, one or more.
    Count,
    /// A length, m.
    Length,
    /// An area, m².
    Area,
    /// A volume, m³.
    Volume,
    /// An angle, rad.
    Angle,
    /// A speed, m/s.
    Speed,
    /// A rotational speed, rpm.
    RotationalSpeed,
    /// A time, s.
    Time,
    /// A mass, kg.
    Mass,
    /// A temperature, K above absolute zero.
    Temperature,
    /// A difference between two temperatures, K.
    TemperatureDifference,
    /// A pressure, Pa.
    Pressure,
    /// A power or a heat flow, W.
    Power,
    /// A mass flow, kg/s.
    MassFlow,
    /// A volume flow, m³/s.
    VolumeFlow,
    /// A density, kg/m³.
    Density,
    /// A heat flow for each kelvin of difference, W/K.
    ThermalConductance,
    /// The heat that warms a body by one kelvin, J/K.
    HeatCapacity,
    /// The heat that warms a kilogram by one kelvin, J/(kg K).
    SpecificHeat,
    /// The thermal conductivity of a material, W/(m K).
    Conductivity,
    /// Fuel burnt for a piece of work, kg/J.
    FuelConsumption,
}

impl Kind {
    /// Every kind of quantity.
    pub const ALL: [Kind; 23] = [
        Kind::Ratio,
        Kind::Share,
        Kind::Count,
        Kind::Length,
        Kind::Area,
        Kind::Volume,
        Kind::Angle,
        Kind::Speed,
        Kind::RotationalSpeed,
        Kind::Time,
        Kind::Mass,
        Kind::Temperature,
        Kind::TemperatureDifference,
        Kind::Pressure,
        Kind::Power,
        Kind::MassFlow,
        Kind::VolumeFlow,
        Kind::Density,
        Kind::ThermalConductance,
        Kind::HeatCapacity,
        Kind::SpecificHeat,
        Kind::Conductivity,
        Kind::FuelConsumption,
    ];

    /// The kind in words, with its article.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::Ratio => "a plain number",
            Kind::Share => "a share",
            Kind::Count => "a whole number",
            Kind::Length => "a length",
            Kind::Area => "an area",
            Kind::Volume => "a volume",
            Kind::Angle => "an angle",
            Kind::Speed => "a speed",
            Kind::RotationalSpeed => "a rotational speed",
            Kind::Time => "a time",
            Kind::Mass => "a mass",
            Kind::Temperature => "a temperature",
            Kind::TemperatureDifference => "a temperature difference",
            Kind::Pressure => "a pressure",
            Kind::Power => "a power",
            Kind::MassFlow => "a mass flow",
            Kind::VolumeFlow => "a volume flow",
            Kind::Density => "a density",
            Kind::ThermalConductance => "a thermal conductance",
            Kind::HeatCapacity => "a heat capacity",
            Kind::SpecificHeat => "a specific heat",
            Kind::Conductivity => "a thermal conductivity",
            Kind::FuelConsumption => "a fuel consumption",
        }
    }

    /// A value of this kind as it would be written in a case file, quotation marks included.
    pub const fn example(self) -> &'static str {
        match self {
            Kind::Ratio => "0.62",
            Kind::Share => "\"12 %\"",
            Kind::Count => "2",
            Kind::Length => "\"240 mm\"",
            Kind::Area => "\"90 cm2\"",
            Kind::Volume => "\"980 cm3\"",
            Kind::Angle => "\"7 deg\"",
            Kind::Speed => "\"120 km/h\"",
            Kind::RotationalSpeed => "\"5200 rpm\"",
            Kind::Time => "\"180 s\"",
            Kind::Mass => "\"14 kg\"",
            Kind::Temperature => "\"35 degC\"",
            Kind::TemperatureDifference => "\"20 K\"",
            Kind::Pressure => "\"260 Pa\"",
            Kind::Power => "\"36 kW\"",
            Kind::MassFlow => "\"0.25 kg/s\"",
            Kind::VolumeFlow => "\"0.4 m3/s\"",
            Kind::Density => "\"1.2 kg/m3\"",
            Kind::ThermalConductance => "\"110 W/K\"",
            Kind::HeatCapacity => "\"6 kJ/K\"",
            Kind::SpecificHeat => "\"2100 J/(kg K)\"",
            Kind::Conductivity => "\"160 W/(m K)\"",
            Kind::FuelConsumption => "\"320 g/kWh\"",
        }
    }

    /// Whether a bare number is accepted.
    pub const fn is_plain(self) -> bool {
        matches!(self, Kind::Ratio | Kind::Share | Kind::Count)
    }

    /// The kind of a difference between two values of this kind, as the one after ± is. Only a
    /// temperature is counted from a zero that its difference does not share.
    pub const fn difference(self) -> Kind {
        match self {
            Kind::Temperature => Kind::TemperatureDifference,
            other => other,
        }
    }

    /// A canonical value as [`Kind::show`] has it, to no more than so many significant digits.
    pub fn show_to(self, value: f64, digits: i32) -> String {
        let text = self.show(value);
        let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-'))).unwrap_or(text.len());
        let (number, unit) = text.split_at(end);
        match number.parse::<f64>() {
            Ok(number) if number != 0.0 => {
                format!("{}{unit}", self.not_in_thousands(significant(number, digits)))
            }
            _ => text,
        }
    }

    /// A canonical value as short text with its everyday unit, six digits or so. Read again, the
    /// text gives the value back to those digits (a temperature to 0.001 K).
    pub fn show(self, value: f64) -> String {
        if !value.is_finite() {
            return short_number(value);
        }
        let large = |limit: f64| value.abs() >= limit;
        let (number, unit) = match self {
            Kind::Ratio | Kind::Count => return short_number(value),
            Kind::Share => (value * 100.0, "%"),
            Kind::Length if large(1.0) => (value, "m"),
            Kind::Length => (value * 1e3, "mm"),
            Kind::Area if large(1.0) => (value, "m2"),
            Kind::Area => (value * 1e4, "cm2"),
            Kind::Volume if large(0.01) => (value * 1e3, "L"),
            Kind::Volume => (value * 1e6, "cm3"),
            Kind::Angle => (value * 180.0 / PI, "deg"),
            Kind::Speed => (value * 3.6, "km/h"),
            Kind::RotationalSpeed => (value, "rpm"),
            Kind::Time => (value, "s"),
            Kind::Mass => (value, "kg"),
            // To the nearest 0.001 K: what is left of the digits once 273.15 is taken off would
            // show as 31.0000000001 or 5.7e-14.
            Kind::Temperature => (((value - 273.15) * 1e3).round() / 1e3, "degC"),
            Kind::TemperatureDifference => (value, "K"),
            Kind::Pressure if large(1e4) => (value / 1e3, "kPa"),
            Kind::Pressure => (value, "Pa"),
            Kind::Power if large(1e3) => (value / 1e3, "kW"),
            Kind::Power => (value, "W"),
            Kind::MassFlow => (value, "kg/s"),
            Kind::VolumeFlow if large(1.0) => (value, "m3/s"),
            Kind::VolumeFlow => (value * 1e3, "L/s"),
            Kind::Density => (value, "kg/m3"),
            Kind::ThermalConductance => (value, "W/K"),
            Kind::HeatCapacity if large(1e3) => (value / 1e3, "kJ/K"),
            Kind::HeatCapacity => (value, "J/K"),
            Kind::SpecificHeat => (value, "J/(kg K)"),
            Kind::Conductivity => (value, "W/(m K)"),
            Kind::FuelConsumption => (value * 3.6e9, "g/kWh"),
        };
        format!("{} {unit}", self.not_in_thousands(short_number(number)))
    }

    /// The digits of a number of this kind, with a nought where they would be read as thousands, and refused.
    fn not_in_thousands(self, digits: String) -> String {
        if reads_as_thousands(&digits, self) { digits + "0" } else { digits }
    }
}

impl Kind {
    /// A number as it was written, with the everyday unit of a share or a difference behind it.
    pub fn with_unit(self, number: &str) -> String {
        match self {
            Kind::Share => format!("{number} %"),
            Kind::TemperatureDifference => format!("{number} K"),
            _ => number.to_string(),
        }
    }
}

/// A number to so many significant digits, and nine decimals at most, without trailing zeros.
pub fn significant(value: f64, digits: i32) -> String {
    let places = (digits - 1 - value.abs().max(1e-9).log10().floor() as i32).clamp(0, 9) as usize;
    trimmed(&format!("{value:.places$}")).to_string()
}

/// A number to six significant digits, without trailing zeros.
pub fn short_number(value: f64) -> String {
    if value.is_nan() {
        return "not a number".to_string();
    }
    if value.is_infinite() {
        return if value > 0.0 { "no upper limit" } else { "no lower limit" }.to_string();
    }
    if value == 0.0 {
        return "0".to_string();
    }
    let scientific = format!("{value:.5e}");
    let (digits, exponent) = scientific.split_once('e').unwrap_or((&scientific, "0"));
    match exponent.parse::<i32>() {
        Ok(power @ -4..=8) => {
            // -4..=8 leaves 9 decimals at most and none below zero.
            let decimals = usize::try_from(5 - power).unwrap_or(0);
            trimmed(&format!("{value:.decimals$}")).to_string()
        }
        _ => format!("{}e{exponent}", trimmed(digits)),
    }
}

/// Whether a number would be taken for one with a mark of thousands, as in `1.200 rpm`: nobody
/// counts turns in thousandths.
pub(super) fn reads_as_thousands(number: &str, kind: Kind) -> bool {
    kind == Kind::RotationalSpeed
        && number.split_once('.').is_some_and(|(whole, part)| {
            (1..=2).contains(&whole.len()) && whole != "0" && part.len() == 3 && !part.contains('.')
        })
}

fn trimmed(digits: &str) -> &str {
    if digits.contains('.') { digits.trim_end_matches('0').trim_end_matches('.') } else { digits }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keys::measure::parse_text;
    use proptest::prelude::*;

    #[test]
    fn everyday_units() {
        assert_eq!(Kind::Temperature.show(304.15), "31 degC");
        assert_eq!(Kind::Temperature.show(273.15), "0 degC");
        assert_eq!(Kind::TemperatureDifference.show(2.5), "2.5 K");
        assert_eq!(Kind::Area.show(0.0046), "46 cm2");
        assert_eq!(Kind::Speed.show(43.0 / 3.6), "43 km/h");
        assert_eq!(Kind::Length.show(0.262), "262 mm");
        assert_eq!(Kind::Length.show(1.9), "1.9 m");
        assert_eq!(Kind::Share.show(0.07), "7 %");
        assert_eq!(Kind::Pressure.show(-63.0), "-63 Pa");
        assert_eq!(Kind::Pressure.show(120_000.0), "120 kPa");
        assert_eq!(Kind::Power.show(36_000.0), "36 kW");
        assert_eq!(Kind::Volume.show(980e-6), "980 cm3");
        assert_eq!(Kind::FuelConsumption.show(0.32 / 3.6e6), "320 g/kWh");
        assert_eq!(Kind::Angle.show(7.0 * PI / 180.0), "7 deg");
        assert_eq!(Kind::Count.show(14.0), "14");
        assert_eq!(Kind::RotationalSpeed.show(97.413), "97.4130 rpm");
        assert_eq!(Kind::RotationalSpeed.show_to(97.4132, 5), "97.4130 rpm");
        assert_eq!(Kind::RotationalSpeed.show(4_200.0), "4200 rpm");
        assert_eq!(Kind::Pressure.show(f64::NEG_INFINITY), "no lower limit");
    }

    #[test]
    fn short_numbers() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (100.0, "100"),
            (0.1 + 0.2, "0.3"),
            (2.0 / 3.0, "0.666667"),
            (9.999_999_9, "10"),
            (999_999.96, "1000000"),
            (123_456_789.0, "123456789"),
            (0.000_123_456_7, "0.000123457"),
            (-1.5e-9, "-1.5e-9"),
            (6.02e23, "6.02e23"),
        ] {
            assert_eq!(short_number(value), text, "{value}");
        }
        assert_eq!(short_number(f64::NAN), "not a number");
        assert_eq!(short_number(f64::INFINITY), "no upper limit");
    }

    #[test]
    fn every_example_reads_and_shows_itself() {
        for kind in Kind::ALL {
            let text = kind.example().trim_matches('"');
            let measure = parse_text(text, kind).unwrap();
            let shown = parse_text(&kind.show(measure.value), kind).unwrap();
            assert!((shown.value / measure.value - 1.0).abs() < 1e-9, "{kind:?}");
        }
    }

    proptest! {
        #[test]
        fn what_is_shown_reads_as_the_same_value(
            index in 0..Kind::ALL.len(), power in -7.0..9.0f64, negative: bool,
        ) {
            let kind = Kind::ALL[index];
            let value = match kind {
                Kind::Count => (10f64.powf(power.abs())).round(),
                Kind::Temperature => 10f64.powf(power),
                _ if negative => -(10f64.powf(power)),
                _ => 10f64.powf(power),
            };
            let text = kind.show(value);
            let again = parse_text(&text, kind).unwrap().value;
            // Half a unit in the sixth digit, or in the third decimal of a temperature.
            let room = if kind == Kind::Temperature { 5.1e-4 } else { 0.0 } + value.abs() * 5.1e-6;
            prop_assert!((again - value).abs() <= room, "{text}: {value} came back as {again}");
        }
    }
}
