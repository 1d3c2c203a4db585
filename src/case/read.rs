//! Reads one table of the case file by walking its table of keys.

mod between;
mod elements;
mod numbers;

pub use elements::element_segments;
use numbers::{NumberWanted, assumed_fact};

use super::diagnostic::{Diagnostic, Diagnostics, FaultPlace, did_you_mean};
use super::document::{Node, TableEntry, Tree};
use super::names::Names;
use crate::keys::{
    Key, Kind, Need, NumberId, Numbers, Range, ReferenceTarget, Rule, Slot, SourceLocation, ValueShape,
    Values,
};

/// What builders write for a loss coefficient where an element reckons its own.
const LOSS_WORDS: &[&str] = &["k", "zeta", "loss", "loss_coefficient", "dp"];

/// What is carried along while a case is read.
pub struct CaseReader<'a> {
    /// Faults found so far.
    pub faults: &'a mut Diagnostics,
    /// Numbers read so far.
    pub numbers: &'a mut Numbers,
    /// Everything that has a name.
    pub names: &'a Names,
}

impl From<SourceLocation> for FaultPlace {
    fn from(place: SourceLocation) -> FaultPlace {
        match place {
            SourceLocation::File(span) => FaultPlace::Span(span),
            SourceLocation::Override { address, text } => FaultPlace::Override { address, text },
        }
    }
}

