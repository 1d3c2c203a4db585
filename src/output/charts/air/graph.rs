//! Which room stands in which column, and which channel crosses what.
//!
//! Layers from left to right: gap, column of rooms, gap, column, …, gap. A channel is a lane in every layer that it crosses; in
//! one of the gaps, its home, the lane carries its words.

use super::chart::{Channel, ChannelEnd};

/// A channel's way through the layers.
#[derive(Debug, Clone)]
pub(super) struct LayerPath {
    /// The room at its left end; none: outside.
    pub left: Option<usize>,
    /// The room at its right end.
    pub right: Option<usize>,
    /// First and last layer crossed.
    pub layers: (usize, usize),
    /// The layer in which its words stand.
    pub home: usize,
    /// Whether it begins at its right end: a way back in the plan.
    pub backward: bool,
}

/// Columns of rooms, and the ways of the channels.
#[derive(Debug, Clone)]
pub(super) struct AirGraph {
    /// How many columns.
    pub columns: usize,
    /// Column of each room, from 1.
    pub column: Vec<usize>,
    /// Way of each channel; none for one that ends where it begins.
    pub ways: Vec<Option<LayerPath>>,
}

impl AirGraph {
    pub(super) fn new(rooms: usize, channels: &[Channel]) -> AirGraph {
        let inner: Vec<(usize, usize)> = channels
            .iter()
            .filter_map(|channel| match (channel.from, channel.to) {
                (ChannelEnd::Room(a), ChannelEnd::Room(b)) if a != b && a < rooms && b < rooms => {
                    Some((a, b))
                }
                _ => None,
            })
            .collect();
        let column = columns(rooms, &inner);
        let count = column.iter().copied().max().unwrap_or(0);
        let ways = channels.iter().map(|channel| way(channel, &column, count)).collect();
        AirGraph { columns: count, column, ways }
    }

    /// How many layers there are.
    pub(super) fn layers(&self) -> usize {
        2 * self.columns + 1
    }

    /// The layer of a room.
    pub(super) fn layer_of(&self, room: usize) -> usize {
        2 * self.column[room] - 1
    }
}

fn way(channel: &Channel, column: &[usize], columns: usize) -> Option<LayerPath> {
    let last = 2 * columns;
    let at = |end: ChannelEnd| match end {
        ChannelEnd::Outside => None,
        ChannelEnd::Room(room) => column.get(room).map(|column| (room, *column)),
    };
    let way = match (at(channel.from), at(channel.to)) {
        (None, None) => LayerPath { left: None, right: None, layers: (0, last), home: 0, backward: false },
        (None, Some((room, column))) => {
            LayerPath { left: None, right: Some(room), layers: (0, 2 * column - 2), home: 0, backward: false }
        }
        (Some((room, column)), None) => LayerPath {
            left: Some(room),
            right: None,
            layers: (2 * column, last),
            home: last,
            backward: false,
        },
        (Some((a, from)), Some((b, to))) => {
            let ((left, low), (right, high)) =
                if from < to { ((a, from), (b, to)) } else { ((b, to), (a, from)) };
            if low == high {
                return None;
            }
            LayerPath {
                left: Some(left),
                right: Some(right),
                layers: (2 * low, 2 * high - 2),
                home: 2 * low,
                backward: from > to,
            }
        }
    };
    Some(way)
}

/// Column of each room: one more than the rooms that lead to it. Where channels go round in a circle, the one that would close it
/// counts the other way (depth-first search).
fn columns(rooms: usize, inner: &[(usize, usize)]) -> Vec<usize> {
    #[derive(Clone, Copy, PartialEq)]
    enum VisitState {
        Not,
        Open,
        Done,
    }
    fn visit(
        room: usize,
        inner: &[(usize, usize)],
        seen: &mut [VisitState],
        forward: &mut [Option<(usize, usize)>],
    ) {
        seen[room] = VisitState::Open;
        for (index, (a, b)) in inner.iter().enumerate() {
            if *a != room || forward[index].is_some() {
                continue;
            }
            if seen[*b] == VisitState::Open {
                forward[index] = Some((*b, *a));
            } else {
                forward[index] = Some((*a, *b));
                if seen[*b] == VisitState::Not {
                    visit(*b, inner, seen, forward);
                }
            }
        }
        seen[room] = VisitState::Done;
    }
    let mut seen = vec![VisitState::Not; rooms];
    let mut forward = vec![None; inner.len()];
    for room in 0..rooms {
        if seen[room] == VisitState::Not {
            visit(room, inner, &mut seen, &mut forward);
        }
    }
    let mut column = vec![1; rooms];
    // no circle is left, so that as many rounds as there are rooms settle it
    for _ in 0..rooms {
        for (a, b) in forward.iter().flatten() {
            column[*b] = column[*b].max(column[*a] + 1);
        }
    }
    column
}

#[cfg(test)]
mod tests {
    use super::columns;

    #[test]
    fn rooms_stand_behind_those_that_feed_them() {
        assert_eq!(columns(3, &[(0, 1), (1, 2), (0, 2)]), [1, 2, 3]);
        assert_eq!(columns(3, &[(2, 0), (2, 1)]), [2, 2, 1]);
    }

    #[test]
    fn a_circle_is_cut_open() {
        let found = columns(3, &[(0, 1), (1, 2), (2, 0)]);
        assert_eq!(found, [1, 2, 3]);
        let both_ways = columns(2, &[(0, 1), (1, 0)]);
        assert_eq!(both_ways, [1, 2]);
    }
}
