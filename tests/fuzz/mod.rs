//! Whatever is written: a case, a unit, a recorded run and a network are read or refused, and never end in a panic.
//!
//! Texts are sound ones with slips: pieces cut, doubled, swapped, numbers made huge, characters that nobody types. Each
//! target runs for some seconds from a fixed seed. An hour of one, from a seed of one's own:
//! `SLOWCORNER_FUZZ_SECONDS=3600 SLOWCORNER_FUZZ_SEED=7 cargo test --release --test laws fuzz::csv`. What is found becomes a
//! test beside the code that failed.

use slowcorner::case;
use slowcorner::keys::Kind;
use slowcorner::keys::measure::parse_text;
use slowcorner::point::Model;
use slowcorner::point::budget::Budget;
use slowcorner::point::conditions::solved_within;
use slowcorner::study::lap::record;
use std::time::{Duration, Instant};

const CASES: &[&str] = &[
    include_str!("../../cases/quarry-sprinter.toml"),
    include_str!("../../cases/causeway-trike.toml"),
    include_str!("../../cases/orchard-cyclecar.toml"),
    include_str!("../../cases/stubble-buggy.toml"),
];
const RUN: &str = "time (s);speed (km/h);rpm;throttle (%)\n0;0;1200;0\n1,5;12;1900;40\n2,5;31;;100\n# a pause\n4;58;5200;100\n";
const UNITS: &[&str] = &[
    "35 degC",
    "120 km/h",
    "90 cm2 ± 10 %",
    "0.5..1.3",
    "12 % +- 2 %",
    "1.3 bar",
    "2 W/K",
    "5 in",
    "3 inH2O",
    "250 cfm",
    "1e3 Pa",
];
/// Pieces that break things.
const ODD: &[&str] = &[
    "1e308",
    "-1e308",
    "1e-320",
    "nan",
    "inf",
    "0",
    "-0",
    "\u{0}",
    "\u{202e}",
    "é",
    "\u{feff}",
    "[",
    "]",
    "{",
    "}",
    "\"",
    "=",
    ",",
    ";",
    "\t",
    "\n",
    "..",
    "±",
    "%",
    "999999999999999999999",
    "#",
    "[[passage]]",
    "count = 1e9",
];

/// Steele, Lea & Flood, splitmix64 (2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.below(from.len())]
    }

    /// A place between two characters, `from` or behind it.
    fn place(&mut self, text: &str, from: usize, most: usize) -> usize {
        let mut at = from + self.below((text.len() - from).min(most) + 1);
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at.max(from)
    }

    /// A text with some slips.
    fn spoilt(&mut self, text: &str) -> String {
        let mut text = text.to_string();
        for _ in 0..=self.below(4) {
            let from = self.place(&text, 0, usize::MAX - 1);
            let to = self.place(&text, from, 40);
            let piece = text[from..to].to_string();
            let odd = self.pick(ODD);
            match self.below(4) {
                0 => text.replace_range(from..to, ""),
                1 => text.insert_str(from, &piece),
                2 => text.insert_str(from, odd),
                _ => text.replace_range(from..to, odd),
            }
        }
        text
    }
}

fn setting(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// Runs a target for its seconds; the seed and try are told where it panics.
fn run(name: &str, target: impl Fn(&mut Dice)) {
    let seed = setting("SLOWCORNER_FUZZ_SEED", 1);
    let until = Instant::now() + Duration::from_secs(setting("SLOWCORNER_FUZZ_SECONDS", 12));
    let mut tried = 0_u64;
    while Instant::now() < until {
        let here = seed.wrapping_mul(1 << 32).wrapping_add(tried);
        let sound = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| target(&mut Dice(here))));
        assert!(sound.is_ok(), "{name}: seed {seed}, try {tried}");
        tried += 1;
    }
    println!("{name}: {tried} tries");
    assert!(tried > 20, "{name}: only {tried} tries");
}

#[test]
fn a_case() {
    run("case", |dice| {
        let case = dice.pick(CASES);
        let text = dice.spoilt(case);
        if let Ok(loaded) = case::load(&text, &[]) {
            // what is read may still be refused when its laws are made
            let _ = Model::new(&loaded.case);
        }
    });
}

#[test]
fn a_unit() {
    let kinds = [
        Kind::Temperature,
        Kind::Area,
        Kind::Pressure,
        Kind::Share,
        Kind::Ratio,
        Kind::Speed,
        Kind::TemperatureDifference,
    ];
    run("unit", |dice| {
        let unit = dice.pick(UNITS);
        let text = dice.spoilt(unit);
        if let Ok(measure) = parse_text(&text, dice.pick(&kinds)) {
            assert!(measure.value.is_finite() && measure.low() <= measure.high(), "{text:?}: {measure:?}");
        }
    });
}

#[test]
fn a_csv_of_a_run() {
    run("csv", |dice| {
        let text = dice.spoilt(RUN);
        if let Ok(found) = record::read(text.as_bytes(), &record::NamedColumns::default()) {
            assert!(found.time.len() >= 2 && found.time.iter().all(|time| time.is_finite()), "{text:?}");
        }
    });
}

/// Sound cases with one number moved far: solved within the tolerance, or said to have no answer.
#[test]
fn a_network() {
    let loaded: Vec<_> = CASES.iter().map(|text| case::load(text, &[]).expect("sound").case).collect();
    run("solver", |dice| {
        let mut case = loaded[dice.below(loaded.len())].clone();
        let fact = dice.below(case.numbers.facts().len());
        let address = case.numbers.facts()[fact].address.clone();
        let Some(id) = case.numbers.find(&address) else { return };
        let moved = case.numbers.value(id) * dice.pick(&[0.5, 0.8, 1.25, 2.0]);
        case.numbers.set(id, moved);
        let Ok(model) = Model::new(&case) else { return };
        for condition in solved_within(&case, &model, Budget::seconds(1.0)).conditions {
            assert!(condition.residual <= 1e-9, "{address} = {moved}: {}", condition.residual);
            assert!(condition.parts.iter().all(|part| part.temperature_C.is_finite()), "{address} = {moved}");
        }
    });
}
