//! Mutants of the formulas, all in one build: `write` makes a copy of the sources in which each can be switched on,
//! `run` sees which of them no test notices.

mod run;
mod sites;
mod switch;
mod write;

use std::path::Path;

const HELP: &str =
    "mutants write SOURCE COPY FOLDER...      a copy of a crate with mutants in these folders of its src
mutants touched COPY BINARY...           which mutants each test of these binaries reaches
mutants run COPY SECONDS [FOLDER...]     tries those not yet tried, for so long";

fn main() -> std::io::Result<()> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words[..] {
        ["write", source, copy, ref folders @ ..] => {
            write::write(Path::new(source), Path::new(copy), folders)
        }
        ["touched", copy, ref binaries @ ..] => run::touched(Path::new(copy), binaries),
        ["run", copy, seconds, ref folders @ ..] => {
            run::run(Path::new(copy), seconds.parse().unwrap_or(100), folders)
        }
        _ => {
            println!("{HELP}");
            Ok(())
        }
    }
}
