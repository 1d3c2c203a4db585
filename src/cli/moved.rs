//! What a case names beside itself, as it is named from another folder.

use super::written::{ending_as, replace};
use crate::case::tables as t;
use std::path::{Component, Path, PathBuf};
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// A case that stood in one folder as it is to stand in another: recorded runs are found from there too. The text comes back as
/// it was where nothing in it names a file by a relative path, or both folders are the same.
pub(super) fn moved(text: &str, from: &Path, to: &Path) -> String {
    let (Some(from), Some(to)) = (whole(from), whole(to)) else { return text.to_string() };
    if from == to {
        return text.to_string();
    }
    let Ok(mut document) = text.parse::<DocumentMut>() else { return text.to_string() };
    let mut has_moved = false;
    each_stint(&mut document, &mut |stint| {
        let Some(Item::Value(value)) = stint.get_mut(t::TRACE.name) else { return };
        let Some(named) = value.as_str().filter(|name| Path::new(name).is_relative()) else { return };
        let Some(seen) = seen_from(&from.join(named), &to) else { return };
        replace(value, Value::from(seen));
        has_moved = true;
    });
    if has_moved { ending_as(text, document.to_string()) } else { text.to_string() }
}

fn each_stint(document: &mut DocumentMut, change: &mut dyn FnMut(&mut dyn TableLike)) {
    match document.get_mut("stint") {
        Some(Item::ArrayOfTables(stints)) => stints.iter_mut().for_each(|stint| change(stint)),
        Some(Item::Value(Value::Array(stints))) => {
            stints.iter_mut().filter_map(Value::as_inline_table_mut).for_each(|stint| change(stint));
        }
        _ => {}
    }
}

/// A folder from the root on, without links, whether it is there yet or not.
fn whole(folder: &Path) -> Option<PathBuf> {
    let folder = std::path::absolute(folder).ok()?;
    let there = folder.ancestors().find_map(|above| Some((above, above.canonicalize().ok()?)));
    let (above, found) = there?;
    Some(found.join(folder.strip_prefix(above).ok()?))
}

/// The way from a folder to a file: up and down where they have more than the root in common, else from the root on.
fn seen_from(file: &Path, folder: &Path) -> Option<String> {
    // where the file itself is there, by the way without links
    let parent = file.parent().and_then(whole)?;
    let file = parent.join(file.file_name()?);
    let common = file.components().zip(folder.components()).take_while(|(a, b)| a == b).count();
    let is_name = |part: &Component| matches!(part, Component::Normal(_));
    if !folder.components().take(common).any(|part| is_name(&part)) {
        return Some(file.to_str()?.to_string());
    }
    let up = folder.components().skip(common).map(|_| "..");
    let down = file.components().skip(common).map(|part| part.as_os_str().to_str());
    let parts: Option<Vec<&str>> = up.map(Some).chain(down).collect();
    Some(parts?.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_leads_to_the_file() {
        let root = tempfile::tempdir().expect("a folder");
        let (cases, runs) = (root.path().join("cases"), root.path().join("runs"));
        std::fs::create_dir_all(&cases).expect("made");
        std::fs::create_dir_all(&runs).expect("made");
        std::fs::write(runs.join("a run.csv"), "").expect("written");
        for into in ["cases/sized", "sized", "cases/a/b/c", "."] {
            let into = root.path().join(into);
            let text = "# mine\n[[stint]]\nname = \"r\"\r\ntrace = \"../runs/a run.csv\" # logged\n"
                .replace('\r', "");
            let moved = moved(&text, &cases, &into);
            assert!(moved.starts_with("# mine\n") && moved.ends_with(" # logged\n"), "{moved}");
            std::fs::create_dir_all(&into).expect("made");
            let document: DocumentMut = moved.parse().expect("a case");
            let name = document["stint"][0]["trace"].as_str().expect("a name");
            assert!(into.join(name).is_file(), "{name}");
        }
    }

    #[test]
    fn what_needs_no_change_gets_none() {
        let root = tempfile::tempdir().expect("a folder");
        let into = root.path().join("sized");
        let own = format!("stint = [{{ name = \"r\", trace = {:?} }}]\n", root.path().join("run.csv"));
        assert_eq!(moved(&own, root.path(), &into), own);
        let beside = "stint = [{ name = \"r\", trace = \"run.csv\" }]\n";
        assert_eq!(moved(beside, root.path(), root.path()), beside);
        assert_eq!(moved(beside, root.path(), &into), "stint = [{ name = \"r\", trace = \"../run.csv\" }]\n");
        assert_eq!(moved("title = \"x\"\n", root.path(), &into), "title = \"x\"\n");
    }
}
