//! Every unit that is read, by kind of quantity.
//!
//! A unit stands as it is best written, with other spellings after it in normal form (see
//! [`super::normalise`]: no spaces, no brackets, `deg` for `°`). Capitals are not listed apart:
//! a spelling that fits nothing exactly is tried without regard to case. Two units of a kind may
//! therefore differ by case alone only where both are listed (`mW` and `MW`): of such a pair a
//! careless spelling is refused, where one alone would be taken for the other, a thousand million
//! times too big.

use super::Unit;
use crate::keys::kind::Kind;
use uom::si::f64::{
    Angle, Area, HeatCapacity, Length, Mass, MassDensity, MassPerEnergy, MassRate, Power, Pressure,
    SpecificHeatCapacity, TemperatureInterval, ThermalConductance, ThermalConductivity,
    ThermodynamicTemperature, Time, Velocity, Volume, VolumeRate,
};
use uom::si::{
    angle, area, heat_capacity, length, mass, mass_density, mass_per_energy, mass_rate, power, pressure,
    specific_heat_capacity, temperature_interval, thermal_conductance, thermal_conductivity,
    thermodynamic_temperature, time, velocity, volume, volume_rate,
};

/// Horsepower, W: 550 ft lbf/s, 745.69987 W.
const HORSEPOWER: f64 = 550.0 * FOOT * POUND_FORCE;
/// Metric horsepower (PS, ch, CV), W: 75 kgf m/s.
const METRIC_HORSEPOWER: f64 = 735.499;
/// British thermal unit (international table), J. Source: NIST SP 811, app. B, from memory.
const BTU: f64 = 1_055.055_852_62;
/// Calorie (international table), J: exact. Source: NIST SP 811, app. B, from memory.
const CALORIE: f64 = 4.186_8;
/// Pound, kg: exact. Source: international yard and pound agreement (1959), from memory.
const POUND: f64 = 0.453_592_37;
/// Foot, m: exact. Source: as the pound.
const FOOT: f64 = 0.304_8;
/// Inch, m: exact. Source: as the pound.
const INCH: f64 = FOOT / 12.0;
/// Pound-force, N: exact, by the standard acceleration of free fall. Source: ISO 80000-3 and -4, from memory.
const POUND_FORCE: f64 = POUND * 9.806_65;
/// Kelvins in a degree Fahrenheit of difference.
const FAHRENHEIT: f64 = 5.0 / 9.0;
/// Kilowatt hour, J.
const KILOWATT_HOUR: f64 = 3.6e6;

/// Conversion by the units library: the value in its base unit, which is the canonical one.
macro_rules! by {
    ($quantity:ident, $unit:path) => {
        |value| $quantity::new::<$unit>(value).value
    };
}

const fn unit(written: &'static str, also: &'static [&'static str], to_canonical: fn(f64) -> f64) -> Unit {
    Unit { written, also, to_canonical }
}

/// The units of a kind of quantity.
pub(super) fn of(kind: Kind) -> &'static [Unit] {
    match kind {
        Kind::Ratio | Kind::Count => &[],
        Kind::Share => SHARE,
        Kind::Length => LENGTH,
        Kind::Area => AREA,
        Kind::Volume => VOLUME,
        Kind::Angle => ANGLE,
        Kind::Speed => SPEED,
        Kind::RotationalSpeed => ROTATIONAL_SPEED,
        Kind::Time => TIME,
        Kind::Mass => MASS,
        Kind::Temperature => TEMPERATURE,
        Kind::TemperatureDifference => TEMPERATURE_DIFFERENCE,
        Kind::Pressure => PRESSURE,
        Kind::Power => POWER,
        Kind::MassFlow => MASS_FLOW,
        Kind::VolumeFlow => VOLUME_FLOW,
        Kind::Density => DENSITY,
        Kind::ThermalConductance => THERMAL_CONDUCTANCE,
        Kind::HeatCapacity => HEAT_CAPACITY,
        Kind::SpecificHeat => SPECIFIC_HEAT,
        Kind::Conductivity => CONDUCTIVITY,
        Kind::FuelConsumption => FUEL_CONSUMPTION,
    }
}

