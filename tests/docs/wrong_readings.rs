//! The page of readings that look right and are wrong: what the program says to each is found by reading it.

use super::keep;
use crate::readings::{slips, support};
use slowcorner::readings::file;
use std::fmt::Write;

/// A piece of a file on one line of a table.
fn quoted(text: &str) -> String {
    let text = text.trim().replace('\n', "  ").replace('|', "\\|");
    if text.is_empty() { "nothing".to_string() } else { format!("`{text}`") }
}

#[test]
fn the_page_of_wrong_readings_says_what_the_program_says() {
    let case = support::case();
    let mut page = String::from(
        "# Readings that look right and are wrong\n\n\
         Written by running each slip on a sound readings file of the first demo (`SLOWCORNER_WRITE_DOCS=1 cargo test --test program docs::`). All faults of a file\n\
         are told at once. What can only be known by reckoning (Pa for mmH2O, swapped taps, °F, a digit too many) is not refused but asked about by `fit`\n\
         ([fit.md](fit.md)).\n\n\
         | slip | in place of | stands | answer |\n| --- | --- | --- | --- |\n",
    );
    for (title, from, to, code) in slips::SLIPS {
        let text = support::FILE.replacen(from, to, 1);
        let faults = file::load(&text, &case).expect_err(title);
        let fault = faults.list().iter().find(|fault| fault.code == *code);
        let fault = fault.unwrap_or_else(|| panic!("{title}: {faults:?}"));
        let said = format!("`{code}`: {}; {}", fault.message, fault.what_to_do).replace('|', "\\|");
        let _ = writeln!(page, "| {title} | {} | {} | {said} |", quoted(from), quoted(to));
    }
    keep("docs/wrong-readings.md", &page);
}
