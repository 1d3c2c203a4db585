//! Openings whose size may change: where their numbers stand, and how they are set.

use crate::case::{Case, PassageTable, tables as t};
use crate::element::{PieceSize, Role, size};
use crate::keys::{Kind, NumberId, Slot};

/// Width over height of an opening of which an area alone is given.
pub const ASPECT: f64 = 1.5;

/// How wide and high an opening is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clear {
    /// Whether it is round: both are then its diameter.
    pub round: bool,
    /// Width of one (m).
    pub width: f64,
    /// Height of one (m).
    pub height: f64,
}

/// An opening of the case.
#[derive(Clone, Debug)]
pub struct Opening {
    pub passage: usize,
    /// The element of the passage.
    pub element: usize,
    /// How many pieces there are in the whole car.
    pub pieces: f64,
    /// Open share of its louvres.
    pub louvres: Option<f64>,
    /// PASSAGE, or PASSAGE/ELEMENT where the case names the element.
    pub name: String,
    /// Whether the case names the element.
    pub named_element: bool,
    lengths: Vec<(NumberId, f64)>,
    area: Option<NumberId>,
    now: f64,
    followers: Vec<Follower>,
}

/// A number of an element that grows and shrinks with an opening.
#[derive(Clone, Debug)]
struct Follower {
    element: usize,
    number: NumberId,
    now: f64,
    is_area: bool,
}

impl Opening {
    /// The opening that a free entry names: the element, else the passage's first inlet or exit.
    pub fn find(case: &Case, passage: &str, element: Option<&str>) -> Option<Opening> {
        let index = case.passage(passage)?;
        let table = &case.passages[index];
        let position = match element {
            Some(name) => element_named(table, name)?,
            None => table.opening()?,
        };
        let mut opening = Opening::at(case, index, position)?;
        opening.name = element.map_or(passage.to_string(), |element| format!("{passage}/{element}"));
        opening.named_element = element.is_some();
        Some(opening)
    }

    /// The opening that an element of a passage is; none where the element has no size. It goes by
    /// PASSAGE where that means this element, else by PASSAGE/ELEMENT.
    pub fn at(case: &Case, passage: usize, element: usize) -> Option<Opening> {
        let table = &case.passages[passage];
        let values = table.elements.get(element)?;
        let view = case.view(values);
        let count = view.number(&size::COUNT).unwrap_or(1.0);
        let copies = case.view(&table.values).number(&t::COUNT).unwrap_or(1.0);
        let lengths: Vec<(NumberId, f64)> = [&size::WIDTH, &size::HEIGHT, &size::DIAMETER]
            .into_iter()
            .filter_map(|key| values.id(key).map(|id| (id, case.numbers.value(id))))
            .collect();
        let named_element = table.opening() != Some(element);
        let name = if named_element {
            format!("{}/{}", table.name, table.segment(element))
        } else {
            table.name.clone()
        };
        Some(Opening {
            passage,
            element,
            pieces: count * copies,
            louvres: view.number(&crate::element::exit::LOUVRES),
            name,
            named_element,
            lengths,
            area: values.id(&size::AREA),
            now: PieceSize::read(&view)?.area,
            followers: followers(case, passage, element),
        })
    }

    /// Area of one, as the case was read (m²).
    pub fn area(&self) -> f64 {
        self.now
    }

    /// How wide and high one is as the case says; where it gives an area alone, a rectangle of the usual proportion.
    pub fn clear(&self, case: &Case) -> Clear {
        let view = case.view(&case.passages[self.passage].elements[self.element]);
        let sides = (view.number(&size::DIAMETER), view.number(&size::WIDTH), view.number(&size::HEIGHT));
        match sides {
            (Some(diameter), _, _) => Clear { round: true, width: diameter, height: diameter },
            (_, Some(width), Some(height)) => Clear { round: false, width, height },
            _ => {
                let height = (self.area() / ASPECT).sqrt();
                Clear { round: false, width: ASPECT * height, height }
            }
        }
    }

    /// Open pieces: what an area of one counts for in a total of open areas.
    pub fn open_pieces(&self) -> f64 {
        self.pieces * self.louvres.unwrap_or(1.0)
    }

