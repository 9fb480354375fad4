use super::*;
use glam::DQuat;
use proptest::prelude::*;
use pulp::Scalar;

/// An articulated lorry, and one without a ground (so high that its mirror image
/// is nowhere near). Ours.
const LORRY: Carrier = Carrier {
    velocity: [25.0, 0.0],
    tail: [-1.5, 0.4],
    height: 4.0,
    drag_area: 6.4,
    dead_air: 4.4,
    strength: 1.0,
};
const ALOFT: Carrier = Carrier { height: 2e3, ..LORRY };

fn theta(carrier: &Carrier) -> f64 {
    (carrier.drag_area / (4.0 * PI)).sqrt()
}

/// Share of the speed through the air that is gone, so far behind the tail, aside
/// from the axis, and above the ground, in still air.
fn deficit(carrier: &Carrier, behind: f64, aside: f64, height: f64) -> f64 {
    let [x, y] = carrier.tail;
    let place = DVec3::new(x - behind, y + aside, height);
    Wake::behind(carrier, [0.0; 2]).at(place, 0.0)[0] / carrier.velocity[0]
}

/// Momentum that the air has lost per second, over ρU², in m²: the integral of
/// (1 - F) F over the plane across the wake, by the midpoint rule.
fn momentum(carrier: &Carrier, behind: f64) -> f64 {
    let axis = 0.5 * carrier.height;
    let spread = 1.0 + behind.max(carrier.dead_air) / theta(carrier);
    let reach = 8.0 * theta(carrier) * cbrt(spread) * 1.5;
    let (low, high) = ((axis - reach).max(0.0), axis + reach);
    let cells = 400;
    let step = [2.0 * reach, high - low].map(|side| side / f64::from(cells));
    let mut sum = 0.0;
    for i in 0..cells {
        for j in 0..cells {
            let aside = -reach + step[0] * (f64::from(i) + 0.5);
            let f = deficit(carrier, behind, aside, low + step[1] * (f64::from(j) + 0.5));
            sum += f * (1.0 - f);
        }
    }
    sum * step[0] * step[1]
}

/// Source: momentum: the drag ½ ρ U² `C_D A` is the momentum that the wake lacks.
/// The far law as published keeps it, too: 0.77 · 1.14² = 1.00.
#[test]
fn the_wake_lacks_the_momentum_of_the_drag_at_every_distance() {
    for behind in [0.0, 3.0, 4.4, 5.0, 7.0, 12.0, 40.0, 300.0] {
        let found = momentum(&ALOFT, behind) / (0.5 * ALOFT.drag_area);
        assert!((found - 1.0).abs() < 1e-6, "{behind}: {found}");
    }
    assert!((CENTRE * 1.14 * 1.14 - 1.0).abs() < 1e-3);
}

/// Source: the same above a ground that takes no momentum. Limit 4 %: how the
/// wake and its mirror image overlap in the square of the deficit is left out.
#[test]
fn the_ground_takes_no_momentum() {
    let low = Carrier { height: 1.5, drag_area: 0.7, dead_air: 1.6, ..LORRY };
    let van = Carrier { height: 2.6, drag_area: 3.0, dead_air: 2.8, ..LORRY };
    for carrier in [LORRY, low, van] {
        for behind in [0.0, 5.0, 10.0, 40.0, 300.0] {
            let found = momentum(&carrier, behind) / (0.5 * carrier.drag_area);
            assert!((found - 1.0).abs() < 0.04, "{behind}: {found}");
        }
    }
}

/// Source: Johansson, George & Gourlay 2003 (from memory): deficit at the centre
/// 0.77 (x/θ)^(-2/3), transverse integral scale 1.14 θ (x/θ)^(1/3).
#[test]
fn far_behind_it_is_the_published_wake() {
    let theta = theta(&ALOFT);
    for x in [1e3, 1e4, 1e5] {
        let (behind, axis) = (ALOFT.dead_air + x * theta, 0.5 * ALOFT.height);
        let centre = deficit(&ALOFT, behind, 0.0, axis);
        let law = 0.77 * libm::pow(x, -2.0 / 3.0);
        assert!((centre / law - 1.0).abs() < 2e-3, "{x}: {centre} {law}");
        // Half of the square of the scale is where a Gaussian falls to 1/√e.
        let scale = 1.14 * theta * cbrt(x);
        let there = deficit(&ALOFT, behind, scale, axis) / centre;
        assert!((there / exp(-0.5) - 1.0).abs() < 5e-3, "{x}: {there}");
    }
}

