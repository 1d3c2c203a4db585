//! What a law of a passage element takes and gives.
//!
//! Every law is a function of the passage's mass flow, the temperature of the air that enters the
//! element in its direction of motion, and (where it names one) of the part's temperature. It gives
//! pressures and the air's temperature behind it, each with slopes, so that the whole system can be
//! solved by Newton's method.

use super::free_stream::FreeStream;
use crate::air::transport::viscosity_and_slope;
use crate::correlations::LossCoefficient;
use crate::correlations::friction::friction_times_reynolds;
use crate::numerics::smooth;

/// The flow through a passage, made smooth near zero once for all its elements.
///
/// Losses grow with ṁ|ṁ|, whose slope vanishes at rest. |ṁ| is therefore made smooth below the flow at
/// [`SMOOTHING_SPEED`] through the passage's smallest area; see [`crate::numerics::smooth`].
#[derive(Clone, Copy, Debug)]
pub struct PassageStream {
    /// Mass flow ṁ, positive from the passage's `from` to its `to` (kg/s).
    pub flow: f64,
    /// Smooth |ṁ| (kg/s), never zero.
    pub magnitude: f64,
    /// Slope of `magnitude` with ṁ.
    pub magnitude_slope: f64,
    /// ṁ times `magnitude` (kg²/s²).
    pub square: f64,
    /// Slope of `square` with ṁ.
    pub square_slope: f64,
    /// Whether the air moves from `from` to `to`.
    pub forward: bool,
    /// Specific volume per kelvin R/p (m³/(kg K)).
    pub volume_per_kelvin: f64,
    /// Heat capacity of the air (J/(kg K)).
    pub heat_capacity: f64,
}

/// Speed below which the laws are smooth instead of exact (m/s).
pub const SMOOTHING_SPEED: f64 = 0.02;

/// Speed at which air commonly runs at reference figures (m/s).
pub const REFERENCE_SPEED: f64 = 10.0;

impl PassageStream {
    /// The stream at a mass flow, smooth below `scale` (kg/s).
    #[inline]
    pub fn new(flow: f64, scale: f64, volume_per_kelvin: f64, heat_capacity: f64) -> PassageStream {
        let (magnitude, magnitude_slope) = smooth::magnitude(flow, scale);
        PassageStream {
            flow,
            magnitude,
            magnitude_slope,
            square: flow * magnitude,
            square_slope: magnitude + flow * magnitude_slope,
            forward: flow >= 0.0,
            volume_per_kelvin,
            heat_capacity,
        }
    }
}

/// What an element does to the air, with slopes.
///
/// Pressures are counted from the passage's `from` to its `to`; temperatures in the direction of
/// motion.
#[derive(Clone, Copy, Debug, Default)]
pub struct Response {
    /// What drives the air from `from` to `to` (Pa).
    pub push: f64,
    /// Fall of total pressure from `from` to `to`; negative when the air runs back (Pa).
    pub drop: f64,
    /// Slope of push − drop with the mass flow (Pa s/kg).
    pub rise_by_flow: f64,
    /// Slope of push − drop with the entering temperature (Pa/K).
    pub rise_by_temperature: f64,
    /// Slope of push − drop with the part's temperature (Pa/K).
    pub rise_by_part: f64,
    /// Temperature of the air behind the element (K).
    pub outlet: f64,
    /// Slope of `outlet` with the mass flow (K s/kg).
    pub outlet_by_flow: f64,
    /// Slope of `outlet` with the entering temperature.
    pub outlet_by_temperature: f64,
    /// Slope of `outlet` with the part's temperature.
    pub outlet_by_part: f64,
    /// Power put into the air by a fan's blades (W).
    pub air_power: f64,
}

impl Response {
    /// An element that leaves the air's temperature as it is.
    #[inline]
    pub fn passing(temperature: f64) -> Response {
        Response { outlet: temperature, outlet_by_temperature: 1.0, ..Response::default() }
    }
}

/// The area into which a passage's air discharges where an element is its last along the motion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Discharge {
    /// The element has no area; the one before it counts.
    Unknown,
    /// An area (m²), all pieces together.
    Area(f64),
    /// The element's own loss already holds the velocity head.
    Included,
}

/// A push and a resistance that do not depend on anything but the flow and the density, so that
/// neighbours of this kind can be taken together.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lump {
    /// K/2A² of the air from `from` to `to` (1/m⁴).
    pub forward: f64,
    /// K/2A² of the air running back (1/m⁴).
    pub backward: f64,
    /// What drives the air from `from` to `to` (Pa).
    pub push: f64,
    /// Sum of the pushes without sign (Pa).
    pub push_size: f64,
}

impl Lump {
    /// Both together.
    pub fn and(self, other: Lump) -> Lump {
        Lump {
            forward: self.forward + other.forward,
            backward: self.backward + other.backward,
            push: self.push + other.push,
            push_size: self.push_size + other.push_size,
        }
    }
}

/// The law of one element.
pub trait ElementLaw {
    /// Takes up what does not change while one moment is solved. `taped` is the share of the
    /// element's opening that is blanked.
    fn prepare(&mut self, free_stream: &FreeStream, taped: f64);

