//! The last step: sizes that many draws keep, and none of which can be 2 % smaller.

use super::fleet::{DrawAsked, From, MarginTable, SizingFleet};
use super::settle::OpeningBounds;
use super::watch::{DrawsWatch, moments};

/// How much smaller each opening is tried, in the logarithm of its area: 2 %.
const SMALLER: f64 = 0.020_202_707;
/// Draws about the one that decides that small steps may turn over.
const NEAR: usize = 100;
/// First step of all openings together.
const STEP: f64 = 0.004;
/// Largest.
const FAR: f64 = 0.6;
/// Halvings of a step.
const HALVINGS: usize = 3;
/// Times that one opening is made smaller in one go.
const TIMES: usize = 30;
/// Rounds over all openings.
const ROUNDS: usize = 3;
/// So often what decides is looked for anew, since draws far off may turn over.
const AGAIN: usize = 8;

/// What was finished.
pub struct Finished {
    pub point: Vec<f64>,
    /// All draws there.
    pub table: MarginTable,
    /// Openings that could be smaller still for all the draws say.
    pub flat: Vec<usize>,
}

/// The draws that decide about small steps.
struct Near {
    asked: Vec<DrawAsked>,
    /// Others that miss what is asked.
    others: usize,
    may_miss: usize,
}

impl Near {
    fn new(fleet: &SizingFleet, table: &MarginTable, watch: DrawsWatch, may_miss: usize) -> Near {
        let values: Vec<f64> = table.rows().map(|row| watch.of(row)).collect();
        let mut order: Vec<usize> = (0..values.len()).collect();
        order.sort_by(|a, b| values[*a].abs().total_cmp(&values[*b].abs()).then(a.cmp(b)));
        let (near, far) = order.split_at(NEAR.min(order.len()));
        let asked = near.iter().map(|draw| DrawAsked {
            draw: *draw,
            moments: moments(watch, fleet.places(), table.row(*draw), values[*draw]),
        });
        Near {
            asked: asked.collect(),
            others: far.iter().filter(|draw| values[**draw] < 0.0).count(),
            may_miss,
        }
    }

    fn keeps(&self, fleet: &mut SizingFleet, watch: DrawsWatch, point: &[f64]) -> bool {
        let Some(left) = self.may_miss.checked_sub(self.others) else { return false };
        let Some(table) = fleet.look(point, &self.asked, From::Last) else { return false };
        table.rows().filter(|row| watch.of(row) < 0.0).count() <= left
    }
}

/// What is to be reached, and from where to where it is sought.
#[derive(Clone, Copy)]
pub struct FinishGoal<'w> {
    pub watch: DrawsWatch,
    pub draws: usize,
    /// Draws that may miss it.
    pub may_miss: usize,
    pub start: &'w [f64],
    /// Sizes with which it is reached; without them all openings grow alike.
    pub towards: Option<&'w [f64]>,
}

/// Goes on from a start until no more than so many of the draws miss what is asked, and no opening can be 2 % smaller;
/// none where that is not reached on the way.
pub fn finish(fleet: &mut SizingFleet, bounds: &OpeningBounds, way: FinishGoal) -> Option<Finished> {
    let FinishGoal { watch, draws, may_miss, .. } = way;
    let keeps_all = |table: &MarginTable| table.count() - watch.kept(table) <= may_miss;
    let mut point = bounds.clamp(way.start);
    let mut table = fleet.all(&point, draws, From::Last)?;
    let mut together_yet = false;
    let mut times = TIMES;
    for _ in 0..AGAIN {
        let near = Near::new(fleet, &table, watch, may_miss);
        let keeps = |fleet: &mut SizingFleet, point: &[f64]| near.keeps(fleet, watch, point);
        if !keeps_all(&table) {
            let larger = match way.towards {
                Some(towards) => along(fleet, &keeps, &point, towards),
                None => Some(together(fleet, &keeps, &point, bounds)?),
            };
            // where draws far off would have to turn over, from the sizes that are known to do
            let from = if larger.is_some() { From::Last } else { From::Taken };
            point = larger.or_else(|| way.towards.map(<[f64]>::to_vec))?;
            table = fleet.all(&point, draws, from)?;
            continue;
        }
        let mut next = point.clone();
        // the step of all together is taken once
        if !std::mem::replace(&mut together_yet, true) {
            next = together(fleet, &keeps, &point, bounds).unwrap_or(next);
        }
        let flat = one_by_one(fleet, &keeps, &mut next, bounds, times);
        if next == point || fleet.is_spent() {
            return Some(Finished { point, table, flat });
        }
        // draws far off may have turned over: then half as far, and not so far the next time
        let mut moved = false;
        for _ in 0..HALVINGS {
            let there = fleet.all(&next, draws, From::Last)?;
            if keeps_all(&there) {
                (point, table, moved) = (next, there, true);
                break;
            }
            times = (times / 2).max(1);
            next = point.iter().zip(&next).map(|(kept, missed)| 0.5 * (kept + missed)).collect();
        }
        if !moved && times == 1 {
            break;
        }
    }
    if !keeps_all(&table) {
        return None;
    }
    // what could still be smaller, for all that is known
    let near = Near::new(fleet, &table, watch, may_miss);
    let smaller = |index: usize| {
        let mut trial = point.clone();
        trial[index] = (trial[index] - SMALLER).max(bounds.lower[index]);
        trial
    };
    let open = (0..point.len()).filter(|index| point[*index] > bounds.lower[*index] + 1e-9);
    let flat = open.filter(|index| near.keeps(fleet, watch, &smaller(*index))).collect();
    Some(Finished { point, table, flat })
}

