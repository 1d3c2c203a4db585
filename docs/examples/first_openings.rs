//! Openings of an engine of which only the power is known.
//!
//! `cargo run --example first_openings`

pub fn main() -> Result<(), slowcorner::CaseError> {
    for moment in slowcorner::estimate(&[("power", "30 kW"), ("displacement", "850 cm3")])? {
        println!(
            "{}: {:.1} kW to reject, {:.2} kg/s of air, inlets of {:.0} cm² ({:.0} to {:.0})",
            moment.name,
            1e-3 * moment.heat_W.likely,
            moment.mass_flow_kg_s.likely,
            1e4 * moment.inlet_m2.likely,
            1e4 * moment.inlet_m2.low,
            1e4 * moment.inlet_m2.high,
        );
    }
    Ok(())
}
