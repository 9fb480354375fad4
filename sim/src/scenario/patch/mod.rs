//! What if: values put into a scenario's text at their place, as if they had been
//! typed there.
//!
//! Nothing else of the text may come to mean another thing: it is read again and
//! compared. The changed text then goes through every check like any other. What a
//! part has is set by writing its key beside `like`.

mod place;
mod value;

use super::{
    check::language,
    parts,
    short::{meant, stands_for},
};
use crate::{
    diagnostic::{Diagnostic, Span},
    text::{Leaf, Sort, leaves, nearest::nearest, yaml},
};
use std::path::Path;

/// A text with values put into it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patched {
    /// The text.
    pub text: String,
    /// What was put where, in the order of the options.
    pub put: Vec<Put>,
}

/// A value put into a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Put {
    /// The key's path, whole.
    pub path: String,
    /// The value as it was typed.
    pub value: String,
    /// What stood there; `None`: nothing was written.
    pub was: Option<String>,
    /// Where it stands in the changed text.
    place: Span,
    /// Where the value begins in its option.
    from: usize,
}

/// Puts values into the text of a scenario: each option is `KEY=VALUE`, the key
/// a path such as `release.launched.speed` or a short name that means one key.
/// `folder` is where parts of its own are looked for, as in [`parse`](super::parse).
///
/// # Errors
///
/// Which option is wrong, counted from 0, and why, with places in that option.
///
/// # Examples
///
/// ```
/// use longodds_sim::scenario::{patched, template};
/// # use std::path::Path;
/// let changed = patched(template(), Path::new(""), &["mass=2 kg".to_owned()]).unwrap();
/// assert_eq!(changed.put[0].path, "object.mass");
/// assert!(changed.text.contains("mass: 2 kg"));
/// ```
pub fn patched(
    text: &str,
    folder: &Path,
    options: &[String],
) -> Result<Patched, (usize, Diagnostic)> {
    let mut done = Patched { text: text.to_owned(), put: Vec::new() };
    for (number, option) in options.iter().enumerate() {
        done = put(done, folder, option).map_err(|problem| (number, problem))?;
    }
    Ok(done)
}

impl Patched {
    /// A problem of the changed text as one of the option that brought it: its
    /// number and the problem with its place there. `None`: it stands elsewhere.
    #[must_use]
    pub fn pointed(&self, problem: &Diagnostic) -> Option<(usize, Diagnostic)> {
        let (span, found) = problem.label.clone()?;
        if problem.elsewhere.is_some() {
            return None;
        }
        let inside = |put: &Put| span.start >= put.place.start && span.start < put.place.end;
        let number = self.put.iter().rposition(inside)?;
        let put = &self.put[number];
        let end = put.from + put.value.len();
        let at = |place: usize| (put.from + place - put.place.start).min(end);
        let (mut start, mut stop) = (at(span.start), at(span.end));
        // A quotation mark of ours shifts what is behind it.
        if put.place.len() != put.value.len() {
            (start, stop) = (put.from, end);
        }
        Some((number, problem.clone().at(start..stop.max(start), found)))
    }
}

