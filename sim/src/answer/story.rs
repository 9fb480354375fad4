//! The most likely way it happens, told as a story.

use crate::{
    findings::{FlightFinding, LikelyInput, MostLikely, StrikeFinding},
    quantity::Dimension,
    words::{Spoken, Voice},
};

/// Tells the way that a record keeps: the flight that is drawn.
#[must_use]
pub fn most_likely(way: &MostLikely, voice: Voice) -> String {
    let unusual: Vec<String> = way.inputs.iter().map(|input| unusual(input, voice)).collect();
    let mut text = if unusual.is_empty() {
        "No number is far from its middle.".to_owned()
    } else {
        format!("{}; everything else is near its middle.", unusual.join(", "))
    };
    let Some(met) = &way.strike else {
        let speed = voice.quantity(way.flight.end_speed, Dimension::Speed);
        return text + &format!(" It comes there at {speed}.");
    };
    if let Some(bounce) = bounce(&way.flight, met, voice) {
        text += &format!(" {bounce}");
    }
    text += &format!(" {}", strike(met, voice));
    if let Some([demand, resistance]) = met.blow {
        let say = |value: f64| voice.quantity(value, met.demand.dimension());
        let least = if met.lower_bound { "at least " } else { "" };
        text += &format!(" The blow is {} where it takes {least}{}.", say(demand), say(resistance));
    }
    text
}

fn unusual(input: &LikelyInput, voice: Voice) -> String {
    let dimension = Dimension::from_name(&input.dimension).unwrap_or(Dimension::Number);
    let value = voice.quantity(input.value, dimension);
    let (way, tail) =
        if input.below > 0.5 { ("high", 1.0 - input.below) } else { ("low", input.below) };
    let share = Spoken::near(tail);
    let are = if share.is_one() { "is" } else { "are" };
    format!("`{}` is {value} (only {} {are} as {way})", input.name, voice.say(share))
}

/// The way to the strike; `None` if nothing was touched before.
fn bounce(flight: &FlightFinding, met: &StrikeFinding, voice: Voice) -> Option<String> {
    let before = |time: f64| time < met.time;
    let first = flight.contacts.iter().find(|one| before(one.time) && one.what == "bounced")?;
    let place = first.surface.replace('_', " ");
    let more = match met.touched_before.saturating_sub(1) {
        0 => String::new(),
        1 => "; once more it touches something before it strikes".to_owned(),
        rest => format!("; {rest} more contacts come before it strikes"),
    };
    Some(format!(
        "After {} it comes down on the {place} at {} and goes on at {}{more}.",
        voice.quantity(first.time, Dimension::Time),
        voice.quantity(first.before, Dimension::Speed),
        voice.quantity(first.after, Dimension::Speed),
    ))
}

fn strike(met: &StrikeFinding, voice: Voice) -> String {
    format!(
        "After {} it strikes the {} at {}, {} from square on, {}.",
        voice.quantity(met.time, Dimension::Time),
        met.face.replace('_', " "),
        voice.quantity(met.speed, Dimension::Speed),
        voice.quantity(met.obliquity, Dimension::Angle),
        on_the_face(met.on_face, met.lying, voice),
    )
}

/// Where on a face, from its centre: m to the right and up; of one that is
/// `lying`, up its slope is away from the side that it faces.
fn on_the_face([right, up]: [f64; 2], lying: bool, voice: Voice) -> String {
    let say = |value: f64, what: &str| {
        // What is no millimetre off is at the centre.
        let off = value.abs();
        (to_mm(off) > 0.0).then(|| format!("{} {what}", voice.quantity(off, Dimension::Length)))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Show;

    #[test]
    fn a_place_on_a_face_has_no_side_where_it_is_on_its_middle() {
        let said = |at| on_the_face(at, false, Voice::plain(Show::Si));
        assert_eq!(said([-0.2, 0.3]), "0.2 m to the left of its centre and 0.3 m above it");
        assert_eq!(said([2e-4, -0.3]), "0.3 m below its centre");
        assert_eq!(said([0.2, -1e-5]), "0.2 m to the right of its centre");
        assert_eq!(said([0.0, -0.0]), "at its centre");
    }

    #[test]
    fn what_lies_flat_has_no_top() {
        let said = |at| on_the_face(at, true, Voice::plain(Show::Si));
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
            unusual(&input(0.8), Voice::plain(Show::Si)),
            "`target.moves.at` is -8.89 m (only 20 in 100 are as high)"
        );
        assert_eq!(
            unusual(&input(1.0 / 2030.0), Voice::plain(Show::Si)),
            "`target.moves.at` is -8.89 m (only 1 in 2,000 is as low)"
        );
    }
}
