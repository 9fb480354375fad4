//! Commands that can be pasted into a shell.

/// A command with each word quoted where a shell would take it apart.
pub(crate) fn command<'w>(words: impl IntoIterator<Item = &'w str>) -> String {
    let words: Vec<String> = words.into_iter().map(quoted).collect();
    format!("longodds {}", words.join(" "))
}

/// The last line of an answer: the next command, filled in.
pub(crate) fn next<'w>(words: impl IntoIterator<Item = &'w str>) -> String {
    format!("To go on: {}", command(words))
}

/// Puts an answer on the page of a run: what it finds as JSON in a file, and the page
/// with it.
pub(crate) fn on_the_page<'w>(
    answer: impl IntoIterator<Item = &'w str>,
    kept: &'w str,
    findings: &'w str,
) -> String {
    self::kept(answer, kept, ["report", findings, "--with", kept])
}

/// Keeps what a command finds as JSON in a file, and goes on from there.
pub(crate) fn kept<'w>(
    answer: impl IntoIterator<Item = &'w str>,
    kept: &str,
    then: impl IntoIterator<Item = &'w str>,
) -> String {
    let words = answer.into_iter().chain(["--json"]);
    format!("To go on: {} > {} && {}", command(words), quoted(kept), command(then))
}

/// `KEY=VALUE` options as words of a command.
pub(crate) fn sets(set: &[String]) -> impl Iterator<Item = &str> {
    set.iter().flat_map(|one| ["--set", one.as_str()])
}

fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "-_./=:,+@%".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', "'\\''"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::process::Command;

    #[test]
    fn a_shell_reads_the_words_back() {
        let words =
            ["my claim.yaml", "it's", "--set", "gap={at: 3 m}", "", "$HOME `x` \"y\"", "a\\b"];
        let line = command(words).replacen("longodds", "printf '%s\\n'", 1);
        let shell = Command::new("sh").args(["-c", &line]).output();
        let said = String::from_utf8(shell.map(|it| it.stdout).unwrap_or_default());
        assert_eq!(said.unwrap_or_default(), format!("{}\n", words.join("\n")));
    }
}
