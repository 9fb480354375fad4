//! The card that is held before a camera: what it is set to, a scale bar, and the speed
//! that each count of frames means.

use crate::{chart::FilmingChart, picture::font_faces};
use longodds_sim::{
    quantity::{Dimension, Show, format, significant},
    rig::camera::Passage,
};
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("slate.css");
const BLANKS: [&str; 4] = ["Date", "Shot", "Camera", "Filled in by"];
/// Rows of the table at most.
const ROWS: u32 = 48;

/// The card as one HTML text, for a claim in words.
#[must_use]
pub fn slate(chart: &FilmingChart, claim: &str) -> String {
    let show = chart.show;
    let (bar, parts, tall) = bar(show);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Slate" }
                style { (PreEscaped(font_faces())) (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { (claim.trim()) }
                    ul.told { @for (name, value) in told(chart) { li { (name) strong { (value) } } } }
                    ul.blanks { @for blank in BLANKS { li { (blank) span.line {} } } }
                }
                main {
                    h2 { "Scale, " (bar) " when printed at full size: measure it, then hold it in the plane of the track" }
                    div.bar style={ "width:" (tall) } role="img" aria-label={ "A bar of " (bar) } {
                        @for _ in 0..parts { i {} }
                    }
                    h2 { "Frames over " (measured(chart.view.track, show)) ", as in the picture" }
                    (counts(chart))
                }
                footer {
                    p {
                        "Count from the frame in which the nose enters the stretch to the one in which it leaves it. "
                        "`longodds speed --frames N --distance ... --frame-rate ...` tells the doubt. "
                        "Nobody stands in the zone to hold or read this. Set in Barlow (SIL Open Font License 1.1)."
                    }
                }
            }
        }
    };
    page.into_string()
}

/// Length of the printed bar: in words, its parts, and in CSS.
fn bar(show: Show) -> (&'static str, u32, &'static str) {
    match show {
        Show::Si => ("20 cm", 10, "20cm"),
        Show::Imperial => ("8 in", 8, "8in"),
    }
}

fn told(chart: &FilmingChart) -> [(&'static str, String); 5] {
    let view = &chart.view;
    let length = |length: f64| format(length, Dimension::Length, chart.show);
    [
        ("Frame rate", format!("{} frames/s", significant(view.rate, 4))),
        ("Exposure", format!("1/{} s", significant(1.0 / view.exposure, 3))),
        ("From the track", length(view.distance)),
        ("Field at the track", length(view.field)),
        ("Picture", format!("{} pixels to the metre", significant(view.pixels_per_metre, 3))),
    ]
}

fn measured(track: f64, show: Show) -> String {
    format(track, Dimension::Length, show)
}

/// Every count, from the fastest that is likely to the slowest; where there are too many,
/// every so many.
fn counts(chart: &FilmingChart) -> Markup {
    let view = &chart.view;
    let [slow, _, fast] = view.frames;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 1e6")]
    let [from, to] =
        [(0.7 * fast).floor().max(1.0), (1.4 * slow).ceil()].map(|n| n.min(1e6) as u32);
    let by = ((to - from.min(to)) / ROWS).max(1);
    let speed = |frames: u32| {
        let told = Passage::plain(f64::from(frames), view.track, view.rate).speed().ok();
        told.map(|told| told.speed)
    };
    let rows = (from..=to).step_by(by as usize).filter_map(|n| Some((n, speed(n)?)));
    html! {
        div.wide tabindex="0" role="region" aria-label="Frames and speeds" {
            div.counts {
                table {
                    thead { tr { th scope="col" { "frames" } th scope="col" { "speed" } th scope="col" { "" } } }
                    tbody {
                        @for (frames, speed) in rows {
                            tr {
                                th scope="row" { (frames) }
                                td { (format(speed, Dimension::Speed, chart.show)) }
                                td { (other(speed, chart.show)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The same in the unit in which frames over feet, or metres, come out.
fn other(speed: f64, show: Show) -> String {
    match show {
        Show::Si => format!("{} km/h", significant(speed * 3.6, 3)),
        Show::Imperial => format!("{} ft/s", significant(speed / 0.3048, 3)),
    }
}
