//! What readings are worth, alone and several together.

use super::left::BandLeft;
use super::sample::Sample;
use crate::case::Case;
use crate::keys::figures;
use crate::numerics::sobol_shares::Crossed;
use crate::point::counted::Counted;
use crate::point::result::Band;
use crate::readings::Reading;
use crate::readings::operator::ReadingKind;
use serde::Serialize;

/// What more readings must add to be worth their time (K).
const ADDS: f64 = 1.0;

/// What a reading, or several together, is worth.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct ReadingWorth {
    /// What is read, and when, in words.
    pub reading: String,
    /// What is read, whenever that is.
    pub what: String,
    /// What kind it is.
    pub kind: ReadingKind,
    /// How many instruments are read, each at each of the moments.
    pub readings: usize,
    /// The condition, where it is read in one of the case.
    pub condition: Option<String>,
    /// Road speed, where it is read at one.
    pub speed_m_s: Option<f64>,
    pub gear: Option<usize>,
    /// Load there, of full load.
    pub load: Option<f64>,
    /// Where a single reading is likely to be (°C or Pa).
    pub shows: Option<Band>,
    /// How well it is read: 9 times in 10 within (K or Pa).
    pub within: Option<f64>,
    /// Share of the variance that it explains.
    pub share: f64,
    /// Standard error of that.
    pub share_error: f64,
    /// What it is worth.
    #[serde(flatten)]
    pub left: BandLeft,
    /// How long it takes.
    pub takes: &'static str,
    /// With what, and how.
    pub how: &'static str,
}

/// The next best.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Next {
    /// The single reading that leaves least.
    pub one: String,
    /// Half the band that it leaves.
    pub one_leaves_K: f64,
    /// The two that together leave least.
    pub two: [String; 2],
    /// Half the band that they leave.
    pub two_leave_K: f64,
}

/// Draws of the margin with what every reading shows in them: of scrambles, the margins at both points of each pair, and
/// what was read there.
pub(super) fn sample<'l>(
    scrambles: impl Iterator<Item = (&'l Crossed, &'l [Vec<f64>])>,
    list: &[Reading],
) -> Sample {
    let lanes = scrambles.map(|(crossed, read)| {
        let least = crossed.a.iter().zip(&crossed.b).flat_map(|(a, b)| [*a, *b]).collect();
        let shown = |(reading, numbers): (&Reading, &Vec<f64>)| -> Vec<f64> {
            numbers.iter().map(|number| reading.shown(*number)).collect()
        };
        (least, list.iter().zip(read).map(shown).collect())
    });
    Sample::new(list.len(), lanes)
}

/// All readings and the sets that make sense together, the one worth most first, and the next best.
pub(super) fn of_readings(
    case: &Case,
    list: &[Reading],
    moments: &[Counted],
    sample: &Sample,
    half: f64,
) -> (Vec<ReadingWorth>, Option<Next>) {
    let alive: Vec<usize> = (0..list.len()).filter(|index| sample.alive[*index]).collect();
    let mut all: Vec<(ReadingWorth, Option<usize>)> = alive
        .iter()
        .map(|index| {
            let reading = &list[*index];
            let moment = &moments[reading.moment];
            let driven = moment.driven();
            let share = sample.explained(&[*index]);
            let (takes, how) = reading.how(driven.is_some());
            let what = reading.name(case);
            let worth = ReadingWorth {
                reading: format!("{what}, {}", when(case, moment)),
                what,
                kind: reading.kind(),
                readings: 1,
                condition: moment.condition().map(|index| case.conditions[index].name.clone()),
                speed_m_s: driven.map(|(speed, _)| speed),
                gear: driven.map(|(_, gear)| gear),
                load: load_of(moment),
                shows: Some(sample.shows[*index]),
                within: Some(reading.what.tool(case).within),
                share: share.value,
                share_error: share.error,
                left: BandLeft::of(half, share.value, share.error),
                takes,
                how,
            };
            (worth, Some(*index))
        })
        .collect();
    let next = next(&all, sample, half);
    all.extend(sets(case, list, moments, sample, half).into_iter().map(|set| (set, None)));
    all.sort_by(|a, b| b.0.left.worth_K.total_cmp(&a.0.left.worth_K));
    (all.into_iter().map(|(worth, _)| worth).collect(), next)
}

