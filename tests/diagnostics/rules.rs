//! Rules between the keys of one table: whoever writes one on a key finds it walked by the reader.

use crate::diagnostics::support::{BASE, edited, faults_with, plain, sole_with, underlined};
use slowcorner::case::document::{self, Node};
use slowcorner::case::read::CaseReader;
use slowcorner::case::{Diagnostic, Diagnostics, Names, tables as t};
use slowcorner::element::KINDS;
use slowcorner::keys::broken::words_of;
use slowcorner::keys::{Key, Kind, Need, Numbers, Range, Rule, ValueShape, rules};
use slowcorner::{readings, study};

/// Every table of keys that a file may hold, with what it is called.
fn tables() -> Vec<(String, &'static [Key])> {
    let kinds = KINDS.iter().map(|kind| (format!("element {}", kind.name), kind.keys));
    let case = t::SECTIONS.iter().map(|section| (section.name.to_string(), section.keys));
    let read = readings::tables::SECTIONS.iter();
    let read = read.map(|section| (format!("readings {}", section.name), section.keys));
    let tops = [("top", t::TOP), ("readings top", readings::tables::TOP)];
    let estimate = [("estimate".to_string(), study::estimate::tables::KEYS)];
    let tops = tops.map(|(name, keys)| (name.to_string(), keys));
    let all = kinds.chain(case).chain(read).chain(tops).chain(estimate);
    all.flat_map(|(name, keys)| rules::nested(keys).into_iter().map(move |keys| (name.clone(), keys)))
        .collect()
}

/// Keys that break a rule, given without others; none of a rule that no table can break.
fn breaks(keys: &[Key], rule: Rule) -> Vec<Vec<&'static str>> {
    match rule.plain() {
        Rule::OneOf(_) | Rule::OneWay(_) | Rule::Without(..) => {
            rules::apart(keys, rule).into_iter().map(|(one, other)| vec![one, other]).collect()
        }
        Rule::AtLeastOne(_) | Rule::AtLeastOneSet(_) => vec![Vec::new()],
        Rule::Together(group) => group.iter().map(|name| vec![*name]).collect(),
        Rule::Needs(name, _) | Rule::NeedsOneOf(name, _) => vec![vec![name]],
        Rule::ReplacedBy(_) | Rule::OnlyWith(_) | Rule::OnRequest | Rule::Instead(_) | Rule::Told(..) => {
            Vec::new()
        }
    }
}

/// Keys that keep it.
fn keeps(keys: &[Key], rule: Rule) -> Vec<Vec<&'static str>> {
    match rule.plain() {
        Rule::OneOf(group) | Rule::AtLeastOne(group) => group.iter().map(|name| vec![*name]).collect(),
        Rule::OneWay(ways) => rules::known_ways(keys, ways),
        Rule::AtLeastOneSet(sets) => sets.iter().map(|set| set.to_vec()).collect(),
        Rule::Together(group) => vec![group.to_vec(), Vec::new()],
        Rule::Without(name, others) => vec![vec![name], others.to_vec()],
        Rule::Needs(name, others) => vec![[&[name], others].concat(), Vec::new()],
        Rule::NeedsOneOf(name, others) => others.iter().map(|other| vec![name, *other]).collect(),
        Rule::ReplacedBy(_) | Rule::OnlyWith(_) | Rule::OnRequest | Rule::Instead(_) | Rule::Told(..) => {
            Vec::new()
        }
    }
}

fn read(keys: &'static [Key], text: &str) -> Vec<Diagnostic> {
    let document = document::read(text).unwrap_or_else(|found| panic!("{text}: {found:?}"));
    let (mut faults, mut numbers) = (Diagnostics::new(), Numbers::default());
    let names = Names::default();
    let mut reader = CaseReader { faults: &mut faults, numbers: &mut numbers, names: &names };
    let table: &Node = document.get("table").expect("the table");
    reader.table(table, keys, "table", &[]);
    faults.list().to_vec()
}

/// A table of the same names in which nothing holds but one rule: whatever is faulted, that rule is.
fn with_this_rule_alone(keys: &[Key], rule: Rule) -> &'static [Key] {
    let held: &'static [Rule] = Box::leak(Box::new([rule]));
    let key = |(index, key): (usize, &Key)| {
        let plain = Key::open(key.name, ValueShape::Flag, "what it is");
        if index == 0 { plain.rules(held) } else { plain }
    };
    Box::leak(keys.iter().enumerate().map(key).collect())
}

