//! What a number may be.

use crate::quantity::{Dimension, Show, format};

/// What a number measures, and its bounds in SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct What {
    /// What it measures.
    pub dimension: Dimension,
    low: f64,
    high: f64,
    /// Is `low` itself outside?
    open: bool,
}

impl What {
    /// Any value this side of the absurd.
    pub(crate) fn any(dimension: Dimension) -> Self {
        let limit = limit(dimension);
        let low = match dimension {
            Dimension::Temperature => 150.0,
            Dimension::Ratio => 0.0,
            _ => -limit,
        };
        Self { dimension, low, high: limit, open: false }
    }

    /// Greater than zero.
    pub(crate) fn positive(dimension: Dimension) -> Self {
        Self { low: 0.0, open: true, ..Self::any(dimension) }
    }

    /// Zero or greater.
    pub(crate) fn not_negative(dimension: Dimension) -> Self {
        Self { low: 0.0, ..Self::any(dimension) }
    }

    /// Between two SI values, both included.
    pub(crate) fn within(self, low: f64, high: f64) -> Self {
        Self { low, high, open: false, ..self }
    }

    /// The same for a spread about it: a difference, greater than zero.
    pub(crate) fn spread(self) -> Self {
        Self::positive(self.dimension.difference())
    }

    /// Least and greatest value that is taken.
    #[must_use]
    pub fn bounds(&self) -> (f64, f64) {
        (if self.open { f64::MIN_POSITIVE } else { self.low }, self.high)
    }

    /// The bounds in words, as far as they are not common sense.
    pub(crate) fn limits(&self) -> String {
        let most = limit(self.dimension);
        let shown = |value| format(value, self.dimension, Show::Si);
        let share = self.dimension == Dimension::Ratio && self.low <= 0.0;
        match (self.low, self.high) {
            (low, high) if low <= -most && high >= most => String::new(),
            (_, high) if share && high >= most && !self.open => String::new(),
            (low, high) if high < most || low > 0.0 || self.dimension == Dimension::Temperature => {
                format!("{} to {}", shown(low), shown(high))
            }
            _ if self.open => "above 0".to_owned(),
            _ => "0 or more".to_owned(),
        }
    }

    /// Why a value will not do.
    #[must_use]
    pub(crate) fn objection(&self, value: f64) -> Option<String> {
        let limit = limit(self.dimension);
        let shown = |value| format(value, self.dimension, Show::Si);
        let inside = value >= self.low && value <= self.high && !(self.open && value <= self.low);
        if inside {
            None
        } else if self.dimension == Dimension::Ratio || self.dimension == Dimension::Temperature {
            Some(format!("must lie between {} and {}", shown(self.low), shown(self.high)))
        } else if value.abs() > limit {
            Some(format!("beyond anything that can be flown here (at most {})", shown(limit)))
        } else if self.high < limit {
            Some(format!("must lie between {} and {}", shown(self.low), shown(self.high)))
        } else if self.open {
            Some("must be greater than zero".to_owned())
        } else if self.low.abs() > 0.0 {
            Some(format!("must be at least {}", shown(self.low)))
        } else {
            Some("must not be negative".to_owned())
        }
    }

    /// A value to show how it is written.
    #[must_use]
    pub fn example(&self) -> &'static str {
        match self.dimension {
            Dimension::Number => "1.2",
            Dimension::Ratio => "30 %",
            Dimension::Length => "2.5 m",
            Dimension::Area => "0.5 m2",
            Dimension::Volume => "2 L",
            Dimension::Mass => "4 kg",
            Dimension::Density => "600 kg/m3",
            Dimension::Speed => "40 mph",
            Dimension::Acceleration => "9.81 m/s2",
            Dimension::Time => "2 s",
            Dimension::Frequency => "1000 Hz",
            Dimension::Angle => "30 deg",
            Dimension::Rotation => "60 rpm",
            Dimension::Temperature => "12 degC",
            Dimension::TemperatureDifference => "5 K",
            Dimension::Pressure => "101 kPa",
            Dimension::Force => "500 N",
            Dimension::Energy => "80 J",
            Dimension::Stiffness => "200 N/m",
        }
    }
}

/// The size beyond which a number can only be a slip, in SI. Common sense of
/// the trade, no source: things thrown, dropped or blown near the ground.
fn limit(dimension: Dimension) -> f64 {
    match dimension {
        Dimension::Ratio => 1.0,
        Dimension::Angle => 1e3,
        Dimension::Temperature | Dimension::TemperatureDifference => 400.0,
        Dimension::Pressure => 1.2e5,
        Dimension::Speed => 1e4,
        Dimension::Length | Dimension::Mass | Dimension::Number | Dimension::Rotation => 1e6,
        Dimension::Area
        | Dimension::Volume
        | Dimension::Density
        | Dimension::Acceleration
        | Dimension::Time
        | Dimension::Frequency
        | Dimension::Force
        | Dimension::Energy
        | Dimension::Stiffness => 1e9,
    }
}
