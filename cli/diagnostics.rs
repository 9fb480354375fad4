//! How problems look on a terminal. The only place that writes to stderr.
//!
//! Colours go through `anstream`: none where the output is not a terminal or
//! `NO_COLOR` is set.

use crate::failure::Failure;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use longodds_sim::diagnostic::{Diagnostic, Severity};
use std::io::Write;

/// Shows every problem with the lines it is about.
pub(crate) fn show(name: &str, text: &str, problems: &[Diagnostic]) {
    for problem in problems {
        say(&format!("{}\n\n", render(&[group(name, text, problem)])));
    }
}

/// Shows why a command stopped, unless that has been shown.
pub(crate) fn failure(failure: &Failure) {
    let help = match failure {
        Failure::Shown => return,
        Failure::Wrong { help, .. } | Failure::Usage { help, .. } => help.as_deref(),
        Failure::Output(_) | Failure::File { .. } | Failure::Stopped { .. } => None,
    };
    let mut group = Group::with_title(Level::ERROR.primary_title(failure.to_string()));
    if let Some(help) = help {
        group = group.element(Level::HELP.message(help));
    }
    say(&format!("{}\n", render(&[group])));
}

/// Shows that the program itself is wrong.
pub(crate) fn bug(what: &str) {
    let group = Group::with_title(Level::ERROR.primary_title("a mistake in longodds, not yours"))
        .element(Level::NOTE.message(what))
        .element(Level::HELP.message("please report it, with the scenario and the command"));
    say(&format!("{}\n", render(&[group])));
}

fn group<'a>(name: &'a str, text: &'a str, problem: &'a Diagnostic) -> Group<'a> {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let mut group = Group::with_title(level.primary_title(&problem.message).id(problem.code));
    let (name, text) = match &problem.elsewhere {
        Some(other) => (other.name.as_str(), other.text.as_str()),
        None => (name, text),
    };
    if let Some((span, found)) = &problem.label {
        let place = AnnotationKind::Primary.span(span.clone()).label(found);
        group = group.element(Snippet::source(text).path(name).annotation(place));
    }
    if let Some(help) = &problem.help {
        group = group.element(Level::HELP.message(help));
    }
    group
}

fn render(report: &[Group<'_>]) -> String {
    Renderer::styled().render(report)
}

/// A message that cannot be shown is no reason to stop.
fn say(message: &str) {
    let _ = anstream::stderr().lock().write_all(message.as_bytes());
}
