//! What of a model has to be made anew when the guesses of its case change: as little as is enough.

use super::guesses::Guesses;
use crate::case::{Case, PassageTable, tables as t};
use crate::element::{self, ElementContext, Law, Role};
use crate::engine::tables as e;
use crate::keys::{Key, NumberId, Slot, Values};
use crate::point::Model;
use crate::point::model::sites;

/// Keys on which an element's neighbours, or the whole passage, look too.
const SEEN_BY_OTHERS: &[&Key] = &[
    &element::size::AREA,
    &element::size::WIDTH,
    &element::size::HEIGHT,
    &element::size::DIAMETER,
    &element::size::AREA_BEFORE,
    &element::size::AREA_AFTER,
    &element::exit::LOUVRES,
    &element::fins::FRONT_AREA,
];

/// An element whose law is made anew where it stands.
#[derive(Clone)]
pub(super) struct Seat {
    pub passage: usize,
    pub element: usize,
    /// Its law in the network.
    pub law: usize,
    /// Where it stands; none of that varies.
    pub site: ElementContext,
}

/// What a draw changes.
#[derive(Clone, Default)]
pub(super) struct DrawPlan {
    /// The whole model, since what varies cannot be put in place.
    pub anew: bool,
    /// Laws alone.
    pub seats: Vec<Seat>,
    /// All laws of these passages.
    pub passages: Vec<usize>,
    /// The sum of the inlets' areas.
    pub inlets: bool,
    /// The exits' areas, as far as hot air is shared out by them.
    pub exits: bool,
    /// Seams that nobody wrote.
    pub seams: bool,
    /// Hot air that nobody wrote.
    pub hot_air: bool,
    /// Warm air drawn in again, by its place in the network.
    pub recirculations: Vec<(usize, NumberId)>,
    pub parts: Vec<usize>,
    pub chambers: Vec<usize>,
    /// Figures of the engine, its heat among them.
    pub engine: bool,
    pub power: bool,
    /// What the conditions are.
    pub operations: bool,
}

impl DrawPlan {
    /// The plan for a model of a case whose guesses vary.
    pub fn new(case: &Case, model: &Model, guesses: &Guesses) -> DrawPlan {
        let varied: Vec<NumberId> = guesses.numbers().collect();
        let varies = |id: NumberId| varied.contains(&id);
        let key_varies = |values: &Values, key: &Key| any_number(values.slot(key), &varies);
        let table_varies = |values: &Values| values.slots().any(|(_, slot)| any_number(slot, &varies));
        let mut plan = DrawPlan::default();
        let starts_with = |section: &str| {
            varied.iter().any(|id| {
                let address = &case.numbers.fact(*id).address;
                address.strip_prefix(section).is_some_and(|rest| rest.starts_with('/'))
            })
        };
        plan.operations = ["day", "condition", "drive", "sweep"].into_iter().any(starts_with);
        plan.engine = starts_with("engine") || starts_with("part");
        plan.power = [&e::POWER, &e::PEAK_POWER, &e::PEAK_POWER_AT]
            .into_iter()
            .any(|key| key_varies(&case.engine, key));
        let indices = |tables: &[crate::case::Named]| -> Vec<usize> {
            tables
                .iter()
                .enumerate()
                .filter(|(_, table)| table_varies(&table.values))
                .map(|(i, _)| i)
                .collect()
        };
        plan.parts = indices(&case.parts);
        plan.chambers = indices(&case.chambers);
        plan.anew |= case.places.iter().any(|place| key_varies(&place.values, &t::ABOVE_GROUND));
        let seen = |values: &Values| SEEN_BY_OTHERS.iter().any(|key| key_varies(values, key));
        let sized = |passage: &PassageTable, role: Role| {
            let elements = passage.elements.iter().enumerate();
            elements.into_iter().any(|(index, values)| {
                passage.kind(index).is_some_and(|kind| kind.role == role) && seen(values)
            })
        };
        plan.inlets = case.passages.iter().any(|passage| sized(passage, Role::Inlet));
        plan.exits =
            !model.hot_air.is_none() && case.passages.iter().any(|passage| sized(passage, Role::Exit));
        plan.seams = !model.seams.is_empty() && (plan.inlets || key_varies(&case.body, &t::LEAKS));
        let hot = [&t::HOT_AIR_AT_REST, &t::HOT_AIR_MOVING];
        plan.hot_air = hot.into_iter().any(|key| key_varies(&case.body, key));
        plan.recirculate(case, &varies);
        let all_inlets: f64 = case.passages.iter().map(|passage| passage.inlets_as_drawn).sum();
        for (index, passage) in case.passages.iter().enumerate() {
            let bends = (0..passage.elements.len()).any(|i| passage.kind(i).is_some_and(|k| k.turns_air()));
            let whole = passage.elements.iter().any(|values| {
                let of_inlets = plan.inlets && values.has(&element::leak::SHARE_OF_INLETS);
                seen(values) || of_inlets || (bends && key_varies(values, &element::duct::LENGTH))
            });
            let first = model.network.passages[index].elements.start;
            let laws = &model.network.laws[model.network.passages[index].elements.clone()];
            let by_itself = |law: &Law| law.stands_alone();
            let placed = laws.len() == passage.elements.len();
            let varied: Vec<usize> =
                (0..passage.elements.len()).filter(|i| table_varies(&passage.elements[*i])).collect();
            if !whole && varied.is_empty() {
                continue;
            }
            if !placed
                || varied.iter().any(|i| !by_itself(&laws[*i]))
                || (whole && !laws.iter().all(by_itself))
            {
                plan.anew = true;
            } else if whole {
                plan.passages.push(index);
            } else {
                let copies = case.view(&passage.values).required(&t::COUNT);
                let all = sites(case, passage, copies, all_inlets).into_iter().enumerate();
                let seats = all.filter(|(element, _)| varied.contains(element));
                plan.seats.extend(seats.map(|(element, site)| Seat {
                    passage: index,
                    element,
                    law: first + element,
                    site,
                }));
            }
        }
        plan
    }

    /// In the order in which the model takes them up.
    fn recirculate(&mut self, case: &Case, varies: &dyn Fn(NumberId) -> bool) {
        let mut place = 0;
        for element in case.passages.iter().flat_map(|passage| &passage.elements) {
            for table in element.tables(&element::ram_inlet::RECIRCULATION) {
                let known =
                    table.text(&element::ram_inlet::FROM).is_some_and(|name| case.passage(name).is_some());
                let Some(id) = table.id(&element::ram_inlet::SHARE).filter(|_| known) else { continue };
                if varies(id) {
                    self.recirculations.push((place, id));
                }
                place += 1;
            }
        }
    }
}

/// Whether something behind a slot is a number of a kind.
fn any_number(slot: &Slot, wanted: &dyn Fn(NumberId) -> bool) -> bool {
    let in_table = |table: &Values| table.slots().any(|(_, slot)| any_number(slot, wanted));
    match slot {
        Slot::Number(id) => wanted(*id),
        Slot::Numbers(ids) => ids.iter().any(|id| wanted(*id)),
        Slot::Pairs(pairs) => pairs.iter().any(|(x, y)| wanted(*x) || wanted(*y)),
        Slot::Map(map) => map.iter().any(|(_, id)| wanted(*id)),
        Slot::Table(table) => in_table(table),
        Slot::Tables(tables) => tables.iter().any(in_table),
        Slot::Absent
        | Slot::Text(_)
        | Slot::Flag(_)
        | Slot::Names(_)
        | Slot::Groups(_)
        | Slot::Settings(_)
        | Slot::Lists(_) => false,
    }
}
