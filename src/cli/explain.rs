//! `explain`: the page of an element, of a table or of a word, in the terminal.

use super::common::{DepthArguments, print_json_of};
use super::files::Outputs;
use super::{Failure, terminal};
use crate::case::diagnostic::did_you_mean;
use crate::element::kind;
use crate::output::explain::{Explanation, all, of};
use crate::output::{figures, text};
use clap::Args;
use std::path::{Path, PathBuf};

pub(super) const EXAMPLE: &str = "Example: slowcorner explain screen\nWithout a name it lists the kinds of element, the tables of the files and the words of the program.";

#[derive(Debug, Args)]
pub(super) struct ExplainArgs {
    /// A kind of element, a table of the case file, or a word; left out: a list of them
    #[arg(value_name = "NAME")]
    name: Vec<String>,
    #[command(flatten)]
    depth: DepthArguments,
    /// Draw the figures of an element into this folder
    #[arg(long, value_name = "FOLDER", requires = "name")]
    into: Option<PathBuf>,
    /// Write the pictures as SVG only
    #[arg(long, requires = "into")]
    svg_only: bool,
    /// Write the result as one JSON object to standard output
    #[arg(long)]
    json: bool,
}

impl ExplainArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        if self.name.is_empty() {
            let all: Vec<Explanation> = all().collect();
            if self.json {
                print_json_of(&serde_json::json!({ "explained": all }))?;
            } else {
                terminal::print(&text::explained(&all))?;
            }
            return Ok(true);
        }
        let name = self.name.join(" ");
        let found = of(&name).ok_or_else(|| unknown(&name))?;
        let written = match &self.into {
            Some(folder) => self.draw(&found, folder)?,
            None => Vec::new(),
        };
        if self.json {
            print_json_of(&found)?;
        } else {
            terminal::print(&text::explain(&found, &written, self.depth.depth()))?;
        }
        Ok(true)
    }

    fn draw(&self, found: &Explanation, folder: &Path) -> Result<Vec<String>, Failure> {
        let figures = kind(found.name).map_or(&[][..], |kind| kind.figures);
        if figures.is_empty() {
            let message = format!("there is no figure of {}", found.name);
            return Err(Failure::refused("figure-missing", &message, "leave out --into"));
        }
        let mut outputs = Outputs::of(Path::new(""), Vec::new(), Some(folder))?;
        for (more, draw) in figures {
            if let Some(figure) = draw() {
                let name = [found.name, more].join("-");
                outputs.add_chart(name.trim_end_matches('-'), &figures::chart(figure), !self.svg_only);
            }
        }
        outputs.write()
    }
}

fn unknown(name: &str) -> Failure {
    let names: Vec<&str> = all().map(|found| found.name).collect();
    let way_out = match did_you_mean(name, names.iter().copied()) {
        Some(meant) => format!("did you mean {meant}? slowcorner explain, without a name, lists all"),
        None => "slowcorner explain, without a name, lists all".to_string(),
    };
    Failure::refused("name-not-explained", &format!("{name:?} is not explained"), &way_out)
}
