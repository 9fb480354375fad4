//! Shapes that fly by a table of the user's, from file to answer.

use crate::util::Dir;
use longodds_sim::{
    findings::Findings,
    math::{cos, sin},
};
use std::fmt::Write;

/// A thing thrown at a pane, by its shape.
fn scenario(shape: &str) -> String {
    format!(
        "claim: It comes off the ledge and through the pane below.\n\
         object:\n  shape: {{{shape}}}\n  mass: 3 kg\n\
         release:\n  thrown:\n    speed: {{between: [8 m/s, 12 m/s]}}\n    height: 7 m\n    spin: {{normal: {{mean: 0 rpm, sd: 60 rpm}}}}\n\
         target:\n  stands: {{at: 8 m}}\n  faces:\n    pane:\n      centre: [0 m, 0 m, 2 m]\n      width: 4 m\n      height: 4 m\n      rake: 80 deg\n      aim: true\n\
         chain: [reaches, strikes]\n"
    )
}

const BLOCK: &str = "block: {length: 40 cm, width: 30 cm, height: 20 cm}";
const CUSTOM: &str = "custom: {coefficients: a.csv, length: 40 cm, width: 30 cm, thickness: 20 cm, reference_area: 0.12 m2, reference_length: 40 cm}";

const HEADING: &str = "angle_of_attack_deg,sideslip_deg,CX,CY,CZ,CMX,CMY,CMZ\n";

/// Sine and cosine of an angle in degrees.
fn turned(degrees: i32) -> (f64, f64) {
    let angle = f64::from(degrees).to_radians();
    (sin(angle), cos(angle))
}

/// A table of what `of` says at a direction of the velocity, as coefficients, in
/// steps of so many degrees.
fn table(step: i32, of: impl Fn([f64; 3]) -> [f64; 6]) -> String {
    let mut text = HEADING.to_owned();
    for attack in (-180..=180).step_by(step.unsigned_abs() as usize) {
        for slip in (-90..=90).step_by(step.unsigned_abs() as usize) {
            let ((sa, ca), (ss, cs)) = (turned(attack), turned(slip));
            let [a, b, c, d, e, f] = of([ca * cs, ss, -sa * cs]);
            writeln!(text, "{attack},{slip},{a:.7},{b:.7},{c:.7},{d:.7},{e:.7},{f:.7}").unwrap();
        }
    }
    text
}

