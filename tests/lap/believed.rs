//! Runs held against the car before they are believed, and temperatures that were measured beside those found.

use crate::lap::{load, run};
use slowcorner::case::Warning;
use slowcorner::study::lap::{lap, record};

const STINTS: &str = include_str!("stint.toml");

/// The car of the stints with a stint of its own.
fn case(stint: &str) -> String {
    let (head, _) = STINTS.split_once("[[stint]]").expect("stints stand at the end");
    format!("{head}[[stint]]\nname = \"run\"\n{stint}\n")
}

/// A run on the road: time, road speed, engine speed in a gear of the car, load.
fn rows(seconds: usize, row: impl Fn(f64) -> (f64, f64, f64)) -> String {
    let mut text = String::from("time (s),speed (km/h),rpm,load (%)\n");
    for i in 0..=2 * seconds {
        let time = 0.5 * i as f64;
        let (speed, rpm, load) = row(time);
        text += &format!("{time},{speed:.2},{rpm:.0},{load:.0}\n");
    }
    text
}

/// Engine speed (rev/min) at 1 km/h in a gear of the car.
fn turns(gear: usize) -> f64 {
    let (case, model) = load(&case("step = [{ condition = \"queue\", time = \"1 s\" }]"));
    let gearing = slowcorner::point::gearing::Gearing::read(&case, &model.engine).expect("a drive");
    gearing.rpm_per_speed[gear - 1] / 3.6
}

fn warnings(stint: &str, text: &str) -> Vec<Warning> {
    run(&case(stint), &[text])[0].warnings.clone()
}

const RUN: &str = "trace = \"run.csv\"\nstart = \"80 degC\"";

fn speed(time: f64) -> f64 {
    70.0 + 20.0 * (time / 9.0).sin()
}

#[test]
fn a_sound_run_gives_no_cause() {
    let turns = turns(3);
    let text = rows(60, |time| (speed(time), turns * speed(time), 60.0 + 10.0 * (time / 5.0).sin()));
    assert_eq!(warnings(RUN, &text), []);
}

#[test]
fn each_doubt_is_told_with_its_figure() {
    let third = turns(3);
    let sound = |time: f64| (speed(time), third * speed(time), 60.0 + 10.0 * (time / 5.0).sin());
    let gaps = {
        let text = rows(60, sound);
        let kept = text.lines().enumerate().filter(|(line, _)| !(40..80).contains(line));
        kept.map(|(_, line)| format!("{line}\n")).collect::<String>()
    };
    let cases: [(&str, String, &str, &str); 8] = [
        (
            RUN,
            rows(60, |time| (speed(time), 0.2 * third * speed(time), sound(time).2)),
            "run-fits-no-gear",
            "in 100 % of the rows the rpm fits no gear",
        ),
        // miles an hour under a heading of kilometres
        (
            RUN,
            rows(60, |time| (speed(time) / 1.609, third * speed(time), sound(time).2)),
            "run-fits-no-gear",
            "of gear",
        ),
        (
            RUN,
            rows(60, |time| (4.0 * speed(time), third * speed(time), sound(time).2)),
            "run-speed-beyond-power",
            "km/h for a while",
        ),
        (
            RUN,
            rows(60, |time| (speed(time), third * speed(time), 50.0)),
            "run-column-constant",
            "load is 50 % in every row",
        ),
        (
            RUN,
            rows(60, |time| (speed(time), 3000.0, sound(time).2)),
            "run-column-constant",
            "rpm is 3000 rpm in every row",
        ),
        (RUN, gaps, "run-gaps", "1 gap take"),
        (
            RUN,
            rows(60, |time| (speed(time), third * speed(time), 0.6)).replace(",1\n", ",0.6\n"),
            "run-load-in-shares",
            "never exceeds 0.60 %",
        ),
        (
            "trace = \"run.csv\"\nstart = \"80 degC\"\nlaps = 2",
            rows(60, |time| (50.0 + 0.5 * time, third * (50.0 + 0.5 * time), sound(time).2)),
            "laps-do-not-meet",
            "ends at 80 km/h and the next begins at 50 km/h",
        ),
    ];
    for (stint, text, code, words) in &cases {
        let found = warnings(stint, text);
        let told = found
            .iter()
            .find(|warning| warning.code == *code)
            .unwrap_or_else(|| panic!("{code}: {found:#?}"));
        assert!(told.message.contains(words), "{code}: {}", told.message);
        assert_eq!(told.place.as_deref(), Some("stint/run/trace"));
        assert!(told.message.contains("; "), "{code} names no way out: {}", told.message);
    }
}

/// Every gear at a fifth: the factor is found.
#[test]
fn the_factor_that_would_fit_is_told() {
    let (second, third) = (turns(2), turns(3));
    let text = rows(90, |time| {
        let gear = if time < 40.0 { second } else { third };
        (speed(time), 0.2 * gear * speed(time), 60.0 + time / 10.0)
    });
    let found = warnings(RUN, &text);
    let told = &found.iter().find(|warning| warning.code == "run-fits-no-gear").expect("told").message;
    let factor = told.split("were every gear ").nth(1).and_then(|rest| rest.split(' ').next());
    let factor: f64 = factor.and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("{told}"));
    assert!((factor - 0.2).abs() < 0.02, "{told}");
}

