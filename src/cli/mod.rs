//! The command line: arguments in, exit status out.

mod air;
mod check;
mod common;
mod compare;
mod doubt;
mod drawing;
mod estimate;
mod exits;
mod explain;
mod fault;
mod files;
mod fit;
mod fitted_copy;
mod interrupt;
mod lap;
mod moved;
mod progress;
mod recorded;
mod report;
mod seal;
mod shell;
mod size;
mod start;
mod steps;
mod stop;
mod sweep;
mod tape;
mod templates;
mod temporary;
mod terminal;
mod testcard;
mod why;
mod written;

use crate::output::text;
use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;
use std::process::ExitCode;

/// Sizes the cooling-air openings of a one-off car with an enclosed air-cooled engine, and checks
/// them down to the slowest corner.
#[derive(Debug, Parser)]
#[command(name = "slowcorner", version, after_help = STATUS, arg_required_else_help = true)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

const STATUS: &str = "Exit status: 0 every margin met, or a study done; 1 solved, and a margin is missed (check), or no sizes can \
meet it (size, templates, steps); 2 the case or the command line was refused; 3 the program failed.";

#[derive(Debug, Subcommand)]
enum Command {
    /// Heat, air and first openings as ranges, from the engine's power alone; needs no file
    #[command(after_help = estimate::EXAMPLE)]
    Estimate(estimate::EstimateArgs),
    /// Write a commented starter case that runs as it is
    #[command(after_help = start::EXAMPLE)]
    Start(start::StartArgs),
    /// Solve every condition of a case: temperatures, margins, flows, warnings
    #[command(after_help = check::EXAMPLE)]
    Check(check::CheckArgs),
    /// Margin against road speed in the gears really used, with charts
    #[command(after_help = sweep::EXAMPLE)]
    Sweep(sweep::SweepArgs),
    /// Run the stints of a case in time: peaks, seconds over a limit, queue and soak, with charts
    #[command(after_help = lap::EXAMPLE)]
    Lap(lap::Lap),
    /// Where a number came from: formulas, values, where the pressure goes, what 10 % more area buys, what rules it
    #[command(after_help = why::EXAMPLE)]
    Why(why::WhyArgs),
    /// What decides: each guess with its band, and what knowing it would leave of the doubt
    #[command(after_help = doubt::EXAMPLE)]
    Doubt(doubt::DoubtArgs),
    /// Readings of the real car back into the case: what to believe, what is left of the doubt, and the fitted case
    #[command(after_help = fit::EXAMPLE)]
    Fit(fit::FitArgs),
    /// Draw the air of each condition: a plan with channels as wide as their flow
    #[command(after_help = air::EXAMPLE)]
    Air(air::AirArgs),
    /// Size the free openings of a case, and write the sized case and its chart
    #[command(after_help = size::EXAMPLE)]
    Size(size::SizeArgs),
    /// Cut in steps: which line next, what is then to be read, when to stop, and what is never stopped at
    #[command(after_help = steps::EXAMPLE)]
    Steps(steps::StepsArgs),
    /// How much tape today: whole strips by air temperature, running, following, in the queue and in the wet
    #[command(after_help = tape::EXAMPLE)]
    Tape(tape::TapeArgs),
    /// What to read on the bench and on the road, what it should show, and what each reading is worth
    #[command(after_help = testcard::EXAMPLE)]
    Testcard(testcard::Testcard),
    /// Templates of the openings, full size: what to cut first, next, and never beyond, as PDF, SVG and DXF
    #[command(after_help = templates::EXAMPLE)]
    Templates(templates::TemplatesArgs),
    /// The case and each of its layouts side by side, best and worst, with overlaid charts
    #[command(after_help = compare::EXAMPLE)]
    Compare(compare::Compare),
    /// Why the exits should be as large as that: inlets needed, margins, knee, pressure, map, with charts
    #[command(after_help = exits::EXAMPLE)]
    Exits(exits::ExitsArgs),
    /// Everything that a case makes possible, as one page to print and hand on
    #[command(after_help = report::EXAMPLE)]
    Report(report::ReportArgs),
    /// What a kind of element, a table of the case file or a word stands for, with its keys, law and sources
    #[command(after_help = explain::EXAMPLE)]
    Explain(explain::ExplainArgs),
    /// Write a script that completes commands and options in a shell, to standard output
    #[command(after_help = shell::COMPLETIONS_EXAMPLE)]
    Completions(shell::Completions),
    /// Write the manual page, to standard output
    #[command(after_help = shell::MANUAL_EXAMPLE)]
    Manual(shell::Manual),
    /// Write the JSON schema of the case file (draft 2020-12), for editors, to standard output
    #[command(after_help = shell::SCHEMA_EXAMPLE)]
    Schema(shell::Schema),
}

