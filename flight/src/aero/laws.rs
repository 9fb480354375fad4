//! What is true of every shape's forces, whatever its sizes, surface and figures.

use super::{Coefficients, Figure, Figures, families::ground, tests::still_air};
use crate::body::{Body, Measure, Shape, Surface};
use glam::DVec3;
use proptest::prelude::*;

/// Any shape of any size with the proportions of its family: an example's sides,
/// each longer or shorter than there.
fn any_shape() -> impl Strategy<Value = Shape<f64>> {
    let stretched = (0..Shape::ALL.len(), 0.1..4.0_f64, proptest::array::uniform3(0.5..2.0_f64));
    stretched.prop_filter_map("its proportions are not its family's", |(kind, size, by)| {
        let mut by = by.into_iter();
        let shape = Shape::ALL[kind].map(|side| {
            let stretched = side.example * by.next().unwrap_or(1.0);
            match side.measure {
                Measure::Length => size * stretched,
                Measure::Ratio => stretched.clamp(0.0, 1.0),
            }
        });
        ground(&Body::solid(shape, 1.0)).proportions.then_some(shape)
    })
}

/// Its forces, with any surface that it may have and any figures in their ranges.
fn coefficients(shape: Shape<f64>, surface: usize, shares: [f64; 12]) -> Coefficients {
    let fitting: Vec<Surface> =
        Surface::ALL.into_iter().filter(|surface| surface.fits(&shape)).collect();
    let surface = fitting[surface % fitting.len()];
    let mut figures = Figures::default();
    for (figure, share) in Figure::ALL.into_iter().zip(shares) {
        let [low, high] = figure.range(surface, f64::INFINITY);
        figures = figures.with(figure, low + share * (high - low));
    }
    let body = Body { surface, ..Body::solid(shape, 1.0) };
    Coefficients::by(&body, &still_air(), 1.0, &figures)
}

fn share() -> std::ops::Range<f64> {
    0.0..1.0
}

/// A flow from anywhere, from a crawl to Mach 0.6.
fn flow() -> impl Strategy<Value = DVec3> {
    (-1.0..1.0_f64, 0.0..std::f64::consts::TAU, -2.0..2.3_f64).prop_map(|(z, turn, power)| {
        let across = (1.0 - z * z).sqrt();
        let speed = libm::pow(10.0, power);
        speed * DVec3::new(across * libm::cos(turn), across * libm::sin(turn), z)
    })
}

fn any_body() -> impl Strategy<Value = Coefficients> {
    (any_shape(), 0..18_usize, proptest::array::uniform12(share()))
        .prop_map(|(shape, surface, figures)| coefficients(shape, surface, figures))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Without turning, still air takes energy and gives none.
    #[test]
    fn drag_opposes_the_flight_in_every_attitude(body in any_body(), u in flow()) {
        let (force, moment) = body.load(u, DVec3::ZERO);
        prop_assert!(force.is_finite() && moment.is_finite());
        prop_assert!(force.dot(u) < 0.0, "{}", force.dot(u) / (u.length_squared() * u.length()));
    }

    /// The mirror image of a flow, left for right, has the mirror image of the load.
    #[test]
    fn a_mirrored_flow_has_the_mirrored_load(body in any_body(), u in flow(), w in flow()) {
        let across = |v: DVec3| DVec3::new(v.x, -v.y, v.z);
        let about = |v: DVec3| DVec3::new(-v.x, v.y, -v.z);
        let (force, moment) = body.load(u, w);
        let (other, turned) = body.load(across(u), about(w));
        let (f, m) = (force.length() + 1e-12, moment.length() + 1e-12);
        prop_assert!((across(force) - other).length() < 1e-9 * f);
        prop_assert!((about(moment) - turned).length() < 1e-9 * m);
    }

    /// A thousandth more speed changes no coefficient by more than a hundredth:
    /// nothing jumps with the Reynolds number.
    #[test]
    fn nothing_jumps_with_speed(body in any_body(), u in flow()) {
        let per_square = |u: DVec3| -body.load(u, DVec3::ZERO).0.dot(u) / (u.length_squared() * u.length());
        let (a, b) = (per_square(u), per_square(1.001 * u));
        prop_assert!((a / b - 1.0).abs() < 0.01, "{a} {b}");
    }
}
