//! The text as a tree of nodes that know where they stand.
//!
//! The only module that knows the YAML crate. Reading into a tree first, and
//! checking the tree by hand afterwards, is what lets every problem of a file
//! be reported in one go: a typed reader stops at the first one.

use super::{LONGEST, Sort};
use crate::diagnostic::{Diagnostic, Span};
use serde::{Deserialize, Deserializer, de};
use serde_yaml::{
    Location, Spanned,
    budget::BudgetBreach,
    options::{DuplicateKeyPolicy, MergeKeyPolicy, NonFiniteFloatPolicy},
};
use std::fmt;

/// One node of the text.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    /// Where it stands. Of a list or a map, its first character.
    pub(crate) span: Span,
    /// All of it, from the first character to the last.
    pub(crate) whole: Span,
    pub(crate) value: Value,
}

/// What a node holds.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    /// Nothing was written.
    Empty,
    /// A word, a number, a quantity, as it was written.
    Text(String),
    List(Vec<Node>),
    Map(Vec<(Key, Node)>),
}

/// The key of a map's entry.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    pub(crate) name: String,
    pub(crate) span: Span,
}

impl Node {
    /// What it is, for messages.
    pub(crate) fn kind(&self) -> &'static str {
        match self.value {
            Value::Empty => "nothing",
            Value::Text(_) => "a single value",
            Value::List(_) => "a list",
            Value::Map(_) => "a group of keys",
        }
    }
}

/// Reads a text into its tree.
///
/// # Errors
///
/// Returns one diagnostic if the text is too long, is not YAML, holds more
/// than one document, or is out of all proportion (depth, nodes, aliases).
pub(crate) fn tree(text: &str, sort: Sort) -> Result<Node, Diagnostic> {
    let noun = sort.noun();
    if text.len() > LONGEST {
        let message = format!("the {noun} is too long: {} bytes", text.len());
        return Err(Diagnostic::error("scenario::size", message)
            .help(format!("a {noun} is at most {LONGEST} bytes; measured data go in a CSV file")));
    }
    let options = serde_yaml::options! {
        budget: serde_yaml::budget! {
            max_nodes: 20_000,
            max_depth: 32,
            max_documents: 1,
            max_aliases: 256,
            max_total_scalar_bytes: LONGEST,
        },
        duplicate_keys: DuplicateKeyPolicy::Error,
        merge_keys: MergeKeyPolicy::Error,
        non_finite_float_policy: NonFiniteFloatPolicy::PassThrough,
        strict_booleans: true,
        reject_unsupported_tags: true,
        with_snippet: false,
    };
    let raw: Spanned<Raw> = serde_yaml::from_str_with_options(text, options).map_err(|error| {
        sort.mistaken(text, None).unwrap_or_else(|| problem(text, &error, sort))
    })?;
    if matches!(raw.value, Raw::Empty) {
        return Err(
            Diagnostic::error("scenario::empty", format!("the {noun} is empty")).help(sort.start())
        );
    }
    let root = node(text, raw);
    match sort.mistaken(text, Some(&root)) {
        Some(mistaken) => Err(mistaken),
        None => Ok(root),
    }
}

fn node(text: &str, raw: Spanned<Raw>) -> Node {
    let span = span_of(text, raw.referenced);
    let value = match raw.value {
        Raw::Empty => Value::Empty,
        // What was typed, not what it was taken for: `1e400` and not infinity.
        Raw::Bare => Value::Text(text[span_of(text, raw.defined)].to_owned()),
        Raw::Text(words) => Value::Text(words),
        Raw::List(items) => Value::List(items.into_iter().map(|item| node(text, item)).collect()),
        Raw::Map(entries) => Value::Map(
            entries
                .into_iter()
                .map(|(key, item)| {
                    let span = span_of(text, key.referenced);
                    (Key { name: key.value, span }, node(text, item))
                })
                .collect(),
        ),
    };
    let whole = whole(text, &span, &value);
    Node { span, whole, value }
}

/// A scalar without the blanks after it; with the mark before it, if it is a
/// block of lines.
fn scalar(text: &str, span: &Span) -> Span {
    let end = span.start + text[span.clone()].trim_end().len();
    let before = text[..span.start].trim_end();
    let mark = before.trim_end_matches(['+', '-']);
    let below = text[before.len()..span.start].contains('\n');
    let start = if below && mark.ends_with(['>', '|']) { mark.len() - 1 } else { span.start };
    start..end.max(start)
}

