//! The finished files: well-formed, self-contained, the same every time.

use super::samples::{Made, curve, margins, odd_bands, odd_lines};
use crate::output::charts::{BandChart, ChartBand, ChartError, LineChart, Picture, font_face_css};

/// Reads the XML with an outside parser.
fn well_formed(svg: &str) -> roxmltree::Document<'_> {
    match roxmltree::Document::parse(svg) {
        Ok(document) => document,
        Err(error) => panic!("{error}\n{svg}"),
    }
}

#[test]
fn svg_is_named_described_and_sized() {
    let svg = margins(6).svg().expect("a picture");
    let document = well_formed(&svg);
    let root = document.root_element();
    assert_eq!(root.attribute("role"), Some("img"));
    assert_eq!(root.attribute("aria-label"), Some("Margin against speed"));
    assert_eq!((root.attribute("width"), root.attribute("height")), (Some("900"), Some("540")));
    assert_eq!(root.attribute("viewBox"), Some("0 0 9000 5400"));
    let child =
        |name: &str| root.children().find(|node| node.has_tag_name(name)).and_then(|node| node.text());
    assert_eq!(child("title"), Some("Margin against speed"));
    let description = child("desc").expect("a description");
    for words in
        ["Road speed (km/h), from 0 to 200", "Part 5: from", "Limit at 0: limit", "lowest, 11 K at 95 km/h"]
    {
        assert!(description.contains(words), "{words} in {description}");
    }
}

#[test]
fn names_are_escaped_and_stay_text() {
    let mut chart = margins(1);
    chart.title = "Heads & barrels <both> \"hot\"".to_owned();
    chart.panels[0].curves.push(curve("a<b & 'c'", vec![(0.0, Some(1.0)), (200.0, Some(2.0))]));
    let svg = chart.svg().expect("a picture");
    let document = well_formed(&svg);
    let texts: Vec<&str> = document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| node.text())
        .map(str::trim)
        .collect();
    assert!(texts.contains(&"a<b & 'c'") && texts.contains(&"Heads & barrels <both> \"hot\""));
}

#[test]
fn the_font_is_inside_once_or_not_at_all() {
    let chart = margins(2);
    let (with, without) = (chart.svg().expect("a picture"), chart.svg_without_font().expect("a picture"));
    assert_eq!(with.matches("@font-face").count(), 2);
    assert_eq!(without.matches("@font-face").count(), 0);
    assert!(with.contains(&font_face_css()));
    assert_eq!(with.replace(&format!("<style>{}</style>\n", font_face_css()), ""), without);
    // Nothing is fetched from anywhere: the one address is the name of the format.
    assert_eq!(without.matches("http").count(), 1);
    assert!(!without.contains("href"));
}

/// Signature and first chunk: W3C, Portable Network Graphics, 5.2 and 11.2.2.
#[test]
fn png_has_its_signature_and_twice_the_size() {
    let bytes = margins(6).png().expect("a picture");
    assert_eq!(bytes[..8], [137, 80, 78, 71, 13, 10, 26, 10]);
    assert_eq!(bytes[12..16], *b"IHDR");
    let whole = |at: usize| u32::from_be_bytes([bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]]);
    assert_eq!((whole(16), whole(20)), (1800, 1080));
}

/// Decoded again, the picture is white at its edge, and holds the ink of words and curves.
#[test]
fn png_shows_what_was_drawn() {
    let bytes = margins(2).png().expect("a picture");
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().expect("a PNG");
    let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
    reader.next_frame(&mut pixels).expect("a frame");
    let at = |x: usize, y: usize| &pixels[(y * 1800 + x) * 3..][..3];
    assert!((0..1080).all(|y| at(0, y) == [255; 3] && at(1799, y) == [255; 3]));
    let count = |colour: [u8; 3]| pixels.chunks_exact(3).filter(|pixel| *pixel == colour).count();
    assert!(count([0, 42, 68]) > 1000, "the first curve");
    assert!(count([30, 33, 38]) > 1000, "title and limit");
}

#[test]
fn the_same_chart_gives_the_same_bytes() {
    let chart = margins(6);
    assert_eq!(chart.svg().expect("a picture"), chart.clone().svg().expect("a picture"));
    assert_eq!(chart.png().expect("a picture"), chart.clone().png().expect("a picture"));
}

#[test]
fn dashed_curves_stay_one_line() {
    let svg = margins(2).svg_without_font().expect("a picture");
    let document = well_formed(&svg);
    let long = document.descendants().filter(|node| {
        let points = node.attribute("points").map_or(0, |points| points.split_whitespace().count());
        node.has_tag_name("polyline") && points > 100
    });
    let dashes: Vec<Option<&str>> =
        long.map(|node| node.parent().and_then(|parent| parent.attribute("stroke-dasharray"))).collect();
    assert_eq!(dashes, vec![None, Some("70 35")]);
}

#[test]
fn too_large_a_picture_is_refused() {
    let chart = LineChart { size: Some((1e9, 1e9)), ..LineChart::default() };
    assert!(matches!(chart.png(), Err(ChartError::TooLarge { .. })));
}

#[test]
fn odd_data_gives_good_files() {
    let mut made = Made(0xf11e5);
    let refused = |error: &ChartError| matches!(error, ChartError::TooLarge { .. });
    for round in 0..120 {
        let (lines, bands) = (odd_lines(&mut made), odd_bands(&mut made));
        for svg in [lines.svg_without_font(), bands.svg_without_font()] {
            match svg {
                Ok(svg) => drop(well_formed(&svg)),
                Err(error) => assert!(refused(&error), "{error}"),
            }
        }
        if round % 12 == 0 {
            for png in [lines.png(), bands.png()] {
                assert!(
                    png.as_ref().is_ok_and(|bytes| bytes.len() > 100)
                        || png.is_err_and(|error| refused(&error))
                );
            }
        }
    }
}

#[test]
fn a_single_place_shows_as_a_sliver() {
    let chart = BandChart {
        gives: vec![ChartBand { name: "ram".to_owned(), points: vec![(60.0, Some(5.0))] }],
        ..BandChart::default()
    };
    assert!(chart.svg().expect("a picture").contains("<polygon"));
    assert!(chart.png().is_ok());
}
