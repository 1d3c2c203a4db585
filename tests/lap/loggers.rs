//! Files as loggers write them, each invented: preambles, rows of units, times of many sorts, the marks and words of several
//! countries. Each holds the same run: 36 and 72 km/h, 3000 and 4000 rpm, half a second apart.

use slowcorner::study::lap::record::{ColumnMeaning, NamedColumns, Record, read};

/// Name, text, words that the notes must hold.
const FILES: &[(&str, &str, &[&str])] = &[
    (
        "preamble and a row of units",
        "Session,Evening run 2\nDriver,\"invented, of course\"\nDate,2027-05-02\nSample rate,2,Hz\n\nTime,GPS Speed,Engine RPM,Lat\ns,km/h,rpm,deg\n\n0.0,36,3000,51.1\n0.5,72,4000,51.2\n",
        &["4 lines before the headings passed over", "columns left aside: Lat"],
    ),
    (
        "times of a stopwatch",
        "Elapsed Time;Road Speed [km/h];RPM\n0:59.75;36,0;3000\n1:00.25;72,0;4000\n",
        &[],
    ),
    (
        "times of a clock, through midnight",
        "Time,Speed (km/h),Engine Speed (rpm)\n23:59:59.700,36,3000\n00:00:00.200,72,4000\n",
        &["the clock begins anew at midnight"],
    ),
    (
        "dates and times",
        "timestamp,speed_kmh,rpm\n2027-05-02T23:59:59.75Z,36,3000\n2027-05-03T00:00:00.25Z,72,4000\n",
        &[],
    ),
    (
        "dates of another country",
        "Zeitstempel;Geschwindigkeit km/h;Drehzahl 1/min\n02.05.2027 10:00:01,5;36,0;3000\n02.05.2027 10:00:02,0;72,0;4000\n",
        &[],
    ),
    (
        "decimal commas in quotes",
        "\"Time (s)\",\"Speed (m/s)\",\"RPM\"\n\"0,0\",\"10,0\",\"3000,0\"\n\"0,5\",\"20,0\",\"4000,0\"\n",
        &[],
    ),
    (
        "milliseconds, and the names of an engine's computer",
        "time_ms\tvss_kph\tnmot\ttps\n1000\t36\t3000\t12\n1500\t72\t4000\t80\n",
        &["the column throttle has no unit and reaches 80: taken as %"],
    ),
    (
        "a closing row of maxima",
        "time (s),speed (km/h),rpm\n0,36,3000\n0.5,72,4000\n\nMax,72,4000\nMean,54,3500\n",
        &["closing rows without a time left out: Max, Mean"],
    ),
    (
        "a closing row of maxima without a word",
        "time (s),speed (km/h),rpm\n0,36,3000\n0.5,72,4000\n0.4,72,4000\n",
        &["closing rows without a time left out: 0.4"],
    ),
    (
        "marks between thousands",
        "Zeit (s);Geschwindigkeit (km/h);Motordrehzahl\n0,0;36,0;3.000\n0,5;72,0;4.000\n",
        &["marks between thousands of rpm left aside in 2 rows"],
    ),
    (
        "marks between thousands, in quotes",
        "time (s),speed (km/h),rpm\n0,36,\"3,000\"\n0.5,72,\"4,000\"\n",
        &["marks between thousands of rpm left aside in 2 rows"],
    ),
    ("French", "Temps (s);Vitesse (km/h);Régime moteur (tr/min)\n0;36;3000\n0,5;72;4000\n", &[]),
    ("Italian", "Tempo (s);Velocità (km/h);Giri motore\n0;36;3000\n0,5;72;4000\n", &[]),
    ("Dutch", "Tijd (s);Snelheid (km/h);Toerental\n0;36;3000\n0,5;72;4000\n", &[]),
    ("Polish", "Czas (s);Prędkość (km/h);Obroty (obr/min)\n0;36;3000\n0,5;72;4000\n", &[]),
    (
        "two speeds",
        "Time (s),Wheel Speed (km/h),GPS Speed (km/h),RPM\n0,38,36,3000\n0.5,75,72,4000\n",
        &["speed is read from GPS Speed (km/h); Wheel Speed (km/h) may say the same"],
    ),
    (
        "words for what is missing",
        "time (s),speed (km/h),rpm,load (%)\n0,36,3000,NaN\n0.25,N/A,--,50\n0.5,72,4000,#N/A\n",
        &["no speed in 1 row", "no load in 2 rows"],
    ),
    (
        "hours before and after noon",
        "Time,Speed (mph),RPM\n11:59:59.5 AM,22.36936,3000\n12:00:00.0 PM,44.73873,4000\n",
        &[],
    ),
    ("units in square brackets below", "Time;Speed;RPM\n[s];[km/h];[1/min]\n0;36;3000\n0,5;72;4000\n", &[]),
];

fn holds(name: &str, record: &Record) {
    let close = |found: &[f64], wanted: [f64; 2]| {
        let ends = [found[0], found[found.len() - 1]];
        ends.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 1e-4 * wanted.abs().max(1.0))
    };
    let time: Vec<f64> = record.time.iter().map(|time| time - record.time[0]).collect();
    assert!(close(&time, [0.0, 0.5]), "{name}: {time:?}");
    assert!(close(&record.speed, [10.0, 20.0]), "{name}: {:?}", record.speed);
    assert!(record.rpm.as_ref().is_some_and(|rpm| close(rpm, [3000.0, 4000.0])), "{name}: {:?}", record.rpm);
}

