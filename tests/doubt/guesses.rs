//! What is drawn, together with what, and where a draw is cut.

use slowcorner::case::{Case, layouts, load};
use slowcorner::draws::Guesses;
use slowcorner::draws::rules::rules;
use slowcorner::keys::{NumberId, Numbers};
use slowcorner::numerics::sobol::Sobol;

const BASE: &str = include_str!("../diagnostics/base.toml");
const DRAWS: u32 = 4096;

fn case_with(edits: &[(&str, &str)], more: &str) -> Case {
    let mut text = format!("{BASE}\n{more}\n");
    for (from, to) in edits {
        assert_eq!(text.matches(from).count(), 1, "{from:?}");
        text = text.replacen(from, to, 1);
    }
    load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case
}

fn id(case: &Case, address: &str) -> NumberId {
    case.numbers.find(address).unwrap_or_else(|| panic!("no number at {address}"))
}

/// The coordinate of an address; none where it is not drawn.
fn dimension(case: &Case, guesses: &Guesses, address: &str) -> Option<usize> {
    let id = id(case, address);
    let of = |guess: &&slowcorner::draws::Guess| guess.numbers.iter().any(|(number, _)| *number == id);
    guesses.list.iter().find(of).map(|guess| guess.dimension)
}

/// All draws of a case: the numbers of each, in order.
fn draws(case: &Case, guesses: &Guesses) -> (Vec<Numbers>, usize) {
    let sobol = Sobol::new(guesses.dimensions, 3);
    let mut point = vec![0.0; guesses.dimensions];
    let mut shrunk = 0;
    let drawn = (0..DRAWS)
        .map(|index| {
            sobol.point(index, &mut point);
            let mut numbers = case.numbers.clone();
            shrunk += usize::from(guesses.set(&point, &mut numbers).expect("room for every number").shrunk);
            numbers
        })
        .collect();
    (drawn, shrunk)
}

#[test]
fn defaults_of_one_key_in_one_kind_share_a_draw_and_stated_bands_do_not() {
    let case = case_with(
        &[(
            r#"edge = "sharp", pressure_coefficient = "-0.2..-0.1""#,
            r#"pressure_coefficient = "-0.2..-0.1""#,
        )],
        r#"[[passage]]
name = "vent"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "20 cm2" }]"#,
    );
    let guesses = Guesses::of(&case);
    let at = |address: &str| dimension(&case, &guesses, address);
    let shared = at("passage/vent/exit/discharge");
    assert!(shared.is_some());
    assert_eq!(at("passage/right exit/exit/discharge"), shared);
    // the file says how sure it is of this one
    assert_ne!(at("passage/left exit/exit/discharge"), shared);
    assert!(at("passage/left exit/exit/discharge").is_some());
    // the same key in another kind of table
    assert_ne!(at("passage/seams/leak/discharge"), shared);
    assert_eq!(at("part/heads/source_temperature"), at("part/barrels/source_temperature"));
    assert_eq!(at("passage/heads/fins/pressure_exponent"), at("passage/barrels/fins/pressure_exponent"));
    assert_ne!(at("passage/heads/fins/pressure_exponent"), at("passage/oil cooler/core/pressure_exponent"));
}

