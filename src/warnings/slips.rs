//! Slips of the pen that give a believable answer: a diameter for a radius, a ratio turned over, centimetres for
//! millimetres, a curve in another unit.

use super::condition::address;
use super::gather::{Finding, Findings};
use super::words;
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, PassageTable, tables as t};
use crate::element::Role;
use crate::element::fan::{self, Drive};
use crate::element::size::{self, PieceSize};
use crate::engine::tables as e;
use crate::keys::figures;
use crate::keys::{Key, Slot, Values};
use crate::point::gearing::Gearing;
use crate::point::model::Model;
use std::f64::consts::PI;

/// Largest tyre radius of a light car (m); a diameter lies above it (common practice).
const MOST_RADIUS: f64 = 0.4;
/// Drag areas (m²) between which road cars lie, from the most slender single-seater to a box on wheels (common practice).
const DRAG_AREAS: (f64, f64) = (0.3, 1.5);
/// Drag coefficient from which a frontal area is guessed (common practice: 0.3 to 0.7).
const DRAG_COEFFICIENT: f64 = 0.4;
/// Frontal areas of small cars (m²) (common practice).
const FRONTAL_AREAS: (f64, f64) = (0.8, 2.0);
/// Share of the frontal area above which one opening is more than a cooling opening.
const MOST_OF_THE_FRONT: f64 = 0.25;
/// Longest side of an opening or a duct on a small car (m).
const LONGEST_SIDE: f64 = 1.0;
/// Share of the engine's power above which no cooling fan takes its own (common practice: 2 to 8 %).
const MOST_FAN_SHARE: f64 = 0.15;
/// Air speeds (m/s) through a fan's disc, at the end of its curve, between which fans lie (common practice: 10 to 50).
const DISC_SPEEDS: (f64, f64) = (2.0, 100.0);
/// Air pressure rise over the velocity head of the blade tips above which no single wheel works (common practice: up to 3).
const MOST_PRESSURE_NUMBER: f64 = 4.0;
/// Hottest air of a day that needs no second look (K).
const HOTTEST_DAY: f64 = 48.0 + ZERO_CELSIUS;
/// How far a part may take its share of heat above its limit (K).
const FAR_ABOVE: f64 = 40.0;
/// Standard density (kg/m³) by which sizes and speeds are judged.
const DENSITY: f64 = 1.2;

/// Looks at tyre and gears, at sizes, and at fans' curves.
pub(super) fn look(case: &Case, model: &Model, gathered: &mut Findings) {
    look_at_drive(case, model, gathered);
    look_at_sizes(case, model, gathered);
    look_at_fans(case, model, gathered);
    look_at_temperatures(case, gathered);
}

/// Temperatures that are none of a day, of a start or of a share of heat.
fn look_at_temperatures(case: &Case, gathered: &mut Findings) {
    let mut tell = |values: &Values, key: &Key, kelvin: f64, most: f64, what: &str| {
        if kelvin <= most {
            return;
        }
        let celsius = kelvin - ZERO_CELSIUS;
        gathered.in_file(Finding {
            code: "temperature-unusual",
            place: Some(address(case, values, key)),
            seen: format!("{} {what} {}", words::celsius(celsius), words::celsius(most - ZERO_CELSIUS)),
            what_to_do: format!(
                "check the figure and its unit: {celsius:.0} °F would be {:.0} °C",
                (celsius - 32.0) / 1.8
            ),
            size: kelvin - most,
        });
    };
    let own = case.conditions.iter().filter_map(|condition| condition.values.table(&t::CONDITION_DAY));
    for day in std::iter::once(&case.day).chain(own) {
        if let Some(kelvin) = case.view(day).number(&t::TEMPERATURE) {
            tell(day, &t::TEMPERATURE, kelvin, HOTTEST_DAY, "is hotter than a day in the shade, some");
        }
    }
    for part in &case.parts {
        let view = case.view(&part.values);
        let (Some(limit), Some(share_at)) = (view.number(&t::LIMIT), view.number(&t::SHARE_AT)) else {
            continue;
        };
        let what = "is where this part takes its share of heat, far above its limit of";
        if share_at > limit + FAR_ABOVE {
            tell(&part.values, &t::SHARE_AT, share_at, limit, what);
        }
    }
    let limit =
        |name: &str| case.part(name).and_then(|part| case.view(&case.parts[part].values).number(&t::LIMIT));
    for stint in &case.stints {
        let values = &stint.values;
        let given: Vec<(Option<f64>, f64)> = match values.slot(&t::START) {
            Slot::Number(id) => {
                let least = case.parts.iter().filter_map(|part| limit(&part.name)).reduce(f64::max);
                vec![(least, case.numbers.value(*id))]
            }
            Slot::Map(map) => map.iter().map(|(name, id)| (limit(name), case.numbers.value(*id))).collect(),
            _ => Vec::new(),
        };
        for (limit, kelvin) in given {
            if let Some(limit) = limit {
                tell(values, &t::START, kelvin, limit, "is where the stint begins, above the limit of");
            }
        }
    }
}

