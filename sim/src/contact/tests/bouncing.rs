//! Touch, bounce, fly on, touch again.

use super::{
    super::bounce::{Contact, bounce},
    *,
};

/// Free fall with torque-free turning (exact for equal moments, Runge-Kutta's
/// fourth order elsewhere), from a state at a time.
struct Fall<'a> {
    body: &'a Body,
    from: State,
    since: f64,
}

impl Motion for Fall<'_> {
    fn state(&self, time: f64) -> State {
        let t = time - self.since;
        let inertia = self.body.inertia;
        let slope = |q: DQuat, w: DVec3| {
            let turn = q * DQuat::from_xyzw(w.x / 2.0, w.y / 2.0, w.z / 2.0, 0.0);
            (turn, -w.cross(inertia * w) / inertia)
        };
        let (mut q, mut w) = (self.from.attitude, self.from.rates);
        let steps = 40;
        let h = t / f64::from(steps);
        for _ in 0..steps {
            let (q1, w1) = slope(q, w);
            let (q2, w2) = slope(q + q1 * (h / 2.0), w + w1 * (h / 2.0));
            let (q3, w3) = slope(q + q2 * (h / 2.0), w + w2 * (h / 2.0));
            let (q4, w4) = slope(q + q3 * h, w + w3 * h);
            q = (q + (q1 + q2 * 2.0 + q3 * 2.0 + q4) * (h / 6.0)).normalize();
            w += (w1 + w2 * 2.0 + w3 * 2.0 + w4) * (h / 6.0);
        }
        let gravity = DVec3::Z * -G;
        State {
            position: self.from.position + self.from.velocity * t + gravity * (t * t / 2.0),
            velocity: self.from.velocity + gravity * t,
            attitude: q,
            rates: w,
        }
    }
}

/// The touches of a fall with bounces, until `count` or 4 s.
fn bounces(body: &Body, start: State, contact: &Contact, count: usize) -> Vec<Touch> {
    let (mut from, mut since, mut clock) = (start, 0.0, 0.0);
    let mut list = Vec::new();
    while clock < 4.0 && list.len() < count {
        let motion = Fall { body, from, since };
        match first_touch(body, &Scenery::new(), &motion, [clock, clock + 0.02], &[]) {
            Some(touch) => {
                from = bounce(body, &touch, contact).state;
                (since, clock) = (touch.time, touch.time);
                list.push(touch);
            }
            None => clock += 0.02,
        }
    }
    list
}

fn at_rest(height: f64, attitude: DQuat) -> State {
    State { position: DVec3::Z * height, velocity: DVec3::ZERO, attitude, rates: DVec3::ZERO }
}

/// Source: approval rule of tennis balls (read): from 254 cm to 135-147 cm,
/// measured under the ball: e 0.7290-0.7607.
#[test]
fn a_tennis_ball_rebounds_as_its_rule_says() {
    let body = ball(0.067, 0.0577);
    let start = at_rest(2.54 + 0.0335, DQuat::IDENTITY);
    for (restitution, wanted) in [(0.7290, 1.35), (0.7607, 1.47)] {
        let contact = Contact { restitution, friction: 0.6, grip_return: 0.2 };
        let touches = bounces(&body, start, &contact, 2);
        let rise = touches[1].closing_speed.powi(2) / (2.0 * G);
        near(rise, wanted, 5e-4);
        // Up and down again between the two.
        near(touches[1].time - touches[0].time, 2.0 * touches[1].closing_speed / G, 1e-5);
    }
}

#[test]
fn a_block_that_hops_on_its_corners_loses_energy_at_each_and_stays_above_ground() {
    let body = block(0.4, 0.3, 0.1, 2.0);
    let attitude = DQuat::from_rotation_y(0.5) * DQuat::from_rotation_x(0.3);
    let start = State { velocity: DVec3::X * 6.0, ..at_rest(2.0, attitude) };
    let contact = Contact { restitution: 0.4, friction: 0.5, grip_return: 0.0 };
    let touches = bounces(&body, start, &contact, 40);
    assert!(touches.len() > 10, "{} hops", touches.len());
    let height = |touch: &Touch| touch.total_energy + body.mass * G * touch.state.position.z;
    for pair in touches.windows(2) {
        assert!(height(&pair[1]) <= height(&pair[0]) * (1.0 + 1e-6));
        assert!(pair[1].point.z > -1e-4 && pair[1].closing_speed > 0.0);
    }
}
