//! Addresses in words that are said at the bench.

/// What a guess is, from the first of its addresses, and of how many numbers.
pub(super) fn in_words(address: &str, numbers: usize) -> String {
    let path: Vec<&str> = address.split('/').collect();
    let plain = |key: &str| key.replace('_', " ");
    let said = match path.as_slice() {
        ["engine", "heat", name] => format!("share of heat to {name}"),
        ["engine", key, ..] => match *key {
            "brake_efficiency" => "engine's efficiency".to_string(),
            "friction_pressure" => "engine's friction".to_string(),
            "heat_exponent" => "how heat falls with load".to_string(),
            "power" | "peak_power" => "engine's power".to_string(),
            key => format!("engine's {}", plain(key)),
        },
        ["part", name, key, ..] => match *key {
            "hottest_above_mean" => format!("hottest of {name} above the mean"),
            "bay_conductance" | "emissivity" | "surface" => {
                format!("heat from {name} straight to the bay's air")
            }
            "source_temperature" => format!("gas temperature behind {name}"),
            "from_friction" => format!("share of the heat of {name} that goes with friction"),
            "share_at" => format!("temperature that the heat of {name} stands for"),
            key => format!("{} of {name}", plain(key)),
        },
        ["chamber", name, "skin_conductance", ..] => format!("heat lost through the walls of {name}"),
        ["place", name, key, ..] => match *key {
            "pressure_coefficient" => format!("surface pressure at {name}"),
            "recovery" => format!("ram at {name}"),
            "boundary_layer" => format!("skin layer at {name}"),
            key => format!("{} at {name}", plain(key)),
        },
        ["body", "leaks"] => "seams and leaks".to_string(),
        ["body", "hot_air_at_rest"] => "hot air drawn in again at rest".to_string(),
        ["body", "hot_air_moving"] => "hot air drawn in again on the move".to_string(),
        ["day", key] => format!("the day's {}", plain(key)),
        ["drive", key, ..] => plain(key),
        ["condition", name, key, ..] => format!("{} in {name}", plain(key)),
        ["passage", name, element, key, ..] => of_element(name, element, key),
        _ => plain(&path.join(" ")),
    };
    if numbers > 1 { format!("{said} (and the like)") } else { said }
}

fn of_element(name: &str, element: &str, key: &str) -> String {
    let kind = element.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' ');
    match (kind, key) {
        ("exit", "discharge" | "edge" | "edge_radius") => format!("edge of {name} (discharge)"),
        ("leak", _) => format!("leak of {name}"),
        (_, "pressure_coefficient") => format!("surface pressure at {name}"),
        (_, "recovery") => format!("ram at the inlet of {name}"),
        (_, "boundary_layer") => format!("skin layer before {name}"),
        (_, "recirculation") => format!("hot air that {name} draws in again"),
        (_, "entry_loss" | "edge") => format!("lip of {name}"),
        ("fins" | "core", "conductance" | "surface_factor" | "effectiveness" | "conductance_exponent") => {
            format!("how well the {kind} in {name} pass on heat")
        }
        ("fins" | "core", "pressure_drop" | "pressure_exponent" | "pressure_factor" | "face_loss") => {
            format!("resistance of the {kind} in {name}")
        }
        ("fan", "off_loss") => format!("resistance of the standing fan in {name}"),
        ("fan", "efficiency") => format!("efficiency of the fan in {name}"),
        ("fan", _) => format!("fan curve in {name}"),
        ("screen", _) => format!("mesh in {name}"),
        ("loss", _) => format!("loss in {name}"),
        (kind, key) => format!("{} of the {kind} in {name}", key.replace('_', " ")),
    }
}

#[cfg(test)]
mod tests {
    use super::in_words;

    #[test]
    fn a_guess_is_called_what_it_is_called_at_the_bench() {
        for (address, words) in [
            ("engine/heat/heads", "share of heat to heads"),
            ("passage/left exit/exit/discharge", "edge of left exit (discharge)"),
            ("part/heads/hottest_above_mean", "hottest of heads above the mean"),
            ("place/tail/pressure_coefficient", "surface pressure at tail"),
            ("passage/oil cooler/core/pressure_exponent", "resistance of the core in oil cooler"),
            ("passage/fan/bend 2/interaction", "interaction of the bend in fan"),
        ] {
            assert_eq!(in_words(address, 1), words);
        }
        assert_eq!(in_words("body/leaks", 3), "seams and leaks (and the like)");
    }
}
