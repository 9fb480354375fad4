//! The page on this machine: what it promises, over a real socket.

mod edits;
mod promises;
mod saving;

use crate::{
    util::{Dir, SCENARIO},
    wire::Served,
};
use serde_json::{Value, json};

/// A claim of ours in a folder of its own, served.
fn served(test: &str, text: &str) -> (Dir, Served) {
    let dir = Dir::new(test);
    dir.file("claim.yaml", text);
    let served = Served::start(&mut dir.command(&["live", "claim.yaml"])).unwrap();
    (dir, served)
}

/// The same of the usual claim.
fn usual(test: &str) -> (Dir, Served) {
    served(test, SCENARIO)
}

/// What the page is told of the file when it is opened.
fn open(served: &Served) -> Value {
    served.post("/api/open", &json!({})).unwrap().json().unwrap()
}

/// All lines of an edit.
fn lines(served: &Served, edit: &Value) -> Vec<Value> {
    let mut all = Vec::new();
    let each = |line: &Value, _| {
        all.push(line.clone());
        std::ops::ControlFlow::Continue(())
    };
    served.lines("/api/edit", edit, each).unwrap();
    all
}

/// The HTML last put into a place.
fn last<'l>(lines: &'l [Value], into: &str) -> &'l str {
    let put = lines.iter().rfind(|line| line["into"] == into).unwrap();
    put["html"].as_str().unwrap()
}
