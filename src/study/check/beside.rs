//! What is told beside the conditions of a case: what was not written down, what would help.

use super::advice::{NextStep, next_steps};
use super::offers::{Offer, offers_within};
use super::ram_over_fan::{RamOverFan, ram_over_fan_within};
use super::stand_off::{StandOff, stand_off_within};
use super::sudden::{SuddenChange, sudden_changes_within};
use crate::case::{Case, Warning};
use crate::point::budget::{self, Budget, seconds};
use crate::point::margins::margins_everywhere;
use crate::point::model::Model;
use crate::point::result::Condition;

/// All of it; each list empty where there is nothing to tell.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// What leaks and hot air would cost that nobody wrote down.
    pub unwritten: Vec<Offer>,
    /// Where ram pushes more than a fan.
    pub ram_over_fan: Vec<RamOverFan>,
    /// Inlets further off the skin.
    pub stand_off: Vec<StandOff>,
    /// The dearest sudden changes of area.
    pub sudden_changes: Vec<SuddenChange>,
    /// What to do next.
    pub advice: Vec<NextStep>,
    /// What was left out.
    pub left: Vec<Warning>,
}

/// Tries everything against one look at the case as it stands; `conditions` are its solutions.
pub fn beside(case: &Case, model: &Model, conditions: &[Condition]) -> Beside {
    let within = Budget::seconds;
    let allowed = within(seconds::NEXT).allows(budget::about(case, model));
    let now = if allowed { margins_everywhere(case, model) } else { None };
    let now = now.as_ref();
    let mut found = Beside::default();
    let mut left: [Vec<Warning>; 4] = Default::default();
    let [of_offers, of_fans, of_inlets, of_changes] = &mut left;
    let ((unwritten, ram_over_fan), (stand_off, sudden_changes)) = rayon::join(
        || {
            rayon::join(
                || offers_within(case, model, now, within(seconds::OFFERS), of_offers),
                || ram_over_fan_within(case, model, within(seconds::RAM_OVER_FAN), of_fans),
            )
        },
        || {
            rayon::join(
                || stand_off_within(case, model, now, within(seconds::STAND_OFF), of_inlets),
                || sudden_changes_within(case, model, conditions, now, within(seconds::SUDDEN), of_changes),
            )
        },
    );
    found.left.extend(left.into_iter().flatten());
    if !allowed {
        found.left.push(budget::left_out("what to do next was left out"));
    }
    found.advice = next_steps(case, conditions, now, (&sudden_changes, &stand_off), &mut found.left);
    Beside { unwritten, ram_over_fan, stand_off, sudden_changes, ..found }
}
