//! What is said of a judgement.

use crate::{
    estimate::{LEVEL, Proportion},
    quantity::{Dimension, Show, format, significant},
    scenario::{Demand, Gate},
    trials::judgement::{
        Agreement, BarrierJudgement, Estimate, GateJudgement, Judgement, Method, Pose,
    },
    words::{Likelihood, Spoken, Voice, capital, interval, likelihood},
};
use serde::Serialize;

/// A judgement in sentences.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Judged {
    /// The claim's standing.
    pub standing: String,
    /// Conflicts and doubts.
    pub conflicts: Vec<String>,
    /// Of the barrier, if shots speak of it.
    pub barrier: Vec<String>,
    /// What would settle or change it.
    pub outlook: Vec<String>,
}

/// Under what conditions the shots were fired, for the sentence on camera.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditions {
    /// What stood there: "shop window", "toughened glass".
    pub barrier: String,
    /// Slowest and fastest shot, in m/s.
    pub speeds: Option<[f64; 2]>,
    /// How they struck, where a rig was flown.
    pub pose: Option<Pose>,
    /// Without a rig: may they be taken to have struck square on?
    pub square: bool,
    /// Is the object the same whichever way it is turned?
    pub round: bool,
    /// Units of display.
    pub show: Show,
}

/// "34 in 100 (95 %: 1.0 to 93 in 100)".
fn said(e: &Estimate) -> String {
    let share = Spoken::inside(e.probability, e.low, e.high);
    format!("{share} (95 %: {})", interval(e.low, e.high))
}

/// Below this, of those that come to a gate, nothing is told apart: how a bell
/// runs out to nothing is more than a log of shots knows.
const LEAST: f64 = 1e-5;

fn under(p: f64) -> bool {
    p > 0.0 && p < LEAST
}

fn over(p: f64) -> bool {
    p < 1.0 && p > 1.0 - LEAST
}

/// A gate's chance; what is nearer to never, or to every time, than a log of shots can
/// tell is said to be no more than that near.
#[must_use]
pub fn gate_chance(e: &Estimate, voice: Voice) -> String {
    let least = voice.say(Spoken::at_most(LEAST));
    match e.probability {
        p if under(p) => format!("under {least}"),
        p if over(p) => format!("all but under {least}"),
        p => voice.say(Spoken::inside(p, e.low, e.high)),
    }
}

/// The ends of its interval, no nearer either.
#[must_use]
pub fn gate_ends(e: &Estimate) -> [Spoken; 2] {
    let told = |p: f64, [least, most]: [f64; 2]| match p {
        p if under(p) => least,
        p if over(p) => most,
        p => p,
    };
    let low = Spoken::at_least(told(e.low, [0.0, 1.0 - LEAST]));
    [low, Spoken::at_most(told(e.high, [LEAST, 1.0]))]
}

/// The same for a claim, of which shots can tell so much less than its `model` does.
fn said_of_claim(e: &Estimate, model: &Estimate) -> String {
    let least = LEAST * model.high;
    match (e.probability, e.high) {
        (_, high) if high <= 0.0 => "never".to_owned(),
        (p, _) if p > 0.0 && p < least => format!("under {}", Spoken::at_most(least)),
        // A lower end thousands of times lower is no knowledge.
        (p, high) if e.low < 1e-3 * p => said(&Estimate { low: 0.0, high, ..*e }),
        _ => said(e),
    }
}

/// So many shots; one is a word.
fn shots(n: u64) -> String {
    if n == 1 { "one shot".to_owned() } else { format!("{n} shots") }
}

impl BarrierJudgement {
    /// A blow's size in words.
    #[must_use]
    pub fn size(&self, value: f64, show: Show) -> String {
        match self.demand {
            _ if self.by_formula => format!("{} times the formula", significant(value, 2)),
            Demand::NormalSpeed => format(value, Dimension::Speed, show),
            Demand::NormalEnergy | Demand::TotalEnergy => format(value, Dimension::Energy, show),
        }
    }

