//! The files of the page, compiled in: nothing comes from anywhere else.

use longodds_reports::font;

/// A file that the page asks for.
pub(crate) struct Asset {
    /// Its name under `/assets/`.
    pub(crate) name: &'static str,
    /// What it is, for the browser.
    pub(crate) kind: &'static str,
    /// What is in it.
    pub(crate) bytes: &'static [u8],
}

const SCRIPT: &str = "text/javascript; charset=utf-8";
const STYLE: &str = "text/css; charset=utf-8";
const TYPE: &str = "font/ttf";

/// Every file.
pub(crate) const ASSETS: &[Asset] = &[
    Asset { name: "main.js", kind: SCRIPT, bytes: include_bytes!("../assets/main.js") },
    Asset { name: "live.css", kind: STYLE, bytes: include_bytes!("../assets/live.css") },
    Asset { name: "Barlow-Regular.ttf", kind: TYPE, bytes: font::REGULAR },
    Asset { name: "Barlow-Bold.ttf", kind: TYPE, bytes: font::BOLD },
];

/// The file of a name.
pub(crate) fn asset(name: &str) -> Option<&'static Asset> {
    ASSETS.iter().find(|asset| asset.name == name)
}
