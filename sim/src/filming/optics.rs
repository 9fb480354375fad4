//! What a camera at a distance sees of what passes, and how what is open is chosen.

use crate::{
    math::log2,
    rig::camera::{Measured, Passage, blur},
};
use serde::{Deserialize, Serialize};

/// The shutter that light is counted against, in s: half of a frame at 25 frames/s.
/// Common practice, no source.
pub const PLAIN_SHUTTER: f64 = 0.02;

/// How well a mark is read in a picture, in pixels (one standard deviation): judgement.
const READ: f64 = 0.5;
/// The object is at least so many pixels long where the distance can be chosen: judgement.
const LEAST: f64 = 20.0;
/// Nobody goes farther away than this for a wider field, in m.
const FARTHEST: f64 = 300.0;
/// Widest field over the distance that a lens is chosen for: 90 deg.
const WIDEST: f64 = 2.0;

/// A camera.
#[derive(Clone, Debug, PartialEq)]
pub struct Camera {
    /// Width of the field over the distance; `None`: the lens is open.
    pub field: Option<f64>,
    /// Pixels across the field, > 0.
    pub pixels: f64,
    /// The frame rates that it has, in frames per second, rising, at least one.
    pub rates: Vec<f64>,
}

/// What is seen of the track.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Looks {
    /// The way up to the target fills the picture.
    Before,
    /// The target stands in its middle, so that what comes out behind is seen.
    Behind,
}

/// What passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Subject {
    /// Speed over the ground at the strike: 5, 50 and 95 %, in m/s.
    pub speed: [f64; 3],
    /// Longest side, in m.
    pub size: f64,
    /// Standard uncertainty of the distance on the scale, relative.
    pub scale: f64,
}

/// What is wanted of the pictures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Relative standard uncertainty of the speed.
    pub uncertainty: f64,
    /// Smear, in pixels.
    pub smear: f64,
    /// What has to be seen.
    pub looks: Looks,
}

/// What is not to be chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fixed {
    /// Distance from the track, in m.
    pub distance: Option<f64>,
    /// Exposure time, in s.
    pub exposure: Option<f64>,
    /// No nearer than this, in m; 0: anywhere.
    pub nearest: f64,
}

/// What the camera will see.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct View {
    /// Distance from the track, in m.
    pub distance: f64,
    /// Width of the field at the track, in m.
    pub field: f64,
    /// Pixels to the metre there.
    pub pixels_per_metre: f64,
    /// Frames per second.
    pub rate: f64,
    /// Exposure time, in s.
    pub exposure: f64,
    /// Track over which the whole object is in the picture before the strike, in m.
    pub track: f64,
    /// Frame intervals over it at the slow, the middle and the fast end.
    pub frames: [f64; 3],
    /// Smear at the fast end, in pixels.
    pub smear: f64,
    /// Relative standard uncertainty of the fast end's speed; `None`: less than one
    /// frame interval, which tells none.
    pub uncertainty: Option<f64>,
    /// Exposures that double the light, lost against [`PLAIN_SHUTTER`].
    pub stops: f64,
    /// Length of the object, in pixels.
    pub object: f64,
}

/// Why a camera sees nothing of use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unseen {
    /// Neither the lens nor the distance is told.
    BothOpen,
    /// The object does not fit into the picture: the field at the track is too narrow.
    TooNarrow,
}

impl Wanted {
    /// The part of the field that the object passes before the strike.
    fn part(&self) -> f64 {
        match self.looks {
            Looks::Before => 1.0,
            Looks::Behind => 0.5,
        }
    }
}