    /// What the shots alone say, and with the scenario.
    fn story(&self, show: Show) -> String {
        let size = |value: f64| self.size(value, show);
        let [low, high] = self.shot;
        let between = if high > 1.02 * low {
            format!("between {} and {}", size(low), size(high))
        } else {
            format!("at {}", size(high))
        };
        let (n, k) = (self.shots, self.perforations);
        let moved = self.both.map_or_else(String::new, |both| {
            format!(
                " With the scenario that moves the chance at the claim's blows from {} to {}.",
                Spoken::near(self.before.probability),
                Spoken::near(both.probability)
            )
        });
        let p = Proportion::clopper_pearson(k, n, LEVEL);
        match (n, k) {
            (1, 0) => format!("One shot says that the barrier stood once, {between}.{moved}"),
            (1, _) => format!("One shot says that the barrier broke once, {between}.{moved}"),
            (n, 0) => format!(
                "{n} shots {between} were all stopped: on their own they only show that {} of such \
                 blows go through (95 %).{moved}",
                interval(0.0, p.at_most())
            ),
            (n, k) if n == k => format!(
                "{n} shots {between} all went through: on their own they only show that {} of such \
                 blows do (95 %).{moved}",
                interval(p.at_least(), 1.0)
            ),
            (n, k) => format!("{k} of {n} shots {between} went through.{moved}"),
        }
    }

    /// The bounds of what was shot.
    fn bounds(&self, show: Show) -> Vec<String> {
        let size = |value: f64| self.size(value, show);
        let mut said = Vec::new();
        match (self.hardest_stopped, self.softest_through) {
            (Some(stopped), Some(through)) => said.push(format!(
                "The hardest blow that was stopped: {}; the softest that went through: {}.",
                size(stopped),
                size(through)
            )),
            (Some(stopped), None) => {
                said.push(format!("The hardest blow that was stopped: {}.", size(stopped)));
            }
            (None, Some(through)) => {
                said.push(format!("The softest blow that went through: {}.", size(through)));
            }
            (None, None) => {}
        }
        if self.claimed[1] > 1.05 * self.shot[1] {
            said.push(format!(
                "The claim's hardest blows are {}: nobody has shot that hard (at most {}).",
                size(self.claimed[1]),
                size(self.shot[1])
            ));
        }
        said
    }

    /// All of what is said of it, one sentence after the other.
    fn said(&self, show: Show) -> Vec<String> {
        let mut all = vec![self.story(show)];
        all.extend(self.bounds(show));
        if self.overruled > 0.5 {
            all.push("The shots have overruled the scenario's strength.".to_owned());
        }
        if self.spread_learnt {
            all.push(format!(
                "From ten shots on, with some of both kinds, they teach the spread from blow to \
                 blow too: {}.",
                significant(self.spread, 2)
            ));
        }
        all
    }

    fn conflict(&self) -> Option<String> {
        let odds = if self.bayes_factor < 1e-6 {
            "with a barrier as the scenario has it those shots can hardly happen".to_owned()
        } else if self.bayes_factor < 1.0 / 3.0 {
            format!(
                "the shots were {} times likelier with next to nothing known of the barrier than \
                 with the strength that the scenario has",
                significant(1.0 / self.bayes_factor, 2)
            )
        } else {
            format!(
                "the scenario would give results no likelier than these {}",
                Spoken::near(self.surprise)
            )
        };
        Some(match self.agreement {
            Agreement::Agree => return None,
            Agreement::Doubt => format!(
                "`perforates`: {odds}: they sit badly with it; look again at strength and spread"
            ),
            Agreement::Strength => format!(
                "`perforates`: {odds}. Find out which is wrong: the strength told, the speeds \
                 measured, or whether it was the same barrier"
            ),
            Agreement::Spread => {
                let twice = self.twice_the_spread.map_or_else(String::new, |twice| {
                    format!("; with twice the spread {} would go through", said(&twice))
                });
                format!(
                    "`perforates`: results are more mixed than the scenario's spread allows ({odds})\
                     {twice}"
                )
            }
            Agreement::Hangs => {
                "`perforates`: the shots do not tell whether the barrier is as the \
                                 scenario says, and everything hangs on that: a scenario that were \
                                 wrong one time in ten would decide the number"
                    .to_owned()
            }
        })
    }