/// Road speed (m/s) that a power (W) holds against a drag area (m²): v = (2 P/(ρ A_d))^⅓.
fn speed_held(power: f64, drag_area: f64) -> f64 {
    (2.0 * power / (DENSITY * drag_area)).cbrt()
}

fn look_at_drive(case: &Case, model: &Model, gathered: &mut Findings) {
    let (Some(drive), Some(gearing)) = (&case.drive, Gearing::read(case, &model.engine)) else { return };
    let view = case.view(drive);
    let radius = view.required(&e::TYRE_RADIUS);
    let gears = view.list(&e::GEARS);
    let tallest = gearing.rpm_per_speed.iter().copied().fold(f64::INFINITY, f64::min);
    let top = model.engine.peak_rpm / tallest;
    if radius > MOST_RADIUS {
        gathered.in_file(Finding {
            code: "tyre-radius-unusual",
            place: Some(address(case, drive, &e::TYRE_RADIUS)),
            seen: format!(
                "a tyre of {:.0} mm radius is {:.0} mm high, and does {} at the power peak in top gear; tyres of small cars have 200 to 330 mm (common practice)",
                1e3 * radius,
                2e3 * radius,
                words::speed(top)
            ),
            what_to_do: format!(
                "if {:.0} mm is the diameter, write tyre_radius = \"{:.0} mm\"; it sets every engine speed found from a gear",
                1e3 * radius,
                500.0 * radius
            ),
            size: radius,
        });
        return;
    }
    if let Some(pair) = gears.windows(2).position(|pair| pair[1] >= pair[0]) {
        let list = |gears: &mut dyn Iterator<Item = f64>| {
            gears.map(|gear| format!("{gear:.2}")).collect::<Vec<_>>().join(", ")
        };
        gathered.in_file(Finding {
            code: "gears-rising",
            place: Some(drive.address_of(&e::GEARS)),
            seen: format!(
                "gear {} ({:.2}) is no taller than gear {} ({:.2}); from gear to gear the ratio falls, since it is turns of the engine's side for one of the output",
                pair + 2,
                gears[pair + 1],
                pair + 1,
                gears[pair]
            ),
            what_to_do: format!(
                "write first gear first: [{}] if they were reversed, [{}] if each was turned upside down",
                list(&mut gears.iter().rev().copied()),
                list(&mut gears.iter().map(|gear| 1.0 / gear))
            ),
            size: 1.0,
        });
        return;
    }
    let power = model.engine.peak_power;
    let (fastest, slowest) = (speed_held(power, DRAG_AREAS.0), speed_held(power, DRAG_AREAS.1));
    let (word, size) = if top > 1.15 * fastest {
        ("more than", top / fastest)
    } else if top < 0.35 * slowest {
        ("hardly a third of what", slowest / top)
    } else {
        return;
    };
    let held = if top > fastest { fastest } else { slowest };
    gathered.in_file(Finding {
        code: "top-speed-unusual",
        place: Some(drive.address_of(&e::GEARS)),
        seen: format!(
            "at the power peak ({:.0} rpm) top gear gives {}, {word} {} can hold ({} against a drag area of {} m²)",
            model.engine.peak_rpm,
            words::speed(top),
            figures::power(power),
            words::speed(held),
            if top > fastest { DRAG_AREAS.0 } else { DRAG_AREAS.1 }
        ),
        what_to_do: "check tyre_radius (not the diameter), final_drive and gears (turns of the engine's side for one of the output, not upside down)".to_string(),
        size,
    });
}

