//! The models a scenario uses, with their sources and validity, and the
//! cautions that go with every answer.

use super::ModelNote;
use crate::{
    body::{Body, Shape, Surface},
    harm::Quantity,
    quantity::{Dimension, format, significant},
    release::{carrier, lashing},
    scenario::{
        CarrierWake, Gate, GustSize, Hardness, InputId, Release, Scenario, Shed, Terrain,
        Turbulence, Wind,
    },
    world::{self, HIGHEST, Wake},
};
use glam::DVec3;

/// The models behind a run of this scenario.
#[must_use]
pub(super) fn notes(scenario: &Scenario) -> Vec<ModelNote> {
    let mut notes = vec![motion(), shape(scenario), air()];
    if scenario.object.spin_lift_factor.is_some() {
        notes.push(spin(scenario.object.surface));
    }
    notes.extend(added_mass(scenario));
    if let Some(wind) = &scenario.air.wind {
        notes.push(self::wind(wind, wakes(scenario)));
        notes.extend(wind.turbulence.map(|turbulence| gusts(scenario, wind, &turbulence)));
    }
    if let Release::Shed(shed) = &scenario.release {
        notes.extend(shed.wake.map(|told| wake(scenario, shed, &told)));
    }
    if let Release::Blown(blown) = &scenario.release
        && blown.held.is_some()
    {
        notes.push(lift_off());
    }
    if let Release::Shed(shed) = &scenario.release
        && let Some(secured) = &shed.secured
    {
        notes.push(secured_load());
        if scenario.inputs.get(secured.strength).distribution.quantile(0.95) > 0.0 {
            notes.push(lashing(scenario));
        }
    }
    notes.extend(course(scenario));
    notes.push(contact(scenario.bounces()));
    if scenario.bounces() {
        notes.extend(bounces(scenario));
    }
    if scenario.chain.contains(&Gate::Perforates) {
        notes.push(made_of(scenario));
        notes.extend(barriers(scenario));
    }
    if scenario.chain.contains(&Gate::Harms) {
        notes.push(harm(scenario));
    }
    notes
}

fn note(what: &str, model: &str, source: &str, valid: &str) -> ModelNote {
    ModelNote {
        what: what.to_owned(),
        model: model.to_owned(),
        source: source.to_owned(),
        valid: valid.to_owned(),
    }
}

fn motion() -> ModelNote {
    note(
        "motion",
        "rigid body with six degrees of freedom, quaternion attitude; Tsitouras 5(4) pairs with an adaptive step for each flight",
        "Tsitouras, Computers & Mathematics with Applications 62 (2011) 770; Euler's equations of rigid-body motion",
        "the object keeps its shape and its mass; the step error of this run is measured (see the doubts)",
    )
}

/// The sources of a cylinder's drag crisis.
const CODES: &str =
    "crisis by roughness: EN 1991-1-4, 7.9 and DNV-RP-C205 (second-hand), Achenbach 1971";

/// The drag crisis of a surface, in words.
fn crisis(surface: Surface) -> String {
    let height = surface.roughness().unwrap_or_default();
    format!("a drag crisis by roughness ({}: {} mm)", surface.name(), significant(1e3 * height, 2))
}

