//! Heights: where rooms and lanes lie.
//!
//! Every layer is a stack of boxes that do not touch; each box is drawn towards what it is joined to, and `crate::output::scene::place::spread`
//! keeps the stack in order. Rooms then grow until their channels meet them straight, as far as their neighbours leave room.

use super::chart::{AirPicture, Channel};
use super::graph::{AirGraph, LayerPath};
use crate::output::charts::theme;
use crate::output::scene::place::{spread, spread_in_order};

/// Width of the widest channel.
const WIDEST: f64 = 62.0;
/// Width of a channel whose air all but stands.
const NARROWEST: f64 = 1.6;
/// Between two boxes of a layer.
const GAP: f64 = 15.0;
/// Between two channels at the wall of a room, and from the corner of the room.
const PORT_GAP: f64 = 11.0;
/// From words to the channel below them.
const WORDS_GAP: f64 = 3.0;
/// Room for words across.
pub(super) const WORDS: f64 = 170.0;
/// Width of a room.
pub(super) const ROOM: f64 = 112.0;
/// Width of a channel and height of its words while none is known.
const ALIKE: (f64, f64) = (12.0, 50.0);
/// Rounds of drawing boxes towards what they are joined to.
const ROUNDS: usize = 24;

/// Words of a channel, in lines: what is wrong, its name, the rest.
#[derive(Debug, Clone, Default)]
pub(super) struct ChannelWords {
    pub warning: Vec<String>,
    pub name: Vec<String>,
    pub lines: Vec<String>,
}

impl ChannelWords {
    fn of(channel: &Channel) -> ChannelWords {
        let name = if channel.pieces > 1 {
            format!("{} × {}", channel.pieces, channel.name)
        } else {
            channel.name.clone()
        };
        ChannelWords {
            warning: theme::STRONG_LABEL.wrap_evenly(&channel.warning, WORDS),
            name: theme::STRONG_LABEL.wrap(&name, WORDS),
            lines: channel.lines.iter().flat_map(|line| theme::MARK.wrap(line, WORDS)).collect(),
        }
    }

    pub(super) fn height(&self) -> f64 {
        (self.warning.len() + self.name.len()) as f64 * theme::STRONG_LABEL.line_height()
            + self.lines.len() as f64 * theme::MARK.line_height()
    }
}

pub(super) fn room_words(picture: &AirPicture, room: usize) -> (Vec<String>, Vec<String>) {
    let room = &picture.rooms[room];
    let width = ROOM - 14.0;
    let lines = room.lines.iter().flat_map(|line| theme::MARK.wrap(line, width)).collect();
    (theme::STRONG_LABEL.wrap(&room.name, width), lines)
}

/// One box of a layer.
#[derive(Debug, Clone, Copy)]
struct Block {
    what: WordsRole,
    height: f64,
    /// From the middle of the box down to that of its channel.
    offset: f64,
    y: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum WordsRole {
    Room(usize),
    Lane(usize),
}

/// A placed room.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct RoomAt {
    pub top: f64,
    pub bottom: f64,
}

/// A placed channel: the height of its middle in each layer that it crosses, and at the rooms it joins.
#[derive(Debug, Clone, Default)]
pub(super) struct ChannelAt {
    pub width: f64,
    pub words: ChannelWords,
    /// Where its words begin.
    pub words_top: f64,
    /// Whether they lie inside the channel; else above it.
    pub inside: bool,
    /// Height in each layer from its first.
    pub lanes: Vec<f64>,
    /// Height at its left and right end.
    pub ends: (f64, f64),
}

/// Everything placed, from height nought down.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    pub rooms: Vec<RoomAt>,
    pub channels: Vec<ChannelAt>,
    pub height: f64,
}

/// Width at which a flow is drawn.
pub(super) fn width_of(flow: f64, widest: f64) -> f64 {
    let share = if widest > 0.0 { (flow.abs() / widest).min(1.0) } else { 0.0 };
    if share.is_finite() { (share * WIDEST).max(NARROWEST) } else { NARROWEST }
}

