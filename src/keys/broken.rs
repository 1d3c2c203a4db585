//! What is said of the rules that the keys of one table break.
//!
//! One slip is told once: a key that is one too many lacks nothing; of keys that stand together the rest is asked for, not
//! once more one of them; and where nothing of a group is given, that is told, not what a bystander asks of it.

use super::figures::in_a_row;
use super::rule::{Rule, RuleWords};
use super::rules::{as_written, known_ways};
use super::table::Key;

const SAID_TWICE: RuleWords =
    RuleWords::new("said-twice", "{table}: {given} say the same thing", "keep one of them");
const IDLE: RuleWords =
    RuleWords::new("key-idle", "{table}: {given} means nothing beside {other}", "leave it out");
const MISSING: RuleWords =
    RuleWords::new("key-missing", "{table} has no {other}", "give {help}").as_missing();
const NONE_GIVEN: RuleWords =
    RuleWords::new("key-missing", "{table} has none of {other}", "give one of them");

/// What is said where a rule is broken: its own words, else those of its kind; none of a rule that no table can break.
pub fn words_of(rule: Rule) -> Option<&'static RuleWords> {
    let usual = match rule.plain() {
        Rule::OneOf(_) | Rule::OneWay(_) => &SAID_TWICE,
        Rule::Without(..) => &IDLE,
        Rule::Needs(..) | Rule::Together(_) | Rule::AtLeastOneSet(_) => &MISSING,
        Rule::NeedsOneOf(..) | Rule::AtLeastOne(_) => &NONE_GIVEN,
        Rule::ReplacedBy(_) | Rule::OnlyWith(_) | Rule::OnRequest | Rule::Instead(_) | Rule::Told(..) => {
            return None;
        }
    };
    Some(rule.own_words().unwrap_or(usual))
}

/// A rule that is broken, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct BrokenRule {
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub way_out: String,
    /// The key at which it is told; none: at the table.
    pub at: Option<&'static str>,
    /// The keys that are given and ask for something, or are one too many.
    pub given: Vec<&'static str>,
}

/// The keys that a table gives.
pub struct GivenKeys<'t> {
    /// The keys that it may give.
    pub keys: &'static [Key],
    /// Its address.
    pub address: &'t str,
    /// Those that could be read, in the order in which they are written: what could not may have been meant for
    /// something else.
    pub read: Vec<&'static str>,
    /// All that are there, readable or not, what an override put there first: what it asks for is told there.
    pub there: Vec<&'static str>,
}

/// Faults so far, and what they speak of.
#[derive(Default)]
struct BrokenSoFar {
    found: Vec<BrokenKeys>,
    /// Keys of which one is too many.
    too_many: Vec<&'static str>,
    /// Keys of which one may be too many, could they be read.
    doubtful: Vec<&'static str>,
    /// Keys that are known to be missing.
    missing: Vec<&'static str>,
}

/// Keys that break a rule.
struct BrokenKeys {
    words: &'static RuleWords,
    given: Vec<&'static str>,
    other: Vec<&'static str>,
    at: Option<&'static str>,
}

/// In which order rules are looked at.
fn rank(rule: Rule) -> u8 {
    match rule.plain() {
        Rule::OneOf(_) | Rule::OneWay(_) => 0,
        Rule::Without(..) => 1,
        Rule::Together(_) => 2,
        Rule::AtLeastOne(_) => 3,
        Rule::Needs(..) | Rule::NeedsOneOf(..) => 4,
        _ => 5,
    }
}

