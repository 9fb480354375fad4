//! The page before anything is in it.

use maud::{DOCTYPE, Markup, html};

/// The empty page; nothing secret is in it.
pub(crate) fn shell() -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                title { "longodds" }
                link rel="stylesheet" href="/assets/live.css";
                script type="module" src="/assets/main.js" {}
            }
            body {
                @for id in ["form", "setup", "chance", "chain", "flights", "difference", "note"] {
                    div id=(id) {}
                }
            }
        }
    }
}
