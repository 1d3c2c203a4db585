//! One name for one thing: what the screens of the demos say, and what they never say.

use super::program;
use slowcorner::output::terms::TERMS;

const DEMOS: [&str; 4] = ["quarry-sprinter", "orchard-cyclecar", "stubble-buggy", "causeway-trike"];

fn said(arguments: &[&str], demo: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let case = format!("{}/cases/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
    let mut run = program();
    run.arg(arguments[0]).arg(&case).args(&arguments[1..]).current_dir(folder.path());
    if !["check", "why"].contains(&arguments[0]) {
        run.args(["--into", "."]);
    }
    let output = run.output().expect("runs");
    String::from_utf8(output.stdout).expect("text")
}

/// Whether a text holds some words as words, not within others.
fn holds(text: &str, words: &str) -> bool {
    let letter = |sign: Option<char>| sign.is_some_and(|sign| sign.is_alphanumeric() || sign == '_');
    text.match_indices(words).any(|(at, found)| {
        !letter(text[..at].chars().next_back()) && !letter(text[at + found.len()..].chars().next())
    })
}

#[test]
fn no_screen_has_another_name_for_a_thing() {
    let mut looked_at = 0;
    for demo in DEMOS {
        for arguments in [
            &["check"][..],
            &["check", "--detail"],
            &["size", "--svg-only"],
            &["exits", "--svg-only"],
            &["compare", "--svg-only"],
            &["compare", "--detail", "--svg-only"],
            &["lap", "--svg-only"],
            &["sweep", "--detail", "--svg-only"],
            &["doubt", "--svg-only"],
        ] {
            let text = said(arguments, demo).to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ");
            for term in TERMS {
                for other in term.not {
                    assert!(
                        !holds(&text, other),
                        "{arguments:?} of {demo} says \"{other}\", not \"{}\":\n{text}",
                        term.word
                    );
                }
            }
            for nothing in ["−0 ", "-0 ", " 0 mm of", "nan", " inf "] {
                assert!(!text.contains(nothing), "{arguments:?} of {demo} says {nothing:?}:\n{text}");
            }
            looked_at += usize::from(!text.is_empty());
        }
    }
    assert!(looked_at >= 34, "{looked_at}");
}

/// A pressure against the same pressure says nothing.
#[test]
fn no_figure_stands_against_itself() {
    for demo in DEMOS {
        for arguments in [&["check", "--detail"][..], &["air", "--svg-only"]] {
            let text = said(arguments, demo).split_whitespace().collect::<Vec<_>>().join(" ");
            for (at, _) in text.match_indices(" Pa of ") {
                let before = text[..at].rsplit(' ').next().unwrap_or_default();
                let after = text[at..].split(" against ").nth(1).and_then(|rest| rest.split(' ').next());
                let sentence = text[at..].split('.').next().unwrap_or_default();
                if sentence.contains(" against ") {
                    assert_ne!(Some(before), after, "{demo}: {sentence}");
                }
            }
        }
    }
}

/// On a short screen an address stands only where something is to be edited.
#[test]
fn short_screens_say_addresses_in_words() {
    for demo in DEMOS {
        for arguments in
            [&["check"][..], &["size", "--svg-only"], &["exits", "--svg-only"], &["lap", "--svg-only"]]
        {
            let text = said(arguments, demo);
            let joined = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for start in ["engine/", "passage/", "part/", "place/", "body/", "condition/", "chamber/"] {
                for (at, _) in joined.match_indices(start) {
                    let edited = joined[..at].ends_with("--set \"");
                    assert!(edited, "{arguments:?} of {demo}: {}", &joined[at..joined.len().min(at + 60)]);
                }
            }
        }
    }
}

/// A part is lost above 300 °C, oil above 160 °C: words, where a figure would promise something.
#[test]
fn what_is_beyond_any_use_is_told_in_words() {
    let check = said(&["check"], "quarry-sprinter");
    assert!(check.contains("beyond any use"), "{check}");
    let exits = said(&["exits", "--svg-only"], "quarry-sprinter");
    let joined = exits.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(joined.contains("beyond any use at"), "{exits}");
    for text in [check, exits] {
        let words: Vec<&str> = text.split_whitespace().collect();
        for pair in words.windows(2).filter(|pair| pair[1].starts_with("°C")) {
            let figure: f64 = pair[0].parse().unwrap_or(0.0);
            assert!(figure <= 300.0, "{figure} °C in\n{text}");
        }
    }
}

/// The screen in the README is what the program says.
#[test]
fn the_readme_shows_the_screen_as_it_is() {
    let root = env!("CARGO_MANIFEST_DIR");
    let output = program()
        .args(["check", "cases/quarry-sprinter.toml"])
        .env("COLUMNS", "100")
        .current_dir(root)
        .output()
        .expect("runs");
    let said = String::from_utf8(output.stdout).expect("text");
    let readme = std::fs::read_to_string(format!("{root}/README.md")).expect("read");
    assert!(readme.contains(&said), "the README should show:\n{said}");
}

/// Limits stand as they were typed, with what is left for the mean.
#[test]
fn a_limit_is_shown_as_it_was_typed() {
    let check = said(&["check"], "quarry-sprinter");
    assert!(check.contains("heads, 208 °C") && check.contains("for the mean heads 198 °C"), "{check}");
    let whole = said(&["check", "--detail"], "quarry-sprinter");
    assert!(whole.contains("heads, limit 208 °C, 198 °C for the mean"), "{whole}");
}

/// A case that has no part with a limit is not all clear: nothing was checked.
#[test]
fn without_a_limit_nothing_is_said_to_be_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("air.toml");
    let text = "format = 1\n[engine]\ndisplacement = \"900 cm3\"\npower = [[\"1500 rpm\", \"8 kW\"], [\"6000 rpm\", \"36 kW\"]]\nheat = { bay = \"2 %\" }\n\
                [drive]\ntyre_radius = \"280 mm\"\nfinal_drive = 4.2\ngears = [2.9, 1.0]\nlowest = \"1500 rpm\"\nhighest = \"6400 rpm\"\n\
                [[passage]]\nname = \"in\"\nfrom = \"outside\"\nto = \"bay\"\nelement = [{ kind = \"ram-inlet\", area = \"40 cm2\", recovery = 0.8 }]\n\
                [[passage]]\nname = \"out\"\nfrom = \"bay\"\nto = \"outside\"\nelement = [{ kind = \"exit\", area = \"60 cm2\", pressure_coefficient = -0.1 }]\n\
                [[condition]]\nname = \"bend\"\nspeed = \"40 km/h\"\nrpm = \"3000 rpm\"\nload = \"40 %\"\n";
    std::fs::write(&path, text).expect("written");
    for (command, told) in [("check", "Nothing is checked"), ("sweep", "nothing is checked")] {
        let mut run = program();
        run.arg(command).arg(&path).env("COLUMNS", "200").current_dir(folder.path());
        let output = run.output().expect("runs");
        let said = String::from_utf8(output.stdout).expect("text");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(told), "{said}{}", String::from_utf8_lossy(&output.stderr));
        assert!(!said.contains("nothing is worse") && !said.contains("of the 0"), "{said}");
    }
}
