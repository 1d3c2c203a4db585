//! Addresses in words: how a number is called at the bench. The address itself stands where something is to be edited.

/// Keys that have a name of their own, and it.
const NAMED: &[(&str, &str)] = &[
    ("engine/heat_exponent", "how heat grows with speed"),
    ("engine/power_basis", "the air that the power was measured in"),
    ("body/leaks", "leaks nobody measured"),
    ("body/hot_air_at_rest", "hot air drawn in again, standing"),
    ("body/hot_air_moving", "hot air drawn in again, moving"),
];

/// What a key is called where its own name does not say it.
fn key(name: &str) -> String {
    match name {
        "hottest_above_mean" => "hottest above the mean".to_string(),
        "cross_flow_loss" => "loss by the stream across".to_string(),
        "bay_conductance" => "heat given to the bay's air per kelvin".to_string(),
        "from_friction" => "share of heat from friction".to_string(),
        "share_of_inlets" => "share of the inlets' area".to_string(),
        "blocked" => "what is blocked".to_string(),
        name => name.replace('_', " "),
    }
}

/// Whether a piece of an address is a key.
fn is_key(name: &str) -> bool {
    name.chars().all(|sign| sign.is_ascii_lowercase() || sign == '_' || sign.is_ascii_digit())
}

/// An address in words: "share of heat to barrels", "roughness of the diffuser in oil cooler".
pub fn in_words(address: &str) -> String {
    if let Some((_, words)) = NAMED.iter().find(|(known, _)| *known == address) {
        return (*words).to_string();
    }
    let pieces: Vec<&str> = address.split('/').collect();
    let spaced = |name: &str| name.replace('-', " ");
    match pieces.as_slice() {
        ["engine", "heat", part] => format!("share of heat to {part}"),
        ["engine" | "drive" | "day" | "body" | "size" | "sweep", name] => key(name),
        ["part", part, name] => format!("{} of {part}", key(name)),
        ["chamber", chamber, name] => format!("{} of {chamber}", key(name)),
        ["condition", condition, name] if is_key(name) => format!("{} in {condition}", key(name)),
        ["stint", stint, name] => format!("{} of {stint}", key(name)),
        ["place", place, "boundary_layer", name] => format!("{} of the skin's air at {place}", key(name)),
        ["place", place, name] => format!("{} at {place}", key(name)),
        ["part" | "chamber" | "condition" | "place" | "passage" | "stint" | "layout", name] => {
            (*name).to_string()
        }
        ["passage", passage, element] if passage == element => (*passage).to_string(),
        ["passage", passage, element] => format!("the {} in {passage}", spaced(element)),
        ["passage", passage, element, name] if passage == element => format!("{} of {passage}", key(name)),
        ["passage", passage, element, name] => {
            format!("{} of the {} in {passage}", key(name), spaced(element))
        }
        ["passage", passage, element, "boundary_layer", name] => {
            format!("{} of the skin's air before the {} in {passage}", key(name), spaced(element))
        }
        _ => address.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::in_words;

    #[test]
    fn addresses_read_as_words() {
        for (address, words) in [
            ("engine/heat/barrels", "share of heat to barrels"),
            ("engine/heat_exponent", "how heat grows with speed"),
            ("engine/brake_efficiency", "brake efficiency"),
            ("part/heads/hottest_above_mean", "hottest above the mean of heads"),
            ("passage/oil cooler/diffuser/roughness", "roughness of the diffuser in oil cooler"),
            ("passage/fan/wall-inlet/pressure_coefficient", "pressure coefficient of the wall inlet in fan"),
            (
                "passage/tail holes/exit/cross_flow_loss",
                "loss by the stream across of the exit in tail holes",
            ),
            ("passage/heads", "heads"),
            ("condition/at the line", "at the line"),
            ("place/tail left/pressure_coefficient", "pressure coefficient at tail left"),
            ("body/leaks", "leaks nobody measured"),
            ("gears/2", "gears/2"),
        ] {
            assert_eq!(in_words(address), words);
        }
    }
}