#[test]
fn legs_that_no_car_drives() {
    let drive = STINTS.lines().find(|line| line.starts_with("[drive]")).expect("a drive");
    let text = case(
        "start = \"80 degC\"\nleg = [\n  { time = \"4 s\", speed_in = \"40 km/h\", top_speed = \"150 km/h\", speed_out = \"60 km/h\" },\n  { time = \"0:06\", speed_in = \"90 km/h\", speed_out = \"40 km/h\" },\n]",
    )
    .replace(drive, "[drive]\ncar = { mass = \"600 kg\" }");
    let stint = &run(&text, &[])[0];
    assert!((stint.steps[0].until_s - 10.0).abs() < 1e-9, "0:06 is six seconds");
    let codes: Vec<(&str, Option<&str>)> =
        stint.warnings.iter().map(|warning| (warning.code, warning.place.as_deref())).collect();
    assert_eq!(
        codes,
        [
            ("laps-do-not-meet", Some("stint/run/leg/2/speed_in")),
            ("leg-beyond-power", Some("stint/run/leg/1")),
        ],
        "{:#?}",
        stint.warnings
    );
    assert!(stint.warnings[0].message.contains("ends at 60 km/h and this one begins at 90 km/h"));
    assert!(
        stint.warnings[1].message.contains("at the engine where it has"),
        "{}",
        stint.warnings[1].message
    );
}

#[test]
fn what_was_measured_lies_beside_what_was_found() {
    let third = turns(3);
    let sound = |time: f64| (speed(time), third * speed(time), if time < 150.0 { 90.0 } else { 15.0 });
    let text = rows(300, sound);
    let part = load(&case(RUN)).0.parts[0].name.clone();
    let plain = &run(&case(RUN), &[&text])[0];
    let (time, found) = (&plain.course.time, &plain.course.parts[0]);
    let at = |when: f64| {
        let after = time.partition_point(|t| *t <= when).clamp(1, time.len() - 1);
        let share = ((when - time[after - 1]) / (time[after] - time[after - 1])).clamp(0.0, 1.0);
        f64::from(found[after - 1]) * (1.0 - share) + f64::from(found[after]) * share
    };
    // a gauge that reads 6 K too hot and comes 12 s late
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
    let mut writer = csv::Writer::from_writer(Vec::new());
    for (index, row) in reader.records().enumerate() {
        let mut row = row.expect("a row");
        let reads = match index {
            0 => "CHT 2 (degC)".to_string(),
            _ => format!("{:.2}", at(row[0].parse::<f64>().expect("a time") - 12.0) + 6.0),
        };
        row.push_field(&reads);
        writer.write_record(&row).expect("written");
    }
    let measured = String::from_utf8(writer.into_inner().expect("all of it")).expect("text");
    let stint = &run(&case(&format!("{RUN}\nmeasured = {{ {part} = \"CHT 2\" }}")), &[&measured])[0];
    let beside = &stint.measured[0];
    assert_eq!((beside.of.as_str(), beside.column.as_str()), (part.as_str(), "CHT 2"));
    let mean =
        (0..=600).map(|i| at(0.5 * f64::from(i) - 12.0) + 6.0 - at(0.5 * f64::from(i))).sum::<f64>() / 601.0;
    assert!((beside.mean_difference_K - mean).abs() < 0.1, "{} for {mean}", beside.mean_difference_K);
    assert!(beside.worst_difference_K.abs() >= 6.0, "{}", beside.worst_difference_K);
    assert!(beside.lag_s.is_some_and(|lag| (lag - 12.0).abs() <= 3.0), "{:?}", beside.lag_s);
    // no start: the part begins as it was measured, the others as the first moment would leave them
    let stint =
        &run(&case(&format!("trace = \"run.csv\"\nmeasured = {{ {part} = \"CHT 2\" }}")), &[&measured])[0];
    let first = at(-12.0) + 6.0;
    assert!(
        stint.start_C.get(&part).is_some_and(|start| (start - first).abs() < 0.01),
        "{:?}",
        stint.start_C
    );
    assert!(!stint.start_assumed.contains(&part) && !stint.start_assumed.is_empty());
}

#[test]
fn what_was_taken_for_the_start_is_said() {
    let stint = &run(&case("step = [{ condition = \"queue\", time = \"1:30\" }]"), &[])[0];
    assert_eq!(stint.start_assumed.len(), stint.parts.iter().count());
    let (case, model) =
        load(&case("start = \"80 degC\"\nstep = [{ condition = \"queue\", time = \"1:30\" }]"));
    let stint = &lap(&case, &model, Vec::<Option<record::Record>>::new()).expect("runs")[0];
    assert!(stint.start_assumed.is_empty());
    assert!((stint.steps[0].until_s - 90.0).abs() < 1e-9);
}
