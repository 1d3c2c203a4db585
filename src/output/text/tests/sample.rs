//! An invented report: every figure is made up, and none comes from a solved case.

use crate::case::Warning;
use crate::point::result as r;
use crate::point::result::OpeningRole;
use crate::study::document as d;
use crate::study::size::result as si;
use crate::study::size::result::{MadeSmallest, SizeBound};
use crate::study::sweep::result as sw;
use crate::thermal::MarginIs;

fn named<T>(pairs: Vec<(&str, T)>) -> r::ByName<T> {
    r::ByName(pairs.into_iter().map(|(name, value)| (name.to_string(), value)).collect())
}

pub(super) fn element(kind: &'static str, part: Option<&str>, area: f64, loss: f64, push: f64) -> r::Element {
    r::Element {
        kind,
        implied: false,
        widens: None,
        name: None,
        part: part.map(str::to_string),
        count: 1,
        area_m2: Some(area),
        velocity_m_s: Some(9.0),
        loss_Pa: loss,
        push_Pa: push,
        outlet_temperature_C: 60.0,
    }
}

fn passage(
    name: &str,
    from: &str,
    to: &str,
    flow: f64,
    elements: Vec<r::Element>,
    head: f64,
) -> r::PassageResult {
    r::PassageResult {
        name: name.into(),
        from: from.into(),
        to: to.into(),
        count: 1,
        mass_flow_kg_s: flow,
        reversed: flow < -1e-6,
        outlet_temperature_C: 60.0,
        elements,
        last_velocity_head_Pa: head,
    }
}

/// A part with its margins: temperature, limit, air over what is needed.
pub(super) fn part(
    name: &str,
    temperature: f64,
    limit: f64,
    margin: Option<f64>,
    is: MarginIs,
) -> r::PartResult {
    r::PartResult {
        name: name.into(),
        temperature_C: temperature,
        limit_C: limit,
        temperature_margin_K: limit - temperature,
        margin_band_K: None,
        likelihood: None,
        flow_margin: margin,
        margin_is: is,
        required_flow_kg_s: None,
        flow_kg_s: 0.05,
        below_least: false,
        least_C: None,
        measured_at: None,
    }
}

/// A condition in which the oil cooler's air has the flow given; its pressures add up.
pub(super) fn condition(
    name: &str,
    speed: f64,
    gear: Option<usize>,
    cooler: f64,
    parts: Vec<r::PartResult>,
) -> r::Condition {
    let q = 0.55 * speed * speed;
    let bay = if cooler < 0.0 { q + 4.0 } else { 0.3 * q };
    let loss = (0.9 * q - bay).abs();
    let ways = vec![
        passage(
            "fan",
            "outside",
            "bay",
            0.2,
            vec![
                element("wall-inlet", None, 0.0137, 20.0, 0.0),
                element("fan", None, 0.0137, 0.0, 400.0 + bay),
                element("fins", Some("heads"), 0.0158, 260.0, 0.0),
            ],
            120.0,
        ),
        passage(
            "oil cooler",
            "outside",
            "bay",
            cooler,
            vec![
                element("ram-inlet", None, 0.0052, 0.0, 0.9 * q),
                element("core", Some("oil"), 0.029, 0.8 * loss, 0.0),
            ],
            0.2 * loss,
        ),
        passage(
            "exits",
            "bay",
            "outside",
            0.2 + cooler,
            vec![element("exit", None, 0.02, 0.4 * bay, 0.0)],
            0.6 * bay,
        ),
    ];
    r::Condition {
        name: name.into(),
        speed_m_s: speed,
        rpm: 2000.0 + 100.0 * speed,
        gear,
        load: 0.5,
        dynamic_pressure_Pa: q,
        air_density_kg_m3: 1.1,
        air_temperature_C: 30.0,
        air_factor: 0.97,
        air_fuel_ratio: Some(13.24),
        brake_power_W: 800.0 * speed,
        fuel_power_W: 3600.0 * speed,
        heat_to: named(vec![("heads", 300.0 * speed), ("oil", 90.0 * speed)]),
        passages: ways,
        chambers: vec![r::ChamberResult {
            name: "bay".into(),
            gauge_pressure_Pa: bay,
            pressure_coefficient: (q > 0.0).then(|| bay / q),
            temperature_C: 74.0,
            stands: false,
            without_end: false,
        }],
        parts,
        carburettor: Some(r::Carburettor {
            mass_flow_kg_s: 0.021,
            total_gauge_pressure_Pa: -68.0,
            temperature_C: 41.0,
            density_kg_m3: 1.08,
            power_factor: 0.964,
        }),
        cooling_drag_N: if speed == 0.0 { -0.8 } else { 0.4 * speed },
        cooling_drag_area_m2: None,
        cooling_power_W: if speed == 0.0 { 0.0 } else { 0.4 * speed * speed },
        fan_power_W: 420.0,
        fans: vec![r::FanTurning {
            passage: "fan".into(),
            address: "passage/fan/fan".into(),
            rpm: 2900.0 + 145.0 * speed,
            tip_speed_m_s: Some(20.0 + speed),
            over_reference: Some(0.81),
            flow_m3_s: 0.31,
            push_Pa: 400.0 + bay,
            air_power_W: 0.31 * (400.0 + bay),
            shaft_power_W: 420.0,
        }],
        other_state: None,
        warm: name == "straight",
        residual: 3e-11,
    }
}

