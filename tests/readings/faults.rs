use crate::readings::slips::SLIPS;
use crate::readings::support::{FILE, faults, read};

#[test]
fn each_slip_is_told_with_its_place_and_a_way_out() {
    read(FILE);
    for (_, from, to, code) in SLIPS {
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
