//! A case made ready to be solved: its network, engine and parts.

use super::leakage::{self, HotAir, Seams};
use super::{joints, overdriven, shut_in};
use crate::air::{Air, standard_atmosphere};
use crate::case::{Case, Diagnostic, Diagnostics, FaultPlace, PassageTable, Warning, tables as t};
use crate::element::{self, AreaContinuity, ElementContext, Law, Neighbour, PieceSize};
use crate::engine::running::brake_efficiency_of;
use crate::engine::{Engine, Power, tables as e};
use crate::keys::{Key, Values, View};
use crate::network::{Chamber, Network, PassageEnd, Recirculation};
use crate::numerics::monotone_cubic::MonotoneCubic;
use crate::thermal::{HotSurface, Part};

/// Draws air for the engine through a passage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Demand {
    /// The passage does not lead to the engine.
    None,
    /// A fixed mass flow (kg/s) while the engine runs.
    Fixed(f64),
    /// A share of the engine's volume.
    Share(f64),
}

/// A case ready to be solved.
#[derive(Clone, Debug)]
pub struct Model {
    /// What is joined to what.
    pub network: Network,
    pub engine: Engine,
    /// Heat shares of the parts at rated power.
    pub part_shares: Vec<f64>,
    /// What of each part's heat goes with friction.
    pub from_friction: Vec<f64>,
    /// Heat shares of the chambers at rated power.
    pub chamber_shares: Vec<f64>,
    /// What each passage draws for the engine.
    pub demands: Vec<Demand>,
    /// For each element, the part it names.
    pub part_of: Vec<Option<usize>>,
    /// Seams that nobody wrote down; their passages stand behind those of the case.
    pub seams: Vec<Seams>,
    /// Hot air drawn in again that nobody wrote down.
    pub hot_air: HotAir,
    /// What was seen while it was made.
    pub warnings: Vec<Warning>,
}

impl Model {
    /// Makes a case ready.
    ///
    /// # Errors
    /// Faults that only show when laws are made: areas that do not fit, curves that rise.
    pub fn new(case: &Case) -> Result<Model, Diagnostics> {
        let mut faults = Diagnostics::new();
        let mut warnings = Vec::new();
        let parts = case.parts.iter().map(|part| read_part(case, &part.values)).collect();
        let chambers = case
            .chambers
            .iter()
            .map(|c| Chamber { skin_conductance: case.view(&c.values).required(&t::SKIN_CONDUCTANCE) })
            .collect();
        let mut network = Network::new(chambers, parts);
        let mut part_of = Vec::new();
        let inlet_area = case.passages.iter().map(|passage| passage.inlets_as_drawn).sum();
        let mut demands = Vec::new();
        let mut heights = Vec::new();
        let engine_passages: f64 = case
            .passages
            .iter()
            .filter(|p| p.to == "engine")
            .map(|p| case.view(&p.values).required(&t::COUNT))
            .sum();
        for passage in &case.passages {
            let copies = case.view(&passage.values).required(&t::COUNT);
            let laws = build_laws(case, passage, copies, inlet_area, &mut faults, Some(&mut warnings));
            let demand = match laws.iter().find_map(|(law, _)| law.as_demand()) {
                Some(demand) => match (demand.flow, demand.share) {
                    (Some(flow), _) => Demand::Fixed(flow),
                    (None, Some(share)) => Demand::Share(share),
                    (None, None) => Demand::Share(copies / engine_passages),
                },
                None if passage.to == "engine" => Demand::Share(copies / engine_passages),
                None => Demand::None,
            };
            demands.push(demand);
            part_of.extend(laws.iter().map(|(_, part)| *part));
            let end = |name: &str| match name {
                "outside" => PassageEnd::Outside,
                "engine" => PassageEnd::Engine,
                name => case.chamber(name).map_or(PassageEnd::Outside, PassageEnd::Chamber),
            };
            network.add_passage(end(&passage.from), end(&passage.to), laws, passage.opening());
            let blended: Vec<bool> =
                passage.elements.iter().map(|values| values.flag(&element::size::BLENDED)).collect();
            network.charge_sudden_changes(heights.len(), copies, &blended);
            heights.push(height(case, passage));
        }
        if faults.is_empty() {
            joints::join(case, &mut network, &mut faults);
        }
        let seams = leakage::seams(case, &joints::chambers(&network));
        leakage::add_seams(case, &mut network, &seams);
        demands.resize(network.passages.len(), Demand::None);
        part_of.resize(network.laws.len(), None);
        add_recirculations(case, &mut network);
        let hot_air = leakage::add_hot_air(case, &mut network);
        network.set_heights(&heights);
        if faults.is_empty() {
            shut_in::refuse(case, &network, &mut faults);
        }
        let engine = read_engine(case, &mut faults);
        let share_of = |name: &str| {
            let heat = case.engine.map(&e::HEAT).iter().find(|(named, _)| named == name);
            heat.map_or(0.0, |(_, id)| case.numbers.value(*id))
        };
        let part_shares: Vec<f64> = case.parts.iter().map(|part| share_of(&part.name)).collect();
        let from_friction: Vec<f64> =
            case.parts.iter().map(|part| case.view(&part.values).required(&t::FROM_FRICTION)).collect();
        let chamber_shares = case.chambers.iter().map(|chamber| share_of(&chamber.name)).collect();
        let Some(engine) = engine.filter(|_| faults.is_empty()) else { return Err(faults) };
        overdriven::refuse(case, &network, &engine, &mut faults);
        if !faults.is_empty() {
            return Err(faults);
        }
        Ok(Model {
            network,
            engine,
            part_shares,
            from_friction,
            chamber_shares,
            demands,
            part_of,
            seams,
            hot_air,
            warnings,
        })
    }
}

