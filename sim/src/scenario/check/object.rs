//! `object`: shape, mass and doubt about the air's forces.

use super::{
    custom, made_of,
    reader::{Reader, Table},
    what::What,
};
use crate::{
    aero::{Figure, lift_doubt},
    body::{Measure, Shape, Surface, Surfaces},
    diagnostic::Diagnostic,
    flight::GRAVITY,
    quantity::Dimension,
    scenario::{Air, InputId, Object, Release, Tabulated},
};

/// The keys of an object besides the figures of its shape.
pub(in crate::scenario) const OWN: [&str; 5] =
    ["shape", "mass", "made_of", "drag_factor", "spin_lift_factor"];

/// Every key of an object.
pub(in crate::scenario) fn keys() -> impl Iterator<Item = &'static str> {
    OWN.into_iter().chain(Figure::ALL.map(Figure::name))
}

/// Every shape with its keys.
pub(in crate::scenario) fn shapes() -> Vec<(&'static str, Vec<&'static str>)> {
    let own = Shape::ALL.iter().map(|shape| {
        let mut keys = Vec::new();
        let _ = shape.map(|side| keys.push(side.key));
        if shape.family().surfaces != Surfaces::Plain {
            keys.push("surface");
        }
        (shape.name(), keys)
    });
    own.chain([("custom", custom::KEYS.to_vec())]).collect()
}
/// Those of them that may be left out.
pub(in crate::scenario) const OPTIONAL: [&str; 4] = ["hub", "surface", "gyration", "reynolds"];

/// Share of a wheel's diameter inside which there is next to no mass: gives a
/// radius of gyration of 0.79 radii, as of car wheels with their tyres (common
/// practice, no source).
const HUB: f64 = 0.5;

/// What a key of a shape measures.
pub(in crate::scenario) fn dimension(key: &str) -> Dimension {
    let mut measures = Vec::new();
    for shape in Shape::ALL {
        let _ = shape.map(|side| measures.push((side.key, side.measure)));
    }
    match measures.iter().find(|(name, _)| *name == key) {
        Some((_, measure)) => measured(*measure),
        None if key == "reference_area" => Dimension::Area,
        None => Dimension::Length,
    }
}

fn measured(measure: Measure) -> Dimension {
    match measure {
        Measure::Length => Dimension::Length,
        Measure::Ratio => Dimension::Ratio,
    }
}

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Object> {
    let (key, node) = reader.required(scenario, "object", "{shape: …, mass: 4 kg}")?;
    let known: Vec<&str> = keys().collect();
    let table = reader.table(node, &key.span, "object", &known)?;
    let shape = shape(reader, &table);
    let mass = reader.number(&table, "mass", What::positive(Dimension::Mass));
    // 0 takes the air away: bare ballistics, for comparison.
    let factor = What::not_negative(Dimension::Number).within(0.0, 100.0).or(1.0);
    let drag_factor = reader.number(&table, "drag_factor", factor);
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
    let Some((key, node)) = scenario.get("object") else { return };
    let Some(table) = reader.open_table(node, &key.span, "object") else { return };
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
        let [least, most] = figure.bounds();
        let what = What::any(Dimension::Number).within(least, most);
        let range = figure.range(object.surface, aspect);
        let id = reader.open(&table, figure.name(), what, range, figure.is_ratio());
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
    let Some((key, node)) = scenario.get("object") else { return };
    let Some(table) = reader.open_table(node, &key.span, "object") else { return };
    let is_sphere = matches!(object.shape, Shape::Sphere { .. });
    let told = release
        .is_some_and(|release| release.pose().spin.iter().any(|id| !reader.inputs[id.0].assumed));
    let doubt = lift_doubt(object.surface);
    if is_sphere && (told || doubt.is_none()) {
        let factor = What::any(Dimension::Number).within(-10.0, 10.0).or(1.0);
        let name = "spin_lift_factor";
        object.spin_lift_factor = Some(match doubt {
            Some(range) => reader.open(&table, name, factor, range, false),
            None => reader.number(&table, name, factor),
        });
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
    let (key, node) = reader.required(object, "shape", "{sphere: {diameter: 10 cm}}")?;
    let shapes = shapes();
    let names: Vec<&str> = shapes.iter().map(|(name, _)| *name).collect();
    let table = reader.table(node, &key.span, "object.shape", &names)?;
    let (key, node) = reader.one_of(&table, &names)?;
    let path = table.path_of(&key.name);
    let keys = shapes.iter().find(|(name, _)| *name == key.name).map_or(&[][..], |(_, keys)| keys);
    let table = reader.table(node, &key.span, &path, keys)?;
    let Some(known) = Shape::ALL.iter().find(|shape| shape.name() == key.name) else {
        let (shape, tabulated) = custom::read(reader, &table)?;
        return Some((shape, Told { table: Some(tabulated), ..Told::default() }));
    };
    let shape = known.map(|side| {
        let what = What::positive(measured(side.measure));
        let hub = side.key == "hub";
        reader.number(&table, side.key, if hub { what.within(0.0, 0.95).or(HUB) } else { what })
    });
    let surface = surface(reader, &table, &shape);
    Some((shape, Told { surface, table: None }))
}

fn surface(reader: &mut Reader<'_>, table: &Table<'_>, shape: &Shape<InputId>) -> Surface {
    let fitting = Surface::ALL.into_iter().filter(|surface| surface.fits(shape));
    let words: Vec<_> = fitting.map(|surface| (surface.name(), surface)).collect();
    // Where it has none, the key is not known and has been reported.
    let told = table.get("surface").filter(|_| words.len() > 1);
    told.and_then(|(key, node)| {
        reader.word(node, &key.span, &format!("the surface of a {}", shape.name()), &words)
    })
    .unwrap_or_default()
}
