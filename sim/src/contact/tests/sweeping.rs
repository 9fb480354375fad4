//! What is passed over without a look is never a touch.

use super::{brute::Dice, *};
use crate::{
    aero::Coefficients,
    flight::{Ending, Flight, Last, Path, Scene, Settings, Source, Step, Verdict, Watch, fly},
    world::{Air, AirNow},
};

/// A step that does not tell where it stays.
struct Blind<'s>(&'s Step);

impl Motion for Blind<'_> {
    fn state(&self, time: f64) -> State {
        self.0.state(time)
    }

    fn position(&self, time: f64) -> DVec3 {
        self.0.position(time)
    }
}

/// Looks at every step it is shown, both ways.
struct Both<'s> {
    scenery: &'s Scenery,
    touches: Vec<(u64, Touch)>,
    looks: u64,
}

impl Scene for Both<'_> {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        self.looks += 1;
        let span = [step.from(), step.to()];
        let swept = first_touch(&flight.body, self.scenery, step, span, &[]);
        let looked = first_touch(&flight.body, self.scenery, &Blind(step), span, &[]);
        assert_eq!(swept, looked, "flight {}", flight.draw);
        match swept {
            Some(touch) => {
                self.touches.push((flight.draw, touch));
                Verdict::Stop
            }
            None => Verdict::Continue,
        }
    }

    fn ended(&mut self, _: &Flight, _: Ending, _: Last) {}
}

struct List(std::vec::IntoIter<Flight>);

impl Source for List {
    fn next_flight(&mut self) -> Option<Flight> {
        self.0.next()
    }
}

/// Bodies that tumble towards a window from all around it.
fn tumbling(body: Body, scenery: &Scenery, every_step: bool) -> Vec<Flight> {
    let mut dice = Dice(11);
    let air = Air { density: 1.2, viscosity: 1.8e-5, sound: 341.0 };
    let watch = Watch { zone: Some(scenery.zone()), plane: None, every_step };
    let one = |draw| {
        let start = State {
            position: DVec3::Z * 2.5 + dice.vector() * 0.5,
            velocity: DVec3::new(14.0, 0.0, 1.0) + dice.vector() * 3.0,
            attitude: DQuat::from_scaled_axis(dice.vector() * 3.0),
            rates: dice.vector() * 12.0,
        };
        let coefficients = Coefficients::new(&body, &air, 1.0);
        let air = AirNow::still(air);
        Flight { draw, start, body, coefficients, air, deadline: 10.0, watch }
    };
    (0..300).map(one).collect()
}

fn touches(body: Body, scenery: &Scenery, every_step: bool) -> (Vec<(u64, Touch)>, u64) {
    let mut scene = Both { scenery, touches: Vec::new(), looks: 0 };
    let flights = tumbling(body, scenery, every_step);
    fly(&Settings::default(), &mut List(flights.into_iter()), &mut scene);
    scene.touches.sort_unstable_by_key(|(draw, _)| *draw);
    (scene.touches, scene.looks)
}

/// Draw by draw: a step that is swept past, and one that the watch does not
/// show, would have shown nothing.
#[test]
fn tumbling_bodies_touch_the_same_things_at_the_same_instants_however_they_are_looked_at() {
    let mut scenery = window(8.0, 2.0, 1.0);
    let disc = Outline::Disc { diameter: 1.0 };
    scenery.faces.push(face(
        DVec3::new(7.0, 1.5, 1.5),
        DVec3::new(-1.0, -0.3, 0.2).normalize(),
        disc,
    ));
    scenery.solids.extend(solid(DVec3::new(6.0, -2.0, 0.4), DVec3::new(1.0, 2.0, 0.8)).solids);
    let shapes = [
        Shape::Plate { length: 1.2, width: 0.6, thickness: 0.012 },
        Shape::Rod { length: 2.4, diameter: 0.06 },
        Shape::Cone { length: 0.5, diameter: 0.4 },
        Shape::Sphere { diameter: 0.07 },
    ];
    for shape in shapes {
        let body = Body::solid(shape, 4.0);
        let (every, all) = touches(body, &scenery, true);
        let (watched, some) = touches(body, &scenery, false);
        let faces = |list: &[(u64, Touch)]| {
            list.iter().filter(|(_, touch)| touch.surface != Surface::Ground).count()
        };
        assert!(every.len() > 295 && faces(&every) > 30, "{shape:?}: {}", faces(&every));
        assert!(3 * some < 2 * all, "{shape:?}: {some} of {all} steps are looked at");
        assert_eq!(every, watched, "{shape:?}");
    }
}

/// Source: closed form: a body that keeps its attitude and goes past at a
/// distance of 2 mm is clear, and one that turns through the same place is not
/// called so.
#[test]
fn what_passes_closely_without_turning_is_clear_and_what_turns_is_looked_at() {
    use super::super::{clear::Sweep, hull::Form, obstacle::Obstacle};
    let form = Form::of(&block(2.0, 0.4, 0.2, 1.0));
    let centre = std::array::from_fn(|i| DVec3::new(i as f64, 0.0, 0.102));
    let still = Path { centre, attitude: DQuat::IDENTITY, turned: 0.0 };
    let clears = |path: &Path| Sweep::of(&form, path, [0.0, 1.0]).clears(&Obstacle::GROUND);
    assert!(clears(&still));
    assert!(!clears(&Path { turned: 0.01, ..still }));
    let lower = centre.map(|point| point - DVec3::Z * 0.0021);
    assert!(!clears(&Path { centre: lower, ..still }));
    let high = centre.map(|point| point + DVec3::Z * 0.1);
    assert!(clears(&Path { centre: high, turned: 0.05, ..still }));
}

/// Source: closed form: a parabola of degree two is one of degree four.
#[test]
fn constant_acceleration_has_the_control_points_of_its_parabola() {
    let place = |t: f64| DVec3::new(1.0, 2.0 * t, 3.0 - 4.0 * t + 5.0 * t * t);
    let points = super::super::clear::parabola([0.5, 2.5], place);
    for share in [0.0_f64, 0.2, 0.5, 0.9, 1.0] {
        let rest = 1.0 - share;
        let weights = (0..5_i32).zip([1.0, 4.0, 6.0, 4.0, 1.0]);
        let sum: DVec3 = weights
            .zip(points)
            .map(|((i, weight), point)| point * weight * share.powi(i) * rest.powi(4 - i))
            .sum();
        near_all(sum, place(0.5 + 2.0 * share), 1e-12);
    }
}
