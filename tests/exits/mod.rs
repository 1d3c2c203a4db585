//! The trade behind an exit size: against figures worked out by hand, against `size`, and against direct
//! solutions of the same cars.

mod demo;
mod failing;
mod hand;
mod map;

use slowcorner::case::{Case, Loaded, load};
use slowcorner::point::Model;
use slowcorner::point::conditions::check;
use slowcorner::point::result::Condition;
use slowcorner::study::exits::exits;
use slowcorner::study::exits::result::Exits;

pub const QUARRY: &str = include_str!("../../cases/quarry-sprinter.toml");
pub const TRIKE: &str = include_str!("../../cases/causeway-trike.toml");
pub const BUGGY: &str = include_str!("../../cases/stubble-buggy.toml");

pub fn read(text: &str, set: &[(&str, String)]) -> Loaded {
    let set: Vec<(String, String)> = set.iter().map(|(a, v)| (a.to_string(), v.clone())).collect();
    load(text, &set).unwrap_or_else(|faults| panic!("{faults}"))
}

pub fn study(text: &str) -> Exits {
    exits(&read(text, &[]), 24, &|_| {}).expect("studied")
}

/// What `check` says of a case with some addresses set.
pub fn checked(text: &str, set: &[(&str, String)]) -> Vec<Condition> {
    solved(&read(text, set).case)
}

pub fn solved(case: &Case) -> Vec<Condition> {
    let model = Model::new(case).unwrap_or_else(|faults| panic!("{faults}"));
    check(case, &model).expect("solved")
}

pub fn area(square_metres: f64) -> String {
    format!("{} cm2", 1e4 * square_metres)
}

/// The least distance to a limit over some conditions (K).
pub fn least_kelvin(conditions: &[Condition], at: &[&str]) -> f64 {
    let counting = conditions.iter().filter(|c| at.contains(&c.name.as_str()));
    counting.flat_map(|c| &c.parts).map(|p| p.temperature_margin_K).fold(f64::INFINITY, f64::min)
}

#[track_caller]
pub fn within(what: &str, found: f64, wanted: f64, share: f64) {
    assert!((found - wanted).abs() <= share * wanted.abs(), "{what}: {found} for {wanted}");
}
