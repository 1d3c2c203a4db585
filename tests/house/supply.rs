//! What is built upon: licences, sources and ages of the locked crates, as the registry's own records have them.

use serde_json::Value;
use std::process::Command;

/// Licences under which the locked crates may be had; of alternatives one is enough.
const ALLOWED: &[&str] = &[
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "Unicode-3.0",
    "Unlicense",
    "CC0-1.0",
    "BSL-1.0",
    "0BSD",
    "MIT-0",
];
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Every locked crate, of all platforms; those that were not fetched yet are.
fn packages() -> Vec<Value> {
    let ask = |more: &[&str]| {
        let mut command = Command::new(env!("CARGO"));
        command.args(["metadata", "--format-version", "1", "--locked"]).args(more);
        command.current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("cargo runs")
    };
    let mut output = ask(&["--offline"]);
    if !output.status.success() {
        output = ask(&[]);
    }
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    metadata["packages"].as_array().expect("packages").clone()
}

/// Whether an expression of licences can be met: every part joined by AND, of those joined by OR one.
fn may_be_used(expression: &str) -> bool {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    plain.split(" AND ").all(|all| all.split(" OR ").any(|one| ALLOWED.contains(&one.trim())))
}

#[test]
fn every_crate_has_a_licence_and_comes_from_the_registry() {
    let packages = packages();
    assert!(packages.len() > 50, "{} packages", packages.len());
    for package in packages {
        let name = package["name"].as_str().expect("a name");
        if name == "slowcorner" {
            assert!(package["source"].is_null());
            continue;
        }
        let licence = package["license"].as_str().unwrap_or("none");
        assert!(may_be_used(licence), "{name}: licence {licence}");
        assert_eq!(package["source"].as_str(), Some(REGISTRY), "{name}");
    }
}

#[test]
fn licences_are_read() {
    assert!(may_be_used("MIT OR GPL-3.0-only") && may_be_used("(MIT OR Apache-2.0) AND Unicode-3.0"));
    assert!(!may_be_used("GPL-3.0-only") && !may_be_used("MIT AND GPL-3.0-only") && !may_be_used("none"));
}

/// No locked crate asks for a newer Rust than the one promised.
#[test]
fn the_oldest_rust_is_kept() {
    let number = |text: &str| -> Vec<u32> { text.split('.').filter_map(|part| part.parse().ok()).collect() };
    let packages = packages();
    let own = packages.iter().find(|package| package["name"] == "slowcorner").expect("the program");
    let promised = number(own["rust_version"].as_str().expect("rust-version is written"));
    let asking =
        packages.iter().filter_map(|p| Some((p["name"].as_str()?, number(p["rust_version"].as_str()?))));
    let newer: Vec<(&str, Vec<u32>)> = asking.filter(|(_, asked)| asked[..2] > promised[..2]).collect();
    assert!(newer.is_empty(), "{newer:?}");
}
