//! A run held against the car before it is believed.

use super::pace::Finder;
use super::record::Record;
use crate::case::Warning;
use crate::keys::figures;
use crate::keys::kind::short_number;
use crate::warnings::words;

/// Rows looked at, spread over the run.
const SAMPLED: usize = 2000;
/// Road speed (m/s) above which a gear is surely in, clutch home.
const ROLLING: f64 = 6.0;
/// How far rpm may lie from a gear's: tyres grow and slip by some per cent (common practice).
const OFF: f64 = 0.08;
/// Share of rows that may fit no gear: gear changes, the clutch, free rolling (common practice).
const MAY_MISFIT: f64 = 0.4;
/// Factors tried where hardly a row fits: in steps of 1 %, from a fortieth to forty times.
const FACTORS: std::ops::RangeInclusive<i32> = -370..=370;
/// Drag area (m²) of the most slender car (common practice).
const LEAST_DRAG_AREA: f64 = 0.3;
/// Share of the run that gaps may take.
const GAPS: f64 = 0.05;
/// Rows from which a column that never changes is no accident.
const CONSTANT: usize = 20;

/// What in a recorded run is hard to believe of this car, at the address of its stint.
pub(super) fn doubts(record: &Record, finder: &Finder, address: &str, laps: bool) -> Vec<Warning> {
    let mut found = Vec::new();
    let place = format!("{address}/trace");
    let mut tell = |code: &'static str, message: String| {
        found.push(Warning { code, message, place: Some(place.clone()) });
    };
    if let Some(message) = gears(record, finder) {
        tell("run-fits-no-gear", message);
    }
    if let Some(message) = speeds(record, finder) {
        tell("run-speed-beyond-power", message);
    }
    for message in constants(record) {
        tell("run-column-constant", message);
    }
    if let Some(message) = gaps(record) {
        tell("run-gaps", message);
    }
    if let Some(load) = &record.load {
        let most = load.iter().copied().fold(0.0, f64::max);
        if most > 0.0 && most <= 0.0101 {
            let message = format!(
                "the load never exceeds {:.2} %, so that the engine as good as idles all the time; if the column holds shares from 0 to 1, head it load (1)",
                most * 100.0
            );
            tell("run-load-in-shares", message);
        }
    }
    let (first, last) = (record.speed.first().copied(), record.speed.last().copied());
    if let (true, Some(first), Some(last)) = (laps, first, last)
        && (first - last).abs() > APART
    {
        tell("laps-do-not-meet", do_not_meet(last, first));
    }
    found
}

/// How far speeds may lie apart where laps or legs join (m/s): 10 km/h.
pub(super) const APART: f64 = 10.0 / 3.6;

/// Laps that are joined by a jump.
pub(super) fn do_not_meet(last: f64, first: f64) -> String {
    format!(
        "a lap ends at {} and the next begins at {}: no car does that; cut the run at one point of the lap, from line to line, or leave laps out",
        words::speed(last),
        words::speed(first)
    )
}

/// Rows of some size, spread over the run.
fn sampled(count: usize) -> impl Iterator<Item = usize> {
    (0..count).step_by(count.div_ceil(SAMPLED).max(1))
}

