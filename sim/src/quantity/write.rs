//! From SI to the reader's units.

use super::{Dimension, Show, units};

/// A unit to draw an axis or a column in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// The unit's symbol; empty for pure numbers.
    pub symbol: &'static str,
    factor: f64,
    zero: f64,
}

impl Axis {
    /// The number to print for an SI value.
    #[must_use]
    pub fn value(&self, si: f64) -> f64 {
        si / self.factor - self.zero
    }

    /// The SI value of a number on the axis.
    #[must_use]
    pub fn si(&self, value: f64) -> f64 {
        (value + self.zero) * self.factor
    }
}

/// The unit that suits values up to `largest` (SI, its sign does not matter)
/// of one column or axis. Lengths in imperial are feet or inches, never both.
///
/// # Examples
///
/// ```
/// use longodds_sim::quantity::{Dimension, Show, axis};
///
/// let speeds = axis(Dimension::Speed, Show::Imperial, 50.0);
/// assert_eq!(speeds.symbol, "mph");
/// assert!((speeds.value(0.44704) - 1.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn axis(dimension: Dimension, show: Show, largest: f64) -> Axis {
    let symbol = symbol(dimension, show, largest.abs());
    match units::find(symbol, dimension) {
        Some(unit) if unit.dimension == dimension => {
            Axis { symbol, factor: unit.factor, zero: unit.zero }
        }
        _ => Axis { symbol: "", factor: 1.0, zero: 0.0 },
    }
}

