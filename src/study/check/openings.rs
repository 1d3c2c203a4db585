//! What there is to say of every opening that is cut: how many, how large, which edge, where, within which bounds.

use crate::case::{Case, tables as t};
use crate::correlations::flush_inlet::{LIP_THICKNESS, NOSE_RADIUS};
use crate::element::{ElementKind, Role, exit, flush_inlet, ram_inlet, size};
use crate::keys::{Key, Kind, NumberId, Slot, Values};
use crate::point::opening::Opening;
use crate::point::result::{ByName, OpeningRole, Setting};
use crate::study::size::result::{SizeBound, Sizes};
use serde::Serialize;

/// An opening of the case.
#[derive(Clone, Debug, Serialize)]
pub struct OpeningFacts {
    /// PASSAGE, or PASSAGE/ELEMENT where a passage has several.
    pub name: String,
    /// Whether air goes in or out.
    pub role: OpeningRole,
    /// Its kind of element.
    pub kind: &'static str,
    /// Where the passage begins and ends.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// How many there are in the whole car.
    pub pieces: usize,
    /// Area of one as the case was drawn.
    pub drawn_m2: f64,
    /// Area of one as it is to be cut: as sized where it was sized.
    pub area_m2: f64,
    /// Width and height, or diameter, of that, where the case gives them.
    pub lengths_m: ByName<f64>,
    /// Whether sizing could change it.
    pub free: bool,
    /// The bound, where sizing left it at one.
    pub at_bound: Option<SizeBound>,
    /// Smallest area of one that the case allows.
    pub least_m2: Option<f64>,
    /// Largest.
    pub most_m2: Option<f64>,
    /// What is cut already.
    pub cut_m2: Option<f64>,
    /// The edge in words: "rounded", "radius 4 mm", "discharge 0.7".
    pub edge: String,
    /// Open share of louvres.
    pub louvres: Option<f64>,
    /// The place on the body by name.
    pub place: Option<String>,
    /// Where that is.
    pub position: Option<String>,
    /// Where the figures of that place are from.
    pub source: Option<String>,
    /// Height of its middle over the ground.
    pub above_ground_m: Option<f64>,
    /// Surface pressure over the dynamic pressure, of exits and plain inlets.
    pub pressure_coefficient: Option<f64>,
    /// Total pressure over the free stream's, of inlets that face the stream.
    pub recovery: Option<f64>,
    /// Half of the plan of a submerged inlet's ramp as it is to be cut: distance ahead of the lip and half-width there.
    pub ramp_plan_m: Option<Vec<(f64, f64)>>,
    /// Whether that coefficient is a default of the program.
    pub coefficient_assumed: bool,
    /// Whether a screen stands in its passage.
    pub screened: bool,
    /// Whether a fan does.
    pub fan: bool,
    #[serde(skip)]
    numbers: OpeningNumbers,
}

/// Where its numbers stand in the case.
#[derive(Clone, Debug, Default)]
struct OpeningNumbers {
    area: Option<NumberId>,
    lengths: Vec<NumberId>,
    coefficient: Option<(NumberId, f64)>,
}

impl OpeningFacts {
    /// Makes its area so many times as large; width and height keep their proportion.
    pub(super) fn scale(&self, case: &mut Case, factor: f64) {
        if let Some(id) = self.numbers.area {
            case.numbers.set(id, case.numbers.value(id) * factor);
        }
        for id in &self.numbers.lengths {
            case.numbers.set(*id, case.numbers.value(*id) * factor.sqrt());
        }
    }

    /// What to write in the case for the size that it has in another copy of it.
    pub(super) fn settings(&self, changed: &Case) -> Vec<Setting> {
        let area = self.numbers.area.map(|id| (id, 1e4, "cm2"));
        let lengths = self.numbers.lengths.iter().map(|id| (*id, 1e3, "mm"));
        let all = area.into_iter().chain(lengths);
        all.map(|(id, scale, unit)| Setting {
            address: changed.numbers.fact(id).address.clone(),
            value: format!("{:.0} {unit}", scale * changed.numbers.value(id)),
        })
        .collect()
    }

