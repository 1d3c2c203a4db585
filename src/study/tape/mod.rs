//! How much tape today: whole strips by air temperature and by what the car does.
//!
//! | file | what it does |
//! | --- | --- |
//! | `openings` | what may be taped, and how much a strip blanks |
//! | `cells` | which tape in which weather, with the values taken |
//! | `result` | the shape of what is found |

mod cells;
mod openings;
pub mod result;

use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::draws::Guesses;
use crate::draws::tally::{Moments, Tally, TallyWanted, draws_at};
use crate::keys::figures;
use crate::point::Model;
use crate::point::budget::{self, Budget};
use crate::point::counted::Counted;
use cells::{Cells, ColumnKind};
use result::{PartTold, Shows, Tape, TapeAim, TapeCell, TapeColumn, TapeRow, TapedFor};

/// Draws behind the bands.
pub const DRAWS: usize = 256;
/// Air temperatures of the rows (°C).
const ROWS: std::ops::RangeInclusive<i32> = 0..=8;
const STEP: f64 = 5.0;

/// Why there is no card.
#[derive(Clone, Copy, Debug, thiserror::Error)]
pub enum NoTapeCard {
    /// Nothing may be taped.
    #[error("no opening of the case may be taped, or each is lower than one strip")]
    NoOpening,
    /// Nothing to run in.
    #[error("no condition of the case moves with its engine running")]
    NoRun,
    /// More cells, conditions and strips than may be looked at.
    #[error("the case is so large that its cells would take too long")]
    TooLarge,
}

impl NoTapeCard {
    /// Its code, and what to do about it.
    pub fn told(self) -> (&'static str, &'static str) {
        match self {
            NoTapeCard::NoOpening => (
                "nothing-to-tape",
                "write tape_width in [body]: the strips that you have; carburettor, drains and fan inlets are never taped",
            ),
            NoTapeCard::NoRun => ("condition-missing", "write a [[condition]] with a speed and a gear"),
            NoTapeCard::TooLarge => (
                "too-much-work",
                "take a copy of the case with the few conditions that decide, and lay the card out for them",
            ),
        }
    }
}

/// The tape card of a case as it stands.
///
/// # Errors
/// [`NoTapeCard`]
pub fn tape(
    case: &Case,
    model: &Model,
    sized: bool,
    draws: usize,
    budget: Budget,
) -> Result<Tape, NoTapeCard> {
    let (width, said) = openings::tape_width(case);
    let (openings, never) = openings::openings(case, width);
    if openings.is_empty() {
        return Err(NoTapeCard::NoOpening);
    }
    let kinds = ColumnKind::all(case);
    if kinds.first().is_none_or(|kind| kind.column != TapedFor::Run) {
        return Err(NoTapeCard::NoRun);
    }
    let parts: Vec<usize> =
        (0..case.parts.len()).filter(|part| model.network.parts[*part].has_limit()).collect();
    let cells = Cells::new(case, model, &openings, parts.clone(), budget);
    let mut rows = Vec::new();
    let mut moments = Vec::new();
    for row in ROWS {
        let air = STEP * f64::from(row);
        let found = kinds.iter().map(|kind| cells.find(kind, air + ZERO_CELSIUS));
        let found: Vec<cells::CellVerdict> = found.collect();
        if cells.is_spent() {
            return Err(NoTapeCard::TooLarge);
        }
        for (moment, _) in found.iter().flat_map(|each| &each.hottest) {
            if !moments.contains(&Counted::Taped(*moment)) {
                moments.push(Counted::Taped(*moment));
            }
        }
        rows.push((air, found));
    }
    let each = budget::beside(case, model);
    if !budget.allows(cells.work() + each * (draws * moments.len()) as u64) {
        return Err(NoTapeCard::TooLarge);
    }
    let bands = Bands::new(case, moments, draws);
    let rows = rows.into_iter().map(|(air_c, found)| {
        let cells = found.into_iter().map(|found| {
            let shows = found.hottest.iter().zip(&parts).map(|((moment, temperature), part)| {
                let limit = model.network.parts[*part].limit + case.above_mean(*part) - ZERO_CELSIUS;
                let margins = bands.ends(Counted::Taped(*moment), *part);
                Shows {
                    taken_C: temperature + case.above_mean(*part) - ZERO_CELSIUS,
                    low_C: margins.map(|(_, high)| limit - high),
                    high_C: margins.map(|(low, _)| limit - low),
                }
            });
            let shows = shows.collect();
            TapeCell {
                says: found.says,
                opening: found.opening,
                strips: found.strips,
                share: found.share,
                power_beyond_correction: found.beyond,
                shows,
            }
        });
        TapeRow { air_C: air_c, cells: cells.collect() }
    });
    let rows: Vec<TapeRow> = rows.collect();
    let told = |part: &usize| {
        let law = &model.network.parts[*part];
        PartTold {
            part: case.parts[*part].name.clone(),
            limit_C: law.limit + case.above_mean(*part) - ZERO_CELSIUS,
            least_C: law.least.map(|least| least - ZERO_CELSIUS),
        }
    };
    let aim = if cells.keeps_warm() { TapeAim::KeepWarm } else { TapeAim::SpareDrag };
    let told: Vec<PartTold> = parts.iter().map(told).collect();
    let columns: Vec<TapeColumn> = kinds.iter().map(|kind| kind.told(case)).collect();
    let rules = rules(&told, &columns, &rows);
    Ok(Tape {
        tape_width_m: width,
        tape_width_said: said,
        sized,
        aim,
        openings: openings.into_iter().map(|(_, taping)| taping).collect(),
        columns,
        rows,
        parts: told,
        never,
        rules,
        draws,
    })
}