static SHARE: &[Unit] = &[unit("%", &["percent", "pct"], |v| v / 100.0)];

static LENGTH: &[Unit] = &[
    unit("mm", &["millimetre", "millimeter"], by!(Length, length::millimeter)),
    unit("cm", &["centimetre", "centimeter"], by!(Length, length::centimeter)),
    unit("dm", &[], by!(Length, length::decimeter)),
    unit("m", &["metre", "meter"], by!(Length, length::meter)),
    unit("km", &[], by!(Length, length::kilometer)),
    unit("um", &["micron"], by!(Length, length::micrometer)),
    unit("in", &["inch", "inches", "\"", "″"], by!(Length, length::inch)),
    unit("ft", &["foot", "feet", "'", "′"], by!(Length, length::foot)),
    unit("yd", &["yard"], by!(Length, length::yard)),
    unit("thou", &[], |v| v * 25.4e-6),
];

static AREA: &[Unit] = &[
    unit("mm2", &["sqmm"], by!(Area, area::square_millimeter)),
    unit("cm2", &["sqcm"], by!(Area, area::square_centimeter)),
    unit("dm2", &[], by!(Area, area::square_decimeter)),
    unit("m2", &["sqm"], by!(Area, area::square_meter)),
    unit("in2", &["sqin", "squareinch", "squareinches"], by!(Area, area::square_inch)),
    unit("ft2", &["sqft", "squarefoot", "squarefeet"], by!(Area, area::square_foot)),
];

static VOLUME: &[Unit] = &[
    unit("mm3", &[], by!(Volume, volume::cubic_millimeter)),
    unit("cm3", &["cc", "ccm"], by!(Volume, volume::cubic_centimeter)),
    unit("mL", &[], by!(Volume, volume::milliliter)),
    unit("dm3", &[], by!(Volume, volume::cubic_decimeter)),
    unit("L", &["litre", "litres", "liter", "liters"], by!(Volume, volume::liter)),
    unit("m3", &[], by!(Volume, volume::cubic_meter)),
    unit("in3", &["cuin", "ci", "cid"], |v| v * INCH * INCH * INCH),
    unit("ft3", &["cuft"], |v| v * FOOT * FOOT * FOOT),
];

static ANGLE: &[Unit] = &[
    unit("deg", &["degree", "degrees"], by!(Angle, angle::degree)),
    unit("rad", &["radian", "radians"], by!(Angle, angle::radian)),
    unit("mrad", &[], |v| v / 1e3),
    unit("gon", &[], by!(Angle, angle::gon)),
];

static SPEED: &[Unit] = &[
    unit("km/h", &["kph", "kmh", "km/hr"], by!(Velocity, velocity::kilometer_per_hour)),
    unit("mph", &["mi/h"], by!(Velocity, velocity::mile_per_hour)),
    unit("m/s", &["mps"], by!(Velocity, velocity::meter_per_second)),
    unit("m/min", &[], |v| v / 60.0),
    unit("ft/s", &["fps"], by!(Velocity, velocity::foot_per_second)),
    unit("ft/min", &["fpm"], by!(Velocity, velocity::foot_per_minute)),
    unit("kn", &["kt", "kts", "knot", "knots"], by!(Velocity, velocity::knot)),
];

// The canonical unit is not the library's rad/s: a detour through it would cost exact whole rpm.
static ROTATIONAL_SPEED: &[Unit] = &[
    unit("rpm", &["rev/min", "r/min", "u/min"], |v| v),
    unit("1/min", &["/min", "min-1"], |v| v),
    unit("Hz", &["1/s", "s-1", "rev/s", "r/s", "rps"], |v| v * 60.0),
    unit("rad/s", &[], |v| v * 60.0 / (2.0 * std::f64::consts::PI)),
];

