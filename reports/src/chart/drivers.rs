//! Which inputs decide, per gate: ranked bars with the noise level marked.

use super::nothing;
use crate::{
    canvas::{Canvas, Frame, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::findings::{Driver, Findings, GateDrivers};

/// Least gap that reads as more than 0.00.
const SEEN: f64 = 0.005;
/// Most bars per gate.
const MOST: usize = 7;
const BAR: f64 = 23.0;
const HEAD: f64 = 36.0;
/// Where bars start, px.
const START: f64 = 330.0;
const SUBTITLE: &str = "How far the flights that pass stand apart from all that came, input by input \
    (0 not at all, 1 wholly). Triangle up: more of it helps; down: less. \
    A bar that ends left of its dotted line (hatched) is no more than chance would show.";

/// What drives each gate.
#[must_use]
pub fn drivers(findings: &Findings, frame: Frame) -> Picture {
    // Where all or none pass there is nothing to compare, and every gap is 0.
    let compared = |gate: &&GateDrivers| gate.ranking.iter().any(|d| d.separation > 0.0);
    let mut blocks: Vec<_> = findings.drivers.iter().filter(compared).collect();
    // A step that nearly all pass is decided by nothing that a bar could show.
    let mut first = true;
    blocks.retain(|gate| {
        std::mem::take(&mut first) || gate.ranking.iter().any(|d| d.separation >= SEEN)
    });
    let Some(first) = blocks.first() else {
        let why = "Nothing varies, or every flight had the same fate: there is nothing to compare.";
        return nothing("drivers", "No input can be said to decide the outcome", why, frame);
    };
    let title = title(first);
    let top = heading_height(f64::from(frame.width), &title, SUBTITLE);
    let body: f64 = blocks.iter().map(|b| HEAD + rows(b)).sum();
    let canvas = Canvas::new(frame, top + body + 12.0);
    let mut y = canvas.heading(&title, SUBTITLE);
    for block in &blocks {
        y = draw(&canvas, block, y);
    }
    canvas.finish("drivers", &title, &description(&blocks))
}

fn rows(block: &GateDrivers) -> f64 {
    let shown = block.ranking.len().min(MOST) + usize::from(block.ranking.len() > MOST);
    f64::from(u32::try_from(shown).unwrap_or(u32::MAX)) * BAR
}

fn heading(block: &GateDrivers) -> String {
    match block.gate {
        None => "The whole claim".to_owned(),
        Some(gate) => format!("“{}”, of those that come to it", words::gate(gate)),
    }
}

fn draw(canvas: &Canvas, block: &GateDrivers, top: f64) -> f64 {
    let palette = canvas.palette;
    let rule = Stroke::solid(palette.rule, look::HAIR);
    canvas.line(&[(0.0, top + 6.0), (canvas.width(), top + 6.0)], rule);
    canvas.text((0.0, top + 26.0), Text::new(heading(block), look::LABEL, palette.ink).bold());
    let mut y = top + HEAD;
    for driver in block.ranking.iter().take(MOST) {
        bar(canvas, driver, y);
        y += BAR;
    }
    let rest = block.ranking.get(MOST..).unwrap_or_default();
    if !rest.is_empty() {
        let above = rest.iter().filter(|d| clear(d)).count();
        let above = if above == 0 { "none".to_owned() } else { above.to_string() };
        let words = format!("and {} more, {above} of them above the noise", rest.len());
        canvas.text((START, y + 16.0), Text::new(words, look::TICK, palette.quiet));
        y += BAR;
    }
    y
}

/// Does it stand out from what chance would show?
fn clear(driver: &Driver) -> bool {
    driver.separation > driver.noise
}

fn bar(canvas: &Canvas, driver: &Driver, y: f64) {
    let palette = canvas.palette;
    let full = canvas.width() - START - 60.0;
    let x = |v: f64| START + full * v.clamp(0.0, 1.0);
    let ink = if clear(driver) { palette.ink } else { palette.quiet };
    let name = font::fit(&driver.input, Weight::Regular, look::LABEL, START - 34.0);
    canvas.text((0.0, y + 16.5), Text::new(name, look::LABEL, ink));
    let (a, b, end) = (y + 4.0, y + BAR - 4.0, x(driver.separation));
    let corners = [(START, a), (end, a), (end, b), (START, b)];
    if clear(driver) {
        canvas.area(&corners, opaque(palette.ember));
        direction(canvas, driver, y);
    } else {
        let hatch = Some((veil(palette.ash, 0.9), true));
        canvas.shape(&corners, None, hatch, Some(Stroke::solid(palette.ash, look::THIN)));
    }
    let noise = x(driver.noise);
    let dots = Stroke::solid(palette.ink, 2.0).dashed(look::ASSUMED);
    canvas.line(&[(noise, y), (noise, y + BAR)], dots);
    let label = match driver.separation {
        some if some > 0.0 && some < SEEN => "under 0.01".to_owned(),
        some => format!("{some:.2}"),
    };
    canvas.text((end.max(noise) + 8.0, y + 16.5), Text::new(label, look::TICK, ink));
}

/// Does more, or less, help by more than chance would show? The largest gap that
/// chance shows (95 %) is 1.36 of 1/sqrt(successes), and the chance that a
/// success has the larger value scatters by 1/sqrt(12 successes).
///
/// Source: quantiles of the Kolmogorov and the Mann-Whitney statistic with few
/// successes among many flights (from memory).
fn has_direction(driver: &Driver) -> bool {
    let scatter = driver.noise / (1.36 * 12.0_f64.sqrt());
    !driver.window && (driver.auc - 0.5).abs() > (1.96 * scatter).max(0.02)
}

/// A triangle: up where more helps, down where less does.
fn direction(canvas: &Canvas, driver: &Driver, y: f64) {
    if !has_direction(driver) {
        return;
    }
    let (x, m, r) = (START - 13.0, y + BAR / 2.0, 5.0);
    let tip = if driver.auc > 0.5 { -r } else { r };
    canvas.area(&[(x, m + tip), (x + r, m - tip), (x - r, m - tip)], opaque(canvas.palette.ink));
}

/// Separation below which an input decides next to nothing, however clear of the noise
/// (judgement).
pub(crate) const LITTLE: f64 = 0.02;

fn title(block: &GateDrivers) -> String {
    let standing: Vec<&Driver> = block.ranking.iter().filter(|d| clear(d)).collect();
    let at = block.gate.map_or_else(String::new, |gate| format!("At “{}” ", words::gate(gate)));
    match standing[..] {
        [] if at.is_empty() => {
            "No input stands out: none decides more than chance would show".to_owned()
        }
        [] => format!("{at}no input stands out: none decides more than chance would show"),
        [first, second, ..] if at.is_empty() && first.separation < LITTLE => {
            format!("Nothing decides much; {} most, then {}", first.input, second.input)
        }
        [one] => format!("{at}{} decides; nothing else stands out", one.input),
        [first, second, ..] => format!("{at}{} decides most, then {}", first.input, second.input),
    }
}

fn description(blocks: &[&GateDrivers]) -> String {
    let driver = |d: &Driver| format!("{} {:.2} (noise {:.2})", d.input, d.separation, d.noise);
    let block = |b: &&GateDrivers| {
        let top: Vec<String> = b.ranking.iter().take(3).map(driver).collect();
        format!("{}: {}", heading(b), top.join(", "))
    };
    blocks.iter().map(block).collect::<Vec<_>>().join(". ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn driver(auc: f64, separation: f64, noise: f64) -> Driver {
        Driver {
            input: "air.wind.towards".to_owned(),
            auc,
            window: false,
            separation,
            noise,
            settles: 0.0,
        }
    }

    #[test]
    fn a_target_in_the_middle_is_helped_by_neither_side() {
        // 87 successes: a window in the middle of what comes.
        assert!(!has_direction(&driver(0.475, 0.32, 0.145)));
        assert!(has_direction(&driver(0.42, 0.32, 0.145)));
        assert!(has_direction(&driver(0.398, 0.08, 0.008)));
        assert!(!has_direction(&driver(0.501, 0.04, 0.008)));
        assert!(!has_direction(&Driver { window: true, ..driver(0.42, 0.32, 0.145) }));
    }

    #[test]
    fn what_nearly_all_pass_has_no_block_of_nothing() {
        let mut findings = sample::ordinary();
        let one =
            |gate, separation| GateDrivers { gate, ranking: vec![driver(0.6, separation, 1e-4)] };
        findings.drivers =
            vec![one(None, 0.3), one(Some(longodds_sim::scenario::Gate::Reaches), 0.003)];
        let said = |findings: &Findings| {
            let texts = drivers(findings, Frame::page()).texts();
            texts.into_iter().map(|text| text.text).collect::<Vec<_>>().join("|")
        };
        assert!(!said(&findings).contains("reaches"), "{}", said(&findings));
        findings.drivers[1].ranking[0].separation = 0.03;
        assert!(said(&findings).contains("reaches") && said(&findings).contains("0.03"));
    }

    #[test]
    fn what_sets_next_to_nothing_apart_is_not_said_to_decide() {
        let mut findings = sample::ordinary();
        let ranking = |separation: f64| {
            let second = Driver { input: "object.mass".to_owned(), ..driver(0.6, 0.004, 1e-4) };
            vec![driver(0.6, separation, 1e-4), second]
        };
        findings.drivers = vec![GateDrivers { gate: None, ranking: ranking(0.009) }];
        let said = |findings: &Findings| title(&findings.drivers[0]);
        assert!(said(&findings).starts_with("Nothing decides much; air.wind.towards most"));
        findings.drivers[0].ranking = ranking(0.3);
        assert_eq!(said(&findings), "air.wind.towards decides most, then object.mass");
    }
}
