use crate::readings::support::{FILE, case, read};
use slowcorner::readings::blank::{PlannedInstrument, PlannedReading, PlannedTest, ReadingPlan, text};
use slowcorner::readings::taken::{RunMoment, Shown};
use slowcorner::readings::{GaugeEnd, Quantity};

/// Pressure of a column of water of a metre at the standard acceleration of free fall, 1000 kg/m³ × 9.80665 m/s².
const WATER: f64 = 9806.65;

#[test]
fn units_bands_and_tubes_are_read_as_written() {
    let readings = read(FILE);
    assert_eq!((readings.tests.len(), readings.scenes.len(), readings.blank), (6, 2, 1));
    assert_eq!(readings.model_error.parts, 10.0);
    assert_eq!(readings.model_error.pressures, 0.1);
    let drive = &readings.tests[0];
    assert_eq!(drive.held, Some(180.0));
    assert!(!drive.bench && readings.tests[2].bench);
    let shown: Vec<(f64, f64)> = drive
        .readings
        .iter()
        .map(|taken| match taken.shown {
            Shown::Value { value, within } => (value, within),
            Shown::Between { .. } => panic!("no strip here"),
        })
        .collect();
    let near = |found: (f64, f64), wanted: (f64, f64)| {
        assert!(
            (found.0 - wanted.0).abs() < 1e-9 && (found.1 - wanted.1).abs() < 1e-9,
            "{found:?} {wanted:?}"
        );
    };
    near(shown[0], (171.0 + 273.15, 4.0));
    // 300 °F are 148.889 °C, 9 degrees of it 5 K
    near(shown[1], ((300.0 - 32.0) / 1.8 + 273.15, 5.0));
    // a tenth of the length along a tube laid over at 1:10 is upright
    near(shown[2], (0.140 / 10.0 * WATER, 0.001 / 10.0 * WATER));
    near(shown[3], (64.0 + 273.15, 3.0));
    near(shown[4], (70.0 + 273.15, 5.0));
    assert_eq!(readings.instruments[0].zero, 2.0 * WATER / 1000.0);
    let strip = &readings.tests[1].readings[0];
    assert!(matches!(strip.shown, Shown::Between { low, high, .. } if low == 433.15 && high == 444.15));
    assert_eq!(strip.text, "160 degC turned, 171 degC not");
}

#[test]
fn a_test_is_one_more_condition_of_the_case_or_of_a_layout() {
    let readings = read(FILE);
    let own = case().case.conditions.len();
    let scene = &readings.scenes[0];
    assert_eq!((scene.layout.as_deref(), scene.case.conditions.len()), (None, own + 3 + 6));
    assert_eq!(readings.scenes[1].layout.as_deref(), Some("cooler with its own exit"));
    let drive = readings.tests[0].readings[0].reading;
    let value = |key: &str| {
        let address = format!("{}/{key}", scene.case.conditions[drive.moment].values.address);
        scene.case.numbers.find(&address).map(|id| scene.case.numbers.value(id))
    };
    assert_eq!((value("load"), value("gear")), (Some(0.4), Some(2.0)));
    assert_eq!(value("day/temperature"), Some(290.15));
    // on the bench the engine stands where nothing is said
    let bench = readings.tests[2].readings[0].reading;
    let values = &scene.case.conditions[bench.moment].values.address;
    let rpm = scene.case.numbers.find(&format!("{values}/rpm")).expect("an engine speed");
    assert_eq!(scene.case.numbers.value(rpm), 0.0);
    // two ways to say the same leg
    assert_eq!(bench.what, readings.tests[2].readings[1].reading.what);
    assert!(matches!(
        bench.what,
        Quantity::Difference { of: GaugeEnd::Chamber(0), over: GaugeEnd::StillAir }
    ));
}

