//! Taking the text of a number apart.

/// How a spread is marked.
#[derive(Clone, Copy)]
pub(super) enum SpreadMark {
    /// ± and its substitutes.
    PlusMinus,
    /// Two points between two ends.
    Range,
}

/// A number and the text of its unit.
pub(super) type NumberWithUnit<'a> = (f64, &'a str);

/// The mark of a spread and what stands on either side of it.
pub(super) fn split_spread(text: &str) -> Option<(SpreadMark, &str, &str)> {
    let marks = [
        ("±", SpreadMark::PlusMinus),
        ("+/-", SpreadMark::PlusMinus),
        ("+-", SpreadMark::PlusMinus),
        ("..", SpreadMark::Range),
    ];
    marks.into_iter().find_map(|(sign, mark)| {
        let (left, right) = text.split_once(sign)?;
        Some((mark, left.trim(), right.trim()))
    })
}

/// The number at the beginning of a text, and the rest of it, which should be a unit.
pub(super) fn split_number(text: &str) -> Option<NumberWithUnit<'_>> {
    let text = text.trim();
    let mut rest = text;
    let mut digits = String::new();
    sign(&mut rest, &mut digits);
    let before = run_of_digits(&mut rest, &mut digits);
    let mut after = 0;
    if let Some(fraction) = rest.strip_prefix('.') {
        rest = fraction;
        digits.push('.');
        after = run_of_digits(&mut rest, &mut digits);
    }
    if before + after == 0 {
        return None;
    }
    // An exponent, if digits follow: else the e is the beginning of a unit.
    if let Some(mut power) = rest.strip_prefix(['e', 'E']) {
        let mut exponent = String::from("e");
        sign(&mut power, &mut exponent);
        if run_of_digits(&mut power, &mut exponent) > 0 {
            digits.push_str(&exponent);
            rest = power;
        }
    }
    digits.parse().ok().map(|number| (number, rest.trim()))
}

fn sign(rest: &mut &str, digits: &mut String) {
    if let Some(after) = rest.strip_prefix('+') {
        *rest = after;
    } else if let Some(after) = rest.strip_prefix(['-', '−']) {
        *rest = after;
        digits.push('-');
    }
}

fn run_of_digits(rest: &mut &str, digits: &mut String) -> usize {
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    digits.push_str(&rest[..end]);
    *rest = &rest[end..];
    end
}
