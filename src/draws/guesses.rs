//! The guesses of a case: what is drawn, what is drawn together, and a draw of them all.

use super::joint::JointScores;
use super::rules::{HeatOfFuel, LinearRule, rules};
use crate::case::fitted::FittedRecord;
use crate::case::ties::{Ties, is_drawn};
use crate::case::{Case, tables as t};
use crate::element::fins;
use crate::keys::{Fact, Key, NumberId, Numbers, Origin, Slot, Values};
use crate::numerics::normal;
use crate::numerics::two_piece::TwoPiece;
use std::borrow::Cow;
use std::collections::HashMap;

/// One guess: a number, or several that are drawn together.
#[derive(Clone, Debug)]
pub struct Guess {
    /// Which coordinate of a point it is drawn with.
    pub dimension: usize,
    /// Its numbers, in the order of the file; whether each lies the opposite way of the first.
    pub numbers: Vec<(NumberId, bool)>,
    /// Whether the file states a band; else it is that of a default.
    pub stated: bool,
}

/// A number that a draw sets.
#[derive(Clone, Debug)]
struct Varied {
    id: NumberId,
    dimension: usize,
    turned: bool,
    band: TwoPiece,
    /// The value taken: the band's mode, but where it was fitted to readings since.
    taken: f64,
    /// The rules by which it is cut.
    rules: Vec<LinearRule>,
}

/// What the model itself is off by at a part, drawn with the guesses.
#[derive(Clone, Debug)]
struct OwnError {
    part: usize,
    /// The coordinate of what all moments share.
    dimension: usize,
    /// That of what is met anew each time, where that is drawn too.
    anew: Option<usize>,
    /// Spread of each of the two (K).
    spread: f64,
}

/// All guesses of a case.
#[derive(Clone, Debug)]
pub struct Guesses {
    /// The guesses, in the order of the file.
    pub list: Vec<Guess>,
    /// Coordinates of a point: one for each guess of this case or of another with which it is compared.
    pub dimensions: usize,
    /// Each number after those that bound it.
    varied: Vec<Varied>,
    heat: Option<HeatOfFuel>,
    /// What readings left of them together.
    joint: Option<JointScores>,
    /// The model's own errors, where they are drawn too.
    errors: Vec<OwnError>,
}

/// What a draw met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Whether the shares of heat had to shrink.
    pub shrunk: bool,
}

/// A draw in which one number leaves another next to nothing of its band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoRoom;

impl Guesses {
    /// The guesses of one case.
    pub fn of(case: &Case) -> Guesses {
        let mut all = Guesses::of_all(&[case]);
        all.swap_remove(0)
    }

    /// Those of one case that is run in time: what heat is stored in counts too.
    pub fn in_time(case: &Case) -> Guesses {
        let mut pool = Pool { in_time: true, ..Pool::default() };
        pool.gather(case);
        Guesses::drawn_with(case, &pool, &pool.room())
    }

    /// The guesses of a case and its layouts: one address is one guess in all of them.
    pub fn of_all(cases: &[&Case]) -> Vec<Guesses> {
        let mut pool = Pool::default();
        cases.iter().for_each(|case| pool.gather(case));
        let room = pool.room();
        cases.iter().map(|case| Guesses::drawn_with(case, &pool, &room)).collect()
    }

    /// The same with what the model itself is off by at each part, of it what is the same in all moments of a car (half of its
    /// variance): `kelvin`, 9 times in 10 within; what heat is stored in counts where they are run in time too.
    pub fn of_all_erring(cases: &[&Case], kelvin: f64, in_time: bool) -> Vec<Guesses> {
        let mut pool = Pool { erring: Some(kelvin), in_time, ..Pool::default() };
        cases.iter().for_each(|case| pool.gather(case));
        let room = pool.room();
        cases.iter().map(|case| Guesses::drawn_with(case, &pool, &room)).collect()
    }

