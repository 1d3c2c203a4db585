//! What an element finds wrong in its own table as it is written, before any law is made of it.

use crate::keys::{Key, RuleWords, SourceLocation, Values, View};

/// A fault in a table.
#[derive(Clone, Debug)]
pub struct TableFault {
    /// A code in words.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// Where it is written.
    pub place: SourceLocation,
    /// A way out.
    pub what_to_do: String,
}

/// The table of an element while it is looked at.
pub struct WrittenElement<'c> {
    /// Its values.
    pub view: View<'c>,
    /// Whether what is written behind a key of a table could be read to the end; what could not is faulted already.
    sound: &'c dyn Fn(&Values, &Key) -> bool,
    faults: Vec<TableFault>,
}

/// Looks at a table in one way.
pub type ChecksTable = fn(&mut WrittenElement);

impl<'c> WrittenElement<'c> {
    pub(super) fn new(view: View<'c>, sound: &'c dyn Fn(&Values, &Key) -> bool) -> WrittenElement<'c> {
        WrittenElement { view, sound, faults: Vec::new() }
    }

    pub(super) fn into_faults(self) -> Vec<TableFault> {
        self.faults
    }

    /// What is written.
    pub(super) fn values(&self) -> &'c Values {
        self.view.values
    }

    /// Whether a key could be read to the end.
    pub(super) fn sound(&self, values: &Values, key: &Key) -> bool {
        (self.sound)(values, key)
    }

    /// Notes a fault.
    pub(super) fn fault(
        &mut self,
        code: &'static str,
        message: String,
        place: SourceLocation,
        what_to_do: impl Into<String>,
    ) {
        self.faults.push(TableFault { code, message, place, what_to_do: what_to_do.into() });
    }

    /// Notes what a rule between keys says too, where it is seen by a value or by what stands elsewhere.
    pub(super) fn fault_in_words(&mut self, words: &RuleWords, place: SourceLocation) {
        let message = words.says.replace("{table}", &self.values().address);
        self.fault(words.code, message, place, words.way_out);
    }
}
