//! The test card: what to read on the bench and on the road, chosen by what it is worth, and what it should show.
//!
//! | file | what it does |
//! | --- | --- |
//! | `runs` | where and how the car is run |
//! | `drawn` | many cars in all of it: margins, what instruments show, which way tufts lie |
//! | `choice` | which readings narrow the margin most, one after the other |
//! | `suspects` | what to suspect outside a band, in words |
//! | `coarse` | where an instrument is too coarse, and the way out |
//! | `taps` | where each tap and thermocouple goes |
//! | `should_show` | where each should lie, as a fit of the file says it |
//! | `stops` | when to stop at once |
//! | `plan` | the same as a readings file with blanks |
//! | `result` | the shape of what is found |

mod choice;
mod coarse;
mod drawn;
pub mod plan;
pub mod result;
mod runs;
mod should_show;
pub(super) mod stops;
mod suspects;
mod taps;

use super::doubt::{LeastOver, work_of_a_draw};
use super::lap::settle::settles;
use crate::case::instruments::{Instrument, Instruments};
use crate::case::{Case, Warning};
use crate::draws::Guesses;
use crate::draws::lanes::DrawsWithin;
use crate::element::Role;
use crate::keys::figures;
use crate::point::budget::{Budget, beside, left_out};
use crate::point::counted::Counted;
use crate::point::result::Band;
use crate::point::{Model, PointSolver};
use crate::readings::drives::UnsureCase;
use crate::readings::expected::CARS;
use crate::readings::leaks;
use crate::readings::operator::ReadingKind;
use choice::{Chosen, choose};
use drawn::{Candidate, CardFleet, ReadingAsked};
use result::{Card, Planned, RunWay, Tool, Tuft, TuftShows, Tufts};
use runs::{RunKind, RunPlan, runs};
use sha2::{Digest, Sha256};
use taps::Taps;

/// Draws behind the card.
pub const DRAWS: usize = 2048;
/// The fewest that a polynomial of some readings can be judged by.
const FEWEST: usize = 128;
/// The fewest that are asked for, whatever they are worth: one alone contradicts nothing.
const LEAST: usize = 2;
/// Readings on a card, at most: what fits on a sheet and into a Saturday.
const MOST: usize = 8;
/// Share of the draws in which all parts must hold for a run to be held until temperatures stand: 19 in 20; and for it to
/// be tried with an eye on gauges that are read on the way: even odds.
const SAFE: f64 = 0.95;
const WATCHED: f64 = 0.5;
/// How long a run is held, each way (s); where something may be over its limit, only until a pressure stands.
const HELD: f64 = 180.0;
const SHORT: f64 = 20.0;
/// The low end of a ratio is at least so much of its high end: else one of the two is next to nothing.
const READABLE: f64 = 0.2;
/// How long the bench takes.
const BENCH: f64 = 60.0;
/// Shares of the draws within which a tuft is not sure.
const UNSURE: (f64, f64) = (0.05, 0.95);
/// Digits of the card's name.
const DIGITS: usize = 3;

/// Why there is no card.
#[derive(Clone, Copy, Debug, thiserror::Error)]
pub enum NoTestCard {
    /// Nothing is drawn.
    #[error("nothing in the case is guessed: no number has a band that a reading could narrow")]
    NothingGuessed,
    /// No moment to be read in.
    #[error("the case has no condition in which its engine runs, and no [drive]")]
    NoRun,
    /// Nothing to read with.
    #[error("[instruments] names nothing that a pressure or a temperature could be read with")]
    NoInstrument,
    /// No draw has an answer.
    #[error("hardly any draw of the guesses has a steady state in every run")]
    NoDraws,
}

