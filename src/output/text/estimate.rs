//! A first estimate, before there is a case.

use super::defaults::value_and_band;
use super::layout::{KEPT, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph};
use super::short::{self, Depth};
use super::{frame, words};
use crate::study::estimate::result::{
    DrivenBy, Estimate, EstimateFan, EstimateMoment, EstimateMomentName, EstimatePart, FigureRange, KeyMover,
};

/// What comes after an estimate.
const NEXT: &str = "`slowcorner start car.toml --fan driven` (or electric, or none) writes a case to fill in; `check` and `size` then reckon with your own fins, fan and ducts.";

/// An estimate: heat to reject and the air for it, first openings, fan beside ram, the open
/// frame, and everything it rests on.
pub fn estimate(found: &Estimate, depth: Depth) -> String {
    let mut out = String::new();
    paragraph(&mut out, STRONG, "A first estimate, before there is a case");
    let program = format!("{} {}", found.program.name, found.program.version);
    paragraph(&mut out, QUIET, &format!("each figure: likely (low to high) · {program}"));
    out.push('\n');
    let [slow, fast] = &found.moments[..] else { return out };
    paragraph(&mut out, STRONG, &verdict(slow, fast));
    for note in &found.notes {
        out.push('\n');
        item(&mut out, 0, "Look again: ", &format!("{note}."));
    }
    heat_and_air(&mut out, slow, fast, depth);
    openings(&mut out, slow, fast, depth);
    if depth == Depth::Short {
        out.push('\n');
        item(&mut out, 0, "Next  ", NEXT);
        let more = "Fan beside ram, the open frame, what decides, and all that it rests on: --detail";
        short::end(&mut out, &[], more);
        return out;
    }
    reason(&mut out, slow, fast);
    pressures(&mut out, slow, fast);
    open_frame(&mut out, slow, fast);
    decides(&mut out, found);
    rests_on(&mut out, found);
    heading(&mut out, "How the ranges were formed");
    paragraph(&mut out, PLAIN, found.ranges);
    out.push('\n');
    paragraph(&mut out, PLAIN, &format!("Next: {NEXT}"));
    let fans = slow.ways.iter().any(|way| way.fan != EstimateFan::None);
    frame::cautions(&mut out, fans);
    out
}

fn verdict(slow: &EstimateMoment, fast: &EstimateMoment) -> String {
    let (Some(full), Some(corner), Some(ram)) = (fast.parts.last(), slow.parts.last(), slow.ways.first())
    else {
        return String::new();
    };
    let openings = ram.openings.last().map_or(String::new(), |opening| match opening.exit_m2.likely {
        area if area.is_finite() => format!(
            "on ram alone that asks for inlets of {} cm² in all, and exits of {} cm²",
            range(opening.inlet_m2, areas),
            range(opening.exit_m2, areas)
        ),
        _ => "on ram alone no exit would be large enough: too little pressure is left for it".to_string(),
    });
    format!(
        "At full power, {} kW, heads, barrels and oil give off {} kW, which takes {} kg/s of air. In the slow corner at {} it is \
         {} kW and {} kg/s; {openings}.",
        kilowatts(fast.brake_power_W.likely),
        range(full.heat_W, kilowatts),
        range(full.mass_flow_kg_s, two_digits),
        words::speed(slow.speed_m_s),
        range(corner.heat_W, kilowatts),
        range(corner.mass_flow_kg_s, two_digits),
    )
}

/// "8.4 (5.9 to 12.7)"; the figure alone where it has no range.
fn range(band: FigureRange, show: impl Fn(f64) -> String) -> String {
    if !band.likely.is_finite() {
        return "nothing would do".to_string();
    }
    let (low, likely, high) = (show(band.low), show(band.likely), show(band.high));
    if !band.high.is_finite() {
        format!("{likely} (from {low}, no upper end)")
    } else if low == high {
        likely
    } else {
        format!("{likely} ({low} to {high})")
    }
}

