//! Where the models are confirmed.

use super::{
    Coefficients,
    ball::measured,
    families::{Ground, ground},
};
use crate::{
    body::{Body, Shape, Surface},
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
    /// Something that is called smooth, in the range of the drag crisis: dust,
    /// scratches or a turbulent wind decide there.
    Smooth,
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
    /// Speed through the air from which on what is called smooth is in its drag
    /// crisis, in m/s.
    pub smooth: f64,
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
        Shape::Sphere { .. }
        | Shape::Irregular { .. }
        | Shape::Wheel { .. }
        | Shape::Rod { .. }
        | Shape::Cylinder { .. }
        | Shape::Tube { .. }
        | Shape::Cone { .. }
        | Shape::Block { .. }
        | Shape::Bar { .. }
        | Shape::Custom { .. } => true,
    }
}

/// From here on a smooth ball or cylinder may be in its crisis.
const CRITICAL: f64 = 1e5;

impl Limits {
    /// The limits of a body in this air.
    #[must_use]
    pub fn new(body: &Body, air: &Air, coefficients: &Coefficients) -> Self {
        let per_speed = |length| air.reynolds(length, 1.0);
        let Ground { reynolds: range, size, proportions } = ground(body);
        let mut reynolds = range.map(|number| number / per_speed(size));
        let smooth = body.surface == Surface::Smooth && body.surface.fits(&body.shape);
        let smooth = if smooth { CRITICAL / per_speed(size) } else { f64::INFINITY };
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
        Self { mach, reynolds, proportions, smooth, lift, stray, strayed, tumbles }
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
            (fastest > self.smooth).then_some(Doubt::Smooth),
        ]
        .into_iter()
        .flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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

    fn doubts(body: &Body, fastest: f64) -> Vec<Doubt> {
        limits(body, &Air::moist(288.15, 101_325.0, 0.0)).doubts(speed(fastest)).collect()
    }

    /// Source: Achenbach 1974, JFM 65:113: Reynolds numbers to 6e6.
    #[test]
    fn a_big_fast_ball_leaves_the_drag_curve() {
        let ball = Body::solid(Shape::Sphere { diameter: 0.5 }, 3.0);
        assert_eq!(doubts(&ball, 180.0), [Doubt::Reynolds]);
        assert_eq!(doubts(&ball, 20.0), []);
    }

    /// A ball of 0.1 m is at Reynolds number 1e5 at 14.6 m/s.
    #[test]
    fn what_is_called_smooth_is_doubted_in_its_crisis() {
        for shape in [
            Shape::Sphere { diameter: 0.1 },
            Shape::Cylinder { length: 0.3, diameter: 0.1 },
            Shape::Tube { length: 0.3, diameter: 0.1, wall: 0.002 },
        ] {
            let smooth = Body { surface: Surface::Smooth, ..Body::solid(shape, 1.0) };
            assert_eq!(doubts(&smooth, 14.0), [], "{}", shape.name());
            assert_eq!(doubts(&smooth, 16.0), [Doubt::Smooth], "{}", shape.name());
            let painted = Body { surface: Surface::Painted, ..smooth };
            assert_eq!(doubts(&painted, 16.0), [], "{}", shape.name());
        }
    }

    /// Sheets, blocks and bars at Reynolds numbers of hundreds, and lumps above
    /// 1e5, are outside of what was read.
    #[test]
    fn slow_small_sheets_and_fast_big_lumps_are_doubted() {
        for shape in [
            Shape::Plate { length: 0.02, width: 0.01, thickness: 0.0005 },
            Shape::Disc { diameter: 0.01, thickness: 0.0005 },
            Shape::Block { length: 0.01, width: 0.01, height: 0.01 },
            Shape::Bar { length: 0.1, width: 0.01, height: 0.01 },
        ] {
            let body = Body::solid(shape, 0.01);
            assert_eq!(doubts(&body, 1.0), [Doubt::Reynolds], "{}", shape.name());
            assert_eq!(doubts(&body, 20.0), [], "{}", shape.name());
        }
        let lump = Body::solid(Shape::Irregular { diameter: 0.1, sphericity: 0.8 }, 1.2);
        assert_eq!(doubts(&lump, 10.0), []);
        assert_eq!(doubts(&lump, 20.0), [Doubt::Reynolds]);
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
