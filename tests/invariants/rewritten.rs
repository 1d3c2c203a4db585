//! The same car written in another way is the same car.

use crate::invariants::text::{Car, Dice, Units, dice};
use proptest::prelude::*;
use slowcorner::case::load;
use slowcorner::point::result::Condition;
use slowcorner::point::{Model, conditions};

fn solve(car: &Car) -> Condition {
    let text = car.text();
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    conditions::check(&case, &model).unwrap_or_else(|error| panic!("{error}\n{text}")).remove(0)
}

/// Flow of a passage, or of all those that it was written as.
fn flow(condition: &Condition, name: &str) -> f64 {
    let copy = format!("{name}, ");
    let alike = condition.passages.iter().filter(|p| p.name == name || p.name.starts_with(&copy));
    alike.map(|passage| passage.mass_flow_kg_s).sum()
}

/// Compares what a builder would see, by name. Where air all but stands, a left-over of 1e-9 of the
/// pressures still moves it a little: 1e-5 of the largest flow, a hundredth of a kelvin.
#[track_caller]
fn same(car: &Car, one: &Condition, two: &Condition) {
    let largest = one.passages.iter().fold(1e-3, |l: f64, p| l.max(p.mass_flow_kg_s.abs()));
    for way in &car.ways {
        let (one, two) = (flow(one, &way.name), flow(two, &way.name));
        assert!((one - two).abs() <= 1e-5 * largest, "{}: {one} {two} kg/s\n{}", way.name, car.text());
    }
    for part in &one.parts {
        let other = two.parts.iter().find(|p| p.name == part.name).expect("the same parts");
        let (here, there) = (part.temperature_C, other.temperature_C);
        assert!((here - there).abs() <= 0.01, "{}: {here} {there} °C\n{}", part.name, car.text());
        assert_eq!(part.margin_is, other.margin_is, "{}\n{}", part.name, car.text());
    }
    for chamber in &one.chambers {
        let other = two.chambers.iter().find(|c| c.name == chamber.name).expect("the same chambers");
        let (here, there) = (chamber.gauge_pressure_Pa, other.gauge_pressure_Pa);
        assert!((here - there).abs() <= 0.01 + 1e-5 * here.abs(), "{here} {there} Pa\n{}", car.text());
    }
    let (here, there) = (one.cooling_drag_N, two.cooling_drag_N);
    assert!((here - there).abs() <= 1e-3 + 1e-4 * here.abs(), "drag {here} {there} N\n{}", car.text());
}

fn rewrite(dice: &Dice, change: impl FnOnce(&mut Car)) {
    let car = Car::new(dice, Units::Metric);
    let mut other = car.clone();
    change(&mut other);
    same(&car, &solve(&car), &solve(&other));
}

/// An element with its area, written in cm², divided.
fn divided(element: &str, by: f64) -> String {
    let begin = element.find("area = \"").expect("an area") + "area = \"".len();
    let end = begin + element[begin..].find(' ').expect("a unit");
    let area: f64 = element[begin..end].parse().expect("a number");
    format!("{}{}{}", &element[..begin], area / by, &element[end..])
}

proptest! {
    #![proptest_config(super::config(150))]

    #[test]
    fn in_other_units(dice in dice()) {
        let car = Car::new(&dice, Units::Metric);
        let other = Car::new(&dice, Units::Imperial);
        prop_assert!(other.text().contains("in2") && !other.text().contains("cm2"));
        same(&car, &solve(&car), &solve(&other));
    }

    #[test]
    fn with_passages_in_another_order(dice in dice(), seed in any::<u64>()) {
        rewrite(&dice, |car| {
            let mut seed = seed;
            for last in (1..car.ways.len()).rev() {
                car.ways.swap(last, (seed % (last as u64 + 1)) as usize);
                seed /= last as u64 + 1;
            }
        });
    }

    /// Without warm air drawn in again, which fades out at a share of the flow of all inlets that count
    /// as one passage.
    #[test]
    fn with_copies_in_place_of_a_count(dice in dice()) {
        let mut car = Car::new(&dice, Units::Metric);
        let index = car.ways.iter().position(|way| way.name == "heads").expect("heads");
        let inlet = &mut car.ways[index].elements[0];
        if let Some(begin) = inlet.find(", recirculation") {
            inlet.replace_range(begin.., " }");
        }
        let mut other = car.clone();
        let heads = other.ways.remove(index);
        for copy in 1..=heads.count {
            let mut one = heads.clone();
            (one.name, one.count) = (format!("heads, {copy}"), 1);
            other.ways.push(one);
        }
        same(&car, &solve(&car), &solve(&other));
    }

    /// Without a boundary layer, whose mean depends on an opening's height, two halves are one.
    #[test]
    fn with_openings_cut_in_two(dice in dice()) {
        rewrite(&dice, |car| {
            for way in &mut car.ways {
                let inlet = &mut way.elements[0];
                if inlet.contains("inlet") {
                    let half = divided(inlet, 2.0);
                    let open = half.strip_suffix(" }").expect("the end of a table");
                    *inlet = format!("{open}, count = 2 }}");
                }
            }
            let index = car.ways.iter().position(|way| way.name == "left exit").expect("an exit");
            let mut half = car.ways[index].clone();
            half.elements[0] = divided(&half.elements[0], 2.0);
            for (copy, place) in ["left exit, upper", "left exit, lower"].into_iter().enumerate() {
                let mut one = half.clone();
                one.name = place.to_string();
                if copy == 0 { car.ways[index] = one } else { car.ways.push(one) }
            }
        });
    }
}