/// The day's air, where a condition may override what `[day]` says.
pub fn day(case: &Case, condition: Option<&Values>) -> Air {
    air(case, condition, None, false)
}

/// The air of a condition on a day of another temperature (K); where it rains the air is full of water and the track adds
/// nothing.
pub fn weather(case: &Case, condition: &Values, temperature: f64, wet: bool) -> Air {
    air(case, Some(condition), Some(temperature), wet)
}

fn air(case: &Case, condition: Option<&Values>, temperature: Option<f64>, wet: bool) -> Air {
    let day = case.view(&case.day);
    let other = condition.and_then(|values| case.view(values).table(&t::CONDITION_DAY));
    let read = |key: &Key| other.as_ref().and_then(|o| o.number(key)).or(day.number(key));
    // altitude and pressure replace each other
    let source = match &other {
        Some(o) if o.number(&t::ALTITUDE).is_some() || o.number(&t::PRESSURE).is_some() => o,
        _ => &day,
    };
    let pressure = source
        .number(&t::PRESSURE)
        .unwrap_or_else(|| standard_atmosphere::pressure(source.number(&t::ALTITUDE).unwrap_or(0.0)));
    let (over_track, humidity) = match wet {
        true => (0.0, 1.0),
        false => (read(&t::OVER_TRACK).unwrap_or(0.0), read(&t::HUMIDITY).unwrap_or(0.0)),
    };
    Air::new(pressure, temperature.or(read(&t::TEMPERATURE)).unwrap_or(f64::NAN), over_track, humidity)
}

pub(crate) fn read_part(case: &Case, values: &Values) -> Part {
    let view = case.view(values);
    // without a limit a part is a store of heat, of which nothing is asked
    let limit = view
        .number(&t::LIMIT)
        .map_or(f64::INFINITY, |limit| limit - view.number(&t::HOTTEST_ABOVE_MEAN).unwrap_or(0.0));
    let specific = values.text(&t::MATERIAL).and_then(|m| t::MATERIALS.iter().find(|(name, _)| *name == m));
    let by_mass = view.number(&t::MASS).zip(specific).map(|(mass, (_, specific))| mass * specific);
    Part {
        limit,
        least: view.number(&t::LEAST),
        bay_conductance: view.required(&t::BAY_CONDUCTANCE),
        surface: view.number(&t::SURFACE).map(|area| HotSurface {
            area,
            emissivity: view.required(&t::EMISSIVITY),
            height: view.number(&t::SURFACE_HEIGHT).unwrap_or(area.sqrt()),
        }),
        chamber: case.chamber_of(values),
        source_temperature: view.required(&t::SOURCE_TEMPERATURE),
        reference_temperature: view.number(&t::SHARE_AT).unwrap_or(limit),
        heat_capacity: view.number(&t::HEAT_CAPACITY).or(by_mass),
    }
}

