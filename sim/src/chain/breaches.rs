//! Validity ranges that a draw can leave.

use crate::{aero::Doubt, scenario::Gate};

/// A validity range, or a limit of the run, that a draw left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Breach {
    /// Faster than Mach 0.6 through the air.
    Mach,
    /// Reynolds number outside the coefficients' range.
    Reynolds,
    /// Proportions outside those of the shape family.
    Proportions,
    /// Still in the air at the deadline.
    Deadline,
    /// The integrator gave up.
    Failed,
    /// The blow came more than 10 deg from square on.
    Oblique,
    /// The contact was much smaller or larger than the one that the barrier's
    /// figure was measured with.
    Contact,
    /// The blow left the range of the barrier's formula.
    Formula,
    /// What arrived is not of the kind that the harm criterion was made for.
    Harm,
    /// Lighter than 50 times the air it displaces: added mass matters.
    Light,
    /// Touched so many things that it was called at an end.
    CutOff,
    /// A blow so rough and so far off centre that restitution or friction had
    /// to be lowered.
    Tamed,
    /// A ball's spin outside what its lift was measured at.
    Spin,
    /// Started, or was thrown, above the 200 m that the standard's wind is for.
    High,
    /// The blow was harder than any shot that the barrier was fitted to.
    Shots,
    /// The load tipped over before it slid.
    Tips,
    /// A flow from a direction that the table of coefficients has not.
    Direction,
    /// Started nearer to its carrier than any law of wakes holds.
    Wake,
    /// A sheet so light that real ones flutter.
    Flutter,
    /// Something called smooth in the range of the drag crisis.
    Smooth,
    /// Air colder, warmer or thinner than its formulae were compared for.
    Air,
    /// A contact gave energy where it can only take it: a fault of the program.
    Gains,
    /// The blow came more than 60 deg from square on.
    Glances,
    /// What struck was harder than what the barrier was tested with.
    Harder,
    /// Turned so fast for its fall that it took more steps than a flight is given.
    Spent,
}

impl Breach {
    /// Every breach, in the order of the bits.
    pub const ALL: [Self; 25] = [
        Self::Mach,
        Self::Reynolds,
        Self::Proportions,
        Self::Deadline,
        Self::Failed,
        Self::Oblique,
        Self::Contact,
        Self::Formula,
        Self::Harm,
        Self::Light,
        Self::CutOff,
        Self::Tamed,
        Self::Spin,
        Self::High,
        Self::Shots,
        Self::Tips,
        Self::Direction,
        Self::Wake,
        Self::Flutter,
        Self::Smooth,
        Self::Air,
        Self::Gains,
        Self::Glances,
        Self::Harder,
        Self::Spent,
    ];

    /// What it means for the answer, as the end of "3 % of flights ..."; of what
    /// it is a share, [`Breach::among`] tells.
    #[must_use]
    pub fn sentence(self) -> &'static str {
        match self {
            Self::Mach => {
                "were faster than Mach 0.6: the drag model leaves out compressibility there"
            }
            Self::Reynolds => "left the range of Reynolds numbers that the coefficients are for",
            Self::Proportions => {
                "had an object whose proportions are not those of its shape family"
            }
            Self::Deadline => {
                "were still in the air or rolling when the clock ran out: whether they would have held is left open, in the interval"
            }
            Self::Spent => {
                "turned so fast for so long a fall that they took more steps than a flight is given: \
                 whether they would have held is left open, in the interval"
            }
            Self::Failed => {
                "could not be integrated to their end: whether they would have held is left open, in the interval"
            }
            Self::Oblique => {
                "struck more than 10 deg from square on, where the barrier's strength is a guess"
            }
            Self::Glances => {
                "struck more than 60 deg from square on, where things glance off: that is left out"
            }
            Self::Harder => {
                "struck with something harder, or stiffer in its contact, than what the barrier was \
                 tested with: its figure does not carry over, not even as a bound (say what the object \
                 is made of by `made_of`)"
            }
            Self::Contact => {
                "struck with a contact less than half or more than twice as wide as the one the \
                 barrier's figure holds for: a point goes through sooner, a flat side later"
            }
            Self::Formula => {
                "struck in a way that the barrier's formula was not fitted to (speed, size, \
                 thickness or span): an extrapolation"
            }
            Self::Harm => "arrived with a size or speed that the harm criterion was not made for",
            Self::Light => {
                "had an object so light for its size that the air it drags along counts (added mass): it is reckoned with as a mean over directions, rough for a sheet"
            }
            Self::CutOff => "touched things 200 times and were called at an end where they were",
            Self::Spin => {
                "spun where what spin does to the air's forces was not measured (speed or spin of a \
                 ball, a disc that glides): how far it curves is a guess"
            }
            Self::Direction => {
                "met the air from a direction that the table of coefficients does not have: the \
                 values of its edge were taken"
            }
            Self::Flutter => {
                "had a sheet so light that real ones flutter to and fro as they fall: this one \
                 tumbles, and drifts as one that does"
            }
            Self::Tamed => {
                "took a blow so rough and far off centre that its restitution or friction was lowered, so that it would not gain energy"
            }
            Self::High => {
                "started above 200 m, or were thrown that fast upwards: higher than the standard's \
                 wind profiles and gusts are meant for"
            }
            Self::Smooth => {
                "had a surface called smooth at speeds of the drag crisis (Reynolds numbers above \
                 1e5): dust, scratches or a turbulent wind may double its drag there"
            }
            Self::Air => {
                "flew in air colder than -35 degC, warmer than 50 degC or at a pressure outside 500 to \
                 1100 hPa: its density was not compared there"
            }
            Self::Tips => {
                "had a load so tall for its base that it tipped over before it slid: its edge is taken to \
                 hold, and what ties it down to pull at half its height"
            }
            Self::Gains => {
                "WERE GIVEN ENERGY BY WHAT THEY TOUCHED, which can only take it: a fault of the \
                 program. Do not use this answer"
            }
            Self::Wake => {
                "started nearer to their carrier than any law of wakes holds (ten of its heights): \
                 the air there is an interpolation, whose doubt `strength` and `dead_air` carry"
            }
            Self::Shots => {
                "struck harder than any of the shots that the barrier was fitted to: an extrapolation"
            }
        }
    }
}

