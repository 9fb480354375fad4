//! Did you mean …?

/// The likeliest meaning of a misspelt word.
pub(crate) fn nearest<'w>(word: &str, known: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let likeness = |other: &&str| strsim::jaro_winkler(&word.to_lowercase(), other);
    known
        .map(|other| (likeness(&other), other))
        .filter(|(likeness, _)| *likeness > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, other)| other)
}
