//! Invented cars at random: any number of chambers, parts, passages and conditions, of every kind of
//! element. No loss coefficient is negative.

use proptest::collection::vec;
use proptest::prelude::*;

/// A passage as it will be written.
#[derive(Clone, Debug)]
pub struct Way {
    pub name: String,
    pub from: String,
    pub to: String,
    pub count: usize,
    pub elements: Vec<String>,
}

/// A car: its passages, and the rest of its file.
#[derive(Clone, Debug)]
pub struct Car {
    pub ways: Vec<Way>,
    pub head: String,
    pub conditions: Vec<String>,
}

impl Way {
    /// Its table.
    pub fn text(&self) -> String {
        let Way { name, from, to, count, elements } = self;
        let elements = elements.join(",\n  ");
        format!(
            "[[passage]]\nname = {name:?}\nfrom = {from:?}\nto = {to:?}\ncount = {count}\nelement = [\n  {elements},\n]\n"
        )
    }
}

impl Car {
    /// The same without its fans: one steady state whatever the start, see `starts.rs`.
    pub fn without_fans(mut self) -> Car {
        for way in &mut self.ways {
            way.elements.retain(|element| !element.contains(r#"kind = "fan""#));
            if way.elements.is_empty() {
                way.elements.push(r#"{ kind = "loss", area = "80 cm2", k = 1 }"#.to_string());
            }
        }
        self
    }

    /// The text of its case file.
    pub fn text(&self) -> String {
        let ways: String = self.ways.iter().map(Way::text).collect();
        let conditions: String =
            self.conditions.iter().map(|condition| format!("[[condition]]\n{condition}\n")).collect();
        format!("{}{ways}{conditions}", self.head)
    }
}

fn name_of_chamber(index: usize) -> String {
    format!("chamber {}", ["one", "two", "three", "four"][index])
}

fn name_of_part(index: usize) -> String {
    ["heads", "barrels", "oil"][index].to_string()
}

/// An inlet; `back` is an exit whose air it may draw in again.
fn inlet(back: String) -> impl Strategy<Value = String> {
    let ram = (20.0..180.0, 0.5..1.0, prop::sample::select(vec!["rounded", "sharp", "thin"]), any::<bool>())
        .prop_map(|(area, recovery, edge, skin)| {
            let skin = if skin { r#", boundary_layer = { run = "1.3 m", gap = "4 mm" }"# } else { "" };
            format!(r#"{{ kind = "ram-inlet", area = "{area:.2} cm2", recovery = {recovery:.3}, edge = "{edge}"{skin} }}"#)
        });
    let warmed = (20.0..180.0, 0.5..1.0, 0.01..0.4).prop_map(move |(area, recovery, share)| {
        format!(r#"{{ kind = "ram-inlet", area = "{area:.2} cm2", recovery = {recovery:.3}, recirculation = {{ from = "{back}", share = {share:.3} }} }}"#)
    });
    let wall = (10.0..150.0, -0.5..0.6, prop::sample::select(vec!["rounded", "sharp", "thin"])).prop_map(
        |(area, cp, edge)| format!(r#"{{ kind = "wall-inlet", area = "{area:.2} cm2", pressure_coefficient = {cp:.3}, edge = "{edge}" }}"#),
    );
    // a curve that rises behind a free way may have several states: what is known of all cars holds for one
    let recovery = prop_oneof![
        Just(String::new()),
        (0.4..0.95).prop_map(|recovery| format!(", recovery = {recovery:.3}")),
        (0.5..0.9, 0.3..0.9).prop_map(|(first, last)| {
            format!(
                ", recovery = [[0.2, {:.3}], [0.6, {first:.3}], [1.1, {:.3}]]",
                0.9 * first,
                f64::min(first, last)
            )
        }),
    ];
    let flush = (60.0..200.0, 3.0..5.0, 0.3..2.0, recovery).prop_map(|(width, slender, run, recovery)| {
        format!(r#"{{ kind = "flush-inlet", width = "{width:.1} mm", height = "{:.1} mm", boundary_layer = {{ run = "{run:.2} m" }}{recovery} }}"#, width / slender)
    });
    prop_oneof![5 => ram, 2 => warmed, 2 => wall, 2 => flush, 1 => leak()]
}

fn leak() -> impl Strategy<Value = String> {
    (1.0..20.0, -0.3..0.3).prop_map(|(area, cp)| {
        format!(r#"{{ kind = "leak", area = "{area:.2} cm2", pressure_coefficient = {cp:.3} }}"#)
    })
}

/// An exit.
fn exit() -> impl Strategy<Value = String> {
    let plain = (20.0..300.0, 0.4..1.0, -0.4..0.4, 0.0..90.0).prop_map(|(area, cd, cp, angle)| {
        format!(r#"{{ kind = "exit", area = "{area:.2} cm2", discharge = {cd:.3}, pressure_coefficient = {cp:.3}, angle = "{angle:.1} deg" }}"#)
    });
    prop_oneof![6 => plain, 1 => leak()]
}

fn fan() -> impl Strategy<Value = String> {
    let drive = prop_oneof![
        (0.5..2.5).prop_map(|ratio| format!("drive_ratio = {ratio:.3}")),
        (300.0..9000.0).prop_map(|rpm| format!(r#"speed = "{rpm:.0} rpm""#)),
        Just("off = true".to_string()),
    ];
    let off_loss = prop_oneof![Just(String::new()), (3.0..30.0).prop_map(|k| format!(", off_loss = {k:.2}"))];
    (drive, 80.0..1800.0, 0.1..0.7, off_loss).prop_map(|(drive, rise, flow, off_loss)| {
        let points = [(0.0, 1.0), (0.42, 0.83), (0.75, 0.5), (1.0, 0.0)]
            .map(|(q, p)| format!(r#"["{:.4} m3/s", "{:.2} Pa"]"#, q * flow, p * rise));
        format!(r#"{{ kind = "fan", {drive}, reference_speed = "6000 rpm", diameter = "200 mm", curve = [{}]{off_loss} }}"#, points.join(", "))
    })
}

/// What cools a part.
fn cooler(part: String) -> impl Strategy<Value = String> {
    let area =
        prop_oneof![Just(String::new()), (60.0..300.0).prop_map(|a| format!(r#", area = "{a:.1} cm2""#))];
    let oil = prop_oneof![
        Just(String::new()),
        (0.5..15.0, any::<bool>()).prop_map(|(flow, follows)| {
            let at = if follows { r#", oil_flow_at = "5000 rpm""# } else { "" };
            format!(r#", oil_flow = "{flow:.2} L/min"{at}"#)
        })
    ];
    (0.05..0.4, 20.0..250.0, 50.0..900.0, 0.5..0.8, 1.5..2.0, area, oil).prop_map(
        move |(flow, conductance, drop, n, x, area, oil)| {
            let kind = if oil.is_empty() { "fins" } else { "core" };
            format!(
                r#"{{ kind = "{kind}", part = "{part}", reference_flow = "{flow:.4} kg/s", conductance = "{conductance:.2} W/K", pressure_drop = "{drop:.1} Pa", conductance_exponent = {n:.3}, pressure_exponent = {x:.3}{area}{oil} }}"#
            )
        },
    )
}

/// Anything that may stand in the middle of a passage, without a part.
fn middle() -> impl Strategy<Value = String> {
    let loss = (30.0..250.0, 0.0..6.0, 0.0..6.0).prop_map(|(area, k, back)| {
        format!(r#"{{ kind = "loss", area = "{area:.2} cm2", k = {k:.3}, k_reverse = {back:.3} }}"#)
    });
    let duct = (40.0..160.0, 50.0..1500.0, 0.0..1.0).prop_map(|(d, l, e)| {
        format!(
            r#"{{ kind = "duct", diameter = "{d:.1} mm", length = "{l:.0} mm", roughness = "{e:.3} mm" }}"#
        )
    });
    let bend = (40.0..160.0, 10.0..120.0, 0.6..5.0).prop_map(|(d, angle, r)| {
        format!(
            r#"{{ kind = "bend", diameter = "{d:.1} mm", angle = "{angle:.0} deg", radius = "{:.1} mm" }}"#,
            r * d
        )
    });
    let screen = (30.0..250.0, 0.3..0.9, prop::sample::select(vec!["wire", "perforated"])).prop_map(
        |(area, open, pattern)| format!(r#"{{ kind = "screen", area = "{area:.2} cm2", open_fraction = {open:.3}, pattern = "{pattern}" }}"#),
    );
    let step = (20.0..250.0, 20.0..250.0).prop_map(|(a, b)| {
        format!(r#"{{ kind = "step", area_before = "{a:.2} cm2", area_after = "{b:.2} cm2" }}"#)
    });
    let change = (20.0..120.0, 1.1..3.0, 5.0..60.0, any::<bool>()).prop_map(|(small, ratio, angle, widens)| {
        let large = small * ratio;
        let (kind, before, after) = if widens { ("diffuser", small, large) } else { ("contraction", large, small) };
        format!(r#"{{ kind = "{kind}", angle = "{angle:.1} deg", area_before = "{before:.2} cm2", area_after = "{after:.2} cm2" }}"#)
    });
    prop_oneof![3 => loss, 2 => duct, 1 => bend, 1 => screen, 1 => step, 1 => change, 2 => fan()]
}

/// The elements between the ends.
fn course(parts: usize) -> BoxedStrategy<Vec<String>> {
    let element = if parts == 0 {
        middle().boxed()
    } else {
        let cooler = (0..parts).prop_flat_map(|part| cooler(name_of_part(part)));
        prop_oneof![3 => middle(), 2 => cooler].boxed()
    };
    vec(element, 0..4).boxed()
}

/// A passage between ends.
fn way(name: String, from: String, to: String, parts: usize, back: String) -> BoxedStrategy<Way> {
    let first = if from == "outside" { inlet(back).prop_map(Some).boxed() } else { Just(None).boxed() };
    let last = match to.as_str() {
        "outside" => exit().prop_map(Some).boxed(),
        "engine" => prop_oneof![
            Just(None),
            (0.005..0.04).prop_map(|flow| Some(format!(r#"{{ kind = "demand", flow = "{flow:.4} kg/s" }}"#))),
        ]
        .boxed(),
        _ => Just(None).boxed(),
    };
    // what would have no resistance at all gets one
    let floor = (40.0..250.0, 0.1..3.0)
        .prop_map(|(area, k)| format!(r#"{{ kind = "loss", area = "{area:.2} cm2", k = {k:.3} }}"#));
    // no fins in the carburettor's way
    let parts = if to == "engine" { 0 } else { parts };
    (first, course(parts), last, floor, 1_usize..=3)
        .prop_map(move |(first, middle, last, floor, count)| {
            let bare = first.is_none() && last.is_none();
            let elements = first.into_iter().chain(bare.then_some(floor)).chain(middle).chain(last).collect();
            let count = if to == "engine" { 1 } else { count };
            Way { name: name.clone(), from: from.clone(), to: to.clone(), count, elements }
        })
        .boxed()
}

fn part(index: usize, chambers: usize) -> impl Strategy<Value = String> {
    let around = prop_oneof![4 => (0..chambers).prop_map(name_of_chamber), 1 => Just("outside".to_string())];
    let conductance = prop_oneof![1 => Just(0.0), 3 => 0.5..12.0];
    (90.0..260.0, conductance, around).prop_map(move |(limit, conductance, around)| {
        format!(
            "[part.{}]\nlimit = \"{limit:.1} degC\"\nbay_conductance = \"{conductance:.2} W/K\"\nchamber = {around:?}\n",
            name_of_part(index)
        )
    })
}

fn condition(index: usize) -> impl Strategy<Value = String> {
    let speed = prop_oneof![1 => Just(0.0), 3 => 0.5..25.0, 3 => 10.0..250.0];
    let rpm = prop_oneof![1 => Just(0.0), 5 => 900.0..6500.0];
    (speed, rpm, 0.0..1.0, 0.3..1.0, -20.0..20.0).prop_map(move |(speed, rpm, load, clear, wind)| {
        format!(
            "name = \"condition {index}\"\nspeed = \"{speed:.2} km/h\"\nrpm = \"{rpm:.0} rpm\"\nload = {load:.3}\nclear_air = {clear:.3}\nwind = \"{wind:.2} km/h\""
        )
    })
}

fn head() -> impl Strategy<Value = String> {
    (-10.0..45.0, 0.0..2500.0, 0.0..1.0, 15.0..90.0).prop_map(|(temperature, altitude, humidity, power)| {
        format!(
            r#"format = 1
[day]
temperature = "{temperature:.2} degC"
altitude = "{altitude:.0} m"
humidity = {humidity:.3}
[engine]
displacement = "1200 cm3"
peak_power = "{power:.2} kW"
peak_power_at = "5800 rpm"
"#
        )
    })
}

/// Chambers, parts and the other passages of a car, before anything is drawn for them.
type Frame = (usize, usize, Vec<(usize, usize)>);

fn frame() -> impl Strategy<Value = Frame> {
    (1_usize..=3, 0_usize..=3, vec((0_usize..5, 0_usize..6), 0..4))
}

fn ways((chambers, parts, others): Frame) -> Vec<BoxedStrategy<Way>> {
    let outside = "outside".to_string();
    let mut ways = Vec::new();
    for index in 0..chambers {
        let chamber = name_of_chamber(index);
        let back = format!("out {}", (index + 1) % chambers);
        ways.push(way(format!("in {index}"), outside.clone(), chamber.clone(), parts, back));
    }
    for (index, (from, to)) in others.into_iter().enumerate() {
        // 0: outside; chambers as far as there are; the last: the engine
        let from = if from == 0 || from > chambers { outside.clone() } else { name_of_chamber(from - 1) };
        let to = match to {
            0 => outside.clone(),
            5 => "engine".to_string(),
            to if to > chambers => outside.clone(),
            to => name_of_chamber(to - 1),
        };
        if from == to && from != "outside" {
            continue;
        }
        ways.push(way(format!("way {index}"), from, to, parts, "out 0".to_string()));
    }
    for index in 0..chambers {
        // always an exit at its end, so that warm air can be drawn from it
        let middle =
            (course(parts), exit_only(), 1_usize..=3).prop_map(move |(mut elements, exit, count)| {
                elements.push(exit);
                let from = name_of_chamber(index);
                Way { name: format!("out {index}"), from, to: "outside".to_string(), count, elements }
            });
        ways.push(middle.boxed());
    }
    ways
}

fn exit_only() -> impl Strategy<Value = String> {
    (20.0..300.0, 0.4..1.0, -0.4..0.3).prop_map(|(area, cd, cp)| {
        format!(r#"{{ kind = "exit", area = "{area:.2} cm2", discharge = {cd:.3}, pressure_coefficient = {cp:.3} }}"#)
    })
}

/// A car with everything.
pub fn car() -> impl Strategy<Value = Car> {
    frame().prop_flat_map(|frame| {
        let (chambers, count, _) = frame;
        let parts: Vec<_> = (0..count).map(|index| part(index, chambers).boxed()).collect();
        let shares = (vec(0.01..0.12, count), vec(0.0..0.04, chambers))
            .prop_map(|(parts, chambers)| [parts, chambers].concat());
        let conditions: Vec<_> = (0..3).map(|index| condition(index).boxed()).collect();
        (head(), ways(frame), parts, shares, conditions).prop_map(
            move |(head, ways, tables, shares, conditions)| {
                let heated = (0..count).map(name_of_part).chain((0..chambers).map(name_of_chamber));
                let heat: String =
                    heated.zip(shares).map(|(name, share)| format!("{name:?} = {share:.4}\n")).collect();
                let head = format!("{head}[engine.heat]\n{heat}{}", tables.concat());
                Car { ways, head, conditions }
            },
        )
    })
}
