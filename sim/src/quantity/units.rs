//! The table of accepted units, with exact factors.

use super::Dimension;
use std::f64::consts::PI;

/// One accepted unit: `si = (value + zero) * factor`.
pub(super) struct Unit {
    /// What people write.
    pub(super) symbol: &'static str,
    /// What it measures.
    pub(super) dimension: Dimension,
    /// SI value of one unit.
    pub(super) factor: f64,
    /// Added before the factor; not zero for temperature scales only.
    pub(super) zero: f64,
}

const fn unit(symbol: &'static str, dimension: Dimension, factor: f64) -> Unit {
    Unit { symbol, dimension, factor, zero: 0.0 }
}

/// One avoirdupois pound in kg (exact).
const LB: f64 = 0.453_592_37;
/// One inch in m (exact).
const IN: f64 = 0.0254;
/// One foot in m (exact).
const FT: f64 = 0.3048;
/// Standard acceleration of free fall in m/s² (exact).
const G: f64 = 9.806_65;
/// One pound-force in N (exact).
const LBF: f64 = LB * G;

/// Every accepted unit, grouped by dimension, SI first.
///
/// Source: NIST SP 811 (2008), appendix B.8; factors printed there in bold are
/// exact, and the compound ones are built here from exact parts. The
/// conventional inch of mercury and of water and the millimetre of mercury are
/// the rounded values of the same table.
pub(super) const UNITS: &[Unit] = &[
    unit("%", Dimension::Number, 0.01),
    unit("%", Dimension::Ratio, 0.01),
    unit("m", Dimension::Length, 1.0),
    unit("cm", Dimension::Length, 1e-2),
    unit("mm", Dimension::Length, 1e-3),
    unit("km", Dimension::Length, 1e3),
    unit("um", Dimension::Length, 1e-6),
    unit("ft", Dimension::Length, FT),
    unit("in", Dimension::Length, IN),
    unit("yd", Dimension::Length, 0.9144),
    unit("mi", Dimension::Length, 1609.344),
    unit("nmi", Dimension::Length, 1852.0),
    unit("m2", Dimension::Area, 1.0),
    unit("cm2", Dimension::Area, 1e-4),
    unit("mm2", Dimension::Area, 1e-6),
    unit("ft2", Dimension::Area, FT * FT),
    unit("in2", Dimension::Area, IN * IN),
    unit("m3", Dimension::Volume, 1.0),
    unit("L", Dimension::Volume, 1e-3),
    unit("mL", Dimension::Volume, 1e-6),
    unit("cm3", Dimension::Volume, 1e-6),
    unit("ft3", Dimension::Volume, FT * FT * FT),
    unit("in3", Dimension::Volume, IN * IN * IN),
    unit("kg", Dimension::Mass, 1.0),
    unit("g", Dimension::Mass, 1e-3),
    unit("mg", Dimension::Mass, 1e-6),
    unit("t", Dimension::Mass, 1e3),
    unit("lb", Dimension::Mass, LB),
    unit("oz", Dimension::Mass, LB / 16.0),
    unit("kg/m3", Dimension::Density, 1.0),
    unit("g/cm3", Dimension::Density, 1e3),
    unit("lb/ft3", Dimension::Density, LB / (FT * FT * FT)),
    unit("lb/in3", Dimension::Density, LB / (IN * IN * IN)),
    unit("m/s", Dimension::Speed, 1.0),
    unit("km/h", Dimension::Speed, 1.0 / 3.6),
    unit("mm/s", Dimension::Speed, 1e-3),
    unit("mph", Dimension::Speed, 0.447_04),
    unit("ft/s", Dimension::Speed, FT),
    unit("in/s", Dimension::Speed, IN),
    unit("kn", Dimension::Speed, 1852.0 / 3600.0),
    unit("m/s2", Dimension::Acceleration, 1.0),
    unit("ft/s2", Dimension::Acceleration, FT),
    unit("gn", Dimension::Acceleration, G),
    unit("s", Dimension::Time, 1.0),
    unit("ms", Dimension::Time, 1e-3),
    unit("us", Dimension::Time, 1e-6),
    unit("min", Dimension::Time, 60.0),
    unit("h", Dimension::Time, 3600.0),
    unit("Hz", Dimension::Frequency, 1.0),
    unit("kHz", Dimension::Frequency, 1e3),
    unit("1/s", Dimension::Frequency, 1.0),
    unit("frames/s", Dimension::Frequency, 1.0),
    unit("rad", Dimension::Angle, 1.0),
    unit("mrad", Dimension::Angle, 1e-3),
    unit("deg", Dimension::Angle, PI / 180.0),
    unit("arcmin", Dimension::Angle, PI / 10_800.0),
    unit("rev", Dimension::Angle, 2.0 * PI),
    unit("rad/s", Dimension::Rotation, 1.0),
    unit("deg/s", Dimension::Rotation, PI / 180.0),
    unit("rpm", Dimension::Rotation, PI / 30.0),
    unit("rev/s", Dimension::Rotation, 2.0 * PI),
    unit("K", Dimension::Temperature, 1.0),
    Unit { symbol: "degC", dimension: Dimension::Temperature, factor: 1.0, zero: 273.15 },
    Unit { symbol: "degF", dimension: Dimension::Temperature, factor: 5.0 / 9.0, zero: 459.67 },
    unit("K", Dimension::TemperatureDifference, 1.0),
    unit("delta degC", Dimension::TemperatureDifference, 1.0),
    unit("delta degF", Dimension::TemperatureDifference, 5.0 / 9.0),
    unit("Pa", Dimension::Pressure, 1.0),
    unit("hPa", Dimension::Pressure, 100.0),
    unit("kPa", Dimension::Pressure, 1e3),
    unit("MPa", Dimension::Pressure, 1e6),
    unit("GPa", Dimension::Pressure, 1e9),
    unit("bar", Dimension::Pressure, 1e5),
    unit("mbar", Dimension::Pressure, 100.0),
    unit("atm", Dimension::Pressure, 101_325.0),
    unit("psi", Dimension::Pressure, LBF / (IN * IN)),
    unit("psf", Dimension::Pressure, LBF / (FT * FT)),
    unit("inHg", Dimension::Pressure, 3386.389),
    unit("mmHg", Dimension::Pressure, 133.3224),
    unit("inH2O", Dimension::Pressure, 249.0889),
    unit("N", Dimension::Force, 1.0),
    unit("kN", Dimension::Force, 1e3),
    unit("lbf", Dimension::Force, LBF),
    unit("kgf", Dimension::Force, G),
    unit("kip", Dimension::Force, 1e3 * LBF),
    unit("J", Dimension::Energy, 1.0),
    unit("mJ", Dimension::Energy, 1e-3),
    unit("kJ", Dimension::Energy, 1e3),
    unit("MJ", Dimension::Energy, 1e6),
    unit("N m", Dimension::Energy, 1.0),
    unit("ft lbf", Dimension::Energy, FT * LBF),
    unit("in lbf", Dimension::Energy, IN * LBF),
    unit("N/m", Dimension::Stiffness, 1.0),
    unit("N/mm", Dimension::Stiffness, 1e3),
    unit("kN/m", Dimension::Stiffness, 1e3),
    unit("lbf/in", Dimension::Stiffness, LBF / IN),
    unit("lbf/ft", Dimension::Stiffness, LBF / FT),
];

