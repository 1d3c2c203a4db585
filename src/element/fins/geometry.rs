//! What the fins' own dimensions say of their conductance and pressure drop.

use super::{
    CONDUCTANCE_EXPONENT, ElementContext, PRESSURE_EXPONENT, REFERENCE_DENSITY, REFERENCE_FLOW, Surface,
};
use crate::correlations::finned_cylinder::{Cylinder, FinState};
use crate::keys::{Key, Kind, Range, Rule, RuleWords, ValueShape, View};

/// From one fin to the next.
pub const FIN_PITCH: Key = Key::optional(
    "fin_pitch",
    Kind::Length,
    Range::between(0.001, 0.06),
    "from one fin to the next, thickness included: measure over ten",
)
.rules(&[
    Rule::Told(&Rule::Without("conductance", &["fin_pitch"]), &FOUND_TOO),
    Rule::Told(&Rule::Without("pressure_drop", &["fin_pitch"]), &FOUND_TOO),
    Rule::Told(
        &Rule::Together(&["fin_pitch", "fin_thickness", "fin_length", "root_diameter", "fin_count"]),
        &INCOMPLETE,
    ),
    Rule::Told(
        &Rule::AtLeastOneSet(&[&["reference_flow", "conductance", "pressure_drop"], &["fin_pitch"]]),
        &RuleWords::new(
            "key-missing",
            "{table} has no {other}",
            "give {help}; or the fins' geometry instead (fin_pitch and what goes with it)",
        )
        .as_missing(),
    ),
]);
/// A measured figure beside the geometry.
const FOUND_TOO: RuleWords = RuleWords::new(
    "said-twice",
    "{table}: {given} is written, and is found from the fins' geometry ({other}) too",
    "keep the measured figures or the geometry; what was measured can correct what is found by surface_factor and pressure_factor",
);
/// Some of the geometry without the rest.
const INCOMPLETE: RuleWords = RuleWords::new(
    "fins-incomplete",
    "{table} gives {first given} and not {other}",
    "give {other} too, or reference_flow, conductance and pressure_drop instead of the geometry",
);
pub const FIN_THICKNESS: Key = Key::optional(
    "fin_thickness",
    Kind::Length,
    Range::between(0.0003, 0.03),
    "thickness of a fin, the mean of root and tip",
);
/// Height of a fin.
pub const FIN_LENGTH: Key = Key::optional(
    "fin_length",
    Kind::Length,
    Range::between(0.003, 0.12),
    "how far a fin stands out from barrel or head, the mean around it",
);
/// Diameter at the root.
pub const ROOT_DIAMETER: Key = Key::optional(
    "root_diameter",
    Kind::Length,
    Range::between(0.015, 0.4),
    "diameter of the barrel at the fins' root; of a head that is not round, a string's length around it over 3.14",
);
/// Fins of one cylinder.
pub const FIN_COUNT: Key =
    Key::optional("fin_count", Kind::Count, Range::between(1.0, 200.0), "fins of one cylinder or head");
