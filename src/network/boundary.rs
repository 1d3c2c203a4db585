//! What drives a network at one moment.

use super::topology::Network;
use crate::element::FreeStream;
use crate::element::law::SMOOTHING_SPEED;

/// The air as a whole, the same in every passage.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gas {
    /// R/p (m³/(kg K)).
    pub volume_per_kelvin: f64,
    /// Heat capacity (J/(kg K)).
    pub heat_capacity: f64,
    /// Density of the day's air (kg/m³).
    pub density: f64,
    /// Speed below which the laws are smooth (m/s).
    pub smooth_below: f64,
}

/// What fixes the flow of a passage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FlowConstraint {
    /// The pressures at its ends.
    Free,
    /// A given mass flow (kg/s).
    Fixed(f64),
    /// A given volume flow (m³/s) at the passage's end.
    Volume(f64),
}

/// The boundary conditions of a network at one operating point: air, heat, flow constraints.
#[derive(Clone, Debug)]
pub struct BoundaryConditions {
    pub(super) gas: Gas,
    /// Ambient pressure (Pa).
    pub pressure: f64,
    /// Temperature of the day's air (K).
    pub day_temperature: f64,
    /// Temperature of the air brought to rest (K).
    pub total_temperature: f64,
    /// Heat offered to each part at its reference temperature (W).
    pub part_heat: Vec<f64>,
    /// Heat given to each chamber (W).
    pub chamber_heat: Vec<f64>,
    /// What fixes each passage's flow.
    pub constraint: Vec<FlowConstraint>,
    /// For each part a conductance (W/K) to a held temperature (K): nothing when steady.
    pub held: Vec<(f64, f64)>,
    /// The same for each chamber.
    pub(super) held_chambers: Vec<(f64, f64)>,
    /// Flows that passages are held to (kg/s), and how strongly (m/s): nothing when steady.
    pub(super) held_flows: Vec<f64>,
    pub(super) inertia: f64,
    /// How much of a tee's law is taken, the rest being a plain resistance: all of it in a solution.
    pub(super) tees: f64,
}

impl BoundaryConditions {
    /// The air of a moment, without heat, every passage free.
    pub fn new(free_stream: &FreeStream, network: &Network) -> BoundaryConditions {
        BoundaryConditions {
            gas: Gas {
                volume_per_kelvin: free_stream.volume_per_kelvin,
                heat_capacity: free_stream.air.heat_capacity,
                density: free_stream.air.density(),
                smooth_below: SMOOTHING_SPEED,
            },
            pressure: free_stream.air.pressure,
            day_temperature: free_stream.air.temperature,
            total_temperature: free_stream.total_temperature,
            part_heat: vec![0.0; network.parts.len()],
            chamber_heat: vec![0.0; network.chambers.len()],
            constraint: vec![FlowConstraint::Free; network.passages.len()],
            held: vec![(0.0, 0.0); network.parts.len()],
            held_chambers: vec![(0.0, 0.0); network.chambers.len()],
            held_flows: vec![0.0; network.passages.len()],
            inertia: 0.0,
            tees: 1.0,
        }
    }

    /// Sets the air of another operating point; heat and flow constraints are the caller's to set.
    pub fn set_air(&mut self, free_stream: &FreeStream) {
        self.gas = Gas {
            volume_per_kelvin: free_stream.volume_per_kelvin,
            heat_capacity: free_stream.air.heat_capacity,
            density: free_stream.air.density(),
            smooth_below: SMOOTHING_SPEED,
        };
        self.pressure = free_stream.air.pressure;
        self.day_temperature = free_stream.air.temperature;
        self.total_temperature = free_stream.total_temperature;
    }

    #[inline]
    pub(super) fn storage(&self, part: usize, temperature: f64) -> (f64, f64) {
        let (conductance, held) = self.held[part];
        (conductance * (held - temperature), -conductance)
    }
}
