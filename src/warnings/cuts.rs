//! Openings as they are cut: too small for good, too near to one another or to what must not get hot, through a flange.

use super::gather::{Finding, Findings};
use crate::case::Case;
use crate::element::Role;
use crate::element::outline::{
    BONDED_LIP, LAND, MOST_HEIGHT, MOST_WIDTH, NEAR, NEXT_OPENING, OUTLINE, RAMP_OUTLINE,
};
use crate::element::size::PLACE;
use crate::keys::Key;
use crate::keys::figures;
use crate::network::PassageEnd;
use crate::point::Model;
use crate::point::opening::{Clear, Opening};

/// Velocity ratio under which an inlet spills.
const SPILLS: f64 = 0.3;
/// Openings nearer than so many of their widths disturb one another (common practice).
const WIDTHS: f64 = 2.0;
/// Words for what exit air must not meet, and what they stand for.
const HAZARDS: [(&str, &str); 9] = [
    ("driver", "the driver"),
    ("cockpit", "the cockpit"),
    ("tyre", "a tyre"),
    ("wheel", "a wheel"),
    ("filler", "the fuel filler"),
    ("fuel", "the fuel"),
    ("tank", "the tank"),
    ("exhaust", "the exhaust"),
    ("tail pipe", "the exhaust"),
];

/// Looks at the file.
pub(super) fn look(case: &Case, model: &Model, gathered: &mut Findings) {
    for (index, passage) in case.passages.iter().enumerate() {
        let Some(opening) = passage.opening().and_then(|element| Opening::at(case, index, element)) else {
            continue;
        };
        let values = &passage.elements[opening.element];
        let place = Some(values.address.clone());
        let is_exit = opening.role(case) == Some(Role::Exit);
        let view = case.view(values);
        let outline = view.table(&OUTLINE).or_else(|| view.table(&RAMP_OUTLINE));
        let number = |key: &Key| outline.as_ref().and_then(|outline| outline.number(key));
        let Clear { width, height, .. } = opening.clear(case);
        if let Some(apart) = number(&NEXT_OPENING).filter(|apart| *apart < WIDTHS * width.max(height)) {
            gathered.in_file(Finding {
                code: "openings-close",
                place: place.clone(),
                seen: format!(
                    "the next opening is {} away, nearer than twice the width of this one ({}); they change the pressure before one another, which is not reckoned",
                    millimetres(apart),
                    millimetres(width.max(height))
                ),
                what_to_do: "move them apart, or put a fence between them; measure the pressure at both, taped and open".to_string(),
                size: 1.0 / apart.max(1e-3),
            });
        }
        let near = outline.as_ref().and_then(|outline| outline.values.text(&NEAR));
        let told = format!("{} {}", passage.name, said_of_place(case, values)).to_lowercase();
        let hazard = HAZARDS.iter().find(|(word, _)| near.is_none() && told.contains(word));
        let hazard = near.filter(|near| *near != "nothing").or(hazard.map(|(_, hazard)| *hazard));
        if let Some(hazard) = hazard.filter(|_| is_exit) {
            gathered.in_file(Finding {
                code: "exit-near-hazard",
                place: place.clone(),
                seen: format!("hot air leaves near {hazard}"),
                what_to_do: "turn the jet away or move the exit; oil mist and fuel vapour leave there too. Say near = \"nothing\" in its outline where it is far enough".to_string(),
                size: 1.0,
            });
        }
        let edge = number(&LAND).unwrap_or(default_of(&LAND)) + number(&BONDED_LIP).unwrap_or(0.0);
        for (most, side, word) in [(&MOST_WIDTH, width, "wide"), (&MOST_HEIGHT, height, "high")] {
            if let Some(most) = number(most).filter(|most| side + 2.0 * edge > *most + 1e-6) {
                gathered.in_file(Finding {
                    code: "hole-through-flange",
                    place: place.clone(),
                    seen: format!(
                        "{} {word} with {} to keep on either side does not fit between flanges {} apart",
                        millimetres(side),
                        millimetres(edge),
                        millimetres(most)
                    ),
                    what_to_do: "ask whoever laminated it before a flange is cut: it stiffens the skin; make the opening longer the other way, or two of it".to_string(),
                    size: side,
                });
            }
        }
    }
    too_small(case, model, gathered);
}

