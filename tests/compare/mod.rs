//! Layouts side by side: each against the same case made by hand, and figures worked by hand.

mod chances;
mod changes;
mod differences;

use slowcorner::case::{Case, Loaded, load};
use slowcorner::point::Model;
use slowcorner::point::budget::Budget;
use slowcorner::point::conditions::check;
use slowcorner::study::compare::result::{Comparison, LayoutResult};
use slowcorner::study::compare::result::{RankedBy, TrapKind};
use slowcorner::study::compare::{BASE, Options, compare};
use slowcorner::study::size::Sizing;

pub const QUARRY: &str = include_str!("../../cases/quarry-sprinter.toml");
pub const STUBBLE: &str = include_str!("../../cases/stubble-buggy.toml");

pub fn read(source: &str) -> Loaded {
    load(source, &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

pub fn with(source: &str, set: &[(&str, &str)]) -> Case {
    let set: Vec<(String, String)> = set.iter().map(|(a, v)| (a.to_string(), v.to_string())).collect();
    load(source, &set).unwrap_or_else(|faults| panic!("{faults}")).case
}

fn compared(source: &str, sized: bool) -> Comparison {
    let loaded = read(source);
    compare(
        &loaded.document,
        &loaded.case,
        Options { sized, budget: Budget::seconds(60.0), drawn: None },
        &|_| {},
    )
}

fn answer<'c>(comparison: &'c Comparison, layout: &str) -> &'c LayoutResult {
    let found = comparison.compare.iter().find(|compared| compared.layout == layout).expect("a layout");
    found.answer.as_ref().unwrap_or_else(|| panic!("{layout}: {:?}", found.trouble))
}

/// Every temperature and the drag of an answer, against those of a case solved by itself.
fn agrees(answer: &LayoutResult, case: &Case) {
    let model = Model::new(case).unwrap_or_else(|faults| panic!("{faults}"));
    let conditions = check(case, &model).expect("solves");
    assert_eq!(answer.conditions.len(), conditions.len());
    for (at, condition) in answer.conditions.iter().zip(&conditions) {
        assert_eq!(at.name, condition.name);
        assert!((at.cooling_drag_N - condition.cooling_drag_N).abs() < 1e-9);
        for (one, other) in at.parts.iter().zip(&condition.parts) {
            assert!((one.temperature_C - other.temperature_C).abs() < 1e-9, "{} {}", at.name, one.name);
        }
    }
}

#[test]
fn a_layout_is_the_case_edited_by_hand() {
    let comparison = compared(STUBBLE, false);
    let names: Vec<&str> = comparison.compare.iter().map(|c| c.layout.as_str()).collect();
    assert_eq!(names, [BASE, "no vent", "ram alone", "exits under the tail"]);
    agrees(answer(&comparison, BASE), &with(STUBBLE, &[]));
    let moved = [("place/tail/pressure_coefficient", "-0.04"), ("place/tail/above_ground", "420 mm")];
    agrees(answer(&comparison, "exits under the tail"), &with(STUBBLE, &moved));
    // a vent taken away, against the text without it and without what is said of it
    let (begin, rest) = STUBBLE.split_once("[[passage]]\nname = \"vent\"").expect("a vent");
    let (_, end) = rest.split_once("[size]").expect("a size");
    let (end, _) = end.split_once("# Three ways").expect("layouts");
    let text = format!("{begin}[size]{end}")
        .replace(", taped = { vent = \"95 %\" }", "")
        .replace(", \"vent\"]", "]");
    agrees(answer(&comparison, "no vent"), &with(&text, &[]));
}

#[test]
fn openings_and_speeds_in_them_are_those_worked_by_hand() {
    let comparison = compared(STUBBLE, false);
    let base = answer(&comparison, BASE);
    // in: 260 × 95 mm and 70 cm²; out: 225 mm across and 300 × 80 mm
    assert!((base.opening_area_in_m2 - (0.26 * 0.095 + 0.007)).abs() < 1e-12);
    let out = std::f64::consts::PI / 4.0 * 0.225 * 0.225 + 0.3 * 0.08;
    assert!((base.opening_area_out_m2 - out).abs() < 1e-12);
    assert!((answer(&comparison, "no vent").opening_area_out_m2 - (out - 0.024)).abs() < 1e-12);

    // headland, 118 km/h in clear air: V/V = m/(ρ A V), the air at rest a little warmer than the day's
    let case = with(STUBBLE, &[]);
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let headland = &check(&case, &model).expect("solves")[2];
    let flow = headland.passages[0].mass_flow_kg_s;
    let ratio = flow / (headland.air_density_kg_m3 * 0.26 * 0.095 * (118.0 / 3.6));
    let told = base.conditions[2].velocity_ratios.get("roof scoop").copied().flatten().expect("a ratio");
    assert!((told - ratio).abs() < 4e-3 * ratio, "{told} {ratio}");
    assert!(base.conditions[3].velocity_ratios.get("roof scoop").is_some_and(Option::is_none), "it stands");
}