fn shape(scenario: &Scenario) -> ModelNote {
    let surface = scenario.object.surface;
    match scenario.object.shape {
        Shape::Sphere { .. } => sphere(scenario.object.surface),
        Shape::Irregular { .. } => note(
            "drag of the lump",
            "one drag coefficient by sphericity on a quarter of the surface, 0.85 of what settles in liquids; a tumbling lump's lift and moments cancel",
            "Can. J. Chem. Eng. 37 (1959), abstract; Haider & Levenspiel, Powder Technol. 58 (1989) 63, below Reynolds number 2e3; cubes in tunnels: Hoerner (from memory)",
            "sphericity from 0.67 to 1, Reynolds numbers below 1e5, slower than Mach 0.6; tunnels and settling tanks disagree about one cube by 1.6: `lump_drag`",
        ),
        Shape::Disc { .. } => note(
            "drag, lift and turning of the disc",
            "the square plate's normal force, centre of pressure, damping and autorotation, taken over the chords of a disc; with a rim and a dome, a flying disc's lift and moment edge-on",
            "Hoerner, Fluid-Dynamic Drag (1965): disc face-on 1.17; an open set of coefficients of golf discs; the rest as for a plate (from memory)",
            "flat stiff discs thinner than a fifth of their diameter, Reynolds numbers above 1e4, slower than Mach 0.6; no side force from spin; how far it is like a flying disc (`rim`), its lift and its moment (`glide_lift`, `glide_moment`) and autorotation are open",
        ),
        Shape::Wheel { .. } => note(
            "drag and turning of the wheel",
            "a short cylinder's drag across the axle, between that of its roughness past the drag crisis and that before, and a round end's along it, with damping by strips",
            "Jorgensen, NASA TN D-6996; Matthews, Aeronautical Engineer's Data Book; EN 1991-1-4, 7.9 (second-hand)",
            "width from a tenth of the diameter to all of it, Reynolds numbers above 1e4, slower than Mach 0.6; no lift from spin",
        ),
        Shape::Cylinder { .. } | Shape::Tube { .. } => note(
            "drag, lift and turning of the cylinder",
            &format!(
                "cross-flow principle with finite-length factor, {}, ends by length over diameter, strip-theory damping; the air goes through a tube",
                crisis(surface)
            ),
            &format!(
                "Hoerner, Fluid-Dynamic Drag (1965); Jorgensen, NASA TN D-6996; Matthews, Aeronautical Engineer's Data Book; {CODES}"
            ),
            "length at least the diameter, cross-flow Reynolds numbers below 1e7, slower than Mach 0.6; no lift from spin; place and depth of the crisis are open",
        ),
        Shape::Cone { .. } => note(
            "drag, lift and turning of the cone",
            &format!(
                "drag by the angle of the apex, a disc's base first, cross-flow principle across, {}, strip-theory damping",
                crisis(surface)
            ),
            &format!(
                "Matthews, Aeronautical Engineer's Data Book; Hoerner, Fluid-Dynamic Drag (1965); Jorgensen, NASA TN D-6996; {CODES}"
            ),
            "height from half the base diameter to four times it, slower than Mach 0.6; no lift from spin; published drags apex first differ by 1.6: `cone_drag`",
        ),
        Shape::Plate { .. } => note(
            "drag, lift and turning of the plate",
            "normal force and centre of pressure against angle of attack, strip-theory damping, autorotation lift and torque",
            "Holmes, Letchford & Lin, J. Wind Eng. Ind. Aerodyn. 94 (2006) 21 (from memory); face-on values from Matthews, Aeronautical Engineer's Data Book; autorotation: Baker 2007 (from memory), Smith 1970 (abstract)",
            "flat stiff sheets, Reynolds numbers above 1e4, slower than Mach 0.6; sheets that flap or break up are not covered; published lifts of autorotation differ by five, hence its unknown; trajectories of single plates differ by tens of per cent from the mean",
        ),
        Shape::Rod { .. } => note(
            "drag, lift and turning of the rod",
            &format!(
                "cross-flow principle with finite-length factor and end drag, {}, strip-theory damping",
                crisis(surface)
            ),
            &format!(
                "Hoerner, Fluid-Dynamic Drag (1965); Jorgensen, NASA TN D-6996 and TR R-474; {CODES}"
            ),
            "length at least twice the diameter, cross-flow Reynolds numbers from 1 to 1e7, slower than Mach 0.6; place and depth of the crisis are open",
        ),
        Shape::Block { .. } => note(
            "drag and turning of the block",
            "face-by-face normal force with damping",
            "Hoerner, Fluid-Dynamic Drag (1965): cube face-on 1.05, edge-on 0.80 (from memory)",
            "sharp-edged boxes whose sides differ by at most five (longer ones are bars), Reynolds numbers above 1e4, slower than Mach 0.6; about 10 % on drag",
        ),
        Shape::Bar { .. } => note(
            "drag, lift and turning of the bar",
            "cross-flow principle: each face drags by the section's side ratio, with a factor for the finite length; a side force between the faces; strip-theory damping",
            "EN 1991-1-4, figure 7.23 (from memory) and its end effect (second-hand); a textbook's row of sections (second-hand)",
            "sharp-edged bars at least three times as long as thick, Reynolds numbers above 1e4, slower than Mach 0.6; no measurement at angles between the faces was read: `bar_drag`, `bar_side_force`",
        ),
        Shape::Custom { .. } => {
            let file = scenario.object.table.as_ref().map_or("", |told| told.file.as_str());
            note(
                "force and moment of the object",
                "told coefficients by angle of attack and sideslip, a cubic between their rows; rotation is braked as a block's of its size by strips",
                &format!("the scenario's own file, {file}"),
                "as far as the file is right, from the directions and at the Reynolds numbers that it has, slower than Mach 0.6; no lift from rotation, no buoyancy; it touches as the box of its length, width and thickness",
            )
        }
    }
}

