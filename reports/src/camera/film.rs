//! The closest call as a film: real time, or slowed by a stated factor.

use super::{Format, Ground, MARGIN, MARK, fitted, sheet};
use crate::{
    canvas::{Canvas, Frame, Panel},
    chart::{
        Deciding, View, Window, at_time, body, closest_flight, deciding, fate_of, flat, scene,
        shown_until, tumble_window,
    },
    look::{self, Stroke},
    picture::Picture,
};
use longodds_sim::{
    findings::{Findings, FlightFinding},
    quantity::significant,
};

/// Frames per second.
pub const PER_SECOND: u16 = 25;
/// Frames for which the end stands still.
const STILL: usize = 25;
/// Room for the clock at the top, px, and for the line under it.
const HEAD: f64 = 62.0;
const UNDER: f64 = 26.0;

/// A flight, frame by frame.
#[derive(Clone, Debug)]
pub struct Film<'a> {
    findings: &'a Findings,
    flight: &'a FlightFinding,
    window: Window,
    frame: Frame,
    ground: Ground,
    slowed: f64,
    /// The strike, if it struck.
    strike: Option<Deciding>,
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
        let strike = deciding(findings, flight).filter(|_| flight.struck);
        let frame = format.frame(ground);
        Some(Self { findings, flight, window, frame, ground, slowed, strike })
    }

    /// Until it ends, or leaves the frame after its strike.
    fn duration(&self) -> f64 {
        shown_until(self.findings, self.flight, &self.window)
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
        let goes_on = self.strike.as_ref().is_some_and(|strike| strike.goes_on);
        let head = HEAD + if goes_on { UNDER } else { 0.0 };
        let room = (canvas.width() - 2.0 * MARGIN, canvas.height() - head - MARGIN);
        let scale = (room.0 / self.window.wide()).min(room.1 / self.window.high());
        let left = (canvas.width() - self.window.wide() * scale) / 2.0;
        let top = head + (room.1 - self.window.high() * scale) / 2.0;
        let panel = self.window.panel(&canvas, left, top, scale);
        scene(&canvas, &panel, self.findings, View::Side);
        let flown = self.flight.path.iter().take_while(|p| p.time < time).chain([&point]);
        let line: Vec<_> = flown.map(flat).collect();
        panel.line(&line, Stroke::solid(palette.ink, look::LINE).dashed(look::ASSUMED));
        body(&canvas, &panel, self.findings, &point);
        if let Some(strike) = self.strike.as_ref().filter(|one| one.point.time <= time) {
            self.struck(&canvas, &panel, strike);
        }
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

    /// The strike's mark, and its time where the clock runs on.
    fn struck(&self, canvas: &Canvas, panel: &Panel, strike: &Deciding) {
        fate_of(self.flight).mark(canvas, panel.place(flat(&strike.point)), MARK);
        if strike.goes_on {
            let words = format!("struck at {:.2} s", strike.point.time);
            let room = canvas.width() - 2.0 * MARGIN;
            let text = fitted(&words, 22.0, room, canvas.palette.ember);
            canvas.text((MARGIN, MARGIN + 28.0 + UNDER), text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use longodds_sim::body::{Body, Shape};

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

    /// What a clock and a moving object can come to: a strike that throws it
    /// straight up, a thing larger than its way, minutes in the air.
    fn extremes() -> Vec<(&'static str, Findings)> {
        let mut thrown_up = sample::bouncing();
        for flight in thrown_up.flights.iter_mut().filter(|flight| flight.struck) {
            let Some(strike) = flight.strike else { continue };
            for point in flight.path.iter_mut().filter(|point| point.time > strike) {
                point.position[2] += 18.0 * (point.time - strike);
            }
        }
        let mut giant = sample::bouncing();
        let block = Shape::Block { length: 9.0, width: 6.0, height: 4.0 };
        giant.object = (&Body::solid(block, 12.0)).into();
        let mut minutes = sample::bouncing();
        for flight in &mut minutes.flights {
            flight.strike = flight.strike.map(|time| 300.0 * time);
            for point in &mut flight.path {
                point.time *= 300.0;
                point.velocity = point.velocity.map(|v| v / 300.0);
            }
        }
        let more = [("thrown up", thrown_up), ("giant", giant), ("minutes", minutes)];
        sample::in_both_units().into_iter().chain(more).collect()
    }

    /// Frames all over a film: its ends, the strike, and even steps between.
    fn shown(film: &Film<'_>) -> Vec<usize> {
        let (moving, last) = (film.moving(), film.len() - 1);
        let mut frames: Vec<usize> = (0..=12).map(|k| moving * k / 12).chain([last]).collect();
        if let Some(strike) = &film.strike {
            let per_frame = 1.0 / (f64::from(PER_SECOND) * film.slowed);
            let before = |i: &usize| (*i as f64) * per_frame < strike.point.time;
            let at = (0..=moving).find(|i| !before(i)).unwrap_or(moving);
            frames.extend([at.saturating_sub(1), at, at + 1]);
        }
        frames
    }

    #[test]
    fn every_text_of_every_frame_can_be_read() {
        let mut seen = 0;
        for (record, findings) in extremes() {
            for (format, slowed) in
                [Format::Wide, Format::Tall].into_iter().flat_map(|f| [1.0, 1000.0].map(|s| (f, s)))
            {
                let Some(film) = Film::new(&findings, format, Ground::Dark, slowed) else {
                    assert!(findings.flights.is_empty(), "{record}");
                    continue;
                };
                for i in shown(&film) {
                    let one = film.picture(i);
                    let wrong = [one.strays(), one.collisions(), one.struck_out(), one.hiding()];
                    let where_ = format!("{record}, {format:?}, frame {i}");
                    assert_eq!(wrong.concat(), Vec::<String>::new(), "{where_}");
                    seen += one.texts().len();
                }
            }
        }
        assert!(seen > 1000, "{seen} texts");
    }
}
