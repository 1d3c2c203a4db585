//! A fan, driven by the engine, at a speed of its own, or standing.

use super::figure::{ElementFigure, axis, chart, curve};
use super::size::{AREA, BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, WIDTH};
pub use super::wheel::CURVE_IS;
use super::wheel::{self, FLOW_FACTOR, HEAD_FACTOR, MEASURED, WHEEL, WHEEL_DIAMETER};
use super::written::WrittenElement;
use super::{
    AreaContinuity, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push,
    Resistance, Response, Role, Sign, law,
};
use crate::correlations::wheels;
use crate::keys::{Key, Kind, Range, Rule, RuleWords, ValueShape, View};
use crate::numerics::monotone_cubic::MonotoneCubic;

/// The most that a fan may push (Pa) at the speed that it is turned to: ten atmospheres. Air is reckoned at one density
/// through a fan, which is far off long before, and warned of; from here on it is a slip of the pen.
pub const HIGHEST_RISE: f64 = 1e6;
/// Pressure rise against volume flow.
pub const CURVE: Key = Key::open("curve", ValueShape::Pairs(Kind::VolumeFlow, Kind::Pressure), "points of pressure rise against volume flow at the reference speed and density, at least two; wheel where there is no curve").within(Range::between(-50_000.0, 50_000.0))
.rules(&[
    Rule::OneOf(&["curve", "wheel"]),
    Rule::Told(
        &Rule::AtLeastOne(&["curve", "wheel"]),
        &RuleWords::new(
            "fan-curve-or-wheel",
            "{table} says neither its curve nor its wheel",
            r#"give curve and reference_speed, as its maker or a bench has them; or wheel = "axial" (or backward-curved, radial, forward-curved) with its diameter, for the usual curve of its kind"#,
        ),
    ),
    Rule::Needs("curve", &["reference_speed"]),
    Rule::Instead(&[&["curve", "reference_speed", "reference_density"], &["wheel"]]),
]);
/// Speed of the curve.
pub const REFERENCE_SPEED: Key = Key::optional(
    "reference_speed",
    Kind::RotationalSpeed,
    Range::above(0.0, 200_000.0),
    "fan speed at which the curve holds; needed with a curve",
)
.also(&["rpm", "rated_speed"]);
/// Density of the curve.
pub const REFERENCE_DENSITY: Key = Key::default(
    "reference_density",
    Kind::Density,
    (1.2, 1.15, 1.25),
    Range::between(0.3, 2.0),
    "standard air of fan makers, 1.2 kg/m3 (ISO 5801; from memory)",
    "air density at which the curve holds; the maker's sheet, or the day's air when it was measured",
)
.rules(&[Rule::ReplacedBy(&["wheel"])]);
/// A fan that nothing turns, or more than one thing.
const ONE_DRIVE: RuleWords = RuleWords::new(
    "fan-drive",
    "{table}: a fan needs exactly one of drive_ratio, pulleys, speed and off = true",
    "give drive_ratio for a fan on the engine, speed for an electric one",
);
/// Fan speed over engine speed.
pub const DRIVE_RATIO: Key =
    Key::optional("drive_ratio", Kind::Ratio, Range::between(0.1, 10.0), "fan speed over engine speed")
        .also(&["speed_ratio", "ratio", "gear_ratio", "belt", "belt_ratio"])
        .rules(&[
            Rule::Told(&Rule::OneOf(&["drive_ratio", "pulleys", "speed"]), &ONE_DRIVE),
            Rule::Told(&Rule::AtLeastOne(&["drive_ratio", "pulleys", "speed", "off"]), &ONE_DRIVE),
            Rule::Instead(&[&["drive_ratio"], &["pulleys"], &["speed"], &["off"]]),
        ]);
const ENGINE_PULLEY: Key =
    Key::required("engine", Kind::Length, Range::above(0.0, 2.0), "diameter of the pulley on the engine");
const FAN_PULLEY: Key =
    Key::required("fan", Kind::Length, Range::above(0.0, 2.0), "diameter of the pulley on the fan");
