//! What flies and in what air, worked out once for draws that agree in it.

use crate::{
    aero::{Coefficients, Figures, Limits, Table},
    body::Body,
    world::Air,
};

/// What a flight's body, air and coefficients depend on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Given {
    pub(super) body: Body,
    /// Temperature in K, pressure in Pa, humidity 0..1.
    pub(super) air: [f64; 3],
    /// Factor on the published forces.
    pub(super) drag_factor: f64,
    /// Factor on the lift of its spin, where it has any.
    pub(super) spin_lift_factor: Option<f64>,
    /// What its coefficients leave open.
    pub(super) figures: Figures,
    /// A table of coefficients of its own.
    pub(super) table: Option<Told>,
}

/// A table that was told, the same only if it is the same one: what stands in
/// it is not looked at.
#[derive(Clone, Copy, Debug)]
pub(super) struct Told(pub(super) &'static Table);

impl PartialEq for Told {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self.0, other.0)
    }
}

/// A body, the air about it, and the numbers that follow from both.
#[derive(Clone, Copy, Debug)]
pub(super) struct Outfit {
    given: Given,
    pub(super) body: Body,
    pub(super) air: Air,
    pub(super) coefficients: Coefficients,
    pub(super) limits: Limits,
}

impl Outfit {
    pub(super) fn new(given: Given) -> Self {
        let Given { body, drag_factor, spin_lift_factor, table, figures, .. } = given;
        let [temperature, pressure, humidity] = given.air;
        let air = Air::moist(temperature, pressure, humidity);
        let coefficients = match (spin_lift_factor, table) {
            (_, Some(Told(table))) => Coefficients::tabled(&body, &air, drag_factor, table),
            (Some(lift), None) => {
                Coefficients::spinning(&body, &air, [drag_factor, lift], &figures)
            }
            (None, None) => Coefficients::by(&body, &air, drag_factor, &figures),
        };
        let limits = Limits::new(&body, &air, &coefficients);
        Self { given, body, air, coefficients, limits }
    }

    /// Of these, keeping what is there if nothing of it changes: many scenarios
    /// draw neither the object nor the air.
    pub(super) fn fit(kept: &mut Option<Self>, given: Given) -> &Self {
        let stale = kept.as_ref().is_none_or(|outfit| outfit.given != given);
        if stale {
            *kept = None;
        }
        kept.get_or_insert_with(|| Self::new(given))
    }
}
