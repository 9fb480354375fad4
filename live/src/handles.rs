//! What can be moved in the picture of the set-up: where each handle stands, and
//! which number it changes by how much.

use crate::form::{Handle, fields_of, step_of};
use longodds_sim::{
    math::{cos, sin},
    quantity::Dimension,
    scenario::{InputId, Scenario, language},
};
use serde_json::{Value, json};

/// A view of the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// From the side: x and z.
    Side,
    /// From above: x and y.
    Plan,
}

impl View {
    fn name(self) -> &'static str {
        match self {
            Self::Side => "side",
            Self::Plan => "plan",
        }
    }
}

/// Where a number can be taken hold of.
struct Hold {
    key: String,
    label: String,
    view: View,
    /// Where it stands in the world, m.
    at: [f64; 3],
    /// Along which axis of the world it moves.
    along: usize,
    /// SI value per metre along it.
    per_metre: f64,
}

/// The handles of a claim, laid where `px` says that a point of the world (m) is in
/// a view, px.
pub(crate) fn handles(
    scenario: &Scenario,
    px: &dyn Fn(View, [f64; 3]) -> (f64, f64),
) -> Vec<Value> {
    let language = language();
    let fields = fields_of(scenario, &language);
    let told = |hold: Hold| {
        let field = fields.iter().find(|field| field.path() == hold.key)?;
        let parts = field.places();
        let first = parts.first()?;
        let value = field.quantiles()[1];
        let (x, y) = px(hold.view, hold.at);
        let mut next = hold.at;
        next[hold.along] += 1.0;
        let (right, down) = px(hold.view, next);
        let across = (right - x).abs() > (down - y).abs();
        let px_per_metre = if across { right - x } else { down - y };
        let unit_per_px = hold.per_metre / px_per_metre;
        let [low, high] = reach(value, field.dimension(), field.bounds());
        let step = step_of(value, &first.scale);
        let parts: Vec<Value> = parts
            .iter()
            .map(|Handle { path, value, scale, .. }| {
                json!({
                    "path": path, "value": value, "unit": scale.unit,
                    "per": scale.per, "off": scale.off, "step": step,
                })
            })
            .collect();
        unit_per_px.is_finite().then(|| {
            json!({
                "key": hold.key, "label": hold.label, "view": hold.view.name(),
                "axis": if across { "x" } else { "y" }, "x": x, "y": y,
                "unit_per_px": unit_per_px, "value": value, "low": low, "high": high,
                "text": first.scale.text(value), "parts": parts,
            })
        })
    };
    holds(scenario).into_iter().filter_map(told).collect()
}

/// How far a number can be moved in one go, SI: as far again as it is large, within
/// what it can be.
fn reach(value: f64, dimension: Dimension, [least, most]: [f64; 2]) -> [f64; 2] {
    let wide = match dimension {
        Dimension::Angle => 60.0_f64.to_radians(),
        _ => (3.0 * value.abs()).max(1.0),
    };
    [(value - wide).max(least), (value + wide).min(most)]
}

/// What can be taken hold of.
fn holds(scenario: &Scenario) -> Vec<Hold> {
    let middle = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.5);
    let key = |id: InputId| scenario.inputs.get(id).name.clone();
    let [x, y, z] = *scenario.release.place();
    let start = [x, y, z].map(middle);
    let motion = &scenario.target.motion;
    let target = [middle(motion.at), middle(motion.left)];
    let hold = |id, label: &str, view, at, along| Hold {
        key: key(id),
        label: label.to_owned(),
        view,
        at,
        along,
        per_metre: 1.0,
    };
    let ground = [target[0], target[1], 0.0];
    let mut all = vec![
        hold(z, "height of the release", View::Side, start, 2),
        hold(motion.at, "gap to the target", View::Side, ground, 0),
        hold(motion.left, "target to the left", View::Plan, ground, 1),
    ];
    for face in scenario.target.faces.iter().filter(|face| face.aim) {
        let centre = face.centre.map(middle);
        let at = [target[0] + centre[0], target[1] + centre[1], centre[2]];
        let name = face.name.replace('_', " ");
        all.push(hold(face.centre[2], &format!("height of the {name}"), View::Side, at, 2));
    }
    if let Some([bearing, elevation]) = scenario.release.aim() {
        // Half way to the target, on the line of the aim.
        let far = 0.5 * (target[0] - start[0]).abs().max(1.0);
        let slopes = [bearing, elevation].map(|id| {
            let slope = cos(middle(id));
            (tan(middle(id)) * far, slope * slope / far)
        });
        let at = [start[0] + far, start[1] + slopes[0].0, start[2] + slopes[1].0];
        for (id, label, view, along, (_, per_metre)) in [
            (elevation, "aim up", View::Side, 2, slopes[1]),
            (bearing, "aim to the left", View::Plan, 1, slopes[0]),
        ] {
            all.push(Hold { per_metre, ..hold(id, label, view, at, along) });
        }
    }
    all
}

fn tan(angle: f64) -> f64 {
    sin(angle) / cos(angle)
}

#[cfg(test)]
mod tests;
