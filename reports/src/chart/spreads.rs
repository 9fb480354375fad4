//! Speeds, misses and angles of arrival.

use super::{
    histogram::{self, Histogram},
    nothing,
};
use crate::{canvas::Frame, picture::Picture, words};
use longodds_sim::{
    findings::{Findings, Spread},
    quantity::Dimension,
};

fn over(spread: &Spread, what: &str) -> String {
    format!("{what}. {}; the height is how often.", words::flights(spread.count))
}

/// Speed on arrival.
#[must_use]
pub fn impact_speed(findings: &Findings, frame: Frame) -> Picture {
    let Some(spread) = &findings.impact_speed else {
        let why = "There is no speed of arrival to show.";
        return nothing("impact-speed", "No flight struck what was aimed at", why, frame);
    };
    let show = findings.show;
    let say = |q: usize| words::quantity(spread.quantiles[q], Dimension::Speed, show);
    let title = match spread.count {
        1 => format!("The one strike arrives at {}", say(3)),
        // Too few to tell of one in twenty.
        few if few < 20 => format!("Half of the {few} strikes arrive faster than {}", say(3)),
        _ => format!(
            "Half of the strikes arrive faster than {}, one in twenty faster than {}",
            say(3),
            say(5)
        ),
    };
    let what = "Speed of the centre of mass relative to the face, at the strikes";
    let histogram = Histogram {
        name: "impact-speed",
        title,
        subtitle: over(spread, what),
        spread,
        dimension: Dimension::Speed,
        show,
        what: "speed on arrival",
        from_zero: false,
    };
    histogram::draw(&histogram, frame)
}

/// Distance from the face's outline.
#[must_use]
pub fn miss_distance(findings: &Findings, frame: Frame) -> Picture {
    let Some(spread) = &findings.miss_distance else {
        let why = "There is no miss distance to show.";
        return nothing("miss-distance", "No flight came as far as the target", why, frame);
    };
    let show = findings.show;
    if spread.max <= 0.0 {
        let title = "All that comes so far passes inside the outline";
        let why = format!("Every miss distance is 0, over {}.", words::flights(spread.count));
        return nothing("miss-distance", title, &why, frame);
    }
    let half = words::quantity(spread.quantiles[3], Dimension::Length, show);
    let title = if spread.quantiles[3] > 0.0 {
        format!("Half of what comes so far misses by {half} or more")
    } else {
        "At least half of what comes so far passes inside the outline".to_owned()
    };
    let what = "Distance from the outline of the face where the centre of mass crosses its plane (0 is inside)";
    let histogram = Histogram {
        name: "miss-distance",
        title,
        subtitle: over(spread, what),
        spread,
        dimension: Dimension::Length,
        show,
        what: "miss distance",
        from_zero: true,
    };
    histogram::draw(&histogram, frame)
}

/// Angle between path and normal.
#[must_use]
pub fn obliquity(findings: &Findings, frame: Frame) -> Picture {
    let Some(spread) = &findings.obliquity else {
        let why = "There is no angle of arrival to show.";
        return nothing("obliquity", "No flight struck what was aimed at", why, frame);
    };
    let show = findings.show;
    let half = words::quantity(spread.quantiles[3], Dimension::Angle, show);
    let title = if spread.count == 1 {
        format!("The one strike comes in {half} from square on")
    } else {
        format!("Half of the strikes come in within {half} of square on")
    };
    let what = "Obliquity, the angle between the path and the normal of the face (0° is square on), at the strikes";
    let histogram = Histogram {
        name: "obliquity",
        title,
        subtitle: over(spread, what),
        spread,
        dimension: Dimension::Angle,
        show,
        what: "obliquity",
        from_zero: true,
    };
    histogram::draw(&histogram, frame)
}