impl GivenKeys<'_> {
    /// The rules that are broken.
    pub fn broken(&self) -> Vec<BrokenRule> {
        let mut so_far = BrokenSoFar::default();
        let mut rules: Vec<Rule> = as_written(self.keys).collect();
        rules.sort_by_key(|rule| rank(*rule));
        for rule in rules {
            let Some(words) = words_of(rule) else { continue };
            match rule.plain() {
                Rule::OneOf(group) => {
                    let unread = self.there.iter().filter(|name| !self.read.contains(name));
                    let named = self.read.iter().chain(unread).filter(|name| group.contains(name));
                    let ways: Vec<Vec<&str>> = named.map(|name| vec![*name]).collect();
                    self.one_way(&mut so_far, words, &ways);
                }
                Rule::OneWay(ways) => self.one_way(&mut so_far, words, &known_ways(self.keys, ways)),
                Rule::Without(name, others) => self.idle(&mut so_far, words, name, others),
                Rule::Needs(name, others) if self.is_there(name) => {
                    self.lacking(&mut so_far, words, vec![name], others);
                }
                Rule::NeedsOneOf(name, others) if self.is_there(name) && !self.any_there(others) => {
                    if !so_far.doubtful.contains(&name) {
                        so_far.add(words, vec![name], others.to_vec(), Some(name));
                    }
                }
                Rule::Together(group) => {
                    let given: Vec<&str> =
                        self.there.iter().copied().filter(|name| group.contains(name)).collect();
                    if !given.is_empty() {
                        self.lacking(&mut so_far, words, given, group);
                    }
                }
                Rule::AtLeastOne(group) if !self.any_there(group) => {
                    so_far.none_given(words, group, group.to_vec());
                }
                Rule::AtLeastOneSet(sets) => self.no_set(&mut so_far, words, sets),
                Rule::Needs(..) | Rule::NeedsOneOf(..) | Rule::AtLeastOne(_) => {}
                Rule::ReplacedBy(_)
                | Rule::OnlyWith(_)
                | Rule::OnRequest
                | Rule::Instead(_)
                | Rule::Told(..) => {}
            }
        }
        so_far.found.iter().flat_map(|broken| self.told(broken)).collect()
    }

    fn is_there(&self, name: &str) -> bool {
        self.there.contains(&name)
    }

    fn any_there(&self, names: &[&str]) -> bool {
        names.iter().any(|name| self.is_there(name))
    }

    /// Of ways of saying the same thing one is used.
    fn one_way(&self, so_far: &mut BrokenSoFar, words: &'static RuleWords, ways: &[Vec<&'static str>]) {
        let used = |given: &[&'static str]| -> Vec<Vec<&'static str>> {
            let of_way = |way: &Vec<&'static str>| -> Vec<&'static str> {
                way.iter().copied().filter(|name| given.contains(name)).collect()
            };
            ways.iter().map(of_way).filter(|way| !way.is_empty()).collect()
        };
        let there = used(&self.there);
        if there.len() > 1 {
            so_far.doubtful.extend(there.concat());
        }
        let read = used(&self.read);
        if read.len() > 1 {
            let given = read.concat();
            let last = self.read.iter().rev().find(|name| given.contains(name)).copied();
            so_far.one_too_many(words, given, last);
        }
    }

    fn idle(
        &self,
        so_far: &mut BrokenSoFar,
        words: &'static RuleWords,
        name: &'static str,
        others: &[&'static str],
    ) {
        let others: Vec<&str> = others.iter().copied().filter(|other| self.read.contains(other)).collect();
        let told = |name: &&str| so_far.too_many.contains(name);
        if self.read.contains(&name) && !others.is_empty() && !told(&name) && !others.iter().any(told) {
            so_far.add(words, vec![name], others, Some(name));
        }
    }

    /// Keys that ask for others, of which some are missing.
    fn lacking(
        &self,
        so_far: &mut BrokenSoFar,
        words: &'static RuleWords,
        given: Vec<&'static str>,
        wanted: &[&'static str],
    ) {
        // which of them stays is not known
        if given.iter().any(|name| so_far.doubtful.contains(name)) {
            return;
        }
        let missing: Vec<&str> = wanted.iter().copied().filter(|name| !self.is_there(name)).collect();
        if missing.is_empty() {
            return;
        }
        let missing = self.with_what_they_need(missing);
        if missing.iter().all(|name| so_far.missing.contains(name)) {
            let same = |known: &&mut BrokenKeys| known.words == words && known.other == missing;
            if let Some(known) = so_far.found.iter_mut().find(same) {
                let asks = |name: &&&'static str| known.given.contains(name) || given.contains(name);
                known.given = self.there.iter().filter(asks).copied().collect();
                known.at = known.given.first().copied();
            }
            return;
        }
        so_far.missing.extend(&missing);
        let at = given.first().copied();
        so_far.add(words, given, missing, at);
    }

    /// Missing keys, and those that will be missing once they are given.
    fn with_what_they_need(&self, mut missing: Vec<&'static str>) -> Vec<&'static str> {
        let mut counted = 0;
        while counted < missing.len() {
            counted = missing.len();
            for rule in as_written(self.keys).map(Rule::plain) {
                let more: &[&str] = match rule {
                    Rule::Together(group) if group.iter().any(|name| missing.contains(name)) => group,
                    Rule::Needs(name, others) if missing.contains(&name) => others,
                    _ => &[],
                };
                for name in more {
                    if !self.is_there(name) && !missing.contains(name) {
                        missing.push(name);
                    }
                }
            }
        }
        missing
    }

    /// No set is whole: what the one that is begun lacks, else the first.
    fn no_set(
        &self,
        so_far: &mut BrokenSoFar,
        words: &'static RuleWords,
        sets: &'static [&'static [&'static str]],
    ) {
        let lacks = |set: &&'static [&'static str]| -> Vec<&'static str> {
            set.iter().copied().filter(|name| !self.is_there(name)).collect()
        };
        if sets.iter().any(|set| lacks(set).is_empty()) {
            return;
        }
        let begun = sets.iter().find(|set| self.any_there(set)).or(sets.first());
        if let Some(set) = begun {
            so_far.none_given(words, &sets.concat(), lacks(set));
        }
    }

    /// In words.
    fn told(&self, broken: &BrokenKeys) -> Vec<BrokenRule> {
        let BrokenKeys { words, given, other, at } = broken;
        let one = |other: &[&str], at: Option<&'static str>| {
            let filled = |text: &str| self.filled(text, given, other);
            BrokenRule {
                code: words.code,
                message: filled(words.says),
                way_out: filled(words.way_out),
                at,
                given: given.clone(),
            }
        };
        match words.as_missing {
            true => other.iter().map(|name| one(&[name], None)).collect(),
            false => vec![one(other, *at)],
        }
    }

    fn filled(&self, text: &str, given: &[&str], other: &[&str]) -> String {
        let helps = other.iter().filter_map(|name| self.keys.iter().find(|key| key.name == *name));
        let helps: Vec<String> = helps.map(|key| format!("{}: {}", key.name, key.help)).collect();
        let first = |names: &[&str]| names.first().map_or(String::new(), |name| name.to_string());
        // the address last: a name may hold anything
        text.replace("{given}", &in_a_row(given))
            .replace("{first given}", &first(given))
            .replace("{other}", &in_a_row(other))
            .replace("{first other}", &first(other))
            .replace("{help}", &helps.join("; "))
            .replace("{table}", self.address)
    }
}

impl BrokenSoFar {
    fn add(
        &mut self,
        words: &'static RuleWords,
        given: Vec<&'static str>,
        other: Vec<&'static str>,
        at: Option<&'static str>,
    ) {
        self.found.push(BrokenKeys { words, given, other, at });
    }

    /// One key against several is one slip.
    fn one_too_many(
        &mut self,
        words: &'static RuleWords,
        given: Vec<&'static str>,
        at: Option<&'static str>,
    ) {
        if given.iter().all(|name| !self.too_many.contains(name)) {
            self.too_many.extend(&given);
            self.add(words, given, Vec::new(), at);
        }
    }

    /// Nothing is given of some keys; not told where one of them is missed already.
    fn none_given(&mut self, words: &'static RuleWords, names: &[&'static str], lacks: Vec<&'static str>) {
        if names.iter().all(|name| !self.missing.contains(name)) {
            self.missing.extend(names);
            self.add(words, Vec::new(), lacks, None);
        }
    }
}