#[test]
fn a_blank_file_reads_back_with_nothing_in_it() {
    let loaded = case();
    let skin = read(FILE).tests[0].readings[2].reading.what;
    let reading = |what| PlannedReading {
        what,
        with: Some("tube \"1\"".into()),
        strip: false,
        expects: "mmH2O, 12 to 22".into(),
    };
    let plan = ReadingPlan {
        card: Some("7f3a".into()),
        case_sha256: "e39c".into(),
        instruments: vec![PlannedInstrument {
            name: "tube \"1\"".into(),
            pressure: true,
            within: 9.8,
            zero: Some(4.9),
            scale: Some(0.02),
            tube: Some(("water", 10.0)),
        }],
        tests: vec![PlannedTest {
            name: "60 km/h".into(),
            speed: Some(60.0 / 3.6),
            gear: Some(2),
            load: Some(0.4),
            held: Some(180.0),
            taped: vec![("heads".into(), 0.5)],
            fans_off: true,
            readings: vec![
                reading(skin),
                PlannedReading { what: Quantity::Part(0), with: None, strip: true, expects: String::new() },
                PlannedReading { what: Quantity::Mean(1), with: None, strip: false, expects: String::new() },
                PlannedReading { what: Quantity::Air(0), with: None, strip: false, expects: String::new() },
            ],
            ..PlannedTest::default()
        }],
    };
    let blank = text(&loaded.case, &plan);
    let back = read(&blank);
    assert_eq!((back.blank, back.tests[0].readings.len()), (4, 0), "{blank}");
    assert_eq!(back.card.as_deref(), Some("7f3a"));
    let filled = blank.replacen("shows = \"\"", "shows = \"150 mm\"", 1);
    let back = read(&filled);
    assert_eq!(back.blank, 3);
    let taken = &back.tests[0].readings[0];
    assert_eq!((taken.reading.what, taken.text.as_str()), (skin, "150 mm"));
}

/// A test in time is one more stint, through conditions of its own: what the test says of them, and where the car then stood.
#[test]
fn a_test_in_time_is_one_more_stint_of_the_case() {
    let readings = read(FILE);
    let (queue, evening) = (&readings.tests[4], &readings.tests[5]);
    let case = &readings.scenes[0].case;
    let run = queue.run.expect("a run in time");
    let value = |address: &str| case.numbers.find(address).map(|id| case.numbers.value(id));
    let stint = &case.stints[run.stint];
    assert_eq!(value(&format!("{}/start/heads", stint.values.address)), Some(353.15));
    let steps = stint.values.tables(&slowcorner::case::tables::STEP);
    assert_eq!(steps.len(), 4);
    for step in steps {
        let name = step.text(&slowcorner::case::tables::STEP_CONDITION).expect("a name");
        assert!(name.starts_with("read in test 5 step "), "{name}");
        assert_eq!(value(&format!("condition/{name}/day/temperature")), Some(292.15));
    }
    let (standing, time) = run.soak.expect("it stood");
    assert_eq!(time, 600.0);
    let named = &case.conditions[standing];
    assert_eq!(value(&format!("{}/rpm", named.values.address)), Some(0.0));
    assert_eq!(value(&format!("{}/day/temperature", named.values.address)), Some(292.15));
    let when: Vec<Option<RunMoment>> = queue.readings.iter().map(|taken| taken.when).collect();
    assert_eq!(when, [Some(RunMoment::Hottest), Some(RunMoment::At(240.0)), Some(RunMoment::End)]);
    let lags: Vec<f64> = queue.readings.iter().map(|taken| taken.lag).collect();
    assert_eq!(lags, [0.0, 20.0, 0.0]);
    assert_eq!(queue.readings[0].name(case), "barrels, barrel fin root, at its hottest");
    // a recorded run beside the readings file, in the wind and the condition that were said
    let run = evening.run.expect("a run in time");
    assert!(run.beside_readings && run.soak.is_none() && run.instrument == Some(1));
    let stint = &case.stints[run.stint].values;
    assert_eq!(stint.text(&slowcorner::case::tables::TRACE), Some("run.csv"));
    let road = stint.text(&slowcorner::case::tables::AS_IN).expect("a condition");
    assert_eq!(value(&format!("condition/{road}/wind")), Some(2.0));
}
