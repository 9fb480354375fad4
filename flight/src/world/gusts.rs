//! Gusts along the mean wind, across it and upwards, correlated in time and place.
//!
//! Assumes: stationary Gaussian turbulence that the mean wind carries along
//! unchanged (Taylor's frozen turbulence): a mast feels a correlation that falls
//! as `exp(-lag / T)` with `T` = length scale over mean speed, what drifts with
//! the wind stays in its gust, and what flies against it meets gusts sooner. The
//! standard deviation in m/s is the same at every height, as in the standard. Gusts
//! across and upwards are weaker and narrower by fixed ratios, and independent of
//! those along it (the shear stress that couples them is left out).
//! Valid: up to 200 m (EN 1991-1-4), flights short beside the life of a gust.
//! Ignores: how they differ from place to place beside and above each other, that
//! upward ones die out towards the ground, and changes within less than
//! scale / [`FASTEST`]. Where the intensity is high the wind may turn round for
//! a moment.

use super::{Terrain, wind::roughness};
use crate::{
    lane::{Lane, Processor},
    math::{atan, atan2, cos, hypot, ln, pow, sin, tan},
    note::{Kind, Note, Subject},
};
use core::f64::consts::TAU;
use glam::DVec3;

/// Its section of the page of trust.
const SUBJECT: Subject =
    Subject { key: "gusts", claims: "How much the wind swings about its mean" };

/// What it says of itself.
pub const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "gusts",
    how: "the wind's speed swings along its own direction, and less across it and upwards, in gusts that it carries along unchanged",
    source: "EN 1991-1-4, section 4.4 (intensity, second-hand) and annex B.1 (length scale, from memory); correlation exp(-lag/T), T = length scale over mean speed; frozen turbulence (Taylor 1938, from memory); across and upwards by IEC 61400-1 (second-hand)",
    kind: Kind::Memory,
    range: "up to 200 m above the ground",
    leaves_out: "how gusts differ within the object's size, and that upward ones die out towards the ground",
};

/// Waves that a history is made of.
const WAVES: usize = 8;
/// Random numbers of one direction: three a wave.
const EACH: u32 = 24;
const _: () = assert!(EACH as usize == 3 * WAVES);
/// Random numbers that a history takes, in all three directions.
pub const NUMBERS: usize = 9 * WAVES;
/// Length scales across the wind and upwards, over that along it.
///
/// Source: IEC 61400-1, annex on the Kaimal spectrum: 8.1, 2.7 and 0.66 of one
/// length (second-hand, in public code that repeats it).
const NARROWER: [f64; 2] = [2.7 / 8.1, 0.66 / 8.1];
/// Standard deviations across the wind and upwards, over that along it.
///
/// Source: as `NARROWER`: 0.8 and 0.5.
pub const WEAKER: [f64; 2] = [0.8, 0.5];
/// Where the spectrum is cut off, in radians per length scale. What is cut off
/// holds 0.6 % of the variance; the rest is scaled up to hold it all.
pub const FASTEST: f64 = 100.0;
/// The highest place that the standard's gusts are for, in m. Source: EN
/// 1991-1-4, 1.1 (from memory).
pub const HIGHEST: f64 = 200.0;

/// How strong and how wide gusts are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turbulence {
    /// Standard deviation over mean speed, >= 0.
    pub intensity: f64,
    /// Integral length scale along the wind, in m, > 0.
    pub scale: f64,
    /// Standard deviation across the wind over that along it, >= 0.
    pub across: f64,
    /// Standard deviation upwards over that along the wind, >= 0.
    pub upwards: f64,
}

