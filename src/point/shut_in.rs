//! Heated air that has no way through: its chamber is joined to the rest by one passage alone.
//!
//! A passage carries a steady flow only where it lies on a way round: from outside to outside, or round and round
//! between chambers where a fan drives it. Behind a passage that lies on none (a bridge, in the graph of chambers and
//! passages) air stands indefinitely, and what heats it can leave through walls only.

use crate::case::{Case, Diagnostic, Diagnostics, FaultPlace};
use crate::engine::tables as e;
use crate::network::{Network, PassageEnd};

/// Chambers and passages as a graph; outside, the engine and reservoirs are one node, behind the chambers.
struct ChamberGraph<'n> {
    network: &'n Network,
    outside: usize,
}

impl ChamberGraph<'_> {
    fn new(network: &Network) -> ChamberGraph<'_> {
        ChamberGraph { network, outside: network.chambers.len() }
    }

    fn node(&self, end: PassageEnd) -> usize {
        match end {
            PassageEnd::Chamber(chamber) => chamber,
            _ => self.outside,
        }
    }

    /// What can be reached from a node by passages that may be walked on.
    fn reached(&self, from: usize, may_walk: impl Fn(usize) -> bool) -> Vec<bool> {
        let mut reached = vec![false; self.outside + 1];
        let mut left = vec![from];
        while let Some(node) = left.pop() {
            if std::mem::replace(&mut reached[node], true) {
                continue;
            }
            for (index, passage) in self.network.passages.iter().enumerate() {
                let (a, b) = (self.node(passage.from), self.node(passage.to));
                if may_walk(index) && (a == node || b == node) {
                    left.push(if a == node { b } else { a });
                }
            }
        }
        reached
    }

    /// Whether a passage lies on no way round.
    fn is_bridge(&self, index: usize) -> bool {
        let passage = &self.network.passages[index];
        let (a, b) = (self.node(passage.from), self.node(passage.to));
        a != b && !self.reached(a, |other| other != index)[b]
    }
}

/// Whether the air of a chamber stands whatever drives the car: for each chamber the others among which it may go round at
/// most, itself among them; none where there is a way from outside to outside.
fn shut_in(network: &Network) -> Vec<Option<Vec<usize>>> {
    let graph = ChamberGraph::new(network);
    let bridges: Vec<bool> = (0..network.passages.len()).map(|index| graph.is_bridge(index)).collect();
    let round = |chamber: usize| {
        let reached = graph.reached(chamber, |index| !bridges[index]);
        (!reached[graph.outside]).then(|| (0..graph.outside).filter(|other| reached[*other]).collect())
    };
    (0..graph.outside).map(round).collect()
}

/// Refuses heated chambers whose air stands indefinitely between walls that take nothing.
pub(super) fn refuse(case: &Case, network: &Network, faults: &mut Diagnostics) {
    let walls = |chamber: usize| network.chambers[chamber].skin_conductance;
    let heated = case.engine.map(&e::HEAT).iter().filter(|(_, id)| case.numbers.value(*id) > 0.0);
    let heated: Vec<(&String, usize)> = heated
        .filter_map(|(name, _)| case.chamber(name).map(|chamber| (name, chamber)))
        .filter(|(_, chamber)| walls(*chamber) <= 0.0)
        .collect();
    if heated.is_empty() {
        return;
    }
    let all = shut_in(network);
    for (name, chamber) in heated {
        let Some(group) = &all[chamber] else { continue };
        // what a fan drives round takes the heat to the walls of the others
        let driven = network.passages.iter().any(|passage| {
            let within =
                |end: PassageEnd| matches!(end, PassageEnd::Chamber(chamber) if group.contains(&chamber));
            let mut laws = network.laws[passage.elements.clone()].iter();
            within(passage.from) && within(passage.to) && laws.any(|law| law.as_fan().is_some())
        });
        let taken = if driven { group.iter().map(|chamber| walls(*chamber)).sum() } else { walls(chamber) };
        if taken > 0.0 {
            continue;
        }
        faults.push(Diagnostic::new(
            "heat-shut-in",
            format!(
                "the air in {name:?} is heated and has no way through: one passage joins it to the rest, so that no air can flow, and its walls take no heat"
            ),
            FaultPlace::from(case.engine.place_of(&e::HEAT)),
            format!("write a second way (an exit, a leak), or what its walls let through: [chamber.{name:?}] skin_conductance = \"2 W/K\""),
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::Chamber;

    const BOX: &str = r#"
format = 1
[day]
[engine]
displacement = "500 cm3"
power = [["2000 rpm", "9 kW"], ["5000 rpm", "22 kW"]]
[engine.heat]
box = "1 %"
[[passage]]
name = "scoop"
from = "outside"
to = "box"
element = [{ kind = "ram-inlet", area = "40 cm2", recovery = 0.9 }]
[[condition]]
name = "bend"
speed = "60 km/h"
rpm = "4000 rpm"
"#;

    #[test]
    fn a_heated_box_with_one_opening_needs_walls_that_take_its_heat() {
        let made = |more: &str| {
            let loaded = crate::case::load(&format!("{BOX}{more}"), &[]).expect("it can be read");
            crate::point::Model::new(&loaded.case).err().map(|faults| faults.list().to_vec())
        };
        let closed = "[chamber.box]\nskin_conductance = \"0 W/K\"\n";
        let faults = made(closed).expect("it is refused");
        assert_eq!(faults.iter().map(|fault| fault.code).collect::<Vec<_>>(), ["heat-shut-in"]);
        assert!(faults[0].message.contains("\"box\"") && faults[0].what_to_do.contains("skin_conductance"));
        assert_eq!(made(&closed.replace("0 W/K", "2 W/K")), None);
        let slot = "[[passage]]\nname = \"slot\"\nfrom = \"box\"\nto = \"outside\"\nelement = [{ kind = \"exit\", area = \"40 cm2\" }]\n";
        assert_eq!(made(&format!("{closed}{slot}")), None);
    }

    /// A network of `chambers` with passages between nodes; the number of chambers stands for outside.
    fn network(chambers: usize, passages: &[(usize, usize)]) -> Network {
        let mut network = Network::new(vec![Chamber { skin_conductance: 0.0 }; chambers], Vec::new());
        let end =
            |node: usize| if node == chambers { PassageEnd::Outside } else { PassageEnd::Chamber(node) };
        for (from, to) in passages {
            network.add_passage(end(*from), end(*to), Vec::new(), None);
        }
        network
    }

    #[test]
    fn a_way_round_is_what_air_needs() {
        // one opening; two openings; a row of two chambers with one opening each; the same with one opening in all
        assert_eq!(shut_in(&network(1, &[(1, 0)])), [Some(vec![0])]);
        assert_eq!(shut_in(&network(1, &[(1, 0), (0, 1)])), [None]);
        assert_eq!(shut_in(&network(2, &[(2, 0), (0, 1), (1, 2)])), [None, None]);
        assert_eq!(shut_in(&network(2, &[(2, 0), (0, 1)])), [Some(vec![0]), Some(vec![1])]);
        // two passages between two chambers, of which one is open: round and round at most
        assert_eq!(shut_in(&network(2, &[(2, 0), (0, 1), (0, 1)])), [Some(vec![0, 1]), Some(vec![0, 1])]);
        // a chamber beside a way through
        assert_eq!(shut_in(&network(2, &[(2, 0), (0, 2), (1, 0)])), [None, Some(vec![1])]);
    }
}
