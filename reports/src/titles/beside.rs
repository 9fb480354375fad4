//! The sentences of what other commands found.

use super::{
    Sentence, is_so,
    read::{count, is_quantity, is_share},
    spoil, which,
};
use crate::{
    Evidence, ExclusionChart, Frame,
    chart::{CalibrationChart, JudgementChart},
    sample::{self, evidence},
    words,
};
use longodds_sim::{
    exclusion::Measure,
    findings::{CompareFindings, MapFindings, SweepFindings, SweepPoint},
    quantity::Dimension,
};
use std::collections::BTreeSet;

type Sentences = &'static [Sentence<Evidence>];

fn sentences(one: &Evidence) -> Sentences {
    match one {
        Evidence::Sweep(_) => SWEEP,
        Evidence::Map(_) => MAP,
        Evidence::Comparison(_) => COMPARISON,
        Evidence::Calibration(_) => CALIBRATION,
        Evidence::Judgement(_) => JUDGEMENT,
        Evidence::Plan(_) => PLAN,
        Evidence::Exclusion(_) => EXCLUSION,
    }
}

fn sweep(one: &Evidence) -> Option<&SweepFindings> {
    if let Evidence::Sweep(record) = one { Some(record) } else { None }
}

fn map(one: &Evidence) -> Option<&MapFindings> {
    if let Evidence::Map(record) = one { Some(record) } else { None }
}

fn comparison(one: &Evidence) -> Option<&CompareFindings> {
    if let Evidence::Comparison(record) = one { Some(record) } else { None }
}

fn calibration(one: &Evidence) -> Option<&CalibrationChart> {
    if let Evidence::Calibration(chart) = one { Some(chart) } else { None }
}

fn judged(one: &Evidence) -> Option<&JudgementChart> {
    if let Evidence::Judgement(chart) = one { Some(chart) } else { None }
}

/// Are these the shots, and so many of them through?
fn counted(chart: &JudgementChart, through: &str, all: &str) -> bool {
    let seen = chart.shots.iter().filter(|shot| shot.1).count();
    count(through) == Some(seen as u64) && count(all) == Some(chart.shots.len() as u64)
}

fn exclusion(one: &Evidence) -> Option<&ExclusionChart> {
    if let Evidence::Exclusion(chart) = one { Some(chart) } else { None }
}

/// Is this the input, and are these the ends of its range?
fn over(record: &SweepFindings, input: &str, from: &str, to: &str) -> bool {
    let dimension = words::dimension(&record.dimension);
    let ends = record.points.first().zip(record.points.last());
    record.input == input
        && ends.is_some_and(|(first, last)| {
            is_quantity(from, first.value, dimension) && is_quantity(to, last.value, dimension)
        })
}

/// Do neighbouring settings lie on both sides of a chance round this one, as
/// often as settings are named?
fn crosses(record: &SweepFindings, target: f64, settings: &str) -> bool {
    let dimension = words::dimension(&record.dimension);
    let said: Vec<&str> = settings.split(" or ").collect();
    if let Some(answer) = record.answers.iter().find(|a| (a.target - target).abs() < 1e-9) {
        let values: Vec<f64> = answer.crossings.iter().map(|c| c.value).collect();
        let same = |(text, value): (&&str, &f64)| is_quantity(text, *value, dimension);
        return values.len() == said.len() && said.iter().zip(&values).all(same);
    }
    let meets = |pair: &&[SweepPoint]| {
        (pair[0].chance.probability < target) != (pair[1].chance.probability < target)
    };
    let met: Vec<&[SweepPoint]> = record.points.windows(2).filter(meets).collect();
    let between = |(text, pair): (&&str, &&[SweepPoint])| {
        let share = |k: f64| pair[0].value + k * (pair[1].value - pair[0].value);
        (0..=200).any(|k| is_quantity(text, share(f64::from(k) / 200.0), dimension))
    };
    met.len() == said.len() && said.iter().zip(&met).all(between)
}

fn chances(record: &SweepFindings) -> impl Iterator<Item = f64> {
    record.points.iter().map(|point| point.chance.probability)
}

fn least(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::INFINITY, f64::min)
}

fn most(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::NEG_INFINITY, f64::max)
}

