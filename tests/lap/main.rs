//! Runs in time: against exact solutions, a textbook, another program's integration, and themselves.

mod closed_box;
mod exact;
mod records;
mod soak;
mod stints;

use slowcorner::case::{self, Case};
use slowcorner::study::Model;
use slowcorner::study::lap::record::{Record, read};
use slowcorner::study::lap::result::Stint;
use slowcorner::study::lap::{self};

/// A case from its text.
pub fn load(text: &str) -> (Case, Model) {
    let loaded = case::load(text, &[]).unwrap_or_else(|faults| panic!("{faults}"));
    let model = Model::new(&loaded.case).unwrap_or_else(|faults| panic!("{faults}"));
    (loaded.case, model)
}

/// Every stint of a case, with the recorded runs given as text.
pub fn run(text: &str, records: &[&str]) -> Vec<Stint> {
    let (case, model) = load(text);
    let records: Vec<Option<Record>> =
        records.iter().map(|text| Some(read(text.as_bytes()).expect("a sound record"))).collect();
    lap::lap(&case, &model, records).expect("the stints run")
}
