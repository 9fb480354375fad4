//! `secured`: what holds a load on its carrier, and what shakes it loose.

use super::{
    measured::{self, Wrong},
    reader::{Reader, Table},
    what::What,
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::{Dimension, Show, format},
    sampling::slot_of,
    scenario::{Input, InputId, Jolt, JoltSize, Lift, PulseShape, Secured, library::friction},
    text::yaml::{Key, Node, Value},
    uncertain::Distribution,
};

pub(in crate::scenario) const KEYS: [&str; 7] =
    ["friction", "strength", "path", "brakes", "pulls_away", "collides", "lift"];
/// Shapes of a jolt with their keys.
pub(in crate::scenario) const SHAPES: [(&str, &[&str]); 6] = [
    ("square", &["peak", "lasts"]),
    ("half_sine", &["peak", "lasts"]),
    ("haversine", &["peak", "lasts"]),
    ("triangle", &["peak", "lasts"]),
    ("trapezoid", &["peak", "lasts", "rise", "fall"]),
    ("measured", &["file", "time", "acceleration", "time_unit", "unit"]),
];
pub(in crate::scenario) const COLLISION: [&str; 6] =
    ["carrier", "with", "moving", "restitution", "lasts", "shape"];
pub(in crate::scenario) const LIFT: [&str; 2] = ["coefficient", "speed_up"];
pub(in crate::scenario) const COLLISION_SHAPES: [(&str, PulseShape); 3] = [
    ("half_sine", PulseShape::HalfSine),
    ("haversine", PulseShape::Haversine),
    ("triangle", PulseShape::Triangle),
];

/// Force coefficient of a sheet that lies flat in a bed.
/// Source: Wills, Lee & Wyatt 2002, of the order (from memory).
const FLAT: f64 = 0.3;
/// Restitution of two vehicles (from memory; it falls with speed).
const CRUMPLES: f64 = 0.1;
/// Even samples that a measured pulse becomes.
const SAMPLES: usize = 257;

pub(super) fn read(reader: &mut Reader<'_>, shed: &Table<'_>) -> Option<Secured> {
    let (key, node) = shed.get("secured")?;
    let table = reader.table(node, &key.span, &shed.path_of("secured"), &KEYS)?;
    let friction = friction_of(reader, &table);
    let force = What::not_negative(Dimension::Force).or(0.0);
    let strength = reader.number(&table, "strength", force);
    let path = reader.number(&table, "path", What::positive(Dimension::Length));
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
    let what = What::not_negative(Dimension::Number).within(0.0, 2.0);
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
    reader.number(table, "friction", what)
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
    let path = table.path_of(&key.name);
    if key.name == "collides" {
        return collision(reader, key, node, &path);
    }
    let against = key.name == "brakes";
    let names = SHAPES.map(|(name, _)| name);
    let table = reader.table(node, &key.span, &path, &names)?;
    let (key, node) = reader.one_of(&table, &names)?;
    let keys = SHAPES.iter().find(|(name, _)| *name == key.name).map_or(&[][..], |(_, keys)| keys);
    let inner = reader.table(node, &key.span, &table.path_of(&key.name), keys)?;
    if key.name == "measured" {
        return recorded(reader, &inner, against);
    }
    let shape = match key.name.as_str() {
        "square" => PulseShape::Square,
        "half_sine" => PulseShape::HalfSine,
        "haversine" => PulseShape::Haversine,
        "triangle" => PulseShape::Triangle,
        _ => trapezoid(reader, &inner)?,
    };
    let peak = reader.number(&inner, "peak", What::not_negative(Dimension::Acceleration));
    let lasts = reader.number(&inner, "lasts", What::positive(Dimension::Time));
    Some(Jolt { against, shape, size: JoltSize::Peak(peak), lasts })
}

fn trapezoid(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<PulseShape> {
    let share = What::any(Dimension::Ratio);
    let rise = reader.value_of(table, "rise", share);
    let fall = reader.value_of(table, "fall", share);
    let (rise, fall) = (rise?, fall?);
    if rise + fall > 1.0 {
        reader.report(
            Diagnostic::error("scenario::range", "rise and fall are more than the whole pulse")
                .at(table.at.clone(), "together above 100 %"),
        );
    }
    Some(PulseShape::Trapezoid { rise, fall })
}

fn collision(reader: &mut Reader<'_>, key: &Key, node: &Node, path: &str) -> Option<Jolt> {
    let table = reader.table(node, &key.span, path, &COLLISION)?;
    let mass = What::positive(Dimension::Mass);
    let size = JoltSize::Collision {
        carrier: reader.number(&table, "carrier", mass),
        other: reader.number(&table, "with", mass),
        other_speed: reader.number(&table, "moving", What::any(Dimension::Speed).or(0.0)),
        restitution: reader.number(
            &table,
            "restitution",
            What::any(Dimension::Number).within(0.0, 1.0).or(CRUMPLES),
        ),
    };
    let lasts = reader.number(&table, "lasts", What::positive(Dimension::Time));
    let names = COLLISION_SHAPES.each_ref().map(|(name, _)| (*name, *name));
    let told = table
        .get("shape")
        .and_then(|(key, node)| reader.word(node, &key.span, "the shape of a pulse", &names));
    let shape = COLLISION_SHAPES.into_iter().find(|(name, _)| Some(*name) == told);
    let shape = shape.map_or(PulseShape::HalfSine, |(_, shape)| shape);
    Some(Jolt { against: true, shape, size, lasts })
}

/// A pulse as it was measured: two columns of a CSV file.
fn recorded(reader: &mut Reader<'_>, table: &Table<'_>, against: bool) -> Option<Jolt> {
    let mut word = |name: &str, example: &str| {
        let (key, node) = reader.required(table, name, example)?;
        Some((reader.text(node, &key.span, "a name")?.to_owned(), node.span.clone()))
    };
    let file = word("file", "brake.csv");
    let time = word("time", "t");
    let column = word("acceleration", "a");
    let mut unit = |name: &str| {
        let (key, node) = table.get(name)?;
        reader.text(node, &key.span, "a unit").map(str::to_owned)
    };
    let (time_unit, unit) = (unit("time_unit"), unit("unit"));
    let ((file, place), (time, time_place), (column, column_place)) = (file?, time?, column?);
    let path = reader.folder.join(&file);
    let any = What::any(Dimension::Time);
    let times = measured::sample(&path, &time, time_unit.as_deref(), any);
    let of = What::any(Dimension::Acceleration);
    let values = measured::sample(&path, &column, unit.as_deref(), of);
    let failed = |reader: &mut Reader<'_>, (wrong, why): (Wrong, String), at: &Span| {
        let at = if wrong == Wrong::Column { at } else { &place };
        reader.report(measured::located(&file, at.clone(), why));
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
    let (key, node) = table.get("lift")?;
    let inner = reader.table(node, &key.span, &table.path_of("lift"), &LIFT)?;
    let number = What::positive(Dimension::Number);
    Some(Lift {
        coefficient: reader.number(&inner, "coefficient", number.or(FLAT)),
        speed_up: reader.number(&inner, "speed_up", number.within(0.1, 3.0).or(1.0)),
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
