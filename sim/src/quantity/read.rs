//! From text to SI.

use super::{
    Dimension,
    units::{self, Unit},
};
use crate::diagnostic::{Diagnostic, Span};
use std::fmt;

/// Why a text is not a quantity of the wanted dimension.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum QuantityError {
    /// The text does not begin with a number.
    NotANumber,
    /// The number has a comma in it.
    Comma,
    /// The number is too large, or is infinity or not-a-number in disguise.
    NotFinite,
    /// There is a number but no unit.
    MissingUnit,
    /// There is a unit where a pure number is wanted.
    NoUnitHere(String),
    /// The unit is not one of the accepted ones.
    UnknownUnit {
        /// The unit as written.
        unit: String,
        /// What to write instead, if that can be told.
        advice: Option<String>,
    },
    /// The unit is known but measures something else.
    WrongDimension {
        /// What the unit measures.
        found: Dimension,
        /// What to write instead, if that can be told.
        advice: Option<&'static str>,
    },
    /// Several numbers with units that do not go together (`3 m 4 kg`).
    Compound,
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotANumber => f.write_str("expected a number followed by a unit"),
            Self::Comma => f.write_str("a number with a comma in it"),
            Self::NotFinite => f.write_str("the number is not finite"),
            Self::MissingUnit => f.write_str("the unit is missing"),
            Self::NoUnitHere(unit) => write!(f, "`{unit}` does not belong here"),
            Self::UnknownUnit { unit, .. } => write!(f, "`{unit}` is not a known unit"),
            Self::WrongDimension { found, .. } => write!(f, "this is {}", found.with_article()),
            Self::Compound => f.write_str("these do not add up to one quantity"),
        }
    }
}

impl std::error::Error for QuantityError {}

impl QuantityError {
    /// A stable identifier.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotANumber | Self::Comma | Self::NotFinite => "units::number",
            Self::MissingUnit => "units::missing",
            Self::UnknownUnit { .. } => "units::unknown",
            Self::NoUnitHere(_) | Self::WrongDimension { .. } => "units::dimension",
            Self::Compound => "units::compound",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self, wanted: Dimension) -> String {
        match self {
            Self::Comma => {
                "write `1200` for a thousand two hundred, `1.5` for one and a half".into()
            }
            Self::NoUnitHere(_) => "write a plain number, such as `0.3`".into(),
            Self::Compound => "parts must go from large to small, as in `8 ft 6 in`, \
                 `5 lb 3 oz` or `2 min 30 s`"
                .into(),
            Self::UnknownUnit { advice: Some(advice), .. } => advice.clone(),
            Self::WrongDimension { advice: Some(advice), .. } => (*advice).to_owned(),
            _ if wanted == Dimension::Number => "write a plain number, such as `0.3`".into(),
            _ if wanted == Dimension::Ratio => "write a share, such as `0.3` or `30 %`".into(),
            _ => {
                let list: Vec<&str> = units::accepted(wanted).collect();
                format!("accepted units: {}", list.join(", "))
            }
        }
    }
}

