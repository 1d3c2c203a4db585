//! How the reference figures of fins and cores came to be, where they were found and not measured.

use super::figure;
use super::inputs::{found, of_keys, of_table};
use super::result::{FormulaInput, WhyLink};
use crate::case::Case;
use crate::element::core::{self, Basis, EFFECTIVENESS, FACE_SPEED, RATED};
use crate::element::{Law, fins};
use crate::keys::{Key, Values};

/// Where the conductance at the reference flow is from; none where it is written.
pub(super) fn reference(case: &Case, values: &Values, law: &Law, short: &str) -> Option<WhyLink> {
    if let Some(fins) = law.as_fins() {
        return fins.found().map(|found| of_fins(case, values, found, short));
    }
    let rated = law.as_core()?.found().filter(|found| found.basis != Basis::Written);
    rated.map(|found| of_core(case, values, found, short))
}

fn of_fins(case: &Case, values: &Values, at: &fins::FinPiece, short: &str) -> WhyLink {
    let beside: [&Key; 5] = [
        &fins::CYLINDERS,
        &fins::CONDUCTIVITY,
        &fins::SURFACE_FACTOR,
        &fins::REFERENCE_DENSITY,
        &fins::REFERENCE_FLOW,
    ];
    let mut inputs = of_keys(case, values, &fins::DIMENSIONS);
    inputs.extend(of_keys(case, values, &beside));
    inputs.push(reference_flow(at.flow));
    inputs.push(found("Reynolds number between the fins", format!("{:.0}", at.state.reynolds)));
    inputs.push(found("surface coefficient", figure(at.state.coefficient, "W/(m² K)")));
    inputs.push(found("fin efficiency", format!("{:.0} %", 100.0 * at.state.efficiency)));
    let (law, source) = if at.cylinder.baffled {
        ("h of a short flat slot between two fins", "Shah & London (1978), Hausen (1943), Gnielinski (1976)")
    } else {
        ("h of a finned cylinder in a free stream", "Gibson (1920)")
    };
    WhyLink {
        what: format!("conductance of {short} at its reference flow, one piece"),
        formula: format!("UA₀ = h (η A_fins + A_barrel), {law}, η of an annular fin"),
        source: format!("{source}; Incropera & DeWitt, ch. 3"),
        inputs,
        result: format!("{}, n = {:.2}", figure(at.conductance, "W/K"), at.conductance_exponent),
    }
}

fn of_core(case: &Case, values: &Values, at: &core::PieceRating, short: &str) -> WhyLink {
    let mut inputs = values.table(&RATED).map_or_else(Vec::new, |table| of_table(case, table));
    inputs.extend(of_keys(case, values, &[&EFFECTIVENESS, &FACE_SPEED, &fins::REFERENCE_DENSITY]));
    inputs.push(reference_flow(at.flow));
    inputs.push(found("capacity flow of the oil", figure(at.oil, "W/K")));
    if let Some((effectiveness, units)) = at.effectiveness {
        inputs.push(found("effectiveness", format!("{:.0} %", 100.0 * effectiveness)));
        inputs.push(found("transfer units", format!("{units:.2}")));
    }
    WhyLink {
        what: format!("conductance of {short} at its reference flow, one piece"),
        formula: "ε = Q/(C_min ΔT), UA₀ = NTU(ε) C_min, cross-flow".into(),
        source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, ch. 11".into(),
        inputs,
        result: figure(at.conductance, "W/K"),
    }
}

fn reference_flow(flow: f64) -> FormulaInput {
    found("reference flow", figure(flow, "kg/s"))
}
