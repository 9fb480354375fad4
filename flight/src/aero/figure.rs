//! What published measurements leave open in the coefficients.
//!
//! A figure is one number of a model that its sources disagree about, with the
//! range that they span. One flight has one value of each; which one is not
//! known, so that a scenario takes each as an unknown over its range.

use super::families;
use crate::body::{Shape, Surface};

/// Span over chord from which on a sheet that turns may be lifted as a long strip
/// (from memory).
const LONG: f64 = 3.0;

/// A number of the coefficients that is not known well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Reynolds number of the drag crisis over the published one.
    CrisisPlace,
    /// How deep the drag falls in the crisis: 0, least; 1, most.
    CrisisDepth,
    /// Drag coefficient of a falling hailstone.
    HailDrag,
    /// Drag of a tumbling lump over the model's.
    LumpDrag,
    /// Drag of a cone apex first over the model's.
    ConeDrag,
    /// Lift coefficient of a sheet that autorotates at its steady rate.
    AutorotationLift,
    /// Torque coefficient that drives a sheet's autorotation.
    AutorotationTorque,
    /// How much a disc is like a flying disc with its rim and dome: 0, flat; 1,
    /// like one.
    Rim,
    /// Slope of a disc's lift over a square sheet's.
    GlideLift,
    /// Pitching moment coefficient of a disc edge-on, on area and diameter.
    GlideMoment,
    /// Drag of a rectangular bar's faces over the published.
    BarDrag,
    /// Side force of a bar that is turned a little, over the drag of its face.
    BarSideForce,
}

impl Figure {
    /// Every figure, in the order of [`Figures`].
    pub const ALL: [Self; 12] = [
        Self::CrisisPlace,
        Self::CrisisDepth,
        Self::HailDrag,
        Self::LumpDrag,
        Self::ConeDrag,
        Self::AutorotationLift,
        Self::AutorotationTorque,
        Self::Rim,
        Self::GlideLift,
        Self::GlideMoment,
        Self::BarDrag,
        Self::BarSideForce,
    ];

