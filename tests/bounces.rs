//! Flights that go on after a touch, from a scenario's text to its answer,
//! against closed forms of ballistics without air (standard derivations).

use crate::util::Dir;
use longodds_sim::{
    chain::{Breach, Claim, Kind, Outcome},
    contact::{Surface, bounce::MOST_CONTACTS},
    engine::{self, Path, record},
    scenario,
};
use serde_json::Value;

const G: f64 = 9.806_65;

/// A ball of 100 mm, so heavy that the air does not carry it, in no air, thrown level at 10 m/s from 1.3 m; its
/// lowest point falls 1.25 m.
const BALL: &str = "
claim: A ball bounces into a plate.
object: {shape: {sphere: {diameter: 0.1 m}}, mass: 4000 kg, drag_factor: 0}
release: {launched: {speed: 10 m/s, height: 1.3 m, elevation: 0 deg}}
ground: {restitution: 0.5, friction: 0}
target:
  stands: {at: 8 m}
  faces:
    plate: {centre: [0 m, 0 m, 1 m], width: 4 m, height: 2 m, aim: true}
chain: [reaches, strikes]
";

fn claim(text: &str, to_ground: bool) -> Claim {
    let claim = Claim::new(scenario::parse(text, std::path::Path::new(".")).unwrap());
    if to_ground { claim.flown_to_ground() } else { claim }
}

fn path(text: &str, to_ground: bool) -> Path {
    let claim = claim(text, to_ground);
    let draws = engine::Draws::new(&claim.scenario().inputs, 1, &[]);
    record(&claim, 0, &draws.middle())
}

fn near(a: f64, b: f64, tolerance: f64) {
    assert!((a - b).abs() <= tolerance, "{a} is not {b} within {tolerance}");
}

fn strike_height(outcome: &Outcome) -> f64 {
    outcome.touch.filter(|_| outcome.struck).map_or(f64::NAN, |touch| touch.state.position.z)
}

#[test]
fn a_ball_strikes_where_its_bounce_brings_it() {
    let outcome = path(BALL, false).outcome;
    assert_eq!((outcome.passed, outcome.contacts, outcome.contacts_before), (2, 1, 1));
    let falls = (2.0 * 1.25 / G).sqrt();
    let since = 7.95 / 10.0 - falls;
    let height = 0.05 + 0.5 * (2.0 * G * 1.25).sqrt() * since - G * since * since / 2.0;
    near(strike_height(&outcome), height, 1e-6);
    near(outcome.time, 0.795, 1e-6);
}

#[test]
fn a_recorded_bounce_is_there_as_it_came_and_as_it_left() {
    let path = path(BALL, false);
    let bounce = path.encounters[0].time;
    let there = path.moments.iter().filter(|(time, _)| (time - bounce).abs() < 1e-12);
    let [(_, came), (_, left)] = there.collect::<Vec<_>>()[..] else {
        panic!("two moments at {bounce} s")
    };
    near(came.velocity.z, -(2.0 * G * 1.25_f64).sqrt(), 1e-5);
    near(left.velocity.z, -0.5 * came.velocity.z, 1e-9);
}

#[test]
fn only_direct_strikes_count_where_the_scenario_says_so() {
    let direct = BALL.replace("  stands:", "  direct: true\n  stands:");
    let outcome = path(&direct, false).outcome;
    assert!(!outcome.struck);
    assert_eq!(outcome.passed, 1, "it comes as far as the plate");
}

#[test]
fn without_a_ground_or_with_bounces_off_a_flight_ends_where_it_lands() {
    let none = BALL.replace("ground: {restitution: 0.5, friction: 0}", "");
    let off = BALL.replace("friction: 0}", "friction: 0, bounces: false}");
    for text in [none, off] {
        let outcome = path(&text, false).outcome;
        assert_eq!((outcome.passed, outcome.contacts), (0, 0));
        near(outcome.end.x, 10.0 * (2.0 * 1.25 / G).sqrt(), 1e-6);
        assert_eq!(outcome.rest, None);
    }
}

