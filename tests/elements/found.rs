//! Fins from geometry and cores from a rating, held against figures worked out by hand.

use super::stream;
use slowcorner::case::load;
use slowcorner::element::{Law, core, fins};
use slowcorner::point::Model;

const FINS: &str = r#"kind = "fins", part = "heads", fin_pitch = "7 mm", fin_thickness = "2 mm", fin_length = "32 mm", root_diameter = "94 mm", fin_count = 11"#;
const FACE: &str =
    r#"kind = "core", part = "heads", width = "210 mm", height = "140 mm", oil_flow = "11 L/min""#;

/// The element of a passage into the bay, and its neighbours' worth of passage.
fn law(element: &str, behind: &str) -> Law {
    let text = format!(
        r#"format = 1
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "12 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
heads = "10 %"
[part.heads]
limit = "200 degC"
[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{{ kind = "ram-inlet", area = "60 cm2" }}, {{ {element} }}{behind}]
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{{ kind = "exit", area = "200 cm2" }}]
"#
    );
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    model.network.laws[1].clone()
}

fn of_fins(more: &str, behind: &str) -> fins::FinPiece {
    let Law::Fins(law) = law(&format!("{FINS}{more}"), behind) else { panic!("no fins") };
    *law.found().expect("found from geometry")
}

fn of_core(more: &str) -> core::PieceRating {
    let Law::Core(law) = law(&format!("{FACE}{more}"), "") else { panic!("no core") };
    *law.found().expect("found on the face")
}

fn near(what: &str, value: f64, wanted: f64, share: f64) {
    assert!((value / wanted - 1.0).abs() < share, "{what}: {value}, not {wanted}");
}

#[test]
fn fins_at_their_reference_flow() {
    let found = of_fins(", cylinders = 2", "");
    // by hand: 2 cylinders × 2 ways × 11 spaces × 5 mm × 32 mm = 70.4 cm², 20 m/s of air of 1.2 kg/m³
    near("free area", found.free_area, 70.4e-4, 1e-12);
    near("flow", found.flow, 1.2 * 20.0 * 70.4e-4, 1e-12);
    // computed with ht 1.2.0 and fluids 1.3.1 (tests/published/finned_surfaces.rs): of one cylinder 26.980 W/K, K 1.24623
    near("conductance", found.conductance, 2.0 * 26.979_973, 1e-7);
    near("pressure drop", found.pressure_drop, 1.246_230_07 * 24.0 * 24.0 / 2.4, 1e-8);
    // fins of falling efficiency: the conductance rises with less than the coefficient's 0.8
    assert!((0.5..0.75).contains(&found.conductance_exponent), "{}", found.conductance_exponent);
    assert!((1.8..2.0).contains(&found.pressure_exponent), "{}", found.pressure_exponent);
}

#[test]
fn the_law_follows_the_correlation_from_half_to_twice_the_flow() {
    let found = of_fins("", "");
    for (share, allowed) in [(0.5, 0.04), (0.7, 0.03), (1.0, 1e-12), (1.4, 0.03), (2.0, 0.04)] {
        let state = found.cylinder.at(share * 24.0, 1.2, 1.0).expect("a state");
        near(
            "conductance",
            found.conductance * share.powf(found.conductance_exponent),
            state.conductance,
            allowed,
        );
        let drop = state.loss * (share * 24.0_f64).powi(2) / 2.4;
        near("drop", found.pressure_drop * share.powf(found.pressure_exponent), drop, allowed);
    }
}

