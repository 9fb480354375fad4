//! From a scenario to what a run finds, in one call.

use super::{Findings, Origin, findings};
use crate::{
    chain::Claim,
    engine::Progress,
    scenario::Scenario,
    study::{Ask, study},
};

/// Flies a claim as far as it takes: readied, flown, searched, its doubts
/// asked after, and written down. The record names no file.
#[must_use]
pub fn find(scenario: Scenario, ask: &Ask, progress: &impl Progress) -> Findings {
    let claim = Claim::ready(scenario, ask.seed);
    findings(&claim, &study(&claim, ask, progress), &Origin::default())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        engine::{Order, Tally, Unwatched, run},
        findings::sketch,
        scenario::{parse, template},
        study::{asked_further, counted},
    };
    use std::{
        path::Path,
        sync::atomic::{AtomicU64, Ordering},
    };

    fn ready() -> Claim {
        Claim::ready(parse(template(), Path::new("")).unwrap(), 1)
    }

    fn record(claim: &Claim, study: &crate::study::Study) -> String {
        serde_json::to_string(&findings(claim, study, &Origin::default())).unwrap()
    }

    /// However the first flights were cut into slices, the steps of a study come to
    /// what one study finds.
    #[test]
    fn a_study_in_steps_finds_what_a_study_finds() {
        let (claim, ask) = (ready(), Ask::new(1));
        let mut tally = run(&claim, &Order::new(1, 0..0), &Unwatched);
        let mut ends = vec![64, 192, 448, 2048, 4096, 6144];
        let crate::estimate::Decision::FlyUntil(first) = ask.rule().decide(0, 0) else { panic!() };
        ends.push(first);
        for end in ends {
            let more = run(&claim, &Order::new(1, tally.flights()..end), &Unwatched);
            tally = more.merged(tally);
        }
        let steps = counted(&claim, &ask, tally, &Unwatched);
        let alone =
            counted(&claim, &ask, run(&claim, &Order::new(1, 0..0), &Unwatched), &Unwatched);
        assert_eq!(record(&claim, &steps), record(&claim, &alone));
        let further = asked_further(&claim, steps, &Unwatched);
        let whole = study(&claim, &ask, &Unwatched);
        assert_eq!(record(&claim, &further), record(&claim, &whole));
    }

    /// A sketch is the record, but for what takes second flights.
    #[test]
    fn a_sketch_is_the_record_without_its_checks() {
        let claim = ready();
        let tally = run(&claim, &Order::new(1, 0..600), &Unwatched);
        let study = crate::study::Study::plain(1, 600, tally);
        let whole = findings(&claim, &study, &Origin::default());
        let mut rough = sketch(&claim, &study, &Origin::default(), usize::MAX);
        assert!(rough.step_error.flights == 0 && rough.energy_audit.is_none());
        assert!(whole.step_error.flights > 0 && whole.energy_audit.is_some());
        (rough.step_error, rough.energy_audit) =
            (whole.step_error.clone(), whole.energy_audit.clone());
        assert_eq!(serde_json::to_string(&rough).unwrap(), serde_json::to_string(&whole).unwrap());
        let few = sketch(&claim, &study, &Origin::default(), 3);
        assert!(few.flights.len() < whole.flights.len() && !few.flights.is_empty());
        assert!(few.flights.iter().all(|one| whole.flights.iter().any(|of| of.draw == one.draw)));
    }

    /// Somebody who throws away what is not finished after so many flights.
    struct Hurried {
        flown: AtomicU64,
        patience: u64,
        seen: AtomicU64,
    }

    impl Progress for Hurried {
        fn flown(&self, flights: u64) {
            self.flown.fetch_add(flights, Ordering::Relaxed);
        }

        fn stop(&self) -> bool {
            self.hurried()
        }

        fn hurried(&self) -> bool {
            self.flown.load(Ordering::Relaxed) >= self.patience
        }

        fn seen(&self, tally: &Tally) {
            self.seen.store(tally.flights(), Ordering::Relaxed);
        }
    }

    #[test]
    fn who_is_hurried_gets_whole_waves_at_once() {
        let claim = ready();
        let of = |patience| {
            let hurried = Hurried { flown: AtomicU64::new(0), patience, seen: AtomicU64::new(0) };
            let none = run(&claim, &Order::new(1, 0..0), &Unwatched);
            let study =
                counted(&claim, &Ask { flights: Some(40_000), ..Ask::new(1) }, none, &hurried);
            (study, hurried.flown.into_inner(), hurried.seen.into_inner())
        };
        let (study, flown, seen) = of(10_000);
        // What every thread had begun is ended, and no more.
        let under_way = 256 * rayon::current_num_threads() as u64;
        assert!(flown <= 10_000 + under_way, "{flown}");
        assert!(study.stop == crate::engine::Stop::Interrupted);
        assert!(
            study.tally.flights() <= flown && study.tally.flights() == seen,
            "{seen} of {flown}"
        );
        let first = run(&claim, &Order::new(1, 0..study.tally.flights()), &Unwatched);
        assert_eq!(first.fates, study.tally.fates);
        assert_eq!(of(u64::MAX).2, 40_000);
    }
}
