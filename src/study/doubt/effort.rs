//! How long it takes to measure a guess (common practice, from memory).

/// Words for how long it takes, by the last names of an address.
const TIMES: &[(&str, &[&str])] = &[
    (
        "minutes, with callipers, a rule or the maker's sheet",
        &[
            "area",
            "width",
            "height",
            "diameter",
            "length",
            "radius",
            "count",
            "angle",
            "roughness",
            "open_fraction",
            "edge_radius",
            "area_before",
            "area_after",
            "front_area",
            "louvres",
            "blocked",
            "wire",
            "gap",
            "run",
            "fin_pitch",
            "fin_thickness",
            "fin_length",
            "root_diameter",
            "surface",
            "mass",
            "tyre_radius",
            "drive_ratio",
        ],
    ),
    ("half an hour and a drive, a gauge on each", &["hottest_above_mean", "spread"]),
    (
        "an afternoon on the bench, with a fan and a U-tube",
        &[
            "conductance",
            "pressure_drop",
            "reference_flow",
            "conductance_exponent",
            "pressure_exponent",
            "discharge",
            "surface_factor",
            "pressure_factor",
            "flow_factor",
            "head_factor",
            "off_loss",
            "curve",
            "k",
            "entry_loss",
            "efficiency",
            "share_of_inlets",
            "leaks",
            "cross_flow_loss",
        ],
    ),
    (
        "a day on a dynamometer",
        &[
            "heat",
            "brake_efficiency",
            "friction_pressure",
            "heat_exponent",
            "source_temperature",
            "from_friction",
            "share_at",
            "volumetric_efficiency",
            "power",
            "peak_power",
            "fuel_consumption",
        ],
    ),
    (
        "an afternoon on the road, with taps and a U-tube",
        &["pressure_coefficient", "recovery", "share", "hot_air_at_rest", "hot_air_moving", "boundary_layer"],
    ),
    ("an afternoon, warm and standing", &["bay_conductance", "skin_conductance", "emissivity"]),
];

/// How long it takes to measure the number at an address.
pub(super) fn takes(address: &str) -> &'static str {
    let names: Vec<&str> = address.rsplit('/').take(2).collect();
    // the table counts too: heads under [engine.heat] is a share of heat
    let of = |name: &str| TIMES.iter().find(|(_, keys)| keys.contains(&name)).map(|(words, _)| *words);
    names.into_iter().find_map(of).unwrap_or("half a day")
}

#[cfg(test)]
mod tests {
    use super::takes;

    #[test]
    fn an_address_is_known_by_its_key_or_its_table() {
        assert!(takes("passage/left exit/exit/area").starts_with("minutes"));
        assert_eq!(takes("engine/heat/heads"), "a day on a dynamometer");
        assert_eq!(takes("part/heads/hottest_above_mean"), "half an hour and a drive, a gauge on each");
        assert_eq!(takes("nothing/of/this"), "half a day");
    }
}
