//! The sizes from line to line.

use super::super::size::{Sized, least_at};
use super::super::templates::result::{LineName, Templates};
use super::result::{MarginTrough, NextCut};
use crate::case::Case;
use crate::element::Role;
use crate::element::leak::SHARE_OF_INLETS;
use crate::keys::Kind;
use crate::point::counted::Counted;
use crate::point::describe::cooling_drag;
use crate::point::opening::Opening;
use crate::point::result::Setting;
use crate::point::{Model, Operation, PointSolver};

/// Looks between two lines.
const LOOKS: usize = 16;
/// Exits are looked at from so much of the first line on, or from what is drawn where that is less.
const BEGIN: f64 = 0.5;
/// A fall of less (K) is none.
const FALL: f64 = 5.0;

/// All openings at one line.
pub(super) struct Station {
    pub line: LineName,
    pub case: Case,
    pub cuts: Vec<NextCut>,
    /// Open area of them all (m²).
    pub area: f64,
    areas: Vec<f64>,
    /// The least margin with the values taken, with its part and where it is.
    pub least: Option<(f64, String, String)>,
    pub drag: Option<f64>,
    pub settings: Vec<Setting>,
}

pub(super) struct StepWay<'c> {
    base: &'c Case,
    openings: Vec<Opening>,
    drawn: Vec<f64>,
    conditions: Vec<usize>,
    drag_at: Option<usize>,
    pub stations: Vec<Station>,
}

/// Margins (K) by condition and part at one look.
struct StepMargins {
    exits: f64,
    margins: Vec<Option<f64>>,
}

