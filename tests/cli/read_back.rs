//! What sheets hold, read back: outlines of a DXF, paths of an SVG, pages of a PDF as pictures.

use slowcorner::outline::{Corner, Outline};
use std::f64::consts::PI;
use std::path::Path;
use std::process::Command;

/// Closed outlines of a DXF by layer: corners with bulges.
pub(super) fn polylines(text: &str) -> Vec<(String, Vec<Corner>)> {
    let rows: Vec<&str> = text.lines().map(str::trim).collect();
    let mut found: Vec<(String, Vec<Corner>)> = Vec::new();
    let mut entity = "";
    let mut closed = false;
    let mut layer = String::new();
    let mut corners: Vec<Corner> = Vec::new();
    for pair in rows.chunks_exact(2) {
        let (code, value) = (pair[0], pair[1]);
        let number = || value.parse::<f64>().expect("a number");
        match (code, entity) {
            ("0", _) => {
                if value == "SEQEND" && closed {
                    found.push((layer.clone(), std::mem::take(&mut corners)));
                }
                if value == "POLYLINE" {
                    (closed, corners) = (false, Vec::new());
                }
                if value == "VERTEX" {
                    corners.push(Corner { x: 0.0, y: 0.0, bulge: 0.0 });
                }
                entity = value;
            }
            ("8", "POLYLINE") => layer = value.to_string(),
            ("70", "POLYLINE") => closed = value == "1",
            ("10", "VERTEX") => corners.last_mut().expect("a corner").x = number(),
            ("20", "VERTEX") => corners.last_mut().expect("a corner").y = number(),
            ("42", "VERTEX") => corners.last_mut().expect("a corner").bulge = number(),
            _ => {}
        }
    }
    found
}

/// Set where other programs must be there to read sheets back, as on the machine that every change has to pass.
const DEMANDED: &str = "SLOWCORNER_READERS";