fn default_of(key: &Key) -> f64 {
    match key.need {
        crate::keys::Need::Default(assumed) => assumed.value,
        _ => 0.0,
    }
}

/// What the file says of where an opening is.
fn said_of_place(case: &Case, values: &crate::keys::Values) -> String {
    let named = values.text(&PLACE).and_then(|name| case.places.iter().find(|place| place.name == name));
    let position = named.and_then(|place| place.values.text(&crate::case::tables::POSITION));
    format!("{} {}", named.map_or("", |place| place.name.as_str()), position.unwrap_or(""))
}

/// Exits that no inlet of their chamber can be content with.
///
/// ```text
///   V/V∞ ≤ Cd A_out/A_in √(1 − Cp)
/// ```
///
/// the velocity ratio of the inlets where nothing but the exits resisted and the whole stream's total pressure stood behind
/// them: mass through both, ρ alike. Chambers that a fan fills or empties are left alone.
fn too_small(case: &Case, model: &Model, gathered: &mut Findings) {
    let network = &model.network;
    for chamber in 0..case.chambers.len() {
        let (mut inlets, mut outlets) = (0.0, 0.0);
        let mut smallest: Option<(f64, String)> = None;
        let mut simple = true;
        for (index, table) in case.passages.iter().enumerate() {
            let passage = &network.passages[index];
            let laws = || network.laws[passage.elements.clone()].iter();
            let has_fan = laws().any(|law| law.as_fan().is_some());
            match (passage.from, passage.to) {
                (PassageEnd::Outside, PassageEnd::Chamber(to)) if to == chamber => {
                    let ram = laws().find(|law| law.as_ram_inlet().is_some());
                    simple &= ram.is_some() && !has_fan;
                    inlets += ram.map_or(0.0, |law| law.area().unwrap_or(0.0) * law.pieces());
                }
                (PassageEnd::Chamber(from), PassageEnd::Outside) if from == chamber => {
                    simple &= !has_fan;
                    let found = network.laws[passage.elements.clone()]
                        .iter()
                        .find_map(|law| Some((law.as_exit()?, law)));
                    let Some((exit, law)) = found else {
                        let kinds = (0..table.elements.len()).map(|element| table.kind(element));
                        simple &= kinds.flatten().all(|kind| kind.role == Role::Leak);
                        continue;
                    };
                    let area = law.area().unwrap_or(0.0) * law.pieces();
                    let suction = (1.0 - exit.pressure_coefficient()).max(0.0).sqrt();
                    outlets += exit.discharge_coefficient() * suction * area;
                    let address = table.elements.last().map(|values| values.address.clone());
                    if let Some(address) =
                        address.filter(|_| smallest.as_ref().is_none_or(|(known, _)| area > *known))
                    {
                        smallest = Some((area, address));
                    }
                }
                (PassageEnd::Chamber(from), _) if from == chamber => simple = false,
                (_, PassageEnd::Chamber(to)) if to == chamber => simple = false,
                _ => {}
            }
        }
        let Some((_, address)) = smallest.filter(|_| simple && inlets > 0.0) else { continue };
        let ratio = outlets / inlets;
        if ratio < SPILLS {
            gathered.in_file(Finding {
                code: "exit-never-enough",
                place: Some(address),
                seen: format!(
                    "with nothing else in the way the inlets of {} would take in air at {:.0} % of the road speed at most: most of the stream spills round them whatever is cooled ({} of inlets)",
                    case.chambers[chamber].name,
                    100.0 * ratio,
                    figures::small_area(inlets)
                ),
                what_to_do: "larger exits, or smaller inlets: they cost less drag and cool as well".to_string(),
                size: 1.0 / ratio.max(1e-6),
            });
        }
    }
}

fn millimetres(metres: f64) -> String {
    format!("{:.0} mm", 1e3 * metres)
}
