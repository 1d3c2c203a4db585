//! Lines in which a slip would show.

use crate::warnings::in_laws::SUNK;
use crate::warnings::support::Edit::{Add, Replace, Set};
use crate::warnings::support::{Seen, engine_speed};

fn line<'a>(lines: &'a [String], start: &str) -> &'a str {
    let found: Vec<_> = lines.iter().filter(|line| line.starts_with(start)).collect();
    assert_eq!(found.len(), 1, "{start:?} in {lines:#?}");
    found[0]
}

#[test]
fn every_opening_shows_its_total() {
    let lines = Seen::with(&[]).echoes();
    assert_eq!(
        line(&lines, "opening passage/exits/exit"),
        "opening passage/exits/exit: 2 × 150 cm² = 300 cm²"
    );
    // 110 mm × 50 mm
    let cooler = "opening passage/oil cooler/ram-inlet: 1 × 55.0 cm² = 55.0 cm²";
    assert_eq!(line(&lines, "opening passage/oil cooler/ram-inlet"), cooler);
    // 125 + 55 + 12; 150 + 2 × 150
    let totals = line(&lines, "all inlets");
    assert!(totals.starts_with("all inlets 192 cm², all exits 450 cm²"), "{totals}");
    assert!(totals.contains("not along the skin"));
}

#[test]
fn the_air_shows_its_altitude() {
    // ISO 2533: 966.11 hPa at 400 m, 1013.25 hPa at sea level
    let at = |pressure| {
        let lines = Seen::with(&[Replace("altitude = \"120 m\"", pressure)]).echoes();
        line(&lines, "air at").to_string()
    };
    let real = at("pressure = \"966.1 hPa\"");
    assert!(real.contains("966 hPa") && real.contains("about 400 m"), "{real}");
    // the same place by a weather app
    let reduced = at("pressure = \"1013 hPa\"");
    assert!(reduced.contains("about 0 m") && reduced.contains("weather app"), "{reduced}");
}

#[test]
fn loads_show_as_power() {
    let seen = Seen::with(&[]);
    let lines = seen.echoes();
    let load = line(&lines, "load");
    let hairpin = seen.condition("hairpin");
    let told = format!("hairpin 60 % = {:.1} kW at {:.0} rpm", hairpin.brake_power_W / 1e3, hairpin.rpm);
    assert!(load.contains(&told) && load.contains("not pedal travel"), "no {told:?} in {load}");
}

#[test]
fn inlets_show_what_they_meet_of_the_stream() {
    let lines = Seen::with(&[]).echoes();
    let carburettor = line(&lines, "inlet passage/carburettor");
    assert!(
        carburettor.contains("recovery 0.90") && carburettor.contains("no slow skin air"),
        "{carburettor}"
    );
    // 1.6 m of run at 45 and 135 km/h; the layer is thicker, and leaves less, at the lower speed
    let cooler = line(&lines, "inlet passage/oil cooler");
    assert!(cooler.contains("recovery 0.85") && cooler.ends_with("after 1600 mm"), "{cooler}");
    assert!(cooler.contains("% in hairpin to") && cooler.contains("% in straight"), "{cooler}");
}

#[test]
fn counts_multiply_and_louvres_leave_a_share_open() {
    let lines =
        Seen::with(&[Set("passage/exits/exit/count", "3"), Set("passage/exits/exit/louvres", "60 %")])
            .echoes();
    let exits = line(&lines, "opening passage/exits/exit");
    assert_eq!(exits, "opening passage/exits/exit: 6 × 90.0 cm² = 540 cm², 60 % open of 150 cm²");
}