/// What tyre and gears come to: the road speed of each gear at the power peak.
pub(super) fn drive(case: &Case, model: &Model) -> Option<String> {
    let drive = case.drive.as_ref()?;
    let gearing = Gearing::read(case, &model.engine)?;
    let peak = model.engine.peak_rpm;
    let speeds: Vec<String> =
        gearing.rpm_per_speed.iter().map(|ratio| format!("{:.0}", 3.6 * peak / ratio)).collect();
    Some(format!(
        "drive: {} km/h in gear 1 to {} at the power peak of {peak:.0} rpm, on tyres {:.0} mm high",
        speeds.join(", "),
        speeds.len(),
        2e3 * case.view(drive).required(&e::TYRE_RADIUS)
    ))
}

/// Frontal area (m²) that the fastest speed of the case and the engine's power suggest, within what small cars have.
fn frontal_area(case: &Case, model: &Model) -> (f64, f64) {
    let driven = case.conditions.iter().map(|condition| case.view(&condition.values).required(&t::SPEED));
    let swept = case.sweep.iter().filter_map(|sweep| case.view(sweep).number(&t::SWEEP_TO));
    let fastest = driven.chain(swept).fold(0.0, f64::max);
    let drag_area = 2.0 * 0.9 * model.engine.peak_power / (DENSITY * fastest.powi(3));
    ((drag_area / DRAG_COEFFICIENT).clamp(FRONTAL_AREAS.0, FRONTAL_AREAS.1), fastest)
}

fn look_at_sizes(case: &Case, model: &Model, gathered: &mut Findings) {
    let (front, fastest) = frontal_area(case, model);
    for passage in &case.passages {
        for (index, values) in passage.elements.iter().enumerate() {
            if let Some(finding) = too_long(case, values) {
                gathered.in_file(finding);
            } else if let Some((area, place)) = opening(case, passage, index) {
                if area <= MOST_OF_THE_FRONT * front {
                    continue;
                }
                gathered.in_file(Finding {
                    code: "size-unusual",
                    place: Some(place),
                    seen: format!(
                        "this opening has {} in all, {} of the frontal area of some {front:.1} m² that {} at {} suggest",
                        figures::small_area(area),
                        figures::close_share((area / front * 100.0).round() / 100.0),
                        figures::power(model.engine.peak_power),
                        words::speed(fastest)
                    ),
                    what_to_do: "check its unit (cm for mm is ten times the side, a hundred times the area) and count; keep it if the hole is that large".to_string(),
                    size: area,
                });
            }
        }
    }
}

/// Area of all pieces of an inlet or exit (m²), and the address of its size.
fn opening(case: &Case, passage: &PassageTable, index: usize) -> Option<(f64, String)> {
    passage.kind(index).filter(|kind| matches!(kind.role, Role::Inlet | Role::Exit))?;
    let values = &passage.elements[index];
    let view = case.view(values);
    let area = PieceSize::read(&view)?.area * view.number(&size::COUNT).unwrap_or(1.0);
    let copies = case.view(&passage.values).number(&t::COUNT).unwrap_or(1.0);
    let key = SIDES.iter().copied().chain([&size::AREA]).find(|key| values.has(key));
    let place = key.map_or_else(|| values.address.clone(), |key| address(case, values, key));
    Some((area * copies, place))
}

const SIDES: [&Key; 3] = [&size::WIDTH, &size::HEIGHT, &size::DIAMETER];

