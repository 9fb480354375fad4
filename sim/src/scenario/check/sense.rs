//! Does the whole make sense? Looks at the inputs in their middle.

use crate::{
    body::{Body, Form, Shape},
    diagnostic::{Diagnostic, Span},
    math::{cos, sin},
    quantity::{Dimension, Show, format},
    scenario::{
        Air, CarrierWake, InputId, Object, Outline, Place, Release, Shed, SolidShape, Target,
    },
    text::reader::{Reader, Table},
};

/// Width that vehicles may have, in m. Source: Directive 96/53/EC (from memory).
const WIDEST: f64 = 2.6;
/// Drag coefficient of the bluntest vehicles. Source: a flat plate face-on has
/// 1.17 to 1.28 (Matthews; NASA Glenn, Shape Effects on Drag; both read).
const BLUNTEST: f64 = 1.2;

/// Shorter side of the largest pane that is 4 mm thick, in m (judgement: doors and
/// side windows).
const LARGE_PANE: f64 = 1.2;

/// How deep something may stand in the ground by rounding, in m.
const SLACK: f64 = 2e-3;

/// Reports what cannot be, and what is odd. A value that could not be read is
/// NaN, and fails no test here.
pub(super) fn look(
    reader: &mut Reader<'_>,
    air: Option<&Air>,
    object: Option<&Object>,
    release: Option<&Release>,
    target: Option<&Target>,
    scenario: &Table<'_>,
) {
    if let Some(object) = object {
        proportions(reader, &object.shape);
        density(reader, object);
    }
    if let (Some(Release::Blown(_)), Some(air)) = (release, air)
        && air.wind.is_none()
    {
        let at = scenario.get("release").map_or(scenario.at.clone(), |(key, _)| key.span.clone());
        reader.report(
            Diagnostic::error("scenario::wind", "nothing blows")
                .at(at, "`blown` needs a wind")
                .help("add, for example, `wind: {speed: 20 m/s}` to `air`"),
        );
    }
    if let (Some(Release::Shed(shed)), Some(air)) = (release, air)
        && let Some(wake) = &shed.wake
    {
        dragged(reader, shed, wake, air);
    }
    if let (Some(object), Some(release)) = (object, release) {
        start(reader, object, release.place());
    }
    if let Some(target) = target {
        above_ground(reader, target);
        large_panes(reader, target);
        if let Some(release) = release {
            outside(reader, target, release.place());
        }
    }
}

/// The air that a carrier drags along: does it go through the air, and is its drag
/// one that fits its size?
fn dragged(reader: &mut Reader<'_>, shed: &Shed, wake: &CarrierWake, air: &Air) {
    if reader.middle(shed.carrier_speed) <= 0.0 && air.wind.is_none() {
        let message = "a carrier that stands in still air has no wake";
        let help = "take `wake` out, or let the carrier move";
        error(reader, shed.carrier_speed, message, "it does not move", help);
    }
    let (area, height) = (reader.middle(wake.drag_area), reader.middle(wake.height));
    if area > WIDEST * BLUNTEST * height {
        let at = reader.place(wake.drag_area);
        reader.report(
            Diagnostic::warning("scenario::wake", "is this drag area right for this height?")
                .at(at, "more than the bluntest vehicle of this height and full width has")
                .help("it is the drag coefficient times the frontal area: for cars about 0.6 to 0.8 m2, vans 1.5 to 2, lorries 5 to 7"),
        );
    }
}

/// Points at an input.
fn error(reader: &mut Reader<'_>, id: InputId, message: &str, found: &str, help: &str) {
    let at = reader.place(id);
    reader.report(Diagnostic::error("scenario::sense", message).at(at, found).help(help));
}

fn proportions(reader: &mut Reader<'_>, shape: &Shape<InputId>) {
    let (long, short, message, help) = match *shape {
        Shape::Sphere { .. }
        | Shape::Irregular { .. }
        | Shape::Cylinder { .. }
        | Shape::Cone { .. }
        | Shape::Block { .. }
        | Shape::Custom { .. } => return,
        Shape::Bar { length, width, height } => {
            let larger = if reader.middle(width) > reader.middle(height) { width } else { height };
            (length, larger, "this bar is thicker than long", "write it as a block")
        }
        Shape::Rod { length, diameter } => {
            (length, diameter, "this rod is thicker than long", "write it as a cylinder or a disc")
        }
        Shape::Disc { diameter, thickness } => {
            (diameter, thickness, "this disc is thicker than wide", "write it as a cylinder")
        }
        Shape::Wheel { diameter, width, .. } => {
            (diameter, width, "this wheel is wider than high", "write it as a tube or a cylinder")
        }
        Shape::Tube { diameter, wall, .. } => {
            if 2.0 * reader.middle(wall) > reader.middle(diameter) {
                let message = "this tube's walls meet inside";
                let help = "`diameter` is the outer one; a full one is a `cylinder`";
                error(reader, wall, message, "more than half of `diameter`", help);
            }
            return;
        }
        Shape::Plate { length, width, thickness } => {
            if reader.middle(thickness) >= reader.middle(width) {
                let message = "this plate is thicker than wide";
                let help = "write it as a block, or as a rod if it is round";
                error(reader, thickness, message, "not less than `width`", help);
            }
            (length, width, "this plate is wider than long", "`length` is the longer side")
        }
    };
    if reader.middle(short) > reader.middle(long) {
        let key = reader.inputs[long.0].name.rsplit('.').next().unwrap_or_default();
        let found = format!("greater than `{key}`");
        error(reader, short, message, &found, help);
    }
}

