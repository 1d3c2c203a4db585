//! Air networks without heat against a pipe-network library.
//!
//! `networks.json` was computed with pandapipes 0.16.0 (`pandapipes.pipeflow` on a fluid of constant
//! density): boundaries of given pressure, chambers, and edges each of one loss coefficient, its pipe
//! so short (1 µm) that friction is nothing. K holds all losses of an edge, the velocity head at its
//! end among them; here that head is lost of itself, so that the element keeps K − 1.

use serde_json::Value;
use slowcorner::air::Air;
use slowcorner::element::{ConstantLoss, FreeStream, Law, Resistance};
use slowcorner::network::{BoundaryConditions, Chamber, Network, NetworkState, PassageEnd, Solver};

const NETWORKS: &str = include_str!("networks.json");
/// Of the largest flow. Flows are printed to nine digits; a micrometre of pipe has a friction of some
/// 4e-7 (f L/D), beside a K of 1.2 and more, and takes up to 1e-7 of its own edge's flow.
const FLOW: f64 = 5e-8;
/// Of the largest pressure, printed to seven digits.
const PRESSURE: f64 = 2e-7;

struct Solved {
    flows: Vec<f64>,
    pressures: Vec<f64>,
    residual: f64,
}

fn solve(network: &Value) -> Solved {
    let number = |value: &Value| value.as_f64().expect("a number");
    let names: Vec<&str> =
        network["chambers"].as_array().unwrap().iter().map(|c| c.as_str().unwrap()).collect();
    let end = |name: &Value| match names.iter().position(|known| Some(*known) == name.as_str()) {
        Some(chamber) => PassageEnd::Chamber(chamber),
        None => PassageEnd::Reservoir(number(&network["boundary_gauge_Pa"][name.as_str().unwrap()])),
    };
    let mut ours = Network::new(vec![Chamber { skin_conductance: 0.0 }; names.len()], Vec::new());
    for edge in network["edges"].as_array().unwrap() {
        let (k, area) = (number(&edge["K"]) - 1.0, number(&edge["area_m2"]));
        let law = Law::Loss(ConstantLoss {
            area_of_one: area,
            pieces: 1.0,
            resistance: Resistance::constant(k, area),
        });
        ours.add_passage(end(&edge["from"]), end(&edge["to"]), vec![(law, None)], None);
    }
    // dry air of that density: any pressure will do at the temperature that goes with it
    let kelvin = 300.0;
    let air = Air::new(number(&network["density_kg_m3"]) * 287.052874 * kelvin, kelvin, 0.0, 0.0);
    let moment = FreeStream::new(air, 0.0, 0.0, 1.0, 0.0);
    ours.prepare(&moment, &vec![0.0; ours.passages.len()]);
    let load = BoundaryConditions::new(&moment, &ours);
    let mut state = NetworkState::first_guess(&ours, &load);
    let residual = Solver::new(&ours).solve(&ours, &load, &mut state).expect("a solution");
    let pressures = (0..names.len()).map(|chamber| state.pressure(chamber)).collect();
    Solved { flows: state.flow, pressures, residual }
}

#[test]
fn flows_and_pressures_as_a_pipe_network_library_has_them() {
    let file: Value = serde_json::from_str(NETWORKS).unwrap();
    let networks = file["networks"].as_array().unwrap();
    assert_eq!(networks.len(), 8);
    for network in networks {
        let name = &network["name"];
        let ours = solve(network);
        assert!(ours.residual <= 1e-9, "{name}: {}", ours.residual);
        let edges = network["edges"].as_array().unwrap();
        let theirs: Vec<f64> = edges.iter().map(|edge| edge["mass_flow_kg_s"].as_f64().unwrap()).collect();
        let largest = theirs.iter().fold(0.0, |largest: f64, flow| largest.max(flow.abs()));
        for ((edge, ours), theirs) in edges.iter().zip(&ours.flows).zip(&theirs) {
            let off = (ours - theirs).abs() / largest;
            let at = format!("{name}, {} to {}", edge["from"], edge["to"]);
            assert!(off <= FLOW, "{at}: {ours} kg/s for {theirs}, off by {off:.1e}");
        }
        let chambers = network["chamber_gauge_Pa"].as_object().unwrap();
        let largest = chambers.values().fold(0.0, |l: f64, p| l.max(p.as_f64().unwrap().abs()));
        for (chamber, ours) in network["chambers"].as_array().unwrap().iter().zip(&ours.pressures) {
            let theirs = chambers[chamber.as_str().unwrap()].as_f64().unwrap();
            let off = (ours - theirs).abs() / largest;
            assert!(off <= PRESSURE, "{name}, {chamber}: {ours} Pa for {theirs}, off by {off:.1e}");
        }
    }
}
