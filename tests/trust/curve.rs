//! Small pictures of what is compared along a curve: ours as a line, the published
//! values as dots.

use super::row::Row;
use longodds_sim::{
    aero::{cylinder_drag, sphere_drag, spin_lift},
    body::Surface,
    math,
};
use std::fmt::Write;

/// A curve of ours that rows hold published values against.
pub(super) struct Curve {
    /// Key of the model.
    pub(super) model: &'static str,
    /// What goes up against what goes right, in words.
    pub(super) words: &'static str,
    /// How the claims of its rows begin; the rest of each is the place along it.
    prefix: &'static str,
    ours: fn(f64) -> f64,
    from: f64,
    to: f64,
    /// Whether the way along it is in decades.
    decades: bool,
}

pub(super) const CURVES: [Curve; 3] = [
    Curve {
        model: "sphere",
        words: "drag coefficient of a sphere before its crisis, by Reynolds number",
        prefix: "drag at Re ",
        ours: sphere_drag,
        from: 10.0,
        to: 1e5,
        decades: true,
    },
    Curve {
        model: "cylinder",
        words: "drag coefficient of a long cylinder before its crisis, by Reynolds number",
        prefix: "drag at Re ",
        ours: cylinder_drag,
        from: 10.0,
        to: 1e5,
        decades: true,
    },
    Curve {
        model: "curve of the spinning ball",
        words: "lift coefficient of a baseball, by rim speed over speed",
        prefix: "lift at a rim speed of ",
        ours: |spin| spin_lift(Surface::Seamed, spin),
        from: 0.0,
        to: 0.6,
        decades: false,
    },
];

const WIDE: f64 = 360.0;
const HIGH: f64 = 140.0;
const MARGIN: f64 = 28.0;

impl Curve {
    /// Its file, beside the page.
    pub(super) fn file(&self) -> String {
        format!("trust/{}.svg", self.model.replace(' ', "-"))
    }

    /// The published values along it: where, and how much.
    fn published(&self, rows: &[Row]) -> Vec<(f64, f64)> {
        let mine = rows.iter().filter(|row| row.model == self.model);
        mine.filter_map(|row| {
            Some((row.claim.strip_prefix(self.prefix)?.parse().ok()?, row.published))
        })
        .collect()
    }

    fn along(&self, share: f64) -> f64 {
        if self.decades {
            self.from * math::pow(self.to / self.from, share)
        } else {
            self.from + share * (self.to - self.from)
        }
    }

    fn share(&self, x: f64) -> f64 {
        if self.decades {
            math::ln(x / self.from) / math::ln(self.to / self.from)
        } else {
            (x - self.from) / (self.to - self.from)
        }
    }

    /// The picture.
    pub(super) fn svg(&self, rows: &[Row]) -> String {
        let published = self.published(rows);
        assert!(published.len() > 2, "{}: a curve without values", self.model);
        let line: Vec<(f64, f64)> = (0..=80)
            .map(|i| f64::from(i) / 80.0)
            .map(|share| (share, (self.ours)(self.along(share))))
            .collect();
        let values = line.iter().chain(&published).map(|point| point.1);
        let top = values.fold(0.0_f64, f64::max) * 1.05;
        let place = |share: f64, y: f64| {
            let (wide, high) = (WIDE - 2.0 * MARGIN, HIGH - 2.0 * MARGIN);
            (MARGIN + share * wide, HIGH - MARGIN - y / top * high)
        };
        let points: Vec<String> = line
            .iter()
            .map(|(share, y)| place(*share, *y))
            .map(|(x, y)| format!("{x:.1},{y:.1}"))
            .collect();
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDE}\" height=\"{HIGH}\" viewBox=\"0 0 {WIDE} {HIGH}\">\n\
             <title>{}: ours as a line, published values as dots</title>\n\
             <rect width=\"{WIDE}\" height=\"{HIGH}\" fill=\"#fff\"/>\n\
             <polyline fill=\"none\" stroke=\"#1b4d6b\" stroke-width=\"1.5\" points=\"{}\"/>\n",
            self.words,
            points.join(" "),
        );
        for (x, y) in &published {
            let (x, y) = place(self.share(*x), *y);
            let _ = writeln!(out, "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"3\" fill=\"#b3401f\"/>");
        }
        let (low, zero) = (HIGH - MARGIN, place(0.0, 0.0).1);
        let _ = writeln!(
            out,
            "<path d=\"M{MARGIN} {MARGIN}V{zero:.1}H{:.1}\" fill=\"none\" stroke=\"#555\"/>",
            WIDE - MARGIN
        );
        for (x, y, anchor, text) in [
            (MARGIN - 4.0, MARGIN + 4.0, "end", format!("{top:.2}")),
            (MARGIN - 4.0, low, "end", "0".to_owned()),
            (MARGIN, low + 14.0, "middle", format!("{}", self.from)),
            (WIDE - MARGIN, low + 14.0, "middle", format!("{}", self.to)),
        ] {
            let _ = writeln!(
                out,
                "<text x=\"{x:.1}\" y=\"{y:.1}\" font-family=\"sans-serif\" font-size=\"10\" text-anchor=\"{anchor}\">{text}</text>"
            );
        }
        out.push_str("</svg>\n");
        out
    }
}
