//! Units: from the spelling a builder uses to the canonical unit of the kind of quantity.
//!
//! A spelling is taken as it stands if it fits a unit exactly, else without regard to case if
//! exactly one unit of the kind fits; what fits nothing is refused with a guess, never taken for
//! something near.

mod tables;

use super::kind::Kind;
use std::fmt;

/// A unit of some kind of quantity.
pub struct Unit {
    /// The unit as it is best written.
    pub written: &'static str,
    /// Other spellings, in normal form; see [`normalise`].
    pub also: &'static [&'static str],
    to_canonical: fn(f64) -> f64,
}

impl Unit {
    /// A number in this unit, in the canonical unit of its kind. Not finite where it overflows.
    pub fn to_canonical(&self, number: f64) -> f64 {
        (self.to_canonical)(number)
    }

    fn spellings(&self) -> impl Iterator<Item = String> {
        let also = self.also.iter().map(|spelling| (*spelling).to_string());
        std::iter::once(normalise(self.written)).chain(also)
    }

    fn fits(&self, normal: &str) -> bool {
        self.spellings().any(|spelling| spelling == normal)
    }

    fn fits_without_case(&self, normal: &str) -> bool {
        let normal = normal.to_lowercase();
        self.spellings().any(|spelling| spelling.to_lowercase() == normal)
    }
}

impl fmt::Debug for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Unit").field("written", &self.written).finish_non_exhaustive()
    }
}

/// Why a spelling is not taken for a unit.
#[derive(Clone, Debug, PartialEq)]
pub enum UnitFault {
    /// It fits nothing; the nearest unit of the kind, where one is near.
    Unknown {
        /// The unit that was perhaps meant.
        nearest: Option<&'static str>,
    },
    /// Without regard to case it fits several units of the kind.
    Ambiguous(Vec<&'static str>),
    /// It is a unit of these other kinds.
    OtherKind(Vec<Kind>),
}

/// The units of a kind, the everyday ones first; none where only plain numbers are written.
pub fn aliases(kind: Kind) -> &'static [Unit] {
    tables::of(kind)
}

/// The unit of `kind` that a spelling stands for.
///
/// # Errors
/// A spelling that fits no unit of the kind, or several that differ by case alone.
pub fn find(spelling: &str, kind: Kind) -> Result<&'static Unit, UnitFault> {
    let normal = normalise(spelling);
    match fitting(&normal, kind).as_slice() {
        [one] => return Ok(one),
        [] => {}
        several => {
            return Err(UnitFault::Ambiguous(several.iter().map(|unit| unit.written).collect()));
        }
    }
    let others: Vec<Kind> =
        Kind::ALL.into_iter().filter(|other| !fitting(&normal, *other).is_empty()).collect();
    if others.is_empty() {
        Err(UnitFault::Unknown { nearest: nearest(&normal, kind) })
    } else {
        Err(UnitFault::OtherKind(others))
    }
}

/// The units of a kind that a normal form fits: the one it fits exactly, else all that it fits
/// without regard to case.
fn fitting(normal: &str, kind: Kind) -> Vec<&'static Unit> {
    let units = aliases(kind);
    match units.iter().find(|unit| unit.fits(normal)) {
        Some(exact) => vec![exact],
        None => units.iter().filter(|unit| unit.fits_without_case(normal)).collect(),
    }
}

/// The unit with the spelling that takes the fewest slips of the pen to reach.
fn nearest(normal: &str, kind: Kind) -> Option<&'static str> {
    let word = normal.to_lowercase();
    let length = word.chars().count();
    // Longer texts are no misspelt unit, and the comparison grows with the square of the length.
    if length == 0 || length > 24 {
        return None;
    }
    aliases(kind)
        .iter()
        .flat_map(|unit| unit.spellings().map(move |spelling| (unit.written, spelling)))
        .map(|(written, spelling)| (strsim::damerau_levenshtein(&word, &spelling.to_lowercase()), written))
        .filter(|(slips, _)| *slips <= (length / 3).max(1) && *slips < length)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, written)| written)
}