/// Is the chance at this setting the highest, and this?
fn peaks(record: &SweepFindings, share: &str, setting: &str) -> bool {
    let highest = most(chances(record));
    let dimension = words::dimension(&record.dimension);
    let at = |p: &&SweepPoint| p.chance.probability >= highest;
    is_share(share, highest)
        && record.points.iter().filter(at).any(|p| is_quantity(setting, p.value, dimension))
}

/// Is no setting asked for that comes before this chance?
fn even(one: &Evidence, said: &[&str], target: f64) -> bool {
    sweep(one).is_some_and(|r| r.input == said[0] && crosses(r, target, said[1]))
}

const SWEEP: Sentences = &[
    Sentence {
        words: "There is no line to draw",
        holds: |_, one| sweep(one).is_some_and(|r| r.points.len() < 2),
    },
    Sentence {
        words: "Nothing from {} to {} of {} makes the claim hold",
        holds: |said, one| {
            let none = |r: &SweepFindings| r.points.iter().all(|p| p.chance.held == 0);
            sweep(one).is_some_and(|r| none(r) && over(r, said[2], said[0], said[1]))
        },
    },
    Sentence {
        words: "Whatever {} is from {} to {}, the claim holds every time",
        holds: |said, one| {
            let all =
                |r: &SweepFindings| r.points.iter().all(|p| p.chance.held == p.chance.flights);
            sweep(one).is_some_and(|r| all(r) && over(r, said[0], said[1], said[2]))
        },
    },
    Sentence {
        words: "For 1 in 100, {} would have to be {}; it gets no likelier than {}, at {}",
        holds: |said, one| {
            even(one, said, 0.01) && sweep(one).is_some_and(|r| peaks(r, said[2], said[3]))
        },
    },
    Sentence {
        words: "For a chance of {}, {} would have to be {}; it gets no likelier than {}, at {}",
        holds: |said, one| {
            sweep(one).is_some_and(|r| {
                let asked = r.answers.iter().find(|a| is_share(said[0], a.target));
                asked.is_some_and(|a| even(one, &said[1..], a.target)) && peaks(r, said[3], said[4])
            })
        },
    },
    Sentence {
        words: "For a chance of {}, {} would have to be {}",
        holds: |said, one| {
            sweep(one).is_some_and(|r| {
                let asked = r.answers.iter().find(|a| is_share(said[0], a.target));
                asked.is_some_and(|a| a.target >= 0.5 && even(one, &said[1..], a.target))
            })
        },
    },
    Sentence {
        words: "For an even chance, {} would have to be {}",
        holds: |said, one| even(one, said, 0.5),
    },
    Sentence {
        words: "Whatever {} is from {} to {}, the chance stays about {}",
        holds: |said, one| {
            sweep(one).is_some_and(|r| {
                over(r, said[0], said[1], said[2]) && chances(r).all(|p| is_share(said[3], p))
            })
        },
    },
    Sentence {
        words: "Whatever {} is from {} to {}, the chance stays between {} and {}",
        holds: |said, one| {
            sweep(one).is_some_and(|r| {
                over(r, said[0], said[1], said[2])
                    && is_share(said[3], least(chances(r)))
                    && is_share(said[4], most(chances(r)))
            })
        },
    },
];

fn cells(record: &MapFindings) -> impl Iterator<Item = f64> {
    record.chances.iter().flatten().map(|chance| chance.probability)
}

const MAP: Sentences = &[
    Sentence {
        words: "There is no map to draw",
        holds: |_, one| map(one).is_some_and(|r| r.chances.len() < 2),
    },
    Sentence {
        words: "Nothing on this map of {} and {} makes the claim hold",
        holds: |said, one| {
            map(one).is_some_and(|r| {
                let named = [&r.across.input, &r.up.input] == [said[0], said[1]];
                named && cells(r).all(|p| p <= 0.0)
            })
        },
    },
    Sentence {
        words: "Everywhere on this map the chance is {}",
        holds: |said, one| map(one).is_some_and(|r| cells(r).all(|p| is_share(said[0], p))),
    },
    Sentence {
        words: "The chance runs from {} to {}: likeliest with {} at {} and {} at {}",
        holds: |said, one| {
            map(one).is_some_and(|r| {
                let highest = most(cells(r));
                let place = |i: usize, j: usize| {
                    let (across, up) = (&r.across, &r.up);
                    is_quantity(said[3], across.values[j], words::dimension(&across.dimension))
                        && is_quantity(said[5], up.values[i], words::dimension(&up.dimension))
                };
                let there = r.chances.iter().enumerate().any(|(i, row)| {
                    row.iter().enumerate().any(|(j, c)| c.probability >= highest && place(i, j))
                });
                let named = [&r.across.input, &r.up.input] == [said[2], said[4]];
                let ends = is_share(said[0], least(cells(r))) && is_share(said[1], highest);
                there && named && ends
            })
        },
    },
];

