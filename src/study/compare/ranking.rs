//! Which layout is best and which worst, and why.
//!
//! First those that keep every limit where it counts and, once sized, every margin asked for; then those
//! that keep the limits alone; then those that miss one; last what could not be solved. Among the first,
//! where they were sized, the least opening area decides, or the least drag where `[size]` makes that
//! smallest; in all other cases the least margin in kelvins.

use super::BASE;
use super::result::{Compared, LayoutRanking, LayoutResult, RankedBy};
use crate::case::{Case, tables as t};
use crate::keys::figures::area;
use crate::warnings::words;
use std::cmp::Ordering;

/// Share below which two areas, or two drags, are as good as the same.
const ALIKE: f64 = 0.01;
/// Kelvins below which two margins are.
const ALIKE_KELVIN: f64 = 1.0;

/// Ranks the layouts.
pub(super) fn ranking(base: &Case, compared: &[Compared], counts: Vec<String>, sized: bool) -> LayoutRanking {
    let smallest = base.size.as_ref().and_then(|values| values.text(&t::SMALLEST));
    let drag_at = base.size.as_ref().and_then(|values| values.text(&t::DRAG_AT)).map(str::to_string);
    let by = match (sized, smallest) {
        (true, Some("drag")) => DecidedBy::Drag(drag_at.unwrap_or_default()),
        (true, _) => DecidedBy::Area,
        (false, _) => DecidedBy::Margin,
    };
    let mut order: Vec<(&Compared, &LayoutResult)> =
        compared.iter().filter_map(|c| c.answer.as_ref().map(|answer| (c, answer))).collect();
    order.sort_by(|a, b| by.order(a.1, b.1));
    let best_because = match order.as_slice() {
        [] => "none could be solved".to_string(),
        [(_, only)] => format!("{}; no other could be solved", state(only, &by)),
        [(_, best), (next, second), ..] => {
            format!("{}; {}", state(best, &by), against(best, next, second, &by))
        }
    };
    let worst_because = match order.as_slice() {
        [first, .., last] => {
            let mut reversed: Vec<&str> = Vec::new();
            for name in last.1.conditions.iter().filter(|at| at.counts).flat_map(|at| &at.runs_back) {
                if !reversed.contains(&name.as_str()) {
                    reversed.push(name);
                }
            }
            let back = match reversed.as_slice() {
                [] => String::new(),
                names => format!("; air runs back through {}", names.join(", ")),
            };
            let short = match by.class(first.1) == 0 && by.class(last.1) == 0 {
                true => format!("; {}", by.gap(first.1, last.1)),
                false => String::new(),
            };
            format!("{}{back}{short}", state(last.1, &by))
        }
        _ => String::new(),
    };
    let unsolved = compared.iter().filter(|c| c.answer.is_none());
    LayoutRanking {
        best: order.first().map(|(c, _)| c.layout.clone()),
        worst: order.last().filter(|_| order.len() > 1).map(|(c, _)| c.layout.clone()),
        best_because,
        worst_because,
        order: order
            .iter()
            .map(|(c, _)| c.layout.clone())
            .chain(unsolved.map(|c| c.layout.clone()))
            .collect(),
        counts,
        decided_by: match by {
            DecidedBy::Drag(_) => RankedBy::Drag,
            DecidedBy::Area => RankedBy::OpeningArea,
            DecidedBy::Margin => RankedBy::Margin,
        },
    }
}

/// What decides between layouts that keep what they must.
enum DecidedBy {
    /// Cooling drag in a condition.
    Drag(String),
    /// Total area of the openings.
    Area,
    /// The least margin.
    Margin,
}

impl DecidedBy {
    /// 0 for what does all that was asked, 1 for limits kept, 2 for limits missed.
    fn class(&self, answer: &LayoutResult) -> u8 {
        let asked = answer.sizes.as_ref().is_none_or(|sizes| sizes.feasible);
        match (answer.kept, asked) {
            (true, true) => 0,
            (true, false) => 1,
            (false, _) => 2,
        }
    }

