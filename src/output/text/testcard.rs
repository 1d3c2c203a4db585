//! The test card: what to read, what it should show, what to suspect.

use super::layout::{PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph};
use super::short::{self, Depth};
use super::{doubt::how_often, frame, words};
use crate::point::result::Band;
use crate::readings::drives::HELD_WITHIN;
use crate::readings::operator::ReadingKind;
use crate::study::document::Report;
use crate::study::doubt::measure::{AskedMargin, MarginsAsked};
use crate::study::testcard::result::{
    Card, CardRun, Coarse, Planned, RunWay, Suspect, SuspectReads, Tool, TuftShows,
};

/// Names told of a list on a short screen.
const FEW: usize = 2;
/// Tests are held until temperatures stand; shorter ones only until a pressure does (s).
const MINUTE: f64 = 60.0;

/// Cautions, as they stand on the sheet.
pub(in crate::output) const CAUTIONS: &[&str] = &[
    "Standing: engine tied down, wheels chocked, out of gear; guard on every fan; nobody behind the car or in a fan's plane.",
    "Ears protected. Never indoors with the engine running: carbon monoxide. Extinguisher at hand, its pin looked at.",
    "Driving: closed road or track. A passenger reads, or a logger; never the driver. No loose liquid before the driver's eyes.",
    "Hoses and wires tied away from exhaust, belts, wheels and controls. Smell of fuel, smoke, a flapping panel: stop.",
];

/// The card on the terminal.
pub fn testcard(report: &Report, card: &Card, depth: Depth, written: &[String]) -> String {
    let mut out = String::new();
    short::begin(&mut out, report, &format!("test card {}", card.id), depth);
    paragraph(&mut out, STRONG, &verdict(card));
    lost(card).iter().for_each(|text| paragraph(&mut out, PLAIN, text));
    readings(&mut out, card, depth);
    if depth == Depth::Short {
        out.push('\n');
        shortly(&mut out, card);
        short::end(
            &mut out,
            written,
            "Where taps go, what to suspect, tufts, cautions: on the sheet, and --detail",
        );
        return out;
    }
    heading(&mut out, "How");
    card.runs.iter().for_each(|run| item(&mut out, 2, "", &how(card, run)));
    heading(&mut out, "Taps and thermocouples");
    card.taps.iter().for_each(|tap| {
        item(&mut out, 2, &format!("{:<4}", tap.letter), &format!("{}: {}.", tap.what, tap.place))
    });
    item(&mut out, 2, "", &with(card));
    for told in &card.coarse {
        item(&mut out, 2, "", &too_coarse(told));
    }
    heading(&mut out, "Outside the band suspect first");
    for planned in card.runs.iter().flat_map(|run| &run.readings) {
        item(
            &mut out,
            2,
            "",
            &format!("{} ({}): {}.", planned.letter, planned.what, suspects(&planned.suspects)),
        );
    }
    paragraph(&mut out, QUIET, SIGNS);
    tufts(&mut out, card);
    heading(&mut out, "Stop at once at");
    for stop in &card.stops {
        item(&mut out, 2, "", &format!("{}: {:.0} °C ({}).", stop.what, stop.at_C, stop.source));
    }
    heading(&mut out, "Mind");
    CAUTIONS.iter().for_each(|caution| item(&mut out, 2, "", caution));
    frame::written(&mut out, written);
    frame::cautions(&mut out, false);
    out
}

/// What the signs behind a suspect mean.
pub(in crate::output) const SIGNS: &str = "(+) more of it reads more, (−) more of it reads less. The wrong sign: hoses swapped. Ten times off: the unit.";

/// The answer in a sentence or two.
pub(in crate::output) fn verdict(card: &Card) -> String {
    let all: Vec<&Planned> = card.runs.iter().flat_map(|run| &run.readings).collect();
    let now = words::whole(card.half_band_K);
    let worth = |planned: &&&Planned| planned.rank == 1 && planned.alone_K >= 1.0;
    let Some(first) = all.iter().find(worth) else {
        return format!(
            "No reading with these instruments narrows the margin by a kelvin: it stays at ± {now} K."
        );
    };
    let run = card.runs.iter().find(|run| run.readings.iter().any(|planned| planned.rank == 1));
    let when = run.map_or(String::new(), |run| format!(", {}", run.name));
    let many = if all.len() == 1 {
        "One reading leaves".to_string()
    } else {
        format!("{} readings leave", all.len())
    };
    let most = if all.len() == 1 {
        format!(": {}{when}.", first.what)
    } else {
        format!(". Most by {}{when}: ± {} K with it alone.", first.what, words::whole(first.leaves_K))
    };
    format!("{many} ± {} K of ± {now} K in the least margin{most}", words::whole(card.leaves_K))
}

