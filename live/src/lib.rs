//! A claim as a page on this machine: a form to change it, drawn to scale, flown
//! again at every change.
//!
//! One POST an edit, answered as a stream of lines; HTML and pictures come ready
//! made, so that one place knows the look. The browser holds the state: a
//! *version* of a claim is the text of its file and an ordered list of values
//! set in it. The server reads and writes that one file, through [`Disk`].
//! Nothing is printed here.

mod asked;
mod assets;
mod body;
mod disk;
mod form;
mod guard;
mod handles;
mod lines;
mod pilot;
mod routes;
mod serve;
mod shell;
mod show;
mod token;
mod version;

pub use self::{
    disk::Disk,
    serve::{Address, Options, serve},
};
