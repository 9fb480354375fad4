//! A custom shape: a box with coefficients from a file.

use super::{
    coefficients, measured,
    reader::{Reader, Table},
    what::What,
};
use crate::{
    body::Shape,
    diagnostic::Diagnostic,
    quantity::Dimension,
    scenario::{InputId, Tabulated},
};

pub(in crate::scenario) const KEYS: [&str; 8] = [
    "coefficients",
    "length",
    "width",
    "thickness",
    "reference_area",
    "reference_length",
    "gyration",
    "reynolds",
];

pub(super) fn read(
    reader: &mut Reader<'_>,
    shape: &Table<'_>,
) -> Option<(Shape<InputId>, Tabulated)> {
    let length = What::positive(Dimension::Length);
    let sides = ["length", "width", "thickness"].map(|side| reader.number(shape, side, length));
    let area = reader.number(shape, "reference_area", What::positive(Dimension::Area));
    let reference = [area, reader.number(shape, "reference_length", length)];
    let gyration = gyration(reader, shape, length);
    let reynolds = reynolds(reader, shape);
    let (key, node) = reader.required(shape, "coefficients", "canopy.csv")?;
    let file = reader.text(node, &key.span, "a file's name")?.to_owned();
    match coefficients::read(&reader.folder.join(&file), reynolds?) {
        Ok(table) => {
            let shape = Shape::Custom { sides, reference, gyration: gyration? };
            // Flights of every thread share it as long as the program runs.
            Some((shape, Tabulated { file, table: Box::leak(Box::new(table)) }))
        }
        Err(why) => {
            let message = format!("cannot use the coefficients of `{file}`");
            reader.report(
                Diagnostic::error("scenario::coefficients", message)
                    .at(node.span.clone(), why)
                    .help(measured::HELP),
            );
            None
        }
    }
}

/// Radii of gyration, if they are told; `None` where they cannot be.
#[expect(clippy::option_option, reason = "wrong, or not told, or told")]
fn gyration(
    reader: &mut Reader<'_>,
    shape: &Table<'_>,
    what: What,
) -> Option<Option<[InputId; 3]>> {
    let Some((key, node)) = shape.get("gyration") else { return Some(None) };
    let items = reader.list(node, &key.span, 3, "gyration: [20 cm, 40 cm, 45 cm]")?;
    let path = shape.path_of("gyration");
    let mut radius = |i: usize, axis: &str| {
        reader.number_at(&items[i], &key.span, format!("{path}.{axis}"), what)
    };
    let radii = [radius(0, "x"), radius(1, "y"), radius(2, "z")];
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
    let what = What::not_negative(Dimension::Number).within(0.0, 1e12);
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