/// Whose margin that is, and what no reading saves.
pub(in crate::output) fn lost(card: &Card) -> Vec<String> {
    let named = |list: &[AskedMargin]| {
        let told = list.iter().take(FEW).map(|of| format!("{} in {}", of.part, words::name(&of.condition)));
        let told = words::list(&told.collect::<Vec<_>>());
        if list.len() > FEW { format!("{told} and {} more", list.len() - FEW) } else { told }
    };
    let mut all = Vec::new();
    if card.is != MarginsAsked::All {
        all.push(format!("The margin in doubt: {}.", named(&card.of)));
        if !card.lost.is_empty() {
            all.push(format!(
                "Over the limit whatever is measured: {}; that wants other openings.",
                named(&card.lost)
            ));
        }
    }
    all
}

/// Run by run, what is read and what it should show.
fn readings(out: &mut String, card: &Card, depth: Depth) {
    if card.runs.is_empty() {
        return;
    }
    out.push('\n');
    let mut table = TextTable::new(vec![
        (TextColumn::Left, "tap".to_string()),
        (TextColumn::Wrapped, "read".to_string()),
        (TextColumn::Right, "should show".to_string()),
        (TextColumn::Right, "± of it".to_string()),
        (TextColumn::Right, "worth".to_string()),
    ]);
    for (index, run) in card.runs.iter().enumerate() {
        table.title(TextCell::new(STRONG, format!("{}  {}", index + 1, head(run))));
        for planned in &run.readings {
            table.row(vec![
                TextCell::from(planned.letter.clone()),
                TextCell::from(planned.what.clone()),
                TextCell::new(STRONG, expected(planned)),
                TextCell::from(format!("± {}", figure(planned.within, planned.unit))),
                TextCell::from(format!("{}: {}", planned.rank, words::kelvins(planned.adds_K))),
            ]);
        }
    }
    table.write(out);
    if depth != Depth::Short {
        paragraph(
            out,
            QUIET,
            "Worth: which is worth most, and what each takes off half the band, given those before it. 9 in 10 of the draws lie in what it should show, with what instrument and model are off by.",
        );
    }
}

/// What a run is, in one line.
pub(in crate::output) fn head(run: &CardRun) -> String {
    let engine = |run: &CardRun| {
        let rpm = run
            .rpm
            .map_or(String::new(), |rpm| format!(", {} rpm", words::whole((rpm / 50.0).round() * 50.0)));
        let load = run.load.map_or(String::new(), |load| format!(", load {} %", words::whole(100.0 * load)));
        format!("{rpm}{load}")
    };
    match run.way {
        RunWay::Bench if run.hole_m.is_some() => {
            "Bench, engine off and cold: everything taped, a blower".to_string()
        }
        RunWay::Bench => format!("Bench, engine off and cold: {}, all else open", run.name),
        RunWay::Rest => format!("At rest: {}{}", run.name, engine(run)),
        // what is expected hangs on how well the load is held
        RunWay::Drive if run.load.is_some() && run.condition.is_none() => {
            let within = words::whole(100.0 * HELD_WITHIN);
            format!("{}{} ± {within}, both ways", run.name, engine(run))
        }
        _ => format!("{}{}, both ways", run.name, engine(run)),
    }
}

/// How a run is done.
pub(in crate::output) fn how(card: &Card, run: &CardRun) -> String {
    if run.way == RunWay::Bench && run.hole_m.is_none() {
        return "Bench: the tape off again, the blower taped onto that opening, fans off. Read both at one setting, divide: what it gives need not be known.".to_string();
    }
    if run.way == RunWay::Bench {
        let side = run.hole_m.map_or(String::new(), words::millimetres);
        return format!(
            "Bench: tape {} shut, wires and gaps you can see as well. Any blower, its nozzle taped into one of them; read p₀. Cut a hole of {side} × {side} mm into the tape, read p₁ at the same setting; the share that is left is p₁/p₀.",
            words::list(&card.tape)
        );
    }
    let power = run.brake_power_W.filter(|_| run.way == RunWay::Drive).map_or(String::new(), |power| {
        format!(
            " The engine gives {:.1} kW then: a climb, or the brake dragged; write down what it was.",
            1e-3 * power
        )
    });
    let name = words::sentence(&run.name);
    let often = run.holds.map_or(String::new(), how_often);
    if run.held_s < MINUTE {
        return format!(
            "{name}: {:.0} s, only until the pressure stands, then off: all parts stay cool {often}.{power}",
            run.held_s
        );
    }
    let often = match run.holds {
        Some(holds) if holds <= 0.95 => format!("{often}: eyes on the gauges, off at a stop value"),
        _ => often,
    };
    let each = if run.way == RunWay::Drive { " each way, the mean of both" } else { "" };
    let temperatures = run.readings.iter().any(|planned| planned.kind != ReadingKind::Pressure);
    let settles = match run.settles_s {
        Some(settles) if temperatures && settles > run.held_s => {
            format!(", temperatures until they no longer climb (about {:.0} min)", (settles / MINUTE).ceil())
        }
        None if temperatures => ", temperatures until they no longer climb".to_string(),
        _ => String::new(),
    };
    format!("{name}: {:.0} min{each}{settles}. All parts stay cool: {often}.{power}", run.held_s / MINUTE)
}

