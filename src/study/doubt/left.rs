//! What knowing something would leave of a band.

use serde::Serialize;

/// Standard errors on either side within which an estimate holds 9 times in 10, of eight scrambles: Student's t at
/// seven degrees of freedom.
const NINE_IN_TEN: f64 = 1.895;

/// What knowing something leaves of the band.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct BandLeft {
    /// Half the band now, less half of it were this known: half × (1 − √(1 − share)).
    pub worth_K: f64,
    /// Low and high end of that, 9 times in 10, from the standard error.
    pub worth_from_K: f64,
    /// High end.
    pub worth_to_K: f64,
    /// Half the band that would be left.
    pub leaves_K: f64,
}

impl BandLeft {
    /// What a share of the variance, with its standard error, takes off half a band.
    pub(super) fn of(half: f64, share: f64, error: f64) -> BandLeft {
        let leaves = |share: f64| half * (1.0 - share.clamp(0.0, 1.0)).sqrt();
        let worth = |sign: f64| half - leaves(share + sign * NINE_IN_TEN * error);
        BandLeft {
            worth_K: worth(0.0),
            worth_from_K: worth(-1.0),
            worth_to_K: worth(1.0),
            leaves_K: leaves(share),
        }
    }
}
