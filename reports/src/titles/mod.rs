//! What the title of a chart says, held against what the chart is drawn from.
//! Every title must be one of the sentences listed here, and be so.
//!
//! The numbers are read back from the title with readers of their own, not with
//! the words that wrote them.

mod beside;
mod page;
mod read;
mod spoil;

/// A sentence with gaps (`{}`), and whether it is true of a record when they
/// are filled.
struct Sentence<R> {
    words: &'static str,
    holds: fn(&[&str], &R) -> bool,
}

/// What stands in the gaps of a sentence; `None` if the title is another.
fn gaps<'a>(words: &str, title: &'a str) -> Option<Vec<&'a str>> {
    let mut parts = words.split("{}");
    let mut rest = title.strip_prefix(parts.next()?)?;
    let mut parts = parts.peekable();
    let mut found = Vec::new();
    while let Some(part) = parts.next() {
        let said = if parts.peek().is_none() {
            rest.strip_suffix(part)?
        } else {
            &rest[..rest.find(part)?]
        };
        rest = rest.get(said.len() + part.len()..)?;
        found.push(said);
    }
    rest.is_empty().then_some(found)
}

/// The first sentence that a title is, with what fills it.
fn which<'s, 't, R>(
    sentences: &'s [Sentence<R>],
    title: &'t str,
) -> Option<(&'s Sentence<R>, Vec<&'t str>)> {
    sentences.iter().find_map(|one| Some((one, gaps(one.words, title)?)))
}

/// Is a title one of the sentences, and so?
fn is_so<R>(sentences: &[Sentence<R>], title: &str, record: &R) -> bool {
    which(sentences, title).is_some_and(|(one, said)| (one.holds)(&said, record))
}

#[test]
fn the_gaps_of_a_sentence_are_what_the_title_has_there() {
    assert_eq!(gaps("{} of {} do", "3 of 10 do"), Some(vec!["3", "10"]));
    assert_eq!(gaps("All of {} do", "All of 10 do"), Some(vec!["10"]));
    assert_eq!(gaps("None", "None"), Some(Vec::new()));
    assert_eq!(gaps("{} of {} do", "3 of 10 did"), None);
    assert_eq!(gaps("None", "None at all"), None);
}
