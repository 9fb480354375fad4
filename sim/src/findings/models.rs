//! The models that a scenario uses, by their own notes.

use super::ModelNote;
use crate::{
    aero,
    barrier::{self, concrete, fragility, residual, steel},
    body::{ADDED_MASS_NOTE, Body, Shape, Side, Surface},
    contact, estimate, flight, harm,
    note::{Kind, Note, Subject},
    quantity::{Dimension, format, significant},
    release::{self, carrier, lashing},
    rig,
    scenario::{
        Barrier, CarrierWake, Formula, Gate, GustSize, Hardness, InputId, Release, Scenario, Shed,
        Terrain, Turbulence, library, parts::Part,
    },
    trials, uncertain,
    world::{self, AIR_NOTE, GUSTS_NOTE, WAKE_NOTE, WIND_NOTE, Wake},
};
use glam::DVec3;

/// Every note of every model: those of a run, and those of rigs and of counting.
pub fn every_note() -> impl Iterator<Item = Note> {
    let custom = Shape::Custom { sides: [(); 3], reference: [(); 2], gyration: None };
    let shapes = Shape::<Side>::ALL.iter().map(|shape| shape.map(drop)).chain([custom]);
    let shapes = shapes.flat_map(|shape| {
        let fitting = Surface::ALL.into_iter().filter(move |surface| surface.fits(&shape));
        fitting.map(move |surface| aero::shape_note(&shape, surface))
    });
    let rest = [
        flight::NOTE,
        AIR_NOTE,
        WIND_NOTE,
        GUSTS_NOTE,
        WAKE_NOTE,
        ADDED_MASS_NOTE,
        release::LIFT_OFF_NOTE,
        release::ride::NOTE,
        lashing::NOTE,
        contact::NOTE,
        contact::bounce::NOTE,
        contact::COURSE_NOTE,
        library::SURFACES_NOTE,
        fragility::NOTE,
        barrier::PASSED_NOTE,
        steel::NOTE,
        concrete::NOTE,
        barrier::SOFTNESS_NOTE,
        residual::NOTE,
        harm::NOTE,
        rig::rubber::NOTE,
        rig::cord::NOTE,
        rig::pressure::NOTE,
        rig::frame::NOTE,
        rig::camera::NOTE,
        estimate::NOTE,
        trials::NOTE,
        uncertain::NOTE,
    ];
    shapes.chain(Surface::ALL.map(aero::spin_note)).chain(rest)
}

/// What the page of trust has sections about.
#[must_use]
pub fn subjects() -> Vec<&'static Subject> {
    let mut found: Vec<&'static Subject> = Vec::new();
    for note in every_note() {
        if !found.contains(&note.subject) {
            found.push(note.subject);
        }
    }
    found
}

impl From<Note> for ModelNote {
    fn from(note: Note) -> Self {
        Self {
            key: note.subject.anchor(),
            what: note.what.to_owned(),
            model: note.how.to_owned(),
            source: note.source.to_owned(),
            kind: Some(note.kind),
            valid: note.range.to_owned(),
            leaves_out: note.leaves_out.to_owned(),
        }
    }
}