/// What a camera sees, what is open being chosen: the lowest frame rate that tells the
/// speed well enough with the object large enough, the smallest distance or the longest
/// lens for it, and the longest exposure that smears no more than is wanted.
///
/// # Errors
///
/// [`Unseen`].
///
/// # Examples
///
/// ```
/// use longodds_sim::filming::{Camera, Fixed, Looks, Subject, Wanted, view};
/// let camera = Camera { field: Some(1.0), pixels: 1000.0, rates: vec![1000.0] };
/// let subject = Subject { speed: [20.0; 3], size: 0.5, scale: 0.0 };
/// let wanted = Wanted { uncertainty: 0.02, smear: 2.0, looks: Looks::Before };
/// let fixed = Fixed { distance: Some(2.5), exposure: None, nearest: 0.0 };
/// let seen = view(&camera, &subject, &wanted, &fixed).unwrap();
/// assert_eq!(seen.track, 2.0);
/// assert_eq!(seen.frames[1], 100.0);
/// ```
pub fn view(
    camera: &Camera,
    subject: &Subject,
    wanted: &Wanted,
    fixed: &Fixed,
) -> Result<View, Unseen> {
    let seen = |field, distance, rate| Seen { camera, subject, wanted, field, distance, rate };
    let each = camera.rates.iter().map(|rate| match (camera.field, fixed.distance) {
        (None, None) => Err(Unseen::BothOpen),
        (Some(field), Some(distance)) => Ok(seen(field, distance, *rate)),
        (Some(field), None) => {
            let tight = subject.size / (field * wanted.part());
            let from = fixed.nearest.max(tight);
            Ok(seen(field, least(from, FARTHEST, |d| seen(field, d, *rate).is_enough()), *rate))
        }
        (None, Some(distance)) => {
            let from = subject.size / (distance * wanted.part());
            let field = least(from, WIDEST, |field| seen(field, distance, *rate).is_enough());
            Ok(seen(field, distance, *rate))
        }
    });
    let all = each.collect::<Result<Vec<Seen<'_>>, Unseen>>()?;
    let good = all.iter().find(|seen| seen.is_enough() && seen.object() >= LEAST);
    let chosen = good.or_else(|| all.iter().rfind(|seen| seen.is_enough())).or(all.last());
    let chosen = chosen.filter(|seen| seen.track() > 0.0).ok_or(Unseen::TooNarrow)?;
    Ok(chosen.view(fixed.exposure))
}

/// The least value between two where something holds that goes on holding from there;
/// the larger end where it never does.
fn least(from: f64, to: f64, holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (from, to.max(from));
    if holds(low) {
        return low;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if holds(middle) { high = middle } else { low = middle }
    }
    high
}

/// A camera at a distance with a frame rate.
#[derive(Clone, Copy)]
struct Seen<'a> {
    camera: &'a Camera,
    subject: &'a Subject,
    wanted: &'a Wanted,
    field: f64,
    distance: f64,
    rate: f64,
}

impl Seen<'_> {
    fn width(&self) -> f64 {
        self.field * self.distance
    }

    fn pixels_per_metre(&self) -> f64 {
        self.camera.pixels / self.width()
    }

    fn track(&self) -> f64 {
        self.width() * self.wanted.part() - self.subject.size
    }

    fn object(&self) -> f64 {
        self.subject.size * self.pixels_per_metre()
    }

    fn frames(&self, speed: f64) -> f64 {
        self.track().max(0.0) * self.rate / speed
    }

    /// Relative, at the fast end.
    fn uncertainty(&self) -> Option<f64> {
        let track = self.track();
        let mut passage = Passage::plain(self.frames(self.subject.speed[2]), track, self.rate);
        // Both ends are read in a picture.
        let read = std::f64::consts::SQRT_2 * READ / self.pixels_per_metre();
        let scale = self.subject.scale * track;
        passage.distance =
            Measured { value: track, uncertainty: (read * read + scale * scale).sqrt() };
        passage.relative().ok()
    }

    fn is_enough(&self) -> bool {
        self.uncertainty().is_some_and(|told| told <= self.wanted.uncertainty)
    }

    fn view(&self, exposure: Option<f64>) -> View {
        let fast = self.subject.speed[2];
        let longest = self.wanted.smear / self.pixels_per_metre() / fast;
        let exposure = exposure.unwrap_or_else(|| rounded(longest.min(1.0 / self.rate)));
        View {
            distance: self.distance,
            field: self.width(),
            pixels_per_metre: self.pixels_per_metre(),
            rate: self.rate,
            exposure,
            track: self.track(),
            frames: self.subject.speed.map(|speed| self.frames(speed)),
            smear: blur(fast, exposure) * self.pixels_per_metre(),
            uncertainty: self.uncertainty(),
            stops: log2(PLAIN_SHUTTER / exposure),
            object: self.object(),
        }
    }
}