fn default(key: &str, value: &str, low: &str, high: &str, source: &str) -> d::DefaultUsed {
    let text = str::to_string;
    d::DefaultUsed {
        key: text(key),
        value: text(value),
        low: text(low),
        high: text(high),
        source: text(source),
        measure: "what it is; how to measure it",
    }
}

fn warning(code: &'static str, place: &str, message: &str) -> Warning {
    Warning { code, message: message.into(), place: Some(place.into()) }
}

pub(super) fn conditions() -> Vec<r::Condition> {
    let mut oil = part("oil", 70.4, 120.0, Some(1.2), MarginIs::Value);
    oil.least_C = Some(80.0);
    oil.below_least = true;
    oil.measured_at = Some("sump".into());
    vec![
        condition(
            "hairpin",
            11.0,
            Some(1),
            -0.012,
            vec![
                part("heads", 188.3, 200.0, Some(0.146), MarginIs::Value),
                r::PartResult {
                    temperature_C: 217.0,
                    below_least: false,
                    temperature_margin_K: -97.0,
                    margin_band_K: None,
                    likelihood: None,
                    flow_margin: None,
                    margin_is: MarginIs::Impossible,
                    ..oil.clone()
                },
            ],
        ),
        condition(
            "straight",
            40.0,
            Some(4),
            0.13,
            vec![part("heads", 161.0, 200.0, Some(1.4), MarginIs::Value), oil.clone()],
        ),
        condition(
            "queue, engine hot",
            0.0,
            None,
            0.002,
            vec![
                part("heads", 96.0, 200.0, None, MarginIs::Unlimited),
                r::PartResult {
                    temperature_C: 100.0,
                    below_least: false,
                    temperature_margin_K: 20.0,
                    margin_band_K: None,
                    likelihood: None,
                    flow_margin: Some(0.4),
                    ..oil
                },
            ],
        ),
    ]
}

pub(super) fn report() -> d::Report {
    let conditions = conditions();
    d::Report {
        format: 1,
        title: Some("Moth: an invented tandem two-seater".into()),
        revision: Some("body state 2".into()),
        date: None,
        author: None,
        case_sha256: "0f1e2d3c4b5a6978".repeat(4),
        program: d::Program { name: "slowcorner", version: "0.0.0" },
        set: vec![r::Setting { address: "condition/hairpin/speed".into(), value: "40 km/h".into() }],
        warnings: vec![
            warning(
                "area-jump",
                "passage/fan/fins",
                "the air's way widens from 137 to 158 cm2; put a step between",
            ),
            warning(
                "area-jump",
                "passage/oil cooler/core",
                "the air's way widens from 52 to 290 cm2; put a step between",
            ),
            Warning {
                code: "no-bay-conductance",
                message: "the oil gives no heat to its bay".into(),
                place: None,
            },
        ],
        defaults: vec![
            default("engine/strokes", "4", "4", "4", "most are"),
            default(
                "part/heads/source_temperature",
                "600 degC",
                "320 degC",
                "800 degC",
                "gas in the cylinder (invented here)",
            ),
            default(
                "part/oil/source_temperature",
                "600 degC",
                "320 degC",
                "800 degC",
                "gas in the cylinder (invented here)",
            ),
            default(
                "passage/fan/fins/reference_density",
                "1.2 kg/m3",
                "1.1 kg/m3",
                "1.25 kg/m3",
                "air of a workshop",
            ),
        ],
        ram_over_fan: vec![crate::study::check::ram_over_fan::RamOverFan {
            fan: "passage/fan/fan".into(),
            passage: "fan".into(),
            inlet: "passage/oil cooler/inlet".into(),
            is: crate::study::check::ram_over_fan::RamOverFanIs::Value,
            speed_m_s: Some(31.0),
            gear: 2,
            at_m_s: 31.0,
            ram_Pa: 560.0,
            fan_Pa: 558.0,
        }],
        worst: Some(crate::point::conditions::worst(&conditions)),
        conditions,
        ..d::Report::default()
    }
}

pub(super) fn echoes() -> Vec<String> {
    vec![
        "opening passage/oil cooler/ram-inlet: 1 × 52.0 cm² = 52.0 cm²".into(),
        "part oil: 1 × 125 = 125 W/K (passage/oil cooler/core) at the reference flow; 5 W/K to the air of bay; worst in hairpin: 14 W/K".into(),
    ]
}

