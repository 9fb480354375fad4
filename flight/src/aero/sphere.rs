//! A sphere whose spin does not count: drag by Reynolds number and surface.
//!
//! Assumes: steady drag. Valid: Reynolds number below 6e6 (where its surface is
//! told by a roughness), Mach below 0.6. Ignores: spin (`ball` has it). Below
//! Reynolds number 1/16 Stokes' law holds; above the range the coefficient stays
//! near its last value, and the draw is reported.
//!
//! Hail is no smooth ball: natural stones tumble and have lobes. Its drag is level
//! from Reynolds number 3e3 or so on, without a crisis: 0.85, whose doubt
//! [`Figure::HailDrag`] carries; ice cast in a mould for tests has 0.50.

use super::{
    Figure, Figures, Flow, Load, Model,
    ball::Curves,
    crisis::{Crisis, fallen, height},
    family,
};
use crate::{
    body::Surface,
    lane::{Curve, Processor, Vector, per_flight},
    math::pow,
    note::{Kind, Note, Subject},
    world::Air,
};
use core::f64::consts::PI;

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "sphere", claims: "What the air does to a ball" };

/// What it says of itself where the crisis goes by roughness.
const ROUGH: Note = Note {
    subject: &SUBJECT,
    what: "drag of the sphere",
    how: "drag coefficient against Reynolds number, through a drag crisis by roughness",
    source: "Morrison, An Introduction to Fluid Mechanics (2013), before the crisis; Achenbach, J. Fluid Mech. 65 (1974) 113 (abstract; points from memory)",
    kind: Kind::Memory,
    range: "Reynolds number below 6e6, slower than Mach 0.6",
    leaves_out: "place and depth of the crisis are open: `crisis_place`, `crisis_depth`",
};
/// What it says of itself for a ball of this surface.
pub(super) fn note(surface: Surface) -> Note {
    match surface {
        Surface::Seamed => Note {
            how: "a smooth sphere's drag to Reynolds number 1e4, then through 0.45 at 0.75e5 to 0.32 from 1.75e5 on",
            source: "Morrison (2013); baseballs with little spin: Lyu et al. (2022, second-hand)",
            kind: Kind::SecondHand,
            range: "Reynolds number below 2.4e5, slower than Mach 0.6",
            leaves_out: "where the seams are, and what spin adds to the drag",
            ..ROUGH
        },
        Surface::Dimpled => Note {
            how: "a smooth sphere's drag to Reynolds number 1e4, then through 0.5 at 5e4 to a golf ball's by Reynolds number and spin",
            source: "Morrison (2013); Lyu et al. (2018, second-hand); Smits & Smith (1994, second-hand)",
            kind: Kind::SecondHand,
            range: "Reynolds number below 2.1e5, slower than Mach 0.6",
            leaves_out: "carries drives about a tenth short",
            ..ROUGH
        },
        Surface::Felt => Note {
            how: "a smooth sphere's drag to Reynolds number 1e4, then a tennis ball's by spin",
            source: "Morrison (2013); Stepanek, Am. J. Phys. 56 (1988) 138 (second-hand)",
            kind: Kind::SecondHand,
            range: "Reynolds number below 1.2e5, slower than Mach 0.6",
            leaves_out: "worn felt, which drags less",
            ..ROUGH
        },
        Surface::Hail => Note {
            how: "one drag coefficient (0.85 in the middle) from Reynolds number 3e3 on, no drag crisis",
            source: "terminal speeds of natural hail: Heymsfield et al., J. Atmos. Sci. 75 (2018) 3861; Rasmussen & Heymsfield (1987), second-hand",
            kind: Kind::SecondHand,
            range: "stones from 5 to 100 mm, given by their own diameter and mass (800 to 917 kg/m3)",
            leaves_out: "published speeds of one diameter differ by 1.7: `hail_drag`",
            ..ROUGH
        },
        Surface::CastIce => Note {
            how: "the drag coefficient of ice balls in tests, 0.50, no drag crisis",
            source: "ASTM E1038: 4.4 √d m/s, d in mm (second-hand)",
            kind: Kind::SecondHand,
            range: "ice balls as panels are tested with, 12 to 100 mm",
            leaves_out: "natural hail of that size, which is slower",
            ..ROUGH
        },
        Surface::Plain
        | Surface::Smooth
        | Surface::Painted
        | Surface::Galvanised
        | Surface::Panelled
        | Surface::Pebbled
        | Surface::Planed
        | Surface::Concrete
        | Surface::Sawn
        | Surface::Rusty
        | Surface::Bark
        | Surface::Ribbed
        | Surface::Treaded => ROUGH,
    }
}

