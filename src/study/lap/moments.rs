//! From a recorded run to the moments that are solved: slips of the logger mended, gaps told, what is
//! not given found, rows that say nothing new left out.

use super::pace::{Finder, Pace};
use super::record::Record;
use crate::warnings::words;

/// Change of speed no car makes (m/s²).
const SPEED_SLIP: f64 = 60.0;
/// Least size of such a slip (m/s).
const LEAST_SPEED_SLIP: f64 = 3.0;
/// Change of engine speed no engine makes (rev/min each second).
const RPM_SLIP: f64 = 30_000.0;
/// Least size of such a slip (rev/min).
const LEAST_RPM_SLIP: f64 = 800.0;
/// Pedal travel below which a throttle counts as shut.
const SHUT: f64 = 0.05;
/// A step of time is a gap where it is longer than so many usual ones, and than a second.
const GAP: f64 = 5.0;
/// How far a row may lie from the straight line between its neighbours and be left out: road speed (m/s),
/// engine speed (rev/min), load.
const SAYS_NOTHING: [f64; 3] = [0.1, 20.0, 0.01];

/// The moments of a recorded run, from time 0, and what was done to it, in words.
///
/// # Errors
/// Words for why engine speed cannot be found.
pub fn moments(record: Record, finder: &Finder) -> Result<(Vec<Pace>, Vec<String>), String> {
    let Record { time, mut speed, rpm, load, throttle, mut notes, measured: _ } = record;
    let negative = speed.iter().filter(|v| **v < 0.0).count();
    if negative > 0 {
        speed.iter_mut().for_each(|v| *v = v.max(0.0));
        notes
            .push(format!("a road speed below zero in {}, taken as standing", words::count(negative, "row")));
    }
    tell_slips(mend(&time, &mut speed, SPEED_SLIP, LEAST_SPEED_SLIP), "road speed", &mut notes);
    tell_gaps(&time, &mut notes);
    let rpm = match rpm {
        Some(mut rpm) => {
            rpm.iter_mut().for_each(|n| *n = n.max(0.0));
            tell_slips(mend(&time, &mut rpm, RPM_SLIP, LEAST_RPM_SLIP), "engine speed", &mut notes);
            rpm
        }
        None if finder.has_gears() => {
            notes.push(
                "there is no column rpm: the engine speed is found in the lowest usable gear at each road speed, which is on the safe side where a higher one was used".to_string(),
            );
            speed.iter().map(|v| finder.rpm(*v).unwrap_or(0.0)).collect()
        }
        None => return Err("there is no column rpm, and the case has no [drive] to find it from".to_string()),
    };
    let load = match (load, throttle) {
        (Some(load), throttle) => {
            if throttle.is_some() {
                notes.push(
                    "the column throttle is left aside: pedal travel is not load, and load is given"
                        .to_string(),
                );
            }
            let beyond = load.iter().filter(|l| !(0.0..=1.0).contains(*l)).count();
            if beyond > 0 {
                notes.push(format!(
                    "a load outside 0 to 100 % in {}, taken as the nearer of the two",
                    words::count(beyond, "row")
                ));
            }
            load.into_iter().map(|l| l.clamp(0.0, 1.0)).collect()
        }
        (None, Some(throttle)) => {
            notes.push(format!(
                "the column throttle is not load: pedal travel says little of it. It is used only to tell when the throttle is shut (under {:.0} %), where the load is none; elsewhere {}",
                SHUT * 100.0,
                finder.load_in_words()
            ));
            let found = found_loads(&time, &speed, &rpm, finder);
            found.zip(&throttle).map(|(load, pedal)| if *pedal < SHUT { 0.0 } else { load }).collect()
        }
        (None, None) => {
            notes.push(format!("there is no column load: {}", finder.load_in_words()));
            found_loads(&time, &speed, &rpm, finder).collect::<Vec<f64>>()
        }
    };
    let begun = time.first().copied().unwrap_or(0.0);
    let rows = time.len();
    let paces: Vec<Pace> = (0..rows)
        .map(|i| Pace { time: time[i] - begun, speed: speed[i], rpm: rpm[i], load: load[i] })
        .collect();
    let kept = thin(&paces);
    if kept.len() < rows {
        notes.push(format!(
            "{} of {rows} rows are solved; the others lie on the straight line between these to within {:.1} km/h, {:.0} rpm and {:.1} % of load, so that no peak is lost",
            kept.len(),
            SAYS_NOTHING[0] * 3.6,
            SAYS_NOTHING[1],
            SAYS_NOTHING[2] * 100.0
        ));
    }
    Ok((kept, notes))
}

fn found_loads(time: &[f64], speed: &[f64], rpm: &[f64], finder: &Finder) -> impl Iterator<Item = f64> {
    let last = time.len() - 1;
    (0..time.len())
        .map(move |i| {
            // over about a second, so that a noisy speed does not open and shut the throttle
            let mut from = i;
            while from > 0 && time[i] - time[from] < 0.5 {
                from -= 1;
            }
            let mut to = i;
            while to < last && time[to] - time[i] < 0.5 {
                to += 1;
            }
            let acceleration = (speed[to] - speed[from]) / (time[to] - time[from]).max(1e-9);
            finder.load(speed[i], rpm[i], acceleration)
        })
        .collect::<Vec<f64>>()
        .into_iter()
}

