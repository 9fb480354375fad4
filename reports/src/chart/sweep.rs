//! What would have to be true: the chance as one input is moved, with its band.

use super::{nothing, small};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{SweepFindings, SweepPoint},
    quantity::{Dimension, Show},
};

const LEFT: f64 = 60.0;
const RIGHT: f64 = 22.0;
const HIGH: f64 = 300.0;
/// Room over the panel: the axis' name and what was told.
const HEAD: f64 = 66.0;
/// Width of the axis' name, which the line of what was told must not cross.
const NAME: f64 = 190.0;
/// Chances marked where nobody asked for others.
const MARKED: [f64; 3] = [0.01, 0.5, 0.99];

/// Draws the chance of the claim against the input.
#[must_use]
pub fn sweep(record: &SweepFindings, frame: Frame) -> Picture {
    if record.points.len() < 2 {
        let why = "The sweep was stopped before it had two settings.";
        return nothing("sweep", "There is no line to draw", why, frame);
    }
    let chart = Chart::new(record);
    let (title, subtitle) = (title(&chart), subtitle(&chart));
    let width = f64::from(frame.width);
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + HEAD + HIGH + 48.0);
    let top = canvas.heading(&title, &subtitle) + HEAD;
    let rect = Rect { left: LEFT, top, right: width - RIGHT, bottom: top + HIGH };
    let panel = canvas.panel(rect, chart.x.0..chart.x.1, 0.0..chart.most);
    axes(&canvas, &panel, &chart);
    curve(&canvas, &panel, record);
    told(&canvas, &panel, &chart);
    marks(&canvas, &panel, &chart);
    canvas.finish("sweep", &title, &description(&chart))
}

/// A setting that gives a chance.
struct Mark {
    target: f64,
    value: f64,
    /// Its interval, where a search found it.
    known: Option<(f64, f64)>,
}

struct Chart<'a> {
    record: &'a SweepFindings,
    dimension: Dimension,
    show: Show,
    x: (f64, f64),
    /// Top of the chance axis.
    most: f64,
    marks: Vec<Mark>,
}

impl<'a> Chart<'a> {
    fn new(record: &'a SweepFindings) -> Self {
        let ends = |i: usize| record.points[i].value;
        let x = (ends(0), ends(record.points.len() - 1));
        let x = if x.0 < x.1 { x } else { (x.0 - 0.5, x.0 + 0.5) };
        let highest = record.points.iter().map(|p| p.chance.high).fold(0.0, f64::max);
        Self {
            record,
            dimension: words::dimension(&record.dimension),
            show: record.swept.show,
            x,
            most: if highest > 0.4 { 1.0 } else { (1.15 * highest).max(1e-6) },
            marks: marked(record, x),
        }
    }

    fn say(&self, value: f64) -> String {
        words::quantity(value, self.dimension, self.show)
    }

    fn first(&self) -> &SweepPoint {
        &self.record.points[0]
    }

    fn last(&self) -> &SweepPoint {
        &self.record.points[self.record.points.len() - 1]
    }

    /// Where the chance is this, in words.
    fn settings(&self, target: f64) -> Option<String> {
        let marks = self.marks.iter().filter(|mark| (mark.target - target).abs() < 1e-9);
        let list: Vec<String> = marks.map(|mark| self.say(mark.value)).collect();
        (!list.is_empty()).then(|| list.join(" or "))
    }

    fn extreme(&self, sign: f64) -> &SweepPoint {
        let rank = |p: &SweepPoint| sign * p.chance.probability;
        let points = self.record.points.iter();
        points.max_by(|a, b| rank(a).total_cmp(&rank(b))).unwrap_or(&self.record.points[0])
    }
}

/// The settings asked for, or else those read off the line for 1, 50 and 99 %.
fn marked(record: &SweepFindings, x: (f64, f64)) -> Vec<Mark> {
    if record.answers.is_empty() {
        let read = |&target: &f64| {
            crossings(&record.points, target).into_iter().map(move |value| Mark {
                target,
                value,
                known: None,
            })
        };
        return MARKED.iter().flat_map(read).collect();
    }
    let of = |answer: &longodds_sim::findings::SweepAnswer| {
        let target = answer.target;
        let mark = move |c: &longodds_sim::findings::SweepCrossing| Mark {
            target,
            value: c.value,
            known: Some((c.low.unwrap_or(x.0), c.high.unwrap_or(x.1))),
        };
        answer.crossings.iter().map(mark).collect::<Vec<_>>()
    };
    record.answers.iter().flat_map(of).collect()
}

/// Where the line from point to point meets a chance.
fn crossings(points: &[SweepPoint], target: f64) -> Vec<f64> {
    let met = |pair: &[SweepPoint]| {
        let [a, b] = [0, 1].map(|i| (pair[i].value, pair[i].chance.probability - target));
        let meets = (a.1 < 0.0) != (b.1 < 0.0);
        meets.then(|| a.0 + (b.0 - a.0) * a.1 / (a.1 - b.1))
    };
    points.windows(2).filter_map(met).collect()
}