#[test]
fn files_of_many_loggers_hold_one_run() {
    for (name, text, notes) in FILES {
        let utf_16: Vec<u8> =
            std::iter::once(0xfeff).chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
        let turned: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
        let windows = text.replace('\n', "\r\n");
        for (how, bytes) in [
            ("plain", text.as_bytes()),
            ("UTF-16", &utf_16),
            ("UTF-16, turned", &turned),
            ("CR LF", windows.as_bytes()),
        ] {
            let name = format!("{name}, {how}");
            let record =
                read(bytes, &NamedColumns::default()).unwrap_or_else(|faults| panic!("{name}: {faults}"));
            holds(&name, &record);
            let told = record.notes.join("\n");
            assert!(notes.iter().all(|note| told.contains(note)), "{name}: {told}");
            assert_eq!(told.contains("UTF-16"), how.starts_with("UTF-16"), "{name}: {told}");
        }
    }
}

#[test]
fn an_older_encoding() {
    let bytes = b"Temps (s);Vitesse (km/h);R\xe9gime (tr/min)\n0;36;3000\n0,5;72;4000\n";
    let record = read(&bytes[..], &NamedColumns::default()).unwrap_or_else(|faults| panic!("{faults}"));
    holds("Windows-1252", &record);
    assert!(record.notes[0].contains("Windows-1252"), "{:?}", record.notes);
}

fn wanted(columns: &[(ColumnMeaning, &str)], measured: &[(&str, &str)]) -> NamedColumns {
    NamedColumns {
        columns: columns.iter().map(|(column, name)| (*column, name.to_string())).collect(),
        measured: measured.iter().map(|(of, name)| (of.to_string(), name.to_string())).collect(),
    }
}

#[test]
fn columns_that_the_stint_names() {
    let text = "T_LOG (s),V1,V2 (km/h),N_ENG,CHT 1 (degF),OilT\n0,5,36,3000,212,90\n0.5,6,72,4000,230,91\n";
    let columns =
        [(ColumnMeaning::Time, "T_LOG"), (ColumnMeaning::Speed, "V2"), (ColumnMeaning::Rpm, "n eng")];
    let named = wanted(&columns, &[("heads", "CHT 1"), ("oil", "OilT")]);
    let record = read(text.as_bytes(), &named).unwrap_or_else(|faults| panic!("{faults}"));
    holds("named", &record);
    let heads = &record.measured[0];
    assert_eq!((heads.of.as_str(), heads.column.as_str()), ("heads", "CHT 1"));
    assert!((heads.kelvin[0] - 373.15).abs() < 1e-9 && (heads.kelvin[1] - 383.15).abs() < 1e-9);
    assert!((record.measured[1].kelvin[0] - 363.15).abs() < 1e-9);
    assert!(record.notes.iter().any(|note| note.contains("oil as measured has no unit: taken as °C")));
    // a unit that the heading lacks stands in the stint
    let named = wanted(&[(ColumnMeaning::Time, "T_LOG"), (ColumnMeaning::Speed, "V1 (m/s)")], &[]);
    let record = read(text.as_bytes(), &named).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(record.speed, [5.0, 6.0]);
    let faults = read(
        text.as_bytes(),
        &wanted(
            &[(ColumnMeaning::Time, "T_LOG"), (ColumnMeaning::Speed, "V2"), (ColumnMeaning::Rpm, "N_EMG")],
            &[],
        ),
    )
    .expect_err("no such column");
    let told = faults.in_short();
    assert!(told.contains("no column \"N_EMG\"") && told.contains("did you mean N_ENG?"), "{told}");
}

/// Files that are refused: code, and words of the answer.
const REFUSED: &[(&str, &str, &str, &str)] = &[
    (
        "no headings",
        "0,36,3000\n0.5,72,4000\n",
        "run-column-missing",
        "none of the first 31 lines names the columns",
    ),
    ("prose", "This is my lap.\nIt was fast.\n", "run-column-missing", "columns = {"),
    (
        "speed without unit",
        "Time (s);Speed;RPM\n0;36;3000\n1;72;4000\n",
        "run-unit",
        "the column speed has no unit",
    ),
    ("time without unit", "Time;Speed (km/h)\n0;36\n1;72\n", "run-unit", "the column time has no unit"),
    ("no speed", "Time (s);RPM\n0;3000\n1;4000\n", "run-column-missing", "there is no column speed"),
    (
        "a unit of another kind below",
        "Time,Speed,RPM\ns,bar,rpm\n0,36,3000\n1,72,4000\n",
        "run-unit",
        "\"bar\" is no unit of speed",
    ),
    (
        "laps with a clock set back",
        "Time (s),Speed (km/h)\n0,36\n1,40\n0,36\n1,41\n",
        "run-time-backwards",
        "0 s after 1 s",
    ),
    (
        "a word among the times",
        "Time (s),Speed (km/h)\n0,36\nLap 2,40\n2,36\n",
        "run-number",
        "\"Lap 2\" is no time",
    ),
    ("km/h as m/s", "Time (s),Speed (m/s)\n0,90\n1,170\n", "run-out-of-range", "612 km/h"),
    (
        "two speeds of one name",
        "time (s),speed (m/s),Speed (km/h)\n0,1,2\n1,1,2\n",
        "run-column-twice",
        "two columns",
    ),
];

#[test]
fn files_that_cannot_be_followed_say_why() {
    for (name, text, code, words) in REFUSED {
        let faults = read(text.as_bytes(), &NamedColumns::default()).expect_err(name);
        let first = &faults.faults.list()[0];
        assert_eq!(&first.code, code, "{name}: {faults}");
        let told = faults.in_short();
        assert!(told.contains(words), "{name}: {told}");
        assert!(!first.what_to_do.is_empty());
    }
}
