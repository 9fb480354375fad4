//! The `longodds` command.
fn main() {}
