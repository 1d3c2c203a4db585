//! The table of keys of guesses that hang together.

use crate::keys::{Key, ReferenceTarget, ValueShape};

/// Numbers that are high together.
pub const TIED_VALUES: Key = Key::must(
    "values",
    ValueShape::Names(ReferenceTarget::Address),
    "addresses of numbers with a band that lie equally high in their bands, as two exits in one wake do",
);
/// Numbers that are low when the others are high.
pub const TIED_OPPOSITE: Key = Key::open(
    "opposite",
    ValueShape::Names(ReferenceTarget::Address),
    "addresses of those that lie as low as the others lie high, as heads and barrels that share one heat",
);
/// `[(tied)]`.
pub const TIED: &[Key] = &[TIED_VALUES, TIED_OPPOSITE];
