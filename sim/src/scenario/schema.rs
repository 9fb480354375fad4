//! The scenario language as a JSON Schema, for editors.
//!
//! An editor that knows it completes keys and marks misspelt ones while the
//! scenario is typed. What it cannot know (units, order, physics) is `check`'s
//! to say: every scenario that `check` accepts is valid here, not the reverse.

mod parts;
#[cfg(test)]
mod tests;

use self::parts::{flag, group, list, one_key, text, words};
use super::{
    check::{barrier, claim, object, release, secured, target, turbulence, wake},
    library,
};
use crate::{body::Surface, quantity::Dimension};
use serde_json::{Map, Value, json};

/// The JSON Schema (draft 2020-12) of a scenario.
#[must_use]
pub fn schema() -> Value {
    let number = |dimension: Dimension| parts::reference(dimension);
    let criteria: Vec<&str> = library::criteria::CRITERIA.iter().map(|one| one.name).collect();
    let mut root = group(
        "A claim about a flying object, for longodds.",
        &[
            ("claim", text("The claim, in a sentence or two.")),
            ("show", words("How results are shown.", &["si", "imperial"])),
            ("air", air()),
            ("ground", surface("The ground, where flights go on after they touch it.", true)),
            ("object", the_object()),
            ("release", the_release()),
            ("target", the_target()),
            (
                "harm",
                json!({ "anyOf": [
                    words("A published criterion.", &criteria),
                    one_key(
                        "An energy, or a blow to the head.",
                        &[("energy", number(Dimension::Energy)), ("head_hic", head_hic())],
                    ),
                ] }),
            ),
            ("chain", the_chain()),
            ("together", together()),
        ],
        &["claim", "object", "release", "target", "chain"],
    );
    root["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    root["title"] = json!("longodds scenario");
    root["$defs"] = parts::definitions();
    root
}

fn air() -> Value {
    let number = parts::reference;
    let terrains: Vec<&str> = super::check::air::TERRAINS.iter().map(|(word, _)| *word).collect();
    let by_terrain = words("The standard's, for the terrain.", &[turbulence::BY_TERRAIN]);
    let gusts = group(
        "Standard deviation over mean speed, how wide gusts are, and how much weaker they are across the wind and upwards.",
        &[
            ("intensity", number(Dimension::Ratio)),
            ("scale", number(Dimension::Length)),
            ("across", number(Dimension::Number)),
            ("upwards", number(Dimension::Number)),
        ],
        &turbulence::NEEDED,
    );
    let wind = group(
        "The wind.",
        &[
            ("speed", number(Dimension::Speed)),
            ("towards", number(Dimension::Angle)),
            ("height", number(Dimension::Length)),
            ("terrain", words("How the wind grows with height.", &terrains)),
            (
                "turbulence",
                json!({ "description": "Gusts within a flight.", "anyOf": [by_terrain, gusts] }),
            ),
        ],
        &["speed"],
    );
    group(
        "The air; a standard atmosphere at sea level where nothing is written.",
        &[
            ("temperature", number(Dimension::Temperature)),
            ("pressure", number(Dimension::Pressure)),
            ("humidity", number(Dimension::Ratio)),
            ("altitude", text("Height above the sea, such as 1200 m.")),
            ("wind", wind),
        ],
        &[],
    )
}

fn the_object() -> Value {
    let shapes: Vec<(&str, Value)> = object::shapes()
        .into_iter()
        .map(|(name, keys)| {
            let sides: Vec<(&str, Value)> = keys.iter().map(|key| (*key, shape_key(key))).collect();
            let needed: Vec<&str> =
                keys.iter().copied().filter(|key| !object::OPTIONAL.contains(key)).collect();
            (name, group("What describes this shape.", &sides, &needed))
        })
        .collect();
    let mut keys = vec![
        ("shape", one_key("Its shape.", &shapes)),
        ("mass", parts::reference(Dimension::Mass)),
        ("made_of", made_of()),
    ];
    let factors = object::keys().filter(|key| !["shape", "mass", "made_of"].contains(key));
    keys.extend(factors.map(|key| (key, parts::reference(Dimension::Number))));
    group("What flies.", &keys, &["shape", "mass"])
}

/// What something is made of.
fn made_of() -> Value {
    let crush = [("crush", parts::reference(Dimension::Pressure))];
    let told = group("The pressure at which it crushes.", &crush, &["crush"]);
    let description = "What it is made of; hard where nothing is written.";
    json!({ "description": description, "anyOf": [stuffs(), told] })
}

fn stuffs() -> Value {
    let names: Vec<&str> = library::stuff::STUFFS.iter().map(|stuff| stuff.name).collect();
    words("By name.", &names)
}

fn shape_key(key: &str) -> Value {
    match key {
        "coefficients" => text("A CSV file, from the scenario's folder."),
        "gyration" => point("Radii of gyration about x, y, z."),
        "reynolds" => json!({
            "type": "array",
            "description": "Smallest and largest Reynolds number of the coefficients.",
            "items": { "type": ["number", "string"] },
            "minItems": 2,
            "maxItems": 2,
        }),
        "surface" => words("What the surface is like.", &Surface::ALL.map(Surface::name)),
        _ => parts::reference(object::dimension(key)),
    }
}

fn the_release() -> Value {
    let kinds = release::KINDS.map(|(name, own)| {
        let keys: Vec<(&str, Value)> = own
            .iter()
            .chain(&release::PLACE)
            .chain(&release::POSE)
            .map(|key| (*key, release_key(key)))
            .collect();
        let needed: &[&str] = match own.first() {
            Some(&"speed") => &["height", "speed"],
            Some(&"file") => &["height", "file", "setting"],
            _ => &["height"],
        };
        (name, group("How the object starts to move.", &keys, needed))
    });
    one_key("How the object starts to move.", &kinds)
}

fn release_key(key: &str) -> Value {
    let number = parts::reference;
    match key {
        "speed" => number(Dimension::Speed),
        "file" => {
            json!({ "type": "string", "description": "The rig's own file, from the scenario's folder." })
        }
        "setting" => {
            json!({ "type": "string", "description": "Its setting with a unit, such as 6 ft." })
        }
        "at" | "left" | "height" => number(Dimension::Length),
        "spin" => {
            let rate = || number(Dimension::Rotation);
            let axes = [("x", rate()), ("y", rate()), ("z", rate())];
            let by_axis = group("Spin about each body axis.", &axes, &[]);
            json!({ "anyOf": [number(Dimension::Rotation), by_axis] })
        }
        "scatter" => scatter(),
        "secured" => the_secured(),
        "wake" => the_wake(),
        "held" => group(
            "What holds it down until the wind lifts it.",
            &[
                ("times_weight", number(Dimension::Number)),
                ("lift_coefficient", number(Dimension::Number)),
            ],
            &["times_weight"],
        ),
        _ => number(Dimension::Angle),
    }
}

fn the_secured() -> Value {
    let number = parts::reference;
    let jolt = |words: &str| {
        let shapes = secured::SHAPES.map(|(name, keys)| {
            let keys: Vec<(&str, Value)> = keys.iter().map(|key| (*key, pulse_key(key))).collect();
            let needed: &[&str] = match name {
                "measured" => &["file", "time", "acceleration"],
                "trapezoid" => &["peak", "lasts", "rise", "fall"],
                _ => &["peak", "lasts"],
            };
            (name, group("A pulse.", &keys, needed))
        });
        one_key(words, &shapes)
    };
    let shapes: Vec<&str> = secured::COLLISION_SHAPES.iter().map(|(name, _)| *name).collect();
    let collision = group(
        "The carrier meets another body.",
        &[
            ("carrier", number(Dimension::Mass)),
            ("with", number(Dimension::Mass)),
            ("moving", number(Dimension::Speed)),
            ("restitution", number(Dimension::Number)),
            ("lasts", number(Dimension::Time)),
            ("shape", words("Shape of the pulse.", &shapes)),
        ],
        &["carrier", "with", "lasts"],
    );
    let lift = group(
        "The air under it.",
        &[("coefficient", number(Dimension::Number)), ("speed_up", number(Dimension::Number))],
        &[],
    );
    let friction = json!({ "anyOf": [number(Dimension::Number), { "type": "string" }] });
    group(
        "What holds it on the carrier, and what shakes it loose.",
        &[
            ("friction", friction),
            ("strength", number(Dimension::Force)),
            ("path", number(Dimension::Length)),
            ("brakes", jolt("The carrier brakes.")),
            ("pulls_away", jolt("The carrier pulls away, or is hit from behind.")),
            ("collides", collision),
            ("lift", lift),
        ],
        &["friction", "path"],
    )
}

fn the_wake() -> Value {
    let keys = wake::KEYS.map(|key| {
        let dimension = match key {
            "drag_area" => Dimension::Area,
            "height" | "tail" => Dimension::Length,
            _ => Dimension::Number,
        };
        (key, parts::reference(dimension))
    });
    group("The air that the carrier drags along.", &keys, &["drag_area", "height"])
}

fn pulse_key(key: &str) -> Value {
    match key {
        "peak" => parts::reference(Dimension::Acceleration),
        "lasts" => parts::reference(Dimension::Time),
        "rise" | "fall" => json!({ "type": ["number", "string"], "description": "A share." }),
        _ => text("A file, a column of it, or a unit."),
    }
}

fn scatter() -> Value {
    let axes = group(
        "Standard deviation of the aim.",
        &[("up", text("Such as 1 deg.")), ("left", text("Such as 1 deg."))],
        &["up", "left"],
    );
    let group_size = group(
        "A group of test shots.",
        &[
            ("group", text("Distance between the two shots farthest apart.")),
            ("at", text("Distance to the target.")),
            (
                "shots",
                json!({ "type": ["integer", "string"], "description": "Shots in the group." }),
            ),
        ],
        &["group", "at", "shots"],
    );
    json!({ "anyOf": [text("Standard deviation both ways, such as 1 deg."), axes, group_size] })
}

fn the_target() -> Value {
    let number = parts::reference;
    let place = |more: Vec<(&'static str, Value)>, needed: &[&str]| {
        let mut keys = vec![("at", number(Dimension::Length)), ("left", number(Dimension::Length))];
        keys.extend(more);
        group("Where the target is.", &keys, needed)
    };
    let axes: Vec<&str> = target::AXES.iter().map(|(word, _)| *word).collect();
    let attitude = group(
        "The attitude that the claim asks for.",
        &[
            ("axis", words("The body axis that points at the face.", &axes)),
            ("within", number(Dimension::Angle)),
        ],
        &["axis", "within"],
    );
    let solid = group(
        "A box, cylinder or wedge that only blocks.",
        &[
            ("centre", point("Centre: downrange, to the left, up.")),
            ("size", point("A box: extents along the same axes.")),
            ("cylinder", cylinder()),
            ("wedge", point("A ramp that rises along x: extents of the box about it.")),
            ("turn", number(Dimension::Angle)),
            ("surface", surface("How it throws back what it stops.", false)),
        ],
        &["centre"],
    );
    let moving = vec![
        ("speed", number(Dimension::Speed)),
        ("heading", number(Dimension::Angle)),
        ("brakes", brakes()),
        ("steers", steers()),
    ];
    group(
        "What has to be hit.",
        &[
            ("stands", place(Vec::new(), &["at"])),
            ("moves", place(moving, &["at", "speed", "heading"])),
            ("mass", number(Dimension::Mass)),
            ("faces", any_names("Flat faces by name.", &face())),
            ("solids", any_names("Solids by name.", &solid)),
            ("direct", flag("Does only a strike count before which nothing was touched?")),
            ("attitude", attitude),
        ],
        &["faces"],
    )
}

fn cylinder() -> Value {
    let sides = target::CYLINDER.map(|key| (key, parts::reference(Dimension::Length)));
    group("Upright with a `height`, lying along x with a `length`.", &sides, &["diameter"])
}

fn brakes() -> Value {
    let number = parts::reference;
    group(
        "It brakes until it stands.",
        &[("after", number(Dimension::Time)), ("at", number(Dimension::Acceleration))],
        &target::BRAKES,
    )
}

fn steers() -> Value {
    let number = parts::reference;
    let sides = target::SIDES.map(|(word, _)| word);
    group(
        "It moves over to one side of its line.",
        &[
            ("after", number(Dimension::Time)),
            ("to", words("The driver's side.", &sides)),
            ("at", number(Dimension::Acceleration)),
            ("by", number(Dimension::Length)),
        ],
        &target::STEERS,
    )
}

fn face() -> Value {
    let number = parts::reference;
    group(
        "A flat face.",
        &[
            ("centre", point("Centre: downrange, to the left, up.")),
            ("width", number(Dimension::Length)),
            ("height", number(Dimension::Length)),
            ("diameter", number(Dimension::Length)),
            ("facing", number(Dimension::Angle)),
            ("rake", number(Dimension::Angle)),
            ("barrier", the_barrier()),
            ("surface", surface("How it throws back what it stops.", false)),
            ("aim", flag("Does a hit here count?")),
            ("occupant", flag("Is it a person behind the barrier?")),
        ],
        &["centre"],
    )
}

/// A surface by name, or as told.
fn surface(description: &str, ground: bool) -> Value {
    let names: Vec<&str> = library::surfaces().map(|surface| surface.name).collect();
    let number = parts::reference;
    let mut keys = vec![
        ("material", words("A surface of the library.", &names)),
        ("restitution", number(Dimension::Ratio)),
        ("friction", number(Dimension::Number)),
        ("grip_return", number(Dimension::Ratio)),
        ("rolling", number(Dimension::Number)),
    ];
    if ground {
        keys.push(("bounces", flag("`false`: a flight ends where it touches the ground.")));
    }
    let told = group("A surface as told.", &keys, &[]);
    json!({ "description": description, "anyOf": [words("By name.", &names), told] })
}

fn panes() -> Value {
    words("How the glass was made.", &barrier::PANES.map(|(name, _)| name))
}

fn the_barrier() -> Value {
    let names: Vec<&str> = library::library().map(|entry| entry.name).collect();
    let stress = || parts::reference(Dimension::Pressure);
    let length = || parts::reference(Dimension::Length);
    let by_formula = |words: &str, name: &str, needed: &[&str]| {
        let keys = barrier::FORMULAS.iter().find(|(kind, _)| *kind == name);
        let keys: Vec<(&str, Value)> = keys
            .map_or(&[][..], |(_, keys)| keys)
            .iter()
            .map(|key| {
                let value = match *key {
                    "strength" => stress(),
                    "density" => parts::reference(Dimension::Density),
                    "reinforcement" => parts::reference(Dimension::Ratio),
                    "kind" => panes(),
                    _ => length(),
                };
                (*key, value)
            })
            .collect();
        group(words, &keys, needed)
    };
    let told = group(
        "A strength as told, or by a formula.",
        &[
            ("energy", parts::reference(Dimension::Energy)),
            ("speed", parts::reference(Dimension::Speed)),
            ("spread", parts::reference(Dimension::Number)),
            (
                "measured_as",
                words(
                    "What the strength is measured in.",
                    &["normal_energy", "total_energy", "normal_speed"],
                ),
            ),
            ("contact", text("Width of the contact it was measured with, such as 50 mm.")),
            ("tested_with", stuffs()),
            ("factor", parts::reference(Dimension::Number)),
            ("steel", by_formula("A plate of mild steel.", "steel", &["thickness", "span"])),
            (
                "concrete",
                by_formula(
                    "A wall of reinforced concrete.",
                    "concrete",
                    &["thickness", "strength"],
                ),
            ),
            ("shots", text("A log of your own shots: a CSV file in the scenario's folder.")),
            ("board", by_formula("Plywood or OSB on studs.", "board", &["thickness"])),
            (
                "polycarbonate",
                by_formula("A sheet of polycarbonate.", "polycarbonate", &["thickness"]),
            ),
            (
                "pane",
                by_formula(
                    "A pane of glass, as large as the face.",
                    "pane",
                    &["kind", "thickness"],
                ),
            ),
        ],
        &[],
    );
    json!({ "anyOf": [words("A barrier of the library.", &names), told] })
}

fn head_hic() -> Value {
    let number = parts::reference;
    let pulses = claim::PULSES.map(|(word, _)| word);
    group(
        "The head injury criterion of an assumed pulse.",
        &[
            ("pulse", words("Its shape.", &pulses)),
            ("lasts", number(Dimension::Time)),
            ("head", number(Dimension::Mass)),
            ("restitution", number(Dimension::Ratio)),
            ("limit", number(Dimension::Number)),
        ],
        &["lasts"],
    )
}

fn the_chain() -> Value {
    let gates: Vec<&str> = claim::GATES.iter().map(|(word, _)| *word).collect();
    let mut chain = list("The steps of the claim, in order.", words("A step.", &gates), 1, 6);
    chain["uniqueItems"] = json!(true);
    chain
}

fn together() -> Value {
    let pair = json!({
        "type": "array",
        "description": "Two uncertain inputs and their rank correlation.",
        "prefixItems": [
            { "type": "string" },
            { "type": "string" },
            { "type": ["number", "string"] },
        ],
        "minItems": 3,
        "maxItems": 3,
    });
    json!({ "type": "array", "description": "Inputs that move together.", "items": pair })
}

fn point(description: &str) -> Value {
    list(description, parts::reference(Dimension::Length), 3, 3)
}

fn any_names(description: &str, each: &Value) -> Value {
    json!({
        "type": "object",
        "description": description,
        "additionalProperties": each,
        "minProperties": 1,
    })
}

/// An object of properties, for `parts`.
fn properties(keys: &[(&str, Value)]) -> Map<String, Value> {
    keys.iter().map(|(key, value)| ((*key).to_owned(), value.clone())).collect()
}