/// Pulley diameters.
pub const PULLEYS: Key = Key::open(
    "pulleys",
    ValueShape::Table(&[ENGINE_PULLEY, FAN_PULLEY]),
    "pulley diameters { engine, fan }, instead of drive_ratio",
);
/// A speed of its own.
pub const SPEED: Key = Key::optional(
    "speed",
    Kind::RotationalSpeed,
    Range::NOT_NEGATIVE,
    "a speed of its own, as of an electric fan",
);
/// A fan that stands.
pub const OFF: Key = Key::open("off", ValueShape::Flag, "true: the fan stands");
/// Highest speed.
pub const TOP_SPEED: Key = Key::optional(
    "top_speed",
    Kind::RotationalSpeed,
    Range::POSITIVE,
    "speed beyond which the drive slips or the motor is limited",
);
/// Loss coefficient of the standing fan.
pub const OFF_LOSS: Key = Key::optional(
    "off_loss",
    Kind::Ratio,
    Range::between(3.0, 30.0),
    "loss coefficient of the standing fan on its area; 10 where it stands and none is given (from memory)",
);
/// Efficiency of the blades.
pub const EFFICIENCY: Key = Key::default(
    "efficiency",
    Kind::Share,
    (0.45, 0.3, 0.6),
    Range::between(0.2, 0.7),
    "small axial and centrifugal fans, 30 to 60 % (from memory)",
    "air power over shaft power; an electric fan's volts times amperes against pressure times flow",
);
/// Loss coefficient of a standing fan where none is given.
pub const DEFAULT_OFF_LOSS: f64 = 10.0;

/// Factor on a fan's pressure away from the speed and the density of its curve.
///
/// ```text
///   (n/n₀)² ρ/ρ₀
/// ```
///
/// n/n₀ = `speed_ratio`, ρ/ρ₀ = `density_ratio`; at the flow Q n/n₀.
/// Source: affinity laws of fans, any handbook.
#[inline]
pub fn affinity(speed_ratio: f64, density_ratio: f64) -> f64 {
    speed_ratio * speed_ratio * density_ratio
}

/// A fan.
pub const KIND: ElementKind = ElementKind {
    name: "fan",
    also: &["blower"],
    sign: Some(Sign::Fan),
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Guarded,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        AREA,
        WIDTH,
        HEIGHT,
        DIAMETER,
        COUNT,
        CURVE,
        REFERENCE_SPEED,
        REFERENCE_DENSITY,
        DRIVE_RATIO,
        PULLEYS,
        SPEED,
        OFF,
        TOP_SPEED,
        CURVE_IS,
        OFF_LOSS,
        EFFICIENCY,
        WHEEL,
        WHEEL_DIAMETER,
        MEASURED,
        HEAD_FACTOR,
        FLOW_FACTOR,
    ],
    summary: "A fan by its curve and the affinity laws: push (n/n₀)² (ρ/ρ₀) F(Q n₀/n). Beyond the curve's ends it goes on with the end's slope, and as a resistance where off_loss is given. The blades' waste heats the air. Without a curve the usual one of its wheel is taken: ψ = Δp/(½ρU²) against φ = Q/(U π D²/4), U the speed of the tips; through one measured point where there is one.",
    range: "Speeds near the curve's own; a warning above 1.3 × the reference speed. A wheel's usual curve: 80 to 600 mm, Reynolds number U D/ν above 100 000, tips up to 120 m/s.",
    source: "affinity laws of fans (any handbook of fans; ISO 5801 conventions, from memory); monotone cubic: Fritsch & Butland (1984); usual curves of wheels: general handbooks of fans, from memory",
    example: r#"{ kind = "fan", drive_ratio = 1.6, reference_speed = "7000 rpm", curve = [["0 m3/s", "1200 Pa"], ["0.3 m3/s", "800 Pa"], ["0.5 m3/s", "0 Pa"]] }"#,
    further_examples: &[
        r#"{ kind = "fan", wheel = "axial", diameter = "230 mm", speed = "2900 rpm" }"#,
        r#"{ kind = "fan", wheel = "forward-curved", wheel_diameter = "160 mm", width = "110 mm", height = "90 mm", drive_ratio = 1.2, curve_is = "static", measured = { flow = "0.12 m3/s", pressure = "350 Pa", speed = "2800 rpm" } }"#,
    ],
    sides: None,
    words: include_str!("fan.md"),
    figures: &[("", figure), ("wheels", wheel::usual_curves)],
    checks: &[check],
    build,
};

