//! What a reading may be off by: each by itself, what all of one instrument share, and what the model itself is off by. One
//! source for every screen that expects a reading or weighs one.

use super::leaks;
use super::operator::{GaugeEnd, Quantity};
use super::tables::{KELVINS_OFF, SHARE_OFF};
use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::case::instruments::{Instrument, Instruments};
use crate::draws::guesses::shared_error;
use crate::numerics::normal;
use crate::numerics::normal::NINE_IN_TEN;
use crate::numerics::sobol::{mix, share};

/// The model's own error of a pressure is never less (Pa): near nought none is better known than the unit it is told in.
const LEAST: f64 = 1.0;

/// What the model itself may be off by, 9 times in 10 within.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelError {
    /// At a part (K).
    pub parts: f64,
    /// Of air (K).
    pub air: f64,
    /// Of a difference of pressure, as a share of it.
    pub pressures: f64,
}

impl Default for ModelError {
    fn default() -> ModelError {
        ModelError { parts: KELVINS_OFF, air: KELVINS_OFF, pressures: SHARE_OFF }
    }
}

/// How well an instrument reads, each 9 times in 10 within.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ToolErrors {
    /// One reading by itself (K or Pa).
    pub within: f64,
    /// All its readings alike (K or Pa).
    pub zero: f64,
    /// All alike, as a share of what is shown; of a temperature, of what it stands over 0 °C.
    pub scale: f64,
}

impl From<Instrument> for ToolErrors {
    fn from(own: Instrument) -> ToolErrors {
        ToolErrors { within: own.within, zero: own.alike, scale: own.scale }
    }
}

/// What several readings have in common that may be off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SharedError {
    /// All that an instrument shows.
    Zero(usize),
    /// The same, in proportion.
    Scale(usize),
    /// The model, at a part.
    Part(usize),
    /// The model, where air or a pressure is read.
    Place(Quantity),
}

/// What a reading may be off by.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReadingErrors {
    /// Spread of what is its own (K or Pa).
    pub own: f64,
    /// Spread of what the model is off by in this reading alone, which is part of that (K or Pa).
    pub alone: f64,
    /// What it shares with others, with the spread (K or Pa).
    pub shared: Vec<(SharedError, f64)>,
}

impl ReadingErrors {
    /// Those of a reading that shows about so much (K or Pa), with an instrument that others may be read with too.
    pub fn of(
        what: Quantity,
        tool: ToolErrors,
        instrument: Option<usize>,
        size: f64,
        model: &ModelError,
    ) -> ReadingErrors {
        let mut shared = Vec::new();
        let pressure = matches!(what, Quantity::Difference { .. });
        if let Some(index) = instrument {
            if tool.zero > 0.0 {
                shared.push((SharedError::Zero(index), tool.zero / NINE_IN_TEN));
            }
            if tool.scale > 0.0 {
                let over = if pressure { size } else { size - ZERO_CELSIUS };
                shared.push((SharedError::Scale(index), tool.scale * over / NINE_IN_TEN));
            }
        }
        let (of, half) = match what {
            Quantity::Part(part) | Quantity::Mean(part) => (SharedError::Part(part), model.parts),
            Quantity::Air(_) | Quantity::Behind { .. } => (SharedError::Place(what), model.air),
            Quantity::Difference { .. } => {
                (SharedError::Place(what), (model.pressures * size.abs()).max(LEAST))
            }
            // of two pressures with one gauge: what that is off by in proportion falls out
            Quantity::Leaks { .. } => (SharedError::Place(what), leaks::WITHIN * size.abs()),
        };
        // half of it, in variance, is the same wherever and whenever that is read
        shared.push((of, shared_error(half)));
        let alone = shared_error(half);
        ReadingErrors { own: (tool.within / NINE_IN_TEN).hypot(alone), alone, shared }
    }

    /// Those of one of so many readings of one thing in one run in time: read often, it makes the model no better.
    pub fn as_one_of(mut self, count: usize) -> ReadingErrors {
        self.own = self.own.hypot(self.alone * (count.saturating_sub(1) as f64).sqrt());
        self.alone *= (count.max(1) as f64).sqrt();
        self
    }

    /// The same where what the model is off by in this reading alone is counted elsewhere.
    pub fn without_alone(mut self) -> ReadingErrors {
        self.own = (self.own.powi(2) - self.alone.powi(2)).max(0.0).sqrt();
        self.alone = 0.0;
        self
    }

    /// Spread of all of it together.
    pub fn spread(&self) -> f64 {
        self.shared.iter().fold(self.own, |sum, (_, spread)| sum.hypot(*spread))
    }

    /// What it is off by in a draw of a seed; `own` tells the reading from others.
    pub fn drawn(&self, seed: u64, own: u64) -> f64 {
        let deviate = |key: u64| normal::quantile(share(seed ^ mix(key)));
        let shared = self.shared.iter().map(|(off, spread)| spread * deviate(off.key()));
        self.own * deviate(own) + shared.sum::<f64>()
    }
}

