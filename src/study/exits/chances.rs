//! How often the sizes that have a name hold, over all that the guesses may turn out to be.

use super::Study;
use super::result::{Chance, ExitSize};
use super::trade::Trade;
use crate::case::Case;
use crate::draws::doubt::Doubt;
use crate::draws::tally::{Moments, draws_at};
use crate::draws::{Guesses, TallyWanted};
use crate::keys::NumberId;
use crate::point::opening::Opening;
use crate::study::size::inlets::{InletFit, Wide};

/// The exits as drawn, and each size that has a name with the inlets that go with it. None where nothing is guessed.
pub(super) fn chances(study: &Study, trade: &Trade, wanted: TallyWanted) -> Vec<Chance> {
    let mut guesses = Guesses::of(study.case);
    let changing = study.exits.members.iter().chain(&study.inlets.members);
    guesses.leave(&changing.flat_map(Opening::decided).collect::<Vec<NumberId>>());
    let moments = Moments::all_of(study.sizing.counting().to_vec());
    let mut list = Vec::new();
    let mut add = |size: ExitSize, exits: f64, inlets: Option<f64>, case: &Case| {
        let Some(tally) = draws_at(&moments, case, &guesses, wanted, &|_| true) else { return };
        let found = Doubt::at(&moments, case, &guesses, &tally);
        list.push(Chance {
            size,
            exit_area_m2: exits,
            inlet_area_m2: inlets,
            all_hold: found.all_hold,
            standard_error: found.standard_error,
            draws: found.draws,
            least_K: found.least_K,
            decides: found.decides,
        });
    };
    add(ExitSize::Drawn, study.exits.area, None, study.case);
    let fitted = |area: f64, fit: &InletFit| {
        let mut case = study.with_exits(area);
        study.sizing.put(&mut case, &fit.point);
        case
    };
    let near = trade.knee.as_ref().or(trade.smallest.as_ref());
    let again = |area: Option<f64>| -> Option<(f64, InletFit)> {
        let (area, (_, near)) = (area?, near?);
        let found = study.fit(area, Wide::No, std::slice::from_ref(&near.point), study.meter.cap(1))?;
        found.feasible().then_some((area, found))
    };
    let named = [
        (ExitSize::Smallest, trade.smallest.clone()),
        (ExitSize::Knee, trade.knee.clone()),
        (ExitSize::Largest, again(trade.largest)),
        (ExitSize::Pointless, again(trade.pointless)),
    ];
    for (name, found) in named {
        if let Some((area, fit)) = found {
            add(name, area, Some(fit.area), &fitted(area, &fit));
        }
    }
    list
}
