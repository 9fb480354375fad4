//! Worlds, and what can be asked of them.

/// One choice of everything that is not known.
#[derive(Clone, Debug, PartialEq)]
pub struct World {
    /// Its share of what is thought possible.
    pub weight: f64,
    /// The chance of the claim in it.
    pub chance: f64,
    /// Where each unknown lies in its distribution, 0..1.
    pub at: Vec<f64>,
}

/// How worlds were found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// The same blows judged in every world.
    Reused,
    /// A smooth function of the unknowns through the groups' counts.
    Fitted,
    /// The groups' own shares, freed of the noise of counting: no smooth
    /// function of the unknowns fits them.
    Shares,
}

/// Chances of a claim over what is not known.
#[derive(Clone, Debug, PartialEq)]
pub struct Worlds {
    /// The worlds; their weights add up to 1.
    pub list: Vec<World>,
    /// How they were found.
    pub shape: Shape,
    /// Flights behind the part that fewest stand behind.
    pub flights: u64,
    /// Their chances over again, as chance would have it with as many flights.
    pub(super) again: Vec<Vec<f64>>,
}

/// On which side of an unknown the claim always holds, and on which never.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sides {
    /// Does it hold at the high end?
    pub rising: bool,
    /// The last world (0..1 in the unknown's distribution) of those that are
    /// low.
    pub below: f64,
    /// The first of those that are high.
    pub above: f64,
}

/// Parts in which the range of an unknown is looked at.
const PARTS: usize = 16;

impl Worlds {
    /// The mean chance.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.list.iter().map(|world| world.weight * world.chance).sum()
    }

    /// Share of the variance of the chance, 0..1, that goes with one unknown
    /// alone: that of the means over its parts, or over its few values.
    #[must_use]
    pub(crate) fn part_of(&self, unknown: usize, few_values: bool) -> f64 {
        let mean = self.mean();
        let whole: f64 =
            self.list.iter().map(|w| w.weight * (w.chance - mean) * (w.chance - mean)).sum();
        let mut order: Vec<&World> = self.list.iter().collect();
        order.sort_by(|a, b| a.at[unknown].total_cmp(&b.at[unknown]));
        let mut parts: Vec<(f64, f64)> = Vec::new();
        let (mut before, mut last) = (0.0, None);
        for world in order {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0..PARTS")]
            let part = if few_values {
                world.at[unknown].to_bits()
            } else {
                ((before * PARTS as f64) as u64).min(PARTS as u64 - 1)
            };
            if last != Some(part) {
                parts.push((0.0, 0.0));
                last = Some(part);
            }
            if let Some(sums) = parts.last_mut() {
                sums.0 += world.weight;
                sums.1 += world.weight * world.chance;
            }
            before += world.weight;
        }
        let between: f64 = parts
            .iter()
            .filter(|part| part.0 > 0.0)
            .map(|(weight, sum)| weight * (sum / weight - mean) * (sum / weight - mean))
            .sum();
        if whole > 0.0 { (between / whole).clamp(0.0, 1.0) } else { 0.0 }
    }

    /// The sides of one unknown, if it alone tells the worlds in which the
    /// claim holds always (a chance above `always`) from those in which it
    /// holds never (below `never`).
    #[must_use]
    pub fn sides(&self, unknown: usize, [never, always]: [f64; 2]) -> Option<Sides> {
        let ends = |of: &dyn Fn(&World) -> bool| {
            let at = self.list.iter().filter(|w| w.weight > 0.0 && of(w)).map(|w| w.at[unknown]);
            at.fold(None, |ends: Option<(f64, f64)>, x| {
                Some(ends.map_or((x, x), |(low, high)| (low.min(x), high.max(x))))
            })
        };
        let (holds, fails) =
            (ends(&|world| world.chance > always)?, ends(&|world| world.chance < never)?);
        if fails.1 < holds.0 {
            Some(Sides { rising: true, below: fails.1, above: holds.0 })
        } else if holds.1 < fails.0 {
            Some(Sides { rising: false, below: holds.1, above: fails.0 })
        } else {
            None
        }
    }
}
