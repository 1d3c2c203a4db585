//! What fans are told by conditions and steps.

use crate::lap::load;
use slowcorner::case::{self, Case};
use slowcorner::point::{Model, conditions};
use slowcorner::study::lap;
use slowcorner::study::lap::result::Stint;

/// A car with an electric fan, its parts given heat capacities, and a queue with the engine off.
fn car(more: &str) -> String {
    let text = include_str!("../../src/cli/start/electric.toml");
    let mut out = String::new();
    for line in text.lines() {
        out += line;
        out.push('\n');
        if ["[part.heads]", "[part.barrels]", "[part.oil]"].contains(&line.trim()) {
            out += "heat_capacity = \"6 kJ/K\"\n";
        }
    }
    format!("{out}\n[[condition]]\nname = \"stopped\"\nspeed = \"0 km/h\"\nrpm = \"0 rpm\"\n{more}\n")
}

fn solved(text: &str, set: &[(&str, &str)]) -> (Case, Vec<(String, Vec<f64>, f64)>) {
    let set: Vec<(String, String)> = set.iter().map(|(a, v)| (a.to_string(), v.to_string())).collect();
    let case = case::load(text, &set).unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let conditions = conditions::check(&case, &model).unwrap_or_else(|error| panic!("{error}"));
    let one = |c: &slowcorner::point::result::Condition| {
        (c.name.clone(), c.parts.iter().map(|part| part.temperature_C).collect(), c.fans[0].rpm)
    };
    let all = conditions.iter().map(one).collect();
    (case, all)
}

fn alike(one: &[f64], other: &[f64]) -> bool {
    one.iter().zip(other).all(|(a, b)| (a - b).abs() < 1e-4)
}

#[test]
fn a_fan_that_is_told_is_a_fan_so_written() {
    let text = car("");
    let plain = solved(&text, &[]).1;
    let queue = plain.iter().position(|(name, ..)| name == "queue").expect("a queue");
    for (told, written) in [
        (("condition/queue/fans", "off"), ("passage/fan duct/fan/off", "true")),
        (("condition/queue/fans/fan duct", "off"), ("passage/fan duct/fan/off", "true")),
        (("condition/queue/fans/fan duct", "2000 rpm"), ("passage/fan duct/fan/speed", "2000 rpm")),
    ] {
        let (here, there) = (solved(&text, &[told]).1, solved(&text, &[written]).1);
        assert!(alike(&here[queue].1, &there[queue].1), "{told:?}: {:?} {:?}", here[queue], there[queue]);
        assert_eq!(here[queue].2, there[queue].2);
        assert!(!alike(&here[queue].1, &plain[queue].1), "{told:?} changes nothing");
        // the other conditions are not touched
        assert!(here.iter().zip(&plain).filter(|(a, _)| a.0 != "queue").all(|(a, b)| alike(&a.1, &b.1)));
    }
    let as_set = solved(&text, &[("condition/queue/fans", "as set")]).1;
    assert!(alike(&as_set[queue].1, &plain[queue].1));
}

fn stint(text: &str) -> Stint {
    let (case, model) = load(text);
    lap::lap(&case, &model, Vec::new()).expect("runs").remove(0)
}

#[test]
fn a_step_has_the_last_word() {
    let step = |fans: &str| {
        format!(
            "[[stint]]\nname = \"run\"\nstart = \"90 degC\"\nstep = [{{ condition = \"queue\", time = \"2:00\"{fans} }}]"
        )
    };
    let peak =
        |stint: &Stint| stint.steps[0].parts.iter().map(|(_, part)| part.temperature_C).collect::<Vec<_>>();
    let (on, off) = (stint(&car(&step(""))), stint(&car(&step(", fans = \"off\""))));
    assert!(!alike(&peak(&on), &peak(&off)));
    let named = stint(&car(&step(", fans = { \"fan duct\" = \"off\" }")));
    assert!(alike(&peak(&named), &peak(&off)));
    // what the condition says, the step takes back
    let text =
        car(&step(", fans = \"as set\"")).replace("name = \"queue\"", "name = \"queue\"\nfans = \"off\"");
    assert!(alike(&peak(&stint(&text)), &peak(&on)));
}