/// Two digits that count, as much as a guess is worth.
fn two_digits(value: f64) -> String {
    if value <= 0.0 {
        return "0".to_string();
    }
    // 0.0158 → 4 decimals, 0.47 → 2, 8.4 → 1, 420 → none
    let decimals = (1.0 - value.log10().floor()).clamp(0.0, 6.0);
    let step = 10f64.powf(value.log10().floor() - 1.0);
    words::fixed((value / step).round() * step, decimals as usize)
}

fn kilowatts(watts: f64) -> String {
    two_digits(watts / 1e3)
}

fn areas(m2: f64) -> String {
    two_digits(m2 * 1e4)
}

fn litres(m3_s: f64) -> String {
    two_digits(m3_s * 1e3)
}

fn table(columns: &[(TextColumn, &str)]) -> TextTable {
    TextTable::new(columns.iter().map(|(column, head)| (*column, (*head).to_string())).collect())
}

fn name_of(moment: &EstimateMoment) -> String {
    let power = kilowatts(moment.brake_power_W.likely);
    let speed = words::speed(moment.speed_m_s);
    match moment.name {
        EstimateMomentName::Slow => format!("slow corner: {speed}, {power} kW"),
        _ => format!("full power: {speed}, {power} kW"),
    }
}

fn heat_and_air(out: &mut String, slow: &EstimateMoment, fast: &EstimateMoment, depth: Depth) {
    heading(out, "Heat to reject, and the air for it");
    let mut table = table(&[
        (TextColumn::Left, "part"),
        (TextColumn::Left, "heat, kW"),
        (TextColumn::Left, "air, kg/s"),
        (TextColumn::Left, "air, L/s"),
        (TextColumn::Left, "air warms by, K"),
    ]);
    for (index, moment) in [fast, slow].into_iter().enumerate() {
        if index > 0 {
            table.space();
        }
        table.title(TextCell::new(STRONG, name_of(moment)));
        for part in &moment.parts {
            let style = if part.part == EstimatePart::All { STRONG } else { PLAIN };
            let cell = |text: String| TextCell::new(style, text);
            table.row(vec![
                cell(format!("{KEPT}{KEPT}{}", part.part)),
                cell(range(part.heat_W, kilowatts)),
                cell(range(part.mass_flow_kg_s, two_digits)),
                cell(range(part.volume_flow_m3_s, litres)),
                cell(range(part.rise_K, words::whole)),
            ]);
        }
        table.row(vec![
            format!("{KEPT}{KEPT}rest").into(),
            range(moment.rest_heat_W, kilowatts).into(),
            "none of its own".into(),
            "".into(),
            format!("all air: + {}", range(moment.rest_rise_K, words::whole)).into(),
        ]);
    }
    table.write(out);
    if depth == Depth::Short {
        return;
    }
    paragraph(
        out,
        QUIET,
        "rest: exhaust pipes and casings, which warm the bay's air. Air by volume is that of the day, before it warms.",
    );
    let per_kilowatt = |watt: f64| two_digits(watt * 1e3);
    paragraph(
        out,
        PLAIN,
        &format!(
            "Cooling air at full power: {} kg/s for each kW at the shaft; builders speak of 0.012 to 0.03 (common practice). \
             Air to burn at full power: {} kg/s, {} times the fuel by mass.",
            range(fast.air_per_rated_power_kg_s_W, per_kilowatt),
            range(fast.combustion_air_kg_s, two_digits),
            words::fixed(fast.air_fuel_ratio, 1)
        ),
    );
}

/// Ways of driving the air in words.
fn way_in_words(fan: EstimateFan) -> &'static str {
    match fan {
        EstimateFan::Driven => "engine-driven fan",
        EstimateFan::Electric => "electric fan",
        EstimateFan::None => "ram alone",
    }
}