impl Turbulence {
    /// What the standard expects over this ground at `height` (m), with
    /// [`WEAKER`] gusts across and upwards; `None` for uniform ground, which has no
    /// roughness.
    ///
    /// Source: EN 1991-1-4, 4.4 (intensity, turbulence factor and orography 1;
    /// second-hand) and annex B.1 (length scale, from memory).
    #[must_use]
    pub fn over(terrain: Terrain, height: f64) -> Option<Self> {
        let [z0, lowest] = roughness(terrain)?;
        let height = height.max(lowest);
        Some(Self {
            intensity: 1.0 / ln(height / z0),
            scale: 300.0 * pow(height / 200.0, 0.67 + 0.05 * ln(z0)),
            across: WEAKER[0],
            upwards: WEAKER[1],
        })
    }
}

/// One wave of a history.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Wave {
    /// In m/s.
    amplitude: f64,
    /// Turns per metre of air that has gone by.
    per_metre: f64,
    /// Where it begins, in turns.
    phase: f64,
}

/// The gusts of one direction: a sum of waves with the wanted spectrum.
///
/// The band of wave numbers is cut into parts of equal variance, with one wave
/// at random in each: over many flights the correlation is that of the whole
/// band, not of a comb.
type Waves = [Wave; WAVES];

/// Waves of a standard deviation (m/s) and length scale (m) that begin at `first`
/// standard deviations; the rest is made of [`EACH`] numbers in (0, 1).
///
/// Source: the spectrum of a first-order Markov process in wave number,
/// `2 L / (π (1 + k² L²))`, whose cumulative form is `2/π atan(k L)`; normal
/// amplitudes of sine and cosine make each wave Gaussian. `first` shifts the
/// cosines alike: the exact conditional distribution of normal numbers whose
/// sum is known.
fn waves(deviation: f64, scale: f64, first: f64, uniform: impl Fn(u32) -> f64) -> Waves {
    let mut parts = [[0.0; 3]; WAVES];
    for (number, place) in (0..).zip(parts.as_flattened_mut()) {
        *place = uniform(number);
    }
    let share = |part: usize, place: f64| (part as f64 + place) / WAVES as f64;
    let mut sides = parts.map(|[_, size, phase]| {
        let radius = (-2.0 * ln(size)).sqrt();
        [radius * cos(TAU * phase), radius * sin(TAU * phase)]
    });
    let root = (WAVES as f64).sqrt();
    let now = sides.iter().map(|[cosine, _]| cosine).sum::<f64>() / root;
    for [cosine, _] in &mut sides {
        *cosine += (first - now) / root;
    }
    let amplitude = deviation / root;
    core::array::from_fn(|part| {
        let [cosine, sine] = sides[part];
        Wave {
            amplitude: amplitude * hypot(cosine, sine),
            per_metre: tan(share(part, parts[part][0]) * atan(FASTEST)) / (TAU * scale),
            phase: atan2(sine, cosine) / TAU,
        }
    })
}

/// One flight's gusts, carried along by the mean wind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gusts {
    /// Along the mean wind, across it (to its left), upwards.
    waves: [Waves; 3],
    /// Unit vector along the mean wind.
    along: [f64; 2],
    /// Speed of the air that carries them, in m/s.
    speed: f64,
    /// Where the flight starts, along the wind, in m.
    from: f64,
}

impl Gusts {
    /// The gusts of a mean wind `[x, y]` (m/s) for a flight that starts at
    /// `from` (x, y in m), in gusts of `first` standard deviations along the wind,
    /// across it and upwards. The rest of the history is made of [`NUMBERS`]
    /// numbers `uniform(0)`, `uniform(1)`, ..., each in (0, 1). With standard
    /// normal numbers for `first`, histories are stationary.
    #[must_use]
    pub fn new(
        turbulence: Turbulence,
        [x, y]: [f64; 2],
        from: DVec3,
        first: [f64; 3],
        uniform: impl Fn(u32) -> f64,
    ) -> Self {
        let speed = hypot(x, y);
        let along = if speed > 0.0 { [x / speed, y / speed] } else { [0.0, 0.0] };
        let deviation = turbulence.intensity * speed;
        let weaker = [1.0, turbulence.across, turbulence.upwards];
        let narrower = [1.0, NARROWER[0], NARROWER[1]];
        let of = |direction: u32, i: usize| {
            waves(deviation * weaker[i], turbulence.scale * narrower[i], first[i], |number| {
                uniform(direction * EACH + number)
            })
        };
        Self {
            waves: [of(0, 0), of(1, 1), of(2, 2)],
            along,
            speed,
            from: along[0] * from.x + along[1] * from.y,
        }
    }