fn sphere(surface: Surface) -> ModelNote {
    let rough = format!("drag coefficient against Reynolds number, through {}", crisis(surface));
    let [model, source, valid] = match surface {
        Surface::Seamed => [
            "a smooth sphere's drag to Reynolds number 1e4, then through 0.45 at 0.75e5 to 0.32 from 1.75e5 on",
            "Morrison (2013); baseballs with little spin: Lyu et al. (2022, second-hand)",
            "Reynolds number below 2.4e5, slower than Mach 0.6; where the seams are is left out, and what spin adds to the drag",
        ],
        Surface::Dimpled => [
            "a smooth sphere's drag to Reynolds number 1e4, then through 0.5 at 5e4 to a golf ball's by Reynolds number and spin",
            "Morrison (2013); Lyu et al. (2018, second-hand); Smits & Smith (1994, second-hand)",
            "Reynolds number below 2.1e5, slower than Mach 0.6; carries drives about a tenth short",
        ],
        Surface::Felt => [
            "a smooth sphere's drag to Reynolds number 1e4, then a tennis ball's by spin",
            "Morrison (2013); Stepanek, Am. J. Phys. 56 (1988) 138 (second-hand)",
            "Reynolds number below 1.2e5, slower than Mach 0.6; worn felt drags less",
        ],
        Surface::Hail => [
            "one drag coefficient (0.85 in the middle) from Reynolds number 3e3 on, no drag crisis",
            "terminal speeds of natural hail: Heymsfield et al., J. Atmos. Sci. 75 (2018) 3861; Rasmussen & Heymsfield (1987), second-hand",
            "stones from 5 to 100 mm, given by their own diameter and mass (800 to 917 kg/m3); published speeds of one diameter differ by 1.7: `hail_drag`",
        ],
        Surface::CastIce => [
            "the drag coefficient of ice balls in tests, 0.50, no drag crisis",
            "ASTM E1038: 4.4 √d m/s, d in mm (second-hand)",
            "ice balls as panels are tested with, 12 to 100 mm; faster than natural hail of that size",
        ],
        Surface::Plain
        | Surface::Smooth
        | Surface::Painted
        | Surface::Galvanised
        | Surface::Panelled
        | Surface::Pebbled
        | Surface::Planed
        | Surface::Concrete
        | Surface::Sawn
        | Surface::Rusty
        | Surface::Bark
        | Surface::Ribbed
        | Surface::Treaded => [
            rough.as_str(),
            "Morrison, An Introduction to Fluid Mechanics (2013), before the crisis; Achenbach, J. Fluid Mech. 65 (1974) 113 (abstract; points from memory)",
            "Reynolds number below 6e6, slower than Mach 0.6; place and depth of the crisis are open: `crisis_place`, `crisis_depth`",
        ],
    };
    note("drag of the sphere", model, source, valid)
}