fn axes(canvas: &Canvas, panel: &Panel, chart: &Chart<'_>) {
    panel.y_axis(
        canvas,
        &Scale::new(Dimension::Ratio, chart.show, chart.most),
        "chance that the claim holds",
    );
    let largest = chart.x.0.abs().max(chart.x.1.abs());
    let scale = Scale::new(chart.dimension, chart.show, largest);
    panel.x_axis(canvas, &scale, &chart.record.input);
}

/// The band of 95 % intervals, the line through the estimates, the settings.
fn curve(canvas: &Canvas, panel: &Panel, record: &SweepFindings) {
    let palette = canvas.palette;
    let edge = |end: fn(&SweepPoint) -> f64| {
        record.points.iter().map(move |p| panel.place((p.value, end(p))))
    };
    let mut band: Vec<_> = edge(|p| p.chance.high).collect();
    band.extend(edge(|p| p.chance.low).rev());
    canvas.shape(&band, Some(veil(palette.ember, 0.22)), None, None);
    let line: Vec<_> = edge(|p| p.chance.probability).collect();
    canvas.line(&line, Stroke::solid(palette.ember, look::HEAVY));
    for at in line {
        let rim = Stroke::solid(palette.halo, 1.0);
        canvas.round(at, 3.2, Some(opaque(palette.ember)), Some(rim));
    }
}

/// The input as the scenario has it: its half and its nine in ten over the
/// panel.
fn told(canvas: &Canvas, panel: &Panel, chart: &Chart<'_>) {
    let Some([low, middle, high]) = chart.record.told else { return };
    if high < chart.x.0 || low > chart.x.1 {
        return;
    }
    let palette = canvas.palette;
    let y = panel.rect.top - 34.0;
    let x = |v: f64| panel.place((v.clamp(chart.x.0, chart.x.1), 0.0)).0;
    let pen = Stroke::solid(palette.harbour, look::LINE);
    canvas.line(&[(x(low), y), (x(high), y)], pen);
    for (end, inside) in [(low, low >= chart.x.0), (high, high <= chart.x.1)] {
        if inside {
            canvas.line(&[(x(end), y - 5.0), (x(end), y + 5.0)], pen);
        }
    }
    if (chart.x.0..=chart.x.1).contains(&middle) {
        let dots = pen.dashed(look::ASSUMED);
        let clear = x(middle) > panel.rect.left + NAME;
        let from = if clear { y } else { panel.rect.top };
        canvas.line(&[(x(middle), from), (x(middle), panel.rect.bottom)], dots);
        canvas.round((x(middle), y), 4.0, Some(opaque(palette.harbour)), None);
    }
    let words = format!("as the scenario has it: {}", chart.say(middle));
    let mut text = small(words, canvas);
    text.ink = opaque(palette.harbour);
    let (width, y) = (text.width(), y - 10.0);
    let at = (x(middle) - width / 2.0).clamp(0.0, canvas.width() - width);
    canvas.try_text(&[(at, y)], &text);
}

/// Dotted to the axis from every setting that gives a marked chance.
fn marks(canvas: &Canvas, panel: &Panel, chart: &Chart<'_>) {
    let palette = canvas.palette;
    let shown = chart.marks.iter().filter(|m| m.target <= chart.most);
    let placed: Vec<_> = shown.map(|mark| (mark, panel.place((mark.value, mark.target)))).collect();
    let dots = Stroke::solid(palette.ink, look::LINE).dashed(look::ASSUMED);
    for (mark, (x, y)) in &placed {
        canvas.line(&[(*x, *y), (*x, panel.rect.bottom)], dots);
        if let Some((low, high)) = mark.known {
            let end = |v: f64| panel.place((v.clamp(chart.x.0, chart.x.1), mark.target)).0;
            let pen = Stroke::solid(palette.ink, look::LINE);
            canvas.line(&[(end(low), *y), (end(high), *y)], pen);
            for at in [end(low), end(high)] {
                canvas.line(&[(at, y - 4.0), (at, y + 4.0)], pen);
            }
        }
        canvas.round(
            (*x, *y),
            4.6,
            Some(opaque(palette.halo)),
            Some(Stroke::solid(palette.ink, 2.0)),
        );
    }
    for (mark, (x, y)) in &placed {
        let words = format!("{}: {}", words::share(mark.target), chart.say(mark.value));
        let text = Text::new(words, look::LABEL, palette.ink).bold().halo(palette.halo);
        let width = text.width();
        let (above, below) = (y - 10.0, y + 20.0);
        let places = [
            (x - 10.0 - width, above),
            (x + 10.0, below),
            (x + 10.0, above),
            (x - 10.0 - width, below),
            (x + 10.0, y - 30.0),
            (x - 10.0 - width, y - 30.0),
            (x + 10.0, y + 40.0),
            (x - 10.0 - width, y + 40.0),
            (x + 26.0, y + 5.0),
            (x - 26.0 - width, y + 5.0),
        ];
        let rect = panel.rect;
        let inside = |p: &&(f64, f64)| {
            p.0 > rect.left + 2.0
                && p.0 + width < rect.right
                && p.1 < rect.bottom - 4.0
                && p.1 > rect.top + 8.0
        };
        canvas.try_text(&places.iter().filter(inside).copied().collect::<Vec<_>>(), &text);
    }
}