    /// Those that the coefficients of a shape hang on.
    #[must_use]
    pub fn of<T>(shape: &Shape<T>, surface: Surface) -> &'static [Self] {
        families::figures(shape, surface)
    }

    /// The word for it in a scenario.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::CrisisPlace => "crisis_place",
            Self::CrisisDepth => "crisis_depth",
            Self::HailDrag => "hail_drag",
            Self::LumpDrag => "lump_drag",
            Self::ConeDrag => "cone_drag",
            Self::AutorotationLift => "autorotation_lift",
            Self::AutorotationTorque => "autorotation_torque",
            Self::Rim => "rim",
            Self::GlideLift => "glide_lift",
            Self::GlideMoment => "glide_moment",
            Self::BarDrag => "bar_drag",
            Self::BarSideForce => "bar_side_force",
        }
    }

    /// What the sources span.
    ///
    /// Sources: the crisis of cylinders by EN 1991-1-4 and by DNV-RP-C205 lies
    /// a factor of 1.4 apart (second-hand); where nothing is known of the surface,
    /// roughness from 0.02 to 2 mm moves it by 2.4 either way (derived). Hail:
    /// terminal speeds of one diameter (Heymsfield et al. 2018; Rasmussen &
    /// Heymsfield 1987; ASTM E1038, second-hand). Lumps: cubes in tunnels 1.05 to
    /// 1.13 faces (Hoerner, from memory) against 1.67 by settling (Can. J. Chem.
    /// Eng. 37, 1959). Cones: Matthews against a textbook's 0.55 and 0.80 at 30 and
    /// 60 deg (second-hand). Autorotation: Smith 1970, AD0710288 (abstract read),
    /// mean lift 2.20 at two and a half times what others have at most. Discs: an
    /// open set of computed and read coefficients of golf discs; flat ones have
    /// less lift. Bars: 1.95 to 2.32 for one square section.
    ///
    /// `aspect`: span over chord of a sheet, at most. Air that goes round the sides
    /// takes lift from short ones: above 1 only from `LONG` on (from memory).
    #[must_use]
    pub fn range(self, surface: Surface, aspect: f64) -> [f64; 2] {
        match self {
            Self::AutorotationLift if aspect < LONG => [0.3, 1.0],
            Self::CrisisPlace if surface == Surface::Plain => [1.0 / 2.4, 2.4],
            Self::CrisisPlace => [1.0 / 1.4, 1.4],
            Self::CrisisDepth | Self::Rim => [0.0, 1.0],
            Self::HailDrag => [0.5, 1.25],
            Self::LumpDrag => [0.75, 1.3],
            Self::ConeDrag => [0.75, 1.6],
            Self::AutorotationLift => [0.3, 2.2],
            Self::AutorotationTorque => [0.05, 0.2],
            Self::GlideLift => [0.7, 1.1],
            Self::GlideMoment => [-0.03, 0.03],
            Self::BarDrag => [0.85, 1.2],
            Self::BarSideForce => [0.0, 0.5],
        }
    }

    /// Whether its logarithm, not itself, is spread evenly over the range.
    #[must_use]
    pub fn is_ratio(self) -> bool {
        match self {
            Self::CrisisPlace
            | Self::HailDrag
            | Self::LumpDrag
            | Self::ConeDrag
            | Self::AutorotationLift
            | Self::AutorotationTorque
            | Self::BarDrag => true,
            Self::CrisisDepth
            | Self::Rim
            | Self::GlideLift
            | Self::GlideMoment
            | Self::BarSideForce => false,
        }
    }

    /// What it may be told as, at most.
    #[must_use]
    pub fn bounds(self) -> [f64; 2] {
        match self {
            Self::CrisisDepth | Self::Rim => [0.0, 1.0],
            Self::GlideMoment => [-0.2, 0.2],
            Self::BarSideForce => [-0.5, 1.0],
            Self::CrisisPlace
            | Self::HailDrag
            | Self::LumpDrag
            | Self::ConeDrag
            | Self::AutorotationLift
            | Self::AutorotationTorque
            | Self::GlideLift
            | Self::BarDrag => [0.01, 10.0],
        }
    }

    /// The value where nobody chooses one: as the model's own source has it, or
    /// in the middle.
    #[must_use]
    pub fn typical(self) -> f64 {
        match self {
            Self::CrisisPlace
            | Self::LumpDrag
            | Self::ConeDrag
            | Self::GlideLift
            | Self::BarDrag => 1.0,
            Self::CrisisDepth => 0.5,
            Self::HailDrag => 0.85,
            // Baker 2007, JWEIA 95:329 (from memory).
            Self::AutorotationLift => 0.4,
            Self::AutorotationTorque => 0.12,
            Self::Rim | Self::GlideMoment => 0.0,
            Self::BarSideForce => 0.25,
        }
    }
}

/// One value of every figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures([f64; Figure::ALL.len()]);

impl Default for Figures {
    fn default() -> Self {
        Self(Figure::ALL.map(Figure::typical))
    }
}

impl Figures {
    /// One of them.
    #[must_use]
    pub fn get(&self, figure: Figure) -> f64 {
        self.0[figure as usize]
    }

    /// The same with another value of one.
    #[must_use]
    pub fn with(mut self, figure: Figure, value: f64) -> Self {
        self.0[figure as usize] = value;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_has_its_own_place_and_its_typical_value_in_its_range() {
        for (place, figure) in Figure::ALL.into_iter().enumerate() {
            assert_eq!(figure as usize, place);
            let [low, high] = figure.range(Surface::Rusty, f64::INFINITY);
            let [least, most] = figure.bounds();
            assert!((low..=high).contains(&figure.typical()), "{}", figure.name());
            assert!(least <= low && high <= most, "{}", figure.name());
            assert!(!figure.is_ratio() || low > 0.0, "{}", figure.name());
            let moved = Figures::default().with(figure, 0.7);
            assert!((moved.get(figure) - 0.7).abs() < 1e-15);
        }
    }
}
