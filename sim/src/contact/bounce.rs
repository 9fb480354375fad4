//! What a rigid body does after a touch that it does not get through.
//!
//! One impulse at the contact point. Along the push restitution decides; across
//! it the contact grips if friction can bear it, else slides under Coulomb's
//! limit. The two together can create energy in rough, eccentric blows; where
//! they would, restitution is lowered until they do not, and the rebound says
//! so. Friction is against the slip at the beginning, unless that would drive the
//! slip of an eccentric blow or jam it: then it comes as near to a grip as it can.
//! What is touched is taken as immovable.
//!
//! Restitution falls with speed and friction with wear: both are inputs with a
//! spread, not constants. Real balls grip and then reverse, which `grip_return`
//! stands for. Broken and crushed objects are not covered.
//!
//! Source: impulse-based collision, standard derivation; for balls R. Cross,
//! Am. J. Phys. 70 (2002) 1093 (abstract read).

use super::{
    Touch,
    eccentric::Eccentric,
    fault::{Law, share},
    work::{Work, strike},
};
use crate::{
    body::Body,
    flight::State,
    note::{Kind, Note},
};
use glam::{DMat3, DVec3};

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &super::SUBJECT,
    what: "bounces",
    how: "one impulse at the contact point: restitution along the push, Coulomb friction across it; blows slower than 0.1 m/s come back whole, those of what slides along ground and wall at once faster, by what friction pays for; on the ground a settled body slides (v²/2µg) or slips and rolls (Routh); what is round and leans rolls, slips and falls over on its rim; a cone on its side rolls round its apex; what comes down flat on a side clatters, blow by blow of its corners",
    source: "impulse-based collision of rigid bodies (standard derivation); R. Cross, Am. J. Phys. 70 (2002) 1093 (abstract read)",
    kind: Kind::SecondHand,
    range: "stiff bodies that do not break, on flat and level ground without kerb or camber: what rolls in the model rolls far, and its rims are flat treads with sharp edges; single bounces off corners cannot be foretold, shares of many can",
    leaves_out: "turning on the spot is braked as rolling is; the wind does not lift again what slides",
};

/// How lively and how rough a contact is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Coefficient of restitution along the push, 0..=1.
    pub restitution: f64,
    /// Coefficient of friction, >= 0.
    pub friction: f64,
    /// Share of the slip that comes back after a grip, 0..=1: 0 for anything
    /// but rubbery balls.
    pub grip_return: f64,
}

/// How the contact went across the push.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Across {
    /// Friction held the contact point.
    Gripped,
    /// It slid through to the end.
    Slid,
}

/// What a touch turned into.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rebound {
    /// The body just after, world frame.
    pub state: State,
    /// Impulse on the body, world frame, in N s.
    pub impulse: DVec3,
    /// Its work.
    pub work: Work,
    /// How it went across the push.
    pub across: Across,
    /// Whether restitution or friction had to be lowered so that no energy was
    /// created.
    pub limited: bool,
}

/// Contacts after which a flight that still hops is called at an end where it
/// is (judgement): counted and reported.
pub const MOST_CONTACTS: u32 = 200;

/// Slowest rebound, in m/s: a blow that is slower than this comes back whole,
/// a hop of half a millimetre. A body that leans on a corner hops along on it
/// instead of taking endlessly many contacts; no blow is given back more than
/// it had.
pub const SLOWEST_REBOUND: f64 = 0.1;

/// How fast a slow blow may come back in a corner, in m/s, as far as what friction takes
/// from its slip pays for that: a hop of 2 mm (judgement). What slides along two things at
/// once is pressed on each on average as it would be without hops, so that each rubs as
/// much, but in far fewer contacts.
pub const CORNER_REBOUND: f64 = 0.2;

impl Contact {
    /// The same contact for a blow at this closing speed, in m/s.
    #[must_use]
    pub fn at(self, closing_speed: f64) -> Self {
        let least = if closing_speed > 0.0 { SLOWEST_REBOUND / closing_speed } else { 0.0 };
        Self { restitution: self.restitution.max(least.min(1.0)), ..self }
    }

    /// The same contact for a blow at this closing speed (m/s) on what leans on two things:
    /// where this asks for more than was there, no more comes back than friction takes.
    #[must_use]
    pub fn in_corner(self, closing_speed: f64) -> Self {
        let least = if closing_speed > 0.0 { CORNER_REBOUND / closing_speed } else { 0.0 };
        Self { restitution: self.restitution.max(least), ..self }
    }
}

