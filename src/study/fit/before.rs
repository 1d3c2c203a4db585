//! What was to be expected before anything was read: the bands of the test card.

use super::forward::moments;
use crate::readings::Reading;
use crate::readings::expected::{ExpectedReading, LookedCase, ReadingWanted, expected as of_cars};
use crate::readings::taken::Readings;

/// What each reading was to be expected to show, in the order of the file.
pub(super) fn expected(readings: &Readings) -> Option<Vec<ExpectedReading>> {
    let (moments, places) = moments(readings);
    let all = readings.tests.iter().enumerate();
    let all = all.flat_map(|(test, own)| own.readings.iter().map(move |taken| (test, taken)));
    // scenes in which nothing was read are left out
    let scenes =
        readings.scenes.iter().zip(moments).map(|(scene, moments)| LookedCase { case: &scene.case, moments });
    let asked = all.zip(&places).map(|((test, taken), (scene, moment, _))| ReadingWanted {
        scene: *scene,
        reading: Reading { what: taken.reading.what, moment: *moment },
        test,
        tool: taken.tool,
        instrument: taken.instrument,
    });
    of_cars(&scenes.collect::<Vec<_>>(), &asked.collect::<Vec<_>>(), &readings.model_error)
}
