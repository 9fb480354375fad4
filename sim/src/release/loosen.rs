//! How a load comes loose: it slides, breaks its lashing, or lifts; that it tips, see
//! [`super::topple`].
//!
//! Rigid load on a rigid level bed, one direction. Friction is Coulomb's; the
//! sliding value is less than the static one. Ignores the give of lashings,
//! vibration that lets a load creep, and the bed's own pitching.

pub use crate::scenario::library::friction::FRICTION;

use crate::flight::GRAVITY as G;

/// Sliding over static friction of lashed loads.
///
/// Source: CTU Code, Appendix 2 (read).
pub(crate) const SLIDING_SHARE: f64 = 0.75;

/// Friction of a load on its bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    /// Before it moves.
    pub held: f64,
    /// While it slides.
    pub sliding: f64,
}

impl Friction {
    /// Friction of which only the static coefficient is known.
    #[must_use]
    pub fn of(held: f64) -> Self {
        Self { held, sliding: SLIDING_SHARE * held }
    }
}

/// How a load arrives at the end of its free path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slide {
    /// Speed relative to the bed, in m/s.
    pub speed: f64,
    /// Time since the pulse began, in s.
    pub time: f64,
}

/// Whether a load starts to slide under `deceleration`, in m/s².
#[must_use]
pub fn slides(deceleration: f64, friction: Friction) -> bool {
    deceleration > friction.held * G
}

/// Whether a lashing breaks that alone keeps a load of `mass` (kg) from
/// sliding: `m (a − μ g)` above its `strength` (breaking load along the bed, in
/// N).
#[must_use]
pub fn breaks(mass: f64, deceleration: f64, friction: Friction, strength: f64) -> bool {
    lashing_force(mass, deceleration, friction) > strength
}

/// Force on that lashing, in N; 0 if friction holds alone.
#[must_use]
pub(crate) fn lashing_force(mass: f64, deceleration: f64, friction: Friction) -> f64 {
    (mass * (deceleration - friction.held * G)).max(0.0)
}

/// How a load leaves the bed after a free path of `path` (m), under a constant
/// deceleration that lasts long enough. `None` if it does not slide.
#[must_use]
pub fn slide(deceleration: f64, friction: Friction, path: f64) -> Option<Slide> {
    let relative = deceleration - friction.sliding * G;
    (slides(deceleration, friction) && relative > 0.0).then(|| Slide {
        speed: (2.0 * relative * path).sqrt(),
        time: (2.0 * path / relative).sqrt(),
    })
}

/// Airspeed at which the wind lifts something, in m/s:
/// `½ ρ U² C_F A = I m g`.
///
/// `area`: plan area in m², `mass` in kg, `density` of the air in kg/m³,
/// `coefficient`: force coefficient on that area, `hold_down`: strength of what
/// holds it as a multiple of its weight (1: nothing but its weight).
///
/// Attitude and the gap under the edge decide the coefficient: about 1 on edge,
/// 0.3 flat in a bed. The speed is the air's own over the load, up to 1.3 times
/// the free stream behind a cab (from memory). Source: Wills, Lee and Wyatt 2002
/// (from memory).
#[must_use]
pub fn lift_off_speed(mass: f64, area: f64, density: f64, coefficient: f64, hold_down: f64) -> f64 {
    (2.0 * hold_down * mass * G / (density * coefficient * area)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: motion under constant acceleration, by hand: 0.8 g, 0.45 and
    /// 0.3375, 2 m.
    #[test]
    fn a_load_on_plywood_leaves_at_four_metres_a_second() {
        let out = slide(0.8 * G, Friction::of(0.45), 2.0).expect("it slides");
        near(out.speed, 4.25938, 5e-6);
        near(out.time, 0.93910, 5e-6);
    }

    /// Source: as above: 0.8 g, 0.3 all the way, 2 s.
    #[test]
    fn a_long_path_takes_the_whole_pulse() {
        let friction = Friction { held: 0.3, sliding: 0.3 };
        let out = slide(0.8 * G, friction, 9.80665).expect("it slides");
        near(out.speed, 9.80665, 1e-9);
        near(out.time, 2.0, 1e-9);
    }

    #[test]
    fn friction_holds_a_gentle_brake() {
        let friction = Friction::of(0.45);
        assert!(!slides(0.44 * G, friction) && slides(0.46 * G, friction));
        assert!(slide(0.44 * G, friction, 1.0).is_none());
        near(lashing_force(100.0, 0.44 * G, friction), 0.0, 0.0);
        assert!(breaks(100.0, 0.8 * G, friction, 340.0));
        assert!(!breaks(100.0, 0.8 * G, friction, 345.0));
    }

    /// Source: Wills, Lee and Wyatt 2002 (from memory), evaluated by hand for
    /// air of 1.2 kg/m³ and sheets by thickness and density.
    #[test]
    fn sheets_lift_at_city_speeds_on_edge_and_at_highway_speeds_flat() {
        let sheet = |thickness: f64, density: f64, coefficient, hold_down| {
            lift_off_speed(thickness * density, 1.0, 1.2, coefficient, hold_down)
        };
        near(sheet(0.012, 600.0, 1.0, 1.0), 10.848, 5e-4);
        near(sheet(0.011, 650.0, 1.0, 1.0), 10.8103, 5e-5);
        near(sheet(0.0005, 7850.0, 1.0, 1.0), 8.0095, 5e-5);
        near(sheet(0.05, 30.0, 1.0, 1.0), 4.9514, 5e-5);
        near(sheet(0.012, 600.0, 0.3, 1.0), 19.8057, 5e-5);
        near(sheet(0.012, 600.0, 1.0, 3.0), 18.7893, 5e-5);
    }
}
