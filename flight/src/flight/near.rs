//! Which steps a scene wants to see, decided for a block at once.

use super::{Flight, motion::Numbers, path::controls_of, tableau::STAGES};
use crate::lane::{Lane, Mask, Processor, per_flight};

/// How near counts as near, in m: more than rounding and any scene's notion of
/// a touch.
const TOUCHING: f64 = 1e-3;

per_flight! {
    /// One flight's [`super::Watch`] as plain numbers, always meaningful: no
    /// zone is a zone of endlessly negative extent, and no plane is a plane
    /// that is never crossed.
    pub(super) struct Bounds {
        /// Radius of the bounding sphere, and [`TOUCHING`], in m.
        radius,
        /// Centre of the zone at time 0, x, in m.
        zone_x,
        /// y.
        zone_y,
        /// z.
        zone_z,
        /// Velocity of the zone, x, in m/s.
        zone_vx,
        /// y.
        zone_vy,
        /// z.
        zone_vz,
        /// Half extent of the zone, x, in m.
        half_x,
        /// y.
        half_y,
        /// z.
        half_z,
        /// Normal of the plane, x.
        normal_x,
        /// y.
        normal_y,
        /// z.
        normal_z,
        /// Offset of the plane, in m.
        offset,
        /// Change of the offset, in m/s.
        offset_rate,
    }
}

impl Bounds {
    pub(super) fn new(flight: &Flight) -> Self {
        let watch = &flight.watch;
        let everything = if watch.every_step { f64::INFINITY } else { f64::NEG_INFINITY };
        let mut bounds = Self {
            radius: flight.body.bounding_radius() + TOUCHING,
            zone_x: 0.0,
            zone_y: 0.0,
            zone_z: 0.0,
            zone_vx: 0.0,
            zone_vy: 0.0,
            zone_vz: 0.0,
            half_x: everything,
            half_y: everything,
            half_z: everything,
            normal_x: 0.0,
            normal_y: 0.0,
            normal_z: 0.0,
            offset: 1.0,
            offset_rate: 0.0,
        };
        if let (Some(zone), false) = (watch.zone, watch.every_step) {
            [bounds.zone_x, bounds.zone_y, bounds.zone_z] = zone.centre.to_array();
            [bounds.zone_vx, bounds.zone_vy, bounds.zone_vz] = zone.velocity.to_array();
            [bounds.half_x, bounds.half_y, bounds.half_z] = zone.half.to_array();
        }
        if let Some(plane) = watch.plane {
            [bounds.normal_x, bounds.normal_y, bounds.normal_z] = plane.normal.to_array();
            bounds.offset = plane.offset;
            bounds.offset_rate = plane.rate;
        }
        bounds
    }
}

/// A block of steps.
pub(super) struct Leap<'a, S: Processor> {
    /// When they begin, in s.
    pub(super) from: Lane<S>,
    /// How long they are, in s.
    pub(super) step: Lane<S>,
    /// State at both ends.
    pub(super) ends: [&'a Numbers<S>; 2],
    /// Rates of change at the stages.
    pub(super) stages: &'a [Numbers<S>; STAGES],
}

impl<S: Processor> Bounds<Lane<S>> {
    /// Which of the steps may matter.
    #[inline(always)]
    pub(super) fn wants(&self, leap: &Leap<'_, S>) -> Mask<S> {
        let near = self.near(leap);
        near | self.crossed(leap)
    }

    /// Near the ground or the zone: the bounding sphere about the hull of the
    /// path's control points touches it, so that no step is passed over in which
    /// the body does (see `path`).
    #[inline(always)]
    fn near(&self, leap: &Leap<'_, S>) -> Mask<S> {
        let x = controls_of(leap.ends, leap.stages, leap.step, 0);
        let y = controls_of(leap.ends, leap.stages, leap.step, 1);
        let z = controls_of(leap.ends, leap.stages, leap.step, 2);
        let zero = leap.step.of(0.0);
        let lowest = z[0].min(z[1]).min(z[2]).min(z[3].min(z[4]));
        let ground = lowest.at_most(self.radius);
        let x = outside(leap, x, [self.zone_x, self.zone_vx, self.half_x]);
        let y = outside(leap, y, [self.zone_y, self.zone_vy, self.half_y]);
        let z = outside(leap, z, [self.zone_z, self.zone_vz, self.half_z]);
        ground | x.max(y).max(z).max(zero).at_most(self.radius)
    }

    /// The centre of mass changed sides of the plane.
    #[inline(always)]
    fn crossed(&self, leap: &Leap<'_, S>) -> Mask<S> {
        let [start, end] = leap.ends;
        let (before, after) = (self.side(start, leap.from), self.side(end, leap.from + leap.step));
        let zero = before.of(0.0);
        (before * after).at_most(zero)
    }

    /// Distance of the centre of mass from the plane, in m.
    #[inline(always)]
    fn side(&self, p: &Numbers<S>, time: Lane<S>) -> Lane<S> {
        let along = self.normal_x.mul_add(p[0], self.normal_y.mul_add(p[1], self.normal_z * p[2]));
        along - self.offset_rate.mul_add(time, self.offset)
    }
}

/// How far the hull of the control points stays outside the zone along one
/// axis, in m: the zone moves evenly, so that its control points are its places
/// at equally spaced times.
#[inline(always)]
fn outside<S: Processor>(
    leap: &Leap<'_, S>,
    [a, b, c, d, e]: [Lane<S>; 5],
    [centre, speed, half]: [Lane<S>; 3],
) -> Lane<S> {
    let start = speed.mul_add(leap.from, centre);
    let way = speed * leap.step;
    let a = a - start;
    let b = b - way.mul_add(way.of(0.25), start);
    let c = c - way.mul_add(way.of(0.5), start);
    let d = d - way.mul_add(way.of(0.75), start);
    let e = e - (start + way);
    let low = a.min(b).min(c).min(d.min(e));
    let high = a.max(b).max(c).max(d.max(e));
    low.max(-high) - half
}