#[test]
fn what_says_nothing_and_what_the_driver_does_is_not_drawn_unless_the_file_gives_it_a_band() {
    let case = case_with(&[], "");
    let guesses = Guesses::of(&case);
    let at = |address: &str| dimension(&case, &guesses, address);
    for address in [
        "day/over_track",
        "day/temperature",
        "condition/hairpin/load",
        "condition/hairpin/wind",
        "part/oil/hottest_above_mean",
        "part/heads/limit",
        "size/least_area/other",
        // an exit's angle turns its thrust and warms nothing
        "passage/left exit/exit/angle",
    ] {
        assert_eq!(at(address), None, "{address}");
    }
    let case = case_with(
        &[
            (r#"temperature = "27 degC""#, r#"temperature = "27 degC ± 4 K""#),
            (r#"speed = "40 km/h""#, r#"speed = "36..44 km/h""#),
        ],
        "",
    );
    let guesses = Guesses::of(&case);
    assert!(dimension(&case, &guesses, "day/temperature").is_some());
    assert!(dimension(&case, &guesses, "condition/hairpin/speed").is_some());
}

#[test]
fn a_word_shares_its_draw_with_the_same_word_only() {
    let case = case_with(
        &[(r#"heads = "11 %""#, r#"heads = "heads""#), (r#"barrels = "6 %""#, r#"barrels = "barrels""#)],
        "",
    );
    let guesses = Guesses::of(&case);
    let (heads, barrels) =
        (dimension(&case, &guesses, "engine/heat/heads"), dimension(&case, &guesses, "engine/heat/barrels"));
    assert!(heads.is_some() && barrels.is_some() && heads != barrels);
    let case = case_with(
        &[(r#"heads = "11 %""#, r#"heads = "barrels""#), (r#"barrels = "6 %""#, r#"barrels = "barrels""#)],
        "",
    );
    let guesses = Guesses::of(&case);
    assert_eq!(
        dimension(&case, &guesses, "engine/heat/heads"),
        dimension(&case, &guesses, "engine/heat/barrels")
    );
}

/// Half way up its band in the sense of probability.
fn share_below(drawn: &[Numbers], id: NumberId, at: f64) -> f64 {
    drawn.iter().filter(|numbers| numbers.value(id) < at).count() as f64 / drawn.len() as f64
}

#[test]
fn ties_bind_probabilities_and_opposites_turn_them_over() {
    let case = case_with(
        &[],
        r#"[[tied]]
values = ["part/barrels/hottest_above_mean", "passage/left exit/exit/discharge"]
opposite = ["engine/friction_pressure"]"#,
    );
    let guesses = Guesses::of(&case);
    let names =
        ["part/barrels/hottest_above_mean", "passage/left exit/exit/discharge", "engine/friction_pressure"];
    let ids = names.map(|address| id(&case, address));
    let (drawn, _) = draws(&case, &guesses);
    let mut order: Vec<&Numbers> = drawn.iter().collect();
    order.sort_by(|a, b| a.value(ids[0]).total_cmp(&b.value(ids[0])));
    let rising = order.windows(2).all(|pair| pair[0].value(ids[1]) <= pair[1].value(ids[1]));
    let falling = order.windows(2).all(|pair| pair[0].value(ids[2]) >= pair[1].value(ids[2]));
    assert!(rising && falling);
    let dimensions = names.map(|address| dimension(&case, &guesses, address));
    assert!(dimensions[0].is_some() && dimensions.iter().all(|d| *d == dimensions[0]));
    // the shares of the file's band, 0.62 ± 0.05, stay what they are
    assert!((share_below(&drawn, ids[1], 0.57) - 0.05).abs() < 1e-3);
    assert!((share_below(&drawn, ids[1], 0.62) - 0.5).abs() < 1e-3);
}

#[test]
fn no_draw_breaks_a_rule_or_leaves_what_is_accepted() {
    let case = case_with(
        &[
            (r#"limit = "208 degC""#, r#"limit = "208 degC ± 30 K""#),
            (r#"hottest_above_mean = "12 K""#, r#"hottest_above_mean = "0..40 K", source_temperature = "220..400 degC", share_at = "150..230 degC""#),
            (r#"least = "80 degC""#, r#"least = "60..110 degC""#),
            (r#"share = "6 %" }"#, r#"share = "0.2..0.9" }"#),
            (r#"["3400 rpm", "21 kW"]"#, r#"["3400 rpm ± 1500 rpm", "21 kW"]"#),
            (r#"lowest = "1700 rpm""#, r#"lowest = "1000..6000 rpm""#),
        ]
        .map(|(from, to)| (from, to.replace(", source", "\nsource").replace(", share_at", "\nshare_at")))
        .iter()
        .map(|(from, to)| (*from, to.as_str()))
        .collect::<Vec<_>>(),
        "",
    );
    let guesses = Guesses::of(&case);
    let is_drawn = |id: NumberId| guesses.numbers().any(|other| other == id);
    let all = rules(&case, &is_drawn);
    assert!(all.len() >= 7, "{}", all.len());
    let (drawn, _) = draws(&case, &guesses);
    let mut near = 0;
    for numbers in &drawn {
        for rule in &all {
            let sum: f64 = rule.terms.iter().map(|(id, factor)| factor * numbers.value(*id)).sum();
            assert!(sum <= rule.most + 1e-9 * (1.0 + rule.most.abs()), "{rule:?}");
        }
        for fact in guesses.numbers().map(|id| numbers.fact(id)) {
            assert!(fact.range.low <= fact.value && fact.value <= fact.range.high, "{}", fact.address);
        }
        let value = |address: &str| numbers.value(id(&case, address));
        let (source, limit) = (value("part/heads/source_temperature"), value("part/heads/limit"));
        let above = source - (limit - value("part/heads/hottest_above_mean"));
        assert!(above > 19.999, "{above}");
        near += usize::from(above < 25.0);
    }
    // cut, not clamped: nothing heaps up at the bound
    assert!(near > 20 && near < drawn.len() / 8, "{near}");
}

/// Beyond a bound that lies at the value taken, the one half that is left has all the weight.
#[test]
fn a_cut_divides_by_what_is_left() {
    let case = case_with(&[(r#"share = "6 %" }"#, r#"share = "90 % ± 10 %" }"#)], "");
    let guesses = Guesses::of(&case);
    let (drawn, _) = draws(&case, &guesses);
    let share = id(&case, "passage/scoop/ram-inlet/recirculation/share");
    // half a normal distribution: a tenth of it lies beyond 1.645 σ
    assert!((share_below(&drawn, share, 0.8) - 0.1).abs() < 2e-3);
    assert!((share_below(&drawn, share, 0.9) - 1.0).abs() < 1e-9);
}

#[test]
fn heat_beyond_the_fuel_shrinks_in_proportion_and_is_counted() {
    let sound = case_with(&[], "");
    assert_eq!(draws(&sound, &Guesses::of(&sound)).1, 0);
    let case = case_with(
        &[
            (r#"heads = "11 %""#, r#"heads = "40 % ± 20 %""#),
            (r#"barrels = "6 %""#, r#"barrels = "20 %""#),
            (r#"brake_efficiency = "24 %""#, r#"brake_efficiency = "24 % ± 4 %""#),
        ],
        "",
    );
    let guesses = Guesses::of(&case);
    let (drawn, shrunk) = draws(&case, &guesses);
    let ids = ["heads", "barrels", "oil", "bay"].map(|name| id(&case, &format!("engine/heat/{name}")));
    let efficiency = id(&case, "engine/brake_efficiency");
    let mut full = 0;
    for numbers in &drawn {
        let all = ids.iter().map(|id| numbers.value(*id)).sum::<f64>() + numbers.value(efficiency);
        assert!(all <= 1.0 + 1e-12, "{all}");
        let barrels = numbers.value(ids[1]);
        full += usize::from((all - 1.0).abs() < 1e-12);
        // what the file is sure of shrinks too, and in the same proportion
        assert!((barrels / numbers.value(ids[2]) - 4.0).abs() < 1e-9 && barrels <= 0.2 + 1e-12);
    }
    // 91 % taken, σ = √(20² + 4²)/1.645 = 12.4: beyond 100 % in 23 of 100, both normal
    assert!((shrunk as f64 / drawn.len() as f64 - 0.234).abs() < 0.01, "{shrunk}");
    assert_eq!(full, shrunk);
}

#[test]
fn one_address_is_one_guess_in_a_case_and_its_layouts() {
    let loaded = load(BASE, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    let layout = layouts::layout(&loaded.document, "cooler in a box").expect("the layout");
    let mut faults = slowcorner::case::Diagnostics::new();
    let other = Case::read(&layout, &mut faults).expect("a sound layout");
    let all = Guesses::of_all(&[&loaded.case, &other]);
    let [one, two] = &all[..] else { panic!("two") };
    assert_eq!(one.dimensions, two.dimensions);
    for address in
        ["passage/left exit/exit/discharge", "engine/friction_pressure", "part/heads/source_temperature"]
    {
        let in_both = dimension(&loaded.case, one, address);
        assert!(in_both.is_some());
        assert_eq!(in_both, dimension(&other, two, address), "{address}");
    }
    // the diffuser's roughness is gone, the box has walls of its own that share the chambers' draw
    assert!(loaded.case.numbers.find("passage/oil cooler/diffuser/roughness").is_some());
    assert_eq!(
        dimension(&other, two, "chamber/cooler box/skin_conductance"),
        dimension(&loaded.case, one, "chamber/plenum/skin_conductance")
    );
}
