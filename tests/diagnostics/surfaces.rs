//! Fins by measured figures or by geometry, cores by measured figures, rating or face.

use crate::diagnostics::support::{edit, edited, faults, hold, plain};
use slowcorner::case::load;
use slowcorner::point::Model;

const FINS: &str = r#"reference_flow = "0.28 kg/s", conductance = "70 W/K", pressure_drop = "500 Pa""#;
const CORE: &str = r#"{ kind = "core", part = "oil", area = "300 cm2", reference_flow = "0.24 kg/s", conductance = "105 W/K", pressure_drop = "260 Pa", oil_flow = "11 L/min" }"#;
const GEOMETRY: &str = r#"fin_pitch = "7 mm", fin_thickness = "2 mm", fin_length = "30 mm", root_diameter = "90 mm", fin_count = 10"#;

#[test]
fn fins_and_cores() {
    hold(
        "fins_and_cores",
        &[
            edit(
                FINS,
                r#"fin_pitch = "7 mm", fin_thickness = "2 mm", fin_length = "30 mm", fin_count = 10"#,
                "fins-incomplete",
                r#""7 mm""#,
                "gives fin_pitch and not root_diameter",
            ),
            edit(
                FINS,
                r#"fin_length = "30 mm", root_diameter = "90 mm""#,
                "fins-incomplete",
                r#""30 mm""#,
                "gives fin_length and not fin_pitch, fin_thickness and fin_count",
            ),
            edit(FINS, "baffled = false", "fins-incomplete", "false", "gives baffled and not fin_pitch"),
            edit(
                FINS,
                r#"fin_pitch = "7 mm", fin_thickness = "2 mm", fin_length = "300 mm", root_diameter = "90 mm", fin_count = 10"#,
                "out-of-range",
                r#""300 mm""#,
                "fin_length is 300 mm; accepted: 3 mm to 120 mm",
            ),
            edit(
                FINS,
                r#"fin_pitch = "7 mm", fin_thickness = "2 mm", fin_length = "30 mm", root_diameter = "90 mm", fin_count = 10, pressure_drop = "500 Pa""#,
                "said-twice",
                r#""500 Pa""#,
                "pressure_drop is written, and is found from the fins' geometry (fin_pitch) too",
            ),
            edit(
                CORE,
                r#"{ kind = "core", part = "oil", oil_flow = "11 L/min", rated = { heat = "5 kW", air_speed = "8 m/s", difference = "70 K" } }"#,
                "size-missing",
                r#"{ kind = "core", part = "oil", oil_flow = "11 L/min", rated = { heat = "5 kW", air_speed = "8 m/s", difference = "70 K" } }"#,
                "has no conductance, which is then found on its face, and no size",
            ),
            edit(
                CORE,
                r#"{ kind = "core", part = "oil", area = "300 cm2", conductance = "105 W/K", oil_flow = "11 L/min" }"#,
                "key-missing",
                r#"{ kind = "core", part = "oil", area = "300 cm2", conductance = "105 W/K", oil_flow = "11 L/min" }"#,
                "has no reference_flow",
            ),
            edit(
                CORE,
                r#"{ kind = "core", part = "oil", area = "300 cm2", reference_flow = "0.24 kg/s", conductance = "105 W/K", oil_flow = "11 L/min", rated = { heat = "5 kW", air_speed = "8 m/s", difference = "70 K" } }"#,
                "said-twice",
                r#"{ heat = "5 kW", air_speed = "8 m/s", difference = "70 K" }"#,
                "conductance and rated say the same thing",
            ),
            edit(
                CORE,
                r#"{ kind = "core", part = "oil", area = "300 cm2", oil_flow = "11 L/min", rated = { heat = "5 kW", difference = "70 K" } }"#,
                "key-missing",
                r#"{ heat = "5 kW", difference = "70 K" }"#,
                "rated has no air_speed",
            ),
        ],
    );
}

/// The one fault that shows when laws are made.
fn of_the_law(from: &str, to: &str) -> (&'static str, String) {
    let text = edited(from, to);
    let case = load(&text, &[]).unwrap_or_else(|found| panic!("{}", plain(found.list(), &text))).case;
    let found = Model::new(&case).expect_err("a fault");
    let [fault] = found.list() else { panic!("{}", plain(found.list(), &text)) };
    assert!(!fault.what_to_do.is_empty());
    (fault.code, fault.message.clone())
}

