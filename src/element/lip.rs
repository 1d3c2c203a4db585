//! The lip of an opening that the stream meets: what it costs to draw air faster than the stream.

use super::{PassageStream, Response};

/// A lip, as one moment and its tape leave it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Lip {
    /// Loss coefficient of the air's excess speed over the stream, on the open area.
    entry: f64,
    /// Loss coefficient of the widening behind tape, both ways, on the open area.
    blank: f64,
    /// Open area of all pieces (m²).
    pub open_area: f64,
    /// Speed of the stream (m/s).
    stream: f64,
}

/// Entry loss coefficient of an opening of which a share b is blanked by tape.
///
/// ```text
///   K + max(0, 0.5 − K) · min(1, b/0.1)
/// ```
///
/// Tape leaves a sharp edge: K rises to that of one, 0.5, over the first tenth taped, so that a little tape does no
/// more than a little. `entry` K on the open area, `taped` b. From memory.
pub fn taped_entry(entry: f64, taped: f64) -> f64 {
    entry + (0.5 - entry).max(0.0) * (taped / 0.1).min(1.0)
}

impl Lip {
    /// The lip of an opening of `area` (m², all pieces) with an entry loss coefficient, of which a share is taped, in a
    /// stream (m/s).
    pub fn new(entry: f64, area: f64, taped: f64, stream: f64) -> Lip {
        Lip {
            entry: taped_entry(entry, taped),
            blank: taped * taped,
            open_area: area * (1.0 - taped),
            stream,
        }
    }

    /// Adds what the lip takes, with its slopes.
    ///
    /// ```text
    ///   Δp = K ½ρ (V_i − V)²  inward where V_i > V, none otherwise;  b² ½ρV_i² behind tape, both ways
    /// ```
    ///
    /// V_i the speed in the opening, V that of the stream: the air's excess speed is what a lip wastes.
    /// Source: momentum balance on a lip, Fradenburgh & Wyatt, NACA TN 3004 (1953).
    #[inline]
    pub fn add_to(&self, response: &mut Response, stream: &PassageStream, temperature: f64) {
        let volume = stream.volume_per_kelvin * temperature;
        if stream.forward {
            let inner_speed = stream.flow * volume / self.open_area;
            let excess = inner_speed - self.stream;
            if excess > 0.0 {
                let density = 1.0 / volume;
                let drop = 0.5 * self.entry * density * excess * excess;
                response.drop += drop;
                response.rise_by_flow -= self.entry * excess / self.open_area;
                response.rise_by_temperature -=
                    (self.entry * density * excess * inner_speed - drop) / temperature;
            }
        }
        if self.blank > 0.0 {
            let head = 0.5 * volume / (self.open_area * self.open_area);
            let drop = self.blank * head * stream.square;
            response.drop += drop;
            response.rise_by_flow -= self.blank * head * stream.square_slope;
            response.rise_by_temperature -= drop / temperature;
        }
    }
}