impl NoTestCard {
    /// Its code, and what to do about it.
    pub fn told(self) -> (&'static str, &'static str) {
        match self {
            NoTestCard::NothingGuessed => (
                "nothing-guessed",
                "give what nobody measured a band: heads = \"10 % ± 2 %\"; a part is as sure as its least sure number",
            ),
            NoTestCard::NoRun => (
                "condition-missing",
                "write [drive] with the gears, or a [[condition]] with its engine running",
            ),
            NoTestCard::NoInstrument => (
                "instrument-missing",
                "write u_tube = { } or gauge = { } under [instruments]; without the table what is usual is taken",
            ),
            NoTestCard::NoDraws => ("condition-unsolved", "look at the case with check first"),
        }
    }
}

/// So many draws as a budget allows, at most some number, and never too few to judge by. They may take twice as long
/// before the card is laid out by those that were made.
pub fn draws_within(case: &Case, model: &Model, most: usize, within: Budget) -> DrawsWithin {
    let draws = within.times(each(case, model, moments(case, model))).clamp(FEWEST, most);
    DrawsWithin { draws, within: within.twice() }
}

/// That the budget of work ended before all draws that were wanted were made, where it did.
pub fn cut_short(card: &Card, wanted: usize) -> Option<Warning> {
    let some = |made: usize, of: usize, what: &str| (made < of).then(|| format!("{made} of {of} {what}"));
    let told: Vec<String> = some(card.draws, wanted, "draws stand behind the choice of the test card")
        .into_iter()
        .chain(some(card.shown_by, CARS, "behind what each reading should show"))
        .collect();
    (!told.is_empty()).then(|| left_out(format!("{}; they are rougher", told.join(", "))))
}

/// Moments in which each draw is looked at.
fn moments(case: &Case, model: &Model) -> u64 {
    (case.conditions.len() + runs(case, model).len()) as u64
}

/// Work of a draw at so many moments.
fn each(case: &Case, model: &Model, moments: u64) -> u64 {
    work_of_a_draw(case, model, 0) * moments / case.conditions.len().max(1) as u64
}

/// Whether the fewest draws are within a budget, with making two cars ready that know how each guess moves each moment.
pub fn fits(case: &Case, model: &Model, within: Budget) -> bool {
    let moments = moments(case, model);
    let ready = beside(case, model) * moments * Guesses::of(case).list.len() as u64;
    within.allows(2 * ready + FEWEST as u64 * each(case, model, moments))
}