/// The normal form of a unit's spelling: without spaces, brackets, signs of multiplication and
/// of power, and dots of abbreviation; with plain digits for raised ones, `deg` for `°`.
pub fn normalise(spelling: &str) -> String {
    let mut normal = String::with_capacity(spelling.len());
    for c in spelling.chars() {
        match c {
            '^' | '·' | '⋅' | '∙' | '×' | '*' | '(' | ')' | '.' => {}
            _ if c.is_whitespace() => {}
            '¹' => normal.push('1'),
            '²' => normal.push('2'),
            '³' => normal.push('3'),
            '₂' => normal.push('2'),
            '⁻' | '−' => normal.push('-'),
            '⁄' | '∕' => normal.push('/'),
            '°' | 'º' | '˚' => normal.push_str("deg"),
            '℃' => normal.push_str("degC"),
            '℉' => normal.push_str("degF"),
            '\u{212A}' => normal.push('K'),
            'µ' | 'μ' => normal.push('u'),
            '％' => normal.push('%'),
            _ => normal.push(c),
        }
    }
    normal
}

#[cfg(test)]
mod tests {
    use super::*;

    fn canonical(number: f64, spelling: &str, kind: Kind) -> f64 {
        match find(spelling, kind) {
            Ok(unit) => unit.to_canonical(number),
            Err(fault) => panic!("{spelling} as {kind:?}: {fault:?}"),
        }
    }

    /// Factors as printed in NIST Special Publication 811 (2008), appendix B.8, from memory, to
    /// the seven digits printed there. It also gives 249.0889 Pa for the conventional inch of
    /// water and 3386.389 Pa for the conventional inch of mercury.
    #[test]
    fn factors_of_nist_sp_811() {
        for (spelling, kind, factor) in [
            ("in", Kind::Length, 2.54e-2),
            ("ft", Kind::Length, 3.048e-1),
            ("yd", Kind::Length, 9.144e-1),
            ("in2", Kind::Area, 6.4516e-4),
            ("ft2", Kind::Area, 9.290_304e-2),
            ("in3", Kind::Volume, 1.638_706e-5),
            ("ft3", Kind::Volume, 2.831_685e-2),
            ("L", Kind::Volume, 1e-3),
            ("deg", Kind::Angle, 1.745_329e-2),
            ("km/h", Kind::Speed, 2.777_778e-1),
            ("mph", Kind::Speed, 4.4704e-1),
            ("ft/min", Kind::Speed, 5.08e-3),
            ("kn", Kind::Speed, 5.144_444e-1),
            ("lb", Kind::Mass, 4.535_924e-1),
            ("oz", Kind::Mass, 2.834_952e-2),
            ("psi", Kind::Pressure, 6.894_757e3),
            ("psf", Kind::Pressure, 4.788_026e1),
            ("inH2O", Kind::Pressure, 2.490_889e2),
            ("mmH2O", Kind::Pressure, 9.806_65),
            ("inHg", Kind::Pressure, 3.386_389e3),
            ("mmHg", Kind::Pressure, 1.333_224e2),
            ("atm", Kind::Pressure, 1.013_25e5),
            ("hp", Kind::Power, 7.456_999e2),
            ("PS", Kind::Power, 7.354_988e2),
            ("BTU/h", Kind::Power, 2.930_711e-1),
            ("kcal/h", Kind::Power, 1.163),
            ("lb/s", Kind::MassFlow, 4.535_924e-1),
            ("lb/min", Kind::MassFlow, 7.559_873e-3),
            ("lb/h", Kind::MassFlow, 1.259_979e-4),
            ("cfm", Kind::VolumeFlow, 4.719_474e-4),
            ("ft3/s", Kind::VolumeFlow, 2.831_685e-2),
            ("gal/min", Kind::VolumeFlow, 6.309_020e-5),
            ("lb/ft3", Kind::Density, 1.601_846e1),
            ("lb/gal", Kind::Density, 1.198_264e2),
            ("BTU/(lb °F)", Kind::SpecificHeat, 4.1868e3),
            ("kcal/(kg °C)", Kind::SpecificHeat, 4.1868e3),
            ("BTU/(h ft °F)", Kind::Conductivity, 1.730_735),
            ("lb/(hp h)", Kind::FuelConsumption, 1.689_659e-7),
        ] {
            let found = canonical(1.0, spelling, kind);
            // Half a unit in the seventh digit, and as much for factors rounded once more.
            assert!((found / factor - 1.0).abs() < 5e-7, "{spelling}: {found} for {factor}");
        }
    }

