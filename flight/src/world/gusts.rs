//! Gusts along the mean wind, correlated in time.
//!
//! Assumes: stationary Gaussian turbulence, as a fixed mast would feel it,
//! whose correlation falls as `exp(-lag / T)` with `T` = length scale over mean
//! speed. Valid: up to 200 m (EN 1991-1-4). Ignores: gusts across the wind and
//! upwards, how they differ from place to place (whatever drifts with the wind
//! meets slower changes than a mast does), and changes faster than
//! [`FASTEST`] / `T`.

use super::{Terrain, wind::roughness};
use crate::math::{atan, cos, ln, pow, tan};
use core::f64::consts::TAU;

/// Waves that a history is made of.
const WAVES: u32 = 8;
/// Random numbers that a history takes: three a wave.
pub const NUMBERS: u32 = 3 * WAVES;
/// Where the spectrum is cut off, in radians per `T`. What is cut off holds
/// 0.6 % of the variance; the rest is scaled up to hold it all.
pub const FASTEST: f64 = 100.0;

/// How strong and how wide gusts are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turbulence {
    /// Standard deviation over mean speed, >= 0.
    pub intensity: f64,
    /// Integral length scale along the wind, in m, > 0.
    pub scale: f64,
}

impl Turbulence {
    /// What the standard expects over this ground at `height` (m); `None` for
    /// uniform ground, which has no roughness.
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
        })
    }
}

/// One wave of a history.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Wave {
    amplitude: f64,
    frequency: f64,
    phase: f64,
}

/// One flight's gusts: a sum of waves with the wanted spectrum.
///
/// The band of frequencies is cut into parts of equal variance, with one wave
/// at random in each: over many flights the correlation is that of the whole
/// band, not of a comb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gusts {
    waves: [Wave; WAVES as usize],
}

impl Gusts {
    /// The gusts of a wind with this mean `speed` (m/s, > 0), made of the
    /// [`NUMBERS`] numbers `uniform(0)`, `uniform(1)`, ..., each in (0, 1).
    ///
    /// Source: the spectrum of a first-order Markov process,
    /// `2 T / (π (1 + ω² T²))`, whose cumulative form is `2/π atan(ω T)`; a
    /// Rayleigh amplitude with a uniform phase makes each wave Gaussian.
    #[must_use]
    pub fn new(turbulence: Turbulence, speed: f64, uniform: impl Fn(u32) -> f64) -> Self {
        let deviation = turbulence.intensity * speed;
        let memory = turbulence.scale / speed;
        let mut waves = [Wave::default(); WAVES as usize];
        for (part, wave) in (0..WAVES).zip(&mut waves) {
            let [place, size, phase] = [0, 1, 2].map(|number| uniform(3 * part + number));
            let share = (f64::from(part) + place) / f64::from(WAVES);
            *wave = Wave {
                amplitude: deviation * (-2.0 * ln(size) / f64::from(WAVES)).sqrt(),
                frequency: tan(share * atan(FASTEST)) / memory,
                phase: TAU * phase,
            };
        }
        Self { waves }
    }

    /// What the gusts add to the mean speed at a time (s), in m/s.
    #[must_use]
    pub fn at(&self, time: f64) -> f64 {
        self.waves.iter().map(|wave| wave.amplitude * cos(wave.frequency * time + wave.phase)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::FRAC_PI_2;

    /// Enough to tell a sum of eight waves of one height (kurtosis 2.81) from a
    /// normal number.
    const HISTORIES: u32 = 200_000;
    const GALE: Turbulence = Turbulence { intensity: 0.2, scale: 60.0 };
    const SPEED: f64 = 20.0;
    /// Length scale over speed, in s.
    const MEMORY: f64 = 3.0;

    /// A well-mixed number in (0, 1) by draw and place (the finaliser of
    /// `SplitMix64`).
    fn mixed(draw: u32, place: u32) -> f64 {
        let mut x = (u64::from(draw) << 32 | u64::from(place)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        x = (x ^ (x >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        x = (x ^ (x >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let top = u32::try_from((x ^ (x >> 31)) >> 32).unwrap();
        (f64::from(top) + 0.5) / 4_294_967_296.0
    }

    fn history(draw: u32) -> Gusts {
        Gusts::new(GALE, SPEED, |number| mixed(draw, number))
    }

    /// Mean over histories of what `of` makes of each.
    fn mean(of: impl Fn(Gusts) -> f64) -> f64 {
        (0..HISTORIES).map(|draw| of(history(draw))).sum::<f64>() / f64::from(HISTORIES)
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
            let power = |n: i32| mean(|gusts| (gusts.at(time) / 4.0).powi(n));
            assert!(power(1).abs() < 5.0 / root, "{time}: {}", power(1));
            assert!((power(2) - 1.0).abs() < 5.0 * 2.0_f64.sqrt() / root, "{time}: {}", power(2));
            assert!((power(4) - 3.0).abs() < 5.0 * 96.0_f64.sqrt() / root, "{time}: {}", power(4));
        }
    }

    /// Source: correlation of a first-order Markov process at a lag,
    /// exp(-lag U / L). Limit: 5 standard errors (√2 / √n at most) and the 0.6 %
    /// that is cut off.
    #[test]
    fn gusts_forget_at_the_rate_of_length_scale_over_speed() {
        let limit = 5.0 * (2.0 / f64::from(HISTORIES)).sqrt() + 0.0064;
        for lag in [0.3, 1.0, 3.0, 6.0, 12.0] {
            let found = mean(|gusts| gusts.at(0.4) * gusts.at(0.4 + lag)) / 16.0;
            let wanted = libm::exp(-lag / MEMORY);
            assert!((found - wanted).abs() < limit, "{lag}: {found} for {wanted}");
        }
    }

    /// Source: cumulative spectrum 2/π atan(ω T): half the variance lies below
    /// ω T = 1; 0.6366 % lies above ω T = 100.
    #[test]
    fn half_the_variance_is_slower_than_one_radian_per_memory() {
        let all = atan(FASTEST) / FRAC_PI_2;
        assert!((1.0 - all - 0.006_366).abs() < 1e-6, "{all}");
        let slow = mean(|gusts| {
            let slow = gusts.waves.iter().filter(|wave| wave.frequency < 1.0 / MEMORY);
            slow.map(|wave| wave.amplitude * wave.amplitude / 2.0).sum()
        });
        // The sum of about four exponentials of 2 m²/s² each; 5 standard errors.
        let limit = 5.0 * 5.0 / f64::from(HISTORIES).sqrt() / 16.0;
        assert!((slow / 16.0 - 0.5 / all).abs() < limit, "{slow}");
    }

    #[test]
    fn no_intensity_is_no_gust_and_the_same_numbers_are_the_same_gusts() {
        let calm = Turbulence { intensity: 0.0, ..GALE };
        let none = Gusts::new(calm, SPEED, |number| mixed(7, number));
        for time in [0.0, 0.9, 33.0] {
            assert!(none.at(time).abs() < 1e-300);
            assert_eq!(history(7).at(time).to_bits(), history(7).at(time).to_bits());
            assert_ne!(history(7).at(time).to_bits(), history(8).at(time).to_bits());
        }
    }
}