    fn drawn_with(case: &Case, pool: &Pool, room: &PoolRoom) -> Guesses {
        let PoolRoom { dimension, dimensions, joint } = room;
        let mut list: Vec<Guess> = Vec::new();
        let mut varied = Vec::new();
        for (id, fact) in drawn(case, pool.in_time) {
            let Some(band) = band(fact) else { continue };
            let (first, turned) = pool.ties.find(pool.index[&fact.address]);
            let dimension = dimension[first];
            let stated = matches!(fact.origin, Origin::Written(_));
            match list.iter_mut().find(|guess| guess.dimension == dimension) {
                Some(guess) => {
                    guess.numbers.push((id, turned));
                    guess.stated |= stated;
                }
                None => list.push(Guess { dimension, numbers: vec![(id, turned)], stated }),
            }
            varied.push(Varied { id, dimension, turned, band, taken: fact.value, rules: Vec::new() });
        }
        let is_varied = |id: NumberId| varied.iter().any(|each: &Varied| each.id == id);
        let bounds = rules(case, &is_varied);
        let heat = HeatOfFuel::of(case);
        let engine = |each: &Varied| case.numbers.fact(each.id).address.starts_with("engine/");
        let heat = varied.iter().any(engine).then_some(heat);
        for rule in bounds {
            if let Some(each) = varied.iter_mut().find(|each| each.id == rule.cut) {
                each.rules.push(rule);
            }
        }
        let first = dimensions - pool.errors();
        let errors = pool.erring.map_or(Vec::new(), |kelvin| {
            let own = case.parts.iter().enumerate().filter_map(|(part, named)| {
                let place = pool.parts.iter().position(|name| *name == named.name)?;
                let anew = pool.anew.then_some(first + pool.parts.len() + place);
                Some(OwnError { part, dimension: first + place, anew, spread: shared_error(kelvin) })
            });
            own.collect()
        });
        let (dimensions, joint) = (*dimensions, joint.clone());
        Guesses { list, dimensions, varied: in_order(varied), heat, joint, errors }
    }

    /// Whether nothing is drawn.
    pub fn is_empty(&self) -> bool {
        self.varied.is_empty()
    }

    /// Numbers that a draw sets.
    pub fn numbers(&self) -> impl Iterator<Item = NumberId> {
        self.varied.iter().map(|each| each.id)
    }

    /// Where the value taken of a guess lies in its band: the share of what may be drawn that lies under it.
    pub fn taken(&self, guess: &Guess) -> f64 {
        let first = self.varied.iter().find(|each| each.id == guess.numbers[0].0);
        first.map_or(0.5, |each| {
            let share = each.band.share_below(each.taken);
            if each.turned { 1.0 - share } else { share }
        })
    }

    /// The point at which every guess has its value taken, so far off its ends that all have quantiles.
    pub fn taken_point(&self) -> Vec<f64> {
        const ROOM: f64 = 1e-9;
        let mut point = vec![0.5; self.dimensions];
        for guess in &self.list {
            point[guess.dimension] = self.taken(guess).clamp(ROOM, 1.0 - ROOM);
        }
        point
    }

    /// Whether readings have moved a guess: the value taken is then the middle of what is left of it.
    pub fn is_fitted(&self, guess: &Guess) -> bool {
        self.joint.as_ref().is_some_and(|joint| joint.dimensions.contains(&guess.dimension))
    }

    /// What readings left of the guesses together.
    pub fn joint(&self) -> Option<&JointScores> {
        self.joint.as_ref()
    }

    /// Where a share of a guess's band lies, of its first number, the rules aside.
    pub fn at(&self, guess: &Guess, share: f64) -> f64 {
        let first = self.varied.iter().find(|each| each.id == guess.numbers[0].0);
        first.map_or(f64::NAN, |each| each.band.quantile(if each.turned { 1.0 - share } else { share }))
    }

    /// Each part of which the model's own error is drawn, with the coordinate of what all moments share.
    pub fn errors(&self) -> impl Iterator<Item = (usize, usize)> {
        self.errors.iter().map(|error| (error.part, error.dimension))
    }