/// From a node's first character to its last: of a list or a map, to its
/// bracket, or to the end of the last that it holds.
fn whole(text: &str, span: &Span, value: &Value) -> Span {
    let inner = match value {
        Value::Empty => return span.start..span.start,
        Value::Text(_) => return scalar(text, span),
        Value::List(items) => items.last().map(|item| item.whole.end),
        Value::Map(entries) => entries.last().map(|(key, item)| item.whole.end.max(key.span.end)),
    };
    let closing = match text[span.start..].chars().next() {
        Some('{') => '}',
        Some('[') => ']',
        // An alias stands for what is written elsewhere.
        Some('*') => {
            let name =
                text[span.start + 1..].find(|c: char| c.is_whitespace() || ",]}".contains(c));
            return span.start..name.map_or(text.len(), |length| span.start + 1 + length);
        }
        _ => return span.start..inner.unwrap_or(span.end).max(span.end),
    };
    let (mut talk, from) = (false, inner.unwrap_or(span.end));
    for (i, c) in text[from..].char_indices() {
        match c {
            '\n' => talk = false,
            '#' => talk = true,
            c if c == closing && !talk => return span.start..from + i + c.len_utf8(),
            _ => {}
        }
    }
    span.clone()
}

/// What the YAML crate makes of a node.
enum Raw {
    Empty,
    /// A scalar that YAML takes for a number or a truth value.
    Bare,
    Text(String),
    List(Vec<Spanned<Raw>>),
    Map(Vec<(Spanned<String>, Spanned<Raw>)>),
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Visitor)
    }
}

struct Visitor;

impl<'de> de::Visitor<'de> for Visitor {
    type Value = Raw;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value, a list or a group of keys")
    }

    fn visit_unit<E: de::Error>(self) -> Result<Raw, E> {
        Ok(Raw::Empty)
    }

    fn visit_bool<E: de::Error>(self, _: bool) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_i64<E: de::Error>(self, _: i64) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_u64<E: de::Error>(self, _: u64) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_f64<E: de::Error>(self, _: f64) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Raw, E> {
        Ok(Raw::Text(text.to_owned()))
    }

    fn visit_seq<A: de::SeqAccess<'de>>(self, mut seq: A) -> Result<Raw, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element()? {
            items.push(item);
        }
        Ok(Raw::List(items))
    }

    fn visit_map<A: de::MapAccess<'de>>(self, mut map: A) -> Result<Raw, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        Ok(Raw::Map(entries))
    }
}

/// What is wrong with a broken text, in words a reader of this program knows.
fn problem(text: &str, error: &serde_yaml::Error, sort: Sort) -> Diagnostic {
    use serde_yaml::Error;
    let bare = error.without_snippet();
    let words = match bare {
        Error::Budget { breach: BudgetBreach::Documents { .. }, .. } => {
            "a second document begins here".to_owned()
        }
        Error::Budget { .. }
        | Error::AliasReplayLimitExceeded { .. }
        | Error::AliasExpansionLimitExceeded { .. }
        | Error::AliasReplayStackDepthExceeded { .. } => {
            "this grows out of all proportion".to_owned()
        }
        Error::DuplicateMappingKey { key: Some(key), .. } => format!("`{key}` is written twice"),
        Error::MergeKeyNotAllowed { .. } => "merge keys are not read".to_owned(),
        other => {
            let words = other.to_string();
            let end = words.rfind(" at line ").unwrap_or(words.len());
            match &words[..end] {
                // Met inside an alias, a limit comes wrapped up in words.
                limit if limit.starts_with("budget breached") => {
                    "this grows out of all proportion".to_owned()
                }
                tab if tab.contains("found a tab") || tab.contains("tabs") => {
                    "a tab stands where YAML wants spaces".to_owned()
                }
                other => other.to_owned(),
            }
        }
    };
    let message = format!("the {} is not readable YAML", sort.noun());
    let diagnostic = Diagnostic::error("scenario::syntax", message);
    match bare.location() {
        Some(location) => diagnostic.at(place(text, location), words),
        None => diagnostic.help(words),
    }
}

