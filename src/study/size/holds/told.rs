//! What is told of the columns.

use super::super::Sizing;
use super::super::result::{Holds, LimitedBy, RestsOn, SizesColumn, SizesInDraws};
use super::Task;
use super::finish::Finished;
use super::fleet::MarginTable;
use super::watch::{Asks, DrawsWatch};
use crate::draws::doubt::{PartDecides, band};
use crate::draws::tally::SCRAMBLES;
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol_shares::mean_and_error;
use crate::point::counted::Counted;
use crate::point::describe::cooling_drag;
use crate::point::{Model, PointSolver};

/// Share of the spread of the least margin from which on a guess is named.
const WORTH_NAMING: f64 = 0.05;
/// Guesses that are named.
const NAMED: usize = 3;
/// Kelvins beyond which a margin counts as these when guesses are weighed: one that leaps does not decide.
const LEAPS: f64 = 150.0;

/// Whether all parts hold: 0 K or more.
const HOLDS: DrawsWatch = DrawsWatch { asks: Asks::All(0.0), share: 1.0 };

impl Task<'_, '_> {
    /// A column with what its draws say.
    pub(super) fn column(
        &self,
        which: SizesColumn,
        point: &[f64],
        table: &MarginTable,
        reached: bool,
    ) -> SizesInDraws {
        let sizing = self.sizing;
        let mut least = Quantiles::default();
        table.rows().for_each(|row| least.add(HOLDS.of(row)));
        let each = (0..SCRAMBLES).map(|scramble| {
            let own = || (scramble..table.count()).step_by(SCRAMBLES).map(|index| table.row(index));
            own().filter(|row| HOLDS.of(row) >= 0.0).count() as f64 / own().count().max(1) as f64
        });
        let (drag_at, drag) = sizing.drag_with(point);
        SizesInDraws {
            column: which,
            reached,
            areas_m2: sizing.areas(point),
            open_area_m2: sizing.total_area(point),
            drag_at,
            drag_N: drag,
            all_hold: HOLDS.kept(table) as f64 / table.count().max(1) as f64,
            standard_error: mean_and_error(each.collect::<Vec<_>>().into_iter()).error,
            draws: table.count(),
            least_K: band(&least),
            decides: self.decides(table, |_| true),
        }
    }

    /// What has the least margin, the most frequent first, in the draws that are wanted.
    fn decides(&self, table: &MarginTable, wanted: impl Fn(&[f64]) -> bool) -> Vec<PartDecides> {
        let places = self.fleet.places();
        let mut counts = vec![0_usize; places.len()];
        let mut all = 0;
        for row in table.rows().filter(|row| wanted(row)) {
            let margins = row[..places.len()].iter().enumerate();
            if let Some((place, _)) = margins.min_by(|a, b| a.1.total_cmp(b.1)) {
                counts[place] += 1;
                all += 1;
            }
        }
        let counted = places.iter().zip(counts).filter(|(_, count)| *count > 0);
        let mut list: Vec<(PartDecides, usize)> = Vec::new();
        for (place, count) in counted {
            let sizing = self.fleet.shape(place.shape).sizing;
            let at =
                LimitedBy::of(&sizing.at[place.moment], sizing.case, &sizing.case.parts[place.part].name);
            let share = count as f64 / all as f64;
            // the same in another body shape is the same; the speeds of a sweep go by the most frequent
            let known = list.iter_mut().find(|(it, _)| it.condition == at.condition && it.part == at.part);
            match known {
                Some((known, most)) => {
                    known.share += share;
                    if count > *most {
                        (known.speed_m_s, known.gear, *most) = (at.speed_m_s, at.gear, count);
                    }
                }
                None => {
                    let (speed_m_s, gear) = (at.speed_m_s, at.gear);
                    let decides =
                        PartDecides { condition: at.condition, speed_m_s, gear, part: at.part, share };
                    list.push((decides, count));
                }
            }
        }
        list.sort_by(|a, b| b.0.share.total_cmp(&a.0.share));
        list.into_iter().map(|(decides, _)| decides).collect()
    }