#[test]
fn a_leak_given_as_a_share_shows_its_area() {
    let lines =
        Seen::with(&[Replace(r#""leak", area = "10 cm2""#, r#""leak", share_of_inlets = "10 %""#)]).echoes();
    // of 192 cm²
    assert_eq!(
        line(&lines, "opening passage/seams/leak"),
        "opening passage/seams/leak: 1 × 19.2 cm² = 19.2 cm²"
    );
}

#[test]
fn fans_show_speed_and_tips() {
    let lines = Seen::with(&[]).echoes();
    let fan = line(&lines, "fan passage/cylinders/fan");
    let top = 1.3 * engine_speed(135.0, 0.98);
    let tips = |rpm: f64| format!("{:.0} m/s", std::f64::consts::PI * 0.18 * rpm / 60.0);
    for figure in [
        format!("{:.0} rpm in queue to {top:.0} rpm in straight", 1.3 * 1700.0),
        format!("at most {:.2}", top / 7000.0),
        format!("tips {} in queue to {} in straight", tips(1.3 * 1700.0), tips(top)),
    ] {
        assert!(fan.contains(&figure), "no {figure:?} in {fan:?}");
    }
    let cooler = line(&lines, "fan passage/oil cooler/fan");
    assert!(cooler.contains("2600 rpm throughout") && cooler.contains("tip speed unknown"), "{cooler}");
    let off = Seen::with(&[Set("passage/oil cooler/fan/off", "true")]).echoes();
    assert!(line(&off, "fan passage/oil cooler/fan").ends_with("stands throughout"));
}

#[test]
fn parts_show_total_conductance_and_the_rise_of_their_air() {
    let seen = Seen::with(&[]);
    let lines = seen.echoes();
    let oil = line(&lines, "part oil");
    // the worst condition of the oil, found by hand
    let margin = |name: &&str| seen.condition(name).parts[2].flow_margin.unwrap();
    let worst =
        ["queue", "hairpin", "straight"].into_iter().min_by(|a, b| margin(a).total_cmp(&margin(b))).unwrap();
    let core = &seen.passage(worst, "oil cooler").elements;
    let rise = core[3].outlet_temperature_C - core[2].outlet_temperature_C;
    for figure in [
        "1 × 95 = 95 W/K",
        "4 W/K to the air of bay",
        &format!("worst in {worst}"),
        &format!("({rise:+.0} K)"),
    ] {
        assert!(oil.contains(figure), "no {figure:?} in {oil:?}");
    }
}

#[test]
fn a_conductance_given_on_each_bank_shows() {
    // the part's whole conductance written on a bank that stands twice
    let lines = Seen::with(&[Set("passage/cylinders/fins 2/count", "2")]).echoes();
    let heads = line(&lines, "part heads");
    assert!(heads.contains("2 × 150 = 300 W/K (passage/cylinders/fins 2)"), "{heads}");
}

#[test]
fn a_part_without_elements_and_a_part_outside_say_so() {
    let lines = Seen::with(&[Add(
        "\n[part.gearbox]\nlimit = \"110 degC\"\nchamber = \"outside\"\nbay_conductance = \"6 W/K\"\n",
    )])
    .echoes();
    let gearbox = line(&lines, "part gearbox");
    assert!(
        gearbox.contains("no fins, no core") && gearbox.contains("6 W/K to the air outside"),
        "{gearbox}"
    );
}

#[test]
fn chambers_show_what_enters_and_leaves() {
    let seen = Seen::with(&[Add(r#"
[[passage]]
name = "vent"
from = "outside"
to = "bay"
element = [{ kind = "ram-inlet", area = "30 cm2", recovery = 0.9 }]
"#)]);
    let lines = seen.echoes();
    let bay = line(&lines, "chamber bay");
    let (enters, leaves) = bay.split_once("; leaves ").unwrap();
    for name in ["cylinders (", "vent (−"] {
        assert!(enters.contains(name), "no {name} in {enters}");
    }
    for name in ["exits (", "seams ("] {
        assert!(leaves.contains(name), "no {name} in {leaves}");
    }
    let cylinders = seen.passage("straight", "cylinders").mass_flow_kg_s;
    assert!(enters.contains(&format!("{cylinders:.3} kg/s in straight")), "{enters}");
    assert!(enters.contains("runs back in queue"), "{enters}");
    assert!(leaves.ends_with("in it stand heads, barrels, oil"), "{leaves}");
}

#[test]
fn without_conditions_what_is_written_still_shows() {
    let seen = Seen::with(&[]);
    let lines = slowcorner::warnings::echoes(&seen.case, &seen.model, &[]);
    assert!(line(&lines, "chamber bay").contains("enters cylinders; leaves exits, seams"));
    assert!(!line(&lines, "part oil").contains("worst"));
    assert!(!lines.iter().any(|line| line.starts_with("fan ")));
}

#[test]
fn fins_and_cores_show_what_was_found() {
    let found = Seen::with(&[
        Replace(
            r#"part = "heads", reference_flow = "0.3 kg/s", conductance = "150 W/K", pressure_drop = "230 Pa", area = "180 cm2""#,
            r#"part = "heads", fin_pitch = "7 mm", fin_thickness = "2 mm", fin_length = "32 mm", root_diameter = "94 mm", fin_count = 11, cylinders = 4"#,
        ),
        Replace(
            r#"reference_flow = "0.2 kg/s", conductance = "95 W/K", pressure_drop = "220 Pa", oil_flow"#,
            r#"rated = { heat = "5 kW", air_speed = "8 m/s", difference = "70 K" }, oil_flow"#,
        ),
    ]);
    let lines = found.echoes();
    // 4 × 26.980 W/K, K 1.20216 on 24 kg/(s m²) (tests/published/finned_surfaces.rs); 4 × 35.2 cm²; 24 · 140.8e-4 kg/s
    let fins = line(&lines, "fins passage/cylinders/fins");
    for figure in
        ["108 W/K and 299 Pa at 0.338 kg/s", "20 m/s in 141 cm²", "fin efficiency 75 %", "Reynolds 10384"]
    {
        assert!(fins.contains(figure), "{figure}: {fins}");
    }
    // 1.2 · 8 · 0.024 = 0.2304 kg/s, 231.8 W/K of air; 12 L/min of oil 361.2 W/K; 5000/70 = 71.4, 31 %
    let core = line(&lines, "core passage/oil cooler/core");
    for figure in [
        "from its rating",
        "(by face_loss) at 0.23 kg/s (8.0 m/s on the face)",
        "31 % of what",
        "(361 W/K) and air of 1.2 kg/m3",
    ] {
        assert!(core.contains(figure), "{figure}: {core}");
    }
    let written = Seen::with(&[]).echoes();
    assert!(
        !written.iter().any(|line| line.starts_with("fins ") || line.starts_with("core ")),
        "{written:#?}"
    );
}

#[test]
fn a_flush_inlet_shows_the_plan_of_its_ramp_and_what_it_recovers() {
    let seen = Seen::with(&[SUNK]);
    let lines = seen.echoes();
    // 40 mm at 7 degrees: 325.8 mm long; ordinates (from memory) times a width of 160 mm; 9.4 % and 48 % of 40 mm
    assert_eq!(
        line(&lines, "flush inlet passage/sunk/flush-inlet"),
        "flush inlet passage/sunk/flush-inlet: ramp 326 mm long; half-widths at each tenth of it from the lip forward: 80, 80, 73, 61, 49, 37, 31, 25, 19, 13, 7 mm; nose of the lip 4 mm radius, lip 19 mm thick"
    );
    let recovers = line(&lines, "inlet passage/sunk/flush-inlet");
    // 0.37 × 500 mm × Re^-0.2 by hand: Re 1.2e6 at 135 km/h, 4.1e5 at 45 km/h
    for part in ["by published tests", "lip 40 mm high", "slow air 11 mm in straight to 14 mm in hairpin"] {
        assert!(recovers.contains(part), "{recovers}");
    }
}

#[test]
fn tyre_and_gears_show_as_road_speeds() {
    let lines = Seen::with(&[]).echoes();
    // 5500 rpm, 258 mm, 3.9 × 2.8, 1.9, 1.35, 0.98
    assert_eq!(
        line(&lines, "drive:"),
        "drive: 49, 72, 102, 140 km/h in gear 1 to 4 at the power peak of 5500 rpm, on tyres 516 mm high"
    );
}

#[test]
fn the_oil_shows_how_far_it_cools() {
    let seen = Seen::with(&[]);
    let lines = seen.echoes();
    let told = line(&lines, "oil through passage/oil cooler/core:");
    assert!(told.contains(": 12 L/min; it cools by "), "{told}");
    // what the air takes up over what the oil can carry: 12 L/min of 860 kg/m3 and 2100 J/(kg K)
    let passage = seen.passage("straight", "oil cooler");
    let place = passage.elements.iter().position(|element| element.kind == "core").expect("a core");
    let before = passage.elements[..place].iter().rev().find(|element| !element.implied).expect("a screen");
    let heat = passage.mass_flow_kg_s
        * 1006.0
        * (passage.elements[place].outlet_temperature_C - before.outlet_temperature_C);
    let fall = heat / (12.0 / 6e4 * 860.0 * 2100.0);
    let shown: f64 = told
        .rsplit("cools by ")
        .next()
        .and_then(|rest| rest.split(", ").find(|part| part.ends_with("in straight")))
        .and_then(|part| part.split(' ').next())
        .and_then(|text| text.parse().ok())
        .unwrap_or_else(|| panic!("{told}"));
    assert!((shown - fall).abs() < 0.6, "{told}: {fall}");
}
