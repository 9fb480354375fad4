//! The test-day sheet: one printable page, self-contained.

use crate::{picture::font_faces, words};
use longodds_sim::{
    quantity::{Dimension, format},
    rig::sheet::{Sheet, SheetShot},
};
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The page's look, landscape, with room to write in.
const STYLE: &str = include_str!("test_day.css");

/// What is filled in by hand, before and during the day.
const BLANKS: [&str; 4] = ["Date", "Place", "In charge", "Weather and temperature"];

/// The sheet as one HTML text.
#[must_use]
pub fn test_day(sheet: &Sheet) -> String {
    let title = format!("Test day: {}", sheet.rig);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(font_faces())) (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { (title) }
                    p.sum { (sum(sheet)) }
                    ul.blanks { @for blank in BLANKS { li { (blank) span.line {} } } }
                }
                main {
                    (shots(sheet))
                    div.columns {
                        section { h2 { "Stop when" } (list(&sheet.stop_rules)) }
                        section.caution { h2 { "Cautions" } (list(&sheet.cautions)) }
                    }
                }
                footer {
                    p {
                        "Bands hold 95 in 100 true speeds; " (sheet.shots_before)
                        " shots behind them. Type the columns into the CSV file beside this page; the \
                         calibration and the judgement read it. Set in Barlow (SIL Open Font License 1.1)."
                    }
                }
            }
        }
    };
    page.into_string()
}

/// The day in one sentence, before any table.
fn sum(sheet: &Sheet) -> String {
    let speed = |shot: &SheetShot| format(shot.prediction.speed[1], Dimension::Speed, sheet.show);
    let over = sheet.shots.iter().filter(|shot| shot.prediction.limits_kept == Some(false)).count();
    let warned = match over {
        0 => String::new(),
        1 => " One of them is over a limit of the rig: do not shoot it.".to_owned(),
        n => format!(" {n} of them are over a limit of the rig: do not shoot them."),
    };
    let planned = match (sheet.shots.first(), sheet.shots.last()) {
        (Some(first), Some(last)) if sheet.shots.len() > 1 => {
            let n = words::count(sheet.shots.len() as u64);
            format!("{n} shots, from {} expected to {}.", speed(first), speed(last))
        }
        (Some(only), _) => format!("One shot, {} expected.", speed(only)),
        _ => "No shot is planned.".to_owned(),
    };
    format!("{planned}{warned}")
}

fn list(items: &[String]) -> Markup {
    html! { ul { @for item in items { li { (item) } } } }
}

fn shots(sheet: &Sheet) -> Markup {
    html! {
        div.wide tabindex="0" role="region" aria-label="Shots" {
            table {
                thead {
                    tr {
                        @for heading in [
                            "shot", sheet.setting_name.as_str(), "speed expected", "band", "pull",
                            "energy held", "speed measured or frames", "result", "remarks",
                        ] {
                            th scope="col" { (heading) }
                        }
                    }
                }
                tbody { @for shot in &sheet.shots { (row(sheet, shot)) } }
            }
        }
    }
}

fn row(sheet: &Sheet, shot: &SheetShot) -> Markup {
    let p = &shot.prediction;
    let speed = p.speed.map(|v| format(v, Dimension::Speed, sheet.show));
    let pull = p.pull.map_or_else(String::new, |pull| format(pull, Dimension::Force, sheet.show));
    html! {
        tr class=(if p.limits_kept == Some(false) { "over" } else { "" }) {
            th scope="row" { (shot.name) }
            td {
                strong { (shot.setting_text) }
                @if shot.new_ground { " " span.tag.new { "new ground" } }
                @if p.limits_kept == Some(false) { " " span.tag.limit { "OVER A LIMIT" } }
            }
            td { strong { (speed[1]) } }
            td { (speed[0]) " to " (speed[2]) }
            td { (pull) }
            td { (format(p.held_energy, Dimension::Energy, sheet.show)) }
            td.write {} td.write {} td.write {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use longodds_sim::rig::{self, calibrate::Calibration};

    #[test]
    fn the_page_is_whole_and_escapes_what_the_user_wrote() {
        let text = "rig: <b>tower</b>\nobject: {mass: 2 kg}\nlauncher: {drop: }\n";
        let tower = rig::parse(text).unwrap();
        let plan = Sheet::new(&tower, &Calibration::new(&tower, &[]), &[1.0, 2.0], 1);
        let page = test_day(&plan);
        assert!(page.starts_with("<!DOCTYPE html>") && page.ends_with("</html>"));
        assert!(page.contains("&lt;b&gt;tower") && !page.contains("<b>tower"));
        for outside in ["<script", "<link", "<img", "@import", "url(http"] {
            assert!(!page.contains(outside), "{outside}");
        }
        assert_eq!(page.matches("<tr").count(), 3);
        assert!(page.contains("2 shots, from 4.4"), "Source: v = (2 g h)^1/2, 4.43 m/s less drag.");
    }

    #[test]
    fn what_is_over_a_limit_is_said_before_the_table() {
        let text = "rig: tower\nobject: {mass: 2 kg}\nlauncher: {drop: }\n";
        let tower = rig::parse(text).unwrap();
        let mut plan = Sheet::new(&tower, &Calibration::new(&tower, &[]), &[1.0], 1);
        plan.shots[0].prediction.limits_kept = Some(false);
        let page = test_day(&plan);
        assert!(page.contains("One of them is over a limit of the rig: do not shoot it."));
        assert!(page.contains("OVER A LIMIT"));
    }
}