    /// What the gusts add to the mean wind at a `place` (m) and a `time` (s
    /// after release), in m/s.
    #[must_use]
    pub fn at(&self, place: DVec3, time: f64) -> DVec3 {
        let [x, y] = self.along;
        let gone_by = self.speed * time + self.from - (x * place.x + y * place.y);
        let turns = |wave: &Wave| wave.per_metre * gone_by + wave.phase;
        let [along, across, up] = self.waves.map(|waves| -> f64 {
            waves.iter().map(|wave| wave.amplitude * cos(TAU * turns(wave))).sum()
        });
        DVec3::new(x * along - y * across, y * along + x * across, up)
    }
}

/// One direction's waves of a block of flights.
#[derive(Clone, Copy, Debug)]
struct WaveLanes<S: Processor> {
    amplitude: [Lane<S>; WAVES],
    per_metre: [Lane<S>; WAVES],
    phase: [Lane<S>; WAVES],
}

impl<S: Processor> WaveLanes<S> {
    #[inline(always)]
    fn put(&mut self, lane: usize, waves: &Waves) {
        for (i, wave) in waves.iter().enumerate() {
            self.amplitude[i].set(lane, wave.amplitude);
            self.per_metre[i].set(lane, wave.per_metre);
            self.phase[i].set(lane, wave.phase);
        }
    }

    /// Their sum, in m/s, where so much air (m) has gone by.
    #[inline(always)]
    fn sum(&self, gone_by: Lane<S>) -> Lane<S> {
        let mut gust = gone_by.of(0.0);
        for i in 0..WAVES {
            let wave = self.per_metre[i].mul_add(gone_by, self.phase[i]).cosine_of_turns();
            gust = wave.mul_add(self.amplitude[i], gust);
        }
        gust
    }
}

/// The gusts of a block of flights.
#[derive(Clone, Copy, Debug)]
pub struct GustLanes<S: Processor> {
    waves: [WaveLanes<S>; 3],
    along: [Lane<S>; 2],
    speed: Lane<S>,
    from: Lane<S>,
}

impl<S: Processor> GustLanes<S> {
    /// No gusts.
    #[inline(always)]
    pub fn none(simd: S) -> Self {
        let zero = Lane::splat(simd, 0.0);
        let none = [zero; WAVES];
        Self {
            waves: [WaveLanes { amplitude: none, per_metre: none, phase: none }; 3],
            along: [zero; 2],
            speed: zero,
            from: zero,
        }
    }

    /// Puts one flight's gusts in its place.
    #[inline(always)]
    pub fn put(&mut self, lane: usize, gusts: &Gusts) {
        for (mine, waves) in self.waves.iter_mut().zip(&gusts.waves) {
            mine.put(lane, waves);
        }
        self.along[0].set(lane, gusts.along[0]);
        self.along[1].set(lane, gusts.along[1]);
        self.speed.set(lane, gusts.speed);
        self.from.set(lane, gusts.from);
    }