fn found(dir: &Dir, shape: &str) -> Findings {
    dir.file("a.yaml", scenario(shape));
    let answer = dir.longodds(&["run", "a.yaml", "--flights", "600", "--json"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    serde_json::from_str(&answer.out).unwrap()
}

/// Source: the block's own law (area-weighted faces, pressure leaning by 0.126
/// of each side towards the wind), tabulated every 5 deg.
#[test]
fn a_block_told_as_a_table_strikes_as_the_block() {
    let dir = Dir::new("a_block_told_as_a_table");
    let face = |p: f64, q: f64, depth: f64| {
        let thin = |aspect: f64| 1.15 + 0.83 * aspect * aspect / (aspect * aspect + 525.0);
        let square = 0.87 + 0.28 / (1.0 + 0.55 * depth * depth / (p * q));
        p * q * square * thin(p.max(q) / p.min(q)) / thin(1.0)
    };
    let sides = [0.4, 0.3, 0.2];
    let areas = [face(0.3, 0.2, 0.4), face(0.4, 0.2, 0.3), face(0.4, 0.3, 0.2)];
    dir.file(
        "a.csv",
        table(5, |u| {
            let f = [0, 1, 2].map(|i| -areas[i] * u[i]);
            let arm = [0, 1, 2].map(|i| 0.126 * sides[i] * u[i]);
            let cross = |i: usize, j: usize| (arm[i] * f[j] - arm[j] * f[i]) / (0.12 * 0.4);
            let [x, y, z] = f.map(|force| force / 0.12);
            [x, y, z, cross(1, 2), cross(2, 0), cross(0, 1)]
        }),
    );
    let (block, custom) = (found(&dir, BLOCK), found(&dir, CUSTOM));
    let middle = |found: &Findings| found.impact_speed.as_ref().unwrap().mean;
    // Besides the table's 0.2 %, the block floats on its 24 L of air: 1 % of its
    // weight, a few centimetres where it comes down.
    let strikes = |found: &Findings| found.gates[1].passed;
    assert!(strikes(&block).abs_diff(strikes(&custom)) <= 12, "of 600");
    let off = middle(&custom) / middle(&block) - 1.0;
    assert!(off.abs() < 0.01, "{off}");
    assert!(custom.models.iter().any(|model| model.source.contains("a.csv")));
    assert!(custom.breaches.is_empty(), "{:?}", custom.breaches);
}

#[test]
fn directions_that_the_table_has_not_are_counted() {
    let dir = Dir::new("directions_that_the_table");
    let text = table(10, |u| [-u[0], -u[1], -u[2], 0.0, 0.0, 0.0]);
    let inside = |line: &&str| {
        line.split(',')
            .next()
            .unwrap()
            .parse::<f64>()
            .ok()
            .is_none_or(|attack| attack.abs() <= 40.0)
    };
    let part: String = text.lines().filter(inside).map(|line| format!("{line}\n")).collect();
    let words = |dir: &Dir, shape: &str| {
        found(dir, shape).breaches.iter().map(|breach| breach.breach.sentence()).collect::<String>()
    };
    dir.file("a.csv", part);
    assert!(words(&dir, CUSTOM).contains("direction"), "{}", words(&dir, CUSTOM));
    dir.file("a.csv", text);
    assert_eq!(words(&dir, CUSTOM), "");
    let narrow = CUSTOM.replace("cm}", "cm, reynolds: [1e6, 2e6]}");
    assert!(words(&dir, &narrow).contains("Reynolds"));
}

#[test]
fn a_bad_table_is_one_clear_error() {
    let dir = Dir::new("a_bad_table");
    let error = |text: &str| {
        dir.file("a.csv", text);
        dir.file("a.yaml", scenario(CUSTOM));
        let answer = dir.longodds(&["check", "a.yaml"]);
        assert_eq!(answer.status, 1, "{}", answer.out);
        assert_eq!(answer.err.matches("error[").count(), 1, "{}", answer.err);
        let line = answer.err.lines().find(|line| line.contains('^')).unwrap_or_default();
        line.trim_start_matches([' ', '|', '^']).to_owned()
    };
    let good = table(30, |u| [-u[0], -u[1], -u[2], 0.0, 0.0, 0.0]);
    let without = |from: &str| {
        let lines = good.lines().filter(|line| !line.starts_with(from));
        lines.map(|line| format!("{line}\n")).collect::<String>()
    };
    insta::assert_snapshot!(error(&without("30,-60,")), @"there is no row for an angle of attack of 30 deg with a sideslip of -60 deg");
    insta::assert_snapshot!(error(&without("30,")), @"its angles of attack are not evenly spaced: -180 deg, -150 deg at first, then 0 deg, 60 deg; a row is missing or too many");
    insta::assert_snapshot!(error(&good.replace("CMX", "Cl")), @"it has no column `CMX`; its columns are: angle_of_attack_deg, sideslip_deg, CX, CY, CZ, Cl, CMY, CMZ");
    insta::assert_snapshot!(error(&good.replacen("-1.0", "much", 1)), @"line 8, CY: `much000000` is not a number");
    insta::assert_snapshot!(error(&format!("{good}0,0,1,1,1,1,1,1\n")), @"line 93 has the angle of attack and sideslip of line 47 again");
    insta::assert_snapshot!(error(&format!("{HEADING}0,0,1,1,1,1,1,1\n")), @"it needs at least two angles of attack");
    insta::assert_snapshot!(error(&without("180,0,").trim_end().replace("\n180,30", "\n180,0,9,0,0,0,0,0\n180,30")), @"lines 5 and 89 are one and the same direction of the flow, but differ");
    std::fs::remove_file(dir.path("a.csv")).unwrap();
}