pub(crate) fn read_engine(case: &Case, faults: &mut Diagnostics) -> Option<Engine> {
    let view = case.view(&case.engine);
    let points = view.pairs(&e::POWER);
    let power = match (view.number(&e::PEAK_POWER), view.number(&e::PEAK_POWER_AT)) {
        (Some(power), Some(rpm)) => Power::Peak { power, rpm },
        _ => match MonotoneCubic::new(&points) {
            Some(curve) => Power::Curve(curve),
            None => {
                faults.push(Diagnostic::new(
                    "power-points",
                    "the power curve needs at least two points with rising engine speed",
                    FaultPlace::from(case.engine.place_of(&e::POWER)),
                    r#"write power = [["2000 rpm", "12 kW"], ["5500 rpm", "35 kW"]], or peak_power and peak_power_at"#,
                ));
                return None;
            }
        },
    };
    let (peak_power, peak_rpm) = power.peak(&points);
    let brake_efficiency = match view.number(&e::FUEL_CONSUMPTION) {
        Some(consumption) => brake_efficiency_of(consumption),
        None => view.required(&e::BRAKE_EFFICIENCY),
    };
    let shares = case.engine.map(&e::HEAT).iter().map(|(name, id)| (name.as_str(), case.numbers.value(*id)));
    let shares: Vec<(&str, f64)> = shares.collect();
    Some(Engine {
        power,
        peak_power,
        peak_rpm,
        standard_air: case.engine.text(&e::POWER_BASIS) != Some("as-measured"),
        displacement: view.required(&e::DISPLACEMENT),
        strokes: view.required(&e::STROKES),
        brake_efficiency,
        volumetric_efficiency: view.required(&e::VOLUMETRIC_EFFICIENCY),
        friction_pressure: view.required(&e::FRICTION_PRESSURE),
        heat_exponent: view.required(&e::HEAT_EXPONENT),
        shares_of_brake_power: case.engine.text(&e::HEAT_SHARES_OF) == Some("brake power"),
        total_share: shares.iter().map(|(_, share)| share).sum(),
        friction_share: shares
            .iter()
            .filter_map(|(name, share)| {
                let part = &case.parts[case.part(name)?].values;
                Some(share * case.view(part).required(&t::FROM_FRICTION))
            })
            .sum(),
    })
}

/// Height over the ground of the opening that joins a passage to outside: its element's index and the height
/// (m) of its place, where that says one.
fn height(case: &Case, passage: &PassageTable) -> Option<(usize, f64)> {
    let element = match (passage.from == "outside", passage.to == "outside") {
        (true, false) => 0,
        (false, true) => passage.elements.len().checked_sub(1)?,
        _ => return None,
    };
    let name = passage.elements.get(element)?.text(&element::size::PLACE)?;
    let place = case.places.iter().find(|place| place.name == name)?;
    case.view(&place.values).number(&t::ABOVE_GROUND).map(|height| (element, height))
}

fn add_recirculations(case: &Case, network: &mut Network) {
    for (inlet, passage) in case.passages.iter().enumerate() {
        for element in &passage.elements {
            for table in element.tables(&element::ram_inlet::RECIRCULATION) {
                let exit = table.text(&element::ram_inlet::FROM).and_then(|name| case.passage(name));
                let share = case.view(table).number(&element::ram_inlet::SHARE);
                if let (Some(exit), Some(share)) = (exit, share) {
                    network.add_recirculation(Recirculation { inlet, exit, share });
                }
            }
        }
    }
}

/// An element as its neighbours see it before laws are made: areas of one piece where air enters and leaves it, as
/// far as they are its own or those of a neighbour before it.
#[derive(Clone, Copy, Debug, Default)]
struct Ends {
    entering: Option<f64>,
    leaving: Option<f64>,
    /// Whether it stands for a piece of the channel.
    counts: bool,
}

fn ends(view: &View, chain: AreaContinuity, before: Option<f64>) -> Ends {
    if chain == AreaContinuity::PassedOver {
        return Ends::default();
    }
    let is_change = view.values.keys.iter().any(|key| key.name == element::size::AREA_BEFORE.name);
    if is_change {
        return Ends {
            entering: view.number(&element::size::AREA_BEFORE),
            leaving: view.number(&element::size::AREA_AFTER),
            counts: true,
        };
    }
    let own =
        PieceSize::read(view).map(|size| size.area * view.number(&element::exit::LOUVRES).unwrap_or(1.0));
    let front = view.number(&element::fins::FRONT_AREA).or(own);
    let area = if view.values.has(&element::screen::OPEN_FRACTION) { own.or(before) } else { own };
    Ends { entering: front.or(area), leaving: area, counts: area.is_some() }
}