#[test]
fn speed_between_the_fins_is_lost_once() {
    let head = 24.0 * 24.0 / 2.4;
    let last = of_fins("", "");
    let inside = of_fins("", r#", { kind = "duct", area = "60 cm2", length = "50 mm" }"#);
    near("inside", inside.pressure_drop - last.pressure_drop, head, 1e-9);
    // where the passage ends behind them its last head is that of the area between the fins
    assert_eq!(law(FINS, "").area(), Some(last.free_area));
    assert_eq!(law(FINS, r#", { kind = "duct", area = "60 cm2", length = "50 mm" }"#).area(), None);
    // a written size of twice the area: Borda and Carnot, (1 − ½)²
    let sized = of_fins(r#", area = "70.4 cm2""#, "");
    near("sized", sized.pressure_drop - last.pressure_drop, 0.25 * head, 1e-9);
}

#[test]
fn factors_and_written_exponents_count() {
    let plain = of_fins("", "");
    let found = of_fins(", pressure_factor = 1.5, conductance_exponent = 0.6, pressure_exponent = 1.7", "");
    near("drop", found.pressure_drop, 1.5 * plain.pressure_drop, 1e-12);
    assert_eq!((found.conductance_exponent, found.pressure_exponent), (0.6, 1.7));
    let found = of_fins(r#", surface_factor = 1.3, reference_flow = "0.0844800 kg/s""#, "");
    near("coefficient", found.state.coefficient, 1.3 * plain.state.coefficient, 1e-9);
    // the hotter the surface works, the less of the fins: less than 1.3 times
    assert!((1.15..1.29).contains(&(found.conductance / plain.conductance)));
    let half = of_fins(r#", reference_flow = "0.0422400 kg/s""#, "");
    near("half", half.state.reynolds, 0.5 * plain.state.reynolds, 1e-9);
}

#[test]
fn a_rating_worked_out_by_hand() {
    // 8 m/s on 210 × 140 mm, 1.2 kg/m³: 0.28224 kg/s, · 1006 J/(kg K) = 283.93 W/K of air; 11 L/min of oil of
    // 860 kg/m³ and 2100 J/(kg K): 331.10 W/K. 5.2 kW over 70 K: ε 0.26163, C_r 0.85755. NTU 0.36665 (scipy 1.17.1
    // optimize.brentq on the printed formula), 104.10 W/K.
    let rated = r#", rated = { heat = "5.2 kW", air_speed = "8 m/s", difference = "70 K" }"#;
    let found = of_core(&format!(r#"{rated}, pressure_drop = "240 Pa""#));
    near("flow", found.flow, 0.282_24, 1e-9);
    let (effectiveness, units) = found.effectiveness.expect("by effectiveness");
    near("effectiveness", effectiveness, 0.261_630_734, 1e-8);
    near("transfer units", units, 0.366_647_505, 1e-8);
    near("conductance", found.conductance, 104.103_487, 1e-7);
    // taken at the rated flow
    assert_eq!(found.pressure_drop, 240.0);
    // at the rated flow and difference the law gives the rated heat back, at whatever density; its air holds 1006 J/(kg K)
    let Law::Core(mut core) = law(&format!("{FACE}{rated}"), "") else { panic!("no core") };
    let mut at = stream(found.flow);
    at.heat_capacity = 1006.0;
    slowcorner::element::ElementLaw::prepare(&mut core, &super::moment(0.0), 0.0);
    let response = slowcorner::element::ElementLaw::respond(&core, &at, 300.0, 370.0);
    near("heat", at.heat_capacity * found.flow * (response.outlet - 300.0), 5200.0, 1e-6);
    // a written reference flow belongs to the pressure drop: 240 Pa at half the flow, · 2^1.8
    let found = of_core(&format!(r#"{rated}, pressure_drop = "240 Pa", reference_flow = "0.14112 kg/s""#));
    near("carried", found.pressure_drop, 240.0 * 2_f64.powf(1.8), 1e-9);
    near("the same", found.conductance, 104.103_487, 1e-7);
}

#[test]
fn a_core_known_by_its_face() {
    // 6 m/s: 0.21168 kg/s, 212.95 W/K of air, C_r 0.64316; ε 0.4 at NTU 0.63469 (as above): 135.16 W/K.
    // Pressure drop 10 · ½ · 1.2 · 36 = 216 Pa.
    let found = of_core("");
    near("flow", found.flow, 0.211_68, 1e-9);
    near("conductance", found.conductance, 135.156_998, 1e-7);
    near("pressure drop", found.pressure_drop, 216.0, 1e-9);
    let found = of_core(r#", effectiveness = "55 %", face_speed = "4 m/s", face_loss = 15"#);
    assert!(found.effectiveness.is_some_and(|(share, _)| (share - 0.55).abs() < 1e-12));
    near("pressure drop", found.pressure_drop, 15.0 * 0.6 * 16.0, 1e-9);
}

#[test]
fn what_is_written_is_taken_as_it_is() {
    let Law::Core(core) = law(
        &format!(
            r#"{FACE}, reference_flow = "0.25 kg/s", conductance = "110 W/K", pressure_drop = "260 Pa""#
        ),
        "",
    ) else {
        panic!("no core")
    };
    assert!(core.found().is_none());
    let surface = core.surface();
    assert_eq!(
        (surface.reference_flow, surface.conductance, surface.drop_density),
        (0.25, 110.0, 260.0 * 1.2)
    );
    // without its pressure drop the conductance stays, and the face loses 10 heads at the reference flow
    let found = of_core(r#", reference_flow = "0.25 kg/s", conductance = "110 W/K""#);
    assert_eq!((found.flow, found.conductance), (0.25, 110.0));
    near("pressure drop", found.pressure_drop, 10.0 * (0.25_f64 / 0.0294).powi(2) / 2.4, 1e-9);
}

/// Unheated air at the reference flow loses the pressure drop found, brought from its density to the day's: Δp₀ ρ₀/ρ.
#[test]
fn the_drop_found_holds_at_its_own_density() {
    let there = |law: &Law, flow: f64, drop: f64, density: f64| {
        let response = law.respond(&stream(flow), 310.0, 310.0);
        near("drop", response.drop, drop * density * stream(flow).volume_per_kelvin * 310.0, 1e-6);
    };
    let fins = of_fins("", "");
    there(&law(FINS, ""), fins.flow, fins.pressure_drop, fins.density);
    let more = r#", effectiveness = "55 %", face_speed = "4 m/s", face_loss = 15"#;
    let core = of_core(more);
    there(&law(&format!("{FACE}{more}"), ""), core.flow, core.pressure_drop, core.density);
}
