//! Runs in time: against exact solutions, a textbook, another program's integration, and themselves.

mod believed;
mod closed_box;
mod exact;
mod loggers;
mod pace;
mod records;
mod soak;
mod stints;
mod told;

use slowcorner::case::{self, Case};
use slowcorner::point::Model;
use slowcorner::study::lap;
use slowcorner::study::lap::record::{NamedColumns, Record, read};
use slowcorner::study::lap::result::Stint;

/// A case from its text.
pub fn load(text: &str) -> (Case, Model) {
    let loaded = case::load(text, &[]).unwrap_or_else(|faults| panic!("{faults}"));
    let model = Model::new(&loaded.case).unwrap_or_else(|faults| panic!("{faults}"));
    (loaded.case, model)
}

/// Every stint of a case, with the recorded runs given as text.
pub fn run(text: &str, records: &[&str]) -> Vec<Stint> {
    let (case, model) = load(text);
    let wanted = |index: usize| NamedColumns::of(&case.stints[index].values);
    let records = records.iter().enumerate();
    let records: Vec<Option<Record>> =
        records.map(|(i, text)| Some(read(text.as_bytes(), &wanted(i)).expect("a sound record"))).collect();
    lap::lap(&case, &model, records).expect("the stints run")
}