/// Source: sum of the hops' geometric series: bouncing ends after
/// `t (1 + e)/(1 - e)` over `x (1 + e)/(1 - e)` where nothing rubs (derived).
#[test]
fn hops_follow_their_geometric_series() {
    let far = BALL.replace("at: 8 m", "at: 80 m");
    let path = path(&far, false);
    let falls = (2.0 * 1.25 / G).sqrt();
    let bounced: Vec<_> = path.encounters.iter().filter(|e| e.kind == Kind::Bounced).collect();
    let mut time = falls;
    for (hop, bounce) in bounced.iter().take(4).enumerate() {
        near(bounce.time, time, 1e-5);
        near(bounce.position.x, 10.0 * time, 1e-4);
        time += 2.0 * 0.5_f64.powi(i32::try_from(hop).unwrap() + 1) * falls;
    }
    // Nothing rubs and nothing resists but the default rolling resistance.
    assert!(matches!(path.encounters.last().unwrap().kind, Kind::Slid { .. }));
}

/// Source: stopping distance v²/(2 μ g).
#[test]
fn a_crate_set_down_on_the_road_slides_to_rest() {
    let text = "
claim: A crate slides.
object: {shape: {block: {length: 0.6 m, width: 0.4 m, height: 0.2 m}}, mass: 9000 kg, drag_factor: 0}
release: {launched: {speed: 8 m/s, height: 0.101 m, elevation: 0 deg}}
ground: {restitution: 0, friction: 0.5}
target:
  stands: {at: 50 m}
  faces: {plate: {centre: [0 m, 0 m, 1 m], width: 4 m, height: 2 m, aim: true}}
chain: [reaches, strikes]
";
    let path = path(text, false);
    let rest = path.outcome.rest.expect("it comes to rest");
    near(rest.x, 64.0 / (2.0 * 0.5 * G), 0.15);
    assert_eq!(path.outcome.passed, 0);
    let last = path.moments.last().unwrap();
    near(last.1.velocity.length(), 0.0, 1e-9);
    near((last.1.position - rest).length(), 0.0, 1e-9);
    // Short of the plate by the way that is left.
    near(path.outcome.margin, 50.0 - rest.x - path_radius(), 1e-6);
}

/// Half the diagonal of the crate.
fn path_radius() -> f64 {
    (0.3_f64.powi(2) + 0.2_f64.powi(2) + 0.1_f64.powi(2)).sqrt()
}

/// A thin disc, thrown rolling and leaning over grass.
const DISC: &str = "
claim: A disc rolls to a post.
object: {shape: {disc: {diameter: 0.4 m, thickness: 4 mm}}, mass: 0.5 kg}
release:
  shed:
    speed: 15 m/s
    height: 0.5 m
    roll: 97 deg
    spin: {x: 20 rpm, z: -700 rpm}
ground: {restitution: 0.3, friction: 0.5}
target:
  stands: {at: 8 m, left: -30 m}
  faces: {post: {centre: [0 m, 0 m, 1 m], width: 0.2 m, height: 2 m, aim: true}}
chain: [reaches, strikes]
";

/// What leans as it rolls curves in and falls over, in a handful of contacts.
#[test]
fn a_leaning_disc_rolls_in_a_curve_falls_over_and_lies() {
    let path = path(DISC, true);
    let rest = path.outcome.rest.expect("it comes to rest");
    assert!(path.outcome.contacts < 12, "{} contacts", path.outcome.contacts);
    assert!(rest.x > 15.0 && rest.y.abs() > 1.0, "it rolled on and curved: {rest}");
    let last = path.moments.last().unwrap().1;
    assert!((last.attitude * glam::DVec3::Z).z.abs() > 0.99, "it lies on its side");
    assert!(last.velocity.length() < 1e-9);
    let rolled = || path.encounters.iter().filter(|one| matches!(one.kind, Kind::Slid { .. }));
    for one in rolled() {
        let there = path.moments.iter().filter(|(time, _)| (time - one.time).abs() < 1e-12);
        assert!(there.count() > 1, "as it came and as it rolls off, at {} s", one.time);
    }
    assert!(rolled().map(|one| one.work.done).sum::<f64>() < -10.0, "rolling took its energy");
}

