//! A part that must be kept below a temperature.

/// A part with its limit and what it gives to its surroundings.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Working limit (K): the limit less what the hottest spot stands above the mean.
    pub limit: f64,
    /// Lower limit (K).
    pub least: Option<f64>,
    /// Conductance to the air of its chamber (W/K).
    pub bay_conductance: f64,
    /// Its chamber; none: outside.
    pub chamber: Option<usize>,
    /// Effective temperature of the gas or surface that heats it (K).
    pub source_temperature: f64,
    /// Part temperature at which the share of heat holds (K).
    pub reference_temperature: f64,
    /// Heat capacity (J/K), for runs in time.
    pub heat_capacity: Option<f64>,
}

impl Part {
    /// Heat that the part takes at a temperature, and its slope.
    ///
    /// ```text
    ///   Q = Q_share (T_source − T)/(T_source − T_ref)
    /// ```
    ///
    /// `share_heat` Q_share (W) at T_ref; T (K). Heat comes from a source of an effective
    /// temperature, so that a part takes less as it gets hotter and never exceeds the source.
    /// Source: the effective gas temperature of Pinkel, NACA TR 612 (1938) (values from memory).
    #[inline]
    pub fn heat_taken(&self, share_heat: f64, temperature: f64) -> (f64, f64) {
        let per_kelvin = share_heat / (self.source_temperature - self.reference_temperature);
        (per_kelvin * (self.source_temperature - temperature), -per_kelvin)
    }
}
