//! The examples of the library run.

#[path = "../../docs/examples/first_openings.rs"]
mod first_openings;
#[path = "../../docs/examples/hotter_days.rs"]
mod hotter_days;

use slowcorner::{AirMargin, CaseError, CaseFile};

#[test]
fn the_examples_run() {
    first_openings::main().expect("an estimate");
    hotter_days::main().expect("solved");
}

#[test]
fn what_the_library_refuses_it_says_as_the_command_line_does() {
    let text = include_str!("../../cases/stubble-buggy.toml");
    let case = CaseFile::read(text).expect("a demo");
    let Err(CaseError::Refused(faults)) = case.with(&[("day/temprature", "20 degC")]) else {
        panic!("a wrong address was taken");
    };
    assert_eq!(faults.len(), 1);
    assert!(faults[0].shown.starts_with(&format!("fault: {}\n", faults[0].code)), "{}", faults[0].shown);
    assert!(!faults[0].shown.contains("written") && !faults[0].what_to_do.is_empty());
    assert!(matches!(case.size(), Ok(_) | Err(CaseError::NotSized(_))));
}

#[test]
fn an_answer_of_the_library_is_that_of_the_command_line() {
    let text = include_str!("../../cases/causeway-trike.toml");
    let case = CaseFile::read(text).expect("a demo");
    let changed = case.with(&[("day/temperature", "30 degC")]).expect("sound");
    assert!((changed.number("day/temperature").expect("a number") - 303.15).abs() < 1e-9);
    let loaded =
        slowcorner::case::load(text, &[("day/temperature".into(), "30 degC".into())]).expect("sound").case;
    let model = slowcorner::point::Model::new(&loaded).expect("a model");
    let solved = slowcorner::point::conditions::check(&loaded, &model).expect("solved");
    let answers = changed.solve().expect("solved");
    assert_eq!(answers.len(), solved.len());
    let mut seen = 0;
    for (answer, solved) in answers.iter().zip(&solved) {
        for (part, known) in answer.parts.iter().zip(&solved.parts) {
            assert_eq!((&part.name, part.temperature_C), (&known.name, known.temperature_C));
            assert_eq!(part.margin_K.is_some(), part.air != AirMargin::None);
            seen += 1;
        }
    }
    assert!(seen > 3);
}
