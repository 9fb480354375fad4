//! Free flight of rigid bodies, many side by side.

mod state;
mod watch;

pub use self::{
    state::State,
    watch::{Plane, Watch, Zone},
};
