//! What every body has and nobody writes down: seams that leak, hot exit air drawn in again.
//!
//! Both are numbers of `[body]`, nought unless the case says otherwise. Seams leak where an inlet's air first arrives: out of
//! a chamber, towards where its air goes on, on a share of the area of the inlets that feed it. A duct that leads through fins or a core straight into
//! the bay has no such chamber before the part: its seams are left out, since behind the part they would only be one more way out. Hot air is a share of every
//! inlet's air that has none written, taken from the exits in proportion to their areas.

use crate::case::{Case, PassageTable, tables as t};
use crate::element::leak::Leak;
use crate::element::{self, FreeStream, PieceSize, Role};
use crate::network::{Network, PassageEnd, Recirculation};

/// Air speed (m/s) from which the share of hot air no longer falls: 30 km/h (common practice).
pub const MOVING: f64 = 30.0 / 3.6;

/// Seams of a chamber.
#[derive(Clone, Debug, PartialEq)]
pub struct Seams {
    /// What its passage is called.
    pub name: String,
    /// The chamber that leaks.
    pub from: String,
    /// Where its air goes on to: another chamber, or outside.
    pub to: String,
    /// Area (m²).
    pub area: f64,
}

/// Hot air that inlets draw in again, by speed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HotAir {
    at_rest: f64,
    moving: f64,
    /// Index into the network's recirculations, with the exit's share of what is drawn in.
    shares: Vec<(usize, f64)>,
}

impl HotAir {
    /// Share of an inlet's air at an air speed (m/s): `hot_air_at_rest` at rest, `hot_air_moving` from 30 km/h, linear between.
    pub fn share(&self, air_speed: f64) -> f64 {
        let moving = (air_speed / MOVING).clamp(0.0, 1.0);
        self.at_rest + (self.moving - self.at_rest) * moving
    }

    /// Whether there is any at any speed.
    pub fn is_none(&self) -> bool {
        self.shares.is_empty()
    }

    /// Takes other shares at rest and moving.
    pub fn set(&mut self, at_rest: f64, moving: f64) {
        (self.at_rest, self.moving) = (at_rest, moving);
    }

    /// Takes the exits' areas as they now are; the same exits have one.
    pub fn weigh(&mut self, case: &Case) {
        let areas: Vec<f64> = exit_areas(case).filter(|area| *area > 0.0).collect();
        let all: f64 = areas.iter().sum();
        for ((_, weight), area) in self.shares.iter_mut().zip(areas.iter().cycle()) {
            *weight = area / all;
        }
    }

    /// Takes up a moment.
    pub fn prepare(&self, network: &mut Network, moment: &FreeStream) {
        let share = self.share(moment.air_speed);
        for (index, weight) in &self.shares {
            network.recirculations[*index].share = weight * share;
        }
    }
}

/// The seams of every chamber that inlets feed, `joints` of tees left out; none where the case says that nothing leaks.
pub fn seams(case: &Case, joints: &[usize]) -> Vec<Seams> {
    let share = case.view(&case.body).number(&t::LEAKS).unwrap_or(0.0);
    if share <= 0.0 {
        return Vec::new();
    }
    let feeding = |chamber: &str| -> f64 {
        let feeds = |passage: &&PassageTable| passage.to == chamber && passage.fills_a_space();
        case.passages.iter().filter(feeds).map(|passage| passage.inlets_as_drawn).sum()
    };
    let onward = |chamber: &str| {
        let leaves = case.passages.iter().filter(|passage| passage.from == chamber);
        // the joint of a tee has its three legs and no seam
        let body = |to: &&String| case.chamber(to).is_some_and(|chamber| !joints.contains(&chamber));
        let next = leaves.map(|passage| &passage.to).find(body);
        next.cloned().unwrap_or_else(|| "outside".to_string())
    };
    let bodies = case.chambers.iter().enumerate().filter(|(index, _)| !joints.contains(index));
    let chambers = bodies.map(|(_, chamber)| (&chamber.name, share * feeding(&chamber.name)));
    let leaking = chambers.filter(|(_, area)| *area > 0.0);
    leaking
        .map(|(chamber, area)| Seams {
            name: format!("seams of {chamber}"),
            from: chamber.clone(),
            to: onward(chamber),
            area,
        })
        .collect()
}

/// Adds the seams to a network, behind the passages of the case.
pub fn add_seams(case: &Case, network: &mut Network, seams: &[Seams]) {
    let end = |name: &str| case.chamber(name).map_or(PassageEnd::Outside, PassageEnd::Chamber);
    for seam in seams {
        let law = Leak::implied(seam.area).into();
        network.add_passage(end(&seam.from), end(&seam.to), vec![(law, None)], None);
    }
}

/// Open area of the exit of each passage, all pieces (m²); nothing of one without.
fn exit_areas(case: &Case) -> impl Iterator<Item = f64> {
    case.passages.iter().map(|passage| {
        let Some(exit) = passage.first_of(Role::Exit) else { return 0.0 };
        let view = case.view(&passage.elements[exit]);
        let pieces = case.view(&passage.values).required(&t::COUNT)
            * view.number(&element::size::COUNT).unwrap_or(1.0)
            * view.number(&element::exit::LOUVRES).unwrap_or(1.0);
        PieceSize::read(&view).map_or(0.0, |size| pieces * size.area)
    })
}

/// Adds the hot air that inlets without a `recirculation` of their own draw in again.
pub fn add_hot_air(case: &Case, network: &mut Network) -> HotAir {
    let view = case.view(&case.body);
    let share = |key| view.number(key).unwrap_or(0.0);
    let (at_rest, moving) = (share(&t::HOT_AIR_AT_REST), share(&t::HOT_AIR_MOVING));
    let mut found = HotAir { at_rest, moving, shares: Vec::new() };
    if at_rest <= 0.0 && moving <= 0.0 {
        return found;
    }
    let exits: Vec<f64> = exit_areas(case).collect();
    let all: f64 = exits.iter().sum();
    for (inlet, passage) in case.passages.iter().enumerate() {
        let written = passage.elements.iter().any(|e| e.has(&element::ram_inlet::RECIRCULATION));
        if passage.first_of(Role::Inlet).is_none() || written {
            continue;
        }
        for (exit, area) in exits.iter().enumerate().filter(|(_, area)| **area > 0.0) {
            found.shares.push((network.recirculations.len(), area / all));
            network.add_recirculation(Recirculation { inlet, exit, share: 0.0 });
        }
    }
    found
}
