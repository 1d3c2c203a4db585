//! The readings file before anything is read: what is to be read, with an empty place behind each.

use super::drives::HELD_WITHIN;
use super::operator::{GaugeEnd, Quantity};
use crate::case::Case;
use crate::keys::figures;
use crate::point::counted::Counted;
use std::fmt::Write;

const MINUTE: f64 = 60.0;

/// What is to be read, and with what.
#[derive(Clone, Debug, Default)]
pub struct ReadingPlan {
    /// What stands on the printed card.
    pub card: Option<String>,
    /// The state of the case file.
    pub case_sha256: String,
    /// What is read with.
    pub instruments: Vec<PlannedInstrument>,
    /// What is done, in its order.
    pub tests: Vec<PlannedTest>,
}

/// An instrument.
#[derive(Clone, Debug)]
pub struct PlannedInstrument {
    /// Its name, as readings name it.
    pub name: String,
    /// Whether it reads pressures; else temperatures.
    pub pressure: bool,
    /// How well one reading is taken (K or Pa), 9 times in 10 within.
    pub within: f64,
    /// What all its readings may be off by alike (K or Pa); none is not written.
    pub zero: Option<f64>,
    /// The same as a share of what is shown; none is not written.
    pub scale: Option<f64>,
    /// What is in a tube, and the length along it for each length upright.
    pub tube: Option<(&'static str, f64)>,
}

/// A test.
#[derive(Clone, Debug, Default)]
pub struct PlannedTest {
    /// Its name.
    pub name: String,
    /// Whether the car stands on the bench; else it is driven, or stands as in the queue.
    pub bench: bool,
    /// A condition of the case in which it is read.
    pub condition: Option<String>,
    /// Road speed (m/s).
    pub speed: Option<f64>,
    /// Gear.
    pub gear: Option<usize>,
    /// Engine speed (rev/min).
    pub rpm: Option<f64>,
    /// Load.
    pub load: Option<f64>,
    /// How long everything is held before it is read (s).
    pub held: Option<f64>,
    /// Passages taped, and which share of their openings.
    pub taped: Vec<(String, f64)>,
    /// Whether the fans are off.
    pub fans_off: bool,
    /// The passage onto whose opening a blower is taped.
    pub blower: Option<usize>,
    /// What is read.
    pub readings: Vec<PlannedReading>,
}

/// A reading.
#[derive(Clone, Debug)]
pub struct PlannedReading {
    /// What is read.
    pub what: Quantity,
    /// Name of the instrument.
    pub with: Option<String>,
    /// Whether it is a strip, of which fields turn.
    pub strip: bool,
    /// What is likely to be read, in the instrument's unit, in words: it stands in a comment.
    pub expects: String,
}

impl PlannedTest {
    /// A test at a moment that is offered for readings, nothing read yet.
    #[allow(dead_code, reason = "for cards that plan what is to be read")]
    pub(crate) fn at(case: &Case, moment: &Counted) -> PlannedTest {
        match moment {
            Counted::Driven(driven) => PlannedTest {
                name: figures::speed(driven.point.speed),
                speed: Some(driven.point.speed),
                gear: Some(driven.point.gear),
                load: Some(driven.point.load),
                ..PlannedTest::default()
            },
            Counted::Sweep(point) => PlannedTest {
                name: figures::speed(point.speed),
                speed: Some(point.speed),
                gear: Some(point.gear),
                load: Some(point.load),
                ..PlannedTest::default()
            },
            Counted::Blown(blown) => PlannedTest {
                name: format!("a blower into {}", case.passages[blown.into].name),
                bench: true,
                blower: Some(blown.into),
                ..PlannedTest::default()
            },
            Counted::Condition(_) | Counted::Taped(_) => PlannedTest {
                name: moment.name(case).to_string(),
                condition: Some(moment.name(case).to_string()),
                ..PlannedTest::default()
            },
        }
    }
}

/// The text of a readings file in which every reading is still to come.
pub fn text(case: &Case, plan: &ReadingPlan) -> String {
    let mut text = String::from(
        "# What was read off the car. Fill in shows, with its unit, as the instrument shows it; leave \"\" what was not read.\n\
         # Then: slowcorner fit CASE THIS-FILE. Every key is told in docs/readings.md.\nformat = 1\n",
    );
    let title = format!("Readings of: {}", case.title());
    let _ = writeln!(text, "title = {}", quoted(&title));
    let _ = writeln!(text, "date = \"\"");
    if let Some(card) = &plan.card {
        let _ = writeln!(text, "card = {}", quoted(card));
    }
    let _ = writeln!(text, "case_sha256 = {}", quoted(&plan.case_sha256));
    for instrument in &plan.instruments {
        self::instrument(&mut text, instrument);
    }
    for test in &plan.tests {
        self::test(&mut text, case, test);
    }
    text
}

fn instrument(text: &mut String, instrument: &PlannedInstrument) {
    let (reads, unit) = if instrument.pressure { ("pressure", "Pa") } else { ("temperature", "K") };
    let _ = write!(
        text,
        "\n[instrument.{}]\nreads = \"{reads}\"\nwithin = \"{} {unit}\"\n",
        quoted(&instrument.name),
        rounded(instrument.within)
    );
    if let Some(zero) = instrument.zero {
        let _ = writeln!(text, "zero = \"{} {unit}\"", rounded(zero));
    }
    if let Some(scale) = instrument.scale {
        let _ = writeln!(text, "scale = \"{} %\"", rounded(1e2 * scale));
    }
    if let Some((fluid, slope)) = instrument.tube {
        let _ = writeln!(text, "fluid = \"{fluid}\"");
        if slope != 1.0 {
            let _ = writeln!(text, "slope = {}", rounded(slope));
        }
    }
}

fn test(text: &mut String, case: &Case, test: &PlannedTest) {
    let on = if test.bench { "bench" } else { "track" };
    let _ = write!(text, "\n[[test]]\nname = {}\non = \"{on}\"\n", quoted(&test.name));
    if let Some(condition) = &test.condition {
        let _ = writeln!(text, "condition = {}", quoted(condition));
    }
    if let Some(speed) = test.speed {
        let _ = writeln!(text, "speed = \"{} km/h\"", rounded(3.6 * speed));
    }
    if let Some(gear) = test.gear {
        let _ = writeln!(text, "gear = {gear}");
    }
    if let Some(rpm) = test.rpm.filter(|_| test.gear.is_none()) {
        let _ = writeln!(text, "rpm = \"{} rpm\"", rounded(rpm));
    }
    if let Some(load) = test.load {
        let _ = writeln!(
            text,
            "load = \"{} % ± {} %\"          # as it was held, with how sure you are of it",
            rounded((1e2 * load).round()),
            rounded(1e2 * HELD_WITHIN)
        );
    }
    if let Some(held) = test.held {
        let _ = match held {
            held if held < MINUTE => writeln!(text, "held = \"{} s\"", rounded(held)),
            held => writeln!(text, "held = \"{} min\"", rounded(held / MINUTE)),
        };
    }
    if !test.taped.is_empty() {
        let each: Vec<String> = test
            .taped
            .iter()
            .map(|(name, share)| format!("{} = \"{} %\"", quoted(name), rounded(100.0 * share)))
            .collect();
        let _ = writeln!(text, "taped = {{ {} }}", each.join(", "));
    }
    if test.fans_off {
        let _ = writeln!(text, "fans = \"off\"");
    }
    if let Some(into) = test.blower {
        let into = quoted(&case.passages[into].name);
        let _ = writeln!(
            text,
            "blower = {{ into = {into} }}    # and flow = \"0.1 kg/s ± 10 %\" where you know it, or meter = {{ throat, shows }}"
        );
    }
    let air = case.view(&case.day).number(&crate::case::tables::TEMPERATURE);
    if let Some(air) = air.filter(|_| !test.bench) {
        let celsius = rounded(air - crate::air::ZERO_CELSIUS);
        let _ = writeln!(text, "day = {{ temperature = \"{celsius} degC\" }}    # in the shade, as it was");
    }
    let _ = writeln!(text, "reading = [");
    for reading in &test.readings {
        self::reading(text, case, reading);
    }
    let _ = writeln!(text, "]");
}

fn reading(text: &mut String, case: &Case, planned: &PlannedReading) {
    let shows = match planned.what {
        Quantity::Leaks { .. } => "shut = \"\", beside = \"\"",
        _ if planned.strip => "turned = \"\", unturned = \"\"",
        _ => "shows = \"\"",
    };
    let with = planned.with.as_ref().map_or(String::new(), |name| format!(", with = {}", quoted(name)));
    let expects = planned.expects.replace(['\n', '\r'], " ");
    let expects = if expects.is_empty() { expects } else { format!("    # {expects}") };
    let name = names(case, planned);
    let _ = writeln!(text, "  {{ {name}, {shows}{with} }},{expects}");
}

/// What is read, as the file names it.
fn names(case: &Case, planned: &PlannedReading) -> String {
    let part = |part: usize| quoted(&case.parts[part].name);
    let leg = |leg: GaugeEnd| match leg {
        GaugeEnd::Chamber(index) => quoted(&case.chambers[index].name),
        GaugeEnd::Skin { passage, .. } => quoted(&case.passages[passage].name),
        GaugeEnd::Place(place) => quoted(&case.places[place].name),
        GaugeEnd::StillAir => quoted("still air"),
    };
    match planned.what {
        Quantity::Part(index) if planned.strip => format!("strip = {}", part(index)),
        Quantity::Part(index) => format!("part = {}", part(index)),
        Quantity::Mean(index) => format!("part = {}, piece = \"mean\"", part(index)),
        Quantity::Air(index) => format!("air = {}", quoted(&case.chambers[index].name)),
        Quantity::Behind { part: index, .. } => format!("behind = {}", part(index)),
        Quantity::Leaks { hole_mm2 } => format!("hole = \"{} cm2\"", rounded(1e-2 * f64::from(hole_mm2))),
        Quantity::Difference { of, over } => format!("between = [{}, {}]", leg(of), leg(over)),
    }
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            c if c.is_control() => quoted.push(' '),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}

/// Four significant digits.
fn rounded(value: f64) -> String {
    let places = (3 - value.abs().max(1e-9).log10().floor() as i32).clamp(0, 6) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}
