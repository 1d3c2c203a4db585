//! Figures as they are read out: whole kelvins, whole square centimetres, few digits.

pub(super) use crate::keys::figures::celsius;
pub(crate) use crate::keys::figures::{count, speed};
use crate::point::result::STILL;

/// A name in a list of names: in quotes where it holds a comma.
pub(crate) fn name(name: &str) -> String {
    if name.contains(',') { format!("{name:?}") } else { name.to_string() }
}

/// Names in a list.
pub(super) fn names<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.map(name).collect::<Vec<_>>().join(", ")
}

/// A mass flow, without its sign.
pub(super) fn mass_flow(value: f64) -> String {
    let size = value.abs();
    if size < STILL {
        return "no air".to_string();
    }
    if size >= 0.01 { format!("{size:.3} kg/s") } else { format!("{:.2} g/s", size * 1e3) }
}

/// An area given in m².
pub(super) fn area(value: f64) -> String {
    let square_centimetres = value * 1e4;
    if square_centimetres >= 99.95 {
        format!("{square_centimetres:.0} cm²")
    } else {
        format!("{square_centimetres:.1} cm²")
    }
}

/// A power given in W.
pub(crate) fn power(value: f64) -> String {
    if value.abs() >= 1000.0 { format!("{:.1} kW", value / 1e3) } else { format!("{value:.0} W") }
}

/// A share, in per cent.
pub(super) fn share(value: f64) -> String {
    let percent = (value * 1000.0).round() / 10.0;
    if percent.fract() == 0.0 { format!("{percent:.0} %") } else { format!("{percent:.1} %") }
}

/// How many alike, as written in front of the figure of one: nothing for one alone.
pub(super) fn pieces(number: f64) -> String {
    if number.fract() == 0.0 { format!("{number:.0}") } else { format!("{number}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_short() {
        assert_eq!(names(["gate, wet", "queue"].into_iter()), "\"gate, wet\", queue");
        assert_eq!(mass_flow(0.0), "no air");
        assert_eq!(mass_flow(-0.0342), "0.034 kg/s");
        assert_eq!(mass_flow(0.0034), "3.40 g/s");
        assert_eq!(area(0.01283), "128 cm²");
        assert_eq!(area(0.00412), "41.2 cm²");
        assert_eq!(power(4120.0), "4.1 kW");
        assert_eq!(power(640.0), "640 W");
        assert_eq!(share(0.136), "13.6 %");
        assert_eq!(share(0.17), "17 %");
        assert_eq!(pieces(2.0), "2");
    }
}