/// Where the smooth sphere's drag ends and that of lobes begins: Reynolds number.
/// Our judgement: published laws of hail have 1 and more from 2e3 on.
const LOBES: f64 = 1e3;
/// Drag coefficient of ice balls in tests: 4.4 √d m/s (d in mm) at 917 kg/m³.
///
/// Source: ASTM E1038 (second-hand); 0.506 in air of 1.225 kg/m³ (derived).
const CAST_ICE: f64 = 0.5;

/// Drag coefficient of a sphere before its crisis, on its frontal area.
///
/// Source: Morrison (2013), data correlation for drag on a sphere, without the
/// fall at 2.63e5.
#[must_use]
pub fn sphere_drag(reynolds: f64) -> f64 {
    let re = reynolds;
    24.0 / re
        + 2.6 * (re / 5.0) / (1.0 + pow(re / 5.0, 1.52))
        + 0.411 * pow(re / 2.63e5, 0.06)
        + pow(re, 0.8) / 461_000.0
}

/// Cd Re over Re as a table, finite at rest: for any law of a sphere's drag.
pub(super) fn table(drag: impl Fn(f64) -> f64) -> Curve {
    // Constant beyond the first cell edge past the formula's range.
    Curve::new(-4, 24, |re| re * drag(re.min(1_048_576.0)))
}

per_flight! {
    /// One flight's sphere.
    pub struct Sphere {
        /// Reynolds number per speed, in s/m.
        reynolds,
        /// Force per speed and Cd Re: drag factor · μ A / (2 d), in N s/m.
        drag,
        /// Reynolds number per speed over that half-way down the crisis, in s/m.
        crisis,
        /// Drag coefficient at the bottom of the crisis.
        bottom,
        /// By how much it rises beyond.
        rise,
    }
}

/// How the drag of a ball of this surface goes on from [`sphere_drag`].
pub(super) fn crisis_of(surface: Surface, diameter: f64, figures: &Figures) -> Crisis {
    match surface {
        Surface::Hail => Crisis::level(LOBES, figures.get(Figure::HailDrag)),
        Surface::CastIce => Crisis::level(LOBES, CAST_ICE),
        // Curves of their own, measured through their crisis.
        Surface::Seamed | Surface::Dimpled | Surface::Felt => Crisis::NONE,
        rough => Crisis::ball(height(rough), diameter, figures),
    }
}

impl Sphere {
    /// A sphere of this `diameter` (m) in this air.
    #[must_use]
    pub fn new(
        diameter: f64,
        surface: Surface,
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        Self::through(&crisis_of(surface, diameter, figures), diameter, air, drag_factor)
    }

    /// A sphere whose drag goes on like this.
    pub(super) fn through(crisis: &Crisis, diameter: f64, air: &Air, drag_factor: f64) -> Self {
        // Force = ½ ρ A V² Cd = ½ A μ/d · (Cd Re) · V; without air both vanish.
        let present = if air.density > 0.0 { 1.0 } else { 0.0 };
        let reynolds = air.reynolds(diameter, 1.0);
        Self {
            reynolds,
            drag: present * drag_factor * air.viscosity * PI * diameter / 8.0,
            crisis: reynolds * crisis.per_reynolds,
            bottom: crisis.bottom,
            rise: crisis.rise,
        }
    }

    /// Cd Re over Re through the crisis of this flight, as one table.
    #[must_use]
    pub fn curve(&self) -> Curve {
        let crisis = Crisis::read([self.reynolds, self.crisis, self.bottom, self.rise]);
        table(|re| crisis.drag(sphere_drag(re), re))
    }
}

impl Model for Sphere {
    family!(Sphere, Sphere);

    type Shared = &'static Curve;
    const TURNS: bool = false;

