//! What is told of the sizes found.

use super::evaluator::{Goal, SizingEvaluator};
use super::search::SearchResult;
use super::{MET, NotSized, Sized, Sizing, remarks, result};
use crate::element::PieceSize;
use crate::keys::Kind;
use crate::point::budget::Budget;
use crate::point::opening::Opening;
use crate::point::result as r;
use crate::study::size::result::{MadeSmallest, ScaledUnit, SizeBound};
use crate::warnings;

impl Sizing<'_> {
    /// The result of a search.
    pub(super) fn report(&self, found: SearchResult, budget: Budget) -> Result<Sized, NotSized> {
        let best = &found.best;
        // one look at the sizes found is had in any case
        let mut evaluator =
            SizingEvaluator::new(self, Budget::of(u64::MAX), true).ok_or(NotSized::Unsolved)?;
        let value = evaluator.evaluate(&best.point, Goal::Own).ok_or(NotSized::Unsolved)?;
        let feasible = value.violation() <= MET;
        let (limited_by, held_by) = if feasible {
            let held = self.held(best, budget);
            (held.margins, held.by)
        } else {
            (self.in_the_way_at(&mut evaluator, &value), None)
        };
        let case = self.at_point(&best.point);
        let openings: Vec<(Opening, f64)> = self.each(&best.point).collect();
        let mut remarks = remarks::remarks(self, &best.point, feasible, &limited_by);
        remarks.extend(self.walls_met(&best.point));
        if !feasible {
            remarks.push(format!(
                "{} starts, from small to large inlets and exits, all end short of a margin; these are the least sizes that come within 1 K, or 1 % of the heat, of the best that can be had",
                found.starts
            ));
        }
        if found.spent {
            remarks.push(
                "the case is so large that the search was stopped before its end: a smaller set may do; name fewer openings behind free, or fewer conditions behind at".to_string(),
            );
        }
        let as_good = found.as_good.iter().map(|set| result::AsGood {
            areas_m2: self.areas(&set.point),
            objective: self.objective(set.value.objective, &set.point),
        });
        let mut at = Vec::new();
        for counted in &self.at {
            let name = counted.name(self.case).to_string();
            if !at.contains(&name) {
                at.push(name);
            }
        }
        let sizes = result::Sizes {
            openings: openings.iter().map(|(opening, area)| self.described(opening, *area)).collect(),
            scaled: self.scaled(&openings),
            areas_m2: self.areas(&best.point),
            objective: self.objective(value.objective, &best.point),
            smallest: if self.drag_at.is_some() { MadeSmallest::Drag } else { MadeSmallest::Area },
            least_margin: evaluator.least_margin(),
            feasible,
            layouts: self.others.iter().map(|(name, _)| name.to_string()).collect(),
            at,
            limited_by,
            held_by,
            at_bound: r::ByName(self.at_bound(&best.point)),
            as_good: as_good.collect(),
            starts: found.starts,
            new_warnings: warnings::at_sizes(&case, self.case),
            remarks,
            hand_cut: self.hand_cut(&best.point),
            columns: Vec::new(),
            holds: None,
        };
        Ok(Sized { case, sizes, openings, counting: self.at.clone() })
    }

    /// The objective in its own unit: the drag (N), or the area of the free openings (m²).
    fn objective(&self, value: f64, point: &[f64]) -> f64 {
        match self.drag_at {
            Some(_) => value * self.drag_unit,
            None => self.total_area(point),
        }
    }

    /// Every opening with its area of one at a point.
    fn each(&self, point: &[f64]) -> impl Iterator<Item = (Opening, f64)> {
        let pairs: Vec<(Opening, f64)> = self
            .variables
            .iter()
            .zip(point)
            .flat_map(|(variable, x)| variable.members.iter().map(|member| (member.clone(), x.exp())))
            .collect();
        pairs.into_iter()
    }

    /// Areas of one at a point: of the openings, and of the elements that go with them.
    pub(super) fn areas(&self, point: &[f64]) -> r::ByName<f64> {
        let case = self.at_point(point);
        let mut areas = Vec::new();
        for (opening, area) in self.each(point) {
            let passage = &case.passages[opening.passage];
            areas.push((opening.name.clone(), area));
            areas.extend(opening.followed_by().into_iter().filter_map(|element| {
                let size = PieceSize::read(&case.view(&passage.elements[element]))?;
                Some((format!("{}/{}", passage.name, passage.segment(element)), size.area))
            }));
        }
        r::ByName(areas)
    }

    fn at_bound(&self, point: &[f64]) -> Vec<(String, SizeBound)> {
        let mut list = Vec::new();
        for (variable, x) in self.variables.iter().zip(point) {
            let area = x.exp();
            let bound = if area <= variable.lower * (1.0 + 1e-6) {
                variable.lower_is
            } else if area >= variable.upper * (1.0 - 1e-6) {
                SizeBound::Most
            } else {
                continue;
            };
            list.extend(variable.members.iter().map(|member| (member.name.clone(), bound)));
        }
        list
    }

    /// Openings that end where the case would be refused.
    fn walls_met(&self, point: &[f64]) -> Vec<String> {
        let pairs = self.variables.iter().zip(point);
        let met = pairs.filter(|(variable, x)| x.exp() >= variable.upper * (1.0 - 1e-6));
        met.filter_map(|(variable, x)| {
            let names: Vec<&str> = variable.members.iter().map(|member| member.name.as_str()).collect();
            Some(format!(
                "{} ends at {:.0} cm², since anything larger is refused: {}",
                names.join(" and "),
                1e4 * x.exp(),
                variable.wall.as_ref()?
            ))
        })
        .collect()
    }

    fn described(&self, opening: &Opening, area: f64) -> result::SizedOpening {
        let lengths = opening.numbers(self.case, area).into_iter();
        let lengths = lengths.filter(|(_, _, kind)| *kind == Kind::Length).map(|(key, v, _)| (key, v));
        result::SizedOpening {
            name: opening.name.clone(),
            role: opening.role(self.case).and_then(r::OpeningRole::of).unwrap_or(r::OpeningRole::Inlet),
            pieces: opening.pieces.round() as usize,
            before_m2: opening.area(),
            after_m2: area,
            louvres: opening.louvres.filter(|open| *open < 1.0),
            lengths_m: r::ByName(lengths.collect()),
        }
    }

    fn scaled(&self, openings: &[(Opening, f64)]) -> Vec<result::ScaledNumber> {
        let mut list = Vec::new();
        for (opening, area) in openings {
            let before = opening.followers_at(self.case, opening.area());
            let after = opening.followers_at(self.case, *area);
            list.extend(before.into_iter().zip(after).map(|((address, before, kind), (_, after, _))| {
                result::ScaledNumber {
                    address,
                    with: opening.name.clone(),
                    unit: if kind == Kind::Area { ScaledUnit::SquareMetres } else { ScaledUnit::Metres },
                    before,
                    after,
                }
            }));
        }
        list
    }
}
