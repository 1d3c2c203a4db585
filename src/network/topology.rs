//! What is joined to what: passages, chambers, parts.

use super::sudden::Sudden;
use crate::element::fan::FanSetting;
use crate::element::law::Lump;
use crate::element::{AreaContinuity, Discharge, FreeStream, Law};
use crate::thermal::Part;
use std::ops::Range;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PassageEnd {
    /// Outside the car.
    Outside,
    /// A chamber, by its index.
    Chamber(usize),
    /// The engine's intake.
    Engine,
    /// A large space of a given gauge pressure (Pa), its air that of the day at rest.
    #[cfg_attr(
        not(feature = "rooms"),
        expect(dead_code, reason = "networks of books and other programs lie between reservoirs")
    )]
    Reservoir(f64),
}

/// A chamber: one static pressure, one mixed temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chamber {
    /// Conductance of its walls to the day's air (W/K).
    pub skin_conductance: f64,
}

/// Temperature above which walls take heat whatever is written of them (K): of walls that take some, and of such as take
/// none; and how much beyond (W/K).
///
/// Nothing in a car is near it. Air that stands, is heated, and gives nothing to its walls would grow hotter
/// indefinitely; so it finds an end that shows what it is. That end is low, and not far beyond, since what a surface
/// radiates goes with T³: of hotter ones the last digit of a temperature is more heat than a balance may leave open.
const ENDLESS: f64 = 1e4;
const WITHOUT_WALLS: f64 = 2000.0;
const BEYOND: f64 = 1000.0;

impl Chamber {
    /// Temperature (K) from which its air counts as growing hotter indefinitely.
    #[inline]
    pub fn endless(self) -> f64 {
        if self.skin_conductance > 0.0 { ENDLESS } else { WITHOUT_WALLS }
    }

    /// Heat through its walls to the day's air (W), and its slope with its own temperature (W/K); temperatures of
    /// the day and of its air (K).
    #[inline]
    pub(super) fn to_walls(self, day: f64, temperature: f64) -> (f64, f64) {
        let heat = self.skin_conductance * (temperature - day);
        let endless = self.endless();
        if temperature <= endless {
            return (heat, self.skin_conductance);
        }
        (heat + BEYOND * (temperature - endless), self.skin_conductance + BEYOND)
    }
}

/// Warm exit air that an inlet draws in again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recirculation {
    /// The passage whose inlet draws it.
    pub inlet: usize,
    /// The passage whose exit gives it.
    pub exit: usize,
    /// Share of the inlet's air.
    pub share: f64,
}

/// What warm air does in a passage between a chamber and outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Buoyancy {
    /// Height of the opening over the level to which the chamber's pressure refers (m).
    pub height: f64,
    pub chamber: usize,
    /// 1 where a positive flow leaves the chamber, −1 where it enters.
    pub outward: f64,
    /// The opening, as an index into the network's laws.
    pub element: usize,
}

/// A side or straight leg of a tee.
#[derive(Clone, Copy, Debug)]
pub(super) struct LegLoss {
    pub passage: usize,
    /// Its law.
    pub element: usize,
    /// 1 where a positive flow of its passage runs towards the joint, −1 where away from it.
    pub along: f64,
    /// The chamber that is the joint.
    pub chamber: usize,
    /// The other leg's passage.
    pub partner: usize,
    /// 1 where a positive flow of that passage runs towards the joint.
    pub partner_along: f64,
    /// The other leg, as an index into the network's legs.
    pub partner_leg: usize,
}

/// A chain of elements that carries one mass flow.
#[derive(Clone, Debug)]
pub struct Passage {
    /// Where a positive flow comes from.
    pub from: PassageEnd,
    /// Where a positive flow goes to.
    pub to: PassageEnd,
    /// Its elements, as indices into the network's laws.
    pub elements: Range<usize>,
    /// Its parts, as indices into the network's `local_parts`.
    pub parts: Range<usize>,
    /// Where its heat slopes by part begin in the workspace.
    pub(super) heat_slopes: usize,
    /// The element that tape blanks: its first inlet, else its exit.
    pub taped: Option<usize>,
    /// Index of its unknown inlet temperature, where warm air is drawn in again.
    pub warm_inlet: Option<usize>,
    /// What warm air does in it, where its opening has a height.
    pub(super) stack: Option<Buoyancy>,
    /// Whether it is the side or straight leg of a tee: an index into the network's legs.
    pub(super) leg: Option<usize>,
    /// Whether there is a fan in it.
    has_fan: bool,
    /// Whether a fan turns in it.
    pub(super) turning: bool,
    /// The taped share for which its areas and heads were last worked out; none where its laws have changed since.
    settled: Option<f64>,
    /// Smallest area (m²), for the flow below which laws are smooth.
    pub(super) least_area: f64,
    /// Sudden changes of area between its elements, in the file's order.
    pub sudden: Vec<Sudden>,
    /// What the air meets one after another, lumps taken together; indices into the network's
    /// `meets`.
    pub(super) meets: Range<usize>,
    /// The whole passage with its last head, where it is one lump.
    pub(super) plain: Option<Lump>,
    /// 1/(2A²) where the air leaves forward, 0 where its head is not lost.
    pub head_forward: f64,
    /// The same of the air running back.
    pub(super) head_backward: f64,
}

