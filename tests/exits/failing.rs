//! One exit blocked or blown into; cases without exits, without inlets, without `[size]`.

use super::{QUARRY, checked, least_kelvin, read, study};
use slowcorner::study::exits::result::ExitFailure;
use slowcorner::study::exits::{NotStudied, exits};

const AT: [&str; 3] = ["hairpin", "following", "straight"];

/// The demo case with the right exit's table cut out by hand.
fn without_right_exit() -> String {
    let begin = QUARRY.find("[[passage]]\nname = \"right exit\"").expect("there");
    let end = begin + QUARRY[begin..].find("[[passage]]\nname = \"seams\"").expect("there");
    format!("{}{}", &QUARRY[..begin], &QUARRY[end..])
        .replace(r#", ["left exit", "right exit"]"#, r#", "left exit""#)
}

#[test]
fn a_blocked_exit_is_the_case_without_its_passage() {
    let found = study(QUARRY);
    let kelvin = least_kelvin(&checked(&without_right_exit(), &[]), &AT);
    let blocked: Vec<_> = found
        .what_if
        .iter()
        .filter(|w| w.what == ExitFailure::Blocked && w.exit == "right exit" && w.sizes_as_drawn)
        .collect();
    assert_eq!(blocked.len(), 1);
    let then = blocked[0].then.as_ref().expect("solved");
    assert!((then.least_temperature_margin_K - kelvin).abs() < 1e-6, "{kelvin} in {then:?}");
    assert!(blocked[0].turned_round.iter().any(|t| t.passage == "oil cooler" && t.condition == "following"));
    // the other one is alike
    let other = found
        .what_if
        .iter()
        .find(|w| w.exit == "left exit" && w.what == ExitFailure::Blocked)
        .expect("there");
    assert!((other.then.as_ref().expect("solved").least_temperature_margin_K - kelvin).abs() < 1e-6);
}

#[test]
fn an_exit_blown_into_is_the_case_with_its_own_coefficient() {
    let found = study(QUARRY);
    let set = [("passage/left exit/exit/pressure_coefficient", "0.3".to_string())];
    let kelvin = least_kelvin(&checked(QUARRY, &set), &AT);
    let blown = found
        .what_if
        .iter()
        .find(|w| w.exit == "left exit" && w.what == ExitFailure::BlownInto)
        .expect("there");
    assert_eq!(blown.pressure_coefficient, Some(0.3));
    assert!((blown.then.as_ref().expect("solved").least_temperature_margin_K - kelvin).abs() < 1e-6);
    // the knee's openings reach what is asked for, and with one exit gone they no longer do
    let knee: Vec<_> = found.what_if.iter().filter(|w| !w.sizes_as_drawn).collect();
    assert_eq!(knee.len(), 4);
    for entry in knee {
        assert!(entry.before.reached && !entry.then.as_ref().expect("solved").reached);
    }
}

/// Two alike in one passage: one of them is gone, not both.
#[test]
fn one_of_two_alike_is_blocked() {
    let twin = without_right_exit().replace("name = \"left exit\"\n", "name = \"left exit\"\ncount = 2\n");
    let found = study(&twin);
    let one = found.what_if.iter().find(|w| w.what == ExitFailure::Blocked).expect("there");
    assert_eq!(one.exit, "one of left exit");
    let kelvin = least_kelvin(&checked(&without_right_exit(), &[]), &AT);
    assert!((one.then.as_ref().expect("solved").least_temperature_margin_K - kelvin).abs() < 1e-6);
}

#[test]
fn a_case_without_an_exit_is_refused() {
    let mut text = without_right_exit();
    let begin = text.find("[[passage]]\nname = \"left exit\"").expect("there");
    let end = begin + text[begin..].find("[[passage]]\nname = \"seams\"").expect("there");
    text.replace_range(begin..end, "");
    let text = text.replace(r#", "left exit"]"#, "]");
    let refused = exits(&read(&text, &[]), 12, &|_| {});
    assert!(matches!(refused, Err(NotStudied::NoExit)), "{:?}", refused.map(|_| ()));
}

#[test]
fn without_size_all_inlets_of_cooling_air_are_resized() {
    let begin = QUARRY.find("[size]").expect("there");
    let end = begin + QUARRY[begin..].find("[[stint]]").expect("there");
    let text = format!("{}{}", &QUARRY[..begin], &QUARRY[end..]);
    let found = study(&text);
    let names: Vec<&str> = found.inlets.iter().map(|hole| hole.name.as_str()).collect();
    assert_eq!(names, ["fan", "heads", "oil cooler"], "not the carburettor's");
    assert!(!found.inlets_from_size && found.remarks[0].contains("margins of zero"), "{:?}", found.remarks);
    assert_eq!(found.conditions, ["hairpin", "following", "straight", "queue"]);
    // nothing is asked of the margins but not to be missed
    for point in &found.points {
        assert_eq!(point.reached_as_drawn, point.least_margin.is_none_or(|m| m >= 0.0), "{point:?}");
    }
}

/// `size` and `exits` speak of the same openings: an exit that `[size]` leaves out where it names others stays as it is.
#[test]
fn an_exit_that_size_does_not_free_stays() {
    let text = QUARRY.replace(r#", ["left exit", "right exit"]"#, r#", "left exit""#);
    let found = study(&text);
    let names = |holes: &[slowcorner::study::exits::result::Hole]| -> Vec<String> {
        holes.iter().map(|hole| hole.name.clone()).collect()
    };
    assert_eq!(
        (names(&found.exits), names(&found.fixed_exits)),
        (vec!["left exit".into()], vec!["right exit".into()])
    );
    // with none named all change
    let text = QUARRY.replace(r#", ["left exit", "right exit"]"#, "");
    assert_eq!(names(&study(&text).exits), ["left exit", "right exit"]);
}
