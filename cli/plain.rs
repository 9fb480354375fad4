//! Plain tables and lists for a terminal.

use comfy_table::{ContentLineStyle, LineStyle, Table, TableStyle};
use std::io::{self, Write};

/// Columns apart by blanks, a rule under the headings.
const PLAIN: TableStyle = TableStyle::new()
    .header_lines(ContentLineStyle::new(' ', ' ', ' '))
    .header_separator(LineStyle::new(' ', '─', ' ', ' '))
    .content_lines(ContentLineStyle::new(' ', ' ', ' '));

/// An empty table under its headings.
pub(crate) fn table<T: ToString>(headings: impl IntoIterator<Item = T>) -> Table {
    let mut table = Table::new();
    table.load_style(PLAIN);
    table.set_header(headings.into_iter().map(|heading| heading.to_string()));
    table
}

/// A heading and its points; nothing if there are none.
pub(crate) fn list(out: &mut dyn Write, heading: &str, items: &[String]) -> io::Result<()> {
    if items.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{heading}")?;
    for item in items {
        writeln!(out, "  - {item}")?;
    }
    Ok(())
}

/// A share of 1 as a bar of so many characters.
pub(crate) fn bar(share: f64, width: u32) -> String {
    let full = (share.clamp(0.0, 1.0) * f64::from(width)).round();
    let mut text = String::new();
    for i in 0..width {
        text.push(if f64::from(i) < full { '#' } else { '.' });
    }
    text
}

/// What is told in percent and is no chance: a level, a tolerance, a scatter.
pub(crate) fn percent(ratio: f64) -> String {
    longodds_sim::quantity::format(
        ratio,
        longodds_sim::quantity::Dimension::Ratio,
        longodds_sim::quantity::Show::Si,
    )
}