    fn settles(&self, show: Show) -> Option<String> {
        let settling = self.settling?;
        let size = self.size(settling.size, show);
        Some(match settling.shots {
            Some(n) => format!(
                "What would settle it: {} at about {size}. By the scenario {} of them go through, by \
                 the shots {}",
                if n == 1 { "one more shot".to_owned() } else { format!("{n} more shots") },
                Spoken::near(settling.by_scenario),
                Spoken::near(settling.by_shots)
            ),
            None => format!(
                "More than fifty shots at about {size} would be needed to settle it: test the \
                 barrier's strength by itself"
            ),
        })
    }

    /// What would settle it, or what five more shots would.
    fn outlook(&self, show: Show) -> String {
        if let Some(settles) = self.settles(show) {
            return settles;
        }
        let [stopped, through] = self.five_more.map(|e| Spoken::near(e.probability));
        let now = self.both.map_or(Spoken::Unknown, |e| Spoken::near(e.probability));
        format!(
            "Five more shots at the claim's middle blow ({}): all stopped would bring going through \
             from {now} to {stopped}, all through to {through}",
            self.size(self.claimed[0], show)
        )
    }
}

impl GateJudgement {
    fn conflict(&self) -> Option<String> {
        if self.method == Method::Count && self.model.is_none() {
            return Some(format!(
                "`{}`: no flight of the run came to it, so that the shots cannot be set against the \
                 model there: they do not move the claim",
                self.gate.name()
            ));
        }
        if self.method != Method::Count || self.agreement == Agreement::Agree {
            return None;
        }
        Some(format!(
            "`{}`: {} of {} shots passed where the model expects {}; it would give a count no \
             likelier {}",
            self.gate.name(),
            self.passed,
            self.shots,
            Spoken::near(self.model?.probability),
            Spoken::near(self.surprise?)
        ))
    }
}

impl Judgement {
    /// All that is said of it, but for the sentence on camera.
    #[must_use]
    pub fn said(&self, show: Show) -> Judged {
        let barrier = self.barrier.as_ref();
        let at_barrier = barrier.and_then(BarrierJudgement::conflict);
        let at_gates = self.gates.iter().filter_map(GateJudgement::conflict);
        Judged {
            standing: self.standing(),
            conflicts: at_gates.chain(at_barrier).collect(),
            barrier: barrier.map_or_else(Vec::new, |barrier| barrier.said(show)),
            outlook: barrier.map_or_else(Vec::new, |barrier| vec![barrier.outlook(show)]),
        }
    }

    /// The likelihood of the interval; of all that either side holds possible,
    /// where they disagree.
    fn likelihood(&self) -> Likelihood {
        match (&self.both, &self.by_shots) {
            (Some(both), _) => likelihood(both.low, both.high),
            (None, Some(shots)) => likelihood(
                shots.low.min(self.by_scenario.low),
                shots.high.max(self.by_scenario.high),
            ),
            (None, None) => likelihood(self.model.low, self.model.high),
        }
    }

    /// Shots that speak of some gate.
    fn used(&self) -> u64 {
        self.gates.iter().map(|gate| gate.shots).max().unwrap_or(0)
    }

    fn standing(&self) -> String {
        let likelihood = self.likelihood();
        let by_model = format!("By the model alone: {}.", said_of_claim(&self.model, &self.model));
        let used = self.used();
        if used == 0 {
            let of = match self.shots {
                0 => "there are none".to_owned(),
                n => format!("of {n} in the log"),
            };
            return format!(
                "The claim stands as {likelihood}, on the model alone (no shot speaks of its gates; {of}): {}.",
                said_of_claim(&self.model, &self.model)
            );
        }
        let shots = shots(used);
        match (&self.both, &self.by_shots) {
            (Some(both), _) if self.weight > 0.0 => format!(
                "The claim stands as {likelihood}, on the model and {shots}: {}. {by_model}",
                said_of_claim(both, &self.model)
            ),
            (Some(both), _) => format!(
                "The claim stands as {likelihood}, on {shots} with nothing of the model at the gates they \
                 stand for: {}. {by_model}",
                said_of_claim(both, &self.model)
            ),
            (None, by_shots) => {
                let other = by_shots.as_ref().map_or_else(String::new, |shots| {
                    format!(
                        " By the shots, with no more of the scenario there than its spread: {}.",
                        said_of_claim(shots, &self.model)
                    )
                });
                format!(
                    "MODEL AND SHOTS DO NOT AGREE, so there is no number for both: {likelihood}. As the \
                     scenario has it, with the shots: {}.{other} {by_model}",
                    said_of_claim(&self.by_scenario, &self.model)
                )
            }
        }
    }