/// The symbol that suits a size.
fn symbol(dimension: Dimension, show: Show, size: f64) -> &'static str {
    // From the largest down: the first whose limit is not above the size.
    let pick = |choices: &[(f64, &'static str)], last: &'static str| {
        choices.iter().find(|(limit, _)| size >= *limit).map_or(last, |(_, symbol)| symbol)
    };
    match (dimension, show) {
        (Dimension::Number, _) => "",
        (Dimension::Ratio, _) => "%",
        (Dimension::Length, Show::Si) => pick(&[(1e4, "km"), (0.2, "m")], "mm"),
        (Dimension::Length, Show::Imperial) => pick(&[(3218.0, "mi"), (0.3047, "ft")], "in"),
        (Dimension::Area, Show::Si) => pick(&[(0.01, "m2")], "cm2"),
        (Dimension::Area, Show::Imperial) => pick(&[(0.0929, "ft2")], "in2"),
        (Dimension::Volume, Show::Si) => pick(&[(0.1, "m3")], "L"),
        (Dimension::Volume, Show::Imperial) => "ft3",
        (Dimension::Mass, Show::Si) => pick(&[(1e4, "t"), (1.0, "kg")], "g"),
        (Dimension::Mass, Show::Imperial) => pick(&[(0.4535, "lb")], "oz"),
        (Dimension::Density, Show::Si) => "kg/m3",
        (Dimension::Density, Show::Imperial) => "lb/ft3",
        (Dimension::Speed, Show::Si) => "m/s",
        (Dimension::Speed, Show::Imperial) => "mph",
        (Dimension::Acceleration, Show::Si) => "m/s2",
        (Dimension::Acceleration, Show::Imperial) => "ft/s2",
        (Dimension::Time, _) => pick(&[(7200.0, "h"), (180.0, "min"), (0.1, "s")], "ms"),
        (Dimension::Frequency, _) => "Hz",
        (Dimension::Angle, _) => "deg",
        (Dimension::Rotation, _) => "rpm",
        (Dimension::Temperature, Show::Si) => "degC",
        (Dimension::Temperature, Show::Imperial) => "degF",
        (Dimension::TemperatureDifference, Show::Si) => "K",
        (Dimension::TemperatureDifference, Show::Imperial) => "delta degF",
        (Dimension::Pressure, Show::Si) => pick(&[(1e6, "MPa"), (1e3, "kPa")], "Pa"),
        (Dimension::Pressure, Show::Imperial) => pick(&[(3000.0, "psi")], "psf"),
        (Dimension::Force, Show::Si) => pick(&[(1e4, "kN")], "N"),
        (Dimension::Force, Show::Imperial) => "lbf",
        (Dimension::Energy, Show::Si) => pick(&[(1e7, "MJ"), (1e4, "kJ")], "J"),
        (Dimension::Energy, Show::Imperial) => "ft lbf",
        (Dimension::Stiffness, Show::Si) => pick(&[(1e4, "kN/m")], "N/m"),
        (Dimension::Stiffness, Show::Imperial) => pick(&[(1000.0, "lbf/in")], "lbf/ft"),
    }
}

/// Writes an SI value in the reader's units, to three significant digits (a
/// temperature to a tenth of a degree; what is below a ten-thousandth of the
/// unit is nothing), without powers of ten. The text can be read back with
/// [`super::parse`].
///
/// # Examples
///
/// ```
/// use longodds_sim::quantity::{Dimension, Show, format};
///
/// assert_eq!(format(18.776, Dimension::Speed, Show::Imperial), "42 mph");
/// assert_eq!(format(2.5908, Dimension::Length, Show::Imperial), "8 ft 6 in");
/// assert_eq!(format(12.5, Dimension::Speed, Show::Si), "12.5 m/s");
/// ```
#[must_use]
pub fn format(si: f64, dimension: Dimension, show: Show) -> String {
    if !si.is_finite() {
        return "not a number".to_owned();
    }
    if dimension == Dimension::Length && show == Show::Imperial {
        return feet_and_inches(si);
    }
    let axis = axis(dimension, show, si);
    let value = axis.value(si);
    // A scale with a zero of its own has no meaning in relative terms: 0.0001
    // degC is 0 degC.
    let number = if dimension == Dimension::Temperature {
        significant((value * 10.0).round() / 10.0, 4)
    } else {
        plainly(value, if axis.symbol.is_empty() { 0.0 } else { FINEST })
    };
    if axis.symbol.is_empty() { number } else { format!("{number} {}", axis.symbol) }
}

/// What is less than this, in the unit that it is written in, is nothing: finer
/// is a rounding error of the arithmetic and no number of the world's.
const FINEST: f64 = 5e-5;

/// To three digits, without powers of ten; below `finest` nothing.
fn plainly(value: f64, finest: f64) -> String {
    if value.abs() < finest {
        return "0".to_owned();
    }
    let text = significant(value, 3);
    if !text.contains('e') {
        return text;
    }
    let rounded: f64 = text.parse().unwrap_or(value);
    let decimals = (2.0 - crate::math::log10(rounded.abs()).floor()).clamp(0.0, 17.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0..=17")]
    let decimals = decimals as usize;
    trimmed(&format!("{rounded:.decimals$}")).to_owned()
}

/// Inches below a foot, feet and inches below 100 ft, then feet, then miles.
fn feet_and_inches(si: f64) -> String {
    const INCH: f64 = 0.0254;
    let size = si.abs();
    let sign = if si < 0.0 { "-" } else { "" };
    // Decides on the rounded value, so that 11.99 in does not print as 12 in.
    if size < 11.95 * INCH {
        let inches = plainly(size / INCH, FINEST);
        return if inches == "0" { "0 in".to_owned() } else { format!("{sign}{inches} in") };
    }
    if size < 99.95 * 12.0 * INCH {
        let step = if size < 9.995 * 12.0 * INCH { 0.1 } else { 1.0 };
        let inches = (size / INCH / step).round() * step;
        let feet = ((inches + 1e-6) / 12.0).floor();
        let rest = ((inches - feet * 12.0) / step).round() * step;
        let feet = significant(feet, 3);
        return if rest < step / 2.0 {
            format!("{sign}{feet} ft")
        } else {
            format!("{sign}{feet} ft {} in", significant(rest, 3))
        };
    }
    let axis = axis(Dimension::Length, Show::Imperial, si);
    format!("{} {}", significant(axis.value(si), 3), axis.symbol)
}

/// A number to so many significant digits, without trailing zeros; in powers
/// of ten below 1e-4 and from 1e7.
///
/// # Examples
///
/// ```
/// use longodds_sim::quantity::significant;
///
/// assert_eq!(significant(12.3456, 3), "12.3");
/// assert_eq!(significant(1234.5, 3), "1230");
/// assert_eq!(significant(2.0, 3), "2");
/// assert_eq!(significant(1.25e-6, 3), "1.25e-6");
/// ```
#[must_use]
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    if !value.is_finite() {
        return value.to_string();
    }
    let digits = digits.clamp(1, 17);
    // Printing in powers of ten rounds for us and carries (9.999 → 1.00e1).
    let scientific = format!("{value:.*e}", digits - 1);
    let (mantissa, exponent) = scientific.split_once('e').unwrap_or((&scientific, "0"));
    let exponent: i32 = exponent.parse().unwrap_or(0);
    if !(-4..7).contains(&exponent) {
        return format!("{}e{exponent}", trimmed(mantissa));
    }
    let rounded: f64 = scientific.parse().unwrap_or(value);
    let last = i32::try_from(digits).unwrap_or(17) - 1 - exponent;
    let decimals = usize::try_from(last.max(0)).unwrap_or(0);
    trimmed(&format!("{rounded:.decimals$}")).to_owned()
}

fn trimmed(text: &str) -> &str {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse;
    use Dimension as D;
    use proptest::prelude::*;

    #[test]
    fn results_read_as_people_say_them() {
        let imperial = |si, dimension| format(si, dimension, Show::Imperial);
        let metric = |si, dimension| format(si, dimension, Show::Si);
        assert_eq!(imperial(0.012, D::Length), "0.472 in");
        assert_eq!(imperial(2.44, D::Length), "8 ft 0.1 in");
        assert_eq!(imperial(0.3048 * 1.999, D::Length), "2 ft");
        assert_eq!(imperial(14.0, D::Length), "45 ft 11 in");
        assert_eq!(imperial(-0.9144, D::Length), "-3 ft");
        assert_eq!(imperial(60.0, D::Length), "197 ft");
        assert_eq!(imperial(21.0, D::Mass), "46.3 lb");
        assert_eq!(imperial(79.0, D::Energy), "58.3 ft lbf");
        assert_eq!(imperial(285.15, D::Temperature), "53.6 degF");
        assert_eq!(metric(285.15, D::Temperature), "12 degC");
        assert_eq!(metric(0.012, D::Length), "12 mm");
        assert_eq!(metric(101_325.0, D::Pressure), "101 kPa");
        assert_eq!(metric(0.3, D::Ratio), "30 %");
        assert_eq!(metric(1.0, D::Number), "1");
        assert_eq!(metric(0.850, D::Mass), "850 g");
        assert_eq!(metric(-std::f64::consts::FRAC_PI_6, D::Angle), "-30 deg");
        // Once said: 3.51e-15 deg.
        assert_eq!(metric(6.1e-17, D::Angle), "0 deg");
        assert_eq!(metric(2.5e-5, D::Number), "0.000025");
        assert_eq!(metric(1.234e9, D::Stiffness), "1230000 kN/m");
    }

    #[test]
    fn digits_are_cut_with_a_carry() {
        assert_eq!(significant(9.999, 3), "10");
        assert_eq!(significant(0.000_123_45, 3), "0.000123");
        assert_eq!(significant(-1e9, 2), "-1e9");
        assert_eq!(significant(f64::NAN, 2), "NaN");
    }

    proptest! {
        /// Three significant digits are 0.5 %; feet and inches are finer, but
        /// for a tenth of an inch in a foot (0.42 %).
        #[test]
        fn what_is_written_can_be_read_back(
            mantissa in 1.0..10.0f64, power in -6..9i32, negative: bool,
            which in 0..D::ALL.len(), imperial: bool,
        ) {
            let dimension = D::ALL[which];
            let show = if imperial { Show::Imperial } else { Show::Si };
            let size = mantissa * 10f64.powi(power);
            let kelvin = dimension == D::Temperature;
            let si = if negative && !kelvin { -size } else { size };
            let text = format(si, dimension, show);
            let back = parse(&text, dimension).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
            let finest = FINEST * axis(dimension, show, si).factor;
            // Four digits of a temperature in degrees, to a tenth at best.
            let tolerance = if kelvin { 0.06 + 1e-3 * size } else { 5.1e-3 * size + finest };
            prop_assert!((back - si).abs() <= tolerance, "{si} was written as {text}");
        }
    }
}
