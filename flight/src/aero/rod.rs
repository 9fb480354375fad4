//! A slender round bar.
//!
//! Assumes: cross-flow principle (each slice feels the flow across the axis),
//! with the cylinder's drag by cross-flow Reynolds number and a factor for the
//! finite length; slender-body force of the blunt nose, acting at the leading
//! end; drag of the ends and of the skin; strip damping of rotation.
//! Valid: length over diameter of at least 2, cross-flow Reynolds number from
//! 1 to 1e7, Mach below 0.6. Ignores: vortex shedding, lift from spin about
//! the axis. Roughness brings the drag crisis forward (see `crisis`).

use super::{
    Figures, Flow, Load, Model,
    crisis::{self, Crisis, fallen, height},
    family,
    points::through,
};
use crate::{
    body::Surface,
    lane::{Curve, Processor, Vector, per_flight},
    math::{cbrt, log10},
    note::{Kind, Note, Subject},
    world::Air,
};
use core::f64::consts::PI;
use std::sync::LazyLock;

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "cylinder", claims: "What the air does to rods, tubes, cylinders and wheels" };

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "drag, lift and turning of the rod",
    how: "cross-flow principle with finite-length factor and end drag, a drag crisis by roughness, strip-theory damping",
    source: "Hoerner, Fluid-Dynamic Drag (1965); Jorgensen, NASA TN D-6996 and TR R-474; slow drag: White (from memory); crisis by roughness: EN 1991-1-4, 7.9 and DNV-RP-C205 (second-hand), Achenbach 1971",
    kind: Kind::Memory,
    range: "length at least twice the diameter, cross-flow Reynolds numbers from 1 to 1e7, slower than Mach 0.6",
    leaves_out: "lift from spin; place and depth of the crisis are open",
};

/// Drag of a blunt end on its own area (Matthews, Aeronautical Engineer's
/// Data Book, p. 95: 0.81 to 0.99).
const END: f64 = 0.85;
/// Skin friction on the wetted area, turbulent, our round number.
pub(super) const SKIN: f64 = 0.005;
/// Mean strip speed of a spinning rod: strip theory gives a moment of
/// ½ ρ C d ω² L⁴/32, which is this times ω L in place of the flow (derived).
const SPIN: f64 = 12.0 / 32.0;

/// Reynolds number and drag coefficient of a long cylinder before its crisis.
///
/// Source: White's fit at 1e3 (from memory); above, Jorgensen, NASA TN D-6996,
/// figure 2 (read off, ± 0.05).
const CYLINDER: [[f64; 2]; 3] = [[1e3, 1.10], [1e4, 1.15], [3e4, 1.20]];

/// Drag coefficient of a long cylinder across the flow before its crisis, on
/// diameter times length.
///
/// Source: White, 1 + 10 Re^(-2/3) below 1e3 (from memory); Jorgensen above,
/// by a monotone cubic in the logarithm.
#[must_use]
pub fn cylinder_drag(reynolds: f64) -> f64 {
    if reynolds < CYLINDER[0][0] {
        let root = cbrt(reynolds);
        return 1.0 + 10.0 / (root * root);
    }
    through(&CYLINDER, reynolds)
}

/// Cross-flow drag of a finite cylinder over that of a long one before the
/// crisis, by length over diameter.
///
/// Source: fit 0.509 + 0.183 log10(L/d) to Jorgensen, NASA TN D-6996,
/// figure 4; at most 1.
#[must_use]
pub(super) fn finite_length(slenderness: f64) -> f64 {
    (0.509 + 0.183 * log10(slenderness)).min(1.0)
}

/// Cdn Re over Re, before the crisis.
pub(super) static DRAG: LazyLock<Curve> =
    LazyLock::new(|| Curve::new(-4, 24, |re| re * cylinder_drag(re)));

per_flight! {
    /// One flight's rod.
    pub struct Rod {
        /// Cross-flow Reynolds number per speed, in s/m.
        reynolds,
        /// Force per cross-flow speed and Cdn Re, in N s/m.
        across,
        /// Square of the strip speed per rate, in m².
        strip,
        /// Moment per force and rate: L²/12, in m².
        damping,
        /// Drag of the leading end, in kg/m.
        end,
        /// Skin friction, in kg/m.
        skin,
        /// Nose force per axial and cross-flow speed, in kg/m.
        nose,
        /// Half length, in m.
        half,
        /// Reynolds number per speed over that half-way down the crisis, in s/m.
        crisis,
        /// Drag coefficient at the bottom of the crisis, for a finite length.
        bottom,
        /// By how much it rises beyond.
        rise,
    }
}

