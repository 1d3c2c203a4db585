//! Templates read back: from JSON, SVG, DXF and the printed page.

use super::read_back::{Page, area_by_ezdxf, area_of_path, polylines};
use super::{copy_of_demo, demo, files_in, json, program};
use serde_json::Value;
use slowcorner::outline::{Corner, Outline};
use std::fs;

const LINES: [&str; 4] = ["PILOT", "NEXT", "FINAL", "NEVER BEYOND"];
/// Outlines of every shape, on slopes and curves, with lips and pairs.
const OUTLINES: [(&str, &str); 6] = [
    ("slot", r#"{ shape = "slot", fixed_height = "90 mm" }"#),
    ("ellipse", r#"{ shape = "ellipse", skin_angle = "40 deg", bonded_lip = "2.5 mm" }"#),
    (
        "trapezium",
        r#"{ shape = "trapezium", narrow_side = "60 %", aspect = 2, curvature_radius = "450 mm" }"#,
    ),
    (
        "rectangle",
        r#"{ corner_radius = "15 mm", skin_angle = "55 deg", slopes_along = "width", mirror = true }"#,
    ),
    (
        "slot",
        r#"{ shape = "slot", aspect = 0.6, most_width = "180 mm", most_height = "260 mm", faces = "left" }"#,
    ),
    ("rectangle", r#"{ fixed_width = "240 mm", bulge = "2 mm", bonded_lip = "1.5 mm" }"#),
];

/// What the demo gives with an outline of its left exit, and where its files are.
fn drawn(outline: Option<&str>) -> (tempfile::TempDir, Value) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = demo();
    let mut arguments = vec!["templates", path.to_str().expect("text"), "--json", "--into"];
    let into = folder.path().to_str().expect("text").to_string();
    arguments.push(&into);
    let set = outline.map(|outline| format!("passage/left exit/exit/outline={outline}"));
    if let Some(set) = &set {
        arguments.extend(["--set", set]);
    }
    let (status, result) = json(&arguments);
    assert_eq!(status, 0, "{outline:?}");
    (folder, result["templates"].clone())
}

fn opening<'t>(templates: &'t Value, name: &str) -> &'t Value {
    let all = templates["openings"].as_array().expect("openings");
    all.iter().find(|opening| opening["opening"] == name).expect("the opening")
}

fn lines(opening: &Value) -> &[Value] {
    opening["lines"].as_array().expect("lines")
}

/// A hole as JSON has it, in millimetres.
fn hole(line: &Value) -> Outline {
    let number = |corner: &Value, key: &str| corner[key].as_f64().expect("a number");
    let corners = line["hole"].as_array().expect("corners").iter();
    Outline::new(
        corners
            .map(|corner| Corner {
                x: 1e3 * number(corner, "x_m"),
                y: 1e3 * number(corner, "y_m"),
                bulge: number(corner, "bulge"),
            })
            .collect(),
    )
}

fn near(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * a.abs().max(b.abs())
}

#[test]
fn every_line_lies_within_the_next() {
    for case in ["quarry-sprinter", "causeway-trike", "stubble-buggy", "orchard-cyclecar"] {
        let folder = tempfile::tempdir().expect("a folder");
        let path = demo().with_file_name(format!("{case}.toml"));
        let into = folder.path().to_str().expect("text");
        let (_, result) = json(&["templates", path.to_str().expect("text"), "--json", "--into", into]);
        let openings = result["templates"]["openings"].as_array().expect("openings");
        assert!(!openings.is_empty(), "{case}");
        for opening in openings {
            let lines = lines(opening);
            let names: Vec<&str> = lines.iter().filter_map(|line| line["line"].as_str()).collect();
            assert_eq!(names, LINES, "{case} {}", opening["opening"]);
            for pair in lines.windows(2) {
                assert!(hole(&pair[1]).holds(&hole(&pair[0])), "{case} {}", opening["opening"]);
                assert!(pair[1]["area_m2"].as_f64() >= pair[0]["area_m2"].as_f64());
            }
            for line in lines {
                let (found, area) =
                    (line["found_m2"].as_f64().expect("m²"), line["area_m2"].as_f64().expect("m²"));
                // only where a diffuser or a bend would not fit any more is the last line drawn in
                let walled = line["line"] == "NEVER BEYOND" && area >= 0.99 * found;
                assert!(area >= found * (1.0 - 1e-9) || walled, "{case}: rounded down");
                // a millimetre more each way is all that rounding may add
                let (width, height) =
                    (line["width_m"].as_f64().expect("m"), line["height_m"].as_f64().expect("m"));
                assert!(area - found <= 1.1e-3 * (width + height), "{case}: {found} became {area}");
            }
        }
    }
}

