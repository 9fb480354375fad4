//! `object`: shape, mass and doubt about the air's forces.

use super::{custom, made_of};
use crate::{
    aero::{Figure, lift_doubt},
    body::{Shape, Surface, Surfaces},
    diagnostic::Diagnostic,
    flight::GRAVITY,
    quantity::Dimension,
    scenario::{
        Air, InputId, Object, Release, Tabulated,
        parts::{self, LIKE, Side},
    },
    text::{
        reader::{Reader, Table},
        row::{Group, Kind, Row, Unwritten, number, sub},
        what::What,
    },
};

/// Share of a wheel's diameter inside which there is next to no mass: gives a
/// radius of gyration of 0.79 radii, as of car wheels with their tyres (common
/// practice, no source).
const HUB: f64 = 0.5;

pub(super) fn row() -> Row {
    let any = Dimension::Number;
    let own = vec![
        parts::like_row(Side::Object),
        shapes(),
        number("mass", What::positive(Dimension::Mass), "Its mass."),
        made_of::row(),
        // 0 takes the air away: bare ballistics, for comparison.
        number(
            "drag_factor",
            What::not_negative(any).within(0.0, 100.0),
            "Times every force of the air: doubt about the published coefficients.",
        )
        .or(1.0),
        number(
            "spin_lift_factor",
            What::any(any).within(-10.0, 10.0),
            "Of a sphere that spins: its lift, times the published one.",
        )
        .may("1 where it was measured, else unknown, see above"),
    ];
    let figures = Figure::ALL.map(|figure| {
        let [least, most] = figure.bounds();
        let range = figure.range(Surface::default(), f64::INFINITY);
        number(figure.name(), What::any(any).within(least, most), open(figure))
            .open(range, figure.is_ratio())
    });
    let object = Group::new("What flies.", own).and(figures.into());
    sub("object", object.or_by(LIKE)).like("{shape: {sphere: {diameter: 10 cm}}, mass: 4 kg}")
}

/// What a figure of a shape is.
fn open(figure: Figure) -> &'static str {
    match figure {
        Figure::CrisisPlace => {
            "Of what is round: at which speed its drag falls, times the published; narrower where the `surface` is told."
        }
        Figure::CrisisDepth => "Of what is round: how far its drag falls then, 0 least, 1 most.",
        Figure::HailDrag => "Drag coefficient of a sphere of `hail`.",
        Figure::LumpDrag => "Drag of what is irregular, times the model's.",
        Figure::ConeDrag => "Drag of a cone apex first, times the model's.",
        Figure::AutorotationLift => "Lift of a plate or disc that keeps turning over.",
        Figure::AutorotationTorque => "Torque of a plate or disc that keeps turning over.",
        Figure::Rim => {
            "How much a disc is like a flying disc, its dome towards its own z: 0 flat, 1 like one."
        }
        Figure::GlideLift => "Slope of a disc's lift, times a sheet's.",
        Figure::GlideMoment => "What turns a disc's nose up.",
        Figure::BarDrag => "Drag of a bar's faces, times the published.",
        Figure::BarSideForce => "Push of a bar sideways, in shares of the drag of its face.",
    }
}

fn shapes() -> Row {
    let length = What::positive(Dimension::Length);
    let across = || number("diameter", length, "Across.");
    let long = || number("length", length, "Along x.");
    let wide = || number("width", length, "Along y.");
    let share = What::positive(Dimension::Ratio);
    let hub = number(
        "hub",
        share.within(0.0, 0.95),
        "Share of the diameter inside which there is next to no mass.",
    )
    .or(HUB);
    let shape = |name, about, rows| sub(name, Group::new(about, rows));
    let round = || surface_row(&Shape::Cylinder { length: (), diameter: () });
    let ball = surface_row(&Shape::Sphere { diameter: () });
    let box_of = |third: &'static str| vec![long(), wide(), number(third, length, "Along z.")];
    let rows = vec![
        shape("sphere", "A ball.", vec![across(), ball]),
        shape(
            "irregular",
            "A lump.",
            vec![
                number("diameter", length, "Of the ball of the same volume."),
                number(
                    "sphericity",
                    share,
                    "Surface of that ball over its own: a cube has 81 %, rubble 70 to 85 %.",
                )
                .like("75 %"),
            ],
        ),
        shape("plate", "A flat sheet across z.", box_of("thickness")),
        shape(
            "disc",
            "A flat round sheet across z.",
            vec![across(), number("thickness", length, "Along z.")],
        ),
        shape(
            "wheel",
            "A wheel, its axle along z: roll it by 90 deg to stand it up.",
            vec![across(), number("width", length, "Along its axle."), hub, round()],
        ),
        shape(
            "rod",
            "A round bar along x, twice as long as thick or more.",
            vec![long(), across(), round()],
        ),
        shape("cylinder", "A drum, a can, a log, along x.", vec![long(), across(), round()]),
        shape(
            "cone",
            "A full cone along x, apex forward.",
            vec![long(), number("diameter", length, "Of its base."), round()],
        ),
        shape(
            "tube",
            "A pipe along x, open at both ends.",
            vec![
                long(),
                number("diameter", length, "Outside."),
                number("wall", length, "Thickness of its wall."),
                round(),
            ],
        ),
        shape("block", "A box whose sides differ by at most five.", box_of("height")),
        shape(
            "bar",
            "A plank, a beam along x, three times as long as thick or more.",
            box_of("height"),
        ),
        shape("custom", "A box that flies by a table of your own.", custom::rows()),
    ];
    let doc = "Its shape.";
    sub("shape", Group::choice(doc, rows)).like("{sphere: {diameter: 10 cm}}")
}

