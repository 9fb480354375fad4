//! A custom shape: a box with coefficients from a file.

use super::coefficients;
use crate::{
    body::Shape,
    diagnostic::Diagnostic,
    quantity::Dimension,
    scenario::{InputId, Tabulated},
    text::{
        measured,
        reader::{Reader, Table},
        row::{Kind, Row, number, point, text},
        what::What,
    },
};

pub(super) fn rows() -> Vec<Row> {
    let length = What::positive(Dimension::Length);
    let reynolds = Kind::Value(What::not_negative(Dimension::Number).within(0.0, 1e12));
    let ends = Kind::Tuple(vec![("low", reynolds.clone()), ("high", reynolds)]);
    vec![
        text(
            "coefficients",
            "invented_chair.csv",
            "A CSV file of coefficients, from the scenario's folder.",
        ),
        number("length", length, "Of the box that touches, along x."),
        number("width", length, "Of the box that touches, along y."),
        number("thickness", length, "Of the box that touches, along z."),
        number("reference_area", What::positive(Dimension::Area), "The area of the coefficients."),
        number("reference_length", length, "The length of the coefficients."),
        point("gyration", length, "Radii of gyration about x, y, z.")
            .like("[20 cm, 40 cm, 45 cm]")
            .may("those of the box"),
        Row::new(
            "reynolds",
            ends,
            "Least and greatest Reynolds number that the coefficients hold for.",
        )
        .like("[5e4, 2e6]")
        .may("all"),
    ]
}

pub(super) fn read(
    reader: &mut Reader<'_>,
    shape: &Table<'_>,
) -> Option<(Shape<InputId>, Tabulated)> {
    let sides = ["length", "width", "thickness"].map(|side| reader.number(shape, side));
    let reference = ["reference_area", "reference_length"].map(|key| reader.number(shape, key));
    let gyration = gyration(reader, shape);
    let reynolds = reynolds(reader, shape);
    let (file, place) = reader.text_of(shape, "coefficients", "a file's name")?;
    match coefficients::read(&reader.folder.join(file), reynolds?) {
        Ok(table) => {
            let shape = Shape::Custom { sides, reference, gyration: gyration? };
            // Flights of every thread share it as long as the program runs.
            Some((shape, Tabulated { file: file.to_owned(), table: Box::leak(Box::new(table)) }))
        }
        Err(why) => {
            let message = format!("cannot use the coefficients of `{file}`");
            reader.report(
                Diagnostic::error("scenario::coefficients", message)
                    .at(place, why)
                    .help(measured::HELP),
            );
            None
        }
    }
}

/// Radii of gyration, if they are told; `None` where they cannot be.
#[expect(clippy::option_option, reason = "wrong, or not told, or told")]
fn gyration(reader: &mut Reader<'_>, shape: &Table<'_>) -> Option<Option<[InputId; 3]>> {
    let Some((key, node)) = shape.get("gyration") else { return Some(None) };
    let radii = reader.point(shape, key, node)?;
    let squares = radii.map(|id| reader.middle(id) * reader.middle(id));
    let all: f64 = squares.iter().sum();
    if squares.iter().any(|square| *square > (all - square) * (1.0 + 1e-9)) {
        reader.report(
            Diagnostic::error("scenario::sense", "no body has these radii of gyration")
                .at(key.span.clone(), "one of them is too large beside the others")
                .help("the square of each is at most the sum of the other two's"),
        );
    }
    Some(Some(radii))
}

/// The Reynolds numbers that the file is for; all, where none are told.
fn reynolds(reader: &mut Reader<'_>, shape: &Table<'_>) -> Option<[f64; 2]> {
    let Some((key, node)) = shape.get("reynolds") else { return Some([0.0, f64::INFINITY]) };
    let items = reader.list(node, &key.span, 2, "reynolds: [5e4, 2e6]")?;
    let what = shape.row("reynolds").what();
    let [low, high] = [0, 1].map(|i| reader.value(&items[i], &key.span, what));
    let range = [low?, high?];
    if range[0] >= range[1] {
        reader.report(
            Diagnostic::error("scenario::range", "this range is empty")
                .at(key.span.clone(), "from the lower to the higher"),
        );
    }
    Some(range)
}