/// Friction, weight and air account for what round things lose that tumble,
/// lean, slip, jam, ring on their ends and roll.
#[test]
fn the_books_of_round_things_on_the_ground_add_up() {
    let rough = "{restitution: 0, friction: 2}";
    for (shape, mass, ground) in [
        ("{cylinder: {length: 0.9 m, diameter: 0.58 m}}", "25 kg", "asphalt"),
        ("{wheel: {diameter: 0.6 m, width: 0.2 m}}", "18 kg", rough),
        ("{cone: {length: 0.7 m, diameter: 0.35 m}}", "3 kg", "asphalt"),
        ("{disc: {diameter: 0.3 m, thickness: 2 mm}}", "1 kg", "concrete"),
    ] {
        let text = format!(
            "
claim: Something round comes off a ramp.
object: {{shape: {shape}, mass: {mass}}}
release:
  shed:
    speed: {{between: [5 m/s, 13 m/s]}}
    height: 1.5 m
    nose_left: {{range: [-90 deg, 90 deg]}}
    nose_up: {{range: [-90 deg, 90 deg]}}
    roll: {{range: [-180 deg, 180 deg]}}
    spin: {{z: {{normal: {{mean: 0 rpm, sd: 300 rpm}}}}}}
ground: {ground}
target:
  stands: {{at: -90 m}}
  faces: {{fence: {{centre: [0 m, 0 m, 0.9 m], width: 10 m, height: 1.8 m, aim: true}}}}
chain: [reaches, strikes]
"
        );
        let claim = claim(&text, true);
        let mut rows = engine::Rows::default();
        engine::Draws::new(&claim.scenario().inputs, 1, &[]).fill(0..100, &mut rows);
        let audit = engine::audit(&claim, &rows.values);
        assert!(audit.touches > 500, "{shape}: {audit:?}");
        assert!(audit.outside == 0 && audit.worst < engine::ENERGY_BUDGET, "{shape}: {audit:?}");
        // Nearly all come to rest in far fewer contacts than are allowed.
        let cut = rows.values.chunks_exact(claim.scenario().inputs.len()).take(40);
        let cut = cut.filter(|row| record(&claim, 0, row).outcome.breaches.has(Breach::CutOff));
        assert!(cut.count() <= 1, "{shape}");
    }
}

