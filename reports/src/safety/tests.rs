use super::{launcher::fails_first, *};
use crate::{Evidence, sample};
use longodds_sim::rig::{calibrate::Calibration, parse, prediction::Prediction};

const CORDS: &str = "rig: a bow\nobject: {mass: 2 kg, survives: 90 gn}\nlauncher: {cord: {count: 4, \
                     relaxed: 2 m, diameter: 12 mm, shear_modulus: 0.4 MPa}}\nwinch: {limit: 3 kN}\n";

fn page(rig: Option<Loaded<'_>>) -> String {
    let findings = sample::ordinary();
    let evidence = sample::evidence::ordinary();
    let zone = evidence.iter().find_map(|one| match one {
        Evidence::Exclusion(zone) => Some(zone),
        _ => None,
    });
    safety(&SafetySheet { findings: Some(&findings), zone, rig, wind: None })
}

#[test]
fn every_sheet_defers_and_marks_what_is_practice() {
    let none = SafetySheet { findings: None, zone: None, rig: None, wind: None };
    for page in [page(None), safety(&none)] {
        for said in ["No clearance.", "Local codes", "licensed practice", ">practice<", "Misfire"] {
            assert!(page.contains(said), "{said}");
        }
    }
    // What was not told is asked for, never passed over.
    let bare = safety(&none);
    for asked in ["longodds exclusion", "longodds sweep", "--rig RIG"] {
        assert!(bare.contains(asked), "{asked}");
    }
}

/// The part named is the one with the least margin, whichever limit is drawn in.
#[test]
fn the_part_with_the_least_margin_is_named() {
    let told = |text: &str| {
        let rig = parse(text).unwrap();
        Prediction::new(&rig, &Calibration::new(&rig, &[]), 1.5)
    };
    let weak = told(&CORDS.replace("3 kN", "100 N"));
    let (part, margin) = fails_first(&weak).unwrap();
    assert_eq!(part, "winch or latch");
    assert!((margin - 100.0 / weak.pull.unwrap()).abs() < 1e-9);
    let frail = told(&CORDS.replace("90 gn", "0.5 gn"));
    assert_eq!(fails_first(&frail).unwrap().0, "the object itself");
    let none = told(&CORDS.replace(", survives: 90 gn", "").replace("winch: {limit: 3 kN}\n", ""));
    assert_eq!(fails_first(&none), None);
    for (prediction, said) in
        [(&weak, "DO NOT LOAD IT"), (&none, "No limit is told: what fails first is not known")]
    {
        let rig = Loaded {
            name: "a bow",
            setting: "1.5 m",
            prediction,
            show: longodds_sim::quantity::Show::Si,
        };
        assert!(page(Some(rig)).contains(said), "{said}");
    }
}
