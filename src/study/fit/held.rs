//! Tests that were read before temperatures stood.

use super::result::HeldShort;
use crate::point::Model;
use crate::readings::Quantity;
use crate::readings::taken::Readings;
use crate::study::lap::settle::settles;

/// Tests held for less than their temperatures take to stand, with the values taken: what was read there is no steady state.
/// Where the case does not say what its parts store, nobody knows.
pub fn too_short(readings: &Readings) -> Vec<HeldShort> {
    let steady = readings.tests.iter().filter(|test| !test.bench && test.run.is_none());
    let each = steady.filter_map(|test| {
        let held = test.held?;
        let of_part = |what| matches!(what, Quantity::Part(_));
        test.readings.iter().any(|taken| of_part(taken.reading.what)).then_some(())?;
        let case = &readings.scenes[test.scene].case;
        let model = Model::new(case).ok()?;
        let settles = settles(&model, &test.at.operation(case, &model))?;
        (held < settles).then(|| HeldShort { test: test.name.clone(), held_s: held, settles_s: settles })
    });
    each.collect()
}