/// What turns a fan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drive {
    /// The engine, by a ratio.
    Engine(f64),
    /// A motor of its own (rev/min).
    Own(f64),
    /// Nothing.
    Off,
}

/// What a condition tells a fan.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum FanSetting {
    /// Nothing: it turns as its element says.
    #[default]
    AsSet,
    /// To stand.
    Off,
    /// To turn at a speed of its own (rev/min).
    Speed(f64),
}

impl FanSetting {
    /// From the word of a case that was read.
    pub fn of(word: &str) -> FanSetting {
        match (word, word.parse()) {
            ("off", _) => FanSetting::Off,
            (_, Ok(speed)) => FanSetting::Speed(speed),
            _ => FanSetting::AsSet,
        }
    }
}

#[derive(Clone, Debug)]
pub struct FanLaw {
    curve: MonotoneCubic,
    drive: Drive,
    told: FanSetting,
    top_speed: f64,
    reference_speed: f64,
    reference_density: f64,
    known_at: Option<f64>,
    usual: bool,
    efficiency: f64,
    diameter: Option<f64>,
    area_of_one: Option<f64>,
    pieces: f64,
    beyond: f64,
    standing: Option<Resistance>,
    speed: f64,
}

/// A fan that stands is driven by nothing: off counts by its value, which no rule between keys looks at.
fn check(written: &mut WrittenElement) {
    let element = written.values();
    let drives = [&DRIVE_RATIO, &PULLEYS, &SPEED].into_iter().filter(|key| element.written(key)).count();
    if element.has(&OFF) && drives == usize::from(element.flag(&OFF)) {
        written.fault_in_words(&ONE_DRIVE, element.place_of(&OFF));
    }
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let area = context.size.map(|s| s.area);
    let is_static = view.values.text(&CURVE_IS) == Some("static");
    let shape = view.values.text(&WHEEL).and_then(wheels::wheel);
    let found = match shape {
        Some(shape) => Some(wheel::found(context, view, shape, is_static)?),
        None => None,
    };
    let mut points = found.as_ref().map_or_else(|| view.pairs(&CURVE), |found| found.points.clone());
    let reference_speed = found.as_ref().map_or_else(|| view.required(&REFERENCE_SPEED), |found| found.speed);
    let reference_density =
        found.as_ref().map_or_else(|| view.required(&REFERENCE_DENSITY), |found| found.density);
    if is_static && found.is_none() {
        let Some(area) = area else {
            context.fault(
                "fan-size-needed",
                Some(&CURVE_IS),
                "a curve of static pressure needs the outlet's size".into(),
                r#"give diameter = "210 mm", or a curve of total pressure"#.into(),
            );
            return None;
        };
        for point in &mut points {
            point.1 += 0.5 * reference_density * (point.0 / area).powi(2);
        }
    }
    if let Some(pair) = points.windows(2).find(|pair| pair[1].0 > pair[0].0 && pair[1].1 > pair[0].1) {
        context.fault(
            "fan-curve-rises",
            Some(&CURVE),
            format!(
                "the total pressure rises with flow, from {:.0} Pa at {:.3} m3/s to {:.0} Pa at {:.3} m3/s",
                pair[0].1, pair[0].0, pair[1].1, pair[1].0
            ),
            "leave out the points left of the curve's summit: the fan would surge there".into(),
        );
        return None;
    }
    let Some(curve) = MonotoneCubic::new(&points) else {
        context.fault(
            "fan-curve-points",
            Some(&CURVE),
            "a curve needs at least two points with rising volume flow".into(),
            r#"write curve = [["0 m3/s", "900 Pa"], ["0.4 m3/s", "0 Pa"]]"#.into(),
        );
        return None;
    };
    let pulleys = view.table(&PULLEYS).map(|p| p.required(&ENGINE_PULLEY) / p.required(&FAN_PULLEY));
    let drives: Vec<Drive> = [
        view.number(&DRIVE_RATIO).map(Drive::Engine),
        pulleys.map(Drive::Engine),
        view.number(&SPEED).map(Drive::Own),
        view.values.flag(&OFF).then_some(Drive::Off),
    ]
    .into_iter()
    .flatten()
    .collect();
    // the case reader has made sure that there is one
    let [drive] = drives[..] else { return None };
    if let Drive::Engine(ratio) = drive {
        if !(0.1..=10.0).contains(&ratio) {
            context.fault(
                "fan-ratio-beyond-range",
                Some(&PULLEYS),
                format!("the pulleys give {ratio:.2} fan turns for one of the engine; 0.1 to 10 is accepted"),
                "check the diameters' units".into(),
            );
            return None;
        }
        if ratio < 1.0 {
            context.warn("fan-slower-than-engine", None, || {
                (
                    format!("the fan turns {ratio:.2} times for one turn of the engine"),
                    "check that the pulleys, or the ratio, are not upside down".into(),
                )
            });
        }
    }
    let off_loss = view.number(&OFF_LOSS);
    if off_loss.is_some() && area.is_none() {
        context.fault(
            "fan-size-needed",
            Some(&OFF_LOSS),
            "off_loss stands on the fan's area, and the fan has no size".into(),
            r#"give diameter = "210 mm""#.into(),
        );
        return None;
    }
    if drive == Drive::Off && area.is_none() {
        context.warn("standing-fan-without-size", None, || {
            (
                "the fan stands and has no size, so that it costs no pressure".into(),
                r#"give diameter = "210 mm"; a standing fan costs about ten velocity heads on its area"#
                    .into(),
            )
        });
    }
    let standing =
        area.map(|a| Resistance::constant(off_loss.unwrap_or(DEFAULT_OFF_LOSS), a * context.pieces));
    // beyond its curve it goes over into the standing wheel, so that it slows to a stop without a jump
    let beyond =
        area.map_or(0.0, |a| off_loss.unwrap_or(DEFAULT_OFF_LOSS) * reference_density / (2.0 * a * a));
    Some(Law::FanLaw(FanLaw {
        curve,
        drive,
        told: FanSetting::AsSet,
        top_speed: view.number(&TOP_SPEED).unwrap_or(f64::INFINITY),
        reference_speed,
        reference_density,
        known_at: (view.values.text(&WHEEL).is_none() || view.values.has(&MEASURED))
            .then_some(reference_speed),
        usual: shape.is_some(),
        efficiency: view.required(&EFFICIENCY),
        diameter: wheel::diameter(view),
        area_of_one: area,
        pieces: context.pieces,
        beyond,
        standing,
        speed: 0.0,
    }))
}