/// How a ball that spins curves.
fn spin(surface: Surface) -> ModelNote {
    let (source, valid) = match surface {
        Surface::Seamed => (
            "Sawicki, Hubbard & Stronge, Am. J. Phys. 71 (2003) 1152 (second-hand), confirmed by Nathan, Am. J. Phys. 76 (2008) 119",
            "Reynolds numbers from 1.1e5 to 2.4e5, a rim speed of at most 0.6 of the speed",
        ),
        Surface::Dimpled => (
            "Smits & Smith (1994, second-hand)",
            "Reynolds numbers from 0.7e5 to 2.1e5, a rim speed of at most 0.2 of the speed; near 0.75e5 the ball may curve the other way (Li, Tsubokura & Tsunoda 2017, second-hand)",
        ),
        Surface::Felt => (
            "Stepanek, Am. J. Phys. 56 (1988) 138 (second-hand)",
            "Reynolds numbers from 0.6e5 to 1.2e5 (from memory), a rim speed of at most the speed",
        ),
        _ => (
            "lift as measured on baseballs, for want of this surface's own: Sawicki, Hubbard & Stronge, Am. J. Phys. 71 (2003) 1152 (second-hand); a smooth ball's has either sign: Kim, Choi, Park & Yoo, J. Fluid Mech. 754 (2014) R2 (abstract)",
            "Reynolds numbers from 1.1e5 to 2.4e5, a rim speed of at most 0.6 of the speed; the rest is the doubt in `spin_lift_factor`",
        ),
    };
    note(
        "curve of the spinning ball",
        "lift across spin and flight by rim speed over speed, times `spin_lift_factor`, the place for doubt about it; the air brakes the spin as a golf ball's (Smits & Smith 1994, second-hand)",
        source,
        valid,
    )
}

/// Where the middle of the inputs is light for its size.
fn added_mass(scenario: &Scenario) -> Option<ModelNote> {
    let middle = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.5);
    let object = &scenario.object;
    let body = Body::solid(object.shape.map(middle), middle(object.mass));
    let (wet, density) = (&scenario.air, world::Air::moist);
    let air = density(middle(wet.temperature), middle(wet.pressure), middle(wet.humidity));
    body.is_light(air.density).then(|| {
        let share = 100.0 * body.added(air.density).mass / body.mass;
        note(
            "added mass",
            &format!("the air that the object drags along counts as {share:.0} % of its mass, the mean over directions"),
            "potential flow of spheres, discs, strips and cylinders (from memory)",
            "objects less than 50 times as dense as the air; a sheet's true added mass is larger along its normal and smaller along its plane",
        )
    })
}

fn air() -> ModelNote {
    note(
        "air",
        "density from temperature, pressure and humidity; viscosity by Sutherland's law",
        "CIPM-2007 (Picard et al., Metrologia 45 (2008) 149); US Standard Atmosphere 1976",
        "-35 to 50 degC and 500 to 1100 hPa, one state of the air all the way",
    )
}

/// Whether what flies does so in the wake of what carried it.
fn wakes(scenario: &Scenario) -> bool {
    matches!(&scenario.release, Release::Shed(shed) if shed.wake.is_some())
}

fn wind(wind: &Wind, wake: bool) -> ModelNote {
    let profile = match wind.terrain {
        Terrain::Uniform => "the same mean wind at every height",
        _ => "mean wind with a logarithmic profile for the terrain",
    };
    let gusts = if wind.turbulence.is_some() { "" } else { "; no gusts within a flight" };
    note(
        "wind",
        &format!("{profile}{gusts}"),
        "EN 1991-1-4, section 4 (terrain categories, second-hand)",
        if wake {
            "open ground of that kind upwind, up to 200 m; eddies behind buildings and other vehicles are left out"
        } else {
            "open ground of that kind upwind, up to 200 m; eddies behind buildings and vehicles are left out"
        },
    )
}

