//! The two views of a set-up: what they hold, and where they stand in the picture.

use super::{head, marks};
use crate::{
    canvas::{Canvas, Frame, Panel},
    chart::view::{self, View, Window},
};
use longodds_sim::findings::SetUp;
use serde::{Deserialize, Serialize};

/// Room to the left of a view, over it for its name and under it, px.
const LEFT: f64 = 12.0;
const HEAD: f64 = 34.0;
const FOOT: f64 = 44.0;
/// Largest height of one view, px.
const TALL: f64 = 340.0;
/// Room between views that stand side by side, px.
const BETWEEN: f64 = 26.0;
/// Least width of a view beside another, px: its name and its marks.
const NARROW: f64 = 190.0;

/// Where two views stand in a picture, and at what scale: held while what they show is
/// moved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Views {
    /// Pixels to the metre, in both.
    pub scale: f64,
    /// Seen from the side: x and z.
    pub side: Held,
    /// Seen from above: x and y.
    pub plan: Held,
    height: f64,
}

/// Views stand side by side where that draws them at least so large.
const AS_LARGE: f64 = 0.8;

/// A view that is held.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Held {
    /// From and to along x, in m.
    pub across: (f64, f64),
    /// From and to upwards in the picture, in m.
    pub up: (f64, f64),
    /// Top left corner, px.
    pub corner: (f64, f64),
}

impl Held {
    fn new(window: &Window, corner: (f64, f64)) -> Self {
        Self { across: window.x, up: window.y, corner }
    }

    fn window(&self) -> Window {
        Window { x: self.across, y: self.up }
    }
}

impl Views {
    /// Those that hold all of a set-up, as large as the frame allows.
    #[must_use]
    pub fn of(set_up: &SetUp, frame: Frame) -> Self {
        let [side, plan] = [View::Side, View::Plan].map(|which| window(set_up, which));
        let room = f64::from(frame.width) - 2.0 * LEFT;
        let wide = side.wide().max(plan.wide());
        let stacked = (room / wide).min(TALL / side.high()).min(TALL / plan.high());
        // Each at least as wide as its name and its marks.
        let beside = |scale: f64| [&side, &plan].map(|w| (w.wide() * scale).max(NARROW));
        let tall = side.high().max(plan.high());
        let fits = |scale: f64| beside(scale).iter().sum::<f64>() + BETWEEN <= room;
        let largest = (TALL / tall).min((room - BETWEEN) / (side.wide() + plan.wide()));
        let largest = if fits(largest) { largest } else { 0.0 };
        let top = head(set_up, frame) + HEAD;
        if largest >= AS_LARGE * stacked {
            let second = LEFT + beside(largest)[0] + BETWEEN;
            return Self {
                scale: largest,
                side: Held::new(&side, (LEFT, top)),
                plan: Held::new(&plan, (second, top)),
                height: top + tall * largest + FOOT + marks::larger_height(set_up, largest),
            };
        }
        let second = top + side.high() * stacked + FOOT + HEAD;
        Self {
            scale: stacked,
            side: Held::new(&side, (LEFT, top)),
            plan: Held::new(&plan, (LEFT, second)),
            height: second + plan.high() * stacked + FOOT + marks::larger_height(set_up, stacked),
        }
    }

    /// Height of the picture, px.
    pub(super) fn height(&self) -> f64 {
        self.height
    }

    fn held(&self, which: View) -> &Held {
        match which {
            View::Side => &self.side,
            View::Plan => &self.plan,
        }
    }

    pub(super) fn panel(&self, canvas: &Canvas, which: View) -> Panel {
        let held = self.held(which);
        held.window().panel(canvas, held.corner.0, held.corner.1, self.scale)
    }

    /// Where a view's name stands.
    pub(super) fn name_at(&self, which: View) -> (f64, f64) {
        let (x, y) = self.held(which).corner;
        (x, y - 10.0)
    }

    /// Under both views, at the left of the one from above.
    pub(super) fn foot(&self) -> (f64, f64) {
        let under = |held: &Held| held.corner.1 + (held.up.1 - held.up.0) * self.scale;
        (self.plan.corner.0, under(&self.plan).max(under(&self.side)) + 26.0)
    }

    /// Whether a picture can be drawn in them: views that were handed out and come back
    /// may have been changed on the way.
    #[must_use]
    pub fn are_sound(&self) -> bool {
        let within = |x: f64| x.is_finite() && x.abs() <= 1e5;
        let held = |of: &Held| {
            let ends = [of.across, of.up, of.corner];
            let opens = |(from, to): (f64, f64)| from < to;
            ends.iter().all(|(a, b)| within(*a) && within(*b)) && opens(of.across) && opens(of.up)
        };
        let drawn = |of: &Held| (of.across.1 - of.across.0).max(of.up.1 - of.up.0) * self.scale;
        let small = |of: &Held| (1.0..=4000.0).contains(&drawn(of));
        within(self.scale)
            && (1.0..=8000.0).contains(&self.height)
            && [&self.side, &self.plan].into_iter().all(|of| held(of) && small(of))
    }

    /// Where a point of the world (m) stands in the view from the side, px.
    #[must_use]
    pub fn from_the_side(&self, at: [f64; 3]) -> (f64, f64) {
        self.px(View::Side, at)
    }

    /// Where a point of the world (m) stands in the view from above, px.
    #[must_use]
    pub fn from_above(&self, at: [f64; 3]) -> (f64, f64) {
        self.px(View::Plan, at)
    }

    fn px(&self, which: View, at: [f64; 3]) -> (f64, f64) {
        let (held, (x, y)) = (self.held(which), which.flat(at));
        let (left, top) = held.corner;
        (left + (x - held.across.0) * self.scale, top + (held.up.1 - y) * self.scale)
    }
}

/// What a view has to hold: the object and where it may start, the aimed faces and where
/// they may stand, solids, the ground under it all; of the rest of the target, what is
/// not far away.
fn window(set_up: &SetUp, which: View) -> Window {
    let mut window = Window::new();
    for point in marks::outline(set_up, which) {
        window.include(point);
    }
    for corner in marks::corners(set_up.start.reach) {
        window.include(which.flat(corner));
    }
    let reach = set_up.start.target_reach;
    for face in set_up.faces.iter().filter(|face| face.aim) {
        for point in view::face(face) {
            for x in reach[0] {
                for y in reach[1] {
                    window.include(which.flat([point[0] + x, point[1] + y, point[2]]));
                }
            }
        }
    }
    if which == View::Side {
        window.include((window.x.0, 0.0));
    }
    let near = window.clone().padded(0.6, 1.0);
    for solid in &set_up.solids {
        for point in view::solid(solid) {
            let (x, y) = which.flat(point);
            window.include((x.clamp(near.x.0, near.x.1), y.clamp(near.y.0, near.y.1)));
        }
    }
    window.padded(0.06, 0.5)
}
