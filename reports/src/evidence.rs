//! What other commands found, to stand on the page beside a run.

use crate::{
    canvas::Frame,
    chart::{self, CalibrationChart, JudgementChart, PlanChart},
    picture::Picture,
};
use longodds_sim::{
    exclusion::Exclusion,
    findings::{CompareFindings, MapFindings, SweepFindings},
    quantity::Show,
};
use serde::Deserialize;

/// Where debris goes, with the units to show it in.
#[derive(Clone, Debug, Deserialize)]
pub struct ExclusionChart {
    /// Units of display.
    pub show: Show,
    /// What was found.
    pub found: Exclusion,
}

/// One finding of another command.
#[derive(Clone, Debug)]
pub enum Evidence {
    /// The chance as one input is moved.
    Sweep(SweepFindings),
    /// The chance over two inputs.
    Map(MapFindings),
    /// A claim against a rig.
    Comparison(CompareFindings),
    /// A launcher fitted to its shots.
    Calibration(CalibrationChart),
    /// Shots weighed against a claim.
    Judgement(JudgementChart),
    /// A plan of shots.
    Plan(PlanChart),
    /// Where debris goes.
    Exclusion(ExclusionChart),
}

impl Evidence {
    /// Its chart.
    #[must_use]
    pub fn picture(&self, frame: Frame) -> Picture {
        match self {
            Self::Sweep(record) => chart::sweep(record, frame),
            Self::Map(record) => chart::map(record, frame),
            Self::Comparison(record) => chart::comparison(record, frame),
            Self::Calibration(chart) => chart::calibration(chart, frame),
            Self::Judgement(chart) => chart::judgement(chart, frame),
            Self::Plan(chart) => chart::trials(chart, frame),
            Self::Exclusion(chart) => chart::exclusion(&chart.found, chart.show, frame),
        }
    }
}
