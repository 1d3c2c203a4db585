//! How the program knows its own files again: a digest of the whole file, in a comment at the end of a case, in the
//! heading of a last, empty column of a table.
//!
//! A file whose seal fits was written by this program, and nobody has changed it since: it can be made anew, and is written
//! over. Everything else is somebody's work.

use sha2::{Digest, Sha256};
use std::path::Path;

/// What stands before the digest.
const MARK: &str = "slowcorner seal ";
/// What stands in the place of the digest while that is reckoned. So many digits are enough for slips, and nobody forges a
/// table of his own.
const BLANK: &str = "0000000000000000";
/// How the line of a case begins.
const COMMENT: &str = "# As slowcorner wrote it, and written over while nothing is changed; ";
/// Larger files are not looked at: they count as somebody's work (bytes).
const LARGEST: u64 = 1 << 29;

/// A case with its seal; one that it had before goes.
pub(super) fn sealed_case(text: &str) -> String {
    let mut body = without(text);
    if !body.is_empty() && !body.ends_with('\n') {
        body.push('\n');
    }
    let end = if body.contains("\r\n") { "\r\n" } else { "\n" };
    filled(&format!("{body}{COMMENT}{MARK}{BLANK}{end}"))
}

/// A table with its seal: one more column, empty but for its heading.
pub(super) fn sealed_table(csv: &str) -> String {
    let mut lines = csv.lines();
    let mut text = match lines.next() {
        Some(heading) => format!("{heading},{MARK}{BLANK}\n"),
        None => format!("{MARK}{BLANK}\n"),
    };
    for line in lines {
        text.push_str(line);
        text.push_str(",\n");
    }
    filled(&text)
}

/// A case without the line of its seal, whether that fits or not.
pub(super) fn without(text: &str) -> String {
    text.split_inclusive('\n').filter(|line| !line.starts_with(COMMENT)).collect()
}

/// Whether a file was written by this program and is as it was then.
pub(super) fn is_intact(path: &Path) -> bool {
    let small = path.metadata().is_ok_and(|metadata| metadata.len() <= LARGEST);
    let text = if small { std::fs::read_to_string(path).ok() } else { None };
    text.is_some_and(|text| {
        let Some((before, after)) = text.rsplit_once(MARK) else { return false };
        let Some((seal, rest)) = after.split_at_checked(BLANK.len()) else { return false };
        seal == digest(&format!("{before}{MARK}{BLANK}{rest}"))
    })
}

/// The text with its digest in the place that was left for it.
fn filled(text: &str) -> String {
    let digest = digest(text);
    text.rsplit_once(&format!("{MARK}{BLANK}"))
        .map_or(text.to_string(), |(before, after)| format!("{before}{MARK}{digest}{after}"))
}

/// The digest of a text, whichever way its lines end.
fn digest(text: &str) -> String {
    let mut hash = Sha256::new();
    for line in text.lines() {
        hash.update(line);
        hash.update("\n");
    }
    hash.finalize().iter().take(BLANK.len() / 2).map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn intact(text: &str) -> bool {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("file");
        std::fs::write(&path, text).unwrap();
        is_intact(&path)
    }

    #[test]
    fn a_seal_fits_until_a_line_changes() {
        let cases = ["", "a = 1", "a = 1\n", "# no slowcorner seal 0000000000000000\na = \"\"\"x\ny\"\"\"\n"]
            .map(sealed_case);
        let tables = ["", "speed,rpm\n", "speed,rpm\n0.00000000000000001,2\n3,4\n"].map(sealed_table);
        for file in cases.iter().chain(&tables) {
            assert!(intact(file), "{file}");
            assert!(intact(&file.replace('\n', "\r\n")), "line ends of another system are no change");
            for edited in [format!("{file}more"), format!("b = 2\n{file}"), format!("{file}\nb = 2\n")] {
                assert!(!intact(&edited), "{edited}");
            }
        }
        assert!(
            !intact("a = 1\n")
                && !intact("slowcorner seal 12")
                && !intact("slowcorner seal 0000000000000000")
        );
        assert!(!intact(&tables[2].replace("3,4", "3,5")));
        assert!(!intact(&cases[1].replace("a = 1", "a = 2")));
        assert!(!intact(&cases[1].replace("seal ", "seal 0")));
    }

    #[test]
    fn a_case_is_sealed_once() {
        let file = sealed_case("a = 1\n");
        assert_eq!(sealed_case(&file), file);
        let edited = file.replace("a = 1", "a = 2") + "b = 3\n";
        assert_eq!(without(&edited), "a = 2\nb = 3\n");
        assert_eq!(sealed_case(&edited).matches(MARK).count(), 1);
    }

    #[test]
    fn a_table_keeps_its_lines_and_gains_an_empty_column() {
        let table = sealed_table("speed,rpm\n1,2\n3,4\n");
        let lines: Vec<&str> = table.lines().collect();
        assert!(lines[0].starts_with("speed,rpm,slowcorner seal "));
        assert_eq!(lines[1..], ["1,2,", "3,4,"]);
    }

    #[test]
    fn what_is_no_text_is_not_ours() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("file");
        std::fs::write(&path, [0xff, 0xfe, 0x00]).unwrap();
        assert!(!is_intact(&path) && !is_intact(folder.path()) && !is_intact(&folder.path().join("none")));
    }
}
