//! Where a part is looked for: beside the claim, then on the shelf.

use super::{Found, Origin, Side, shelf};
use crate::text::{LONGEST, file};
use std::{fs, io, path::Path};

/// The shelf's part of this name.
pub(super) fn on_the_shelf(side: Side, name: &str) -> Found {
    Ok(shelf::text(side, name).map(|text| (Origin::Shelf, text.to_owned())))
}

/// The part of this name: one's own from `parts/objects` or `parts/targets` in the
/// folder, or the shelf's.
///
/// # Errors
///
/// If there is a file of one's own that cannot be read, or the name is none.
pub(crate) fn find(folder: &Path, side: Side, name: &str) -> Found {
    let good = name.chars().all(|c| c.is_alphanumeric() || c == '_') && !name.is_empty();
    if !good {
        return Err(format!("`{name}` is not a name of a part: letters, digits and `_` only"));
    }
    let shelf = shelf::text(side, name);
    let file = format!("parts/{}/{name}.yaml", side.folder());
    let path = folder.join(&file);
    match fs::metadata(&path) {
        Err(error)
            if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) =>
        {
            Ok(shelf.map(|text| (Origin::Shelf, text.to_owned())))
        }
        Err(error) => Err(format!("cannot read the part `{file}`: {}", file::why(&error))),
        Ok(_) => {
            let longest = u64::try_from(LONGEST).unwrap_or(u64::MAX);
            let text = file::text(&path, longest)
                .map_err(|why| format!("cannot read the part `{file}`: {why}"))?;
            Ok(Some((Origin::Own { file, hides: shelf.is_some() }, text)))
        }
    }
}
