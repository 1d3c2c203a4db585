//! Elements of every kind with every key that reaches the laws, as text.

use super::dice::Dice;

/// What an element may name.
#[derive(Clone, Debug, Default)]
pub struct Names {
    pub parts: Vec<String>,
    pub places: Vec<String>,
    /// Passages that end in an exit.
    pub exits: Vec<String>,
}

/// An area (cm²): mostly of a car, sometimes a pinhole or a barn door.
fn area(dice: &mut Dice) -> f64 {
    match dice.below(40) {
        0 | 1 => dice.scale(0.0101, 1.0),
        2 => dice.scale(400.0, 20_000.0),
        _ => dice.scale(4.0, 400.0),
    }
}

fn size(dice: &mut Dice) -> String {
    let area = area(dice);
    match dice.below(3) {
        0 => format!(r#"area = "{area:.6} cm2""#),
        1 => {
            let slender = dice.between(1.0, 5.0);
            let height = (100.0 * area / slender).sqrt();
            format!(r#"width = "{:.5} mm", height = "{height:.5} mm""#, height * slender)
        }
        _ => format!(r#"diameter = "{:.5} mm""#, (400.0 * area / std::f64::consts::PI).sqrt()),
    }
}

fn count(dice: &mut Dice) -> String {
    if dice.chance(0.12) { format!(", count = {}", 2 + dice.below(3)) } else { String::new() }
}

fn layer(dice: &mut Dice) -> String {
    let gap = if dice.chance(0.5) { dice.between(0.0, 30.0) } else { 0.0 };
    format!(r#"boundary_layer = {{ run = "{:.3} m", gap = "{gap:.2} mm" }}"#, dice.scale(0.1, 4.0))
}

/// What of an inlet's air comes from exits.
fn drawn(dice: &mut Dice, names: &Names) -> String {
    if names.exits.is_empty() || !dice.chance(0.25) {
        return String::new();
    }
    let pair = |dice: &mut Dice| {
        let share = if dice.chance(0.1) { dice.between(0.3, 0.45) } else { dice.between(0.01, 0.3) };
        format!(r#"{{ from = "{}", share = {share:.4} }}"#, dice.pick(&names.exits))
    };
    if dice.chance(0.2) && names.exits.len() > 1 {
        let (one, other) = (pair(dice), pair(dice));
        if one[..20.min(one.len())] != other[..20.min(other.len())] {
            return format!(", recirculation = [{one}, {other}]");
        }
    }
    format!(", recirculation = {}", pair(dice))
}

fn place(dice: &mut Dice, names: &Names) -> Option<String> {
    if names.places.is_empty() || !dice.chance(0.5) {
        return None;
    }
    Some(format!(r#", place = "{}""#, dice.pick(&names.places)))
}

fn coefficient(dice: &mut Dice, names: &Names) -> String {
    match place(dice, names) {
        Some(place) => place,
        None if dice.chance(0.15) => String::new(),
        None if dice.chance(0.1) => r#", pressure_coefficient = "mid-roof""#.to_string(),
        None if dice.chance(0.03) => format!(", pressure_coefficient = {:.4}", dice.between(-2.0, 1.0)),
        None => format!(", pressure_coefficient = {:.4}", dice.between(-0.55, 0.45)),
    }
}

/// An opening that takes air in from outside.
pub fn inlet(dice: &mut Dice, names: &Names) -> String {
    let count = count(dice);
    match dice.below(10) {
        0..=4 => {
            let lip = match dice.below(4) {
                0 => format!(", edge = \"{}\"", dice.pick(&["rounded", "sharp", "thin"])),
                1 => format!(", entry_loss = {:.4}", dice.between(0.0, 1.5)),
                2 => format!(", edge_radius = \"{:.2} mm\"", dice.between(0.0, 30.0)),
                _ => String::new(),
            };
            let place = place(dice, names);
            let recovery = if place.is_none() && dice.chance(0.8) {
                format!(", recovery = {:.4}", dice.between(0.0, 1.05))
            } else {
                String::new()
            };
            let layer = if dice.chance(0.3) { format!(", {}", layer(dice)) } else { String::new() };
            format!(
                r#"{{ kind = "ram-inlet", {}{count}{lip}{recovery}{}{layer}{} }}"#,
                size(dice),
                place.unwrap_or_default(),
                drawn(dice, names)
            )
        }
        5 | 6 => {
            let edge = match dice.below(3) {
                0 => format!(", edge = \"{}\"", dice.pick(&["rounded", "sharp", "thin"])),
                1 => format!(", entry_loss = {:.4}", dice.between(0.0, 1.5)),
                _ => String::new(),
            };
            format!(
                r#"{{ kind = "wall-inlet", {}{count}{}{edge}{} }}"#,
                size(dice),
                coefficient(dice, names),
                drawn(dice, names)
            )
        }
        7 | 8 => {
            let width = dice.scale(30.0, 300.0);
            let recovery = match dice.below(4) {
                0 => format!(", recovery = {:.4}", dice.between(0.0, 1.0)),
                1 => {
                    let mut ratio = 0.0;
                    let points: Vec<String> = (0..2 + dice.below(3))
                        .map(|_| {
                            ratio += dice.between(0.1, 0.5);
                            format!("[{ratio:.3}, {:.3}]", dice.between(0.2, 0.95))
                        })
                        .collect();
                    format!(", recovery = [{}]", points.join(", "))
                }
                2 => format!(", recovery_shift = {:.4}", dice.between(-0.1, 0.1)),
                _ => String::new(),
            };
            format!(
                r#"{{ kind = "flush-inlet", width = "{width:.3} mm", height = "{:.3} mm"{count}, boundary_layer = {{ run = "{:.3} m" }}{recovery}{} }}"#,
                width / dice.between(2.0, 6.0),
                dice.scale(0.1, 4.0),
                drawn(dice, names)
            )
        }
        _ => leak(dice, names),
    }
}

/// A gap.
pub fn leak(dice: &mut Dice, names: &Names) -> String {
    let size = if dice.chance(0.2) {
        format!("share_of_inlets = {:.4}", dice.between(0.01, 0.4))
    } else {
        size(dice)
    };
    format!(
        r#"{{ kind = "leak", {size}, discharge = {:.4}{} }}"#,
        dice.between(0.4, 0.8),
        coefficient(dice, names)
    )
}

/// An opening that lets air out.
pub fn exit(dice: &mut Dice, names: &Names) -> String {
    let discharge = match dice.below(4) {
        0 => format!(", discharge = {:.4}", dice.between(0.3, 1.0)),
        1 => format!(", edge = \"{}\"", dice.pick(&["rounded", "sharp"])),
        _ => String::new(),
    };
    let louvres =
        if dice.chance(0.15) { format!(", louvres = {:.4}", dice.between(0.1, 1.0)) } else { String::new() };
    let angle = if dice.chance(0.3) {
        format!(", angle = \"{:.2} deg\"", dice.between(0.0, 180.0))
    } else {
        String::new()
    };
    let count = count(dice);
    format!(
        r#"{{ kind = "exit", {}{count}{}{discharge}{louvres}{angle} }}"#,
        size(dice),
        coefficient(dice, names)
    )
}

/// A fan: driven, on its own, or standing.
fn fan(dice: &mut Dice) -> String {
    let drive = match dice.below(6) {
        0..=2 => format!("drive_ratio = {:.4}", dice.between(0.3, 3.0)),
        3 => format!(r#"pulleys = {{ engine = "{:.1} mm", fan = "80 mm" }}"#, dice.between(60.0, 200.0)),
        4 => format!(r#"speed = "{:.0} rpm""#, dice.scale(300.0, 9000.0)),
        _ => "off = true".to_string(),
    };
    let top = if dice.chance(0.2) {
        format!(r#", top_speed = "{:.0} rpm""#, dice.scale(1000.0, 9000.0))
    } else {
        String::new()
    };
    let efficiency = if dice.chance(0.3) {
        format!(", efficiency = {:.3}", dice.between(0.2, 0.7))
    } else {
        String::new()
    };
    let diameter = dice.scale(60.0, 320.0);
    if dice.chance(0.2) {
        let wheel = dice.pick(&["axial", "backward-curved", "radial", "forward-curved"]);
        return format!(
            r#"{{ kind = "fan", {drive}{top}, wheel = "{wheel}", diameter = "{diameter:.2} mm"{efficiency} }}"#
        );
    }
    let sized = dice.chance(0.8);
    let size = if sized { format!(r#", diameter = "{diameter:.2} mm""#) } else { String::new() };
    let off = if sized && dice.chance(0.5) {
        format!(", off_loss = {:.3}", dice.between(3.0, 30.0))
    } else {
        String::new()
    };
    let stated = if sized && dice.chance(0.15) { r#", curve_is = "static""# } else { "" };
    let (rise, flow) = (dice.scale(60.0, 2500.0), dice.scale(0.04, 0.9));
    let shape: &[(f64, f64)] = dice.pick(&[
        &[(0.0, 1.0), (1.0, 0.0)][..],
        &[(0.0, 1.0), (0.42, 0.83), (0.75, 0.5), (1.0, 0.0)],
        &[(0.0, 1.0), (0.5, 1.0), (0.8, 0.6), (1.0, 0.0)],
        &[(0.1, 1.0), (0.6, 0.7), (1.0, 0.2)],
        &[(0.0, 1.0), (0.9, 0.4), (1.2, -0.4)],
    ]);
    let points: Vec<String> =
        shape.iter().map(|(q, p)| format!(r#"["{:.5} m3/s", "{:.3} Pa"]"#, q * flow, p * rise)).collect();
    format!(
        r#"{{ kind = "fan", {drive}{top}, reference_speed = "{:.0} rpm"{size}, curve = [{}]{stated}{off}{efficiency} }}"#,
        dice.between(1500.0, 8000.0),
        points.join(", ")
    )
}

/// What cools a part.
fn cooler(dice: &mut Dice, part: &str) -> String {
    let count = count(dice);
    if dice.chance(0.1) {
        return format!(
            r#"{{ kind = "fins", part = "{part}", fin_pitch = "{:.2} mm", fin_thickness = "{:.2} mm", fin_length = "{:.2} mm", root_diameter = "{:.2} mm", fin_count = {}, cylinders = {}, baffled = {}{count} }}"#,
            dice.between(5.0, 9.0),
            dice.between(1.0, 2.8),
            dice.between(12.0, 40.0),
            dice.between(60.0, 110.0),
            5 + dice.below(10),
            1 + dice.below(4),
            dice.chance(0.5)
        );
    }
    let mut size = if dice.chance(0.6) { format!(", {}", size(dice)) } else { String::new() };
    let core = dice.chance(0.35);
    if !core && !size.is_empty() && dice.chance(0.2) {
        size += &format!(r#", front_area = "{:.5} cm2""#, area(dice));
    }
    let exponents = if dice.chance(0.5) {
        format!(
            ", conductance_exponent = {:.3}, pressure_exponent = {:.3}",
            dice.between(0.3, 1.0),
            dice.between(1.0, 2.0)
        )
    } else {
        String::new()
    };
    let laws = format!(
        r#"part = "{part}", reference_flow = "{:.5} kg/s", conductance = "{:.3} W/K", pressure_drop = "{:.3} Pa"{exponents}{size}{count}"#,
        dice.scale(0.01, 0.6),
        dice.scale(4.0, 300.0),
        dice.scale(10.0, 900.0)
    );
    if core {
        let follows = if dice.chance(0.5) {
            format!(r#", oil_flow_at = "{:.0} rpm""#, dice.between(2000.0, 7000.0))
        } else {
            String::new()
        };
        return format!(
            r#"{{ kind = "core", {laws}, oil_flow = "{:.3} L/min"{follows} }}"#,
            dice.scale(0.5, 25.0)
        );
    }
    format!(r#"{{ kind = "fins", {laws} }}"#)
}

/// A change of area.
fn change(dice: &mut Dice) -> String {
    let small = area(dice);
    let large = small * dice.scale(1.02, 8.0);
    match dice.below(4) {
        0 | 1 => {
            let (before, after) = if dice.chance(0.5) { (small, large) } else { (large, small) };
            format!(r#"{{ kind = "step", area_before = "{before:.6} cm2", area_after = "{after:.6} cm2" }}"#)
        }
        which => {
            let (kind, before, after) =
                if which == 2 { ("diffuser", small, large) } else { ("contraction", large, small) };
            let length = if dice.chance(0.5) {
                format!(r#"angle = "{:.2} deg""#, dice.between(3.0, 120.0))
            } else {
                format!(r#"length = "{:.2} mm""#, dice.scale(20.0, 500.0))
            };
            format!(
                r#"{{ kind = "{kind}", {length}, area_before = "{before:.6} cm2", area_after = "{after:.6} cm2" }}"#
            )
        }
    }
}

/// Anything that may stand in the middle of a passage.
pub fn middle(dice: &mut Dice, names: &Names) -> String {
    if !names.parts.is_empty() && dice.chance(0.4) {
        let part = dice.pick(&names.parts);
        return cooler(dice, &part);
    }
    let element = plain(dice);
    let lofted = dice.chance(0.08).then(|| element.strip_suffix(" }")).flatten();
    lofted.map(|open| format!("{open}, blended = true }}")).unwrap_or(element)
}

/// An element that touches no part.
fn plain(dice: &mut Dice) -> String {
    match dice.below(12) {
        0..=2 => {
            let k = if dice.chance(0.05) { dice.scale(10.0, 1000.0) } else { dice.between(0.0, 6.0) };
            let back = if dice.chance(0.4) {
                format!(", k_reverse = {:.4}", dice.between(0.0, 6.0))
            } else {
                String::new()
            };
            format!(r#"{{ kind = "loss", {}, k = {k:.4}{back} }}"#, size(dice))
        }
        3 | 4 => {
            let wall = match dice.below(3) {
                0 => format!(", roughness = \"{:.4} mm\"", dice.between(0.0, 2.0)),
                1 => format!(", hose = \"{}\"", dice.pick(&["stretched", "moderate", "compressed"])),
                _ => String::new(),
            };
            format!(
                r#"{{ kind = "duct", diameter = "{:.3} mm", length = "{:.2} mm"{wall} }}"#,
                dice.scale(15.0, 250.0),
                dice.scale(20.0, 2000.0)
            )
        }
        5 => {
            let d = dice.scale(15.0, 200.0);
            let radius = if dice.chance(0.7) {
                format!(r#", radius = "{:.3} mm""#, d * dice.between(0.6, 8.0))
            } else {
                String::new()
            };
            format!(
                r#"{{ kind = "bend", diameter = "{d:.3} mm", angle = "{:.2} deg"{radius} }}"#,
                dice.between(5.0, 150.0)
            )
        }
        6 => format!(
            r#"{{ kind = "screen", {}, open_fraction = {:.3}, pattern = "{}", blocked = {:.3} }}"#,
            size(dice),
            dice.between(0.25, 0.95),
            dice.pick(&["wire", "perforated"]),
            if dice.chance(0.3) { dice.between(0.0, 0.7) } else { 0.0 }
        ),
        7 | 8 => change(dice),
        _ => fan(dice),
    }
}
