//! Plans of rooms and channels: any network can be drawn, no text lies on another or under a line, arrows turn with the air.

use crate::element::Sign;
use crate::output::charts::{AirPicture, Channel, ChannelEnd, ChartRoom, Picture};
use crate::output::scene::drawing::{DrawnItem, Scene};
use crate::output::scene::geometry::{Rect, samples};

fn room(name: &str, temperature: f64) -> ChartRoom {
    ChartRoom {
        name: name.to_owned(),
        lines: vec!["69 Pa".to_owned(), "air 67 °C".to_owned()],
        temperature: Some(temperature),
        engine: name == "engine",
    }
}

fn channel(name: &str, from: ChannelEnd, to: ChannelEnd, flow: f64) -> Channel {
    Channel {
        name: name.to_owned(),
        lines: vec!["88 g/s, 33 → 67 °C".to_owned(), "69 → 0 Pa".to_owned()],
        warning: if flow < 0.0 { "Runs backwards: hot bay air".to_owned() } else { String::new() },
        from,
        to,
        pieces: 1,
        flow,
        temperatures: (33.0, 67.0),
        signs: Vec::new(),
    }
}

fn plan(rooms: Vec<ChartRoom>, channels: Vec<Channel>) -> AirPicture {
    AirPicture {
        title: "Air".to_owned(),
        outside: "Outside: 33 °C".to_owned(),
        rooms,
        channels,
        ..AirPicture::default()
    }
}

/// Numbers that look random and are the same every time (Lehmer's generator with the constants of Park and Miller, 1988).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0 * 16_807 % 2_147_483_647;
        self.0 % most
    }
}

/// A network that nobody would build: up to five rooms, up to fourteen channels from anywhere to anywhere.
fn any_plan(seed: u64) -> AirPicture {
    let mut dice = Dice(seed * 7919 + 1);
    let rooms = dice.below(6) as usize;
    let mut picture = plan(Vec::new(), Vec::new());
    for index in 0..rooms {
        let name = ["bay", "engine", "the plenum behind the seat", "box", "shroud"][index];
        picture.rooms.push(room(name, 20.0 + dice.below(200) as f64));
    }
    for index in 0..=dice.below(14) {
        let mut end = || match dice.below(rooms as u64 + 1) {
            0 => ChannelEnd::Outside,
            room => ChannelEnd::Room(room as usize - 1),
        };
        let (from, to) = (end(), end());
        let flow = (dice.below(500) as f64 - 200.0) * 1e-3;
        let name =
            if dice.below(5) == 0 { "a long name of a way for air through the whole car" } else { "way" };
        let mut channel = channel(&format!("{name} {index}"), from, to, flow);
        channel.pieces = 1 + dice.below(3) as usize;
        channel.temperatures = (20.0 + dice.below(50) as f64, 20.0 + dice.below(300) as f64);
        let signs = [Sign::Screen, Sign::Fan, Sign::Fins, Sign::Core, Sign::Sudden];
        channel.signs = signs.into_iter().filter(|_| dice.below(3) == 0).collect();
        picture.channels.push(channel);
    }
    picture
}

fn check(picture: &AirPicture, seed: u64) {
    let scene = picture.scene().expect("a picture");
    let whole = Rect::new(0.0, 0.0, scene.width, scene.height);
    let boxes = scene.text_boxes();
    for (index, (text, rect)) in boxes.iter().enumerate() {
        assert!(whole.holds_rect(rect), "{seed}: {text:?} leaves the picture");
        for (other, beside) in &boxes[index + 1..] {
            assert!(!rect.overlaps(beside), "{seed}: {text:?} lies on {other:?}");
        }
    }
    for item in &scene.items {
        let DrawnItem::Stroke { points, .. } = item else { continue };
        for point in samples(points, 2.0) {
            let hit = boxes.iter().find(|(_, rect)| rect.grown(-0.6).holds(point));
            assert!(hit.is_none(), "{seed}: a line {points:?} runs through {hit:?}");
        }
    }
    roxmltree::Document::parse(&picture.svg_without_font().expect("a picture")).expect("XML");
}

#[test]
fn any_network_is_drawn_and_its_words_can_be_read() {
    for seed in 0..150 {
        check(&any_plan(seed), seed);
    }
}

/// Places across of the tips of arrows: heads are the only filled shapes of three corners.
fn tips(scene: &Scene) -> Vec<f64> {
    scene
        .items
        .iter()
        .filter_map(|item| match item {
            DrawnItem::Fill { points, .. } if points.len() == 3 => Some(points[1].0),
            _ => None,
        })
        .collect()
}

