//! How a surface throws back what touches it.

use super::InputId;

/// How lively and how rough a surface is under the object of the scenario.
#[derive(Clone, Debug)]
pub struct Bounce {
    /// Coefficient of restitution along the push, 0..=1.
    pub restitution: InputId,
    /// Coefficient of friction, >= 0.
    pub friction: InputId,
    /// Share of the slip that comes back after a grip, 0..=1: 0 for anything
    /// but rubbery balls.
    pub grip_return: InputId,
    /// Coefficient of rolling resistance, >= 0: drag over weight of what rolls.
    pub rolling: InputId,
    /// Name of its material, or "as told".
    pub name: String,
    /// Where the numbers that nobody told come from, in words; empty where all
    /// are told.
    pub source: String,
}
