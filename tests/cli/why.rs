//! `why` as its user meets it.

use super::{copy_of_demo, demo, json, program};
use std::path::Path;

fn told(path: &Path, more: &[&str]) -> String {
    let output = program().arg("why").arg(path).args(more).output().expect("runs");
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(out.lines().count() <= 40, "{out}");
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A cooler from outside to outside, with no fan and nothing high behind it: at rest nothing drives its air.
#[test]
fn where_no_air_moves_it_is_said() {
    let (_folder, path) = copy_of_demo(|text| {
        let own = text.split("[[layout.passage]]").nth(1).expect("a layout").to_string();
        let begins = text.find("[[passage]]\nname = \"oil cooler\"").expect("a cooler");
        let ends = begins + text[begins..].find("[[passage]]\nname = \"carburettor\"").expect("what follows");
        format!("{}[[passage]]{own}\n{}", &text[..begins], &text[ends..])
    });
    let out = told(&path, &["oil", "--at", "queue"]);
    assert!(out.contains("Air No air moves through oil cooler: nothing there drives it."), "{out}");
    let out = told(&path, &["oil", "--at", "straight"]);
    assert!(out.contains("g/s through oil cooler, driven by ram ("), "{out}");
}

#[test]
fn a_passage_that_is_asked_about_says_its_own_flow() {
    let path = demo();
    let (_, result) = json(&["why", path.to_str().expect("text"), "left exit", "--json"]);
    let flow = result["why"]["pressure"][0]["mass_flow_kg_s"].as_f64().expect("a flow");
    let out = told(&path, &["left exit"]);
    assert!(out.contains(&format!("Air {:.0} g/s through left exit, driven by ", 1e3 * flow)), "{out}");
}

#[test]
fn kelvins_are_those_of_the_margin_and_no_air_is_promised_that_is_no_use() {
    // no fan, and the air of the bay comes back through the fins
    let path = demo().with_file_name("causeway-trike.toml");
    let text = path.to_str().expect("text");
    let (_, result) = json(&["why", text, "heads", "--at", "at the line", "--json"]);
    assert_eq!(result["why"]["margin_is"], "impossible", "the demo case is another");
    let out = told(&path, &["heads", "--at", "at the line"]);
    assert!(out.contains("margin of heads, K") && out.contains("off the margin of the heads"), "{out}");
    assert!(out.contains("never enough") && !out.contains("more air takes"), "{out}");
    let check = program().args(["check", "--detail"]).arg(&path).output().expect("runs");
    let check = String::from_utf8_lossy(&check.stdout).into_owned();
    assert!(check.contains("more of this air is no use") && !check.contains("no amount of air"), "{check}");
}