/// Margins of all parts in some moments, drawn.
struct Bands {
    moments: Vec<Counted>,
    tally: Option<Tally>,
    parts: usize,
}

impl Bands {
    fn new(case: &Case, moments: Vec<Counted>, draws: usize) -> Bands {
        let guesses = Guesses::of(case);
        let wanted = TallyWanted { most: draws, all: true, ..TallyWanted::default() };
        let tally = draws_at(&Moments::all_of(moments.clone()), case, &guesses, wanted, &|_| true);
        Bands { moments, tally, parts: case.parts.len() }
    }

    /// Ends of the margin (K) of a part in a moment, low and high.
    fn ends(&self, moment: Counted, part: usize) -> Option<(f64, f64)> {
        let place = self.moments.iter().position(|known| *known == moment)?;
        let margins = &self.tally.as_ref()?.margins[place * self.parts + part];
        let [low, high] = margins.quantiles([0.05, 0.95]);
        (margins.count() > 0).then_some((low, high))
    }
}

/// Kelvins before a limit at which a strip comes off.
const BEFORE: f64 = 5.0;

/// If this, then that.
fn rules(parts: &[PartTold], columns: &[TapeColumn], rows: &[TapeRow]) -> Vec<String> {
    let mut rules = Vec::new();
    if rows.iter().flat_map(|row| &row.cells).all(|cell| cell.strips == 0) {
        let all = parts.iter().map(|part| format!("{} at {:.0}", part.part, part.limit_C - BEFORE));
        let all: Vec<String> = all.collect();
        rules.push(format!("{} °C: ease off now; there is no tape to take off.", figures::in_a_row(&all)));
        rules.push("Rain starts: the column wet. Between two rows: the hotter one.".to_string());
        return rules;
    }
    for part in parts {
        rules.push(format!(
            "{} at {:.0} °C: one strip off at the next stop, ease off now.",
            part.part,
            part.limit_C - BEFORE
        ));
    }
    for part in parts {
        if let Some(least) = part.least_C {
            rules.push(format!("{} under {least:.0} °C after ten minutes: one strip more.", part.part));
        }
    }
    let place = |wanted: TapedFor| columns.iter().position(|column| column.column == wanted);
    let (run, queue) = (place(TapedFor::Run), place(TapedFor::Queue));
    let off = rows.iter().any(|row| match (run, queue) {
        (Some(run), Some(queue)) => row.cells[run].strips > row.cells[queue].strips,
        _ => false,
    });
    if off {
        rules.push("Tape off before the queue, whatever the weather: standing, it only heats.".to_string());
    } else {
        rules.push("Tape off before the queue, unless its column says otherwise.".to_string());
    }
    if place(TapedFor::Following).is_some() {
        rules.push("You will follow someone for more than a lap: the column following counts.".to_string());
    }
    rules.push("Rain starts: the column wet. Between two rows: the hotter one.".to_string());
    rules
}
