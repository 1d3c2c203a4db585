//! Guesses that hang together: numbers that are there, that are drawn, and that are tied one way.

use super::Checking;
use crate::case::diagnostic::did_you_mean;
use crate::case::ties::{Ties, is_drawn};
use crate::case::{Diagnostic, FaultPlace, tables as t};
use crate::keys::{Key, Slot, Values};

impl Checking<'_> {
    pub(super) fn ties(&mut self) {
        let case = self.case;
        let mut ties = Ties::new(case.numbers.facts().len());
        for table in &case.tied {
            let named = names(table, &t::TIED_VALUES).len() + names(table, &t::TIED_OPPOSITE).len();
            if named < 2 && self.sound(table, &t::TIED_VALUES) {
                self.fault(
                    "tied-alone",
                    format!("{} ties {} with nothing", table.address, counted(named)),
                    table.place.clone(),
                    r#"name two or more, as in values = ["part/heads/hottest_above_mean", "part/barrels/hottest_above_mean"]"#,
                );
            }
            let mut first = None;
            for key in [&t::TIED_VALUES, &t::TIED_OPPOSITE] {
                let opposite = key.name == t::TIED_OPPOSITE.name;
                for address in names(table, key) {
                    let Some(id) = self.tied_number(table, key, address) else { continue };
                    let (other, turned) = *first.get_or_insert((id, opposite));
                    if !ties.tie(other, id, turned != opposite) {
                        self.fault(
                            "tied-both-ways",
                            format!("{address} is tied to lie high and low at once"),
                            table.place_of(key),
                            "keep it in one of the lists; what two tables tie to the same number is tied together too",
                        );
                    }
                }
            }
        }
    }

    /// The index of a number that may be tied.
    fn tied_number(&mut self, table: &Values, key: &Key, address: &str) -> Option<usize> {
        let case = self.case;
        let facts = case.numbers.facts();
        let Some(index) = facts.iter().position(|fact| fact.address == address) else {
            let in_layouts = case.layouts.iter().flat_map(|layout| layout.values.tables(&t::LAYOUT_PASSAGE));
            let of_layout = |passage: &Values| {
                let name = passage.text(&t::NAME).unwrap_or_default();
                address
                    .strip_prefix("passage/")
                    .and_then(|rest| rest.strip_prefix(name))
                    .is_some_and(|rest| rest.starts_with('/'))
            };
            if in_layouts.into_iter().any(of_layout) {
                return None;
            }
            let drawn = facts.iter().filter(|fact| is_drawn(fact)).map(|fact| fact.address.as_str());
            let way_out = match did_you_mean(address, drawn) {
                Some(meant) => format!("did you mean {meant}?"),
                None => "name a number by its address: the names of its tables and its key, parted by /, as the list of defaults shows them".to_string(),
            };
            let place = FaultPlace::from(table.place_of(key));
            self.faults.push(Diagnostic::new(
                "tied-unknown",
                format!("no number has the address {address:?}"),
                place,
                way_out,
            ));
            return None;
        };
        let fact = &facts[index];
        if !is_drawn(fact) {
            self.fault(
                "tied-without-band",
                format!("{address} is taken as it stands, so that nothing can be tied to it"),
                table.place_of(key),
                format!(
                    "write how sure you are of it, as in \"{} ± …\", or take it out of the list",
                    fact.kind.show(fact.value)
                ),
            );
            return None;
        }
        Some(index)
    }
}

fn names<'v>(table: &'v Values, key: &Key) -> &'v [String] {
    match table.slot(key) {
        Slot::Names(names) => names,
        _ => &[],
    }
}

fn counted(named: usize) -> &'static str {
    if named == 0 { "nothing" } else { "one number" }
}
