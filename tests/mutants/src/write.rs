//! Writes the copy.

use crate::sites::{Site, Walk, constants};
use crate::switch;
use std::fs;
use std::io::Result;
use std::path::{Path, PathBuf};

/// Every file below a folder, in order.
pub fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    if folder.is_file() {
        return vec![folder.to_path_buf()];
    }
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() { found.extend(files(&path)) } else { found.push(path) }
    }
    found.sort();
    found
}

/// Copies `source` to `copy` and puts a switch on every site of the files in `folders` of its `src`. What does not
/// compile with its fault is named in `skipped` of the copy, a line "file:line" each, and left as it was.
pub fn write(source: &Path, copy: &Path, folders: &[&str]) -> Result<()> {
    for file in files(source) {
        let inside = file.strip_prefix(source).unwrap_or(&file);
        if inside.components().any(|part| ["target", ".git", "mutants"].iter().any(|it| part.as_os_str() == *it)) {
            continue;
        }
        let to = copy.join(inside);
        if let Some(folder) = to.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::copy(&file, &to)?;
    }
    let skipped = fs::read_to_string(copy.join("skipped")).unwrap_or_default();
    let skipped: Vec<&str> = skipped.lines().collect();
    let root = copy.join("src");
    let mine: Vec<PathBuf> = folders.iter().flat_map(|folder| files(&root.join(folder))).collect();
    let mine: Vec<PathBuf> = mine.into_iter().filter(|f| f.extension().is_some_and(|e| e == "rs")).collect();
    let (mut names, mut others) = (Vec::new(), Vec::new());
    for file in files(&root) {
        if file.extension().is_some_and(|e| e == "rs") {
            let found = constants(&fs::read_to_string(&file)?);
            names.extend(found.0);
            others.extend(found.1);
        }
    }
    names.retain(|name| !others.contains(name));
    let (mut number, mut list) = (0, String::new());
    for file in mine {
        let inside = file.strip_prefix(&root).unwrap_or(&file).display().to_string();
        if inside.ends_with("tests.rs") || inside.contains("/tests/") {
            continue;
        }
        let text = fs::read_to_string(&file)?;
        let line_of = |at: usize| text[..at].matches('\n').count() + 1;
        let sites = Walk::through(&text, &names).into_iter();
        let sites: Vec<Site> = sites
            .filter(|site| {
                !skipped.contains(&format!("{inside}:{}:{}", line_of(site.range.start), site.words).as_str())
            })
            .collect();
        let first = number + 1;
        for site in &sites {
            number += 1;
            let place = text[site.range.clone()].split_whitespace().collect::<Vec<_>>().join(" ");
            list += &format!("{number}\t{inside}:{}\t{}\t{place}\n", line_of(site.range.start), site.words);
        }
        let order: Vec<(u32, &Site)> = (first..).zip(&sites).collect();
        fs::write(&file, render(&text, 0..text.len(), &order))?;
    }
    let library = root.join("lib.rs");
    let text = fs::read_to_string(&library)?;
    if !text.contains("pub mod mutants;") {
        fs::write(&library, format!("{text}\n#[doc(hidden)]\npub mod mutants;\n"))?;
    }
    fs::write(root.join("mutants.rs"), switch::SOURCE)?;
    fs::write(copy.join("mutants.list"), list)?;
    println!("{number} mutants");
    Ok(())
}

/// A stretch of text with a switch on each of `sites`, outer ones first.
fn render(text: &str, range: std::ops::Range<usize>, sites: &[(u32, &Site)]) -> String {
    let (mut out, mut at) = (String::new(), range.start);
    let mut rest = sites;
    while let Some(((number, site), others)) = rest.split_first() {
        let inner = others.iter().take_while(|(_, other)| other.range.end <= site.range.end).count();
        out += &text[at..site.range.start];
        let whole = render(text, site.range.clone(), &others[..inner]);
        if site.number {
            out += &format!("crate::mutants::float({number}, {whole})");
        } else {
            out += &format!("(if crate::mutants::on({number}) {{ ({}) }} else {{ ({whole}) }})", site.spoilt);
        }
        at = site.range.end;
        rest = &others[inner..];
    }
    out + &text[at..range.end]
}
