//! One car written in different ways is one car.

use super::cars::{Car, Way, car};
use super::support::{Ready, difference};
use proptest::prelude::*;

/// Share of the largest flow, and of pressures and temperatures. Two solutions that close to 1e-9 agree
/// to 1e-8 or so; where a breath of air carries all the heat, to 3e-5.
const SAME: f64 = 1e-4;

/// Solves both and compares every condition; `together` begin the names of what is added up.
fn same(one: &Car, other: &Car, together: &[&str]) -> Result<(), TestCaseError> {
    let (ones, others) = (Ready::of(one).solve(), Ready::of(other).solve());
    for (a, b) in ones.iter().zip(&others) {
        let off = difference(a, b, together);
        prop_assert!(off <= SAME, "{}\nagainst\n{}\n{}: {off:.1e}", one.text(), other.text(), a.name);
    }
    Ok(())
}

fn add(car: &Car, ways: &[(&str, &str, &str, &str)]) -> Car {
    let mut more = car.clone();
    more.ways.extend(ways.iter().map(|(name, from, to, elements)| Way {
        name: name.to_string(),
        from: from.to_string(),
        to: to.to_string(),
        count: 1,
        elements: vec![elements.to_string()],
    }));
    more
}

proptest! {
    #![proptest_config(crate::invariants::config(200))]

    #[test]
    fn a_count_is_as_many_copies(car in car(), which in any::<prop::sample::Index>(), count in 2_usize..=3) {
        // neither what warm air is drawn from nor what draws it: there the whole exit counts against the
        // whole inlet
        let plain = |way: &&Way| !way.name.starts_with("out") && !way.text().contains("recirculation");
        let names: Vec<String> = car.ways.iter().filter(plain).map(|way| way.name.clone()).collect();
        prop_assume!(!names.is_empty());
        let name = which.get(&names);
        let mut counted = car.clone();
        let mut copied = car.clone();
        for way in counted.ways.iter_mut().filter(|way| way.name == *name) {
            way.count = count;
        }
        let way = copied.ways.iter().find(|way| way.name == *name).cloned().into_iter();
        copied.ways.retain(|way| way.name != *name);
        copied.ways.extend(way.flat_map(|way| {
            (0..count).map(move |copy| Way { name: format!("{} {copy}", way.name), count: 1, ..way.clone() })
        }));
        same(&counted, &copied, &[name])?;
    }

    #[test]
    fn an_opening_is_as_good_as_its_two_halves(
        car in car(), area in 20.0..300.0, k in 0.0..4.0, cd in 0.4..1.0, cp in -0.4..0.3, recovery in 0.5..1.0,
    ) {
        let exit = |area: f64| format!(
            r#"{{ kind = "loss", area = "{area} cm2", k = {k} }}, {{ kind = "exit", area = "{area} cm2", discharge = {cd}, pressure_coefficient = {cp} }}"#
        );
        let inlet = |area: f64| format!(
            r#"{{ kind = "ram-inlet", area = "{area} cm2", recovery = {recovery}, edge = "sharp" }}, {{ kind = "loss", area = "{area} cm2", k = {k} }}"#
        );
        let chamber = "chamber one";
        let whole = add(&car, &[
            ("vent", chamber, "outside", &exit(area)),
            ("scoop", "outside", chamber, &inlet(area)),
        ]);
        let halves = add(&car, &[
            ("vent left", chamber, "outside", &exit(0.5 * area)),
            ("vent right", chamber, "outside", &exit(0.5 * area)),
            ("scoop left", "outside", chamber, &inlet(0.5 * area)),
            ("scoop right", "outside", chamber, &inlet(0.5 * area)),
        ]);
        same(&whole, &halves, &["vent", "scoop"])?;
    }

    #[test]
    fn a_flush_inlet_of_one_recovery_is_a_forward_one_without_a_lip(
        car in car(), width in 80.0..200.0, recovery in 0.3..0.95, k in 0.5..6.0,
    ) {
        let size = format!(r#"width = "{width} mm", height = "40 mm""#);
        let flush = |recovery: String| format!(
            r#"{{ kind = "flush-inlet", {size}, recovery = {recovery}, entry_loss = 0, boundary_layer = {{ run = "1 m" }} }}"#
        );
        let inlets = [
            format!(r#"{{ kind = "ram-inlet", {size}, recovery = {recovery}, entry_loss = 0 }}"#),
            flush(format!("{recovery}")),
            flush(format!("[[0.4, {recovery}], [0.9, {recovery}]]")),
        ];
        let [ram, number, curve] = inlets.map(|inlet| {
            let elements = format!(r#"{inlet}, {{ kind = "loss", {size}, k = {k} }}"#);
            add(&car, &[("scoop", "outside", "chamber one", &elements)])
        });
        for flush in [number, curve] {
            same(&ram, &flush, &[])?;
            // drag too, which counts air that blows out of either alike
            for (a, b) in Ready::of(&ram).solve().iter().zip(&Ready::of(&flush).solve()) {
                let size = a.cooling_drag_N.abs().max(1.0);
                prop_assert!((a.cooling_drag_N - b.cooling_drag_N).abs() <= 1e-3 * size, "{}: {}", a.name, flush.text());
            }
        }
    }

    #[test]
    fn the_order_of_passages_is_nothing(
        (car, ways) in car().prop_flat_map(|car| { let ways = car.ways.clone(); (Just(car), Just(ways).prop_shuffle()) })
    ) {
        same(&car, &Car { ways, ..car.clone() }, &[])?;
    }

    #[test]
    fn a_passage_written_the_other_way_round_turns_its_sign(
        car in car().prop_map(Car::without_fans), area in 20.0..200.0, k in 0.1..5.0, back in 0.1..5.0, diameter in 40.0..150.0,
    ) {
        let duct = format!(r#"{{ kind = "duct", diameter = "{diameter} mm", length = "500 mm" }}"#);
        let link = |k: f64, back: f64| format!(r#"{{ kind = "loss", area = "{area} cm2", k = {k}, k_reverse = {back} }}"#);
        let end = format!(r#"{{ kind = "loss", area = "{area} cm2", k = 0 }}"#);
        let there = format!("{end}, {}, {duct}, {end}", link(k, back));
        let here = format!("{end}, {duct}, {}, {end}", link(back, k));
        let vent = r#"{ kind = "exit", area = "90 cm2", pressure_coefficient = -0.2 }"#;
        let written = |from: &str, to: &str, elements: &str| add(&car, &[
            ("link", from, to, elements),
            ("last", "chamber beyond", "outside", vent),
        ]);
        let ones = Ready::of(&written("chamber one", "chamber beyond", &there)).solve();
        let others = Ready::of(&written("chamber beyond", "chamber one", &here)).solve();
        for (a, b) in ones.iter().zip(&others) {
            let mut turned = b.clone();
            for passage in turned.passages.iter_mut().filter(|passage| passage.name == "link") {
                passage.mass_flow_kg_s *= -1.0;
            }
            let off = difference(a, &turned, &[]);
            prop_assert!(off <= SAME, "{}\n{}: {off:.1e}", car.text(), a.name);
        }
    }
}