/// The test card of a case as it stands, `known_by` what tells its file from others.
///
/// # Errors
/// [`NoTestCard`]
pub fn testcard(case: &Case, model: &Model, known_by: &str, draws: DrawsWithin) -> Result<Card, NoTestCard> {
    if Guesses::of(case).is_empty() {
        return Err(NoTestCard::NothingGuessed);
    }
    let hand = Instruments::of(case);
    if [hand.pressure, hand.part, hand.air].iter().all(Option::is_none) {
        return Err(NoTestCard::NoInstrument);
    }
    let runs = runs(case, model);
    if runs.iter().all(|run| run.way == RunKind::Bench) {
        return Err(NoTestCard::NoRun);
    }
    let side = leaks::side_of_hole(case, model);
    let hole_mm2 = (1e6 * side * side).round() as u32;
    let as_planned: Vec<Counted> = runs.iter().map(|run| run.at).collect();
    let unsure = UnsureCase::of(case, &as_planned);
    let loose: Vec<RunPlan> =
        runs.iter().zip(&unsure.moments).map(|(run, at)| RunPlan { at: *at, ..run.clone() }).collect();
    let guesses = Guesses::of(&unsure.case);
    let fleet = CardFleet::new(&unsure.case, model, &guesses, &loose, &hand, hole_mm2, draws)
        .ok_or(NoTestCard::NoDraws)?;
    let measure = fleet.measure(case);
    let sample = fleet.sample(&measure);
    let half = sample.half();
    let holds: Vec<f64> = (0..runs.len()).map(|run| fleet.holds(run)).collect();
    let taken = taken(&runs, &holds);
    let on_wheels: Vec<usize> =
        taken.iter().copied().filter(|run| runs[*run].way != RunKind::Bench).collect();
    let safe = |run: usize| holds[run] >= SAFE;
    // least harmful first: standing and slow before fast, and what may be over its limit last
    let harm = |index: usize| {
        fleet.candidates[index].run.map_or(0, |run| 1 + run + if safe(run) { 0 } else { runs.len() })
    };
    // strips are looked at when it is too late
    let bold = if hand.strips.is_some() { SAFE } else { WATCHED };
    let fits = |candidate: &Candidate| match (candidate.run, candidate.asked) {
        (Some(run), ReadingAsked::Reading(reading)) => {
            taken.contains(&run) && (holds[run] >= bold || reading.kind() == ReadingKind::Pressure)
        }
        (Some(_), ReadingAsked::Ratio(..)) => true,
        _ => false,
    };
    let allowed: Vec<usize> =
        (0..fleet.candidates.len()).filter(|index| fits(&fleet.candidates[*index])).collect();
    let mut chosen = choose(&sample, &allowed, half, MOST, &harm);
    // with nothing worth its place, what tells most by itself
    let mut by_worth: Vec<(f64, usize)> = allowed
        .iter()
        .map(|index| (sample.left(half, &[*index]).worth_K, *index))
        .filter(|(_, index)| sample.alive[*index] && chosen.iter().all(|known| known.candidate != *index))
        .collect();
    by_worth.sort_by(|a, b| b.0.total_cmp(&a.0));
    for (_, index) in by_worth {
        if chosen.len() >= LEAST {
            break;
        }
        chosen.extend(choice::also(&sample, half, &chosen, index));
    }
    // the bench harms nothing and takes minutes: leaks are looked for whatever they are worth
    for (index, candidate) in fleet.candidates.iter().enumerate() {
        let shows = &sample.shows[index];
        let bench = match candidate.asked {
            // one pressure over next to none says nothing
            ReadingAsked::Ratio(..) => shows.p05 > READABLE * shows.p95,
            ReadingAsked::Reading(_) => candidate.run.is_none(),
        };
        if bench && chosen.iter().all(|known| known.candidate != index) {
            chosen.extend(choice::also(&sample, half, &chosen, index));
        }
    }
    let names: Vec<String> = runs.iter().map(|run| name(case, run)).collect();
    let coarse =
        coarse::coarse((case, model), &fleet, &sample, half, &runs, &allowed, &|run| names[run].clone());
    let list: Vec<Candidate> = chosen.iter().map(|chosen| fleet.candidates[chosen.candidate]).collect();
    let suspects = suspects::suspects(&unsure.case, &guesses, &unsure.moments, &list);
    let mut order: Vec<Option<usize>> = Vec::new();
    for candidate in &list {
        if !order.contains(&candidate.run) {
            order.push(candidate.run);
        }
    }
    order.sort_by_key(|run| run.map_or(0, |run| 1 + run + if safe(run) { 0 } else { runs.len() }));
    let (shows, shown_by) = should_show::bands(case, &runs, &order, &list);
    let mut taps = Taps::default();
    let mut told: Vec<(Option<usize>, Planned)> = Vec::new();
    for (rank, ((chosen, candidate), suspects)) in chosen.iter().zip(&list).zip(suspects).enumerate() {
        let shows = shows[rank].unwrap_or(sample.shows[chosen.candidate]);
        let planned = planned(case, &shows, chosen, candidate, rank, suspects, &mut taps);
        told.push((candidate.run, planned));
    }
    let runs_told = order.into_iter().map(|run| {
        let own = told.iter().filter(|(at, _)| *at == run).map(|(_, planned)| planned.clone()).collect();
        match run {
            None => bench(side, own),
            Some(index) => {
                let held = match runs[index].way {
                    RunKind::Bench => BENCH,
                    _ if holds[index] >= bold => HELD,
                    _ => SHORT,
                };
                run_told(case, model, &runs[index], &names[index], (holds[index], held), own)
            }
        }
    });
    let runs_told: Vec<result::CardRun> = runs_told.collect();
    let mut id = Sha256::new();
    id.update(known_by);
    runs_told
        .iter()
        .flat_map(|run| &run.readings)
        .for_each(|reading| id.update(format!("{}{}", reading.what, reading.unit)));
    let id = id.finalize().iter().take(DIGITS).map(|byte| format!("{byte:02x}")).collect::<String>();
    Ok(Card {
        id: format!("T-{id}"),
        of: LeastOver::named(case, &measure.places),
        is: measure.asked(),
        lost: LeastOver::named(case, &measure.lost),
        half_band_K: half,
        leaves_K: chosen.last().map_or(half, |last| last.leaves),
        draws: fleet.draws(),
        shown_by,
        instruments_said: hand.said,
        instruments: tools(&hand),
        tape: tape(case),
        taps: taps.0,
        tufts: tufts(case, &fleet, &on_wheels, &names),
        runs: runs_told,
        coarse,
        stops: stops::stops(case, model),
    })
}