/// The crisis of a cylinder of finite length, as its drag before it is reckoned.
pub(super) fn crisis_of(
    surface: Surface,
    [length, diameter]: [f64; 2],
    figures: &Figures,
) -> Crisis {
    let slenderness = length / diameter;
    Crisis::cylinder(height(surface), diameter, figures)
        .times(crisis::finite_length(slenderness) / finite_length(slenderness))
}

impl Rod {
    /// A rod in this air; lengths in m.
    #[must_use]
    pub fn new(
        [length, diameter]: [f64; 2],
        surface: Surface,
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let crisis = crisis_of(surface, [length, diameter], figures);
        let area = PI * diameter * diameter / 4.0;
        let density = drag_factor * air.density;
        let present = if air.density > 0.0 { drag_factor } else { 0.0 };
        Self {
            reynolds: air.reynolds(diameter, 1.0),
            across: 0.5 * present * finite_length(length / diameter) * length * air.viscosity,
            strip: SPIN * SPIN * length * length,
            damping: length * length / 12.0,
            end: 0.5 * density * END * area,
            skin: 0.5 * density * SKIN * PI * diameter * length,
            nose: density * area,
            half: length / 2.0,
            crisis: air.reynolds(diameter, crisis.per_reynolds),
            bottom: crisis.bottom,
            rise: crisis.rise,
        }
    }

    /// Cdn Re over Re through the crisis of this flight, as one table.
    #[must_use]
    pub fn curve(&self) -> Curve {
        let crisis = Crisis::read([self.reynolds, self.crisis, self.bottom, self.rise]);
        Curve::new(-4, 24, |re| re * crisis.drag(cylinder_drag(re), re))
    }
}

impl Model for Rod {
    family!(Rod, Rod);

    type Shared = &'static Curve;
    const TURNS: bool = true;