#[test]
fn every_rule_is_told_where_it_is_broken_and_only_there() {
    let mut walked = 0;
    for (name, keys) in tables() {
        for rule in rules::as_written(keys) {
            let alone = with_this_rule_alone(keys, rule);
            let written = |given: &[&str]| {
                let lines: Vec<String> = given.iter().map(|name| format!("{name} = true\n")).collect();
                format!("[table]\n{}", lines.concat())
            };
            for given in breaks(keys, rule) {
                walked += 1;
                let found = read(alone, &written(&given));
                let words = words_of(rule).expect("words for what can be broken");
                assert!(!found.is_empty(), "{name}: {given:?} is not refused by {rule:?}");
                assert!(found.len() == 1 || words.as_missing, "{name}: {given:?} {found:?}");
                for fault in found {
                    assert_eq!(fault.code, words.code, "{name}: {given:?}");
                    let text = format!("{}{}", fault.message, fault.what_to_do);
                    let blank =
                        ["{table}", "given}", "other}", "{help}"].iter().any(|mark| text.contains(mark));
                    assert!(!blank && !fault.what_to_do.is_empty(), "{name}: {text}");
                }
            }
            for given in keeps(keys, rule) {
                let found = read(alone, &written(&given));
                assert!(found.is_empty(), "{name}: {given:?} is refused by {rule:?}: {found:?}");
            }
        }
    }
    assert!(walked > 100, "{walked} ways of breaking a rule");
}

/// A number of a kind within a range.
fn number(kind: Kind, range: Range) -> String {
    let value = match (range.low.is_finite(), range.high.is_finite()) {
        (true, true) => 0.5 * (range.low + range.high),
        (true, false) => 2.0 * range.low.abs() + 1.0,
        (false, true) => range.high - 1.0,
        (false, false) => 1.0,
    };
    match kind {
        Kind::Count => format!("{}", value.round()),
        _ => format!("{:?}", kind.show(value)),
    }
}

/// Something that may stand behind a key.
fn example(key: &Key) -> String {
    match key.shape {
        ValueShape::Number(kind) | ValueShape::NumberOrPairs(_, kind) => number(kind, key.range),
        ValueShape::NumberOrMap(kind, ..) => number(kind, key.range),
        ValueShape::Either(kinds) => number(kinds[0], key.range),
        ValueShape::Numbers(kind) => format!("[{}]", number(kind, key.range)),
        ValueShape::Pairs(x, y) => {
            format!("[[{}, {}]]", number(x, Range::between(1.0, 3.0)), number(y, key.range))
        }
        ValueShape::Text | ValueShape::Name(_) => "\"heads\"".to_string(),
        ValueShape::Word(words) => format!("{:?}", words[0]),
        ValueShape::Flag => "true".to_string(),
        ValueShape::Names(_) => "[\"heads\"]".to_string(),
        ValueShape::Table(keys) => required(keys),
        ValueShape::Tables(keys) => format!("[{}]", required(keys)),
        ValueShape::Groups | ValueShape::Elements => "[]".to_string(),
        ValueShape::Map(..) | ValueShape::NameLists(_) | ValueShape::Settings | ValueShape::Fans => {
            "{}".to_string()
        }
    }
}

/// A table with what it must have.
fn required(keys: &[Key]) -> String {
    let wanted = keys.iter().filter(|key| matches!(key.need, Need::Required));
    let entries: Vec<String> = wanted.map(|key| format!("{} = {}", key.name, example(key))).collect();
    format!("{{ {} }}", entries.join(", "))
}

/// Names that a rule speaks of.
fn named(rule: Rule) -> Vec<&'static str> {
    match rule.plain() {
        Rule::OneOf(group) | Rule::AtLeastOne(group) | Rule::Together(group) => group.to_vec(),
        Rule::OneWay(sets) | Rule::AtLeastOneSet(sets) => sets.concat(),
        Rule::Without(name, others) | Rule::Needs(name, others) | Rule::NeedsOneOf(name, others) => {
            [&[name], others].concat()
        }
        Rule::ReplacedBy(_) | Rule::OnlyWith(_) | Rule::OnRequest | Rule::Instead(_) | Rule::Told(..) => {
            Vec::new()
        }
    }
}

