//! `estimate`: a first estimate from the engine's power, without a file.

use super::common::{DepthArguments, print_json_of};
use super::{Failure, terminal};
use crate::case::overrides;
use crate::output::text;
use crate::study::estimate::result::EstimateFan;
use crate::study::estimate::{Fault, Inputs, WAYS, estimate, tables as t};
use clap::{Args, ValueEnum};

pub(super) const EXAMPLE: &str = "Example: slowcorner estimate --power \"30 kW\" --displacement \"850 cm3\" --rpm \"5600 rpm\" --slow \"38 km/h\" --fan driven
Any value may say how sure you are (\"30 kW ± 2 kW\", \"25..30 %\"); --set takes every key of the list that the estimate ends with.";

/// What drives the air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum FanChoice {
    /// A fan turned by the engine
    Driven,
    /// A fan with a motor of its own
    Electric,
    /// Ram alone
    None,
}

impl FanChoice {
    /// What it is in the estimate.
    fn of_estimate(self) -> EstimateFan {
        match self {
            FanChoice::None => EstimateFan::None,
            FanChoice::Driven => EstimateFan::Driven,
            FanChoice::Electric => EstimateFan::Electric,
        }
    }
}

#[derive(Debug, Args)]
pub(super) struct EstimateArgs {
    /// Shaft power at full throttle, as made on the day: "30 kW", "40 hp"
    #[arg(long, value_name = "POWER", allow_hyphen_values = true)]
    power: String,
    /// Swept volume of all cylinders: "850 cm3"
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    displacement: Option<String>,
    /// Engine speed of that power: "5600 rpm"
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    rpm: Option<String>,
    /// Strokes of a working cycle, 2 or 4
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true)]
    strokes: Option<String>,
    /// Brake power over the fuel's heat at full throttle: "25 %"
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    brake_efficiency: Option<String>,
    /// Air over the track: "30 degC"
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    air_temperature: Option<String>,
    /// Height of the place: "400 m"
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    altitude: Option<String>,
    /// Road speed in the slowest corner: "40 km/h"
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    slow: Option<String>,
    /// Road speed at full power: "140 km/h"
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    fast: Option<String>,
    /// What drives the air; left out: all three side by side
    #[arg(long, value_enum)]
    fan: Option<FanChoice>,
    /// Limit of a part: "heads=200 degC", "barrels=180 degC" or "oil=115 degC"; any number of times
    #[arg(long, value_name = "PART=TEMPERATURE")]
    limit: Vec<String>,
    /// How much the air warms over heads, barrels and cooler alike, instead of limits: "60 K"
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    rise: Option<String>,
    /// Set any share or coefficient of the estimate, e.g. "heat_share=18 %"; any number of times
    #[arg(long = "set", value_name = "KEY=VALUE")]
    set: Vec<String>,
    #[command(flatten)]
    depth: DepthArguments,
    /// Write the result as one JSON object to standard output
    #[arg(long)]
    json: bool,
}

impl EstimateArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let inputs = Inputs::read(&self.given()?).map_err(|faults| refuse(&faults))?;
        let ways = match self.fan {
            None => WAYS.to_vec(),
            Some(FanChoice::None) => vec![WAYS[0]],
            Some(fan) => vec![WAYS[0], fan.of_estimate()],
        };
        let found = estimate(&inputs, &ways);
        if self.json {
            print_json_of(&found)?;
        } else {
            terminal::print(&text::estimate(&found, self.depth.depth()))?;
        }
        Ok(true)
    }

    /// Keys with the text of their values.
    fn given(&self) -> Result<Vec<(String, String)>, Failure> {
        let options = [
            (t::POWER.name, Some(&self.power)),
            (t::DISPLACEMENT.name, self.displacement.as_ref()),
            (t::RPM.name, self.rpm.as_ref()),
            ("strokes", self.strokes.as_ref()),
            ("brake_efficiency", self.brake_efficiency.as_ref()),
            (t::AIR_TEMPERATURE.name, self.air_temperature.as_ref()),
            ("altitude", self.altitude.as_ref()),
            (t::SLOW.name, self.slow.as_ref()),
            (t::FAST.name, self.fast.as_ref()),
            (t::RISE.name, self.rise.as_ref()),
        ];
        let told = options.into_iter().filter_map(|(key, text)| Some((key.to_string(), text?.clone())));
        let mut given: Vec<(String, String)> = told.collect();
        for text in &self.limit {
            let (part, limit) = split(text, "--limit \"oil=115 degC\"")?;
            given.push((format!("{part}_limit"), limit));
        }
        for text in &self.set {
            given.push(split(text, "--set \"heat_share=18 %\"")?);
        }
        Ok(given)
    }
}

fn split(text: &str, example: &str) -> Result<(String, String), Failure> {
    overrides::split(text).map_err(|fault| {
        Failure::refused(fault.code, &fault.message, &format!("write for example {example}"))
    })
}

fn refuse(faults: &[Fault]) -> Failure {
    let one = |fault: &Fault| {
        let option = fault.key.replace('_', "-");
        let given =
            if fault.text.is_empty() { String::new() } else { format!("  {option}: {}\n", fault.text) };
        format!("fault: {}\n  {}\n{given}  What to do: {}\n", fault.code, fault.message, fault.what_to_do)
    };
    let list: Vec<String> = faults.iter().map(one).collect();
    Failure::Refused(list.join("\n"))
}
