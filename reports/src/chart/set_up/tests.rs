use super::*;
use crate::{look, sample};
use longodds_sim::{findings, scenario};
use proptest::prelude::*;
use std::path::Path;

fn ours() -> SetUp {
    SetUp::of(&sample::ordinary()).unwrap()
}

/// Mirrored in the plane of x and z.
fn mirrored(mut set: SetUp) -> SetUp {
    let flip = |v: &mut [f64; 3]| v[1] = -v[1];
    let turn = |[low, middle, high]: [f64; 3]| [-high, -middle, -low];
    let start = &mut set.start;
    flip(&mut start.at);
    // A rotation seen in that mirror turns the other way about x and z.
    (start.attitude[0], start.attitude[2]) = (-start.attitude[0], -start.attitude[2]);
    start.reach[1] = [-start.reach[1][1], -start.reach[1][0]];
    start.target_reach[1] = [-start.target_reach[1][1], -start.target_reach[1][0]];
    if let Some(launch) = &mut start.launch {
        launch.bearing = turn(launch.bearing);
    }
    if let Some(wind) = &mut start.wind {
        wind.towards = turn(wind.towards);
    }
    for face in &mut set.faces {
        for v in [&mut face.centre, &mut face.normal, &mut face.right, &mut face.up] {
            flip(v);
        }
    }
    for solid in &mut set.solids {
        flip(&mut solid.centre);
        solid.turn = -solid.turn;
    }
    flip(&mut set.target_velocity);
    set
}

prop_compose! {
    fn set_ups()(
        at in prop::array::uniform3(-40.0..40.0_f64),
        up in 0.1..60.0_f64,
        gap in -60.0..300.0_f64,
        aside in -30.0..30.0_f64,
        high in 0.0..40.0_f64,
        size in 0.02..4.0_f64,
        turn in prop::array::uniform4(-1.0..1.0_f64),
        spread in 0.0..8.0_f64,
    ) -> SetUp {
        let mut set = ours();
        let length = turn.iter().map(|v| v * v).sum::<f64>().sqrt().max(1e-3);
        set.start.attitude = turn.map(|v| v / length);
        set.start.at = [at[0], at[1], up];
        set.start.reach = set.start.at.map(|v| [v - spread, v + spread]);
        set.object.extents = [size, 0.6 * size, 0.1 * size];
        set.faces[0].centre = [at[0] + gap, at[1] + aside, high];
        set.solids[0].centre = [at[0] + gap + 0.3, at[1] + aside, high];
        set
    }
}

/// In px: left and top, right and bottom.
fn placed(views: &Views, view: View) -> [f64; 4] {
    let held = if view == View::Side { &views.side } else { &views.plan };
    let (x, y) = held.corner;
    let wide = (held.across.1 - held.across.0) * views.scale;
    [x, y, x + wide, y + (held.up.1 - held.up.0) * views.scale]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A metre is as long in both views, along both of their axes.
    #[test]
    fn both_views_have_one_scale(set in set_ups()) {
        let views = Views::of(&set, Frame::page());
        let at = set.start.at;
        let moved = |k: usize| {
            let mut to = at;
            to[k] += 1.0;
            to
        };
        let apart = |a: (f64, f64), b: (f64, f64)| hypot(a.0 - b.0, a.1 - b.1);
        for k in [0, 2] {
            let px = apart(views.from_the_side(at), views.from_the_side(moved(k)));
            prop_assert!((px / views.scale - 1.0).abs() < 1e-9);
        }
        for k in [0, 1] {
            let px = apart(views.from_above(at), views.from_above(moved(k)));
            prop_assert!((px / views.scale - 1.0).abs() < 1e-9);
        }
    }

    /// The object and all of an aimed face stand in their view, and the views in the
    /// picture, apart from each other.
    #[test]
    fn what_counts_is_in_the_picture(set in set_ups()) {
        let views = Views::of(&set, Frame::page());
        let inside = |[left, top, right, bottom]: [f64; 4], (x, y): (f64, f64)| {
            x > left - 0.5 && x < right + 0.5 && y > top - 0.5 && y < bottom + 0.5
        };
        let [side, plan] = [View::Side, View::Plan].map(|view| placed(&views, view));
        for corner in crate::chart::view::face(&set.faces[0]).into_iter().chain([set.start.at]) {
            prop_assert!(inside(side, views.from_the_side(corner)));
            prop_assert!(inside(plan, views.from_above(corner)));
        }
        for [left, top, right, bottom] in [side, plan] {
            prop_assert!(left >= 0.0 && top >= 0.0 && right <= 840.5);
            prop_assert!(bottom <= views.height());
        }
        prop_assert!(side[2] <= plan[0] + 0.5 || side[3] <= plan[1] + 0.5);
        let picture = set_up(&set, Frame::page());
        prop_assert_eq!(picture.strays(), Vec::<String>::new());
        prop_assert_eq!(picture.collisions(), Vec::<String>::new());
    }

    /// To the left or to the right is the same from the side, and mirrored from above.
    #[test]
    fn a_mirror_mirrors_the_view_from_above_alone(set in set_ups()) {
        let other = mirrored(set.clone());
        let [a, b] = [&set, &other].map(|set| Views::of(set, Frame::page()));
        prop_assert!((a.scale - b.scale).abs() < 1e-9);
        prop_assert_eq!(&a.side, &b.side);
        let flipped = (-b.plan.up.1, -b.plan.up.0);
        prop_assert!((a.plan.up.0 - flipped.0).abs() < 1e-9, "{a:?} {b:?}");
        prop_assert_eq!(title(&set), title(&other));
    }

    /// Held views do not move with what is moved in them.
    #[test]
    fn held_views_stay(set in set_ups(), by in -3.0..3.0_f64) {
        let views = Views::of(&set, Frame::page());
        let text = serde_json::to_string(&views).unwrap();
        let held: Views = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(&held, &views);
        let mut moved = set.clone();
        moved.start.at[0] += by;
        let [before, after] = [&set, &moved].map(|set| held.from_the_side(set.start.at));
        prop_assert!((after.0 - before.0 - by * views.scale).abs() < 1e-6);
    }
}

/// Every demo, and every flight over it, in both widths: nothing leaves the picture and
/// nothing runs into another.
#[test]
fn every_demo_can_be_read() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios");
    let mut seen = 0;
    for entry in std::fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "yaml") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let set = findings::set_up(&scenario::parse(&text, &folder).unwrap());
        for width in [840, 620] {
            let frame = Frame { width, height: 560, palette: look::LIGHT };
            let picture = set_up(&set, frame);
            assert_eq!(picture.strays(), Vec::<String>::new(), "{}", path.display());
            assert_eq!(picture.collisions(), Vec::<String>::new(), "{}", path.display());
        }
        seen += 1;
    }
    assert!(seen >= 10);
}