/// In the tables as they are: at once, or beside one other key where nothing of a group is told before it.
#[test]
fn every_table_that_breaks_a_rule_is_refused_for_it() {
    for (name, keys) in tables() {
        for rule in rules::as_written(keys) {
            let beside = keys.iter().map(|key| key.name).filter(|other| !named(rule).contains(other));
            let beside: Vec<Option<&str>> = std::iter::once(None).chain(beside.map(Some)).collect();
            for given in breaks(keys, rule) {
                let faults = |more: &Option<&str>| {
                    let written = keys.iter().filter(|key| {
                        matches!(key.need, Need::Required)
                            || given.contains(&key.name)
                            || *more == Some(key.name)
                    });
                    let lines: Vec<String> =
                        written.map(|key| format!("{} = {}\n", key.name, example(key))).collect();
                    read(keys, &format!("[table]\n{}", lines.concat()))
                };
                let code = words_of(rule).expect("words for what can be broken").code;
                assert!(!faults(&None).is_empty(), "{name}: {given:?} {rule:?}");
                let told = |more: &Option<&str>| faults(more).iter().any(|fault| fault.code == code);
                assert!(beside.iter().any(told), "{name}: {given:?} {rule:?}: {:?}", faults(&None));
            }
        }
    }
}

/// A rule that an override breaks is told at the override.
#[test]
fn an_override_that_breaks_a_rule_is_shown() {
    let without_surface = |key: &str, text: &str, code: &str| {
        let address = format!("part/barrels/{key}");
        (BASE.to_string(), address, text.to_string(), code.to_string())
    };
    let fan = |key: &str, text: &str, code: &str| {
        (BASE.to_string(), format!("passage/scoop/fan/{key}"), text.to_string(), code.to_string())
    };
    let pipes = edited("[part.barrels]\n", "[part.pipes]\nshare_at = \"400 degC\"\n\n[part.barrels]\n");
    for (text, address, value, code) in [
        without_surface("emissivity", "0.9", "surface-missing"),
        fan("head_factor", "1.2", "fan-wheel-missing"),
        fan("wheel", "axial", "fan-diameter-missing"),
        fan("off", "false", "fan-drive"),
        (pipes, "part/pipes/least".to_string(), "60 degC".to_string(), "limit-missing".to_string()),
        (BASE.to_string(), "engine/peak_power".into(), "33 kW".into(), "peak-power-incomplete".into()),
        (BASE.to_string(), "passage/scoop/bend/hose".into(), "moderate".into(), String::new()),
        (BASE.to_string(), "passage/scoop/bend 2/vane_factor".into(), "0.3".into(), "vanes-missing".into()),
    ] {
        let pair = [(address.as_str(), value.as_str())];
        if code.is_empty() {
            let found = faults_with(&text, &pair);
            assert!(found.is_empty(), "{}", plain(&found, &text));
            continue;
        }
        let fault = sole_with(&text, &pair);
        assert_eq!(fault.code, code, "{address}");
        assert_eq!(underlined(&fault, &text), format!("--set {address}={value}"), "{code}");
    }
}

/// One slip is one fault, and what stands elsewhere in the table is not asked for again.
#[test]
fn one_slip_is_told_once() {
    let codes = |from: &str, to: &str| {
        let text = edited(from, to);
        let found = faults_with(&text, &[]);
        found.iter().map(|fault| fault.code).collect::<Vec<_>>()
    };
    let opening = r#"{ kind = "exit", area = "190 cm2", edge"#;
    for (to, wanted) in [
        // a height alone asks for its width, not for a size
        (r#"{ kind = "exit", height = "90 mm", edge"#, vec!["size-incomplete"]),
        // what is misspelt, or cannot be read, asks for nothing beside another way
        (r#"{ kind = "exit", area = "190 cm2", heigth = "90 mm", edge"#, vec!["unknown-key"]),
        (r#"{ kind = "exit", area = "190 cm2", height = "ninety", edge"#, vec!["number-unreadable"]),
        (r#"{ kind = "exit", heigth = "90 mm", width = "200 mm", edge"#, vec!["unknown-key"]),
        (r#"{ kind = "exit", area = "190 cm2", width = "200 mm", edge"#, vec!["said-twice"]),
    ] {
        assert_eq!(codes(opening, to), wanted, "{to}");
    }
    // nothing of a part's two temperatures is given: that is told, not what its other keys ask of one of them
    let limit = "limit = \"208 degC\"\nhottest_above_mean = \"12 K\"\n";
    assert_eq!(codes(limit, "hottest_above_mean = \"12 K\"\n"), ["key-missing"]);
}
