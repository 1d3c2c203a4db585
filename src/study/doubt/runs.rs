//! The doubt about runs in time: from few draws, since each is a whole run.

use crate::case::Case;
use crate::draws::car::Car;
use crate::draws::doubt::{Doubt, PartDecides, band, input};
use crate::draws::guesses::Guesses;
use crate::draws::scramble::Scramble;
use crate::draws::tally::TallyWanted;
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol_shares::mean_and_error;
use crate::point::{Model, budget};
use crate::study::lap::march::FIRST_ORDER;
use crate::study::lap::peaks::{RunBeginning, least_margins};
use crate::study::lap::record::Record;
use crate::study::lap::result::Stint;
use rayon::prelude::*;

/// Independent scrambles.
const SCRAMBLES: usize = 8;
/// Draws, where no number is asked for: no more than these.
pub const MOST: usize = 64;
/// And no fewer.
pub const FEWEST: usize = 16;
/// How much coarser steps in time may be than those of the run with the values taken: far finer still than what the
/// guesses move.
const COARSER: f64 = 4.0;
/// Work of a point of a run beside that of a solution.
const POINT: u64 = 40;
/// Share of draws without an answer above which no band is shown.
const TOO_MANY_UNSOLVED: f64 = 1.0 / 200.0;

/// Work of one draw, about, where the runs with the values taken solved so many points.
pub fn work_of_runs(case: &Case, model: &Model, stints: &[Stint]) -> u64 {
    let points: usize = stints.iter().map(|stint| stint.points_solved).sum();
    budget::making(case) + points as u64 * (budget::beside(case, model) + POINT)
}

/// One scramble.
struct RunsLane<'g> {
    points: Scramble,
    car: Car<'g>,
    point: Vec<f64>,
    /// By draw, what each part of each stint keeps; none where a run cannot be made.
    found: Vec<Option<Vec<Vec<f64>>>>,
    /// Draws in which the shares of heat had to shrink.
    shrunk: usize,
}

/// The doubt about runs that were made with the values taken, written beside their peaks; none where nothing is drawn.
/// `told` hears the share of the draws that is done, and says whether to go on.
pub fn of_runs(
    case: &Case,
    records: &[Option<Record>],
    stints: &mut [Stint],
    wanted: TallyWanted,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Doubt> {
    let guesses = Guesses::in_time(case);
    let parts = case.parts.len();
    if guesses.is_empty() || stints.is_empty() || parts == 0 {
        return None;
    }
    let mut car = Car::at(case, &guesses, Vec::new())?;
    // of the car itself: what draws may open is there
    let (taken, model) = car.drawn();
    let beginnings = RunBeginning::all(taken, model, records);
    let mut lanes: Vec<RunsLane> = (0..SCRAMBLES)
        .map(|scramble| RunsLane {
            points: Scramble::new(guesses.dimensions, wanted.seed, scramble),
            car: car.clone(),
            point: vec![0.0; guesses.dimensions],
            found: Vec::new(),
            shrunk: 0,
        })
        .collect();
    let rounds = wanted.most.div_ceil(SCRAMBLES);
    for round in 0..rounds {
        lanes.par_iter_mut().for_each(|lane| lane.draw(round as u32, records, &beginnings));
        if !told((round + 1) as f64 / rounds as f64) {
            break;
        }
    }
    let holds = |draw: &Option<Vec<Vec<f64>>>| {
        draw.as_ref().is_some_and(|stints| stints.iter().flatten().all(|margin| *margin >= 0.0))
    };
    let share = |lane: &RunsLane| {
        lane.found.iter().filter(|draw| holds(draw)).count() as f64 / lane.found.len() as f64
    };
    let all_hold = mean_and_error(lanes.iter().map(share));
    let all: Vec<&Option<Vec<Vec<f64>>>> = lanes.iter().flat_map(|lane| &lane.found).collect();
    let draws = all.len();
    let solved: Vec<&Vec<Vec<f64>>> = all.iter().filter_map(|draw| draw.as_ref()).collect();
    let unsolved = (draws - solved.len()) as f64 / draws as f64;
    let shown = unsolved <= TOO_MANY_UNSOLVED;
    let of = |margins: &mut dyn Iterator<Item = f64>| {
        let mut found = Quantiles::default();
        margins.for_each(|margin| found.add(margin));
        shown.then(|| band(&found))
    };
    for (index, stint) in stints.iter_mut().enumerate() {
        for (part, (_, over)) in stint.parts.0.iter_mut().enumerate() {
            // a store of heat without a limit has no margin
            if !over.temperature_margin_K.is_finite() {
                continue;
            }
            over.margin_band_K = of(&mut solved.iter().map(|draw| draw[index][part]));
            let held = solved.iter().filter(|draw| draw[index][part] >= 0.0).count();
            over.likelihood = Some(held as f64 / draws as f64);
        }
        let held = solved.iter().filter(|draw| draw[index].iter().all(|margin| *margin >= 0.0)).count();
        stint.likelihood = Some(held as f64 / draws as f64);
    }
    let least = |draw: &[Vec<f64>]| draw.iter().flatten().copied().fold(f64::INFINITY, f64::min);
    Some(Doubt {
        all_hold: all_hold.value,
        all_conditions_hold: all_hold.value,
        least_K: of(&mut solved.iter().map(|draw| least(draw))),
        draws,
        standard_error: all_hold.error,
        decides: decides(case, stints, &solved, draws),
        pulls: Vec::new(),
        runs_back: Vec::new(),
        unsolved,
        heat_shrunk: lanes.iter().map(|lane| lane.shrunk).sum::<usize>() as f64 / draws as f64,
        inputs: guesses.list.iter().map(|guess| input(case, guess)).collect(),
    })
}

/// Which part in which stint has the least margin, the most frequent first.
fn decides(case: &Case, stints: &[Stint], solved: &[&Vec<Vec<f64>>], draws: usize) -> Vec<PartDecides> {
    let parts = case.parts.len();
    let mut counts = vec![0_usize; stints.len() * parts];
    for draw in solved {
        let places = draw.iter().flatten().enumerate();
        if let Some((place, _)) = places.min_by(|a, b| a.1.total_cmp(b.1)) {
            counts[place] += 1;
        }
    }
    let mut all: Vec<PartDecides> = counts
        .iter()
        .enumerate()
        .filter(|(_, count)| **count > 0)
        .map(|(place, count)| PartDecides {
            condition: stints[place / parts].name.clone(),
            speed_m_s: None,
            gear: None,
            part: case.parts[place % parts].name.clone(),
            share: *count as f64 / draws as f64,
        })
        .collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all
}

impl RunsLane<'_> {
    fn draw(&mut self, index: u32, records: &[Option<Record>], beginnings: &[RunBeginning]) {
        self.points.point(index, &mut self.point);
        let taken = self.car.take(&self.point);
        self.shrunk += usize::from(taken.is_ok_and(|drawn| drawn.shrunk));
        self.found.push(taken.is_ok().then(|| self.car.drawn()).and_then(|(case, model)| {
            least_margins(case, model, records, beginnings, COARSER * FIRST_ORDER)
        }));
    }
}
