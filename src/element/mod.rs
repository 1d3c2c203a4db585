//! The kinds of passage element: each a table of keys and a law, one file each.
//!
//! A new kind is a file, its `mod` here and one line in `elements!` below. Everything that reads, lists, documents
//! or tests elements walks [`KINDS`].

mod asked;
pub mod bend;
pub mod contraction;
pub mod core;
pub mod demand;
pub mod diffuser;
pub mod duct;
pub mod exit;
pub mod fan;
pub mod figure;
pub mod fins;
pub mod flush_inlet;
pub mod free_stream;
pub mod law;
pub mod leak;
pub mod lip;
pub mod loss;
pub mod outline;
pub mod ram_inlet;
pub mod screen;
mod sign;
pub mod size;
mod sized;
pub mod step;
pub mod tee;
pub mod wall_inlet;
pub mod wheel;
mod written;

pub use asked::{OpeningLies, Push, Sides, SkinFace, TapedFrom};
pub use free_stream::FreeStream;
pub use law::{ConstantLoss, Discharge, ElementLaw, PassageStream, Resistance, Response};
pub use sign::{Sign, SignPiece};
pub use size::PieceSize;
use written::ChecksTable;

use crate::keys::{Key, View};

/// Where in a passage a kind of element may stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// An opening that takes air in: first, from outside.
    Inlet,
    /// Anywhere.
    Middle,
    /// An opening that lets air out: last, to outside.
    Exit,
    /// A gap: first from outside, last to outside, or anywhere between chambers.
    Leak,
    /// The engine's own draught: last, to engine.
    Demand,
}

/// What an element is to its neighbours where their areas differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AreaContinuity {
    /// It joins its neighbours: a difference of area is a sudden change.
    Joined,
    /// The same, and its end in a chamber is a plain one, with a sharp edge all round.
    Channel,
    /// Its own figures hold the way in: narrowing into it costs nothing beside them.
    Guarded,
    /// It stands for no piece of the channel: its neighbours meet past it.
    PassedOver,
}

/// Draws a figure of an element; none where its example has no law.
pub type DrawsFigure = fn() -> Option<figure::ElementFigure>;

pub struct ElementKind {
    /// The word behind `kind`.
    pub name: &'static str,
    /// Words that builders try first for it.
    pub also: &'static [&'static str],
    /// What it is drawn as where the air is drawn; none where it is a piece of the channel.
    pub sign: Option<Sign>,
    /// What drives air through it, where anything does.
    pub push: Push,
    /// Where it may stand.
    pub role: Role,
    /// What it is to its neighbours where areas differ.
    pub chain: AreaContinuity,
    /// Its table of keys.
    pub keys: &'static [Key],
    /// What it stands for, and which law it follows.
    pub summary: &'static str,
    /// Where the law holds.
    pub range: &'static str,
    /// Where the law comes from.
    pub source: &'static str,
    /// An example as it may stand in a case file.
    pub example: &'static str,
    /// An example of each other form that its table allows.
    pub further_examples: &'static [&'static str],
    /// Of an opening, which way it lies.
    pub sides: Option<Sides>,
    /// The words of its page, by heading.
    pub words: &'static str,
    /// Its figures: what the file's name adds to the kind's, and what draws it.
    pub figures: &'static [(&'static str, DrawsFigure)],
    /// What it finds wrong in its own table.
    pub checks: &'static [ChecksTable],
    /// Makes the law from what is written; none where `context` got a fault.
    pub build: fn(&mut ElementContext, &View) -> Option<Law>,
}

impl ElementKind {
    /// Whether this is a word that builders try first for it.
    pub fn is_also(&self, word: &str) -> bool {
        self.also.iter().any(|also| word.eq_ignore_ascii_case(also))
    }
}

/// An area next to an element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neighbour {
    /// Area of one piece (m²).
    pub area: f64,
    /// How many pieces.
    pub count: f64,
}

/// A fault or a warning found while a law is made.
#[derive(Clone, Debug)]
pub struct Note {
    /// Whether the case must be refused.
    pub fault: bool,
    /// A code in words.
    pub code: &'static str,
    /// What is wrong, with the number that shows it.
    pub message: String,
    /// The key concerned; the element as a whole where none.
    pub key: Option<&'static str>,
    /// A way out.
    pub what_to_do: String,
}

