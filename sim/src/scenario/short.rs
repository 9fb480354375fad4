//! Short names: the key that people mean by a word.

/// Words that stand for keys of other names.
const WORDS: [(&str, &[&str]); 6] = [
    ("gap", &["target.stands.at", "target.moves.at"]),
    ("distance", &["target.stands.at", "target.moves.at"]),
    ("wind", &["air.wind.speed"]),
    ("weight", &["object.mass"]),
    ("aim", &["release.launched.elevation", "release.thrown.elevation", "release.rig.elevation"]),
    (
        "speed",
        &[
            "release.launched.speed",
            "release.thrown.speed",
            "release.shed.speed",
            "target.moves.speed",
        ],
    ),
];

/// The keys that a word stands for, written or not.
pub(super) fn stands_for(name: &str) -> &'static [&'static str] {
    WORDS.iter().find(|(word, _)| *word == name).map_or(&[], |(_, stands)| stands)
}

/// The paths that a name may mean: the path itself, those that its word stands
/// for, or those that end with it; of these, those that are written before those
/// that only could be.
///
/// `paths`: each with whether it is written.
#[must_use]
pub fn meant<'p>(name: &str, paths: &[(&'p str, bool)]) -> Vec<&'p str> {
    if let Some((path, _)) = paths.iter().find(|(path, _)| *path == name) {
        return vec![path];
    }
    let end = format!(".{name}");
    let ends = |path: &str| path.ends_with(&end);
    let by_word = |path: &str| stands_for(name).contains(&path);
    let fits: [&dyn Fn(&str) -> bool; 2] = [&by_word, &ends];
    for written in [true, false] {
        for fit in fits {
            let found: Vec<&str> = paths
                .iter()
                .filter(|(path, is)| *is == written && fit(path))
                .map(|(path, _)| *path)
                .collect();
            if !found.is_empty() {
                return found;
            }
        }
    }
    Vec::new()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const PATHS: [(&str, bool); 9] = [
        ("air.wind.speed", true),
        ("object.mass", true),
        ("target.mass", false),
        ("release.shed.speed", true),
        ("target.moves.speed", true),
        ("target.moves.at", true),
        ("target.faces.screen.height", true),
        ("release.shed.height", true),
        ("object.spin_lift_factor", false),
    ];

    #[test]
    fn a_word_means_one_key_or_the_few_that_it_may() {
        let meant = |name| meant(name, &PATHS);
        assert_eq!(meant("gap"), ["target.moves.at"]);
        assert_eq!(meant("wind"), ["air.wind.speed"]);
        assert_eq!(meant("mass"), ["object.mass"], "what is written comes first");
        assert_eq!(meant("speed"), ["release.shed.speed", "target.moves.speed"]);
        assert_eq!(meant("height").len(), 2);
        assert_eq!(meant("spin_lift_factor"), ["object.spin_lift_factor"]);
        assert_eq!(meant("ass"), Vec::<&str>::new(), "no part of a word");
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// A whole path means itself, whatever else ends alike.
        #[test]
        fn a_whole_path_means_itself(
            paths in prop::collection::btree_set("[ab]\\.[ab](\\.[ab])?", 1..9), pick in any::<prop::sample::Index>(),
        ) {
            let paths: Vec<(&str, bool)> = paths.iter().map(|path| (path.as_str(), true)).collect();
            let (path, _) = paths[pick.index(paths.len())];
            prop_assert_eq!(meant(path, &paths), [path]);
            for found in meant(path.split_once('.').unwrap().1, &paths) {
                prop_assert!(found.ends_with(path.split_once('.').unwrap().1));
            }
        }
    }
}
