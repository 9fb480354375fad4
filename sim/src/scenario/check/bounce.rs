//! `ground` and `surface`: what happens at a touch.

use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    sampling::slot_of,
    scenario::{
        Bounce, Input, InputId, Target,
        library::{Surface, UNTOLD, surface, surfaces},
    },
    text::{
        nearest::nearest,
        reader::{Reader, Table},
        row::{Group, Kind, Row, Unwritten, flag, number},
        what::What,
        yaml::{Key, Node, Value},
    },
    uncertain::Distribution,
};

/// `ground`, with the choice to end flights there all the same.
pub(super) fn ground_row() -> Row {
    let about = "The ground as told.";
    let bounces = flag("bounces", "`false`: a flight ends where it touches the ground.");
    let bounces = Row { unwritten: Unwritten::Words("`true`"), ..bounces };
    let told = Group::new(about, figures()).and(vec![bounces]);
    let doc = "Where it is written, flights go on after they touch the ground: they bounce, slide \
               or roll to rest, and may strike by any path. By name, or as told.";
    Row::new("ground", Kind::Either(vec![known(), Kind::Group(told)]), doc)
        .may("a flight ends where it lands")
}

/// The `surface` of a face or a solid.
pub(super) fn surface_row(name: &'static str) -> Row {
    let told = Group::new("A surface as told.", figures());
    let doc = "How it throws back what it stops: by name, or as told.";
    Row::new(name, Kind::Either(vec![known(), Kind::Group(told)]), doc)
        .may("`hard`, where anything has a surface")
}

fn known() -> Kind {
    Kind::names(surfaces().map(|surface| surface.name))
}

fn figures() -> Vec<Row> {
    let figure = |figure: Figure, doc| {
        number(figure.key(), figure.what(), doc).may("the material's, a range from memory")
    };
    let grip = figure(Figure::GripReturn, "Of rubber balls: how much of the slip comes back.");
    vec![
        Row::new("material", known(), "A surface of the library.").may("`hard`"),
        figure(Figure::Restitution, "Speed away over speed towards it, square on."),
        figure(Figure::Friction, "Coefficient of friction."),
        Row { unwritten: Unwritten::Value(0.0), ..grip },
        figure(Figure::Rolling, "Coefficient of rolling friction."),
    ]
}

