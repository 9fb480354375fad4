//! The claim as a form.

use longodds_sim::scenario::Scenario;
use maud::{Markup, html};
use serde_json::{Value, json};

/// Every number of a claim with a field to change it.
pub(crate) fn form(scenario: &Scenario) -> Markup {
    html! {
        @for input in scenario.inputs.list() {
            label { (input.name) " " input name=(input.name) value=(input.written); }
        }
    }
}

/// The numbers of a version, for the fields that stand there already: by the path
/// of their key.
pub(crate) fn fields(scenario: &Scenario) -> Value {
    let of = |u: f64, input: &longodds_sim::scenario::Input| input.distribution.quantile(u);
    let list = scenario.inputs.list().iter().map(|input| {
        let numbers = json!({
            "spoken": input.written,
            "low": of(0.05, input),
            "middle": of(0.5, input),
            "high": of(0.95, input),
        });
        (input.name.clone(), numbers)
    });
    Value::Object(list.collect())
}
