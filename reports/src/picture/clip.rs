//! Cutting lines at a frame, and hatching an outline.
//!
//! plotters clamps what leaves a chart's range to its edge, which would draw a
//! flight out of frame as a false flat line: every line is cut here first.

use super::mark::Point;

/// A point in a chart's own coordinates.
pub(crate) type Place = (f64, f64);

/// The pieces of a line that lie inside `x` and `y` (low, high).
///
/// Source: the parametric clip of Liang and Barsky (1984), (From memory.)
pub(crate) fn cut(line: &[Place], x: (f64, f64), y: (f64, f64)) -> Vec<Vec<Place>> {
    let mut pieces: Vec<Vec<Place>> = Vec::new();
    let mut open = false;
    for pair in line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let Some((from, to)) = inside(a, b, x, y) else {
            open = false;
            continue;
        };
        let at = |t: f64| (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1));
        match pieces.last_mut() {
            Some(piece) if open && from <= 0.0 => piece.push(at(to)),
            _ => pieces.push(vec![at(from), at(to)]),
        }
        open = to >= 1.0;
    }
    pieces
}

/// The part of the segment from `a` to `b` that is inside, as shares of it.
fn inside(a: Place, b: Place, x: (f64, f64), y: (f64, f64)) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let edges = [
        (a.0 - b.0, a.0 - x.0),
        (b.0 - a.0, x.1 - a.0),
        (a.1 - b.1, a.1 - y.0),
        (b.1 - a.1, y.1 - a.1),
    ];
    for (outward, room) in edges {
        if !outward.is_finite() || !room.is_finite() {
            return None;
        }
        if outward > 0.0 {
            to = to.min(room / outward);
        } else if outward < 0.0 {
            from = from.max(room / outward);
        } else if room < 0.0 {
            return None;
        }
    }
    (from <= to).then_some((from, to))
}

/// The part of a convex outline that lies inside `x` and `y` (low, high).
///
/// Source: Sutherland and Hodgman (1974), reentrant polygon clipping. (From
/// memory.)
pub(crate) fn cut_area(outline: &[Place], x: (f64, f64), y: (f64, f64)) -> Vec<Place> {
    let mut corners = outline.to_vec();
    // Each edge as a signed distance that is >= 0 inside.
    let edges: [&dyn Fn(Place) -> f64; 4] =
        [&|p| p.0 - x.0, &|p| x.1 - p.0, &|p| p.1 - y.0, &|p| y.1 - p.1];
    for inside in edges {
        let from = corners;
        corners = Vec::with_capacity(from.len() + 1);
        for (i, &a) in from.iter().enumerate() {
            let b = from[(i + 1) % from.len()];
            let (da, db) = (inside(a), inside(b));
            if da >= 0.0 {
                corners.push(a);
            }
            if (da >= 0.0) != (db >= 0.0) {
                let t = da / (da - db);
                corners.push((a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)));
            }
        }
    }
    corners
}

/// Hatch lines of a closed outline, `pitch` apart on the fine grid, at 45
/// degrees, falling or rising to the right. Even-odd rule.
pub(crate) fn hatch(outline: &[Point], pitch: i32, falling: bool) -> Vec<(Point, Point)> {
    // In turned coordinates u = y -+ x is constant along a hatch line.
    let turned = |p: &Point| {
        let (x, y) = (f64::from(p.0), f64::from(p.1));
        if falling { (y - x, x) } else { (y + x, x) }
    };
    let corners: Vec<(f64, f64)> = outline.iter().map(turned).collect();
    let low = corners.iter().map(|c| c.0).fold(f64::INFINITY, f64::min);
    let high = corners.iter().map(|c| c.0).fold(f64::NEG_INFINITY, f64::max);
    let pitch = f64::from(pitch.max(1)) * std::f64::consts::SQRT_2;
    let mut lines = Vec::new();
    // Lines sit on multiples of the pitch, so neighbouring areas match up.
    let mut u = (low / pitch).ceil() * pitch;
    while u < high && lines.len() < 4000 {
        let mut at = crossings(&corners, u);
        at.sort_by(f64::total_cmp);
        for pair in at.chunks_exact(2) {
            let place = |x: f64| {
                let y = if falling { u + x } else { u - x };
                (super::recorder::whole(x), super::recorder::whole(y))
            };
            lines.push((place(pair[0]), place(pair[1])));
        }
        u += pitch;
    }
    lines
}

/// Where the line at `u` crosses the outline.
fn crossings(corners: &[(f64, f64)], u: f64) -> Vec<f64> {
    let next = corners.iter().cycle().skip(1);
    corners
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.0 <= u) != (b.0 <= u))
        .map(|(a, b)| a.1 + (u - a.0) / (b.0 - a.0) * (b.1 - a.1))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_that_leaves_and_returns_becomes_two_pieces_cut_on_the_edge() {
        let line = [(0.0, 0.0), (2.0, 0.0), (2.0, 0.5), (0.0, 0.5)];
        let pieces = cut(&line, (0.0, 1.0), (-1.0, 1.0));
        assert_eq!(pieces, [vec![(0.0, 0.0), (1.0, 0.0)], vec![(1.0, 0.5), (0.0, 0.5)]]);
    }

    #[test]
    fn a_line_that_only_passes_through_keeps_its_middle() {
        let pieces = cut(&[(-1.0, 0.5), (3.0, 0.5)], (0.0, 1.0), (0.0, 1.0));
        assert_eq!(pieces, [vec![(0.0, 0.5), (1.0, 0.5)]]);
    }

    #[test]
    fn a_line_outside_or_not_a_number_leaves_nothing() {
        assert!(cut(&[(2.0, 2.0), (3.0, 3.0)], (0.0, 1.0), (0.0, 1.0)).is_empty());
        assert!(cut(&[(f64::NAN, 0.0), (0.5, 0.5)], (0.0, 1.0), (0.0, 1.0)).is_empty());
    }

    #[test]
    fn an_area_is_cut_at_the_frame_and_vanishes_outside_it() {
        let square = [(-1.0, -1.0), (0.5, -1.0), (0.5, 0.5), (-1.0, 0.5)];
        let cut = cut_area(&square, (0.0, 1.0), (0.0, 1.0));
        let area: f64 = cut
            .iter()
            .zip(cut.iter().cycle().skip(1))
            .map(|(a, b)| (a.0 * b.1 - b.0 * a.1) / 2.0)
            .sum();
        assert!((area - 0.25).abs() < 1e-12, "{cut:?}");
        assert!(cut_area(&square, (2.0, 3.0), (0.0, 1.0)).is_empty());
    }

    #[test]
    fn hatch_lines_stay_inside_a_square_and_cover_it() {
        let square = [(0, 0), (1000, 0), (1000, 1000), (0, 1000)];
        let lines = hatch(&square, 50, true);
        // u runs from -1000 to 1000 in steps of 50 √2, and 0 is one of them:
        // 14 on either side.
        assert_eq!(lines.len(), 29);
        for (a, b) in lines {
            for v in [a.0, a.1, b.0, b.1] {
                assert!((0..=1000).contains(&v), "{v}");
            }
        }
    }
}
