//! The finished picture of a plan.

use super::channel::{ChannelPath, Motion, SIGN, bend, sign};
use super::chart::{AirPicture, Channel};
use super::graph::{AirGraph, LayerPath};
use super::key;
use super::place::{self, ChannelAt, Placed, ROOM, WORDS};
use super::ramp::Ramp;
use crate::element::Sign;
use crate::output::charts::frame::{self, EDGE, Footer};
use crate::output::charts::picture::Picture;
use crate::output::charts::theme;
use crate::output::scene::colour::Colour;
use crate::output::scene::drawing::TextLook;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::{Point, Rect};

/// How far channels reach out of the body.
const STUB: f64 = 30.0;
/// Where channels change height beside a room.
const BEND: f64 = 38.0;
/// From the body's edge to what lies in it.
const INSET: f64 = 14.0;
/// No picture is narrower.
const NARROWEST: f64 = 660.0;
const BODY: Colour = Colour(249, 249, 250);

/// Places across: for each layer where its straight stretch or its rooms begin and end, and where the words end.
struct Across {
    layers: Vec<(f64, f64)>,
    signs: Vec<f64>,
    width: f64,
}

impl Picture for AirPicture {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

fn draw(picture: &AirPicture) -> Scene {
    let graph = AirGraph::new(picture.rooms.len(), &picture.channels);
    let flows = picture.channels.iter().map(|channel| channel.flow.abs()).filter(|flow| flow.is_finite());
    let widest = flows.fold(picture.widest_flow, f64::max);
    let across = across(picture, &graph);
    let placed = place::place(picture, &graph, widest);
    let mut scene = Scene {
        width: across.width.ceil(),
        height: 0.0,
        title: picture.title.clone(),
        description: picture.description.clone(),
        items: Vec::new(),
    };
    let mut top = frame::heading(&mut scene, &picture.title, &picture.subtitle);
    let room = scene.width - 2.0 * EDGE;
    let outside = theme::STRONG_LABEL.wrap(&picture.outside, room);
    top = scene.block(&outside, EDGE, top, Anchor::Start, theme::STRONG_LABEL) + 6.0;
    let down = top + INSET;
    let body = Rect::new(EDGE + STUB, top, scene.width - 2.0 * (EDGE + STUB), placed.height + 2.0 * INSET);
    draw_body(&mut scene, &body);
    let temperatures =
        picture.channels.iter().flat_map(|channel| [channel.temperatures.0, channel.temperatures.1]);
    let rooms = picture.rooms.iter().filter_map(|room| room.temperature);
    let known = picture.warmth.iter().flat_map(|(low, high)| [*low, *high]);
    let ramp = Ramp::over(temperatures.chain(rooms).chain(known));
    draw_channels(&mut scene, picture, &graph, &placed, &across, &ramp, down);
    for (room, at) in placed.rooms.iter().enumerate() {
        let (left, right) = across.layers[graph.layer_of(room)];
        let rect = Rect { left, right, top: down + at.top, bottom: down + at.bottom };
        draw_room(&mut scene, picture, room, &rect, &ramp);
    }
    top = key::draw(&mut scene, picture, &ramp, widest, body.bottom + 8.0);
    let mut notes = picture.footnotes.clone();
    let round = picture.channels.iter().zip(&graph.ways).filter(|(_, way)| way.is_none());
    notes
        .extend(round.map(|(channel, _)| format!("{} ends where it begins and is not drawn.", channel.name)));
    let footer = Footer::new(&[], &notes, scene.width);
    footer.draw(&mut scene, top - 4.0);
    scene.height = (top + footer.height() + 8.0).ceil();
    scene
}

fn across(picture: &AirPicture, graph: &AirGraph) -> Across {
    let layers = graph.layers();
    let straight = |layer: usize| {
        let at_home = graph.ways.iter().zip(&picture.channels).filter_map(|(way, channel)| {
            way.as_ref().filter(|way| way.home == layer).map(|_| channel.signs.len())
        });
        at_home.max().map_or((12.0, 0.0), |most| (WORDS + 6.0, SIGN * most as f64))
    };
    let lay = |more: f64| {
        let mut x = EDGE + STUB + INSET;
        let mut out = Across { layers: Vec::new(), signs: Vec::new(), width: 0.0 };
        for layer in 0..layers {
            let gap = layer % 2 == 0;
            let (words, signs) = if gap { straight(layer) } else { (ROOM, 0.0) };
            let words = if gap { words + more } else { words };
            out.layers.push((x, x + words + signs));
            out.signs.push(x + words);
            x += words + signs + if layer + 1 < layers { BEND } else { 0.0 };
        }
        out.width = x + INSET + STUB + EDGE;
        out
    };
    let plain = lay(0.0);
    let gaps = (layers / 2 + 1) as f64;
    if plain.width < NARROWEST { lay((NARROWEST - plain.width) / gaps) } else { plain }
}

fn draw_body(scene: &mut Scene, body: &Rect) {
    let radius = 16.0_f64.min(body.height() / 2.0);
    let mut outline: Vec<Point> = Vec::new();
    let corners = [
        ((body.right - radius, body.top + radius), -90.0),
        ((body.right - radius, body.bottom - radius), 0.0),
        ((body.left + radius, body.bottom - radius), 90.0),
        ((body.left + radius, body.top + radius), 180.0),
    ];
    for (centre, from) in corners {
        for step in 0..=8 {
            let angle = (from + 90.0 * f64::from(step) / 8.0_f64).to_radians();
            outline.push((centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin()));
        }
    }
    scene.fill(outline.clone(), BODY);
    outline.extend(outline.first().copied());
    scene.stroke(outline, theme::AXIS, 1.4, &[]);
}

fn draw_channels(
    scene: &mut Scene,
    picture: &AirPicture,
    graph: &AirGraph,
    placed: &Placed,
    across: &Across,
    ramp: &Ramp,
    down: f64,
) {
    let each = picture.channels.iter().zip(&graph.ways).zip(&placed.channels);
    let courses: Vec<(&Channel, &LayerPath, &ChannelAt, ChannelPath)> = each
        .filter_map(|((channel, way), at)| {
            let way = way.as_ref()?;
            Some((channel, way, at, course(channel, way, at, graph, across, down)))
        })
        .collect();
    // the widest first, so that where two cross the narrow one is not hidden
    let mut order: Vec<usize> = (0..courses.len()).collect();
    order.sort_by(|a, b| courses[*b].3.width.total_cmp(&courses[*a].3.width));
    for index in order {
        courses[index].3.draw(scene, ramp);
    }
    for (channel, way, at, course) in &courses {
        let (from, to) = across.layers[way.home];
        course.partings(scene, channel.pieces, if at.inside { across.signs[way.home] } else { from }, to);
        for (place, which) in signs(channel, way).into_iter().enumerate() {
            let x = across.signs[way.home] + SIGN * (place as f64 + 0.5);
            sign(scene, which, (x, course.height_at(x)), course.width);
        }
        let x = from + 3.0;
        let mut top = down + at.words_top;
        top = scene.block(&at.words.warning, x, top, Anchor::Start, theme::STRONG_LABEL);
        top = scene.block(&at.words.name, x, top, Anchor::Start, theme::STRONG_LABEL);
        let look = TextLook { colour: theme::INK, ..theme::MARK };
        scene.block(&at.words.lines, x, top, Anchor::Start, look);
    }
}

/// Signs from left to right.
fn signs(channel: &Channel, way: &LayerPath) -> Vec<Sign> {
    let mut signs = channel.signs.clone();
    if way.backward {
        signs.reverse();
    }
    signs
}

fn course(
    channel: &Channel,
    way: &LayerPath,
    at: &ChannelAt,
    graph: &AirGraph,
    across: &Across,
    down: f64,
) -> ChannelPath {
    let begin = way.left.map_or(EDGE, |room| across.layers[graph.layer_of(room)].1);
    let end = way.right.map_or(across.width - EDGE, |room| across.layers[graph.layer_of(room)].0);
    let mut middle = vec![(begin, down + at.ends.0)];
    for (layer, y) in (way.layers.0..=way.layers.1).zip(&at.lanes) {
        let (from, to) = across.layers[layer];
        bend(&mut middle, (from, down + y));
        middle.push((to, down + y));
    }
    bend(&mut middle, (end, down + at.ends.1));
    let warmth =
        if way.backward { (channel.temperatures.1, channel.temperatures.0) } else { channel.temperatures };
    let heater = signs(channel, way).iter().position(|sign| sign.heats());
    let turn = match heater {
        Some(place) => across.signs[way.home] + SIGN * (place as f64 + 0.5),
        None => across.layers[way.home].1,
    };
    let motion = match (channel.flow, way.backward) {
        (flow, _) if flow == 0.0 || !flow.is_finite() => Motion::None,
        (flow, backward) if (flow > 0.0) != backward => Motion::Right,
        _ => Motion::Left,
    };
    ChannelPath { middle, width: at.width, warmth, turn, motion, back: channel.flow < 0.0 }
}

fn draw_room(scene: &mut Scene, picture: &AirPicture, room: usize, rect: &Rect, ramp: &Ramp) {
    let outline = rect.corners();
    let fill = picture.rooms[room].temperature.map_or(theme::PAPER, |temperature| ramp.at(temperature));
    scene.fill(outline.clone(), fill);
    let closed = |rect: &Rect| {
        let corners = rect.corners();
        [corners.clone(), vec![corners[0]]].concat()
    };
    scene.stroke(closed(rect), theme::INK, 1.5, &[]);
    if picture.rooms[room].engine {
        scene.stroke(closed(&rect.grown(-3.0)), theme::INK, 0.8, &[]);
    }
    let (name, lines) = place::room_words(picture, room);
    let height = name.len() as f64 * theme::STRONG_LABEL.line_height()
        + lines.len() as f64 * theme::MARK.line_height();
    let middle = rect.centre();
    let top = scene.block(&name, middle.0, middle.1 - height / 2.0, Anchor::Middle, theme::STRONG_LABEL);
    let look = TextLook { colour: theme::INK, ..theme::MARK };
    scene.block(&lines, middle.0, top, Anchor::Middle, look);
}
