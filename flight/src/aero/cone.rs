//! A round solid cone along x, its apex forward.
//!
//! Assumes: apex first, drag by the angle of the apex; base first, the drag of
//! a disc; across, the cross-flow principle of the rod on the side's shadow, at
//! its centroid; slender-body force of the leading end; strip damping.
//! Valid: height over base diameter from 0.5 to 4, cross-flow Reynolds number
//! from 1 to 1e7, Mach below 0.6. Ignores: vortex shedding, lift from spin; how
//! the flow over the side changes between apex first and across.

use super::{
    Figure, Figures, Flow, Load, Model,
    crisis::fallen,
    family,
    rod::{DRAG, SKIN, crisis_of, finite_length},
};
use crate::{
    body::Surface,
    lane::{Curve, Processor, Vector, per_flight},
    math::atan2,
    note::{Kind, Note, Subject},
    world::Air,
};
use core::f64::consts::PI;

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject = Subject { key: "cone", claims: "What the air does to a cone" };

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "drag, lift and turning of the cone",
    how: "drag by the angle of the apex, a disc's base first, cross-flow principle across, a drag crisis by roughness, strip-theory damping",
    source: "Matthews, Aeronautical Engineer's Data Book; a textbook (second-hand); Hoerner, Fluid-Dynamic Drag (1965); Jorgensen, NASA TN D-6996; crisis by roughness: EN 1991-1-4, 7.9 and DNV-RP-C205 (second-hand), Achenbach 1971",
    kind: Kind::SecondHand,
    range: "height from half the base diameter to four times it, slower than Mach 0.6",
    leaves_out: "lift from spin; published drags apex first differ by 1.6: `cone_drag`",
};

/// Drag of the base, square to the flow: a disc's. Source: Hoerner,
/// Fluid-Dynamic Drag (1965).
const BASE: f64 = 1.17;
/// Drag coefficient of a long cylinder between Reynolds numbers 3e4 and 1e5.
const ACROSS: f64 = 1.2;
/// Mean strip speed of a tumbling cone over rate times height: 32 ∫|s|³ (3/4 -
/// s) ds from -1/4 to 3/4 (derived).
const SPIN: f64 = 0.409_375;

/// Drag coefficient of a cone apex first on the area of its base, by the full
/// angle of the apex in rad.
///
/// Source: the straight line through 0.34 at 30 deg and 0.51 at 60 deg
/// (Matthews, Aeronautical Engineer's Data Book, p. 95); it ends at 1.19 for
/// the disc, whose drag is 1.17. A textbook has 0.55 and 0.80 (second-hand):
/// [`Figure::ConeDrag`].
#[must_use]
fn apex_first(angle: f64) -> f64 {
    0.17 + 0.17 * angle / 30.0_f64.to_radians()
}

per_flight! {
    /// One flight's cone.
    pub struct Cone {
        /// Cross-flow Reynolds number per speed, on half the base, in s/m.
        reynolds,
        /// Force per cross-flow speed and Cdn Re, in N s/m.
        across,
        /// Square of the mean strip speed per rate, in m².
        strip,
        /// Damping per force and rate, in m².
        damping,
        /// Lead of the cross-flow force, in m.
        lead,
        /// Drag apex first, in kg/m.
        apex,
        /// Drag base first, in kg/m.
        base,
        /// Skin friction, in kg/m.
        skin,
        /// Slender-body force of the leading end, in kg/m.
        nose,
        /// Where it acts base first, behind the centre of mass, in m.
        behind,
        /// Reynolds number per speed over that half-way down the crisis, in s/m.
        crisis,
        /// Drag coefficient at the bottom of the crisis, for a finite length.
        bottom,
        /// By how much it rises beyond.
        rise,
    }
}

impl Cone {
    /// A cone in this air; lengths in m.
    #[must_use]
    pub fn new(
        [length, diameter]: [f64; 2],
        surface: Surface,
        air: &Air,
        drag_factor: f64,
        figures: &Figures,
    ) -> Self {
        let crisis = crisis_of(surface, [length, diameter / 2.0], figures);
        let radius = diameter / 2.0;
        let area = PI * radius * radius;
        let half = 0.5 * drag_factor * air.density;
        let present = if air.density > 0.0 { drag_factor } else { 0.0 };
        let finite = finite_length(length / radius);
        let angle = 2.0 * atan2(radius, length);
        // Second moments about the centre of mass: of the side's shadow
        // d h³/32, of the base π d⁴/64, by the drag each has.
        let brake = BASE * area * diameter * diameter / 16.0 / (ACROSS * finite * radius * length);
        Self {
            reynolds: air.reynolds(radius, 1.0),
            across: 0.5 * present * finite * length * air.viscosity,
            strip: SPIN * SPIN * length * length,
            damping: length * length / 16.0 + brake,
            lead: length / 12.0,
            apex: half * figures.get(Figure::ConeDrag) * apex_first(angle) * area,
            base: half * BASE * area,
            skin: half * SKIN * PI * radius * libm::hypot(length, radius),
            nose: 2.0 * half * area,
            behind: length / 4.0,
            crisis: air.reynolds(radius, crisis.per_reynolds),
            bottom: crisis.bottom,
            rise: crisis.rise,
        }
    }
}

