//! docs/verification.md, written by the checks themselves: each with the words that stand beside it (source, and why so
//! much is allowed), the figure published, ours, the difference and what is allowed.
//! `SLOWCORNER_WRITE_DOCS=1 cargo test --test laws published::` writes it anew.

use crate::published::words::{Standing, Words, of_files};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

/// Rows by authority and check, in the order of the checks.
type Kept = BTreeMap<(String, String), Vec<Row>>;

static KEPT: Mutex<Kept> = Mutex::new(BTreeMap::new());

/// One figure, in words.
struct Row {
    what: String,
    published: String,
    here: String,
    off: String,
    allowed: String,
}

pub fn place(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn writes() -> bool {
    std::env::var_os("SLOWCORNER_WRITE_DOCS").is_some()
}

fn figure(value: f64) -> String {
    let size = value.abs();
    match size {
        0.0 => "0".to_string(),
        _ if (1e-3..1e6).contains(&size) => {
            let decimals = (5 - size.log10().floor() as i32).clamp(0, 8) as usize;
            let text = format!("{value:.decimals$}");
            if text.contains('.') {
                text.trim_end_matches('0').trim_end_matches('.').to_string()
            } else {
                text
            }
        }
        _ => format!("{value:.3e}"),
    }
}

/// A share as a percentage, to two digits.
fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    match percent.abs() {
        size if size < 1e-6 => "0 %".to_string(),
        size => format!("{percent:.*} %", (1 - size.log10().floor() as i32).clamp(0, 8) as usize),
    }
}

/// Takes up a figure within a tolerance.
pub fn keep(what: &str, got: f64, published: f64, tolerance: f64) {
    let (off, allowed) = if published == 0.0 {
        (figure(got), format!("± {}", figure(tolerance)))
    } else {
        let share = percent(tolerance / published.abs());
        (percent((got - published) / published.abs()), format!("± {} ({share})", figure(tolerance)))
    };
    add(Row { what: what.into(), published: figure(published), here: figure(got), off, allowed });
}

/// Takes up a figure that must lie in a band.
pub fn keep_band(what: &str, got: f64, low: f64, high: f64) {
    let published = match (low.is_finite(), high.is_finite()) {
        (true, true) => format!("{} to {}", figure(low), figure(high)),
        (true, false) => format!("above {}", figure(low)),
        _ => format!("below {}", figure(high)),
    };
    add(Row {
        what: what.into(),
        published,
        here: figure(got),
        off: "inside".into(),
        allowed: "the band".into(),
    });
}

/// Where the page is being written, writes it with all that was taken up so far.
fn add(row: Row) {
    if !writes() {
        return;
    }
    let thread = std::thread::current();
    let Some((file, check)) =
        thread.name().and_then(|name| name.strip_prefix("published::")?.split_once("::"))
    else {
        return;
    };
    let mut kept = KEPT.lock().expect("no check fails while it is taken up");
    kept.entry((file.to_string(), check.to_string())).or_default().push(row);
    fs::write(place("docs/verification.md"), page(&kept)).expect("written");
}

/// What a file of checks says of itself.
fn head(file: &str) -> String {
    let text = fs::read_to_string(place(&format!("tests/published/{file}.rs"))).unwrap_or_default();
    let lines = text.lines().map_while(|line| line.strip_prefix("//!"));
    lines.map(str::trim).collect::<Vec<_>>().join(" ").trim().to_string()
}

fn page(kept: &Kept) -> String {
    let words = of_files();
    let told =
        |file: &str, check: &str| words.iter().find(|words| words.file == file && words.check == check);
    let mut out = String::from(HEAD);
    out += &counted(kept, &words);
    let mut before = "";
    for ((file, check), rows) in kept {
        if file != before {
            let _ = write!(out, "\n## {}\n\n{}\n", file.replace('_', " "), head(file));
        }
        before = file;
        let _ = write!(out, "\n### {}\n", check.replace('_', " "));
        if let Some(words) = told(file, check) {
            let standing: Vec<&str> = words.standing.iter().map(Standing::word).collect();
            let _ = write!(out, "\n*{}.* {}\n", standing.join("; "), words.said);
            let _ = write!(out, "\n*Allowed:* {}\n", words.allowed);
        }
        out += "\n| figure | published | here | off by | allowed |\n| --- | --- | --- | --- | --- |\n";
        for Row { what, published, here, off, allowed } in rows {
            let what = what.replace('|', "/");
            let _ = writeln!(out, "| {what} | {published} | {here} | {off} | {allowed} |");
        }
    }
    out + TAIL
}