/// What every command takes.
#[derive(Debug, Args)]
struct CaseArguments {
    /// The case file
    case: PathBuf,
    /// Set one value of the case for this run, e.g. "condition/hairpin/speed=43 km/h"; any number of times
    #[arg(long = "set", value_name = "ADDRESS=VALUE")]
    set: Vec<String>,
    /// Write the result as one JSON object to standard output
    #[arg(long)]
    json: bool,
}

/// The exit status.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
enum ExitStatus {
    /// Every margin met, or a study done.
    Met = 0,
    /// Solved, and a margin is missed; or no sizes can meet it.
    Missed = 1,
    /// The case or the command line was refused.
    Refused = 2,
    /// The program failed.
    Failed = 3,
}

impl From<ExitStatus> for ExitCode {
    fn from(exit: ExitStatus) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

/// How a run ends without an answer.
#[derive(Debug)]
enum Failure {
    /// The case or the command line was refused; the text says why.
    Refused(String),
    /// No steady state, or a fault of the program.
    Failed(String),
    /// The answer was found and could not be told.
    Unsaid(String),
}

impl Failure {
    /// A refusal with its code in words and its way out.
    fn refused(code: &str, message: &str, what_to_do: &str) -> Failure {
        Failure::Refused(format!("fault: {code}\n  {message}\n  What to do: {what_to_do}"))
    }
}

/// Runs the program.
pub fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => return told(&error).into(),
    };
    if let Some(columns) = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok()) {
        text::layout::set_width(columns);
    }
    let status = match fault::caught(|| arguments.command.run()) {
        Ok(true) => ExitStatus::Met,
        Ok(false) => ExitStatus::Missed,
        Err(Failure::Refused(text)) => {
            terminal::complain(&text);
            ExitStatus::Refused
        }
        Err(Failure::Failed(text)) => {
            terminal::complain(&format!(
                "{}\nThis is a fault of slowcorner, not of yours. Nothing was written. Please report it with the case file and this text.",
                text.trim_end()
            ));
            ExitStatus::Failed
        }
        Err(Failure::Unsaid(text)) => {
            terminal::complain(&text);
            ExitStatus::Failed
        }
    };
    status.into()
}

impl Command {
    fn run(&self) -> Result<bool, Failure> {
        match self {
            Command::Estimate(estimate) => estimate.run(),
            Command::Start(start) => start.run(),
            Command::Check(check) => check.run(),
            Command::Sweep(sweep) => sweep.run(),
            Command::Lap(lap) => lap.run(),
            Command::Why(why) => why.run(),
            Command::Doubt(doubt) => doubt.run(),
            Command::Fit(fit) => fit.run(),
            Command::Air(air) => air.run(),
            Command::Size(size) => size.run(),
            Command::Steps(steps) => steps.run(),
            Command::Tape(tape) => tape.run(),
            Command::Testcard(testcard) => testcard.run(),
            Command::Templates(templates) => templates.run(),
            Command::Compare(compare) => compare.run(),
            Command::Exits(exits) => exits.run(),
            Command::Report(report) => report.run(),
            Command::Explain(explain) => explain.run(),
            Command::Completions(completions) => completions.run(),
            Command::Manual(manual) => manual.run(),
            Command::Schema(schema) => schema.run(),
        }
    }
}

/// Says what is wrong with a command line, or the help or version that it asks for; gives the exit status.
fn told(error: &clap::Error) -> ExitStatus {
    let text = error.render().ansi().to_string();
    if error.use_stderr() {
        terminal::complain(&text);
        return ExitStatus::Refused;
    }
    match terminal::print(&text) {
        Err(Failure::Refused(text) | Failure::Failed(text) | Failure::Unsaid(text)) => {
            terminal::complain(&text);
            ExitStatus::Failed
        }
        Ok(()) => ExitStatus::Met,
    }
}
