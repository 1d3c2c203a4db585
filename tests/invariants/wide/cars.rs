//! Invented cars of any kind: joints, fans that windmill, openings all but taped shut, air that rises, parts in
//! hot chambers, a car at rest with its engine off.

use super::dice::Dice;
use super::elements::{Names, exit, inlet, leak, middle};
use std::fmt::Write;

/// A passage as it will be written.
struct Way {
    name: String,
    from: String,
    to: String,
    /// What stands first and last whatever else is in it.
    first: Option<String>,
    last: Option<String>,
}

impl Way {
    fn new(name: String, from: &str, to: &str) -> Way {
        Way { name, from: from.to_string(), to: to.to_string(), first: None, last: None }
    }
}

/// The text of a car's case file.
pub fn car(seed: u64) -> String {
    let mut dice = Dice::new(seed);
    let dice = &mut dice;
    let chambers: Vec<&str> =
        ["bay", "shroud", "plenum", "tail box"][..1 + dice.below(4).min(dice.below(4))].to_vec();
    let parts: Vec<&str> = ["heads", "barrels", "oil"][..dice.below(4)].to_vec();
    let mut ways = plain_ways(dice, &chambers);
    let joints = joints(dice, &chambers, &mut ways);
    let names = Names {
        parts: parts.iter().map(|part| part.to_string()).collect(),
        places: ["flank", "tail", "roof"][..dice.below(4)].iter().map(|place| place.to_string()).collect(),
        exits: ways
            .iter()
            .filter(|way| way.name.starts_with("out") || way.name.starts_with("own"))
            .map(|way| way.name.clone())
            .collect(),
    };
    let mut text = head(dice);
    heat(dice, &chambers, &parts, &mut text);
    for part in &parts {
        part_table(dice, part, &chambers, &mut text);
    }
    for chamber in chambers.iter().copied().chain(joints.iter().map(String::as_str)) {
        let skin = match dice.below(8) {
            0..=2 => continue,
            3..=5 => 0.0,
            6 => dice.scale(0.01, 5.0),
            _ => dice.scale(1.0, 200.0),
        };
        let _ = writeln!(text, "[chamber.\"{chamber}\"]\nskin_conductance = \"{skin:.5} W/K\"");
    }
    if dice.chance(0.3) {
        text.push_str("[body]\n");
        let leaks = dice.pick(&["\"sealed\"", "\"unsealed\"", "0.03"]);
        let _ = writeln!(text, "leaks = {leaks}\nhot_air_at_rest = {:.4}", dice.between(0.0, 0.5));
    }
    let rises = dice.chance(0.4);
    for place in &names.places {
        let _ = writeln!(
            text,
            "[place.{place}]\npressure_coefficient = {:.4}\nrecovery = {:.4}",
            dice.between(-0.5, 0.4),
            dice.between(0.3, 1.0)
        );
        if rises {
            let _ = writeln!(text, "above_ground = \"{:.1} mm\"", dice.between(100.0, 1300.0));
        }
    }
    let mut taped = Vec::new();
    for way in &ways {
        if way_table(dice, way, &names, &mut text) {
            taped.push(way.name.as_str());
        }
    }
    for index in 0..2 + dice.below(3) {
        condition(dice, index, &taped, &mut text);
    }
    text
}

fn plain_ways(dice: &mut Dice, chambers: &[&str]) -> Vec<Way> {
    let mut ways = Vec::new();
    let outside = "outside";
    for (index, chamber) in chambers.iter().enumerate() {
        for copy in 0..dice.pick(&[0, 1, 1, 1, 2, 3]) {
            ways.push(Way::new(format!("in {index} {copy}"), outside, chamber));
        }
        for copy in 0..dice.pick(&[0, 1, 1, 1, 2]) {
            ways.push(Way::new(format!("out {index} {copy}"), chamber, outside));
        }
        if index > 0 && dice.chance(0.7) {
            let other = chambers[dice.below(index)];
            let (from, to) = if dice.chance(0.5) { (chamber, &other) } else { (&other, chamber) };
            ways.push(Way::new(format!("between {index}"), from, to));
        }
    }
    for index in 0..dice.pick(&[0, 0, 1, 2]) {
        let from = if dice.chance(0.3) { outside } else { dice.pick(chambers) };
        let to = if dice.chance(0.4) { outside } else { dice.pick(chambers) };
        if from != to {
            ways.push(Way::new(format!("way {index}"), from, to));
        }
    }
    if dice.chance(0.1) {
        ways.push(Way::new("own".to_string(), outside, outside));
    }
    for index in 0..dice.pick(&[0, 0, 1, 1, 2]) {
        let from = if dice.chance(0.6) { outside } else { dice.pick(chambers) };
        ways.push(Way::new(format!("carburettor {index}"), from, "engine"));
    }
    if ways.iter().all(|way| way.from != outside && way.to != outside) {
        ways.push(Way::new("out".to_string(), chambers[0], outside));
    }
    ways
}

