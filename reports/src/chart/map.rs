//! What would have to be true of two inputs: the chance as a map with contours.

use super::{nothing, small};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    contour::{Grid, bands, segments},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{MapFindings, MapSide, Share},
    math,
    quantity::Show,
};

const LEFT: f64 = 70.0;
const RIGHT: f64 = 22.0;
const HIGH: f64 = 400.0;
const HEAD: f64 = 30.0;
/// Chances with a contour, where there are flights enough to tell them.
const LEVELS: [f64; 7] = [0.001, 0.01, 0.1, 0.25, 0.5, 0.9, 0.99];
/// Fewest flights that must hold, and fail, on a contour: fewer are noise.
const FEWEST: f64 = 10.0;

/// Draws the chance of the claim over the two inputs.
#[must_use]
pub fn map(record: &MapFindings, frame: Frame) -> Picture {
    let Some(grid) = grid(record) else {
        let why = "A map needs two settings of both inputs.";
        return nothing("map", "There is no map to draw", why, frame);
    };
    let (title, subtitle) = (title(record), subtitle(record));
    let width = f64::from(frame.width);
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + HEAD + HIGH + 48.0);
    // Whole pixels: neighbouring stripes then meet without a seam.
    let top = (canvas.heading(&title, &subtitle) + HEAD).round();
    let rect = Rect { left: LEFT, top, right: (width - RIGHT).round(), bottom: top + HIGH };
    let ends = |side: &MapSide| side.values[0]..side.values[side.values.len() - 1];
    let panel = canvas.panel(rect, ends(&record.across), ends(&record.up));
    let levels = levels(record);
    tint(&canvas, rect, &grid, &levels);
    axes(&canvas, &panel, record);
    let lines = contours(&canvas, rect, &grid, &levels);
    settings(&canvas, &panel, record);
    told(&canvas, &panel, record);
    for (level, line) in &lines {
        label(&canvas, rect, *level, line);
    }
    canvas.finish("map", &title, &description(record))
}

fn grid(record: &MapFindings) -> Option<Grid> {
    let rows = record.chances.iter().map(|row| row.iter().map(height).collect());
    let grid = Grid::new(rows.collect())?;
    let fits = |side: &MapSide, n: usize| {
        side.values.len() == n && side.values.windows(2).all(|pair| pair[0] < pair[1])
    };
    (fits(&record.across, grid.columns()) && fits(&record.up, grid.rows())).then_some(grid)
}

/// The chance as its log odds, in which it is nearly straight from setting to
/// setting; half a flight is added on both sides, so that never and always
/// have a height.
fn height(chance: &Share) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "for drawing")]
    let (held, failed) = (chance.held as f64, (chance.flights.saturating_sub(chance.held)) as f64);
    math::ln((held + 0.5) / (failed + 0.5))
}

fn levels(record: &MapFindings) -> Vec<f64> {
    #[expect(clippy::cast_precision_loss, reason = "for drawing")]
    let flights = record.swept.flights as f64;
    let told = |level: &f64| level.min(1.0 - level) * flights >= FEWEST;
    LEVELS.into_iter().filter(told).collect()
}

fn log_odds(chance: f64) -> f64 {
    math::ln(chance / (1.0 - chance))
}

/// The likelier, the darker.
fn tint(canvas: &Canvas, rect: Rect, grid: &Grid, levels: &[f64]) {
    let ember = canvas.palette.ember;
    let rises: Vec<f64> = levels.iter().copied().map(log_odds).collect();
    // A level has the same tint on every map.
    let shade = |band: usize| {
        let below = LEVELS.iter().filter(|l| **l <= levels[band - 1]).count();
        0.09 * f64::from(u32::try_from(below).unwrap_or(0))
    };
    for stripe in bands(grid, (rect.width(), rect.height()), &rises) {
        if stripe.band > 0 {
            let (left, top) = (rect.left + stripe.x.0, rect.top + stripe.y.0);
            let (right, bottom) = (rect.left + stripe.x.1, rect.top + stripe.y.1);
            let area = Rect { left, top, right, bottom };
            canvas.area(&area.corners(), veil(ember, shade(stripe.band)));
        }
    }
}

fn axes(canvas: &Canvas, panel: &Panel, record: &MapFindings) {
    let scale = |side: &MapSide| {
        let largest = side.values.iter().fold(0.0, |most: f64, v| most.max(v.abs()));
        Scale::new(words::dimension(&side.dimension), record.swept.show, largest)
    };
    panel.y_axis(canvas, &scale(&record.up), &record.up.input);
    panel.x_axis(canvas, &scale(&record.across), &record.across.input);
}

type Segments = Vec<[(f64, f64); 2]>;

/// The contour lines, in px of the sheet.
fn contours(canvas: &Canvas, rect: Rect, grid: &Grid, levels: &[f64]) -> Vec<(f64, Segments)> {
    let place =
        |(x, y): (f64, f64)| (rect.left + x * rect.width(), rect.bottom - y * rect.height());
    let mut drawn = Vec::new();
    for &level in levels {
        let line: Segments =
            segments(grid, log_odds(level)).into_iter().map(|piece| piece.map(place)).collect();
        let width = if (level - 0.5).abs() < 1e-9 { look::HEAVY } else { look::LINE };
        for piece in &line {
            canvas.line(piece, Stroke::solid(canvas.palette.ink, width));
        }
        drawn.push((level, line));
    }
    drawn
}