const COMPARISON: Sentences = &[
    Sentence {
        words: "{} shots of the rig strikes at least as hard as the claimed thing",
        holds: |said, one| comparison(one).is_some_and(|r| is_share(said[0], r.as_hard.estimate)),
    },
    Sentence {
        words: "A shot of the rig strikes at least as hard as the claimed thing {} of the time",
        holds: |said, one| comparison(one).is_some_and(|r| is_share(said[0], r.as_hard.estimate)),
    },
];

const CALIBRATION: Sentences = &[
    Sentence {
        words: "{}: there is no curve to draw",
        holds: |said, one| {
            calibration(one)
                .is_some_and(|c| c.rig == said[0] && c.curve.is_empty() && c.next.is_none())
        },
    },
    Sentence {
        words: "{}: from {} to {} of {} it should give {} to {}",
        holds: |said, one| {
            calibration(one).is_some_and(|c| {
                let setting = |text: &str, v| is_quantity(text, v, words::dimension(&c.dimension));
                let speed = |text: &str, v| is_quantity(text, v, Dimension::Speed);
                let ends = c.curve.first().zip(c.curve.last());
                c.next.is_none()
                    && [c.rig.as_str(), c.setting_name.as_str()] == [said[0], said[3]]
                    && ends.is_some_and(|(first, last)| {
                        setting(said[1], first.setting)
                            && setting(said[2], last.setting)
                            && speed(said[4], first.speed[1])
                            && speed(said[5], last.speed[1])
                    })
            })
        },
    },
    Sentence {
        words: "{}: a {} of {} should give {} to {}",
        holds: |said, one| {
            calibration(one).is_some_and(|c| {
                let speed = |text: &str, v| is_quantity(text, v, Dimension::Speed);
                [c.rig.as_str(), c.setting_name.as_str()] == [said[0], said[1]]
                    && c.next.as_ref().is_some_and(|next| {
                        is_quantity(said[2], next.setting, words::dimension(&c.dimension))
                            && speed(said[3], next.speed[0])
                            && speed(said[4], next.speed[2])
                    })
            })
        },
    },
];

const JUDGEMENT: Sentences = &[
    Sentence {
        words: "{} of {} shots went through: the chance that the claim's blow does moves from {} to {}",
        holds: |said, one| {
            judged(one).is_some_and(|c| {
                let both = c.both.as_ref().is_some_and(|both| is_share(said[3], both.probability));
                counted(c, said[0], said[1]) && is_share(said[2], c.model.probability) && both
            })
        },
    },
    Sentence {
        words: "{} of {} shots went through: model and shots disagree, {} against {}",
        holds: |said, one| {
            judged(one).is_some_and(|c| {
                c.both.is_none()
                    && counted(c, said[0], said[1])
                    && is_share(said[2], c.by_scenario.probability)
                    && is_share(said[3], c.by_shots.probability)
            })
        },
    },
];

/// The command that planned it wrote the title.
const PLAN: Sentences = &[Sentence {
    words: "{}",
    holds: |said, one| matches!(one, Evidence::Plan(chart) if chart.title == said[0]),
}];

const EXCLUSION: Sentences = &[
    Sentence {
        words: "Of those that come loose, {} goes beyond {}",
        holds: |said, one| {
            let away = exclusion(one).and_then(|chart| chart.found.reach(Measure::Away));
            away.is_some_and(|reach| {
                // The rarest that can be told.
                let told = reach.exceeded.iter().filter_map(|e| Some((e.one_in, e.distance?)));
                let rarest = told.max_by(|a, b| a.0.total_cmp(&b.0));
                rarest.is_some_and(|(one_in, distance)| {
                    is_share(said[0], 1.0 / one_in)
                        && is_quantity(said[1], distance, Dimension::Length)
                })
            })
        },
    },
    Sentence {
        words: "None of {} went beyond {}",
        holds: |said, one| {
            exclusion(one).is_some_and(|chart| {
                let away = chart.found.reach(Measure::Away);
                count(said[0]) == Some(chart.found.loose.k)
                    && away.is_some_and(|reach| {
                        reach.exceeded.iter().all(|one| one.distance.is_none())
                            && is_quantity(said[1], reach.farthest, Dimension::Length)
                    })
            })
        },
    },
];

