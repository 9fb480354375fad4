//! What can be dragged in the picture of the set-up.

use longodds_sim::scenario::Scenario;
use serde_json::Value;

/// The handles of a version in the views that it is drawn in.
pub(crate) fn handles(_scenario: &Scenario) -> Vec<Value> {
    Vec::new()
}
