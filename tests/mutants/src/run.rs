//! Tries mutants: each against the tests that reach it, the quick ones first.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{Result, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Longest that tests may take with a mutant over what they take without.
const PATIENCE: f64 = 5.0;
/// Time that tests of one start may take together (s).
const BATCH: f64 = 0.4;

fn start(binary: &str, copy: &Path, tests: &[&str]) -> Command {
    let mut command = Command::new(binary);
    command.args(tests).args(["--exact", "--test-threads=1", "-q"]).current_dir(copy);
    command.env("PROPTEST_CASES", "24").env("CARGO_MANIFEST_DIR", copy).env("INSTA_UPDATE", "no");
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command
}

/// Whether it ended well, within a time.
fn ends_well(command: &mut Command, most: f64) -> Result<bool> {
    let mut child = command.spawn()?;
    let begun = Instant::now();
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok(status.success());
        }
        if begun.elapsed().as_secs_f64() > most {
            child.kill()?;
            child.wait()?;
            return Ok(false);
        }
        std::thread::sleep(Duration::from_millis(2));
    }
}

/// Writes `touched` in the copy: binary, test, seconds, and the mutants it reaches.
pub fn touched(copy: &Path, binaries: &[&str]) -> Result<()> {
    let place = copy.join("touched");
    let known = fs::read_to_string(&place).unwrap_or_default();
    let known: BTreeSet<(&str, &str)> = known
        .lines()
        .filter_map(|line| line.split_once('\t').and_then(|(b, r)| Some((b, r.split_once('\t')?.0))))
        .collect();
    let mut out = fs::OpenOptions::new().append(true).create(true).open(&place)?;
    for binary in binaries {
        let listed = Command::new(binary).args(["--list", "--format=terse"]).output()?;
        let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
        for test in listed.lines().filter_map(|line| line.strip_suffix(": test")) {
            if known.contains(&(*binary, test)) {
                continue;
            }
            let notes = copy.join("reached.now");
            let _ = fs::remove_file(&notes);
            let mut command = start(binary, copy, &[test]);
            let begun = Instant::now();
            let well = ends_well(&mut command, 60.0)?;
            let seconds = begun.elapsed().as_secs_f64();
            if !well {
                writeln!(out, "{binary}\t{test}\t-1\t")?;
                continue;
            }
            ends_well(start(binary, copy, &[test]).env("MUTANTS_REACHED", &notes), 120.0)?;
            let reached = fs::read_to_string(&notes).unwrap_or_default();
            let reached: Vec<&str> = reached.lines().collect();
            writeln!(out, "{binary}\t{test}\t{seconds:.3}\t{}", reached.join(" "))?;
        }
    }
    Ok(())
}

struct Test<'a> {
    binary: &'a str,
    name: &'a str,
    seconds: f64,
}

/// Tries the mutants that are not yet in `tried` of the copy, and adds them there.
pub fn run(copy: &Path, seconds: u64, folders: &[&str]) -> Result<()> {
    let list = fs::read_to_string(copy.join("mutants.list"))?;
    let touched = fs::read_to_string(copy.join("touched"))?;
    let tried = fs::read_to_string(copy.join("tried")).unwrap_or_default();
    let tried: BTreeSet<&str> = tried.lines().filter_map(|line| line.split('\t').next()).collect();
    let mut reached_by: BTreeMap<&str, Vec<Test>> = BTreeMap::new();
    for line in touched.lines() {
        let parts: Vec<&str> = line.split('\t').collect();
        let [binary, name, seconds, reached] = parts[..] else { continue };
        let seconds: f64 = seconds.parse().unwrap_or(-1.0);
        for mutant in reached.split(' ').filter(|_| seconds >= 0.0) {
            reached_by.entry(mutant).or_default().push(Test { binary, name, seconds });
        }
    }
    let mut out = fs::OpenOptions::new().append(true).create(true).open(copy.join("tried"))?;
    let begun = Instant::now();
    for line in list.lines() {
        let Some((number, rest)) = line.split_once('\t') else { continue };
        if tried.contains(number)
            || !(folders.is_empty() || folders.iter().any(|folder| rest.starts_with(folder)))
        {
            continue;
        }
        if begun.elapsed().as_secs() > seconds {
            println!("to be gone on with at {number}");
            return Ok(());
        }
        let mut tests: Vec<&Test> = reached_by.get(number).into_iter().flatten().collect();
        tests.sort_by(|a, b| a.seconds.total_cmp(&b.seconds));
        let verdict = if tests.is_empty() { "unreached" } else { verdict(copy, number, &tests)? };
        writeln!(out, "{number}\t{verdict}\t{rest}")?;
    }
    println!("all tried");
    Ok(())
}

/// Starts of one binary at a time, each of tests that take [`BATCH`] together.
fn verdict(copy: &Path, number: &str, tests: &[&Test]) -> Result<&'static str> {
    let mut left: Vec<&Test> = tests.to_vec();
    while let Some(first) = left.first() {
        let (binary, mut names, mut seconds) = (first.binary, Vec::new(), 0.0);
        left.retain(|test| {
            let take = test.binary == binary && (names.is_empty() || seconds + test.seconds < BATCH);
            if take {
                names.push(test.name);
                seconds += test.seconds;
            }
            !take
        });
        let well = ends_well(start(binary, copy, &names).env("MUTANT", number), 2.0 + PATIENCE * seconds)?;
        if !well {
            return Ok("noticed");
        }
    }
    Ok("survived")
}
