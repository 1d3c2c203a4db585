//! One condition in full.

use super::layout::{KEPT, MISSED, STRONG, TextCell, TextColumn, TextTable, heading, item};
use super::way::{self, PressureBudget};
use super::words;
use crate::point::result::{Condition, PassageResult};

/// Speed, air, pressures, passages, fans, carburettor and drag of a condition.
pub(super) fn block(out: &mut String, condition: &Condition) {
    heading(out, &format!("{}: {}", condition.name, driving(condition)));
    item(out, 2, "", &air_and_power(condition));
    for chamber in &condition.chambers {
        let coefficient = chamber
            .pressure_coefficient
            .map_or(String::new(), |cp| format!(" ({} of the dynamic pressure)", words::share(cp)));
        let warmth = match (chamber.stands, chamber.without_end) {
            (_, true) => "the air stands and grows hotter indefinitely".to_string(),
            (true, false) => format!("{}, the air stands", words::celsius(chamber.temperature_C)),
            (false, false) => words::celsius(chamber.temperature_C),
        };
        let text =
            format!("{}: {}{coefficient}, {warmth}", chamber.name, words::pascals(chamber.gauge_pressure_Pa));
        item(out, 2, "", &text);
    }
    passages(out, condition);
    for fan in &condition.fans {
        let tips =
            fan.tip_speed_m_s.map_or(String::new(), |tip| format!(", blade tips {} m/s", words::whole(tip)));
        let over = fan.over_reference.map_or("the usual curve of its wheel".to_string(), |over| {
            format!("{} of the speed of its curve", words::share(over))
        });
        let text = format!(
            "Fan in {}: {} rpm, {over}{tips}; {} m³/s at {}, {} W of air power, {} W at the shaft",
            fan.passage,
            words::whole(fan.rpm),
            words::fixed(fan.flow_m3_s, 3),
            words::pascals(fan.push_Pa),
            words::whole(fan.air_power_W),
            words::whole(fan.shaft_power_W)
        );
        item(out, 2, "", &text);
    }
    if let Some(carburettor) = &condition.carburettor {
        let text = format!(
            "Carburettor: {} g/s, {} {}, air at {}: {} of the power in the day's air",
            words::grams(carburettor.mass_flow_kg_s),
            words::pascals(carburettor.total_gauge_pressure_Pa.abs()),
            if carburettor.total_gauge_pressure_Pa > 0.0 { "gained" } else { "lost" },
            words::celsius(carburettor.temperature_C),
            words::share(carburettor.power_factor)
        );
        item(out, 2, "", &text);
    }
    let fans = if condition.fans.is_empty() {
        String::new()
    } else {
        format!("; fans take {} kW", words::kilowatts(condition.fan_power_W))
    };
    let text = format!(
        "Cooling drag: {} N, {} kW{fans}. Left-over error: {:.0e} at most",
        words::whole(condition.cooling_drag_N),
        words::kilowatts(condition.cooling_power_W),
        condition.residual
    );
    item(out, 2, "", &text);
}

/// "46 km/h, gear 1, 5830 rpm, load 28 %".
fn driving(condition: &Condition) -> String {
    let gear = condition.gear.map_or(String::new(), |gear| format!("gear {gear}, "));
    format!(
        "{}, {gear}{} rpm, load {}",
        words::speed(condition.speed_m_s),
        words::whole(condition.rpm),
        words::share(condition.load)
    )
}

fn air_and_power(condition: &Condition) -> String {
    let heats: Vec<String> =
        condition.heat_to.iter().map(|(name, heat)| format!("{name} {}", words::kilowatts(*heat))).collect();
    let mixture = condition
        .air_fuel_ratio
        .map_or(String::new(), |ratio| format!("; {} kg of air for 1 kg of fuel", words::fixed(ratio, 1)));
    let heat = if heats.is_empty() { String::new() } else { format!("; heat, kW: {}", heats.join(", ")) };
    format!(
        "Air {}, {} kg/m³, dynamic pressure {} Pa; {} kW of power from {} kW of fuel{mixture}{heat}",
        words::celsius(condition.air_temperature_C),
        words::fixed(condition.air_density_kg_m3, 2),
        words::whole(condition.dynamic_pressure_Pa),
        words::kilowatts(condition.brake_power_W),
        words::kilowatts(condition.fuel_power_W)
    )
}

/// Every passage with what its elements push and take, from the first in the file to the last.
fn passages(out: &mut String, condition: &Condition) {
    let columns = [
        (TextColumn::Wrapped, "passage, and its elements"),
        (TextColumn::Right, "open, cm²"),
        (TextColumn::Right, "air, m/s"),
        (TextColumn::Right, "push, Pa"),
        (TextColumn::Right, "loss, Pa"),
        (TextColumn::Right, "air behind it"),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    for passage in &condition.passages {
        let style = if passage.reversed { MISSED } else { STRONG };
        table.title(TextCell::new(style, title(condition, passage)));
        for (element, label) in passage.elements.iter().zip(way::labels(passage)) {
            let area = element.area_m2.map_or(String::new(), |area| {
                let pieces = element.count * passage.count;
                let times = if pieces == 1 { String::new() } else { format!("{pieces} × ") };
                format!("{times}{}", words::square_centimetres(area))
            });
            let push = if element.push_Pa == 0.0 { String::new() } else { words::whole(element.push_Pa) };
            table.row(vec![
                format!("{KEPT}{KEPT}{label}").into(),
                area.into(),
                element.velocity_m_s.map_or(String::new(), words::whole).into(),
                push.into(),
                words::whole(element.loss_Pa).into(),
                words::celsius(element.outlet_temperature_C).into(),
            ]);
        }
    }
    out.push('\n');
    table.write(out);
    out.push('\n');
}

/// "oil cooler, outside → bay: 73 g/s; of 84 Pa, core takes 61 %".
fn title(condition: &Condition, passage: &PassageResult) -> String {
    let count = if passage.count == 1 { String::new() } else { format!("{} × ", passage.count) };
    let flow = words::grams(passage.mass_flow_kg_s);
    let air = if passage.reversed {
        format!("{} flows back through it, {flow} g/s", way::what_runs_back(condition, passage))
    } else {
        format!("{flow} g/s")
    };
    let way = if passage.to == "engine" {
        // what is not lost on the way stays as pressure at the carburettor
        let lost = passage.elements.iter().map(|element| element.loss_Pa).sum();
        format!("{} lost on the way", words::pascals(lost))
    } else {
        way::in_words(&PressureBudget::of(condition, passage))
    };
    format!("{count}{}, {} → {}: {air}; {way}", passage.name, passage.from, passage.to)
}
