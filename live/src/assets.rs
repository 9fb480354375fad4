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
    script("api.js", include_bytes!("../assets/api.js")),
    script("dom.js", include_bytes!("../assets/dom.js")),
    script("field.js", include_bytes!("../assets/field.js")),
    script("form.js", include_bytes!("../assets/form.js")),
    script("handles.js", include_bytes!("../assets/handles.js")),
    script("history.js", include_bytes!("../assets/history.js")),
    script("main.js", include_bytes!("../assets/main.js")),
    script("number.js", include_bytes!("../assets/number.js")),
    script("pilot.js", include_bytes!("../assets/pilot.js")),
    script("room.js", include_bytes!("../assets/room.js")),
    script("rows.js", include_bytes!("../assets/rows.js")),
    script("screen.js", include_bytes!("../assets/screen.js")),
    script("slider.js", include_bytes!("../assets/slider.js")),
    script("spread.js", include_bytes!("../assets/spread.js")),
    script("state.js", include_bytes!("../assets/state.js")),
    Asset { name: "live.css", kind: STYLE, bytes: include_bytes!("../assets/live.css") },
    Asset { name: "Barlow-Regular.ttf", kind: TYPE, bytes: font::REGULAR },
    Asset { name: "Barlow-Bold.ttf", kind: TYPE, bytes: font::BOLD },
];

const fn script(name: &'static str, bytes: &'static [u8]) -> Asset {
    Asset { name, kind: SCRIPT, bytes }
}

/// The file of a name.
pub(crate) fn asset(name: &str) -> Option<&'static Asset> {
    ASSETS.iter().find(|asset| asset.name == name)
}