fn too_long(case: &Case, values: &Values) -> Option<Finding> {
    let view = case.view(values);
    let (key, side) = SIDES
        .iter()
        .filter_map(|key| Some((*key, view.number(key)?)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(_, side)| *side > LONGEST_SIDE)?;
    Some(Finding {
        code: "size-unusual",
        place: Some(address(case, values, key)),
        seen: format!("its {} is {:.2} m", key.name, side),
        what_to_do: format!(
            "check the unit: {:.0} mm would be a tenth of it; keep it if it is that large",
            100.0 * side
        ),
        size: side,
    })
}

fn look_at_fans(case: &Case, model: &Model, gathered: &mut Findings) {
    for (table, network) in case.passages.iter().zip(&model.network.passages) {
        let laws = &model.network.laws[network.elements.clone()];
        for (values, law) in table.elements.iter().zip(laws) {
            if let Some(law) = law.as_fan()
                && values.has(&fan::CURVE)
                && let Some(finding) = odd_curve(case, model, values, law)
            {
                gathered.in_file(finding);
            }
        }
    }
}

/// A written curve that its engine or its disc could not give.
fn odd_curve(case: &Case, model: &Model, values: &Values, law: &fan::FanLaw) -> Option<Finding> {
    let view = case.view(values);
    let points = view.pairs(&fan::CURVE);
    let (last, _) = *points.last()?;
    // between two points of a curve flow times pressure is largest near one of them
    let power = points.iter().map(|(flow, pressure)| flow * pressure).fold(0.0, f64::max) / law.efficiency();
    let pieces = crate::element::ElementLaw::pieces(law);
    let share = match law.drive() {
        Drive::Engine(ratio) => {
            let rpm = law.reference_speed() / ratio;
            Some((pieces * power / model.engine.power.at(rpm), rpm))
                // where the engine has no power at all, that is told
                .filter(|(share, _)| share.is_finite() && *share > MOST_FAN_SHARE)
        }
        _ => None,
    };
    let area = PieceSize::read(&view).map(|size| size.area);
    let speed = area.map(|area| last / area).filter(|speed| !(DISC_SPEEDS.0..=DISC_SPEEDS.1).contains(speed));
    let highest = points.iter().map(|(_, pressure)| *pressure).fold(0.0, f64::max);
    let tips = law
        .tip_speed(law.reference_speed())
        .filter(|tips| highest > MOST_PRESSURE_NUMBER * 0.5 * DENSITY * tips * tips);
    let seen = match (share, speed, area) {
        _ if tips.is_some() => format!(
            "{highest:.0} Pa are {:.0} times the velocity head of its blade tips ({:.0} m/s at {:.0} rpm); one wheel gives up to 3 (common practice)",
            highest / (0.5 * DENSITY * tips.unwrap_or(1.0).powi(2)),
            tips.unwrap_or_default(),
            law.reference_speed()
        ),
        (Some((share, rpm)), _, _) => format!(
            "by its curve the fan takes {} at its shaft at {:.0} rpm, {} of the {} that the engine has there ({rpm:.0} rpm); 2 to 8 % is usual (common practice)",
            figures::power(power),
            law.reference_speed(),
            figures::close_share((share * 100.0).round() / 100.0),
            figures::power(model.engine.power.at(rpm))
        ),
        (None, Some(speed), Some(area)) => format!(
            "at the end of its curve {last:.3} m³/s go through a disc of {:.0} mm, which is {} m/s; 10 to 50 m/s is usual (common practice)",
            1e3 * (4.0 * area / PI).sqrt(),
            crate::keys::kind::short_number((speed * 10.0).round() / 10.0)
        ),
        _ => return None,
    };
    Some(Finding {
        code: "fan-curve-unusual",
        place: Some(values.address_of(&fan::CURVE)),
        seen,
        what_to_do: "check the units of the curve (Pa against mmH2O, m3/s against m3/min or m3/h) and the speed that it was taken at".to_string(),
        size: share.map_or(1.0, |(share, _)| share),
    })
}