/// Engine speed over road speed, against the gears.
fn gears(record: &Record, finder: &Finder) -> Option<String> {
    let (rpm, gears) = (record.rpm.as_ref()?, finder.rpm_per_speed()?);
    let rows = sampled(rpm.len()).filter(|i| record.speed[*i] > ROLLING && rpm[*i] > 0.0);
    let ratios: Vec<f64> = rows.map(|i| rpm[i] / record.speed[i]).collect();
    if ratios.len() < CONSTANT {
        return None;
    }
    let fits =
        |ratio: f64, factor: f64| gears.iter().any(|gear| (ratio / (gear * factor) - 1.0).abs() <= OFF);
    let share = |factor: f64| {
        ratios.iter().filter(|ratio| fits(**ratio, factor)).count() as f64 / ratios.len() as f64
    };
    let misfit = 1.0 - share(1.0);
    if misfit <= MAY_MISFIT {
        return None;
    }
    // of the factors that fit as many rows, the one that fits them best
    let off = |factor: f64| {
        let nearest = |ratio: &f64| {
            let each = gears.iter().map(|gear| (ratio / (gear * factor)).ln().abs());
            each.fold(f64::INFINITY, f64::min)
        };
        ratios.iter().map(nearest).sum::<f64>() / ratios.len() as f64
    };
    let factors: Vec<(f64, f64)> =
        FACTORS.map(|step| 1.01_f64.powi(step)).map(|factor| (factor, share(factor))).collect();
    let most = factors.iter().map(|(_, share)| *share).fold(0.0, f64::max);
    let as_many = factors.into_iter().filter(|(_, share)| *share > most - 0.02);
    let best = as_many.min_by(|a, b| off(a.0).total_cmp(&off(b.0))).unwrap_or((1.0, 0.0));
    let mut sorted = ratios.clone();
    sorted.sort_by(f64::total_cmp);
    let usual = sorted[sorted.len() / 2];
    let nearest = gears.iter().enumerate().min_by(|a, b| {
        let off = |gear: f64| (usual / gear).ln().abs();
        off(*a.1).total_cmp(&off(*b.1))
    });
    let (gear, of) = nearest.map_or((1, usual), |(index, gear)| (index + 1, *gear));
    let all = if best.1 > 0.6 && best.1 > share(1.0) + 0.3 {
        format!("; {:.0} % would fit were every gear {:.2} times what it is", 100.0 * best.1, best.0)
    } else {
        String::new()
    };
    Some(format!(
        "in {:.0} % of the rows the rpm fits no gear (half-way through them it is {:.2} of gear {gear}){all}; check the unit of speed and rpm in the file, and gears, final_drive and tyre_radius",
        100.0 * misfit,
        usual / of
    ))
}

/// The fastest speed held, against what the engine's power can hold.
fn speeds(record: &Record, finder: &Finder) -> Option<String> {
    let mut speeds: Vec<f64> = sampled(record.speed.len()).map(|i| record.speed[i]).collect();
    speeds.sort_by(f64::total_cmp);
    let fast = *speeds.get(speeds.len().checked_sub(1 + speeds.len() / 50)?)?;
    let held = (2.0 * finder.peak_power() / (1.2 * LEAST_DRAG_AREA)).cbrt();
    (fast > 1.15 * held).then(|| {
        format!(
            "the car does {} for a while, and {} hold no more than {} even against a drag area of {} m²; check the unit of speed, and the engine's power",
            words::speed(fast),
            figures::power(finder.peak_power()),
            words::speed(held),
            short_number(LEAST_DRAG_AREA)
        )
    })
}

/// Columns that never change.
fn constants(record: &Record) -> Vec<String> {
    let never = |values: &[f64]| values.len() > CONSTANT && values.iter().all(|value| *value == values[0]);
    let mut found = Vec::new();
    let mut tell = |name: &str, values: Option<&Vec<f64>>, shown: String| {
        if values.is_some_and(|values| never(values)) {
            found.push(format!(
                "{name} is {shown} in every row: a sensor that was not there, or not connected; leave the column out if so"
            ));
        }
    };
    let first = |values: Option<&Vec<f64>>| values.and_then(|values| values.first().copied()).unwrap_or(0.0);
    let (rpm, load) = (record.rpm.as_ref(), record.load.as_ref());
    tell("speed", Some(&record.speed), words::speed(first(Some(&record.speed))));
    tell("rpm", rpm, format!("{:.0} rpm", first(rpm)));
    tell("load", load, format!("{:.0} %", 100.0 * first(load)));
    for measured in &record.measured {
        let shown = format!("{:.0} °C", first(Some(&measured.kelvin)) - 273.15);
        tell(&format!("{} as measured", measured.of), Some(&measured.kelvin), shown);
    }
    found
}

/// Gaps in time that take a good part of the run.
fn gaps(record: &Record) -> Option<String> {
    let mut steps: Vec<f64> = record.time.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let all: f64 = steps.iter().sum();
    steps.sort_by(f64::total_cmp);
    let usual = *steps.get(steps.len() / 2)?;
    let long: Vec<f64> = steps.into_iter().filter(|step| *step > (5.0 * usual).max(1.0)).collect();
    let lost: f64 = long.iter().sum();
    (lost > GAPS * all).then(|| {
        format!(
            "{} take {:.0} s of {all:.0} s, in which nobody knows what the car did; log without breaks, or make a file of each piece",
            words::count(long.len(), "gap"),
            lost
        )
    })
}
