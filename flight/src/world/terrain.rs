//! Ground cover.

/// Ground cover, by EN 1991-1-4 terrain category; it sets the wind profile.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Terrain {
    /// The same wind at every height.
    #[default]
    Uniform,
    /// Category 0, sea (z0 0.003 m).
    Sea,
    /// Category I, lakes or bare flat ground (z0 0.01 m).
    Flat,
    /// Category II, open country (z0 0.05 m).
    Open,
    /// Category III, suburb or forest (z0 0.3 m).
    Suburb,
    /// Category IV, town centre (z0 1 m).
    Town,
}