pub(super) fn place(picture: &AirPicture, graph: &AirGraph, widest: f64) -> Placed {
    let mut channels: Vec<ChannelAt> = picture
        .channels
        .iter()
        .map(|channel| ChannelAt {
            width: width_of(channel.flow, widest),
            words: ChannelWords::of(channel),
            ..ChannelAt::default()
        })
        .zip(&picture.channels)
        .map(|(at, channel)| ChannelAt {
            // hatching leaves no room for words
            inside: at.width >= at.words.height() + 4.0 && channel.flow >= 0.0,
            ..at
        })
        .collect();
    // which lies above which is settled by the network alone, before any flow is looked at
    let mut settled = stacked(picture, graph, None);
    let height = tallest(&settled);
    draw_together(&mut settled, graph, height, spread);
    let mut layers = stacked(picture, graph, Some(&channels));
    for (layer, settled) in layers.iter_mut().zip(&settled) {
        let y = |block: &Block| settled.iter().find(|b| b.what == block.what).map_or(0.0, |b| b.y);
        layer.sort_by(|a, b| y(a).total_cmp(&y(b)));
        stack(layer);
    }
    let height = tallest(&layers);
    draw_together(&mut layers, graph, height, |boxes, low, high, gap| {
        let order: Vec<usize> = (0..boxes.len()).collect();
        spread_in_order(boxes, &order, low, high, gap)
    });
    for (index, at) in channels.iter_mut().enumerate() {
        let Some(way) = &graph.ways[index] else { continue };
        at.lanes = (way.layers.0..=way.layers.1).map(|layer| lane(&layers[layer], index)).collect();
        if let Some(block) = layers[way.home].iter().find(|b| b.what == WordsRole::Lane(index)) {
            at.words_top =
                if at.inside { block.y - at.words.height() / 2.0 } else { block.y - block.height / 2.0 };
        }
    }
    let rooms = grown(picture, graph, &layers, &channels, height);
    for (room, at) in rooms.iter().enumerate() {
        ports(room, at, graph, &mut channels);
    }
    for (channel, way) in channels.iter_mut().zip(&graph.ways) {
        let Some(way) = way else { continue };
        if way.left.is_none() {
            channel.ends.0 = channel.lanes.first().copied().unwrap_or(0.0);
        }
        if way.right.is_none() {
            channel.ends.1 = channel.lanes.last().copied().unwrap_or(0.0);
        }
    }
    Placed { rooms, channels, height }
}

/// Height of the tallest layer.
fn tallest(layers: &[Vec<Block>]) -> f64 {
    let tall = |layer: &Vec<Block>| {
        layer.iter().map(|b| b.height).sum::<f64>() + GAP * layer.len().saturating_sub(1) as f64
    };
    layers.iter().map(tall).fold(0.0, f64::max)
}

/// Draws every box towards what it is joined to; `spread` keeps those of a layer apart.
fn draw_together(
    layers: &mut [Vec<Block>],
    graph: &AirGraph,
    height: f64,
    spread: impl Fn(&[(f64, f64)], f64, f64, f64) -> Vec<f64>,
) {
    for round in 0..ROUNDS {
        for step in 0..layers.len() {
            let layer = if round % 2 == 0 { step } else { layers.len() - 1 - step };
            let wanted = wanted(layers, layer, graph);
            let boxes: Vec<(f64, f64)> =
                layers[layer].iter().zip(&wanted).map(|(b, y)| (*y, b.height)).collect();
            for (block, y) in layers[layer].iter_mut().zip(spread(&boxes, 0.0, height, GAP)) {
                block.y = y;
            }
        }
    }
}

/// One under the other.
fn stack(layer: &mut [Block]) {
    let mut top = 0.0;
    for block in layer {
        block.y = top + block.height / 2.0;
        top += block.height + GAP;
    }
}

/// Every layer with its boxes one under the other, in an order that keeps channels of one room together. Without
/// `channels` all channels are alike, so that nothing depends on flows and words.
fn stacked(picture: &AirPicture, graph: &AirGraph, channels: Option<&[ChannelAt]>) -> Vec<Vec<Block>> {
    let width = |index: usize| channels.map_or(ALIKE.0, |channels| channels[index].width);
    let mut order: Vec<usize> = (0..picture.rooms.len()).collect();
    order.sort_by_key(|room| (picture.rooms[*room].engine, *room));
    let rank = |room: Option<usize>| room.and_then(|room| order.iter().position(|other| *other == room));
    let mut turn: Vec<usize> = (0..graph.ways.len()).filter(|index| graph.ways[*index].is_some()).collect();
    turn.sort_by_key(|index| {
        let way = graph.ways[*index].as_ref();
        let (left, right) = way.map_or((None, None), |way| (rank(way.left), rank(way.right)));
        // what passes by all rooms lies below them
        (right.or(left).unwrap_or(usize::MAX), *index)
    });
    let mut layers: Vec<Vec<Block>> = vec![Vec::new(); graph.layers()];
    for &room in &order {
        let words = room_words(picture, room);
        let text = words.0.len() as f64 * theme::STRONG_LABEL.line_height()
            + words.1.len() as f64 * theme::MARK.line_height();
        let side = |left: bool| {
            let joined = channels_of(graph, room, left).map(|index| width(index) + PORT_GAP);
            joined.sum::<f64>() + PORT_GAP
        };
        let height = (text + 18.0).max(side(true)).max(side(false)).max(52.0);
        layers[graph.layer_of(room)].push(Block { what: WordsRole::Room(room), height, offset: 0.0, y: 0.0 });
    }
    for &index in &turn {
        let Some(way) = &graph.ways[index] else { continue };
        let at = channels.map(|channels| &channels[index]);
        for (layer, blocks) in layers.iter_mut().enumerate().take(way.layers.1 + 1).skip(way.layers.0) {
            let words = at.map_or(ALIKE.1, |at| at.words.height());
            let (height, offset) = match layer == way.home {
                true if at.is_some_and(|at| at.inside) => (width(index), 0.0),
                true => (words + WORDS_GAP + width(index), (words + WORDS_GAP) / 2.0),
                false => (width(index), 0.0),
            };
            blocks.push(Block { what: WordsRole::Lane(index), height, offset, y: 0.0 });
        }
    }
    for layer in &mut layers {
        stack(layer);
    }
    layers
}

