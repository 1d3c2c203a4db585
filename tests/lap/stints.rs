//! Whole cars in time.

use crate::lap::{load, run};
use slowcorner::study::lap::march::FIRST_ORDER;
use slowcorner::study::lap::result::Stint;
use slowcorner::study::lap::{lap, lap_within};

const STINTS: &str = include_str!("stint.toml");
const EXPECTED: &str = include_str!("stint.expected.json");

/// The temperatures of an independent program: the same equations integrated by an implicit multistep method
/// of a general library at a tolerance of 1e-9.
#[test]
fn as_another_program_integrates_them() {
    let expected: serde_json::Value = serde_json::from_str(EXPECTED).expect("valid data");
    let stints = run(STINTS, &[]);
    let list = expected["stints"].as_array().expect("stints");
    assert_eq!(stints.len(), list.len());
    for (stint, expected) in stints.iter().zip(list) {
        let steps = expected["steps"].as_array().expect("steps");
        assert_eq!(
            (stint.name.as_str(), stint.steps.len()),
            (expected["name"].as_str().expect("a name"), steps.len())
        );
        for (step, expected) in stint.steps.iter().zip(steps) {
            assert_eq!(step.condition.as_deref(), expected["condition"].as_str());
            assert!((step.until_s - expected["until_s"].as_f64().expect("a time")).abs() < 1e-9);
            for (name, part) in step.parts.iter() {
                let other = &expected["parts"][name];
                for (here, there) in [(part.temperature_C, "temperature_C"), (part.peak_C, "peak_C")] {
                    let there = other[there].as_f64().expect("a temperature");
                    // stated: 0.3 K; the step control asks for better
                    assert!((here - there).abs() < 0.01, "{} {name}: {here} {there}", stint.name);
                }
            }
        }
    }
}

#[test]
fn energy_closes_over_every_stint() {
    for stint in run(STINTS, &[]) {
        for (name, part) in stint.parts.iter() {
            assert!(part.energy_left_over.abs() < 1e-6, "{} {name}: {}", stint.name, part.energy_left_over);
        }
    }
}

/// Steps half as long (an error of the first order a quarter as large) change no figure by what is printed.
#[test]
fn half_the_step_changes_nothing_that_is_printed() {
    let (case, model) = load(STINTS);
    let usual = lap(&case, &model, Vec::new()).expect("runs");
    let fine = lap_within(&case, &model, Vec::new(), 0.25 * FIRST_ORDER).expect("runs");
    let points = |stints: &[Stint]| stints.iter().map(|stint| stint.points_solved).sum::<usize>();
    assert!(points(&fine) > points(&usual) * 3 / 2, "{} {}", points(&fine), points(&usual));
    for (usual, fine) in usual.iter().zip(&fine) {
        for (usual, fine) in usual.steps.iter().zip(&fine.steps) {
            for ((_, usual), (_, fine)) in usual.parts.iter().zip(fine.parts.iter()) {
                assert!((usual.temperature_C - fine.temperature_C).abs() < 0.005);
                assert!((usual.peak_C - fine.peak_C).abs() < 0.005);
            }
        }
    }
}

/// A recorded run that holds still is the same as a step of its condition.
#[test]
fn a_steady_record_is_a_step() {
    let steps = format!(
        "{}\n[[stint]]\nname = \"s\"\nstart = \"80 degC\"\nstep = [{{ condition = \"same\", time = \"100 s\" }}]\n{SAME}",
        head()
    );
    let record =
        format!("{}\n[[stint]]\nname = \"s\"\nstart = \"80 degC\"\ntrace = \"x.csv\"\n{SAME}", head());
    let mut rows = String::from("rpm,load (%),time (s),speed (m/s),lambda\n");
    for i in 0..=400 {
        rows += &format!("4200,60,{},20,0.9\n", 0.25 * f64::from(i) + 17.0);
    }
    let (a, b) = (&run(&steps, &[])[0], &run(&record, &[&rows])[0]);
    for ((_, a), (_, b)) in a.steps[0].parts.iter().zip(b.steps[0].parts.iter()) {
        assert!((a.temperature_C - b.temperature_C).abs() < 1e-3, "{a:?} {b:?}");
    }
    assert!(b.notes.iter().any(|note| note.contains("lambda")), "{:?}", b.notes);
    assert!((b.steps[0].until_s - 100.0).abs() < 1e-9);
}

const SAME: &str =
    "[[condition]]\nname = \"same\"\nspeed = \"20 m/s\"\nrpm = \"4200 rpm\"\nload = \"60 %\"\n";

/// The car without its stints.
fn head() -> String {
    STINTS.split("[[stint]]").next().expect("the car").to_string()
}

/// A hairpin by stopwatch: speeds, gears and loads as they are reckoned by hand.
#[test]
fn a_lap_by_stopwatch() {
    let text = format!(
        "{}\n[[stint]]\nname = \"lap\"\nstart = \"90 degC\"\nlaps = 2\nleg = [\n{}\n]\n",
        head(),
        "{ name = \"straight\", time = \"10 s\", speed_in = \"50 km/h\", top_speed = \"120 km/h\", speed_out = \"70 km/h\" },\n\
         { name = \"hairpin\", time = \"6 s\", least_speed = \"36 km/h\", speed_out = \"50 km/h\" },"
    );
    let stint = &run(&text, &[])[0];
    assert_eq!(stint.steps.len(), 2);
    assert!((stint.steps[0].until_s - 16.0).abs() < 1e-9 && (stint.steps[1].until_s - 32.0).abs() < 1e-9);
    let speeds = &stint.course.speed;
    let (low, high) = speeds.iter().fold((f32::MAX, 0.0_f32), |(low, high), v| (low.min(*v), high.max(*v)));
    assert!((low - 10.0).abs() < 1e-3 && (high - 120.0 / 3.6).abs() < 1e-3, "{low} {high}");
    assert!(stint.notes.iter().any(|note| note.contains("full wherever the car speeds up")));
    // 120 to 70 km/h at 7 m/s² takes 1.98 s: the brakes go on after 8.02 s
    let top = speeds.iter().position(|v| (v - high).abs() < 1e-6).expect("the top");
    assert!((stint.course.time[top] - (10.0 - 50.0 / 3.6 / 7.0)).abs() < 0.01, "{}", stint.course.time[top]);
}
