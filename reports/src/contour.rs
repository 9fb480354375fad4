//! Lines of equal height over a grid of values, and the bands between them.
//!
//! Between the corners of a cell the value is bilinear; places are shares of
//! the whole, x to the right and y up, 0..=1.

/// Cells are cut so fine for the lines.
const FINE: u32 = 6;
/// Height of a stripe of a band, px.
const STRIPE: f64 = 2.0;

/// Values at the crossings of a grid, a row for each y from below.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Grid(Vec<Vec<f64>>);

impl Grid {
    /// `None` unless there are two rows or more of the same two columns or more.
    pub(crate) fn new(rows: Vec<Vec<f64>>) -> Option<Self> {
        let columns = rows.first()?.len();
        let even = rows.iter().all(|row| row.len() == columns);
        (rows.len() > 1 && columns > 1 && even).then_some(Self(rows))
    }

    pub(crate) fn columns(&self) -> usize {
        self.0[0].len()
    }

    pub(crate) fn rows(&self) -> usize {
        self.0.len()
    }

    /// The value at a place.
    pub(crate) fn at(&self, x: f64, y: f64) -> f64 {
        let (i, s) = cell(x, self.columns());
        let (j, t) = cell(y, self.rows());
        let row = |j: usize| self.0[j][i] * (1.0 - s) + self.0[j][i + 1] * s;
        row(j) * (1.0 - t) + row(j + 1) * t
    }
}

/// The cell of a share, and the place in it.
#[expect(clippy::cast_precision_loss, reason = "a few cells")]
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded")]
fn cell(share: f64, count: usize) -> (usize, f64) {
    let last = count - 2;
    let along = share.clamp(0.0, 1.0) * (last + 1) as f64;
    let i = (along.floor() as usize).min(last);
    (i, along - i as f64)
}

/// The pieces of the line on which the grid has the value `level`.
///
/// Source: marching squares, cells cut into triangles so that no saddle is
/// ambiguous; common practice, no source.
pub(crate) fn segments(grid: &Grid, level: f64) -> Vec<[(f64, f64); 2]> {
    let fine = |cells: usize| FINE * u32::try_from(cells - 1).unwrap_or(1);
    let (nx, ny) = (fine(grid.columns()), fine(grid.rows()));
    let mut out = Vec::new();
    for j in 0..ny {
        for i in 0..nx {
            let corner = |di: u32, dj: u32| {
                let (x, y) = (f64::from(i + di) / f64::from(nx), f64::from(j + dj) / f64::from(ny));
                (x, y, grid.at(x, y) - level)
            };
            let [a, b, c, d] = [corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)];
            out.extend(across([a, b, c]));
            out.extend(across([a, c, d]));
        }
    }
    out
}

/// Where height 0 crosses a triangle of (x, y, height).
fn across(corners: [(f64, f64, f64); 3]) -> Option<[(f64, f64); 2]> {
    let mut ends = Vec::with_capacity(2);
    for k in 0..3 {
        let (a, b) = (corners[k], corners[(k + 1) % 3]);
        if (a.2 < 0.0) != (b.2 < 0.0) {
            let t = a.2 / (a.2 - b.2);
            ends.push((a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)));
        }
    }
    <[(f64, f64); 2]>::try_from(ends).ok()
}

/// Part of a band: px from the top left of a panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stripe {
    pub x: (f64, f64),
    pub y: (f64, f64),
    /// How many levels lie below it.
    pub band: usize,
}

/// The bands between rising `levels` as stripes on whole pixels of a panel of
/// the size given.
pub(crate) fn bands(grid: &Grid, (wide, high): (f64, f64), levels: &[f64]) -> Vec<Stripe> {
    let mut out: Vec<Stripe> = Vec::new();
    let mut y = 0.0;
    while y < high {
        let bottom = (y + STRIPE).min(high);
        let middle = 1.0 - f64::midpoint(y, bottom) / high;
        let mut x = 0.0;
        while x < wide {
            let right = (x + STRIPE).min(wide);
            let value = grid.at(f64::midpoint(x, right) / wide, middle);
            let band = levels.iter().filter(|level| value >= **level).count();
            match out.last_mut() {
                Some(last) if last.band == band && (last.y.0 - y).abs() < 1e-9 => last.x.1 = right,
                _ => out.push(Stripe { x: (x, right), y: (y, bottom), band }),
            }
            x = right;
        }
        y = bottom;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use longodds_sim::math;

    fn slope() -> Grid {
        Grid::new(vec![vec![0.0, 0.5, 1.0], vec![1.0, 1.5, 2.0]]).unwrap()
    }

    /// Source: the plane z = x + y, by hand.
    #[test]
    fn the_contour_of_a_plane_is_its_straight_line() {
        let pieces = segments(&slope(), 0.75);
        assert!(!pieces.is_empty());
        for (x, y) in pieces.iter().flatten() {
            assert!((x + y - 0.75).abs() < 1e-12, "{x} {y}");
        }
        let long: f64 = pieces.iter().map(|[a, b]| math::hypot(a.0 - b.0, a.1 - b.1)).sum();
        assert!((long - 0.75 * 2.0_f64.sqrt()).abs() < 1e-12, "{long}");
        assert!(segments(&slope(), 2.5).is_empty());
    }

    #[test]
    fn the_bands_cover_the_panel_once() {
        let stripes = bands(&slope(), (101.0, 51.0), &[0.5, 1.0]);
        let area: f64 = stripes.iter().map(|s| (s.x.1 - s.x.0) * (s.y.1 - s.y.0)).sum();
        assert!((area - 101.0 * 51.0).abs() < 1e-6);
        // Source: the plane z = x + y: an eighth of the square lies below 1/2.
        let low = stripes.iter().filter(|s| s.band == 0);
        let share = low.map(|s| (s.x.1 - s.x.0) * (s.y.1 - s.y.0)).sum::<f64>() / area;
        assert!((share - 0.125).abs() < 0.01, "{share}");
    }

    #[test]
    fn an_uneven_grid_is_none() {
        assert_eq!(Grid::new(vec![vec![0.0, 1.0], vec![0.0]]), None);
        assert_eq!(Grid::new(vec![vec![0.0, 1.0]]), None);
        assert_eq!(Grid::new(Vec::new()), None);
    }
}