/// The models behind a run of this scenario.
#[must_use]
pub(super) fn notes(scenario: &Scenario) -> Vec<ModelNote> {
    let mut notes = vec![flight::NOTE.into(), shape(scenario), AIR_NOTE.into()];
    notes.extend(scenario.parts.iter().map(part));
    if scenario.object.spin_lift_factor.is_some() {
        notes.push(aero::spin_note(scenario.object.surface).into());
    }
    notes.extend(added_mass(scenario));
    if let Some(wind) = &scenario.air.wind {
        notes.push(self::wind(wind.terrain, wind.turbulence.is_some(), wakes(scenario)));
        notes.extend(wind.turbulence.map(|turbulence| gusts(scenario, &turbulence)));
    }
    match &scenario.release {
        Release::Shed(shed) => {
            notes.extend(shed.wake.map(|told| wake(scenario, shed, &told)));
            if let Some(secured) = &shed.secured {
                notes.push(release::ride::NOTE.into());
                if scenario.inputs.get(secured.strength).distribution.quantile(0.95) > 0.0 {
                    notes.push(lashing(scenario));
                }
            }
        }
        Release::Blown(blown) => {
            notes.extend(blown.held.as_ref().map(|_| release::LIFT_OFF_NOTE.into()));
        }
        Release::Launched(_) | Release::Dropped(_) => {}
    }
    let motion = &scenario.target.motion;
    if motion.brakes.is_some() || motion.steers.is_some() {
        notes.push(contact::COURSE_NOTE.into());
    }
    notes.push(touch(scenario.bounces()));
    if scenario.bounces() {
        notes.push(contact::bounce::NOTE.into());
        notes.extend(surfaces(scenario));
    }
    if scenario.chain.contains(&Gate::Perforates) {
        notes.push(made_of(scenario));
        notes.extend(barriers(scenario));
    }
    if scenario.chain.contains(&Gate::Harms) {
        notes.push(harm(scenario));
    }
    notes.push(estimate::NOTE.into());
    notes
}

fn shape(scenario: &Scenario) -> ModelNote {
    let object = &scenario.object;
    let mut note: ModelNote = aero::shape_note(&object.shape, object.surface).into();
    if let Some(table) = &object.table {
        note.source = note.source.replace("own file", &format!("own file, {}", table.file));
    }
    if Surface::Painted.fits(&object.shape)
        && let Some(height) = object.surface.roughness()
    {
        let millimetres = significant(1e3 * height, 2);
        note.model = format!("{} (here {}: {millimetres} mm)", note.model, object.surface.name());
    }
    note
}

/// A part of a shelf: its figures are as good as what they are from.
fn part(part: &Part) -> ModelNote {
    ModelNote {
        key: String::new(),
        what: format!("the {}, like {}", part.side.key(), part.name),
        model: format!("{}, as its part has it where the claim tells nothing else", part.about),
        source: format!("{} ({})", part.source, part.kind.words()),
        kind: Some(part.kind),
        valid: String::new(),
        leaves_out: String::new(),
    }
}

/// The middle of an input.
fn middle(scenario: &Scenario) -> impl Fn(InputId) -> f64 + Copy {
    |id| scenario.inputs.get(id).distribution.quantile(0.5)
}

/// Where the middle of the inputs is light for its size.
fn added_mass(scenario: &Scenario) -> Option<ModelNote> {
    let middle = middle(scenario);
    let object = &scenario.object;
    let body = Body::solid(object.shape.map(middle), middle(object.mass));
    let (wet, density) = (&scenario.air, world::Air::moist);
    let air = density(middle(wet.temperature), middle(wet.pressure), middle(wet.humidity));
    body.is_light(air.density).then(|| {
        let share = 100.0 * body.added(air.density).mass / body.mass;
        let mut note: ModelNote = ADDED_MASS_NOTE.into();
        note.model = format!("{}; here as {share:.0} % of it", note.model);
        note
    })
}

/// Whether what flies does so in the wake of what carried it.
fn wakes(scenario: &Scenario) -> bool {
    matches!(&scenario.release, Release::Shed(shed) if shed.wake.is_some())
}

fn wind(terrain: Terrain, gusty: bool, wake: bool) -> ModelNote {
    let mut note: ModelNote = WIND_NOTE.into();
    if terrain == Terrain::Uniform {
        "the same mean wind at every height".clone_into(&mut note.model);
    }
    if !gusty {
        note.leaves_out = format!("gusts within a flight; {}", note.leaves_out);
    }
    if wake {
        note.leaves_out = note.leaves_out.replace("vehicles", "other vehicles");
    }
    note
}