/// From lighter than most foams to heavier than any metal in use: a slip of
/// units, more often than not.
fn density(reader: &mut Reader<'_>, object: &Object) {
    let mass = reader.middle(object.mass);
    let body = Body::solid(object.shape.map(|id| reader.middle(id)), mass);
    // Of a custom shape no more is known than its box, which is far from full.
    let (volume, custom) = match body.shape {
        Shape::Custom { sides, .. } => (sides.iter().product(), true),
        _ => (body.volume(), false),
    };
    let density = mass / volume;
    let (heavy, light) = (density > 23_000.0, density < 2.0 && !custom);
    if heavy || light {
        let at = reader.place(object.mass);
        let shown = format(density, Dimension::Density, Show::Si);
        let odd = if light { "little more than air" } else { "no metal is as dense" };
        reader.report(
            Diagnostic::warning("scenario::density", "is this mass right for this size?")
                .at(at, format!("{shown}: {odd}"))
                .help("look for a slip of units in the mass or the shape"),
        );
    }
}

fn start(reader: &mut Reader<'_>, object: &Object, place: &Place) {
    let body = Body::solid(object.shape.map(|id| reader.middle(id)), 1.0);
    // A cone's centre is nearer to its base than any of its half extents.
    let nearest = match body.shape.form() {
        Form::Revolved { rings: [a, b], .. } => a.offset.abs().min(b.offset.abs()),
        Form::Ball { .. } | Form::Boxed { .. } => f64::INFINITY,
    };
    let half = body.half_extents();
    // A side that could not be read has been reported.
    let lowest = half.min_element().min(nearest);
    if half.is_finite() && reader.middle(place[2]) < lowest - SLACK {
        let help = "`height` is that of the object's centre above the ground";
        let found = "lower than half its thinnest side";
        error(reader, place[2], "the object starts inside the ground", found, help);
    }
}

fn above_ground(reader: &mut Reader<'_>, target: &Target) {
    for face in &target.faces {
        let tall = match face.outline {
            Outline::Rectangle { height, .. } => height,
            Outline::Disc { diameter } => diameter,
        };
        let half = reader.middle(tall) / 2.0 * cos(reader.middle(face.rake)).abs();
        let lowest = reader.middle(face.centre[2]) - half;
        underground(reader, face.centre[2], lowest, &face.name);
    }
    for solid in &target.solids {
        let lowest = reader.middle(solid.centre[2]) - reader.middle(solid.size[2]) / 2.0;
        underground(reader, solid.centre[2], lowest, &solid.name);
    }
}

fn underground(reader: &mut Reader<'_>, centre: InputId, lowest: f64, name: &str) {
    if lowest < -SLACK {
        let message = format!("`{name}` reaches into the ground");
        let shown = format(lowest, Dimension::Length, Show::Si);
        let found = format!("its lowest point is at {shown}");
        let help = "`centre` is [downrange, to the left, up], up from the ground";
        error(reader, centre, &message, &found, help);
    }
}

/// A figure for a small pane of 4 mm is none for a shop front.
fn large_panes(reader: &mut Reader<'_>, target: &Target) {
    for face in &target.faces {
        let named = face.barrier.as_ref().is_some_and(|barrier| barrier.name == "toughened_glass");
        let Outline::Rectangle { width, height } = face.outline else { continue };
        let short = reader.middle(width).min(reader.middle(height));
        if named && short > LARGE_PANE {
            let message = format!("`{}` is larger than the panes of `toughened_glass`", face.name);
            let found = "that figure is for 4 mm in a vehicle or a door";
            let help = "`{pane: {kind: toughened, thickness: 8 mm}}` goes by thickness and size";
            let at = reader.place(width);
            let warning = Diagnostic::warning("scenario::pane", message).at(at, found).help(help);
            reader.report(warning);
        }
    }
}

/// Whether a point of the box about a solid, as shares of its half extents, is in
/// the solid.
pub(super) fn fills(shape: SolidShape, shares: [f64; 3]) -> bool {
    match shape {
        SolidShape::Boxed => true,
        SolidShape::Wedge => shares[2] < shares[0],
        SolidShape::Cylinder { axis } => {
            let [a, b] = [1, 2].map(|next| shares[(axis + next) % 3]);
            a * a + b * b < 1.0
        }
    }
}

/// A release inside a solid of the target can only be a slip.
fn outside(reader: &mut Reader<'_>, target: &Target, place: &Place) {
    let middle = |reader: &Reader<'_>, ids: &[InputId; 3]| ids.map(|id| reader.middle(id));
    let [x, y, z] = middle(reader, place);
    let (at, left) = (reader.middle(target.motion.at), reader.middle(target.motion.left));
    for solid in &target.solids {
        let centre = middle(reader, &solid.centre);
        let size = middle(reader, &solid.size);
        let turn = reader.middle(solid.turn);
        let (dx, dy) = (x - at - centre[0], y - left - centre[1]);
        let along = dx * cos(turn) + dy * sin(turn);
        let across = dy * cos(turn) - dx * sin(turn);
        let shares: [f64; 3] =
            std::array::from_fn(|i| 2.0 * [along, across, z - centre[2]][i] / size[i]);
        let inside = shares.iter().all(|share| share.abs() < 1.0) && fills(solid.shape, shares);
        if inside {
            let span: Span = reader.place(place[2]);
            reader.report(
                Diagnostic::error("scenario::sense", "the release is inside the target")
                    .at(span, format!("inside `{}`", solid.name))
                    .help("move the target away with `at`, or release from above it"),
            );
        }
    }
}
