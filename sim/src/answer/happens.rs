//! What happens on the way and to whom it happens, and what the answer hangs on.

use super::in_words;
use crate::{
    findings::{
        Chance, ContactFinding, EnergyAudit, HeadReading, MovedFinding, ShakyFinding,
        counted_chance,
    },
    quantity::{Dimension, significant},
    words::{Spoken, Voice, count, count_of, likelihood},
};

/// Below this, in m/s, what is struck is hardly moved (judgement).
const HARDLY: f64 = 1.0;

/// What flights touch on their way.
#[must_use]
pub fn bounces(found: &ContactFinding, voice: Voice) -> String {
    let touched = in_words(&counted_chance(found.touched, found.flights), voice);
    let mut text = format!("{touched}, a flight touches something and goes on");
    if let Some(number) = &found.number {
        text += &format!(" ({} contacts in the middle)", number.quantiles[3].round());
    }
    if found.strikes > 0 {
        text += &format!(
            "; of {} that strike, {} had touched something before",
            count(found.strikes),
            count(found.strikes_after)
        );
    }
    if let Some(rest) = &found.rest {
        let say = |value: f64| voice.quantity(value, Dimension::Length);
        text += &format!(
            ". Half of those followed to rest lie {} or more from below the release, 1 in 20 {}",
            say(rest.quantiles[3]),
            say(rest.quantiles[5])
        );
    }
    if found.let_go > 0 {
        text += &format!(
            "; {} rolled on, away from everything, and were followed no further",
            count(found.let_go)
        );
    }
    text + "."
}

/// Whether energy adds up.
#[must_use]
pub fn energy(audit: &EnergyAudit, voice: Voice) -> String {
    let flights = count_of(audit.flights, "flight");
    let touches = match audit.touches {
        0 => String::new(),
        1 => " and one touch".to_owned(),
        n => format!(" and {} touches", count(n)),
    };
    let worst = voice.percent(audit.worst.max(1e-5));
    if audit.flights == 0 {
        "no flight came loose, so that no energy was exchanged".to_owned()
    } else if audit.holds {
        format!(
            "what {flights}{touches} lost is the work of air and contact, to within {worst} of a \
             flight's energy at worst"
        )
    } else if audit.gained > 0 {
        format!(
            "IT DOES NOT ADD UP: in {} of {flights} a contact gave energy, which it can only take. \
             Do not use this answer; it is a fault of the program",
            count(audit.gained)
        )
    } else {
        format!(
            "IT DOES NOT ADD UP: in {} of {flights} what is lost is not the work that was done (off \
             by up to {worst}). Do not use this answer; it is a fault of the program or of a \
             scenario far outside what its models are for",
            count(audit.outside)
        )
    }
}

/// The head injury criterion of the middle of what arrives.
#[must_use]
pub fn reading(of: &HeadReading, voice: Voice) -> String {
    let chances = |[two, three, four]: [f64; 3]| {
        format!("{}, {}, {}", voice.share(two), voice.share(three), voice.share(four))
    };
    format!(
        "The middle of what arrives gives a head of {} a HIC15 of {} in an assumed pulse of {}. The \
         published curves make of that an injury of AIS 2, 3, 4 or worse with {} (NHTSA, lognormal) \
         or {} (Prasad and Mertz, logistic, expanded): adults in car collisions, \
         and the two families differ by a factor of two and more",
        voice.quantity(of.mass, Dimension::Mass),
        significant(of.hic, 2),
        voice.quantity(of.lasts, Dimension::Time),
        chances(of.lognormal),
        chances(of.logistic),
    )
}

/// What a strike does to the speed of a target of known mass.
pub(super) fn moved(of: &MovedFinding, voice: Voice) -> String {
    let [low, half, high] = of.change.map(|speed| voice.quantity(speed, Dimension::Speed));
    let meaning = if of.change[2] < HARDLY {
        ": not what hurts whoever is inside; what comes through would"
    } else {
        ""
    };
    format!(
        "A strike changes the speed of what is struck ({}) by {half} (90 % between {low} and \
         {high}) if the object stays with it, at most twice that if it springs back{meaning}.",
        voice.quantity(of.mass, Dimension::Mass),
    )
}

/// An assumption that carries the answer.
#[must_use]
pub fn shaky(of: &ShakyFinding, claim: &Chance, voice: Voice) -> String {
    let kind = if of.assumed { "was assumed, not told" } else { "is not known" };
    let then = if of.probability > 0.0 {
        voice.say(Spoken::near(of.probability))
    } else {
        format!("never in {}", count(of.flights))
    };
    let now = claim.probability;
    let dimension = Dimension::from_name(&of.dimension).unwrap_or(Dimension::Number);
    format!(
        "`{}` {kind}: at {} it would be {then} ({}), not {} ({}).",
        of.input,
        voice.quantity(of.to, dimension),
        likelihood(of.probability, of.probability),
        in_words(claim, voice),
        likelihood(now, now),
    )
}
