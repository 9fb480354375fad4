//! The models by the key that rows, notes and the page know them by.

/// A model of the program.
pub(super) struct Model {
    /// Its key.
    pub(super) key: &'static str,
    /// What it claims, in a clause.
    pub(super) claims: &'static str,
    /// How the notes of a run begin that are about it.
    pub(super) notes: &'static [&'static str],
}

const fn model(key: &'static str, claims: &'static str, notes: &'static [&'static str]) -> Model {
    Model { key, claims, notes }
}

pub(super) const MODELS: &[Model] = &[
    model("air", "How dense and how thick the air is", &["air"]),
    model("wind", "How the mean wind grows with height", &["wind"]),
    model("gusts", "How much the wind swings about its mean", &["gusts"]),
    model("wake", "How the air behind a carrier goes along", &["wake of the carrier"]),
    model("motion", "How a rigid body moves under forces and moments", &["motion"]),
    model("added mass", "What air a light body drags along", &["added mass"]),
    model("sphere", "What the air does to a ball", &["drag of the sphere"]),
    model("curve of the spinning ball", "How a ball that spins curves", &["curve of the spinning"]),
    model(
        "cylinder",
        "What the air does to rods, tubes, cylinders and wheels",
        &[
            "drag, lift and turning of the cylinder",
            "drag, lift and turning of the rod",
            "drag and turning of the wheel",
        ],
    ),
    model("cone", "What the air does to a cone", &["drag, lift and turning of the cone"]),
    model("plate", "What the air does to a flat sheet", &["drag, lift and turning of the plate"]),
    model(
        "disc",
        "What the air does to a flat round sheet",
        &["drag, lift and turning of the disc"],
    ),
    model(
        "block",
        "What the air does to a box, and to what flies by a table of its own",
        &["drag and turning of the block", "force and moment of the object"],
    ),
    model(
        "bar",
        "What the air does to a bar of rectangular section",
        &["drag, lift and turning of the bar"],
    ),
    model("lump", "What the air does to a lump", &["drag of the lump"]),
    model(
        "first touch",
        "What bodies do to each other where they meet",
        &["first touch", "bounces"],
    ),
    model("surfaces", "How lively and how rough grounds and faces are", &["surface of"]),
    model(
        "coming loose",
        "What shakes a load loose, and how fast it leaves",
        &["coming loose", "what rules ask"],
    ),
    model("lift-off", "At what wind a loose sheet lifts", &["lift-off"]),
    model(
        "course of the target",
        "Where a driver's braking and steering take the target",
        &["course of the target"],
    ),
    model("steel", "What energy goes through steel plate", &[]),
    model("concrete", "What goes through a wall of concrete", &[]),
    model("fragility", "What a number of shots says of a barrier", &["barrier of"]),
    model("tests passed", "What a barrier that passed a standard's test withstood", &[]),
    model("softness", "How hard a soft missile can push", &["what the object is made of"]),
    model("residual speed", "How fast it is behind the barrier", &[]),
    model("harm", "What injures a person", &["harm"]),
    model("rubber", "How hard rubber pulls", &[]),
    model("cord", "What a set of cords gives to an object", &[]),
    model("gas gun", "What compressed air gives to an object", &[]),
    model("frame", "How a beam of the rig bears the pull", &[]),
    model("camera", "How well a camera tells a speed", &[]),
    model("counts", "What a count of flights says of a chance", &[]),
    model("plans", "How many shots show what", &[]),
    model("spreads", "How the inputs are spread", &[]),
];