/// Dropped beside a wall, any way round, things come to lean on it and on the ground.
/// Some come to rest there, on this side of the wall, and what they lost is the work
/// that was done on them. (What rolls wedged between both
/// or topples about an edge, without slip, is still cut off: hence how many may be, of a
/// hundred.)
#[test]
fn what_lies_in_the_corner_of_ground_and_wall_comes_to_rest() {
    for (shape, most) in [
        ("{block: {length: 215 mm, width: 102 mm, height: 65 mm}}", 7),
        ("{cylinder: {length: 400 mm, diameter: 60 mm}}", 13),
        ("{cone: {length: 300 mm, diameter: 200 mm}}", 15),
        ("{plate: {length: 500 mm, width: 300 mm, thickness: 10 mm}}", 26),
        ("{wheel: {diameter: 500 mm, width: 100 mm}}", 45),
        ("{disc: {diameter: 300 mm, thickness: 12 mm}}", 26),
        ("{bar: {length: 600 mm, width: 40 mm, height: 80 mm}}", 20),
    ] {
        let text = format!(
            "
claim: It falls beside a wall and comes to lie against it.
object: {{shape: {shape}, mass: 2.7 kg}}
release:
  dropped:
    at: {{range: [1.0 m, 1.25 m]}}
    height: {{range: [0.4 m, 1 m]}}
    nose_up: {{range: [-90 deg, 90 deg]}}
    nose_left: {{range: [-90 deg, 90 deg]}}
    roll: {{range: [-90 deg, 90 deg]}}
ground: {{restitution: {{range: [0.1, 0.4]}}, friction: {{range: [0.3, 0.9]}}}}
target:
  stands: {{at: 2 m}}
  solids:
    wall:
      centre: [-0.5 m, 0 m, 1 m]
      size: [0.4 m, 4 m, 2 m]
      surface: {{restitution: {{range: [0.1, 0.4]}}, friction: {{range: [0.3, 0.9]}}}}
  faces: {{hatch: {{centre: [2 m, 0 m, 0.5 m], width: 1 m, height: 1 m, aim: true}}}}
chain: [reaches, strikes]
"
        );
        let claim = claim(&text, true);
        let mut rows = engine::Rows::default();
        engine::Draws::new(&claim.scenario().inputs, 1, &[]).fill(0..100, &mut rows);
        let audit = engine::audit(&claim, &rows.values);
        assert!(audit.holds(), "{shape}: {audit:?}");
        let (mut cut, mut leans) = (0, 0);
        for row in rows.values.chunks_exact(claim.scenario().inputs.len()) {
            let path = record(&claim, 0, row);
            cut += u32::from(path.outcome.breaches.has(Breach::CutOff));
            let Some(rest) = path.outcome.rest else { continue };
            // Its centre is on this side of the wall and above the ground.
            assert!(rest.x < 1.3 && rest.z > 0.0, "{shape}: {rest}");
            let last = path.encounters.iter().rev().take(16);
            let cornered = last.clone().any(|it| it.surface != Surface::Ground);
            leans += u32::from(cornered && path.encounters.len() > 16);
        }
        assert!(cut <= most, "{shape}: {cut} cut off");
        assert!(leans > 0, "{shape}");
    }
}

/// A cone off a lorry, any way round and turning slowly: what it touches takes energy,
/// each time, so that it never strikes with more than it left and fell with.
#[test]
fn a_cone_that_comes_off_strikes_with_no_more_than_it_left_with() {
    let text = "
claim: A cone comes off a lorry and strikes a board.
object: {shape: {cone: {length: 0.7 m, diameter: 0.35 m}}, mass: 4 kg}
release:
  shed:
    speed: 20 m/s
    height: 1.5 m
    nose_left: {range: [-180 deg, 180 deg]}
    nose_up: {range: [-90 deg, 90 deg]}
    roll: {range: [-180 deg, 180 deg]}
    spin:
      x: {normal: {mean: 0 rpm, sd: 60 rpm}}
      y: {normal: {mean: 0 rpm, sd: 60 rpm}}
      z: {normal: {mean: 0 rpm, sd: 60 rpm}}
ground: asphalt
target:
  stands: {at: 15 m}
  faces: {board: {centre: [0 m, 0 m, 0.5 m], width: 10 m, height: 1 m, aim: true}}
chain: [reaches, strikes]
";
    let claim = claim(text, false);
    let mut rows = engine::Rows::default();
    engine::Draws::new(&claim.scenario().inputs, 1, &[]).fill(0..300, &mut rows);
    let mut struck = 0;
    for row in rows.values.chunks_exact(claim.scenario().inputs.len()) {
        let path = record(&claim, 0, row);
        let body = claim.body(row);
        let start = &path.moments[0].1;
        let had = body.kinetic_energy(start.velocity, start.rates) + 4.0 * G * start.position.z;
        assert!(path.encounters.iter().all(|one| !one.gains && one.work.done <= 1e-6 * had));
        assert!(!path.outcome.breaches.has(Breach::Gains));
        if let Some(touch) = path.outcome.touch {
            struck += 1;
            assert!(touch.total_energy < had, "{} J of {had} J", touch.total_energy);
        }
    }
    assert!(struck > 200, "{struck} strike");
}

