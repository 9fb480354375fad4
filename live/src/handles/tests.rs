use super::{View, handles};
use longodds_reports::{Frame, chart::Views};
use longodds_sim::{
    findings::set_up,
    scenario::{Scenario, parse, patched},
};
use serde_json::Value;
use std::{fs, path::Path};

fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios")
}

fn demo(name: &str) -> Scenario {
    parse(&fs::read_to_string(folder().join(name)).unwrap(), &folder()).unwrap()
}

fn laid(scenario: &Scenario, views: &Views) -> Vec<Value> {
    let px = |view: View, at| match view {
        View::Side => views.from_the_side(at),
        View::Plan => views.from_above(at),
    };
    handles(scenario, &px)
}

fn number(handle: &Value, name: &str) -> f64 {
    handle[name].as_f64().unwrap()
}

/// Moved by some px, the number that results puts the handle there.
#[test]
fn a_handle_stands_where_it_was_dragged_to() {
    for name in ["shop_window.yaml", "barn_pumpkin.yaml", "crossbow_billet.yaml"] {
        let scenario = demo(name);
        let views = Views::of(&set_up(&scenario), Frame::page());
        let all = laid(&scenario, &views);
        assert!(all.len() > 2, "{name}: something can be moved");
        for handle in all {
            let key = handle["key"].as_str().unwrap();
            let axis = if handle["axis"] == "x" { "x" } else { "y" };
            // Upwards: what stands on the ground cannot go down.
            let px = if axis == "x" { 6.0 } else { -6.0 };
            let by = px * number(&handle, "unit_per_px");
            let sets: Vec<String> = handle["parts"]
                .as_array()
                .unwrap()
                .iter()
                .map(|part| {
                    let typed =
                        (number(part, "value") + by - number(part, "off")) / number(part, "per");
                    let path = match part["path"].as_str().unwrap() {
                        "" => key.to_owned(),
                        part => format!("{key}.{part}"),
                    };
                    format!("{path}={typed} {}", part["unit"].as_str().unwrap())
                })
                .collect();
            let text = patched(&scenario.text, &folder(), &sets)
                .unwrap_or_else(|(_, why)| panic!("{name}: {sets:?}: {why}"))
                .text;
            let moved =
                parse(&text, &folder()).unwrap_or_else(|why| panic!("{name}: {sets:?}: {why:?}"));
            let again = laid(&moved, &views);
            let now = again.iter().find(|now| now["key"] == handle["key"]).unwrap();
            let went = number(now, axis) - number(&handle, axis);
            // An angle is told by its tangent.
            assert!((went - px).abs() < 0.1, "{name}: {key} went {went} px for {px}");
        }
    }
}
