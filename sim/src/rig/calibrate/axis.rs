//! One unknown of the fit as evenly spaced nodes.

use crate::math;

/// An evenly spaced axis with its prior, or a single fixed value.
#[derive(Clone, Debug)]
pub(super) struct Axis {
    /// Nodes, rising.
    pub(super) nodes: Vec<f64>,
    /// Log prior density times the node's trapezoid width.
    pub(super) ln_prior: Vec<f64>,
}

impl Axis {
    /// A value that is taken as told.
    pub(super) fn fixed(value: f64) -> Self {
        Self { nodes: vec![value], ln_prior: vec![0.0] }
    }

    /// `count` >= 3 nodes from `low` to `high`.
    pub(super) fn even(low: f64, high: f64, count: u32, ln_density: impl Fn(f64) -> f64) -> Self {
        let width = (high - low) / f64::from(count - 1);
        let nodes: Vec<f64> = (0..count).map(|i| low + width * f64::from(i)).collect();
        let ln_prior = nodes
            .iter()
            .enumerate()
            .map(|(i, &x)| {
                let end = i == 0 || i + 1 == nodes.len();
                ln_density(x) + math::ln(if end { 0.5 * width } else { width })
            })
            .collect();
        Self { nodes, ln_prior }
    }

    pub(super) fn len(&self) -> usize {
        self.nodes.len()
    }

    /// The range in which the posterior lies: mean and six standard
    /// deviations, at least three old spacings, within the old range.
    pub(super) fn drawn_in(&self, mean: f64, sd: f64) -> (f64, f64) {
        let (first, last) = (self.nodes[0], self.nodes[self.nodes.len() - 1]);
        let spacing = if self.nodes.len() > 1 { self.nodes[1] - first } else { 0.0 };
        let half = (6.0 * sd).max(3.0 * spacing);
        ((mean - half).max(first), (mean + half).min(last))
    }
}
