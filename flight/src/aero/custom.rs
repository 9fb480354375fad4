//! A shape whose coefficients are told, as a table against the direction of
//! the flow.
//!
//! Assumes: steady force and moment by angle of attack and sideslip, from the
//! user's table ([`Table`]); strip damping of rotation as of a block of its
//! length, width and thickness. Valid: where the table is; the Reynolds numbers
//! told with it, Mach below 0.6. Ignores: lift from rotation, Reynolds number
//! within the table's range, buoyancy and added mass (the volume is not known),
//! memory of the wake. Between the table's rows the coefficients are a cubic's:
//! what happens inside one step of the table (a stall) is smoothed.

use super::{
    Flow, Load, Model, Table,
    block::{self, damping},
    family,
};
use crate::{
    lane::{Lane, Processor, Vector, per_flight},
    note::{Kind, Note},
    world::Air,
};

/// What it says of itself.
pub(super) const NOTE: Note = Note {
    subject: &block::SUBJECT,
    what: "force and moment of the object",
    how: "told coefficients by angle of attack and sideslip, a cubic between their rows; rotation is braked as a block's of its size by strips",
    source: "the scenario's own file; the braking as a block's (from memory)",
    kind: Kind::Memory,
    range: "as far as the file is right, from the directions and at the Reynolds numbers that it has, slower than Mach 0.6",
    leaves_out: "lift from rotation, buoyancy; it touches as the box of its length, width and thickness",
};

per_flight! {
    /// The numbers of one flight's shape.
    pub struct Tabled {
        /// Force per coefficient: drag factor · ½ ρ A, in kg/m.
        force,
        /// Moment per coefficient: the same times the reference length, in kg.
        moment,
        /// Damping about x per rate and speed, in kg m.
        slow_x,
        /// About y.
        slow_y,
        /// About z.
        slow_z,
        /// Damping about x per square of the rate, in kg m².
        fast_x,
        /// About y.
        fast_y,
        /// About z.
        fast_z,
    }
}

/// One flight's shape. All flights of a run share the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Custom {
    numbers: Tabled,
    table: &'static Table,
}

impl Custom {
    /// A shape in this air: its sides in m, its reference area (m²) and length
    /// (m), its table.
    #[must_use]
    pub fn new(
        sides: [f64; 3],
        [area, length]: [f64; 2],
        table: &'static Table,
        air: &Air,
        drag_factor: f64,
    ) -> Self {
        let force = 0.5 * drag_factor * air.density * area;
        let block = super::Block::new(sides, air, drag_factor);
        let numbers = Tabled {
            force,
            moment: force * length,
            slow_x: block.slow_x,
            slow_y: block.slow_y,
            slow_z: block.slow_z,
            fast_x: block.fast_x,
            fast_y: block.fast_y,
            fast_z: block.fast_z,
        };
        Self { numbers, table }
    }

    /// Its table.
    #[must_use]
    pub fn table(&self) -> &'static Table {
        self.table
    }
}

impl Model for Custom {
    family!(Custom, Tabled in numbers);

    type Shared = &'static Table;
    const TURNS: bool = true;
    const STRAYS: bool = true;

    fn shared(&self) -> &'static Table {
        self.table
    }

    #[inline(always)]
    fn load<S: Processor>(table: &'static Table, body: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S> {
        let (w, speed) = (flow.rates, flow.speed);
        let squared = speed * speed;
        let [x, y, z, roll, pitch, yaw] = table.at(flow.velocity);
        let brake = Vector::new(
            damping(body.slow_x * speed, body.fast_x * w.x) * w.x,
            damping(body.slow_y * speed, body.fast_y * w.y) * w.y,
            damping(body.slow_z * speed, body.fast_z * w.z) * w.z,
        );
        Load {
            force: Vector::new(x, y, z) * (body.force * squared),
            moment: Vector::new(roll, pitch, yaw) * (body.moment * squared) - brake,
        }
    }

    /// 1 where the flow comes from where the table has nothing.
    #[inline(always)]
    fn stray<S: Processor>(table: &'static Table, flow: &Flow<S>) -> Lane<S> {
        table.outside(flow.velocity)
    }
}

#[cfg(test)]
mod tests;
