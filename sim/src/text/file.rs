//! The files that a text names.

use std::{
    fs::File,
    io::{self, Read},
    path::Path,
};

/// What a file holds, if it is not too long.
pub(crate) fn bytes(path: &Path, longest: u64) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(|error| why(&error))?;
    file.take(longest + 1).read_to_end(&mut bytes).map_err(|error| why(&error))?;
    if bytes.len() as u64 > longest {
        Err(format!("longer than {longest} bytes"))
    } else {
        Ok(bytes)
    }
}

/// Its text.
pub(crate) fn text(path: &Path, longest: u64) -> Result<String, String> {
    String::from_utf8(bytes(path, longest)?).map_err(|_| "not UTF-8 text".to_owned())
}

/// Why a file cannot be used: the same words on every system for what happens
/// every day, the system's own without its error number for the rest.
#[must_use]
pub fn why(error: &io::Error) -> String {
    let words = match error.kind() {
        io::ErrorKind::NotFound => "no such file or folder",
        io::ErrorKind::PermissionDenied => "permission denied",
        io::ErrorKind::IsADirectory => "it is a folder",
        io::ErrorKind::NotADirectory => "part of its path is not a folder",
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read",
        io::ErrorKind::StorageFull => "the disk is full",
        _ => {
            let words = error.to_string();
            return words[..words.find(" (os error").unwrap_or(words.len())].to_owned();
        }
    };
    words.to_owned()
}
