//! `completions`, `manual` and `schema`: what a shell, a manual reader and an editor want to know.

use super::common::print_json_of;
use super::{Arguments, Failure, terminal};
use crate::{case, readings};
use clap::{Args, Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

pub(super) const COMPLETIONS_EXAMPLE: &str =
    "Example: slowcorner completions bash > ~/.local/share/bash-completion/completions/slowcorner";
pub(super) const MANUAL_EXAMPLE: &str = "Example: slowcorner manual > slowcorner.1; man ./slowcorner.1";

pub(super) const SCHEMA_EXAMPLE: &str = "Example: slowcorner schema > case.schema.json";

#[derive(Debug, Args)]
pub(super) struct Completions {
    /// The shell that is to complete commands and options
    #[arg(value_enum)]
    shell: Shell,
}

impl Completions {
    pub fn run(&self) -> Result<bool, Failure> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Arguments::command(), "slowcorner", &mut script);
        terminal::print(&String::from_utf8_lossy(&script))?;
        Ok(true)
    }
}

#[derive(Debug, Args)]
pub(super) struct Manual;

impl Manual {
    pub fn run(&self) -> Result<bool, Failure> {
        let page = page().map_err(|error| Failure::Failed(error.to_string()))?;
        terminal::print(&String::from_utf8_lossy(&page))?;
        Ok(true)
    }
}

#[derive(Debug, Args)]
pub(super) struct Schema {
    /// That of the readings file instead
    #[arg(long)]
    readings: bool,
}

impl Schema {
    pub fn run(&self) -> Result<bool, Failure> {
        print_json_of(&if self.readings { readings::schema::schema() } else { case::schema::schema() })?;
        Ok(true)
    }
}

/// One page for the program and all its commands.
fn page() -> std::io::Result<Vec<u8>> {
    let mut program = Arguments::command();
    program.build();
    let mut page = Vec::new();
    let head = Man::new(program.clone());
    head.render_title(&mut page)?;
    head.render_name_section(&mut page)?;
    head.render_synopsis_section(&mut page)?;
    head.render_description_section(&mut page)?;
    for command in program.get_subcommands().filter(|command| command.get_name() != "help") {
        page.extend(section(command)?);
    }
    let mut foot = Vec::new();
    head.render_extra_section(&mut foot)?;
    page.extend(lines_kept(&String::from_utf8_lossy(&foot), "EXIT STATUS").into_bytes());
    head.render_version_section(&mut page)?;
    Ok(page)
}

/// The section of one command: its own headings one step down.
fn section(command: &Command) -> std::io::Result<Vec<u8>> {
    let own = Man::new(command.clone());
    let mut text = Vec::new();
    own.render_synopsis_section(&mut text)?;
    own.render_description_section(&mut text)?;
    own.render_options_section(&mut text)?;
    let mut extra = Vec::new();
    own.render_extra_section(&mut extra)?;
    text.extend(lines_kept(&String::from_utf8_lossy(&extra), "EXAMPLE").into_bytes());
    let name = command.get_name().to_uppercase();
    let text = String::from_utf8_lossy(&text).replace("\n.SH ", "\n.SS ");
    let text = text.strip_prefix(".SH ").map_or(text.clone(), |rest| format!(".SS {rest}"));
    Ok(format!(".SH {name}\n{text}").into_bytes())
}

/// What stands below a command's help, under a heading of its own and line by line.
fn lines_kept(extra: &str, heading: &str) -> String {
    let Some((_, text)) = extra.split_once(".SH EXTRA\n") else { return extra.to_string() };
    format!(".SH \"{heading}\"\n{}\n", text.trim_end().replace('\n', "\n.br\n"))
}
