//! What a formula says of one blow.

/// What a formula says of one blow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Said {
    /// Energy along the normal that just goes through, in J.
    pub energy: f64,
    /// Is the blow of the kind that the formula was fitted to?
    pub in_range: bool,
    /// Least pressure that can punch through, bearing with all that is seen from
    /// the barrier, in Pa: what crushes at less goes through at no speed.
    pub punch: f64,
    /// What takes less than this along the normal leaves a mark, in J; 0 where no
    /// such bound is known.
    pub mark: f64,
}

impl Said {
    /// Nothing but an energy, of a blow that the formula was fitted to or not.
    pub(super) fn new(energy: f64, in_range: bool) -> Self {
        Self { energy, in_range, punch: 0.0, mark: 0.0 }
    }

    /// The same, in range only if it was and `also`.
    pub(super) fn only_if(self, also: bool) -> Self {
        Self { in_range: self.in_range && also, ..self }
    }
}
