//! Speed from a high-speed camera, and its uncertainty.
//!
//! An object passes a measured distance `d` in `N` whole frame intervals at
//! `f` frames per second: `v = d f / N`. The start and the end of the passage
//! fall anywhere within a frame, independently, so the true number of
//! intervals is `N + e` with `e` triangular on (-1, 1), variance 1/6 (derived).
//! Scale, frame rate and parallax are relative errors, taken as normal.
//!
//! Source of the propagation: JCGM 100:2008, 5.1.2 (from memory).
//!
//! Valid for a steady speed over the distance and a sharp picture.

use crate::{
    math,
    note::{Kind, Note, Subject},
    uncertain::normal_cdf,
};
use serde::Serialize;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "camera", claims: "How well a camera tells a speed" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "speed by camera",
    how: "whole frames over a distance, each end anywhere within a frame",
    source: "JCGM 100:2008, 5.1.2 (from memory); the frames' part derived",
    kind: Kind::Memory,
    range: "a steady speed over the distance and a sharp picture",
    leaves_out: "blur",
};

/// A measured value and its standard uncertainty, in the same unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Measured {
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty (one standard deviation).
    pub uncertainty: f64,
}

/// What was seen, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passage {
    /// Frame intervals over the distance, > 0.
    pub frames: f64,
    /// Distance on the scale in the picture, in m.
    pub distance: Measured,
    /// Frame rate, in frames per second.
    pub frame_rate: Measured,
    /// How far the object passed beyond the scale (+) or in front of it (-),
    /// in m.
    pub beyond: Measured,
    /// Distance from camera to scale, in m; infinite: no parallax.
    pub camera: f64,
    /// Angle between the track and the plane of the picture, in rad.
    pub track_angle: f64,
}

/// A speed with the parts of its uncertainty.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraSpeed {
    /// Best estimate, in m/s.
    pub speed: f64,
    /// Combined standard uncertainty, in m/s.
    pub uncertainty: f64,
    /// 95 % interval, in m/s.
    pub interval: [f64; 2],
    /// Speeds that the frame count alone allows, in m/s.
    pub limits: [f64; 2],
    /// Relative standard uncertainty from each cause, largest first.
    pub parts: Vec<Part>,
    /// Factor applied for parallax and the angle of the track.
    pub correction: f64,
}

/// One cause of uncertainty.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// In words.
    pub cause: &'static str,
    /// Relative standard uncertainty.
    pub relative: f64,
}

/// What is wrong with a [`Passage`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum PassageError {
    /// Fewer than one frame interval.
    TooFewFrames,
    /// Distance, frame rate or camera distance is not a positive number.
    NotPositive,
    /// The track points at the camera (90 deg or more).
    Unseen,
}

impl std::fmt::Display for PassageError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::TooFewFrames => "at least one frame interval is needed",
            Self::NotPositive => "distance, frame rate and camera distance must be above zero",
            Self::Unseen => "the track must lie less than 90 deg from the plane of the picture",
        })
    }
}

impl std::error::Error for PassageError {}

/// Standard deviation of a frame count with a random phase at both ends.
fn frame_sd() -> f64 {
    (1.0_f64 / 6.0).sqrt()
}

impl Passage {
    /// A passage with nothing but frames, distance (m) and frame rate (1/s).
    #[must_use]
    pub fn plain(frames: f64, distance: f64, frame_rate: f64) -> Self {
        let exact = |value| Measured { value, uncertainty: 0.0 };
        Self {
            frames,
            distance: exact(distance),
            frame_rate: exact(frame_rate),
            beyond: exact(0.0),
            camera: f64::INFINITY,
            track_angle: 0.0,
        }
    }

    /// The speed.
    ///
    /// # Errors
    ///
    /// [`PassageError`] says which number cannot be.
    ///
    /// # Examples
    ///
    /// ```
    /// use longodds_sim::rig::camera::Passage;
    ///
    /// let speed = Passage::plain(40.0, 2.0, 1000.0).speed()?;
    /// assert_eq!(speed.speed, 50.0);
    /// assert!((speed.uncertainty - 0.5103).abs() < 1e-4);
    /// # Ok::<(), longodds_sim::rig::camera::PassageError>(())
    /// ```
    pub fn speed(&self) -> Result<CameraSpeed, PassageError> {
        let relative = self.relative()?;
        let correction = (1.0 + self.beyond.value / self.camera) / math::cos(self.track_angle);
        let speed = self.distance.value * self.frame_rate.value / self.frames * correction;
        let parts = self.parts();
        let other = self.other_relative();
        let quantile = |p: f64| speed * self.quantile(p, other);
        let limit =
            |frames: f64| if frames > 0.0 { speed * self.frames / frames } else { f64::INFINITY };
        Ok(CameraSpeed {
            speed,
            uncertainty: speed * relative,
            interval: [quantile(0.025), quantile(0.975)],
            limits: [limit(self.frames + 1.0), limit(self.frames - 1.0)],
            parts,
            correction,
        })
    }