/// Tees: three legs at a joint, joining or splitting, written either way round.
fn joints(dice: &mut Dice, chambers: &[&str], ways: &mut Vec<Way>) -> Vec<String> {
    let count = dice.pick(&[0, 0, 0, 1, 1, 2]);
    let joints: Vec<String> =
        ["joint", "second joint"][..count].iter().map(|name| name.to_string()).collect();
    for (number, joint) in joints.iter().enumerate() {
        let combined = dice.scale(20.0, 160.0);
        let side = combined * if dice.chance(0.2) { 1.0 } else { dice.between(0.2, 1.0) };
        let straight = if dice.chance(0.8) { combined } else { dice.between(side, 1.3 * combined) };
        let angle =
            if dice.chance(0.5) { "90".to_string() } else { format!("{:.2}", dice.between(30.0, 90.0)) };
        let splits = dice.chance(0.5);
        for (leg, diameter) in [("side", side), ("straight", straight), ("combined", combined)] {
            let elsewhere = match dice.below(3 + number) {
                0 | 1 => "outside".to_string(),
                3 => joints[0].clone(),
                _ => dice.pick(chambers).to_string(),
            };
            let elsewhere = if number > 0 && leg == "combined" && dice.chance(0.3) {
                joints[0].clone()
            } else {
                elsewhere
            };
            // a tee at the first joint has its three legs already
            let elsewhere = if elsewhere == joints[0] { dice.pick(chambers).to_string() } else { elsewhere };
            let towards = (leg == "combined") == splits;
            let towards = if dice.chance(0.05) { !towards } else { towards };
            let lofted = if dice.chance(0.15) { ", blended = true" } else { "" };
            let tee = format!(
                r#"{{ kind = "tee", diameter = "{diameter:.4} mm", leg = "{leg}", angle = "{angle} deg"{lofted} }}"#
            );
            let name = format!("{leg} {number}");
            let mut way =
                if towards { Way::new(name, &elsewhere, joint) } else { Way::new(name, joint, &elsewhere) };
            *(if towards { &mut way.last } else { &mut way.first }) = Some(tee);
            ways.push(way);
        }
    }
    joints
}