/// "12 to 22 mm".
pub fn expected(planned: &Planned) -> String {
    let Band { p05, p95, .. } = planned.expected;
    if planned.kind == ReadingKind::Ratio {
        return format!("{} to {}", words::fixed(p05.max(0.0), 2), words::fixed(p95, 2));
    }
    let decimals = decimals(p95 - p05, planned.unit);
    format!("{} to {} {}", words::fixed(p05, decimals), words::fixed(p95, decimals), planned.unit)
}

/// A figure in the unit of an instrument.
pub(in crate::output) fn figure(value: f64, unit: &str) -> String {
    if unit == "share" {
        return words::fixed(value, 2);
    }
    let unit = match unit {
        "°C" => "K",
        unit => unit,
    };
    format!("{} {unit}", words::fixed(value, decimals(value, unit)))
}

/// Decimals that tell a width.
fn decimals(width: f64, unit: &str) -> usize {
    match width.abs() {
        _ if matches!(unit, "°C" | "°F" | "K") => 0,
        width if width >= 3.0 => 0,
        width if width >= 0.3 => 1,
        width if width >= 0.03 => 2,
        _ => 3,
    }
}

/// What to suspect, the first first.
pub(in crate::output) fn suspects(list: &[Suspect]) -> String {
    if list.is_empty() {
        return "the tap, then the instrument".to_string();
    }
    let one = |suspect: &Suspect| {
        let sign = if suspect.more == SuspectReads::More { "+" } else { "−" };
        format!("{} ({sign})", suspect.words)
    };
    list.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// What it is read with.
pub(in crate::output) fn with(card: &Card) -> String {
    let tool = |tool: &Tool| {
        let mut told = format!("{} ± {}", tool.instrument, figure(tool.within, tool.unit));
        if let Some(fluid) = tool.fluid {
            told.push_str(&format!(" along it, {fluid}"));
            match tool.slope {
                Some(slope) if slope > 1.0 => {
                    told.push_str(&format!(", laid over 1:{}", words::whole(slope)))
                }
                _ => told.push_str(", upright"),
            }
        }
        told
    };
    let all = card.instruments.iter().map(tool).collect::<Vec<_>>().join("; ");
    let assumed = if card.instruments_said { "" } else { " Assumed, since the case has no [instruments]." };
    // its fields turn once and for all, after stopping too
    let strips = match card.instruments.iter().any(|tool| tool.instrument == "strip") {
        true => {
            " A new strip for each run; it shows the peak since it was fitted, the soak after stopping with it."
        }
        false => "",
    };
    format!("Read with: {all}.{strips}{assumed}")
}

/// An instrument that is too coarse, and the way out.
pub(in crate::output) fn too_coarse(told: &Coarse) -> String {
    let Coarse { unit, .. } = told;
    let decimals = decimals(2.0 * told.half_band, unit);
    format!(
        "Too coarse: {} is about {} {unit}, ± {} from car to car, and is read to ± {}. {}.",
        told.reading,
        words::fixed(told.about, decimals),
        words::fixed(told.half_band, decimals),
        figure(told.within, unit),
        words::sentence(&told.way_out)
    )
}

/// Openings down, moments across.
fn tufts(out: &mut String, card: &Card) {
    let Some(first) = card.tufts.first() else { return };
    heading(out, "Tufts");
    let mut heads = vec![(TextColumn::Wrapped, "opening".to_string())];
    heads.extend(first.at.iter().map(|tuft| (TextColumn::Right, tuft.moment.clone())));
    let mut table = TextTable::new(heads);
    for row in &card.tufts {
        let mut cells = vec![TextCell::from(row.opening.clone())];
        cells.extend(row.at.iter().map(|tuft| {
            let style = if tuft.shows == TuftShows::Unsure { STRONG } else { PLAIN };
            TextCell::new(style, tuft.shows)
        }));
        table.row(cells);
    }
    table.write(out);
}

/// What else a short screen says.
fn shortly(out: &mut String, card: &Card) {
    card.coarse.iter().take(1).for_each(|told| paragraph(out, PLAIN, &too_coarse(told)));
    let unsure: Vec<String> = card
        .tufts
        .iter()
        .filter_map(|row| {
            let at: Vec<&str> = row
                .at
                .iter()
                .filter(|tuft| tuft.shows == TuftShows::Unsure)
                .map(|tuft| tuft.moment.as_str())
                .collect();
            (!at.is_empty()).then(|| format!("{} ({})", row.opening, at.join(", ")))
        })
        .collect();
    let hangs = card.tufts.iter().flat_map(|row| &row.at).any(|tuft| tuft.shows == TuftShows::Hangs);
    let tufts = match unsure.as_slice() {
        [] if hangs => {
            "Tufts: the way of the air is sure wherever it moves; where it all but stands a tuft hangs."
                .to_string()
        }
        [] => "Tufts: the way of the air is sure at every opening.".to_string(),
        list => format!("Tufts not sure: {}. Look there first.", list.join("; ")),
    };
    item(out, 0, "", &tufts);
    let stops: Vec<String> =
        card.stops.iter().map(|stop| format!("{} {:.0} °C", stop.what, stop.at_C)).collect();
    item(out, 0, "Stop at  ", &format!("{}.", stops.join(", ")));
    item(out, 0, "", &with(card));
}
