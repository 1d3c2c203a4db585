//! The words of the program: one name for one thing, on every screen, picture and page.
//!
//! What a study calls a thing in its data may differ, since scripts read that: [`of`] gives the name under which it is
//! told. docs/words.md and `explain` are written from [`TERMS`], and a test holds every screen of the demos to them.

/// A word, what it stands for, and what is not said for it.
pub struct WordEntry {
    pub word: &'static str,
    /// What it stands for.
    pub means: &'static str,
    /// Words that other people have for it, and that no screen says.
    pub not: &'static [&'static str],
}

const fn term(word: &'static str, means: &'static str, not: &'static [&'static str]) -> WordEntry {
    WordEntry { word, means, not }
}

/// The words, in the order of a reader who begins.
pub const TERMS: &[WordEntry] = &[
    term(
        "as drawn",
        "the case as it is written, before anything is sized; among layouts the case itself",
        &["base"],
    ),
    term("as sized", "with the free openings as `size` finds them", &[]),
    term(
        "values taken",
        "every number as the case says it, or as its default has it: nothing drawn from a band",
        &["nominal"],
    ),
    term(
        "condition",
        "a moment to be checked: speed, gear or engine speed, load, day",
        &["scenario", "load case"],
    ),
    term("slow corner", "the slowest condition in which the car drives", &[]),
    term(
        "limit",
        "the temperature a part may have where it is measured, as it was typed",
        &["working limit", "design limit"],
    ),
    term(
        "for the mean",
        "the limit less what the hottest cylinder lies above the mean: margins are counted from it",
        &[],
    ),
    term(
        "margin",
        "kelvins below the limit for the mean; \"over\" where it is passed",
        &["headroom", "safety factor"],
    ),
    term(
        "all stay cool",
        "how often, of ten cars alike on paper, no part passes its limit",
        &["probability", "reliability"],
    ),
    term(
        "beyond any use",
        "above 300 °C of metal and 160 °C of oil: the part is lost, whatever the figure",
        &[],
    ),
    term("ram", "what the stream gives an opening that faces it", &["stagnation pressure"]),
    term(
        "body pressure",
        "pressure on the skin at an opening, over that of the day; below it, it draws",
        &["suction at"],
    ),
    term(
        "pressure in",
        "what the air in a chamber still needs to get out",
        &["back pressure", "backpressure"],
    ),
    term(
        "speed lost",
        "velocity head of the air where it leaves a passage: in a chamber, or outside",
        &["last velocity head", "the jet takes", "dump loss"],
    ),
    term("lip", "the edge of an inlet, and what it takes", &[]),
    term(
        "runs backwards",
        "air against the way in which its passage is written; hot air that flows back",
        &["reverse flow", "backflow"],
    ),
    term("spills", "an inlet so large that the stream goes round it", &[]),
    term(
        "open area",
        "where air passes, square to the flow at the narrowest; of louvres less than their field",
        &["free area", "effective area"],
    ),
    term("clear size", "millimetres of the hole where the air passes, without lip or flange", &["net size"]),
    term("cut first", "a line that hardly any car needs less than", &[]),
    term("PILOT", "the first line of a sheet: cut at once, hardly any car needs less", &[]),
    term("NEXT", "the line between PILOT and FINAL: cut where what is read at PILOT asks for more", &[]),
    term("FINAL", "the line by the values taken: cut where what is read at NEXT asks for more", &[]),
    term("NEVER BEYOND", "the last line: more buys nothing, or no flange and land are left", &[]),
    term("louvres", "many slots side by side: cut out is their field, of which a share is open", &[]),
    term("knee", "the exit size at which exits and inlets together are smallest", &[]),
    term("load", "share of full throttle's power at that engine speed", &["throttle opening"]),
    term("made smallest", "what sizing looks for: area or drag", &["objective function"]),
    term("left-over error", "what the solved balances do not quite add up to", &["residual"]),
];

/// The name under which a push or a loss of the data is told.
pub fn of(name: &str) -> String {
    match name {
        "the jet" => "speed lost outside".to_string(),
        "last velocity head" => "speed lost at the ends".to_string(),
        "suction" => "body pressure".to_string(),
        name => name.to_string(),
    }
}