/// Reads a quantity and returns its SI value.
///
/// A number is decimal, a fraction or both (`0.5`, `1/2`, `3 1/2`), with `.`
/// and without separators of thousands. Feet and inches, pounds and ounces,
/// hours, minutes and seconds may be added up (`8 ft 6 in`). `Number` and
/// `Ratio` need no unit and may be given in `%`; every other dimension needs
/// one, even for zero.
///
/// # Errors
///
/// Returns an error if the number is missing or not finite, or if the unit is
/// missing, unknown, or of another dimension.
///
/// # Examples
///
/// ```
/// use longodds_sim::quantity::{Dimension, QuantityError, parse};
///
/// assert_eq!(parse("60 mph", Dimension::Speed), Ok(26.8224));
/// assert_eq!(parse("12 degC", Dimension::Temperature), Ok(285.15));
/// assert_eq!(parse("60", Dimension::Speed), Err(QuantityError::MissingUnit));
/// let feet_and_inches = parse("8 ft 6 in", Dimension::Length)?;
/// assert!((feet_and_inches - 2.5908).abs() < 1e-12);
/// # Ok::<(), QuantityError>(())
/// ```
pub fn parse(text: &str, wanted: Dimension) -> Result<f64, QuantityError> {
    let text = plain(text);
    let (sign, mut rest) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(&text).trim_start()),
    };
    let mut sum = 0.0;
    let mut before: Option<&Unit> = None;
    loop {
        let (value, after) = number(rest)?;
        let (symbol, after) = symbol(after);
        if symbol.is_empty() {
            return match (wanted, before) {
                (Dimension::Number | Dimension::Ratio, None) => finite(sign * value),
                _ => Err(QuantityError::MissingUnit),
            };
        }
        let unit = known(&symbol, wanted)?;
        if before.is_some_and(|before| !adds(before, unit)) {
            return Err(QuantityError::Compound);
        }
        // The sign belongs to the whole; a temperature scale has its own zero.
        sum += if unit.zero == 0.0 {
            value * unit.factor
        } else {
            sign * (sign * value + unit.zero) * unit.factor
        };
        rest = after;
        if rest.is_empty() {
            return finite(sign * sum);
        }
        before = Some(unit);
    }
}

/// Reads a quantity that stands at `span` of a larger text.
///
/// # Errors
///
/// Returns what is wrong, pointing at the place, with advice.
pub fn read(text: &str, span: Span, wanted: Dimension) -> Result<f64, Diagnostic> {
    parse(text, wanted).map_err(|error| {
        let message = format!("expected {}, found `{}`", wanted.with_article(), shown(text));
        Diagnostic::error(error.code(), message)
            .at(span, error.to_string())
            .help(error.help(wanted))
    })
}

/// Text fit for a message: one line, not too long.
fn shown(text: &str) -> String {
    let line: String = text.trim().chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    if line.chars().count() <= 40 { line } else { line.chars().take(39).chain(['…']).collect() }
}

/// One way to write what has several: minus signs, blanks, raised digits.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '\u{2212}' | '\u{2013}' => out.push('-'),
            '²' => out.push('2'),
            '³' => out.push('3'),
            '·' | '⋅' => out.push(' '),
            '°' => out.push_str("deg"),
            'µ' | 'μ' => out.push('u'),
            '½' => out.push_str(" 1/2"),
            '¼' => out.push_str(" 1/4"),
            '¾' => out.push_str(" 3/4"),
            c if c.is_whitespace() => out.push(' '),
            c => out.push(c),
        }
    }
    out.trim_start().to_owned()
}

fn finite(value: f64) -> Result<f64, QuantityError> {
    if value.is_finite() { Ok(value) } else { Err(QuantityError::NotFinite) }
}

/// Splits a number off: `12`, `1.5e3`, `1/2` or `3 1/2`.
fn number(text: &str) -> Result<(f64, &str), QuantityError> {
    let (whole, rest) = decimal(text)?;
    if rest.starts_with(',') && rest[1..].starts_with(|c: char| c.is_ascii_digit()) {
        return Err(QuantityError::Comma);
    }
    if let Some((denominator, rest)) = denominator(rest) {
        return Ok((finite(whole / denominator)?, rest));
    }
    // `3 1/2`: a whole number, a blank, a fraction.
    if let Ok((numerator, after)) = decimal(rest.trim_start())
        && rest.starts_with(' ')
        && let Some((denominator, after)) = denominator(after)
    {
        return Ok((finite(whole + numerator / denominator)?, after));
    }
    Ok((finite(whole)?, rest))
}

fn denominator(text: &str) -> Option<(f64, &str)> {
    let (value, rest) = decimal(text.strip_prefix('/')?).ok()?;
    Some((value, rest))
}