static TIME: &[Unit] = &[
    unit("s", &["sec", "second", "seconds"], by!(Time, time::second)),
    unit("min", &["minute", "minutes"], by!(Time, time::minute)),
    unit("h", &["hr", "hour", "hours"], by!(Time, time::hour)),
    unit("ms", &[], by!(Time, time::millisecond)),
];

static MASS: &[Unit] = &[
    unit("kg", &["kilogram"], by!(Mass, mass::kilogram)),
    unit("g", &["gram"], by!(Mass, mass::gram)),
    unit("t", &["tonne"], by!(Mass, mass::ton)),
    unit("lb", &["lbs", "lbm", "pound", "pounds"], |v| v * POUND),
    unit("oz", &["ounce", "ounces"], |v| v * POUND / 16.0),
];

static TEMPERATURE: &[Unit] = &[
    unit(
        "degC",
        &["c", "celsius", "degreec", "degcelsius"],
        by!(ThermodynamicTemperature, thermodynamic_temperature::degree_celsius),
    ),
    unit(
        "degF",
        &["f", "fahrenheit", "degreef", "degfahrenheit"],
        by!(ThermodynamicTemperature, thermodynamic_temperature::degree_fahrenheit),
    ),
    unit("K", &["kelvin"], by!(ThermodynamicTemperature, thermodynamic_temperature::kelvin)),
];

static TEMPERATURE_DIFFERENCE: &[Unit] = &[
    unit("K", &["kelvin"], by!(TemperatureInterval, temperature_interval::kelvin)),
    unit(
        "degC",
        &["c", "celsius", "degreec", "degcelsius"],
        by!(TemperatureInterval, temperature_interval::degree_celsius),
    ),
    unit(
        "degF",
        &["f", "fahrenheit", "degreef", "degfahrenheit"],
        by!(TemperatureInterval, temperature_interval::degree_fahrenheit),
    ),
];

// Columns of liquid: the conventional ones (water of 1000 kg/m³, mercury of 13 595.1 kg/m³, standard
// gravity), as gauges are marked. Water at 4 °C proper would be 0.003 % less.
static PRESSURE: &[Unit] = &[
    unit("Pa", &["pascal"], by!(Pressure, pressure::pascal)),
    unit("hPa", &[], by!(Pressure, pressure::hectopascal)),
    unit("kPa", &[], by!(Pressure, pressure::kilopascal)),
    unit("MPa", &["n/mm2"], by!(Pressure, pressure::megapascal)),
    unit("mPa", &[], by!(Pressure, pressure::millipascal)),
    unit("N/m2", &[], by!(Pressure, pressure::pascal)),
    unit("bar", &[], by!(Pressure, pressure::bar)),
    unit("mbar", &[], by!(Pressure, pressure::millibar)),
    unit("psi", &["lbf/in2", "lb/in2", "psia"], |v| v * POUND_FORCE / (INCH * INCH)),
    unit("psf", &["lbf/ft2", "lb/ft2"], |v| v * POUND_FORCE / (FOOT * FOOT)),
    unit("inH2O", &["inwc", "inwg"], |v| v * 9_806.65 * INCH),
    unit("mmH2O", &["mmwc", "mmwg", "mmws"], by!(Pressure, pressure::millimeter_of_water)),
    unit("cmH2O", &["cmwc", "cmwg", "cmws"], by!(Pressure, pressure::centimeter_of_water)),
    unit("inHg", &[], by!(Pressure, pressure::inch_of_mercury)),
    unit("mmHg", &["torr"], by!(Pressure, pressure::millimeter_of_mercury)),
    unit("atm", &[], by!(Pressure, pressure::atmosphere)),
];

static POWER: &[Unit] = &[
    unit("W", &["watt", "watts", "j/s"], by!(Power, power::watt)),
    unit("kW", &["kj/s"], by!(Power, power::kilowatt)),
    unit("MW", &[], by!(Power, power::megawatt)),
    unit("mW", &[], by!(Power, power::milliwatt)),
    unit("hp", &["bhp", "horsepower"], |v| v * HORSEPOWER),
    unit("PS", &["ch", "cv", "pk"], |v| v * METRIC_HORSEPOWER),
    unit("BTU/h", &["btu/hr"], |v| v * BTU / 3600.0),
    unit("BTU/min", &[], |v| v * BTU / 60.0),
    unit("kcal/h", &[], |v| v * CALORIE / 3.6),
];