fn surface_row(shape: &Shape<()>) -> Row {
    let fitting = Surface::ALL.into_iter().filter(|surface| surface.fits(shape));
    Row::new(
        "surface",
        Kind::names(fitting.map(Surface::name)),
        "What its surface is like: decides at which speed its drag falls.",
    )
    .may("`plain`: nothing is known")
}

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Object> {
    let table = reader.open(scenario, "object")?;
    let shape = shape(reader, &table);
    let mass = reader.number(&table, "mass");
    let drag_factor = reader.number(&table, "drag_factor");
    let made_of = made_of::read(reader, &table);
    let (shape, told) = shape?;
    let Told { surface, table } = told;
    let (spin_lift_factor, figures) = (None, Vec::new());
    Some(Object { shape, mass, made_of, drag_factor, table, surface, spin_lift_factor, figures })
}

/// Reynolds number below which the drag crisis of everyday roughness is not felt.
/// Source: the roughest balls measured have their lowest drag at 6e4 (Achenbach 1974,
/// from memory).
const CALM: f64 = 5e4;
/// Kinematic viscosity of air at 0 degC, in m²/s.
const THIN: f64 = 1.33e-5;

/// What the coefficients of the shape leave open, once release and air are known:
/// an unknown for each figure that may make a difference.
pub(super) fn figures(
    reader: &mut Reader<'_>,
    scenario: &Table<'_>,
    object: &mut Object,
    release: Option<&Release>,
    air: Option<&Air>,
) {
    let Some(table) = reader.again(scenario, "object") else { return };
    let own = Figure::of(&object.shape, object.surface);
    for figure in Figure::ALL.into_iter().filter(|figure| !own.contains(figure)) {
        if let Some((key, _)) = table.get(figure.name()) {
            let message = format!("`{}` is not for this shape", figure.name());
            let list: Vec<&str> = own.iter().map(|figure| figure.name()).collect();
            let help = if list.is_empty() {
                "leave it out".to_owned()
            } else {
                format!("what is open about this one: {}", list.join(", "))
            };
            reader.report(
                Diagnostic::error("scenario::figure", message)
                    .at(key.span.clone(), format!("this is a {}", object.shape.name()))
                    .help(help),
            );
        }
    }
    let airless = most_of(reader, object.drag_factor) <= 0.0;
    let calm = largest_reynolds(reader, object, release, air) < CALM;
    let aspect = longest(reader, object);
    for &figure in own {
        let crisis = matches!(figure, Figure::CrisisPlace | Figure::CrisisDepth);
        if (airless || crisis && calm) && table.get(figure.name()).is_none() {
            continue;
        }
        let range = figure.range(object.surface, aspect);
        let unwritten = Unwritten::Open { range, ratio: figure.is_ratio() };
        let id = reader.number_or(&table, figure.name(), unwritten);
        object.figures.push((figure, id));
    }
}

/// Span over chord of a sheet, at most but for one draw in a thousand; 1 of what is
/// round or no sheet.
fn longest(reader: &Reader<'_>, object: &Object) -> f64 {
    let Shape::Plate { length, width, .. } = object.shape else { return 1.0 };
    let [long, wide] = [length, width].map(|id| {
        let spread = &reader.inputs[id.0].distribution;
        [spread.quantile(0.001), spread.quantile(0.999)]
    });
    (long[1] / wide[0]).max(wide[1] / long[0])
}

