//! Where a camera stands and what it will see: field, frames, smear, light, and how
//! well the pictures tell the speed.
//!
//! A pinhole camera looks square at a straight track, over whose last part the
//! object keeps its speed. The speed's doubt is that of [`crate::rig::camera`], so
//! that this plan and `longodds speed` say the same of the same pictures.

mod optics;
mod place;

pub use self::{
    optics::{Camera, Fixed, Looks, PLAIN_SHUTTER, Subject, Unseen, View, Wanted, view},
    place::{Distance, Lane, Stand, Zone, lane, stand},
};
