//! What holds between the numbers of a case, so that no draw breaks it.
//!
//! Every rule is a sum that stays under a bound. The number of it that is drawn last is cut there, given all the
//! others: its band is divided by what is left of it. Heat and brake power beyond the fuel are the one exception:
//! the shares of heat then shrink in proportion.

use crate::case::{Case, tables as t};
use crate::element::{demand, ram_inlet};
use crate::engine::running::brake_efficiency_of;
use crate::engine::tables as e;
use crate::keys::{Key, NumberId, Numbers, Slot, Values};

/// How far a source must stay above a part's limit in a draw (K), or as far as with the values taken.
const SOURCE_ABOVE: f64 = 20.0;
/// Most of an inlet's air that may be warm air drawn in again.
const MOST_RECIRCULATION: f64 = 0.9;
/// Share of the distance between two numbers with the values taken that is left between them at least.
const LEFT_BETWEEN: f64 = 0.01;

/// Σ c x ≤ most.
#[derive(Clone, Debug, PartialEq)]
pub struct LinearRule {
    /// The numbers x with their factors c.
    pub terms: Vec<(NumberId, f64)>,
    /// The bound.
    pub most: f64,
    /// The number that is cut.
    pub cut: NumberId,
}

impl LinearRule {
    /// The range that the others leave to the number that is cut.
    pub fn range(&self, numbers: &Numbers) -> (f64, f64) {
        let (mut left, mut factor) = (self.most, 0.0);
        for (id, c) in &self.terms {
            if *id == self.cut {
                factor += c;
            } else {
                left -= c * numbers.value(*id);
            }
        }
        let bound = left / factor;
        if factor > 0.0 { (f64::NEG_INFINITY, bound) } else { (bound, f64::INFINITY) }
    }
}

/// Collects rules in which something is drawn.
struct Collector<'c> {
    case: &'c Case,
    drawn: &'c dyn Fn(NumberId) -> bool,
    rules: Vec<LinearRule>,
}

impl Collector<'_> {
    /// A rule of which the first number drawn in `order` is cut.
    fn add(&mut self, terms: Vec<(NumberId, f64)>, most: f64, order: &[NumberId]) {
        let cut = order.iter().copied().find(|id| (self.drawn)(*id));
        self.rules.extend(cut.map(|cut| LinearRule { terms, most, cut }));
    }

    /// `low` stays under `high`, of which the first number drawn in `order` is cut, by `least` or what is between
    /// them with the values taken.
    fn below(&mut self, low: &[(NumberId, f64)], high: NumberId, least: f64, order: &[NumberId]) {
        let value = |id: &NumberId| self.case.numbers.value(*id);
        let between = value(&high) - low.iter().map(|(id, c)| c * value(id)).sum::<f64>();
        let mut terms = low.to_vec();
        terms.push((high, -1.0));
        self.add(terms, -f64::min(least, between), order);
    }

    fn part(&mut self, values: &Values) {
        let id = |key: &Key| values.id(key);
        let Some(limit) = id(&t::LIMIT) else {
            if let Some((source, at)) = id(&t::SOURCE_TEMPERATURE).zip(id(&t::SHARE_AT)) {
                self.below(&[(at, 1.0)], source, SOURCE_ABOVE, &[source, at]);
            }
            return;
        };
        let mut working = vec![(limit, 1.0)];
        working.extend(id(&t::HOTTEST_ABOVE_MEAN).map(|above| (above, -1.0)));
        let of_working: Vec<NumberId> = working.iter().rev().map(|(id, _)| *id).collect();
        if let Some(source) = id(&t::SOURCE_TEMPERATURE) {
            self.below(&working, source, SOURCE_ABOVE, &[&[source], &of_working[..]].concat());
            if let Some(at) = id(&t::SHARE_AT) {
                self.below(&[(at, 1.0)], source, SOURCE_ABOVE, &[source, at]);
            }
        }
        if let Some(least) = id(&t::LEAST) {
            let mut terms = vec![(least, 1.0)];
            terms.extend(working.iter().map(|(id, c)| (*id, -c)));
            let value = |id: NumberId| self.case.numbers.value(id);
            let between: f64 = -terms.iter().map(|(id, c)| c * value(*id)).sum::<f64>();
            self.add(terms, -LEFT_BETWEEN * between, &[&[least], &of_working[..]].concat());
        }
    }

    /// Two numbers of a table in their order.
    fn ordered(&mut self, low: Option<NumberId>, high: Option<NumberId>) {
        if let (Some(low), Some(high)) = (low, high) {
            let between = self.case.numbers.value(high) - self.case.numbers.value(low);
            self.below(&[(low, 1.0)], high, LEFT_BETWEEN * between, &[high, low]);
        }
    }

    /// Points of a curve in their order.
    fn curves(&mut self, values: &Values) {
        for (_, slot) in values.slots() {
            match slot {
                Slot::Pairs(points) => {
                    for pair in points.windows(2) {
                        self.ordered(Some(pair[0].0), Some(pair[1].0));
                    }
                }
                Slot::Table(table) => self.curves(table),
                _ => {}
            }
        }
    }

    /// Shares of one thing, whose sum is bounded: the last is cut.
    fn shares(&mut self, terms: Vec<(NumberId, f64)>, most: f64) {
        let order: Vec<NumberId> = terms.iter().rev().map(|(id, _)| *id).collect();
        self.add(terms, most, &order);
    }
}