impl CaseReader<'_> {
    /// Notes a fault.
    pub fn fault(
        &mut self,
        code: &'static str,
        message: impl Into<String>,
        place: FaultPlace,
        way_out: impl Into<String>,
    ) {
        self.faults.push(Diagnostic::new(code, message, place, way_out));
    }

    /// Reads a table; entries named in `elsewhere` are left to the caller.
    pub fn table(&mut self, node: &Node, keys: &'static [Key], address: &str, elsewhere: &[&str]) -> Values {
        let mut values = Values::new(keys, address.to_string(), node.written());
        if !matches!(node.tree, Tree::Table(_)) {
            self.fault(
                "table-wanted",
                format!("{address} is {}; a table is wanted here", node.in_words()),
                node.place(),
                format!("write its keys in braces or under [{}]", address.replace('/', ".")),
            );
            return values;
        }
        let (mut misspelt, mut unreadable) = (Vec::new(), Vec::new());
        for entry in node.entries() {
            if elsewhere.contains(&entry.key.as_str()) {
                continue;
            }
            match keys.iter().position(|key| key.name == entry.key) {
                Some(index) => {
                    let known = self.faults.len();
                    let slot = self.slot(&keys[index], &entry.value, &below(address, &entry.key));
                    if self.faults.len() > known && matches!(slot, Slot::Absent) {
                        unreadable.push(keys[index].name);
                    }
                    values.put(index, slot, Some(entry.value.written()));
                }
                None => misspelt.extend(self.unknown_key(entry, keys, address).zip(Some(entry))),
            }
        }
        // what is misspelt is there, if unreadable: nothing is said to be missing for it
        for (index, entry) in misspelt {
            if !values.written(&keys[index]) {
                values.put(index, Slot::Absent, Some(entry.value.written()));
            }
        }
        for key in keys {
            let written = values.written(key) || node.get(key.name).is_some();
            if matches!(key.need, Need::Required) && !written {
                self.fault(
                    "key-missing",
                    format!("{} has no {}", in_words(address), key.name),
                    node.place(),
                    format!("give {}: {}", key.name, key.help),
                );
            }
        }
        self.hold_to_rules(node, &values, &unreadable);
        values
    }

    /// Fills in the defaults of what was left out.
    pub fn take_defaults(&mut self, values: &mut Values) {
        for key in values.keys {
            // a feature that is switched off is not given
            let on = |key: &Key| values.has(key) && !matches!(values.slot(key), Slot::Flag(false));
            let given = |name: &str| values.keys.iter().any(|k| k.name == name && on(k));
            let waits = key.rules.iter().any(|rule| match rule.plain() {
                Rule::ReplacedBy(others) => others.iter().any(|other| given(other)),
                Rule::OnlyWith(other) => !given(other),
                Rule::OnRequest => true,
                _ => false,
            });
            if !waits {
                self.take_default(values, key);
            }
        }
    }

    /// Fills in the default of a key that was left out.
    pub fn take_default(&mut self, values: &mut Values, key: &Key) {
        let (Need::Default(assumed), ValueShape::Number(kind)) = (key.need, &key.shape) else { return };
        if values.has(key) {
            return;
        }
        let id = self.numbers.add(assumed_fact(values.address_of(key), *kind, key.range, &assumed, key.help));
        if let Some(slot) = values.slot_mut(key) {
            *slot = Slot::Number(id);
        }
    }

    /// Faults an unknown key; the key that is meant, where one is near enough.
    fn unknown_key(&mut self, entry: &TableEntry, keys: &'static [Key], address: &str) -> Option<usize> {
        let names = || keys.iter().map(|key| key.name);
        let is_meant = |key: &&Key| key.also.iter().any(|word| entry.key.eq_ignore_ascii_case(word));
        let is_near = |near: &str| keys.iter().find(|key| key.name == near);
        let meant =
            keys.iter().find(is_meant).or_else(|| did_you_mean(&entry.key, names()).and_then(is_near));
        let way_out = match meant {
            Some(key) if is_meant(&key) => format!("write {}: {}", key.name, key.help),
            Some(key) => format!("did you mean {}?", key.name),
            None if LOSS_WORDS.iter().any(|word| entry.key.eq_ignore_ascii_case(word)) && keys.iter().any(|key| key.name == "kind") => {
                r#"its loss follows from its shape; a coefficient of your own is an element of its own, after it: { kind = "loss", area = "90 cm2", k = 0.4 }"#.to_string()
            }
            None => format!("possible here: {}", names().collect::<Vec<_>>().join(", ")),
        };
        let message = format!("{} has no key {}", in_words(address), entry.key);
        self.fault("unknown-key", message, entry.key_place(), way_out);
        meant.and_then(|meant| keys.iter().position(|key| key.name == meant.name))
    }

    fn slot(&mut self, key: &Key, node: &Node, address: &str) -> Slot {
        match &key.shape {
            ValueShape::Number(kind) => {
                self.number(node, &NumberWanted::of(key, *kind), address).map_or(Slot::Absent, Slot::Number)
            }
            ValueShape::Either(kinds) => self.either(node, key, kinds, address),
            ValueShape::Numbers(kind) => {
                let ids = self.list(node).iter().enumerate().filter_map(|(i, member)| {
                    self.number(member, &NumberWanted::of(key, *kind), &format!("{address}/{}", i + 1))
                });
                Slot::Numbers(ids.collect())
            }
            ValueShape::Pairs(x, y) => Slot::Pairs(self.pairs(node, key, *x, *y, address)),
            ValueShape::NumberOrPairs(x, kind) => match node.tree {
                Tree::List(_) => Slot::Pairs(self.pairs(node, key, *x, *kind, address)),
                _ => self
                    .number(node, &NumberWanted::of(key, *kind), address)
                    .map_or(Slot::Absent, Slot::Number),
            },
            ValueShape::Text => self.text(node, address).map_or(Slot::Absent, Slot::Text),
            ValueShape::Flag => match node.tree {
                Tree::Flag(flag) => Slot::Flag(flag),
                _ => {
                    let message = format!("{address} is {}; true or false is wanted", node.in_words());
                    self.fault("flag-wanted", message, node.place(), "write true or false, without quotes");
                    Slot::Absent
                }
            },
            ValueShape::Word(words) => self.word(node, words, address),
            ValueShape::Name(thing) => match self.text(node, address) {
                Some(name) => {
                    self.check_name(&name, *thing, node.place());
                    Slot::Text(name)
                }
                None => Slot::Absent,
            },
            ValueShape::Names(thing) => Slot::Names(self.name_list(node, *thing, address)),
            ValueShape::Groups => Slot::Groups(self.groups(node, address)),
            ValueShape::Table(keys) => {
                let mut values = self.table(node, keys, address, &[]);
                if key.name != "day" {
                    self.take_defaults(&mut values);
                }
                Slot::Table(Box::new(values))
            }
            ValueShape::Tables(keys) => {
                let several = matches!(node.tree, Tree::List(_));
                let tables = node.members().iter().enumerate().map(|(i, member)| {
                    let address = if several { format!("{address}/{}", i + 1) } else { address.to_string() };
                    let elsewhere: &[&str] = if key.name == "passage" { &["element"] } else { &[] };
                    let mut values = self.table(member, keys, &address, elsewhere);
                    self.take_defaults(&mut values);
                    values
                });
                Slot::Tables(tables.collect())
            }
            ValueShape::Map(kind, thing) => {
                let empty = matches!(&node.tree, Tree::Table(entries) if entries.is_empty());
                if empty && matches!(key.need, Need::Required) {
                    let message = format!("{address} holds nothing");
                    self.fault("table-empty", message, node.place(), format!("give {}", key.help));
                }
                Slot::Map(self.map(node, &NumberWanted::of(key, *kind), *thing, address))
            }
            ValueShape::NameLists(thing) => Slot::Lists(self.lists(node, *thing, address)),
            ValueShape::NumberOrMap(kind, other, thing) => match node.tree {
                Tree::Table(_) => Slot::Map(self.map(
                    node,
                    &NumberWanted { other: *other, ..NumberWanted::of(key, *kind) },
                    *thing,
                    address,
                )),
                _ => self
                    .number(node, &NumberWanted { other: *other, ..NumberWanted::of(key, *kind) }, address)
                    .map_or(Slot::Absent, Slot::Number),
            },
            ValueShape::Settings => Slot::Settings(
                node.entries().iter().map(|entry| (entry.key.clone(), String::new())).collect(),
            ),
            ValueShape::Fans => Slot::Settings(self.fans(node, address)),
            ValueShape::Elements => Slot::Tables(self.elements(node, address)),
        }
    }

    fn list<'n>(&mut self, node: &'n Node) -> &'n [Node] {
        if let Tree::List(members) = &node.tree {
            return members;
        }
        let message = format!("this is {}; a list is wanted here", node.in_words());
        self.fault("list-wanted", message, node.place(), "write it in brackets: [ …, … ]");
        &[]
    }

    fn pairs(
        &mut self,
        node: &Node,
        key: &Key,
        x: Kind,
        y: Kind,
        address: &str,
    ) -> Vec<(NumberId, NumberId)> {
        let mut pairs = Vec::new();
        for (i, member) in self.list(node).iter().enumerate() {
            let Tree::List(pair) = &member.tree else {
                let message =
                    format!("point {} of {address} is {}; a pair is wanted", i + 1, member.in_words());
                self.fault(
                    "pair-wanted",
                    message,
                    member.place(),
                    format!("write [{}, {}]", x.example(), y.example()),
                );
                continue;
            };
            let [first, second] = &pair[..] else {
                let count = match pair.len() {
                    1 => "one value".to_string(),
                    count => format!("{count} values"),
                };
                let message = format!("point {} of {address} has {count}; two are wanted", i + 1);
                self.fault(
                    "pair-wanted",
                    message,
                    member.place(),
                    format!("write [{}, {}]", x.example(), y.example()),
                );
                continue;
            };
            let at = format!("{address}/{}", i + 1);
            let read = (
                self.number(
                    first,
                    &NumberWanted { range: Range::NOT_NEGATIVE, ..NumberWanted::of(key, x) },
                    &format!("{at}/1"),
                ),
                self.number(second, &NumberWanted::of(key, y), &format!("{at}/2")),
            );
            if let (Some(x), Some(y)) = read {
                if let Some((before, _)) = pairs.last()
                    && self.numbers.value(x) <= self.numbers.value(*before)
                {
                    self.fault(
                        "points-out-of-order",
                        format!("the points of {address} must rise in their first value"),
                        first.place(),
                        "put them in order, and take out one of two alike",
                    );
                    continue;
                }
                pairs.push((x, y));
            }
        }
        pairs
    }

    fn text(&mut self, node: &Node, address: &str) -> Option<String> {
        if let Some(text) = node.text() {
            // a backslash before r, t or n was taken for a sign that nobody sees
            if address.ends_with("/trace") && text.contains(char::is_control) {
                let message = "a backslash between double quotes begins a special sign";
                let way_out = "write / in paths: \"logs/run.csv\", or single quotes: 'logs\\run.csv'";
                self.fault("backslash-in-text", message, node.place(), way_out);
                return None;
            }
            return Some(text.to_string());
        }
        let message = format!("{address} is {}; text is wanted here", node.in_words());
        self.fault("text-wanted", message, node.place(), "write it in quotes");
        None
    }

    fn word(&mut self, node: &Node, words: &'static [&'static str], address: &str) -> Slot {
        let Some(word) = self.text(node, address) else { return Slot::Absent };
        if words.contains(&word.as_str()) {
            return Slot::Text(word);
        }
        let meant = did_you_mean(&word, words.iter().copied())
            .map_or(String::new(), |meant| format!("did you mean {meant}? "));
        self.fault(
            "unknown-word",
            format!("{} cannot be {word:?}", in_words(address)),
            node.place(),
            format!("{meant}possible: {}", words.join(", ")),
        );
        Slot::Absent
    }

    /// Faults a name that nothing defines.
    pub fn check_name(&mut self, name: &str, thing: ReferenceTarget, place: FaultPlace) {
        if self.names.knows(name, thing) {
            return;
        }
        let possible = self.names.of(thing);
        let (what, define) = Names::in_words(thing);
        // an element's place, where a passage is wanted
        if thing == ReferenceTarget::Passage
            && let Some((passage, element)) = name.split_once('/')
            && self.names.knows(passage, thing)
        {
            let way_out = format!(
                "where an element may be named, write {{ passage = {passage:?}, element = {element:?} }}; else {passage:?} alone"
            );
            self.fault("unknown-name", format!("no {what} is called {name:?}"), place, way_out);
            return;
        }
        let way_out = match did_you_mean(name, possible.iter().map(String::as_str)) {
            Some(meant) => format!("did you mean {meant}?"),
            None if possible.is_empty() => define.to_string(),
            None => format!("known: {}; or {define}", possible.join(", ")),
        };
        self.fault("unknown-name", format!("no {what} is called {name:?}"), place, way_out);
    }

    fn name_list(&mut self, node: &Node, thing: ReferenceTarget, address: &str) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for member in node.members() {
            let Some(name) = self.text(member, address) else { continue };
            self.check_name(&name, thing, member.place());
            if names.contains(&name) {
                let message = format!("{name:?} stands twice in {address}");
                self.fault("name-used-twice", message, member.place(), "take one of them out");
            }
            names.push(name);
        }
        names
    }

    fn groups(&mut self, node: &Node, address: &str) -> Vec<Vec<(String, Option<String>)>> {
        let mut groups = Vec::new();
        for member in self.list(node) {
            let members: Vec<&Node> = match &member.tree {
                Tree::List(inner) => inner.iter().collect(),
                _ => vec![member],
            };
            let mut group = Vec::new();
            for member in members {
                let (passage, element) = match &member.tree {
                    Tree::Table(entries) => {
                        for entry in entries.iter().filter(|e| e.key != "passage" && e.key != "element") {
                            let message = format!("a free opening has no key {}", entry.key);
                            let way_out = "possible here: passage, element";
                            self.fault("unknown-key", message, entry.key_place(), way_out);
                        }
                        (
                            member.get("passage").and_then(|node| self.text(node, address)),
                            member.get("element").and_then(|node| self.text(node, address)),
                        )
                    }
                    _ => (self.text(member, address), None),
                };
                match passage {
                    Some(name) => {
                        self.check_name(&name, ReferenceTarget::Passage, member.place());
                        group.push((name, element));
                    }
                    None if matches!(member.tree, Tree::Table(_)) => {
                        let message =
                            "a free opening names its passage and, where there are two, its element";
                        let way_out = r#"write { passage = "oil cooler", element = "exit" }"#;
                        self.fault("opening-unnamed", message, member.place(), way_out);
                    }
                    None => {}
                }
            }
            groups.push(group);
        }
        groups
    }

    fn map(
        &mut self,
        node: &Node,
        wanted: &NumberWanted,
        thing: ReferenceTarget,
        address: &str,
    ) -> Vec<(String, NumberId)> {
        if !matches!(node.tree, Tree::Table(_)) {
            let message =
                format!("{} is {}; a table of names is wanted here", in_words(address), node.in_words());
            // a list of names says which are meant
            let name = node.members().iter().find_map(Node::text).unwrap_or("name");
            self.fault(
                "table-wanted",
                message,
                node.place(),
                format!("write {{ {name:?} = {} }}", wanted.kind.example()),
            );
            return Vec::new();
        }
        let mut map = Vec::new();
        for entry in node.entries() {
            self.check_name(&entry.key, thing, entry.key_place());
            if let Some(id) = self.number(&entry.value, wanted, &format!("{address}/{}", entry.key)) {
                map.push((entry.key.clone(), id));
            }
        }
        map
    }

    fn lists(
        &mut self,
        node: &Node,
        thing: ReferenceTarget,
        address: &str,
    ) -> Vec<(String, Vec<(String, SourceLocation)>)> {
        if !matches!(node.tree, Tree::Table(_)) {
            let message =
                format!("{} is {}; a table of names is wanted here", in_words(address), node.in_words());
            let way_out = r#"write { "name" = ["bend", "duct 2"] }"#;
            self.fault("table-wanted", message, node.place(), way_out);
            return Vec::new();
        }
        let mut lists = Vec::new();
        for entry in node.entries() {
            self.check_name(&entry.key, thing, entry.key_place());
            let address = format!("{address}/{}", entry.key);
            let members = entry.value.members().iter();
            let words = members.filter_map(|node| Some((self.text(node, &address)?, node.written())));
            lists.push((entry.key.clone(), words.collect()));
        }
        lists
    }
}

/// The address of a key of a table; at the top of the file the key itself.
fn below(address: &str, key: &str) -> String {
    if address.is_empty() { key.to_string() } else { format!("{address}/{key}") }
}

/// An address as it is spoken of.
fn in_words(address: &str) -> String {
    if address.is_empty() { "the case".to_string() } else { address.to_string() }
}
