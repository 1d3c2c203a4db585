//! Passages and their elements: ends, order, warm air drawn in again.

use super::{Checking, ends_in_exit};
use crate::case::{Diagnostic, FaultPlace, PassageTable, tables as t};
use crate::element::demand;
use crate::element::ram_inlet::{FROM, RECIRCULATION, SHARE};
use crate::element::{KINDS, Role};
use crate::keys::{Kind, Values};

/// Most of an inlet's air that may be warm air drawn in again.
const MOST_RECIRCULATION: f64 = 0.9;

impl Checking<'_> {
    pub(super) fn passages(&mut self) {
        let case = self.case;
        if case.passages.is_empty() {
            self.faults.push(Diagnostic::new(
                "passage-missing",
                "the case has no [[passage]], so that no air moves",
                FaultPlace::Whole,
                r#"write a [[passage]] with name, from = "outside", to = "bay" and its elements"#,
            ));
        }
        for passage in &case.passages {
            if passage.from == passage.to && !matches!(&passage.from[..], "" | "outside") {
                self.fault(
                    "passage-to-itself",
                    format!("{} leads from {:?} to {:?}", passage.values.address, passage.from, passage.to),
                    passage.values.place_of(&t::TO),
                    "let it end in another chamber, or outside",
                );
            }
            if passage.whole && passage.elements.is_empty() {
                self.fault(
                    "passage-empty",
                    format!("{} has no element", passage.values.address),
                    passage.values.place_of(&t::ELEMENT),
                    if passage.to == "engine" {
                        r#"write what the air meets, at least { kind = "demand" }"#
                    } else {
                        "write what the air meets on its way: an opening, a duct, fins, a loss"
                    },
                );
            }
            for (index, element) in passage.elements.iter().enumerate() {
                let Some(kind) = passage.kind(index) else { continue };
                let faults = kind.faults(case.view(element), &|values, key| self.sound(values, key));
                for fault in faults {
                    self.fault(fault.code, fault.message, fault.place, fault.what_to_do);
                }
                self.recirculation(element);
            }
            let ends_known = !passage.from.is_empty() && !passage.to.is_empty();
            if passage.whole && ends_known && !passage.elements.is_empty() {
                let misplaced = self.order(passage);
                self.ends(passage, &misplaced);
            }
        }
        self.demand_shares();
    }

    fn recirculation(&mut self, element: &Values) {
        let tables = element.tables(&RECIRCULATION);
        for table in tables {
            let Some(from) = table.text(&FROM) else { continue };
            if self.case.passage(from).is_some_and(|i| ends_in_exit(&self.case.passages[i]) == Some(false)) {
                self.fault(
                    "recirculation-without-exit",
                    format!("{} draws in air of {from:?}, which does not end in an exit", element.address),
                    table.place_of(&FROM),
                    "name a passage that ends in an exit",
                );
            }
        }
        let sum: f64 = tables.iter().filter_map(|table| self.number(table, &SHARE)).sum();
        if sum > MOST_RECIRCULATION + 1e-9 {
            self.fault(
                "recirculation-over-share",
                format!(
                    "{:.0} % of the air of {} is drawn in again; {:.0} % is the most that can be reckoned with",
                    100.0 * sum,
                    element.address,
                    100.0 * MOST_RECIRCULATION
                ),
                element.place_of(&RECIRCULATION),
                "check the shares: each is of this inlet's air, not of the exit's",
            );
        }
    }

    /// Inlets first, exits last, demands last to the engine, leaks at the skin; what is misplaced.
    fn order(&mut self, passage: &PassageTable) -> Vec<Role> {
        let mut misplaced = Vec::new();
        let last = passage.elements.len() - 1;
        let (from_outside, to_outside) = (passage.from == "outside", passage.to == "outside");
        for (index, element) in passage.elements.iter().enumerate() {
            let Some(kind) = passage.kind(index) else { continue };
            let (first, end) = (index == 0, index == last);
            let wrong = match kind.role {
                Role::Middle => None,
                Role::Inlet if !from_outside => Some((
                    format!("takes air in from outside, and the passage begins in {:?}", passage.from),
                    "write from = \"outside\"; air leaves a chamber through a step, a loss or a duct",
                )),
                Role::Inlet => (!first).then(|| {
                    ("stands behind another element".to_string(), "put it first: the air enters here")
                }),
                Role::Exit if !to_outside => Some((
                    format!("lets air out of the car, and the passage ends in {:?}", passage.to),
                    "write to = \"outside\"; air enters a chamber through a step, a loss or a duct",
                )),
                Role::Exit => (!end).then(|| {
                    ("stands before another element".to_string(), "put it last: the air leaves here")
                }),
                Role::Demand if passage.to != "engine" => Some((
                    format!("is the engine's draught, and the passage ends in {:?}", passage.to),
                    "write to = \"engine\", or take it out",
                )),
                Role::Demand => (!end).then(|| {
                    ("stands before another element".to_string(), "put it last: the engine draws here")
                }),
                Role::Leak => {
                    let at_skin = (from_outside && first) || (to_outside && end);
                    let inside = !from_outside && !to_outside;
                    (!at_skin && !inside).then(|| {
                        (
                            "is a gap in the skin, and neither begins nor ends the passage there".to_string(),
                            "put it first in a passage from outside, last in one to outside",
                        )
                    })
                }
            };
            if let Some((why, way_out)) = wrong {
                let message = format!("{} {why}", element.address);
                self.fault("element-out-of-order", message, element.place.clone(), way_out);
                misplaced.push(kind.role);
            }
        }
        misplaced
    }

    /// Air passes the skin through an opening; one that is misplaced has been faulted as such.
    fn ends(&mut self, passage: &PassageTable, misplaced: &[Role]) {
        let last = passage.elements.len() - 1;
        let missing = |element: usize, role: Role| {
            let here = passage.kind(element).map(|kind| kind.role);
            ![Some(role), Some(Role::Leak)].contains(&here)
                && !misplaced.iter().any(|found| [role, Role::Leak].contains(found))
        };
        if passage.from == "outside" && missing(0, Role::Inlet) {
            self.fault(
                "opening-missing",
                format!("{} comes from outside and does not begin with an opening", passage.values.address),
                passage.values.place_of(&t::FROM),
                format!("put {} first", one_of(Role::Inlet)),
            );
        }
        if passage.to == "outside" && missing(last, Role::Exit) {
            self.fault(
                "opening-missing",
                format!("{} leads outside and does not end with an opening", passage.values.address),
                passage.values.place_of(&t::TO),
                format!("put {} last", one_of(Role::Exit)),
            );
        }
    }

    /// The shares of the engine's air, as far as they are written, are no more than all of it; what
    /// a passage draws is counted as often as the passage is there.
    fn demand_shares(&mut self) {
        let case = self.case;
        let to_engine = case.passages.iter().filter(|passage| passage.to == "engine");
        let shares: Vec<_> = to_engine
            .filter_map(|passage| {
                let element = &passage.elements[passage.first_of(Role::Demand)?];
                let copies = self.number(&passage.values, &t::COUNT)?;
                element.id(&demand::SHARE).map(|id| (element, id, copies))
            })
            .collect();
        let sum: f64 = shares.iter().map(|(_, id, copies)| copies * case.numbers.value(*id)).sum();
        if let (Some((element, id, _)), true) = (shares.last(), sum > 1.0 + 1e-6) {
            let counted = shares.iter().any(|(_, _, copies)| *copies > 1.0);
            let often = if counted { ", each as often as its count says," } else { "" };
            self.fault(
                "demand-shares-over-one",
                format!(
                    "the passages to the engine{often} draw {} of its air together",
                    Kind::Share.show(sum)
                ),
                self.place_of_number(*id, element, &demand::SHARE),
                "lower the shares until they come to 100 %; each is that of one passage, times its count",
            );
        }
    }
}

/// "an exit or a leak": the kinds that may stand there.
fn one_of(role: Role) -> String {
    let of = |role: Role| KINDS.iter().filter(move |kind| kind.role == role);
    let kinds = of(role).chain(of(Role::Leak));
    let article = |name: &str| if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    let names: Vec<String> = kinds.map(|kind| format!("{} {}", article(kind.name), kind.name)).collect();
    match &names[..] {
        [before @ .., last] if !before.is_empty() => format!("{} or {last}", before.join(", ")),
        _ => names.concat(),
    }
}