/// All rules of a case in which something is drawn.
pub fn rules(case: &Case, drawn: &dyn Fn(NumberId) -> bool) -> Vec<LinearRule> {
    let mut collector = Collector { case, drawn, rules: Vec::new() };
    for part in &case.parts {
        collector.part(&part.values);
    }
    collector.curves(&case.engine);
    if let Some(drive) = &case.drive {
        collector.ordered(drive.id(&e::LOWEST), drive.id(&e::HIGHEST));
    }
    if let Some(sweep) = &case.sweep {
        collector.ordered(sweep.id(&t::SWEEP_FROM), sweep.id(&t::SWEEP_TO));
    }
    let mut demands = Vec::new();
    for passage in &case.passages {
        for element in &passage.elements {
            collector.curves(element);
            let again = element.tables(&ram_inlet::RECIRCULATION).iter();
            let shares = again.filter_map(|table| table.id(&ram_inlet::SHARE)).map(|id| (id, 1.0));
            collector.shares(shares.collect(), MOST_RECIRCULATION);
            if passage.to == "engine" {
                let copies = case.view(&passage.values).required(&t::COUNT);
                demands.extend(element.id(&demand::SHARE).map(|id| (id, copies)));
            }
        }
    }
    collector.shares(demands, 1.0);
    collector.rules
}

/// Shares of heat and brake efficiency, which are no more than the fuel's heat together.
#[derive(Clone, Debug)]
pub struct HeatOfFuel {
    shares: Vec<NumberId>,
    /// The shares as they are with the values taken.
    taken: Vec<f64>,
    efficiency: Option<NumberId>,
    consumption: Option<NumberId>,
    of_brake_power: bool,
}

impl HeatOfFuel {
    /// Those of a case.
    pub fn of(case: &Case) -> HeatOfFuel {
        let shares = case.engine.map(&e::HEAT).iter().map(|(_, id)| *id);
        HeatOfFuel {
            taken: shares.clone().map(|id| case.numbers.value(id)).collect(),
            shares: shares.collect(),
            efficiency: case.engine.id(&e::BRAKE_EFFICIENCY),
            consumption: case.engine.id(&e::FUEL_CONSUMPTION),
            of_brake_power: case.engine.text(&e::HEAT_SHARES_OF) == Some("brake power"),
        }
    }

    /// Sets the shares to their values taken.
    pub fn take_back(&self, numbers: &mut Numbers) {
        for (id, value) in self.shares.iter().zip(&self.taken) {
            numbers.set(*id, *value);
        }
    }

    /// Lets the shares shrink in proportion where they and the brake power come to more than the fuel's heat;
    /// whether they did.
    pub fn shrink(&self, numbers: &mut Numbers) -> bool {
        let efficiency = match (self.consumption, self.efficiency) {
            (Some(id), _) => brake_efficiency_of(numbers.value(id)),
            (None, Some(id)) => numbers.value(id),
            (None, None) => return false,
        };
        let all: f64 = self.shares.iter().map(|id| numbers.value(*id)).sum();
        let most = if self.of_brake_power { 1.0 / efficiency - 1.0 } else { 1.0 - efficiency };
        let over = all > most.max(0.0);
        if over {
            let factor = most.max(0.0) / all;
            for id in &self.shares {
                numbers.set(*id, numbers.value(*id) * factor);
            }
        }
        over
    }
}
