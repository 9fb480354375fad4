//! The most likely way it happens, told as a story.

use super::{LikelyInput, MostLikely, contacts, paths, words};
use crate::{
    chain::Claim,
    contact::{Surface, Touch},
    engine::{ClaimState, Draws, Path, record},
    estimate::rare::Likeliest,
    quantity::{Dimension, format},
    scenario::{Barrier, Demand, Face, Input, Show},
    uncertain::normal_quantile,
    words::Spoken,
};

/// An input nearer to its middle than this, in standard deviations, is not
/// worth telling.
const TELLING: f64 = 0.8;

/// Most inputs told.
const TOLD: usize = 5;

/// A face whose normal points up by more than this lies: nobody calls its far
/// edge its top, as they do a raked pane's, up to 65 deg from upright. Cosine
/// of 20 deg.
const LYING: f64 = 0.94;

/// The draw number of a flight that is no draw of the run.
const NO_DRAW: u64 = 0;

/// Flies the likeliest way again and tells it.
pub(super) fn most_likely(claim: &Claim, way: &Likeliest) -> MostLikely {
    let state = ClaimState::new(claim, &[]);
    let rows = state.row(&way.point);
    let path = record(claim, NO_DRAW, &rows.values);
    let inputs = told(claim, &rows.values, &rows.ranks);
    let words = words(claim, &inputs, &path);
    let middle = Draws::new(&claim.scenario().inputs, 0, &[]).middle();
    let eye = paths::Eye::new(claim, &middle, &rows.values);
    MostLikely {
        words,
        distance: way.distance,
        ways: way.ways.iter().map(|way| way.share).collect(),
        flight: paths::flight(claim, NO_DRAW, &path, &eye),
        inputs,
    }
}

fn told(claim: &Claim, values: &[f64], ranks: &[f64]) -> Vec<LikelyInput> {
    let inputs = &claim.scenario().inputs;
    let one = |(id, below): (crate::scenario::InputId, &f64)| {
        let input: &Input = inputs.get(id);
        LikelyInput {
            name: input.name.clone(),
            dimension: input.dimension.name().to_owned(),
            value: values[id.0],
            middle: input.distribution.quantile(0.5),
            below: *below,
        }
    };
    let far = |input: &LikelyInput| normal_quantile(input.below).abs();
    let amounts = inputs.uncertain().zip(ranks).filter(|(id, _)| !claim.scenario().is_lot(*id));
    let mut found: Vec<_> = amounts.map(one).collect();
    found.retain(|input| far(input) > TELLING);
    found.sort_by(|a, b| far(b).total_cmp(&far(a)));
    found.truncate(TOLD);
    found
}

fn words(claim: &Claim, inputs: &[LikelyInput], path: &Path) -> String {
    let outcome = &path.outcome;
    let show = claim.scenario().show;
    let unusual: Vec<String> = inputs.iter().map(|input| unusual(input, show)).collect();
    let mut text = if unusual.is_empty() {
        "No number is far from its middle.".to_owned()
    } else {
        format!("{}; everything else is near its middle.", unusual.join(", "))
    };
    if let Some(touch) = outcome.touch.filter(|_| outcome.struck) {
        if let Some(way) = contacts::way(claim.scenario(), path) {
            text += &format!(" {way}");
        }
        text += &format!(" {}", strike(claim, &touch, show));
        if let (Some(demand), Some(resistance)) = (outcome.demand, outcome.resistance) {
            let barrier = struck(claim, &touch).and_then(|face| face.barrier.as_ref());
            text += &format!(" {}", blow(barrier, [demand, resistance], show));
        }
    } else {
        let speed = format(outcome.end_speed, Dimension::Speed, show);
        text += &format!(" It comes there at {speed}.");
    }
    text
}

fn unusual(input: &LikelyInput, show: Show) -> String {
    let dimension = Dimension::from_name(&input.dimension).unwrap_or(Dimension::Number);
    let value = format(input.value, dimension, show);
    let (way, tail) =
        if input.below > 0.5 { ("high", 1.0 - input.below) } else { ("low", input.below) };
    let share = Spoken::near(tail);
    let are = if share.is_one() { "is" } else { "are" };
    format!("`{}` is {value} (only {share} {are} as {way})", input.name)
}