fn openings(out: &mut String, slow: &EstimateMoment, fast: &EstimateMoment, depth: Depth) {
    // on a short screen only what all parts take together
    let short = depth == Depth::Short;
    heading(out, "First openings, cm²: fan beside ram alone");
    let (corner, straight) = (words::speed(slow.speed_m_s), words::speed(fast.speed_m_s));
    let heads = [
        "part".to_string(),
        format!("inlet at {corner}"),
        format!("exit at {corner}"),
        format!("inlet at {straight}"),
        format!("exit at {straight}"),
    ];
    let mut table = TextTable::new(heads.into_iter().map(|head| (TextColumn::Left, head)).collect());
    for (index, (at_slow, at_fast)) in slow.ways.iter().zip(&fast.ways).enumerate() {
        let with_ram = if at_slow.fan == EstimateFan::None { "" } else { " and ram" };
        let way = format!("{}{with_ram}", way_in_words(at_slow.fan));
        if !short {
            if index > 0 {
                table.space();
            }
            table.title(TextCell::new(STRONG, way.clone()));
        }
        let openings = at_slow.openings.iter().zip(&at_fast.openings);
        for (low, high) in openings.filter(|(low, _)| !short || low.part == EstimatePart::All) {
            let style = if low.part == EstimatePart::All { STRONG } else { PLAIN };
            let cell = |band: FigureRange| TextCell::new(style, range(band, areas));
            let name = if low.part == EstimatePart::All { "all as one" } else { low.part.into() };
            let name = if short { way.clone() } else { format!("{KEPT}{KEPT}{name}") };
            table.row(vec![
                TextCell::new(style, name),
                cell(low.inlet_m2),
                cell(low.exit_m2),
                cell(high.inlet_m2),
                cell(high.exit_m2),
            ]);
        }
    }
    table.write(out);
    paragraph(
        out,
        QUIET,
        "Clear area square to the flow. An opening that must serve both speeds is the larger of the two; an inlet too large for the \
         straight spills there, an exit too large does little harm and can be taped.",
    );
}

fn reason(out: &mut String, slow: &EstimateMoment, fast: &EstimateMoment) {
    heading(out, "Why the exit is larger than the inlet, all air through one of each");
    let mut table = table(&[
        (TextColumn::Left, "way"),
        (TextColumn::Left, "exit over inlet"),
        (TextColumn::Left, "= warmed air"),
        (TextColumn::Left, "× jet in its hole"),
        (TextColumn::Left, "× m/s in / out"),
    ]);
    for (index, moment) in [slow, fast].into_iter().enumerate() {
        if index > 0 {
            table.space();
        }
        table.title(TextCell::new(STRONG, name_of(moment)));
        for way in &moment.ways {
            let why = &way.exit_against_inlet;
            let factor = |band: FigureRange| range(band, |value| words::fixed(value, 2));
            table.row(vec![
                format!("{KEPT}{KEPT}{}", short_way(way)).into(),
                TextCell::new(STRONG, range(why.ratio, |value| words::fixed(value, 1))),
                factor(why.heating).into(),
                factor(why.discharge).into(),
                format!(
                    "{}: {} / {}",
                    words::fixed(why.speed.likely, 2),
                    two_digits(way.inlet_speed_m_s.likely),
                    two_digits(way.jet_speed_m_s.likely)
                )
                .into(),
            ]);
        }
    }
    table.write(out);
    paragraph(
        out,
        QUIET,
        "Warmed air is lighter and needs more room; a jet is narrower than its hole (1 over the discharge coefficient); and what is left of \
         the pressure drives the air out faster or slower than it came in. Here, with these guesses; no rule.",
    );
}

/// The way in a table that is short of room.
fn short_way(way: &DrivenBy) -> &'static str {
    way_in_words(way.fan).trim_start_matches("engine-")
}

