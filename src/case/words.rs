//! Keys that stand for one another: what builders write first, what takes another's place.

/// Words that builders try first, and the key that is meant.
pub(super) const TRIED_FIRST: &[(&str, &str)] = &[
    ("k", "entry_loss"),
    ("cd", "discharge"),
    ("cp", "pressure_coefficient"),
    ("speed_ratio", "drive_ratio"),
    ("ratio", "drive_ratio"),
    ("tow", "clear_air"),
    ("draft", "clear_air"),
    ("slipstream", "clear_air"),
    ("throttle", "load"),
    ("pedal", "load"),
    ("temp", "temperature"),
    ("max", "limit"),
    ("max_temperature", "limit"),
    ("radius", "edge_radius"),
    ("dia", "diameter"),
    ("size", "area"),
    ("efficiency", "brake_efficiency"),
    ("bsfc", "fuel_consumption"),
    ("ua", "conductance"),
    ("dp", "pressure_drop"),
    ("mesh", "open_fraction"),
    ("porosity", "open_fraction"),
    ("tyre", "tyre_radius"),
    ("wheel_radius", "tyre_radius"),
    ("ambient", "temperature"),
    ("tape", "taped"),
    ("n", "count"),
    ("number", "count"),
    ("w", "width"),
    ("h", "height"),
    ("l", "length"),
    ("d", "diameter"),
    ("cc", "displacement"),
    ("capacity", "displacement"),
    ("hp", "peak_power"),
    ("kw", "peak_power"),
    ("ratios", "gears"),
    ("diff", "final_drive"),
    ("redline", "highest"),
];

/// Words that builders try first for a kind of element, and the kind that is meant.
pub(super) const KINDS_TRIED_FIRST: &[(&str, &str)] = &[
    ("scoop", "ram-inlet"),
    ("intake", "ram-inlet"),
    ("inlet", "ram-inlet"),
    ("hose", "duct"),
    ("pipe", "duct"),
    ("tube", "duct"),
    ("elbow", "bend"),
    ("corner", "bend"),
    ("mesh", "screen"),
    ("grille", "screen"),
    ("blower", "fan"),
    ("radiator", "core"),
    ("cooler", "core"),
    ("cylinder", "fins"),
    ("outlet", "exit"),
    ("vent", "exit"),
    ("gap", "leak"),
    ("reducer", "contraction"),
];

/// Keys whose default is not taken where another key is given.
pub(super) const REPLACED_BY: &[(&str, &str)] = &[
    ("discharge", "edge"),
    ("discharge", "edge_radius"),
    ("discharge", "thickness"),
    ("roughness", "hose"),
    ("altitude", "pressure"),
    ("brake_efficiency", "fuel_consumption"),
    ("reference_density", "wheel"),
    ("head_factor", "measured"),
    ("flow_factor", "measured"),
    ("conductance_exponent", "fin_pitch"),
    ("pressure_exponent", "fin_pitch"),
    ("face_loss", "pressure_drop"),
    ("effectiveness", "conductance"),
    ("effectiveness", "rated"),
    ("face_speed", "conductance"),
    ("face_speed", "rated"),
];

/// Keys whose default is taken only where another key is given.
pub(super) const ONLY_WITH: &[(&str, &str)] = &[
    ("cylinders", "fin_pitch"),
    ("conductivity", "fin_pitch"),
    ("surface_factor", "fin_pitch"),
    ("pressure_factor", "fin_pitch"),
    ("vane_factor", "vanes"),
    ("head_factor", "wheel"),
    ("flow_factor", "wheel"),
];

/// Keys whose default is taken only where something beside the table asks for it.
pub(super) const ON_REQUEST: &[&str] = &["interaction"];

/// Keys of which one at most may be given.
pub const ONE_OF: &[&[&str]] = &[
    &["edge", "edge_radius", "entry_loss"],
    &["edge", "edge_radius", "discharge"],
    &["thickness", "discharge"],
    &["thickness", "edge"],
    &["hose", "roughness"],
    &["altitude", "pressure"],
    &["brake_efficiency", "fuel_consumption"],
    &["length", "angle"],
    &["heat_capacity", "mass"],
    &["step", "trace", "leg"],
    &["power", "peak_power"],
    &["gear", "rpm"],
    &["conductance", "rated", "effectiveness"],
    &["conductance", "face_speed"],
    &["rated", "face_speed"],
    &["pressure_drop", "face_loss"],
    &["curve", "wheel"],
    &["measured", "head_factor"],
    &["measured", "flow_factor"],
];
