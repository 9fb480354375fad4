//! What a number measures.

/// A physical dimension; the SI unit in which the engine holds it stands
/// beside each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// A pure number, without a unit.
    Number,
    /// A share: 0..1 inside, `0.3` or `30 %` as written.
    Ratio,
    /// Length, in m.
    Length,
    /// Area, in m².
    Area,
    /// Volume, in m³.
    Volume,
    /// Mass, in kg.
    Mass,
    /// Mass per volume, in kg/m³.
    Density,
    /// Speed, in m/s.
    Speed,
    /// Acceleration, in m/s².
    Acceleration,
    /// Duration, in s.
    Time,
    /// Events per time, in Hz.
    Frequency,
    /// Plane angle, in rad.
    Angle,
    /// Rate of turn, in rad/s.
    Rotation,
    /// Thermodynamic temperature, in K.
    Temperature,
    /// Difference of temperatures, in K.
    TemperatureDifference,
    /// Pressure, in Pa.
    Pressure,
    /// Force, in N.
    Force,
    /// Energy, in J.
    Energy,
    /// Spring rate, in N/m.
    Stiffness,
}

impl Dimension {
    /// Every dimension.
    pub const ALL: [Self; 19] = [
        Self::Number,
        Self::Ratio,
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Mass,
        Self::Density,
        Self::Speed,
        Self::Acceleration,
        Self::Time,
        Self::Frequency,
        Self::Angle,
        Self::Rotation,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Pressure,
        Self::Force,
        Self::Energy,
        Self::Stiffness,
    ];

    /// The name used in messages and in findings, such as `length`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Number => "number",
            Self::Ratio => "ratio",
            Self::Length => "length",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::Mass => "mass",
            Self::Density => "density",
            Self::Speed => "speed",
            Self::Acceleration => "acceleration",
            Self::Time => "time",
            Self::Frequency => "frequency",
            Self::Angle => "angle",
            Self::Rotation => "rotation",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Pressure => "pressure",
            Self::Force => "force",
            Self::Energy => "energy",
            Self::Stiffness => "stiffness",
        }
    }

    /// The dimension of this [`name`](Self::name).
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|dimension| dimension.name() == name)
    }

    /// The name with its article, for messages: `a length`, `an angle`.
    #[must_use]
    pub fn with_article(self) -> String {
        let name = self.name();
        let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        format!("{article} {name}")
    }

    /// The dimension of a difference of two values (and of a standard
    /// deviation): itself, but for temperatures.
    #[must_use]
    pub fn difference(self) -> Self {
        match self {
            Self::Temperature => Self::TemperatureDifference,
            other => other,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_leads_back_to_its_dimension() {
        for dimension in Dimension::ALL {
            assert_eq!(Dimension::from_name(dimension.name()), Some(dimension));
        }
        assert_eq!(Dimension::from_name("odour"), None);
    }

    #[test]
    fn articles_are_english() {
        assert_eq!(Dimension::Angle.with_article(), "an angle");
        assert_eq!(Dimension::Mass.with_article(), "a mass");
    }
}
