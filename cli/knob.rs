//! Inputs named on the command line, and what they are set to.

use crate::failure::Failure;
use longodds_sim::{
    findings::Moved,
    quantity::{Dimension, parse},
    scenario::{InputId, Inputs, meant},
    sweep::Knob,
};

/// What is moved, over which range.
pub(crate) struct Range {
    /// The knob.
    pub(crate) knob: Knob,
    /// What it is; the settings of several inputs are a factor, a number.
    pub(crate) moved: Moved,
    /// Its ends, SI.
    pub(crate) ends: [f64; 2],
}

impl Range {
    /// As people say it.
    pub(crate) fn name(&self) -> &str {
        &self.moved.input
    }

    /// What its settings measure.
    pub(crate) fn dimension(&self) -> Dimension {
        self.moved.dimension
    }
}

/// One input over a range.
pub(crate) fn value(inputs: &Inputs, name: &str, ends: [&str; 2]) -> Result<Range, Failure> {
    let id = find(inputs, name)?;
    let input = inputs.get(id);
    let told = [0.05, 0.5, 0.95].map(|share| input.distribution.quantile(share));
    let dimension = input.dimension;
    let moved = Moved { input: input.name.clone(), dimension, told: Some(told) };
    Ok(Range { knob: Knob::Value(id), ends: range(ends, dimension)?, moved })
}

/// Several inputs, multiplied by the same factor.
pub(crate) fn times(inputs: &Inputs, names: &[String], ends: [&str; 2]) -> Result<Range, Failure> {
    let found: Result<Vec<_>, _> = names.iter().map(|name| find(inputs, name)).collect();
    let ids = found?;
    let said: Vec<&str> = ids.iter().map(|id| inputs.get(*id).name.as_str()).collect();
    let input = format!("{} times", said.join(" and "));
    let moved = Moved { input, dimension: Dimension::Number, told: None };
    Ok(Range { ends: range(ends, Dimension::Number)?, knob: Knob::Times(ids), moved })
}

/// The input of this name, or of this end of a name if only one has it.
pub(crate) fn find(inputs: &Inputs, name: &str) -> Result<InputId, Failure> {
    if let Some(id) = inputs.find(name) {
        return Ok(id);
    }
    let all: Vec<(&str, bool)> =
        inputs.list().iter().map(|input| (input.name.as_str(), !input.assumed)).collect();
    match meant(name, &all)[..] {
        [] => {}
        [one] => return inputs.find(one).ok_or_else(|| Failure::usage("no such input")),
        ref several => {
            let text = format!("write one of: {}", several.join(", "));
            return Err(
                Failure::usage(format!("`{name}` may be {} inputs", several.len())).help(text)
            );
        }
    }
    let names = inputs.list().iter().map(|input| input.name.as_str());
    let alike = |known: &str| {
        let last = known.rsplit('.').next().unwrap_or(known);
        strsim::jaro_winkler(known, name).max(strsim::jaro_winkler(last, name))
    };
    let near = names.clone().max_by(|a, b| alike(a).total_cmp(&alike(b)));
    let list: Vec<&str> = names.collect();
    let hint = near.map_or(String::new(), |near| format!("did you mean `{near}`? "));
    let text = format!("{hint}the inputs are: {}", list.join(", "));
    Err(Failure::usage(format!("the scenario has no input `{name}`")).help(text))
}

fn range(ends: [&str; 2], dimension: Dimension) -> Result<[f64; 2], Failure> {
    let read = |text: &str| {
        parse(text, dimension).map_err(|error| {
            Failure::usage(format!("`{text}` is no {} as it should be", dimension.name()))
                .help(error.help(dimension))
        })
    };
    let ends = [read(ends[0])?, read(ends[1])?];
    Ok([ends[0].min(ends[1]), ends[0].max(ends[1])])
}
