//! The rules behind the words.

use super::sample::{self, condition, part};
use super::snapshots::plain;
use crate::output::text::layout::{WIDTH, wrap};
use crate::output::text::{Depth, check, size, sweep, words};
use crate::study::document::Report;
use crate::thermal::MarginIs;

fn with(conditions: Vec<crate::point::result::Condition>) -> Report {
    Report { worst: Some(crate::point::conditions::worst(&conditions)), conditions, ..sample::report() }
}

fn verdict_of(report: &Report) -> String {
    let text = plain(&check(report, &[], Depth::Detail, ("car.toml", true)));
    text.split("\n\n").nth(1).unwrap().replace('\n', " ")
}

#[test]
fn air_is_told_in_words() {
    for (margin, is, told) in [
        (Some(0.15), MarginIs::Value, "15 % more air than needed"),
        (Some(1.0), MarginIs::Value, "100 % more air than needed"),
        (Some(1.001), MarginIs::Value, "more than twice the need"),
        (Some(7.0), MarginIs::Value, "more than twice the need"),
        (Some(0.004), MarginIs::Value, "just what it needs"),
        (Some(-0.004), MarginIs::Value, "just short of the need"),
        (Some(-0.08), MarginIs::Value, "8 % less air than needed"),
        (Some(-1.0), MarginIs::Value, "next to no air"),
        (None, MarginIs::Unlimited, "needs none"),
        (None, MarginIs::Impossible, "more of this air is no use"),
    ] {
        assert_eq!(words::air(margin, is), told);
    }
}

#[test]
fn kelvins_are_whole_and_never_minus_nothing() {
    for (margin, told) in [
        (12.4, "+12 K"),
        (0.2, "+0 K"),
        (0.0, "+0 K"),
        (-0.2, "over by < 1 K"),
        (-8.4, "over by 8 K"),
        (-97.0, "over by 97 K"),
    ] {
        assert_eq!(words::margin(margin), told);
    }
    assert_eq!(words::whole(-0.3), "0");
    assert_eq!(words::fixed(-0.04, 1), "0.0");
    assert_eq!(words::whole(-63.2), "−63");
}

#[test]
fn kelvins_stand_before_per_cent() {
    let text = plain(&check(&sample::report(), &[], Depth::Detail, ("car.toml", true)));
    let line = text.lines().find(|line| line.contains("15 % more air than needed")).unwrap();
    assert!(line.find("+12 K").unwrap() < line.find("188 °C").unwrap());
    assert!(line.find("188 °C").unwrap() < line.find("15 %").unwrap());
}

#[test]
fn the_verdict_comes_first_and_names_part_condition_and_kelvins() {
    assert_eq!(
        verdict_of(&sample::report()),
        "1 of 2 parts stays below its limit in every condition; the oil is beyond any use in hairpin, where more of the \
         air that comes is no use; the oil is 10 K below its lower limit in straight."
    );
}

#[test]
fn a_car_that_keeps_its_limits_is_told_where_it_comes_closest() {
    let report = with(vec![
        condition("climb", 12.0, Some(1), 0.05, vec![part("oil", 104.0, 120.0, Some(0.4), MarginIs::Value)]),
        condition("lane", 20.0, Some(2), 0.06, vec![part("oil", 108.6, 120.0, Some(0.5), MarginIs::Value)]),
    ]);
    assert_eq!(
        verdict_of(&report),
        "Oil stays below its limit in every condition; closest to it is the oil in lane: +11 K, 50 % more air than \
         needed."
    );
    // the least air and the fewest kelvins need not fall together
    let text = plain(&check(&report, &[], Depth::Detail, ("car.toml", true)));
    assert!(text.lines().any(|line| line.contains("climb") && line.ends_with("least air")));
    assert!(text.lines().any(|line| line.contains("lane") && line.ends_with("fewest kelvins")));
}

#[test]
fn too_cold_counts_only_where_the_car_is_warm() {
    let mut cold = part("oil", 68.0, 120.0, Some(2.0), MarginIs::Value);
    cold.least_C = Some(80.0);
    cold.below_least = true;
    let mut report = with(vec![condition("pit lane", 10.0, Some(1), 0.05, vec![cold])]);
    assert!(!verdict_of(&report).contains("lower limit"));
    assert!(plain(&check(&report, &[], Depth::Detail, ("car.toml", true))).contains("still cold"));
    report.conditions[0].warm = true;
    assert!(verdict_of(&report).contains("the oil is 12 K below its lower limit in pit lane"));
}

#[test]
fn air_that_runs_back_is_told_in_words() {
    let text = plain(&check(&sample::report(), &[], Depth::All, ("car.toml", true)));
    assert!(text.contains("back 12"));
    assert!(text.contains("hot bay air flows back through it in hairpin"));
    assert!(!text.contains("-12"));
    // bay air no warmer than the day is not hot
    let mut report = sample::report();
    report.conditions[0].chambers[0].temperature_C = 31.0;
    let text = plain(&check(&report, &[], Depth::Detail, ("car.toml", true)));
    assert!(text.contains("oil cooler: bay air flows back through it"));
}