/// A dot for each setting flown.
fn settings(canvas: &Canvas, panel: &Panel, record: &MapFindings) {
    for &x in &record.across.values {
        for &y in &record.up.values {
            canvas.round(panel.place((x, y)), 1.6, Some(opaque(canvas.palette.quiet)), None);
        }
    }
}

/// The scenario's own middle, if it lies on the map.
fn told(canvas: &Canvas, panel: &Panel, record: &MapFindings) {
    let (Some(across), Some(up)) = (record.across.told, record.up.told) else { return };
    let on = |v: f64, range: &std::ops::Range<f64>| range.start <= v && v <= range.end;
    if !on(across[1], &panel.x) || !on(up[1], &panel.y) {
        return;
    }
    let palette = canvas.palette;
    let (x, y) = panel.place((across[1], up[1]));
    let rim = Stroke::solid(palette.harbour, look::HEAVY);
    canvas.round((x, y), 5.0, Some(opaque(palette.halo)), Some(rim));
    let mut text = small("as the scenario has it", canvas).halo(palette.halo).bold();
    text.ink = opaque(palette.harbour);
    let width = text.width();
    let places = [
        (x + 11.0, y + 4.5),
        (x - 11.0 - width, y + 4.5),
        (x - width / 2.0, y - 12.0),
        (x - width / 2.0, y + 22.0),
    ];
    let rect = panel.rect;
    let inside = |p: &&(f64, f64)| p.0 > rect.left && p.0 + width < rect.right;
    canvas.try_text(&places.iter().filter(inside).copied().collect::<Vec<_>>(), &text);
}

/// The contour's chance, on the line, as near to its middle as there is room.
fn label(canvas: &Canvas, rect: Rect, level: f64, line: &Segments) {
    let palette = canvas.palette;
    let text = Text::new(words::share(level), look::LABEL, palette.ink);
    let text = text.bold().middle().halo(palette.halo);
    let half = text.width() / 2.0 + 4.0;
    let middles =
        line.iter().map(|[a, b]| (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1) + 5.0));
    let room = |p: &(f64, f64)| {
        p.0 - half > rect.left
            && p.0 + half < rect.right
            && p.1 - 18.0 > rect.top
            && p.1 + 8.0 < rect.bottom
    };
    let mut places: Vec<_> = middles.filter(room).collect();
    let centre = (f64::midpoint(rect.left, rect.right), f64::midpoint(rect.top, rect.bottom));
    let far = |p: &(f64, f64)| (p.0 - centre.0).abs() + (p.1 - centre.1).abs();
    places.sort_by(|a, b| far(a).total_cmp(&far(b)));
    canvas.try_text(&places, &text);
}

fn say(side: &MapSide, value: f64, show: Show) -> String {
    words::quantity(value, words::dimension(&side.dimension), show)
}

/// Place of the highest (`sign` 1) or lowest chance.
fn extreme(record: &MapFindings, sign: f64) -> (f64, f64, f64) {
    let cells = record.up.values.iter().zip(&record.chances).flat_map(|(&up, row)| {
        let across = record.across.values.iter();
        across.zip(row).map(move |(&across, chance)| (across, up, chance.probability))
    });
    let most = cells.max_by(|a, b| (sign * a.2).total_cmp(&(sign * b.2)));
    most.unwrap_or((0.0, 0.0, 0.0))
}

fn title(record: &MapFindings) -> String {
    let show = record.swept.show;
    let (across, up, most) = extreme(record, 1.0);
    let least = extreme(record, -1.0).2;
    if most <= 0.0 {
        return format!(
            "Nothing on this map of {} and {} makes the claim hold",
            record.across.input, record.up.input
        );
    }
    if most - least < 1e-3 * most {
        return format!("Everywhere on this map the chance is {}", words::share(most));
    }
    format!(
        "The chance runs from {} to {}: likeliest with {} at {} and {} at {}",
        words::share(least),
        words::share(most),
        record.across.input,
        say(&record.across, across, show),
        record.up.input,
        say(&record.up, up, show)
    )
}

fn subtitle(record: &MapFindings) -> String {
    format!(
        "On each line the claim has the chance written on it; the darker, the likelier. {} at each of {} settings (dots).",
        words::flights(record.swept.flights),
        record.across.values.len() * record.up.values.len()
    )
}

fn description(record: &MapFindings) -> String {
    let show = record.swept.show;
    let row = |(up, row): (&f64, &Vec<Share>)| {
        let cells: Vec<String> = row.iter().map(words::counted_share).collect();
        format!("{} at {}: {}", record.up.input, say(&record.up, *up, show), cells.join(", "))
    };
    let rows: Vec<String> = record.up.values.iter().zip(&record.chances).map(row).collect();
    let across: Vec<String> =
        record.across.values.iter().map(|v| say(&record.across, *v, show)).collect();
    format!(
        "Chance of the claim with {} at {}. {}.",
        record.across.input,
        across.join(", "),
        rows.join("; ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn the_title_names_the_likeliest_setting() {
        let picture = map(&sample::map(), Frame::page());
        assert!(
            picture.title.contains("likeliest with air.wind.speed at 30 m/s"),
            "{}",
            picture.title
        );
        assert!(picture.texts().iter().any(|t| t.text == "50 %"), "the contour is labelled");
    }

    #[test]
    fn what_is_no_map_says_so() {
        let mut record = sample::map();
        record.chances.truncate(1);
        assert_eq!(map(&record, Frame::page()).title, "There is no map to draw");
        record = sample::map();
        record.chances[2].pop();
        assert_eq!(map(&record, Frame::page()).title, "There is no map to draw");
    }
}