/// Cylinders side by side.
pub const CYLINDERS: Key = Key::default(
    "cylinders",
    Kind::Count,
    (1.0, 1.0, 1.0),
    Range::between(1.0, 24.0),
    "one, unless said otherwise",
    "cylinders side by side that share this element's air",
)
.rules(&[Rule::OnlyWith("fin_pitch"), Rule::Told(&Rule::Needs("cylinders", &["fin_pitch"]), &INCOMPLETE)]);
/// Conductivity of the fins.
pub const CONDUCTIVITY: Key = Key::default(
    "conductivity",
    Kind::Conductivity,
    (160.0, 120.0, 190.0),
    Range::between(10.0, 420.0),
    "cast aluminium alloys; cast iron about 50, steel 45 (from memory)",
    "thermal conductivity of the fins' metal; ask what alloy it is",
)
.rules(&[Rule::OnlyWith("fin_pitch"), Rule::Told(&Rule::Needs("conductivity", &["fin_pitch"]), &INCOMPLETE)]);
/// Whether a sheet leads the air round.
pub const BAFFLED: Key = Key::open(
    "baffled",
    ValueShape::Flag,
    "whether a sheet close to the fin tips leads the air round to the back; left out: true",
)
.rules(&[Rule::Told(&Rule::Needs("baffled", &["fin_pitch"]), &INCOMPLETE)]);
/// Correction of the surface coefficient.
pub const SURFACE_FACTOR: Key = Key::default(
    "surface_factor",
    Kind::Ratio,
    (1.0, 0.75, 1.3),
    Range::between(0.2, 4.0),
    "scatter of published surface coefficients of finned cylinders (from memory)",
    "multiplies the surface coefficient found from geometry; measure with thermometers: part, air before, air behind, at a known flow",
)
.rules(&[Rule::OnlyWith("fin_pitch"), Rule::Told(&Rule::Needs("surface_factor", &["fin_pitch"]), &INCOMPLETE)]);
/// Correction of the pressure drop.
pub const PRESSURE_FACTOR: Key = Key::default(
    "pressure_factor",
    Kind::Ratio,
    (1.0, 0.7, 1.6),
    Range::between(0.2, 5.0),
    "rough cast walls, burrs and baffle ends against a smooth short duct (from memory)",
    "multiplies the pressure drop found from geometry; measure with a U of water before and behind, at a known flow",
)
.rules(&[Rule::OnlyWith("fin_pitch"), Rule::Told(&Rule::Needs("pressure_factor", &["fin_pitch"]), &INCOMPLETE)]);

/// The dimensions that must all be given where one is.
pub const DIMENSIONS: [&Key; 5] = [&FIN_PITCH, &FIN_THICKNESS, &FIN_LENGTH, &ROOT_DIAMETER, &FIN_COUNT];

/// Air speed (m/s) between the fins at which they are reckoned where no reference_flow is written: the middle
/// (geometrically) of the 8 to 50 m/s that ram and fans of road speeds drive through fins.
const REFERENCE_SPEED: f64 = 20.0;
/// Range of the tests behind the formula for fins without a baffle (from memory): length, pitch and diameter (m).
const FREE_STREAM_TESTS: [(&Key, f64, f64); 3] =
    [(&FIN_LENGTH, 0.016, 0.041), (&FIN_PITCH, 0.004, 0.019), (&ROOT_DIAMETER, 0.032, 0.095)];

/// What was found from the fins' geometry, for one piece.
#[derive(Clone, Copy, Debug)]
pub struct FinPiece {
    /// The fins of one cylinder.
    pub cylinder: Cylinder,
    /// Area between all fins (m²).
    pub free_area: f64,
    /// Reference flow (kg/s).
    pub flow: f64,
    /// Density at which speed and pressure drop hold (kg/m³).
    pub density: f64,
    /// The state of one cylinder at the reference flow.
    pub state: FinState,
    /// Conductance at the reference flow (W/K).
    pub conductance: f64,
    pub conductance_exponent: f64,
    /// Pressure drop at the reference flow and density, unheated (Pa).
    pub pressure_drop: f64,
    pub pressure_exponent: f64,
}

impl FinPiece {
    /// The surface of `pieces` of them.
    pub(super) fn surface(&self, pieces: f64) -> Surface {
        Surface {
            reference_flow: self.flow * pieces,
            conductance: self.conductance * pieces,
            conductance_exponent: self.conductance_exponent,
            drop_density: self.pressure_drop * self.density,
            pressure_exponent: self.pressure_exponent,
            area: Some(self.free_area * pieces),
        }
    }

    /// Air speed (m/s) between the fins at a flow (kg/s) through one piece, at the reference density.
    pub fn speed(&self, flow: f64) -> f64 {
        flow / (self.density * self.free_area)
    }

    /// Reynolds number in the spaces between the fins at a flow (kg/s) through one piece.
    pub fn reynolds(&self, flow: f64) -> f64 {
        self.state.reynolds * flow / self.flow
    }
}

