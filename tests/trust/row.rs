//! One line of the page of trust: what a model claims, who says so, and how
//! near the program comes to it.

pub(crate) use longodds_sim::note::Kind;

/// How far ours may lie from the published value.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Tolerance {
    /// A share of the published value.
    Share(f64),
    /// In the row's own unit.
    By(f64),
}

/// A published value beside ours.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    /// Key of the model, one of `MODELS`.
    pub(crate) model: &'static str,
    /// What is claimed, with its inputs.
    pub(crate) claim: String,
    pub(crate) source: &'static str,
    pub(crate) kind: Kind,
    pub(crate) published: f64,
    pub(crate) ours: f64,
    pub(crate) unit: &'static str,
    pub(crate) tolerance: Tolerance,
    /// Where the comparison holds.
    pub(crate) range: &'static str,
}

/// The part that the rows of one comparison share.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Said {
    pub(crate) model: &'static str,
    pub(crate) source: &'static str,
    pub(crate) kind: Kind,
    pub(crate) unit: &'static str,
    pub(crate) tolerance: Tolerance,
    pub(crate) range: &'static str,
}

impl Said {
    /// A row of this comparison.
    pub(crate) fn row(self, claim: impl Into<String>, published: f64, ours: f64) -> Row {
        let Self { model, source, kind, unit, tolerance, range } = self;
        Row { model, claim: claim.into(), source, kind, published, ours, unit, tolerance, range }
    }
}

impl Row {
    /// Does ours lie where it may?
    pub(crate) fn holds(&self) -> bool {
        let off = (self.ours - self.published).abs();
        match self.tolerance {
            Tolerance::Share(share) => off <= share * self.published.abs(),
            Tolerance::By(most) => off <= most,
        }
    }

    /// By how much ours differs, as a share where that has a meaning.
    pub(crate) fn difference(&self) -> String {
        if (self.ours - self.published).abs() <= 1e-6 * self.published.abs() {
            return "none".to_owned();
        }
        match self.tolerance {
            Tolerance::Share(_) => {
                format!("{:+.2} %", 100.0 * (self.ours / self.published - 1.0))
            }
            Tolerance::By(_) => format!("{:+}", digits(self.ours - self.published, 2)),
        }
    }

    pub(crate) fn allowed(&self) -> String {
        match self.tolerance {
            Tolerance::Share(share) => format!("{} %", digits(100.0 * share, 2)),
            Tolerance::By(most) => digits(most, 2).to_string(),
        }
    }
}

/// A number with so many significant digits.
pub(crate) fn digits(x: f64, count: usize) -> f64 {
    format!("{x:.*e}", count.saturating_sub(1)).parse().unwrap_or(x)
}
