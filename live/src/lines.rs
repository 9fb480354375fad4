//! The lines of a stream: one JSON record each.

use crate::version::Problem;
use hyper::body::Bytes;
use serde::Serialize;
use serde_json::Value;
use std::time::Duration;
use tokio::sync::mpsc::{Sender, error::TrySendError};

/// One line.
#[derive(Clone, Debug, Serialize)]
#[serde(tag = "event", rename_all = "snake_case")]
pub(crate) enum Line {
    /// It cannot be flown as it is.
    Problems {
        /// Why.
        problems: Vec<Problem>,
    },
    /// It is understood.
    Form {
        /// Its numbers, by the path of their key.
        fields: Value,
        /// How it is understood, in a sentence.
        understood: String,
        /// What is doubtful.
        doubts: Vec<Problem>,
    },
    /// A part of the page.
    Put(Put),
    /// There is no more.
    Done {
        /// How far it came.
        phase: Phase,
    },
    /// The file is another than the page knows.
    Stale {
        /// Which it is now.
        digest: String,
    },
}

/// Ready-made HTML or SVG for a place of the page.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Put {
    /// The place: the id of its element.
    pub(crate) into: &'static str,
    /// What goes there.
    pub(crate) html: String,
    /// How far the flights have come.
    pub(crate) phase: Phase,
    /// How many flights it rests on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) flights: Option<u64>,
    /// The views that the picture is drawn in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) views: Option<Value>,
    /// What can be dragged in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) handles: Option<Vec<Value>>,
}

impl Put {
    /// HTML for a place.
    pub(crate) fn new(into: &'static str, phase: Phase, html: String) -> Self {
        Self { into, html, phase, flights: None, views: None, handles: None }
    }

    /// Resting on so many flights.
    pub(crate) fn flights(self, flights: u64) -> Self {
        Self { flights: Some(flights), ..self }
    }
}

/// How far the flights of a version have come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Phase {
    /// The first few.
    First,
    /// More of them.
    Sharper,
    /// Enough, as `longodds run` counts.
    Settled,
    /// Searched for what is rare, and its doubts asked after.
    Search,
}

/// Where the lines of one edit go.
#[derive(Clone, Debug)]
pub(crate) struct Out {
    to: Sender<Bytes>,
    seq: u64,
}

/// The page is gone, or does not read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gone;

/// How often a page that does not read is tried again, and how long between.
const TRIES: u32 = 100;
const PAUSE: Duration = Duration::from_millis(5);

impl Out {
    /// Lines that bear the page's own number of its edit.
    pub(crate) fn new(to: Sender<Bytes>, seq: u64) -> Self {
        Self { to, seq }
    }

    /// Whether nobody reads any more.
    pub(crate) fn is_closed(&self) -> bool {
        self.to.is_closed()
    }

    /// Sends a line; a page that reads nothing for half a second counts as gone.
    pub(crate) fn send(&self, line: &Line) -> Result<(), Gone> {
        let mut value = serde_json::to_value(line).map_err(|_| Gone)?;
        value["seq"] = self.seq.into();
        let mut bytes = Bytes::from(format!("{value}\n"));
        for _ in 0..TRIES {
            match self.to.try_send(bytes) {
                Ok(()) => return Ok(()),
                Err(TrySendError::Closed(_)) => return Err(Gone),
                Err(TrySendError::Full(back)) => bytes = back,
            }
            std::thread::sleep(PAUSE);
        }
        Err(Gone)
    }
}
