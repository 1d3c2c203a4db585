//! Spreading, stacking, clipping, dashing, hatching.

use super::samples::Made;
use crate::output::scene::geometry::{Rect, clip_line, dashes, samples};
use crate::output::scene::hatch;
use crate::output::scene::place::{rows, spread};

/// Reference: scipy 1.17.1, `optimize.isotonic_regression` on the shifted places, and `optimize.minimize` (SLSQP) on the
/// least-squares problem itself; both give these places.
#[test]
fn spread_is_the_least_squares_answer() {
    let boxes =
        [(10.0, 15.0), (12.0, 15.0), (13.0, 30.0), (50.0, 15.0), (51.0, 15.0), (90.0, 15.0), (20.0, 15.0)];
    let reference = [7.5, 24.5, 49.0, 90.5, 107.5, 124.5, 73.5];
    for (found, expected) in spread(&boxes, 0.0, 200.0, 2.0).iter().zip(reference) {
        assert!((found - expected).abs() < 1e-9, "{found} instead of {expected}");
    }
}

#[test]
fn spread_boxes_never_touch_and_stay_within() {
    let mut made = Made(7);
    for _ in 0..500 {
        let count = 1 + made.below(12);
        let boxes: Vec<(f64, f64)> =
            (0..count).map(|_| (made.part() * 300.0, 10.0 + made.part() * 20.0)).collect();
        let needed: f64 = boxes.iter().map(|b| b.1 + 2.0).sum();
        let (low, high) = (20.0, 20.0 + needed + made.part() * 100.0);
        let centres = spread(&boxes, low, high, 2.0);
        let mut ends: Vec<(f64, f64)> =
            boxes.iter().zip(&centres).map(|(b, c)| (c - b.1 / 2.0, c + b.1 / 2.0)).collect();
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert!(ends[0].0 >= low - 1e-9 && ends[count - 1].1 <= high + 1e-9);
        assert!(ends.windows(2).all(|pair| pair[1].0 - pair[0].1 >= 2.0 - 1e-9), "{ends:?}");
    }
}

#[test]
fn rows_hold_no_overlaps() {
    let intervals = [(0.0, 10.0), (5.0, 15.0), (12.0, 20.0), (14.0, 30.0), (16.0, 18.0)];
    assert_eq!(rows(&intervals, 1.0), vec![0, 1, 0, 2, 1]);
}

#[test]
fn clipped_lines_stay_inside_and_keep_what_was_inside() {
    let frame = Rect::new(0.0, 0.0, 10.0, 10.0);
    // In through the left side, out through the top, back in, and a piece that misses the corner.
    let line = [(-5.0, 5.0), (5.0, 5.0), (5.0, -5.0), (8.0, -5.0), (8.0, 5.0), (14.0, 9.0), (9.0, 14.0)];
    let pieces = clip_line(&line, &frame);
    assert_eq!(pieces.len(), 2);
    assert_eq!(pieces[0], vec![(0.0, 5.0), (5.0, 5.0), (5.0, 0.0)]);
    assert_eq!(pieces[1][0], (8.0, 0.0));
    assert!(pieces.iter().flatten().all(|p| frame.grown(1e-9).holds(*p)));
}

#[test]
fn dashes_carry_their_share_of_the_line() {
    // Along a bent line of length 7 · 40 with a pattern of 7 (4 + 2 drawn) exactly six sevenths are drawn.
    let line = [(0.0, 0.0), (100.0, 0.0), (100.0, 180.0)];
    let drawn: f64 = dashes(&line, &[4.0, 0.5, 2.0, 0.5])
        .iter()
        .flat_map(|piece| {
            piece.windows(2).map(|p| (p[1].0 - p[0].0).hypot(p[1].1 - p[0].1)).collect::<Vec<_>>()
        })
        .sum();
    assert!((drawn - 280.0 * 6.0 / 7.0).abs() < 1e-6, "{drawn}");
}

#[test]
fn samples_are_never_farther_apart_than_asked() {
    let line = [(0.0, 0.0), (100.0, 3.0), (100.0, 3.0), (40.0, 90.0)];
    let found = samples(&line, 6.0);
    assert!(found.windows(2).all(|p| (p[1].0 - p[0].0).hypot(p[1].1 - p[0].1) <= 6.0 + 1e-9));
    assert_eq!(found.last(), Some(&(40.0, 90.0)));
}

/// Cavalieri: lines across a figure at even spacing have a total length of its area over the spacing. The figure is hollow, so that
/// the even-odd rule is tried too; its area is by the shoelace rule (Gauss).
#[test]
fn hatch_lines_measure_the_area() {
    let outline = [(10.0, 10.0), (210.0, 30.0), (190.0, 160.0), (120.0, 60.0), (60.0, 170.0)];
    let area: f64 = (0..5)
        .map(|i| {
            let (a, b) = (outline[i], outline[(i + 1) % 5]);
            (a.0 * b.1 - b.0 * a.1) / 2.0
        })
        .sum::<f64>()
        .abs();
    for degrees in [0.0, 45.0, 90.0, 135.0] {
        let apart = 0.25;
        let length: f64 = hatch::lines(&outline, degrees, apart, false)
            .iter()
            .map(|line| (line[1].0 - line[0].0).hypot(line[1].1 - line[0].1))
            .sum();
        // Within what the two end lines of the sum can be off.
        assert!((length * apart / area - 1.0).abs() < 2e-3, "{degrees}°: {} of {area}", length * apart);
    }
}

/// Joined lines visit the same crossings as the lines one by one.
#[test]
fn joined_hatch_draws_every_line() {
    let outline = [(0.0, 0.0), (300.0, 20.0), (300.0, 32.0), (0.0, 8.0)];
    let apart = 7.0;
    let single = hatch::lines(&outline, 45.0, apart, false);
    let joined = hatch::lines(&outline, 45.0, apart, true);
    let drawn =
        |point: (f64, f64)| joined.iter().flatten().any(|p| (p.0 - point.0).hypot(p.1 - point.1) < 1e-9);
    assert!(joined.len() < single.len() / 4);
    assert!(single.iter().flatten().all(|point| drawn(*point)));
}

/// The joins between lines lie along the outline, also at a dent: nowhere does the long line cross the open.
#[test]
fn joined_hatch_cuts_no_corner() {
    // A saw-toothed band with upright steps, as gear changes make them.
    let teeth = [(0.0, 60.0), (80.0, 20.0), (80.0, 55.0), (160.0, 10.0), (162.0, 50.0), (240.0, 5.0)];
    let mut outline = teeth.to_vec();
    outline.extend(teeth.iter().rev().map(|p| (p.0, p.1 + 9.0)));
    let from_side = |p: (f64, f64), i: usize| {
        let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let t = (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy)).clamp(0.0, 1.0);
        (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
    };
    let mut joins = 0;
    for degrees in [0.0, 45.0, 90.0, 135.0] {
        for line in hatch::lines(&outline, degrees, 7.0, true) {
            // Line, join, line, join, …: each join by its middle.
            for pair in line.windows(2).skip(1).step_by(2) {
                let middle = ((pair[0].0 + pair[1].0) / 2.0, (pair[0].1 + pair[1].1) / 2.0);
                let off = (0..outline.len()).map(|i| from_side(middle, i)).fold(f64::INFINITY, f64::min);
                assert!(off <= 0.75, "{degrees}°: a join {off} from the outline at {middle:?}");
                joins += 1;
            }
        }
    }
    assert!(joins > 20, "{joins}");
}
