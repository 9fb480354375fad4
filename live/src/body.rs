//! What is sent back: a whole text, or lines that come one by one.

use hyper::body::{Body, Bytes, Frame, SizeHint};
use std::{
    convert::Infallible,
    pin::Pin,
    task::{Context, Poll},
};
use tokio::sync::mpsc::Receiver;

/// Lines of a stream that may wait for the network.
pub(crate) const WAITING: usize = 16;

/// The body of an answer.
pub(crate) enum Sent {
    /// All at once; taken when it is sent.
    Whole(Option<Bytes>),
    /// As it comes.
    Lines(Receiver<Bytes>),
}

impl Sent {
    /// A whole body.
    pub(crate) fn whole(bytes: impl Into<Bytes>) -> Self {
        Self::Whole(Some(bytes.into()))
    }
}

impl Body for Sent {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        match self.get_mut() {
            Self::Whole(bytes) => Poll::Ready(bytes.take().map(|bytes| Ok(Frame::data(bytes)))),
            Self::Lines(lines) => {
                lines.poll_recv(context).map(|line| line.map(|line| Ok(Frame::data(line))))
            }
        }
    }

    fn is_end_stream(&self) -> bool {
        matches!(self, Self::Whole(None))
    }

    fn size_hint(&self) -> SizeHint {
        match self {
            Self::Whole(bytes) => {
                SizeHint::with_exact(bytes.as_ref().map_or(0, |bytes| bytes.len() as u64))
            }
            Self::Lines(_) => SizeHint::default(),
        }
    }
}
