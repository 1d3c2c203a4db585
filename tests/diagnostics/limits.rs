//! Names and texts of bounded length, and characters that nobody sees.

use crate::diagnostics::schema::disagreement;
use crate::diagnostics::support::{BASE, edit, edited, faults, faults_with, hold, plain, sole, underlined};
use slowcorner::case::limits::{LONGEST_NAME, LONGEST_TEXT};

#[test]
fn characters_that_nobody_sees() {
    hold(
        "characters_that_nobody_sees",
        &[
            edit(
                "revision = \"body state 3\"",
                "revision = \"ba\u{9b}31mse\"",
                "hidden-character",
                "\"ba\u{9b}31mse\"",
                "character 3 of this text is one that nobody sees: U+009B",
            ),
            edit(
                "revision = \"body state 3\"",
                "revision = \"base\\u001B[2J\"",
                "hidden-character",
                "\"base\\u001B[2J\"",
                "U+001B, a control character",
            ),
            edit(
                "revision = \"body state 3\"",
                "revision = \"\u{202e}esab\"",
                "hidden-character",
                "\"\u{202e}esab\"",
                "U+202E, which turns the direction of writing",
            ),
            edit(
                "",
                "[[condition]]\nname = \"two\\nlines\"\nspeed = \"9 km/h\"\ngear = 1",
                "hidden-character",
                "\"two\\nlines\"",
                "character 4 of this name",
            ),
            edit(
                "",
                "[[condition]]\nname = \"hair\u{200b}pin\"\nspeed = \"9 km/h\"\ngear = 1",
                "hidden-character",
                "\"hair\u{200b}pin\"",
                "U+200B, which takes no room",
            ),
            edit(
                "",
                "[place.\"le\u{200f}ft\"]\nrecovery = 0.9",
                "hidden-character",
                "\"le\u{200f}ft\"",
                "character 3 of this key",
            ),
        ],
    );
    // line ends and tabs of a text are seen; so are letters that are written from the right
    for text in [
        "revision = \"\"\"two\r\nlines\tand a tab\"\"\"",
        "revision = \"מנוע ومحرك\"",
        "revision = \"👩\u{200d}🔧 排気\"",
    ] {
        let text = edited("revision = \"body state 3\"", text);
        assert_eq!(plain(&faults(&text), &text), "");
    }
}

#[test]
fn the_longest_name_and_text_are_read_and_longer_ones_are_not() {
    let condition = |length: usize| {
        format!("{BASE}\n[[condition]]\nname = \"{}\"\nspeed = \"9 km/h\"\ngear = 1\n", "é".repeat(length))
    };
    let place = |length: usize| format!("{BASE}\n[place.{}]\nrecovery = 0.9\n", "x".repeat(length));
    let title = |length: usize| {
        edited("revision = \"body state 3\"", &format!("revision = \"{}\"", "ü".repeat(length)))
    };
    type Text<'t> = &'t dyn Fn(usize) -> String;
    let kinds: [(Text, usize, &str); 3] = [
        (&condition, LONGEST_NAME, "name-too-long"),
        (&place, LONGEST_NAME, "name-too-long"),
        (&title, LONGEST_TEXT, "text-too-long"),
    ];
    for (text, longest, code) in kinds {
        let longest_text = text(longest);
        assert_eq!(plain(&faults(&longest_text), &longest_text), "");
        let longer = text(longest + 1);
        let fault = sole(&longer);
        assert_eq!(fault.code, code);
        assert!(
            fault.message.contains(&format!("of {} characters; at most {longest}", longest + 1)),
            "{}",
            fault.message
        );
        assert!(!underlined(&fault, &longer).is_empty());
        assert_eq!(disagreement(&longer, &[code]), None);
    }
}

#[test]
fn names_and_texts_without_end_are_told_in_short() {
    let endless = "x".repeat(500_000);
    let chamber =
        edited("name = \"heads\"\nfrom = \"plenum\"", &format!("name = \"heads\"\nfrom = \"{endless}\""));
    let key = format!("{BASE}\n[part.heads.{endless}]\n");
    for text in [chamber, key] {
        let found = faults(&text);
        assert!(found.iter().any(|fault| fault.code == "name-too-long"), "{}", plain(&found, &text));
        let shown = plain(&found, &text);
        assert!(shown.chars().count() < 10_000, "{} characters are shown", shown.chars().count());
    }
    let found = faults_with(BASE, &[("revision", &endless)]);
    assert_eq!(found.iter().map(|fault| fault.code).collect::<Vec<_>>(), ["text-too-long"]);
    assert!(plain(&found, BASE).len() < 2000);
    let found = faults_with(BASE, &[("revision", "a\u{7}b")]);
    assert_eq!(found.iter().map(|fault| fault.code).collect::<Vec<_>>(), ["hidden-character"]);
}
