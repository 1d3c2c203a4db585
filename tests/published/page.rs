//! docs/verification.md, written by the checks themselves: each with its source, the figure published, ours, the
//! difference and what is allowed. `SLOWCORNER_WRITE_DOCS=1 cargo test --test published` writes it anew.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

/// Rows by authority and check, in the order of the checks.
static KEPT: Mutex<BTreeMap<(String, String), Vec<String>>> = Mutex::new(BTreeMap::new());

fn place(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
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
        _ => format!("{value:.4e}"),
    }
}

/// Takes a check up; where the page is being written, writes it with all that were taken up so far.
pub fn keep(what: &str, got: f64, published: f64, tolerance: f64) {
    if std::env::var_os("SLOWCORNER_WRITE_DOCS").is_none() {
        return;
    }
    let thread = std::thread::current();
    let Some((file, check)) = thread.name().and_then(|name| name.split_once("::")) else { return };
    let share = if published == 0.0 { 0.0 } else { 100.0 * (got - published) / published };
    let row = format!(
        "| {} | {} | {} | {} | {} |",
        what.replace('|', "/"),
        figure(published),
        figure(got),
        if published == 0.0 { figure(got) } else { format!("{} %", figure((share * 1e4).round() / 1e4)) },
        figure(tolerance)
    );
    let mut kept = KEPT.lock().expect("no check fails while it is taken up");
    kept.entry((file.to_string(), check.to_string())).or_default().push(row);
    fs::write(place("docs/verification.md"), page(&kept)).expect("written");
}

/// What a file of checks says of its source.
fn head(file: &str) -> String {
    let text = fs::read_to_string(place(&format!("tests/published/{file}.rs"))).unwrap_or_default();
    let lines = text.lines().map_while(|line| line.strip_prefix("//!"));
    lines.map(str::trim).collect::<Vec<_>>().join(" ").trim().to_string()
}

fn page(kept: &BTreeMap<(String, String), Vec<String>>) -> String {
    let mut out = String::from(HEAD);
    let mut before = "";
    for ((file, check), rows) in kept {
        if file != before {
            let _ = write!(out, "\n## {}\n\n{}\n", file.replace('_', " "), head(file));
        }
        before = file;
        let _ = write!(
            out,
            "\n{}:\n\n| figure | published | here | off by | allowed |\n| --- | --- | --- | --- | --- |\n",
            check.replace('_', " ")
        );
        // a check that walks hundreds of points shows the first of them
        for row in rows.iter().take(MOST) {
            let _ = writeln!(out, "{row}");
        }
        if rows.len() > MOST {
            let _ = write!(out, "\nand {} more of the kind.\n", rows.len() - MOST);
        }
    }
    out
}

const MOST: usize = 40;
const HEAD: &str = "# Checked against figures from outside

Written by the checks in `tests/published`, every time they are asked to: `SLOWCORNER_WRITE_DOCS=1 cargo test --test published`. Each file
stands for one authority; source, example and page, why the tolerance is what it is, and whether a figure was **printed** and read again, **computed** with
a library, or is **from memory** (checked loosely, or against slips alone) are said beside each check there. Figures are in SI units or in those of the source.

Apart from what was published, the whole program is held against a second implementation of the same model (Python, scipy): `tests/network/solved`,
`tests/sizing`, `tests/lap/stint.expected.json`, `tests/lap/closed_box.py`. That shows slips of either, not that the model is right.
";

/// Every authority stands on the page, and nothing is there that no file checks.
#[test]
fn every_authority_stands_on_the_page() {
    // while it is written anew it is not yet whole
    if std::env::var_os("SLOWCORNER_WRITE_DOCS").is_some() {
        return;
    }
    let page = fs::read_to_string(place("docs/verification.md")).expect("docs/verification.md");
    for entry in fs::read_dir(place("tests/published")).expect("a folder").flatten() {
        let path = entry.path();
        let Some(name) = path.file_stem().and_then(|stem| stem.to_str()) else { continue };
        let text = fs::read_to_string(&path).unwrap_or_default();
        if text.contains("within(") && !["support", "page"].contains(&name) {
            assert!(page.contains(&format!("\n## {}\n", name.replace('_', " "))), "{name}");
        }
    }
}
