//! How much of what was flown lies off the models' ground, said before the
//! number where it is most of it.

use crate::{
    estimate::Proportion,
    findings::{BandFinding, Chance, Findings, MOVED},
    scenario::Gate,
    words::{Spoken, Voice, capital, count},
};

/// A breach that befalls more than this share of those whom it can befall is
/// said before the number.
const MOST: f64 = 0.5;

/// What has to be said before the number: each a sentence.
pub(super) fn first(findings: &Findings, voice: Voice) -> Vec<String> {
    let outside = findings.breaches.iter().filter_map(|breach| {
        if breach.share <= MOST {
            return None;
        }
        let (said, all) = (breach.breach.first(), voice.part(breach.share));
        let bound = breach.breach.gate().and_then(|gate| bound(findings, gate, voice));
        let bound = bound.map_or(String::new(), |bound| format!(" {bound}"));
        let among = breach.breach.among().words();
        Some(format!("{} ({all} of {among}).{bound}", capital(said)))
    });
    cut_off(&findings.claim).into_iter().chain(outside).collect()
}

/// The bound that holds all the same: it cannot pass a gate more often than it
/// comes to it, nor a barrier more often than with blows of which no bound says that
/// they cannot go through. Never below what the unknown is said to leave open.
fn bound(findings: &Findings, doubted: Gate, voice: Voice) -> Option<String> {
    let before = findings.gates.iter().take_while(|gate| gate.gate != doubted).last()?;
    let open = findings.band.as_ref().map_or(0.0, worst_world);
    let most = before.so_far.high.max(open);
    let could = findings.gates.iter().find(|gate| gate.gate == doubted)?.could.as_ref();
    let could = could.map(|could| could.high.max(open));
    if let Some(could) = could.filter(|could| *could < most.min(MOST_SAYING)) {
        return Some(format!(
            "What holds all the same: at most {}, since all other blows give the barrier less \
             than a dent takes, or come with something that crushes before it punches.",
            voice.say(Spoken::at_most(could))
        ));
    }
    Some(if most < MOST_SAYING {
        format!(
            "What holds all the same: at most {}, since {} no oftener.",
            voice.say(Spoken::at_most(most)),
            before.meaning
        )
    } else {
        "No bound is known that says more than that it may be so every time.".to_owned()
    })
}

/// How often it is said to hold in the worst of the worlds that are left open.
fn worst_world(band: &BandFinding) -> f64 {
    if band.always > 0.0 { 1.0 } else { band.high }
}

/// A bound above this says nothing.
const MOST_SAYING: f64 = 0.995;

/// That flights were cut off, where it matters.
fn cut_off(claim: &Chance) -> Option<String> {
    if claim.open == 0 {
        return None;
    }
    let without = Proportion::printed(claim.held, claim.flights, claim.level).high;
    let (open, all) = (count(claim.open), count(claim.flights));
    (claim.high > without * (1.0 + MOVED)).then(|| {
        format!(
            "{open} of {all} flights were cut off before their fate was known: all of them may \
             have held, or none; the interval leaves room for both.",
        )
    })
}
