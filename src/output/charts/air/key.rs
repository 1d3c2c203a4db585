//! What lightness, width and signs mean.

use super::channel::{back_sample, sign};
use super::chart::AirPicture;
use super::place;
use super::ramp::Ramp;
use crate::element::Sign;
use crate::output::charts::scale::number;
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::font;
use crate::output::scene::geometry::Rect;

/// Height of a line of the key.
const LINE: f64 = 26.0;
/// Between two entries.
const GAP: f64 = 24.0;
/// Steps in which the scale of warmth is drawn.
const STEPS: usize = 24;

/// One entry: room for its sample, and its words.
struct KeyEntry {
    what: KeySample,
    sample: f64,
    words: String,
}

enum KeySample {
    Warmth,
    Width(f64),
    Sign(Sign),
    Back,
    Stands,
}

/// Draws the key under the plan and gives its lower edge.
pub(super) fn draw(scene: &mut Scene, picture: &AirPicture, ramp: &Ramp, widest: f64, top: f64) -> f64 {
    let edge = crate::output::charts::frame::EDGE;
    let mut at = (edge, top);
    for entry in entries(picture, widest) {
        let low = matches!(entry.what, KeySample::Warmth);
        let before = if low { format!("{} °C", number(ramp.ends().0, 0)) } else { String::new() };
        let hotter = if ramp.has_hotter() { " and hotter" } else { "" };
        let words = if low { format!("{} °C{hotter}", number(ramp.ends().1, 0)) } else { entry.words };
        let lead = if low { theme::MARK.width(&before) + 6.0 } else { 0.0 };
        let whole = lead + entry.sample + 6.0 + theme::MARK.width(&words);
        if at.0 > edge && at.0 + whole > scene.width - edge {
            at = (edge, at.1 + LINE);
        }
        let middle = at.1 + LINE / 2.0;
        let line = theme::MARK.line_height();
        let baseline = middle - line / 2.0 + font::baseline(theme::MARK.size, line);
        if low {
            scene.text((at.0, baseline), Anchor::Start, theme::MARK, &before);
        }
        let sample = Rect::new(at.0 + lead, middle - 7.0, entry.sample, 14.0);
        draw_sample(scene, &entry.what, &sample, ramp);
        scene.text((sample.right + 6.0, baseline), Anchor::Start, theme::MARK, &words);
        at.0 += whole + GAP;
    }
    at.1 + LINE
}

fn entries(picture: &AirPicture, widest: f64) -> Vec<KeyEntry> {
    let mut entries = vec![KeyEntry { what: KeySample::Warmth, sample: 110.0, words: String::new() }];
    if let Some((flow, words)) = &picture.scale {
        let width = place::width_of(*flow, widest);
        entries.push(KeyEntry { what: KeySample::Width(width), sample: 30.0, words: words.clone() });
    }
    let mut signs: Vec<Sign> = picture.channels.iter().flat_map(|channel| channel.signs.clone()).collect();
    signs.sort();
    signs.dedup();
    for sign in signs {
        entries.push(KeyEntry { what: KeySample::Sign(sign), sample: 20.0, words: sign.means().to_string() });
    }
    if picture.channels.iter().any(|channel| channel.flow < 0.0) {
        entries.push(KeyEntry { what: KeySample::Back, sample: 30.0, words: "runs backwards".to_string() });
    }
    if picture.channels.iter().any(|channel| channel.flow == 0.0) {
        entries.push(KeyEntry { what: KeySample::Stands, sample: 30.0, words: "air stands".to_string() });
    }
    entries
}

fn draw_sample(scene: &mut Scene, what: &KeySample, sample: &Rect, ramp: &Ramp) {
    let middle = sample.centre().1;
    match what {
        KeySample::Warmth => {
            let (low, high) = ramp.ends();
            for step in 0..STEPS {
                let share = (step as f64 + 0.5) / STEPS as f64;
                let left = sample.left + sample.width() * step as f64 / STEPS as f64;
                // a little over the next, so that no seam shows
                let right = (left + sample.width() / STEPS as f64 + 0.3).min(sample.right);
                let rect = Rect { left, right, ..*sample };
                scene.fill(rect.corners(), ramp.at(low + share * (high - low)));
            }
            let outline = sample.corners();
            scene.stroke([outline.clone(), vec![outline[0]]].concat(), theme::AXIS, 0.8, &[]);
        }
        KeySample::Width(width) => {
            let rect = Rect::centred(sample.centre(), sample.width(), *width);
            scene.fill(rect.corners(), ramp.at(ramp.ends().0));
            for y in [rect.top, rect.bottom] {
                scene.line((rect.left, y), (rect.right, y), theme::INK, 0.9);
            }
        }
        KeySample::Sign(which) => sign(scene, *which, sample.centre(), 10.0),
        KeySample::Back => back_sample(scene, sample),
        KeySample::Stands => {
            let line = vec![(sample.left, middle), (sample.right, middle)];
            scene.stroke(line, theme::MUTED, 1.2, &[3.0, 3.0]);
        }
    }
}