/// Finds what the law needs from the fins' geometry.
///
/// Conductance and pressure drop are those at the reference flow, a mean speed of 20 m/s between the fins unless it
/// is written; the exponents are those of the straight line (in logarithms) from half to twice that flow. Fin
/// efficiency falls as the coefficient rises, so that the conductance has a lower exponent than the coefficient.
///
/// The velocity between the fins is lost behind them, once: by the passage's last velocity head where the fins are
/// its last element, else here (K = 1), or by Borda and Carnot up to the element's size where that is written.
pub(super) fn find(context: &mut ElementContext, view: &View) -> Option<FinPiece> {
    let cylinder = Cylinder {
        pitch: view.required(&FIN_PITCH),
        thickness: view.required(&FIN_THICKNESS),
        length: view.required(&FIN_LENGTH),
        diameter: view.required(&ROOT_DIAMETER),
        fins: view.required(&FIN_COUNT),
        conductivity: view.required(&CONDUCTIVITY),
        baffled: !view.values.has(&BAFFLED) || view.values.flag(&BAFFLED),
    };
    if cylinder.thickness >= cylinder.pitch {
        let (thickness, pitch) = (Kind::Length.show(cylinder.thickness), Kind::Length.show(cylinder.pitch));
        context.fault(
            "fins-without-space",
            Some(&FIN_THICKNESS),
            format!("fins {thickness} thick at a pitch of {pitch} leave no space for the air"),
            "check both: fin_pitch goes from one fin to the next, thickness included".to_string(),
        );
        return None;
    }
    let cylinders = view.required(&CYLINDERS);
    let free_area = cylinders * cylinder.free_area();
    let density = view.required(&REFERENCE_DENSITY);
    let flow = view.number(&REFERENCE_FLOW).unwrap_or(density * REFERENCE_SPEED * free_area);
    let flux = flow / free_area;
    let at = |share: f64| cylinder.at(share * flux, density, view.required(&SURFACE_FACTOR));
    let (Some(state), Some(half), Some(twice)) = (at(1.0), at(0.5), at(2.0)) else {
        context.fault(
            "fins-too-close",
            Some(&FIN_LENGTH),
            format!(
                "fins {} long at a pitch of {} without a baffle are beyond the formula for a free stream, by which no air would come between them",
                Kind::Length.show(cylinder.length),
                Kind::Length.show(cylinder.pitch)
            ),
            "check fin_length and fin_pitch; put a baffle round them, or give measured figures".to_string(),
        );
        return None;
    };
    if !cylinder.baffled {
        warn_beyond_tests(context, view);
    }
    let exit = match context.size {
        Some(size) => (1.0 - free_area / size.area).max(0.0).powi(2),
        None if context.last => 0.0,
        None => 1.0,
    };
    let factor = view.required(&PRESSURE_FACTOR);
    let drop = |state: &FinState, share: f64| {
        (factor * state.loss + exit) * (share * flux).powi(2) / (2.0 * density)
    };
    let chord = |half: f64, twice: f64| (twice / half).ln() / 4_f64.ln();
    Some(FinPiece {
        cylinder,
        free_area,
        flow,
        density,
        state,
        conductance: cylinders * state.conductance,
        conductance_exponent: view
            .number(&CONDUCTANCE_EXPONENT)
            .unwrap_or_else(|| chord(half.conductance, twice.conductance)),
        pressure_drop: drop(&state, 1.0),
        pressure_exponent: view
            .number(&PRESSURE_EXPONENT)
            .unwrap_or_else(|| chord(drop(&half, 0.5), drop(&twice, 2.0))),
    })
}

fn warn_beyond_tests(context: &mut ElementContext, view: &View) {
    for (key, low, high) in FREE_STREAM_TESTS {
        let value = view.required(key);
        if value < low || value > high {
            context.warn(
                "fins-beyond-tests",
                Some(key), || (format!(
                    "{} is {}; the tests behind the formula for fins without a baffle ran from {} to {} (from memory)",
                    key.name,
                    Kind::Length.show(value),
                    Kind::Length.show(low),
                    Kind::Length.show(high)
                ), "trust the conductance less, or measure it with thermometers".to_string()));
        }
    }
}