impl Passage {
    /// Works out what hangs on the areas of its laws alone: the smallest of them, and where heads are lost.
    fn settle(&mut self, laws: &[Law]) {
        let written = laws.iter().filter_map(|law| law.area().map(|area| area * law.pieces()));
        self.least_area = written.fold(f64::INFINITY, f64::min).min(1.0);
        if self.least_area == 1.0 {
            let nominal = laws.iter().filter_map(Law::nominal_area).filter(|area| *area > 0.0);
            self.least_area = nominal.fold(1.0, f64::min);
        }
        self.has_fan = laws.iter().any(|law| law.as_fan().is_some());
        self.head_forward =
            if self.to == PassageEnd::Engine { 0.0 } else { lost_head(laws.iter().rev(), true) };
        self.head_backward = lost_head(laws.iter(), false);
    }
}

/// What the air of a passage meets: neighbours without friction, fan or heat as one.
#[derive(Clone, Copy, Debug)]
pub(super) enum Segment {
    Lump(Lump),
    Element(usize),
}

/// Marks an element without a part.
pub(super) const NO_PART: usize = usize::MAX;

/// Everything that is joined, with its laws.
#[derive(Clone, Debug, Default)]
pub struct Network {
    /// The laws of all elements, passage by passage.
    pub laws: Vec<Law>,
    pub(super) meets: Vec<Segment>,
    /// For each element, its part's place among its passage's parts.
    pub(super) part_slot: Vec<usize>,
    pub passages: Vec<Passage>,
    /// The parts named by each passage, one passage after the other.
    pub local_parts: Vec<usize>,
    pub chambers: Vec<Chamber>,
    pub parts: Vec<Part>,
    /// Warm air drawn in again.
    pub recirculations: Vec<Recirculation>,
    /// How many passages draw warm air.
    pub(super) warm_inlets: usize,
    /// Side and straight legs of tees.
    pub(super) legs: Vec<LegLoss>,
    pub(super) heat_slopes: usize,
    pub(super) has_fan: bool,
}

impl Network {
    /// A network of chambers and parts without passages.
    pub fn new(chambers: Vec<Chamber>, parts: Vec<Part>) -> Network {
        Network { chambers, parts, ..Network::default() }
    }

    pub(super) fn temperature_column(&self, chamber: usize) -> usize {
        self.chambers.len() + chamber
    }

    pub(super) fn part_column(&self, part: usize) -> usize {
        2 * self.chambers.len() + part
    }

    pub(super) fn inlet_column(&self, inlet: usize) -> usize {
        2 * self.chambers.len() + self.parts.len() + inlet
    }

    /// Column of a leg's own flow.
    #[inline]
    pub(super) fn leg_column(&self, leg: usize) -> usize {
        self.unknowns() + leg
    }

    /// Adds a passage; each element comes with the index of the part it names.
    pub fn add_passage(
        &mut self,
        from: PassageEnd,
        to: PassageEnd,
        elements: Vec<(Law, Option<usize>)>,
        taped: Option<usize>,
    ) {
        let first = self.laws.len();
        let first_part = self.local_parts.len();
        for (law, part) in elements {
            let slot = part.map_or(NO_PART, |part| {
                let known = self.local_parts[first_part..].iter().position(|p| *p == part);
                known.unwrap_or_else(|| {
                    self.local_parts.push(part);
                    self.local_parts.len() - 1 - first_part
                })
            });
            self.has_fan |= law.as_fan().is_some();
            self.laws.push(law);
            self.part_slot.push(slot);
        }
        let parts = first_part..self.local_parts.len();
        let heat_slopes = self.heat_slopes;
        self.heat_slopes += parts.len() * parts.len();
        self.passages.push(Passage {
            from,
            to,
            elements: first..self.laws.len(),
            parts,
            heat_slopes,
            taped: taped.map(|t| first + t),
            warm_inlet: None,
            stack: None,
            leg: None,
            turning: false,
            settled: None,
            has_fan: false,
            least_area: 1.0,
            sudden: Vec::new(),
            meets: 0..0,
            plain: None,
            head_forward: 0.0,
            head_backward: 0.0,
        });
    }

    /// Lets an inlet draw a share of an exit's air.
    pub fn add_recirculation(&mut self, recirculation: Recirculation) {
        let passage = &mut self.passages[recirculation.inlet];
        if passage.warm_inlet.is_none() {
            passage.warm_inlet = Some(self.warm_inlets);
            self.warm_inlets += 1;
        }
        self.recirculations.push(recirculation);
    }

