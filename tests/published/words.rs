//! What is said beside each check: read from the files of checks themselves.

use crate::published::page::place;
use std::fs;

/// What a figure stands on.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    Printed,
    Computed,
    WorkedOut,
    Memory,
}

impl Standing {
    pub const ALL: [Standing; 4] =
        [Standing::Printed, Standing::Computed, Standing::WorkedOut, Standing::Memory];

    pub fn word(&self) -> &'static str {
        match self {
            Standing::Printed => "printed",
            Standing::Computed => "computed",
            Standing::WorkedOut => "worked out",
            Standing::Memory => "from memory",
        }
    }

    /// Words by which a check tells it.
    fn told_by(&self) -> &'static [&'static str] {
        match self {
            Standing::Printed => &["rinted"],
            Standing::Computed => &["omputed with", "scipy", "numpy", "fluids 1.3.1", "ht 1.2.0", "ambiance"],
            Standing::WorkedOut => &["orked out", "y hand", "Exact"],
            Standing::Memory => &["rom memory", "ommon practice"],
        }
    }
}

/// What is said beside a check.
pub struct Words {
    pub file: String,
    pub check: String,
    pub standing: Vec<Standing>,
    /// All but why so much is allowed.
    pub said: String,
    /// Why so much is allowed.
    pub allowed: String,
}

/// Those of all files beside this one, in order.
pub fn of_files() -> Vec<Words> {
    let mut files: Vec<_> =
        fs::read_dir(place("tests/published")).expect("a folder").flatten().map(|e| e.path()).collect();
    files.sort();
    let mut found = Vec::new();
    for path in files.iter().filter(|path| path.extension().is_some_and(|e| e == "rs")) {
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        let text = fs::read_to_string(path).expect("text");
        if !["main", "page", "words", "support"].contains(&name.as_str()) {
            found.extend(of_text(&name, &text));
        }
    }
    found
}

fn of_text(file: &str, text: &str) -> Vec<Words> {
    let lines: Vec<&str> = text.lines().collect();
    let tests = (0..lines.len()).filter(|&at| lines[at] == "#[test]");
    tests.filter(|at| has_figures(&body(&lines, *at))).map(|at| of_test(file, &lines, at)).collect()
}

/// The lines of the test below an attribute.
fn body<'a>(lines: &[&'a str], at: usize) -> Vec<&'a str> {
    lines[at + 1..].iter().take_while(|line| **line != "}").copied().collect()
}

/// Whether a test holds figures from outside, itself or by a helper of its file.
fn has_figures(body: &[&str]) -> bool {
    let holds = [
        "within(",
        "within_share(",
        "between(",
        "below(",
        "above(",
        "as_scipy(",
        "hold(",
        "faults(&rows, true)",
    ];
    body.iter().any(|line| {
        holds.iter().any(|call| line.trim_start().starts_with(call) || line.contains(&format!(" {call}")))
    })
}

/// The comment lines right above a line.
fn above<'a>(lines: &[&'a str], at: usize) -> Vec<&'a str> {
    let mut comments: Vec<&str> =
        lines[..at].iter().rev().map_while(|line| line.strip_prefix("///")).collect();
    comments.reverse();
    comments
}

fn of_test(file: &str, lines: &[&str], at: usize) -> Words {
    let check = lines[at + 1].trim_start_matches("fn ").split('(').next().unwrap_or_default().to_string();
    let body = body(lines, at);
    let mut comments = above(lines, at);
    // tables and helpers of the file that the check names say where their figures are from
    for (index, line) in lines.iter().enumerate() {
        let name = line
            .strip_prefix("const ")
            .or(line.strip_prefix("fn "))
            .and_then(|rest| rest.split([':', '(', '<']).next());
        let used = name.is_some_and(|name| *name != check && body.iter().any(|line| mentions(line, name)));
        if used {
            comments.extend(above(lines, index));
        }
    }
    comments.extend(body.iter().filter_map(|line| line.trim().strip_prefix("//")));
    let (mut said, mut allowed, mut reason) = (String::new(), String::new(), false);
    for comment in comments.iter().map(|comment| comment.trim()) {
        // a reason runs on to the end of its comment, which a capital after a full stop does not end
        let (to, comment) = match comment.strip_prefix("Allowed:") {
            Some(rest) => {
                reason = true;
                (&mut allowed, rest.trim())
            }
            None if reason && continues(&allowed) => (&mut allowed, comment),
            None => {
                reason = false;
                (&mut said, comment)
            }
        };
        if !to.is_empty() {
            to.push(' ');
        }
        to.push_str(comment);
    }
    let all = format!("{said} {allowed}");
    let told = |standing: &Standing| standing.told_by().iter().any(|word| all.contains(word));
    let standing = Standing::ALL.into_iter().filter(told).collect();
    Words { file: file.to_string(), check, standing, said, allowed }
}

/// Whether a reason is not yet at the end of its sentence.
fn continues(reason: &str) -> bool {
    !reason.ends_with('.')
}

fn mentions(line: &str, name: &str) -> bool {
    let code = line.split("//").next().unwrap_or_default();
    code.split(|c: char| !c.is_alphanumeric() && c != '_').any(|word| word == name)
}