#[test]
fn a_fan_that_runs_on_is_said_and_the_other_case_given() {
    let text = car(
        "[[stint]]\nname = \"run\"\nstart = \"150 degC\"\nstep = [{ condition = \"stopped\", time = \"60 s\" }]",
    );
    let found = stint(&text);
    let stands = &found.standing[0];
    assert!(stands.engine_off && stands.fans_running.get("fan duct").is_some_and(|rpm| *rpm > 0.0));
    let off = stands.with_fans_off.as_ref().expect("the other case");
    let silent = stint(&text.replace("name = \"stopped\"", "name = \"stopped\"\nfans = \"off\""));
    let silent = &silent.standing[0];
    assert!(silent.fans_running.0.is_empty() && silent.with_fans_off.is_none());
    for (name, part) in off.iter() {
        let other = silent.parts.get(name).expect("there");
        assert!((part.last_C - other.last_C).abs() < 0.1, "{name}: {} {}", part.last_C, other.last_C);
    }
    let heads = |parts: &slowcorner::point::result::ByName<slowcorner::study::lap::result::Stands>| {
        parts.get("heads").map(|p| p.last_C)
    };
    assert!(heads(off) > heads(&stands.parts), "without the fan the heads stay hotter");
    // the warning of a standing engine says so too
    let (case, model) = load(&text);
    let conditions = conditions::check(&case, &model).expect("solved");
    let told = slowcorner::warnings::of_conditions(&case, &model, &conditions);
    let told = told.iter().find(|warning| warning.code == "engine-stands").expect("told");
    assert!(told.message.contains("a fan runs on (fan duct at"), "{}", told.message);
}

#[test]
fn what_fans_cannot_be_told() {
    for (fans, code, words) in [
        ("fans = \"of\"", "unknown-word", "off or as set"),
        ("fans = \"2400 rpm\"", "unknown-word", "a speed stands behind its passage"),
        ("fans = false", "unknown-word", "off or as set"),
        ("fans = { \"fan duct\" = \"2400\" }", "unknown-word", "2400 rpm"),
        ("fans = { \"fan duct\" = 2400 }", "unknown-word", "a bare number"),
        ("fans = { \"fan dutc\" = \"off\" }", "unknown-name", "did you mean fan duct?"),
        ("fans = { seams = \"off\" }", "nothing-to-turn", "fans stand in fan duct"),
    ] {
        let text = car("").replace("name = \"stopped\"", &format!("name = \"stopped\"\n{fans}"));
        let faults = case::load(&text, &[]).expect_err(fans);
        let fault = &faults.list()[0];
        let told = format!("{} {}", fault.message, fault.what_to_do);
        assert!(fault.code == code && told.contains(words), "{fans}: {} {told}", fault.code);
    }
}

/// A layout may have no fan where the case has one: what conditions and steps tell that fan goes with it.
#[test]
fn what_a_fan_is_told_goes_with_the_fan() {
    let layout = r#"
[[stint]]
name = "run"
start = "90 degC"
step = [{ condition = "stopped", time = "60 s", fans = { "fan duct" = "2000 rpm" } }, { condition = "stopped", time = "60 s", fans = "off" }]
[[layout]]
name = "no fan"
[[layout.passage]]
name = "fan duct"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "200 cm2", pressure_coefficient = -0.1 }]
"#;
    let text =
        car(layout).replace("name = \"stopped\"", "name = \"stopped\"\nfans = { \"fan duct\" = \"off\" }");
    let loaded = case::load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}"));
    let changed =
        case::layouts::layout(&loaded.document, "no fan").unwrap_or_else(|faults| panic!("{faults}"));
    let mut faults = case::Diagnostics::new();
    assert!(Case::read(&changed, &mut faults).is_some(), "{faults}");
}
