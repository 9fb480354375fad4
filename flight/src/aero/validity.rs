//! Where the models are confirmed.

use super::{Coefficients, ball::measured};
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
    /// A Reynolds number outside the range of the coefficients.
    Reynolds,
    /// Proportions outside those of the shape family.
    Proportions,
    /// A ball's spin outside the spins and Reynolds numbers that its lift was
    /// measured at.
    Spin,
    /// The flow came from a direction that the table of coefficients has not.
    Direction,
    /// A sheet so light that real ones flutter to and fro as they fall, where the
    /// model has them tumble.
    Flutter,
}

/// How far a flight went to the limits of its models.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extremes {
    /// Largest speed through the air, in m/s.
    pub fastest: f64,
    /// Largest of what the model calls a stray; 0 where it calls nothing so.
    pub stray: f64,
}

/// Within what one flight's model is confirmed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Speed through the air at Mach 0.6, in m/s.
    pub mach: f64,
    /// Speeds through the air at the smallest and largest Reynolds numbers, in
    /// m/s, of which the flight's largest has to be one.
    pub reynolds: [f64; 2],
    /// Whether the shape has the proportions of its family.
    pub proportions: bool,
    /// Between which speeds through the air the lift of spin was measured, in
    /// m/s, of which the flight's largest has to be one.
    pub lift: [f64; 2],
    /// The largest stray that the model is confirmed for.
    pub stray: f64,
    /// What a larger one is.
    strayed: Doubt,
    /// Whether it is heavy enough to tumble.
    tumbles: bool,
}

/// Mass of a sheet over that of the air in its chord² x span, from which on it
/// tumbles and below which it flutters: a Froude number of 0.67, squared.
///
/// Source: Belmonte, Eisenberg & Moses 1998, PRL 81:345, strips (read
/// second-hand).
const TUMBLES: f64 = 0.67 * 0.67;

/// The same of a disc, over the air in diameter³: a moment of inertia of 0.04 in
/// their measure, π ρs h / (64 ρ d).
///
/// Source: Field, Klaus, Moore & Nori 1997, Nature 388:252 (from memory).
const DISC_TUMBLES: f64 = 16.0 * 0.04;

/// Whether a body is no sheet, or one that is heavy enough to tumble.
fn tumbles(body: &Body, air: &Air) -> bool {
    match body.shape {
        Shape::Plate { length, width, .. } => {
            let chord = length.min(width);
            body.mass >= TUMBLES * air.density * chord * length * width
        }
        Shape::Disc { diameter, .. } => {
            body.mass >= DISC_TUMBLES * air.density * diameter * diameter * diameter
        }
        _ => true,
    }
}

/// Above this sphericity a lump is more ball than stone: rounded enough for a
/// drag crisis, which a smooth sphere has from Reynolds number 2e5 on. Below, it
/// has edges, and its drag stays as it is: fixed shapes with edges have one drag
/// coefficient at all Reynolds numbers above 1e4 (Hoerner; Matthews, Aeronautical
/// Engineer's Data Book). Where between a ball and an octahedron (0.846) the line
/// is, is our judgement.
const ROUNDED: f64 = 0.9;