impl FanLaw {
    /// Fan speed (rev/min) at an engine speed (rev/min).
    pub fn speed_at(&self, rpm: f64) -> f64 {
        match (self.told, self.drive) {
            (FanSetting::Off, _) => return 0.0,
            (FanSetting::Speed(speed), _) => return speed,
            (FanSetting::AsSet, _) => {}
        }
        match self.drive {
            Drive::Engine(ratio) => (ratio * rpm).min(self.top_speed),
            Drive::Own(speed) => speed,
            Drive::Off => 0.0,
        }
    }

    /// Tells it what to do.
    pub fn tell(&mut self, told: FanSetting) {
        self.told = told;
    }

    /// Total pressure (Pa) at a speed (rev/min) against which no air moves, in air of the reference density.
    pub fn shut_off(&self, speed: f64) -> f64 {
        affinity(speed / self.reference_speed, 1.0) * self.reference_rise(0.0).0
    }

    /// What turns it.
    pub fn drive(&self) -> Drive {
        self.drive
    }

    /// Speed of the curve (rev/min).
    pub fn reference_speed(&self) -> f64 {
        self.reference_speed
    }

    /// A speed over the one at which anything was measured; none for a wheel's usual curve.
    pub fn over_reference(&self, speed: f64) -> Option<f64> {
        self.known_at.map(|known| speed / known)
    }

    /// Diameter of a wheel (m) whose usual curve was taken.
    pub fn usual_of(&self) -> Option<f64> {
        self.diameter.filter(|_| self.usual)
    }

