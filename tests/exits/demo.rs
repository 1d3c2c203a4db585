//! The demo cases: against `size`, against `check`, against a scan of all inlets.

use super::{BUGGY, QUARRY, TRIKE, area, checked, least_kelvin, read, solved, study, within};
use slowcorner::case::Case;
use slowcorner::draws::{Guesses, TallyWanted, draws};
use slowcorner::point::Model;
use slowcorner::point::conditions::check;
use slowcorner::point::opening::Opening;
use slowcorner::point::result::OpeningRole;
use slowcorner::study::exits::result::ExitSize;
use slowcorner::study::exits::{exits, exits_with_doubt};
use slowcorner::study::size::Sizing;

/// With exits that keep their proportion anyway, the knee is what `size` finds: all openings together least.
#[test]
fn the_knee_is_where_size_ends() {
    for text in [QUARRY, TRIKE, BUGGY] {
        let found = study(text);
        let case = read(text, &[]).case;
        let sized = Sizing::new(&case).expect("[size]").solve().expect("solved").sizes;
        let both = found.knee_m2.expect("found") + found.inlet_area_at_knee_m2.expect("found");
        within("together", both, sized.objective, 1e-3);
        let exits: f64 = sized
            .openings
            .iter()
            .filter(|o| o.role == OpeningRole::Exit)
            .map(|o| o.pieces as f64 * o.after_m2)
            .sum();
        within("exits", found.knee_m2.expect("found"), exits, 1e-2);
    }
}

/// Whether a case reaches what its `[size]` asks for, from what `check` says.
fn reached(case: &Case, wanted: &[(&str, f64, f64)], at: &[&str]) -> bool {
    let Ok(model) = Model::new(case) else { return false };
    let Ok(conditions) = check(case, &model) else { return false };
    conditions.iter().filter(|c| at.contains(&c.name.as_str())).all(|condition| {
        wanted.iter().all(|(name, air, kelvin)| {
            condition.parts.iter().any(|part| {
                let enough = part.margin_is == slowcorner::thermal::MarginIs::Unlimited
                    || part.flow_margin.is_some_and(|m| m >= *air);
                part.name == *name && enough && part.temperature_margin_K >= *kelvin
            })
        })
    })
}

/// The best area sum of a scan of two inlets, or none where no pair reaches what is asked for.
fn scan(
    text: &str,
    exit: &[(&str, String)],
    inlets: [(&str, f64, f64); 2],
    wanted: &[(&str, f64, f64)],
    at: &[&str],
) -> Option<f64> {
    let case = read(text, exit).case;
    let openings = inlets.map(|(name, _, _)| Opening::find(&case, name, None).expect("an inlet"));
    let mut best: Option<f64> = None;
    for i in 0..=40 {
        for j in 0..=40 {
            let mut trial = case.clone();
            let mut sum = 0.0;
            for ((opening, (_, low, high)), step) in openings.iter().zip(inlets).zip([i, j]) {
                let size = low * (high / low).powf(f64::from(step) / 40.0);
                opening.set(&mut trial, size);
                sum += opening.pieces * size;
            }
            if best.is_none_or(|best| sum < best) && reached(&trial, wanted, at) {
                best = Some(sum);
            }
        }
    }
    best
}

#[test]
fn the_ends_of_what_can_be_done_stand_against_a_scan_of_all_inlets() {
    let wanted = [("heads", 0.12, 0.0), ("barrels", 0.12, 0.0), ("oil", -1.0, 6.0)];
    let at = ["hairpin", "following", "straight"];
    let inlets = [("heads", 25e-4, 140e-4), ("oil cooler", 25e-4, 110e-4)];
    let quarry = |exit: f64| {
        let set = ["left", "right"].map(|side| format!("passage/{side} exit/exit/area"));
        let set: Vec<(&str, String)> = set.iter().map(|a| (a.as_str(), area(exit / 2.0))).collect();
        scan(QUARRY, &set, inlets, &wanted, &at)
    };
    let found = study(QUARRY);
    let smallest = found.smallest_safe_m2.expect("found");
    assert_eq!(quarry(0.99 * smallest), None);
    // steps of 4.4 % in each inlet: the scan cannot be more than one step worse, nor better at all
    for share in [1.02, 1.2, 1.6] {
        let scanned = quarry(share * smallest).expect("can be done");
        let near = found.points.iter().rfind(|p| p.feasible && p.exit_area_m2 <= share * smallest);
        let above = near.and_then(|p| p.inlet_area_m2).expect("found");
        assert!(scanned < 1.05 * above, "{share}: {scanned} scanned, {above} with smaller exits");
        let near = found.points.iter().find(|p| p.feasible && p.exit_area_m2 >= share * smallest);
        let below = near.and_then(|p| p.inlet_area_m2).expect("found");
        assert!(scanned > 0.9999 * below, "{share}: {scanned} scanned, {below} with larger exits");
    }
}

