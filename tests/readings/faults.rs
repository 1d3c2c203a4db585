use crate::support::{FILE, faults, read};

/// One change to a sound file, and the fault that it must give.
const SLIPS: &[(&str, &str, &str)] = &[
    ("format = 1\n", "", "format-missing"),
    ("format = 1\n", "format = 2\n", "format-unknown"),
    ("[model_error]", "[model_eror]", "unknown-table"),
    ("parts = \"10 K\"", "parts = \"0 K\"", "out-of-range"),
    ("parts = \"10 K\"", "part = \"10 K\"", "unknown-key"),
    ("within = \"4 K\"", "within = \"4 Pa\"", "unit-of-other-kind"),
    ("lag = \"20 s\"", "lag = \"60 s\"", "held-too-short"),
    ("on = \"track\"\nspeed", "speed", "key-missing"),
    ("on = \"track\"\nspeed", "on = \"road\"\nspeed", "unknown-word"),
    ("load = \"40 % ± 10 %\"\n", "", "load-missing"),
    ("gear = 2", "gear = 9", "gear-unknown"),
    ("gear = 2", "gear = 2\nrpm = \"3000 rpm\"", "said-twice"),
    ("speed = \"60 km/h\"\n", "", "speed-missing"),
    ("part = \"heads\"", "part = \"haeds\"", "unknown-name"),
    (
        "part = \"heads\", shows = \"171 degC\"",
        "part = \"heads\", air = \"bay\", shows = \"171 degC\"",
        "said-twice",
    ),
    ("shows = \"171 degC\"", "shows = \"171\"", "number-unreadable"),
    ("shows = \"171 degC\"", "shows = \"171 Pa\"", "unit-of-other-kind"),
    ("with = \"gauge\"", "with = \"guage\"", "unknown-name"),
    ("with = \"gauge\"", "with = \"U-tube\"", "instrument-reads-other"),
    ("plug washer, exhaust side", "fin root", "read-elsewhere"),
    ("[\"bay\", \"left exit\"]", "[\"bay\"]", "lone-pressure"),
    ("[\"bay\", \"left exit\"]", "[\"bay\", \"outside\"]", "no-still-air"),
    ("[\"bay\", \"left exit\"]", "[\"bay\", \"heads\"]", "no-skin-pressure"),
    ("[\"bay\", \"left exit\"]", "[\"bay\", \"left exit\", \"tail\"]", "legs-not-two"),
    ("[\"bay\", \"left exit\"]", "[\"bay\", \"left exti\"]", "unknown-name"),
    ("air = \"bay\"", "air = \"bya\"", "unknown-name"),
    ("behind = \"oil\"", "behind = \"pipes\"", "nothing-behind"),
    ("turned = \"160 degC\"", "turned = \"180 degC\"", "strip-out-of-order"),
    ("turned = \"160 degC\", unturned = \"171 degC\"", "shows = \"165 degC\"", "strip-shows"),
    ("condition = \"queue\"", "condition = \"quay\"", "unknown-name"),
    ("layout = \"cooler with its own exit\"", "layout = \"cooler with own exit\"", "unknown-name"),
    ("name = \"as in the queue\"", "name = \"own exit\"", "name-used-twice"),
    ("on = \"bench\"", "on = \"bench\"\nspeed = \"20 km/h\"", "bench-moves"),
];

#[test]
fn each_slip_is_told_with_its_place_and_a_way_out() {
    read(FILE);
    for (from, to, code) in SLIPS {
        assert!(FILE.contains(from), "{from}");
        let found = faults(&FILE.replacen(from, to, 1));
        let fault = found.iter().find(|fault| fault.code == *code);
        let fault = fault.unwrap_or_else(|| panic!("{from} -> {to}: {found:#?}"));
        assert!(!fault.what_to_do.is_empty());
        let whole = matches!(fault.place, slowcorner::case::FaultPlace::Whole);
        assert!(!whole || *code == "format-missing", "{code}: {:?}", fault.place);
    }
}

#[test]
fn all_faults_come_at_once() {
    let mut text = FILE.to_string();
    for (from, to) in [
        ("gear = 2", "gear = 9"),
        ("part = \"heads\"", "part = \"haeds\""),
        ("air = \"bay\"", "air = \"bya\""),
    ] {
        text = text.replacen(from, to, 1);
    }
    let codes: Vec<&str> = faults(&text).iter().map(|fault| fault.code).collect();
    assert!(
        codes.contains(&"gear-unknown") && codes.iter().filter(|code| **code == "unknown-name").count() >= 1,
        "{codes:?}"
    );
}

#[test]
fn an_empty_file_and_one_without_tests_are_refused() {
    assert_eq!(faults("")[0].code, "readings-empty");
    assert_eq!(faults("format = 1\n")[0].code, "tests-missing");
}