/// The area of the air reckoned from the hole by a hand of its own: slope, curve and lip.
#[test]
fn areas_come_back_from_every_shape() {
    for (shape, outline) in OUTLINES {
        let (_folder, templates) = drawn(Some(outline));
        let exit = opening(&templates, "left exit");
        assert_eq!(exit["shape"], shape);
        let angle = exit["skin_angle_deg"].as_f64().expect("degrees").to_radians();
        let lip = 1e3 * exit["bonded_lip_m"].as_f64().expect("m");
        let radius = exit["curvature_radius_m"].as_f64().map(|radius| 1e3 * radius);
        for line in lines(exit) {
            let hole = hole(line);
            let air = hole.grown(-lip);
            // strips across, each seen by the cosine of where it lies round the skin
            let bounds = air.bounds();
            let points = air.points(2e-3);
            let strips = 4000;
            let step = bounds.width() / f64::from(strips);
            let area: f64 = (0..strips)
                .map(|strip| {
                    let x = bounds.left + (f64::from(strip) + 0.5) * step;
                    let seen = radius.map_or(1.0, |radius| (x / radius).cos());
                    height_at(&points, x) * step * seen
                })
                .sum();
            let area = 1e-6 * area * angle.sin();
            let told = line["sheet_m2"].as_f64().expect("m²");
            assert!(near(area, told, 1e-3), "{outline} {}: {area} against {told}", line["line"]);
            assert!(near(told, line["area_m2"].as_f64().expect("m²"), 1e-6));
            assert!(near(1e-6 * hole.area(), line["hole_m2"].as_f64().expect("m²"), 1e-6));
        }
    }
}

fn height_at(points: &[(f64, f64)], x: f64) -> f64 {
    let next = points.iter().cycle().skip(1);
    let crossed = points.iter().zip(next).filter(|(a, b)| (a.0 > x) != (b.0 > x));
    let heights: Vec<f64> = crossed.map(|(a, b)| a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1)).collect();
    match heights[..] {
        [a, b] => (a - b).abs(),
        _ => 0.0,
    }
}

