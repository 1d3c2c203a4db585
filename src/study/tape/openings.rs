//! What may be taped, and how much of it a strip blanks.

use super::result::Taping;
use crate::case::{Case, tables as t};
use crate::element::TapedFrom;
use crate::point::opening::Opening;
use crate::point::result::OpeningRole;
use std::f64::consts::PI;

/// Width of a roll of cloth tape (common practice).
const WIDTH_OF_TAPE: f64 = 0.048;
/// Largest share that may be taped, as a condition's own tape.
const MOST: f64 = 0.95;
/// The most strips on an opening.
const STRIPS: usize = 12;

/// Width of the tape (m), and whether the case says it.
pub(super) fn tape_width(case: &Case) -> (f64, bool) {
    let said = case.view(&case.body).number(&t::TAPE_WIDTH);
    (said.unwrap_or(WIDTH_OF_TAPE), said.is_some())
}

/// Openings that may be taped with their passages, inlets first; and what never is.
pub(super) fn openings(case: &Case, width: f64) -> (Vec<(usize, Taping)>, Vec<String>) {
    let mut found = Vec::new();
    let mut never = vec!["carburettor".to_string(), "drains and vents".to_string()];
    for (index, passage) in case.passages.iter().enumerate() {
        let Some(opening) = passage.opening().and_then(|element| Opening::at(case, index, element)) else {
            continue;
        };
        let kinds = (0..passage.elements.len()).filter_map(|element| passage.kind(element));
        let fan = kinds.clone().any(|kind| kind.is_fan());
        if passage.to == "engine" || (fan && passage.from == "outside") {
            if !never.contains(&passage.name) {
                never.push(passage.name.clone());
            }
            continue;
        }
        let Some(role) = opening.role(case).and_then(OpeningRole::of) else { continue };
        let (height, shares) = strips(case, &opening, width);
        if shares.is_empty() {
            continue;
        }
        let sides = passage.kind(opening.element).and_then(|kind| kind.sides);
        found.push((
            index,
            Taping {
                letter: ' ',
                passage: passage.name.clone(),
                role,
                pieces: opening.pieces as usize,
                height_m: height,
                from_edge: sides.map_or(TapedFrom::LowerEdge, |sides| sides.taped_from),
                shares,
            },
        ));
    }
    // inlets first: what is taped there meets less drag, and spoils no suction
    found.sort_by_key(|(_, taping)| taping.role != OpeningRole::Inlet);
    for (letter, (_, taping)) in ('A'..='Z').zip(&mut found) {
        taping.letter = letter;
    }
    (found, never)
}

/// Height of one piece (m), and the share that one strip blanks, two strips, and so on.
///
/// Of a circle of radius r a band of height h from its edge blanks (θ − sin θ)/2π, cos(θ/2) = 1 − h/r.
fn strips(case: &Case, opening: &Opening, width: f64) -> (f64, Vec<f64>) {
    let clear = opening.clear(case);
    // strips lie along the longer side
    let height = clear.width.min(clear.height);
    let share = |strips: usize| {
        let taped = strips as f64 * width;
        if clear.round && taped < height {
            let angle = 2.0 * (1.0 - 2.0 * taped / height).acos();
            return (angle - angle.sin()) / (2.0 * PI);
        }
        taped / height
    };
    (height, (1..=STRIPS).map(share).take_while(|share| *share <= MOST).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares_of(size: &str) -> Vec<f64> {
        let case = include_str!("../../../cases/quarry-sprinter.toml")
            .replace(r#"kind = "ram-inlet", area = "52 cm2""#, &format!(r#"kind = "ram-inlet", {size}"#));
        let case = crate::case::load(&case, &[]).expect("a case").case;
        let index = case.passage("oil cooler").expect("the cooler");
        let opening =
            Opening::at(&case, index, case.passages[index].opening().expect("an inlet")).expect("a size");
        strips(&case, &opening, 0.024).1
    }

    #[test]
    fn strips_blank_by_their_height() {
        let shares = shares_of(r#"width = "120 mm", height = "60 mm""#);
        assert_eq!(shares.len(), 2, "a third strip would leave nothing");
        assert!((shares[0] - 0.4).abs() < 1e-12 && (shares[1] - 0.8).abs() < 1e-12);
    }

    #[test]
    fn a_circle_is_blanked_by_its_segment() {
        // half of it by half of its height, as any book on circles has it; a quarter of its height blanks 19.55 %
        let shares = shares_of(r#"diameter = "96 mm""#);
        assert!((shares[1] - 0.5).abs() < 1e-12);
        assert!((shares[0] - 0.195_501).abs() < 1e-6, "{shares:?}");
    }
}
