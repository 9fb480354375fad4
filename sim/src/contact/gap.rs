//! The gap between the body and an obstacle at one instant.

use super::{
    gjk,
    hull::Hull,
    obstacle::{Figure, side},
    rim,
};
use glam::DVec3;

/// A gap, in the obstacle's frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    /// Certified lower bound of the distance, in m; 0 where they overlap.
    pub(super) distance: f64,
    /// Unit direction from the obstacle to the body, along which the two are
    /// at least `distance` apart.
    pub(super) axis: DVec3,
    /// Point of the body nearest to the obstacle.
    pub(super) point: DVec3,
}

/// The gap between `hull`, given in the figure's frame, and `figure`; a lower
/// bound of it while they are far apart.
pub(super) fn gap(hull: &Hull, figure: &Figure) -> Gap {
    let away = hull.centre - figure.closest(hull.centre);
    // Far enough, anything is held as a ball.
    if away.length() > 2.0 * hull.bounding_radius() && !matches!(figure, Figure::Ground) {
        return as_ball(hull, figure, away);
    }
    gap_within(hull, figure, gjk::CLOSE)
}

/// The gap and the nearest point as sharply as they can be had, at any
/// distance.
pub(super) fn exact_gap(hull: &Hull, figure: &Figure) -> Gap {
    gap_within(hull, figure, gjk::SHARP)
}

fn gap_within(hull: &Hull, figure: &Figure, close: f64) -> Gap {
    if matches!(figure, Figure::Ground) {
        let lowest = hull.support(-DVec3::Z) - DVec3::Z * hull.radius;
        return Gap { distance: lowest.z.max(0.0), axis: DVec3::Z, point: lowest };
    }
    let away = hull.centre - figure.closest(hull.centre);
    if hull.reach <= 0.0 {
        return as_ball(hull, figure, away);
    }
    if let Some(gap) = over_a_side(hull, figure) {
        return gap;
    }
    let nearest = match figure {
        Figure::Disc { .. } if hull.round.is_none() => rim::nearest(hull, figure),
        Figure::Ground
        | Figure::Prism { .. }
        | Figure::Disc { .. }
        | Figure::Cylinder(_)
        | Figure::Wedge(_) => gjk::nearest(hull, figure, close),
    };
    match nearest {
        Some(near) if near.distance > hull.radius => Gap {
            distance: near.distance - hull.radius,
            axis: near.axis,
            point: near.on_hull - near.axis * hull.radius,
        },
        _ => overlap(hull, figure, away),
    }
}

/// The gap where a corner of the body is above a side of the figure: the common
/// case, exact and cheap.
fn over_a_side(hull: &Hull, figure: &Figure) -> Option<Gap> {
    let outside = |axis: DVec3, half: f64| {
        let lowest = hull.support(-axis);
        let height = lowest.dot(axis) - half;
        let foot = figure.closest(lowest);
        let beside = (lowest - foot - axis * height).length_squared();
        (height > hull.radius && beside <= 1e-24).then(|| Gap {
            distance: height - hull.radius,
            axis,
            point: lowest - axis * hull.radius,
        })
    };
    let above = |axis: DVec3, half: f64| outside(side(axis, hull.centre), half);
    match *figure {
        Figure::Ground => None,
        Figure::Disc { normal, .. } => above(normal, 0.0),
        Figure::Cylinder(round) => above(round.axis, round.rings[0].offset.abs()),
        Figure::Wedge(wedge) => {
            wedge.sides().into_iter().find_map(|(normal, far)| outside(normal, far))
        }
        // The zero half extent of a face has two sides; its rim has none.
        Figure::Prism { axes, half } if half[2] <= 0.0 => above(axes[2], 0.0),
        Figure::Prism { axes, half } => (0..3).find_map(|i| above(axes[i], half[i])),
    }
}

/// The gap of the ball about the body, whose centre is `away` from the figure.
fn as_ball(hull: &Hull, figure: &Figure, away: DVec3) -> Gap {
    let (length, radius) = (away.length(), hull.bounding_radius());
    if length <= radius {
        return overlap(hull, figure, away);
    }
    let axis = away / length;
    Gap { distance: length - radius, axis, point: hull.centre - axis * radius }
}

/// Touching or overlapping already: out is where the body is seen from a
/// slightly smaller obstacle, and deeper inside where the body's centre is; the
/// point is the one of the obstacle nearest to that centre.
fn overlap(hull: &Hull, figure: &Figure, away: DVec3) -> Gap {
    let axis = match *figure {
        // A thin face has two sides only.
        Figure::Disc { normal, .. } => side(normal, hull.centre),
        Figure::Prism { axes, half } if half[2] <= 0.0 => side(axes[2], hull.centre),
        _ => {
            let near = figure.smaller().and_then(|(core, moved)| {
                let seen = Hull { centre: hull.centre - moved, ..*hull };
                let near = gjk::nearest(&seen, &core, gjk::SHARP)?;
                Some((near.axis, near.on_hull + moved - near.axis * hull.radius))
            });
            if let Some((axis, point)) = near {
                return Gap { distance: 0.0, axis, point };
            }
            away.try_normalize().unwrap_or_else(|| figure.outward(hull.centre))
        }
    };
    Gap { distance: 0.0, axis, point: hull.centre - away }
}