/// Where an element stands, and what it found wrong there.
#[derive(Clone, Debug, Default)]
pub struct ElementContext {
    /// The neighbour before it.
    pub before: Option<Neighbour>,
    /// The neighbour behind it.
    pub after: Option<Neighbour>,
    /// Whether it is the passage's first.
    pub first: bool,
    /// Whether it is the passage's last.
    pub last: bool,
    /// Whether a chamber stands before it: nothing else of the channel does.
    pub opens_before: bool,
    /// Whether a chamber stands behind it.
    pub opens_behind: bool,
    /// Its own count.
    pub count: f64,
    /// Count of the passage times its own.
    pub pieces: f64,
    /// Its own size, or the one it takes over.
    pub size: Option<PieceSize>,
    /// Whether the passage begins outside.
    pub from_outside: bool,
    /// Whether the passage ends outside.
    pub to_outside: bool,
    /// Area of all inlets of the car, untaped (m²).
    pub inlet_area: f64,
    /// Straight length since the bend before it in its passage (m); none where no bend stands before it.
    pub straight_before: Option<f64>,
    /// What was found wrong.
    pub notes: Vec<Note>,
    /// Whether anyone reads warnings: of a drawn car nobody does.
    pub warned: bool,
}

impl ElementContext {
    /// Notes a fault.
    pub fn fault(&mut self, code: &'static str, key: Option<&Key>, message: String, what_to_do: String) {
        self.note(true, code, key, message, what_to_do);
    }

    /// Notes a warning, its message and what to do, where anyone reads it.
    pub fn warn(&mut self, code: &'static str, key: Option<&Key>, say: impl FnOnce() -> (String, String)) {
        if self.warned {
            let (message, what_to_do) = say();
            self.note(false, code, key, message, what_to_do);
        }
    }

    fn note(
        &mut self,
        fault: bool,
        code: &'static str,
        key: Option<&Key>,
        message: String,
        what_to_do: String,
    ) {
        self.notes.push(Note { fault, code, message, key: key.map(|k| k.name), what_to_do });
    }
}

macro_rules! elements {
    ($($module:ident :: $law:ident),+ $(,)?) => {
        /// The law of an element of any kind.
        #[derive(Clone, Debug)]
        pub enum Law {
            $(#[doc = concat!("See [`", stringify!($module), "`].")] $law($module::$law),)+
        }

        /// Every kind of element.
        pub const KINDS: &[&ElementKind] = &[$(&$module::KIND,)+];

        impl Law {
            /// See [`ElementLaw::prepare`].
            pub fn prepare(&mut self, free_stream: &FreeStream, taped: f64) {
                match self { $(Law::$law(law) => law.prepare(free_stream, taped),)+ }
            }

            /// See [`ElementLaw::respond`].
            #[inline(always)]
            pub fn respond(&self, stream: &PassageStream, temperature: f64, part: f64) -> Response {
                match self { $(Law::$law(law) => law.respond(stream, temperature, part),)+ }
            }

            /// See [`ElementLaw::area`].
            pub fn area(&self) -> Option<f64> {
                match self { $(Law::$law(law) => law.area(),)+ }
            }

            /// See [`ElementLaw::pieces`].
            pub fn pieces(&self) -> f64 {
                match self { $(Law::$law(law) => law.pieces(),)+ }
            }

            /// See [`ElementLaw::nominal_area`].
            pub fn nominal_area(&self) -> Option<f64> {
                match self { $(Law::$law(law) => law.nominal_area(),)+ }
            }

            /// See [`ElementLaw::lump`].
            pub fn lump(&self) -> Option<law::Lump> {
                match self { $(Law::$law(law) => law.lump(),)+ }
            }

            /// See [`ElementLaw::discharge`].
            pub fn discharge(&self, forward: bool) -> Discharge {
                match self { $(Law::$law(law) => law.discharge(forward),)+ }
            }

            /// See [`ElementLaw::ends`].
            pub fn ends(&self) -> Option<(f64, f64)> {
                match self { $(Law::$law(law) => law.ends(),)+ }
            }

            /// What it is to its neighbours where areas differ.
            pub fn chain(&self) -> AreaContinuity {
                match self { $(Law::$law(_) => $module::KIND.chain,)+ }
            }
        }
    };
}

elements! {
    ram_inlet::RamInlet,
    flush_inlet::FlushInlet,
    wall_inlet::WallInlet,
    duct::Duct,
    bend::Bend,
    tee::Tee,
    diffuser::Diffuser,
    contraction::Contraction,
    step::AreaStep,
    screen::Screen,
    loss::Loss,
    fan::FanLaw,
    fins::Fins,
    core::Core,
    leak::Leak,
    exit::Exit,
    demand::FixedFlow,
}

/// The kind behind a word.
pub fn kind(name: &str) -> Option<&'static ElementKind> {
    KINDS.iter().copied().find(|k| k.name == name)
}