    fn shared(&self) -> &'static Curve {
        &DRAG
    }

    #[inline(always)]
    fn load<S: Processor>(curve: &'static Curve, rod: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        let (u, w) = (flow.velocity, flow.rates);
        let across = u.y.mul_add(u.y, u.z * u.z);
        let turning = w.y.mul_add(w.y, w.z * w.z);
        // Mean square speed of the slices through the air.
        let strips = rod.strip.mul_add(turning, across) + 1e-30;
        let slices = strips.sqrt();
        let reynolds = rod.reynolds * slices;
        let levels = [rod.bottom, rod.rise];
        let through = fallen(curve.at(reynolds), reynolds, rod.crisis * slices, levels);
        let drag = rod.across * through;

        // The slender-body force acts at the leading end.
        let nose = rod.nose * u.x.abs();
        let lever = rod.half * rod.nose * u.x;
        let sideways = drag + nose;
        let axial = rod.end.mul_add(u.x.abs(), rod.skin * flow.speed);

        // A slice at x moves sideways by x (w.z, -w.y): the part along the
        // flow is felt twice.
        let aligned = w.z.mul_add(u.y, -(w.y * u.z)) / strips;
        let damping = drag * rod.damping;
        let about_y = damping * (w.y - aligned * u.z);
        let about_z = damping * aligned.mul_add(u.y, w.z);

        let zero = flow.speed.of(0.0);
        Load {
            force: Vector::new(-(axial * u.x), -(sideways * u.y), -(sideways * u.z)),
            moment: Vector::new(zero, lever.mul_add(u.z, -about_y), -(lever.mul_add(u.y, about_z))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::aero::tests::{force_and_moment, still_air};

    /// A rod that is not in its crisis.
    fn slender(length: f64, diameter: f64) -> Rod {
        let figures = Figures::default();
        let rod = Rod::new([length, diameter], Surface::Smooth, &still_air(), 1.0, &figures);
        Rod { crisis: 0.0, ..rod }
    }

    /// Source: White (from memory): Re 10: 3.1544, 100: 1.4642, 1000: 1.1000. Before
    /// the crisis, Jorgensen, NASA TN D-6996, figure 2 (read off).
    #[test]
    fn cylinder_drag_follows_the_published_curve() {
        let table = [
            (10.0, 3.1544, 1e-4),
            (100.0, 1.4642, 1e-4),
            (1e3, 1.1, 1e-9),
            (1e4, 1.15, 1e-9),
            (5e4, 1.2, 0.02),
            (1e5, 1.2, 1e-9),
        ];
        for (re, wanted, tolerance) in table {
            assert!((cylinder_drag(re) - wanted).abs() < tolerance, "{re}: {}", cylinder_drag(re));
        }
    }

    /// Source: Jorgensen, NASA TN D-6996, figure 4 (± 0.03).
    #[test]
    fn finite_length_follows_the_published_curve() {
        let table = [(2.0, 0.58), (4.0, 0.62), (8.0, 0.66), (16.0, 0.72), (40.0, 0.82)];
        for (slenderness, wanted) in table {
            assert!((finite_length(slenderness) - wanted).abs() < 0.03);
        }
    }

    /// Source: Hoerner's cross-flow principle, Cdn 1.2: drag .150000 and lift
    /// .259808 at 30 deg, on diameter times length. The other terms are zeroed.
    #[test]
    fn a_slanting_rod_has_the_forces_of_the_cross_flow_principle() {
        let (length, diameter, speed) = (1.2, 0.03, 41.0);
        let air = still_air();
        let rod = Rod { end: 0.0, skin: 0.0, nose: 0.0, ..slender(length, diameter) };
        for (degrees, drag, lift) in
            [(15.0, 0.020_805, 0.077_646), (30.0, 0.15, 0.259_808), (90.0, 1.2, 0.0)]
        {
            let (sine, cosine) = libm::sincos(f64::to_radians(degrees));
            let (force, _) = force_and_moment(rod, [speed * cosine, 0.0, speed * sine], [0.0; 3]);
            let cdn = cylinder_drag(air.reynolds(diameter, speed * sine));
            let q = 0.5 * air.density * speed * speed * length * diameter * cdn / 1.2
                * finite_length(length / diameter);
            let got =
                [-(force.x * cosine + force.z * sine) / q, (force.x * sine - force.z * cosine) / q];
            assert!((got[0] - drag).abs() < 1e-5 && (got[1].abs() - lift).abs() < 1e-5, "{got:?}");
        }
    }

    /// Source: strip theory (derived): pure spin ½ ρ C d ω² L⁴/32; slow
    /// rotation in a flow ½ ρ C d V ω L³/6 about the axis across it and half of
    /// that about the axis along it.
    #[test]
    fn rotation_is_damped_as_strip_theory_says() {
        let (length, diameter) = (1.0, 0.03);
        let air = still_air();
        let rod = slender(length, diameter);
        let unit = |speed: f64| {
            let cdn = cylinder_drag(air.reynolds(diameter, speed));
            0.5 * air.density * diameter * cdn * finite_length(length / diameter)
        };
        let spin = force_and_moment(rod, [0.0; 3], [0.0, 20.0, 0.0]).1.y;
        assert!((spin / (-unit(0.375 * 20.0) * 400.0 / 32.0) - 1.0).abs() < 1e-4);
        let across = force_and_moment(rod, [0.0, 0.0, 10.0], [0.0, 0.01, 0.0]).1.y;
        assert!((across / (-unit(10.0) * 0.1 / 6.0) - 1.0).abs() < 1e-4);
        let along = force_and_moment(rod, [0.0, 10.0, 0.0], [0.0, 0.01, 0.0]).1.y;
        assert!((along / (-unit(10.0) * 0.1 / 12.0) - 1.0).abs() < 1e-4);
    }

    /// Source: slender-body theory: half of the Munk moment ρ V² sin 2a · ½
    /// volume, for a blunt cylinder about its middle (Jorgensen, eq. 1).
    #[test]
    fn a_rod_end_on_is_unstable() {
        let rod = Rod { across: 0.0, ..slender(1.0, 0.03) };
        let (sine, cosine) = libm::sincos(0.05);
        let (_, moment) = force_and_moment(rod, [10.0 * cosine, 0.0, 10.0 * sine], [0.0; 3]);
        let volume = PI * 0.0009 / 4.0;
        let wanted = still_air().density * 100.0 * sine * cosine * volume / 2.0;
        assert!((moment.y / wanted - 1.0).abs() < 1e-9);
    }
}
