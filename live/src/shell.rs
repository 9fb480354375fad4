//! The page before anything is in it: where form, picture, answer and rows go.
//! Nothing in it is secret, and nothing of the claim.

use maud::{DOCTYPE, Markup, html};

/// The page.
pub(crate) fn shell() -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "longodds live" }
                link rel="icon" href="data:,";
                link rel="stylesheet" href="/assets/live.css";
                script type="module" src="/assets/main.js" {}
            }
            body {
                div #live {
                    (head())
                    main {
                        section #told aria-labelledby="told-name" {
                            h2 #told-name { "What is claimed" }
                            div #form {}
                        }
                        section #seen aria-labelledby="seen-name" {
                            h2 #seen-name { "How it is set up" }
                            p #understood {}
                            div.stage tabindex="0" role="region" aria-label="The set-up, drawn" {
                                div #setup {}
                                svg #handles aria-label="What can be moved" role="group" {}
                            }
                            div #flights tabindex="0" role="region" aria-label="Flights, drawn" {}
                            ul #doubts {}
                        }
                        section #answer aria-labelledby="answer-name" {
                            h2 #answer-name { "How likely it is" }
                            div #chance {}
                            p #settled.unseen aria-live="polite" {}
                            div #difference {}
                            div #note {}
                        }
                        section #broken aria-labelledby="broken-name" {
                            h2 #broken-name { "Where it breaks" }
                            div #chain tabindex="0" role="region" aria-label="The chain, drawn" {}
                        }
                    }
                    (rows())
                }
                div #paper {}
                (question())
                (templates())
                noscript { p { "This page needs JavaScript. `longodds run` answers without." } }
            }
        }
    }
}

fn head() -> Markup {
    html! {
        header {
            div.said-so {
                p #file {}
                h1 #claim { "Reading the claim" }
            }
            div.deeds role="toolbar" aria-label="The claim" {
                button #undo type="button" disabled aria-keyshortcuts="Control+Z" { "Undo" }
                button #redo type="button" disabled aria-keyshortcuts="Control+Shift+Z" { "Redo" }
                button #pin type="button" { "Keep as a what-if" }
                button #save type="button" disabled aria-keyshortcuts="Control+S" { "Save" }
                button #print type="button" aria-keyshortcuts="Control+P" { "Print" }
                button #room type="button" aria-pressed="false" { "For the room" }
            }
            p #changes {}
            p #said role="status" {}
            p #wrong role="alert" {}
        }
    }
}

fn rows() -> Markup {
    html! {
        section #what-ifs aria-labelledby="rows-name" {
            h2 #rows-name { "What if" }
            p #no-rows { "Change a number, then keep it as a what-if: it stays here beside the claim as the file has it." }
            div #rows {}
        }
    }
}

fn question() -> Markup {
    html! {
        dialog #question aria-labelledby="question-words" {
            h2 #question-words {}
            div.sides {}
            form method="dialog" {}
        }
    }
}

/// What the client makes more than one of.
fn templates() -> Markup {
    html! {
        template #row {
            div.row {
                input.row-name aria-label="Name of this what-if" autocomplete="off";
                p.row-sets {}
                p.row-chances { span.row-before {} " " span.to { "to" } " " strong.row-after {} }
                div.row-deeds {
                    button type="button" data-deed="show" { "Show" }
                    button type="button" data-deed="against" aria-pressed="false" { "Compare with it" }
                    button type="button" data-deed="save" { "Save to the file" }
                    button type="button" data-deed="drop" { "Take back" }
                    label { input.row-printed type="checkbox"; " on the printed page" }
                }
            }
        }
        template #side {
            div.side {
                h3.who {}
                div { h4 { "The file" } pre.theirs tabindex="0" {} }
                div { h4 { "This page" } pre.ours tabindex="0" {} }
            }
        }
    }
}
