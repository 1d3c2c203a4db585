//! Words that results are made of are enums (`keys::word`): each stands once, and a new one is seen by every match.

/// Fields that may be text all the same: sentences, names out of tables, codes.
const TEXTS: &[&str] = &[
    "also",
    "code",
    "examples",
    "figure",
    "fluid",
    "heading",
    "help",
    "holds",
    "how",
    "instrument",
    "jumped",
    "key",
    "kind",
    "measure",
    "name",
    "ranges",
    "source",
    "summary",
    "taken",
    "takes",
    "takes_Pa",
    "unit",
    "version",
    "what",
    "word",
];

/// Fields of fixed text in what is written as JSON: structure, field.
fn of_results(code: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for piece in code.split("#[derive(").skip(1) {
        let Some((derived, rest)) = piece.split_once(")]") else { continue };
        let Some((head, body)) = rest.split_once('{') else { continue };
        if !derived.contains("Serialize") || !head.contains("struct ") {
            continue;
        }
        let name = head.split("struct ").nth(1).unwrap_or_default().trim().to_string();
        for line in body.split("\n}").next().unwrap_or_default().lines() {
            if let Some((field, kind)) = line.trim().trim_start_matches("pub ").split_once(": ")
                && kind.contains("&'static str")
            {
                found.push((name.clone(), field.to_string()));
            }
        }
    }
    found
}

#[test]
fn results_carry_words_as_enums() {
    let mut seen = 0;
    for (path, text) in super::sources() {
        for (structure, field) in of_results(&super::code(&text)) {
            seen += 1;
            assert!(TEXTS.contains(&field.as_str()), "{}: {structure}::{field} is text", path.display());
        }
    }
    assert!(seen > 20, "the test no longer sees the results");
}

#[test]
fn a_word_is_seen() {
    let code = "#[derive(Clone, Serialize)]\npub struct Found {\n    pub role: &'static str,\n    pub area: f64,\n}\n";
    assert_eq!(of_results(code), [("Found".to_string(), "role".to_string())]);
}
