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
        assert_eq!(pieces(2.0), "2");
    }
}
