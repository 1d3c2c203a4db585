//! The report: its structure as HTML and XML, what stands in it, and how a real browser shows and prints it.

mod browser;
mod content;
mod structure;

use std::path::{Path, PathBuf};
use std::process::Command;

const DEMOS: [&str; 3] = ["quarry-sprinter", "causeway-trike", "stubble-buggy"];

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("cases").join(format!("{name}.toml"))
}

fn run(arguments: &[&str]) -> std::process::Output {
    Command::new(env!("CARGO_BIN_EXE_slowcorner")).args(arguments).output().expect("runs")
}

fn json(arguments: &[&str]) -> serde_json::Value {
    serde_json::from_slice(&run(arguments).stdout).expect("JSON")
}

/// The whole report of a case.
fn report_of(case: &Path, more: &[&str]) -> String {
    short_report_of(case, &[&["--all"][..], more].concat())
}

/// The report of a case as it is without more ado: three sheets and what fits two pages more.
fn short_report_of(case: &Path, more: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().to_str().expect("text");
    let all = [&["report", case.to_str().expect("text"), "--into", into][..], more].concat();
    let output = run(&all);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let name = format!("{}-report.html", case.file_stem().expect("a name").to_string_lossy());
    std::fs::read_to_string(folder.path().join(name)).expect("the report")
}

/// The report of a changed copy of the demo case.
fn report_of_changed(change: impl Fn(String) -> String) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("car.toml");
    let text = std::fs::read_to_string(demo("quarry-sprinter")).expect("the demo case");
    std::fs::write(&path, change(text)).expect("written");
    report_of(&path, &[])
}

/// Reads the page with an outside parser: it is written so that it is XML too.
fn parse(page: &str) -> roxmltree::Document<'_> {
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..roxmltree::ParsingOptions::default() };
    match roxmltree::Document::parse_with_options(page, options) {
        Ok(document) => document,
        Err(error) => panic!("{error}"),
    }
}

/// All text under a node.
fn text_of(node: roxmltree::Node) -> String {
    let pieces: Vec<&str> = node.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect();
    pieces.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn by_id<'a>(document: &'a roxmltree::Document<'a>, id: &str) -> roxmltree::Node<'a, 'a> {
    document.descendants().find(|node| node.attribute("id") == Some(id)).expect("that id")
}
