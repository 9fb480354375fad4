//! Where the models are confirmed.

use super::ball::measured;
use crate::{
    body::{Body, Shape},
    world::Air,
};

/// A range that a draw has left. The order is stable: it names sentences in
/// the findings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// Faster than Mach 0.6: the drag is optimistic there.
    Mach,
    /// A Reynolds number above the range of the drag curve.
    Reynolds,
    /// Proportions outside those of the shape family.
    Proportions,
    /// A ball's spin outside the spins and Reynolds numbers that its lift was
    /// measured at.
    Spin,
}

/// How far a flight went to the limits of its models.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extremes {
    /// Largest speed through the air, in m/s.
    pub fastest: f64,
    /// Largest rate over speed through the air, in rad/m; 0 where spin does not
    /// count.
    pub keenest: f64,
}

/// Within what one flight's model is confirmed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Speed through the air at Mach 0.6, in m/s.
    pub mach: f64,
    /// Speed through the air at the largest Reynolds number, in m/s.
    pub reynolds: f64,
    /// Whether the shape has the proportions of its family.
    pub proportions: bool,
    /// Between which speeds through the air the lift of spin was measured, in
    /// m/s, of which the flight's largest has to be one.
    pub lift: [f64; 2],
    /// Largest rate over speed that it was measured at, in rad/m.
    pub keenest: f64,
}

impl Limits {
    /// The limits of a body in this air.
    #[must_use]
    pub fn new(body: &Body, air: &Air) -> Self {
        let per_speed = |length| air.reynolds(length, 1.0);
        let (reynolds, proportions) = match body.shape {
            Shape::Sphere { diameter } => (measured(body.surface).drag / per_speed(diameter), true),
            Shape::Plate { length, width, thickness } => {
                (f64::INFINITY, thickness <= 0.2 * length.min(width))
            }
            Shape::Irregular { diameter, sphericity } => {
                (2.5e4 / per_speed(diameter), (0.67..=1.0).contains(&sphericity))
            }
            Shape::Disc { diameter, thickness } => (f64::INFINITY, thickness <= 0.2 * diameter),
            Shape::Wheel { diameter, width, hub } => {
                let proportions = (0.1..=1.0).contains(&(width / diameter)) && hub < 1.0;
                (f64::INFINITY, proportions)
            }
            Shape::Rod { length, diameter } => {
                (1e7 / per_speed(diameter), length >= 2.0 * diameter)
            }
            Shape::Cylinder { length, diameter } => (1e7 / per_speed(diameter), length >= diameter),
            Shape::Tube { length, diameter, wall } => {
                (1e7 / per_speed(diameter), length >= diameter && 2.0 * wall <= diameter)
            }
            Shape::Cone { length, diameter } => {
                (2e7 / per_speed(diameter), (0.5..=4.0).contains(&(length / diameter)))
            }
            Shape::Block { length, width, height } => {
                let sides = [length, width, height];
                let longest = sides.into_iter().fold(0.0, f64::max);
                let shortest = sides.into_iter().fold(f64::INFINITY, f64::min);
                (f64::INFINITY, longest <= 5.0 * shortest)
            }
        };
        let (mut lift, mut keenest) = ([0.0, f64::INFINITY], f64::INFINITY);
        if let Shape::Sphere { diameter } = body.shape {
            let measured = measured(body.surface);
            lift = measured.lift.map(|reynolds| reynolds / per_speed(diameter));
            keenest = measured.spin / (diameter / 2.0);
        }
        Self { mach: 0.6 * air.sound, reynolds, proportions, lift, keenest }
    }

    /// What a flight left.
    pub fn doubts(&self, extremes: Extremes) -> impl Iterator<Item = Doubt> {
        let Extremes { fastest, keenest } = extremes;
        let [slow, fast] = self.lift;
        let measured = (slow..=fast).contains(&fastest) && keenest <= self.keenest;
        [
            (fastest > self.mach).then_some(Doubt::Mach),
            (fastest > self.reynolds).then_some(Doubt::Reynolds),
            (!self.proportions).then_some(Doubt::Proportions),
            (keenest > 0.0 && !measured).then_some(Doubt::Spin),
        ]
        .into_iter()
        .flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::Surface;

    fn speed(fastest: f64) -> Extremes {
        Extremes { fastest, keenest: 0.0 }
    }

    #[test]
    fn a_fast_thick_plate_is_doubted_twice() {
        let air = Air::moist(288.15, 101_325.0, 0.0);
        let shape = Shape::Plate { length: 1.0, width: 0.5, thickness: 0.2 };
        let limits = Limits::new(&Body::solid(shape, 3.0), &air);
        let found: Vec<Doubt> = limits.doubts(speed(210.0)).collect();
        assert_eq!(found, [Doubt::Mach, Doubt::Proportions]);
    }

    /// Source: Morrison 2013, valid to Reynolds number 1e6.
    #[test]
    fn a_big_fast_ball_leaves_the_drag_curve() {
        let air = Air::moist(288.15, 101_325.0, 0.0);
        let limits = Limits::new(&Body::solid(Shape::Sphere { diameter: 0.5 }, 3.0), &air);
        assert_eq!(limits.doubts(speed(40.0)).collect::<Vec<_>>(), [Doubt::Reynolds]);
        assert_eq!(limits.doubts(speed(20.0)).count(), 0);
    }

    /// Source: Nathan 2008: Reynolds numbers 1.1e5 to 2.4e5, S to 0.595.
    #[test]
    fn a_seamed_ball_is_doubted_where_its_lift_was_not_measured() {
        let air = Air::moist(288.15, 101_325.0, 0.0);
        let ball = Body::solid(Shape::Sphere { diameter: 0.0728 }, 0.145);
        let limits = Limits::new(&Body { surface: Surface::Seamed, ..ball }, &air);
        let doubts =
            |fastest, keenest| limits.doubts(Extremes { fastest, keenest }).collect::<Vec<_>>();
        assert_eq!(doubts(35.0, 5.0), []);
        assert_eq!(doubts(35.0, 17.0), [Doubt::Spin]);
        assert_eq!(doubts(15.0, 5.0), [Doubt::Spin]);
        assert_eq!(doubts(60.0, 5.0), [Doubt::Reynolds, Doubt::Spin]);
        assert_eq!(doubts(15.0, 0.0), []);
    }
}
