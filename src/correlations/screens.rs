//! Screens across a duct: woven wire and perforated plate.
//!
//! Every K stands on the gross area of the screen. f is the open fraction: what is left open of
//! that area, square to the flow, after wire, plate and dirt. Formulas and table are Blevins',
//! Applied Fluid Dynamics Handbook (1984), in the form in which the library fluids 1.3.1 gives
//! them with its citations; the book itself was not at hand.

/// Open fraction up to which the wire-screen formula is used in [`woven`].
pub const WIRE_UP_TO: f64 = 0.80;
/// Open fraction from which the open-mesh formula is used in [`woven`].
pub const MESH_FROM: f64 = 0.86;

/// Loss coefficient of a round-wire screen.
///
/// ```text
///   K = 0.52 (1 − f²)/f²
/// ```
///
/// K on the gross area; f = `open_fraction`, 0.05..0.8; Reynolds number on the gap between wires
/// 400 and more (below, the loss is larger).
/// Source: Blevins, Applied Fluid Dynamics Handbook (1984), as given by fluids 1.3.1.
pub fn wire_screen(open_fraction: f64) -> f64 {
    let square = open_fraction * open_fraction;
    0.52 * (1.0 - square) / square
}

/// Loss coefficient of an open round-wire mesh.
///
/// ```text
///   K = 0.67 (1 − f) + 1.3 (1 − f)²
/// ```
///
/// K on the gross area; f = `open_fraction`, 0.85..1; Reynolds number on the wire above 500.
/// Source: Blevins, Applied Fluid Dynamics Handbook (1984), as given by fluids 1.3.1.
pub fn open_mesh(open_fraction: f64) -> f64 {
    let closed = 1.0 - open_fraction;
    closed * (0.67 + 1.3 * closed)
}

/// Loss coefficient of woven wire at any open fraction.
///
/// [`wire_screen`] up to f = 0.80, [`open_mesh`] from 0.86, a straight line in f between: at
/// 0.80 the first gives 0.2925, at 0.86 the second 0.1193, and where they would meet neither is
/// published.
pub fn woven(open_fraction: f64) -> f64 {
    if open_fraction <= WIRE_UP_TO {
        wire_screen(open_fraction)
    } else if open_fraction >= MESH_FROM {
        open_mesh(open_fraction)
    } else {
        let share = (open_fraction - WIRE_UP_TO) / (MESH_FROM - WIRE_UP_TO);
        wire_screen(WIRE_UP_TO) * (1.0 - share) + open_mesh(MESH_FROM) * share
    }
}

/// Open fraction and K of a square-edged plate.
const PLATE: [(f64, f64); 19] = [
    (0.05, 1000.0),
    (0.10, 250.0),
    (0.15, 85.0),
    (0.20, 52.0),
    (0.25, 30.0),
    (0.30, 17.0),
    (0.35, 11.0),
    (0.40, 7.7),
    (0.45, 5.5),
    (0.50, 3.8),
    (0.55, 2.8),
    (0.60, 2.0),
    (0.65, 1.5),
    (0.70, 1.1),
    (0.75, 0.78),
    (0.80, 0.53),
    (0.85, 0.35),
    (0.90, 0.08),
    (1.00, 0.0),
];

/// Loss coefficient of a perforated plate with square edges.
///
/// A table of K against f, read in a straight line between its entries:
///
/// ```text
///   f  .05  .10 .15 .20 .25 .30 .35 .40 .45 .50 .55 .60 .65 .70 .75 .80 .85 .90 1
///   K 1000  250  85  52  30  17  11 7.7 5.5 3.8 2.8 2.0 1.5 1.1 .78 .53 .35 .08 0
/// ```
///
/// K on the gross area; f = `open_fraction`, 0.05..1 (below, the first line is drawn on).
/// Between the lowest entries a straight line lies well above the curve: up to 30 % at 0.07.
/// Source: Blevins, Applied Fluid Dynamics Handbook (1984), as given by fluids 1.3.1.
pub fn perforated_plate(open_fraction: f64) -> f64 {
    let mut i = 0;
    while i + 2 < PLATE.len() && PLATE[i + 1].0 < open_fraction {
        i += 1;
    }
    let ((f0, k0), (f1, k1)) = (PLATE[i], PLATE[i + 1]);
    k0 + (k1 - k0) * (open_fraction - f0) / (f1 - f0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn woven_is_one_falling_curve_without_a_jump() {
        assert!((woven(0.80) - 0.2925).abs() < 1e-12);
        assert!((woven(0.86) - 0.11928).abs() < 1e-12);
        assert!((woven(0.83) - 0.5 * (0.2925 + 0.11928)).abs() < 1e-12);
        let mut before = woven(0.05);
        for i in 1..=950 {
            let here = woven(0.05 + f64::from(i) * 0.001);
            assert!(here < before);
            before = here;
        }
        assert!(woven(1.0).abs() < 1e-12);
    }

    #[test]
    fn plate_gives_its_table_back() {
        for (f, k) in PLATE {
            assert!((perforated_plate(f) - k).abs() < 1e-9, "{f}");
        }
    }
}
