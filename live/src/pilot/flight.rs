//! One version, flown.

use super::{
    Job,
    queue::{Next, Queue},
};
use crate::{
    form::fields,
    lines::{Gone, Line, Phase, Put},
    show,
    version::version,
};
use longodds_sim::{
    answer::understood,
    chain::Claim,
    engine::{Order, Unwatched, run},
};

/// Flies what comes, until the end.
pub(super) fn fly(seed: u64, pool: &rayon::ThreadPool, queue: &Queue) {
    loop {
        match queue.next() {
            (Next::End, _) => return,
            (Next::Fly(job), _) => {
                // Who is gone needs no answer.
                let _told = pool.install(|| one(seed, &job));
            }
            (Next::Print(sheet), _) => {
                let _told = sheet.back.send(Ok(String::new()));
            }
        }
    }
}

fn one(seed: u64, job: &Job) -> Result<(), Gone> {
    let version = match version(&job.base, &job.edit.sets, &job.folder) {
        Ok(version) => version,
        Err(problems) => return job.out.send(&Line::Problems { problems }),
    };
    job.out.send(&Line::Form {
        fields: fields(&version.scenario),
        understood: understood(&version.scenario),
        doubts: version.doubts,
    })?;
    let claim = Claim::ready(version.scenario, seed);
    let tally = run(&claim, &Order::new(seed, 0..2048), &Unwatched);
    let html = show::chance(&tally).into_string();
    let put = Put::new("chance", Phase::First, html).flights(tally.flights());
    job.out.send(&Line::Put(put))?;
    job.out.send(&Line::Done { phase: Phase::First })
}
