//! Numbers as the page and the pictures have them: `words` of the engine, in
//! type.

use longodds_sim::{
    findings::{Chance, Share},
    quantity::{Dimension, Show},
    scenario::{Demand, Gate},
    words::{Interval, Spoken, Voice, count_of, interval},
};

pub use longodds_sim::words::{capital, count};

/// "1 flight", "2 flights".
#[must_use]
pub fn flights(n: u64) -> String {
    count_of(n, "flight")
}

/// A probability: `41 %`, `1 in 320`.
#[must_use]
pub fn share(p: f64) -> String {
    Spoken::near(p).set()
}

/// The interval of a chance: "21 to 44 %", "at most 1 in 2,700".
#[must_use]
pub fn known(chance: &Chance) -> String {
    chance.interval().set()
}

/// A chance counted over independent draws.
#[must_use]
pub(crate) fn counted_share(of: &Share) -> String {
    inside([of.probability, of.low, of.high]).set()
}

/// An estimate and the ends of its interval: to digits that lie inside.
#[must_use]
pub fn inside([p, low, high]: [f64; 3]) -> Spoken {
    Spoken::inside(p, low, high)
}

/// From one probability to another, rounded outwards.
#[must_use]
pub fn between([low, high]: [f64; 2]) -> String {
    interval(low, high).set()
}

/// The best estimate of a chance; an upper bound says so.
#[must_use]
pub fn estimate(chance: &Chance) -> String {
    chance.bound().map_or_else(|| number(chance), Interval::set)
}

/// The best estimate of a chance by itself.
#[must_use]
pub fn number(chance: &Chance) -> String {
    chance.spoken().set()
}

/// How many flights held, and of how many, where that is the chance itself:
/// a run that steers its flights towards the claim counts them otherwise.
#[must_use]
pub fn counted(chance: &Chance) -> Option<(u64, u64)> {
    #[expect(clippy::cast_precision_loss, reason = "compared to one part in a hundred")]
    let plain = chance.held as f64 / chance.flights.max(1) as f64;
    let same = (plain - chance.probability).abs() <= 0.01 * plain.max(chance.probability);
    (same && chance.flights > 0).then_some((chance.held, chance.flights))
}

/// The number in big type: "0.31 %", "0 of 10,000", "All 10,000".
#[must_use]
pub(crate) fn headline(chance: &Chance) -> String {
    if chance.probability <= 0.0 && chance.held == 0 {
        format!("0 of {}", count(chance.flights))
    } else if chance.probability >= 1.0 && chance.held == chance.flights {
        format!("{} of {}", count(chance.held), count(chance.flights))
    } else {
        number(chance)
    }
}

/// A quantity in the reader's units.
#[must_use]
pub fn quantity(si: f64, dimension: Dimension, show: Show) -> String {
    Voice::set(show).quantity(si, dimension)
}

/// A unit's symbol with typographic signs.
#[must_use]
pub fn sign(symbol: &str) -> String {
    Voice::set(Show::Si).unit(symbol)
}

/// A face in the middle of a sentence, from its name in the scenario.
#[must_use]
pub fn place(face: &str) -> String {
    format!("the {}", face.replace('_', " "))
}

/// The dimension named in a record; a pure number if it is none we know.
#[must_use]
pub fn dimension(name: &str) -> Dimension {
    Dimension::from_name(name).unwrap_or(Dimension::Number)
}

/// What a barrier's strength is measured in.
#[must_use]
pub fn demand(demand: Demand) -> (Dimension, &'static str) {
    match demand {
        Demand::NormalEnergy => {
            (Dimension::Energy, "energy along the normal at the point of contact")
        }
        Demand::TotalEnergy => (Dimension::Energy, "kinetic energy on arrival"),
        Demand::NormalSpeed => {
            (Dimension::Speed, "closing speed along the normal at the point of contact")
        }
    }
}

/// "39 % of all flights do", "1 in 2.2 million flights does".
#[must_use]
pub(crate) fn flights_do(chance: &Chance) -> String {
    match chance.spoken() {
        share if share.is_one() => format!("{share} flights does"),
        share => format!("{} of all flights do", share.set()),
    }
}

/// A gate's name.
#[must_use]
pub fn gate(gate: Gate) -> &'static str {
    gate.name()
}

/// What flights do that pass a gate ("one in ten ... ").
#[must_use]
pub fn passes(gate: Gate) -> &'static str {
    match gate {
        Gate::Released => "come loose",
        Gate::Reaches => "come as far as the target",
        Gate::Strikes => "strike what was aimed at",
        Gate::Attitude => "strike in the attitude the claim needs",
        Gate::Perforates => "go through",
        Gate::Harms => "arrive with enough energy to harm",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_stand_for_a_chance_only_where_they_are_it() {
        let mut chance = crate::sample::ordinary().claim;
        assert_eq!(counted(&chance), Some((31, 10_000)));
        chance.probability = 2.3e-7;
        assert_eq!(counted(&chance), None);
    }
}
