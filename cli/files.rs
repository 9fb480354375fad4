//! Reading with a limit, writing whole or not at all.

use crate::failure::Failure;
use std::{
    fs::File,
    io::{self, Read, Write},
    path::Path,
};
use tempfile::NamedTempFile;

/// Whether a path stands for standard input or output.
pub(crate) fn is_stream(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// The name of an input for messages.
pub(crate) fn name(path: &Path) -> String {
    if is_stream(path) { "standard input".to_owned() } else { path.display().to_string() }
}

/// A path as it is typed in a command.
pub(crate) fn typed(path: &Path) -> String {
    path.display().to_string()
}

/// What belongs beside the findings of a run: `claim.findings.json` has
/// `claim.judge.json` beside it.
pub(crate) fn beside(findings: &Path, end: &str) -> String {
    let name = findings.file_name().unwrap_or_default().to_string_lossy();
    let stem = name.strip_suffix(".findings.json").or_else(|| name.strip_suffix(".json"));
    typed(&findings.with_file_name(format!("{}.{end}", stem.unwrap_or(&name))))
}

/// Reads a UTF-8 text of at most `limit` bytes; `-` is standard input.
///
/// Line ends of other systems are read as they are; places in messages count
/// bytes of the text returned here.
pub(crate) fn read_text(path: &Path, limit: usize) -> Result<String, Failure> {
    let mut bytes = Vec::new();
    let cap = u64::try_from(limit).unwrap_or(u64::MAX).saturating_add(1);
    let read = if is_stream(path) {
        io::stdin().lock().take(cap).read_to_end(&mut bytes)
    } else {
        File::open(path).and_then(|file| file.take(cap).read_to_end(&mut bytes))
    };
    read.map_err(|error| Failure::file("read", path, &error))?;
    if bytes.len() > limit {
        return Err(Failure::wrong(format!("`{}` is longer than {limit} bytes", name(path)))
            .help("is this the right file? measured data go in a CSV file beside the scenario"));
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let line = 1 + error.as_bytes()[..good].iter().filter(|b| **b == b'\n').count();
        Failure::wrong(format!("`{}` is not UTF-8 text (line {line})", name(path)))
            .help("save it as UTF-8 in your editor")
    })
}

/// Writes a file that must not be there yet, whole or not at all.
pub(crate) fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |error: &io::Error| Failure::file("write", path, error);
    if path.symlink_metadata().is_ok() {
        return Err(failed(&io::Error::other("it is there already, and is left as it is")));
    }
    let file = nameless(path, bytes).map_err(|error| failed(&error))?;
    file.persist_noclobber(path).map_err(|error| failed(&error.error))?;
    Ok(())
}

/// Writes a file, replacing what was there, whole or not at all.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    write_all(&[(path, bytes)])
}

/// Writes a file in the place of one that is there, whole or not at all: through a
/// link to it, and open to whom it was open.
#[cfg(feature = "live")]
pub(crate) fn write_over(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |error: &io::Error| Failure::file("write", path, error);
    let place = path.canonicalize().map_err(|error| failed(&error))?;
    let access = place.metadata().map_err(|error| failed(&error))?.permissions();
    if access.readonly() {
        return Err(failed(&io::Error::from(io::ErrorKind::PermissionDenied)));
    }
    let file = nameless(&place, bytes).map_err(|error| failed(&error))?;
    file.as_file().set_permissions(access).map_err(|error| failed(&error))?;
    file.persist(&place).map_err(|error| failed(&error.error))?;
    Ok(())
}

/// Writes files that belong together, replacing what was there: none of them before
/// all are on the disk.
pub(crate) fn write_all(set: &[(&Path, &[u8])]) -> Result<(), Failure> {
    let mut ready = Vec::new();
    for (path, bytes) in set {
        let failed = |error: &io::Error| Failure::file("write", path, error);
        if path.is_dir() {
            return Err(failed(&io::Error::from(io::ErrorKind::IsADirectory)));
        }
        ready.push((*path, nameless(path, bytes).map_err(|error| failed(&error))?));
    }
    for (path, file) in ready {
        file.persist(path).map_err(|error| Failure::file("write", path, &error.error))?;
    }
    Ok(())
}

/// Makes a folder if it is not there, and tries that a file can be written in it.
pub(crate) fn make_folder(path: &Path) -> Result<(), Failure> {
    let failed = |error: &io::Error| Failure::file("write into", path, error);
    std::fs::create_dir_all(path).map_err(|error| failed(&error))?;
    let trial = tempfile::tempfile_in(path);
    trial.map_err(|error| failed(&io::Error::from(error.kind())))?;
    Ok(())
}

/// Writes a nameless file in the same folder, so that giving it its name at
/// the end is one step of the file system.
fn nameless(path: &Path, bytes: &[u8]) -> io::Result<NamedTempFile> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    let access = std::os::unix::fs::PermissionsExt::from_mode(0o666);
    #[cfg(unix)]
    builder.permissions(access);
    // The kind alone: the helper crate's words name its random file.
    let mut file = builder.tempfile_in(folder).map_err(|error| io::Error::from(error.kind()))?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok(file)
}