static MASS_FLOW: &[Unit] = &[
    unit("kg/s", &["kgs-1"], by!(MassRate, mass_rate::kilogram_per_second)),
    unit("kg/min", &[], by!(MassRate, mass_rate::kilogram_per_minute)),
    unit("kg/h", &["kg/hr"], by!(MassRate, mass_rate::kilogram_per_hour)),
    unit("g/s", &["gs-1"], by!(MassRate, mass_rate::gram_per_second)),
    unit("g/min", &[], by!(MassRate, mass_rate::gram_per_minute)),
    unit("lb/s", &["lbs/s", "lbm/s"], |v| v * POUND),
    unit("lb/min", &["lbs/min", "lbm/min"], |v| v * POUND / 60.0),
    unit("lb/h", &["lbs/h", "lb/hr", "lbs/hr", "lbm/h", "lbm/hr", "pph"], |v| v * POUND / 3600.0),
];

static VOLUME_FLOW: &[Unit] = &[
    unit("m3/s", &["m3s-1"], by!(VolumeRate, volume_rate::cubic_meter_per_second)),
    unit("m3/min", &[], by!(VolumeRate, volume_rate::cubic_meter_per_minute)),
    unit("m3/h", &["m3/hr"], by!(VolumeRate, volume_rate::cubic_meter_per_hour)),
    unit("L/s", &["dm3/s", "litre/s"], by!(VolumeRate, volume_rate::liter_per_second)),
    unit("L/min", &["lpm", "dm3/min", "litre/min"], by!(VolumeRate, volume_rate::liter_per_minute)),
    unit("L/h", &["dm3/h"], |v| v / 3.6e6),
    unit("cm3/s", &["cc/s"], by!(VolumeRate, volume_rate::milliliter_per_second)),
    unit("cm3/min", &["cc/min"], |v| v / 6e7),
    unit("cfm", &["ft3/min", "cuft/min"], |v| v * FOOT * FOOT * FOOT / 60.0),
    unit("ft3/s", &["cfs", "cuft/s"], |v| v * FOOT * FOOT * FOOT),
    unit("gal/min", &["gpm", "usgal/min", "usgpm"], by!(VolumeRate, volume_rate::gallon_per_minute)),
    unit("impgal/min", &["impgpm", "ukgal/min"], |v| v * 4.546_09e-3 / 60.0),
];

static DENSITY: &[Unit] = &[
    unit("kg/m3", &["kgm-3"], by!(MassDensity, mass_density::kilogram_per_cubic_meter)),
    unit("g/L", &[], by!(MassDensity, mass_density::kilogram_per_cubic_meter)),
    unit("g/m3", &[], by!(MassDensity, mass_density::gram_per_cubic_meter)),
    unit("g/cm3", &["g/cc"], by!(MassDensity, mass_density::gram_per_cubic_centimeter)),
    unit("kg/L", &["kg/dm3"], by!(MassDensity, mass_density::gram_per_cubic_centimeter)),
    unit("lb/ft3", &["lb/cuft"], |v| v * POUND / (FOOT * FOOT * FOOT)),
    unit("lb/gal", &["lb/usgal"], by!(MassDensity, mass_density::pound_per_gallon)),
];

static THERMAL_CONDUCTANCE: &[Unit] = &[
    unit("W/K", &["w/degc", "w/c", "wk-1"], by!(ThermalConductance, thermal_conductance::watt_per_kelvin)),
    unit("kW/K", &["kw/degc", "kw/c"], by!(ThermalConductance, thermal_conductance::kilowatt_per_kelvin)),
    unit(
        "BTU/(h degF)",
        &["btu/hrdegf", "btu/hf", "btu/hrf", "btu/h/degf", "btu/hr/degf", "btu/h/f", "btu/hr/f"],
        |v| v * BTU / (3600.0 * FAHRENHEIT),
    ),
];

