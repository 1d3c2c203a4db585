use slowcorner::case::{Diagnostic, Loaded, load};
use slowcorner::readings::{file, taken::Readings};

/// A demo whose readings are invented beside it.
pub fn case() -> Loaded {
    let source = include_str!("../../cases/quarry-sprinter.toml");
    load(source, &[]).expect("a sound case")
}

/// A file that uses most of what there is.
pub const FILE: &str = r#"format = 1
title = "Saturday at the quarry"
date = "2026-11-28"
card = "7f3a"
case_sha256 = "e39c"

[instrument."U-tube"]
reads = "pressure"
within = "1 mm"
zero = "2 mmH2O"
fluid = "water"
slope = 10

[instrument.gauge]
reads = "temperature"
within = "4 K"
zero = "3 K"
scale = "1 %"
lag = "20 s"

[model_error]
parts = "10 K"

[[test]]
name = "60 km/h both ways"
on = "track"
speed = "60 km/h"
gear = 2
load = "40 % ± 10 %"
held = "3 min"
day = { temperature = "17 degC" }
reading = [
  { part = "heads", shows = "171 degC", with = "gauge", spot = "plug washer, exhaust side" },
  { part = "barrels", piece = "mean", shows = "300 degF ± 9 degF" },
  { between = ["bay", "left exit"], shows = "140 mm", with = "U-tube" },
  { between = ["bay", "tail"], shows = "" },
  { air = "bay", shows = "61 degC..67 degC" },
  { behind = "oil", shows = "70 degC" },
]

[[test]]
name = "as in the queue"
on = "track"
condition = "queue"
reading = { strip = "heads", turned = "160 degC", unturned = "171 degC" }

[[test]]
name = "engine off, cooler fan alone"
on = "bench"
reading = [{ between = ["bay"], shows = "0.3 mbar" }, { between = ["bay", "still air"], shows = "30 Pa ± 3 Pa" }]

[[test]]
name = "own exit"
on = "track"
layout = "cooler with its own exit"
condition = "hairpin"
load = "30 %"
reading = { part = "oil", shows = "99 degC" }

[[test]]
name = "a queue and one lap"
on = "track"
stint = "queue, then the hairpin"
day = { temperature = "19 degC" }
start = { heads = "80 degC" }
soak = "10 min"
reading = [
  { strip = "barrels", turned = "154 degC", unturned = "161 degC" },
  { part = "oil", shows = "88 degC", with = "gauge", at = "4:00" },
  { air = "bay", shows = "52 degC" },
]

[[test]]
name = "evening run"
on = "track"
trace = "run.csv"
condition = "straight"
wind = "2 m/s"
columns = { rpm = "N_ENG" }
measured = { heads = "CHT 2" }
with = "gauge"
"#;

/// The file as it is read.
pub fn read(text: &str) -> Readings {
    file::load(text, &case()).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// What a text is refused for.
pub fn faults(text: &str) -> Vec<Diagnostic> {
    file::load(text, &case()).expect_err("a faulty file").list().to_vec()
}