    /// Whether a fan turns at the present operating point.
    pub fn turns(&self) -> bool {
        self.passages.iter().any(|passage| passage.turning)
    }

    /// Whether warm air rises through openings of different height.
    pub fn rises(&self) -> bool {
        self.passages.iter().any(|passage| passage.stack.as_ref().is_some_and(|stack| stack.height != 0.0))
    }

    /// Gives openings their height over the ground: for each passage the opening's place among its elements
    /// and the height (m). Those without one count as standing at the mean of the others.
    pub fn set_heights(&mut self, heights: &[Option<(usize, f64)>]) {
        let known: Vec<f64> = heights.iter().flatten().map(|(_, height)| *height).collect();
        let mean = known.iter().sum::<f64>() / known.len().max(1) as f64;
        for (passage, height) in self.passages.iter_mut().zip(heights) {
            let Some((element, height)) = height else { continue };
            let (chamber, outward) = match (passage.from, passage.to) {
                (PassageEnd::Chamber(chamber), PassageEnd::Outside) => (chamber, 1.0),
                (PassageEnd::Outside, PassageEnd::Chamber(chamber)) => (chamber, -1.0),
                _ => continue,
            };
            let element = passage.elements.start + element;
            passage.stack = Some(Buoyancy { height: height - mean, chamber, outward, element });
        }
    }

    /// Tells the fans of each passage what to do, before an operating point is prepared.
    pub fn tell_fans(&mut self, told: &[FanSetting]) {
        for (passage, told) in self.passages.iter().zip(told) {
            for law in &mut self.laws[passage.elements.clone()] {
                if let Some(fan) = law.as_fan_mut() {
                    fan.tell(*told);
                }
            }
        }
    }

    /// Takes up a moment: opens, speeds and pushes of every element, and where heads are lost.
    pub fn prepare(&mut self, free_stream: &FreeStream, taped: &[f64]) {
        self.meets.clear();
        for (index, passage) in self.passages.iter_mut().enumerate() {
            // seams that nobody wrote are not taped
            let tape = taped.get(index).copied().unwrap_or(0.0);
            for element in passage.elements.clone() {
                let share = if passage.taped == Some(element) { tape } else { 0.0 };
                self.laws[element].prepare(free_stream, share);
            }
            let first = self.meets.len();
            let mut sudden = passage.sudden.iter().peekable();
            for place in 0..=passage.elements.len() {
                if let Some(change) = sudden.next_if(|change| change.before == place) {
                    add_lump(&mut self.meets, first, change.lump);
                }
                let element = passage.elements.start + place;
                if element == passage.elements.end {
                    break;
                }
                match self.laws[element].lump() {
                    Some(lump) => add_lump(&mut self.meets, first, lump),
                    None => self.meets.push(Segment::Element(element)),
                }
            }
            passage.meets = first..self.meets.len();
            let laws = &self.laws[passage.elements.clone()];
            if passage.settled != Some(tape) {
                passage.settle(laws);
                passage.settled = Some(tape);
            }
            let mut fans = laws.iter().filter_map(Law::as_fan);
            passage.turning = passage.has_fan && fans.any(|fan| fan.speed_at(free_stream.rpm) > 0.0);
            passage.plain = match self.meets[passage.meets.clone()] {
                [Segment::Lump(lump)] => Some(Lump {
                    forward: lump.forward + passage.head_forward,
                    backward: lump.backward + passage.head_backward,
                    ..lump
                }),
                _ => None,
            };
        }
    }

    /// Tells that laws are others than before, so that areas and heads are worked out anew.
    pub fn laws_changed(&mut self) {
        self.passages.iter_mut().for_each(|passage| passage.settled = None);
    }

    /// Number of unknowns beside the passages' flows.
    pub(super) fn unknowns(&self) -> usize {
        2 * self.chambers.len() + self.parts.len() + self.warm_inlets
    }

    /// Rows of the system: the unknowns, and the flows that stay unknown beside them.
    pub(super) fn rows(&self) -> usize {
        self.unknowns() + self.legs.len()
    }
}

/// Takes a lump together with the one before it in the same passage.
fn add_lump(meets: &mut Vec<Segment>, first: usize, lump: Lump) {
    let joined = meets.len() > first;
    match meets.last_mut() {
        Some(Segment::Lump(before)) if joined => *before = before.and(lump),
        _ => meets.push(Segment::Lump(lump)),
    }
}

/// 1/(2A²) of the last element along the motion that has an area; nothing where a step before it has opened
/// into the chamber.
fn lost_head<'a>(laws: impl Iterator<Item = &'a Law>, forward: bool) -> f64 {
    let mut lost = None;
    for law in laws {
        match law.discharge(forward) {
            Discharge::Unknown => continue,
            Discharge::Area(area) => lost = lost.or(Some(0.5 / (area * area))),
            Discharge::Included => return 0.0,
        }
        if law.chain() != AreaContinuity::PassedOver {
            break;
        }
    }
    lost.unwrap_or(0.0)
}