/// The gusts in the middle of the inputs.
fn gusts(scenario: &Scenario, wind: &Wind, turbulence: &Turbulence) -> ModelNote {
    let middle = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.5);
    let say = |length: f64| format(length, Dimension::Length, scenario.show);
    let (intensity, scale, height) = match turbulence.size {
        GustSize::Told { intensity, scale } => {
            (middle(intensity), middle(scale), middle(wind.height))
        }
        GustSize::ByTerrain => {
            let height = middle(scenario.release.place()[2]);
            let size = world::Turbulence::over(wind.terrain, height);
            size.map_or((0.0, 0.0, height), |size| (size.intensity, size.scale, height))
        }
    };
    let lifted = match &scenario.release {
        Release::Blown(blown) => blown.held.is_some(),
        Release::Shed(shed) => shed.secured.as_ref().is_some_and(|secured| secured.lift.is_some()),
        Release::Launched(_) | Release::Dropped(_) => false,
    };
    let held = if lifted {
        "; what holds the object feels the gust of one moment, so that the chance of coming loose is that of a moment and not of a whole storm"
    } else {
        ""
    };
    note(
        "gusts",
        &format!(
            "the wind's speed swings along its own direction by {} % of its mean (standard deviation) at {}, in gusts about {} wide that it carries along unchanged; across it {} and upwards {} times as much, in narrower ones{held}",
            significant(100.0 * intensity, 2),
            say(height),
            say(scale),
            significant(middle(turbulence.across), 2),
            significant(middle(turbulence.upwards), 2),
        ),
        "EN 1991-1-4, section 4.4 (intensity, second-hand) and annex B.1 (length scale, from memory); correlation exp(-lag/T), T = length scale over mean speed; frozen turbulence (Taylor 1938, from memory); across and upwards by IEC 61400-1 (second-hand)",
        &format!(
            "up to {} above the ground; how gusts differ within the object's size is left out, and that upward ones die out towards the ground",
            say(HIGHEST)
        ),
    )
}

/// The wake in the middle of the inputs, in still air.
fn wake(scenario: &Scenario, shed: &Shed, told: &CarrierWake) -> ModelNote {
    let middle = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.5);
    let say = |length: f64| format(length, Dimension::Length, scenario.show);
    let height = middle(told.height);
    let speed = middle(shed.carrier_speed).max(1.0);
    let carrier = carrier(told, speed, [0.0; 2], middle);
    let air = Wake::behind(&carrier, [0.0; 2]);
    let share = |behind: f64| {
        let [along, _] = air.at(DVec3::new(-behind, 0.0, 0.5 * height), 0.0);
        format!("{} % of it {} behind", significant(100.0 * along / speed, 2), say(behind))
    };
    let jolted = shed.secured.as_ref().is_some_and(|secured| secured.jolt.is_some());
    let jolt = if jolted {
        "; a carrier whose speed still changes is overtaken by its wake, or leaves it behind: not followed"
    } else {
        ""
    };
    note(
        "wake of the carrier",
        &format!(
            "the carrier goes straight on at the speed it had as the load left, and the air behind it goes along: at its middle with {}, {} and {}; dead air up to {} behind the tail, then the mean wake of a bluff body, whose momentum is the drag; a crosswind turns it aside, the ground mirrors it",
            share(carrier.dead_air),
            share(10.0),
            share(30.0),
            say(carrier.dead_air),
        ),
        "Johansson, George & Gourlay, Phys. Fluids 15 (2003) 603 (from memory); Howell, SAE 2011-01-0178, and Eskridge & Thompson, EPA-600/3-82-007 (abstracts read); within a factor of 1.3 of the air in front of a truck that follows another (Nuszkowski et al., Proc. IMechE D 2017, abstract read)",
        &format!(
            "from ten heights behind the tail; nearer to it no law holds, and the air there is an interpolation: `strength` and `dead_air` stand for that doubt; the eddies of a real wake, which shake and turn what flies in it, are left out{jolt}"
        ),
    )
}