#[test]
fn what_drives_the_air_and_what_takes_it_add_up() {
    for condition in sample::conditions() {
        for passage in &condition.passages {
            let way = crate::output::text::way::PressureBudget::of(&condition, passage);
            let given: f64 = way.gives.iter().map(|(_, pascals)| pascals).sum();
            assert!((given - way.total()).abs() < 1e-9, "{} in {}", passage.name, condition.name);
        }
    }
}

#[test]
fn a_share_is_of_all_the_pressure_on_the_way() {
    // straight: q = 880 Pa, ram 792, bay 264, core 80 % of the 528 left, the jet into the bay 20 %
    let conditions = sample::conditions();
    let straight = &conditions[1];
    let way = crate::output::text::way::PressureBudget::of(straight, &straight.passages[1]);
    assert_eq!(crate::output::text::way::in_words(&way), "of 792 Pa, core takes 53 %, pressure in bay 33 %");
}

#[test]
fn speeds_with_a_missed_margin_are_told_as_ranges() {
    let text = plain(&sweep(&sample::swept(), &[], Depth::Detail));
    assert!(text.contains("oil: from 22 to 36 km/h and at 65 km/h"));
    assert!(text.contains("More of the air that comes is no use\n  oil: at 36 km/h"));
    assert!(text.contains("Needs no air of its own\n  heads: at every speed"));
    assert!(text.contains("no steady state was found at 108 km/h"));
}

#[test]
fn sizes_are_whole_centimetres_and_millimetres() {
    let text = plain(&size(&sample::sized(true), &[], Depth::Detail));
    let line = text.lines().find(|line| line.starts_with("oil cooler")).unwrap();
    let cells: Vec<&str> = line.split_whitespace().collect();
    assert_eq!(cells, ["oil", "cooler", "2", "×", "52", "56", "112", "×", "50", "mm"]);
    assert!(text.replace('\n', " ").contains("Not asked for, and over: oil in hairpin (beyond any use)."));
    assert!(text.contains("to 1 (here; no rule)"));
}

#[test]
fn what_cannot_be_done_says_what_stands_in_the_way() {
    let text = plain(&size(&sample::sized(false), &[], Depth::Detail));
    assert!(
        text.contains("It cannot be done within the bounds: the oil is still beyond any use in hairpin.")
    );
    assert!(text.replace('\n', " ").contains(
        "What follows is the least that comes within 1 K, or 1 % of the heat, of the best that can be had."
    ));
}

#[test]
fn no_line_is_wider_than_the_page_or_ends_in_a_blank() {
    let mut crowd = sample::report();
    crowd.title = Some("a title without end ".repeat(12));
    for number in 0..9 {
        let mut more = crowd.conditions[number % 3].clone();
        more.name = format!(
            "condition number {number} with a long name, and unbreakableinthemiddleofitallbecauseitisoneword"
        );
        crowd.conditions.push(more);
    }
    let texts = [
        check(&crowd, &sample::echoes(), Depth::All, ("car.toml", true)),
        check(&sample::report(), &sample::echoes(), Depth::Detail, ("car.toml", true)),
        check(&sample::report(), &sample::echoes(), Depth::Short, ("car.toml", true)),
        size(&sample::sized(true), &["file.toml".into()], Depth::Short),
        sweep(&sample::swept(), &["file.svg".into()], Depth::Detail),
        size(&sample::sized(true), &["file.toml".into()], Depth::Detail),
    ];
    for text in texts {
        for line in plain(&text).lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
            assert_eq!(line, line.trim_end());
        }
    }
}

#[test]
fn a_figure_keeps_its_unit_on_its_line() {
    for width in 8..40 {
        for line in wrap("the oil stands 12 K under (104 °C) at 43 km/h, of 412 Pa", width) {
            for unit in ["K", "°C", "km/h", "Pa"] {
                assert!(!line.starts_with(unit), "{line:?} at {width}");
            }
        }
    }
}

#[test]
fn nothing_is_said_by_colour_alone() {
    let styled = check(&sample::report(), &[], Depth::Detail, ("car.toml", true));
    assert!(styled.contains('\u{1b}'));
    let plain = plain(&styled);
    assert!(!plain.contains('\u{1b}'));
    assert!(plain.contains("over by 97 K") && plain.contains("worst"));
}

#[test]
fn an_empty_report_is_told_without_a_panic() {
    let report = Report {
        title: None,
        conditions: Vec::new(),
        warnings: Vec::new(),
        defaults: Vec::new(),
        set: Vec::new(),
        ..sample::report()
    };
    assert!(check(&report, &[], Depth::All, ("car.toml", true)).contains("no condition"));
    assert!(sweep(&report, &[], Depth::Detail).contains("No speed"));
    assert!(size(&report, &[], Depth::Detail).contains("No sizes"));
}
