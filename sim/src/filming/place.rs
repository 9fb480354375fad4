//! Where the strike is, along which line it comes, and where a camera may stand.

use super::Looks;
use crate::{
    estimate::quantile,
    exclusion::{Exclusion, Measure},
    findings::{Findings, FlightFinding, PathPoint},
    math::hypot,
};
use serde::{Deserialize, Serialize};

/// A track that rises or falls by more than this share of its length is seen from
/// beside the face rather than from beside the track, which has no side then.
const STEEP: f64 = 0.95;

/// A chosen place is at least so far outside the zone, in m: judgement.
const MARGIN: f64 = 1.0;

/// The way that what strikes comes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Lane {
    /// Where it strikes, world frame, in m.
    pub at: [f64; 3],
    /// Along which it comes there, unit vector, world frame.
    pub along: [f64; 3],
    /// Unit vector in the ground's plane, square to it: to its left.
    pub left: [f64; 2],
    /// Speed over the ground: 5, 50 and 95 %, in m/s.
    pub speed: [f64; 3],
    /// Strikes that it is taken from.
    pub strikes: usize,
}

/// A circle on the ground that nobody stands in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Zone {
    /// Its middle, in m.
    pub centre: [f64; 2],
    /// Its radius, in m: the upper end of its interval, where that is known.
    pub radius: f64,
    /// One flight in so many goes beyond it.
    pub one_in: f64,
}

/// A place to stand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stand {
    /// World frame, in m, at the height of the strike.
    pub at: [f64; 3],
    /// Distance from the track, in m.
    pub distance: f64,
    /// To the left of the track, seen along it?
    pub left: bool,
    /// Distance from the edge of the zone, outside positive, in m; `None`: no zone is
    /// told.
    pub clear: Option<f64>,
}

impl Zone {
    /// The rarest distance that an answer tells, its interval's upper end if there is one.
    #[must_use]
    pub fn of(found: &Exclusion) -> Option<Self> {
        let away = found.reach(Measure::Away)?;
        let told = away.exceeded.iter().rev().find_map(|one| Some((one, one.distance?)));
        told.map(|(one, distance)| Self {
            centre: found.centre,
            radius: one.interval[1].unwrap_or(distance).max(distance),
            one_in: one.one_in,
        })
    }

    fn clear(&self, at: [f64; 2]) -> f64 {
        hypot(at[0] - self.centre[0], at[1] - self.centre[1]) - self.radius
    }

    /// The least distance along `way` (a unit vector) from `from` from which on all is
    /// outside, by a margin.
    fn out(&self, from: [f64; 2], way: [f64; 2]) -> f64 {
        let [x, y] = [from[0] - self.centre[0], from[1] - self.centre[1]];
        let along = x * way[0] + y * way[1];
        let radius = self.radius + MARGIN;
        let root = along * along - (x * x + y * y - radius * radius);
        if root < 0.0 { 0.0 } else { (root.sqrt() - along).max(0.0) }
    }
}

/// The lane of the strikes that a record keeps; `None` if none of them struck.
#[must_use]
pub fn lane(findings: &Findings) -> Option<Lane> {
    let struck: Vec<&PathPoint> = findings.flights.iter().filter_map(strike).collect();
    let mean = |of: &dyn Fn(&PathPoint) -> [f64; 3]| {
        let sum = |k: usize| struck.iter().map(|point| of(point)[k]).sum::<f64>();
        [0, 1, 2].map(|k| sum(k) / struck.len() as f64)
    };
    if struck.is_empty() {
        return None;
    }
    let at = mean(&|point| point.position);
    let way = mean(&|point| point.velocity);
    let length = length(way);
    if length <= 0.0 {
        return None;
    }
    let along = way.map(|v| v / length);
    let level = hypot(along[0], along[1]);
    let left = if along[2].abs() < STEEP {
        [-along[1] / level, along[0] / level]
    } else {
        beside_the_face(findings)
    };
    let mut speeds: Vec<f64> = struck.iter().map(|point| self::length(point.velocity)).collect();
    speeds.sort_by(f64::total_cmp);
    let moves = self::length(findings.target_velocity) > 0.0;
    let speed = match &findings.impact_speed {
        // Against a target that stands, all strikes tell the speed over the ground.
        Some(all) if !moves => [all.quantiles[1], all.quantiles[3], all.quantiles[5]],
        _ => [0.05, 0.5, 0.95].map(|share| quantile(&speeds, share).unwrap_or(0.0)),
    };
    Some(Lane { at, along, left, speed, strikes: struck.len() })
}

/// The point of a path where it struck; `None` if it did not.
fn strike(flight: &FlightFinding) -> Option<&PathPoint> {
    let end = flight.path.last().filter(|_| flight.struck)?;
    let Some(time) = flight.strike else { return Some(end) };
    // As it came: the last point that is not after it.
    flight.path.iter().rev().find(|point| point.time <= time + 1e-9)
}

fn length([x, y, z]: [f64; 3]) -> f64 {
    (x * x + y * y + z * z).sqrt()
}

