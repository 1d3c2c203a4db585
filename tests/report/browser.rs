//! The report in a real browser: Debian's chromium, without a window and without a network.

use super::{DEMOS, demo, report_of, short_report_of};
use std::io::Write;
use std::path::Path;
use std::process::Command;

/// Set where a browser must be there, as on the machine that every change has to pass.
const DEMANDED: &str = "SLOWCORNER_BROWSER";

/// Whether there is a browser to look with. Without one these tests look at nothing, and a line says so: whoever has nothing but
/// Rust can still run all others.
fn is_there(test: &str) -> bool {
    if Command::new("chromium").arg("--version").output().is_ok_and(|output| output.status.success()) {
        return true;
    }
    assert!(std::env::var_os(DEMANDED).is_none(), "{DEMANDED} is set, and there is no chromium");
    // past the test's own capture of what is printed
    let line = format!("{test}: ignored, no chromium here (apt-get install chromium)\n");
    std::io::stderr().write_all(line.as_bytes()).expect("a line");
    false
}

/// Runs the browser on a page; its standard output.
fn browser(page: &str, arguments: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("page.html");
    std::fs::write(&path, page).expect("written");
    let profile = folder.path().join("profile");
    let output = Command::new("chromium")
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--hide-scrollbars"])
        .args(["--disable-background-networking", "--disable-component-update", "--disable-sync"])
        .arg(format!("--user-data-dir={}", profile.display()))
        .args(arguments)
        .arg(format!("file://{}", path.display()))
        .output();
    match output {
        Ok(output) => {
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert!(output.status.success(), "chromium gave up: {said}");
            String::from_utf8_lossy(&output.stdout).into_owned()
        }
        Err(error) => panic!("cannot start chromium: {error}"),
    }
}

/// A copy of the page with a script at its end. The page itself has none.
fn with_script(page: &str, script: &str) -> String {
    let copy = page.replace("</body>", &format!("<script>{script}</script></body>"));
    assert_ne!(copy, page);
    copy
}

fn pdf(page: &str) -> Vec<u8> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("paper.pdf");
    browser(page, &["--no-pdf-header-footer", &format!("--print-to-pdf={}", path.display())]);
    std::fs::read(&path).expect("a PDF")
}

/// Pages of a PDF: objects of type Page (ISO 32000-1, 7.7.3.3), not of type Pages.
fn pages(pdf: &[u8]) -> usize {
    assert!(pdf.starts_with(b"%PDF-"), "not a PDF");
    let text = String::from_utf8_lossy(pdf);
    text.match_indices("/Type /Page").filter(|(at, found)| !text[at + found.len()..].starts_with('s')).count()
}

// the fonts are decoded after the page is laid out
const MEASURE: &str = "document.fonts.ready.then(() => { const far = [...document.querySelectorAll('main, section, figure svg, h1, h2, p, dl')]\
    .map(e => Math.ceil(e.getBoundingClientRect().right)).reduce((a, b) => Math.max(a, b), 0);\
    const fonts = [...document.fonts].filter(f => f.status === 'loaded').length;\
    document.documentElement.setAttribute('data-found', [document.documentElement.scrollWidth, innerWidth, far, fonts].join(' ')); });";

#[test]
fn nothing_runs_out_of_the_window_on_a_desk_or_in_the_hand() {
    if !is_there("nothing_runs_out_of_the_window_on_a_desk_or_in_the_hand") {
        return;
    }
    for name in DEMOS {
        let page = with_script(&report_of(&demo(name), &[]), MEASURE);
        for width in [1280, 500] {
            let shown = browser(
                &page,
                &["--dump-dom", "--virtual-time-budget=10000", &format!("--window-size={width},900")],
            );
            let found = shown
                .split("data-found=\"")
                .nth(1)
                .and_then(|rest| rest.split('"').next())
                .expect("measured");
            let numbers: Vec<u32> = found.split(' ').map(|n| n.parse().expect("a number")).collect();
            assert_eq!(numbers[1], width, "{name}: the window is as wide as was asked for");
            assert!(numbers[0] <= numbers[1], "{name} at {width}: the page is {} wide", numbers[0]);
            assert!(numbers[2] <= numbers[1], "{name} at {width}: something reaches to {}", numbers[2]);
            assert_eq!(numbers[3], 2, "{name}: both weights of the embedded font are in use");
        }
    }
}