#[test]
fn what_shows_when_laws_are_made() {
    let (code, message) = of_the_law(FINS, &GEOMETRY.replace("2 mm", "7.5 mm"));
    assert_eq!(code, "fins-without-space");
    assert!(message.contains("fins 7.5 mm thick at a pitch of 7 mm"), "{message}");
    // 0.0247 − 0.00148 · 70^0.8/3^0.4 is below zero
    let close = GEOMETRY.replace("7 mm", "3 mm").replace("30 mm", "70 mm") + ", baffled = false";
    let (code, message) = of_the_law(FINS, &close);
    assert_eq!(code, "fins-too-close");
    assert!(message.contains("fins 70 mm long at a pitch of 3 mm"), "{message}");
    // by hand: air 1.2 kg/m³ · 4 m/s · 0.03 m² = 0.144 kg/s, · 1006 = 144.9 W/K, the smaller of the two
    // (11 L/min of oil: 331 W/K); 11 kW over 70 K are 157.1 W/K, 108 % of it
    let rated = CORE.replace(
        r#"reference_flow = "0.24 kg/s", conductance = "105 W/K""#,
        r#"rated = { heat = "11 kW", air_speed = "4 m/s", difference = "70 K" }"#,
    );
    let (code, message) = of_the_law(CORE, &rated);
    assert_eq!(code, "rating-impossible");
    for figure in [
        "157 W for each kelvin",
        "108 % of what the air can carry",
        "145 W/K (0.144 kg/s at 4.0 m/s)",
        "331 W/K",
    ] {
        assert!(message.contains(figure), "{figure}: {message}");
    }
}

#[test]
fn an_override_reaches_the_geometry() {
    let text = edited(FINS, GEOMETRY);
    assert!(faults(&text).is_empty(), "{}", plain(&faults(&text), &text));
    let conductance = |value: &str| {
        let set = [("passage/barrels/fins/fin_length".to_string(), value.to_string())];
        let case = load(&text, &set).unwrap_or_else(|found| panic!("{found}")).case;
        let model = Model::new(&case).unwrap_or_else(|found| panic!("{found}"));
        let laws = model.network.laws.iter();
        let found = laws.filter_map(|law| match law {
            slowcorner::element::Law::Fins(fins) => fins.found(),
            _ => None,
        });
        found
            .max_by(|a, b| a.conductance.total_cmp(&b.conductance))
            .map(|found| found.conductance)
            .expect("found from geometry")
    };
    // at one speed between the fins there is also more air between longer ones
    assert!(conductance("20 mm") < conductance("30 mm") && conductance("30 mm") < conductance("40 mm"));
}

#[test]
fn assumed_exactly_where_used() {
    let assumed = |from: &str, to: &str, end: &str| {
        let text = edited(from, to);
        let case = load(&text, &[]).unwrap_or_else(|found| panic!("{}", plain(found.list(), &text))).case;
        let mut keys: Vec<String> = case
            .numbers
            .facts()
            .iter()
            .filter(|fact| matches!(fact.origin, slowcorner::keys::Origin::Assumed(_)))
            .filter_map(|fact| fact.address.strip_prefix(end).map(str::to_string))
            .collect();
        keys.sort();
        keys
    };
    let fins = "passage/barrels/fins/";
    let measured = ["conductance_exponent", "count", "pressure_exponent", "reference_density"];
    assert_eq!(assumed(FINS, FINS, fins), measured);
    let geometry =
        ["conductivity", "count", "cylinders", "pressure_factor", "reference_density", "surface_factor"];
    assert_eq!(assumed(FINS, GEOMETRY, fins), geometry);
    let core = "passage/oil cooler/core/";
    let always = [
        "conductance_exponent",
        "count",
        "oil_density",
        "oil_heat",
        "pressure_exponent",
        "reference_density",
    ];
    assert_eq!(assumed(CORE, CORE, core), always);
    let face = r#"{ kind = "core", part = "oil", area = "300 cm2", oil_flow = "11 L/min" }"#;
    let mut all = always.to_vec();
    all.extend(["effectiveness", "face_loss", "face_speed"]);
    all.sort_unstable();
    assert_eq!(assumed(CORE, face, core), all);
    let rated = r#"{ kind = "core", part = "oil", area = "300 cm2", oil_flow = "11 L/min", pressure_drop = "200 Pa", rated = { heat = "5 kW", air_speed = "8 m/s", difference = "70 K" } }"#;
    assert_eq!(assumed(CORE, rated, core), always);
}