    /// Combined relative standard uncertainty of the speed.
    ///
    /// # Errors
    ///
    /// As [`Passage::speed`].
    pub fn relative(&self) -> Result<f64, PassageError> {
        self.check()?;
        let parts = self.parts();
        Ok(parts.iter().map(|part| part.relative * part.relative).sum::<f64>().sqrt())
    }

    fn check(&self) -> Result<(), PassageError> {
        let positive = |x: f64| x > 0.0; // false for NaN
        if !(self.frames.is_finite() && self.frames >= 1.0) {
            return Err(PassageError::TooFewFrames);
        }
        let distances = [self.distance.value, self.frame_rate.value, self.camera];
        let seen = 1.0 + self.beyond.value / self.camera;
        if !distances.into_iter().all(positive) || !positive(seen) {
            return Err(PassageError::NotPositive);
        }
        if !positive(math::cos(self.track_angle)) {
            return Err(PassageError::Unseen);
        }
        Ok(())
    }

    fn parts(&self) -> Vec<Part> {
        let parallax = self.beyond.uncertainty / (self.camera + self.beyond.value);
        let mut parts = vec![
            Part { cause: "whole frames", relative: frame_sd() / self.frames },
            Part { cause: "scale", relative: self.distance.uncertainty / self.distance.value },
            Part {
                cause: "frame rate",
                relative: self.frame_rate.uncertainty / self.frame_rate.value,
            },
            Part {
                cause: "distance from the scale's plane",
                relative: if self.camera.is_finite() { parallax } else { 0.0 },
            },
        ];
        parts.sort_by(|a, b| b.relative.total_cmp(&a.relative));
        parts
    }

    /// Everything but the frames: common to all shots of one camera set-up,
    /// hence not made smaller by averaging.
    #[must_use]
    pub fn other_relative(&self) -> f64 {
        let frames = frame_sd() / self.frames;
        let all: f64 = self.parts().iter().map(|part| part.relative * part.relative).sum();
        (all - frames * frames).max(0.0).sqrt()
    }

    /// Quantile of the true speed over the best estimate: triangular frames
    /// times a normal relative error.
    fn quantile(&self, p: f64, other: f64) -> f64 {
        if other <= 0.0 {
            // Fewer frames are faster, so the upper tail of the speed is the
            // lower tail of the count.
            let tail = p.min(1.0 - p);
            let e = 1.0 - (2.0 * tail).sqrt();
            return self.frames / (self.frames + if p < 0.5 { e } else { -e });
        }
        let (mut low, mut high) = (0.05_f64, 20.0_f64);
        for _ in 0..80 {
            let middle = (low * high).sqrt();
            if self.cumulative(middle, other) < p {
                low = middle;
            } else {
                high = middle;
            }
        }
        (low * high).sqrt()
    }

    /// P(true speed / estimate <= ratio).
    fn cumulative(&self, ratio: f64, other: f64) -> f64 {
        const CELLS: u32 = 400;
        let width = 2.0 / f64::from(CELLS);
        (0..CELLS)
            .map(|i| {
                let e = -1.0 + width * (f64::from(i) + 0.5);
                let frames = (self.frames + e).max(1e-9);
                let z = (ratio * frames / self.frames - 1.0) / other;
                width * (1.0 - e.abs()) * normal_cdf(z)
            })
            .sum()
    }
}

/// Fewest frame intervals with which a relative standard uncertainty of
/// `target` is met, when everything else has `other`; `None` where that alone
/// is too much.
#[must_use]
pub fn frames_needed(target: f64, other: f64) -> Option<f64> {
    let left = target * target - other * other;
    (left > 0.0).then(|| (frame_sd() / left.sqrt()).ceil())
}

/// Smear of the picture over an exposure (s) at a speed (m/s), in m.
#[must_use]
pub fn blur(speed: f64, exposure: f64) -> f64 {
    speed * exposure
}