    /// Coordinates of what the model is off by anew each time, where that is drawn too.
    pub fn errors_anew(&self) -> impl Iterator<Item = usize> {
        self.errors.iter().filter_map(|error| error.anew)
    }

    /// What the model is off by at each part in a draw (K), added to what it reckons.
    pub fn own_errors(&self, point: &[f64], errors: &mut [f64]) {
        errors.fill(0.0);
        let turned = self.turned(point);
        for error in &self.errors {
            let deviate = |dimension: usize| normal::quantile(turned[dimension].clamp(1e-15, 1.0 - 1e-15));
            errors[error.part] = error.spread * (deviate(error.dimension) + error.anew.map_or(0.0, deviate));
        }
    }

    /// A point as the guesses hang together.
    pub fn turned<'p>(&self, point: &'p [f64]) -> Cow<'p, [f64]> {
        match &self.joint {
            None => Cow::Borrowed(point),
            Some(joint) => {
                let mut own = point.to_vec();
                joint.turn(&mut own);
                Cow::Owned(own)
            }
        }
    }

    /// Leaves numbers out: they are decided, not guessed. The other guesses keep their coordinates.
    pub fn leave(&mut self, decided: &[NumberId]) {
        self.varied.retain(|each| !decided.contains(&each.id));
        for guess in &mut self.list {
            guess.numbers.retain(|(id, _)| !decided.contains(id));
        }
        self.list.retain(|guess| !guess.numbers.is_empty());
    }

    /// Sets every guess to its value taken.
    pub fn take_back(&self, numbers: &mut Numbers) {
        for each in &self.varied {
            numbers.set(each.id, each.taken);
        }
        if let Some(heat) = &self.heat {
            heat.take_back(numbers);
        }
    }

    /// Sets every guess to where a point has it; each coordinate lies above 0 and below 1.
    ///
    /// # Errors
    /// Where the rules leave a number less than a thousandth of its band.
    pub fn set(&self, point: &[f64], numbers: &mut Numbers) -> Result<Drawn, NoRoom> {
        self.set_apart(&self.turned(point), numbers)
    }

    /// The same, each guess in the band in which it was before anything was read, whatever the others are.
    ///
    /// # Errors
    /// As [`Guesses::set`].
    pub fn set_apart(&self, point: &[f64], numbers: &mut Numbers) -> Result<Drawn, NoRoom> {
        if let Some(heat) = &self.heat {
            // shares that are no guess, and shrank in the draw before
            heat.take_back(numbers);
        }
        for each in &self.varied {
            let u = point[each.dimension];
            let u = if each.turned { 1.0 - u } else { u };
            let mut band = each.band;
            for rule in &each.rules {
                let (low, high) = rule.range(numbers);
                band = band.within(low, high).ok_or(NoRoom)?;
            }
            numbers.set(each.id, band.quantile(u));
        }
        Ok(Drawn { shrunk: self.heat.as_ref().is_some_and(|heat| heat.shrink(numbers)) })
    }
}

/// What may be drawn in a case. A default that says nothing of a part is not, nor what no temperature hangs on.
fn drawn(case: &Case, in_time: bool) -> impl Iterator<Item = (NumberId, &Fact)> {
    let facts = case.numbers.facts().iter().enumerate();
    facts
        .filter(move |(_, fact)| is_drawn(fact) && applies(case, fact) && warms(case, fact, in_time))
        .map(|(index, fact)| (NumberId(index), fact))
}

/// Whether the temperatures of a steady state hang on a number: not on an exit's angle, which turns its thrust,
/// nor on what moves the car, nor on what stores heat; in time on all but the first.
fn warms(case: &Case, fact: &Fact, in_time: bool) -> bool {
    let segments: Vec<&str> = fact.address.split('/').collect();
    match segments[..] {
        ["passage", name, element, "angle"] => {
            let passage = case.passage(name).map(|index| &case.passages[index]);
            let kind = passage.and_then(|passage| passage.kind(passage.element(element)?));
            kind.is_none_or(|kind| kind.role != crate::element::Role::Exit)
        }
        ["drive", "car", _] | ["part", _, "heat_capacity" | "mass"] => in_time,
        ["chamber", _, "limit"] => false,
        _ => true,
    }
}