    /// What it takes to hold, beside the column before.
    pub(super) fn holds(
        &self,
        before: &[SizesInDraws],
        column: &SizesInDraws,
        found: &Finished,
        reached: bool,
        best: Option<f64>,
        watch: DrawsWatch,
    ) -> Holds {
        let taken = before.iter().find(|each| each.column == SizesColumn::ValuesTaken);
        let drag = |column: &SizesInDraws| column.drag_N;
        let flat = found.flat.iter().flat_map(|index| &self.sizing.variables[*index].members);
        Holds {
            asked: watch.share,
            margin_K: self.holding.margin,
            reached,
            best: best.unwrap_or(column.all_hold),
            draws: column.draws,
            more_area_m2: taken.map_or(0.0, |taken| column.open_area_m2 - taken.open_area_m2),
            more_drag_N: taken.and_then(|taken| Some(drag(column)? - drag(taken)?)),
            pointless_above_m2: (!reached && !self.fleet.was_cut()).then_some(column.open_area_m2),
            because: self.decides(&found.table, |row| watch.of(row) < 0.0),
            rests_on: self.rests_on(&found.table),
            flat: flat.map(|opening| opening.name.clone()).collect(),
            stopped: self.fleet.was_cut(),
        }
    }

    /// The guesses that go most with the least margin: the square of their correlation over the draws.
    fn rests_on(&self, table: &MarginTable) -> Vec<RestsOn> {
        let guesses = self.fleet.shape(0).guesses;
        let mut point = vec![0.0; guesses.dimensions];
        let margins: Vec<f64> = table.rows().map(|row| HOLDS.of(row).clamp(-LEAPS, LEAPS)).collect();
        let count = margins.len().max(1) as f64;
        let mean = margins.iter().sum::<f64>() / count;
        let spread = margins.iter().map(|margin| (margin - mean).powi(2)).sum::<f64>() / count;
        let mut with = vec![0.0; guesses.dimensions];
        for (draw, margin) in margins.iter().enumerate() {
            self.fleet.point_of(draw, &mut point);
            for (with, u) in with.iter_mut().zip(&point) {
                *with += (u - 0.5) * (margin - mean) / count;
            }
        }
        let mut list: Vec<RestsOn> = Vec::new();
        for guess in &guesses.list {
            let addresses =
                guess.numbers.iter().map(|(id, _)| self.sizing.case.numbers.fact(*id).address.clone());
            // the variance of what is spread evenly from 0 to 1 is a twelfth
            let share = 12.0 * with[guess.dimension].powi(2) / spread.max(f64::MIN_POSITIVE);
            list.push(RestsOn { addresses: addresses.collect(), share: share.min(1.0) });
        }
        list.sort_by(|a, b| b.share.total_cmp(&a.share));
        list.retain(|each| each.share >= WORTH_NAMING);
        list.truncate(NAMED);
        list
    }
}

impl Sizing<'_> {
    /// The drag with the values taken (N), where `[size]` wants it, else in the fastest condition that counts.
    fn drag_with(&self, point: &[f64]) -> (Option<String>, Option<f64>) {
        let case = self.at_point(point);
        let Ok(model) = Model::new(&case) else { return (None, None) };
        let speed = |counted: &Counted| counted.operation(&case, &model).speed;
        let fastest = self.at.iter().filter(|counted| counted.condition().is_some());
        let fastest = fastest.reduce(|a, b| if speed(b) > speed(a) { b } else { a }).copied();
        let Some(at) = self.drag_at.map(Counted::Condition).or(fastest) else { return (None, None) };
        let mut solver = PointSolver::new(&model);
        solver.prepare(&model, &at.operation(&case, &model));
        let solved = solver.solve().is_ok();
        (Some(at.name(self.case).to_string()), solved.then(|| cooling_drag(&solver)))
    }
}