/// Puts single values that jump away and back faster than anything moves on the line between their
/// neighbours. Gives how many.
fn mend(time: &[f64], values: &mut [f64], fastest: f64, least: f64) -> usize {
    let mut mended = 0;
    for i in 1..values.len().saturating_sub(1) {
        let (before, here, after) = (values[i - 1], values[i], values[i + 1]);
        let (away, back) = (here - before, after - here);
        let alone = away * back < 0.0 && away.abs() > least && back.abs() > least;
        let fast =
            away.abs() > fastest * (time[i] - time[i - 1]) && back.abs() > fastest * (time[i + 1] - time[i]);
        if alone && fast {
            values[i] = before + (after - before) * (time[i] - time[i - 1]) / (time[i + 1] - time[i - 1]);
            mended += 1;
        }
    }
    mended
}

fn tell_slips(mended: usize, what: &str, notes: &mut Vec<String>) {
    if mended > 0 {
        notes.push(format!(
            "{what} jumps and comes back faster than any car's in {}: drawn straight between the rows around",
            words::count(mended, "row")
        ));
    }
}

fn tell_gaps(time: &[f64], notes: &mut Vec<String>) {
    let mut steps: Vec<f64> = time.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let middle = steps.len() / 2;
    let (_, usual, _) = steps.select_nth_unstable_by(middle, f64::total_cmp);
    let longest_usual = (GAP * *usual).max(1.0);
    let gaps = time.windows(2).filter(|pair| pair[1] - pair[0] > longest_usual);
    let (mut count, mut longest) = (0, (0.0, 0.0));
    for pair in gaps {
        count += 1;
        if pair[1] - pair[0] > longest.0 {
            longest = (pair[1] - pair[0], pair[0] - time[0]);
        }
    }
    if count > 0 {
        notes.push(format!(
            "{} in time, the longest {:.1} s after {:.1} s: what the car did in them is drawn straight across",
            words::count(count, "gap"), longest.0, longest.1
        ));
    }
}

/// Leaves out what lies on the straight line between the moments kept: a cone of lines from the last one
/// kept is narrowed by every moment that follows, and where no line is left the moment before is kept.
fn thin(paces: &[Pace]) -> Vec<Pace> {
    let values = |pace: &Pace| [pace.speed, pace.rpm, pace.load];
    let (Some(first), Some(last)) = (paces.first(), paces.last()) else { return Vec::new() };
    let mut kept = vec![*first];
    let mut anchor = *first;
    let open = [(f64::NEG_INFINITY, f64::INFINITY); 3];
    let mut cone = open;
    let mut before = *first;
    for pace in &paces[1..] {
        let narrow = |cone: &mut [(f64, f64); 3], anchor: &Pace| {
            let (here, there) = (values(anchor), values(pace));
            let elapsed = pace.time - anchor.time;
            let mut inside = true;
            for i in 0..3 {
                let slope = (there[i] - here[i]) / elapsed;
                inside &= slope >= cone[i].0 && slope <= cone[i].1;
                let width = SAYS_NOTHING[i] / elapsed;
                cone[i] = (cone[i].0.max(slope - width), cone[i].1.min(slope + width));
            }
            inside
        };
        if !narrow(&mut cone, &anchor) {
            kept.push(before);
            anchor = before;
            cone = open;
            narrow(&mut cone, &anchor);
        }
        before = *pace;
    }
    if kept.last() != Some(last) {
        kept.push(*last);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pace(time: f64, speed: f64) -> Pace {
        Pace { time, speed, rpm: 100.0 * speed, load: 0.5 }
    }

    #[test]
    fn what_lies_on_a_line_is_left_out_and_peaks_stay() {
        let mut paces: Vec<Pace> = (0..=1000).map(|i| pace(0.01 * f64::from(i), 10.0)).collect();
        paces[500].load = 1.0;
        for (i, row) in paces.iter_mut().enumerate().skip(600) {
            row.speed = 10.0 + 0.02 * (i - 600) as f64;
        }
        let kept = thin(&paces);
        assert!(kept.len() < 12, "{kept:?}");
        assert!(kept.iter().any(|p| p.load == 1.0));
        // every row lies on the line between the ones kept
        for row in &paces {
            let at = kept.partition_point(|k| k.time <= row.time).clamp(1, kept.len() - 1);
            let (a, b) = (kept[at - 1], kept[at]);
            let share = (row.time - a.time) / (b.time - a.time);
            assert!((a.speed + share * (b.speed - a.speed) - row.speed).abs() <= 2.0 * SAYS_NOTHING[0]);
            assert!((a.load + share * (b.load - a.load) - row.load).abs() <= 2.0 * SAYS_NOTHING[2] + 1e-12);
        }
    }

    #[test]
    fn a_slip_is_mended_and_a_hard_braking_is_not() {
        let time: Vec<f64> = (0..10).map(|i| 0.1 * f64::from(i)).collect();
        let mut speed = vec![30.0; 10];
        speed[4] = 80.0;
        assert_eq!(mend(&time, &mut speed, SPEED_SLIP, LEAST_SPEED_SLIP), 1);
        assert_eq!(speed, vec![30.0; 10]);
        let mut braking: Vec<f64> = (0..10).map(|i| 30.0 - 1.5 * f64::from(i)).collect();
        let before = braking.clone();
        assert_eq!(mend(&time, &mut braking, SPEED_SLIP, LEAST_SPEED_SLIP), 0);
        assert_eq!(braking, before);
    }
}