/// The area that another library finds inside the closed polyline of a layer; none where it is not there.
pub(super) fn area_by_ezdxf(path: &Path, layer: &str) -> Option<f64> {
    // its own arcs, not the curves that it makes of them elsewhere
    let script = "import sys, ezdxf\nd = ezdxf.readfile(sys.argv[1])\n\
        assert d.dxfversion == 'AC1009'\n\
        found = [e for e in d.modelspace() if e.dxftype() == 'POLYLINE' and e.dxf.layer == sys.argv[2]]\n\
        assert len(found) == 1 and found[0].is_closed\n\
        p = []\n\
        for e in found[0].virtual_entities():\n\
        \x20   q = list(e.flattening(0.0002)) if e.dxftype() == 'ARC' else [e.dxf.start, e.dxf.end]\n\
        \x20   p += [(v.x, v.y) for v in q]\n\
        print(abs(sum(a[0]*b[1]-b[0]*a[1] for a, b in zip(p, p[1:] + p[:1])))/2)";
    let has_it = |python: &&str| {
        let tried = Command::new(python).args(["-c", "import ezdxf"]).output();
        tried.is_ok_and(|output| output.status.success())
    };
    let Some(python) = ["python3", "/usr/bin/python3"].into_iter().find(has_it) else {
        assert!(std::env::var_os(DEMANDED).is_none(), "{DEMANDED} is set, and Python has no ezdxf");
        eprintln!("skipped: Python's ezdxf is not here to read {} back", path.display());
        return None;
    };
    let output = Command::new(python).args(["-c", script]).arg(path).arg(layer).output().expect("runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).trim().parse().ok()
}

/// Area inside a path of moves, lines and arcs.
pub(super) fn area_of_path(d: &str) -> f64 {
    let spaced: String =
        d.chars().flat_map(|c| if c.is_alphabetic() { vec![' ', c, ' '] } else { vec![c] }).collect();
    let mut words = spaced.split_whitespace();
    let mut corners: Vec<Corner> = Vec::new();
    let number = |words: &mut std::str::SplitWhitespace| {
        words.next().and_then(|word| word.parse::<f64>().ok()).expect("a number")
    };
    while let Some(word) = words.next() {
        match word {
            "M" | "L" => {
                let (x, y) = (number(&mut words), number(&mut words));
                corners.push(Corner { x, y: -y, bulge: 0.0 });
            }
            "A" => {
                let (radius, _, _) = (number(&mut words), number(&mut words), number(&mut words));
                let (large, sweep) = (number(&mut words), number(&mut words));
                let (x, y) = (number(&mut words), -number(&mut words));
                let from = corners.last_mut().expect("a point");
                let chord = (x - from.x).hypot(y - from.y);
                let half = (chord / (2.0 * radius)).min(1.0).asin();
                let turn = if large == 1.0 { 2.0 * PI - 2.0 * half } else { 2.0 * half };
                from.bulge = (0.25 * turn).tan() * if sweep == 0.0 { 1.0 } else { -1.0 };
                corners.push(Corner { x, y, bulge: 0.0 });
            }
            _ => {}
        }
    }
    // the last point is the first again
    let (first, last) = (corners[0], corners[corners.len() - 1]);
    if (first.x - last.x).hypot(first.y - last.y) < 1e-3 {
        corners.pop();
    }
    Outline::new(corners).area()
}

/// A page of grey pixels.
pub(super) struct Page {
    pub(super) width: usize,
    pub(super) height: usize,
    grey: Vec<u8>,
}

impl Page {
    /// Ten pixels to a millimetre; none where the tool is not there.
    pub(super) fn of(pdf: &Path, number: usize) -> Option<Page> {
        if Command::new("pdftoppm").arg("-v").output().is_err() {
            assert!(std::env::var_os(DEMANDED).is_none(), "{DEMANDED} is set, and there is no pdftoppm");
            eprintln!("skipped: pdftoppm is not here to look at {}", pdf.display());
            return None;
        }
        let number = number.to_string();
        let output = Command::new("pdftoppm")
            .args(["-r", "254", "-gray", "-f", &number, "-l", &number])
            .arg(pdf)
            .output();
        let bytes = output.expect("runs").stdout;
        let mut at = 0;
        let mut word = || {
            let start = at + bytes[at..].iter().position(|byte| !byte.is_ascii_whitespace()).expect("a word");
            at = start + bytes[start..].iter().position(u8::is_ascii_whitespace).expect("its end");
            String::from_utf8_lossy(&bytes[start..at]).into_owned()
        };
        assert_eq!(word(), "P5");
        let (width, height): (usize, usize) =
            (word().parse().expect("a width"), word().parse().expect("a height"));
        assert_eq!(word(), "255");
        let start = bytes.len() - width * height;
        Some(Page { width, height, grey: bytes[start..].to_vec() })
    }

    pub(super) fn is_black(&self, x: usize, y: usize) -> bool {
        self.grey[y * self.width + x] < 128
    }

    /// Pixels inside a closed line about a point, row by row from its first to its last.
    pub(super) fn inside(&self, x: usize, y: usize) -> usize {
        let mut seen = vec![false; self.grey.len()];
        let mut todo = vec![(x, y)];
        let mut ends = vec![None::<(usize, usize)>; self.height];
        while let Some((x, y)) = todo.pop() {
            let index = y * self.width + x;
            if seen[index] || self.is_black(x, y) {
                continue;
            }
            seen[index] = true;
            let row = ends[y].get_or_insert((x, x));
            *row = (row.0.min(x), row.1.max(x));
            assert!(x > 0 && y > 0 && x + 1 < self.width && y + 1 < self.height, "the outline leaks");
            todo.extend([(x - 1, y), (x + 1, y), (x, y - 1), (x, y + 1)]);
        }
        let first = ends.iter().position(Option::is_some).expect("an inside");
        let last = ends.iter().rposition(Option::is_some).expect("an inside");
        let mut count = 0;
        let mut row = (0, 0);
        for end in &ends[first..=last] {
            // the centre line fills a row or two: as wide as the one before
            row = end.unwrap_or(row);
            count += row.1 - row.0 + 1;
        }
        count
    }
}
