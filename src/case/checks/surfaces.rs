//! Fins and cores: measured figures, or what they are found from.

use super::{Checking, in_a_row};
use crate::element::core::RATED;
use crate::element::fins::{
    self, BAFFLED, CONDUCTANCE, CONDUCTIVITY, CYLINDERS, FIN_PITCH, PRESSURE_DROP, PRESSURE_FACTOR,
    REFERENCE_FLOW, SURFACE_FACTOR,
};
use crate::element::size::{AREA, DIAMETER, HEIGHT, WIDTH};
use crate::keys::{Key, Values};

impl Checking<'_> {
    /// Looks at an element whose table knows fins' dimensions.
    pub(super) fn surfaces(&mut self, element: &Values) {
        if element.keys.iter().any(|key| key.name == FIN_PITCH.name) {
            self.fins(element);
        }
        if element.keys.iter().any(|key| key.name == RATED.name) {
            self.core(element);
        }
    }

    /// What is not measured is found on the face, whose size must then be known.
    fn core(&mut self, element: &Values) {
        if element.written(&CONDUCTANCE) && !element.written(&REFERENCE_FLOW) {
            self.fault(
                "key-missing",
                format!("{} has no reference_flow", element.address),
                element.place.clone(),
                format!("give reference_flow: {}", REFERENCE_FLOW.help),
            );
        }
        let found = [&CONDUCTANCE, &PRESSURE_DROP].into_iter().find(|key| !element.written(key));
        let sized = [&AREA, &WIDTH, &HEIGHT, &DIAMETER].into_iter().any(|key| element.written(key));
        if let (Some(found), false) = (found, sized) {
            self.fault(
                "size-missing",
                format!("{} has no {}, which is then found on its face, and no size", element.address, found.name),
                element.place.clone(),
                "give the face of one core: width and height, or area; or reference_flow, conductance and pressure_drop as measured",
            );
        }
    }

    fn fins(&mut self, element: &Values) {
        let written = |key: &&Key| element.written(key);
        let dimensions: Vec<&Key> = fins::DIMENSIONS.into_iter().filter(written).collect();
        let beside = [&CYLINDERS, &CONDUCTIVITY, &BAFFLED, &SURFACE_FACTOR, &PRESSURE_FACTOR];
        let geometry = dimensions.first().copied().or_else(|| beside.into_iter().find(written));
        let Some(first) = geometry else {
            return self.figures(element);
        };
        for key in [&CONDUCTANCE, &PRESSURE_DROP].into_iter().filter(written) {
            self.fault(
                "said-twice",
                format!(
                    "{}: {} is written, and is found from the fins' geometry ({}) too",
                    element.address, key.name, first.name
                ),
                element.place_of(key),
                "keep the measured figures or the geometry; what was measured can correct what is found by surface_factor and pressure_factor",
            );
        }
        let missing: Vec<&str> =
            fins::DIMENSIONS.into_iter().filter(|key| !element.written(key)).map(|key| key.name).collect();
        if !missing.is_empty() {
            self.fault(
                "fins-incomplete",
                format!("{} gives {} and not {}", element.address, first.name, in_a_row(&missing)),
                element.place_of(first),
                format!(
                    "give {} too, or reference_flow, conductance and pressure_drop instead of the geometry",
                    in_a_row(&missing)
                ),
            );
        }
    }

    /// Without geometry all three measured figures are needed.
    fn figures(&mut self, element: &Values) {
        let needed = [&REFERENCE_FLOW, &CONDUCTANCE, &PRESSURE_DROP];
        for key in needed.into_iter().filter(|key| !element.written(key)) {
            self.fault(
                "key-missing",
                format!("{} has no {}", element.address, key.name),
                element.place.clone(),
                format!(
                    "give {}: {}; or the fins' geometry instead (fin_pitch and what goes with it)",
                    key.name, key.help
                ),
            );
        }
    }
}