    /// What is to be small (N, m²), or large (K).
    fn figure(&self, answer: &LayoutResult) -> f64 {
        match self {
            DecidedBy::Drag(at) => drag(answer, at),
            DecidedBy::Area => answer.opening_area_in_m2 + answer.opening_area_out_m2,
            DecidedBy::Margin => -kelvin(answer),
        }
    }

    fn order(&self, a: &LayoutResult, b: &LayoutResult) -> Ordering {
        let class = self.class(a);
        let within = match class {
            0 => self.figure(a).total_cmp(&self.figure(b)),
            _ => kelvin(b).total_cmp(&kelvin(a)),
        };
        class.cmp(&self.class(b)).then(within)
    }

    /// Whether two that do all that was asked are as good as each other.
    fn alike(&self, a: &LayoutResult, b: &LayoutResult) -> bool {
        let (one, other) = (self.figure(a), self.figure(b));
        match self {
            DecidedBy::Margin => (one - other).abs() < ALIKE_KELVIN,
            _ => (one - other).abs() < ALIKE * one.abs().max(other.abs()),
        }
    }

    /// By how much one is behind another.
    fn gap(&self, ahead: &LayoutResult, behind: &LayoutResult) -> String {
        let gap = self.figure(behind) - self.figure(ahead);
        match self {
            DecidedBy::Drag(at) => format!("it costs {gap:.1} N more than the best in {at}"),
            DecidedBy::Area => format!("it needs {} more than the best", area(gap)),
            DecidedBy::Margin => format!("its least margin is {gap:.0} K smaller than that of the best"),
        }
    }
}

fn kelvin(answer: &LayoutResult) -> f64 {
    answer.least.as_ref().map_or(f64::NEG_INFINITY, |least| least.temperature_margin_K)
}

fn drag(answer: &LayoutResult, at: &str) -> f64 {
    answer
        .conditions
        .iter()
        .find(|condition| condition.name == at)
        .map_or(f64::INFINITY, |c| c.cooling_drag_N)
}

/// The least margin where it counts, in words.
fn closest(answer: &LayoutResult) -> String {
    answer.least.as_ref().map_or(String::new(), |least| {
        let (part, condition) = (&least.part, words::name(&least.condition));
        match least.temperature_margin_K {
            over if over < 0.0 => format!("{part} in {condition}, {:.0} K over", -over),
            left => format!("least {part} in {condition}, {left:.0} K below"),
        }
    })
}

/// How a layout does, in words.
fn state(answer: &LayoutResult, by: &DecidedBy) -> String {
    let least = closest(answer);
    let openings = area(answer.opening_area_in_m2 + answer.opening_area_out_m2);
    let with = match by {
        DecidedBy::Drag(at) => format!("{:.1} N of drag in {at}", drag(answer, at)),
        _ => format!("{openings} of openings"),
    };
    match by.class(answer) {
        0 => format!("every limit is kept where it counts ({least}) with {with}"),
        1 => format!(
            "every limit is kept where it counts ({least}), but no size reaches the margins asked for"
        ),
        _ => format!("limits are missed where it counts ({least})"),
    }
}

/// The best against the next.
fn against(best: &LayoutResult, next: &Compared, second: &LayoutResult, by: &DecidedBy) -> String {
    let name = if next.base { BASE.to_string() } else { format!("{:?}", next.layout) };
    match (by.class(best), by.class(second)) {
        (0, 0) if by.alike(best, second) => format!("{name} is as good"),
        (0, 0) => match by {
            DecidedBy::Drag(at) => {
                format!("{name} costs {:.1} N more in {at}", by.figure(second) - by.figure(best))
            }
            DecidedBy::Area => format!("{name} needs {} more", area(by.figure(second) - by.figure(best))),
            DecidedBy::Margin => {
                format!("{name} has {:.0} K less at its worst", by.figure(second) - by.figure(best))
            }
        },
        (a, b) if a == b => match kelvin(best) - kelvin(second) {
            gap if gap < ALIKE_KELVIN => format!("{name} is as bad"),
            gap => format!("{name} is {gap:.0} K worse"),
        },
        (_, 1) => format!("{name} comes next: no size reaches the margins asked for there"),
        _ => format!("{name} comes next: it misses a limit ({})", closest(second)),
    }
}