/// Source: as above, for twice the momentum: what is mirrored by the ground is
/// half of it. Limit 1 %: what the axis is still above the ground.
#[test]
fn far_behind_on_the_ground_it_is_half_of_one_with_twice_the_momentum() {
    let theta = theta(&LORRY) * SQRT_2;
    let x = 3e4;
    let found = deficit(&LORRY, LORRY.dead_air + x * theta, 0.0, 0.0);
    let law = 0.77 * libm::pow(x, -2.0 / 3.0);
    assert!((found / law - 1.0).abs() < 0.01, "{found} {law}");
}

/// Source: J. Nuszkowski et al., Proc. `IMechE` D (2017), 10.1177/0954407017703233
/// (abstract read): in front of a box truck 3.1, 4.7 and 6.3 lengths of 10.7 m
/// behind another at 28 m/s the air was 8.5, 6.5 and 3.8 % slower. Its drag area
/// and height are not told: 5.3 m² and 3.4 m (from memory, for such trucks).
/// Limit: a factor of 1.3.
#[test]
fn a_truck_that_follows_has_as_much_less_wind_as_was_measured() {
    let truck = Carrier { height: 3.4, drag_area: 5.3, dead_air: 3.7, ..LORRY };
    for (lengths, measured) in [(3.1, 0.085), (4.7, 0.065), (6.3, 0.038)] {
        let found = deficit(&truck, 10.7 * lengths, 0.0, 1.7);
        let ratio = found / measured;
        assert!((1.0 / 1.3..1.3).contains(&ratio), "{lengths}: {found} {measured}");
    }
}

/// Source: Howell 2011 (abstract read): the largest deficit falls about as
/// x^(-2/3), in free stream and near the ground. Limit: 0.1 on the exponent from
/// 10 to 80 heights, where Eskridge & Thompson (1982) measured a block's.
#[test]
fn the_largest_deficit_falls_with_two_thirds_of_the_distance_near_the_ground() {
    let largest = |behind: f64| {
        (0..400).map(|i| deficit(&LORRY, behind, 0.0, 0.01 * f64::from(i))).fold(0.0, f64::max)
    };
    let power = libm::log(largest(320.0) / largest(40.0)) / libm::log(8.0);
    assert!((power + 2.0 / 3.0).abs() < 0.1, "{power}");
}

/// Source: what is carried along wholly moves as its carrier.
#[test]
fn dead_air_goes_along_with_the_carrier() {
    let wind = [-3.0, 5.0];
    let wake = Wake::behind(&ALOFT, wind);
    let axis = 0.5 * ALOFT.height;
    for time in [0.0, 2.0] {
        for behind in [0.0, 0.9 * ALOFT.dead_air] {
            let place = DVec3::new(
                ALOFT.tail[0] + 25.0 * time + behind * wake.along_x,
                ALOFT.tail[1] + behind * wake.along_y,
                axis,
            );
            let [x, y] = wake.at(place, time);
            assert!((wind[0] + x - 25.0).abs() < 1e-9 && (wind[1] + y).abs() < 1e-9);
        }
    }
}

#[test]
fn the_air_beside_the_carrier_is_left_alone() {
    let way = BEGINS * SQRT_2 * theta(&LORRY);
    assert!(deficit(&LORRY, -way, 0.0, 2.0).abs() < 1e-12);
    assert!(deficit(&LORRY, -0.5 * way, 0.0, 2.0) > 0.4);
    assert!((deficit(&LORRY, 0.0, 0.0, 2.0) - 1.0).abs() < 2e-3);
    assert!(deficit(&LORRY, 0.0, 0.0, 4.0) < 0.2, "over its roof");
}