/// What rolls on, away from everything, is let go unless it is asked where it ends.
#[test]
fn what_rolls_away_from_everything_is_let_go() {
    let outcome = path(DISC, false).outcome;
    assert!(outcome.let_go && outcome.rest.is_none());
    assert!(!path(DISC, true).outcome.let_go);
    let end = path(DISC, true).outcome.rest.expect("it comes to rest");
    let there = format!("at: {} m, left: {} m", end.x, end.y);
    let towards = path(&DISC.replace("at: 8 m, left: -30 m", &there), false).outcome;
    assert!(!towards.let_go, "it was on its way there");
}

/// Source: constant energy of the barrier, Recht and Ipson 1963 (read
/// second-hand): `v' = sqrt(v² - 2 E/m)`.
#[test]
fn what_goes_through_a_screen_strikes_behind_it_with_what_is_left() {
    let text = "
claim: A ball goes through a screen and on to a door.
object: {shape: {sphere: {diameter: 0.1 m}}, mass: 1 kg, drag_factor: 0}
release: {launched: {speed: 20 m/s, height: 1.5 m, elevation: 0 deg}}
target:
  stands: {at: 4 m}
  faces:
    screen:
      centre: [0 m, 0 m, 1.5 m]
      width: 4 m
      height: 2 m
      barrier: {energy: 72 J, spread: 0}
    door: {centre: [1 m, 0 m, 1 m], width: 4 m, height: 2 m, aim: true}
chain: [reaches, strikes]
";
    let outcome = path(text, false).outcome;
    assert_eq!((outcome.passed, outcome.contacts), (2, 1));
    let touch = outcome.touch.expect("it strikes");
    near(touch.relative_velocity.x, (400.0_f64 - 144.0).sqrt(), 1e-6);
    let stronger = text.replace("72 J", "250 J");
    let stopped = path(&stronger, false).outcome;
    assert_eq!((stopped.passed, stopped.contacts), (0, 0), "it stays at the screen");
}

/// Source: as above; the occupant sits 0.5 m behind the glass.
#[test]
fn harm_is_what_comes_on_the_occupant() {
    let text = "
claim: A ball comes through the screen of a travelling crane on to its operator.
object: {shape: {sphere: {diameter: 0.1 m}}, mass: 1 kg, drag_factor: 0}
release: {launched: {speed: 20 m/s, height: 2 m, elevation: 0 deg}}
target:
  moves: {at: 12 m, speed: 4 m/s, heading: 180 deg}
  faces:
    screen:
      centre: [0 m, 0 m, 1.3 m]
      width: 2 m
      height: 2 m
      barrier: {energy: 88 J, spread: 0}
      aim: true
    operator: {centre: [0.5 m, 0 m, 1 m], width: 0.6 m, height: 1.4 m, occupant: true}
harm: {energy: 79 J}
chain: [reaches, strikes, perforates, harms]
";
    let outcome = path(text, false).outcome;
    assert_eq!(outcome.passed, 4);
    // In the crane's frame: of 24 m/s level the barrier leaves 20; the fall goes
    // on for half a metre at that.
    let falls = G * (11.95 / 24.0 + 0.5 / 20.0);
    near(outcome.arriving_energy.unwrap(), 0.5 * (400.0 + falls * falls), 0.05);
    let beside = text.replace("[0.5 m, 0 m, 1 m]", "[0.5 m, 2 m, 1 m]");
    let outcome = path(&beside, false).outcome;
    assert_eq!(outcome.passed, 3, "it comes through beside the operator");
    near(outcome.arriving_energy.unwrap(), 0.0, 0.0);
}

#[test]
fn a_ball_glances_off_a_wall_on_to_the_next_face() {
    let text = "
claim: A ball goes off a wall into a window.
object: {shape: {sphere: {diameter: 0.1 m}}, mass: 1 kg, drag_factor: 0}
release: {launched: {speed: 14.142135623730951 m/s, height: 7 m, elevation: 0 deg, bearing: 45 deg}}
target:
  stands: {at: 10 m}
  faces:
    window: {centre: [0 m, 0 m, 2 m], width: 10 m, height: 4 m, aim: true}
    wall:
      centre: [-7 m, 3.05 m, 6 m]
      width: 8 m
      height: 6 m
      facing: -90 deg
      surface: {restitution: 1, friction: 0}
chain: [reaches, strikes]
";
    let outcome = path(text, false).outcome;
    assert_eq!((outcome.passed, outcome.contacts_before), (2, 1));
    // Up to the wall and as far back: 3 m left and 6.95 m back down again.
    let touch = outcome.touch.expect("it strikes");
    near(touch.state.position.y, 3.0 - 6.95, 1e-5);
    near(touch.time, 0.995, 1e-6);
}