    /// hp and PS as the case file defines them.
    #[test]
    fn horsepower_as_defined() {
        assert!((canonical(1.0, "hp", Kind::Power) / 745.699_87 - 1.0).abs() < 3e-9);
        assert_eq!(canonical(1.0, "PS", Kind::Power), 735.499);
    }

    /// Fixed points of the scales (ISO 80000-5, from memory): 0 °C = 273.15 K = 32 °F, and both
    /// scales meet at -40 degrees.
    #[test]
    fn temperatures_and_their_differences() {
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} for {b}");
        near(canonical(0.0, "degC", Kind::Temperature), 273.15);
        near(canonical(32.0, "°F", Kind::Temperature), 273.15);
        near(canonical(-40.0, "F", Kind::Temperature), canonical(-40.0, "C", Kind::Temperature));
        near(canonical(300.0, "K", Kind::Temperature), 300.0);
        near(canonical(9.0, "degF", Kind::TemperatureDifference), 5.0);
        near(canonical(9.0, "degC", Kind::TemperatureDifference), 9.0);
    }

    /// Powers of ten and of sixty of the SI (SI brochure, from memory), and rpm kept whole.
    #[test]
    fn metric_units() {
        for (spelling, kind, number, value) in [
            ("mm", Kind::Length, 262.0, 0.262),
            ("cm2", Kind::Area, 46.0, 0.0046),
            ("dm²", Kind::Area, 1.0, 0.01),
            ("mm2", Kind::Area, 1.0, 1e-6),
            ("cc", Kind::Volume, 980.0, 980e-6),
            ("dm3", Kind::Volume, 1.0, 1e-3),
            ("kph", Kind::Speed, 36.0, 10.0),
            ("1/min", Kind::RotationalSpeed, 6100.0, 6100.0),
            ("Hz", Kind::RotationalSpeed, 50.0, 3000.0),
            ("h", Kind::Time, 1.0, 3600.0),
            ("ms", Kind::Time, 5.0, 0.005),
            ("hPa", Kind::Pressure, 964.0, 96_400.0),
            ("mbar", Kind::Pressure, 964.0, 96_400.0),
            ("N/m²", Kind::Pressure, 3.0, 3.0),
            ("bar", Kind::Pressure, 1.3, 1.3e5),
            ("kg/h", Kind::MassFlow, 3600.0, 1.0),
            ("g/s", Kind::MassFlow, 250.0, 0.25),
            ("m3/h", Kind::VolumeFlow, 3600.0, 1.0),
            ("L/min", Kind::VolumeFlow, 60.0, 1e-3),
            ("g/L", Kind::Density, 1.2, 1.2),
            ("kW/K", Kind::ThermalConductance, 0.11, 110.0),
            ("W/°C", Kind::ThermalConductance, 4.0, 4.0),
            ("kJ/K", Kind::HeatCapacity, 6.0, 6000.0),
            ("J/kgK", Kind::SpecificHeat, 2100.0, 2100.0),
            ("kJ/(kg·K)", Kind::SpecificHeat, 2.1, 2100.0),
            ("W/mK", Kind::Conductivity, 160.0, 160.0),
            ("W·m⁻¹·K⁻¹", Kind::Conductivity, 160.0, 160.0),
            ("g/kWh", Kind::FuelConsumption, 360.0, 1e-7),
            ("kg/kWh", Kind::FuelConsumption, 0.36, 1e-7),
            ("%", Kind::Share, 12.0, 0.12),
        ] {
            let found = canonical(number, spelling, kind);
            assert!((found / value - 1.0).abs() < 1e-12, "{spelling}: {found} for {value}");
        }
        // One turn is 2π rad: 100 rad/s = 954.9297 rpm (by hand).
        let rpm = canonical(100.0, "rad/s", Kind::RotationalSpeed);
        assert!((rpm - 954.929_658_6).abs() < 1e-6);
    }

    #[test]
    fn spellings() {
        for (spelling, kind, written) in [
            ("sq in", Kind::Area, "in2"),
            ("sq. in.", Kind::Area, "in2"),
            ("cu in", Kind::Volume, "in3"),
            ("l", Kind::Volume, "L"),
            ("KM/H", Kind::Speed, "km/h"),
            ("rev/min", Kind::RotationalSpeed, "rpm"),
            ("min^-1", Kind::RotationalSpeed, "1/min"),
            ("C", Kind::Temperature, "degC"),
            ("°C", Kind::Temperature, "degC"),
            ("deg F", Kind::Temperature, "degF"),
            ("in H₂O", Kind::Pressure, "inH2O"),
            ("inHg", Kind::Pressure, "inHg"),
            ("PSI", Kind::Pressure, "psi"),
            ("KW", Kind::Power, "kW"),
            ("BHP", Kind::Power, "hp"),
            ("mW", Kind::Power, "mW"),
            ("MW", Kind::Power, "MW"),
            ("CFM", Kind::VolumeFlow, "cfm"),
            ("µm", Kind::Length, "um"),
            ("\"", Kind::Length, "in"),
            ("W/degC", Kind::ThermalConductance, "W/K"),
            ("lb/hp h", Kind::FuelConsumption, "lb/(hp h)"),
            ("°", Kind::Angle, "deg"),
        ] {
            assert_eq!(find(spelling, kind).map(|unit| unit.written).ok(), Some(written));
        }
    }

    #[test]
    fn what_is_refused_and_why() {
        let fault = |spelling, kind| find(spelling, kind).err();
        assert_eq!(fault("mw", Kind::Power), Some(UnitFault::Ambiguous(vec!["MW", "mW"])));
        assert_eq!(fault("mpa", Kind::Pressure), Some(UnitFault::Ambiguous(vec!["MPa", "mPa"])));
        assert_eq!(fault("km/h", Kind::Pressure), Some(UnitFault::OtherKind(vec![Kind::Speed])));
        assert_eq!(
            fault("K", Kind::Speed),
            Some(UnitFault::OtherKind(vec![Kind::Temperature, Kind::TemperatureDifference])),
        );
        assert_eq!(fault("m", Kind::Time), Some(UnitFault::OtherKind(vec![Kind::Length])));
        assert_eq!(fault("%", Kind::Ratio), Some(UnitFault::OtherKind(vec![Kind::Share])));
        let unknown = |nearest| Some(UnitFault::Unknown { nearest });
        assert_eq!(fault("psl", Kind::Pressure), unknown(Some("psi")));
        assert_eq!(fault("rmp", Kind::RotationalSpeed), unknown(Some("rpm")));
        assert_eq!(fault("km/hour", Kind::Speed), unknown(Some("km/h")));
        assert_eq!(fault("furlongs", Kind::Length), unknown(None));
    }

    #[test]
    fn tables_are_in_order() {
        for kind in Kind::ALL {
            let units = aliases(kind);
            assert_eq!(units.is_empty(), matches!(kind, Kind::Ratio | Kind::Count), "{kind:?}");
            for unit in units {
                for also in unit.also {
                    assert_eq!(normalise(also), *also, "{kind:?}");
                }
                // No spelling, exact or careless, may lead to another unit of the kind, except
                // where case is all that tells two apart: that pair is refused, above.
                for spelling in unit.spellings() {
                    let found = find(&spelling, kind).map(|found| found.written);
                    assert_eq!(found.ok(), Some(unit.written), "{kind:?} {spelling}");
                    let twins = units
                        .iter()
                        .filter(|other| other.fits_without_case(&spelling) && other.written != unit.written);
                    for twin in twins {
                        let apart = twin.written.to_lowercase() == unit.written.to_lowercase();
                        assert!(apart, "{} and {} share {spelling}", unit.written, twin.written);
                    }
                }
            }
            // What stands in a table converts by a positive factor: nothing is upside down.
            for unit in units {
                assert!(unit.to_canonical(2.0) > unit.to_canonical(1.0), "{}", unit.written);
            }
        }
    }
}