    /// One sentence that can be said on camera: what was shot, under which
    /// conditions, what it shows and what it does not.
    #[must_use]
    pub fn on_camera(&self, conditions: &Conditions) -> String {
        let gate = self.gates.iter().find(|gate| gate.gate == Gate::Perforates);
        let (n, k) = gate.map_or((0, 0), |gate| (gate.shots, gate.passed));
        let against = format!("against this {}", conditions.barrier);
        if n == 0 {
            return format!(
                "Nothing has been shot {against} that we can tell of: what we have is a calculation, \
                 and it does not say what a real shot would do."
            );
        }
        let show = conditions.show;
        let speed = |v: f64| format(v, Dimension::Speed, show);
        let at = conditions.speeds.map_or_else(String::new, |[low, high]| {
            if high > 1.02 * low {
                format!("At {} to {}, ", speed(low), speed(high))
            } else {
                format!("At {}, ", speed(high))
            }
        });
        let how = how_it_struck(conditions);
        let start = capital(&format!("{at}{how}{against}"));
        let p = Proportion::clopper_pearson(k, n, LEVEL);
        let shown = match (n, k) {
            (1, 0) => "our one shot did not go through: that is one shot, and even of shots that \
                       mostly go through one may be stopped"
                .to_owned(),
            (1, _) => {
                "our one shot went through: that is one shot, and it shows that it can happen"
                    .to_owned()
            }
            (n, 0) => format!(
                "none of our {n} shots went through: {} of shots like these do",
                interval(0.0, p.at_most())
            ),
            (n, k) if n == k => format!(
                "all of our {n} shots went through: {} of shots like these do",
                interval(p.at_least(), 1.0)
            ),
            (n, k) => format!(
                "{k} of our {n} shots went through: of many shots like these it would be {}",
                interval(p.low, p.high)
            ),
        };
        let harder = self.barrier.as_ref().is_some_and(|b| b.claimed[1] > 1.05 * b.shot[1]);
        let harder = if harder { " of the harder blows that the claim has," } else { "" };
        format!(
            "{start}, {shown}; that says nothing of another speed,{harder} of another way of \
             striking or of another {}.",
            conditions.barrier
        )
    }
}

/// "end on and 60° off square, ".
fn how_it_struck(conditions: &Conditions) -> String {
    let Some(pose) = &conditions.pose else {
        let taken =
            if conditions.square { "square on as we take it, " } else { "however it struck, " };
        return taken.to_owned();
    };
    let degrees = |rad: f64| rad.to_degrees();
    let near = |i: usize| degrees(pose.axes[i]) < 20.0;
    let turned = match () {
        () if conditions.round => "",
        () if near(0) => "end on and ",
        () if near(2) => "flat on and ",
        () if near(1) => "edge on and ",
        () => "turned as it came and ",
    };
    let off = degrees(pose.obliquity[1]);
    if off < 10.0 {
        format!("{turned}square on, ")
    } else {
        format!("{turned}{off:.0}° off square, ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However sure four shots seem to make it.
    #[test]
    fn a_log_of_shots_tells_no_chance_beyond_its_reach() {
        let said = |probability, low, high| {
            let e = Estimate { probability, low, high };
            let [low, high] = gate_ends(&e).map(|end| end.to_string());
            [gate_chance(&e, Voice::plain(Show::Si)), low, high]
        };
        assert_eq!(said(5e-12, 1e-30, 8e-12), ["under 1 in 100,000", "never", "1 in 100,000"]);
        let sure = said(1.0 - 5e-12, 1.0 - 1e-11, 1.0 - 1e-14);
        assert_eq!(sure, ["all but under 1 in 100,000", "all but 1 in 100,000", "every time"]);
        assert_eq!(said(0.96, 0.74, 1.0 - 1e-14), ["96 in 100", "74 in 100", "every time"]);
        assert_eq!(said(0.0, 0.0, 0.4)[0], "never");
        assert_eq!(said(0.3, 0.1, 0.6), ["30 in 100", "10 in 100", "60 in 100"]);
    }
}
