//! What must hold of every network and every car, tried on ones made up at random.
//!
//! The runs repeat themselves: `PROPTEST_RNG_SEED` and `PROPTEST_CASES` try others.

mod anything;
mod cars;
mod jumps;
mod networks;
mod rewritten;
mod text;
mod wide;

use proptest::test_runner::{Config, RngSeed};

/// So many cases of one fixed seed, unless the environment asks for others.
fn config(cases: u32) -> Config {
    let asked = Config::default();
    let named = |name: &str| std::env::var_os(name).is_some();
    Config {
        cases: if named("PROPTEST_CASES") { asked.cases } else { cases },
        rng_seed: if named("PROPTEST_RNG_SEED") { asked.rng_seed } else { RngSeed::Fixed(874) },
        failure_persistence: None,
        ..asked
    }
}