/// One over a whole number of two digits, no longer than this.
fn rounded(exposure: f64) -> f64 {
    let over = 1.0 / exposure;
    let unit = crate::math::pow(10.0, (crate::math::log10(over).floor() - 1.0).max(0.0));
    1.0 / ((over / unit - 1e-9).ceil() * unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::camera::frames_needed;
    use proptest::prelude::*;

    fn wanted(uncertainty: f64, smear: f64, looks: Looks) -> Wanted {
        Wanted { uncertainty, smear, looks }
    }

    const OPEN: Fixed = Fixed { distance: None, exposure: None, nearest: 0.0 };

    /// Common practice, no source: 17 frames over one foot at 1,000 frames/s.
    #[test]
    fn it_counts_frames_as_the_trade_does() {
        let foot = 0.3048;
        let camera = Camera { field: Some(foot + 0.1), pixels: 1e6, rates: vec![1000.0] };
        let subject = Subject { speed: [58.8 * foot; 3], size: 0.1, scale: 0.0 };
        let fixed = Fixed { distance: Some(1.0), ..OPEN };
        let seen = view(&camera, &subject, &wanted(0.02, 1.0, Looks::Before), &fixed).unwrap();
        assert!((seen.frames[1] - 17.0).abs() < 0.01, "{seen:?}");
        let told = seen.uncertainty.unwrap();
        assert!((told - (1.0_f64 / 6.0).sqrt() / seen.frames[2]).abs() < 1e-4);
        assert!(frames_needed(told * 1.001, 0.0).unwrap() <= seen.frames[2].ceil());
    }

    #[test]
    fn what_cannot_be_chosen_is_said() {
        let camera = Camera { field: None, pixels: 1000.0, rates: vec![1000.0] };
        let subject = Subject { speed: [20.0; 3], size: 1.0, scale: 0.0 };
        let want = wanted(0.02, 2.0, Looks::Before);
        assert_eq!(view(&camera, &subject, &want, &OPEN), Err(Unseen::BothOpen));
        let narrow = Camera { field: Some(0.1), ..camera };
        let near = Fixed { distance: Some(2.0), ..OPEN };
        assert_eq!(view(&narrow, &subject, &want, &near), Err(Unseen::TooNarrow));
    }

    prop_compose! {
        fn cases()(
            field in 0.05..1.8_f64,
            pixels in 300.0..4000.0_f64,
            slow in 2.0..60.0_f64,
            size in 0.02..3.0_f64,
            scale in prop::sample::select(vec![0.0, 0.005]),
            told in 0.01..0.1_f64,
            smear in 0.5..8.0_f64,
            nearest in 0.0..40.0_f64,
            behind in any::<bool>(),
            known in prop::sample::select(vec![0, 1, 2]),
            distance in 1.0..60.0_f64,
        ) -> (Camera, Subject, Wanted, Fixed) {
            let camera = Camera {
                field: (known != 1).then_some(field),
                pixels,
                rates: vec![120.0, 240.0, 1000.0, 5000.0],
            };
            let subject = Subject { speed: [slow, 1.2 * slow, 1.5 * slow], size, scale };
            let looks = if behind { Looks::Behind } else { Looks::Before };
            let fixed = Fixed {
                distance: (known != 0).then_some(distance.max(nearest)),
                exposure: None,
                nearest,
            };
            (camera, subject, wanted(told, smear, looks), fixed)
        }
    }

    proptest! {
        /// Whatever is open: no smear beyond what is wanted, nobody nearer than allowed,
        /// and the doubt is that of `longodds speed` for these pictures.
        #[test]
        fn what_is_chosen_keeps_to_what_is_wanted((camera, subject, want, fixed) in cases()) {
            let Ok(seen) = view(&camera, &subject, &want, &fixed) else { return Ok(()) };
            prop_assert!(seen.smear <= want.smear * 1.000_001, "{seen:?}");
            prop_assert!(seen.exposure <= 1.000_001 / seen.rate);
            prop_assert!(seen.distance >= fixed.nearest * 0.999_999);
            prop_assert!(camera.rates.contains(&seen.rate));
            prop_assert!(seen.frames[0] >= seen.frames[1] && seen.frames[1] >= seen.frames[2]);
            let part = if want.looks == Looks::Before { 1.0 } else { 0.5 };
            prop_assert!((seen.field * part - subject.size - seen.track).abs() < 1e-9);
            let whole = Passage::plain(seen.frames[2], seen.track, seen.rate).speed();
            match (seen.uncertainty, whole) {
                (Some(told), Ok(whole)) => prop_assert!(told >= whole.uncertainty / whole.speed),
                (told, whole) => prop_assert!(told.is_none() && whole.is_err()),
            }
        }

        /// To want less never takes a higher rate; to be allowed nearer never takes one
        /// farther away.
        #[test]
        fn less_is_not_dearer((camera, subject, want, fixed) in cases(), by in 1.0..3.0_f64) {
            let easier = Wanted { uncertainty: want.uncertainty * by, ..want };
            let seen = |want| view(&camera, &subject, &want, &fixed);
            if let (Ok(hard), Ok(easy)) = (seen(want), seen(easier)) {
                let met = |view: &View, want: &Wanted| {
                    view.uncertainty.is_some_and(|told| told <= want.uncertainty)
                        && view.object >= LEAST
                };
                if met(&hard, &want) {
                    prop_assert!(met(&easy, &easier) && easy.rate <= hard.rate, "{easy:?} {hard:?}");
                }
            }
        }
    }
}