fn put(mut done: Patched, folder: &Path, option: &str) -> Result<Patched, Diagnostic> {
    let Some((key, value)) = option.split_once('=') else {
        return Err(Diagnostic::error("set::shape", "expected KEY=VALUE")
            .at(0..option.len(), "no `=` in it")
            .help("write, for example, `release.launched.speed='60 mph'`"));
    };
    let from = key.len() + 1 + (value.len() - value.trim_start().len());
    let (key, value) = (key.trim(), value.trim());
    let at_value = from..from + value.len();
    if value.is_empty() || value.contains(['\n', '\r']) {
        let found = if value.is_empty() { "nothing" } else { "more than one line" };
        return Err(Diagnostic::error("set::value", "expected a value in one line")
            .at(at_value, found)
            .help(
                "write it as in the scenario, such as `gap='10 m'` or `gap='{range: [8 m, 12 m]}'`",
            ));
    }
    let language = language();
    let all = leaves(&done.text, Sort::Scenario, &language)?;
    let tree = yaml::tree(&done.text, Sort::Scenario)?;
    let find = |side, name: &str| parts::find(folder, side, name);
    let with_parts = parts::leaves(&done.text, &language, &find)?;
    let path = chosen(key, &with_parts, &tree).or_else(|_| chosen(key, &all, &tree))?;
    let spot = place::find(&done.text, &tree, &all, &path)
        .or_else(|| place::beside(&done.text, &tree, &with_parts, &path))
        .ok_or_else(|| unknown(key, &all))?;
    let Some((text, place)) = value::written(&done.text, &tree, &spot, value) else {
        return Err(Diagnostic::error("set::value", "this value cannot stand there")
            .at(at_value, format!("at `{path}` it would break the text"))
            .help("one value, a list in `[…]` or a group in `{…}`, each closed"));
    };
    if done.put.iter().any(|before| before.path == path) {
        return Err(Diagnostic::error("set::twice", format!("`{path}` is set twice"))
            .at(0..key.len(), "it has a value already")
            .help("one value for each key: leave one of them out"));
    }
    for other in &mut done.put {
        if other.place.start >= spot.replaced.end {
            let moved = |at: usize| at + text.len() - done.text.len();
            other.place = moved(other.place.start)..moved(other.place.end);
        } else if other.place.end > spot.replaced.start {
            // Put there before, and now no more.
            other.place = 0..0;
        }
    }
    let was = spot.was.then(|| done.text[spot.replaced.clone()].trim().to_owned());
    let of_part = with_parts.iter().find(|leaf| leaf.path == path);
    let of_part = of_part.and_then(|leaf| leaf.of_part.as_ref());
    let was = was
        .filter(|was| !was.is_empty())
        .or_else(|| of_part.map(|was| format!("{} of its part", was.trim())));
    done.text = text;
    done.put.push(Put { path, value: value.to_owned(), was, place, from });
    Ok(done)
}

/// The path that a key means.
fn chosen(key: &str, all: &[Leaf<'_>], tree: &yaml::Node) -> Result<String, Diagnostic> {
    let paths: Vec<(&str, bool)> =
        all.iter().map(|leaf| (leaf.path.as_str(), is_told(leaf))).collect();
    match meant(key, &paths)[..] {
        [one] => Ok(one.to_owned()),
        // A group, what a leaf holds, or what could be written under one.
        [] if place::written(tree, key).is_some() => Ok(key.to_owned()),
        [] if all.iter().any(|leaf| place::below(leaf, key)) => Ok(key.to_owned()),
        [] => match stands_for(key) {
            // Of a group that is not written.
            [one] => Ok((*one).to_owned()),
            _ => Err(unknown(key, all)),
        },
        ref several => Err(Diagnostic::error(
            "set::several",
            format!("`{key}` may mean {} keys", several.len()),
        )
        .at(0..key.len(), "which one?")
        .help(format!("write one of: {}", several.join(", ")))),
    }
}

/// Whether a leaf is written, in the text or in a part.
fn is_told(leaf: &Leaf<'_>) -> bool {
    leaf.place.is_some() || leaf.of_part.is_some()
}

fn unknown(key: &str, all: &[Leaf<'_>]) -> Diagnostic {
    let written = all.iter().filter(|leaf| leaf.place.is_some()).map(|leaf| leaf.path.as_str());
    let near = nearest(key, all.iter().map(|leaf| leaf.path.as_str())).or_else(|| {
        let end = key.rsplit('.').next().unwrap_or(key);
        let ends = all.iter().map(|leaf| leaf.path.rsplit('.').next().unwrap_or(&leaf.path));
        let near = nearest(end, ends)?;
        let found = all.iter().filter(|leaf| leaf.path.rsplit('.').next() == Some(near));
        found.max_by_key(|leaf| leaf.place.is_some()).map(|leaf| leaf.path.as_str())
    });
    let help = match near {
        Some(near) => format!("did you mean `{near}`? `check --keys` lists every key"),
        None => format!("written are: {}", written.collect::<Vec<_>>().join(", ")),
    };
    Diagnostic::error("set::key", format!("the scenario has no key `{key}`"))
        .at(0..key.len(), "not known")
        .help(help)
}

#[cfg(test)]
mod tests;
