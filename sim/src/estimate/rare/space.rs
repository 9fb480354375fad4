//! Points of standard normal space.

use crate::sampling::{Domain, Stream};
use rand::RngExt;
use rand_distr::StandardNormal;

/// Points (row-major) with their scores.
#[derive(Clone, Debug, Default)]
pub(super) struct Points {
    pub(super) dimension: usize,
    pub(super) at: Vec<f64>,
    pub(super) scores: Vec<f64>,
}

impl Points {
    pub(super) fn new(dimension: usize) -> Self {
        Self { dimension, at: Vec::new(), scores: Vec::new() }
    }

    pub(super) fn point(&self, i: usize) -> &[f64] {
        &self.at[i * self.dimension..(i + 1) * self.dimension]
    }

    pub(super) fn push(&mut self, point: &[f64], score: f64) {
        self.at.extend_from_slice(point);
        self.scores.push(score);
    }

    /// Some of the points, by index.
    pub(super) fn some(&self, chosen: &[usize]) -> Self {
        let mut some = Self::new(self.dimension);
        for i in chosen {
            some.push(self.point(*i), self.scores[*i]);
        }
        some
    }

    /// Takes over other points.
    pub(super) fn extend(&mut self, others: &Self) {
        self.at.extend_from_slice(&others.at);
        self.scores.extend_from_slice(&others.scores);
    }

    pub(super) fn len(&self) -> usize {
        self.scores.len()
    }

    /// Indices of the points at which it happens.
    pub(super) fn hits(&self) -> Vec<usize> {
        (0..self.len()).filter(|i| self.scores[*i] <= 0.0).collect()
    }
}

/// Standard normal numbers of one seed and domain.
pub(super) struct Normals {
    stream: Stream,
    slots: Vec<u32>,
}

impl Normals {
    pub(super) fn new(seed: u64, domain: Domain, dimension: usize) -> Self {
        let slots = (0..).take(dimension).collect();
        Self { stream: Stream::new(seed, domain), slots }
    }

    /// Fills a point with uniform numbers.
    pub(super) fn uniforms(&self, draw: u64, point: &mut [f64]) {
        self.stream.fill(draw, &self.slots, point);
    }

    /// Fills a point.
    pub(super) fn fill(&self, draw: u64, point: &mut [f64]) {
        for (value, drawn) in point.iter_mut().zip(self.stream.at(draw).sample_iter(StandardNormal))
        {
            *value = drawn;
        }
    }

    /// A uniform number that belongs to the draw but to no coordinate.
    pub(super) fn extra(&self, draw: u64, which: u32) -> f64 {
        self.stream.uniform(draw, u32::MAX - which)
    }
}

/// Square of the distance from the origin.
pub(super) fn square(point: &[f64]) -> f64 {
    point.iter().map(|u| u * u).sum()
}

/// Weighted mean and standard deviation of each coordinate over some points.
pub(super) fn spread(points: &Points, chosen: &[usize], weights: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let total: f64 = weights.iter().sum();
    let mut mean = vec![0.0; points.dimension];
    let mut sd = vec![0.0; points.dimension];
    for (i, w) in chosen.iter().zip(weights) {
        for (m, u) in mean.iter_mut().zip(points.point(*i)) {
            *m += w / total * u;
        }
    }
    for (i, w) in chosen.iter().zip(weights) {
        for ((s, m), u) in sd.iter_mut().zip(&mean).zip(points.point(*i)) {
            *s += w / total * (u - m) * (u - m);
        }
    }
    for s in &mut sd {
        *s = s.sqrt();
    }
    (mean, sd)
}