    /// As [`Gusts::at`], to 1.2e-8 of the waves' amplitudes.
    #[inline(always)]
    pub fn at(&self, [x, y]: [Lane<S>; 2], time: Lane<S>) -> [Lane<S>; 3] {
        let passed = x.mul_add(self.along[0], y * self.along[1]);
        let gone_by = self.speed.mul_add(time, self.from) - passed;
        let along = self.waves[0].sum(gone_by);
        let across = self.waves[1].sum(gone_by);
        let up = self.waves[2].sum(gone_by);
        [
            along * self.along[0] - across * self.along[1],
            across.mul_add(self.along[0], along * self.along[1]),
            up,
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::FRAC_PI_2;
    use pulp::Scalar;

    /// Enough to tell a sum of eight waves of one height (kurtosis 2.81) from a
    /// normal number.
    const HISTORIES: u32 = 200_000;
    const GALE: Turbulence =
        Turbulence { intensity: 0.2, scale: 60.0, across: WEAKER[0], upwards: WEAKER[1] };
    /// 20 m/s, 4 m/s of deviation, 3 s of memory.
    const WIND: [f64; 2] = [12.0, 16.0];
    const MEMORY: f64 = 3.0;
    /// Where the object is let go.
    const PLACE: DVec3 = DVec3::new(3.0, -7.0, 5.0);

    /// A well-mixed number in (0, 1) by draw and place (the finaliser of
    /// `SplitMix64`).
    fn mixed(draw: u32, place: u32) -> f64 {
        let mut x = (u64::from(draw) << 32 | u64::from(place)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        x = (x ^ (x >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        x = (x ^ (x >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let top = u32::try_from((x ^ (x >> 31)) >> 32).unwrap();
        (f64::from(top) + 0.5) / 4_294_967_296.0
    }

    fn of(turbulence: Turbulence, draw: u32) -> Gusts {
        let normal = |i: u32| {
            let [u, v] = [0, 1].map(|place| mixed(draw, 1000 + 2 * i + place));
            (-2.0 * ln(u)).sqrt() * cos(TAU * v)
        };
        let first = [normal(0), normal(1), normal(2)];
        Gusts::new(turbulence, WIND, PLACE, first, |number| mixed(draw, number))
    }

    /// The gusts that a mast at `PLACE` feels along the wind, across it and
    /// upwards, in m/s.
    fn felt_all(gusts: &Gusts, time: f64) -> [f64; 3] {
        let gust = gusts.at(PLACE, time);
        [0.6 * gust.x + 0.8 * gust.y, 0.6 * gust.y - 0.8 * gust.x, gust.z]
    }

    /// Of those, the one along the wind.
    fn felt(gusts: &Gusts, time: f64) -> f64 {
        felt_all(gusts, time)[0]
    }

    /// Mean over histories of what `find` makes of each.
    fn mean(find: impl Fn(&Gusts) -> f64) -> f64 {
        (0..HISTORIES).map(|draw| find(&of(GALE, draw))).sum::<f64>() / f64::from(HISTORIES)
    }

    /// Source: EN 1991-1-4: Iv of category II at 10 m 0.18874, at 2 m 0.27109,
    /// of category III at 10 m 0.28518; L of category II at 10 m 63.1 m (length
    /// scale from memory).
    #[test]
    fn intensity_and_length_scale_are_those_of_the_standard() {
        let table = [
            (Terrain::Open, 10.0, 0.188_74),
            (Terrain::Open, 2.0, 0.271_09),
            (Terrain::Suburb, 10.0, 0.285_18),
        ];
        for (terrain, height, wanted) in table {
            let found = Turbulence::over(terrain, height).unwrap().intensity;
            assert!((found - wanted).abs() < 1e-5, "{terrain:?} {height}: {found}");
        }
        let scale = Turbulence::over(Terrain::Open, 10.0).unwrap().scale;
        assert!((scale - 63.1).abs() < 0.05, "{scale}");
        assert_eq!(Turbulence::over(Terrain::Uniform, 10.0), None);
    }

    /// Source: EN 1991-1-4, 4.5: peak over mean speed √(1 + 7 Iv), category II
    /// at 10 m 1.52354.
    #[test]
    fn the_intensity_makes_the_peak_of_the_standard() {
        let intensity = Turbulence::over(Terrain::Open, 10.0).unwrap().intensity;
        assert!(((1.0 + 7.0 * intensity).sqrt() - 1.523_54).abs() < 1e-5);
    }

    /// Source: σ = Iv U = 4 m/s, normal: mean 0, variance 16, kurtosis 3. False
    /// alarms: limits are 5 standard errors (1 in 1.7 million each).
    #[test]
    fn gusts_are_normal_with_the_stated_intensity() {
        let root = f64::from(HISTORIES).sqrt();
        for time in [0.0, 1.7, 40.0] {
            let power = |n: i32| mean(|gusts| (felt(gusts, time) / 4.0).powi(n));
            assert!(power(1).abs() < 5.0 / root, "{time}: {}", power(1));
            assert!((power(2) - 1.0).abs() < 5.0 * 2.0_f64.sqrt() / root, "{time}: {}", power(2));
            assert!((power(4) - 3.0).abs() < 5.0 * 96.0_f64.sqrt() / root, "{time}: {}", power(4));
        }
    }

    /// Source: correlation of a first-order Markov process at a lag,
    /// exp(-lag U / L), from release on and later. Limit: 5 standard errors (√2 /
    /// √n at most: 1 in 1.7 million each) and the 0.6 % that is cut off.
    #[test]
    fn a_mast_forgets_at_the_rate_of_length_scale_over_speed() {
        let limit = 5.0 * (2.0 / f64::from(HISTORIES)).sqrt() + 0.0064;
        for (from, lag) in [(0.0, 0.3), (0.0, 3.0), (0.4, 1.0), (0.4, 3.0), (7.0, 6.0), (0.0, 12.0)]
        {
            let found = mean(|gusts| felt(gusts, from) * felt(gusts, from + lag)) / 16.0;
            let wanted = libm::exp(-lag / MEMORY);
            assert!((found - wanted).abs() < limit, "{lag}: {found} for {wanted}");
        }
    }

    /// Source: frozen turbulence: what moves with the mean wind stays in its gust
    /// for good; against it at the wind's own speed, gusts pass twice as fast.
    #[test]
    fn what_drifts_with_the_wind_stays_in_its_gust() {
        let there =
            |share: f64, time: f64| PLACE + share * time * DVec3::new(WIND[0], WIND[1], 0.0);
        for draw in 0..100 {
            let gusts = of(GALE, draw);
            for time in [0.4, 3.0, 20.0] {
                let [start, end] = [gusts.at(PLACE, 0.0), gusts.at(there(1.0, time), time)];
                assert!((start - end).length() < 1e-9, "{start:?} {end:?}");
                let [mast, flown] =
                    [gusts.at(PLACE, time), gusts.at(there(-1.0, time / 2.0), time / 2.0)];
                assert!((mast - flown).length() < 1e-9, "{mast:?} {flown:?}");
            }
        }
    }

    #[test]
    fn a_flight_starts_in_the_gust_that_it_was_given() {
        for first in [[-2.5, 0.1, 1.0], [0.0; 3], [0.3, -1.0, 2.0], [3.0, 2.0, -1.0]] {
            let gusts = Gusts::new(GALE, WIND, PLACE, first, |number| mixed(9, number));
            let felt = felt_all(&gusts, 0.0);
            for (i, deviation) in [4.0, 3.2, 2.0].into_iter().enumerate() {
                assert!((felt[i] - deviation * first[i]).abs() < 1e-12);
            }
        }
    }

    /// Source: IEC 61400-1 (second-hand): σ across 0.8 and upwards 0.5 of that
    /// along, length scales 2.7 and 0.66 against 8.1. Independent of each other by
    /// construction. Limits: 5 standard errors (1 in 1.7 million each) and what is
    /// cut off.
    #[test]
    fn gusts_across_and_upwards_are_weaker_shorter_and_independent() {
        let limit = 5.0 * (2.0 / f64::from(HISTORIES)).sqrt() + 0.0064;
        let deviation = [4.0, 3.2, 2.0];
        let memory = [MEMORY, MEMORY / 3.0, MEMORY * 0.66 / 8.1];
        let product = |i: usize, j: usize, lag: f64| {
            let found = mean(|gusts| felt_all(gusts, 0.3)[i] * felt_all(gusts, 0.3 + lag)[j]);
            found / (deviation[i] * deviation[j])
        };
        for (i, memory) in memory.into_iter().enumerate().skip(1) {
            for lag in [0.0, 0.1, 0.5, 2.0] {
                let (found, wanted) = (product(i, i, lag), libm::exp(-lag / memory));
                assert!((found - wanted).abs() < limit, "{i} {lag}: {found} for {wanted}");
            }
        }
        for (i, j, lag) in [(0, 1, 0.0), (0, 2, 0.0), (1, 2, 0.0), (0, 2, 0.2), (1, 0, 0.5)] {
            assert!(product(i, j, lag).abs() < limit, "{i} {j} {lag}: {}", product(i, j, lag));
        }
    }

    /// Whatever the numbers: told none, none come from those directions, and those
    /// along the wind are the same to the bit.
    #[test]
    fn gusts_along_do_not_hang_on_those_across_and_upwards() {
        for draw in 0..200 {
            let (all, alone) =
                (of(GALE, draw), of(Turbulence { across: 0.0, upwards: 0.0, ..GALE }, draw));
            for time in [0.0, 0.9, 11.0] {
                let [_, across, up] = felt_all(&alone, time);
                assert!(across.abs() < 1e-12 && up.abs() < 1e-300);
                assert!((felt(&all, time) - felt(&alone, time)).abs() < 1e-12);
            }
        }
    }

    /// Source: cumulative spectrum 2/π atan(k L): half the variance lies below
    /// k L = 1; 0.6366 % lies above k L = 100.
    #[test]
    fn half_the_variance_is_slower_than_one_radian_per_memory() {
        let all = atan(FASTEST) / FRAC_PI_2;
        assert!((1.0 - all - 0.006_366).abs() < 1e-6, "{all}");
        let slow = mean(|gusts| {
            let slow = gusts.waves[0].iter().filter(|wave| TAU * wave.per_metre < 1.0 / GALE.scale);
            slow.map(|wave| wave.amplitude * wave.amplitude / 2.0).sum()
        });
        // The sum of about four exponentials of 2 m²/s² each; 5 standard errors.
        let limit = 5.0 * 5.0 / f64::from(HISTORIES).sqrt() / 16.0;
        assert!((slow / 16.0 - 0.5 / all).abs() < limit, "{slow}");
    }

    #[test]
    fn no_intensity_or_no_wind_is_no_gust() {
        let calm = of(Turbulence { intensity: 0.0, ..GALE }, 7);
        let still = Gusts::new(GALE, [0.0; 2], PLACE, [1.0; 3], |number| mixed(7, number));
        for time in [0.0, 0.9, 33.0] {
            assert!(felt(&calm, time).abs() < 1e-300);
            assert!(still.at(PLACE, time).length() < 1e-300);
        }
    }

    #[test]
    fn the_same_numbers_are_the_same_gusts() {
        let at = |draw| felt(&of(GALE, draw), 0.9).to_bits();
        assert_eq!(at(7), at(7));
        assert_ne!(at(7), at(8));
    }

    /// Limit: eight waves of 1.2e-8.
    #[test]
    fn the_step_loop_sees_the_same_gusts() {
        let mut lanes = GustLanes::none(Scalar);
        let lane = |number| Lane::splat(Scalar, number);
        for draw in 0..200 {
            let gusts = of(GALE, draw);
            lanes.put(1, &gusts);
            let whole: f64 = gusts.waves.as_flattened().iter().map(|wave| wave.amplitude).sum();
            for time in [0.0, 0.7, 8.0, 100.0] {
                let place = PLACE + DVec3::new(3.0 * time, time, 0.0);
                let got = lanes.at([lane(place.x), lane(place.y)], lane(time));
                let wanted = gusts.at(place, time);
                for (got, wanted) in got.iter().zip(wanted.to_array()) {
                    assert!((got.get(1) - wanted).abs() < 1.2e-8 * whole, "{draw} {time}");
                }
            }
        }
    }
}