impl Limits {
    /// The limits of a body in this air.
    #[must_use]
    pub fn new(body: &Body, air: &Air, coefficients: &Coefficients) -> Self {
        let per_speed = |length| air.reynolds(length, 1.0);
        let (reynolds, proportions) = match body.shape {
            Shape::Sphere { diameter } => (measured(body.surface).drag / per_speed(diameter), true),
            Shape::Plate { length, width, thickness } => {
                (f64::INFINITY, thickness <= 0.2 * length.min(width))
            }
            Shape::Irregular { diameter, sphericity } => {
                let most = if sphericity > ROUNDED { 2e5 } else { f64::INFINITY };
                (most / per_speed(diameter), (0.67..=1.0).contains(&sphericity))
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
            Shape::Custom { .. } => (f64::INFINITY, true),
        };
        let mut reynolds = [0.0, reynolds];
        let (mut lift, mut stray, mut strayed) = ([0.0, f64::INFINITY], 0.5, Doubt::Direction);
        if let Shape::Sphere { diameter } = body.shape {
            let measured = measured(body.surface);
            lift = measured.lift.map(|reynolds| reynolds / per_speed(diameter));
            let keenest = measured.spin / (diameter / 2.0);
            (stray, strayed) = (keenest * keenest, Doubt::Spin);
        }
        if let (Coefficients::Custom(custom), Shape::Custom { reference, .. }) =
            (coefficients, body.shape)
        {
            reynolds = custom.table().reynolds.map(|number| number / per_speed(reference[1]));
        }
        let (mach, tumbles) = (0.6 * air.sound, tumbles(body, air));
        Self { mach, reynolds, proportions, lift, stray, strayed, tumbles }
    }

    /// What a flight left.
    pub fn doubts(&self, extremes: Extremes) -> impl Iterator<Item = Doubt> {
        let Extremes { fastest, stray } = extremes;
        let within = |[slow, fast]: [f64; 2]| (slow..=fast).contains(&fastest);
        let strayed = stray > self.stray || (stray > 0.0 && !within(self.lift));
        [
            (fastest > self.mach).then_some(Doubt::Mach),
            (!within(self.reynolds)).then_some(Doubt::Reynolds),
            (!self.proportions).then_some(Doubt::Proportions),
            strayed.then_some(self.strayed),
            (!self.tumbles).then_some(Doubt::Flutter),
        ]
        .into_iter()
        .flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::Surface;

    fn limits(body: &Body, air: &Air) -> Limits {
        Limits::new(body, air, &Coefficients::new(body, air, 1.0))
    }

    fn speed(fastest: f64) -> Extremes {
        Extremes { fastest, stray: 0.0 }
    }

    #[test]
    fn a_fast_thick_plate_is_doubted_twice() {
        let air = Air::moist(288.15, 101_325.0, 0.0);
        let shape = Shape::Plate { length: 1.0, width: 0.5, thickness: 0.2 };
        let limits = limits(&Body::solid(shape, 3.0), &air);
        let found: Vec<Doubt> = limits.doubts(speed(210.0)).collect();
        assert_eq!(found, [Doubt::Mach, Doubt::Proportions]);
    }

    /// Source: Morrison 2013, valid to Reynolds number 1e6.
    #[test]
    fn a_big_fast_ball_leaves_the_drag_curve() {
        let air = Air::moist(288.15, 101_325.0, 0.0);
        let limits = limits(&Body::solid(Shape::Sphere { diameter: 0.5 }, 3.0), &air);
        assert_eq!(limits.doubts(speed(40.0)).collect::<Vec<_>>(), [Doubt::Reynolds]);
        assert_eq!(limits.doubts(speed(20.0)).count(), 0);
    }

    /// Source: Nathan 2008: Reynolds numbers 1.1e5 to 2.4e5, S to 0.595.
    #[test]
    fn a_seamed_ball_is_doubted_where_its_lift_was_not_measured() {
        let air = Air::moist(288.15, 101_325.0, 0.0);
        let ball = Body::solid(Shape::Sphere { diameter: 0.0728 }, 0.145);
        let limits = limits(&Body { surface: Surface::Seamed, ..ball }, &air);
        let doubts = |fastest, keenest: f64| {
            limits.doubts(Extremes { fastest, stray: keenest * keenest }).collect::<Vec<_>>()
        };
        assert_eq!(doubts(35.0, 5.0), []);
        assert_eq!(doubts(35.0, 17.0), [Doubt::Spin]);
        assert_eq!(doubts(15.0, 5.0), [Doubt::Spin]);
        assert_eq!(doubts(60.0, 5.0), [Doubt::Reynolds, Doubt::Spin]);
        assert_eq!(doubts(15.0, 0.0), []);
    }
}