/// The ground, if flights are to go on from it.
pub(super) fn ground(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Bounce> {
    let (key, node) = scenario.get("ground")?;
    let off = switched_off(reader, node);
    let bounce = read(reader, scenario, key, node);
    if off { None } else { bounce }
}

fn switched_off(reader: &mut Reader<'_>, ground: &Node) -> bool {
    let Value::Map(entries) = &ground.value else { return false };
    let words = [("true", true), ("false", false)];
    let told = entries.iter().find(|(key, _)| key.name == "bounces");
    told.and_then(|(key, node)| reader.word(node, &key.span, "`true` or `false`", &words))
        == Some(false)
}

/// The `surface` of a face or a solid, if it is written.
pub(super) fn surface_of(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Bounce> {
    let (key, node) = table.get("surface")?;
    read(reader, table, key, node)
}

/// Where flights go on after a touch, everything has a surface: what is not
/// told is assumed.
pub(super) fn complete(reader: &mut Reader<'_>, ground: Option<&Bounce>, target: &mut Target) {
    let told = |bounce: &Option<Bounce>| bounce.is_some();
    let follow = ground.is_some()
        || target.faces.iter().any(|face| told(&face.bounce))
        || target.solids.iter().any(|solid| told(&solid.bounce));
    if !follow {
        return;
    }
    for face in &mut target.faces {
        let path = format!("target.faces.{}.surface", face.name);
        let place = reader.place(face.centre[0]);
        face.bounce.get_or_insert_with(|| assumed(reader, &path, &place));
    }
    for solid in &mut target.solids {
        let path = format!("target.solids.{}.surface", solid.name);
        let place = reader.place(solid.centre[0]);
        solid.bounce.get_or_insert_with(|| assumed(reader, &path, &place));
    }
}

fn read(reader: &mut Reader<'_>, above: &Table<'_>, key: &Key, node: &Node) -> Option<Bounce> {
    let path = above.path_of(&key.name);
    if let Value::Text(name) = &node.value {
        let known = material(reader, name, &node.span)?;
        return Some(all_of(reader, known, &path, &node.span));
    }
    let table = reader.opened(above, key, node)?;
    let known = match table.get("material") {
        Some((key, node)) => {
            let name = reader.text(node, &key.span, "the name of a material")?;
            material(reader, name, &node.span)?
        }
        None => untold(),
    };
    let one = |reader: &mut Reader<'_>, figure| figure_of(reader, &table, known, figure);
    let bounce = Bounce {
        restitution: one(reader, Figure::Restitution),
        friction: one(reader, Figure::Friction),
        grip_return: one(reader, Figure::GripReturn),
        rolling: one(reader, Figure::Rolling),
        name: String::new(),
        source: String::new(),
    };
    let all_told = ["restitution", "friction"].iter().all(|name| table.get(name).is_some());
    let (name, source) = if all_told && table.get("material").is_none() {
        ("as told", "")
    } else {
        (known.name, known.source)
    };
    Some(Bounce { name: name.to_owned(), source: source.to_owned(), ..bounce })
}

/// A number of a surface.
#[derive(Clone, Copy)]
enum Figure {
    Restitution,
    Friction,
    GripReturn,
    Rolling,
}

impl Figure {
    const ALL: [Self; 4] = [Self::Restitution, Self::Friction, Self::GripReturn, Self::Rolling];

    fn key(self) -> &'static str {
        match self {
            Self::Restitution => "restitution",
            Self::Friction => "friction",
            Self::GripReturn => "grip_return",
            Self::Rolling => "rolling",
        }
    }

    fn what(self) -> What {
        match self {
            Self::Restitution | Self::GripReturn => What::any(Dimension::Ratio).within(0.0, 1.0),
            // More than any rubber on any road: a slip.
            Self::Friction => What::any(Dimension::Number).within(0.0, 5.0),
            Self::Rolling => What::any(Dimension::Number).within(0.0, 2.0),
        }
    }

    fn known(self, surface: &Surface) -> Option<[f64; 2]> {
        match self {
            Self::Restitution => Some(surface.restitution),
            Self::Friction => Some(surface.friction),
            Self::GripReturn => None,
            Self::Rolling => Some(surface.rolling),
        }
    }
}

/// One number as told, or as the material has it.
fn figure_of(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    known: &Surface,
    figure: Figure,
) -> InputId {
    let told = reader.told(table, figure.key());
    told.unwrap_or_else(|| assume(reader, known, &table.path, &table.at, figure))
}

fn assume(
    reader: &mut Reader<'_>,
    known: &Surface,
    path: &str,
    place: &Span,
    figure: Figure,
) -> InputId {
    let name = format!("{path}.{}", figure.key());
    let dimension = figure.what().dimension;
    let Some([low, high]) = figure.known(known) else {
        return reader.assume(name, dimension, Distribution::fixed(0.0), place.clone());
    };
    let middle = Distribution::fixed(f64::midpoint(low, high));
    let input = Input {
        slot: slot_of(&name),
        name,
        dimension,
        distribution: Distribution::uniform(low, high).unwrap_or(middle),
        unknown: false,
        assumed: true,
        written: format!("{}: anything between {low} and {high}", known.name),
    };
    reader.add(input, place.clone())
}

fn all_of(reader: &mut Reader<'_>, known: &Surface, path: &str, place: &Span) -> Bounce {
    let [restitution, friction, grip_return, rolling] =
        Figure::ALL.map(|figure| assume(reader, known, path, place, figure));
    let (name, source) = (known.name.to_owned(), known.source.to_owned());
    Bounce { restitution, friction, grip_return, rolling, name, source }
}

fn assumed(reader: &mut Reader<'_>, path: &str, place: &Span) -> Bounce {
    all_of(reader, untold(), path, place)
}

#[expect(clippy::expect_used, reason = "a test holds that the library has it")]
fn untold() -> &'static Surface {
    surface(UNTOLD).expect("the library knows it")
}

fn material(reader: &mut Reader<'_>, name: &str, span: &Span) -> Option<&'static Surface> {
    let found = surface(name);
    if found.is_none() {
        let names = || surfaces().map(|surface| surface.name);
        let near = nearest(name, names())
            .map(|near| format!("did you mean `{near}`? "))
            .unwrap_or_default();
        let list: Vec<&str> = names().collect();
        reader.report(
            Diagnostic::error("scenario::surface", format!("no surface is called `{name}`"))
                .at(span.clone(), "not in the library")
                .help(format!(
                    "{near}choose one of: {}; or write `{{restitution: 0.3, friction: 0.5}}`",
                    list.join(", ")
                )),
        );
    }
    found
}