impl Model for Cone {
    family!(Cone, Cone);

    type Shared = &'static Curve;
    const TURNS: bool = true;

    fn shared(&self) -> &'static Curve {
        &DRAG
    }

    #[inline(always)]
    fn load<S: Processor>(curve: &'static Curve, cone: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        let (u, w) = (flow.velocity, flow.rates);
        let zero = flow.speed.of(0.0);
        let across = u.y.mul_add(u.y, u.z * u.z);
        let turning = w.y.mul_add(w.y, w.z * w.z);
        let strips = cone.strip.mul_add(turning, across) + 1e-30;
        let slices = strips.sqrt();
        let reynolds = cone.reynolds * slices;
        let levels = [cone.bottom, cone.rise];
        let through = fallen(curve.at(reynolds), reynolds, cone.crisis * slices, levels);
        let drag = cone.across * through;

        let backward = u.x.below(zero);
        let nose = cone.nose * u.x.abs();
        let arm = nose.mul_add(backward.select(-cone.behind, cone.lead), drag * cone.lead);
        let sideways = drag + nose;
        let axial =
            backward.select(cone.base, cone.apex).mul_add(u.x.abs(), cone.skin * flow.speed);

        // As the rod's: the part of a strip's motion along the flow counts twice.
        let aligned = w.z.mul_add(u.y, -(w.y * u.z)) / strips;
        let damping = drag * cone.damping;
        let about_y = damping * (w.y - aligned * u.z);
        let about_z = damping * aligned.mul_add(u.y, w.z);
        Load {
            force: Vector::new(-(axial * u.x), -(sideways * u.y), -(sideways * u.z)),
            moment: Vector::new(zero, arm.mul_add(u.z, -about_y), -(arm.mul_add(u.y, about_z))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::aero::tests::{force_and_moment, still_air};

    fn cone(length: f64, diameter: f64) -> Cone {
        let figures = Figures::default();
        let cone = Cone::new([length, diameter], Surface::Plain, &still_air(), 1.0, &figures);
        Cone { skin: 0.0, ..cone }
    }

    /// Source: Matthews p. 95: apex first 0.34 at 30 deg, 0.51 at 60 deg; a disc
    /// 1.17 (Hoerner), met within 2 % by a flat cone.
    #[test]
    fn apex_first_it_drags_as_the_handbook_says() {
        for (degrees, wanted, limit) in
            [(30.0, 0.34, 1e-9), (60.0, 0.51, 1e-9), (179.99, 1.17, 0.03)]
        {
            let length = 0.1 / libm::tan(f64::to_radians(degrees / 2.0));
            let q = 0.5 * still_air().density * 400.0 * PI * 0.01;
            let force = force_and_moment(cone(length, 0.2), [20.0, 0.0, 0.0], [0.0; 3]).0;
            assert!((force.length() / q - wanted).abs() < limit, "{degrees}");
        }
    }

    /// Source: static stability: the pressure acts ahead of the centre of mass
    /// of a full cone apex first (2/3 of the height from the apex against 3/4),
    /// so that it turns over, and flies base first.
    #[test]
    fn a_full_cone_turns_over_and_flies_base_first() {
        let moment = |along: f64| force_and_moment(cone(0.4, 0.3), [along, 0.0, 1.0], [0.0; 3]).1.y;
        // Apex first and drifting up its z: a moment about +y turns the apex
        // down, away from where it goes. Base first: the slender-body force of
        // the leading base turns it, the cross-flow rights it at larger angles.
        assert!(moment(20.0) > 0.0, "{}", moment(20.0));
        let broadside = force_and_moment(cone(0.4, 0.3), [0.0, 0.0, 20.0], [0.0; 3]).1.y;
        assert!(broadside > 0.0, "{broadside}");
    }

    /// Source: the definition of the strip integrals, summed here.
    #[test]
    fn the_strip_integrals_are_those_of_a_triangle() {
        let n = 200_000;
        let (mut second, mut third) = (0.0, 0.0);
        for i in 0..n {
            let s = (f64::from(i) + 0.5) / f64::from(n) - 0.25;
            second += s * s * (0.75 - s) / f64::from(n);
            third += (s * s * s).abs() * (0.75 - s) / f64::from(n);
        }
        assert!((second - 1.0 / 32.0).abs() < 1e-9);
        assert!((third / second - SPIN).abs() < 1e-6, "{}", third / second);
    }
}
