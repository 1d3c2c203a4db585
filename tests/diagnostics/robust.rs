//! Whatever stands in the file, the answer is a case or a list of faults with a way out of each.

use crate::diagnostics::support::{BASE, faults, faults_with, plain, set, sole};
use proptest::prelude::*;
use slowcorner::case::{Diagnostic, FaultPlace};

/// Every fault has a code, words, a way out and a place within the text, and can be shown.
fn sensible(found: &[Diagnostic], text: &str) {
    for fault in found {
        assert!(!fault.code.is_empty() && !fault.message.is_empty(), "{fault:?}");
        assert!(!fault.what_to_do.is_empty(), "{} has no way out: {}", fault.code, fault.message);
        if let FaultPlace::Span(span) = &fault.place {
            assert!(span.start <= span.end && span.end <= text.len(), "{fault:?}");
        }
    }
    let shown = plain(found, text);
    assert!(shown.matches("What to do: ").count() >= found.len(), "{shown}");
}

#[test]
fn files_that_are_none() {
    for text in ["", "\n", "  \n\t\n", "\u{feff}"] {
        let found = faults(text);
        assert_eq!(found.len(), 1, "{text:?}: {}", plain(&found, text));
        sensible(&found, text);
    }
    assert_eq!(sole("").code, "case-empty");
    for text in [
        "\u{0}",
        "\u{7f}ELF\u{2}\u{1}\u{1}\u{0}\u{0}",
        "PK\u{3}\u{4}\u{14}\u{0}\u{8}",
        "%PDF-1.7\n%âãÏÓ\n1 0 obj\n",
        "<html><body>",
        "{ \"format\": 1 }",
        "speed;rpm;load\n1;2;3\n",
        "format = 1\u{0}",
        "= 1",
        "[",
        "[[",
        "\"",
        "format = ",
        "format = 1\nformat = 1",
    ] {
        let found = faults(text);
        assert!(!found.is_empty(), "{text:?} was read");
        sensible(&found, text);
    }
    let endless = "x".repeat(1 << 20);
    sensible(&faults(&endless), &endless);
    let deep = format!("a = {}", "[".repeat(100_000));
    sensible(&faults(&deep), &deep);
    let wide = format!("format = 1\nx = [{}]", "1,".repeat(100_000));
    sensible(&faults(&wide), &wide);
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_make_no_difference() {
    let text = BASE.replace('\n', "\r\n");
    assert_eq!(plain(&faults(&text), &text), "");
    let text = format!("\u{feff}{BASE}");
    assert_eq!(plain(&faults(&text), &text), "");
    let text = text.replace("recovery = 0.85", "recovery = 85").replace('\n', "\r\n");
    assert!(
        plain(&faults(&text), &text).contains("car.toml, line 85, column 53\n"),
        "{}",
        plain(&faults(&text), &text)
    );
}

#[test]
fn a_file_cut_off_anywhere() {
    for end in (0..BASE.len()).step_by(37).filter(|end| BASE.is_char_boundary(*end)) {
        let text = &BASE[..end];
        sensible(&faults(text), text);
    }
}

#[test]
fn a_file_without_one_of_its_lines() {
    let lines: Vec<&str> = BASE.lines().collect();
    for gone in 0..lines.len() {
        let text: String = lines
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != gone)
            .map(|(_, line)| format!("{line}\n"))
            .collect();
        sensible(&faults(&text), &text);
    }
}

#[test]
fn every_number_may_be_set_to_what_it_is() {
    let case = set(&[]).case;
    for fact in case.numbers.facts().iter().filter(|fact| fact.address != "format") {
        // what a layout's passage holds is addressed through the layout
        if fact.address.starts_with("layout/") {
            continue;
        }
        let text = fact.kind.show(fact.value);
        let again = set(&[(&fact.address, &text)]).case;
        let id = again.numbers.find(&fact.address).unwrap_or_else(|| panic!("no number at {}", fact.address));
        let (found, wanted) = (again.numbers.value(id), fact.value);
        assert!((found - wanted).abs() <= 1e-5 * wanted.abs().max(1e-3), "{}: {found}", fact.address);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn bytes_turned_over(flips in prop::collection::vec((0..BASE.len(), any::<u8>()), 1..6), end in 0..2 * BASE.len()) {
        let mut bytes = BASE.as_bytes().to_vec();
        for (at, byte) in flips {
            bytes[at] = byte;
        }
        bytes.truncate(end);
        let text = String::from_utf8_lossy(&bytes);
        sensible(&faults(&text), &text);
    }

    #[test]
    fn lines_in_another_order(a in 0..BASE.lines().count(), b in 0..BASE.lines().count()) {
        let mut lines: Vec<&str> = BASE.lines().collect();
        lines.swap(a, b);
        let text = lines.join("\n");
        sensible(&faults(&text), &text);
    }

    #[test]
    fn any_value_in_the_place_of_another(at in 0..BASE.matches(" = ").count(), value in prop::sample::select(vec![
        "0", "-1", "1e308", "nan", "inf", "-inf", "\"\"", "\"x\"", "true", "[]", "[[]]", "{}", "[{}]", "\"0 m\"",
        "\"-5 cm2\"", "\"1..0\"", "\"± 3\"", "2024-05-01", "\"outside\"", "\"engine\"", "[1, \"a\", {}]",
        "{ kind = \"fan\" }", "\"\\u0000\"", "99999999999999999999",
    ])) {
        // the text behind the sign, to the next comma, brace or line end
        let begin = BASE.match_indices(" = ").nth(at).map_or(0, |(at, _)| at + 3);
        let end = BASE[begin..].find([',', '}', '\n']).map_or(BASE.len(), |length| begin + length);
        let text = format!("{}{value} {}", &BASE[..begin], &BASE[end..]);
        sensible(&faults(&text), &text);
    }

    #[test]
    fn any_address_and_any_text(
        segments in prop::collection::vec(prop::sample::select(vec![
            "part", "heads", "passage", "oil cooler", "core", "bend 2", "scoop", "element", "condition", "hairpin",
            "day", "engine", "power", "heat", "drive", "gears", "1", "0", "-1", "99999999999999999999", "size",
            "free", "margin", "", " ", "title", "stint", "queue and climb", "step", "layout", "one exit", "set",
            "chamber", "bay", "place", "tail left", "speed", "limit", "\u{0}", "é",
        ]), 0..6),
        text in prop_oneof![
            "\\PC{0,12}",
            prop::sample::select(vec!["3", "-3 cm2", "true", "[]", "{}", "[[]]", "{ a = 1 }", "[1, 2]", "nan", "40 km/h", "\"a\"", "[", "# x"])
                .prop_map(str::to_string),
        ],
    ) {
        let address = segments.join("/");
        sensible(&faults_with(BASE, &[(&address, &text)]), BASE);
    }
}
