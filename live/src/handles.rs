//! What can be dragged in the picture of the set-up.

use longodds_sim::scenario::Scenario;
use serde_json::Value;

/// A view of the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// From the side: x and z.
    Side,
    /// From above: x and y.
    Plan,
}

/// The handles of a claim, laid where `px` says that a point of the world (m) is in
/// a view, px.
pub(crate) fn handles(
    _scenario: &Scenario,
    px: &dyn Fn(View, [f64; 3]) -> (f64, f64),
) -> Vec<Value> {
    let _nowhere_yet = [View::Side, View::Plan].map(|view| px(view, [0.0; 3]));
    Vec::new()
}
