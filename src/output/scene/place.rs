//! Room for labels: spread along a line, stacked in rows, or set down near a point where nothing else lies.

use super::geometry::{Point, Rect};

/// Centres for boxes along a line, as near to where they are wanted as they can be without touching.
///
/// Least squares under the order of the wanted places: with zᵢ = cᵢ − oᵢ, oᵢ the offset of box i in a tight stack, the boxes keep
/// clear if and only if z never falls, so z is the isotonic regression of the wanted zᵢ (pool adjacent violators), then held
/// within what the ends of the line allow.
///
/// Source: Barlow, Bartholomew, Bremner, Brunk (1972), Statistical Inference under Order Restrictions, ch. 1.
pub fn spread(boxes: &[(f64, f64)], low: f64, high: f64, gap: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by(|a, b| boxes[*a].0.total_cmp(&boxes[*b].0));
    spread_in_order(boxes, &order, low, high, gap)
}

/// The same for boxes whose order is settled: `order` names them from the first to the last.
pub fn spread_in_order(boxes: &[(f64, f64)], order: &[usize], low: f64, high: f64, gap: f64) -> Vec<f64> {
    let mut offsets = Vec::with_capacity(order.len());
    let mut reach = 0.0;
    for &i in order {
        offsets.push(reach + boxes[i].1 / 2.0);
        reach += boxes[i].1 + gap;
    }
    let slack = (high - low - (reach - gap)).max(0.0);
    // Pools of boxes pushed against each other: sum of wanted z, and how many.
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (&i, offset) in order.iter().zip(&offsets) {
        pools.push((boxes[i].0 - low - offset, 1));
        while let [.., (a, m), (b, n)] = pools[..] {
            if a / m as f64 <= b / n as f64 {
                break;
            }
            pools.truncate(pools.len() - 2);
            pools.push((a + b, m + n));
        }
    }
    let mut centres = vec![0.0; boxes.len()];
    let mut next = 0;
    for (sum, count) in pools {
        let shift = (sum / count as f64).clamp(0.0, slack);
        for _ in 0..count {
            centres[order[next]] = low + shift + offsets[next];
            next += 1;
        }
    }
    centres
}

/// A row for each interval such that none in a row overlap; the first row that has room.
pub fn rows(intervals: &[(f64, f64)], gap: f64) -> Vec<usize> {
    let mut taken: Vec<Vec<(f64, f64)>> = Vec::new();
    intervals
        .iter()
        .map(|&(low, high)| {
            let clear =
                |row: &Vec<(f64, f64)>| row.iter().all(|other| high + gap <= other.0 || low - gap >= other.1);
            let row = taken.iter().position(clear).unwrap_or_else(|| {
                taken.push(Vec::new());
                taken.len() - 1
            });
            taken[row].push((low, high));
            row
        })
        .collect()
}

/// What labels inside a plot must keep off, and what they should.
#[derive(Debug, Clone)]
pub struct LabelRoom {
    /// Labels stay within this.
    pub frame: Rect,
    /// Never covered: texts and marks.
    pub taken: Vec<Rect>,
    /// Better not covered: points along the curves.
    pub lines: Vec<Point>,
}

/// A place for a label and how bad it is.
#[derive(Debug, Clone, Copy)]
pub struct LabelPlace {
    pub rect: Rect,
    /// Curve points beneath the label.
    pub covered: usize,
}

impl LabelRoom {
    fn covered(&self, rect: &Rect) -> usize {
        let rect = rect.grown(2.0);
        self.lines.iter().filter(|point| rect.holds(**point)).count()
    }

    fn free(&self, rect: &Rect) -> bool {
        let wide = rect.grown(2.0);
        self.frame.holds_rect(rect) && !self.taken.iter().any(|other| other.overlaps(&wide))
    }

    /// The best of some places, each with a price for lying there.
    pub fn best(&self, places: impl Iterator<Item = (Rect, f64)>) -> Option<LabelPlace> {
        let mut best: Option<(f64, LabelPlace)> = None;
        for (rect, price) in places {
            if best.is_some_and(|(least, _)| price >= least) || !self.free(&rect) {
                continue;
            }
            let covered = self.covered(&rect);
            let cost = price + covered as f64;
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, LabelPlace { rect, covered }));
            }
        }
        best.map(|(_, found)| found)
    }

    pub fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }
}

/// Places for a box about a point: in rings of growing distance, sixteen directions each, nearer ones cheaper.
pub fn around(
    point: Point,
    width: f64,
    height: f64,
    distances: &'static [f64],
) -> impl Iterator<Item = (Rect, f64)> {
    distances.iter().flat_map(move |&distance| {
        (0..16).map(move |turn| {
            let angle = f64::from(turn) * std::f64::consts::TAU / 16.0;
            let (sine, cosine) = angle.sin_cos();
            // The box touches the ring with the side or corner that faces the point.
            let centre = (
                point.0 + cosine * distance + side(cosine) * width / 2.0,
                point.1 - sine * distance - side(sine) * height / 2.0,
            );
            // Right of the point reads best, above and below next.
            let turn_price = [0.0, 0.1, 0.1, 0.3, 0.2][(turn.min(16 - turn) / 2) as usize];
            (Rect::centred(centre, width, height), distance * 0.09 + turn_price)
        })
    })
}

/// −1, 0 or 1 for the three thirds of the way, straight in between: boxes slide along the point instead of jumping.
fn side(part: f64) -> f64 {
    (part * 1.5).clamp(-1.0, 1.0)
}
