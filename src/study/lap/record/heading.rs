//! The headings of a logger's file: where they stand, what each means.

use super::field;
use crate::case::tables as t;
use crate::keys::units::Unit;
use crate::keys::{Kind, Values};

/// Lines before the headings that are passed over.
pub const MOST_BEFORE: usize = 30;
/// What may part the fields.
const DELIMITERS: [char; 3] = [';', '\t', ','];
/// A name so short that it means something only with its unit behind it.
const SHORT: usize = 2;

/// What a column may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnMeaning {
    Time,
    /// Road speed.
    Speed,
    /// Engine speed.
    Rpm,
    Load,
    /// Pedal travel.
    Throttle,
    /// A temperature that was measured, by its place among those wanted.
    Measured(usize),
}

/// A column that is looked for.
pub struct Known {
    /// What it is.
    pub column: ColumnMeaning,
    /// The word for it.
    pub word: &'static str,
    /// Names under which it is found, the best first, in small letters, spaces for hyphens and underlines.
    pub names: &'static [&'static str],
    /// Kind of quantity.
    pub kind: Kind,
    /// A heading.
    pub example: &'static str,
}

/// The columns that are looked for.
pub const COLUMNS: [Known; 5] = [
    Known {
        column: ColumnMeaning::Time,
        word: "time",
        names: &[
            "time",
            "elapsed time",
            "time elapsed",
            "session time",
            "run time",
            "recording time",
            "log time",
            "seconds",
            "t",
            "timestamp",
            "time stamp",
            "date time",
            "datetime",
            "gps time",
            "utc time",
            "utc",
            "zeit",
            "laufzeit",
            "messzeit",
            "zeitstempel",
            "uhrzeit",
            "temps",
            "horodatage",
            "tempo",
            "tijd",
            "tid",
            "tiempo",
            "czas",
            "čas",
        ],
        kind: Kind::Time,
        example: "time (s)",
    },
    Known {
        column: ColumnMeaning::Speed,
        word: "speed",
        names: &[
            "speed",
            "road speed",
            "gps speed",
            "speed gps",
            "ground speed",
            "vehicle speed",
            "car speed",
            "speed over ground",
            "wheel speed",
            "velocity",
            "v",
            "v gps",
            "v car",
            "vss",
            "geschwindigkeit",
            "gps geschwindigkeit",
            "fahrgeschwindigkeit",
            "fahrzeuggeschwindigkeit",
            "vitesse",
            "vitesse gps",
            "velocità",
            "velocita",
            "velocidad",
            "snelheid",
            "hastighet",
            "prędkość",
            "predkosc",
            "rychlost",
        ],
        kind: Kind::Speed,
        example: "speed (km/h)",
    },
    Known {
        column: ColumnMeaning::Rpm,
        word: "rpm",
        names: &[
            "rpm",
            "engine rpm",
            "engine speed",
            "engine revs",
            "revs",
            "crank speed",
            "n",
            "n mot",
            "nmot",
            "n engine",
            "n eng",
            "drehzahl",
            "motordrehzahl",
            "régime",
            "regime",
            "régime moteur",
            "regime moteur",
            "tours",
            "giri",
            "giri motore",
            "regime motore",
            "revoluciones",
            "toerental",
            "varvtal",
            "omdrejninger",
            "obroty",
            "otáčky",
        ],
        kind: Kind::RotationalSpeed,
        example: "rpm",
    },
    Known {
        column: ColumnMeaning::Load,
        word: "load",
        names: &[
            "load",
            "engine load",
            "calculated load",
            "last",
            "motorlast",
            "charge",
            "charge moteur",
            "carico",
            "carico motore",
            "carga",
            "belasting",
            "obciążenie",
        ],
        kind: Kind::Share,
        example: "load (%)",
    },
    Known {
        column: ColumnMeaning::Throttle,
        word: "throttle",
        names: &[
            "throttle",
            "throttle position",
            "throttle pos",
            "throttle angle",
            "tps",
            "pedal",
            "pedal position",
            "accelerator",
            "accelerator pedal",
            "accelerator position",
            "gas",
            "gaspedal",
            "drosselklappe",
            "drosselklappenwinkel",
            "fahrpedal",
            "papillon",
            "pédale",
            "farfalla",
            "acceleratore",
            "mariposa",
            "gasspjäll",
        ],
        kind: Kind::Share,
        example: "throttle (%)",
    },
];

/// Which columns of a file a case names itself.
#[derive(Clone, Debug, Default)]
pub struct NamedColumns {
    /// Headings by what they are.
    pub columns: Vec<(ColumnMeaning, String)>,
    /// Parts and chambers with the headings of what was measured there.
    pub measured: Vec<(String, String)>,
}

impl NamedColumns {
    /// Of a stint.
    pub fn of(stint: &Values) -> NamedColumns {
        let keys = [
            (ColumnMeaning::Time, &t::COLUMN_TIME),
            (ColumnMeaning::Speed, &t::COLUMN_SPEED),
            (ColumnMeaning::Rpm, &t::COLUMN_RPM),
            (ColumnMeaning::Load, &t::COLUMN_LOAD),
            (ColumnMeaning::Throttle, &t::COLUMN_THROTTLE),
        ];
        let named = |table: &Values| {
            let texts = keys.iter().filter_map(|(column, key)| Some((*column, table.text(key)?.to_string())));
            texts.collect()
        };
        let columns = stint.table(&t::COLUMNS).map_or(Vec::new(), named);
        let measured = stint.lists(&t::MEASURED).iter().flat_map(|(name, headings)| {
            headings.iter().map(move |(heading, _)| (name.clone(), heading.clone()))
        });
        NamedColumns { columns, measured: measured.collect() }
    }
}

