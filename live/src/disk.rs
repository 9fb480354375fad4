//! The one file of a page, and whether it is still what was read.

use std::{
    fmt::Write as _,
    hash::{DefaultHasher, Hash, Hasher},
    path::PathBuf,
};

/// Where the claim lies. The program brings it: it alone reads and writes files.
pub trait Disk: Send + Sync + 'static {
    /// The file's name as it is shown.
    fn name(&self) -> String;

    /// The folder from which names in the claim start.
    fn folder(&self) -> PathBuf;

    /// The text as it lies there now.
    ///
    /// # Errors
    ///
    /// Why it cannot be read, in words.
    fn read(&self) -> Result<String, String>;

    /// Puts a text in its place, whole or not at all.
    ///
    /// # Errors
    ///
    /// Why it cannot be written, in words.
    fn write(&self, text: &str) -> Result<(), String>;
}

/// A text in short: two texts of one digest are taken to be the same.
pub(crate) fn digest(text: &str) -> String {
    let mut out = String::new();
    for salt in [0_u8, 1] {
        let mut hasher = DefaultHasher::new();
        (salt, text).hash(&mut hasher);
        // Writing to a String cannot fail.
        let _written = write!(out, "{:016x}", hasher.finish());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_digest_tells_texts_apart_and_stays() {
        assert_eq!(digest("a"), digest("a"));
        assert_ne!(digest("a: 1\n"), digest("a: 1\r\n"));
        assert_eq!(digest("").len(), 32);
    }
}