fn lift_off() -> ModelNote {
    note(
        "lift-off",
        "the wind's lift on the plan area against a multiple of the weight",
        "Wills, Lee & Wyatt 2002 (from memory)",
        "steady wind; how the edge is lifted decides the force coefficient",
    )
}

fn secured_load() -> ModelNote {
    note(
        "coming loose",
        "rigid load on a rigid level bed: Coulomb friction, sliding three quarters of static, a tie-down that bears what friction does not up to its strength, air that takes weight off the bed; 256 steps through the jolt",
        "statics and motion under friction (standard derivation); three quarters: CTU Code, Appendix 2 (read); lift: Wills, Lee & Wyatt 2002 (from memory)",
        "along the carrier's way; tipping is counted and not followed; the give of tie-downs, creep under vibration and a bed that pitches are left out",
    )
}

/// What rules ask of a tie-down for this load, beside what the scenario tells.
fn lashing(scenario: &Scenario) -> ModelNote {
    let mass = scenario.inputs.get(scenario.object.mass).distribution.quantile(0.5);
    let say = |force: f64| format(force, Dimension::Force, scenario.show);
    let asked: Vec<String> = lashing::UNITED_STATES
        .iter()
        .map(|demand| {
            format!("{} {}", say(lashing::force(mass, demand.breaking)), demand.direction)
        })
        .collect();
    ModelNote {
        what: "what rules ask of the tie-downs".to_owned(),
        model: format!("breaking strength for this load: {}", asked.join(", ")),
        source: "49 CFR 393.102 (read, in a text without a date)".to_owned(),
        valid: "read the law in force; light vehicles brake harder than the 0.8 gn it assumes"
            .to_owned(),
    }
}

/// The surfaces that throw back, each by its name.
fn bounces(scenario: &Scenario) -> Vec<ModelNote> {
    let target = &scenario.target;
    let faces = target.faces.iter().map(|face| (face.name.as_str(), face.bounce.as_ref()));
    let solids = target.solids.iter().map(|solid| (solid.name.as_str(), solid.bounce.as_ref()));
    let mut notes = vec![note(
        "bounces",
        "one impulse at the contact point: restitution along the push, Coulomb friction across it; blows slower than 0.1 m/s come back whole; on the ground a settled body slides (v²/2µg) or slips and rolls (Routh); what is round and leans rolls, slips and falls over on its rim; a cone on its side rolls round its apex; what comes down flat on a side clatters, blow by blow of its corners",
        "impulse-based collision of rigid bodies (standard derivation); R. Cross, Am. J. Phys. 70 (2002) 1093 (abstract read)",
        "stiff bodies that do not break, on flat and level ground without kerb or camber: what rolls in the model rolls far, and its rims are flat treads with sharp edges; turning on the spot is braked as rolling is; the wind does not lift again what slides; single bounces off corners cannot be foretold, shares of many can",
    )];
    let named = std::iter::once(("ground", scenario.ground.as_ref())).chain(faces).chain(solids);
    notes.extend(named.filter_map(|(name, bounce)| {
        let bounce = bounce.filter(|bounce| !bounce.source.is_empty())?;
        Some(ModelNote {
            what: format!("surface of the {}", name.replace('_', " ")),
            model: format!("{}: restitution, friction and rolling resistance", bounce.name),
            source: bounce.source.clone(),
            valid: "hard, compact things at some metres a second".to_owned(),
        })
    }));
    notes
}