/// The gusts in the middle of the inputs.
fn gusts(scenario: &Scenario, turbulence: &Turbulence) -> ModelNote {
    let middle = middle(scenario);
    let say = |length: f64| format(length, Dimension::Length, scenario.show);
    let wind = scenario.air.wind.as_ref();
    let (intensity, scale, height) = match turbulence.size {
        GustSize::Told { intensity, scale } => {
            let height = wind.map_or(0.0, |wind| middle(wind.height));
            (middle(intensity), middle(scale), height)
        }
        GustSize::ByTerrain => {
            let height = middle(scenario.release.place()[2]);
            let size = wind.and_then(|wind| world::Turbulence::over(wind.terrain, height));
            size.map_or((0.0, 0.0, height), |size| (size.intensity, size.scale, height))
        }
    };
    let lifted = match &scenario.release {
        Release::Blown(blown) => blown.held.is_some(),
        Release::Shed(shed) => shed.secured.as_ref().is_some_and(|secured| secured.lift.is_some()),
        Release::Launched(_) | Release::Dropped(_) => false,
    };
    let mut note: ModelNote = GUSTS_NOTE.into();
    note.model = format!(
        "{}; here by {} % of its mean (standard deviation) at {}, about {} wide; across it {} \
         and upwards {} times as much, in narrower ones",
        note.model,
        significant(100.0 * intensity, 2),
        say(height),
        say(scale),
        significant(middle(turbulence.across), 2),
        significant(middle(turbulence.upwards), 2),
    );
    if lifted {
        note.model += "; what holds the object feels the gust of one moment, so that the chance \
                       of coming loose is that of a moment and not of a whole storm";
    }
    note
}

/// The wake in the middle of the inputs, in still air.
fn wake(scenario: &Scenario, shed: &Shed, told: &CarrierWake) -> ModelNote {
    let middle = middle(scenario);
    let say = |length: f64| format(length, Dimension::Length, scenario.show);
    let height = middle(told.height);
    let speed = middle(shed.carrier_speed).max(1.0);
    let carrier = carrier(told, speed, [0.0; 2], middle);
    let air = Wake::behind(&carrier, [0.0; 2]);
    let share = |behind: f64| {
        let [along, _] = air.at(DVec3::new(-behind, 0.0, 0.5 * height), 0.0);
        format!("{} % of it {} behind", significant(100.0 * along / speed, 2), say(behind))
    };
    let mut note: ModelNote = WAKE_NOTE.into();
    note.model = format!(
        "{}; here the air in its middle goes along with {}, {} and {}, and the dead air reaches {} behind the tail",
        note.model,
        share(carrier.dead_air),
        share(10.0),
        share(30.0),
        say(carrier.dead_air),
    );
    if shed.secured.as_ref().is_some_and(|secured| secured.jolt.is_some()) {
        note.leaves_out += "; that a carrier whose speed still changes is overtaken by its wake, or leaves it behind";
    }
    note
}

/// What rules ask of a tie-down for this load, beside what the scenario tells.
fn lashing(scenario: &Scenario) -> ModelNote {
    let mass = middle(scenario)(scenario.object.mass);
    let say = |force: f64| format(force, Dimension::Force, scenario.show);
    let asked: Vec<String> = lashing::UNITED_STATES
        .iter()
        .map(|demand| {
            format!("{} {}", say(lashing::force(mass, demand.breaking)), demand.direction)
        })
        .collect();
    let mut note: ModelNote = lashing::NOTE.into();
    note.model = format!("breaking strength for this load: {}", asked.join(", "));
    note
}

fn touch(bounces: bool) -> ModelNote {
    let mut note: ModelNote = contact::NOTE.into();
    if !bounces {
        "what happens after the first touch, save going through a barrier"
            .clone_into(&mut note.leaves_out);
    }
    note
}

