//! How well founded an answer is: the models that it leans on, by the weakest of
//! what each rests on.

use crate::{findings::ModelNote, note::Kind};

/// So many models are named of those on the weakest ground.
const NAMED: usize = 3;

/// In one sentence how well founded an answer is that leans on these models, the
/// weakest first; `None` where the record does not tell.
///
/// Notes about one section of the page of trust count as one model, with the
/// weakest of their kinds.
#[must_use]
pub fn well_founded(models: &[ModelNote]) -> Option<String> {
    let mut weakest: Vec<&ModelNote> = Vec::new();
    for note in models.iter().filter(|note| !note.key.is_empty()) {
        match weakest.iter_mut().find(|other| other.key == note.key) {
            // What the scenario tells is its author's to vouch for.
            Some(other) if note.kind.is_some_and(|kind| other.kind.is_none_or(|it| kind < it)) => {
                *other = note;
            }
            Some(_) => {}
            None => weakest.push(note),
        }
    }
    let kinds = Kind::ALL.into_iter().map(Some).chain([None]);
    let counted = kinds.filter_map(|kind| {
        let mine: Vec<&str> = weakest
            .iter()
            .filter(|note| note.kind == kind)
            .map(|note| note.what.as_str())
            .collect();
        (!mine.is_empty()).then_some((kind, mine))
    });
    let parts: Vec<String> = counted
        .enumerate()
        .map(|(place, (kind, mine))| {
            let words = format!("{} {}", mine.len(), words(kind));
            if place == 0 && kind != Some(Kind::Read) {
                format!("{words} ({})", named(&mine))
            } else {
                words
            }
        })
        .collect();
    let models = match weakest.len() {
        0 => return None,
        1 => "1 model".to_owned(),
        n => format!("{n} models"),
    };
    Some(format!(
        "It leans on {models}, each as sure as the weakest of its sources: {}",
        parts.join("; ")
    ))
}

fn words(kind: Option<Kind>) -> &'static str {
    match kind {
        Some(Kind::Memory) => "from memory",
        Some(Kind::Practice) => "by common practice, without a source",
        Some(Kind::SecondHand) => "second-hand",
        Some(Kind::Derived) => "derived from textbook laws",
        Some(Kind::Library) => "held against a reference library",
        Some(Kind::Read) => "read at the source",
        None => "told by the scenario",
    }
}

fn named(all: &[&str]) -> String {
    let first = all.iter().take(NAMED).copied().collect::<Vec<_>>().join("; ");
    match all.len().saturating_sub(NAMED) {
        0 => first,
        more => format!("{first}; and {more} more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note(key: &str, kind: Option<Kind>) -> ModelNote {
        ModelNote {
            key: key.to_owned(),
            what: format!("drag of the {key}"),
            model: String::new(),
            source: String::new(),
            kind,
            valid: String::new(),
            leaves_out: String::new(),
        }
    }

    #[test]
    fn the_weakest_come_first_and_by_name() {
        let models = [
            note("air", Some(Kind::Read)),
            note("cone", Some(Kind::SecondHand)),
            note("plate", Some(Kind::Memory)),
            note("cone", Some(Kind::Read)),
            note("wall", None),
        ];
        insta::assert_snapshot!(well_founded(&models).unwrap(), @"It leans on 4 models, each as sure as the weakest of its sources: 1 from memory (drag of the plate); 1 second-hand; 1 read at the source; 1 told by the scenario");
    }

    /// Every key counts once, and with its weakest kind.
    #[test]
    fn notes_about_one_thing_are_one_model_whatever_their_order() {
        let two = [note("cone", Some(Kind::Memory)), note("cone", Some(Kind::Read))];
        let turned = [two[1].clone(), two[0].clone()];
        assert_eq!(well_founded(&two), well_founded(&turned));
        assert!(well_founded(&two).unwrap().starts_with("It leans on 1 model, "));
        assert_eq!(well_founded(&[]), None);
        assert_eq!(well_founded(&[note("", None)]), None);
    }
}
