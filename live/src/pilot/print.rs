//! The page to print: what `longodds run` writes of a version, and the what-ifs that
//! were kept.

use super::{Sheet, crew::Crew};
use crate::{
    asked::Row,
    version::{self, Problem, version},
};
use longodds_reports::{Kept, page_with};
use longodds_sim::{
    engine::Progress,
    findings::{Findings, Origin, find},
    study::Ask,
    sweep::FLIGHTS,
};

/// Most what-ifs on a page.
const ROWS: usize = 40;

/// Makes it; `None` if it was stopped.
pub(super) fn print(
    crew: &mut Crew,
    sheet: &Sheet,
    watch: &impl Progress,
) -> Option<Result<String, Vec<Problem>>> {
    made(crew, sheet, watch).transpose()
}

fn made(
    crew: &mut Crew,
    sheet: &Sheet,
    watch: &impl Progress,
) -> Result<Option<String>, Vec<Problem>> {
    let scenario = version(&sheet.base, &sheet.asked.sets, &sheet.folder)?.scenario;
    if crew.found(&scenario).is_none() {
        let found = find(scenario.clone(), &Ask::new(crew.seed), watch);
        if watch.stop() {
            return Ok(None);
        }
        crew.keep(&scenario, found);
    }
    let mut kept = Vec::new();
    for row in sheet.asked.rows.iter().take(ROWS) {
        match one(crew, sheet, row, watch)? {
            Some(row) => kept.push(row),
            None => return Ok(None),
        }
    }
    let origin = Origin { scenario_name: sheet.name.clone() };
    Ok(crew.found(&scenario).map(|found| {
        let named = Findings { scenario_name: origin.scenario_name, ..found.clone() };
        page_with(&named, &[], &kept)
    }))
}

/// A what-if against the claim as it stands in the file.
fn one(
    crew: &mut Crew,
    sheet: &Sheet,
    row: &Row,
    watch: &impl Progress,
) -> Result<Option<Kept>, Vec<Problem>> {
    let put = version::text(&sheet.base, &row.sets, &sheet.folder)?.put;
    let before = crew.other(&sheet.base, &Vec::new(), &sheet.folder, FLIGHTS, watch)?;
    let after = crew.other(&sheet.base, &row.sets, &sheet.folder, FLIGHTS, watch)?;
    let (Some(before), Some(after)) = (before, after) else { return Ok(None) };
    let set = put.into_iter().map(|put| (put.path, put.value, put.was)).collect();
    Ok(before.against(&after).map(|found| Kept { name: row.name.clone(), set, found }))
}
