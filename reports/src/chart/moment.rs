//! Moments of a flight: any between its points, the strike, and the one that
//! a picture of it is about.

use super::view;
use longodds_sim::findings::{Findings, FlightFinding, PathPoint};

/// Two times are the same within this, s.
const SAME: f64 = 1e-9;

/// A moment between the points of a path: place by a cubic that keeps the
/// velocities at both ends, attitude by the nearest way round.
pub(crate) fn at_time(path: &[PathPoint], time: f64) -> PathPoint {
    let after = path.iter().position(|p| p.time > time).unwrap_or(path.len().saturating_sub(1));
    let (a, b) = (&path[after.saturating_sub(1)], &path[after]);
    let step = b.time - a.time;
    if step <= 0.0 {
        return PathPoint { time, ..a.clone() };
    }
    let t = ((time - a.time) / step).clamp(0.0, 1.0);
    let (t2, t3) = (t * t, t * t * t);
    let hermite = |i: usize| {
        (2.0 * t3 - 3.0 * t2 + 1.0) * a.position[i]
            + (t3 - 2.0 * t2 + t) * step * a.velocity[i]
            + (3.0 * t2 - 2.0 * t3) * b.position[i]
            + (t3 - t2) * step * b.velocity[i]
    };
    let dot: f64 = a.attitude.iter().zip(b.attitude).map(|(p, q)| p * q).sum();
    let sign = if dot < 0.0 { -1.0 } else { 1.0 };
    let mix: [f64; 4] =
        std::array::from_fn(|i| a.attitude[i] * (1.0 - t) + sign * b.attitude[i] * t);
    let length = mix.iter().map(|v| v * v).sum::<f64>().sqrt().max(1e-12);
    let position: [f64; 3] = std::array::from_fn(hermite);
    // A target at constant velocity moves what it sees evenly.
    let aside = |p: &PathPoint| p.seen.map(|s| [0, 1, 2].map(|i| s[i] - p.position[i]));
    let seen = aside(a)
        .zip(aside(b))
        .map(|(from, to)| std::array::from_fn(|i| position[i] + from[i] * (1.0 - t) + to[i] * t));
    PathPoint {
        time,
        position,
        seen,
        velocity: std::array::from_fn(|i| a.velocity[i] * (1.0 - t) + b.velocity[i] * t),
        attitude: mix.map(|v| v / length),
    }
}

/// When a flight struck, in s after release: `None` if it did not.
///
/// A record without the time has it among the contacts, unless the strike
/// ended the flight.
pub(crate) fn strike(findings: &Findings, flight: &FlightFinding) -> Option<f64> {
    let aimed = |name: &str| findings.faces.iter().any(|face| face.aim && face.name == name);
    let end = flight.path.last().filter(|_| flight.struck)?.time;
    let met = || flight.contacts.iter().find(|one| aimed(&one.surface)).map(|one| one.time);
    Some(flight.strike.or_else(met).map_or(end, |time| time.min(end)))
}

/// The moment of a path at one of its corners: as it came, not as it left.
pub(crate) fn arriving(path: &[PathPoint], time: f64) -> PathPoint {
    let corner = path.iter().find(|point| (point.time - time).abs() < SAME);
    corner.cloned().unwrap_or_else(|| at_time(path, time))
}

/// What a flight's picture is about.
#[derive(Clone, Debug)]
pub(crate) struct Deciding {
    /// The strike; of a miss, where it was nearest to the target.
    pub point: PathPoint,
    /// The flight goes on afterwards.
    pub goes_on: bool,
}

/// The deciding moment; `None` of an empty path.
pub(crate) fn deciding(findings: &Findings, flight: &FlightFinding) -> Option<Deciding> {
    let end = flight.path.last()?.time;
    let point = match strike(findings, flight) {
        Some(time) => arriving(&flight.path, time),
        None => nearest(findings, flight)?.clone(),
    };
    let goes_on = point.time < end - SAME;
    Some(Deciding { point, goes_on })
}

/// How far a place is from the middle of the nearest aimed face, m.
fn gap(findings: &Findings, point: &PathPoint) -> f64 {
    let at = view::seen(point);
    let from = |middle: [f64; 3]| {
        (0..3).map(|i| (at[i] - middle[i]) * (at[i] - middle[i])).sum::<f64>().sqrt()
    };
    let aimed = findings.faces.iter().filter(|face| face.aim);
    aimed.map(|face| from(face.centre)).fold(f64::INFINITY, f64::min)
}

fn nearest<'a>(findings: &Findings, flight: &'a FlightFinding) -> Option<&'a PathPoint> {
    let near = |p: &&PathPoint, q: &&PathPoint| gap(findings, p).total_cmp(&gap(findings, q));
    flight.path.iter().min_by(near)
}

/// How near a flight's deciding moment was to an aimed face, m.
pub(crate) fn nearness(findings: &Findings, flight: &FlightFinding) -> f64 {
    deciding(findings, flight).map_or(f64::INFINITY, |one| gap(findings, &one.point))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn a_parabola_is_met_exactly_between_its_points() {
        let flight = &sample::ordinary().flights[0];
        let (a, b) = (&flight.path[3], &flight.path[4]);
        let middle = at_time(&flight.path, f64::midpoint(a.time, b.time));
        let t = middle.time;
        let start = &flight.path[0];
        let wanted = start.position[2] + start.velocity[2] * t - 4.905 * t * t;
        assert!((middle.position[2] - wanted).abs() < 1e-9);
    }

    #[test]
    fn a_strike_is_where_the_record_has_it_and_not_where_the_flight_ends() {
        let findings = sample::bouncing();
        let flight = findings.flights.iter().find(|f| f.struck).unwrap();
        let (time, end) = (flight.strike.unwrap(), flight.path.last().unwrap().time);
        assert!(time < 0.9 * end);
        let one = deciding(&findings, flight).unwrap();
        assert!(one.goes_on && (one.point.time - time).abs() < 1e-9);
        assert!(one.point.velocity[0] > 0.0, "as it came");
        // An older record knows it from the contacts.
        let older = FlightFinding { strike: None, ..flight.clone() };
        assert!((strike(&findings, &older).unwrap() - time).abs() < 1e-9);
        let stuck = FlightFinding { contacts: Vec::new(), ..older };
        assert!((strike(&findings, &stuck).unwrap() - end).abs() < 1e-9);
        let missed = FlightFinding { struck: false, ..flight.clone() };
        assert_eq!(strike(&findings, &missed), None);
    }
}