/// The ends of all elements of a passage. A change of area without one behind it takes that of the next element
/// that has its own; a screen without a size then stands in what comes before it.
fn all_ends(case: &Case, passage: &PassageTable) -> Vec<Ends> {
    let read = |known: &[Ends]| {
        let mut all: Vec<Ends> = Vec::new();
        for (index, element) in passage.elements.iter().enumerate() {
            let before = all.iter().rev().find(|e| e.counts).and_then(|e| e.leaving);
            let chain = passage.kind(index).map_or(AreaContinuity::PassedOver, |kind| kind.chain);
            let mut here = ends(&case.view(element), chain, before);
            here.leaving = here.leaving.or(known.get(index).and_then(|e| e.leaving));
            all.push(here);
        }
        all
    };
    let mut first = read(&[]);
    for index in 0..first.len() {
        let behind = first[index + 1..].iter().find(|e| e.counts).and_then(|e| e.entering);
        if first[index].counts && first[index].leaving.is_none() {
            first[index].leaving = behind;
        }
    }
    read(&first)
}

/// The laws of a passage, each with its part; warnings are noted where somebody takes them.
pub(crate) fn build_laws(
    case: &Case,
    passage: &PassageTable,
    copies: f64,
    inlet_area: f64,
    faults: &mut Diagnostics,
    mut warnings: Option<&mut Vec<Warning>>,
) -> Vec<(Law, Option<usize>)> {
    let mut laws = Vec::new();
    for (index, mut site) in sites(case, passage, copies, inlet_area).into_iter().enumerate() {
        let Some(kind) = passage.kind(index) else { continue };
        let values = &passage.elements[index];
        site.warned = warnings.is_some();
        let law = (kind.build)(&mut site, &case.view(values));
        let part = values.text(&element::fins::PART).and_then(|name| case.part(name));
        take_notes(case, values, site, faults, warnings.as_deref_mut());
        if let Some(law) = law {
            laws.push((law, part));
        }
    }
    laws
}

/// Where each element of a passage stands.
pub(crate) fn sites(
    case: &Case,
    passage: &PassageTable,
    copies: f64,
    inlet_area: f64,
) -> Vec<ElementContext> {
    let last = passage.elements.len().saturating_sub(1);
    let count_of =
        |index: usize| case.view(&passage.elements[index]).number(&element::size::COUNT).unwrap_or(1.0);
    let all_ends = all_ends(case, passage);
    let site_of = |(index, values): (usize, &Values)| {
        let view = case.view(values);
        let spot = |index: Option<usize>, area: Option<f64>| {
            index.zip(area).map(|(i, area)| Neighbour { area, count: count_of(i) })
        };
        let before = (0..index).rev().find(|i| all_ends[*i].counts);
        let after = (index + 1..=last).find(|i| all_ends[*i].counts);
        ElementContext {
            before: spot(before, before.and_then(|i| all_ends[i].leaving)),
            after: spot(after, after.and_then(|i| all_ends[i].entering)),
            first: index == 0,
            // an implied demand stands behind the last element of a passage to the engine
            last: index == last && passage.to != "engine",
            opens_before: before.is_none(),
            opens_behind: after.is_none() && passage.to != "engine",
            count: count_of(index),
            pieces: count_of(index) * copies,
            size: PieceSize::read(&view),
            from_outside: passage.from == "outside",
            to_outside: passage.to == "outside",
            inlet_area,
            straight_before: element::bend::straight_before(&passage.elements, &case.numbers, index),
            notes: Vec::new(),
            warned: false,
        }
    };
    passage.elements.iter().enumerate().map(site_of).collect()
}

fn take_notes(
    case: &Case,
    values: &Values,
    site: ElementContext,
    faults: &mut Diagnostics,
    mut warnings: Option<&mut Vec<Warning>>,
) {
    for note in site.notes {
        let key = note.key.and_then(|name| values.keys.iter().find(|key| key.name == name));
        if note.fault {
            let place = key.map_or(values.place.clone(), |key| values.place_of(key));
            faults.push(Diagnostic::new(note.code, note.message, FaultPlace::from(place), note.what_to_do));
        } else if let Some(warnings) = &mut warnings {
            // what a place gives is at the place's address
            let address = key.map(|key| match values.id(key) {
                Some(id) => case.numbers.fact(id).address.clone(),
                None => values.address_of(key),
            });
            let warning = Warning {
                code: note.code,
                message: format!("{}; {}", note.message, note.what_to_do),
                place: Some(address.unwrap_or_else(|| values.address.clone())),
            };
            // several elements at one place: said once
            if !warnings.contains(&warning) {
                warnings.push(warning);
            }
        }
    }
}
