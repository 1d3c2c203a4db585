//! The table of keys of a variant of the case.

use super::{NAME, PASSAGE};
use crate::keys::{Key, ReferenceTarget, ValueShape};

/// Passages taken away.
pub const REMOVE: Key =
    Key::open("remove", ValueShape::Names(ReferenceTarget::Passage), "passages taken away");
/// Addresses set.
pub const SET: Key = Key::open("set", ValueShape::Settings, "addresses with their values in this layout");
/// Passages added or replaced.
pub const LAYOUT_PASSAGE: Key =
    Key::open("passage", ValueShape::Tables(PASSAGE), "passages added, or replaced by name");
/// `[(layout)]`.
pub const LAYOUT: &[Key] = &[NAME, REMOVE, SET, LAYOUT_PASSAGE];
