//! Figures and lists as they are read out, on every screen and in every warning.

/// A whole number with a real minus sign.
pub fn whole(value: f64) -> String {
    fixed(value, 0)
}

/// A number with so many decimals and a real minus sign, never "−0".
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(size) if size.bytes().all(|byte| byte == b'0' || byte == b'.') => size.to_string(),
        Some(size) => format!("−{size}"),
        None => text,
    }
}

/// A temperature given in °C, in whole degrees.
pub fn celsius(value: f64) -> String {
    format!("{} °C", whole(value))
}

/// A road or air speed given in m/s, in whole kilometres an hour.
pub fn speed(m_s: f64) -> String {
    format!("{} km/h", whole(m_s * 3.6))
}

/// An area given in m², in whole square centimetres.
pub fn area(m2: f64) -> String {
    format!("{} cm²", whole(m2 * 1e4))
}

/// An area given in m², below 100 cm² to a tenth.
pub fn small_area(m2: f64) -> String {
    let square_centimetres = m2 * 1e4;
    if square_centimetres >= 99.95 { area(m2) } else { format!("{} cm²", fixed(square_centimetres, 1)) }
}

/// A power given in W, from 1 kW up in kilowatts to a tenth.
pub fn power(watts: f64) -> String {
    if watts.abs() >= 1000.0 {
        format!("{} kW", fixed(watts / 1e3, 1))
    } else {
        format!("{} W", whole(watts))
    }
}

/// A share in whole per cent.
pub fn share(value: f64) -> String {
    if value > 0.0 && value < 0.005 { "< 1 %".to_string() } else { format!("{} %", whole(value * 100.0)) }
}

/// A share in per cent, to a tenth where it has one.
pub fn close_share(value: f64) -> String {
    let percent = (value * 1000.0).round() / 10.0;
    format!("{} %", fixed(percent, usize::from(percent.fract() != 0.0)))
}

/// A sentence begins with a capital letter.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// "1 part", "3 parts".
pub fn count(number: usize, one: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {one}s") }
}

/// A list as in a sentence: "a", "a and b", "a, b and c".
pub fn in_a_row<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_string(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_short() {
        assert_eq!(celsius(85.6), "86 °C");
        assert_eq!(celsius(-0.3), "0 °C");
        assert_eq!(celsius(-5.0), "−5 °C");
        assert_eq!(speed(12.0), "43 km/h");
        assert_eq!(area(0.01283), "128 cm²");
        assert_eq!(small_area(0.00412), "41.2 cm²");
        assert_eq!(power(4120.0), "4.1 kW");
        assert_eq!(power(640.0), "640 W");
        assert_eq!(close_share(0.136), "13.6 %");
        assert_eq!(close_share(0.17), "17 %");
        assert_eq!(share(0.003), "< 1 %");
        assert_eq!(count(1, "passage"), "1 passage");
        assert_eq!(count(2, "passage"), "2 passages");
        assert_eq!(in_a_row(&["a", "b", "c"]), "a, b and c");
    }
}
