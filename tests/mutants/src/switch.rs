//! The module that the copy gets: asks which mutant is on, and notes which are reached.

/// Source of `src/mutants.rs` in the copy.
pub const SOURCE: &str = r#"#![allow(missing_docs)]
use std::io::Write;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering::Relaxed};

const UNKNOWN: u32 = u32::MAX;
const NOTING: u32 = u32::MAX - 1;
static ON: AtomicU32 = AtomicU32::new(UNKNOWN);
static REACHED: [AtomicBool; 20_000] = [const { AtomicBool::new(false) }; 20_000];

#[inline(always)]
pub fn on(mutant: u32) -> bool {
    let on = ON.load(Relaxed);
    if on >= NOTING { seldom(mutant) } else { on == mutant }
}

#[inline(always)]
pub fn float(mutant: u32, value: f64) -> f64 {
    if on(mutant) { value * 1.05 } else { value }
}

#[cold]
#[inline(never)]
fn seldom(mutant: u32) -> bool {
    if ON.load(Relaxed) == UNKNOWN {
        let number = std::env::var("MUTANT").ok().and_then(|text| text.parse().ok()).unwrap_or(0);
        ON.store(if std::env::var_os("MUTANTS_REACHED").is_some() { NOTING } else { number }, Relaxed);
        return on(mutant);
    }
    if !REACHED[mutant as usize].swap(true, Relaxed) {
        let path = std::env::var("MUTANTS_REACHED").unwrap_or_default();
        if let Ok(mut file) = std::fs::OpenOptions::new().append(true).create(true).open(path) {
            let _ = file.write_all(format!("{mutant}\n").as_bytes());
        }
    }
    false
}
"#;