/// Standard uncertainty (m/s) of a straight line fitted through the object's
/// position in `count` >= 2 pictures in a row, each read to `noise` m (one
/// standard deviation) at `frame_rate` per second.
///
/// Source: variance of the slope of a least-squares line, equally spaced.
#[must_use]
pub fn tracked_uncertainty(count: u32, noise: f64, frame_rate: f64) -> f64 {
    let n = f64::from(count.max(2));
    noise * frame_rate * (12.0 / (n * (n * n - 1.0))).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    const FOOT: f64 = 0.3048;
    const MPH: f64 = 0.447_04;

    /// Common practice, no source: 17 frames over one foot at 1,000 frames/s
    /// are 58.8 ft/s, 40 mph.
    #[test]
    fn seventeen_frames_over_a_foot_are_forty_miles_an_hour() {
        let speed = Passage::plain(17.0, FOOT, 1000.0).speed().unwrap();
        assert!((speed.speed / FOOT - 58.8).abs() < 0.05);
        assert!((speed.speed / MPH - 40.0).abs() < 0.5);
    }

    /// 2 m, 1000 frames/s, 40 frames: u 0.51031 m/s, limits 48.7805 to
    /// 51.2821, 95 % 49.0480 to 50.9897 (recomputed from the closed form).
    #[test]
    fn frames_alone_give_the_triangular_interval() {
        let got = Passage::plain(40.0, 2.0, 1000.0).speed().unwrap();
        assert!((got.speed - 50.0).abs() < 1e-12);
        assert!((got.uncertainty - 0.510_31).abs() < 5e-6);
        assert!((got.limits[0] - 48.7805).abs() < 5e-5 && (got.limits[1] - 51.2821).abs() < 5e-5);
        assert!((got.interval[0] - 49.0480).abs() < 5e-5, "{:?}", got.interval);
        assert!((got.interval[1] - 50.9897).abs() < 5e-5);
    }

    /// With a scale error of +-1 % (rectangular) 0.58630 m/s.
    #[test]
    fn a_scale_error_adds_in_quadrature() {
        let mut passage = Passage::plain(40.0, 2.0, 1000.0);
        passage.distance.uncertainty = 0.02 / 3.0_f64.sqrt();
        let got = passage.speed().unwrap();
        assert!((got.uncertainty - 0.586_30).abs() < 5e-6);
        // Close to normal: half-width near 1.96 u.
        let half = 0.5 * (got.interval[1] - got.interval[0]);
        assert!((half / (1.96 * got.uncertainty) - 1.0).abs() < 0.03, "{half}");
    }

    #[test]
    fn the_two_ways_to_the_interval_agree_as_the_other_errors_vanish() {
        let passage = Passage::plain(8.0, 1.0, 1000.0);
        for p in [0.025, 0.5, 0.9, 0.975] {
            assert!((passage.quantile(p, 0.0) - passage.quantile(p, 1e-4)).abs() < 1e-3);
        }
    }

    /// 0.3 m beyond the scale at 6 m: 1.05; track at 10 deg: 1/0.984808.
    #[test]
    fn parallax_and_angle_correct_the_speed() {
        let mut passage = Passage::plain(40.0, 2.0, 1000.0);
        passage.camera = 6.0;
        passage.beyond = Measured { value: 0.3, uncertainty: 0.1 };
        let got = passage.speed().unwrap();
        assert!((got.correction - 1.05).abs() < 1e-12);
        assert!(got.parts.iter().any(|p| (p.relative - 0.1 / 6.3).abs() < 1e-12));
        passage.track_angle = 10.0_f64.to_radians();
        assert!((passage.speed().unwrap().correction * 0.984_808 - 1.05).abs() < 1e-6);
    }

    #[test]
    fn frames_needed_are_enough_and_one_less_is_not() {
        assert_eq!(frames_needed(0.01, 0.0), Some(41.0));
        assert_eq!(frames_needed(0.02, 0.0), Some(21.0));
        assert_eq!(frames_needed(0.02, 0.02), None);
    }

    /// n 10, 3 mm, 1000 frames/s: 0.33029 m/s; 50 m/s at 1/4000 s: 12.5 mm.
    #[test]
    fn tracking_and_blur_match_the_closed_forms() {
        assert!((tracked_uncertainty(10, 0.003, 1000.0) - 0.330_29).abs() < 5e-6);
        assert!((blur(50.0, 1.0 / 4000.0) - 0.0125).abs() < 1e-15);
    }

    #[test]
    fn impossible_passages_are_refused() {
        assert_eq!(Passage::plain(0.0, 1.0, 100.0).speed(), Err(PassageError::TooFewFrames));
        assert_eq!(Passage::plain(f64::NAN, 1.0, 100.0).speed(), Err(PassageError::TooFewFrames));
        assert_eq!(Passage::plain(5.0, -1.0, 100.0).speed(), Err(PassageError::NotPositive));
    }
}