    /// Lets the body serve it worse by a step of its coefficient.
    pub(super) fn worsen(&self, case: &mut Case, step: f64) {
        if let Some((id, towards)) = self.numbers.coefficient {
            case.numbers.set(id, case.numbers.value(id) + towards * step);
        }
    }
}

/// Every inlet and exit of a case, in its order. `case` is as it is to be cut; `drawn` as it was written; `sizes` what sizing found.
pub fn openings(case: &Case, drawn: &Case, sizes: Option<&Sizes>) -> Vec<OpeningFacts> {
    let mut list = Vec::new();
    for passage in &case.passages {
        let elements = 0..passage.elements.len();
        let is = |element: usize, wanted: Role| passage.kind(element).is_some_and(|kind| kind.role == wanted);
        let cut: Vec<usize> = elements.filter(|e| is(*e, Role::Inlet) || is(*e, Role::Exit)).collect();
        for &element in &cut {
            let own = (passage.opening() != Some(element)).then(|| passage.segment(element).to_string());
            let find = |case: &Case| Opening::find(case, &passage.name, own.as_deref());
            let (Some(opening), Some(before)) = (find(case), find(drawn)) else { continue };
            list.push(facts(case, &opening, before.area(), sizes));
        }
    }
    list
}

fn facts(case: &Case, opening: &Opening, drawn: f64, sizes: Option<&Sizes>) -> OpeningFacts {
    let passage = &case.passages[opening.passage];
    let values = &passage.elements[opening.element];
    let view = case.view(values);
    let place = values.text(&size::PLACE);
    let at = place.and_then(|name| case.places.iter().find(|known| known.name == name)).map(|at| &at.values);
    let role = opening.role(case).and_then(OpeningRole::of).unwrap_or(OpeningRole::Inlet);
    let kind = passage.kind(opening.element).map_or("", |kind| kind.name);
    let recovery = passage
        .kind(opening.element)
        .is_some_and(|kind| kind.meets_stream())
        .then(|| values.id(&ram_inlet::RECOVERY))
        .flatten();
    let pressure = values.id(&size::PRESSURE_COEFFICIENT);
    // worse: more pressure where air should leave, less where it should come in
    let shift = values.id(&flush_inlet::RECOVERY_SHIFT);
    let coefficient = match (recovery.or(shift), pressure, role) {
        (Some(id), _, _) => Some((id, -1.0)),
        (None, Some(id), OpeningRole::Exit) => Some((id, 1.0)),
        (None, Some(id), _) => Some((id, -1.0)),
        _ => None,
    };
    let assumed = |id: NumberId| matches!(case.numbers.fact(id).origin, crate::keys::Origin::Assumed(_));
    let table = case.size.as_ref();
    let bound = |key: &Key| table.and_then(|table| bound(case, table, key, &passage.name));
    let sized = sizes.and_then(|sizes| sizes.openings.iter().find(|sized| same(&sized.name, opening, case)));
    let numbers = opening.numbers(case, opening.area());
    let holds = |wanted: fn(&ElementKind) -> bool| {
        (0..passage.elements.len()).any(|e| passage.kind(e).is_some_and(wanted))
    };
    OpeningFacts {
        name: opening.name.clone(),
        role,
        kind,
        from: passage.from.clone(),
        to: passage.to.clone(),
        pieces: opening.pieces.round() as usize,
        drawn_m2: drawn,
        area_m2: opening.area(),
        lengths_m: ByName(
            numbers
                .into_iter()
                .filter(|(_, _, kind)| *kind == Kind::Length)
                .map(|(key, value, _)| (key, value))
                .collect(),
        ),
        free: sized.is_some(),
        at_bound: sized.and_then(|sized| sizes?.at_bound.get(&sized.name).copied()),
        least_m2: bound(&t::LEAST_AREA),
        most_m2: bound(&t::MOST_AREA),
        cut_m2: table.and_then(|table| {
            let cut = table.map(&t::CUT).iter().find(|(name, _)| *name == passage.name)?;
            Some(case.numbers.value(cut.1))
        }),
        edge: edge(case, values, role),
        louvres: view.number(&exit::LOUVRES),
        place: place.map(str::to_string),
        position: at.and_then(|at| at.text(&t::POSITION)).map(str::to_string),
        source: at.and_then(|at| at.text(&t::SOURCE)).map(str::to_string),
        above_ground_m: at.and_then(|at| case.view(at).number(&t::ABOVE_GROUND)),
        pressure_coefficient: if recovery.is_none() {
            pressure.map(|id| case.numbers.value(id))
        } else {
            None
        },
        recovery: recovery.map(|id| case.numbers.value(id)),
        ramp_plan_m: flush_inlet::plan(&view),
        coefficient_assumed: coefficient.is_some_and(|(id, _)| assumed(id)),
        screened: holds(ElementKind::is_screen),
        fan: holds(ElementKind::is_fan),
        numbers: OpeningNumbers {
            area: values.id(&size::AREA),
            lengths: [&size::WIDTH, &size::HEIGHT, &size::DIAMETER]
                .into_iter()
                .filter_map(|key| values.id(key))
                .collect(),
            coefficient,
        },
    }
}