/// What a breach is a share of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Among {
    /// All flights.
    Flights,
    /// Those that came loose.
    Loose,
    /// Those that touched something and went on.
    Touching,
    /// Blows that were weighed against the barrier in this respect.
    Blows,
    /// What was held against the harm criterion.
    Arrivals,
}

impl Among {
    /// As the middle of "3 % of ... struck".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Flights => "flights",
            Self::Loose => "the flights that came loose",
            Self::Touching => "the flights that touched something",
            Self::Blows => "the blows on the barrier",
            Self::Arrivals => "what was held against the harm criterion",
        }
    }
}

impl Breach {
    /// What it is a share of: those whom it can befall.
    #[must_use]
    pub fn among(self) -> Among {
        match self {
            Self::Light | Self::High | Self::Wake | Self::Tips | Self::Air => Among::Flights,
            Self::Oblique
            | Self::Contact
            | Self::Formula
            | Self::Shots
            | Self::Glances
            | Self::Harder => Among::Blows,
            Self::Harm => Among::Arrivals,
            Self::CutOff | Self::Tamed | Self::Gains => Among::Touching,
            Self::Mach
            | Self::Reynolds
            | Self::Proportions
            | Self::Deadline
            | Self::Failed
            | Self::Spent
            | Self::Spin
            | Self::Direction
            | Self::Flutter
            | Self::Smooth => Among::Loose,
        }
    }

    /// The gate whose answer it puts in doubt, if it is a single one: the chance
    /// of coming as far as that gate is a bound that holds.
    #[must_use]
    pub fn gate(self) -> Option<Gate> {
        match self.among() {
            Among::Blows => Some(Gate::Perforates),
            Among::Arrivals => Some(Gate::Harms),
            Among::Flights | Among::Loose | Among::Touching => None,
        }
    }

    /// What has to be said before the number where it befalls most of them.
    #[must_use]
    pub fn first(self) -> &'static str {
        match self {
            Self::Mach => "most of it flies faster than the drag model holds for",
            Self::Reynolds => "most of it flies outside the Reynolds numbers of its coefficients",
            Self::Proportions => "its proportions are not those of its shape family",
            Self::Deadline => "most of it was cut off by the clock",
            Self::Spent => "most of it turns too fast for its fall to be followed to its end",
            Self::Failed => "most of it could not be integrated to its end",
            Self::Oblique => "the barrier's strength is a guess for blows so far from square on",
            Self::Contact => {
                "the barrier's figure was measured with another contact than these blows have"
            }
            Self::Formula => "the published formula does not reach these blows",
            Self::Harm => "the harm criterion was not made for what arrives",
            Self::Light => "it is so light that the air it drags along counts, and that is rough",
            Self::CutOff => "most of it was called at an end after 200 touches",
            Self::Spin => "the lift of such a spin was not measured",
            Self::Direction => "the table of coefficients does not have these directions",
            Self::Flutter => "real sheets so light flutter, where this one tumbles",
            Self::Tamed => "restitution or friction had to be lowered for most of it",
            Self::High => "it starts higher than the standard's wind is meant for",
            Self::Smooth => "at these speeds its drag hangs on how smooth it is",
            Self::Air => "the density of such air was not compared with anything",
            Self::Tips => {
                "most of it tips over before it slides, and how it tips is an approximation"
            }
            Self::Wake => "it starts nearer to its carrier than any law of wakes holds",
            Self::Shots => "these blows are harder than any shot that the barrier was fitted to",
            Self::Gains => {
                "contacts gave energy where they can only take it: a fault of the program"
            }
            Self::Glances => "so far from square on things glance off, which is left out",
            Self::Harder => {
                "what strikes is harder than what the barrier was tested with, and its figure does not \
                 carry over"
            }
        }
    }
}

/// A set of [`Breach`]es.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Breaches(u32);

impl Breaches {
    /// Adds one.
    pub fn add(&mut self, breach: Breach) {
        self.0 |= 1 << breach as u32;
    }

    /// Whether it holds one.
    #[must_use]
    pub fn has(self, breach: Breach) -> bool {
        self.0 & (1 << breach as u32) != 0
    }
}

impl From<Doubt> for Breach {
    fn from(doubt: Doubt) -> Self {
        match doubt {
            Doubt::Mach => Self::Mach,
            Doubt::Reynolds => Self::Reynolds,
            Doubt::Proportions => Self::Proportions,
            Doubt::Spin => Self::Spin,
            Doubt::Direction => Self::Direction,
            Doubt::Flutter => Self::Flutter,
            Doubt::Smooth => Self::Smooth,
        }
    }
}