#[test]
fn arrows_turn_round_with_the_air_and_nothing_else_moves() {
    let with = |flow: f64| {
        plan(vec![room("bay", 67.0)], vec![channel("heads", ChannelEnd::Outside, ChannelEnd::Room(0), flow)])
    };
    let (out, back) = (with(0.1).scene().expect("a picture"), with(-0.1).scene().expect("a picture"));
    let (ahead, behind) = (tips(&out), tips(&back));
    assert_eq!((ahead.len(), behind.len()), (1, 1));
    assert!(behind[0] < ahead[0], "{behind:?} {ahead:?}");
    assert_eq!(behind[0], 16.0, "air that blows out of an inlet leaves the car");
    assert_eq!(out.width, back.width);
    assert!(tips(&with(0.0).scene().expect("a picture")).is_empty(), "standing air has no arrow");
}

#[test]
fn width_is_the_flow_and_darkness_the_warmth() {
    let mut cold = channel("cold", ChannelEnd::Outside, ChannelEnd::Room(0), 0.2);
    cold.temperatures = (20.0, 20.0);
    let mut hot = channel("hot", ChannelEnd::Room(0), ChannelEnd::Outside, 0.05);
    hot.temperatures = (120.0, 120.0);
    let scene = plan(vec![room("bay", 120.0)], vec![cold, hot]).scene().expect("a picture");
    // outlines of two straight channels: four corners or more, level; the rooms' outlines are strokes of ink as well, but closed
    let mut widths: Vec<f64> = scene
        .items
        .iter()
        .filter_map(|item| match item {
            DrawnItem::Fill { points, .. } if points.len() > 3 && points[0].0 == 16.0 => {
                Some(points[points.len() - 1].1 - points[0].1)
            }
            _ => None,
        })
        .collect();
    widths.dedup();
    assert_eq!(widths.len(), 1, "one channel begins at the left edge: {widths:?}");
    assert!((widths[0] - 62.0).abs() < 1e-9, "the widest flow has the full width: {widths:?}");
    let tall = |wanted: f64| {
        scene.items.iter().any(|item| match item {
            DrawnItem::Fill { points, .. } if points.len() > 3 => {
                let right = points.iter().map(|p| p.0).fold(0.0, f64::max);
                let (top, bottom) = (points[0].1, points[points.len() - 1].1);
                right > scene.width - 40.0 && (bottom - top - wanted).abs() < 1e-9
            }
            _ => false,
        })
    };
    assert!(tall(62.0 / 4.0), "a quarter of the flow has a quarter of the width");
}

/// Pictures of one network can be laid side by side: whatever flows, the same channel lies above the same other.
#[test]
fn the_order_is_that_of_the_network_and_not_of_the_flows() {
    for seed in 0..60 {
        let mut picture = any_plan(seed);
        let mut dice = Dice(seed + 5);
        let names = |picture: &AirPicture| -> Vec<(i64, String)> {
            let scene = picture.scene().expect("a picture");
            let mut found: Vec<(i64, f64, String)> = scene
                .text_boxes()
                .into_iter()
                .filter(|(text, _)| text.contains("way "))
                .map(|(text, rect)| (rect.left.round() as i64, rect.top, text))
                .collect();
            found.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
            found.into_iter().map(|(left, _, text)| (left, text)).collect()
        };
        let before = names(&picture);
        for channel in &mut picture.channels {
            channel.flow = dice.below(300) as f64 * 1e-3 - 0.1;
            channel.warning = String::new();
        }
        assert_eq!(names(&picture), before, "{seed}");
    }
}

#[test]
fn nothing_at_all_is_still_a_picture() {
    let bytes = plan(Vec::new(), Vec::new()).png().expect("a picture");
    assert_eq!(bytes[..4], [137, 80, 78, 71]);
    check(
        &plan(
            vec![room("bay", f64::NAN)],
            vec![channel("way", ChannelEnd::Outside, ChannelEnd::Room(0), f64::NAN)],
        ),
        0,
    );
}

#[test]
fn a_channel_that_ends_where_it_begins_is_told_and_not_drawn() {
    let picture =
        plan(vec![room("bay", 67.0)], vec![channel("round", ChannelEnd::Room(0), ChannelEnd::Room(0), 0.1)]);
    let svg = picture.svg().expect("a picture");
    assert!(svg.contains("round ends where it begins"), "{svg}");
}