    /// First and last flow of the curve (m³/s), at the reference speed.
    pub fn reaches(&self) -> (f64, f64) {
        (self.curve.first().0, self.curve.last().0)
    }

    /// Air and shaft power (W): flow times pressure as far as it pushes, and that over the efficiency.
    pub fn power(&self, response: &Response) -> (f64, f64) {
        (response.air_power, response.air_power / self.efficiency)
    }

    /// Efficiency of the blades.
    pub fn efficiency(&self) -> f64 {
        self.efficiency
    }

    /// Speed of the blade tips (m/s) at a fan speed (rev/min), where the diameter is known.
    pub fn tip_speed(&self, speed: f64) -> Option<f64> {
        self.diameter.map(|d| std::f64::consts::PI * d * speed / 60.0)
    }

    /// Rise of total pressure (Pa) and its slope at the reference speed and density.
    fn reference_rise(&self, volume_flow: f64) -> (f64, f64) {
        let (first, first_rise, first_slope) = self.curve.first();
        let (last, last_rise, last_slope) = self.curve.last();
        if volume_flow > last {
            let beyond = volume_flow - last;
            (
                last_rise + last_slope * beyond - self.beyond * beyond * beyond,
                last_slope - 2.0 * self.beyond * beyond,
            )
        } else if volume_flow < first {
            let before = volume_flow - first;
            (
                first_rise + first_slope * before + self.beyond * before * before,
                first_slope + 2.0 * self.beyond * before,
            )
        } else {
            self.curve.value_and_slope(volume_flow)
        }
    }
}

impl ElementLaw for FanLaw {
    fn prepare(&mut self, free_stream: &FreeStream, _taped: f64) {
        self.speed = self.speed_at(free_stream.rpm);
    }

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        if self.speed <= 0.0 {
            if let Some(standing) = &self.standing {
                standing.add_to(&mut response, stream, temperature);
            }
            return response;
        }
        let volume = stream.volume_per_kelvin * temperature;
        let ratio = self.speed / self.reference_speed;
        let per_flow = volume / (self.pieces * ratio);
        let reduced = stream.flow * per_flow;
        let (rise, slope) = self.reference_rise(reduced);
        let scale = affinity(ratio, 1.0 / (volume * self.reference_density));
        response.push = scale * rise;
        response.rise_by_flow = scale * slope * per_flow;
        response.rise_by_temperature = scale * (slope * reduced - rise) / temperature;
        if stream.flow > 0.0 && rise > 0.0 {
            // ΔT = push/(ρ cp η), eased in from rest
            let ease = stream.flow / stream.magnitude;
            let ease_slope = (1.0 - ease * stream.magnitude_slope) / stream.magnitude;
            let heating = ratio * ratio / (self.reference_density * stream.heat_capacity * self.efficiency);
            response.outlet += heating * rise * ease;
            response.outlet_by_flow = heating * (slope * per_flow * ease + rise * ease_slope);
            response.outlet_by_temperature += heating * ease * slope * reduced / temperature;
            response.air_power = stream.flow * volume * response.push;
        }
        response
    }

    fn area(&self) -> Option<f64> {
        self.area_of_one
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }

    fn nominal_area(&self) -> Option<f64> {
        Some(self.pieces * self.curve.last().0 / law::REFERENCE_SPEED)
    }
}

/// The fan of an example, at three speeds.
fn figure() -> Option<ElementFigure> {
    let points = [(0.0, 1390.0), (0.16, 1210.0), (0.3, 760.0), (0.42, 0.0)];
    let law = MonotoneCubic::new(&points)?;
    let of_speed = |ratio: f64| {
        let law = law.clone();
        curve(format!("{:.0} % of its speed", 100.0 * ratio), (0.0, 0.42 * ratio), move |flow| {
            ratio * ratio * law.value_and_slope(flow / ratio).0
        })
    };
    Some(chart(
        "One curve carried to other speeds",
        axis("Volume flow", "m³/s"),
        axis("Rise of total pressure", "Pa"),
        [1.2, 1.0, 0.7].map(of_speed).into(),
        "An invented fan. Half the speed: half the flow, a quarter of the pressure.",
    ))
}