fn channels_of(graph: &AirGraph, room: usize, left: bool) -> impl Iterator<Item = usize> {
    let joined = move |way: &LayerPath| if left { way.right == Some(room) } else { way.left == Some(room) };
    let ways = graph.ways.iter().enumerate();
    ways.filter(move |(_, way)| way.as_ref().is_some_and(joined)).map(|(index, _)| index)
}

/// Height of a channel's middle in a layer.
fn lane(layer: &[Block], channel: usize) -> f64 {
    layer.iter().find(|b| b.what == WordsRole::Lane(channel)).map_or(0.0, |b| b.y + b.offset)
}

/// Where each box of a layer would like to lie: in line with what it is joined to.
fn wanted(layers: &[Vec<Block>], layer: usize, graph: &AirGraph) -> Vec<f64> {
    let room_at = |room: usize| {
        let blocks = &layers[graph.layer_of(room)];
        blocks.iter().find(|b| b.what == WordsRole::Room(room)).map_or((0.0, 0.0), |b| (b.y, b.height))
    };
    let of = |block: &Block| {
        let mut near = Vec::new();
        match block.what {
            WordsRole::Room(room) => {
                for left in [true, false] {
                    let beside = if left { layer - 1 } else { layer + 1 };
                    near.extend(channels_of(graph, room, left).map(|index| lane(&layers[beside], index)));
                }
            }
            WordsRole::Lane(index) => {
                let Some(way) = &graph.ways[index] else { return block.y };
                let here = block.y + block.offset;
                for (end, beside) in [
                    (way.left, layer.checked_sub(1)),
                    (way.right, (layer + 1 < layers.len()).then_some(layer + 1)),
                ] {
                    let Some(beside) = beside else { continue };
                    if (way.layers.0..=way.layers.1).contains(&beside) {
                        near.push(lane(&layers[beside], index));
                    } else if let Some(room) = end {
                        let (y, height) = room_at(room);
                        let reach = (height / 2.0 - PORT_GAP).max(0.0);
                        near.push(here.clamp(y - reach, y + reach));
                    }
                }
            }
        }
        if near.is_empty() { block.y } else { near.iter().sum::<f64>() / near.len() as f64 - block.offset }
    };
    layers[layer].iter().map(of).collect()
}

/// Rooms as tall as their channels ask for and their neighbours allow.
fn grown(
    picture: &AirPicture,
    graph: &AirGraph,
    layers: &[Vec<Block>],
    channels: &[ChannelAt],
    height: f64,
) -> Vec<RoomAt> {
    let mut rooms = vec![RoomAt::default(); picture.rooms.len()];
    for layer in layers.iter().skip(1).step_by(2) {
        let mut sorted: Vec<&Block> = layer.iter().collect();
        sorted.sort_by(|a, b| a.y.total_cmp(&b.y));
        for (place, block) in sorted.iter().enumerate() {
            let WordsRole::Room(room) = block.what else { continue };
            let (mut top, mut bottom) = (block.y - block.height / 2.0, block.y + block.height / 2.0);
            let above =
                place.checked_sub(1).map_or(0.0, |i| sorted[i].y + sorted[i].height / 2.0 + 0.7 * GAP);
            let below = sorted.get(place + 1).map_or(height, |next| next.y - next.height / 2.0 - 0.7 * GAP);
            for left in [true, false] {
                for index in channels_of(graph, room, left) {
                    let at = &channels[index];
                    let y = if left { at.lanes.last() } else { at.lanes.first() };
                    let Some(y) = y else { continue };
                    top = top.min(y - at.width / 2.0 - PORT_GAP);
                    bottom = bottom.max(y + at.width / 2.0 + PORT_GAP);
                }
            }
            rooms[room] = RoomAt { top: top.max(above.min(block.y)), bottom: bottom.min(below.max(block.y)) };
            let least = block.height / 2.0;
            rooms[room].top = rooms[room].top.min(block.y - least);
            rooms[room].bottom = rooms[room].bottom.max(block.y + least);
        }
    }
    rooms
}

/// Where channels meet the walls of a room.
fn ports(room: usize, at: &RoomAt, graph: &AirGraph, channels: &mut [ChannelAt]) {
    for left in [true, false] {
        let joined: Vec<usize> = channels_of(graph, room, left).collect();
        let boxes: Vec<(f64, f64)> = joined
            .iter()
            .map(|index| {
                let channel = &channels[*index];
                let y = if left { channel.lanes.last() } else { channel.lanes.first() };
                (y.copied().unwrap_or(0.0), channel.width)
            })
            .collect();
        let places = spread(&boxes, at.top + PORT_GAP, at.bottom - PORT_GAP, PORT_GAP);
        for (index, y) in joined.into_iter().zip(places) {
            if left {
                channels[index].ends.1 = y;
            } else {
                channels[index].ends.0 = y;
            }
        }
    }
}