/// A sweep whose oil is over its limit at low speed and once more, with a gap between.
pub(super) fn swept() -> d::Report {
    let margins: [(f64, usize, f64, MarginIs); 6] = [
        (6.0, 1, -0.4, MarginIs::Value),
        (10.0, 1, -0.6, MarginIs::Impossible),
        (14.0, 1, 0.2, MarginIs::Value),
        (18.0, 2, -0.1, MarginIs::Value),
        (22.0, 2, 0.3, MarginIs::Value),
        (40.0, 4, 1.3, MarginIs::Value),
    ];
    let points: Vec<sw::SweepPoint> = margins
        .iter()
        .map(|(speed, gear, margin, is)| sw::SweepPoint {
            speed_m_s: *speed,
            gear: *gear,
            load: 1.0,
            rpm: 400.0 * speed / *gear as f64,
            parts: named(vec![
                (
                    "heads",
                    sw::SweepPart {
                        temperature_C: 150.0,
                        temperature_margin_K: 50.0,
                        margin_band_K: None,
                        likelihood: None,
                        flow_margin: None,
                        margin_is: MarginIs::Unlimited,
                    },
                ),
                (
                    "oil",
                    sw::SweepPart {
                        temperature_C: 120.0 - 100.0 * margin,
                        temperature_margin_K: 100.0 * margin,
                        margin_band_K: None,
                        likelihood: None,
                        flow_margin: (*is == MarginIs::Value).then_some(*margin),
                        margin_is: *is,
                    },
                ),
            ]),
            cooling_drag_N: 0.4 * speed,
            gives_Pa: [(sw::AirDriver::Fan, 310.0), (sw::AirDriver::Ram, 0.4 * speed * speed)].into(),
            takes_Pa: [("fins", 180.0), ("last velocity head", 90.0), ("ram-inlet", 30.0)].into(),
        })
        .collect();
    let low = |speed, gear, flow_margin, margin_is, kelvins| sw::Lowest {
        speed_m_s: speed,
        gear,
        flow_margin,
        margin_is,
        temperature_margin_K: kelvins,
    };
    let lowest = named(vec![
        ("heads", low(6.0, 1, None, MarginIs::Unlimited, 50.0)),
        ("oil", low(10.0, 1, None, MarginIs::Impossible, -60.0)),
    ]);
    d::Report {
        conditions: Vec::new(),
        worst: None,
        sweep: Some(sw::Sweep {
            load: Some(1.0),
            load_is: crate::point::speeds::LoadsOf::Nobody,
            points,
            lowest,
            unsolved_m_s: vec![30.0],
        }),
        ..report()
    }
}

/// Sizes: with every margin reached but in one condition that did not count, or with one that cannot be.
pub(super) fn sized(feasible: bool) -> d::Report {
    let opening = |name: &str, role, pieces, before, after, lengths| si::SizedOpening {
        louvres: None,
        name: name.into(),
        role,
        pieces,
        before_m2: before,
        after_m2: after,
        lengths_m: named(lengths),
    };
    let limit = |part: &str| si::LimitedBy {
        part: part.into(),
        condition: "hairpin".into(),
        speed_m_s: None,
        gear: None,
        at: None,
    };
    let mut report = report();
    report.sizes = Some(si::Sizes {
        layouts: Vec::new(),
        columns: Vec::new(),
        hand_cut: Vec::new(),
        holds: None,
        areas_m2: named(vec![("oil cooler", 0.0056), ("exits", 0.028)]),
        objective: 0.0336,
        smallest: MadeSmallest::Area,
        least_margin: Some(0.146),
        feasible,
        at: report.conditions.iter().map(|condition| condition.name.clone()).collect(),
        limited_by: vec![if feasible { limit("heads") } else { limit("oil") }],
        held_by: feasible.then_some(crate::study::size::result::SizesHeldBy::Margins),
        as_good: Vec::new(),
        starts: 24,
        scaled: Vec::new(),
        new_warnings: Vec::new(),
        at_bound: named(vec![("exits", SizeBound::Most), ("fan", SizeBound::Cut)]),
        openings: vec![
            opening("fan", OpeningRole::Inlet, 1, 0.0137, 0.0137, vec![("diameter", 0.1321)]),
            opening(
                "oil cooler",
                OpeningRole::Inlet,
                2,
                0.0052,
                0.0056,
                vec![("width", 0.112), ("height", 0.0498)],
            ),
            opening("exits", OpeningRole::Exit, 1, 0.02, 0.028, vec![]),
        ],
        remarks: vec![
            "in hairpin, hot air flows back through oil cooler on the way from the sizes of the case".into(),
        ],
    });
    report
}
