//! `secured`: what holds a load on its carrier, and what shakes it loose.

use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::{Dimension, Show, format},
    sampling::slot_of,
    scenario::{Input, InputId, Jolt, JoltSize, Lift, PulseShape, Secured, library::friction},
    text::{
        measured::{self, Wrong},
        reader::{Reader, Table},
        row::{Group, Kind, Row, number, sub, text, value},
        what::What,
        yaml::Value,
    },
    uncertain::Distribution,
};

/// Shapes of a pulse that a peak and a duration tell.
const PLAIN: [(&str, PulseShape); 4] = [
    ("square", PulseShape::Square),
    ("half_sine", PulseShape::HalfSine),
    ("haversine", PulseShape::Haversine),
    ("triangle", PulseShape::Triangle),
];
/// Shapes that the pulse of a collision may have.
const COLLISION_SHAPES: [&str; 3] = ["half_sine", "haversine", "triangle"];

/// Force coefficient of a sheet that lies flat in a bed.
/// Source: Wills, Lee & Wyatt 2002, of the order (from memory).
const FLAT: f64 = 0.3;
/// Restitution of two vehicles (from memory; it falls with speed).
const CRUMPLES: f64 = 0.1;
/// Even samples that a measured pulse becomes.
const SAMPLES: usize = 257;

pub(super) fn row() -> Row {
    let any = Dimension::Number;
    let (mass, positive) = (What::positive(Dimension::Mass), What::positive(any));
    let surfaces = friction::FRICTION.iter().map(|(surfaces, _)| slug(surfaces)).collect();
    let coefficient = Kind::Number(What::not_negative(any).within(0.0, 2.0));
    let grip = Kind::Either(vec![Kind::Words(surfaces), coefficient]);
    let collides = vec![
        number("carrier", mass, "Mass of the carrier."),
        number("with", mass, "Mass of what it meets."),
        number("moving", What::any(Dimension::Speed), "Speed of what it meets, along x.").or(0.0),
        number("restitution", What::any(any).within(0.0, 1.0), "Of the two.").or(CRUMPLES),
        number("lasts", What::positive(Dimension::Time), "How long the pulse lasts."),
        Row::new("shape", Kind::names(COLLISION_SHAPES), "The shape of the pulse.")
            .may("`half_sine`"),
    ];
    let lift = vec![
        number("coefficient", positive, "Force coefficient of what lies flat.").or(FLAT),
        number(
            "speed_up",
            positive.within(0.1, 3.0),
            "Speed of the air over the load, times the carrier's.",
        )
        .or(1.0),
    ];
    let none = "none";
    let rows = vec![
        Row::new("friction", grip, "A coefficient, or surfaces of the CTU Code's list.")
            .like("0.4"),
        number("strength", What::not_negative(Dimension::Force), "Of the tie-downs.").or(0.0),
        number(
            "path",
            What::positive(Dimension::Length),
            "How far it slides to the edge of the bed.",
        ),
        sub("brakes", jolts("The carrier brakes.")).may(none),
        sub("pulls_away", jolts("The carrier pulls away, or is hit from behind.")).may(none),
        sub("collides", Group::new("The carrier meets another body.", collides)).may(none),
        sub("lift", Group::new("The air under it.", lift)).may(none),
    ];
    let about = "What holds it on the carrier, and what shakes it loose: one of `brakes`, \
                 `pulls_away`, `collides`, and `lift`.";
    sub("secured", Group::new(about, rows)).may("nothing holds it")
}

fn jolts(about: &'static str) -> Group {
    let pulse = || {
        vec![
            number(
                "peak",
                What::not_negative(Dimension::Acceleration),
                "Its greatest acceleration.",
            ),
            number("lasts", What::positive(Dimension::Time), "How long it lasts."),
        ]
    };
    let share = What::any(Dimension::Ratio);
    let ramps = vec![
        value("rise", share, "Share of the time in which it rises."),
        value("fall", share, "Share of the time in which it falls."),
    ];
    let recorded = vec![
        text("file", "brake.csv", "A CSV file, from the scenario's folder."),
        text("time", "t", "Heading of the times."),
        text("acceleration", "a", "Heading of the accelerations."),
        text("time_unit", "s", "Unit of the times.").may("in the cells"),
        text("unit", "m/s2", "Unit of the accelerations.").may("in the cells"),
    ];
    let mut rows: Vec<Row> =
        PLAIN.iter().map(|(name, _)| sub(name, Group::new("A pulse.", pulse()))).collect();
    rows.push(sub("trapezoid", Group::new("A pulse with ramps.", pulse()).and(ramps)));
    rows.push(sub("measured", Group::new("As it was measured.", recorded)));
    Group::choice(about, rows)
}

