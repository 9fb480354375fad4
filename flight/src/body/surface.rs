//! What the surface of a ball is like.

/// The surface of a ball: decides where its drag crisis lies and how it curves
/// when it spins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Surface {
    /// Smooth: a polished ball, a fruit, a hailstone.
    #[default]
    Smooth,
    /// Leather with raised seams, such as a baseball.
    Seamed,
    /// With dimples, such as a golf ball.
    Dimpled,
    /// With felt, such as a tennis ball.
    Felt,
}

impl Surface {
    /// Every surface.
    pub const ALL: [Self; 4] = [Self::Smooth, Self::Seamed, Self::Dimpled, Self::Felt];

    /// The word for it in a scenario or a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Smooth => "smooth",
            Self::Seamed => "seamed",
            Self::Dimpled => "dimpled",
            Self::Felt => "felt",
        }
    }
}