/// How much stands on what.
fn counted(kept: &Kept, words: &[Words]) -> String {
    let mut out = String::from("\n| stands on | checks | figures |\n| --- | --- | --- |\n");
    for standing in Standing::ALL {
        let of = |words: &&Words| words.standing.contains(&standing);
        let rows = |words: &Words| kept.get(&(words.file.clone(), words.check.clone())).map_or(0, Vec::len);
        let figures: usize = words.iter().filter(of).map(rows).sum();
        let _ = writeln!(out, "| {} | {} | {figures} |", standing.word(), words.iter().filter(of).count());
    }
    out + "\nA check that stands on two counts in both lines.\n"
}

const HEAD: &str = "# Checked against figures from outside

Written by the checks in `tests/published`, every time they are asked to: `SLOWCORNER_WRITE_DOCS=1 cargo test --test laws published::`. Each file
stands for one authority. What stands under a heading here stands beside the check there: where the figure comes from and why so much is
allowed. Figures are in SI units or in those of the source.

- **printed**: stands in the named book, paper or standard and was read again for this project;
- **computed**: by a general-purpose library, version and call named;
- **worked out**: by hand from the stated equation, or an exact answer;
- **from memory**: not looked up. Held loosely, or against slips alone: no proof that the law is right. Common practice counts here.
";

const TAIL: &str = "
## A second implementation, apart from what was published

The whole program is also held against the same model written a second time, in Python on numpy and scipy, by other hands from the same
equations. Agreement shows that neither slipped; it does not show that the model is right.

| what | where | held to | why so close |
| --- | --- | --- | --- |
| solved cases, every figure of the result | `tests/network/solved` | 1e-7 of each figure, 1e-6 where flows all but vanish | both solve to 1e-9 of their own largest error |
| networks of pipes | `tests/network/networks.json` | told beside each | figures of other programs |
| sizes of openings, least area and least drag | `tests/sizing/*.expected.json` | 0.1 % of the objective | openings that do not matter may differ: objectives are compared |
| stints in time | `tests/lap/stint.expected.json` | 0.01 K | both integrate to 1e-9; what is left is how a leg's ends are met |
| the soak of a closed box, radiation included | `tests/lap/closed_box.py` | 0.01 K of the body, 0.02 K of its air | LSODA at 1e-11 over the balance written out anew |
";

/// Every check of the folder stands on the page with its source, its reason and the figures that its authority gives.
#[test]
fn every_check_stands_on_the_page() {
    let words = of_files();
    assert!(words.len() > 80, "the walk misses checks");
    for Words { file, check, standing, allowed, .. } in &words {
        assert!(
            !standing.is_empty(),
            "{file}::{check} does not say whether its figures are printed, computed, worked out or from memory"
        );
        assert!(
            !allowed.is_empty(),
            "{file}::{check} does not say why it allows what it allows: a comment that begins with Allowed:"
        );
    }
    // while it is written anew it is not yet whole
    if writes() {
        return;
    }
    let page = fs::read_to_string(place("docs/verification.md")).expect("docs/verification.md");
    for Words { file, check, said, allowed, .. } in &words {
        assert!(page.contains(&format!("\n## {}\n", file.replace('_', " "))), "{file}");
        let title = format!("\n### {}\n", check.replace('_', " "));
        let (_, under) =
            page.split_once(&title).unwrap_or_else(|| panic!("{file}::{check} is not on the page"));
        assert!(
            under.contains(said) && under.contains(allowed),
            "{file}::{check} has other words on the page"
        );
    }
}
