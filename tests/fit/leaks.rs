//! A hole in the tape beside a blower, in a fit: what it tells of a leak, by hand.

use crate::fit::support::{NINE_IN_TEN, fitted, score, spaces};

/// One space that leaks through 20 cm² with a discharge of 0.6 ± 0.14; nothing else is guessed.
const LEAKING: &str = r#"[body]
hot_air_at_rest = "0 %"
hot_air_moving = "0 %"
[chamber.bay]
skin_conductance = "0 W/K"
[[passage]]
name = "scoop"
from = "outside"
to = "bay"
element = [{ kind = "wall-inlet", area = "70 cm2", pressure_coefficient = 0, entry_loss = 0.5 }]
[[passage]]
name = "tail"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "120 cm2", discharge = 0.6, pressure_coefficient = 0 }]
[[passage]]
name = "seams"
from = "bay"
to = "outside"
element = [{ kind = "leak", area = "20 cm2", discharge = "0.6 ± 0.14", pressure_coefficient = 0 }]
"#;
const DISCHARGE: &str = "passage/seams/leak/discharge";

/// Share that is left beside 30 cm² of discharge 0.6, of a leak of 20 cm²: continuity and the law of an orifice.
fn left_with(discharge: f64) -> f64 {
    let (leak, hole) = (20.0 * discharge, 30.0 * 0.6);
    (leak / (leak + hole)).powi(2)
}

/// Of 1000 Pa so much is left that the leak has a discharge of 0.7. What is known is the prior and this, to 20 % 9 times in 10:
///
///   J = ((C − 0.6)/0.0851)² + ((r(C) − r)/(0.2 r/1.645))²,  least at the likeliest C; its curvature gives the spread.
#[test]
fn two_pressures_tell_a_leak() {
    let read = left_with(0.7);
    assert!((left_with(0.6) - 0.16).abs() < 1e-12, "(12/30)²");
    let (fit, left) = fitted(
        &spaces(LEAKING),
        &format!(
            "format = 1\n[[test]]\nname = \"all taped\"\non = \"bench\"\n\
             reading = {{ hole = \"30 cm2\", shut = \"1000 Pa ± 0.1 Pa\", beside = \"{:.3} Pa ± 0.1 Pa\" }}\n",
            1000.0 * read
        ),
    );
    let misfit = &fit.misfits[0];
    assert_eq!((misfit.unit, misfit.written.as_str().contains(" of 1000 Pa")), ("share", true));
    assert!((misfit.read - read).abs() < 1e-4, "{misfit:?}");
    let half = 0.14 / NINE_IN_TEN;
    let cost = |c: f64| {
        let model = 0.2 * read / NINE_IN_TEN;
        ((c - 0.6) / half).powi(2) + ((left_with(c) - read) / model).powi(2)
    };
    let steps = (0..=4000).map(|i| 0.4 + 1e-4 * f64::from(i));
    let likeliest = steps.min_by(|a, b| cost(*a).total_cmp(&cost(*b))).expect("steps");
    let h = 1e-3;
    let curvature = (cost(likeliest + h) - 2.0 * cost(likeliest) + cost(likeliest - h)) / (h * h);
    let (mean, spread) = score(&left, DISCHARGE);
    let (by_hand, width) = ((likeliest - 0.6) / half, (2.0 / curvature).sqrt() / half);
    assert!((mean - by_hand).abs() < 0.12, "{mean} for {by_hand}");
    assert!((spread / width - 1.0).abs() < 0.15, "{spread} for {width}");
    assert!(by_hand > 0.4 && width < 0.75, "it tells something: {by_hand}, {width}");
}

/// A car of which nobody said that it leaks has nothing that a hole could tell of.
#[test]
fn a_car_that_leaks_nowhere_is_told_so() {
    let tight = spaces(LEAKING)
        .replace(
            "{ kind = \"leak\", area = \"20 cm2\", discharge = \"0.6 ± 0.14\", pressure_coefficient = 0 }",
            "{ kind = \"exit\", area = \"20 cm2\", discharge = \"0.6 ± 0.14\", pressure_coefficient = 0 }",
        )
        .replace("[body]", "[body]\nleaks = \"0 %\"");
    let loaded = slowcorner::case::load(&tight, &[]).expect("a sound case");
    let text = "format = 1\n[[test]]\nname = \"all taped\"\non = \"bench\"\nreading = { hole = \"30 cm2\", shut = \"900 Pa\", beside = \"200 Pa\" }\n";
    let faults = slowcorner::readings::file::load(text, &loaded).expect_err("refused");
    assert_eq!(faults.list().iter().map(|fault| fault.code).collect::<Vec<_>>(), ["nothing-leaks"]);
}