/// What anyone who has vented a body knows: the lower the pressure where the air leaves, the smaller the
/// opening that does, and pressure there asks for more (common practice).
#[test]
fn the_more_an_exit_is_drawn_at_the_less_opening_is_needed() {
    let layouts = [("drawn hard", -0.25), ("pushed", 0.04), ("drawn less", -0.10)];
    let text: String = layouts
        .iter()
        .map(|(name, cp)| {
            format!("\n[[layout]]\nname = {name:?}\nset = {{ \"place/tail/pressure_coefficient\" = {cp} }}\n")
        })
        .collect();
    let (base, _) = QUARRY.split_once("[[layout]]").expect("a layout");
    let comparison = compared(&format!("{base}{text}"), true);
    assert_eq!(comparison.ranking.order, ["drawn hard", BASE, "drawn less", "pushed"]);
    assert_eq!(comparison.ranking.decided_by, RankedBy::OpeningArea);
    assert_eq!(comparison.ranking.counts, ["hairpin", "following", "straight"]);
    assert!(comparison.ranking.best_because.contains("every limit is kept"), "{:?}", comparison.ranking);
    assert!(comparison.ranking.worst_because.contains("more than the best"), "{:?}", comparison.ranking);
    for compared in &comparison.compare {
        let answer = compared.answer.as_ref().expect("solved");
        assert!(answer.sizes.as_ref().is_some_and(|sizes| sizes.feasible), "{}", compared.layout);
    }
    // sized by itself
    let case = with(QUARRY, &[("place/tail/pressure_coefficient", "-0.25")]);
    let alone = Sizing::new(&case).expect("a size").solve().expect("sizes");
    let among = answer(&comparison, "drawn hard").sizes.as_ref().expect("sized");
    assert!((alone.sizes.objective - among.objective).abs() < 1e-9);
}

#[test]
fn a_layout_that_cannot_be_done_hides_no_other() {
    let text = format!(
        "{QUARRY}\n[[layout]]\nname = \"rising fan\"\nset = {{ \"passage/fan/fan/curve\" = [[\"0 m3/s\", \"100 Pa\"], [\"0.3 m3/s\", \"900 Pa\"]] }}\n\
         [[layout]]\nname = \"nothing left to size\"\nremove = [\"heads\", \"oil cooler\"]\nset = {{ \"size/free\" = [\"left exit\"], \"size/margin\" = \"500 %\" }}\n\
         [[layout]]\nname = \"by itself\"\nremove = [\"heads\", \"oil cooler\", \"left exit\", \"right exit\"]\n"
    );
    let comparison = compared(&text, true);
    let find = |name: &str| comparison.compare.iter().find(|c| c.layout == name).expect("a layout");
    let rising = find("rising fan");
    assert!(rising.answer.is_none());
    assert!(
        rising.trouble.as_ref().is_some_and(|trouble| trouble.contains("refused")),
        "{:?}",
        rising.trouble
    );
    let unsized_one = find("by itself");
    assert!(
        unsized_one.answer.as_ref().is_some_and(|answer| answer.sizes.is_none()),
        "{:?}",
        unsized_one.trouble
    );
    assert!(unsized_one.trouble.as_ref().is_some_and(|trouble| trouble.contains("not sized")));
    let short = answer(&comparison, "nothing left to size");
    assert!(short.sizes.as_ref().is_some_and(|sizes| !sizes.feasible));
    assert!(answer(&comparison, BASE).kept);
    let order = &comparison.ranking.order;
    assert_eq!(order.len(), 5);
    assert_eq!(order.last().map(String::as_str), Some("rising fan"), "what has no answer comes last");
    assert!([BASE, "cooler with its own exit"].contains(&order[0].as_str()), "{order:?}");
}