/// The first sizes on the way to others that keep it.
fn along(
    fleet: &mut SizingFleet,
    keeps: &dyn Fn(&mut SizingFleet, &[f64]) -> bool,
    point: &[f64],
    towards: &[f64],
) -> Option<Vec<f64>> {
    let at = |share: f64| -> Vec<f64> {
        point.iter().zip(towards).map(|(from, to)| from + share * (to - from)).collect()
    };
    let (mut missed, mut kept) = (0.0, 1.0);
    if !keeps(fleet, &at(kept)) {
        return None;
    }
    for _ in 0..2 * HALVINGS {
        let middle = 0.5 * (missed + kept);
        if keeps(fleet, &at(middle)) {
            kept = middle;
        } else {
            missed = middle;
        }
    }
    Some(at(kept))
}

/// All openings together, larger until it is kept, or smaller as long as it is.
fn together(
    fleet: &mut SizingFleet,
    keeps: &dyn Fn(&mut SizingFleet, &[f64]) -> bool,
    point: &[f64],
    bounds: &OpeningBounds,
) -> Option<Vec<f64>> {
    let moved = |way: f64| bounds.clamp(&point.iter().map(|x| x + way).collect::<Vec<_>>());
    let kept_here = keeps(fleet, point);
    let side = if kept_here { -1.0 } else { 1.0 };
    let (mut near, mut far) = (0.0, STEP);
    // as far as it turns over
    while keeps(fleet, &moved(side * far)) == kept_here {
        if fleet.is_spent() {
            return kept_here.then(|| moved(side * far));
        }
        (near, far) = (far, 2.0 * far);
        if far > FAR || moved(side * far) == moved(side * near) {
            return kept_here.then(|| moved(side * near));
        }
    }
    let (mut kept, mut missed) = if kept_here { (near, far) } else { (far, near) };
    for _ in 0..HALVINGS {
        let middle = 0.5 * (kept + missed);
        if keeps(fleet, &moved(side * middle)) {
            kept = middle;
        } else {
            missed = middle;
        }
    }
    Some(moved(side * kept))
}

/// Each opening smaller by 2 % as often as it is kept, or so often at most. Gives those that are not at their end even so.
fn one_by_one(
    fleet: &mut SizingFleet,
    keeps: &dyn Fn(&mut SizingFleet, &[f64]) -> bool,
    point: &mut [f64],
    bounds: &OpeningBounds,
    most: usize,
) -> Vec<usize> {
    let mut flat = Vec::new();
    for _ in 0..ROUNDS {
        let before = point.to_vec();
        flat.clear();
        let mut order: Vec<usize> = (0..point.len()).collect();
        order.sort_by(|a, b| before[*b].total_cmp(&before[*a]));
        for index in order {
            let mut times = 0;
            while point[index] > bounds.lower[index] + 1e-9 && !fleet.is_spent() {
                let here = point[index];
                // where nothing hangs on it, at once as small as it may be
                let at_once = times == 1 && most == TIMES;
                point[index] =
                    if at_once { bounds.lower[index] } else { (here - SMALLER).max(bounds.lower[index]) };
                if !keeps(fleet, point) {
                    point[index] = here;
                    if !at_once {
                        break;
                    }
                }
                times += 1;
                if times > most {
                    flat.push(index);
                    break;
                }
            }
        }
        if *point == before[..] {
            break;
        }
    }
    flat
}
