//! From values to places on the picture, and round numbers to mark them with.

/// Values past this are drawn at this: their differences still fit a float.
const FARTHEST: f64 = 1e250;
/// Values nearer to nought than this are drawn as nought: smaller ones have lost digits.
const NEAREST: f64 = 1e-250;
/// Places on the picture past this are off it anyway, and nearer ones keep their digits.
const OFF_PICTURE: f64 = 1e7;

/// A value that can be drawn: finite, and small enough to take differences of.
pub(super) fn drawable(value: f64) -> Option<f64> {
    let value = if value.abs() < NEAREST { 0.0 } else { value };
    value.is_finite().then(|| value.clamp(-FARTHEST, FARTHEST))
}

/// One curve's unbroken runs of points.
pub(super) type Runs = Vec<Vec<(f64, f64)>>;

/// Points that can be drawn, broken where one is missing.
pub(super) fn runs(points: &[(f64, Option<f64>)]) -> Runs {
    let mut out: Runs = Vec::new();
    let mut run = Vec::new();
    for &(x, y) in points {
        match (drawable(x), y.and_then(drawable)) {
            (Some(x), Some(y)) => run.push((x, y)),
            _ => out.push(std::mem::take(&mut run)),
        }
    }
    out.push(run);
    out.retain(|run| !run.is_empty());
    out
}

/// Lowest and highest of some values, or nothing if there are none.
pub(super) fn span(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.fold(None, |so_far, value| {
        let (low, high) = so_far.unwrap_or((value, value));
        Some((low.min(value), high.max(value)))
    })
}

/// A range asked for, if it is one: finite, in order, and wide enough to draw.
pub(super) fn asked(range: Option<(f64, f64)>) -> Option<(f64, f64)> {
    let (a, b) = range?;
    let (a, b) = (drawable(a)?, drawable(b)?);
    Some(widened(a.min(b), a.max(b)))
}

/// The range itself, or one about it wide enough that floats within it differ.
pub(super) fn widened(low: f64, high: f64) -> (f64, f64) {
    let size = low.abs().max(high.abs());
    if high - low > size * 1e-9 && high - low > NEAREST {
        return (low, high);
    }
    let half = if size > 1e-240 { size * 0.1 } else { 1.0 };
    let middle = low / 2.0 + high / 2.0;
    (middle - half, middle + half)
}

/// A straight scale from a range of values to a range of places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    pub low: f64,
    pub high: f64,
    pub from: f64,
    pub to: f64,
}

impl Scale {
    pub(super) fn new(range: (f64, f64), from: f64, to: f64) -> Self {
        let (low, high) = widened(range.0, range.1);
        Self { low, high, from, to }
    }

    pub(super) fn at(&self, value: f64) -> f64 {
        let place = self.from + (value - self.low) / (self.high - self.low) * (self.to - self.from);
        place.clamp(-OFF_PICTURE, OFF_PICTURE)
    }

    pub(super) fn covers(&self, value: f64) -> bool {
        let slack = (self.high - self.low) * 1e-9;
        value >= self.low - slack && value <= self.high + slack
    }
}

/// Round values to mark an axis with, and how they are written.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Ticks {
    pub values: Vec<f64>,
    pub labels: Vec<String>,
    pub step: f64,
}

/// Round values within a range, about `wanted` of them.
///
/// ```text
/// step = m · 10^e, m one of 1, 2, 5: the smallest not under (high − low) / wanted
/// ```
pub(super) fn ticks(low: f64, high: f64, wanted: f64) -> Ticks {
    let least = (high - low) / wanted.max(1.0);
    if least <= 0.0 || !least.is_finite() {
        return Ticks::default();
    }
    let power = least.log10().floor();
    let decade = 10f64.powf(power);
    let fits = |part: &f64| *part * decade >= least * (1.0 - 1e-9);
    let part = [1.0, 2.0, 5.0].into_iter().find(fits).unwrap_or(10.0);
    let step = part * decade;
    let first = (low / step - 1e-9).ceil();
    let last = (high / step + 1e-9).floor();
    if !(last - first).is_finite() || last - first > 200.0 {
        return Ticks::default();
    }
    // Counted in whole steps, so that the tenth tick carries no sum of nine rounding errors.
    let counts: Vec<f64> = (0..=(last - first).max(0.0) as usize)
        .map(|i| first + i as f64)
        .filter(|count| *count <= last)
        .collect();
    let values: Vec<f64> = counts.iter().map(|count| count * step).collect();
    let labels = label_all(&values, power as i32 + i32::from(part == 10.0));
    Ticks { values, labels, step }
}