/// Other ways to write the same unit.
const ALIASES: &[(&str, &str)] = &[
    ("metre", "m"),
    ("metres", "m"),
    ("meter", "m"),
    ("meters", "m"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("inch", "in"),
    ("inches", "in"),
    ("yard", "yd"),
    ("yards", "yd"),
    ("mile", "mi"),
    ("miles", "mi"),
    ("lbs", "lb"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("ounce", "oz"),
    ("ounces", "oz"),
    ("tonne", "t"),
    ("tonnes", "t"),
    ("kph", "km/h"),
    ("kmh", "km/h"),
    ("mi/h", "mph"),
    ("knot", "kn"),
    ("knots", "kn"),
    ("kt", "kn"),
    ("sec", "s"),
    ("second", "s"),
    ("seconds", "s"),
    ("minute", "min"),
    ("minutes", "min"),
    ("hour", "h"),
    ("hours", "h"),
    ("hr", "h"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("moa", "arcmin"),
    ("rev/min", "rpm"),
    ("percent", "%"),
    ("ft-lbf", "ft lbf"),
    ("in-lbf", "in lbf"),
    ("Nm", "N m"),
    ("lbf/ft2", "psf"),
    ("lbf/in2", "psi"),
    ("l", "L"),
    ("ml", "mL"),
    ("feet/s", "ft/s"),
];

/// The unit of this symbol: of the wanted dimension if there is one, or else
/// of any. `fps` means frames where a frame rate is wanted, and is no speed.
pub(super) fn find(symbol: &str, wanted: Dimension) -> Option<&'static Unit> {
    let symbol =
        if symbol == "fps" && wanted == Dimension::Frequency { "frames/s" } else { symbol };
    let symbol =
        ALIASES.iter().find(|(alias, _)| *alias == symbol).map_or(symbol, |(_, proper)| proper);
    let named = || UNITS.iter().filter(move |unit| unit.symbol == symbol);
    named().find(|unit| unit.dimension == wanted).or_else(|| named().next())
}

/// The accepted symbol that was probably meant: it differs from `symbol` in
/// upper and lower case only, or by one slip of the fingers if it is of the
/// wanted dimension and not too short.
pub(super) fn near(symbol: &str, wanted: Dimension) -> Option<&'static str> {
    let all =
        || UNITS.iter().map(|unit| unit.symbol).chain(ALIASES.iter().map(|(alias, _)| *alias));
    let slip = |known: &&str| known.len() > 2 && strsim::osa_distance(known, symbol) == 1;
    all().find(|known| known.eq_ignore_ascii_case(symbol)).or_else(|| accepted(wanted).find(slip))
}

/// The symbols accepted for a dimension, SI first, for help texts.
pub fn accepted(dimension: Dimension) -> impl Iterator<Item = &'static str> {
    UNITS.iter().filter(move |unit| unit.dimension == dimension).map(|unit| unit.symbol)
}