impl SharedError {
    fn key(self) -> u64 {
        match self {
            SharedError::Zero(index) => 1 << 56 | index as u64,
            SharedError::Scale(index) => 2 << 56 | index as u64,
            SharedError::Part(part) => 3 << 56 | part as u64,
            SharedError::Place(what) => 4 << 56 | what.key(),
        }
    }
}

impl Quantity {
    /// A number that tells it from all else that is read of a car.
    pub(crate) fn key(self) -> u64 {
        let leg = |leg: GaugeEnd| match leg {
            GaugeEnd::Chamber(index) => 1 << 20 | index as u64,
            GaugeEnd::Skin { passage, element } => 2 << 20 | (passage << 8 | element) as u64,
            GaugeEnd::Place(index) => 3 << 20 | index as u64,
            GaugeEnd::StillAir => 4 << 20,
        };
        match self {
            Quantity::Part(part) => 1 << 48 | part as u64,
            Quantity::Mean(part) => 2 << 48 | part as u64,
            Quantity::Air(chamber) => 3 << 48 | chamber as u64,
            Quantity::Behind { passage, element, .. } => 4 << 48 | (passage << 16 | element) as u64,
            Quantity::Difference { of, over } => 5 << 48 | leg(of) << 24 | leg(over),
            Quantity::Leaks { hole_mm2 } => 6 << 48 | u64::from(hole_mm2),
        }
    }

    /// What it is read with, of what a case names; of what is usual where that names nothing for it.
    pub fn tool(&self, case: &Case) -> ToolErrors {
        let usual = Instruments::usual();
        let own = Instruments::of(case);
        let of = |hand: &Instruments| match self {
            Quantity::Part(_) | Quantity::Mean(_) => hand.part,
            Quantity::Air(_) | Quantity::Behind { .. } => hand.air,
            Quantity::Difference { .. } => hand.pressure,
            // how well two pressures give a share hangs on their size
            Quantity::Leaks { .. } => None,
        };
        of(&own).or(of(&usual)).map_or(ToolErrors::default(), ToolErrors::from)
    }

    /// The number by which readings of one instrument know each other, where a case names no more than one of each kind.
    pub fn instrument(&self) -> usize {
        match self {
            Quantity::Difference { .. } | Quantity::Leaks { .. } => 0,
            Quantity::Part(_) | Quantity::Mean(_) => 1,
            Quantity::Air(_) | Quantity::Behind { .. } => 2,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MODEL: ModelError = ModelError { parts: 8.0, air: 8.0, pressures: 0.1 };

    /// Variances of what is independent add up; of a second reading with the same gauge of the same part only its own is new.
    #[test]
    fn what_is_shared_is_drawn_once() {
        let tool = ToolErrors { within: 5.0, zero: 2.5, scale: 0.01 };
        let errors = |what| ReadingErrors::of(what, tool, Some(1), 473.15, &MODEL);
        let whole = errors(Quantity::Part(0)).spread() * NINE_IN_TEN;
        let by_hand = (5.0_f64.powi(2) + 2.5_f64.powi(2) + 2.0_f64.powi(2) + 8.0_f64.powi(2)).sqrt();
        assert!((whole - by_hand).abs() < 1e-9, "{whole} for {by_hand}");
        let (mut same, mut together, mut apart) = (0.0, 0.0, 0.0);
        let count = 20_000;
        for draw in 0..count {
            let seed = mix(draw);
            let [a, b, c] = [(Quantity::Part(0), 7), (Quantity::Part(0), 8), (Quantity::Part(1), 9)]
                .map(|(what, own)| errors(what).drawn(seed, own));
            same += a * a / count as f64;
            together += a * b / count as f64;
            apart += a * c / count as f64;
        }
        let unit = NINE_IN_TEN.powi(2);
        // four standard errors of a mean of so many products
        let near = |found: f64, wanted: f64| {
            (found - wanted).abs() < 4.0 * 2.0_f64.sqrt() * by_hand.powi(2) / (count as f64).sqrt()
        };
        assert!(near(same * unit, by_hand.powi(2)), "{}", same * unit);
        assert!(near(together * unit, 32.0 + 6.25 + 4.0), "{}", together * unit);
        assert!(near(apart * unit, 6.25 + 4.0), "{}", apart * unit);
    }

    #[test]
    fn a_pressure_near_nought_is_known_no_better_than_its_unit() {
        let what = Quantity::Difference { of: GaugeEnd::Chamber(0), over: GaugeEnd::StillAir };
        let tool = ToolErrors { within: 5.0, ..ToolErrors::default() };
        let errors = |size| ReadingErrors::of(what, tool, None, size, &MODEL).spread() * NINE_IN_TEN;
        assert!((errors(0.2) - 5.0_f64.hypot(1.0)).abs() < 1e-9);
        assert!((errors(-300.0) - 5.0_f64.hypot(30.0)).abs() < 1e-9);
    }
}
