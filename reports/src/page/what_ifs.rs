//! What-ifs that were kept: what was set, and the chance before and after.

use super::{name, prose};
use crate::words;
use longodds_sim::{answer::what_if, quantity::Show, sweep::WhatIf, words::Voice};
use maud::{Markup, html};

/// A what-if that was kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// Its name.
    pub name: String,
    /// What was set: the key, the value, and what stood there before.
    pub set: Vec<(String, String, Option<String>)>,
    /// What that does, over the same draws as the claim in the file.
    pub found: WhatIf,
}

/// A row for each.
pub(super) fn table(show: Show, kept: &[Kept]) -> Markup {
    html! {
        p { "Each is held against the claim as it stands in the file, draw by draw." }
        div.wide tabindex="0" role="region" aria-label="Table of the what-ifs" {
            table {
                thead { tr {
                    th scope="col" { "What if" }
                    th scope="col" { "Set" }
                    th scope="col" { "Before" }
                    th scope="col" { "After" }
                    th scope="col" { "Change" }
                } }
                tbody { @for one in kept {
                    @let said = what_if(&one.found, Voice::set(show));
                    tr {
                        th scope="row" { (one.name) }
                        td { @for (k, set) in one.set.iter().enumerate() {
                            @if k > 0 { "; " }
                            (self::set(set))
                        } }
                        td { (said.before) }
                        td { (said.after) }
                        td { (prose(&words::capital(&said.change))) "." @if let Some(draws) = &said.draws { " " (draws) "." } }
                    }
                } }
            }
        }
    }
}

fn set((key, value, was): &(String, String, Option<String>)) -> Markup {
    html! {
        code { (name(key)) } " at " (value)
        @if let Some(was) = was { " (was " (was) ")" } @else { " (was not written)" }
    }
}