    fn shared(&self) -> &'static Curve {
        &Curves::of(Surface::Plain).drag
    }

    #[inline(always)]
    fn load<S: Processor>(
        curve: &'static Curve,
        lanes: &Self::Lanes<S>,
        flow: &Flow<S>,
    ) -> Load<S> {
        let reynolds = lanes.reynolds * flow.speed;
        let levels = [lanes.bottom, lanes.rise];
        let part = lanes.crisis * flow.speed;
        let drag = -(lanes.drag * fallen(curve.at(reynolds), reynolds, part, levels));
        let zero = flow.speed.of(0.0);
        Load { force: flow.velocity * drag, moment: Vector::new(zero, zero, zero) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lane::Lane;
    use pulp::Scalar;

    /// Drag coefficient as the step loop computes it, at the deepest.
    fn from_loop(surface: Surface, reynolds: f64) -> f64 {
        let air = Air { density: 1.2, viscosity: 1.8e-5, sound: 340.0 };
        let figures = Figures::default().with(Figure::CrisisDepth, 1.0);
        let sphere = Sphere::new(0.1, surface, &air, 1.0, &figures);
        let lanes = Model::spread(sphere, Scalar);
        let speed = reynolds * air.viscosity / (air.density * 0.1);
        let zero = Lane::splat(Scalar, 0.0);
        let still = Vector::new(zero, zero, zero);
        let flow = Flow::new(Vector::new(zero.of(speed), zero, zero), still);
        let force = -Sphere::load(sphere.shared(), &lanes, &flow).force.x.get(0);
        force / (0.5 * air.density * PI * 0.0025 * speed * speed)
    }

    /// Source: Morrison 2013, evaluated from its formula. Limit 2e-3: what its
    /// fall has already done at 1e5.
    #[test]
    fn drag_is_that_of_the_published_formula() {
        let table = [
            (1.0, 24.672_931_8),
            (10.0, 3.967_583_26),
            (100.0, 1.038_186_64),
            (1e3, 0.484_056_308),
            (1e4, 0.393_564_428),
            (1e5, 0.424_676_622),
        ];
        for (re, wanted) in table {
            assert!((sphere_drag(re) / wanted - 1.0).abs() < 2e-3, "{re}: {}", sphere_drag(re));
            let error = from_loop(Surface::Smooth, re) / wanted - 1.0;
            assert!(error.abs() < 2e-3, "{re}: {error}");
        }
    }

    /// Stated error of the table: 1e-5.
    #[test]
    fn the_table_of_the_step_loop_follows_the_formula() {
        let figures = Figures::default().with(Figure::CrisisDepth, 1.0);
        for surface in [Surface::Smooth, Surface::Rusty, Surface::Hail] {
            let crisis = crisis_of(surface, 0.1, &figures);
            let mut re = 0.07;
            while re < 1e6 {
                let wanted = crisis.drag(sphere_drag(re), re);
                let error = from_loop(surface, re) / wanted - 1.0;
                assert!(error.abs() < 1e-5, "{} {re}: {error}", surface.name());
                re *= 1.0073;
            }
        }
    }

    /// The one table for who flies by tables alone.
    #[test]
    fn the_whole_curve_has_the_crisis_in_it() {
        let air = Air { density: 1.2, viscosity: 1.8e-5, sound: 340.0 };
        let sphere = Sphere::new(0.1, Surface::Smooth, &air, 1.0, &Figures::default());
        let crisis = crisis_of(Surface::Smooth, 0.1, &Figures::default());
        let curve = sphere.curve();
        for re in [10.0, 1e5, 2.5e5, 4e5, 9e5] {
            let got = curve.at(Lane::splat(Scalar, re)).get(0) / re;
            let wanted = crisis.drag(sphere_drag(re), re);
            assert!((got / wanted - 1.0).abs() < 1e-3, "{re}: {got} {wanted}");
        }
    }

    /// Source: ASTM E1038 (second-hand): cast ice has one coefficient, 0.506; natural
    /// hail has none of the smooth ball's crisis (0.5 to 1.25, see `Figure`).
    #[test]
    fn ice_has_no_drag_crisis() {
        for re in [1e4, 1e5, 3e5, 9e5] {
            assert!((from_loop(Surface::CastIce, re) - 0.5).abs() < 1e-3, "{re}");
            assert!((from_loop(Surface::Hail, re) - 0.85).abs() < 1e-3, "{re}");
        }
    }

    /// Source: Pruppacher & Klett, Table 10.1, rigid spheres. Limit 9 %: the
    /// formula's own distance at Reynolds number 57 is 8.3 %.
    #[test]
    fn drag_is_that_of_measured_rigid_spheres() {
        for (re, wanted) in [(10.0, 4.29), (30.0, 2.11), (57.0, 1.51), (100.0, 1.10), (300.0, 0.63)]
        {
            assert!((from_loop(Surface::Smooth, re) / wanted - 1.0).abs() < 0.09, "{re}");
        }
    }

    /// Source: Stokes' law, Cd = 24/Re.
    #[test]
    fn a_creeping_sphere_obeys_stokes() {
        assert!((from_loop(Surface::Plain, 1e-4) * 1e-4 / 24.0 - 1.0).abs() < 0.01);
        assert!(from_loop(Surface::Plain, 1e-9).is_finite());
    }
}