impl<'c> StepWay<'c> {
    pub fn new(drawn: &Case, sized: &'c Sized, cut: &Templates) -> StepWay<'c> {
        let base = &sized.case;
        let free: Vec<_> = cut.openings.iter().filter(|opening| opening.lines.len() > 1).collect();
        let find = |name: &str| {
            sized.openings.iter().find(|(opening, _)| opening.name == name).map(|(o, _)| o.clone())
        };
        let openings: Vec<Opening> = free.iter().filter_map(|template| find(&template.opening)).collect();
        let before = openings.iter().map(|opening| {
            Opening::at(drawn, opening.passage, opening.element).map_or(opening.area(), |drawn| drawn.area())
        });
        let counted = sized.counting().iter().filter_map(Counted::condition);
        let mut way = StepWay {
            base,
            drawn: before.collect(),
            openings,
            conditions: counted.collect(),
            drag_at: sized.sizes.columns.iter().find_map(|column| base.condition(column.drag_at.as_deref()?)),
            stations: Vec::new(),
        };
        for meaning in &cut.lines {
            let lines: Vec<_> = free
                .iter()
                .filter_map(|template| {
                    Some((*template, template.lines.iter().find(|line| line.line == meaning.line)?))
                })
                .collect();
            if lines.len() < way.openings.len() {
                continue;
            }
            let cuts = lines.iter().map(|(template, line)| NextCut {
                opening: template.opening.clone(),
                role: template.role,
                pieces: template.pieces,
                area_m2: line.area_m2,
                louvres: template.louvres,
                hole_width_m: line.hole_width_m,
                hole_height_m: line.hole_height_m,
            });
            let cuts: Vec<NextCut> = cuts.collect();
            let areas: Vec<f64> = cuts.iter().map(|cut| cut.area_m2).collect();
            // a line that lies on the one before is no step
            if way.stations.last().is_some_and(|last: &Station| last.areas == areas) {
                continue;
            }
            let station = way.station(meaning.line, cuts, areas, sized);
            way.stations.push(station);
        }
        way
    }

    fn with(&self, areas: &[f64]) -> Case {
        let mut case = self.base.clone();
        self.openings.iter().zip(areas).for_each(|(opening, area)| opening.set(&mut case, *area));
        case
    }

    fn station(&self, line: LineName, cuts: Vec<NextCut>, areas: Vec<f64>, sized: &Sized) -> Station {
        let case = self.with(&areas);
        let model = Model::new(&case).ok();
        let drag = model.as_ref().and_then(|model| {
            let condition = &case.conditions[self.drag_at?];
            let mut solver = PointSolver::new(model);
            solver.prepare(model, &Operation::of_condition(&case, model, &condition.values));
            solver.forget();
            solver.solve().ok()?;
            Some(cooling_drag(&solver))
        });
        Station {
            line,
            least: model.as_ref().and_then(|model| least_at(&case, model, sized.counting())),
            drag,
            area: self.openings.iter().zip(&areas).map(|(opening, area)| opening.open_pieces() * area).sum(),
            settings: self.settings(&case, &areas),
            case,
            cuts,
            areas,
        }
    }

    /// The sizes as what-ifs, to more digits than are cut.
    fn settings(&self, case: &Case, areas: &[f64]) -> Vec<Setting> {
        let mut list = Vec::new();
        for (opening, area) in self.openings.iter().zip(areas) {
            let element = &case.passages[opening.passage].elements[opening.element].address;
            let own = opening
                .numbers(self.base, *area)
                .into_iter()
                .map(|(key, value, kind)| (format!("{element}/{key}"), value, kind));
            for (address, value, kind) in own.chain(opening.followers_at(self.base, *area)) {
                let value = match kind {
                    Kind::Area => format!("{:.6} cm2", 1e4 * value),
                    _ => format!("{:.6} mm", 1e3 * value),
                };
                list.push(Setting { address, value });
            }
        }
        list.extend(self.seams(areas));
        list
    }

    /// Seams that are a share of the inlets keep the area that they were sized with: of other inlets it is another share.
    fn seams(&self, areas: &[f64]) -> Vec<Setting> {
        let case = self.base;
        let drawn: f64 = case.passages.iter().map(|passage| passage.inlets_as_drawn).sum();
        let inlets = self.openings.iter().zip(areas).filter(|(opening, _)| !self.is_exit(opening));
        let grown: f64 = inlets.map(|(opening, area)| opening.pieces * (area - opening.area())).sum();
        let elements = case.passages.iter().flat_map(|passage| &passage.elements);
        let shares = elements.filter_map(|values| {
            let share = case.view(values).number(&SHARE_OF_INLETS).filter(|_| grown != 0.0)?;
            let value = format!("{:.7} %", 100.0 * share * drawn / (drawn + grown));
            Some(Setting { address: values.address_of(&SHARE_OF_INLETS), value })
        });
        shares.collect()
    }

    pub fn drag_at(&self) -> Option<String> {
        self.drag_at.map(|index| self.base.conditions[index].name.clone())
    }

    /// Whether the least margin is less at a line than at the one before, by more than cutting can tell.
    pub fn worse_than_before(&self, index: usize) -> bool {
        let least = |index: usize| self.stations.get(index)?.least.as_ref().map(|least| least.0);
        match (index.checked_sub(1).and_then(least), least(index)) {
            (Some(before), Some(here)) => here < before - FALL,
            _ => false,
        }
    }

    /// Open area of all exits at a line (m²).
    fn exits(&self, station: &Station) -> f64 {
        let exits = self.openings.iter().zip(&station.areas).filter(|(opening, _)| self.is_exit(opening));
        exits.map(|(opening, area)| opening.open_pieces() * area).sum()
    }

    /// Whether a line lies where a margin has fallen and is not back yet.
    pub fn lies_within(&self, station: &Station, trap: &MarginTrough) -> bool {
        let exits = self.exits(station);
        exits > trap.from_exits_m2 * (1.0 + 1e-9) && exits < trap.to_exits_m2 * (1.0 - 1e-9)
    }

    fn is_exit(&self, opening: &Opening) -> bool {
        opening.role(self.base) == Some(Role::Exit)
    }

    fn look(&self, areas: &[f64]) -> StepMargins {
        let case = self.with(areas);
        let exits = self.openings.iter().zip(areas).filter(|(opening, _)| self.is_exit(opening));
        let exits = exits.map(|(opening, area)| opening.open_pieces() * area).sum();
        let parts = case.parts.len();
        let none = || vec![None; self.conditions.len() * parts];
        let Ok(model) = Model::new(&case) else { return StepMargins { exits, margins: none() } };
        let mut solver = PointSolver::new(&model);
        let mut margins = Vec::new();
        for index in &self.conditions {
            solver.prepare(&model, &Operation::of_condition(&case, &model, &case.conditions[*index].values));
            solver.forget();
            let solved = solver.solve_hotter().is_ok();
            for (part, law) in solver.network.parts.iter().enumerate() {
                let margin = law.limit - solver.state.part_temperature(part);
                margins.push((solved && law.has_limit()).then_some(margin));
            }
        }
        StepMargins { exits, margins }
    }

    /// Where margins fall before they rise, exits first from less than the first line to it, then from line to line.
    pub fn traps(&self) -> Vec<MarginTrough> {
        let Some(first) = self.stations.first() else { return Vec::new() };
        let begin: Vec<f64> = self
            .openings
            .iter()
            .zip(first.areas.iter().zip(&self.drawn))
            .map(
                |(opening, (first, drawn))| {
                    if self.is_exit(opening) { drawn.min(BEGIN * first) } else { *first }
                },
            )
            .collect();
        let mut looks: Vec<(StepMargins, LineName)> = Vec::new();
        let mut from = &begin;
        for station in &self.stations {
            for step in 0..LOOKS {
                let share = step as f64 / LOOKS as f64;
                let areas: Vec<f64> =
                    from.iter().zip(&station.areas).map(|(a, b)| a * (b / a).powf(share)).collect();
                looks.push((self.look(&areas), station.line));
            }
            from = &station.areas;
        }
        if let Some(last) = self.stations.last() {
            looks.push((self.look(&last.areas), last.line));
        }
        let parts = self.base.parts.len();
        let places = 0..self.conditions.len() * parts;
        let mut traps: Vec<MarginTrough> =
            places.filter_map(|place| self.trap(&looks, place, parts)).collect();
        traps.sort_by(|a, b| (a.worst_K - a.from_K).total_cmp(&(b.worst_K - b.from_K)));
        traps
    }

    /// The deepest fall of one margin below nothing.
    fn trap(&self, looks: &[(StepMargins, LineName)], place: usize, parts: usize) -> Option<MarginTrough> {
        let along: Vec<(f64, f64, LineName)> =
            looks.iter().filter_map(|(look, line)| Some((look.exits, look.margins[place]?, *line))).collect();
        let mut best: Option<(usize, usize, f64)> = None;
        let mut highest = 0;
        for (index, (_, margin, _)) in along.iter().enumerate() {
            if *margin >= along[highest].1 {
                highest = index;
            }
            let fall = along[highest].1 - margin;
            if fall > FALL && *margin < 0.0 && best.is_none_or(|(_, _, most)| fall > most) {
                best = Some((highest, index, fall));
            }
        }
        let (from, worst, _) = best?;
        let back = along[worst..].iter().find(|(_, margin, _)| *margin >= along[from].1)?;
        let line = self.stations.iter().find(|station| self.exits(station) >= back.0 * (1.0 - 1e-9))?;
        Some(MarginTrough {
            part: self.base.parts[place % parts].name.clone(),
            condition: self.base.conditions[self.conditions[place / parts]].name.clone(),
            from_exits_m2: along[from].0,
            worst_exits_m2: along[worst].0,
            to_exits_m2: back.0,
            from_K: along[from].1,
            worst_K: along[worst].1,
            line: line.line,
        })
    }
}