/// "60 km/h", "hairpin".
pub(super) fn when(case: &Case, moment: &Counted) -> String {
    match moment.driven() {
        Some((speed, _)) => figures::speed(speed),
        None => moment.name(case).to_string(),
    }
}

/// The load of a drive, of full load.
fn load_of(moment: &Counted) -> Option<f64> {
    match moment {
        Counted::Driven(driven) => Some(driven.point.load),
        _ => None,
    }
}

/// The best alone, and the best two.
fn next(all: &[(ReadingWorth, Option<usize>)], sample: &Sample, half: f64) -> Option<Next> {
    let one = all.iter().max_by(|a, b| a.0.left.worth_K.total_cmp(&b.0.left.worth_K))?;
    let mut best: Option<(f64, [usize; 2])> = None;
    for (place, (_, first)) in all.iter().enumerate() {
        for (other, (_, second)) in all.iter().enumerate().skip(place + 1) {
            let (Some(first), Some(second)) = (first, second) else { continue };
            let share = sample.explained(&[*first, *second]).value;
            if best.is_none_or(|(most, _)| share > most) {
                best = Some((share, [place, other]));
            }
        }
    }
    let (share, two) = best?;
    Some(Next {
        one: one.0.reading.clone(),
        one_leaves_K: one.0.left.leaves_K,
        two: two.map(|place| all[place].0.reading.clone()),
        two_leave_K: BandLeft::of(half, share, 0.0).leaves_K,
    })
}

/// Readings that are taken together anyway: every part's temperature at each moment, at all of them, and with the
/// pressures too.
fn sets(case: &Case, list: &[Reading], moments: &[Counted], sample: &Sample, half: f64) -> Vec<ReadingWorth> {
    let read: Vec<usize> = (0..list.len()).filter(|index| sample.alive[*index]).collect();
    let driven = |index: &usize| moments[list[*index].moment].driven().is_some();
    let on_the_road =
        if read.iter().any(driven) { read.iter().copied().filter(driven).collect() } else { read.clone() };
    let parts: Vec<usize> = on_the_road.iter().copied().filter(|index| list[*index].is_of_part()).collect();
    let with_pressures: Vec<usize> = on_the_road
        .iter()
        .copied()
        .filter(|index| list[*index].is_of_part() || list[*index].kind() == ReadingKind::Pressure)
        .collect();
    let mut all: Vec<ReadingWorth> = Vec::new();
    let set = |readings: &[usize], what: &str, takes: &'static str| {
        let mut when_all: Vec<String> = Vec::new();
        for index in readings {
            let when = when(case, &moments[list[*index].moment]);
            if !when_all.contains(&when) {
                when_all.push(when);
            }
        }
        let share = sample.explained(readings);
        ReadingWorth {
            what: what.to_string(),
            reading: format!(
                "{} {what} ({})",
                readings.len(),
                when_all.join(" and ").replace(" km/h and", " and")
            ),
            kind: ReadingKind::Several,
            readings: readings.len(),
            condition: None,
            speed_m_s: None,
            gear: None,
            load: None,
            shows: None,
            within: None,
            share: share.value,
            share_error: share.error,
            left: BandLeft::of(half, share.value, share.error),
            takes,
            how: "a thermocouple where each limit is measured, a U-tube where pressures are read; each speed held until nothing climbs any more",
        }
    };
    if parts.len() > 1 {
        all.push(set(&parts, "temperatures of parts on a drive", "an afternoon"));
    }
    if with_pressures.len() > parts.len() && parts.len() > 1 {
        let more = set(&with_pressures, "temperatures and pressures on a drive", "a day");
        // what adds nothing to the temperatures is not worth the day
        if all.iter().all(|known| more.left.worth_K > known.left.worth_K + ADDS) {
            all.push(more);
        }
    }
    all
}
