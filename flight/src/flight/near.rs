//! Which steps a scene wants to see, decided for a block at once.

use super::{Flight, motion::Numbers};
use crate::lane::{Lane, Mask, Processor, per_flight};

per_flight! {
    /// One flight's [`super::Watch`] as plain numbers, always meaningful: no
    /// zone is a zone of endlessly negative extent, and no plane is a plane
    /// that is never crossed.
    pub(super) struct Bounds {
        /// Radius of the bounding sphere, in m.
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
            radius: flight.body.bounding_radius(),
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

/// The two ends of a block of steps.
pub(super) struct Ends<'a, S: Processor> {
    pub(super) from: Lane<S>,
    pub(super) to: Lane<S>,
    pub(super) start: &'a Numbers<S>,
    pub(super) end: &'a Numbers<S>,
}

impl<S: Processor> Bounds<Lane<S>> {
    /// Which of the steps may matter.
    #[inline(always)]
    pub(super) fn wants(&self, ends: &Ends<'_, S>) -> Mask<S> {
        let near = self.near(ends);
        near | self.crossed(ends)
    }

    /// Near the ground or the zone: the bounding sphere, swept from end to end
    /// and widened by what the path may bulge from its chord, touches it.
    #[inline(always)]
    fn near(&self, ends: &Ends<'_, S>) -> Mask<S> {
        let (p, q) = (ends.start, ends.end);
        // A path with end velocities u, v bulges from its chord by h |v - u| / 8
        // where the acceleration is constant; taken twice as large.
        let bend = (q[3] - p[3]).abs() + (q[4] - p[4]).abs() + (q[5] - p[5]).abs();
        let reach = bend.mul_add((ends.to - ends.from) * 0.25, self.radius);
        let zero = reach.of(0.0);
        let ground = p[2].min(q[2]).at_most(reach);

        let x = self.axis(ends, 0, [self.zone_x, self.zone_vx, self.half_x]);
        let y = self.axis(ends, 1, [self.zone_y, self.zone_vy, self.half_y]);
        let z = self.axis(ends, 2, [self.zone_z, self.zone_vz, self.half_z]);
        ground | x.max(y).max(z).max(zero).at_most(reach)
    }

    /// How far the chord stays outside the zone along one axis, in m.
    #[inline(always)]
    fn axis(
        &self,
        ends: &Ends<'_, S>,
        axis: usize,
        [centre, speed, half]: [Lane<S>; 3],
    ) -> Lane<S> {
        let start = ends.start[axis] - speed.mul_add(ends.from, centre);
        let end = ends.end[axis] - speed.mul_add(ends.to, centre);
        let (middle, span) = ((start + end) * 0.5, (end - start).abs() * 0.5);
        middle.abs() - span - half
    }

    /// The centre of mass changed sides of the plane.
    #[inline(always)]
    fn crossed(&self, ends: &Ends<'_, S>) -> Mask<S> {
        let (before, after) = (self.side(ends.start, ends.from), self.side(ends.end, ends.to));
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
