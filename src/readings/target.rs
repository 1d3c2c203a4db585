//! What a reading of the file is a reading of: names looked up in the case.

use super::leaks;
use super::operator::{GaugeEnd, Quantity};
use super::tables as r;
use crate::case::diagnostic::did_you_mean;
use crate::case::read::CaseReader;
use crate::case::{Case, FaultPlace, tables as t};
use crate::element::Role;
use crate::element::size::PRESSURE_COEFFICIENT;
use crate::keys::{Key, Slot, Values};
use crate::network::PassageEnd;
use crate::point::Model;

/// Where and how a reading was taken.
pub(super) struct ReadingScene<'s> {
    pub case: &'s Case,
    pub model: &'s Model,
    /// Whether the car moves.
    pub moves: bool,
    /// Whether it stands on the bench.
    pub bench: bool,
    /// Whether it is a run in time.
    pub in_time: bool,
}

/// What a table of a reading names; none where it was faulted.
pub(super) fn what(reader: &mut CaseReader, values: &Values, scene: &ReadingScene) -> Option<Quantity> {
    let part = |key: &Key| values.text(key).and_then(|name| scene.case.part(name));
    if values.has(&r::PART) || values.has(&r::STRIP) {
        let index = part(&r::PART).or_else(|| part(&r::STRIP))?;
        spot(reader, values, scene.case, index)?;
        let mean = values.text(&r::PIECE) == Some("mean");
        return Some(if mean { Quantity::Mean(index) } else { Quantity::Part(index) });
    }
    if values.has(&r::HOLE) {
        return hole(reader, values, scene);
    }
    if let Some(name) = values.text(&r::AIR) {
        return chamber(reader, values, scene.case, name).map(Quantity::Air);
    }
    if scene.in_time && (values.has(&r::BEHIND) || values.has(&r::BETWEEN)) {
        let key = if values.has(&r::BEHIND) { &r::BEHIND } else { &r::BETWEEN };
        reader.fault(
            "not-in-time",
            format!("{} is read in a run in time, in which parts and the air of chambers alone are followed", values.address),
            values.place_of(key).into(),
            "read it where speed and load are held, in a test of its own: speed, gear, load; or condition = \"…\"",
        );
        return None;
    }
    if values.has(&r::BEHIND) {
        return behind(reader, values, scene, part(&r::BEHIND)?);
    }
    let Slot::Names(names) = values.slot(&r::BETWEEN) else { return None };
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let place: FaultPlace = values.place_of(&r::BETWEEN).into();
    match names[..] {
        [of, over] => {
            let of = leg(reader, of, scene, &place);
            let over = leg(reader, over, scene, &place);
            Some(Quantity::Difference { of: of?, over: over? })
        }
        [_] if scene.moves => {
            reader.fault(
                "lone-pressure",
                format!("{} names one place; a gauge has two legs, and on the move no air outside is still", values.address),
                place,
                r#"name where the other leg was: between = ["bay", "left exit"] for the skin beside that exit, or another chamber, or a place of the body"#,
            );
            None
        }
        [of] => {
            leg(reader, of, scene, &place).map(|of| Quantity::Difference { of, over: GaugeEnd::StillAir })
        }
        _ => {
            let message = format!("{} names {} places; a gauge has two legs", values.address, names.len());
            reader.fault("legs-not-two", message, place, r#"write between = ["bay", "left exit"]"#);
            None
        }
    }
}

/// A hole in the tape: on the bench, of a car that leaks.
fn hole(reader: &mut CaseReader, values: &Values, scene: &ReadingScene) -> Option<Quantity> {
    let area = values.id(&r::HOLE).map(|id| reader.numbers.value(id))?;
    let place: FaultPlace = values.place_of(&r::HOLE).into();
    if !scene.bench {
        let message =
            format!("{} has a hole in the tape beside a blower, and is not on the bench", values.address);
        let way_out = "write on = \"bench\": engine off and cold, everything taped, a blower";
        reader.fault("hole-off-the-bench", message, place, way_out);
        return None;
    }
    if !leaks::has_any(scene.case, scene.model) {
        let message = format!("{} looks for leaks, and the case knows of none to outside", values.address);
        let way_out =
            "write leaks = \"15 % of inlets\" into [body], or a passage with an element of kind leak";
        reader.fault("nothing-leaks", message, place, way_out);
        return None;
    }
    Some(Quantity::Leaks { hole_mm2: (1e6 * area).round() as u32 })
}

/// Faults a gauge that sat elsewhere than where the limit is measured.
fn spot(reader: &mut CaseReader, values: &Values, case: &Case, part: usize) -> Option<()> {
    let Some(said) = values.text(&r::SPOT) else { return Some(()) };
    let named = &case.parts[part];
    let wanted = named.values.text(&t::MEASURED_AT);
    let plain = |text: &str| text.to_lowercase().replace([' ', '-', '_', ','], "");
    if wanted.is_some_and(|wanted| plain(wanted) == plain(said)) {
        return Some(());
    }
    let way_out = match wanted {
        Some(wanted) => format!(
            "read it at the {wanted}; or, where the limit holds at {said:?}, write measured_at and limit of {} for that spot",
            named.name
        ),
        None => format!("write measured_at = {said:?} into [part.{}], if its limit holds there", named.name),
    };
    reader.fault(
        "read-elsewhere",
        format!(
            "{} was read at {said:?}, and the case knows {} {}",
            values.address,
            named.name,
            match wanted {
                Some(wanted) => format!("at {wanted:?}: spots are 30 to 60 K apart"),
                None => "at no spot by name".to_string(),
            }
        ),
        values.place_of(&r::SPOT).into(),
        way_out,
    );
    None
}

fn chamber(reader: &mut CaseReader, values: &Values, case: &Case, name: &str) -> Option<usize> {
    let found = case.chamber(name);
    if found.is_none() {
        let known = &case.names.chambers;
        let way_out = match did_you_mean(name, known.iter().map(String::as_str)) {
            Some(meant) => format!("did you mean {meant}?"),
            None => format!("known: {}", known.join(", ")),
        };
        let place = values.place_of(&r::AIR).into();
        reader.fault("unknown-name", format!("no chamber is called {name:?}"), place, way_out);
    }
    found
}

/// The first element that takes a part's heat.
fn behind(reader: &mut CaseReader, values: &Values, scene: &ReadingScene, part: usize) -> Option<Quantity> {
    let passages = scene.model.network.passages.iter().enumerate();
    let mut takes =
        passages.flat_map(|(index, passage)| passage.elements.clone().map(move |element| (index, element)));
    let found = takes.find(|(_, element)| scene.model.part_of[*element] == Some(part));
    if found.is_none() {
        reader.fault(
            "nothing-behind",
            format!("no fins and no core take heat from {}", scene.case.parts[part].name),
            values.place_of(&r::BEHIND).into(),
            "read the air of its chamber: air = \"…\"",
        );
    }
    found.map(|(passage, element)| Quantity::Behind { part, passage, element })
}

/// One leg by its name.
fn leg(reader: &mut CaseReader, name: &str, scene: &ReadingScene, place: &FaultPlace) -> Option<GaugeEnd> {
    let case = scene.case;
    if let Some(chamber) = case.chamber(name) {
        return Some(GaugeEnd::Chamber(chamber));
    }
    if let Some(passage) = case.passage(name) {
        return skin(reader, scene, passage, place);
    }
    if let Some(index) = case.places.iter().position(|known| known.name == name) {
        if scene.moves && case.view(&case.places[index].values).number(&PRESSURE_COEFFICIENT).is_none() {
            let message = format!("the case does not say the pressure coefficient of the place {name:?}");
            let way_out = format!("write pressure_coefficient, with its ±, into [place.{name:?}]");
            reader.fault("pressure-not-said", message, place.clone(), way_out);
            return None;
        }
        return Some(GaugeEnd::Place(index));
    }
    let still = ["still air", "outside", "ambient", "atmosphere"].contains(&name);
    if still && !scene.moves {
        return Some(GaugeEnd::StillAir);
    }
    if still {
        reader.fault(
            "no-still-air",
            format!("{name:?} is no place on a car that moves: the pressure outside differs from spot to spot"),
            place.clone(),
            "name the spot: a passage, for the skin beside its opening; a place of the body; or another chamber",
        );
        return None;
    }
    let names = &case.names;
    let known = names.chambers.iter().chain(&names.passages).chain(&names.places);
    let way_out = match did_you_mean(name, known.clone().map(String::as_str)) {
        Some(meant) => format!("did you mean {meant}?"),
        None => format!("known: {}", known.cloned().collect::<Vec<_>>().join(", ")),
    };
    let message = format!("no chamber, passage or place is called {name:?}");
    reader.fault("unknown-name", message, place.clone(), way_out);
    None
}

/// The skin beside the opening of a passage to outside.
fn skin(
    reader: &mut CaseReader,
    scene: &ReadingScene,
    passage: usize,
    place: &FaultPlace,
) -> Option<GaugeEnd> {
    let table = &scene.case.passages[passage];
    let network = &scene.model.network.passages[passage];
    let mut at = Vec::new();
    if matches!(network.to, PassageEnd::Outside) {
        at.extend(table.elements.len().checked_sub(1));
    }
    if matches!(network.from, PassageEnd::Outside) {
        at.push(0);
    }
    let flush = |element: &usize| {
        table.kind(*element).is_some_and(|kind| kind.role == Role::Exit)
            || table.elements[*element].id(&PRESSURE_COEFFICIENT).is_some()
    };
    match at.iter().copied().find(flush) {
        Some(element) => Some(GaugeEnd::Skin { passage, element }),
        None if !scene.moves && !at.is_empty() => Some(GaugeEnd::StillAir),
        None => {
            reader.fault(
                "no-skin-pressure",
                format!("the case knows no pressure at the skin beside {:?}: its opening takes ram air, or has none", table.name),
                place.clone(),
                "put the other leg flush with the skin beside an exit, or at a place of the body with a pressure_coefficient",
            );
            None
        }
    }
}
