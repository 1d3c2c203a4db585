//! No file of the sources uses another that uses it, round any number of corners.
//!
//! What counts are the paths that begin with `crate::`, `super::` or `self::`, followed to the file that they name. The
//! head of a folder (`mod.rs`) tells which files it holds and what of them is seen outside: that alone makes no circle.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A file by its place below `src`: `["network", "solve"]`; a folder's head by the folder.
type File = Vec<String>;

fn file_of(path: &Path) -> File {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let inside = path.strip_prefix(root).unwrap_or(path).with_extension("");
    let mut file: File = inside.iter().map(|part| part.to_string_lossy().into_owned()).collect();
    if matches!(file.last().map(String::as_str), Some("mod")) || file == ["lib"] {
        file.pop();
    }
    file
}

/// Every path that a piece of code names, trees of `use` laid out: `a::{b, c::d}` gives two.
fn paths(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut rest = code;
    while let Some(at) = ["crate::", "super::", "self::"].iter().filter_map(|begin| rest.find(begin)).min() {
        let inside_a_name = rest[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':');
        let (tree, length) = tree(&rest[at..]);
        if !inside_a_name {
            found.extend(tree);
        }
        rest = &rest[at + length.max(1)..];
    }
    found
}

/// A path or a tree of paths at the beginning of a text, laid out, and how long it is.
fn tree(text: &str) -> (Vec<String>, usize) {
    let of_a_path = |c: char| c.is_alphanumeric() || c == '_' || c == ':';
    let stem = text.find(|c| !of_a_path(c)).unwrap_or(text.len());
    if !(text[..stem].ends_with("::") && text[stem..].starts_with('{')) {
        return (vec![text[..stem].to_string()], stem);
    }
    let (mut found, mut at) = (Vec::new(), stem + 1);
    loop {
        at += text[at..].find(|c: char| !c.is_whitespace() && c != ',').unwrap_or(text.len() - at);
        if at >= text.len() || text[at..].starts_with('}') {
            return (found, (at + 1).min(text.len()));
        }
        let (branches, length) = tree(&text[at..]);
        found.extend(branches.iter().map(|branch| format!("{}{branch}", &text[..stem])));
        at += length;
        // a name given anew, and whatever else no path is made of
        at += text[at..].find([',', '}']).unwrap_or(text.len() - at);
    }
}

/// The file that a path leads to, read from one file.
fn resolve(path: &str, from: &File, files: &BTreeSet<File>) -> Option<File> {
    let mut at = from.clone();
    let mut parts = path.split("::").peekable();
    match parts.next()? {
        "crate" => at.clear(),
        "super" => {
            at.pop();
        }
        _ => {}
    }
    while parts.next_if_eq(&"super").is_some() {
        at.pop();
    }
    for part in parts {
        let mut deeper = at.clone();
        deeper.push(part.to_string());
        if !files.contains(&deeper) {
            break;
        }
        at = deeper;
    }
    (files.contains(&at) && at != *from).then_some(at)
}

/// Files that `uses` leads round from and back to a file: those of each circle together.
fn circles(uses: &BTreeMap<File, BTreeSet<File>>) -> Vec<BTreeSet<File>> {
    let reached = |from: &File| {
        let (mut reached, mut open) = (BTreeSet::new(), vec![from]);
        while let Some(file) = open.pop() {
            for next in uses.get(file).into_iter().flatten() {
                if reached.insert(next.clone()) {
                    open.push(next);
                }
            }
        }
        reached
    };
    let all: BTreeMap<&File, BTreeSet<File>> = uses.keys().map(|file| (file, reached(file))).collect();
    let round: BTreeSet<BTreeSet<File>> = all
        .iter()
        .filter(|(file, reached)| reached.contains(**file))
        .map(|(file, reached)| {
            reached
                .iter()
                .filter(|other| all.get(other).is_some_and(|back| back.contains(*file)))
                .cloned()
                .collect()
        })
        .collect();
    round.into_iter().collect()
}

fn read(sources: &[(File, String)]) -> BTreeMap<File, BTreeSet<File>> {
    let files: BTreeSet<File> = sources.iter().map(|(file, _)| file.clone()).collect();
    let uses = |(file, code): &(File, String)| {
        let found = paths(code).iter().filter_map(|path| resolve(path, file, &files)).collect();
        (file.clone(), found)
    };
    sources.iter().map(uses).collect()
}

#[test]
fn no_circle_of_files_is_left() {
    let sources: Vec<(File, String)> =
        super::sources().iter().map(|(path, text)| (file_of(path), super::code(text))).collect();
    let uses = read(&sources);
    assert!(uses.values().map(BTreeSet::len).sum::<usize>() > 800, "the test no longer sees the imports");
    let told: Vec<String> = circles(&uses)
        .iter()
        .map(|circle| circle.iter().map(|file| file.join("/")).collect::<Vec<_>>().join(", "))
        .collect();
    assert!(told.is_empty(), "files that use one another:\n{}", told.join("\n"));
}

#[test]
fn a_circle_is_seen() {
    let source = |file: &str, code: &str| -> (File, String) {
        (file.split('/').map(str::to_string).collect(), code.to_string())
    };
    let straight = [
        source("a", "mod one; mod two;"),
        source("a/one", "use super::two::{self, Two};"),
        source("a/two", "use crate::b::{three::Three, Other as Another};"),
        source("b", "pub use three::Three; pub struct Other;"),
        source("b/three", "fn f() { crate::c() }"),
    ];
    assert!(circles(&read(&straight)).is_empty());
    let mut round = straight.to_vec();
    round[4].1 = "fn f() { crate::a::one::g() }".to_string();
    let found = circles(&read(&round));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].len(), 3, "{found:?}");
}
