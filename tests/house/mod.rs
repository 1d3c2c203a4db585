//! Keeps the house in order: imports run one way, files stay small, only two places open files.

mod circles;
mod names;
mod supply;
mod words;

use std::path::{Path, PathBuf};

/// Modules from the bottom up; each may use those of lower rank, and itself.
const RANKS: &[(&str, u8)] = &[
    ("numerics", 0),
    ("keys", 0),
    ("outline", 0),
    ("air", 1),
    ("correlations", 2),
    ("element", 3),
    ("engine", 3),
    ("thermal", 3),
    ("network", 4),
    ("case", 4),
    ("point", 5),
    ("warnings", 6),
    ("draws", 6),
    ("readings", 7),
    ("study", 8),
    ("output", 9),
    ("cli", 10),
    ("face", 10),
];

/// Modules of equal rank that may still use one another in this direction.
const BESIDE: &[(&str, &str)] = &[("thermal", "element")];

fn rank(module: &str) -> Option<u8> {
    RANKS.iter().find(|(name, _)| *name == module).map(|(_, rank)| *rank)
}

fn sources() -> Vec<(PathBuf, String)> {
    fn walk(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
        for entry in std::fs::read_dir(folder).expect("a folder").flatten() {
            let path = entry.path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push((path.clone(), std::fs::read_to_string(&path).expect("text")));
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    walk(&root, &mut found);
    assert!(found.len() > 40, "the walk misses files");
    found
}

/// Code without comments and without what stands behind `#[cfg(test)]`.
fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or(text);
    text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

fn module_of(path: &Path) -> Option<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let inside = path.strip_prefix(&root).ok()?;
    let first = inside.components().next()?.as_os_str().to_string_lossy().into_owned();
    Some(first.trim_end_matches(".rs").to_string())
}

#[test]
fn imports_run_one_way() {
    let mut used = 0;
    for (path, text) in sources() {
        let Some(own) = module_of(&path) else { continue };
        let Some(own_rank) = rank(&own) else { continue };
        let code = code(&text);
        for piece in code.split("crate::").skip(1) {
            let name: String = piece.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            let Some(other_rank) = rank(&name) else { continue };
            used += 1;
            let allowed =
                name == own || other_rank < own_rank || BESIDE.contains(&(own.as_str(), name.as_str()));
            assert!(allowed, "{} uses crate::{name}", path.display());
        }
    }
    assert!(used > 100, "the test no longer sees the imports");
}

/// A law answers for itself: nothing outside knows which kinds there are.
#[test]
fn kinds_are_told_apart_by_the_elements_alone() {
    let mut seen = 0;
    for (path, text) in sources() {
        let code = code(&text);
        let names = |piece: &str| piece.starts_with(|c: char| c.is_ascii_uppercase());
        // neither by its law nor by its record
        let found = code.split("Law::").skip(1).any(names) || code.contains(".is(&");
        seen += usize::from(found);
        let inside = module_of(&path).as_deref() == Some("element");
        assert!(inside || !found, "{} names a kind of law", path.display());
    }
    assert!(seen > 10, "the test no longer sees the laws");
}

#[test]
fn only_the_command_line_opens_files_or_prints() {
    for (path, text) in sources() {
        let own = module_of(&path).unwrap_or_default();
        if ["cli", "main", "lib"].contains(&own.as_str()) {
            continue;
        }
        let code = code(&text);
        for forbidden in
            ["std::fs", "fs::File", " File::", "println!", "eprintln!", "print!(", "dbg!", "std::process"]
        {
            let found = code.contains(forbidden) && !path.to_string_lossy().contains("/tests");
            assert!(!found, "{} uses {forbidden}", path.display());
        }
    }
}

#[test]
fn no_file_is_too_long_to_hold_in_mind() {
    for (path, text) in sources() {
        let lines = text.lines().count();
        assert!(lines <= 520, "{} has {lines} lines", path.display());
    }
}

#[test]
fn nothing_unwraps_outside_tests() {
    for (path, text) in sources() {
        if path.to_string_lossy().contains("tests") {
            continue;
        }
        let code = code(&text);
        for forbidden in [".unwrap()", ".expect(", "panic!(", "todo!(", "unimplemented!("] {
            assert!(!code.contains(forbidden), "{} uses {forbidden}", path.display());
        }
    }
}

#[test]
fn beside_the_cases_lies_nothing_that_a_run_wrote() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let others: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("a folder")
        .flatten()
        .map(|file| file.path())
        .filter(|path| path.extension().is_none_or(|end| end != "toml"))
        .collect();
    assert_eq!(others, Vec::<PathBuf>::new(), "results go elsewhere: --into");
}
