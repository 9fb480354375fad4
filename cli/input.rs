//! Reading what the user names on the command line.

use crate::{diagnostics, failure::Failure, files};
use longodds_sim::scenario::{self, Scenario};
use std::path::Path;

/// Reads and checks a scenario; shows its problems, or its warnings.
pub(crate) fn scenario(path: &Path) -> Result<Scenario, Failure> {
    let text = files::read_text(path, scenario::LONGEST)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    match scenario::parse(&text, folder) {
        Ok(scenario) => {
            diagnostics::show(&files::name(path), &text, &scenario.warnings);
            Ok(scenario)
        }
        Err(problems) => {
            diagnostics::show(&files::name(path), &text, &problems);
            Err(Failure::Shown)
        }
    }
}
