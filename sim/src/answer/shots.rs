//! What shots let one say by themselves, and what not.

use crate::{
    trials::demonstration::Statement,
    words::{Likelihood, Spoken, count_of, interval, likelihood},
};
use serde::Serialize;

/// What may be said, and what not.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sayable {
    /// What may be said.
    pub says: String,
    /// What may not.
    pub does_not_say: String,
}

impl Statement {
    /// What it lets one say about the chance of `event` (a noun phrase, such as
    /// "a perforation").
    #[must_use]
    pub fn said(&self, event: &str) -> Sayable {
        let (events, shots, ends) = (self.events, self.shots, [self.low, self.high]);
        Sayable {
            says: says(events, shots, ends, event),
            does_not_say: does_not_say(events, shots, ends, event),
        }
    }

    /// The likelihood of its interval.
    #[must_use]
    pub fn likelihood(&self) -> Likelihood {
        likelihood(self.low, self.high)
    }
}

fn says(events: u64, shots: u64, [low, high]: [f64; 2], event: &str) -> String {
    let shot = count_of(shots, "shot");
    let seen = match events {
        0 => format!("{shot} without {event}"),
        n => format!("{n} of {shot} with {event}"),
    };
    format!("{seen}: {} of such shots have it (95 % confidence)", interval(low, high))
}

fn does_not_say(events: u64, shots: u64, [low, high]: [f64; 2], event: &str) -> String {
    let shot = count_of(shots, "shot");
    let one_in_twenty = |chance: Spoken, how: &str| {
        format!(
            "a chance of {chance} per shot would give {shot} {how} it one time in twenty; and \
             nothing about another speed, attitude or target"
        )
    };
    match events {
        0 => format!(
            "not that {event} cannot happen: {}",
            one_in_twenty(Spoken::at_most(high), "without")
        ),
        n if n == shots => format!(
            "not that {event} always happens: {}",
            one_in_twenty(Spoken::at_least(low), "all with")
        ),
        _ => format!(
            "nothing about another speed, attitude or target; and {shot} do not settle the chance \
             of {event} any closer than that"
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the two sides of one exact rule, 1 - 0.05^(1/8) = 0.312344 and
    /// 0.05^(1/8) = 0.687656.
    #[test]
    fn none_and_all_are_told_by_one_rule() {
        let said = |events| Statement::new(events, 8).said("a hole");
        assert!(said(0).says.contains("at most 32 in 100"), "{:?}", said(0));
        assert!(said(8).says.contains("at least 68 in 100"), "{:?}", said(8));
        assert!(said(8).does_not_say.contains("always happens"), "{:?}", said(8));
        assert!(said(3).says.contains("8 to 76 in 100"), "{:?}", said(3));
    }

    #[test]
    fn two_shots_that_bounced_are_two_shots() {
        let two = Statement::new(0, 2).said("a perforation");
        assert!(two.says.contains("78 in 100"), "{two:?}");
        assert!(two.does_not_say.contains("cannot happen"), "{two:?}");
    }
}