#[test]
fn traps_are_told_where_they_are() {
    let comparison = compared(QUARRY, false);
    let traps = |layout: &str| -> Vec<(TrapKind, &str)> {
        answer(&comparison, layout).traps.iter().map(|trap| (trap.trap, trap.place.as_str())).collect()
    };
    assert!(traps(BASE).contains(&(TrapKind::Reversal, "passage/oil cooler")), "{:?}", traps(BASE));
    assert!(!traps("cooler with its own exit").contains(&(TrapKind::Reversal, "passage/oil cooler")));
    assert!(comparison.ranking.worst_because.contains("air runs back through"), "{:?}", comparison.ranking);
    // in the queue the air goes back through the heads too; the seams are no passage to speak of
    let back: Vec<&[String]> =
        answer(&comparison, BASE).conditions.iter().map(|at| &at.runs_back[..]).collect();
    assert!(back.iter().flat_map(|names| names.iter()).all(|name| name != "seams"));
    assert!(back[0].contains(&"oil cooler".to_string()), "{back:?}");
}

#[test]
fn warm_air_drawn_in_again_is_a_hot_intake() {
    // a third of the cooler's air comes out of the left exit
    let text = QUARRY.replace(
        "{ kind = \"ram-inlet\", area = \"52 cm2\", place = \"flank\", edge = \"rounded\" },\n  { kind = \"diffuser\", length = \"260 mm\" },\n  { kind = \"core\", part = \"oil\", area = \"290 cm2\", reference_flow = \"0.2 kg/s\", conductance = \"125 W/K\", pressure_drop = \"105 Pa\", pressure_exponent = 1.7, oil_flow = \"12 L/min\", oil_flow_at = \"5000 rpm\" },\n  { kind = \"step\" },",
        "{ kind = \"ram-inlet\", area = \"52 cm2\", place = \"flank\", edge = \"rounded\", recirculation = { from = \"left exit\", share = \"33 %\" } },\n  { kind = \"diffuser\", length = \"260 mm\" },\n  { kind = \"core\", part = \"oil\", area = \"290 cm2\", reference_flow = \"0.2 kg/s\", conductance = \"125 W/K\", pressure_drop = \"105 Pa\", pressure_exponent = 1.7, oil_flow = \"12 L/min\", oil_flow_at = \"5000 rpm\" },\n  { kind = \"step\" },",
    );
    assert_ne!(text, QUARRY);
    let comparison = compared(&text, false);
    let hot = |layout: &str| {
        let traps = &answer(&comparison, layout).traps;
        traps.iter().any(|trap| trap.trap == TrapKind::HotIntake && trap.place == "passage/oil cooler")
    };
    assert!(hot("cooler with its own exit"));
    assert!(!hot(BASE));
}

#[test]
fn one_thread_finds_what_many_find() {
    let in_pool = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
        format!("{:?}", pool.install(|| compared(QUARRY, true)))
    };
    assert_eq!(in_pool(1), in_pool(4));
}

/// The cooler's inlet sunk into the skin: a layout by its passage's name.
#[test]
fn a_layout_with_a_flush_inlet() {
    let layout = r#"
[[layout]]
name = "sunk"
[[layout.passage]]
name = "oil cooler"
from = "outside"
to = "bay"
element = [
  { kind = "flush-inlet", width = "170 mm", height = "45 mm", boundary_layer = { run = "0.9 m" } },
  { kind = "diffuser", length = "420 mm" },
  { kind = "core", part = "oil", area = "170 cm2", reference_flow = "0.18 kg/s", conductance = "96 W/K", pressure_drop = "115 Pa", oil_flow = "11 L/min", oil_flow_at = "4500 rpm" },
]
"#;
    let text = format!("{}{layout}", include_str!("../../cases/stubble-buggy.toml"));
    let loaded = slowcorner::case::load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}"));
    let changed = slowcorner::case::layouts::layout(&loaded.document, "sunk")
        .unwrap_or_else(|faults| panic!("{faults}"));
    let mut faults = slowcorner::case::Diagnostics::new();
    let case = slowcorner::case::Case::read(&changed, &mut faults).unwrap_or_else(|| panic!("{faults}"));
    let solve = |case: &slowcorner::case::Case| {
        let model = slowcorner::point::Model::new(case).unwrap_or_else(|faults| panic!("{faults}"));
        slowcorner::point::conditions::check(case, &model).expect("every condition has a steady state")
    };
    let (drawn, sunk) = (solve(&loaded.case), solve(&case));
    let oil = |conditions: &[slowcorner::point::result::Condition], name: &str| {
        let condition = conditions.iter().find(|c| c.name == name).expect("it is there");
        condition.parts.iter().find(|p| p.name == "oil").expect("it is there").temperature_C
    };
    // at speed the slow skin air costs kelvins; at rest, drawn by the fan, its lip is that of a sharp hole
    assert!(oil(&sunk, "headland") > oil(&drawn, "headland") + 0.5);
    let more = oil(&sunk, "waiting") - oil(&drawn, "waiting");
    assert!((0.0..3.0).contains(&more), "{more}");
}
