//! Can who comes behind stop in time, and how fast do they meet it?

/// Reaction time that road design allows for, in s.
///
/// Source: AASHTO design driver (read second-hand).
pub const DESIGN_REACTION: f64 = 2.5;

/// Deceleration that road design counts on, in m/s².
///
/// Source: AASHTO (from memory).
pub const DESIGN_BRAKING: f64 = 3.4;

/// Way to a stop from `speed` (m/s), in m: reaction (s) and braking (m/s²).
#[must_use]
pub fn stopping_distance(speed: f64, reaction: f64, braking: f64) -> f64 {
    speed * reaction + speed * speed / (2.0 * braking)
}

/// Speed at which a follower reaches an object that lies `gap` (m) ahead, in
/// m/s; 0 if they stop short of it.
#[must_use]
pub fn arrival_speed(speed: f64, gap: f64, reaction: f64, braking: f64) -> f64 {
    let braked = (gap - speed * reaction).max(0.0);
    (speed * speed - 2.0 * braking * braked).max(0.0).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: AASHTO design driver, by hand: 25, 29.06 m/s and 110 km/h.
    #[test]
    fn a_design_driver_needs_two_hundred_metres() {
        let distance = |speed| stopping_distance(speed, DESIGN_REACTION, DESIGN_BRAKING);
        near(distance(25.0), 154.41, 5e-3);
        near(distance(29.06), 196.84, 5e-3);
        near(distance(110.0 / 3.6), 213.69, 5e-3);
    }

    #[test]
    fn who_follows_too_close_arrives_unbraked() {
        near(arrival_speed(29.0, 58.0, 2.5, 3.4), 29.0, 0.0);
        let distance = stopping_distance(29.0, 1.3, 7.0);
        near(arrival_speed(29.0, distance, 1.3, 7.0), 0.0, 1e-6);
    }
}