fn strike(claim: &Claim, touch: &Touch, show: Show) -> String {
    let say = |value: f64, dimension| format(value, dimension, show);
    format!(
        "After {} it strikes the {} at {}, {} from square on, {}.",
        say(touch.time, Dimension::Time),
        struck(claim, touch).map_or_else(|| words::aimed_name(claim.scenario()), words::face_name),
        say(touch.relative_velocity.length(), Dimension::Speed),
        say(touch.obliquity, Dimension::Angle),
        on_the_face(touch.on_face, touch.normal.z.abs() > LYING, show),
    )
}

/// Where on a face, from its centre: m to the right and up; of one that is
/// `lying`, up its slope is away from the side that it faces.
fn on_the_face([right, up]: [f64; 2], lying: bool, show: Show) -> String {
    let say = |value: f64, what: &str| {
        let distance = to_mm(value);
        (distance > 0.0).then(|| format!("{} {what}", format(distance, Dimension::Length, show)))
    };
    let aside = say(right, if right < 0.0 { "to the left of" } else { "to the right of" });
    let height = say(
        up,
        match (lying, up < 0.0) {
            (false, true) => "below",
            (false, false) => "above",
            (true, true) => "short of",
            (true, false) => "beyond",
        },
    );
    match (aside, height) {
        (Some(aside), Some(height)) => format!("{aside} its centre and {height} it"),
        (Some(one), None) | (None, Some(one)) => format!("{one} its centre"),
        (None, None) => "at its centre".to_owned(),
    }
}

/// A distance to the millimetre: finer is the model's, not the world's.
fn to_mm(length: f64) -> f64 {
    (length.abs() * 1e3).round() / 1e3
}

/// The face that a touch is on.
fn struck<'a>(claim: &'a Claim, touch: &Touch) -> Option<&'a Face> {
    match touch.surface {
        Surface::Face(i) => claim.scenario().target.faces.get(i),
        Surface::Ground | Surface::Solid(_) => None,
    }
}

fn blow(barrier: Option<&Barrier>, [demand, resistance]: [f64; 2], show: Show) -> String {
    let dimension = match barrier.map(|barrier| barrier.demand) {
        Some(Demand::NormalSpeed) => Dimension::Speed,
        _ => Dimension::Energy,
    };
    let say = |value: f64| format(value, dimension, show);
    let least = if barrier.is_some_and(|barrier| barrier.lower_bound) { "at least " } else { "" };
    format!("The blow is {} where it takes {least}{}.", say(demand), say(resistance))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_on_a_face_has_no_side_where_it_is_on_its_middle() {
        let said = |at| on_the_face(at, false, Show::Si);
        assert_eq!(said([-0.2, 0.3]), "0.2 m to the left of its centre and 0.3 m above it");
        assert_eq!(said([2e-4, -0.3]), "0.3 m below its centre");
        assert_eq!(said([0.2, -1e-5]), "0.2 m to the right of its centre");
        assert_eq!(said([0.0, -0.0]), "at its centre");
    }

    #[test]
    fn what_lies_flat_has_no_top() {
        let said = |at| on_the_face(at, true, Show::Si);
        assert_eq!(said([-0.2, 0.3]), "0.2 m to the left of its centre and 0.3 m beyond it");
        assert_eq!(said([0.0, -0.3]), "0.3 m short of its centre");
    }

    #[test]
    fn how_far_out_an_input_is_reads_as_a_share_of_all() {
        let input = |below: f64| LikelyInput {
            name: "target.moves.at".to_owned(),
            dimension: "length".to_owned(),
            value: -8.89,
            middle: -11.0,
            below,
        };
        assert_eq!(
            unusual(&input(0.8), Show::Si),
            "`target.moves.at` is -8.89 m (only 20 in 100 are as high)"
        );
        assert_eq!(
            unusual(&input(1.0 / 2030.0), Show::Si),
            "`target.moves.at` is -8.89 m (only 1 in 2,000 is as low)"
        );
    }
}
