//! What the surface of a round body is like.

use super::{Shape, Surfaces};

/// The surface of a round body: decides where its drag crisis lies and how deep
/// it is, and of a ball how it curves when it spins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Surface {
    /// Nothing is known of it: as most things are, neither polished nor rough.
    #[default]
    Plain,
    /// Polished: glass, bright plate, a billiard ball.
    Smooth,
    /// Painted, plastic, scuffed.
    Painted,
    /// Galvanised, cast, smooth concrete.
    Galvanised,
    /// The panels of a football.
    Panelled,
    /// Pebbled, such as a basketball or the peel of an orange.
    Pebbled,
    /// Planed wood.
    Planed,
    /// Rough concrete.
    Concrete,
    /// Sawn wood.
    Sawn,
    /// Rusty.
    Rusty,
    /// Bark.
    Bark,
    /// With ribs or deep grooves, such as a pumpkin.
    Ribbed,
    /// With the tread of a tyre.
    Treaded,
    /// Leather with raised seams, such as a baseball.
    Seamed,
    /// With dimples, such as a golf ball.
    Dimpled,
    /// With felt, such as a tennis ball.
    Felt,
    /// A hailstone as it falls from the sky: lumpy, and tumbling.
    Hail,
    /// Ice cast in a mould, as panels are tested with.
    CastIce,
}

impl Surface {
    /// Every surface.
    pub const ALL: [Self; 18] = [
        Self::Plain,
        Self::Smooth,
        Self::Painted,
        Self::Galvanised,
        Self::Panelled,
        Self::Pebbled,
        Self::Planed,
        Self::Concrete,
        Self::Sawn,
        Self::Rusty,
        Self::Bark,
        Self::Ribbed,
        Self::Treaded,
        Self::Seamed,
        Self::Dimpled,
        Self::Felt,
        Self::Hail,
        Self::CastIce,
    ];

    /// The word for it in a scenario or a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Smooth => "smooth",
            Self::Painted => "painted",
            Self::Galvanised => "galvanised",
            Self::Panelled => "panelled",
            Self::Pebbled => "pebbled",
            Self::Planed => "planed",
            Self::Concrete => "concrete",
            Self::Sawn => "sawn",
            Self::Rusty => "rusty",
            Self::Bark => "bark",
            Self::Ribbed => "ribbed",
            Self::Treaded => "treaded",
            Self::Seamed => "seamed",
            Self::Dimpled => "dimpled",
            Self::Felt => "felt",
            Self::Hail => "hail",
            Self::CastIce => "cast_ice",
        }
    }

    /// How high its roughness stands up, in m; `None` for surfaces of balls that
    /// have curves of their own.
    ///
    /// Sources: EN 1991-1-4, table of equivalent roughness (second-hand):
    /// polished metal 0.002 mm, spray paint 0.02, galvanised, cast iron and smooth
    /// concrete 0.2, planed wood 0.5, rough concrete 1, sawn wood and rust 2. From
    /// memory: bark 3 mm, pebbles of a basketball 0.4, ribs 5, tread 8. A
    /// football's panels by its crisis, at 2.2e5 to 3.3e5 (`SpringerPlus` 2013
    /// 2:171, abstract read). `Plain`: as galvanised.
    #[must_use]
    pub fn roughness(self) -> Option<f64> {
        let millimetres = match self {
            Self::Smooth => 0.002,
            Self::Painted => 0.02,
            Self::Panelled => 0.07,
            Self::Plain | Self::Galvanised => 0.2,
            Self::Pebbled => 0.4,
            Self::Planed => 0.5,
            Self::Concrete => 1.0,
            Self::Sawn | Self::Rusty => 2.0,
            Self::Bark => 3.0,
            Self::Ribbed => 5.0,
            Self::Treaded => 8.0,
            Self::Seamed | Self::Dimpled | Self::Felt | Self::Hail | Self::CastIce => return None,
        };
        Some(1e-3 * millimetres)
    }

    /// Whether a shape may have it: a ball any, other round shapes one of a known
    /// roughness, the rest none.
    #[must_use]
    pub fn fits<T>(self, shape: &Shape<T>) -> bool {
        match shape.family().surfaces {
            Surfaces::Any => true,
            Surfaces::Rough => self.roughness().is_some(),
            Surfaces::Plain => self == Self::Plain,
        }
    }
}
