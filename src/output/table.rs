//! The numbers of a sweep, or of a run in time, as comma-separated values.

use crate::study::document::Report;
use crate::study::sweep::result::AirDriver;
use crate::study::sweep::result::Sweep;

/// One row a speed: SI units and degrees Celsius, the unit in the heading; empty where a margin is
/// no number.
///
/// # Errors
/// Where a record cannot be written, which memory never refuses.
pub fn sweep_csv(sweep: &Sweep) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let Some(first) = sweep.points.first() else { return Ok(String::new()) };
    let mut kinds: Vec<&str> = Vec::new();
    let mut sources: Vec<AirDriver> = Vec::new();
    for point in &sweep.points {
        for kind in point.takes_Pa.keys() {
            if !kinds.contains(kind) {
                kinds.push(kind);
            }
        }
        for source in point.gives_Pa.keys() {
            if !sources.contains(source) {
                sources.push(*source);
            }
        }
    }
    let mut heading = vec![
        "speed (m/s)".to_string(),
        "speed (km/h)".into(),
        "gear".into(),
        "rpm".into(),
        "cooling drag (N)".into(),
    ];
    for (name, _) in first.parts.iter() {
        heading.push(format!("{name} temperature (degC)"));
        heading.push(format!("{name} margin (K)"));
        heading.push(format!("{name} flow margin (1)"));
        heading.push(format!("{name} margin is"));
    }
    heading.extend(sources.iter().map(|source| format!("{source} gives (Pa)")));
    heading.extend(kinds.iter().map(|kind| format!("{kind} takes (Pa)")));
    writer.write_record(&heading)?;
    for point in &sweep.points {
        let mut row = vec![
            point.speed_m_s.to_string(),
            (point.speed_m_s * 3.6).to_string(),
            point.gear.to_string(),
            point.rpm.to_string(),
            point.cooling_drag_N.to_string(),
        ];
        for (_, part) in point.parts.iter() {
            row.push(part.temperature_C.to_string());
            let kelvin = part.temperature_margin_K;
            row.push(if kelvin.is_finite() { kelvin.to_string() } else { String::new() });
            row.push(part.flow_margin.map_or(String::new(), |margin| margin.to_string()));
            row.push(part.margin_is.to_string());
        }
        let amount = |value: Option<&f64>| value.copied().unwrap_or(0.0).to_string();
        row.extend(sources.iter().map(|source| amount(point.gives_Pa.get(source))));
        row.extend(kinds.iter().map(|kind| amount(point.takes_Pa.get(kind))));
        writer.write_record(&row)?;
    }
    finished(writer)
}

/// One row a moment of every stint: seconds, m/s and km/h, degrees Celsius of parts and of chambers' air.
///
/// # Errors
/// Where a record cannot be written, which memory never refuses.
pub fn lap_csv(report: &Report) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let Some(first) = report.stints.first() else { return Ok(String::new()) };
    let mut heading =
        vec!["stint".to_string(), "time (s)".into(), "speed (m/s)".into(), "speed (km/h)".into()];
    heading.extend(first.parts.iter().map(|(name, _)| format!("{name} temperature (degC)")));
    heading.extend(first.chambers.iter().map(|(name, _)| format!("{name} air (degC)")));
    writer.write_record(&heading)?;
    for stint in &report.stints {
        let course = &stint.course;
        for (row, (time, speed)) in course.time.iter().zip(&course.speed).enumerate() {
            let mut cells =
                vec![stint.name.clone(), format!("{time:.3}"), speed.to_string(), (speed * 3.6).to_string()];
            let columns = course.parts.iter().chain(&course.chambers);
            cells.extend(
                columns.map(|column| column.get(row).map_or(String::new(), |value| format!("{value:.2}"))),
            );
            writer.write_record(&cells)?;
        }
    }
    finished(writer)
}

/// The text of a finished table.
fn finished(writer: csv::Writer<Vec<u8>>) -> Result<String, csv::Error> {
    let bytes = writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}