/// The band of a number, cut at its accepted range.
fn band(fact: &Fact) -> Option<TwoPiece> {
    let (value, (low, high)) = match fact.before {
        Some([was, low, high]) => (was, (low, high)),
        None => (fact.value, fact.band()?),
    };
    let band = TwoPiece::of_band(value, low, high);
    // a value taken that no band reaches would have been refused
    band.within(fact.range.low, fact.range.high)
}

/// Numbers one after another, each after all that its rules look at.
fn in_order(varied: Vec<Varied>) -> Vec<Varied> {
    let (mut placed, mut left): (Vec<Varied>, Vec<Varied>) =
        varied.into_iter().partition(|each| each.rules.is_empty());
    while !left.is_empty() {
        let waiting: Vec<NumberId> = left.iter().map(|each| each.id).collect();
        let waits = |each: &Varied| {
            let looked_at = each.rules.iter().flat_map(|rule| &rule.terms);
            looked_at.into_iter().any(|(id, _)| *id != each.id && waiting.contains(id))
        };
        let (later, ready): (Vec<Varied>, Vec<Varied>) = left.into_iter().partition(waits);
        if ready.is_empty() {
            // rules that look at one another in a ring: in the order of the file
            placed.extend(later);
            break;
        }
        placed.extend(ready);
        left = later;
    }
    placed
}

/// The addresses that are drawn in any of several cases, and how they hang together.
#[derive(Default)]
struct Pool {
    index: HashMap<String, usize>,
    ties: Ties,
    shared: HashMap<Shared, usize>,
    /// Whether the cases are run in time.
    in_time: bool,
    /// What the model itself is off by at a part (K), where that is drawn too.
    erring: Option<f64>,
    /// Whether what it is off by anew each time is drawn as well.
    anew: bool,
    /// The parts of which it is.
    parts: Vec<String>,
    /// What readings left of the guesses.
    fitted: Option<FittedRecord>,
}

/// The coordinates of a pool.
struct PoolRoom {
    /// Of each group, by its first address.
    dimension: Vec<usize>,
    /// How many there are, those of the model's own errors last.
    dimensions: usize,
    joint: Option<JointScores>,
}

/// What defaults have in common that share a draw: the kind of table, the key within it, and the default.
#[derive(PartialEq, Eq, Hash)]
struct Shared {
    table: &'static str,
    key: String,
    source: &'static str,
    band: [u64; 3],
}

impl Pool {
    fn gather(&mut self, case: &Case) {
        for (_, fact) in drawn(case, self.in_time) {
            let known = self.index.len();
            let index = *self.index.entry(fact.address.clone()).or_insert(known);
            if index == known {
                self.ties.add();
            }
            if let Some(shared) = shared(case, fact) {
                let first = *self.shared.entry(shared).or_insert(index);
                self.ties.tie(first, index, false);
            }
        }
        for table in &case.tied {
            let of = |key: &Key, opposite: bool| -> Vec<(usize, bool)> {
                let known = names(table, key).iter().filter_map(|address| self.index.get(address));
                known.map(|index| (*index, opposite)).collect()
            };
            let tied = [of(&t::TIED_VALUES, false), of(&t::TIED_OPPOSITE, true)].concat();
            for pair in tied.windows(2) {
                // what cannot be, the file has been refused for
                self.ties.tie(pair[0].0, pair[1].0, pair[0].1 != pair[1].1);
            }
        }
        if let Some((_, fitted)) = &case.fitted {
            // what was asked for with the errors of moments apart stays so
            self.anew |= self.erring.is_none();
            self.erring = self.erring.or(Some(fitted.model_error));
            for guess in &fitted.guesses {
                let known = guess
                    .addresses
                    .iter()
                    .filter_map(|(name, turned)| Some((*self.index.get(name)?, *turned)));
                let known: Vec<(usize, bool)> = known.collect();
                for pair in known.windows(2) {
                    self.ties.tie(pair[0].0, pair[1].0, pair[0].1 != pair[1].1);
                }
            }
            self.fitted.get_or_insert_with(|| fitted.clone());
        }
        if self.erring.is_some() {
            for part in &case.parts {
                if !self.parts.contains(&part.name) {
                    self.parts.push(part.name.clone());
                }
            }
        }
    }