static HEAT_CAPACITY: &[Unit] = &[
    unit("J/K", &["j/degc", "j/c", "jk-1", "ws/k"], by!(HeatCapacity, heat_capacity::joule_per_kelvin)),
    unit("kJ/K", &["kj/degc", "kj/c", "kws/k"], by!(HeatCapacity, heat_capacity::kilojoule_per_kelvin)),
    unit("Wh/K", &["wh/degc", "wh/c"], |v| v * 3600.0),
    unit("kcal/K", &["kcal/degc", "kcal/c"], |v| v * CALORIE * 1e3),
    unit("BTU/degF", &["btu/f"], |v| v * BTU / FAHRENHEIT),
];

static SPECIFIC_HEAT: &[Unit] = &[
    unit(
        "J/(kg K)",
        &["j/kg/k", "j/kgdegc", "j/kgc", "j/kg/degc", "jkg-1k-1"],
        by!(SpecificHeatCapacity, specific_heat_capacity::joule_per_kilogram_kelvin),
    ),
    unit(
        "kJ/(kg K)",
        &["kj/kg/k", "kj/kgdegc", "kj/kgc", "kj/kg/degc", "kjkg-1k-1"],
        by!(SpecificHeatCapacity, specific_heat_capacity::kilojoule_per_kilogram_kelvin),
    ),
    unit("J/(g K)", &["j/g/k", "j/gdegc", "j/gc"], |v| v * 1e3),
    unit("kcal/(kg K)", &["kcal/kgdegc", "kcal/kgc", "cal/gk", "cal/gdegc", "cal/gc"], |v| v * CALORIE * 1e3),
    unit("BTU/(lb degF)", &["btu/lbf", "btu/lb/degf", "btu/lb/f"], |v| v * BTU / (POUND * FAHRENHEIT)),
];

static CONDUCTIVITY: &[Unit] = &[
    unit(
        "W/(m K)",
        &["w/m/k", "w/mdegc", "w/mc", "w/m/degc", "wm-1k-1"],
        by!(ThermalConductivity, thermal_conductivity::watt_per_meter_kelvin),
    ),
    unit("W/(cm K)", &["w/cm/k", "w/cmdegc", "w/cmc"], |v| v * 100.0),
    unit("kcal/(h m K)", &["kcal/hmdegc", "kcal/hmc", "kcal/mhk", "kcal/mhdegc"], |v| v * CALORIE / 3.6),
    unit("BTU/(h ft degF)", &["btu/hrftdegf", "btu/hftf", "btu/hrftf", "btu/fthdegf", "btu/fthrdegf"], |v| {
        v * BTU / (3600.0 * FOOT * FAHRENHEIT)
    }),
];

static FUEL_CONSUMPTION: &[Unit] = &[
    unit("g/kWh", &["g/kw/h", "g/kwhr"], by!(MassPerEnergy, mass_per_energy::gram_per_kilowatt_hour)),
    unit("kg/kWh", &[], by!(MassPerEnergy, mass_per_energy::kilogram_per_kilowatt_hour)),
    unit("lb/kWh", &[], |v| v * POUND / KILOWATT_HOUR),
    unit("lb/(hp h)", &["lb/hphr", "lb/bhph", "lb/bhphr", "lb/hp/h", "lb/hp/hr", "lbs/hph"], |v| {
        v * POUND / (HORSEPOWER * 3600.0)
    }),
    unit("g/(hp h)", &["g/hphr", "g/bhph"], |v| v / (HORSEPOWER * 3.6e6)),
    unit("g/(PS h)", &["g/pshr", "g/chh", "g/cvh"], |v| v / (METRIC_HORSEPOWER * 3.6e6)),
    unit("g/MJ", &[], |v| v * 1e-9),
    unit("kg/J", &[], by!(MassPerEnergy, mass_per_energy::kilogram_per_joule)),
];
