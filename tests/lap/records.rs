//! Recorded runs: what is read, what is mended, what is refused.

use slowcorner::case::render::line_and_column;
use slowcorner::case::{Diagnostic, FaultPlace};
use slowcorner::study::lap::record::{NamedColumns, Record, RecordFaults};
use std::io::Read;

fn read(input: impl Read) -> Result<Record, Box<RecordFaults>> {
    slowcorner::study::lap::record::read(input, &NamedColumns::default())
}

fn faults(text: &str) -> Vec<Diagnostic> {
    match read(text.as_bytes()) {
        Err(faults) => faults.faults.list().to_vec(),
        Ok(record) => panic!("read as {record:?}"),
    }
}

fn fault(text: &str) -> Diagnostic {
    match &faults(text)[..] {
        [one] => one.clone(),
        other => panic!("{text:?}: {other:?}"),
    }
}

fn line(fault: &Diagnostic, text: &str) -> Option<usize> {
    match &fault.place {
        FaultPlace::Span(span) => Some(line_and_column(text, span.start).0),
        _ => None,
    }
}

#[test]
fn units_order_and_signs_of_other_countries() {
    let english =
        read("load (%),time (s),speed (mph),rpm\n50,0,60,3000\n100,0.5,30,4000\n".as_bytes()).expect("sound");
    assert_eq!(english.time, [0.0, 0.5]);
    assert!((english.speed[0] - 26.8224).abs() < 1e-9 && english.load == Some(vec![0.5, 1.0]));
    let german = read(
        "\u{feff}# Fahrt 3\nTime [ms];Speed [km/h];RPM;Load [%]\n0;36,0;3000;50\n500;72,0;4000;100\n"
            .as_bytes(),
    )
    .expect("sound");
    assert_eq!((german.time, german.speed), (vec![0.0, 0.5], vec![10.0, 20.0]));
    let tabs = read("time (s)\tspeed (m/s)\n0\t1\n1\t2\n".as_bytes()).expect("sound");
    assert_eq!((tabs.speed, tabs.rpm), (vec![1.0, 2.0], None));
}

#[test]
fn empty_fields_and_repeated_times_are_mended_and_told() {
    let record = read("time (s),speed (m/s),rpm\n0,10,\n1,,3000\n1,99,3000\n2,,\n3,40,6000\n".as_bytes())
        .expect("sound");
    assert_eq!(record.time, [0.0, 1.0, 2.0, 3.0]);
    assert_eq!(record.speed, [10.0, 20.0, 30.0, 40.0]);
    assert_eq!(record.rpm, Some(vec![3000.0, 3000.0, 4500.0, 6000.0]));
    let told = record.notes.join("\n");
    assert!(
        told.contains("the time of the row before is repeated in 1 row")
            && told.contains("no speed in 2 rows")
            && told.contains("no rpm in 2 rows"),
        "{told}"
    );
}

#[test]
fn what_cannot_be_read_is_refused_with_its_line() {
    let cases: &[(&str, &str, Option<usize>, &str)] = &[
        ("", "run-empty", None, "empty"),
        ("speed (km/h),rpm\n10,3000\n", "run-column-missing", Some(1), "no column time"),
        ("time (s),rpm\n10,3000\n", "run-column-missing", Some(1), "speed, rpm"),
        ("time (s),speed (furlong)\n0,1\n1,2\n", "run-unit", Some(1), "furlong"),
        ("time (s),speed (bar)\n0,1\n1,2\n", "run-unit", Some(1), "bar"),
        ("time (s),speed\n0,1\n1,2\n", "run-unit", Some(1), "no unit"),
        ("time (s),speed (m/s),speed (km/h)\n0,1,2\n", "run-column-twice", Some(1), "two columns"),
        ("time (s),speed (m/s)\n0,1\n1,fast\n", "run-number", Some(3), "fast"),
        ("time (s),speed (m/s)\n0,1\n1,1\n0.5,1\n", "run-time-backwards", Some(4), "0.5 s after 1 s"),
        ("time (s),speed (m/s)\n0,1\n", "run-too-short", None, "is one"),
        ("time (s),speed (m/s)\n", "run-too-short", None, "is none"),
        ("time (s),speed (m/s)\n0,1\n1,400\n", "run-out-of-range", Some(3), "1440 km/h"),
        ("time (s),speed (m/s),rpm\n0,1,\n1,2,\n", "run-column-empty", Some(1), "rpm"),
        ("time (s),speed (m/s)\n,1\n1,2\n", "run-number", Some(2), "time is missing"),
        ("time (s),speed (m/s),load (%)\n0,1,inf\n1,2,3\n", "run-number", Some(2), "inf"),
    ];
    for (text, code, at, words) in cases {
        let fault = fault(text);
        assert_eq!((fault.code, line(&fault, text)), (*code, *at), "{text:?}: {fault:?}");
        let all = format!("{} {}", fault.message, fault.what_to_do);
        assert!(all.contains(words) || *words == "speed, rpm", "{text:?}: {all}");
        assert!(!fault.what_to_do.is_empty());
    }
}

