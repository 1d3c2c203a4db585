//! Recorded runs with measured columns as tests: what of a column becomes readings.

use crate::case::{Case, Diagnostic, FaultPlace};
use crate::readings::errors::ToolErrors;
use crate::readings::taken::{Readings, RunMoment, Shown, TakenReading};
use crate::readings::{Quantity, Reading};
use crate::study::lap::record::Record;

/// Parts of a run of which the mean is taken, of each column.
const PARTS: usize = 3;

/// Takes up the measured columns of the recorded run of a test: the mean of each over each third of the run, as readings. Gives
/// the run as it is to be followed: parts begin as measured, of several pieces the mean under the hottest.
///
/// # Errors
/// Where nothing can be read in it.
pub fn take_up(readings: &mut Readings, test: usize, mut record: Record) -> Result<Record, Box<Diagnostic>> {
    let own = &readings.tests[test];
    let Some(run) = own.run else { return Ok(record) };
    let case = &readings.scenes[own.scene].case;
    let instrument = run.instrument.map(|index| (index, &readings.instruments[index]));
    let (Some(first), Some(last)) = (record.time.first(), record.time.last()) else { return Ok(record) };
    let third = (last - first) / PARTS as f64;
    let mut found = Vec::new();
    for column in &mut record.measured {
        let what = match (case.part(&column.of), case.chamber(&column.of)) {
            (Some(part), _) => Quantity::Part(part),
            (None, Some(chamber)) => Quantity::Air(chamber),
            _ => continue,
        };
        for part in 0..PARTS {
            let (from, to) = (third * part as f64, third * (part + 1) as f64);
            let Some(mean) = mean(&record.time, &column.kelvin, (first + from, first + to)) else { continue };
            let mut tool = what.tool(case);
            if let Some((_, own)) = instrument {
                tool = ToolErrors {
                    within: own.within.unwrap_or(tool.within),
                    zero: own.zero,
                    scale: own.scale,
                };
            }
            let text = format!("{:.1} degC", mean - crate::air::ZERO_CELSIUS);
            found.push(TakenReading {
                reading: Reading { what, moment: 0 },
                shown: Shown::Value { value: mean, within: tool.within },
                text,
                tool,
                instrument: instrument.map(|(index, _)| index),
                when: Some(RunMoment::Mean(from, to)),
                lag: instrument.map_or(0.0, |(_, own)| own.lag),
                note: Some(column.column.clone()),
                span: 0..0,
            });
        }
        if let Quantity::Part(part) = what {
            let above = case.above_mean(part);
            column.kelvin.iter_mut().for_each(|kelvin| *kelvin -= above);
        }
    }
    if found.is_empty() && run.asked == 0 {
        let message = format!(
            "the recorded run of {} has no measured column, and nothing else was read in it",
            readings.tests[test].name
        );
        let way_out = "say which columns were measured: measured = { heads = \"CHT 2\" }; or read something: reading = [ … ]";
        return Err(Box::new(Diagnostic::new("nothing-measured", message, FaultPlace::Whole, way_out)));
    }
    readings.tests[test].readings.extend(found);
    Ok(record)
}

/// The mean of what was measured between two times (K), straight between the rows.
fn mean(time: &[f64], kelvin: &[f64], (from, to): (f64, f64)) -> Option<f64> {
    let mut sum = 0.0;
    for (place, pair) in time.windows(2).enumerate() {
        let (begun, end) = (pair[0].max(from), pair[1].min(to));
        if end <= begun || pair[1] <= pair[0] {
            continue;
        }
        let at = |when: f64| {
            kelvin[place] + (kelvin[place + 1] - kelvin[place]) * (when - pair[0]) / (pair[1] - pair[0])
        };
        sum += (end - begun) * 0.5 * (at(begun) + at(end));
    }
    (to > from).then(|| sum / (to - from)).filter(|mean| mean.is_finite())
}

/// Why the run of a test cannot be followed; none where it can.
pub fn not_followed(readings: &Readings, test: usize, record: Option<&Record>) -> Option<Diagnostic> {
    let own = &readings.tests[test];
    let run = own.run?;
    let case: &Case = &readings.scenes[own.scene].case;
    let model = crate::point::Model::new(case).ok()?;
    let stint = case.stints.get(run.stint)?;
    let (faults, _) = crate::study::lap::looked_at(case, &model, stint, record.cloned());
    if let Some(fault) = faults.list().first() {
        let message = format!("the run of {} cannot be followed: {}", own.name, fault.message);
        return Some(Diagnostic::new(
            "run-not-followed",
            message,
            FaultPlace::Whole,
            fault.what_to_do.clone(),
        ));
    }
    let end =
        crate::study::lap::length(case, &model, run.stint, record)? + run.soak.map_or(0.0, |(_, time)| time);
    let late = own.readings.iter().find_map(|taken| match taken.when? {
        RunMoment::At(time) if time > end => Some((taken, time)),
        _ => None,
    });
    late.map(|(taken, time)| {
        let message = format!(
            "{} of {} was read after {time:.0} s, and the run has {end:.0} s",
            taken.reading.name(case),
            own.name
        );
        let way_out = "at counts from the start of the run; a car that stood afterwards has soak";
        Diagnostic::new("read-after-run", message, FaultPlace::Span(taken.span.clone()), way_out)
    })
}
