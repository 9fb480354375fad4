//! The test-day sheet: one printable page, self-contained.

use longodds_sim::{
    quantity::{Dimension, format},
    rig::sheet::{Sheet, SheetShot},
};
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Black on white, wide enough to write in, one page landscape.
const STYLE: &str = "\
@page { size: landscape; margin: 12mm }
body { font: 11pt/1.35 system-ui, sans-serif; color: #111; margin: 1.5em; max-width: 72em }
h1 { font-size: 1.4em; margin: 0 0 .2em }
h2 { font-size: 1.05em; margin: 1em 0 .3em }
table { border-collapse: collapse; width: 100% }
th, td { border: 1px solid #555; padding: .35em .5em; text-align: left; vertical-align: top }
td.write { min-width: 5em; height: 1.9em }
tr.over td { background: #fde2de }
.new { font-weight: 600 }
.columns { display: flex; gap: 2em }
.columns > div { flex: 1 }
ul { margin: 0; padding-left: 1.2em }
.note { color: #444; font-size: .9em }
";

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
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { (title) }
                p.note {
                    "Date ____________   Place ____________   In charge ____________   \
                     Weather and temperature ____________"
                }
                (shots(sheet))
                div.columns {
                    div { h2 { "Stop when" } (list(&sheet.stop_rules)) }
                    div { h2 { "Cautions" } (list(&sheet.cautions)) }
                }
                p.note {
                    "Bands hold 95 in 100 true speeds; " (sheet.shots_before)
                    " shots behind them. Type the columns into the CSV file beside this page; the \
                     calibration and the judgement read it."
                }
            }
        }
    };
    page.into_string()
}

fn list(items: &[String]) -> Markup {
    html! { ul { @for item in items { li { (item) } } } }
}

fn shots(sheet: &Sheet) -> Markup {
    html! {
        table {
            thead {
                tr {
                    @for heading in [
                        "shot", sheet.setting_name.as_str(), "speed expected", "band", "pull",
                        "energy held", "speed measured or frames", "result", "remarks",
                    ] {
                        th { (heading) }
                    }
                }
            }
            tbody { @for shot in &sheet.shots { (row(sheet, shot)) } }
        }
    }
}

fn row(sheet: &Sheet, shot: &SheetShot) -> Markup {
    let p = &shot.prediction;
    let speed = p.speed.map(|v| format(v, Dimension::Speed, sheet.show));
    let pull = p.pull.map_or_else(String::new, |pull| format(pull, Dimension::Force, sheet.show));
    html! {
        tr class=(if p.limits_kept { "" } else { "over" }) {
            td { (shot.name) }
            td class=(if shot.new_ground { "new" } else { "" }) {
                (shot.setting_text)
                @if shot.new_ground { " (new ground)" }
                @if !p.limits_kept { " OVER A LIMIT" }
            }
            td { (speed[1]) }
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
        assert!(!page.contains("http"), "nothing from outside");
        assert_eq!(page.matches("<tr").count(), 3);
    }
}
