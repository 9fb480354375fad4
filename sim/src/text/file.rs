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

/// The system's words without its error number.
fn why(error: &io::Error) -> String {
    if error.kind() == io::ErrorKind::NotFound {
        return "no such file or folder".to_owned();
    }
    let words = error.to_string();
    let end = words.find(" (os error").unwrap_or(words.len());
    words[..end].to_lowercase()
}
