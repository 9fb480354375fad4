//! What has to be said beside every map of debris.

use crate::harm;

/// What the distances leave out, in words; `followed`: bounces are in them.
#[must_use]
pub fn left_out(followed: bool) -> Vec<String> {
    let ground = if followed {
        "the ground is level and the same everywhere: kerbs, slopes and hard spots throw it farther"
    } else {
        "a flight ends at its first touch of the ground: bounces, roll and skid go farther (add \
         `ground` to the scenario to follow them)"
    };
    [
        ground,
        "pieces that break off, and what they knock loose, fly on their own",
        "nothing stands in the way: walls and trees stop some of it, or send it elsewhere",
        "the wind is as the scenario has it, and none where it tells none; on another day it blows \
         elsewhere: turn the map, or take the circle",
    ]
    .map(str::to_owned)
    .into()
}

/// The cautions, most urgent first. Common practice, no source, except for the
/// harm criteria's own.
#[must_use]
pub fn cautions() -> Vec<String> {
    vec![
        "these distances are a model's, not a clearance: the site's safety officer, local codes \
         and licensed practice set the exclusion zone, and may ask for far more"
            .to_owned(),
        "nobody inside the zone while anything can come loose; guard its whole edge, and behind \
         cover is not outside"
            .to_owned(),
        harm::CAUTION.to_owned(),
    ]
}