/// A vent through which an electric fan draws air from behind may also be too large.
#[test]
fn a_vent_can_be_too_large() {
    // room for a vent of any size
    let roomy = BUGGY.replace("most_area = { ", "most_area = { vent = \"1600 cm2\", ");
    assert_ne!(roomy, BUGGY);
    let found = study(&roomy);
    let wanted = [("heads", 0.10, 0.0), ("barrels", 0.10, 0.0), ("oil", -1.0, 6.0)];
    let at = ["slalom pole", "headland"];
    let inlets = [("roof scoop", 50e-4, 500e-4), ("oil cooler", 50e-4, 220e-4)];
    let vent = |vent: f64| {
        // height and width keep their proportion, 80 : 300
        let height = (vent * 80.0 / 300.0).sqrt();
        let set = [
            ("passage/vent/exit/height", format!("{} m", height)),
            ("passage/vent/exit/width", format!("{} m", height * 300.0 / 80.0)),
        ];
        scan(BUGGY, &set, inlets, &wanted, &at)
    };
    let (smallest, largest) = (found.smallest_safe_m2.expect("found"), found.largest_safe_m2.expect("found"));
    assert_eq!(vent(0.99 * smallest), None);
    assert_eq!(vent(1.01 * largest), None);
    assert!(vent((smallest * largest).sqrt()).is_some());
    assert!(found.reasons.largest_safe.is_some());
    assert_eq!(found.fixed_exits.len(), 1, "the fan's outlet stays");
    assert!(found.remarks.iter().any(|r| r.contains("vent lets air in")), "{:?}", found.remarks);
}

#[test]
fn every_point_is_what_check_says_of_it() {
    let found = study(QUARRY);
    let at = ["hairpin", "following", "straight"];
    for point in found.points.iter().step_by(5) {
        let half = area(point.exit_area_m2 / 2.0);
        let mut set = vec![
            ("passage/left exit/exit/area", half.clone()),
            ("passage/right exit/exit/area", half.clone()),
        ];
        let conditions = checked(QUARRY, &set);
        let kelvin = least_kelvin(&conditions, &at);
        assert!((point.least_temperature_margin_K - kelvin).abs() < 1e-3, "{kelvin} in {point:?}");
        let worst = conditions.iter().find(|c| c.name == point.condition).expect("named");
        let bay = &worst.chambers[0];
        assert!((point.bay_pressure_Pa.expect("a bay") - bay.gauge_pressure_Pa).abs() < 1e-4);
        assert!((point.bay_temperature_C.expect("a bay") - bay.temperature_C).abs() < 1e-4);
        let part = worst.parts.iter().find(|p| p.name == point.part).expect("named");
        assert!((point.least_margin.expect("a margin") - part.flow_margin.unwrap_or(-1.0)).abs() < 1e-5);
        let straight = conditions.iter().find(|c| c.name == "straight").expect("named");
        assert!((point.cooling_drag_N - straight.cooling_drag_N).abs() < 1e-4);
        // and with the inlets found, what is asked for is reached
        let Some(inlets) = &point.inlets_m2 else { continue };
        let heads = *inlets.get("heads").expect("sized");
        set.push(("passage/heads/ram-inlet/height", format!("{} m", (heads / 2.0).sqrt())));
        set.push(("passage/heads/ram-inlet/width", format!("{} m", 2.0 * (heads / 2.0).sqrt())));
        set.push(("passage/oil cooler/ram-inlet/area", area(*inlets.get("oil cooler").expect("sized"))));
        // the seams stay what they are: of other inlets another share. Fan 132 mm and carburettor 58 mm across, heads
        // 2 × 72, cooler 52 cm²
        let fixed = std::f64::consts::FRAC_PI_4 * (0.132 * 0.132 + 0.058 * 0.058);
        let cooler = *inlets.get("oil cooler").expect("sized");
        let share = 0.06 * (fixed + 196e-4) / (fixed + 2.0 * heads + cooler);
        set.push(("passage/seams/leak/share_of_inlets", format!("{share}")));
        let wanted = [("heads", 0.12, 0.0), ("barrels", 0.12, 0.0), ("oil", -1.0, 6.0)];
        assert!(reached(&read(QUARRY, &set).case, &wanted, &at), "{point:?}");
    }
}