pub(super) fn read(reader: &mut Reader<'_>, shed: &Table<'_>) -> Option<Secured> {
    let (key, _) = shed.get("secured")?;
    let table = reader.open(shed, "secured")?;
    let friction = friction_of(reader, &table);
    let strength = reader.number(&table, "strength");
    let path = reader.number(&table, "path");
    let jolt = jolt(reader, &table);
    let lift = lift(reader, &table);
    if jolt.is_none() && lift.is_none() && reader.is_clean() {
        reader.report(
            Diagnostic::error("scenario::missing", "nothing pulls at the load")
                .at(key.span.clone(), "it is secured, and would stay for ever")
                .help("add `brakes`, `pulls_away`, `collides` or `lift`"),
        );
    }
    Some(Secured { friction, strength, path, jolt, lift })
}

/// A coefficient, or a pair of surfaces by name.
fn friction_of(reader: &mut Reader<'_>, table: &Table<'_>) -> InputId {
    if let Some((_, node)) = table.get("friction")
        && let Value::Text(text) = &node.value
        && text.starts_with(|c: char| c.is_ascii_alphabetic())
    {
        let name = table.path_of("friction");
        let found = friction::FRICTION.iter().find(|(surfaces, _)| slug(surfaces) == *text);
        let Some((surfaces, value)) = found else {
            let names: Vec<String> =
                friction::FRICTION.iter().map(|(surfaces, _)| slug(surfaces)).collect();
            reader.report(
                Diagnostic::error("scenario::word", format!("no surfaces are called `{text}`"))
                    .at(node.span.clone(), "not in the CTU Code's list")
                    .help(format!("a number, or one of: {}", names.join(", "))),
            );
            return add(reader, name, Dimension::Number, f64::NAN, "", &node.span);
        };
        let written = format!("{surfaces}: {value} (CTU Code, Appendix 2, read)");
        return add(reader, name, Dimension::Number, *value, &written, &node.span);
    }
    reader.number(table, "friction")
}

fn slug(words: &str) -> String {
    words.replace(',', "").replace(' ', "_")
}

/// A fixed input that comes from elsewhere than the scenario's text.
fn add(
    reader: &mut Reader<'_>,
    name: String,
    dimension: Dimension,
    value: f64,
    written: &str,
    place: &Span,
) -> InputId {
    let (slot, distribution) = (slot_of(&name), Distribution::fixed(value));
    let written = written.to_owned();
    let input =
        Input { name, dimension, distribution, slot, unknown: false, assumed: false, written };
    reader.add(input, place.clone())
}

