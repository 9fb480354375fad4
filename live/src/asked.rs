//! What a page asks for.

use serde::Deserialize;

/// Values set in the text, in their order: paths and values as they are typed.
pub(crate) type Sets = Vec<(String, String)>;

/// `/api/edit`: fly this version.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Edit {
    /// Of which text.
    pub(crate) digest: String,
    /// What is set in it.
    pub(crate) sets: Sets,
    /// The version that it is compared with.
    #[serde(default)]
    pub(crate) pinned: Option<Sets>,
    /// The views that the picture is held in, as they were given out.
    #[serde(default)]
    pub(crate) views: Option<serde_json::Value>,
    /// The page's own count of its edits, given back in every line.
    #[serde(default)]
    pub(crate) seq: u64,
    /// A name that the page gives itself: its newer edit ends its older one. Pages
    /// that give none end theirs by closing the stream.
    #[serde(default)]
    pub(crate) page: Option<String>,
}

/// `/api/file`: is it still this text?
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct File {
    /// Which.
    pub(crate) digest: String,
}

/// `/api/save`: put these values into this text.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Save {
    /// Which.
    pub(crate) digest: String,
    /// What.
    pub(crate) sets: Sets,
}

/// `/api/page`: the page to print.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Printed {
    /// Of which text.
    pub(crate) digest: String,
    /// What is set in it.
    pub(crate) sets: Sets,
    /// The what-ifs that stand on it.
    #[serde(default)]
    pub(crate) rows: Vec<Row>,
}

/// A kept what-if.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Row {
    /// Its name.
    pub(crate) name: String,
    /// What is set in it.
    pub(crate) sets: Sets,
}