#[test]
fn a_cut_ends_at_its_flange() {
    let (_folder, templates) =
        drawn(Some(r#"{ most_width = "240 mm", most_height = "190 mm", land = "15 mm" }"#));
    let exit = opening(&templates, "left exit");
    let last = lines(exit).last().expect("lines");
    assert_eq!(last["ends_at"], "flange");
    assert_eq!((last["width_m"].as_f64(), last["height_m"].as_f64()), (Some(0.21), Some(0.16)));
}

#[test]
fn a_dxf_holds_the_same_outlines() {
    for (_, outline) in OUTLINES {
        let (folder, templates) = drawn(Some(outline));
        let exit = opening(&templates, "left exit");
        let hands: Vec<&str> =
            exit["hands"].as_array().expect("hands").iter().filter_map(Value::as_str).collect();
        let mut by_hand = Vec::new();
        for hand in &hands {
            let dash = if hand.is_empty() { "" } else { "-" };
            let path = folder.path().join(format!("quarry-sprinter-left-exit{dash}{hand}.dxf"));
            let text = fs::read_to_string(&path).expect("a DXF");
            assert!(text.contains("AC1009") && !text.contains("SPLINE"), "{outline}");
            assert!(text.contains("$INSUNITS\r\n 70\r\n4\r\n"), "millimetres");
            let polylines = polylines(&text);
            let of = |name: &str| -> Vec<Outline> {
                let own = polylines.iter().filter(|(layer, _)| layer == name);
                own.map(|(_, corners)| Outline::new(corners.clone())).collect()
            };
            for line in lines(exit) {
                let layer =
                    line["line"].as_str().expect("a name").split(' ').next().expect("a word").to_string();
                let read = of(&layer);
                assert_eq!(read.len(), 1, "{outline}: one outline on {layer}");
                assert!(
                    near(1e-6 * read[0].area(), line["hole_m2"].as_f64().expect("m²"), 1e-5),
                    "{outline}"
                );
            }
            let square = of("SCALE");
            assert_eq!(square.len(), 1);
            assert_eq!((square[0].bounds().width(), square[0].bounds().height()), (100.0, 100.0));
            if let Some(area) = area_by_ezdxf(&path, "FINAL") {
                let told = lines(exit).iter().find(|line| line["line"] == "FINAL").expect("a line");
                assert!(near(1e-6 * area, told["hole_m2"].as_f64().expect("m²"), 1e-4), "{outline}: {area}");
            }
            by_hand.push(of("FINAL").remove(0));
        }
        if let [left, right] = &by_hand[..] {
            assert!(left.holds(&right.mirrored()) && right.mirrored().holds(left), "{outline}");
        }
    }
}

#[test]
fn an_svg_is_full_size() {
    for (_, outline) in OUTLINES {
        let (folder, templates) = drawn(Some(outline));
        let exit = opening(&templates, "left exit");
        let hand = exit["hands"][0].as_str().expect("a hand");
        let dash = if hand.is_empty() { "" } else { "-" };
        let text =
            fs::read_to_string(folder.path().join(format!("quarry-sprinter-left-exit{dash}{hand}.svg")));
        let text = text.expect("an SVG");
        let document = roxmltree::Document::parse(&text).expect("XML");
        let root = document.root_element();
        let view: Vec<f64> =
            root.attribute("viewBox").expect("a box").split(' ').filter_map(|n| n.parse().ok()).collect();
        for (side, length) in [("width", view[2]), ("height", view[3])] {
            let written = root.attribute(side).expect("a side").strip_suffix("mm").expect("millimetres");
            assert_eq!(written.parse::<f64>().ok(), Some(length), "one unit of the picture is a millimetre");
        }
        let path = |group: &str| {
            let group = root.children().find(|node| node.attribute("id") == Some(group)).expect("a group");
            group
                .children()
                .find(|node| node.has_tag_name("path"))
                .and_then(|node| node.attribute("d"))
                .expect("a path")
        };
        for line in lines(exit) {
            let name = line["line"].as_str().expect("a name").split(' ').next().expect("a word");
            let area = 1e-6 * area_of_path(path(name));
            assert!(near(area, line["hole_m2"].as_f64().expect("m²"), 1e-4), "{outline} {name}: {area}");
        }
        assert!(near(area_of_path(path("SCALE")), 1e4, 1e-9));
    }
}

/// A single line as drawn, so that nothing else lies inside it.
#[test]
fn a_printed_page_measures_what_it_says() {
    let shapes =
        [r#"{ }"#, r#"{ shape = "slot" }"#, r#"{ shape = "ellipse" }"#, r#"{ shape = "trapezium" }"#];
    for outline in shapes {
        let (folder, path) = copy_of_demo(|text| {
            let (before, after) = text.split_once("[size]").expect("a table");
            format!(
                "{before}{}",
                after.split_once("\n[[").map_or(String::new(), |(_, rest)| format!("[[{rest}"))
            )
        });
        let into = folder.path().join("out");
        let arguments = ["--into", into.to_str().expect("text"), "--json"];
        let set = format!("passage/left exit/exit/outline={outline}");
        let path = path.to_str().expect("text");
        let (status, result) = json(&[&["templates", path], &arguments[..], &["--set", &set]].concat());
        assert_eq!(status, 0);
        let openings = result["templates"]["openings"].as_array().expect("openings");
        let number =
            1 + openings.iter().position(|opening| opening["opening"] == "left exit").expect("the exit");
        let line = &lines(&openings[number - 1])[0];
        assert_eq!(line["line"], "FINAL");
        let Some(page) = Page::of(&into.join("car-templates.pdf"), number) else { return };
        assert!((2100..=2101).contains(&page.width) && (2970..=2971).contains(&page.height));
        // the window's middle is the drawing's: the datum lies a little below it, the leader above
        let hole = hole(line);
        let (left, bottom, width, height) = (170.0, 390.0, 1850.0, 2120.0);
        let bounds = hole.bounds();
        let top = bounds.top + 4.0 + 2.8 + 1.0;
        let x = left + 0.5 * width - 5.0 * (bounds.left + bounds.right);
        let y = 2970.0 - (bottom + 0.5 * height - 5.0 * (top + bounds.bottom - 6.0));
        let inside = page.inside(x as usize - 60, y as usize + 60) as f64 / 100.0;
        // half of the line's 0.5 mm lies inside the outline
        let expected = hole.grown(-0.25).area();
        assert!(near(inside, expected, 0.005), "{outline}: {inside} mm² against {expected}");
        // the bars: from the first tick to the last, below and beside the lines
        let (bar_x, bar_y) = (120_usize, 2970 - 340_usize);
        let along: Vec<usize> = (80..1300).filter(|x| page.is_black(*x, bar_y + 22)).collect();
        let up: Vec<usize> = (bar_y - 1100..bar_y + 60).filter(|y| page.is_black(bar_x - 22, *y)).collect();
        for (name, ticks) in [("level", along), ("upright", up)] {
            let split = ticks.iter().position(|at| at - ticks[0] > 100).expect("two ticks");
            let middle = |part: &[usize]| part.iter().sum::<usize>() as f64 / part.len() as f64;
            let long = (middle(&ticks[split..]) - middle(&ticks[..split])) / 10.0;
            assert!((long - 100.0).abs() <= 0.1, "the {name} bar measures {long} mm");
        }
    }
}

#[test]
fn a_pair_has_a_sheet_for_each_hand_and_a_large_opening_several() {
    let (folder, _) = drawn(Some(r#"{ mirror = true }"#));
    let names = files_in(folder.path());
    for hand in ["left", "right"] {
        for ending in ["svg", "dxf"] {
            let name = format!("quarry-sprinter-left-exit-{hand}.{ending}");
            assert!(names.contains(&name), "{names:?}");
        }
    }
    let bytes = fs::read(folder.path().join("quarry-sprinter-templates.pdf")).expect("a PDF");
    let text = String::from_utf8_lossy(&bytes);
    assert!(text.contains("/PrintScaling /None"), "a printer must not fit pages to its paper");
    let pages = |text: &str| text.matches("/Type /Page\n").count();
    let on_a4 = pages(&text);
    let into = folder.path().join("a3");
    let output = program().arg("templates").arg(demo()).args(["--paper", "a3", "--into"]).arg(&into).output();
    assert_eq!(output.expect("runs").status.code(), Some(0));
    let bytes = fs::read(into.join("quarry-sprinter-templates.pdf")).expect("a PDF");
    let on_a3 = pages(&String::from_utf8_lossy(&bytes));
    assert_eq!(on_a3, 4, "on A3 each opening has one sheet");
    assert!(on_a4 > 5, "on A4 the tail exits need several: {on_a4}");
}

#[test]
fn a_skin_that_bulges_too_far_is_refused_and_nothing_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("out");
    let set = r#"passage/left exit/exit/outline={ bulge = "9 mm" }"#;
    let output = program()
        .arg("templates")
        .arg(demo())
        .args(["--set", set, "--into"])
        .arg(&into)
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("template-curved") && said.contains("curvature_radius"), "{said}");
    assert!(!into.exists());
}

#[test]
fn moulds_keep_lip_and_land_and_ducts_are_laid_flat() {
    let folder = tempfile::tempdir().expect("a folder");
    let (path, into) = (demo(), folder.path().to_str().expect("text").to_string());
    let (_, result) = json(&["templates", path.to_str().expect("text"), "--json", "--into", &into]);
    let number = |value: &Value| value.as_f64().expect("a number");
    let (behind, templates) = (&result["behind"], &result["templates"]);
    for mould in behind["moulds"].as_array().expect("moulds") {
        let opening = opening(templates, mould["opening"].as_str().expect("a name"));
        let last = lines(opening).last().expect("a line");
        assert_eq!(mould["line"], "NEVER BEYOND");
        let all_round = number(&mould["lip_radius_m"]) + number(&opening["land_m"]);
        for side in ["width", "height"] {
            let kept = number(&mould[format!("keep_{side}_m")]);
            let hole = number(&last[format!("hole_{side}_m")]);
            assert!((kept - hole - 2.0 * all_round).abs() < 1e-9, "{mould}");
        }
    }
    let ducts = behind["ducts"].as_array().expect("ducts");
    let piece = |passage: &str| ducts.iter().find(|piece| piece["passage"] == passage).expect("a piece");
    // the case's own words: 260 mm, from the inlet to the core's 290 cm²
    let cooler = piece("oil cooler");
    assert_eq!(cooler["kind"], "diffuser");
    assert!(near(number(&cooler["length_m"]), 0.26, 1e-9));
    assert!(near(number(&cooler["to"]["width_m"]) * number(&cooler["to"]["height_m"]), 290e-4, 1e-6));
    // 58 mm of hose: the next that is sold is 63 mm
    assert!(near(number(&piece("carburettor")["hose_m"]), 0.063, 1e-9));
    // the blank on the file is as large as the schedule has it
    let path = folder.path().join("quarry-sprinter-blank-oil-cooler-diffuser.dxf");
    let dxf = fs::read_to_string(&path).expect("a blank");
    if let Some(area) = area_by_ezdxf(&path, "FINAL") {
        assert!(near(1e-6 * area, number(&cooler["sheet_m2"]), 1e-6), "{area}");
    }
    let outlines = polylines(&dxf);
    let (_, corners) = outlines.iter().find(|(layer, _)| layer == "FINAL").expect("an outline");
    let area = Outline::new(corners.clone()).area();
    assert!(corners.len() == 10 && near(1e-6 * area, number(&cooler["sheet_m2"]), 1e-6), "{corners:?}");
}

/// A diffuser ends as the case draws the core behind it; where the core is of another area, or only its area is given, as the opening
/// is drawn.
#[test]
fn a_duct_ends_as_the_core_behind_it_is_drawn() {
    let ends = |core: &str| {
        let (folder, path) = copy_of_demo(|text| text.replace("area = \"290 cm2\"", core));
        let into = folder.path().to_str().expect("text");
        let (_, result) = json(&["templates", path.to_str().expect("text"), "--json", "--into", into]);
        let ducts = result["behind"]["ducts"].as_array().expect("ducts").clone();
        let duct = ducts.iter().find(|duct| duct["passage"] == "oil cooler").expect("a diffuser").clone();
        let side = |key: &str| duct["to"][key].as_f64().map(|m| (1e3 * m).round()).expect("a side");
        (duct["to"]["shape"].as_str().expect("a shape").to_string(), side("width_m"), side("height_m"))
    };
    assert_eq!(ends("width = \"145 mm\", height = \"200 mm\""), ("rectangle".to_string(), 145.0, 200.0));
    let (_, width, height) = ends("area = \"290 cm2\"");
    assert!(width >= height, "{width} × {height}");
}
