//! The sizing problem that `[size]` poses.

use super::{LEAST, MOST, MarginTarget, NotSized, Sizing, Variable};
use crate::case::{Case, tables as t};
use crate::keys::{Key, Kind, NumberId, Slot, Values};
use crate::point::counted::Counted;
use crate::point::model::Model;
use crate::point::opening::Opening;
use crate::point::speeds;
use crate::study::size::result::SizeBound;

/// Points of the sweep that count from the start, beside the ends of the gears.
const FIRST_POINTS: usize = 7;

/// A bound of `[size]` on the openings of a passage (m²).
pub(in crate::study) fn bound(case: &Case, values: &Values, key: &Key, passage: &str) -> Option<f64> {
    match values.slot(key) {
        Slot::Number(id) => Some(case.numbers.value(*id)),
        Slot::Map(map) => {
            let find = |wanted: &str| {
                map.iter().find(|(name, _)| name == wanted).map(|(_, id)| case.numbers.value(*id))
            };
            find(passage).or_else(|| find("other"))
        }
        _ => None,
    }
}

/// What is cut already of a passage's opening (m²).
fn cut(case: &Case, values: &Values, passage: &str) -> Option<f64> {
    let cut = values.map(&t::CUT).iter().find(|(name, _)| name == passage);
    cut.map(|(_, id)| case.numbers.value(*id))
}

/// Least and most area of one opening of a passage that `[size]` allows (m²), as far as it says so.
pub(in crate::study) fn bounds_of(case: &Case, passage: &str) -> (Option<f64>, Option<f64>) {
    let Some(values) = &case.size else { return (None, None) };
    let least = bound(case, values, &t::LEAST_AREA, passage);
    let cut = cut(case, values, passage);
    let low = match (least, cut) {
        (Some(least), Some(cut)) => Some(least.max(cut)),
        (least, cut) => least.or(cut),
    };
    (low, bound(case, values, &t::MOST_AREA, passage))
}

fn variable(case: &Case, values: &Values, members: Vec<Opening>) -> Variable {
    let names = || members.iter().map(|member| case.passages[member.passage].name.as_str());
    let tightest = |found: Option<f64>, other: f64, larger: bool| match found {
        Some(found) if (other > found) != larger => found,
        _ => other,
    };
    let mut least = None;
    let mut cut_at = None;
    let mut most = None;
    for name in names() {
        if let Some(area) = bound(case, values, &t::LEAST_AREA, name) {
            least = Some(tightest(least, area, true));
        }
        if let Some(area) = cut(case, values, name) {
            cut_at = Some(tightest(cut_at, area, true));
        }
        if let Some(area) = bound(case, values, &t::MOST_AREA, name) {
            most = Some(tightest(most, area, false));
        }
    }
    let (lower, lower_is) = match (least, cut_at) {
        (least, Some(cut)) if least.is_none_or(|least| cut >= least) => (cut, SizeBound::Cut),
        (Some(least), _) => (least, SizeBound::Least),
        (None, _) => (LEAST, SizeBound::Least),
    };
    Variable { members, lower, upper: most.unwrap_or(MOST).max(lower), lower_is, wall: None }
}

impl<'c> Sizing<'c> {
    /// Reads `[size]`.
    ///
    /// # Errors
    /// [`NotSized::NoTable`] where the case has none, [`NotSized::NotSwept`] where the sweep counts and has no
    /// point.
    pub fn new(case: &'c Case) -> Result<Sizing<'c>, NotSized> {
        let values = case.size.as_ref().ok_or(NotSized::NoTable)?;
        let view = case.view(values);
        let variables = free(case).into_iter().map(|members| variable(case, values, members)).collect();
        let drag = values.text(&t::SMALLEST) == Some("drag");
        let (at, sweeps) = counted(case, FIRST_POINTS)?;
        Ok(Sizing {
            case,
            variables,
            at,
            sweeps,
            targets: targets(case, values),
            drag_at: drag.then(|| values.text(&t::DRAG_AT).and_then(|name| case.condition(name))).flatten(),
            drag_unit: 1.0,
            carburettor_loss: view.number(&t::MOST_CARBURETTOR_LOSS),
            carburettor_heating: view.number(&t::MOST_CARBURETTOR_HEATING),
            others: Vec::new(),
            short: Vec::new(),
        })
    }
}

/// The openings that `[size]` says are free, those that change together in one group; none without it.
pub(in crate::study) fn free(case: &Case) -> Vec<Vec<Opening>> {
    let Some(Slot::Groups(groups)) = case.size.as_ref().map(|values| values.slot(&t::FREE)) else {
        return Vec::new();
    };
    let members = |group: &Vec<(String, Option<String>)>| -> Vec<Opening> {
        group.iter().filter_map(|(p, e)| Opening::find(case, p, e.as_deref())).collect()
    };
    groups.iter().map(members).collect()
}

/// The moments at which the margins count, so many points of the sweep among them where it counts; and whether it
/// does.
pub(super) fn counted(case: &Case, points: usize) -> Result<(Vec<Counted>, bool), NotSized> {
    let names = match case.size.as_ref().map(|values| values.slot(&t::AT)) {
        Some(Slot::Names(names)) => names,
        _ => return Ok(((0..case.conditions.len()).map(Counted::Condition).collect(), false)),
    };
    let named = names.iter().filter(|name| *name != t::SWEEP_WORD);
    let mut at: Vec<Counted> =
        named.filter_map(|name| case.condition(name)).map(Counted::Condition).collect();
    let sweeps = names.iter().any(|name| name == t::SWEEP_WORD);
    if sweeps {
        let model = Model::new(case).map_err(NotSized::Refused)?;
        let points = speeds::points(case, &model, points).map_err(NotSized::NotSwept)?;
        let ends = speeds::changes_of_gear(case, &model);
        at.extend(points.into_iter().chain(ends).map(Counted::Sweep));
    }
    Ok((at, sweeps))
}

fn targets(case: &Case, values: &Values) -> Vec<MarginTarget> {
    let target = |id: &NumberId| {
        let fact = case.numbers.fact(*id);
        match fact.kind {
            Kind::TemperatureDifference => MarginTarget::Kelvin(fact.value),
            _ => MarginTarget::Flow(fact.value),
        }
    };
    let of_part = |name: &str| match values.slot(&t::MARGIN) {
        Slot::Number(id) => target(id),
        Slot::Map(map) => {
            map.iter().find(|(named, _)| named == name).map_or(MarginTarget::Flow(0.0), |(_, id)| target(id))
        }
        _ => MarginTarget::Flow(0.0),
    };
    case.parts.iter().map(|part| of_part(&part.name)).collect()
}
