//! The public benchmark of longodds.