/// Of a target whose driver does something.
fn course(scenario: &Scenario) -> Option<ModelNote> {
    let motion = &scenario.target.motion;
    (motion.brakes.is_some() || motion.steers.is_some()).then(|| {
        note(
            "course of the target",
            "braking at one deceleration until it stands, and stays; steering aside at one sideways acceleration, half of the way out and half of it back, onto a line beside the old one",
            "motion under constant acceleration",
            "road vehicles on a dry, level road; brakes bite at once, the body does not turn, dive or roll, and tyres do not share their grip between braking and steering",
        )
    })
}

fn contact(bounces: bool) -> ModelNote {
    let valid = if bounces {
        "one contact point, shorter than the motion"
    } else {
        "one contact point, shorter than the motion; what happens after the first touch is not followed, save going through a barrier"
    };
    note(
        "first touch",
        "distance between the real shape and the face, advanced inside the step; energy along the normal with the effective mass at the contact point",
        "impulse-based collision of rigid bodies (standard derivation)",
        valid,
    )
}

fn barriers(scenario: &Scenario) -> Vec<ModelNote> {
    let aimed = scenario.target.faces.iter().filter(|face| face.aim);
    aimed
        .filter_map(|face| face.barrier.as_ref().map(|barrier| (face, barrier)))
        .map(|(face, barrier)| ModelNote {
            what: format!("barrier of the {}", face.name.replace('_', " ")),
            model: format!(
                "{}: lognormal fragility; residual speed by Recht & Ipson",
                barrier.name.replace('_', " ")
            ),
            source: format!("{}; Recht & Ipson, J. Appl. Mech. 30 (1963) 384", barrier.source),
            valid: barrier.valid.clone(),
        })
        .collect()
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
    let model = if object.told { format!("{}{join}{told}", stuff.words) } else { told.to_owned() };
    ModelNote {
        what: "what the object is made of".to_owned(),
        model,
        source: format!("{} ({})", stuff.source, stuff.mark.words()),
        valid:
            "one piece that does not break up; a tyre that meets with its tread, not with its rim"
                .to_owned(),
    }
}

fn harm(scenario: &Scenario) -> ModelNote {
    ModelNote {
        what: "harm".to_owned(),
        model: match scenario.harm.quantity {
            Quantity::Energy => "kinetic energy of what arrives against a threshold",
            Quantity::PerArea => "kinetic energy of what arrives over the area of its contact",
            Quantity::Blunt { .. } => "the blunt criterion: energy of what arrives against the size of its contact and of the person",
            Quantity::HeadHic { .. } => "the head injury criterion over 15 ms: momentum of what arrives given to a free head, in an assumed pulse",
        }
        .to_owned(),
        source: scenario.harm.source.clone(),
        valid: "a screening number for keeping people away; below it is not safe".to_owned(),
    }
}

/// The cautions that go with every answer for this scenario.
#[must_use]
pub(super) fn cautions(scenario: &Scenario) -> Vec<String> {
    let mut cautions = vec![
        "A chance from a model is not a clearance. Nobody stands in the line of flight, in front of the target, behind it, or where debris can go.".to_owned(),
        "Local codes, the site's safety officer and licensed practice decide what may be done; this page does not.".to_owned(),
    ];
    if scenario.chain.contains(&Gate::Harms) {
        cautions.push(crate::harm::CAUTION.to_owned());
    }
    if matches!(&scenario.release, Release::Shed(shed) if shed.secured.is_some()) {
        cautions.push(
            "Do not try a load on the road: secure it as the law and a competent person ask; friction alone secures nothing.".to_owned(),
        );
    }
    if matches!(scenario.release, Release::Launched(_)) {
        cautions.push(
            "A launcher stores energy: stand clear of any loaded line or vessel, release it from a distance, and have an engineer sign off the structure.".to_owned(),
        );
    }
    cautions
}