    /// What the element does at a flow, entering temperature (K) and part temperature (K).
    ///
    /// `#[inline(always)]` on each: its numbers then stay in registers where a passage is followed. Handed over in memory they are
    /// read in pairs just after they were written one by one, for which a processor waits: a tenth of a solution.
    fn respond(&self, stream: &PassageStream, temperature: f64, part: f64) -> Response;

    /// Open area of one piece (m²), after tape and louvres; the smaller of an area change.
    fn area(&self) -> Option<f64>;

    /// How many pieces stand side by side in the whole passage.
    fn pieces(&self) -> f64;

    /// Areas of one piece (m²) where air enters and leaves it going forward, untaped, as its neighbours meet
    /// them; infinite towards a chamber.
    fn ends(&self) -> Option<(f64, f64)> {
        self.area().map(|area| (area, area))
    }

    /// Area of all pieces (m²) that stands for the size of its passage where no element of it has one: that of air
    /// which moves at [`REFERENCE_SPEED`] at the flow of its reference figures.
    fn nominal_area(&self) -> Option<f64> {
        None
    }

    /// The element as a lump, where it is one at the moment prepared for.
    fn lump(&self) -> Option<Lump> {
        None
    }

    /// Where the air discharges when it leaves the passage through this element.
    fn discharge(&self, _forward: bool) -> Discharge {
        self.area().map_or(Discharge::Unknown, |a| Discharge::Area(a * self.pieces()))
    }
}

/// A resistance with loss coefficients of its own in each direction.
///
/// ```text
///   Δp = K ½ ṁ²/(ρ A²),   K = fixed + per_friction · f(Re, e/d),   Re = ṁ d/(A μ)
/// ```
///
/// A (m²) is the area on which K stands, all pieces together; f the Darcy friction factor of
/// Churchill (1977).
#[derive(Clone, Copy, Debug)]
pub struct Resistance {
    /// Loss coefficient from `from` to `to`.
    pub forward: LossCoefficient,
    /// Loss coefficient of the air running back.
    pub backward: LossCoefficient,
    /// Area of all pieces (m²).
    pub area: f64,
    /// Diameter in the Reynolds number and the relative roughness (m).
    pub diameter: f64,
    /// Roughness over diameter.
    pub relative_roughness: f64,
}

impl Resistance {
    /// The same constant coefficient both ways.
    pub fn constant(k: f64, area: f64) -> Resistance {
        Resistance::two_way(k, k, area)
    }

    /// A constant coefficient each way.
    pub fn two_way(forward: f64, backward: f64, area: f64) -> Resistance {
        Resistance {
            forward: LossCoefficient { fixed: forward, per_friction: 0.0 },
            backward: LossCoefficient { fixed: backward, per_friction: 0.0 },
            area,
            diameter: 1.0,
            relative_roughness: 0.0,
        }
    }

    /// The resistance and a push as a lump, where no friction factor is in it.
    pub fn lump(&self, push: f64) -> Option<Lump> {
        let per_area = 0.5 / (self.area * self.area);
        (self.forward.per_friction == 0.0 && self.backward.per_friction == 0.0).then(|| Lump {
            forward: self.forward.fixed * per_area,
            backward: self.backward.fixed * per_area,
            push,
            push_size: push.abs(),
        })
    }

    /// Adds its drop and slopes to a response.
    #[inline(always)]
    pub fn add_to(&self, response: &mut Response, stream: &PassageStream, temperature: f64) {
        let k = if stream.forward { self.forward } else { self.backward };
        let per_area = 0.5 / (self.area * self.area);
        let unit = k.fixed * per_area * stream.volume_per_kelvin;
        let per_kelvin = unit * stream.square;
        response.drop += per_kelvin * temperature;
        response.rise_by_flow -= unit * temperature * stream.square_slope;
        response.rise_by_temperature -= per_kelvin;
        if k.per_friction != 0.0 {
            // f ṁ|ṁ| = (f Re) ṁ A μ/d: finite slope down to rest
            let (viscosity, viscosity_slope) = viscosity_and_slope(temperature);
            let per_speed = self.area / self.diameter;
            let reynolds = stream.flow.abs() / (per_speed * viscosity);
            let (product, slope) = friction_times_reynolds(reynolds, self.relative_roughness);
            let unit = k.per_friction * per_area * stream.volume_per_kelvin * per_speed;
            let scale = unit * temperature * viscosity;
            let per_kelvin = unit * stream.flow;
            response.drop += scale * stream.flow * product;
            response.rise_by_flow -= scale * (product + reynolds * slope);
            response.rise_by_temperature -= per_kelvin
                * (viscosity * product + temperature * (product - slope * reynolds) * viscosity_slope);
        }
    }
}

/// The law of an element that is nothing but a resistance of constant size.
#[derive(Clone, Debug)]
pub struct ConstantLoss {
    /// Area of one piece (m²).
    pub area_of_one: f64,
    /// How many pieces.
    pub pieces: f64,
    pub resistance: Resistance,
}

impl ElementLaw for ConstantLoss {
    fn prepare(&mut self, _moment: &FreeStream, _taped: f64) {}

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        self.resistance.add_to(&mut response, stream, temperature);
        response
    }

    fn area(&self) -> Option<f64> {
        Some(self.area_of_one)
    }

    fn lump(&self) -> Option<Lump> {
        self.resistance.lump(0.0)
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }
}