/// Evidence in which the rarer sentences come up.
fn more() -> Vec<(&'static str, Evidence)> {
    let swept = |change: fn(&mut SweepFindings)| {
        let mut record = sample::sweep();
        change(&mut record);
        Evidence::Sweep(record)
    };
    let calibrated = |change: fn(&mut CalibrationChart)| {
        let mut chart = evidence::calibration(5);
        change(&mut chart);
        Evidence::Calibration(chart)
    };
    let mut seldom = sample::comparison();
    seldom.as_hard.estimate = 3e-5;
    let mut untold = evidence::all();
    let debris = untold.iter_mut().find_map(|(_, one)| match one {
        Evidence::Exclusion(chart) => Some(chart.clone()),
        _ => None,
    });
    let mut debris = debris.expect("debris among the evidence");
    for one in debris.found.reaches.iter_mut().flat_map(|reach| &mut reach.exceeded) {
        one.distance = None;
    }
    let mut flat = sample::map();
    flat.chances.truncate(1);
    vec![
        ("flat", Evidence::Map(flat)),
        ("small", swept(|r| r.points.truncate(6))),
        (
            "about",
            swept(|r| {
                r.points
                    .iter_mut()
                    .for_each(|p| (p.chance.held, p.chance.probability) = (8_000, 0.8));
            }),
        ),
        (
            "between",
            swept(|r| {
                r.points.retain(|p| p.chance.probability > 0.6 && p.chance.probability < 0.98);
            }),
        ),
        // Up, and down again.
        (
            "twice",
            swept(|r| {
                let half = r.points.len() / 2;
                let (low, high) = r.points.split_at_mut(half);
                for (a, b) in low.iter().rev().zip(high) {
                    b.chance = a.chance;
                }
            }),
        ),
        (
            "twice, rarely",
            swept(|r| {
                r.points.iter_mut().for_each(|p| p.chance.probability *= 0.4);
            }),
        ),
        ("asked", asked(0.25)),
        ("asked", asked(0.75)),
        ("seldom", Evidence::Comparison(seldom)),
        ("no next", calibrated(|chart| chart.next = None)),
        (
            "no curve",
            calibrated(|chart| {
                chart.next = None;
                chart.curve.clear();
            }),
        ),
        ("untold", Evidence::Exclusion(debris)),
    ]
}

/// A search for one chance alone, found once.
fn asked(target: f64) -> Evidence {
    let searched = evidence::all().into_iter().find(|(name, _)| *name == "searched");
    let Some((_, Evidence::Sweep(mut record))) = searched else { panic!("a search") };
    record.answers.truncate(1);
    record.answers[0].target = target;
    Evidence::Sweep(record)
}

fn records() -> Vec<(&'static str, Evidence)> {
    evidence::all().into_iter().chain(more()).collect()
}

fn title(one: &Evidence) -> String {
    one.picture(Frame::page()).title
}

#[test]
fn every_title_says_what_its_chart_shows() {
    for (record, one) in records() {
        let title = title(&one);
        assert!(which(sentences(&one), &title).is_some(), "{record}: no such sentence: {title}");
        assert!(is_so(sentences(&one), &title, &one), "{record}: is not so: {title}");
    }
}

#[test]
fn spoilt_evidence_makes_a_lie_of_every_title() {
    for (record, one) in records() {
        let title = title(&one);
        let lies = spoil::evidence().iter().any(|spoil| {
            let mut spoilt = one.clone();
            spoil(&mut spoilt);
            !is_so(sentences(&spoilt), &title, &spoilt)
        });
        // Of what cannot be drawn there is nothing to spoil but that.
        assert!(lies || title.starts_with("There is no"), "{record}: nothing spoils: {title}");
    }
}

#[test]
fn every_sentence_comes_up() {
    let records = records();
    let seen: BTreeSet<_> = records
        .iter()
        .filter_map(|(_, one)| Some(which(sentences(one), &title(one))?.0.words))
        .collect();
    for sentence in
        [SWEEP, MAP, COMPARISON, CALIBRATION, JUDGEMENT, PLAN, EXCLUSION].iter().copied().flatten()
    {
        assert!(seen.contains(sentence.words), "{}", sentence.words);
    }
}