/// The surfaces that throw back, each by its name.
fn surfaces(scenario: &Scenario) -> impl Iterator<Item = ModelNote> + '_ {
    let target = &scenario.target;
    let faces = target.faces.iter().map(|face| (face.name.as_str(), face.bounce.as_ref()));
    let solids = target.solids.iter().map(|solid| (solid.name.as_str(), solid.bounce.as_ref()));
    let named = std::iter::once(("ground", scenario.ground.as_ref())).chain(faces).chain(solids);
    named.filter_map(|(name, bounce)| {
        let bounce = bounce.filter(|bounce| !bounce.source.is_empty())?;
        let mut note: ModelNote = library::SURFACES_NOTE.into();
        note.what = format!("surface of the {}", name.replace('_', " "));
        note.model = format!("{}: {}", bounce.name, note.model);
        note.source.clone_from(&bounce.source);
        Some(note)
    })
}

/// The note behind a barrier's figure, and how well that figure is known.
fn strength(barrier: &Barrier) -> (Note, Option<Kind>) {
    match barrier.formula {
        Some(Formula::Steel { .. }) => (steel::NOTE, Some(steel::NOTE.kind)),
        Some(Formula::Concrete { .. }) => (concrete::NOTE, Some(concrete::NOTE.kind)),
        Some(Formula::Board { .. } | Formula::Polycarbonate { .. } | Formula::Pane { .. }) => {
            (fragility::NOTE, Some(fragility::NOTE.kind))
        }
        None => {
            let kind = library::entry(&barrier.name).map(|entry| entry.mark);
            (if barrier.lower_bound { barrier::PASSED_NOTE } else { fragility::NOTE }, kind)
        }
    }
}

fn barriers(scenario: &Scenario) -> impl Iterator<Item = ModelNote> + '_ {
    let aimed = scenario.target.faces.iter().filter(|face| face.aim);
    let barriers = aimed.filter_map(|face| face.barrier.as_ref().map(|barrier| (face, barrier)));
    let notes = barriers.map(|(face, barrier)| {
        let (note, kind) = strength(barrier);
        let mut note: ModelNote = note.into();
        note.what = format!("barrier of the {}", face.name.replace('_', " "));
        note.model = format!("{}: lognormal fragility", barrier.name.replace('_', " "));
        note.source.clone_from(&barrier.source);
        note.kind = kind;
        note.valid.clone_from(&barrier.valid);
        note
    });
    let behind = scenario.chain.contains(&Gate::Harms) || scenario.bounces();
    notes.chain(behind.then(|| residual::NOTE.into()))
}

/// What the object is made of, against what the barriers were tested with.
fn made_of(scenario: &Scenario) -> ModelNote {
    let object = &scenario.object.made_of;
    let stuff = object.stuff;
    let mut aimed = scenario.target.faces.iter().filter(|face| face.aim);
    let softer =
        aimed.any(|face| face.barrier.as_ref().is_some_and(|b| b.hardness() == Hardness::Softer));
    let told = match (object.told, softer) {
        (false, _) => "hard, since nothing is told (`made_of`): the safe side for going through",
        (true, false) => "",
        (true, true) => {
            "softer than what the barrier was tested with: what its hard twin of the same shape, mass and speed does is a bound, and it goes through nothing that it crushes at"
        }
    };
    let join = if object.told && softer { "; " } else { "" };
    let mut note: ModelNote = barrier::SOFTNESS_NOTE.into();
    note.model = if object.told { format!("{}{join}{told}", stuff.words) } else { told.to_owned() };
    note.source = format!("{} ({})", stuff.source, stuff.mark.words());
    note.kind = Some(stuff.mark);
    note
}

fn harm(scenario: &Scenario) -> ModelNote {
    let mut note: ModelNote = harm::NOTE.into();
    scenario.harm.quantity.words().clone_into(&mut note.model);
    note.source.clone_from(&scenario.harm.source);
    note.kind = harm::kind(&scenario.harm.name);
    note
}
