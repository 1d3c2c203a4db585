//! What a case does not say: seams, hot air drawn in again, and what stand-off from the skin is worth.

use slowcorner::case::{Case, Loaded, load};
use slowcorner::keys::Origin;
use slowcorner::point::budget::Budget;
use slowcorner::point::margins::margins_everywhere;
use slowcorner::point::result::Condition;
use slowcorner::point::{Model, conditions};
use slowcorner::study::check::offers::{Offer, offers_within};
use slowcorner::study::check::stand_off::{StandOff, stand_off_within};

/// Slaloms on stubble: a shroud before the fins, a bay behind them. The car is invented.
const BUGGY: &str = include_str!("../../cases/stubble-buggy.toml");
/// A bay that three inlets feed, with seams that the case writes down. The car is invented.
const SPRINTER: &str = include_str!("../../cases/quarry-sprinter.toml");

fn offers(case: &Case, model: &Model) -> Vec<Offer> {
    let now = margins_everywhere(case, model);
    offers_within(case, model, now.as_ref(), Budget::of(u64::MAX), &mut Vec::new())
}

fn stand_off(case: &Case, model: &Model) -> Vec<StandOff> {
    let now = margins_everywhere(case, model);
    stand_off_within(case, model, now.as_ref(), Budget::of(u64::MAX), &mut Vec::new())
}

fn case(text: &str, set: &[(&str, &str)]) -> Case {
    let set: Vec<_> = set.iter().map(|(address, value)| (address.to_string(), value.to_string())).collect();
    match load(text, &set) {
        Ok(Loaded { case, .. }) => case,
        Err(faults) => panic!("refused: {:?}", faults.list()),
    }
}

fn solved(case: &Case) -> Vec<Condition> {
    let model = Model::new(case).expect("the case is sound");
    conditions::check(case, &model).expect("every condition has a steady state")
}

fn flow(condition: &Condition, passage: &str) -> f64 {
    condition.passages.iter().find(|p| p.name == passage).map_or(f64::NAN, |p| p.mass_flow_kg_s)
}

fn kelvins(condition: &Condition, part: &str) -> f64 {
    condition.parts.iter().find(|p| p.name == part).map_or(f64::NAN, |p| p.temperature_margin_K)
}

/// The same two gaps written down as passages, areas by hand: 12 % of the inlet that feeds each chamber.
#[test]
fn seams_are_leaks_out_of_the_chambers_that_inlets_feed() {
    let said = solved(&case(BUGGY, &[("body/leaks", "12 %")]));
    // 260 mm x 95 mm of roof scoop; the bay is fed through the cooler's core, and what leaks behind that is lost to nothing
    let layouts = BUGGY.find("# Three ways to do without").expect("the case has layouts");
    let mut written = BUGGY[..layouts].to_string();
    written += &format!(
        "[[passage]]\nname = \"a\"\nfrom = \"shroud\"\nto = \"bay\"\nelement = [{{ kind = \"leak\", area = \"{} cm2\" }}]\n",
        0.12 * 26.0 * 9.5
    );
    let by_hand = solved(&case(&written, &[]));
    for (a, b) in said.iter().zip(&by_hand) {
        let (seams, leak) = (flow(a, "seams of shroud"), flow(b, "a"));
        assert!((seams - leak).abs() < 1e-8, "{}", a.name);
        for part in ["heads", "barrels", "oil"] {
            assert!((kelvins(a, part) - kelvins(b, part)).abs() < 1e-5, "{}: {part}", a.name);
        }
        assert!(a.residual < 1e-9 && flow(a, "seams of shroud").abs() > 1e-3);
    }
}

#[test]
fn nothing_said_leaves_the_case_as_it_is() {
    let (plain, said) = (solved(&case(BUGGY, &[])), solved(&case(BUGGY, &[("body/leaks", "0 %")])));
    for (a, b) in plain.iter().zip(&said) {
        assert_eq!(a.passages.len(), b.passages.len());
        assert_eq!(kelvins(a, "heads"), kelvins(b, "heads"));
    }
    let case = case(BUGGY, &[]);
    for address in ["body/leaks", "body/hot_air_at_rest", "body/hot_air_moving"] {
        let fact = case.numbers.fact(case.numbers.find(address).expect("taken as a default"));
        assert!(matches!(&fact.origin, Origin::Assumed(source) if source.contains("common practice")));
        assert_eq!(fact.value, 0.0);
        assert!(fact.spread.as_ref().is_some_and(|spread| spread.high(0.0) > 0.0), "{address} has a band");
    }
}

/// The buggy's inlets with a list of their own: both exits by their areas, at the share of the speed. Area of the fan's
/// exit pi/4 (225 mm)^2, of the vent 300 mm x 80 mm.
#[test]
fn hot_air_by_speed_is_what_a_list_of_recirculations_gives() {
    let exits = [std::f64::consts::FRAC_PI_4 * 0.225 * 0.225, 0.3 * 0.08];
    let all: f64 = exits.iter().sum();
    for (speed, share) in [("0 km/h", 0.24), ("15 km/h", 0.14), ("30 km/h", 0.04), ("90 km/h", 0.04)] {
        let at = |text: &str, set: &[(&str, &str)]| {
            let mut set = set.to_vec();
            set.push(("condition/waiting/speed", speed));
            solved(&case(text, &set)).into_iter().find(|c| c.name == "waiting").expect("it is there")
        };
        let said = at(BUGGY, &[("body/hot_air_at_rest", "24 %"), ("body/hot_air_moving", "4 %")]);
        let list = format!(
            "recirculation = [{{ from = \"fan\", share = {} }}, {{ from = \"vent\", share = {} }}]",
            share * exits[0] / all,
            share * exits[1] / all
        );
        let text = BUGGY
            .replace(
                "place = \"roof\", edge = \"rounded\" }",
                &format!("place = \"roof\", edge = \"rounded\", {list} }}"),
            )
            .replace(
                "pressure_coefficient = 0.04, edge",
                &format!("pressure_coefficient = 0.04, {list}, edge"),
            );
        let layouts = text.find("# Three ways to do without").expect("the case has layouts");
        let by_hand = at(&text[..layouts], &[]);
        for part in ["heads", "barrels", "oil"] {
            let (a, b) = (kelvins(&said, part), kelvins(&by_hand, part));
            assert!((a - b).abs() < 1e-5, "{speed}, {part}: {a} {b}");
        }
    }
}