fn jolt(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Jolt> {
    let kinds = ["brakes", "pulls_away", "collides"];
    let mut told = kinds.iter().filter_map(|kind| table.get(kind));
    let (key, node) = told.next()?;
    for (other, _) in told {
        reader.report(
            Diagnostic::error("scenario::alternatives", "one jolt shakes it loose, not two")
                .at(other.span.clone(), format!("`{}` is already there", key.name))
                .help("keep one of: brakes, pulls_away, collides"),
        );
    }
    let table = reader.opened(table, key, node)?;
    if key.name == "collides" {
        return collision(reader, &table);
    }
    let against = key.name == "brakes";
    let (key, inner) = reader.chosen_group(&table)?;
    let plain = PLAIN.into_iter().find(|(name, _)| *name == key.name);
    let shape = match plain {
        Some((_, shape)) => shape,
        None if key.name == "measured" => return recorded(reader, &inner, against),
        None => trapezoid(reader, &inner)?,
    };
    let peak = reader.number(&inner, "peak");
    let lasts = reader.number(&inner, "lasts");
    Some(Jolt { against, shape, size: JoltSize::Peak(peak), lasts })
}

fn trapezoid(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<PulseShape> {
    let rise = reader.value_of(table, "rise");
    let fall = reader.value_of(table, "fall");
    let (rise, fall) = (rise?, fall?);
    if rise + fall > 1.0 {
        reader.report(
            Diagnostic::error("scenario::range", "rise and fall are more than the whole pulse")
                .at(table.at.clone(), "together above 100 %"),
        );
    }
    Some(PulseShape::Trapezoid { rise, fall })
}

fn collision(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Jolt> {
    let size = JoltSize::Collision {
        carrier: reader.number(table, "carrier"),
        other: reader.number(table, "with"),
        other_speed: reader.number(table, "moving"),
        restitution: reader.number(table, "restitution"),
    };
    let lasts = reader.number(table, "lasts");
    let names = COLLISION_SHAPES.map(|name| (name, name));
    let told = reader.word_of(table, "shape", "the shape of a pulse", &names);
    let shape = PLAIN.into_iter().find(|(name, _)| Some(*name) == told);
    let shape = shape.map_or(PulseShape::HalfSine, |(_, shape)| shape);
    Some(Jolt { against: true, shape, size, lasts })
}

/// A pulse as it was measured: two columns of a CSV file.
fn recorded(reader: &mut Reader<'_>, table: &Table<'_>, against: bool) -> Option<Jolt> {
    let file = reader.text_of(table, "file", "a name");
    let time = reader.text_of(table, "time", "a name");
    let column = reader.text_of(table, "acceleration", "a name");
    let mut unit = |name: &str| reader.text_of(table, name, "a unit").map(|(unit, _)| unit);
    let (time_unit, unit) = (unit("time_unit"), unit("unit"));
    let ((file, place), (time, time_place), (column, column_place)) = (file?, time?, column?);
    let path = reader.folder.join(file);
    let any = What::any(Dimension::Time);
    let times = measured::sample(&path, time, time_unit, any);
    let of = What::any(Dimension::Acceleration);
    let values = measured::sample(&path, column, unit, of);
    let failed = |reader: &mut Reader<'_>, (wrong, why): (Wrong, String), at: &Span| {
        let at = if wrong == Wrong::Column { at } else { &place };
        reader.report(measured::located(file, at.clone(), why));
    };
    let (times, values) = match (times, values) {
        (Ok(times), Ok(values)) => (times, values),
        (times, values) => {
            if let Err(problem) = times {
                failed(reader, problem, &time_place);
            }
            if let Err(problem) = values {
                failed(reader, problem, &column_place);
            }
            return None;
        }
    };
    let Some((shape, peak, lasts)) = even(&times, &values) else {
        let why = "needs two moments at least, in rising order, and an acceleration above zero";
        failed(reader, (Wrong::File, why.to_owned()), &place);
        return None;
    };
    let say = |value, dimension| format(value, dimension, Show::Si);
    let written = |value, dimension| format!("{file}: {}", say(value, dimension));
    let [a, t] = [Dimension::Acceleration, Dimension::Time];
    let peak = add(reader, table.path_of("peak"), a, peak, &written(peak, a), &table.at);
    let lasts = add(reader, table.path_of("lasts"), t, lasts, &written(lasts, t), &table.at);
    Some(Jolt { against, shape, size: JoltSize::Peak(peak), lasts })
}

/// Moments and values as even samples: shares of the peak, the peak, and the
/// duration. What points the other way counts as nothing.
fn even(times: &[f64], values: &[f64]) -> Option<(PulseShape, f64, f64)> {
    let rising = times.windows(2).all(|pair| pair[1] > pair[0]);
    let peak = values.iter().copied().fold(0.0, f64::max);
    if times.len() < 2 || times.len() != values.len() || !rising || peak <= 0.0 {
        return None;
    }
    let (first, lasts) = (times[0], times[times.len() - 1] - times[0]);
    let at = |k: usize| {
        let time = first + lasts * k as f64 / (SAMPLES - 1) as f64;
        let right = times.partition_point(|t| *t < time).clamp(1, times.len() - 1);
        let part = (time - times[right - 1]) / (times[right] - times[right - 1]);
        let value = values[right - 1] + part.clamp(0.0, 1.0) * (values[right] - values[right - 1]);
        value.max(0.0) / peak
    };
    Some((PulseShape::Measured((0..SAMPLES).map(at).collect()), peak, lasts))
}

fn lift(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Lift> {
    let inner = reader.open(table, "lift")?;
    Some(Lift {
        coefficient: reader.number(&inner, "coefficient"),
        speed_up: reader.number(&inner, "speed_up"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measured_pulse_keeps_its_peak_and_its_area() {
        let (shape, peak, lasts) = even(&[1.0, 1.5, 3.0], &[0.0, 8.0, 0.0]).unwrap();
        assert!((peak - 8.0).abs() < 1e-12 && (lasts - 2.0).abs() < 1e-12);
        let PulseShape::Measured(shares) = shape else { panic!("it is measured") };
        assert_eq!(shares.len(), SAMPLES);
        // A triangle: half of its box.
        let mean = shares.iter().sum::<f64>() / (SAMPLES - 1) as f64;
        assert!((mean - 0.5).abs() < 1e-3, "{mean}");
        assert!(even(&[1.0, 1.0], &[1.0, 1.0]).is_none(), "time stands still");
        assert!(even(&[0.0, 1.0], &[-1.0, -2.0]).is_none(), "nothing brakes");
    }
}