/// Where the headings stand.
#[derive(Clone, Debug)]
pub struct HeadingRow {
    /// Byte at which their line begins.
    pub at: usize,
    /// Its end, the line's own not counted.
    pub end: usize,
    /// What parts the fields.
    pub delimiter: char,
    /// Lines passed over before it that hold anything.
    pub before: usize,
    /// Bytes of each field, quotes and blanks left aside.
    pub fields: Vec<std::ops::Range<usize>>,
}

/// Finds the headings: the first line that names time and speed, or else the one that names most.
pub(super) fn find(text: &str, wanted: &NamedColumns) -> Option<HeadingRow> {
    let mut at = 0;
    let mut before = 0;
    let mut best: Option<(usize, HeadingRow)> = None;
    for line in text.split_inclusive('\n') {
        let (from, trimmed) = (at, line.trim_end_matches(['\n', '\r']));
        at += line.len();
        if trimmed.trim().is_empty() || trimmed.starts_with('#') {
            continue;
        }
        if before > MOST_BEFORE {
            break;
        }
        for delimiter in DELIMITERS {
            let fields = fields(trimmed, delimiter, from);
            let texts = || fields.iter().map(|field| &text[field.clone()]);
            let has = |known: &&Known| {
                let named = wanted.columns.iter().find(|(column, _)| *column == known.column);
                texts().any(|heading| match named {
                    Some((_, name)) => is_named(heading, name).is_some(),
                    None => fit(heading, known).is_some(),
                })
            };
            let found = COLUMNS.iter().filter(has).count();
            let both = COLUMNS[..2].iter().filter(has).count() == 2;
            let score = if both { 100 + found } else { found };
            if score > best.as_ref().map_or(0, |(score, _)| *score) {
                let head = HeadingRow { at: from, end: from + trimmed.len(), delimiter, before, fields };
                best = Some((score, head));
            }
        }
        if best.as_ref().is_some_and(|(score, _)| *score > 100) {
            break;
        }
        before += 1;
    }
    best.map(|(_, head)| head)
}

/// Bytes of the fields of a line that begins at a byte of the text.
pub(super) fn fields(line: &str, delimiter: char, from: usize) -> Vec<std::ops::Range<usize>> {
    let mut fields = Vec::new();
    let (mut quoted, mut begin) = (false, 0);
    let mut push = |begin: usize, end: usize| {
        let field = &line[begin..end];
        let inner = field.trim().trim_matches('"').trim();
        let start = begin + field.find(inner).unwrap_or(0);
        fields.push(from + start..from + start + inner.len());
    };
    for (index, c) in line.char_indices() {
        if c == '"' {
            quoted = !quoted;
        } else if c == delimiter && !quoted {
            push(begin, index);
            begin = index + c.len_utf8();
        }
    }
    push(begin, line.len());
    fields
}

/// How a heading fits a column.
#[derive(Clone, Copy, Debug)]
pub(super) struct HeadingFit<'t> {
    /// Place among the names of the column.
    pub rank: usize,
    /// Its unit, where it gives one that is known.
    pub unit: Option<&'static Unit>,
    /// A unit that is not known.
    pub odd: Option<&'t str>,
}

/// Whether a heading fits a column, with its unit: `Speed (km/h)`, `GPS Speed km/h`, `time_s`, `RPM`.
pub(super) fn fit<'t>(heading: &'t str, known: &Known) -> Option<HeadingFit<'t>> {
    let rank = |name: &str| {
        let name = normal(name);
        known.names.iter().position(|of| *of == name)
    };
    if let Some((name, unit)) = bracketed(heading) {
        let rank = rank(name)?;
        let found = field::unit(unit, known.kind);
        if found.is_none() && known.names[rank].len() <= SHORT {
            return None;
        }
        return Some(HeadingFit {
            rank,
            unit: found,
            odd: found.is_none().then_some(unit).filter(|unit| !unit.is_empty()),
        });
    }
    if let Some(rank) = rank(heading) {
        let in_name = (normal(heading) == "seconds").then(|| field::unit("s", Kind::Time)).flatten();
        return Some(HeadingFit { rank, unit: in_name, odd: None });
    }
    heading.char_indices().filter(|(_, c)| matches!(c, ' ' | '_' | ',' | '/' | '.' | ':' | '-')).find_map(
        |(at, c)| {
            let rest = heading[at + c.len_utf8()..].trim();
            let unit = field::unit(rest.strip_prefix("in ").unwrap_or(rest), known.kind)?;
            Some(HeadingFit { rank: rank(&heading[..at])?, unit: Some(unit), odd: None })
        },
    )
}

/// Whether a heading is the one that a case names, with or without its unit; the unit of either.
pub(super) fn is_named<'t>(heading: &'t str, name: &'t str) -> Option<Option<&'t str>> {
    let unit = |text: &'t str| bracketed(text).map(|(_, unit)| unit);
    if normal(heading) == normal(name) {
        return Some(unit(heading));
    }
    let plain = |text: &'t str| bracketed(text).map_or(text, |(name, _)| name);
    (normal(plain(heading)) == normal(plain(name)) && (unit(heading).is_none() || unit(name).is_none()))
        .then(|| unit(heading).or(unit(name)))
}

/// A heading with its unit in brackets.
pub(super) fn bracketed(heading: &str) -> Option<(&str, &str)> {
    let at = heading.find(['(', '[', '{'])?;
    let unit = heading[at + 1..].trim_end_matches([')', ']', '}', ' ']).trim();
    Some((heading[..at].trim(), unit))
}

/// A heading in small letters, blanks for what parts words.
pub(super) fn normal(text: &str) -> String {
    let blank = |c: char| if matches!(c, '_' | '-' | '.' | '"' | ':') { ' ' } else { c };
    let text: String = text.chars().map(blank).flat_map(char::to_lowercase).collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