#[test]
fn what_stands_in_the_file_is_told_in_short_and_steers_nothing() {
    let endless = "x".repeat(100_000);
    let many: String = (0..500).map(|column| format!(",column {column}")).collect();
    let record =
        read(format!("time (s),speed (m/s),\u{1b}[31m\u{9b}2J,{endless}{many}\n0,1\n1,2\n").as_bytes())
            .expect("sound");
    let note = &record.notes[0];
    assert!(note.starts_with("columns left aside: ") && note.ends_with("column 17 and 482 more"), "{note}");
    assert!(note.chars().count() < 500 && !note.contains(char::is_control), "{note:?}");
    for text in [
        format!("{endless}\n1\n"),
        format!("time ({endless}),speed (m/s)\n0,1\n"),
        format!("time (s),speed (m/s)\n0,{endless}\n"),
        "time (s),speed (m/s)\n0,\u{1b}]0;x\u{7}\n".to_string(),
    ] {
        let fault = fault(&text);
        let told = format!("{} {}", fault.message, fault.what_to_do);
        assert!(told.chars().count() < 500 && !told.contains(char::is_control), "{told:?}");
    }
}

#[test]
fn a_million_rows() {
    let mut text = String::from("time (s),speed (km/h),rpm,load (%)\n");
    for i in 0..1_000_000 {
        text += &format!("{}.{},60,3000,50\n", i / 10, i % 10);
    }
    assert_eq!(read(text.as_bytes()).expect("sound").time.len(), 1_000_000);
}

#[test]
fn all_faults_of_a_run_are_told_at_once_and_underlined() {
    let mut text = String::from("time (s),speed (km/h),rpm\n");
    for i in 0..40 {
        let rpm = if i % 4 == 1 { "fast".to_string() } else { format!("{}", 3000 + i) };
        text += &format!("{i},{},{rpm}\n", if i == 7 { 900 } else { 50 });
    }
    text += "12,50,3000\n13,50,3000\n";
    let found = faults(&text);
    let told: Vec<(&str, Option<usize>)> =
        found.iter().map(|fault| (fault.code, line(fault, &text))).collect();
    assert_eq!(
        told,
        [
            ("run-number", Some(3)),
            ("run-number", Some(7)),
            ("run-out-of-range", Some(9)),
            ("run-number", Some(11)),
            ("run-time-backwards", Some(42)),
            ("run-time-backwards", Some(43)),
        ]
    );
    assert!(found[3].what_to_do.ends_with("the same in 7 further rows"), "{}", found[3].what_to_do);
    let FaultPlace::Span(span) = &found[0].place else { panic!("{:?}", found[0].place) };
    assert_eq!(&text[span.clone()], "fast");
    let shown = slowcorner::case::render::render(&found, "run.csv", &text);
    assert!(
        anstream::adapter::strip_str(&shown).to_string().contains("    1,50,fast\n         ‾‾‾‾\n"),
        "{shown}"
    );
}
