//! Chambers: something joins them, and air finds a way out.

use super::Checking;
use crate::case::{diagnostic::did_you_mean, tables as t};
use crate::keys::figures::in_a_row;
use crate::keys::{SourceLocation, Values};

impl Checking<'_> {
    pub(super) fn chambers(&mut self) {
        let case = self.case;
        if case.passages.is_empty() {
            return;
        }
        let added = case.layouts.iter().flat_map(|layout| layout.values.tables(&t::LAYOUT_PASSAGE));
        let in_layouts: Vec<&str> =
            added.flat_map(|passage| [passage.text(&t::FROM), passage.text(&t::TO)]).flatten().collect();
        for chamber in &case.chambers {
            let name = chamber.name.as_str();
            let joined = case.passages.iter().any(|passage| passage.from == name || passage.to == name);
            // a part of the same name has been faulted as such
            if !joined && !in_layouts.contains(&name) && case.part(name).is_none() {
                self.fault(
                    "chamber-unjoined",
                    format!("no passage begins or ends in the chamber {name:?}"),
                    chamber.values.place.clone(),
                    "write a passage from or to it, or take the table out; a slip in the name splits a chamber in two",
                );
            }
        }
        self.ways_out();
    }

    /// Chambers joined with one another hang together; each group needs a way outside.
    fn ways_out(&mut self) {
        let case = self.case;
        let count = case.chambers.len();
        let mut group: Vec<usize> = (0..count).collect();
        let mut open = vec![false; count];
        for passage in &case.passages {
            match (case.chamber(&passage.from), case.chamber(&passage.to)) {
                (Some(one), Some(other)) => {
                    let (kept, merged) = (group[one], group[other]);
                    group.iter_mut().filter(|g| **g == merged).for_each(|g| *g = kept);
                }
                // an end that could not be read may lead outside
                (Some(one), None) if passage.to != "engine" => open[one] = true,
                (None, Some(other)) => open[other] = true,
                _ => {}
            }
        }
        for first in 0..count {
            let members: Vec<usize> = (0..count).filter(|i| group[*i] == group[first]).collect();
            if members[0] != first || members.iter().any(|i| open[*i]) {
                continue;
            }
            let names: Vec<String> =
                members.iter().map(|i| format!("{:?}", case.chambers[*i].name)).collect();
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            let Some(place) = self.first_end(&case.chambers[first].name) else { continue };
            let word = if names.len() == 1 { "chamber" } else { "chambers" };
            let others =
                || (0..count).filter(|i| !members.contains(i)).map(|i| case.chambers[i].name.as_str());
            let mut meant: Vec<&str> =
                members.iter().filter_map(|i| did_you_mean(&case.chambers[*i].name, others())).collect();
            meant.dedup();
            let slip = match &meant[..] {
                [] => String::new(),
                meant => format!("did you mean {}? else ", meant.join(" or ")),
            };
            self.fault(
                "chamber-closed",
                format!("no passage joins the {word} {} with outside", in_a_row(&names)),
                place,
                format!(
                    "{slip}write a passage from or to outside; one to the engine does not count, its flow being the engine's"
                ),
            );
        }
    }

    /// Where a chamber is first named as an end of a passage.
    fn first_end(&self, name: &str) -> Option<SourceLocation> {
        let end = |values: &Values| {
            let key = [&t::FROM, &t::TO].into_iter().find(|key| values.text(key) == Some(name))?;
            Some(values.place_of(key))
        };
        // such a name is faulted where it stands
        let reserved = matches!(name, "outside" | "engine" | "");
        if reserved { None } else { self.case.passages.iter().find_map(|passage| end(&passage.values)) }
    }
}