    /// Sets the area of one; width and height keep their proportion.
    pub fn set(&self, case: &mut Case, area: f64) {
        if let Some(id) = self.area {
            case.numbers.set(id, area);
        }
        let scale = (area / self.now).sqrt();
        for (id, length) in &self.lengths {
            case.numbers.set(*id, length * scale);
        }
        for follower in &self.followers {
            case.numbers.set(follower.number, follower.at(area / self.now));
        }
    }

    /// The numbers that its size decides.
    pub fn decided(&self) -> impl Iterator<Item = NumberId> {
        let own = self.lengths.iter().map(|(id, _)| *id).chain(self.area);
        own.chain(self.followers.iter().map(|follower| follower.number))
    }

    /// The elements that grow and shrink with it.
    pub fn followed_by(&self) -> Vec<usize> {
        let mut elements: Vec<usize> = self.followers.iter().map(|follower| follower.element).collect();
        elements.dedup();
        elements
    }

    /// The numbers of those elements at an area of one: address, value and kind.
    pub fn followers_at(&self, case: &Case, area: f64) -> Vec<(String, f64, Kind)> {
        let number = |follower: &Follower| {
            let fact = case.numbers.fact(follower.number);
            (fact.address.clone(), follower.at(area / self.now), fact.kind)
        };
        self.followers.iter().map(number).collect()
    }

    /// Whether it takes air in or lets it out.
    pub fn role(&self, case: &Case) -> Option<Role> {
        case.passages[self.passage].kind(self.element).map(|kind| kind.role)
    }

    /// The numbers that say how large it is: key and value at an area of one.
    pub fn numbers(&self, case: &Case, area: f64) -> Vec<(String, f64, Kind)> {
        let scale = (area / self.now).sqrt();
        let mut list: Vec<(NumberId, f64)> =
            self.lengths.iter().map(|(id, length)| (*id, length * scale)).collect();
        list.extend(self.area.map(|id| (id, area)));
        list.into_iter()
            .map(|(id, value)| {
                let fact = case.numbers.fact(id);
                let key = fact.address.rsplit('/').next().unwrap_or_default().to_string();
                (key, value, fact.kind)
            })
            .collect()
    }
}

impl Follower {
    /// Its value where the opening is so many times as large.
    fn at(&self, times: f64) -> f64 {
        self.now * if self.is_area { times } else { times.sqrt() }
    }
}

/// What `[size]` lets go with an opening: with the one that a passage is known by where that is free, else
/// with the first of its free ones.
fn followers(case: &Case, passage: usize, element: usize) -> Vec<Follower> {
    let Some(size) = &case.size else { return Vec::new() };
    let Slot::Lists(lists) = size.slot(&t::SCALE) else { return Vec::new() };
    let table = &case.passages[passage];
    let named: Vec<usize> = lists
        .iter()
        .filter(|(name, _)| *name == table.name)
        .flat_map(|(_, words)| words.iter().filter_map(|(word, _)| table.element(word)))
        .collect();
    if named.is_empty() || leading(case, table) != Some(element) {
        return Vec::new();
    }
    let mut followers = Vec::new();
    for element in named {
        for (key, is_area) in size::SCALED {
            if let Some(number) = table.elements[element].id(key) {
                let now = case.numbers.value(number);
                followers.push(Follower { element, number, now, is_area: *is_area });
            }
        }
    }
    followers
}

/// The free opening of a passage that others go with.
fn leading(case: &Case, table: &PassageTable) -> Option<usize> {
    let Slot::Groups(groups) = case.size.as_ref()?.slot(&t::FREE) else { return None };
    let free: Vec<usize> = groups
        .iter()
        .flatten()
        .filter(|(name, _)| *name == table.name)
        .filter_map(|(_, element)| match element {
            Some(segment) => table.element(segment),
            None => table.opening(),
        })
        .collect();
    free.iter().find(|free| table.opening() == Some(**free)).or(free.first()).copied()
}

/// The element of a passage that an address segment names.
pub fn element_named(table: &PassageTable, name: &str) -> Option<usize> {
    table.elements.iter().position(|values| {
        let segment = values.address.rsplit('/').next().unwrap_or_default();
        segment == name || format!("{segment} 1") == *name
    })
}
