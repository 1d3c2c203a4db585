//! The map and its lines of equal margin against direct solutions.

use super::{QUARRY, TRIKE, read, solved, study};
use slowcorner::numerics::contour::ValueGrid;
use slowcorner::point::opening::Opening;
use slowcorner::study::exits::result::Map;

/// The least distance to a limit with inlets and exits scaled by factors on what is drawn (K).
fn direct(text: &str, inlets: (&[&str], f64), exits: (&[&str], f64), at: &[&str]) -> f64 {
    let mut case = read(text, &[]).case;
    for (names, factor) in [inlets, exits] {
        for name in names {
            let opening = Opening::find(&case, name, None).expect("an opening");
            let size = opening.area() * factor;
            opening.set(&mut case, size);
        }
    }
    super::least_kelvin(&solved(&case), at)
}

fn grid(map: &Map) -> ValueGrid {
    let values = map.least_temperature_margin_K.iter().flatten().map(|v| v.unwrap_or(f64::NAN)).collect();
    ValueGrid::new(map.exit_area_m2.clone(), map.inlet_area_m2.clone(), values).expect("a grid")
}

/// Points along the lines lie at the margin they are labelled with. Straight between nodes, the value is off by an
/// eighth of the second difference at most: 0.4 K for these levels, far more only in the trap, where lines are
/// therefore not looked at.
#[test]
fn lines_lie_where_the_margin_is_what_they_say() {
    type Named = &'static [&'static str];
    let cases: [(&str, Named, Named, Named); 2] = [
        (
            QUARRY,
            &["heads", "oil cooler"],
            &["left exit", "right exit"],
            &["hairpin", "following", "straight"],
        ),
        (TRIKE, &["scoop", "oil cooler"], &["tail slot"], &["barrel", "causeway"]),
    ];
    for (text, inlets, exits, at) in cases {
        let map = study(text).map.expect("a map");
        let drawn = map.as_drawn_m2;
        let mut tried = 0;
        for level in [0.0, 10.0] {
            for line in grid(&map).lines(level) {
                for (exit, inlet) in line.points.iter().step_by(4) {
                    let kelvin = direct(text, (inlets, inlet / drawn.0), (exits, exit / drawn.1), at);
                    assert!((kelvin - level).abs() < 0.4, "{level} K at {exit}, {inlet}: {kelvin}");
                    tried += 1;
                }
            }
        }
        assert!(tried > 12, "{tried}");
    }
}

#[test]
fn nodes_are_direct_solutions_and_none_is_missing() {
    let map = study(QUARRY).map.expect("a map");
    assert!(map.least_temperature_margin_K.iter().flatten().all(Option::is_some));
    let (rows, columns) = (map.inlet_area_m2.len(), map.exit_area_m2.len());
    for (row, column) in [(0, 0), (rows / 2, 7), (rows - 1, columns - 1), (5, columns / 2)] {
        let kelvin = direct(
            QUARRY,
            (&["heads", "oil cooler"], map.inlet_area_m2[row] / map.as_drawn_m2.0),
            (&["left exit", "right exit"], map.exit_area_m2[column] / map.as_drawn_m2.1),
            &["hairpin", "following", "straight"],
        );
        let node = map.least_temperature_margin_K[row][column].expect("solved");
        assert!((node - kelvin).abs() < 1e-4, "{node} for {kelvin}");
    }
}