/// The body after it bounces off what it touched.
#[must_use]
pub fn bounce(body: &Body, touch: &Touch, contact: &Contact) -> Rebound {
    let mut state = touch.state;
    let arm = touch.point - state.position;
    let wall = state.velocity - touch.relative_velocity;
    let blow = Blow::of(body, &state, arm, touch.push, wall);
    let (impulse, across, limited) = blow.impulse(contact);
    let work = strike(body, &mut state, arm, impulse, wall);
    Rebound { state, impulse, work, across, limited }
}

/// Strikes the level ground with the point of a body at `arm` from its centre of mass
/// (m): the impulse, in N s, and its work.
pub(super) fn struck(
    body: &Body,
    state: &mut State,
    arm: DVec3,
    contact: &Contact,
) -> (DVec3, Work) {
    let blow = Blow::of(body, state, arm, DVec3::Z, DVec3::ZERO);
    let (impulse, ..) = blow.impulse(contact);
    (impulse, strike(body, state, arm, impulse, DVec3::ZERO))
}

/// A contact before its impulse is known.
struct Blow {
    /// Unit direction that pushes the body off.
    push: DVec3,
    /// Velocity of the contact point relative to the surface, in m/s.
    slip: DVec3,
    /// Change of that velocity per impulse, in 1/kg.
    mobility: DMat3,
}

impl Blow {
    fn of(body: &Body, state: &State, arm: DVec3, push: DVec3, wall: DVec3) -> Self {
        let slip = state.velocity_at(arm) - wall;
        Self { push, slip, mobility: mobility(body, state, arm) }
    }

    /// Energy that an impulse adds, in J.
    fn gained(&self, impulse: DVec3) -> f64 {
        impulse.dot(self.slip) + 0.5 * impulse.dot(self.mobility * impulse)
    }

    /// The impulse, how it went across, and whether it had to be tamed.
    fn impulse(&self, contact: &Contact) -> (DVec3, Across, bool) {
        let (impulse, across, limited) = self.tamed(contact);
        let rubs = impulse.reject_from_normalized(self.push);
        let wrong = (impulse + rubs * (share(Law::Rubs) - 1.0)) * share(Law::Strikes);
        (wrong, across, limited)
    }

    fn tamed(&self, contact: &Contact) -> (DVec3, Across, bool) {
        if self.slip.dot(self.push) >= 0.0 {
            return (DVec3::ZERO, Across::Gripped, false);
        }
        let told = self.solve(contact);
        if self.gained(told.0) <= 0.0 {
            return (told.0, told.1, false);
        }
        let with = |restitution: f64| self.solve(&Contact { restitution, ..*contact });
        let (mut low, mut high) = (0.0, contact.restitution);
        if self.gained(with(low).0) > 0.0 {
            // Smooth contacts cannot gain.
            let smooth = self.solve(&Contact { friction: 0.0, grip_return: 0.0, ..*contact });
            return (smooth.0, smooth.1, true);
        }
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if self.gained(with(middle).0) > 0.0 { high = middle } else { low = middle }
        }
        let tamed = with(low);
        (tamed.0, tamed.1, true)
    }

    /// The impulse that restitution and friction ask for.
    fn solve(&self, contact: &Contact) -> (DVec3, Across) {
        let Contact { restitution, friction, grip_return } = *contact;
        let normal = self.slip.dot(self.push);
        let across = self.slip - self.push * normal;
        let wanted = -self.push * (restitution * normal) - across * grip_return;
        let grip = self.mobility.inverse() * (wanted - self.slip);
        let bearing = grip.dot(self.push);
        let tangent = grip - self.push * bearing;
        if bearing > 0.0 && tangent.length() <= friction * bearing {
            return (grip, Across::Gripped);
        }
        // Against the slip; from rest, the way the grip would have held.
        let against = (-across).try_normalize().unwrap_or_else(|| tangent.normalize_or_zero());
        let direction = self.push + against * friction;
        let response = self.push.dot(self.mobility * direction);
        let sliding = direction * (-(1.0 + restitution) * normal / response);
        if response > 0.0 && !self.drives(sliding) {
            return (sliding, Across::Slid);
        }
        let change = -(1.0 + restitution) * normal;
        let blow = Eccentric::new(self.push, self.slip, self.mobility, change, friction);
        (blow.impulse(), Across::Slid)
    }

    /// Whether friction pushes the contact point on in the way it slips at the
    /// end: the push itself has reversed the slip.
    fn drives(&self, impulse: DVec3) -> bool {
        let left = self.slip + self.mobility * impulse;
        impulse.reject_from_normalized(self.push).dot(left) > 0.0
    }
}