/// Whether `[size]` means this opening: by its passage, or by passage and element.
fn same(name: &str, opening: &Opening, case: &Case) -> bool {
    let passage = &case.passages[opening.passage];
    let element = passage.segment(opening.element);
    let first = passage.opening() == Some(opening.element);
    (first && name == passage.name)
        || name
            .strip_prefix(&format!("{}/", passage.name))
            .is_some_and(|named| passage.element(named) == Some(opening.element) || named == element)
}

/// A bound of `[size]` that holds for a passage.
fn bound(case: &Case, table: &Values, key: &Key, passage: &str) -> Option<f64> {
    match table.slot(key) {
        Slot::Number(id) => Some(case.numbers.value(*id)),
        Slot::Map(map) => {
            let find = |wanted: &str| map.iter().find(|(name, _)| name == wanted);
            find(passage).or_else(|| find("other")).map(|(_, id)| case.numbers.value(*id))
        }
        _ => None,
    }
}

/// The edge in words.
fn edge(case: &Case, values: &Values, role: OpeningRole) -> String {
    let view = case.view(values);
    // keys are looked up by name, so that those of a ram inlet serve every opening
    if let Some(word) = values.text(&ram_inlet::EDGE) {
        return match word {
            "thin" => "thin, free".to_string(),
            word => word.to_string(),
        };
    }
    if let Some(radius) = view.number(&ram_inlet::EDGE_RADIUS) {
        return format!("radius {}", Kind::Length.show(radius));
    }
    if let Some(loss) = view.number(&ram_inlet::ENTRY_LOSS) {
        return format!("entry loss {loss:.2}");
    }
    if let (Some(height), true) = (view.number(&size::HEIGHT), values.has(&flush_inlet::RAMP_ANGLE)) {
        let (nose, lip) = (1e3 * NOSE_RADIUS * height, 1e3 * LIP_THICKNESS * height);
        return format!("nose radius {nose:.0} mm, lip {lip:.0} mm thick");
    }
    match view.number(&exit::DISCHARGE) {
        Some(discharge) if role == OpeningRole::Exit => format!("discharge {discharge:.2}"),
        _ if values.keys.iter().any(|key| key.name == "edge") => match role {
            // what the tables of keys say of an edge left out
            OpeningRole::Inlet if values.keys.iter().any(|key| key.name == ram_inlet::RECOVERY.name) => {
                "rounded".to_string()
            }
            _ => "sharp".to_string(),
        },
        _ => String::new(),
    }
}