/// Steps of an axis of time (s): what a clock counts in.
const CLOCK: [f64; 15] =
    [1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 900.0, 1800.0, 3600.0, 7200.0, 14_400.0];

/// Round times within a range of seconds, about `wanted` of them, as minutes and seconds: "4:30".
pub(super) fn clock_ticks(low: f64, high: f64, wanted: f64) -> Ticks {
    let least = (high - low) / wanted.max(1.0);
    let Some(step) = CLOCK.into_iter().find(|step| *step >= least).filter(|_| least > 0.0) else {
        return ticks(low, high, wanted);
    };
    let first = (low / step - 1e-9).ceil() as i64;
    let last = (high / step + 1e-9).floor() as i64;
    let values: Vec<f64> = (first..=last).map(|count| count as f64 * step).collect();
    let labels = values.iter().map(|seconds| clock(*seconds)).collect();
    Ticks { values, labels, step }
}

fn clock(seconds: f64) -> String {
    let whole = seconds.abs().round() as u64;
    let sign = if seconds < 0.0 { "−" } else { "" };
    format!("{sign}{}:{:02}", whole / 60, whole % 60)
}

/// The range stretched to the next round number at either end where that is not far.
pub(super) fn rounded_near(low: f64, high: f64, wanted: f64) -> (f64, f64) {
    let (floor, ceiling) = rounded_out(low, high, wanted);
    let near = 0.4 * ticks(low, high, wanted).step;
    (if low - floor <= near { floor } else { low }, if ceiling - high <= near { ceiling } else { high })
}

/// A range ending on round numbers that holds `low` and `high`.
fn rounded_out(low: f64, high: f64, wanted: f64) -> (f64, f64) {
    let step = ticks(low, high, wanted).step;
    if step <= 0.0 {
        return (low, high);
    }
    let (a, b) = ((low / step + 1e-6).floor() * step, (high / step - 1e-6).ceil() * step);
    (a.min(low), b.max(high))
}

fn label_all(values: &[f64], digits_of_step: i32) -> Vec<String> {
    let largest = values.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
    if largest >= 1e6 || (largest > 0.0 && digits_of_step < -4) {
        let exponent = largest.log10().floor() as i32;
        let decimals = (exponent - digits_of_step).clamp(0, 9) as usize;
        return values.iter().map(|value| power_of_ten(*value, exponent, decimals)).collect();
    }
    let decimals = (-digits_of_step).max(0) as usize;
    values.iter().map(|value| number(*value, decimals)).collect()
}

/// A number with a true minus sign and thousands kept apart by a narrow space from 10 000 up.
pub(super) fn number(value: f64, decimals: usize) -> String {
    let plain = format!("{:.*}", decimals, value.abs());
    let (whole, rest) = plain.split_at(plain.find('.').unwrap_or(plain.len()));
    let mut out = String::new();
    // A value that rounds to nought is written without a sign.
    if value < 0.0 && plain.bytes().any(|b| (b'1'..=b'9').contains(&b)) {
        out.push('−');
    }
    for (place, digit) in whole.chars().enumerate() {
        if whole.len() > 4 && place > 0 && (whole.len() - place).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out.push_str(rest);
    out
}

fn power_of_ten(value: f64, exponent: i32, decimals: usize) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let factor = number(value / 10f64.powi(exponent), decimals);
    let raised: String = exponent
        .to_string()
        .chars()
        .map(|c| match c {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            c => c.to_digit(10).and_then(|digit| char::from_u32(0x2070 + digit)).unwrap_or(c),
        })
        .collect();
    format!("{factor}·10{raised}")
}

/// A value in words for the spoken description: four digits, no trailing noughts.
pub(super) fn spoken(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && !(1e-4..1e6).contains(&size) {
        return power_of_ten(value, size.log10().floor() as i32, 2);
    }
    let decimals = (3 - size.max(1e-4).log10().floor() as i32).clamp(0, 7) as usize;
    let text = number(value, decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