fn title(chart: &Chart<'_>) -> String {
    let input = &chart.record.input;
    let (least, most) = (chart.extreme(-1.0), chart.extreme(1.0));
    let range =
        format!("from {} to {}", chart.say(chart.first().value), chart.say(chart.last().value));
    if most.chance.held == 0 {
        return format!("Nothing {range} of {input} makes the claim hold");
    }
    if least.chance.held == least.chance.flights {
        return format!("Whatever {input} is {range}, the claim holds every time");
    }
    let asked = chart.record.answers.iter().map(|answer| answer.target);
    let told = |target: f64| Some((target, chart.settings(target)?));
    if let Some((target, settings)) = [0.5, 0.01].into_iter().chain(asked).find_map(told) {
        let title = format!("For {}, {input} would have to be {settings}", aimed(target));
        if target >= 0.5 {
            return title;
        }
        let likeliest = words::counted_share(&most.chance);
        return format!(
            "{title}; it gets no likelier than {likeliest}, at {}",
            chart.say(most.value)
        );
    }
    let [least, most] = [least, most].map(|point| words::counted_share(&point.chance));
    if least == most {
        return format!("Whatever {input} is {range}, the chance stays about {most}");
    }
    format!("Whatever {input} is {range}, the chance stays between {least} and {most}")
}

/// A chance as the title names it.
fn aimed(target: f64) -> String {
    match target {
        t if (t - 0.5).abs() < 1e-9 => "an even chance".to_owned(),
        t if (t - 0.01).abs() < 1e-9 => "1 in 100".to_owned(),
        t => format!("a chance of {}", words::share(t)),
    }
}

fn subtitle(chart: &Chart<'_>) -> String {
    let flights = words::flights(chart.record.swept.flights);
    let read = if chart.record.answers.is_empty() {
        "Marked settings are read off the line between neighbours."
    } else {
        "Marked settings with their 95 % intervals."
    };
    let early = match chart.record.not_flown {
        0 => String::new(),
        left => format!(" It was stopped early: {left} more settings were asked for."),
    };
    format!("Band: 95 % intervals. {flights} at each setting, the same draws at all. {read}{early}")
}

fn description(chart: &Chart<'_>) -> String {
    let points = chart.record.points.iter();
    let list: Vec<String> = points
        .map(|p| format!("{} at {}", words::counted_share(&p.chance), chart.say(p.value)))
        .collect();
    format!("Chance of the claim against {}: {}.", chart.record.input, list.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn the_marked_settings_lie_where_the_line_meets_the_chance() {
        let record = sample::sweep();
        let value = |target| crossings(&record.points, target)[0];
        let p = |x: f64| {
            let i = record.points.iter().position(|p| p.value > x).unwrap();
            let (a, b) = (&record.points[i - 1], &record.points[i]);
            let t = (x - a.value) / (b.value - a.value);
            a.chance.probability * (1.0 - t) + b.chance.probability * t
        };
        for target in MARKED {
            assert!((p(value(target)) - target).abs() < 1e-9, "{target}");
        }
    }

    #[test]
    fn the_title_says_what_would_have_to_be_true() {
        let title = |record: &SweepFindings| sweep(record, Frame::page()).title;
        let mut record = sample::sweep();
        assert!(title(&record).starts_with("For an even chance, air.wind.speed would have to be"));
        record.points.truncate(6);
        assert!(title(&record).starts_with("For 1 in 100"), "{}", title(&record));
        for point in &mut record.points {
            (point.chance.held, point.chance.probability) = (0, 0.0);
        }
        assert!(title(&record).starts_with("Nothing from"), "{}", title(&record));
        for point in &mut record.points {
            (point.chance.held, point.chance.probability) = (point.chance.flights, 1.0);
        }
        let always = "Whatever air.wind.speed is from 6 m/s to 16 m/s, the claim holds every time";
        assert_eq!(title(&record), always);
        for point in &mut record.points {
            (point.chance.held, point.chance.probability) = (8_000, 0.8);
        }
        assert!(title(&record).ends_with("the chance stays about 80 %"), "{}", title(&record));
        record.points.truncate(1);
        assert_eq!(title(&record), "There is no line to draw");
    }
}