/// Splits an unsigned decimal number off.
fn decimal(text: &str) -> Result<(f64, &str), QuantityError> {
    let bytes = text.as_bytes();
    let digits = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let mut end = digits(0);
    let mut seen = end;
    if bytes.get(end) == Some(&b'.') {
        let fraction = digits(end + 1);
        seen += fraction;
        end += 1 + fraction;
    }
    if seen == 0 {
        let word: String = text.chars().filter(|c| c.is_alphanumeric()).take(3).collect();
        let odd = ["nan", "inf"].iter().any(|odd| word.eq_ignore_ascii_case(odd));
        return Err(if odd { QuantityError::NotFinite } else { QuantityError::NotANumber });
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let exponent = if end + 1 + sign <= bytes.len() { digits(end + 1 + sign) } else { 0 };
        if exponent > 0 {
            end += 1 + sign + exponent;
        }
    }
    let value = text[..end].parse().map_err(|_| QuantityError::NotANumber)?;
    Ok((value, &text[end..]))
}

/// Splits a unit off: everything up to a blank before a digit.
fn symbol(text: &str) -> (String, &str) {
    let text = text.trim_start();
    let mut end = text.len();
    for (i, _) in text.match_indices(' ') {
        if text[i..].trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '.') {
            end = i;
            break;
        }
    }
    let words: Vec<&str> = text[..end].split_whitespace().collect();
    (words.join(" ").replace('^', ""), text[end..].trim())
}

/// The unit of this symbol and dimension.
fn known(symbol: &str, wanted: Dimension) -> Result<&'static Unit, QuantityError> {
    match units::find(symbol, wanted) {
        Some(unit) if unit.dimension == wanted => Ok(unit),
        _ if wanted == Dimension::Number || wanted == Dimension::Ratio => {
            Err(QuantityError::NoUnitHere(symbol.to_owned()))
        }
        Some(unit) => Err(QuantityError::WrongDimension {
            found: unit.dimension,
            advice: units::advice(unit.symbol, wanted),
        }),
        None => Err(QuantityError::UnknownUnit {
            unit: symbol.to_owned(),
            advice: units::advice(symbol, wanted).map(str::to_owned).or_else(|| {
                units::near(symbol, wanted).map(|near| format!("did you mean `{near}`?"))
            }),
        }),
    }
}

