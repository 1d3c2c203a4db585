//! Textbook pipe networks of water, solved by the network solver: its equations know no difference but
//! the density, as long as the loss coefficients are given.

use crate::published::support::{FREE_FALL_FEET, circle_area, dry_air, within};
use slowcorner::element::{ConstantLoss, FreeStream, Law, Resistance};
use slowcorner::network::{BoundaryConditions, Chamber, Network, NetworkState, PassageEnd, Solver};

const FOOT: f64 = 0.3048;

#[test]
fn munson_example_8_14_three_reservoirs() {
    // Munson, Young, Okiishi & Huebsch, Fundamentals of Fluid Mechanics, example 8.14, p. 462, printed:
    // 12.5, 2.26 and 10.3 ft3/s. Pipes from memory: 1 ft, f 0.02, 1000, 500 and 400 ft long, from
    // levels of 100, 20 and 0 ft to one junction; all digits 12.506, 2.233, 10.274 (scipy). The printed
    // 2.26 carries the rounding of three velocities, 1.2 %. The pipes' ends cost nothing in the book,
    // here each costs one velocity head of itself, which is taken off f L/D.
    // Allowed: the last of all digits; of the print its own rounding.
    let area = circle_area(FOOT);
    let density = 1000.0;
    let head = |feet: f64| density * FREE_FALL_FEET * FOOT * feet * FOOT;
    let mut network = Network::new(vec![Chamber { skin_conductance: 0.0 }], Vec::new());
    for (level, length) in [(100.0, 1000.0), (20.0, 500.0), (0.0, 400.0)] {
        let resistance = Resistance::constant(0.02 * length - 1.0, area);
        let pipe = Law::Loss(ConstantLoss { area_of_one: area, pieces: 1.0, resistance });
        network.add_passage(
            PassageEnd::Reservoir(head(level)),
            PassageEnd::Chamber(0),
            vec![(pipe, None)],
            None,
        );
    }
    // a gas of that density: nothing here is compressible
    let moment = FreeStream::new(dry_air(density * 287.052874 * 300.0, 300.0), 0.0, 0.0, 1.0, 0.0);
    network.prepare(&moment, &[0.0; 3]);
    let load = BoundaryConditions::new(&moment, &network);
    let mut state = NetworkState::first_guess(&network, &load);
    let residual = Solver::new(&network).solve(&network, &load, &mut state).expect("solved");
    assert!(residual <= 1e-9);
    let flows: Vec<f64> = state.flow.iter().map(|flow| flow / density / FOOT.powi(3)).collect();
    for (flow, all_digits, printed, rounding) in
        [(flows[0], 12.506, 12.5, 0.05), (-flows[1], 2.233, 2.26, 0.035), (-flows[2], 10.274, 10.3, 0.05)]
    {
        within("ft3/s, all digits", flow, all_digits, 0.001);
        within("ft3/s", flow, printed, rounding);
    }
}
