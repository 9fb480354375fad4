//! The closest call as a film: real time, or slowed by a stated factor.

use super::{Format, Ground, MARGIN, fitted, sheet};
use crate::{
    canvas::Frame,
    chart::{View, Window, body, closest_flight, flat, scene, tumble_window},
    look::{self, Stroke},
    picture::Picture,
};
use longodds_sim::{
    findings::{Findings, FlightFinding, PathPoint},
    quantity::significant,
};

/// Frames per second.
pub const PER_SECOND: u16 = 25;
/// Frames for which the end stands still.
const STILL: usize = 25;
/// Room for the clock at the top, px.
const HEAD: f64 = 62.0;

/// A flight, frame by frame.
#[derive(Clone, Debug)]
pub struct Film<'a> {
    findings: &'a Findings,
    flight: &'a FlightFinding,
    window: Window,
    frame: Frame,
    ground: Ground,
    slowed: f64,
}

impl<'a> Film<'a> {
    /// The closest call of a record, `slowed` so many times (1: real time).
    ///
    /// `None` if no flight was kept for drawing, or `slowed` is not a number
    /// from 0.1 to 1000.
    #[must_use]
    pub fn new(
        findings: &'a Findings,
        format: Format,
        ground: Ground,
        slowed: f64,
    ) -> Option<Self> {
        if !(0.1..=1000.0).contains(&slowed) {
            return None;
        }
        let flight = closest_flight(findings)?;
        let window = tumble_window(findings, flight);
        Some(Self { findings, flight, window, frame: format.frame(ground), ground, slowed })
    }

    fn duration(&self) -> f64 {
        self.flight.path.last().map_or(0.0, |p| p.time)
    }

    /// Frames that move.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "bounded before the cast"
    )]
    fn moving(&self) -> usize {
        (self.duration() * self.slowed * f64::from(PER_SECOND)).ceil().clamp(1.0, 20_000.0) as usize
    }

    /// How many frames it has; the last second stands still.
    #[must_use]
    pub fn len(&self) -> usize {
        self.moving() + 1 + STILL
    }

    /// Never: a film has its first frame.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        false
    }

    /// The ground it is made for.
    #[must_use]
    pub fn ground(&self) -> Ground {
        self.ground
    }

    /// Frame `i`; those past the end show the end.
    #[must_use]
    pub fn picture(&self, i: usize) -> Picture {
        #[expect(clippy::cast_precision_loss, reason = "at most 20,000")]
        let time = (i as f64 / (f64::from(PER_SECOND) * self.slowed)).min(self.duration());
        let point = at_time(&self.flight.path, time);
        let canvas = sheet(self.frame);
        let palette = canvas.palette;
        let room = (canvas.width() - 2.0 * MARGIN, canvas.height() - HEAD - MARGIN);
        let scale = (room.0 / self.window.wide()).min(room.1 / self.window.high());
        let left = (canvas.width() - self.window.wide() * scale) / 2.0;
        let top = HEAD + (room.1 - self.window.high() * scale) / 2.0;
        let panel = self.window.panel(&canvas, left, top, scale);
        scene(&canvas, &panel, self.findings, View::Side);
        let flown = self.flight.path.iter().take_while(|p| p.time < time).chain([&point]);
        let line: Vec<_> = flown.map(flat).collect();
        panel.line(&line, Stroke::solid(palette.ink, look::LINE).dashed(look::ASSUMED));
        body(&canvas, &panel, self.findings, &point);
        canvas.text(
            (MARGIN, MARGIN + 28.0),
            fitted(&format!("{time:.2} s"), 40.0, room.0, palette.ink),
        );
        if (self.slowed - 1.0).abs() > 1e-9 {
            let text = format!("slowed {} times", significant(self.slowed, 3));
            let text = fitted(&text, 24.0, 0.6 * room.0, palette.ink).end();
            canvas.text((canvas.width() - MARGIN, MARGIN + 26.0), text);
        }
        let title = format!("A flight at {time:.2} s");
        canvas.finish("film", &title, &title)
    }
}

/// A moment between the points of a path: place by a cubic that keeps the
/// velocities at both ends, attitude by the nearest way round.
pub(super) fn at_time(path: &[PathPoint], time: f64) -> PathPoint {
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
    fn a_film_lasts_as_long_as_its_flight_times_the_slowing() {
        let findings = sample::ordinary();
        let film = |slowed| Film::new(&findings, Format::Wide, Ground::Light, slowed).unwrap();
        let duration = film(1.0).duration();
        let frames = |slowed: f64| {
            let exact = duration * slowed * 25.0;
            (film(slowed).len() as f64 - 26.0 - exact).abs() < 1.0
        };
        assert!(frames(1.0) && frames(4.0) && frames(10.0));
        assert!(Film::new(&findings, Format::Wide, Ground::Light, f64::NAN).is_none());
        assert!(Film::new(&findings, Format::Wide, Ground::Light, 0.0).is_none());
    }
}
