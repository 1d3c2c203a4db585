//! Steady drives and blowers with which a car is read: one choice for all who offer them, and what of them is not sure.

use crate::case::Case;
use crate::keys::{Fact, Kind, NumberId, Origin, Range, SourceLocation, Spread};
use crate::point::Gearing;
use crate::point::counted::{Counted, DrivingPoint};
use crate::point::model::Model;
use crate::point::speeds::{Geared, Loads};

/// Shares of the speeds that are usable within which those wanted must lie; those taken beside where fewer than two do.
const WITHIN: (f64, f64) = (0.02, 0.95);
const INSTEAD: [f64; 2] = [0.35, 0.75];
const ENOUGH: usize = 2;
/// How well a driver holds a load, of full load, 9 times in 10 within: a readings file is written with it (from memory).
pub(crate) const HELD_WITHIN: f64 = 0.1;
/// What a blower of the garden or a vacuum cleaner gives through a duct (kg/s; common practice, from memory): about, and 9
/// times in 10 between.
pub(crate) const BLOWER: f64 = 0.12;
pub(super) const BLOWERS: (f64, f64) = (0.03, 0.4);
/// What no blower that is carried gives (kg/s).
const MOST: f64 = 5.0;

/// Steady drives at some road speeds (m/s), each in the lowest gear that its speed allows, with the load of the conditions
/// there in whole percent, as a readings file has it.
pub(crate) fn drives(case: &Case, model: &Model, wanted: &[f64]) -> Vec<DrivingPoint> {
    let Some(gears) = Gearing::read(case, &model.engine) else { return Vec::new() };
    let (low, high) = gears.range();
    let at = |share: f64| low + share * (high - low);
    let fits = |speed: &f64| (at(WITHIN.0)..=at(WITHIN.1)).contains(speed);
    let mut speeds: Vec<f64> = wanted.iter().copied().filter(fits).collect();
    // whole tens of km/h, as a driver can hold them
    for share in INSTEAD {
        let tens = (at(share) * 0.36).round() / 0.36;
        if speeds.len() < ENOUGH && speeds.iter().all(|known| (known - tens).abs() > 1e-9) {
            speeds.push(tens);
        }
    }
    speeds.sort_by(f64::total_cmp);
    let loads = Loads::of(case);
    let geared = |speed: f64| {
        let (gear, rpm) = gears.gear_at(speed)?;
        Some(DrivingPoint::at(Geared { speed, gear, rpm, load: whole(loads.at(speed)) }))
    };
    speeds.into_iter().filter_map(geared).collect()
}

/// A load in whole percent.
pub(crate) fn whole(load: f64) -> f64 {
    (1e2 * load).round() / 1e2
}

/// A case in which what such moments themselves are not sure of stands among the numbers, with the moments that hang on it.
pub(crate) struct UnsureCase {
    pub case: Case,
    pub moments: Vec<Counted>,
}

impl UnsureCase {
    /// The load of every drive ± what a driver holds it within.
    pub fn of(case: &Case, moments: &[Counted]) -> UnsureCase {
        let mut case = case.clone();
        let each = moments.iter().enumerate().map(|(place, moment)| {
            let test = condition_of(place);
            match moment {
                Counted::Driven(driven) if driven.point.load > 0.0 => {
                    let spread = Spread::Within { half_width: HELD_WITHIN };
                    let address = format!("condition/{test}/load");
                    let load = number(&mut case, address, Kind::Share, (driven.point.load, spread), 1.0);
                    Counted::Driven(DrivingPoint { load: Some(load), ..*driven })
                }
                other => *other,
            }
        });
        let moments = each.collect();
        UnsureCase { case, moments }
    }
}

/// The name of the condition that a test is, by its place in the file.
pub(super) fn condition_of(test: usize) -> String {
    format!("{CONDITION}{}", test + 1)
}

/// How the name of such a condition begins.
const CONDITION: &str = "read in test ";

/// The test whose own number an address is, by its place in the file; of a run in time the key has its step before it.
pub(crate) fn test_of(address: &str) -> Option<(usize, &str)> {
    let own = ["condition/", "stint/"].into_iter().find_map(|section| address.strip_prefix(section));
    let rest = own?.strip_prefix(CONDITION)?;
    let (number, key) = rest.split_at(rest.find(['/', ' '])?);
    Some((number.parse::<usize>().ok()?.checked_sub(1)?, &key[1..]))
}

/// The air of a blower of which nothing is said, as a number of a case.
pub(super) fn unknown_flow(case: &mut Case, test: &str) -> NumberId {
    let spread = Spread::Between { low: BLOWERS.0, high: BLOWERS.1 };
    flow(case, test, BLOWER, spread)
}

/// Whether a number is the air of a blower of which nothing is said.
pub(crate) fn is_unknown(fact: &Fact) -> bool {
    fact.spread == Some(Spread::Between { low: BLOWERS.0, high: BLOWERS.1 })
}

/// The air of a blower (kg/s) as a number of a case.
pub(super) fn flow(case: &mut Case, test: &str, value: f64, spread: Spread) -> NumberId {
    number(case, format!("condition/{test}/blower"), Kind::MassFlow, (value, spread), MOST)
}

fn number(
    case: &mut Case,
    address: String,
    kind: Kind,
    (value, spread): (f64, Spread),
    most: f64,
) -> NumberId {
    case.numbers.add(Fact {
        address,
        kind,
        value,
        spread: Some(spread),
        before: None,
        range: Range::between(0.0, most),
        origin: Origin::Written(SourceLocation::File(0..0)),
        help: "what a test itself is not sure of",
    })
}