/// A window of a browser is never as narrow as a phone; a frame in it is, and asks the style the same questions.
#[test]
fn nothing_runs_out_of_a_phone_of_360_pixels() {
    if !is_there("nothing_runs_out_of_a_phone_of_360_pixels") {
        return;
    }
    const LOOK: &str = "const frame = document.querySelector('iframe'); frame.onload = () => { const inner = frame.contentDocument;\
        inner.fonts.ready.then(() => { const far = [...inner.querySelectorAll('body *')].filter(e => !e.closest('svg') || e.tagName === 'svg')\
        .map(e => Math.ceil(e.getBoundingClientRect().right)).reduce((a, b) => Math.max(a, b), 0);\
        const type = [...inner.querySelectorAll('figure svg')].filter(e => e.getBoundingClientRect().width > 0).map(e => e.getBoundingClientRect().width / e.viewBox.baseVal.width)\
        .reduce((a, b) => Math.min(a, b), 9);\
        document.documentElement.setAttribute('data-found', [inner.documentElement.scrollWidth, far, Math.round(12000 * 10 * type)].join(' ')); }); };";
    for name in DEMOS {
        for page in
            [short_report_of(&demo(name), &["--against", &old_state(name)]), report_of(&demo(name), &[])]
        {
            let inner = page.replace('&', "&amp;").replace('"', "&quot;");
            let outer = format!(
                "<!DOCTYPE html><html><body style=\"margin:0\"><iframe width=\"360\" height=\"800\" style=\"border:0\" srcdoc=\"{inner}\"></iframe><script>{LOOK}</script></body></html>"
            );
            let shown =
                browser(&outer, &["--dump-dom", "--virtual-time-budget=10000", "--window-size=800,900"]);
            let found = shown.rsplit("data-found=\"").next().and_then(|rest| rest.split('"').next());
            let numbers: Vec<u32> =
                found.expect("measured").split(' ').map(|n| n.parse().expect("a number")).collect();
            assert!(numbers[0] <= 360, "{name}: the page is {} wide", numbers[0]);
            assert!(numbers[1] <= 360, "{name}: something reaches to {}", numbers[1]);
            // type of 12 points in a picture comes out at no less than 6.5 pixels, nearly always at 10
            assert!(numbers[2] >= 6500, "{name}: type of {} px in a picture", f64::from(numbers[2]) / 1000.0);
        }
    }
}

/// An older state of a demo: the demo itself.
fn old_state(name: &str) -> String {
    demo(name).to_str().expect("text").to_string()
}

#[test]
fn without_more_ado_it_is_three_sheets_and_at_most_five_pages() {
    if !is_there("without_more_ado_it_is_three_sheets_and_at_most_five_pages") {
        return;
    }
    for name in DEMOS {
        for more in [&[][..], &["--against", &old_state(name)]] {
            let page = short_report_of(&demo(name), more);
            assert_eq!(page.matches("class=\"sheet\"").count(), 3);
            let count = pages(&pdf(&page));
            assert!((4..=5).contains(&count), "{name}: {count} pages");
        }
    }
}

/// Each sheet begins a page of its own, so that three sheets on three pages fit one each.
#[test]
fn each_sheet_fits_one_page_of_a4() {
    if !is_there("each_sheet_fits_one_page_of_a4") {
        return;
    }
    const ONLY: &str = "const kept = [...document.querySelectorAll('.sheet')];\
        kept[kept.length - 1].style.breakAfter = 'auto'; document.querySelector('main').replaceChildren(...kept);\
        document.querySelector('body > footer').remove();";
    for name in DEMOS {
        let page = report_of(&demo(name), &[]);
        assert_eq!(page.matches("class=\"sheet\"").count(), 3);
        assert_eq!(pages(&pdf(&with_script(&page, ONLY))), 3, "{name}");
    }
}

/// A4 is 210 × 297 mm (ISO 216), 595.3 × 841.9 points.
#[test]
fn the_whole_prints_on_a4_wide_pictures_on_its_side() {
    if !is_there("the_whole_prints_on_a4_wide_pictures_on_its_side") {
        return;
    }
    let paper = pdf(&report_of(&demo("causeway-trike"), &[]));
    let count = pages(&paper);
    assert!((8..=30).contains(&count), "{count} pages");
    let text = String::from_utf8_lossy(&paper);
    let mut upright = 0;
    let mut turned = 0;
    for box_of in text.split("/MediaBox [").skip(1) {
        let numbers: Vec<f64> = box_of
            .split(']')
            .next()
            .unwrap_or_default()
            .split_whitespace()
            .filter_map(|n| n.parse().ok())
            .collect();
        match numbers[..] {
            [_, _, w, h] if (w - 595.3).abs() < 1.5 && (h - 841.9).abs() < 1.5 => upright += 1,
            [_, _, w, h] if (h - 595.3).abs() < 1.5 && (w - 841.9).abs() < 1.5 => turned += 1,
            _ => panic!("a page of another size: {numbers:?}"),
        }
    }
    assert_eq!(upright + turned, count);
    assert!((1..=4).contains(&turned), "{turned} pages on their side for the air of four conditions");
}

#[test]
fn a_desktop_shows_ink_on_white() {
    if !is_there("a_desktop_shows_ink_on_white") {
        return;
    }
    let page = report_of(&demo("quarry-sprinter"), &[]);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("desktop.png");
    browser(&page, &["--window-size=1280,1600", &format!("--screenshot={}", path.display())]);
    let (width, height, pixels) = read_png(&path);
    assert_eq!((width, height), (1280, 1600));
    let dark = pixels.iter().filter(|luminance| **luminance < 96).count() as f64 / pixels.len() as f64;
    let white = pixels.iter().filter(|luminance| **luminance > 250).count() as f64 / pixels.len() as f64;
    assert!(dark > 0.01 && dark < 0.15, "ink on {dark:.3} of the page");
    assert!(white > 0.7, "white on {white:.3} of the page");
}

/// Width, height and mean of red, green and blue of every pixel.
fn read_png(path: &Path) -> (u32, u32, Vec<u8>) {
    let file = std::io::BufReader::new(std::fs::File::open(path).expect("a screenshot"));
    let mut reader = png::Decoder::new(file).read_info().expect("a PNG");
    let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut bytes).expect("a frame");
    let samples = info.color_type.samples();
    let mean = |pixel: &[u8]| (pixel.iter().take(3).map(|b| u32::from(*b)).sum::<u32>() / 3) as u8;
    (info.width, info.height, bytes.chunks_exact(samples).map(mean).collect())
}
