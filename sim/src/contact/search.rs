//! The first touch of anything, with its whole record.

use super::{
    Motion, Scenery, Surface, Touch,
    advance::{Meeting, meet},
    clear::Sweep,
    gap::exact_gap,
    hull::Form,
    manoeuvre::Seen,
    obstacle::{Obstacle, side},
    pace::Pace,
    patch::contact_point,
};
use crate::{body::Body, flight::State, math::atan2};
use glam::DVec3;

/// The earliest touch of the body's real shape with the ground, a face or a
/// solid in `span` (a stretch of time inside one step, in s).
///
/// `passed`: surfaces not to be looked at, such as a face the body has gone
/// through. A body that starts in contact touches only if it approaches. Of two
/// touches at the same instant the ground comes first, then faces, then solids.
/// `None`: nothing is touched.
#[must_use]
pub fn first_touch<M: Motion>(
    body: &Body,
    scenery: &Scenery,
    motion: &M,
    span: [f64; 2],
    passed: &[Surface],
) -> Option<Touch> {
    let Some(manoeuvre) = &scenery.manoeuvre else {
        let (surface, obstacle, meeting) = first_meeting(body, scenery, motion, span, passed)?;
        return Some(record(body, scenery, surface, &obstacle, &meeting));
    };
    let seen = Seen { motion, from: manoeuvre };
    manoeuvre.stretches(span).find_map(|span| {
        let (surface, obstacle, meeting) = first_meeting(body, scenery, &seen, span, passed)?;
        let state = motion.state(meeting.time);
        if surface == Surface::Ground {
            // The ground stands.
            let meeting = Meeting { state, ..meeting };
            return Some(record(body, scenery, surface, &obstacle, &meeting));
        }
        let touch = record(body, scenery, surface, &obstacle, &meeting);
        Some(Touch { state, point: touch.point + manoeuvre.away(touch.time), ..touch })
    })
}

/// The earliest touch where everything moves evenly.
fn first_meeting<M: Motion>(
    body: &Body,
    scenery: &Scenery,
    motion: &M,
    span: [f64; 2],
    passed: &[Surface],
) -> Option<(Surface, Obstacle, Meeting)> {
    let form = Form::of(body);
    let sweep = motion.path(span).map(|path| Sweep::of(&form, &path, span));
    let mut pace = None;
    let mut best: Option<(Surface, Obstacle, Meeting)> = None;
    for (surface, obstacle) in surfaces(scenery) {
        if passed.contains(&surface) || sweep.is_some_and(|sweep| sweep.clears(&obstacle)) {
            continue;
        }
        let pace = pace.get_or_insert_with(|| Pace::of(motion, span, &form));
        let end = best.as_ref().map_or(span[1], |(_, _, meeting)| meeting.time);
        if let Some(meeting) = meet(motion, &form, &obstacle, pace, [span[0], end])
            && best.as_ref().is_none_or(|(_, _, earlier)| meeting.time < earlier.time)
        {
            best = Some((surface, obstacle, meeting));
        }
    }
    best
}

/// Everything that can be touched, in the order that settles ties.
fn surfaces(scenery: &Scenery) -> impl Iterator<Item = (Surface, Obstacle)> {
    let velocity = scenery.velocity;
    let faces = scenery.faces.iter().enumerate();
    let solids = scenery.solids.iter().enumerate();
    std::iter::once((Surface::Ground, Obstacle::GROUND))
        .chain(faces.map(move |(i, face)| (Surface::Face(i), face.obstacle(velocity))))
        .chain(solids.map(move |(i, solid)| (Surface::Solid(i), solid.obstacle(velocity))))
}

/// The record of a touch.
fn record(
    body: &Body,
    scenery: &Scenery,
    surface: Surface,
    obstacle: &Obstacle,
    Meeting { time, state }: &Meeting,
) -> Touch {
    let centre = obstacle.centre_at(*time);
    let local = state.position - centre;
    let hull = Form::of(body).placed(state.attitude, local);
    let gap = exact_gap(&hull, &obstacle.figure);
    let closing = |point: DVec3| gap.axis.dot(obstacle.velocity - state.velocity_at(point - local));
    // A body that rocks on a flat contact touches with the corner that closes.
    let middle = contact_point(&hull, &obstacle.figure, &gap);
    let rocks = closing(middle) < 0.5 * closing(gap.point);
    let point = if rocks { gap.point } else { middle };
    let (normal, on_face) = match surface {
        Surface::Face(i) => {
            let face = &scenery.faces[i];
            (side(face.normal, local), face.on_face(point))
        }
        Surface::Ground | Surface::Solid(_) => (gap.axis, [0.0; 2]),
    };
    let relative_velocity = state.velocity - obstacle.velocity;
    let offset = point - local;
    let at_point = state.velocity_at(offset) - obstacle.velocity;
    let closing_speed = (-at_point.dot(normal)).max(0.0);
    let effective_mass = effective_mass(body, state, offset, normal);
    Touch {
        surface,
        time: *time,
        state: *state,
        point: point + centre,
        on_face,
        normal,
        push: gap.axis,
        relative_velocity,
        closing_speed,
        obliquity: line_angle(relative_velocity, normal),
        axis_angles: [DVec3::X, DVec3::Y, DVec3::Z]
            .map(|axis| line_angle(state.attitude * axis, normal)),
        effective_mass,
        total_energy: 0.5 * body.mass * relative_velocity.length_squared()
            + 0.5 * state.rates.dot(body.inertia * state.rates),
        normal_energy: 0.5 * effective_mass * closing_speed * closing_speed,
    }
}

/// Mass that a blow along `normal` at `offset` from the centre of mass has to
/// stop, in kg: `1/m_eff = 1/m + (r × n)·I⁻¹(r × n)`.
///
/// Source: impulse-based collision of a rigid body, standard derivation.
#[must_use]
pub(super) fn effective_mass(body: &Body, state: &State, offset: DVec3, normal: DVec3) -> f64 {
    let arm = state.attitude.inverse() * offset.cross(normal);
    1.0 / (1.0 / body.mass + arm.dot(arm / body.inertia))
}

/// Angle between two lines, in rad, 0..=π/2; 0 if one has no direction.
fn line_angle(a: DVec3, b: DVec3) -> f64 {
    atan2(a.cross(b).length(), a.dot(b).abs())
}
