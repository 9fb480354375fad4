//! The claim as a form, made from the table of the language: each number as it
//! was written, how it is spread as a small curve, and what could be written.

mod body;
mod curve;
mod field;
mod scale;
mod section;
mod spread;

use longodds_sim::{
    scenario::{Scenario, language},
    words::Voice,
};
use maud::Markup;
use serde_json::{Map, Value, json};

pub(crate) use self::{
    body::step_of,
    field::{Field, fields as fields_of},
    scale::Scale,
    spread::Handle,
};

/// The form of a claim.
pub(crate) fn form(scenario: &Scenario) -> Markup {
    let language = language();
    section::all(&fields_of(scenario, &language), scenario)
}

/// What a change says of every field: its body anew, its number in words, its
/// curve and its kind, under the field's key.
pub(crate) fn fields(scenario: &Scenario) -> Value {
    let language = language();
    let voice = Voice::set(scenario.show);
    let told = |field: &Field<'_>| {
        let [low, middle, high] = field.quantiles();
        json!({
            "spoken": field.spoken(voice),
            "low": low,
            "middle": middle,
            "high": high,
            "curve": field.input.map(|input| curve::shape(input).into_string()).unwrap_or_default(),
            "kind": field.state.word(),
            "html": body::body(field, voice).into_string(),
        })
    };
    let fields = fields_of(scenario, &language);
    Value::Object(
        fields.iter().map(|field| (field.path().to_owned(), told(field))).collect::<Map<_, _>>(),
    )
}

#[cfg(test)]
mod tests;