fn beside_the_face(findings: &Findings) -> [f64; 2] {
    let aimed = findings.faces.iter().find(|face| face.aim);
    let [x, y, _] = aimed.map_or([0.0, 1.0, 0.0], |face| face.right);
    let level = hypot(x, y);
    if level > 1e-9 { [x / level, y / level] } else { [0.0, 1.0] }
}

impl Lane {
    /// The ends of a field of this width on the track, in m: the strike stands at the end
    /// of it, or in its middle.
    #[must_use]
    pub fn field(&self, width: f64, looks: Looks) -> [[f64; 2]; 2] {
        let along = [self.left[1], -self.left[0]];
        let (from, to) = match looks {
            Looks::Before => (-1.0, 0.0),
            Looks::Behind => (-0.5, 0.5),
        };
        [from, to].map(|share| [0, 1].map(|k| self.at[k] + share * width * along[k]))
    }
}

/// Where a camera stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Distance {
    /// As far away as told.
    Told,
    /// At least so far, and out of the zone.
    Open,
}

/// Where to stand at this distance from the track, square to the middle of a field (its
/// ends on the track), on the side that is farther from the zone.
#[must_use]
pub fn stand(
    lane: &Lane,
    zone: Option<&Zone>,
    [from, to]: [[f64; 2]; 2],
    distance: f64,
    told: Distance,
) -> Stand {
    let from = [0, 1].map(|k| f64::midpoint(from[k], to[k]));
    let open = told == Distance::Open;
    let side = |left: bool| {
        let sign = if left { 1.0 } else { -1.0 };
        let way = lane.left.map(|v| sign * v);
        let least = zone.filter(|_| open).map_or(0.0, |zone| zone.out(from, way));
        let distance = distance.max(least);
        let at = [0, 1].map(|k| from[k] + distance * way[k]);
        let clear = zone.map(|zone| zone.clear(at));
        Stand { at: [at[0], at[1], lane.at[2]], distance, left, clear }
    };
    let [left, right] = [true, false].map(side);
    let better = |a: &Stand, b: &Stand| {
        if open && (a.distance - b.distance).abs() > 1e-9 {
            a.distance < b.distance
        } else {
            a.clear >= b.clear
        }
    };
    if better(&left, &right) { left } else { right }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lane(at: [f64; 2], heading: f64) -> Lane {
        let (x, y) = (crate::math::cos(heading), crate::math::sin(heading));
        Lane {
            at: [at[0], at[1], 1.0],
            along: [x, y, 0.0],
            left: [-y, x],
            speed: [10.0; 3],
            strikes: 1,
        }
    }

    proptest! {
        /// Square to the track, at the distance told or farther, and outside the zone
        /// wherever the distance may be chosen.
        #[test]
        fn a_chosen_place_is_outside(
            x in -40.0..40.0_f64, y in -40.0..40.0_f64, heading in -3.2..3.2_f64,
            radius in 0.0..60.0_f64, told in 0.5..30.0_f64,
        ) {
            let lane = lane([x, y], heading);
            let zone = Zone { centre: [3.0, -2.0], radius, one_in: 1e6 };
            let point = [[x, y]; 2];
            let open = stand(&lane, Some(&zone), point, told, Distance::Open);
            prop_assert!(open.clear.unwrap() > MARGIN - 1e-6, "{open:?}");
            prop_assert!(open.distance >= told);
            let fixed = stand(&lane, Some(&zone), point, told, Distance::Told);
            prop_assert!((fixed.distance - told).abs() < 1e-12);
            for place in [open, fixed] {
                let way = [place.at[0] - x, place.at[1] - y];
                let along = way[0] * lane.along[0] + way[1] * lane.along[1];
                prop_assert!(along.abs() < 1e-9, "{place:?}");
                prop_assert!((hypot(way[0], way[1]) - place.distance).abs() < 1e-9);
            }
            // Farther out along the same way is never nearer to the zone.
            let farther =
                stand(&lane, Some(&zone), point, open.distance + 5.0, Distance::Open);
            prop_assert!(farther.clear.unwrap() > MARGIN - 1e-6);
            // The mirrored world has the mirrored place.
            let mirrored = self::lane([x, -y], -heading);
            let zone = Zone { centre: [3.0, 2.0], ..zone };
            let other = stand(&mirrored, Some(&zone), [[x, -y]; 2], told, Distance::Open);
            prop_assert!((other.distance - open.distance).abs() < 1e-6);
            // The field's ends are its width apart, along the track, up to the strike.
            for looks in [Looks::Before, Looks::Behind] {
                let [a, b] = lane.field(told, looks);
                let way = [b[0] - a[0], b[1] - a[1]];
                let along = way[0] * lane.along[0] + way[1] * lane.along[1];
                prop_assert!((along - told).abs() < 1e-9);
            }
            prop_assert!((lane.field(told, Looks::Before)[1][0] - x).abs() < 1e-9);
        }
    }
}
