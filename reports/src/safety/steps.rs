//! Who does what, in which order. All of it is common practice, no source.

use maud::{Markup, html};

const ARMING: [&str; 8] = [
    "zone swept and guarded, every watcher in sight or on the radio, and says so",
    "target, catch and cameras set; all but the one who loads leave the zone",
    "energy goes in last; a second stop holds until everybody is out",
    "the one who loads leaves along the way that was agreed, never in the line of cords or bore",
    "in charge asks everybody by name; one “no”, or no answer, stops it",
    "second stop off, by line or remote control, from outside the zone",
    "count aloud; release from outside the zone, behind a shield",
    "nobody goes in until in charge calls it clear and the energy is known to be gone",
];

const MISFIRE: [&str; 5] = [
    "it did not go: it still may. Nobody moves; say “misfire” and start a clock",
    "wait as long as the launcher's maker or the local code says; where nobody says, nobody goes in while it holds energy",
    "let the energy down by remote control, the way that was tried before the day",
    "one person goes in, from behind and from the side, with the second stop on",
    "write down what was found; do not try again before the cause is known",
];

const WHO: [&str; 5] =
    ["In charge", "Loads and releases", "Watches the edge", "Cameras, by remote", "First aid"];

pub(super) fn order() -> Markup {
    html! {
        section {
            h2 { "Arming and release " span.practice { "practice" } }
            ol { @for step in ARMING { li { (step) } } }
        }
    }
}

pub(super) fn misfire() -> Markup {
    html! {
        section {
            h2 { "Misfire and hang-fire " span.practice { "practice" } }
            ol { @for step in MISFIRE { li { (step) } } }
        }
    }
}

pub(super) fn who() -> Markup {
    html! {
        section {
            h2 { "Who stands where" }
            table.who {
                thead { tr { th scope="col" { "post" } th scope="col" { "name" } th scope="col" { "place, outside the zone" } } }
                tbody { @for post in WHO { tr { th scope="row" { (post) } td {} td {} } } }
            }
        }
    }
}