fn pressures(out: &mut String, slow: &EstimateMoment, fast: &EstimateMoment) {
    heading(out, "What drives the air, Pa");
    let mut table = table(&[
        (TextColumn::Left, "way"),
        (TextColumn::Left, "fan"),
        (TextColumn::Left, "with ram, suction"),
        (TextColumn::Left, "for fins and ducts"),
        (TextColumn::Left, "fan takes, W"),
    ]);
    for (index, moment) in [slow, fast].into_iter().enumerate() {
        if index > 0 {
            table.space();
        }
        let ram = words::whole(moment.dynamic_pressure_Pa.likely);
        table.title(TextCell::new(STRONG, format!("{}: ram {ram} Pa", name_of(moment))));
        for way in &moment.ways {
            table.row(pressure_row(way));
        }
    }
    table.write(out);
    paragraph(
        out,
        PLAIN,
        "For fins and ducts: what they may cost at the air named above; fins that cost more get less air, and need larger openings or \
         a stronger fan. A fan that blows into a closed bay raises its pressure: openings that live on ram then get less air, and \
         in a slow corner hot bay air may blow back out of them. `check` shows it.",
    );
}

fn pressure_row(way: &DrivenBy) -> Vec<TextCell> {
    vec![
        format!("{KEPT}{KEPT}{}", short_way(way)).into(),
        if way.fan == EstimateFan::None { "none".to_string() } else { range(way.fan_Pa, two_digits) }.into(),
        range(way.available_Pa, two_digits).into(),
        range(way.through_Pa, two_digits).into(),
        way.fan_power_W.map_or("nothing".to_string(), |power| range(power, two_digits)).into(),
    ]
}

fn open_frame(out: &mut String, slow: &EstimateMoment, fast: &EstimateMoment) {
    heading(out, "What an open frame had");
    let at = |moment: &EstimateMoment| {
        format!(
            "{} Pa across its fins at {}, and the air it needs fills {} cm² of the stream",
            range(moment.open_frame.over_fins_Pa, two_digits),
            words::speed(moment.speed_m_s),
            range(moment.open_frame.stream_m2, areas),
        )
    };
    paragraph(
        out,
        PLAIN,
        &format!(
            "No ducts: the stream pushes in front, the lee sucks behind, and nothing has to be paid for an exit. The engine had {}; \
             {}. The same fins would carry {} times the air that they get closed in on ram alone with the split of pressure above. It \
             never breathed its own hot air, and its casings and pipes cooled themselves; standing still it had next to nothing \
             but warm air rising.",
            at(slow),
            at(fast),
            range(slow.open_frame.flow_ratio, |value| words::fixed(value, 1)),
        ),
    );
}

fn decides(out: &mut String, found: &Estimate) {
    heading(out, "Which guesses decide");
    for figure in &found.decides {
        let keys: Vec<String> = figure.keys.iter().map(mover).collect();
        let what = if keys.is_empty() { "no guess moves it".to_string() } else { keys.join(", ") };
        item(out, 2, "", &format!("{}: {what}", figure.figure));
    }
    paragraph(
        out,
        QUIET,
        "× at the ends of its band. Measure or look up these first; --set KEY=VALUE takes them.",
    );
}

fn mover(mover: &KeyMover) -> String {
    let factor = |value: f64| if value.is_finite() { words::fixed(value, 2) } else { "no bound".to_string() };
    format!("{} (× {} to {})", mover.key, factor(mover.at_low), factor(mover.at_high))
}

fn rests_on(out: &mut String, found: &Estimate) {
    heading(out, "What it rests on");
    let mut table = table(&[
        (TextColumn::Left, "key"),
        (TextColumn::Right, "taken"),
        (TextColumn::Left, "probable band"),
        (TextColumn::Wrapped, "from"),
    ]);
    for value in &found.rests_on {
        let (taken, band) = value_and_band(&value.value, &value.low, &value.high);
        let band = if value.low == value.high { "as chosen".to_string() } else { band };
        let style = if value.given { STRONG } else { PLAIN };
        table.row(vec![
            TextCell::new(style, value.key),
            TextCell::new(style, if value.low == value.high { words::on_paper(&value.value) } else { taken }),
            band.into(),
            words::on_paper(value.source).into(),
        ]);
    }
    table.write(out);
}
