//! Kinds of quantity, units, tables of keys and addresses: what the case file is made of.

pub mod broken;
pub mod figures;
pub mod kind;
pub mod measure;
pub mod rule;
pub mod rules;
pub mod table;
pub mod units;
pub mod values;
pub mod word;

pub use kind::Kind;
pub use measure::Spread;
pub use rule::{Rule, RuleWords};
pub use table::{Assumed, Key, Need, Range, ReferenceTarget, Usual, ValueShape};
pub use values::{Fact, NumberId, Numbers, Origin, Slot, SourceLocation, Values, View};