/// The place of a broken text: the reader of bare text knows line and column
/// only.
fn place(text: &str, location: Location) -> Span {
    if location.span().byte_offset().is_some() {
        return span_of(text, location);
    }
    let line = usize::try_from(location.line()).unwrap_or(1).max(1);
    let column = usize::try_from(location.column()).unwrap_or(1).max(1);
    let start: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
    let offset = text[start..].char_indices().nth(column - 1).map_or(0, |(i, _)| i);
    let length = text[start + offset..].chars().next().map_or(0, char::len_utf8);
    start + offset..start + offset + length
}

/// The bytes a place covers: within the text, on character boundaries, and at
/// least one character unless the text ends there.
fn span_of(text: &str, location: Location) -> Span {
    let span = location.span();
    let byte = |n: Option<u64>| usize::try_from(n.unwrap_or(0)).unwrap_or(usize::MAX);
    let inside = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = inside(byte(span.byte_offset()));
    let end = inside(start.saturating_add(byte(span.byte_len())));
    let one = text[start..].chars().next().map_or(0, char::len_utf8);
    start..end.max(start + one)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(text: &str) -> Result<Node, Diagnostic> {
        super::tree(text, Sort::Scenario)
    }

    fn error(text: &str) -> (String, String) {
        let problem = tree(text).unwrap_err();
        let (span, found) = problem.label.clone().unwrap_or_default();
        (text[span].to_owned(), found)
    }

    #[test]
    fn values_are_kept_as_they_were_typed() {
        let root = tree("a: [1e400, .nan, 12 m, true, 0x10]\nb: {x: , y: ~}\n").unwrap();
        let Value::Map(entries) = root.value else { panic!("a map") };
        let Value::List(items) = &entries[0].1.value else { panic!("a list") };
        let texts: Vec<_> = items
            .iter()
            .map(|item| match &item.value {
                Value::Text(text) => text.as_str(),
                _ => "?",
            })
            .collect();
        assert_eq!(texts, ["1e400", ".nan", "12 m", "true", "0x10"]);
        assert!(matches!(&entries[1].1.value, Value::Map(inner) if inner.len() == 2));
    }

    #[test]
    fn places_count_bytes_whatever_the_line_ends() {
        let text = "\u{feff}a: 1\r\nb: ü 12\r\nc: 3\r\n";
        let Value::Map(entries) = tree(text).unwrap().value else { panic!("a map") };
        let found: Vec<_> = entries.iter().map(|(_, node)| &text[node.span.clone()]).collect();
        assert_eq!(found, ["1", "ü 12", "3"]);
    }

    #[test]
    fn a_broken_text_is_one_error_at_its_place() {
        assert_eq!(error("a: 1\n\tb: 2\n").1, "a tab stands where YAML wants spaces");
        assert_eq!(error("a: 1\na: 2\n"), ("a".into(), "`a` is written twice".into()));
        assert_eq!(error("a: [1, 2\nb: 3\n").0, ":");
        assert_eq!(error("- 1\n---\n- 2\n").1, "a second document begins here");
        assert_eq!(error("a: *y\n").0, "*");
        assert_eq!(error("<<: {a: 1}\n").0, "<<");
        assert_eq!(error("a: \"x\n").1, "unclosed quote");
        assert_eq!(error("a: !foo 3\n").0, "3");
        assert!(tree("{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{").is_err());
        assert!(tree("a: &a [*a]").is_err());
        assert_eq!(tree(" \n").unwrap_err().code, "scenario::empty");
        assert_eq!(tree("# only talk\n").unwrap_err().code, "scenario::empty");
        assert_eq!(tree(&"#\n".repeat(LONGEST)).unwrap_err().code, "scenario::size");
    }

    #[test]
    fn aliases_cannot_blow_the_text_up() {
        let mut text = "a0: &a0 [1, 2, 3]\n".to_owned();
        for i in 1..9 {
            let before = format!("*a{}", i - 1);
            text += &format!("a{i}: &a{i} [{before}, {before}, {before}, {before}, {before}]\n");
        }
        assert_eq!(error(&text).1, "this grows out of all proportion");
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in "[-a-z0-9:{}\\[\\], \n\t\r#&*!|>'\"%@ü\u{feff}]{0,60}") {
            if let Err(problem) = tree(&text) && let Some((span, _)) = problem.label {
                proptest::prop_assert!(text.get(span).is_some());
            }
        }
    }
}