/// What to write instead of a unit that is understood in more than one way, or
/// is no unit at all; `None` if there is nothing special to say.
pub(super) fn advice(symbol: &str, wanted: Dimension) -> Option<&'static str> {
    let text = match (symbol, wanted) {
        ("fps", _) => "write `ft/s` for feet per second (`fps` also means frames per second)",
        ("lb", Dimension::Force) => "a pound is a mass: write `lbf` for the force",
        ("kg", Dimension::Force) => "a kilogram is a mass: write `N`, or `kgf` for its weight",
        ("lbf", Dimension::Mass) => "pound-force is a force: write `lb` for the mass",
        ("lb/in" | "lb/ft", Dimension::Stiffness) => "write `lbf/in` or `lbf/ft`",
        ("ton" | "tons", _) => {
            "a ton is 2000 lb, 2240 lb or 1000 kg, depending on where you are: write `t` for \
             1000 kg, or kg or lb"
        }
        ("ft lb" | "ft-lb" | "ft-lbs" | "ftlb" | "ft lbs" | "foot-pounds" | "foot pounds", _) => {
            "write `ft lbf`"
        }
        ("degC" | "degF", Dimension::TemperatureDifference) => {
            "a spread of temperatures is a difference: write `K`, `delta degC` or `delta degF`"
        }
        ("C", Dimension::Temperature) => "write `degC`",
        ("F", Dimension::Temperature) => "write `degF`",
        ("'", _) => "write `ft`",
        ("\"" | "''", _) => "write `in`",
        ("mil" | "mils", _) => "`mil` is a length to some and an angle to others: write mm or mrad",
        ("gal" | "gallon" | "gallons", _) => "gallons differ: write `L`",
        ("g", Dimension::Acceleration) => "write `gn` for standard gravity (`g` is a gram)",
        _ => return None,
    };
    Some(text)
}