/// Whether a part in `next` may follow one in `before`.
fn adds(before: &Unit, next: &Unit) -> bool {
    const CHAINS: [&[&str]; 4] =
        [&["mi", "yd", "ft", "in"], &["lb", "oz"], &["h", "min", "s"], &["deg", "arcmin"]];
    CHAINS.iter().any(|chain| {
        let place = |unit: &Unit| chain.iter().position(|symbol| *symbol == unit.symbol);
        matches!((place(before), place(next)), (Some(a), Some(b)) if a < b)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use Dimension as D;
    use proptest::prelude::*;

    fn si(text: &str, dimension: D) -> f64 {
        parse(text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    fn is(text: &str, dimension: D, wanted: f64) {
        let got = si(text, dimension);
        assert!((got - wanted).abs() <= 1e-12 * wanted.abs().max(1.0), "{text}: {got}, {wanted}");
    }

    /// Source: NIST SP 811 (2008), appendix B.8; digits as `SciPy` 1.17 has them in
    /// its constants (exact but for density).
    #[test]
    fn factors_are_those_of_the_standard() {
        is("1 mph", D::Speed, 0.447_04);
        is("1 kn", D::Speed, 1852.0 / 3600.0);
        is("1 lb", D::Mass, 0.453_592_37);
        is("1 oz", D::Mass, 0.028_349_523_125);
        is("1 lbf", D::Force, 4.448_221_615_260_5);
        is("1 ft lbf", D::Energy, 1.355_817_948_331_400_4);
        assert!((si("1 psi", D::Pressure) - 6894.757).abs() < 5e-4);
        assert!((si("1 psf", D::Pressure) - 47.880_26).abs() < 5e-6);
        assert!((si("1 lb/ft3", D::Density) - 16.018_46).abs() < 5e-6);
        assert!((si("1 lbf/in", D::Stiffness) - 175.1268).abs() < 5e-5);
        assert!((si("1 rpm", D::Rotation) - 0.104_719_8).abs() < 5e-8);
        is("1 in2", D::Area, 6.4516e-4);
        is("32 degF", D::Temperature, 273.15);
        is("-40 degF", D::Temperature, si("-40 degC", D::Temperature));
    }

    #[test]
    fn people_write_quantities_in_many_ways() {
        is("8 ft 6 in", D::Length, 2.5908);
        is("8ft 6in", D::Length, 2.5908);
        is("8 feet 6 1/2 inches", D::Length, 2.6035);
        is("1/2 in", D::Length, 0.0127);
        is("3½ in", D::Length, 0.0889);
        is("5 lb 3 oz", D::Mass, 5.1875 * 0.453_592_37);
        is("2 min 30 s", D::Time, 150.0);
        is("\u{2212}30\u{a0}deg", D::Angle, -std::f64::consts::PI / 6.0);
        is("-8 ft 6 in", D::Length, -2.5908);
        is("12 °C", D::Temperature, 285.15);
        is("30 %", D::Ratio, 0.3);
        is("0.3", D::Ratio, 0.3);
        is("1.2e3 Pa", D::Pressure, 1200.0);
        is("9.81 m/s²", D::Acceleration, 9.81);
        is("5 N·m", D::Energy, 5.0);
        is("5 K", D::TemperatureDifference, 5.0);
        is("9 delta degF", D::TemperatureDifference, 5.0);
        is(".5 m", D::Length, 0.5);
    }

    #[test]
    fn what_could_mean_two_things_is_refused_with_advice() {
        let help = |text: &str, wanted| parse(text, wanted).unwrap_err().help(wanted);
        assert!(help("300 fps", D::Speed).contains("`ft/s`"));
        is("300 fps", D::Frequency, 300.0);
        assert!(help("20 lb", D::Force).contains("`lbf`"));
        assert!(help("58 ft lb", D::Energy).contains("`ft lbf`"));
        assert!(help("2 tons", D::Mass).contains("`t`"));
        assert!(help("3 degC", D::TemperatureDifference).contains("`K`"));
        assert!(help("40 MPH", D::Speed).contains("`mph`"));
        assert!(help("40 mhp", D::Speed).contains("`mph`"));
        assert!(help("5'", D::Length).contains("`ft`"));
        assert!(help("1,200 kg", D::Mass).contains("`1200`"));
        assert!(help("60", D::Speed).starts_with("accepted units: m/s, km/h"));
    }

    #[test]
    fn each_kind_of_mistake_has_its_own_error() {
        use QuantityError as E;
        assert_eq!(parse("", D::Length), Err(E::NotANumber));
        assert_eq!(parse("fast", D::Speed), Err(E::NotANumber));
        assert_eq!(parse("1e400 m", D::Length), Err(E::NotFinite));
        assert_eq!(parse(".nan", D::Length), Err(E::NotFinite));
        assert_eq!(parse("-.inf m", D::Length), Err(E::NotFinite));
        assert_eq!(parse("1/0 in", D::Length), Err(E::NotFinite));
        assert_eq!(parse("0", D::Length), Err(E::MissingUnit));
        assert_eq!(parse("3 m 4", D::Length), Err(E::MissingUnit));
        assert_eq!(parse("6 in 8 ft", D::Length), Err(E::Compound));
        assert_eq!(parse("3 m 4 cm", D::Length), Err(E::Compound));
        assert_eq!(parse("3 m", D::Number), Err(E::NoUnitHere("m".into())));
        assert_eq!(
            parse("3 kg", D::Length),
            Err(E::WrongDimension { found: D::Mass, advice: None })
        );
    }

    #[test]
    fn a_located_error_points_and_advises() {
        let problem = read("60 kg", 10..15, D::Speed).unwrap_err();
        assert_eq!(problem.message, "expected a speed, found `60 kg`");
        assert_eq!(problem.label, Some((10..15, "this is a mass".into())));
    }

    proptest! {
        #[test]
        fn no_text_panics(text in "\\PC{0,24}", which in 0..D::ALL.len()) {
            if let Err(error) = parse(&text, D::ALL[which]) {
                prop_assert!(!error.help(D::ALL[which]).is_empty());
            }
        }

        #[test]
        fn no_near_quantity_panics(text in "[-+0-9./, eE½]{0,8} ?[a-zA-Z°²/%' ]{0,6}", which in 0..D::ALL.len()) {
            if let Ok(value) = parse(&text, D::ALL[which]) {
                prop_assert!(value.is_finite());
            }
        }
    }
}
