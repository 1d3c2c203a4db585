//! What a law is asked for by those who know no kinds: which it is, and what only some have.

use super::fins::Surface;
use super::sign::Sign;
use super::{
    AreaContinuity, ElementKind, Law, Role, bend, core, demand, diffuser, exit, fan, fins, flush_inlet, leak,
    ram_inlet, step, tee,
};
use crate::keys::word::words;

/// What drives air through an element where it pushes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Push {
    /// The stream, met head-on.
    Ram,
    /// The pressure on the body about an opening.
    Body,
    /// Its own work.
    Own,
}

words! {
    /// An edge of an opening from which tape is laid.
    pub enum TapedFrom {
        LowerEdge = "the lower edge",
        FrontEdge = "the front edge",
        Lip = "the lip",
        NextToSkin = "the edge next to the skin",
    }
}

words! {
    /// Where a skin's outer face looks.
    pub enum SkinFace {
        Left = "left",
        Right = "right",
        Front = "front",
        Rear = "rear",
        Top = "top",
        Bottom = "bottom",
    }
}

/// How an opening lies to the stream.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpeningLies {
    /// It faces the stream.
    Across,
    /// It lies in the skin's slow air, behind a ramp.
    Sunk,
    /// It is a hole in a skin that the stream runs along.
    Along,
}

/// Which way an opening lies on a car, where nobody says otherwise (common practice).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sides {
    /// The edge from which strips of tape are laid: what is given up first is the skin's slow air.
    pub taped_from: TapedFrom,
    /// Which way its outer face looks.
    pub faces: SkinFace,
    /// How it lies to the stream.
    pub lies: OpeningLies,
}

impl ElementKind {
    /// Whether it is another one.
    pub fn is(&self, other: &ElementKind) -> bool {
        self.name == other.name
    }

    /// Whether it is a fan.
    pub fn is_fan(&self) -> bool {
        self.sign == Some(Sign::Fan)
    }

    /// Whether oil flows through it.
    pub fn is_core(&self) -> bool {
        self.sign == Some(Sign::Core)
    }

    /// Whether it is a part's fins.
    pub fn is_fins(&self) -> bool {
        self.sign == Some(Sign::Fins)
    }

    /// Whether it keeps things out.
    pub fn is_screen(&self) -> bool {
        self.sign == Some(Sign::Screen)
    }

    /// Whether its figures were found at one size and hold at no other.
    pub fn is_measured(&self) -> bool {
        matches!(self.sign, Some(Sign::Fan | Sign::Fins | Sign::Core))
    }

    /// Whether it takes or gives pressure of its own on the way.
    pub fn works(&self) -> bool {
        self.is_measured() || self.role == Role::Demand
    }

    /// How it lies to the stream, where it is an opening that lets air in.
    pub fn takes_in(&self) -> Option<OpeningLies> {
        self.sides.filter(|_| self.role == Role::Inlet).map(|sides| sides.lies)
    }

    /// Whether the channel turns in it.
    pub fn turns_air(&self) -> bool {
        self.is(&bend::KIND)
    }

    /// Whether it is a piece of the channel, as a duct is.
    pub fn is_channel(&self) -> bool {
        self.chain == AreaContinuity::Channel
    }

    /// Whether the stream pushes into it.
    pub fn meets_stream(&self) -> bool {
        self.push == Push::Ram
    }
}

impl Law {
    /// The inlet that faces the stream.
    pub fn as_ram_inlet(&self) -> Option<&ram_inlet::RamInlet> {
        if let Law::RamInlet(law) = self { Some(law) } else { None }
    }

    /// The inlet that lies in a surface.
    pub fn as_flush_inlet(&self) -> Option<&flush_inlet::FlushInlet> {
        if let Law::FlushInlet(law) = self { Some(law) } else { None }
    }

    /// The widening cone.
    pub fn as_diffuser(&self) -> Option<&diffuser::Diffuser> {
        if let Law::Diffuser(law) = self { Some(law) } else { None }
    }

    /// The sudden change of area.
    pub fn as_step(&self) -> Option<&step::AreaStep> {
        if let Law::AreaStep(law) = self { Some(law) } else { None }
    }

    /// The same, to be changed.
    pub fn as_step_mut(&mut self) -> Option<&mut step::AreaStep> {
        if let Law::AreaStep(law) = self { Some(law) } else { None }
    }

    /// The leg of a tee.
    pub fn as_tee(&self) -> Option<&tee::Tee> {
        if let Law::Tee(law) = self { Some(law) } else { None }
    }

    /// The same, to be changed.
    pub fn as_tee_mut(&mut self) -> Option<&mut tee::Tee> {
        if let Law::Tee(law) = self { Some(law) } else { None }
    }

    pub fn as_fan(&self) -> Option<&fan::FanLaw> {
        if let Law::FanLaw(law) = self { Some(law) } else { None }
    }

    /// The same, to be changed.
    pub fn as_fan_mut(&mut self) -> Option<&mut fan::FanLaw> {
        if let Law::FanLaw(law) = self { Some(law) } else { None }
    }

    /// The finned surface.
    pub fn as_fins(&self) -> Option<&fins::Fins> {
        if let Law::Fins(law) = self { Some(law) } else { None }
    }

    /// The cooler's core.
    pub fn as_core(&self) -> Option<&core::Core> {
        if let Law::Core(law) = self { Some(law) } else { None }
    }

    /// The way out.
    pub fn as_exit(&self) -> Option<&exit::Exit> {
        if let Law::Exit(law) = self { Some(law) } else { None }
    }

    /// The gap.
    pub fn as_leak(&self) -> Option<&leak::Leak> {
        if let Law::Leak(law) = self { Some(law) } else { None }
    }

    /// The engine's own draught.
    pub fn as_demand(&self) -> Option<&demand::FixedFlow> {
        if let Law::FixedFlow(law) = self { Some(law) } else { None }
    }

    /// The surface that gives heat to the air.
    pub fn surface(&self) -> Option<&Surface> {
        match self {
            Law::Fins(fins) => Some(fins.surface()),
            Law::Core(core) => Some(core.surface()),
            _ => None,
        }
    }

    /// The same, where its figures were found from a geometry or a rating instead of being written.
    pub fn found_surface(&self) -> Option<&Surface> {
        match self {
            Law::Fins(fins) if fins.found().is_some() => Some(fins.surface()),
            Law::Core(core) if core.found().is_some() => Some(core.surface()),
            _ => None,
        }
    }

    /// Capacity rate of the oil behind the surface at the moment prepared for (W/K), all pieces; none behind fins.
    pub fn oil_capacity(&self) -> Option<f64> {
        self.as_core().map(core::Core::oil_capacity)
    }

    /// Whether it takes air in by the speed of the stream.
    pub fn faces_stream(&self) -> bool {
        matches!(self, Law::RamInlet(_) | Law::FlushInlet(_))
    }

    /// Whether it blocks the way as a mesh does.
    pub fn is_screen(&self) -> bool {
        matches!(self, Law::Screen(_))
    }

    /// Whether it can be made anew by itself: a tee's leg has to know its joint, a demand its engine.
    pub fn stands_alone(&self) -> bool {
        !matches!(self, Law::Tee(_) | Law::FixedFlow(_))
    }
}
