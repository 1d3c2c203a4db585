//! How the program knows its own files again: a last line that holds a digest of all lines above it.
//!
//! A file that ends with a seal that fits was written by this program, and nobody has changed it since: it can be made
//! anew, and is written over. Everything else is somebody's work. The line is a comment in TOML, and in CSV for those who
//! read it as such.

use sha2::{Digest, Sha256};
use std::path::Path;

/// How the line begins; the digest stands behind it.
const BEGINS: &str = "# Written by slowcorner - written over while nothing above is changed - seal ";
/// Bytes of the digest that are kept: enough for slips, and nobody forges a table of his own.
const KEPT: usize = 8;
/// Larger files are not looked at: they count as somebody's work (bytes).
const LARGEST: u64 = 1 << 29;

/// A text with its seal; one that it had before goes.
pub(super) fn sealed(text: &str) -> String {
    let body = without(text);
    let gap = if body.is_empty() || body.ends_with('\n') { "" } else { "\n" };
    format!("{body}{gap}{BEGINS}{}\n", digest(body))
}

/// A text without the line of its seal, whether that fits or not.
pub(super) fn without(text: &str) -> &str {
    split(text).map_or(text, |(body, _)| body)
}

/// Whether a file was written by this program and is as it was then.
pub(super) fn is_intact(path: &Path) -> bool {
    let small = path.metadata().is_ok_and(|metadata| metadata.len() <= LARGEST);
    let text = if small { std::fs::read_to_string(path).ok() } else { None };
    text.as_deref().and_then(split).is_some_and(|(body, seal)| seal == digest(body))
}

/// What stands above the seal, and the seal.
fn split(text: &str) -> Option<(&str, &str)> {
    let whole = text.trim_end();
    let start = whole.rfind('\n').map_or(0, |newline| newline + 1);
    let seal = whole[start..].strip_prefix(BEGINS)?;
    Some((&whole[..start], seal))
}

/// The digest of a text, whichever way its lines end.
fn digest(body: &str) -> String {
    let mut hash = Sha256::new();
    for line in body.lines() {
        hash.update(line);
        hash.update("\n");
    }
    hash.finalize().iter().take(KEPT).map(|byte| format!("{byte:02x}")).collect()
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
        for text in ["", "a = 1", "a = 1\n", "# Written by slowcorner\nspeed,rpm\n1,2\n"] {
            let file = sealed(text);
            assert!(intact(&file), "{file}");
            assert!(intact(&file.replace('\n', "\r\n")), "line ends of another system are no change");
            assert_eq!(sealed(&file), file, "sealed twice is sealed once");
            assert_eq!(without(&file).trim_end(), text.trim_end());
            for edited in [format!("{file}more"), format!("b = 2\n{file}"), format!("{file}\nb = 2\n")] {
                assert!(!intact(&edited), "{edited}");
            }
            assert!(!intact(text));
        }
        assert!(!intact(&sealed("a = 1\n").replace("a = 1", "a = 2")));
        assert!(!intact(&sealed("a = 1\n").replace("seal ", "seal 0")));
    }

    #[test]
    fn what_is_no_text_is_not_ours() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("file");
        std::fs::write(&path, [0xff, 0xfe, 0x00]).unwrap();
        assert!(!is_intact(&path) && !is_intact(folder.path()) && !is_intact(&folder.path().join("none")));
    }
}