/// Where a flow is said to turn round, it runs one way a little below and the other way a little above.
#[test]
fn flows_turn_round_where_it_says_so() {
    let found = study(QUARRY);
    let hairpin: Vec<_> = found.turns.iter().filter(|t| t.condition == "hairpin").collect();
    assert_eq!(hairpin.len(), 2, "heads and oil cooler");
    for turn in hairpin {
        let flow = |share: f64| {
            let half = area(share * turn.exit_area_m2 / 2.0);
            let set = [("passage/left exit/exit/area", half.clone()), ("passage/right exit/exit/area", half)];
            let conditions = checked(QUARRY, &set);
            let passage = conditions[0].passages.iter().find(|p| p.name == turn.passage).expect("named");
            passage.mass_flow_kg_s
        };
        assert!(turn.forward_above && flow(0.995) < 0.0 && flow(1.005) > 0.0);
    }
    let told =
        found.remarks.iter().filter(|r| r.contains("First it stops blowing back, then it starts cooling"));
    assert!(told.count() >= 2, "{:?}", found.remarks);
}

/// Ram alone: more exit is more air, so that all goes one way.
#[test]
fn with_ram_alone_everything_goes_one_way() {
    let found = study(TRIKE);
    for pair in found.points.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        assert!(a.exit_area_m2 < b.exit_area_m2);
        assert!(a.least_temperature_margin_K < b.least_temperature_margin_K);
        assert!(a.cooling_drag_N < b.cooling_drag_N);
        assert!(a.bay_pressure_Pa > b.bay_pressure_Pa && a.bay_temperature_C > b.bay_temperature_C);
        assert!(!a.feasible || b.feasible);
        if let (Some(a), Some(b)) = (a.inlet_area_m2, b.inlet_area_m2) {
            assert!(b <= a * (1.0 + 1e-4), "{a} then {b}");
        }
    }
    let order = [found.smallest_safe_m2, found.knee_m2, found.pointless_m2].map(|f| f.expect("found"));
    assert!(order[0] < order[1] && order[1] < order[2]);
    assert!(found.largest_safe_m2.is_none() && found.turns.is_empty());
    for pair in found.pressure[0].points.windows(2) {
        assert!(pair[0].least_temperature_margin_K > pair[1].least_temperature_margin_K);
    }
}

#[test]
fn the_answer_does_not_depend_on_how_many_threads_work() {
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
        let found = pool.install(|| exits(&read(QUARRY, &[]), 12, &|_| {}).expect("studied"));
        serde_json::to_string(&found).expect("text")
    };
    assert_eq!(with(1), with(3));
}

#[test]
fn the_case_as_drawn_stands_in_it() {
    let found = study(QUARRY);
    let kelvin = least_kelvin(&solved(&read(QUARRY, &[]).case), &["hairpin", "following", "straight"]);
    assert!((found.as_drawn.least_temperature_margin_K - kelvin).abs() < 1e-6);
    assert!((found.as_drawn.exit_area_m2 - 0.02).abs() < 1e-12);
    let map = found.map.expect("a map");
    assert!((map.as_drawn_m2.0 - 196e-4).abs() < 1e-9 && (map.as_drawn_m2.1 - 0.02).abs() < 1e-12);
}

/// The sizes that have a name hold more often the more of them is cut, and the knee as often as its openings do.
#[test]
fn sizes_that_have_a_name_carry_their_doubt() {
    let loaded = read(QUARRY, &[]);
    let wanted = TallyWanted { most: 512, all: true, ..TallyWanted::default() };
    let found = exits_with_doubt(&loaded, 12, wanted, &|_| {}).expect("studied");
    let of =
        |name: ExitSize| found.doubt.iter().find(|chance| chance.size == name).expect("a size with a name");
    let (drawn, safe, knee) = (of(ExitSize::Drawn), of(ExitSize::Smallest), of(ExitSize::Knee));
    assert!(drawn.all_hold < 0.05 && knee.all_hold > 0.2, "{} {}", drawn.all_hold, knee.all_hold);
    assert!(drawn.inlet_area_m2.is_none() && Some(knee.exit_area_m2) == found.knee_m2);
    assert!(Some(safe.exit_area_m2) == found.smallest_safe_m2);
    // the openings of the knee, by hand
    let mut case = loaded.case.clone();
    let scale =
        knee.exit_area_m2 / found.exits.iter().map(|exit| exit.count as f64 * exit.area_m2).sum::<f64>();
    for exit in &found.exits {
        Opening::find(&case, &exit.name, None).expect("an exit").set(&mut case, exit.area_m2 * scale);
    }
    for (name, area) in found.inlets_at_knee_m2.as_ref().expect("inlets").iter() {
        Opening::find(&loaded.case, name, None).expect("an inlet").set(&mut case, *area);
    }
    let own = draws(&case, &Guesses::of(&loaded.case), wanted, &|_| true).expect("guesses");
    // the queue counts there too, and stands still
    assert!(own.holds.0 <= knee.all_hold + 0.01);
    let without = exits(&loaded, 8, &|_| {}).expect("studied");
    assert!(without.doubt.is_empty());
}
