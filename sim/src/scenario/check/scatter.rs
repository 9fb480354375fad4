//! `scatter`: how shots of one aim differ.

use crate::{
    diagnostic::Diagnostic,
    math::atan,
    quantity::Dimension,
    sampling::slot_of,
    scenario::{Input, InputId},
    text::{
        reader::{Reader, Table},
        row::{Group, Kind, Row, value},
        what::What,
        yaml::Value,
    },
    uncertain::Distribution,
};

pub(super) fn row() -> Row {
    let (length, angle) = (What::positive(Dimension::Length), What::not_negative(Dimension::Angle));
    let axis = angle.within(0.0, 1.0);
    let shots = What::positive(Dimension::Number).within(2.0, 20.0);
    let with_group = "needed with `group`";
    let rows = vec![
        value("up", axis, "Standard deviation upwards.").may("needed, unless it has a `group`"),
        value("left", axis, "Standard deviation to the left.")
            .may("needed, unless it has a `group`"),
        value("group", length, "Distance between the two shots farthest apart.").may(""),
        value("at", length, "Distance to the target of the group.").may(with_group),
        value("shots", shots, "Shots in the group.").like("5").may(with_group),
    ];
    let told = Group::new("Each way, or from a group of shots.", rows);
    let doc = "How shots of one aim differ: standard deviation both ways, or as told.";
    Row::new("scatter", Kind::Either(vec![Kind::Value(angle), Kind::Group(told)]), doc).or(0.0)
}

/// This shot's error from the aim, up and to the left.
///
/// `1 deg` is the standard deviation both ways, `{up: 1 deg, left: 2 deg}` one
/// for each, and `{group: 4 in, at: 25 yd, shots: 5}` the distance between the
/// two shots of a group that lie farthest apart.
pub(super) fn read(reader: &mut Reader<'_>, release: &Table<'_>) -> (InputId, InputId) {
    let path = release.path_of("scatter");
    let Some((key, node)) = release.get("scatter") else {
        let mut assume = |axis: &str| {
            let at = release.at.clone();
            reader.assume(format!("{path}.{axis}"), Dimension::Angle, Distribution::fixed(0.0), at)
        };
        return (assume("up"), assume("left"));
    };
    let sds = match &node.value {
        Value::Map(_) => by_key(reader, release),
        Value::Text(_) | Value::Empty | Value::List(_) => {
            reader.value(node, &key.span, release.row("scatter").what()).map(|sd| [sd, sd])
        }
    };
    let [up, left] = sds.unwrap_or([f64::NAN; 2]);
    let mut error = |axis: &str, sd: f64| {
        let distribution = Distribution::normal(0.0, sd).unwrap_or(Distribution::fixed(0.0 * sd));
        let name = format!("{path}.{axis}");
        let written = crate::quantity::format(sd, Dimension::Angle, crate::quantity::Show::Si);
        let input = Input {
            slot: slot_of(&name),
            name,
            dimension: Dimension::Angle,
            distribution,
            unknown: false,
            assumed: false,
            written: format!("scatter of {written} (standard deviation)"),
        };
        reader.add(input, key.span.clone())
    };
    (error("up", up), error("left", left))
}

fn by_key(reader: &mut Reader<'_>, release: &Table<'_>) -> Option<[f64; 2]> {
    let table = reader.open(release, "scatter")?;
    let of_group = ["group", "at", "shots"].map(|name| table.get(name).is_some());
    if of_group.contains(&true) {
        if let Some((key, _)) = table.get("up").or(table.get("left")) {
            reader.report(
                Diagnostic::error("scenario::alternatives", "the scatter is given twice")
                    .at(key.span.clone(), "`group` is there too")
                    .help("keep `up` and `left`, or `group`, `at` and `shots`"),
            );
        }
        let [group, distance, shots] =
            ["group", "at", "shots"].map(|name| reader.needed_value(&table, name));
        let sd = atan(sd_of_group(group?, shots?) / distance?);
        return Some([sd, sd]);
    }
    let [up, left] = ["up", "left"].map(|name| reader.needed_value(&table, name));
    Some([up?, left?])
}

/// Standard deviation along one axis of shots whose group has this extreme
/// spread (largest distance between two shots), on average over groups.
///
/// Source: expected extreme spread of n circular normal shots in units of one
/// axis' standard deviation; sqrt(pi) for two shots (derived), the rest by
/// counting four million groups each, standard error below 0.0005 (Rayleigh
/// pairs from a xoshiro256 generator).
fn sd_of_group(extreme_spread: f64, shots: f64) -> f64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "2 to 20")]
    let place = shots.clamp(2.0, 20.0).round() as usize - 2;
    extreme_spread / EXPECTED_SPREAD[place]
}

/// For 2, 3, …, 20 shots.
const EXPECTED_SPREAD: [f64; 19] = [
    1.772_453_850_905_516,
    2.409_6,
    2.792_6,
    3.065_5,
    3.275_1,
    3.443_9,
    3.585_2,
    3.706_4,
    3.812_2,
    3.905_1,
    3.989_2,
    4.064_4,
    4.132_2,
    4.196,
    4.253_7,
    4.308_8,
    4.359_7,
    4.406_1,
    4.451_3,
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        sampling::{Domain, Stream},
        uncertain::normal_quantile,
    };

    #[test]
    fn two_shots_lie_root_pi_apart() {
        assert!((EXPECTED_SPREAD[0] - std::f64::consts::PI.sqrt()).abs() < 1e-12);
        assert!((sd_of_group(EXPECTED_SPREAD[3], 5.0) - 1.0).abs() < 1e-12);
    }

    /// Recounts three of the numbers: 20 000 groups have a standard error of
    /// about 0.006, so 0.025 fails once in thirty thousand by chance.
    #[test]
    fn the_table_is_what_groups_show() {
        let stream = Stream::new(7, Domain::DRAWS);
        let groups = 20_000_u32;
        for shots in [3_u32, 5, 10] {
            let mut sum = 0.0;
            for group in 0..groups {
                let at = |shot: u32, axis: u32| {
                    normal_quantile(stream.uniform(u64::from(group), 100 * shots + 2 * shot + axis))
                };
                let points: Vec<[f64; 2]> = (0..shots).map(|s| [at(s, 0), at(s, 1)]).collect();
                let apart =
                    |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).powi(2) + (a[1] - b[1]).powi(2);
                let farthest = points
                    .iter()
                    .flat_map(|a| points.iter().map(move |b| apart(a, b)))
                    .fold(0.0, f64::max);
                sum += farthest.sqrt();
            }
            let mean = sum / f64::from(groups);
            let table = EXPECTED_SPREAD[usize::try_from(shots).unwrap() - 2];
            assert!((mean - table).abs() < 0.025, "{shots}: {mean} {table}");
        }
    }
}