/// Source: kinematics: what left the tail a while ago has drifted with the wind
/// since: there the wake has its axis.
#[test]
fn a_crosswind_turns_the_wake_aside() {
    let wind = [2.0, 9.0];
    let wake = Wake::behind(&LORRY, wind);
    for age in [0.5, 1.5, 4.0] {
        let time = 5.0;
        let left = [LORRY.tail[0] + 25.0 * (time - age), LORRY.tail[1]];
        let axis = DVec3::new(left[0] + wind[0] * age, left[1] + wind[1] * age, 2.0);
        let at = |aside: f64| {
            let step = DVec3::new(-wake.along_y, wake.along_x, 0.0) * aside;
            let [x, y] = wake.at(axis + step, time);
            hypot(x, y)
        };
        let best = at(0.0);
        for aside in [0.05, 0.5, 2.0] {
            assert!(at(aside) < best && at(-aside) < best, "{age} {aside}");
            assert!((at(aside) - at(-aside)).abs() < 1e-9);
        }
    }
}

#[test]
fn no_strength_or_no_wind_about_it_is_no_wake() {
    let place = DVec3::new(-8.0, 0.0, 2.0);
    let none = Wake::behind(&Carrier { strength: 0.0, ..LORRY }, [3.0, 4.0]);
    let becalmed = Wake::behind(&LORRY, LORRY.velocity);
    for wake in [none, becalmed] {
        let [x, y] = wake.at(place, 0.3);
        assert!(x.abs().max(y.abs()) < 1e-300);
        assert!(!wake.is_untested(place));
    }
}

#[test]
fn no_law_holds_within_ten_heights_of_the_tail() {
    let wake = Wake::behind(&LORRY, [0.0; 2]);
    let at = |behind: f64| wake.is_untested(DVec3::new(LORRY.tail[0] - behind, 9.0, 1.0));
    assert!(at(-3.0) && at(0.0) && at(39.9) && !at(40.1));
}

fn carriers() -> impl Strategy<Value = (Carrier, [f64; 2])> {
    let plane = || [-40.0..40.0, -40.0..40.0];
    (plane(), plane(), plane(), 1.2..4.5, 0.3..8.0, (0.0..6.0, 0.0..1.5)).prop_map(
        |(velocity, tail, wind, height, drag_area, (dead_air, strength))| {
            (Carrier { velocity, tail, height, drag_area, dead_air, strength }, wind)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

    #[test]
    fn the_step_loop_sees_the_same_wake(
        (carrier, wind) in carriers(),
        behind in -10.0..300.0,
        aside in -8.0..8.0,
        height in 0.0..8.0,
        time in 0.0..5.0,
    ) {
        let wake = Wake::behind(&carrier, wind);
        let mut lanes = Wake::none(Scalar);
        wake.put(&mut lanes, 1);
        let [x, y] = [
            wake.tail_x + wake.tail_vx * time + behind * wake.along_x - aside * wake.along_y,
            wake.tail_y + wake.tail_vy * time + behind * wake.along_y + aside * wake.along_x,
        ];
        let lane = |number| Lane::splat(Scalar, number);
        let got = lanes.at(WakeCurves::get(), [lane(x), lane(y), lane(height)], lane(time));
        let wanted = wake.at(DVec3::new(x, y, height), time);
        let allowed = 1e-6 * hypot(wake.gain_x, wake.gain_y);
        for (got, wanted) in got.iter().zip(wanted) {
            prop_assert!((got.get(1) - wanted).abs() <= allowed, "{} {wanted}", got.get(1));
            prop_assert!(got.get(0).abs() < 1e-300, "the other lane has no wake");
        }
    }

    #[test]
    fn turning_or_mirroring_the_world_changes_no_wake(
        (carrier, wind) in carriers(),
        place in [-60.0..60.0, -60.0..60.0, 0.0..6.0],
        turn in -3.0..3.0,
        time in 0.0..3.0,
    ) {
        let [x, y] = Wake::behind(&carrier, wind).at(place.into(), time);
        let rotation = DQuat::from_rotation_z(turn);
        let mirror = |v: DVec3| DVec3::new(v.x, -v.y, v.z);
        let changes: [&dyn Fn(DVec3) -> DVec3; 2] = [&|v| rotation * v, &mirror];
        for change in changes {
            let flat = |[x, y]: [f64; 2]| {
                let v = change(DVec3::new(x, y, 0.0));
                [v.x, v.y]
            };
            let moved =
                Carrier { velocity: flat(carrier.velocity), tail: flat(carrier.tail), ..carrier };
            let [u, v] = Wake::behind(&moved, flat(wind)).at(change(place.into()), time);
            let [x, y] = flat([x, y]);
            prop_assert!((u - x).abs() < 1e-9 && (v - y).abs() < 1e-9);
        }
    }
}
