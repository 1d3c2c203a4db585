//! A case from tape measure, callipers, scale and type plate alone: it runs, and says of everything else what was assumed, how far it
//! may be off, and how to measure it.

use slowcorner::case::{Loaded, load};
use slowcorner::keys::Origin;
use slowcorner::output::text;
use slowcorner::point::{Model, conditions};
use slowcorner::study::document;
use slowcorner::warnings;

/// An invented cyclecar, measured on the stand.
const CYCLECAR: &str = include_str!("../../cases/orchard-cyclecar.toml");

/// Keys that only a flow bench, a wind tunnel or a maker's curve can fill in.
const NOT_ON_THE_STAND: [&str; 9] = [
    "conductance =",
    "pressure_drop",
    "reference_flow",
    "curve =",
    "discharge =",
    "brake_efficiency",
    "volumetric_efficiency",
    "friction_pressure",
    "entry_loss",
];

fn loaded() -> Loaded {
    load(CYCLECAR, &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn it_is_written_from_what_the_stand_can_tell() {
    for key in NOT_ON_THE_STAND {
        assert!(!CYCLECAR.contains(key), "{key} is no matter for callipers");
    }
    // heat shares, surface pressure and seams by words, all listed as assumed
    let case = loaded().case;
    for address in ["engine/heat/heads", "engine/heat/oil", "place/tail/pressure_coefficient", "body/leaks"] {
        let fact = case.numbers.fact(case.numbers.find(address).unwrap_or_else(|| panic!("{address}")));
        assert!(matches!(fact.origin, Origin::Assumed(_)), "{address}");
    }
}

#[test]
fn it_runs_and_every_assumed_value_has_band_source_and_a_way_to_measure_it() {
    let case = loaded().case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let conditions = conditions::check(&case, &model).expect("every condition has a steady state");
    for condition in &conditions {
        assert!(condition.residual <= 1e-9);
        // mass of every chamber closes, seams included
        for chamber in &condition.chambers {
            let sum: f64 = condition
                .passages
                .iter()
                .map(|p| {
                    f64::from(u8::from(p.to == chamber.name)) * p.mass_flow_kg_s
                        - f64::from(u8::from(p.from == chamber.name)) * p.mass_flow_kg_s
                })
                .sum();
            assert!(sum.abs() < 1e-8, "{} in {}: {sum}", chamber.name, condition.name);
        }
    }
    let defaults = document::defaults(&case);
    let guesses: Vec<_> = defaults.iter().filter(|taken| taken.low != taken.high).collect();
    assert!(guesses.len() > 30, "{}", guesses.len());
    for guess in &guesses {
        assert!(!guess.source.is_empty(), "{} has no source", guess.key);
        assert!(guess.measure.contains("; "), "{}: {}", guess.key, guess.measure);
    }
    // and the terminal shows each of them
    let mut report = document::report(&case, "0".repeat(64), &[], warnings::of_case(&case, &model));
    report.conditions = conditions;
    let shown =
        anstream::adapter::strip_str(&text::check(&report, &[], text::Depth::All, ("car.toml", false)))
            .to_string();
    let listed = shown.split("How to measure what was assumed").nth(1).expect("the list is there");
    for guess in &guesses {
        let key = guess.key.rsplit('/').next().unwrap_or_default().replace('_', " ");
        assert!(listed.contains(&key), "{} is not in the list", guess.key);
        let band = guess.low.split(' ').next().unwrap_or_default().replace('-', "−");
        assert!(shown.contains(&band), "{}: no band from {}", guess.key, guess.low);
    }
}

/// Where an inlet in the flank starves the cooler, the hose from the fan does not.
#[test]
fn its_layouts_say_where_the_cooler_should_breathe() {
    use slowcorner::case::{Case, Diagnostics, layouts};
    let loaded = loaded();
    let oil = |case: &Case| {
        let model = Model::new(case).unwrap_or_else(|faults| panic!("{faults}"));
        let conditions = conditions::check(case, &model).expect("a steady state");
        let steep = conditions.iter().find(|c| c.name == "steep lane").expect("it is there");
        steep.parts.iter().find(|p| p.name == "oil").map_or(f64::NAN, |p| p.temperature_margin_K)
    };
    assert!(oil(&loaded.case) > 10.0, "fed from the fan");
    let changed = layouts::layout(&loaded.document, "flush inlet").unwrap_or_else(|f| panic!("{f}"));
    let mut faults = Diagnostics::new();
    let case = Case::read(&changed, &mut faults).unwrap_or_else(|| panic!("{faults}"));
    assert!(oil(&case) < -50.0, "no ram in the steep lane");
}