/// Change of a point's velocity per impulse at that point, in 1/kg:
/// `1/m − [r]× I⁻¹ [r]×`.
pub(super) fn mobility(body: &Body, state: &State, arm: DVec3) -> DMat3 {
    let column = |axis: DVec3| {
        let turn = state.attitude.inverse() * arm.cross(axis);
        axis / body.mass + (state.attitude * (turn / body.inertia)).cross(arm)
    };
    DMat3::from_cols(column(DVec3::X), column(DVec3::Y), column(DVec3::Z))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{body::Shape, contact::Surface};
    use glam::DQuat;
    use proptest::prelude::*;

    /// A touch of a standing plane whose push is +y, as the worked values have
    /// it; body and world axes agree.
    fn touch(arm: DVec3, velocity: DVec3, spin: DVec3, attitude: DQuat) -> Touch {
        let state =
            State { position: DVec3::ZERO, velocity, attitude, rates: attitude.inverse() * spin };
        Touch {
            surface: Surface::Ground,
            time: 0.0,
            state,
            point: arm,
            on_face: [0.0; 2],
            normal: DVec3::Y,
            push: DVec3::Y,
            relative_velocity: velocity,
            closing_speed: -state.velocity_at(arm).y,
            obliquity: 0.0,
            axis_angles: [0.0; 3],
            effective_mass: 1.0,
            total_energy: 0.0,
            normal_energy: 0.0,
        }
    }

    fn energy(body: &Body, state: &State) -> f64 {
        0.5 * body.mass * state.velocity.length_squared()
            + 0.5 * state.rates.dot(body.inertia * state.rates)
    }

    fn near_all(a: DVec3, b: DVec3, tolerance: f64) {
        assert!((a - b).length() <= tolerance, "{a} is not {b}");
    }

    fn rough(restitution: f64, friction: f64) -> Contact {
        Contact { restitution, friction, grip_return: 0.0 }
    }

    /// A ball of 33 mm radius and 1 kg; `hollow`: a thin shell.
    fn ball(hollow: bool) -> Body {
        let solid = Body::solid(Shape::Sphere { diameter: 0.066 }, 1.0);
        if hollow { Body { inertia: solid.inertia / 0.6, ..solid } } else { solid }
    }

    fn ball_case(hollow: bool, start: [f64; 3], contact: Contact) -> [f64; 3] {
        let [x, y, spin] = start;
        let touch =
            touch(DVec3::Y * -0.033, DVec3::new(x, y, 0.0), DVec3::Z * spin, DQuat::IDENTITY);
        let after = bounce(&ball(hollow), &touch, &contact).state;
        [after.velocity.x, after.velocity.y, after.rates.z]
    }

    fn close(got: [f64; 3], wanted: [f64; 3]) {
        for (a, b) in got.into_iter().zip(wanted) {
            assert!((a - b).abs() < 1e-5, "{got:?} is not {wanted:?}");
        }
    }

    /// Source: Routh's sphere on a plane, closed form evaluated for e 0.75, R
    /// 33 mm (derived).
    #[test]
    fn balls_grip_or_slide_as_the_closed_form_says() {
        let contact = |grip_return| Contact { restitution: 0.75, friction: 0.6, grip_return };
        close(ball_case(false, [20.0, -5.0, 0.0], contact(0.0)), [14.75, 3.75, -397.727_273]);
        let shell = ball_case(true, [20.0, -5.0, 0.0], contact(0.0));
        close([shell[0], shell[1], 0.0], [14.75, 3.75, 0.0]);
        assert!((shell[2] + 238.6364).abs() < 5e-5);
        close(ball_case(false, [5.0, -10.0, 0.0], contact(0.0)), [3.571_429, 7.5, -108.225_108]);
        close(ball_case(true, [5.0, -10.0, 0.0], contact(0.0)), [3.0, 7.5, -90.909_091]);
        close(ball_case(false, [5.0, -10.0, 0.0], contact(0.25)), [3.214_286, 7.5, -135.281_385]);
        close(ball_case(false, [0.0, -10.0, -100.0], contact(0.0)), [0.942_857, 7.5, -28.571_429]);
    }

    /// Source: rod of 1 kg and 1 m falling at 5 m/s on one end, e 0.5 (closed
    /// form and impulse equations, derived).
    #[test]
    fn a_rod_that_falls_on_one_end_turns_over_it() {
        let body = Body {
            inertia: DVec3::new(1e-9, 1.0 / 12.0, 1.0 / 12.0),
            ..Body::solid(Shape::Rod { length: 1.0, diameter: 1e-4 }, 1.0)
        };
        let cases = [
            (0.0, 0.0, [0.0, -3.125, -11.25]),
            (30.0, 0.0, [0.0, -2.692_308, -11.991_121]),
            (45.0, 0.0, [0.0, -2.0, -12.727_922]),
            (45.0, 0.3, [1.097_561, -1.341_463, -10.865_299]),
            (45.0, 2.0, [2.8125, -0.3125, -7.954_951]),
            (90.0, 0.0, [0.0, 2.5, 0.0]),
        ];
        for (degrees, friction, wanted) in cases {
            let turn = DQuat::from_rotation_z(f64::to_radians(degrees));
            // The lower end; of the rod that lies flat, the left one.
            let arm = turn * DVec3::X * -0.5;
            let touch = touch(arm, DVec3::Y * -5.0, DVec3::ZERO, turn);
            let after = bounce(&body, &touch, &rough(0.5, friction)).state;
            let spin = (turn * after.rates).z;
            close([after.velocity.x, after.velocity.y, spin], wanted);
        }
    }

    /// Source: impulse equations for a box of 2 kg, 0.3 × 0.2 × 0.1 m, hit off
    /// its centre, e 0.4 (derived).
    #[test]
    fn a_box_that_lands_on_its_corner_spins_in_three_dimensions() {
        let body = Body::solid(Shape::Block { length: 0.3, width: 0.2, height: 0.1 }, 2.0);
        let start = touch(
            DVec3::new(0.15, -0.1, 0.05),
            DVec3::new(3.0, -4.0, 1.0),
            DVec3::new(2.0, 5.0, -3.0),
            DQuat::IDENTITY,
        );
        let slid = bounce(&body, &start, &rough(0.4, 0.2));
        assert_eq!(slid.across, Across::Slid);
        near_all(slid.state.velocity, DVec3::new(2.624_904, -2.124_249, 0.993_642), 2e-6);
        near_all(slid.state.rates, DVec3::new(-20.356_434, 2.863_858, 19.509_513), 2e-6);
        let smooth = bounce(&body, &start, &rough(0.4, 0.0));
        near_all(smooth.state.velocity, DVec3::new(3.0, -2.267_573, 1.0), 2e-6);
        near_all(smooth.state.rates, DVec3::new(-18.789_121, 5.0, 20.987_448), 2e-6);
        assert!(
            (energy(&body, &slid.state) - energy(&body, &start.state) - slid.work.done).abs()
                < 1e-9
        );
    }

    /// Source: standard derivation: 2 kg, 0.4 × 0.3 × 0.1 m against a fixed
    /// wall, e 0.3, no friction: J 25.0613 N s, 190.779 J lost (derived).
    #[test]
    fn a_box_against_a_wall_loses_what_the_impulse_says() {
        let body = Body::solid(Shape::Block { length: 0.4, width: 0.3, height: 0.1 }, 2.0);
        let spin = DVec3::new(0.0, 5.0, -10.0);
        let corner = DVec3::new(0.2, 0.15, 0.05);
        let velocity = DVec3::new(20.0, -3.0, 1.0);
        let wall = Touch { push: -DVec3::X, ..touch(corner, velocity, spin, DQuat::IDENTITY) };
        let rebound = bounce(&body, &wall, &rough(0.3, 0.0));
        near_all(rebound.impulse, DVec3::X * -25.0613, 5e-5);
        near_all(rebound.state.velocity, DVec3::new(7.469_369, -3.0, 1.0), 1e-6);
        near_all(rebound.state.rates, DVec3::new(0.0, -39.225_756, 80.220_542), 5e-6);
        assert!((rebound.work.done + 190.779).abs() < 5e-4);
        assert!((rebound.state.velocity_at(corner).x + 6.525).abs() < 1e-9);
    }

    /// A billet struck so near to a jam that friction has a second, wrong
    /// way to come near to a grip: there it would drive the slip.
    #[test]
    fn near_a_jam_friction_still_rubs() {
        let shape = Shape::Block { length: 1.73, width: 0.39, height: 0.24 };
        let body = Body {
            inertia: DVec3::new(0.052_971_102, 0.763_454_778, 0.786_854_144),
            ..Body::solid(shape, 3.0)
        };
        let attitude = DQuat::from_xyzw(
            -0.388_747_147_685,
            0.736_395_042_958,
            0.463_705_643_948,
            0.302_613_733_404,
        );
        let rates = DVec3::new(8.399_328_129, -23.291_648_813, -32.142_105_973);
        let arm = DVec3::new(-0.288_894_719_83, -0.416_530_103_64, -0.738_026_100_94);
        let velocity = DVec3::new(-8.511_148_312, -11.305_855_99, -18.298_399_171);
        let start = touch(arm, velocity, attitude * rates, attitude);
        let after = bounce(&body, &start, &rough(0.0, 2.094_682_018));
        let slip = across_push(&after.state, &start);
        let rubbing = after.impulse.reject_from(start.push).dot(slip);
        assert!(rubbing <= 1e-6, "{rubbing} J");
    }

    #[test]
    fn a_contact_that_opens_gives_no_push() {
        let rising = touch(DVec3::Y * -0.033, DVec3::Y, DVec3::ZERO, DQuat::IDENTITY);
        let rebound = bounce(&ball(false), &rising, &rough(0.5, 0.5));
        assert_eq!(rebound.state, rising.state);
    }

    prop_compose! {
        /// Vectors with components in -size..size.
        fn vectors(size: f64)(x in -size..size, y in -size..size, z in -size..size) -> DVec3 {
            DVec3::new(x, y, z)
        }
    }

    prop_compose! {
        /// A block that comes down on its lowest corner.
        fn blows()(
            velocity in vectors(20.0),
            spin in vectors(60.0),
            turn in vectors(3.0),
            size in [0.02..2.0, 0.02..2.0, 0.02..2.0],
        ) -> (Body, Touch) {
            let [length, width, height] = size;
            let body = Body::solid(Shape::Block { length, width, height }, 3.0);
            let attitude = DQuat::from_scaled_axis(turn);
            let down = attitude.inverse() * -DVec3::Y;
            let arm = attitude * (body.half_extents() * down.signum());
            let velocity = DVec3 { y: -0.1 - velocity.y.abs(), ..velocity };
            (body, touch(arm, velocity, spin, attitude))
        }
    }

    prop_compose! {
        fn contacts()(
            restitution in 0.0..1.0, friction in 0.0..2.5, grip_return in 0.0..1.0,
        ) -> Contact {
            Contact { restitution, friction, grip_return }
        }
    }

    /// Angular momentum about the centre of mass, world frame, in kg m²/s.
    fn turning(body: &Body, state: &State) -> DVec3 {
        state.attitude * (body.inertia * state.rates)
    }

    /// Velocity of the contact point across the push, in m/s.
    fn across_push(state: &State, touch: &Touch) -> DVec3 {
        state.velocity_at(touch.point - touch.state.position).reject_from(touch.push)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..Default::default() })]

        /// What the body gains the surface gave; all of it at one point, about
        /// which no angular momentum is gained.
        #[test]
        fn a_bounce_balances_momentum_about_the_contact_point(
            blow in blows(), contact in contacts(),
        ) {
            let (body, start) = blow;
            let after = bounce(&body, &start, &contact);
            let gained = (after.state.velocity - start.state.velocity) * body.mass;
            prop_assert!((gained - after.impulse).length() <= 1e-12 * (1.0 + gained.length()));
            let about_point = |state: &State| {
                turning(&body, state) + (state.position - start.point).cross(state.velocity * body.mass)
            };
            let (before, after) = (about_point(&start.state), about_point(&after.state));
            prop_assert!((after - before).length() <= 1e-11 * (1.0 + gained.length()));
        }

        #[test]
        fn a_mirrored_blow_bounces_to_the_mirrored_side(blow in blows(), contact in contacts()) {
            // The world mirrored in z; of a box, the body's axes may stay.
            let polar = |v: DVec3| DVec3 { z: -v.z, ..v };
            let axial = |v: DVec3| DVec3 { z: v.z, ..-v };
            let (body, start) = blow;
            let DQuat { x, y, z, w } = start.state.attitude;
            let attitude = DQuat::from_xyzw(-x, -y, z, w);
            let spin = axial(start.state.attitude * start.state.rates);
            let mirrored = touch(polar(start.point), polar(start.state.velocity), spin, attitude);
            let after = bounce(&body, &start, &contact);
            let other = bounce(&body, &mirrored, &contact);
            let wanted = polar(after.state.velocity);
            prop_assert!((other.state.velocity - wanted).length() <= 1e-6 * (1.0 + wanted.length()));
            let wanted = axial(after.state.attitude * after.state.rates);
            let spin = attitude * other.state.rates;
            prop_assert!((spin - wanted).length() <= 1e-6 * (1.0 + wanted.length()));
        }

        /// Friction stops the contact point or slows it, and never drives it.
        #[test]
        fn friction_never_reverses_slip(
            blow in blows(), restitution in 0.0..1.0, friction in 0.0..2.5,
        ) {
            let (body, start) = blow;
            let after = bounce(&body, &start, &rough(restitution, friction));
            let slip = across_push(&after.state, &start);
            let rubbing = after.impulse.reject_from(start.push).dot(slip);
            prop_assert!(rubbing <= 1e-9 * after.impulse.length() * (1.0 + slip.length()), "{rubbing}");
        }

        #[test]
        fn a_ball_slips_on_the_way_it_slipped(
            velocity in vectors(20.0), spin in vectors(200.0), restitution in 0.0..1.0, friction in 0.0..2.5,
        ) {
            let velocity = DVec3 { y: -0.1 - velocity.y.abs(), ..velocity };
            let start = touch(DVec3::Y * -0.033, velocity, spin, DQuat::IDENTITY);
            let after = bounce(&ball(false), &start, &rough(restitution, friction));
            let (before, after) = (across_push(&start.state, &start), across_push(&after.state, &start));
            prop_assert!(before.dot(after) >= -1e-9 * before.length());
            prop_assert!(after.length() <= before.length() * (1.0 + 1e-12));
            prop_assert!(before.cross(after).length() <= 1e-9 * before.length_squared());
        }

        /// However slow the blow: it comes back no faster than it came or than a corner
        /// asks for, and faster than it came only by what friction takes.
        #[test]
        fn a_slow_blow_in_a_corner_takes_its_hop_from_its_slip(
            blow in blows(), contact in contacts(), closes in 1e-6..CORNER_REBOUND,
        ) {
            let (body, mut start) = blow;
            start.state.velocity.y += start.closing_speed - closes;
            start.relative_velocity = start.state.velocity;
            start.closing_speed = closes;
            let rebound = bounce(&body, &start, &contact.in_corner(closes));
            let (before, after) = (energy(&body, &start.state), energy(&body, &rebound.state));
            prop_assert!(after <= before * (1.0 + 1e-12), "{before} J became {after} J");
            prop_assert!(rebound.work.gained < 1e-9 * before);
            let rises = rebound.state.velocity_at(start.point).y;
            prop_assert!(rises <= CORNER_REBOUND * (1.0 + 1e-6), "{rises} m/s");
            let slipped = Contact { friction: 0.0, grip_return: 0.0, ..contact };
            let smooth = bounce(&body, &start, &slipped.in_corner(closes));
            let rises = smooth.state.velocity_at(start.point).y;
            prop_assert!(rises <= closes + 1e-9 * start.state.velocity.length(), "{rises} m/s");
        }

        #[test]
        fn a_bounce_never_creates_energy_and_never_ends_inside(
            blow in blows(), contact in contacts(),
        ) {
            let (body, start) = blow;
            let arm = start.point;
            let rebound = bounce(&body, &start, &contact);
            let (before, after) = (energy(&body, &start.state), energy(&body, &rebound.state));
            prop_assert!(after <= before * (1.0 + 1e-12), "{before} J became {after} J");
            prop_assert!((after - before - rebound.work.done).abs() < 1e-9 * before);
            prop_assert!(rebound.work.gained < 1e-9 * before);
            if start.closing_speed > 0.0 {
                prop_assert!(rebound.state.velocity_at(arm).y >= -1e-9 * start.closing_speed);
                prop_assert!(rebound.impulse.y >= 0.0);
            }
        }
    }
}