#[test]
fn the_number_of_contacts_is_bounded_and_what_is_cut_off_is_counted() {
    let text = BALL
        .replace("at: 8 m", "at: 8000 m")
        .replace("restitution: 0.5", "restitution: 1, grip_return: 0");
    let outcome = path(&text, false).outcome;
    assert!(outcome.breaches.has(Breach::CutOff) || outcome.breaches.has(Breach::Deadline));
    let deep = text.replace("height: 1.3 m", "height: 0.06 m");
    let outcome = path(&deep, false).outcome;
    assert!(outcome.contacts <= MOST_CONTACTS);
    assert!(Breach::CutOff.sentence().contains(&format!("{MOST_CONTACTS} times")));
}

#[test]
fn the_path_has_a_corner_at_every_bounce() {
    let path = path(BALL, true);
    let first = path.encounters[0];
    assert_eq!(first.surface, Surface::Ground);
    assert!(path.moments.iter().any(|(time, _)| (time - first.time).abs() < 1e-12));
    assert!(path.moments.windows(2).all(|pair| pair[0].0 <= pair[1].0 + 1e-12));
}

const WHEEL: &str = include_str!("../scenarios/fair_wheel.yaml");

#[test]
fn bounces_are_told_and_the_number_of_threads_changes_nothing() {
    let dir = Dir::new("bounces_are_told");
    dir.file("wheel.yaml", WHEEL);
    let with = |threads: &str| {
        let args = ["run", "wheel.yaml", "--json", "--flights", "600", "--no-doubts", "--no-rare"];
        let answer = dir.longodds(&[&args[..], &["--threads", threads]].concat());
        assert_eq!(answer.status, 0, "{}", answer.err);
        answer.out
    };
    let one = with("1");
    assert!(one == with("5"), "1 and 5 threads differ");
    let found: Value = serde_json::from_str(&one).unwrap();
    let contacts = &found["contacts"];
    assert!(contacts["touched"].as_u64().unwrap() > 500);
    let told = dir.longodds(&["run", "wheel.yaml", "--flights", "60", "--no-doubts", "--no-rare"]);
    let words = told.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("touches something and goes on"), "{words}");
    let flights = found["flights"].as_array().unwrap();
    let bounced = |flight: &Value| flight["contacts"][0]["surface"] == "ground";
    assert!(flights.iter().filter(|flight| bounced(flight)).count() > flights.len() / 2);
    assert!(flights.iter().any(|flight| flight["rest"].is_array()));
}

#[test]
fn check_tells_what_throws_back_and_where_the_numbers_are_from() {
    let dir = Dir::new("check_tells_what_throws_back");
    dir.file("wheel.yaml", WHEEL);
    let answer = dir.longodds(&["check", "wheel.yaml"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.contains("Bounces off ground (grass): restitution 0."), "{}", answer.out);
    assert!(answer.out.contains("from memory"), "{}", answer.out);
    assert!(answer.out.contains("bounced or not"), "{}", answer.out);
    dir.file("bad.yaml", WHEEL.replace("ground: grass", "ground: gras"));
    let answer = dir.longodds(&["check", "bad.yaml"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("no surface is called `gras`"), "{}", answer.err);
    assert!(answer.err.contains("did you mean `grass`?"), "{}", answer.err);
    dir.file("bad.yaml", WHEEL.replace("ground: grass", "ground: {restitution: 1.2}"));
    let answer = dir.longodds(&["check", "bad.yaml"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("must lie between"), "{}", answer.err);
}
