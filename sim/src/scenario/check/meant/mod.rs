//! What can hardly be meant: a set-up in which the claim is decided by a slip of
//! the text. Each doubt is a warning at its line, with the mend.
//!
//! Looks at the middle values and at how far the spreads reach; what may be meant
//! is left alone.

mod begins;
mod faces;
mod reach;
mod scene;
mod spread;
#[cfg(test)]
mod tests;

use crate::{
    diagnostic::{Diagnostic, Span},
    scenario::{Air, Bounce, InputId, Object, Release, Target},
    text::reader::{Reader, Table},
};
use scene::Scene;

/// What was read, all of it.
#[derive(Clone, Copy)]
pub(super) struct Parts<'p> {
    pub(super) air: &'p Air,
    pub(super) object: &'p Object,
    pub(super) release: &'p Release,
    pub(super) target: &'p Target,
    pub(super) ground: Option<&'p Bounce>,
}

impl Parts<'_> {
    /// Whether flights go on after a touch.
    fn bounces(&self) -> bool {
        self.ground.is_some() || self.target.faces.iter().any(|face| face.bounce.is_some())
    }
}

/// Warns of what can hardly be meant.
pub(super) fn look(reader: &mut Reader<'_>, parts: Parts<'_>, scenario: &Table<'_>) {
    // What cannot be is said already, and what hangs on it is not to be said twice.
    if !reader.is_clean() {
        return;
    }
    let scene = Scene::new(reader, parts);
    let at =
        |name: &str| scenario.get(name).map_or(scenario.at.clone(), |(key, _)| key.span.clone());
    begins::look(reader, &scene, parts);
    reach::look(reader, &scene, parts);
    faces::look(reader, &scene, parts);
    spread::look(reader, parts, &at("release"));
}

/// A doubt at an input.
fn doubt(
    reader: &mut Reader<'_>,
    code: &'static str,
    id: InputId,
    message: String,
    found: &str,
    mend: &str,
) {
    let at = reader.place(id);
    doubt_at(reader, code, at, message, found, mend);
}

/// A doubt at a place.
fn doubt_at(
    reader: &mut Reader<'_>,
    code: &'static str,
    at: Span,
    message: String,
    found: &str,
    mend: &str,
) {
    reader.report(Diagnostic::warning(code, message).at(at, found).help(mend));
}

/// The quantile of an input.
fn quantile(reader: &Reader<'_>, id: InputId, share: f64) -> f64 {
    reader.inputs[id.0].distribution.quantile(share)
}

/// The largest value of an input that counts, nearly never exceeded.
fn most(reader: &Reader<'_>, id: InputId) -> f64 {
    quantile(reader, id, 0.999)
}

/// Half of how far nearly all values of an input are apart.
fn half_spread(reader: &Reader<'_>, id: InputId) -> f64 {
    (quantile(reader, id, 0.999) - quantile(reader, id, 0.001)) / 2.0
}