    /// Coordinates of the model's own errors.
    fn errors(&self) -> usize {
        self.parts.len() * if self.anew { 2 } else { 1 }
    }

    /// Coordinates for all of them.
    fn room(&self) -> PoolRoom {
        let (dimension, count) = self.dimensions();
        let joint = self.fitted.as_ref().and_then(|fitted| {
            JointScores::of(fitted, |guess| {
                let guess = &fitted.guesses[guess];
                if let Some(name) = &guess.error_of {
                    return self
                        .parts
                        .iter()
                        .position(|part| part == name)
                        .map(|place| (count + place, false));
                }
                let known =
                    guess.addresses.iter().find_map(|(name, turned)| Some((self.index.get(name)?, turned)));
                let (index, turned) = known?;
                let (first, opposite) = self.ties.find(*index);
                Some((dimension[first], *turned != opposite))
            })
        });
        PoolRoom { dimension, dimensions: count + self.errors(), joint }
    }

    /// The coordinate of each group, by its first address, and how many there are.
    fn dimensions(&self) -> (Vec<usize>, usize) {
        let mut dimension = vec![usize::MAX; self.index.len()];
        let mut count = 0;
        for (index, place) in dimension.iter_mut().enumerate() {
            if self.ties.find(index).0 == index {
                *place = count;
                count += 1;
            }
        }
        (dimension, count)
    }
}

fn names<'v>(table: &'v Values, key: &Key) -> &'v [String] {
    match table.slot(key) {
        Slot::Names(names) => names,
        _ => &[],
    }
}

/// The part of the model's own error that is the same in all moments of a car, as a spread (K): half of its variance. What is
/// left is met anew each time: of each reading by itself, and of each margin that is asked about, be it in a condition that
/// was read. A model leaves out more than speed, load and day, and that is not the same twice.
pub fn shared_error(kelvin: f64) -> f64 {
    kelvin / normal::NINE_IN_TEN * 0.5_f64.sqrt()
}

/// What a default shares its draw by; none of what the file states.
fn shared(case: &Case, fact: &Fact) -> Option<Shared> {
    let Origin::Assumed(source) = fact.origin else { return None };
    let (low, high) = fact.band()?;
    let segments: Vec<&str> = fact.address.split('/').collect();
    let (table, key) = match &segments[..] {
        ["passage", name, element, key @ ..] if !key.is_empty() => {
            let passage = &case.passages[case.passage(name)?];
            (passage.kind(passage.element(element)?)?.name, key.join("/"))
        }
        ["part", _, key @ ..] => ("part", key.join("/")),
        ["chamber", _, key @ ..] => ("chamber", key.join("/")),
        ["place", _, key @ ..] => ("place", key.join("/")),
        // a word for a part's share: only with the same word
        ["engine", "heat", _] => ("engine", "heat".to_string()),
        _ => return None,
    };
    Some(Shared { table, key, source, band: [fact.value, low, high].map(f64::to_bits) })
}

/// Whether a number can be off at all: a default spread between cylinders says nothing of a part without fins, such as oil, which
/// has no cylinders.
pub(crate) fn applies(case: &Case, fact: &Fact) -> bool {
    let Some(part) =
        fact.address.strip_prefix("part/").and_then(|rest| rest.strip_suffix("/hottest_above_mean"))
    else {
        return true;
    };
    let has_fins = case.passages.iter().any(|passage| {
        let elements = passage.elements.iter().enumerate();
        let fins = elements.filter(|(index, _)| passage.kind(*index).is_some_and(|kind| kind.is_fins()));
        fins.into_iter().any(|(_, values)| values.text(&fins::PART) == Some(part))
    });
    has_fins || !matches!(fact.origin, Origin::Assumed(_))
}
