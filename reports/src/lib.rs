//! Charts and the page.