/// Of each drive the one with less load where the other may be too hot; all others as they are.
fn taken(runs: &[RunPlan], holds: &[f64]) -> Vec<usize> {
    let gentle: Vec<usize> = runs.iter().filter_map(|run| run.gentler).collect();
    let own = (0..runs.len()).filter(|run| !gentle.contains(run));
    own.map(|run| match runs[run].gentler {
        Some(gentler) if holds[run] < SAFE && holds[gentler] > holds[run] => gentler,
        _ => run,
    })
    .collect()
}

fn planned(
    case: &Case,
    shows: &Band,
    chosen: &Chosen,
    candidate: &Candidate,
    rank: usize,
    suspects: Vec<result::Suspect>,
    taps: &mut Taps,
) -> Planned {
    let tool = candidate.instrument;
    let (letter, what, kind) = match candidate.asked {
        ReadingAsked::Ratio(of, over) => {
            let (letter, under) = (taps.of(case, &of), taps.of_bench(case, &over));
            (
                format!("({letter}) : ({under})"),
                "the first as a share of the second".to_string(),
                ReadingKind::Ratio,
            )
        }
        ReadingAsked::Reading(reading) => {
            // the name speaks of the tube that nearly everybody has
            let name = reading.name(case).replacen("U-tube", tool.name, 1);
            (taps.of(case, &reading), name, reading.kind())
        }
    };
    let in_unit = |value: f64| if kind == ReadingKind::Ratio { value } else { tool.shows(value) };
    Planned {
        of: match candidate.asked {
            ReadingAsked::Ratio(of, over) => vec![of.what, over.what],
            ReadingAsked::Reading(reading) => vec![reading.what],
        },
        letter,
        what,
        kind,
        instrument: tool.name,
        unit: if kind == ReadingKind::Ratio { "share" } else { tool.unit },
        expected: Band { p05: in_unit(shows.p05), p50: in_unit(shows.p50), p95: in_unit(shows.p95) },
        within: if kind == ReadingKind::Ratio {
            0.5 * (shows.p95 - shows.p05)
        } else {
            tool.difference(tool.within)
        },
        rank: rank + 1,
        adds_K: chosen.adds,
        leaves_K: chosen.leaves,
        alone_K: chosen.alone.worth_K,
        suspects,
    }
}

/// Everything taped, a blower, two pressures.
fn bench(side: f64, readings: Vec<Planned>) -> result::CardRun {
    result::CardRun {
        at: None,
        way: RunWay::Bench,
        name: "everything taped".to_string(),
        condition: None,
        speed_m_s: None,
        gear: None,
        rpm: None,
        load: None,
        brake_power_W: None,
        held_s: BENCH,
        settles_s: None,
        holds: None,
        hole_m: Some(side),
        readings,
    }
}

