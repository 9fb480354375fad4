use super::*;
use pulp::Scalar;

fn all_round(step: f64) -> [Angles; 2] {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small")]
    let count = |span: f64| (span / step).round() as usize + 1;
    let step = step.to_radians();
    [
        Angles { from: -PI, step, count: count(360.0) },
        Angles { from: -FRAC_PI_2, step, count: count(180.0) },
    ]
}

/// The table of a function of angle of attack and sideslip.
fn tabulated([attack, slip]: [Angles; 2], of: impl Fn(f64, f64) -> Six) -> Table {
    #[expect(clippy::cast_precision_loss, reason = "small")]
    let at = |angles: Angles, i: usize| angles.from + angles.step * i as f64;
    let rows = (0..attack.count).flat_map(|i| (0..slip.count).map(move |j| (i, j)));
    let rows: Vec<Six> = rows.map(|(i, j)| of(at(attack, i), at(slip, j))).collect();
    Table::new(attack, slip, &rows, [0.0, f64::INFINITY]).unwrap()
}

/// The flow at two angles.
fn flow(attack: f64, slip: f64) -> Vector<Scalar> {
    let ((sa, ca), (ss, cs)) = (libm::sincos(attack), libm::sincos(slip));
    Vector::splat(Scalar, [30.0 * ca * cs, 30.0 * ss, -30.0 * sa * cs])
}

fn read(table: &Table, attack: f64, slip: f64) -> Six {
    table.at(flow(attack, slip)).map(|lane| lane.get(0))
}

/// Source: the library's arc tangent. Stated error: 3e-8 rad.
#[test]
fn angles_are_those_of_the_arc_tangent() {
    for i in 0..4000 {
        let wanted = 0.00157 * f64::from(i - 2000);
        let (sine, cosine) = libm::sincos(wanted);
        let lane = |x: f64| Lane::splat(Scalar, x);
        let got = angle(lane(7.0 * sine), lane(7.0 * cosine)).get(0);
        assert!((got - wanted).abs() < 3e-8, "{wanted}: {got}");
    }
}

#[test]
fn a_row_of_the_table_is_met_on_its_angles() {
    let of = |a: f64, s: f64| [a, s, a * s, 1.0, -a, s * s];
    let part =
        [Angles { from: -0.4, step: 0.1, count: 9 }, Angles { from: -0.2, step: 0.05, count: 7 }];
    let table = tabulated(part, of);
    for (a, s) in [(-0.4, -0.2), (0.0, 0.1), (0.3, -0.05), (0.4, 0.1)] {
        for (got, wanted) in read(&table, a, s).into_iter().zip(of(a, s)) {
            assert!((got - wanted).abs() < 1e-6, "{a} {s}: {got} {wanted}");
        }
    }
}

/// Source: the cubic's own error, a few per mille of the fourth power of the
/// step: for waves of one turn in steps of 10 deg 0.3 % of their height at most.
#[test]
fn between_its_rows_a_smooth_table_is_right_to_a_third_of_a_per_cent() {
    let of = |a: f64, s: f64| {
        let ((sa, ca), (ss, cs)) = (libm::sincos(a), libm::sincos(s));
        [ca * cs, ss, -sa * cs, ca * cs * ss, sa * sa * cs * cs, 1.0]
    };
    let table = tabulated(all_round(10.0), of);
    let mut worst = 0.0_f64;
    for i in 0..700 {
        let (a, s) = (-3.1 + 0.0088 * f64::from(i), 1.56 * libm::sin(0.37 * f64::from(i)));
        for (got, wanted) in read(&table, a, s).into_iter().zip(of(a, s)) {
            worst = worst.max((got - wanted).abs());
        }
    }
    assert!(worst < 3e-3, "{worst}");
    assert!(worst > 1e-6, "the test sees nothing");
}

#[test]
fn outside_the_table_its_edge_holds_and_is_told() {
    let part =
        [Angles { from: -0.2, step: 0.1, count: 5 }, Angles { from: -0.1, step: 0.1, count: 3 }];
    let table = tabulated(part, |a, s| [a, s, 0.0, 0.0, 0.0, 0.0]);
    let outside = |a, s| table.outside(flow(a, s)).get(0) > 0.5;
    assert!(!outside(0.2, -0.1) && !outside(-0.2, 0.1) && !outside(0.0, 0.0));
    assert!(outside(0.21, 0.0) && outside(0.0, -0.11) && outside(3.0, 0.0));
    assert!((read(&table, 0.9, 0.0)[0] - 0.2).abs() < 1e-6);
    let round = tabulated(all_round(30.0), |_, _| [0.0; 6]);
    assert!(round.outside(flow(PI, FRAC_PI_2)).get(0) < 0.5);
    assert!(round.outside(flow(-PI, -FRAC_PI_2)).get(0) < 0.5);
}

/// No jump where a turn closes nor over a pole.
#[test]
fn the_table_goes_on_behind_and_over_the_poles() {
    let of = |a: f64, s: f64| {
        let ((sa, ca), (ss, cs)) = (libm::sincos(a), libm::sincos(s));
        [ca * cs, ss, -sa * cs, 0.0, 0.0, 0.0]
    };
    let table = tabulated(all_round(15.0), of);
    for (p, q) in [((PI - 1e-7, 0.3), (-PI + 1e-7, 0.3)), ((0.4, 1.57), (0.4 - PI, 1.57))] {
        let (one, other) = (read(&table, p.0, p.1), read(&table, q.0, q.1));
        for k in 0..3 {
            assert!((one[k] - other[k]).abs() < 3e-3, "{one:?} {other:?}");
        }
    }
}

#[test]
fn nothing_that_is_not_a_number_goes_astray() {
    let table = tabulated(all_round(45.0), |a, s| [a, s, 0.0, 0.0, 0.0, 0.25]);
    let strange = Vector::splat(Scalar, [f64::NAN, f64::INFINITY, 0.0]);
    let _ = table.at(strange);
    let still = table.at(Vector::splat(Scalar, [0.0; 3])).map(|lane| lane.get(0));
    assert!(still.iter().all(|c| c.is_finite()));
}
