//! Made-up cars, each drawn from the bands, read with the errors that the file tells of: how often the truth lies in the band.

use crate::fit::support::{demo, program};
use serde_json::Value;
use slowcorner::case::load;
use slowcorner::draws::{Car, Guesses};
use slowcorner::numerics::normal;
use slowcorner::numerics::sobol::mix;
use slowcorner::readings::{GaugeEnd, Quantity, Reading};

/// Cars of a plain run; `SLOWCORNER_CARS=200` tells what docs/fit.md quotes.
const CARS: u64 = 12;

/// A number between 0 and 1, by car and place.
fn share(car: u64, place: u64) -> f64 {
    ((mix(car << 32 ^ mix(place)) >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
}

/// Margins that were asked about: how many lay in their bands, and how many there were.
type Counted = (usize, usize);

/// Margins of two conditions in which nothing was read, and those of one that was read itself. Everything is read `off` K
/// hotter by something that the case does not describe.
fn covered(cars: u64, off: f64) -> [Counted; 2] {
    // which openings are free is not asked here
    let text = demo("quarry-sprinter");
    let (before, rest) = text.split_once("[size]").expect("a table of sizes");
    let after = rest.find("\n[").map_or("", |end| &rest[end..]);
    let text = format!("{before}{after}");
    let case = load(&text, &[]).expect("a sound case").case;
    let guesses = Guesses::of(&case);
    let mut car = Car::new(&case, &guesses).expect("a car");
    let (straight, queue) = (2, 3);
    let whats = [Quantity::Part(0), Quantity::Part(1), Quantity::Part(2)];
    let spread = 8.0 / normal::NINE_IN_TEN * 0.5_f64.sqrt();
    let (mut counted, mut refused) = ([(0, 0); 2], 0);
    for number in 1..=cars {
        let point: Vec<f64> = (0..guesses.dimensions as u64).map(|place| share(number, place)).collect();
        if car.take(&point).is_err() {
            continue;
        }
        let deviate = |place: u64| normal::quantile(share(number, 1000 + place));
        // what the model itself is off by: of each part, and of each part anew each time
        let shared: Vec<f64> = (0..3).map(|part| spread * deviate(part)).collect();
        let own = |time: usize, part: usize| spread * deviate((100 + 10 * time + part) as u64);
        let zero = 3.0 / normal::NINE_IN_TEN * deviate(50);
        let mut readings = String::from(
            "format = 1\n[instrument.gauge]\nreads = \"temperature\"\nwithin = \"5 K\"\nzero = \"3 K\"\n",
        );
        let mut solved = true;
        for (place, condition) in [straight, queue].into_iter().enumerate() {
            solved &= car.solve(condition);
            let name = &case.conditions[condition].name;
            readings.push_str(&format!(
                "[[test]]\nname = \"{name}\"\non = \"track\"\ncondition = \"{name}\"\nreading = [\n"
            ));
            for (part, what) in whats.iter().enumerate() {
                let value = Reading { what: *what, moment: condition }.value(&car);
                let noise = 5.0 / normal::NINE_IN_TEN * deviate((200 + 10 * place + part) as u64);
                let shows = value + shared[part] + own(condition, part) + zero + noise + off - 273.15;
                readings.push_str(&format!(
                    "{{ part = \"{}\", shows = \"{shows:.3} degC\", with = \"gauge\" }},\n",
                    case.parts[part].name
                ));
            }
            if condition == straight {
                let over = GaugeEnd::Skin { passage: case.passage("left exit").expect("there"), element: 0 };
                let what = Quantity::Difference { of: GaugeEnd::Chamber(0), over };
                let value = Reading { what, moment: condition }.value(&car);
                let noise = (5.0 * deviate(301) + 0.1 * value * deviate(302)) / normal::NINE_IN_TEN;
                readings.push_str(&format!(
                    "{{ between = [\"bay\", \"left exit\"], shows = \"{:.3} Pa ± 5 Pa\" }},\n",
                    value + noise
                ));
            }
            readings.push_str("]\n");
        }
        let mut truth = Vec::new();
        for condition in [0, 1, straight] {
            solved &= car.solve(condition);
            for (part, shared) in shared.iter().enumerate().take(3) {
                // met again it is another day: what all times share is the same, and the rest is not
                truth.push((condition, part, car.margin(part) - shared - own(5 + condition, part)));
            }
        }
        if !solved {
            continue;
        }
        let folder = tempfile::tempdir().expect("a folder");
        let at = |name: &str| folder.path().join(name);
        std::fs::write(at("car.toml"), &text).expect("written");
        std::fs::write(at("r.toml"), &readings).expect("written");
        let output = program()
            .arg("fit")
            .arg(at("car.toml"))
            .arg(at("r.toml"))
            .args(["--json", "--dry", "--as-read"])
            .output()
            .expect("runs");
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        if told.contains("chains-not-agreed") {
            // refused, and not told wrongly
            refused += 1;
            println!("car {number} was refused: {told}{readings}");
            continue;
        }
        let result: Value =
            serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{number}: {told}\n{readings}"));
        for (condition, part, truth) in truth {
            let margins = result["fit"]["margins"].as_array().expect("a list");
            let own = margins.iter().find(|row| {
                row["condition"] == case.conditions[condition].name.as_str()
                    && row["part"] == case.parts[part].name.as_str()
            });
            let band = &own.expect("a margin")["after_K"];
            let end = |key: &str| band[key].as_f64().expect("a number");
            let (inside, all) = &mut counted[usize::from(condition == straight)];
            *all += 1;
            *inside += usize::from((end("p05")..=end("p95")).contains(&truth));
        }
    }
    println!("refused: {refused} of {cars}");
    assert!(8 * refused <= cars, "{refused} of {cars} were refused");
    counted
}

fn cars() -> u64 {
    std::env::var("SLOWCORNER_CARS").ok().and_then(|cars| cars.parse().ok()).unwrap_or(CARS)
}

/// The truth lies in the band in 85 to 95 of 100 (200 cars); of few cars more scatter is allowed: two standard errors of a
/// share of nine in ten, the nine margins of a car counted as three that tell something of their own. With 200 cars it came to 94.2: see
/// docs/fit.md.
#[test]
fn the_truth_lies_in_the_band_nine_times_in_ten() {
    let [unread, read] = covered(cars(), 0.0);
    println!("covered: unread {unread:?}, read {read:?}");
    let (inside, all) = (unread.0 + read.0, unread.1 + read.1);
    let share = inside as f64 / all as f64;
    let slack = 2.0 * (0.09 / (all as f64 / 3.0)).sqrt();
    assert!((0.85_f64.min(0.9 - slack)..=0.95_f64.max(0.9 + slack)).contains(&share), "{inside} of {all}");
}

/// Everything is read 10 K hotter by something that the case does not describe: no nine in ten is claimed, seven must be left.
#[test]
fn what_the_case_does_not_describe_costs_no_more_than_told() {
    let [(inside, all), (read_inside, read)] = covered(cars(), 10.0);
    println!("covered with 10 K: {inside} of {all}, where it was read {read_inside} of {read}");
    let (inside, all) = (inside + read_inside, all + read);
    let slack = 2.0 * (0.21 / (all as f64 / 3.0)).sqrt();
    assert!(inside as f64 / all as f64 >= 0.7 - if cars() < 100 { slack } else { 0.0 }, "{inside} of {all}");
}
