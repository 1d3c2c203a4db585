//! The page of entries that look right and are wrong: what the program says to each is found by
//! running it on the demo case with that entry.

use super::{keep, read, run_slips, slips};
use anstream::adapter::strip_str;
use slowcorner::case::render::render;
use slowcorner::point::{Model, conditions};
use slowcorner::{case, warnings};
use std::fmt::Write;

/// What the program says to an entry.
enum Said {
    /// The case is refused with this code.
    Fault(&'static str),
    /// A warning of this code at this address.
    Warning(&'static str, &'static str),
    /// A line under "As it was read" that begins so.
    Line(&'static str),
}

struct Entry {
    title: &'static str,
    why: &'static str,
    /// Text of the demo case, and what stands in its place.
    edits: &'static [(&'static str, &'static str)],
    said: &'static [Said],
}

use Said::{Fault, Line, Warning};

const ENTRIES: &[Entry] = &[
    Entry {
        title: "Speed 0 with a gear",
        why: "The engine would stand with the wheels, and every margin be met.",
        edits: &[("rpm = \"1200 rpm\"", "gear = 1")],
        said: &[Fault("standing-in-gear")],
    },
    Entry {
        title: "The pedal taken for load",
        why: "Half the pedal is far more than half the power. Load is the share of full throttle's power at that engine speed.",
        edits: &[("load = \"34 %\"\n\n[[condition]]", "pedal = \"50 %\"\n\n[[condition]]")],
        said: &[Fault("unknown-key")],
    },
    Entry {
        title: "The pedal written as load",
        why: "The same slip under the right key cannot be known; the power that it means is shown.",
        edits: &[("load = \"34 %\"\n\n[[condition]]", "load = \"80 %\"\n\n[[condition]]")],
        said: &[Line("load")],
    },
    Entry {
        title: "The total exit area, and count = 2",
        why: "An area is that of one opening.",
        edits: &[(
            "name = \"left exit\"\nfrom = \"bay\"\nto = \"outside\"\nelement = [{ kind = \"exit\", area = \"100 cm2\"",
            "name = \"left exit\"\nfrom = \"bay\"\nto = \"outside\"\nelement = [{ kind = \"exit\", count = 2, area = \"200 cm2\"",
        )],
        said: &[Line("opening passage/left exit")],
    },
    Entry {
        title: "The area along the sloping skin",
        why: "A hole in a panel that slopes by 60° is twice as long as the air that leaves through it is wide.",
        edits: &[],
        said: &[Line("all inlets")],
    },
    Entry {
        title: "Square metres taken for square centimetres",
        why: "0.0026 m² are 26 cm²; as 0.0026 cm² nothing is open.",
        edits: &[("ram-inlet\", diameter = \"58 mm\"", "ram-inlet\", area = \"0.0026 cm2\"")],
        said: &[Fault("opening-too-small")],
    },
    Entry {
        title: "A heated space with one opening",
        why: "Air that has one way alone cannot move through, and hot walls that take nothing leave its heat no end.",
        edits: &[(
            "[engine.heat]",
            "[chamber.\"battery box\"]\nskin_conductance = \"0 W/K\"\n\n[[passage]]\nname = \"box vent\"\nfrom = \"bay\"\nto = \"battery box\"\nelement = [{ kind = \"loss\", area = \"20 cm2\", k = 1.5 }]\n\n[engine.heat]\n\"battery box\" = \"0.2 %\"",
        )],
        said: &[Fault("heat-shut-in")],
    },
    Entry {
        title: "A part's whole conductance on each bank",
        why: "What an element says describes one piece; here both banks were given the conductance of both.",
        edits: &[("conductance = \"98 W/K\"", "conductance = \"196 W/K\"")],
        said: &[Line("part heads")],
    },
    Entry {
        title: "Pulleys upside down",
        why: "A fan on the engine nearly always turns faster than the engine.",
        edits: &[("drive_ratio = 1.45", "pulleys = { engine = \"100 mm\", fan = \"145 mm\" }")],
        said: &[Warning("fan-slower-than-engine", "passage/fan/fan"), Line("fan passage/fan")],
    },
    Entry {
        title: "Two zeros lost from a fan's speed",
        why: "A curve goes with the square of the speed: read off for a hundredth of it, the fan would push ten thousand times as much.",
        edits: &[("reference_speed = \"8000 rpm\"", "reference_speed = \"80 rpm\"")],
        said: &[Fault("fan-beyond-air")],
    },
    Entry {
        title: "An area that jumps with nothing between",
        why: "Nothing can be drawn there but a sudden change, and that is what is charged; where yours is lofted, blended = true says so.",
        edits: &[(
            "place = \"flank\", edge = \"rounded\" },\n  { kind = \"diffuser\", length = \"180 mm\" },\n  { kind = \"fins\", part = \"heads\", area = \"98 cm2\"",
            "place = \"flank\", edge = \"rounded\" },\n  { kind = \"fins\", part = \"heads\", area = \"190 cm2\"",
        )],
        said: &[Warning("sudden-change", "passage/heads/fins")],
    },
    Entry {
        title: "A diffuser that ends in open space",
        why: "The formula is that of a cone with a duct behind it.",
        edits: &[(
            "{ kind = \"step\", area_after = \"158 cm2\" },\n  { kind = \"fins\", part = \"barrels\", area = \"158 cm2\", reference_flow = \"0.26 kg/s\", conductance = \"72 W/K\", pressure_drop = \"520 Pa\" },",
            "{ kind = \"step\", area_after = \"158 cm2\" },\n  { kind = \"fins\", part = \"barrels\", area = \"158 cm2\", reference_flow = \"0.26 kg/s\", conductance = \"72 W/K\", pressure_drop = \"520 Pa\" },\n  { kind = \"diffuser\", length = \"120 mm\", area_after = \"230 cm2\" },",
        )],
        said: &[Warning("diffuser-into-chamber", "passage/fan/diffuser")],
    },
    Entry {
        title: "The sign of a pressure coefficient at an exit",
        why: "Suction is negative.",
        edits: &[("pressure_coefficient = -0.15", "pressure_coefficient = 0.15")],
        said: &[Warning("exit-pushed-in", "place/tail/pressure_coefficient")],
    },
    Entry {
        title: "The sign of a pressure coefficient at an inlet",
        why: "Where the skin is in suction, a plain hole lets air out.",
        edits: &[("pressure_coefficient = 0.05", "pressure_coefficient = -0.2")],
        said: &[Warning("inlet-in-suction", "passage/fan/wall-inlet/pressure_coefficient")],
    },
    Entry {
        title: "Recovery 1 in the skin's slow air",
        why: "The whole of the stream's pressure is there only where it meets the opening head-on, clear of the skin. Written, it is shown; left out, it is warned of (next).",
        edits: &[(
            "recovery = 0.88\nboundary_layer = { run = \"1.7 m\", gap = \"12 mm\" }",
            "recovery = 1.0",
        )],
        said: &[Line("inlet passage/heads")],
    },
    Entry {
        title: "No recovery at all",
        why: "The default is that of a clean nose.",
        edits: &[("recovery = 0.88\n", "")],
        said: &[Warning("recovery-assumed", "passage/heads/ram-inlet/recovery")],
    },
    Entry {
        title: "One power point",
        why: "A peak alone says nothing of the slow corner; with peak_power and peak_power_at the usual shape is taken.",
        edits: &[(
            "power = [[\"1200 rpm\", \"6.3 kW\"], [\"3300 rpm\", \"20.8 kW\"], [\"4700 rpm\", \"30.5 kW\"], [\"5700 rpm\", \"34.2 kW\"], [\"6300 rpm\", \"33.4 kW\"]]",
            "power = [[\"5700 rpm\", \"34.2 kW\"]]",
        )],
        said: &[Fault("power-points")],
    },
    Entry {
        title: "Power at the wheels",
        why: "10 to 20 % less than at the flywheel (common practice), and as much too little heat. A small slip is only shown; a large one spoils the mixture.",
        edits: &[(
            "[\"5700 rpm\", \"34.2 kW\"], [\"6300 rpm\", \"33.4 kW\"]]",
            "[\"5700 rpm\", \"31.5 kW\"], [\"6300 rpm\", \"25.4 kW\"]]",
        )],
        said: &[Line("load"), Warning("air-fuel-ratio", "engine/brake_efficiency")],
    },
    Entry {
        title: "The pressure of a weather app",
        why: "It is reduced to sea level; the air of a hill is thinner.",
        edits: &[("altitude = \"260 m\"", "pressure = \"1019 hPa\"")],
        said: &[Warning("pressure-above-sea-level", "day/pressure"), Line("air at")],
    },
    Entry {
        title: "A limit measured at another spot",
        why: "Plug washer, fin root and exhaust side of one cylinder lie 30 to 60 K apart.",
        edits: &[("measured_at = \"plug washer, exhaust side\"\n", "")],
        said: &[Warning("limit-measured-where", "part/heads/measured_at")],
    },
    Entry {
        title: "A slip in a chamber's name that splits the bay",
        why: "A chamber comes to be by being named. Where the slip leaves a way out, it is a warning.",
        edits: &[("name = \"seams\"\nfrom = \"bay\"", "name = \"seams\"\nfrom = \"bey\"")],
        said: &[Warning("chamber-names-alike", "chamber/bey")],
    },
    Entry {
        title: "The same slip in a chamber's own table",
        why: "A table for a chamber that no passage reaches is a fault.",
        edits: &[("[chamber.bay]", "[chamber.bya]")],
        said: &[Fault("chamber-unjoined")],
    },
    Entry {
        title: "A character that nobody sees",
        why: "It comes along when a name is copied from a page or a message, and two names that look alike are then two.",
        edits: &[("name = \"seams\"", "name = \"seams\u{200e}\"")],
        said: &[Fault("hidden-character")],
    },
    Entry {
        title: "A space with one passage and no other",
        why: "No air moves through it, however large its inlet.",
        edits: &[(
            "name = \"oil cooler\"\nfrom = \"outside\"\nto = \"bay\"\nelement",
            "name = \"oil cooler\"\nfrom = \"outside\"\nto = \"cooler box\"\nelement",
        )],
        said: &[Warning("chamber-dead-end", "passage/oil cooler")],
    },
    Entry {
        title: "A limit in °F, written as °C",
        why: "Every margin is then met.",
        edits: &[("[part.oil]\nlimit = \"122 degC\"", "[part.oil]\nlimit = \"252 degC\"")],
        said: &[Warning("limit-unusual", "part/oil/limit")],
    },
    Entry {
        title: "A carburettor left free in sizing",
        why: "The smallest opening would shut it.",
        edits: &[("free = [\"heads\",", "free = [\"carburettor\", \"heads\",")],
        said: &[Fault("carburettor-unbounded")],
    },
];

const HEAD: &str = "# Entries that look right and are wrong

Each of these reads well, and spoils the answer. What the program says to it was found by running it on `cases/quarry-sprinter.toml` with
that entry; a test keeps this page true. A **fault** refuses the case, a **warning** goes with the result, and a line **as it was read**
stands under that heading of `check`, so that a slip which no program can know is seen.
";

fn edited(entry: &Entry) -> String {
    let mut text = read("cases/quarry-sprinter.toml");
    for (from, to) in entry.edits {
        assert!(text.contains(from), "{}: no {from:?} in the demo case", entry.title);
        text = text.replacen(from, to, 1);
    }
    text
}

/// What is said to an entry, as Markdown.
fn told(entry: &Entry) -> String {
    let text = edited(entry);
    let loaded = case::load(&text, &[]);
    let refused = loaded.and_then(|loaded| Model::new(&loaded.case).map(|model| (loaded.case, model)));
    let mut page = String::new();
    let (case, model) = match refused {
        Ok(sound) => sound,
        Err(faults) => {
            let codes: Vec<&str> = faults.list().iter().map(|fault| fault.code).collect();
            let [Fault(code)] = entry.said else { panic!("{}: refused with {codes:?}", entry.title) };
            assert_eq!(codes, [*code], "{}", entry.title);
            let plain = strip_str(&render(faults.list(), "car.toml", &text)).to_string();
            let _ = write!(page, "\nA fault:\n\n```text\n{}\n```\n", plain.trim_end());
            return page;
        }
    };
    let conditions =
        conditions::check(&case, &model).unwrap_or_else(|error| panic!("{}: {error}", entry.title));
    let mut found = model.warnings.clone();
    found.extend(warnings::of_case(&case, &model));
    found.extend(warnings::of_conditions(&case, &model, &conditions));
    let lines = warnings::echoes(&case, &model, &conditions);
    for said in entry.said {
        match said {
            Fault(code) => panic!("{}: not refused ({code})", entry.title),
            Warning(code, place) => {
                let warning = found.iter().find(|w| w.code == *code && w.place.as_deref() == Some(place));
                let warning = warning.unwrap_or_else(|| panic!("{}: {found:#?}", entry.title));
                let _ = write!(page, "\nA warning, `{code}` at `{place}`:\n\n> {}\n", warning.message);
            }
            Line(start) => {
                let line = lines.iter().find(|line| line.starts_with(start));
                let line = line.unwrap_or_else(|| panic!("{}: {lines:#?}", entry.title));
                let _ = write!(page, "\nAs it was read:\n\n> {line}\n");
            }
        }
    }
    page
}

#[test]
fn every_wrong_entry_is_caught_or_shown() {
    let mut page = HEAD.to_string();
    for entry in ENTRIES {
        let _ = write!(page, "\n## {}\n\n{}\n{}", entry.title, entry.why, told(entry));
    }
    page.push_str(&slips::tables(&read("cases/quarry-sprinter.toml")));
    page.push_str(&run_slips::tables(&read("cases/quarry-sprinter.toml")));
    keep("docs/wrong-entries.md", &page);
}

#[test]
fn the_demo_case_itself_gives_no_cause() {
    let right = Entry { title: "as it is", why: "", edits: &[], said: &[] };
    assert_eq!(told(&right), "");
    let case = case::load(&edited(&right), &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let conditions = conditions::check(&case, &model).unwrap_or_else(|error| panic!("{error}"));
    let mut found = model.warnings.clone();
    found.extend(warnings::of_case(&case, &model));
    found.extend(warnings::of_conditions(&case, &model, &conditions));
    for said in ENTRIES.iter().flat_map(|entry| entry.said) {
        if let Warning(code, _) = said {
            assert!(!found.iter().any(|warning| warning.code == *code), "{code} without cause");
        }
    }
}
