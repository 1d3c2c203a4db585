//! Commands as they are told: so that a shell takes them as they stand, and whole on one line to be copied.

use super::layout::{item, width, wrap};
use crate::point::result::Setting;
use std::fmt::Write;

/// Signs that no shell takes for something else in a bare word.
const PLAIN_SIGNS: &str = "/._-+=:,@%~";
/// Signs that a shell reads within double quotes too.
const READ_IN_QUOTES: [char; 5] = ['"', '$', '`', '\\', '!'];

/// A path or a value as a shell takes it: bare where that is safe.
pub(crate) fn word(text: &str) -> String {
    let is_bare = text.chars().all(|sign| sign.is_alphanumeric() || PLAIN_SIGNS.contains(sign));
    if is_bare && !text.is_empty() { text.to_string() } else { quoted(text) }
}

/// A text in quotes, in those that leave it as it is.
fn quoted(text: &str) -> String {
    if text.contains(READ_IN_QUOTES) {
        format!("'{}'", text.replace('\'', r"'\''"))
    } else {
        format!("\"{text}\"")
    }
}

/// What is set, as the command line takes it.
pub(super) fn as_set(setting: &Setting) -> String {
    format!("--set {}", quoted(&format!("{}={}", setting.address, setting.value)))
}

/// A text under a mark and the command that goes with it: behind it where there is room for all of it, else whole on a line
/// of its own, longer than the page where it must be, since half a command cannot be copied.
pub(super) fn under_mark(out: &mut String, mark: &str, text: &str, command: &str) {
    let hang = mark.chars().count();
    let gap = if text.ends_with(':') { " " } else { "  " };
    let last = wrap(text, width() - hang).last().map_or(0, |line| line.chars().count());
    if command.is_empty() {
        item(out, 0, mark, text);
    } else if hang + last + gap.len() + command.chars().count() <= width() {
        item(out, 0, mark, text);
        out.truncate(out.trim_end().len());
        let _ = writeln!(out, "{gap}{command}");
    } else {
        item(out, 0, mark, text);
        let _ = writeln!(out, "{:hang$}{command}", "");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shell_takes_a_path_as_it_is() {
        // POSIX.1-2017, Shell Command Language, 2.2 Quoting
        assert_eq!(word("cases/car-2.toml"), "cases/car-2.toml");
        assert_eq!(word("Zubehör/wagen.toml"), "Zubehör/wagen.toml");
        assert_eq!(word("my cars/a(1).toml"), "\"my cars/a(1).toml\"");
        assert_eq!(word("cost$s.toml"), "'cost$s.toml'");
        assert_eq!(word("it's \"it\".toml"), r#"'it'\''s "it".toml'"#);
        assert_eq!(word(""), "\"\"");
    }

    #[test]
    fn a_command_is_never_broken() {
        let long = format!("slowcorner doubt {}car.toml", "a-folder/".repeat(20));
        for command in ["--set \"passage/oil cooler/ram-inlet/area=84 cm2\"", &long] {
            for text in ["short:", "a text that goes on and on, ".repeat(6).trim_end()] {
                let mut out = String::new();
                under_mark(&mut out, "1  ", text, command);
                assert!(out.lines().any(|line| line.ends_with(command)), "{out}");
                assert!(out.starts_with("1  ") && out.ends_with('\n'), "{out}");
            }
        }
    }
}
