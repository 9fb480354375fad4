//! What has to be said beside every map of debris.

use crate::harm;

/// What the distances leave out, in words.
pub const LEFT_OUT: [&str; 4] = [
    "a flight ends at its first touch of the ground: bounces, roll and skid go farther",
    "pieces that break off, and what they knock loose, fly on their own",
    "nothing stands in the way: walls and trees stop some of it, kerbs and slopes throw it",
    "the wind is as the scenario has it; on another day it blows elsewhere: turn the map, or take \
     the circle",
];

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
