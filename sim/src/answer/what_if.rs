//! What a change does to a chance, in words.

use crate::{
    estimate::Proportion,
    sweep::WhatIf,
    words::{Spoken, Voice, change, count},
};

/// A change said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// The chance before it.
    pub before: String,
    /// The chance after it.
    pub after: String,
    /// By how much, and whether that is more than chance.
    pub change: String,
    /// What became of the draws; `None` where each ends the same.
    pub draws: Option<String>,
}

/// Puts a change into words.
#[must_use]
pub fn what_if(found: &WhatIf, voice: Voice) -> Changed {
    let WhatIf { before, after, change: by } = found;
    let said = |p: &Proportion| {
        let chance = match p.k {
            0 if p.open == 0 => format!("never in {}", count(p.n)),
            k if k == p.n => format!("every time in {}", count(p.n)),
            _ => voice.say(Spoken::inside(p.estimate, p.low, p.high)),
        };
        let level = voice.percent(p.level);
        format!("{chance} ({level}: {})", voice.span(crate::words::interval(p.low, p.high)))
    };
    let same = by.gained == 0 && by.lost == 0;
    Changed {
        before: said(before),
        after: said(after),
        change: if same {
            format!("none: each of {} draws ends the same", count(by.n))
        } else {
            change(by.difference, by.low, by.high, by.is_more_than_chance())
        },
        draws: (!same).then(|| {
            let [n, gained, lost] = [by.n, by.gained, by.lost].map(count);
            format!("On the same {n} draws: {gained} hold that did not, {lost} no longer do")
        }),
    }
}