/// Writes a passage. Whether it has an opening to be taped.
fn way_table(dice: &mut Dice, way: &Way, names: &Names, text: &mut String) -> bool {
    let mut elements = Vec::new();
    if way.from == "outside" {
        elements.push(inlet(dice, names));
    }
    elements.extend(way.first.clone());
    let tee = way.first.is_some() || way.last.is_some();
    // a tee alone between two chambers does not say which of them is its joint
    let least = usize::from(tee && way.from != "outside" && way.to != "outside");
    for _ in 0..dice.pick(&[0, 0, 1, 1, 2, 3]).max(least) {
        elements.push(middle(dice, names));
    }
    elements.extend(way.last.clone());
    if way.to == "outside" {
        elements.push(if dice.chance(0.1) && !way.name.starts_with('o') {
            leak(dice, names)
        } else {
            exit(dice, names)
        });
    }
    if way.to == "engine" && dice.chance(0.2) {
        elements.push(if dice.chance(0.5) {
            format!(r#"{{ kind = "demand", flow = "{:.5} kg/s" }}"#, dice.scale(1e-4, 0.1))
        } else {
            format!(r#"{{ kind = "demand", share = {:.3} }}"#, dice.between(0.0, 1.0))
        });
    }
    if elements.is_empty() || (way.to == "engine" && elements.len() == 1 && elements[0].contains("demand")) {
        let at = elements.len().saturating_sub(1);
        elements.insert(at, r#"{ kind = "loss", area = "60 cm2", k = 1.2 }"#.to_string());
    }
    let count =
        if !tee && dice.chance(0.15) { format!("count = {}\n", 2 + dice.below(3)) } else { String::new() };
    let _ = writeln!(
        text,
        "[[passage]]\nname = {:?}\nfrom = {:?}\nto = {:?}\n{count}element = [\n  {},\n]",
        way.name,
        way.from,
        way.to,
        elements.join(",\n  ")
    );
    let is = |element: Option<&String>, word: &str| element.is_some_and(|element| element.contains(word));
    is(elements.first(), "-inlet\"") || is(elements.last(), "\"exit\"")
}

fn head(dice: &mut Dice) -> String {
    let mut text = format!(
        "format = 1\n[day]\ntemperature = \"{:.2} degC\"\naltitude = \"{:.0} m\"\nhumidity = {:.3}\nover_track = \"{:.2} K\"\n",
        dice.between(-20.0, 45.0),
        dice.between(0.0, 3500.0),
        dice.unit(),
        if dice.chance(0.3) { dice.between(0.0, 10.0) } else { 0.0 },
    );
    let (power, rpm) = (dice.scale(3.0, 150.0), dice.between(3500.0, 9000.0));
    let _ = write!(
        text,
        "[engine]\ndisplacement = \"{:.1} cm3\"\npeak_power = \"{power:.3} kW\"\npeak_power_at = \"{rpm:.0} rpm\"\nstrokes = {}\nheat_exponent = {:.3}\n",
        dice.scale(100.0, 3000.0),
        dice.pick(&[2, 4, 4]),
        dice.between(0.5, 1.0),
    );
    text
}

fn heat(dice: &mut Dice, chambers: &[&str], parts: &[&str], text: &mut String) {
    text.push_str("[engine.heat]\n");
    for (index, part) in parts.iter().enumerate() {
        if dice.chance(0.9) || index == 0 {
            let _ = writeln!(text, "{part} = {:.4}", dice.between(0.005, 0.13));
        }
    }
    for (index, chamber) in chambers.iter().enumerate() {
        if dice.chance(0.6) || (index == 0 && parts.is_empty()) {
            let _ = writeln!(text, "{chamber:?} = {:.4}", dice.between(0.001, 0.05));
        }
    }
}

fn part_table(dice: &mut Dice, part: &str, chambers: &[&str], text: &mut String) {
    let limit = dice.between(80.0, 260.0);
    let _ = writeln!(text, "[part.{part}]\nlimit = \"{limit:.2} degC\"");
    if dice.chance(0.6) {
        let bay = if dice.chance(0.2) { 0.0 } else { dice.scale(0.2, 40.0) };
        let _ = writeln!(text, "bay_conductance = \"{bay:.4} W/K\"");
    }
    if dice.chance(0.3) {
        let _ = writeln!(text, "surface = \"{:.1} cm2\"", dice.scale(50.0, 6000.0));
    }
    if dice.chance(0.4) {
        let _ = writeln!(text, "source_temperature = \"{:.1} degC\"", dice.between(limit + 25.0, 900.0));
    }
    if dice.chance(0.5) {
        let around = if dice.chance(0.2) { "outside" } else { dice.pick(chambers) };
        let _ = writeln!(text, "chamber = {around:?}");
    }
    if dice.chance(0.2) {
        let _ = writeln!(text, "from_friction = {:.3}", dice.unit());
    }
    if dice.chance(0.2) {
        let _ = writeln!(text, "hottest_above_mean = \"{:.1} K\"", dice.between(0.0, 30.0));
    }
}

fn condition(dice: &mut Dice, index: usize, taped: &[&str], text: &mut String) {
    let off = dice.chance(0.2);
    let rpm = if off { 0.0 } else { dice.between(500.0, 8000.0) };
    let speed = match dice.below(10) {
        0..=2 => 0.0,
        3 => dice.scale(0.001, 5.0),
        4..=8 => dice.between(5.0, 180.0),
        _ => dice.between(100.0, 400.0),
    };
    let _ = writeln!(
        text,
        "[[condition]]\nname = \"c{index}\"\nspeed = \"{speed:.4} km/h\"\nrpm = \"{rpm:.1} rpm\"\nload = {:.4}",
        if dice.chance(0.2) { dice.pick(&[0.0, 1.0]) } else { dice.unit() }
    );
    if dice.chance(0.3) {
        let clear = if dice.chance(0.2) { 0.0 } else { dice.unit() };
        let _ = writeln!(text, "clear_air = {clear:.4}");
    }
    if dice.chance(0.3) {
        // also a tail wind that all but stills the air
        let wind = if dice.chance(0.3) {
            -speed.min(200.0) + dice.scale(1e-3, 3.0)
        } else {
            dice.between(-60.0, 60.0)
        };
        let _ = writeln!(text, "wind = \"{wind:.4} km/h\"");
    }
    let mut covered = Vec::new();
    for name in taped {
        if dice.chance(0.15) {
            let share = if dice.chance(0.4) { 0.95 } else { dice.between(0.0, 0.95) };
            covered.push(format!("{name:?} = {share:.4}"));
        }
    }
    if !covered.is_empty() {
        let _ = writeln!(text, "taped = {{ {} }}", covered.join(", "));
    }
    if dice.chance(0.15) {
        let _ = writeln!(text, "day = {{ temperature = \"{:.2} degC\" }}", dice.between(-15.0, 40.0));
    }
}