fn run_told(
    case: &Case,
    model: &Model,
    run: &RunPlan,
    name: &str,
    (holds, held): (f64, f64),
    readings: Vec<Planned>,
) -> result::CardRun {
    let operation = run.at.operation(case, model);
    let mut solver = PointSolver::new(model);
    solver.prepare(model, &operation);
    let driven = run.at.driven();
    let runs_on = run.way != RunKind::Bench;
    result::CardRun {
        at: Some(run.at),
        way: match run.way {
            RunKind::Bench => RunWay::Bench,
            RunKind::Rest => RunWay::Rest,
            RunKind::Drive => RunWay::Drive,
        },
        name: name.to_string(),
        condition: run.at.condition().map(|index| case.conditions[index].name.clone()),
        speed_m_s: (operation.speed > 0.0).then_some(operation.speed),
        gear: driven.map(|(_, gear)| gear),
        rpm: runs_on.then_some(operation.rpm),
        load: runs_on.then_some(operation.load),
        brake_power_W: runs_on.then_some(solver.running.brake_power),
        held_s: held,
        settles_s: runs_on.then(|| settles(model, &operation)).flatten(),
        holds: runs_on.then_some(holds),
        hole_m: None,
        readings,
    }
}

/// "40 km/h in gear 2", "queue".
fn name(case: &Case, run: &RunPlan) -> String {
    match (run.at, run.at.driven()) {
        (_, Some((speed, gear))) => format!("{} in gear {gear}", figures::speed(speed)),
        (Counted::Blown(blown), None) => format!("a blower into {}", case.passages[blown.into].name),
        (at, None) => at.name(case).to_string(),
    }
}

fn tools(hand: &Instruments) -> Vec<Tool> {
    let tool = |tool: Instrument| Tool {
        instrument: tool.name,
        within: tool.difference(tool.within),
        unit: tool.unit,
        slope: tool.is_tube().then_some(tool.slope),
        fluid: tool.fluid,
    };
    [hand.pressure, hand.part, hand.air].into_iter().flatten().map(tool).collect()
}

/// What is taped on the bench: every way in and out but what leaks.
fn tape(case: &Case) -> Vec<String> {
    let ends = |end: &str| matches!(end, "outside" | "engine");
    let open = case.passages.iter().filter(|passage| {
        (ends(&passage.from) || ends(&passage.to)) && passage.first_of(Role::Leak).is_none()
    });
    open.map(|passage| passage.name.clone()).collect()
}

/// Opening by opening, what a tuft shows in each of some runs.
fn tufts(case: &Case, fleet: &CardFleet, taken: &[usize], names: &[String]) -> Vec<Tufts> {
    let mut all = Vec::new();
    for (passage, named) in case.passages.iter().enumerate() {
        if named.to == "engine" || named.first_of(Role::Leak).is_some() {
            continue;
        }
        let through = named.from == "outside" && named.to == "outside";
        for (end, inwards) in [(&named.from, true), (&named.to, false)] {
            if end != "outside" {
                continue;
            }
            let opening = match (through, inwards) {
                (true, true) => format!("{}, inlet", named.name),
                (true, false) => format!("{}, exit", named.name),
                _ => named.name.clone(),
            };
            let at = taken.iter().map(|run| {
                let back = fleet.back(*run, passage);
                let blows_in = if inwards { 1.0 - back } else { back };
                let shows = match blows_in {
                    _ if fleet.stands(*run, passage) > UNSURE.1 => TuftShows::Hangs,
                    share if share > UNSURE.1 => TuftShows::In,
                    share if share < UNSURE.0 => TuftShows::Out,
                    _ => TuftShows::Unsure,
                };
                Tuft { moment: names[*run].clone(), shows, blows_in }
            });
            all.push(Tufts { opening, at: at.collect() });
        }
    }
    all
}