/// As much as an input may be, but for one draw in a thousand.
fn most_of(reader: &Reader<'_>, id: InputId) -> f64 {
    reader.inputs[id.0].distribution.quantile(0.999)
}

/// A Reynolds number on the diameter of something round that no flight exceeds.
fn largest_reynolds(
    reader: &Reader<'_>,
    object: &Object,
    release: Option<&Release>,
    air: Option<&Air>,
) -> f64 {
    if object.shape.family().surfaces == Surfaces::Plain {
        return 0.0;
    }
    let size = object.shape.map(|id| most_of(reader, id)).form().half_extents();
    // Round about an axis: two extents are the diameter.
    let diameter = size.x.min(size.y).max(size.y.min(size.z)).max(size.x.min(size.z)) * 2.0;
    let Some(release) = release else { return f64::INFINITY };
    let most = |id: InputId| most_of(reader, id);
    let leaves = match release {
        Release::Launched(it) => most(it.speed) * it.speed_factor.map_or(1.0, most),
        Release::Shed(it) => most(it.carrier_speed),
        Release::Dropped(_) | Release::Blown(_) => 0.0,
    };
    let fall = 2.0 * GRAVITY * most(release.place()[2]).max(0.0);
    // Profiles and gusts may double the wind that was told.
    let wind = air.and_then(|air| air.wind.as_ref()).map_or(0.0, |wind| 2.0 * most(wind.speed));
    ((leaves * leaves + fall).sqrt() + wind) * diameter / THIN
}

/// What multiplies the lift of a sphere's spin, once the release is known: an
/// input where a spin is told or the sphere is of a kind that was measured spinning.
pub(super) fn spin(
    reader: &mut Reader<'_>,
    scenario: &Table<'_>,
    object: &mut Object,
    release: Option<&Release>,
) {
    let Some(table) = reader.again(scenario, "object") else { return };
    let is_sphere = matches!(object.shape, Shape::Sphere { .. });
    let told = release
        .is_some_and(|release| release.pose().spin.iter().any(|id| !reader.inputs[id.0].assumed));
    let doubt = lift_doubt(object.surface);
    if is_sphere && (told || doubt.is_none()) {
        let unwritten = match doubt {
            Some(range) => Unwritten::Open { range, ratio: false },
            None => Unwritten::Value(1.0),
        };
        object.spin_lift_factor = Some(reader.number_or(&table, "spin_lift_factor", unwritten));
    } else if let Some((key, _)) = table.get("spin_lift_factor") {
        let (found, help) = if is_sphere {
            (
                "this one does not spin",
                "tell its `spin` in the release, if only 0 rpm, or drop this",
            )
        } else {
            ("this is no sphere", "leave it out: other shapes have lift of their own")
        };
        reader.report(
            Diagnostic::error("scenario::spin", "`spin_lift_factor` is for spheres that spin")
                .at(key.span.clone(), found)
                .help(help),
        );
    }
}

/// What a shape's keys tell besides its size.
#[derive(Default)]
struct Told {
    surface: Surface,
    table: Option<Tabulated>,
}

fn shape(reader: &mut Reader<'_>, object: &Table<'_>) -> Option<(Shape<InputId>, Told)> {
    let shapes = reader.open(object, "shape")?;
    let (key, table) = reader.chosen_group(&shapes)?;
    let Some(known) = Shape::ALL.iter().find(|shape| shape.name() == key.name) else {
        let (shape, tabulated) = custom::read(reader, &table)?;
        return Some((shape, Told { table: Some(tabulated), ..Told::default() }));
    };
    let shape = known.map(|side| reader.number(&table, side.key));
    let surface = surface(reader, &table, &shape);
    Some((shape, Told { surface, table: None }))
}

fn surface(reader: &mut Reader<'_>, table: &Table<'_>, shape: &Shape<InputId>) -> Surface {
    let fitting = Surface::ALL.into_iter().filter(|surface| surface.fits(shape));
    let words: Vec<_> = fitting.map(|surface| (surface.name(), surface)).collect();
    // Where it has none, the key is not known and has been reported.
    if table.group.row("surface").is_none() {
        return Surface::default();
    }
    let what = format!("the surface of a {}", shape.name());
    reader.word_of(table, "surface", &what, &words).unwrap_or_default()
}
