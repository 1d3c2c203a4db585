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
        assert_eq!(count(1, "passage"), "1 passage");
        assert_eq!(count(2, "passage"), "2 passages");
        assert_eq!(in_a_row(&["a", "b", "c"]), "a, b and c");
    }
}
