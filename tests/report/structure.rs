//! Structure: what W3C's HTML and its accessibility guidelines (WCAG 2.1: 1.1.1, 1.3.1, 1.4.3, 2.4.1, 3.1.1) ask of any page.

use super::{DEMOS, demo, parse, report_of};

fn pages() -> Vec<(String, String)> {
    DEMOS.iter().map(|name| ((*name).to_string(), report_of(&demo(name), &[]))).collect()
}

#[test]
fn a_page_is_whole_small_and_fetches_nothing() {
    for (name, page) in pages() {
        assert!(page.starts_with("<!DOCTYPE html>\n"), "{name}");
        assert!(page.len() < 1_000_000, "{name} has {} bytes", page.len());
        let document = parse(&page);
        assert_eq!(document.root_element().attribute("lang"), Some("en"));
        for node in document.descendants().filter(|node| node.is_element()) {
            let tag = node.tag_name().name();
            assert!(
                !["script", "link", "iframe", "img", "object", "embed"].contains(&tag),
                "{name} has <{tag}>"
            );
            for attribute in node.attributes() {
                assert!(!attribute.name().starts_with("on"), "{name}: {}", attribute.name());
                assert!(attribute.name() != "src", "{name}: something is fetched");
                if attribute.name() == "href" {
                    assert!(attribute.value().starts_with('#'), "{name}: {}", attribute.value());
                }
            }
        }
        // the only addresses are the names of the two formats
        let names = page.matches("\"http://www.w3.org/1999/xhtml\"").count()
            + page.matches("\"http://www.w3.org/2000/svg\"").count();
        assert_eq!(page.matches("http").count(), names, "{name}");
        assert_eq!(page.matches("@font-face").count(), 2, "{name}: one font in two weights, embedded once");
        assert!(!page.contains("@import") && page.matches("url(").count() == 2, "{name}");
    }
}

#[test]
fn headings_step_down_one_at_a_time() {
    for (name, page) in pages() {
        let document = parse(&page);
        let levels: Vec<u32> = document
            .descendants()
            .filter_map(|node| node.tag_name().name().strip_prefix('h')?.parse().ok())
            .collect();
        assert_eq!(levels.first(), Some(&1), "{name}");
        assert_eq!(levels.iter().filter(|level| **level == 1).count(), 1, "{name}");
        for pair in levels.windows(2) {
            assert!(pair[1] <= pair[0] + 1, "{name}: h{} after h{}", pair[1], pair[0]);
        }
    }
}

#[test]
fn tables_are_real_ones_with_captions_and_heads_for_rows_and_columns() {
    for (name, page) in pages() {
        let document = parse(&page);
        let tables: Vec<_> = document
            .descendants()
            .filter(|node| node.has_tag_name(("http://www.w3.org/1999/xhtml", "table")))
            .collect();
        assert!(tables.len() > 10, "{name} has {} tables", tables.len());
        for table in tables {
            let has = |tag: &str| table.children().find(|node| node.tag_name().name() == tag);
            let caption = has("caption").map(super::text_of).expect("a caption");
            assert!(!caption.is_empty());
            let columns = has("thead").expect("a head").descendants().filter(|n| n.tag_name().name() == "th");
            let columns: Vec<_> = columns.collect();
            for head in &columns {
                assert_eq!(head.attribute("scope"), Some("col"), "{name}: {caption}");
                assert!(!super::text_of(*head).is_empty(), "{name}: {caption} has a head without words");
            }
            for row in has("tbody").expect("a body").children().filter(|n| n.is_element()) {
                let cells: Vec<_> = row.children().filter(|n| n.is_element()).collect();
                assert_eq!(cells.len(), columns.len(), "{name}: {caption}");
                assert_eq!(cells[0].attribute("scope"), Some("row"), "{name}: {caption}");
            }
        }
    }
}

#[test]
fn pictures_have_words_and_blanks_have_names() {
    for (name, page) in pages() {
        let document = parse(&page);
        let pictures: Vec<_> =
            document.descendants().filter(|node| node.tag_name().name() == "svg").collect();
        assert!(pictures.len() >= 6, "{name} has {} pictures", pictures.len());
        for picture in pictures {
            assert_eq!(picture.attribute("role"), Some("img"));
            let child =
                |tag: &str| picture.children().find(|node| node.tag_name().name() == tag).map(super::text_of);
            assert_eq!(child("title").as_deref(), picture.attribute("aria-label"), "{name}");
            assert!(child("desc").is_some_and(|text| text.len() > 60), "{name}");
            let figure = picture.parent().expect("a figure");
            assert!(figure.children().any(|node| node.tag_name().name() == "figcaption"), "{name}");
        }
        for blank in document.descendants().filter(|node| node.attribute("class") == Some("blank")) {
            let label = blank.attribute("aria-label").unwrap_or_default();
            assert!(label.starts_with("to be filled in: ") && label.len() > 18, "{name}: {label:?}");
        }
    }
}

#[test]
fn anchors_are_unique_and_lead_somewhere() {
    for (name, page) in pages() {
        let document = parse(&page);
        let ids: Vec<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
        let mut once = ids.clone();
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), ids.len(), "{name}: {ids:?}");
        let refers = |attribute: &str| -> Vec<String> {
            document
                .descendants()
                .filter_map(|node| node.attribute(attribute))
                .map(|value| value.trim_start_matches('#').to_string())
                .collect()
        };
        for target in refers("href").into_iter().chain(refers("aria-labelledby")) {
            assert!(ids.contains(&target.as_str()), "{name}: nothing is called {target}");
        }
    }
}

/// Contrast of two sRGB colours after W3C, WCAG 2.1, "relative luminance" and "contrast ratio".
fn contrast(a: &str, b: &str) -> f64 {
    let luminance = |colour: &str| {
        let part = |at: usize| {
            let byte = u8::from_str_radix(&colour[at..at + 2], 16).expect("a hexadecimal colour");
            let share = f64::from(byte) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn every_colour_of_type_stands_out_on_paper() {
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    let style = include_str!("../../src/output/report/style.css");
    let variable = |name: &str| {
        let rest = style.split(&format!("--{name}: ")).nth(1).expect("that colour");
        rest[..7].to_string()
    };
    for name in ["ink", "quiet"] {
        let found = contrast(&variable(name), "#ffffff");
        assert!(found >= 4.5, "{name}: {found}");
    }
    for rule in style.split("color: ").skip(1) {
        let colour = rule.split([';', ' ']).next().unwrap_or_default();
        let known = ["var(--ink)", "var(--quiet)", "#b9bbbf", "light"];
        assert!(known.contains(&colour), "a colour that this test does not look at: {colour}");
    }
}