#[test]
fn what_is_usual_is_offered_with_its_cost_where_the_case_says_nothing() {
    let plain = case(BUGGY, &[]);
    let model = Model::new(&plain).expect("the case is sound");
    let before = solved(&plain);
    let found = offers(&plain, &model);
    let keys: Vec<(&str, &str)> = found.iter().map(|offer| (offer.key.as_str(), offer.word)).collect();
    let expected = [
        ("body/leaks", "sealed"),
        ("body/leaks", "unsealed"),
        ("body/hot_air_at_rest", "usual"),
        ("body/hot_air_moving", "usual"),
    ];
    assert_eq!(keys, expected);
    for offer in &found {
        // what is offered is what saying the word does
        let after = solved(&case(BUGGY, &[(&offer.key, offer.word)]));
        assert!(!offer.costs.is_empty() && offer.applies, "{} costs something", offer.key);
        for cost in &offer.costs {
            let index = before.iter().position(|c| c.name == cost.condition).expect("a condition");
            let rise = kelvins(&before[index], &cost.part) - kelvins(&after[index], &cost.part);
            assert!((rise - cost.temperature_rise_K).abs() < 1e-4, "{} {}", offer.word, cost.part);
            let (low, high) = (cost.at_low_K.expect("solved"), cost.at_high_K.expect("solved"));
            assert!(low <= cost.temperature_rise_K && cost.temperature_rise_K <= high, "{}", offer.word);
        }
    }
    // a case that writes its seams down is offered none, and one that knows of none says so
    let sprinter = case(SPRINTER, &[]);
    let model = Model::new(&sprinter).expect("the case is sound");
    assert!(offers(&sprinter, &model).iter().all(|offer| offer.key != "body/leaks"));
    let dense = case(BUGGY, &[("body/leaks", "0 %")]);
    let model = Model::new(&dense).expect("the case is sound");
    assert!(offers(&dense, &model).iter().all(|offer| offer.key != "body/leaks"));
}

/// Air at 15 degC and sea level (kinematic viscosity 1.461e-5 m2/s), 40 m/s, 2 m along the skin: thickness 33.23 mm with the
/// factor 0.37, and an opening as high as that on the skin meets 0.8 of the dynamic pressure, mean by mass of the exact integral
/// of the one-seventh profile; both reckoned apart from this program.
#[test]
fn stand_off_of_an_inlet_in_the_skins_slow_air() {
    let set = [
        ("day/temperature", "15 degC"),
        ("day/altitude", "0 m"),
        ("day/humidity", "0 %"),
        ("condition/headland/speed", "144 km/h"),
        ("condition/headland/clear_air", "100 %"),
        ("passage/oil cooler/ram-inlet/boundary_layer/run", "2 m"),
        ("passage/oil cooler/ram-inlet/boundary_layer/height", "33.23 mm"),
    ];
    let case = case(BUGGY, &set);
    let model = Model::new(&case).expect("the case is sound");
    let found = stand_off(&case, &model);
    let [inlet] = &found[..] else { panic!("one inlet has a run") };
    assert_eq!((inlet.inlet.as_str(), inlet.gap_m), ("passage/oil cooler/ram-inlet", 0.0));
    let moved = inlet.conditions.iter().find(|c| c.condition == "headland").expect("it moves");
    assert!((1e3 * moved.thickness_m - 33.23).abs() < 0.02, "{}", moved.thickness_m);
    assert!((moved.share - 0.8).abs() < 2e-4, "{}", moved.share);
    // standing cars have no slow air
    assert!(inlet.conditions.iter().all(|c| c.condition != "waiting"));
    // the mean over 10 mm to 43.23 mm by numerical integration of the profile
    let (mut power, mut volume) = (0.0, 0.0);
    let (thickness, parts) = (moved.thickness_m, 20_000);
    for i in 0..parts {
        let height: f64 = 0.010 + 0.03323 * (f64::from(i) + 0.5) / f64::from(parts);
        let speed = (height / thickness).min(1.0).powf(1.0 / 7.0);
        power += speed.powi(3);
        volume += speed;
    }
    let step = &moved.steps[0];
    assert!((step.share - power / volume).abs() < 1e-6, "{} {}", step.share, power / volume);
    // half rho V2 at 1.225 kg/m3 and 40 m/s, with the compressible term; recovery 0.86
    let pressure = 0.5 * 1.225 * 1600.0 * (1.0 + (40.0_f64 / 340.29).powi(2) / 4.0);
    let gain = 0.86 * pressure * (step.share - moved.share);
    assert!((step.push_gain_Pa / gain - 1.0).abs() < 2e-3, "{} {gain}", step.push_gain_Pa);
    // each step is worth less than the one before, and the oil gains by it
    assert!(moved.steps.windows(2).all(|pair| pair[1].push_gain_Pa < pair[0].push_gain_Pa));
    assert_eq!(step.part.as_deref(), Some("oil"));
    assert!(step.temperature_fall_K.is_some_and(|kelvins| kelvins > 0.0));
}
