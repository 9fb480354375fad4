//! A number of a scenario: one value, or how it is spread.

use super::{
    measured,
    reader::{Reader, Table},
    what::What,
    yaml::{Key, Node, Value},
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    sampling::slot_of,
    uncertain::{Distribution, DistributionError, Input, InputId, LogNormal},
};

/// The ways to say how a number is spread.
pub(crate) const FORMS: [&str; 8] =
    ["range", "triangle", "between", "normal", "lognormal", "weibull", "choice", "measured"];

/// Standard normal quantile at 95 %. Source: `SciPy` 1.17, `norm.ppf(0.95)`.
const Z95: f64 = 1.644_853_626_951_472_2;

/// A number as it was read.
struct Read {
    distribution: Distribution,
    unknown: bool,
    written: String,
}

/// What to say of two ends that will not do.
fn rising(skew: bool, low: f64) -> &'static str {
    if skew && low <= 0.0 {
        "a skewed spread needs both ends above zero"
    } else {
        "from the lower to the higher"
    }
}

impl Reader<'_> {
    /// The input under a key, or its default, or a problem.
    pub(crate) fn number(&mut self, table: &Table<'_>, name: &str, what: What) -> InputId {
        let path = table.path_of(name);
        match table.get(name) {
            Some((key, node)) => self.number_at(node, &key.span, path, what),
            None => {
                let default = what.default.unwrap_or_else(|| {
                    self.missing(table, name, what.example());
                    f64::NAN
                });
                let distribution = Distribution::fixed(default);
                self.assume(path, what.dimension, distribution, table.at.clone())
            }
        }
    }

    /// The input that a node holds.
    pub(crate) fn number_at(
        &mut self,
        node: &Node,
        at: &Span,
        name: String,
        what: What,
    ) -> InputId {
        let read = self.spread(node, at, &name, what).unwrap_or_else(|| Read {
            distribution: Distribution::fixed(f64::NAN),
            unknown: false,
            written: String::new(),
        });
        let place = super::reader::pointed(node, at);
        let input = Input {
            slot: slot_of(&name),
            name,
            dimension: what.dimension,
            distribution: read.distribution,
            unknown: read.unknown,
            assumed: false,
            written: read.written,
        };
        self.add(input, place)
    }

    fn spread(&mut self, node: &Node, at: &Span, path: &str, what: What) -> Option<Read> {
        match &node.value {
            Value::Map(_) => {
                let known: Vec<&str> = FORMS.into_iter().chain(["unknown", "skew"]).collect();
                let table = self.table(node, at, path, &known)?;
                self.form(&table, what)
            }
            Value::Text(text) => {
                let value = self.value(node, at, what)?;
                let distribution = Distribution::fixed(value);
                Some(Read { distribution, unknown: false, written: text.clone() })
            }
            Value::List(_) | Value::Empty => {
                let what = what.dimension.with_article();
                self.report(
                    Diagnostic::error("scenario::shape", format!("expected {what}"))
                        .at(at.clone(), format!("found {}", node.kind()))
                        .help("write one value, or a spread such as `{range: [low, high]}`"),
                );
                None
            }
        }
    }

    fn form(&mut self, table: &Table<'_>, what: What) -> Option<Read> {
        let unknown = self.flag(table, "unknown");
        let skew = self.flag(table, "skew");
        let (key, node) = self.one_of_forms(table)?;
        if skew && !["between", "range"].contains(&key.name.as_str()) {
            let message = "`skew` goes with `between` and `range` only";
            self.report(
                Diagnostic::error("scenario::alternatives", message)
                    .at(key.span.clone(), "this has a shape of its own"),
            );
        }
        let distribution = self.shaped(key, node, what, skew)?;
        let distribution = self.bounded(distribution, key, what)?;
        Some(Read { distribution, unknown, written: words(&key.name, node) })
    }

    /// The form of a spread: the other keys of the group are no alternatives.
    fn one_of_forms<'n>(&mut self, table: &Table<'n>) -> Option<&'n (Key, Node)> {
        let forms = table.entries().iter().filter(|(key, _)| FORMS.contains(&key.name.as_str()));
        if forms.count() == 0
            && table.entries().iter().all(|(key, _)| ["unknown", "skew"].contains(&&*key.name))
        {
            self.report(
                Diagnostic::error("scenario::missing", format!("`{}` has no spread", table.path))
                    .at(table.at.clone(), "nothing chosen")
                    .help(format!("choose one of: {}", FORMS.join(", "))),
            );
            return None;
        }
        self.one_of(table, &FORMS)
    }

    fn shaped(&mut self, key: &Key, node: &Node, what: What, skew: bool) -> Option<Distribution> {
        match key.name.as_str() {
            "range" => {
                let [low, high] = self.values(key, node, what, "range: [low, high]")?;
                let made = if skew {
                    Distribution::log_uniform(low, high)
                } else {
                    Distribution::uniform(low, high)
                };
                self.made(made, key, rising(skew, low))
            }
            "triangle" => {
                let [low, likely, high] =
                    self.values(key, node, what, "triangle: [low, likely, high]")?;
                let order = "low, likely, high in rising order";
                self.made(Distribution::triangular(low, likely, high), key, order)
            }
            "between" => {
                let [low, high] = self.values(key, node, what, "between: [low, high]")?;
                let made = if skew {
                    Distribution::lognormal_between(low, high)
                } else {
                    Distribution::normal_between(low, high)
                };
                self.made(made, key, rising(skew, low))
            }
            "normal" => self.normal(key, node, what),
            "lognormal" => self.lognormal(key, node, what),
            "weibull" => self.weibull(key, node, what),
            "choice" => self.choice(key, node, what),
            _ => measured::read(self, key, node, what),
        }
    }

    /// A list of quantities of one dimension.
    fn values<const N: usize>(
        &mut self,
        key: &Key,
        node: &Node,
        what: What,
        example: &str,
    ) -> Option<[f64; N]> {
        let items = self.list(node, &key.span, N, example)?;
        let read: Vec<Option<f64>> =
            items.iter().map(|item| self.value(item, &key.span, what)).collect();
        let all: Vec<f64> = read.into_iter().collect::<Option<_>>()?;
        all.try_into().ok()
    }

    fn normal(&mut self, key: &Key, node: &Node, what: What) -> Option<Distribution> {
        let table = self.table(node, &key.span, "normal", &["mean", "sd"])?;
        let mean = self.value_of(&table, "mean", what);
        let sd = self.value_of(&table, "sd", what.spread());
        self.made(Distribution::normal(mean?, sd?), key, "")
    }

    fn lognormal(&mut self, key: &Key, node: &Node, what: What) -> Option<Distribution> {
        let table = self.table(node, &key.span, "lognormal", &["median", "sigma_log", "p95"])?;
        let positive = What::positive(what.dimension);
        let median = self.value_of(&table, "median", positive);
        let sigma = match (table.get("sigma_log"), table.get("p95")) {
            (Some((key, node)), None) => {
                let sigma = What::positive(Dimension::Number).within(1e-6, 5.0);
                self.value(node, &key.span, sigma)
            }
            (None, Some((key, node))) => self
                .value(node, &key.span, positive)
                .zip(median)
                .map(|(p95, median)| crate::math::ln(p95 / median) / Z95),
            (_, second) => {
                let at = second.map_or(&key.span, |(key, _)| &key.span);
                self.report(
                    Diagnostic::error("scenario::alternatives", "how wide is the lognormal?")
                        .at(at.clone(), "needs either `sigma_log` or `p95`")
                        .help(
                            "`sigma_log` is the standard deviation of the natural logarithm, \
                             `p95` the value that 95 % stay below",
                        ),
                );
                None
            }
        };
        let made = LogNormal::new(crate::math::ln(median?), sigma?).map(Distribution::LogNormal);
        self.made(made, key, "`p95` must be greater than `median`")
    }

    fn weibull(&mut self, key: &Key, node: &Node, what: What) -> Option<Distribution> {
        let table = self.table(node, &key.span, "weibull", &["scale", "shape"])?;
        let scale = self.value_of(&table, "scale", What::positive(what.dimension));
        let shape =
            self.value_of(&table, "shape", What::positive(Dimension::Number).within(0.1, 100.0));
        self.made(Distribution::weibull(scale?, shape?), key, "")
    }

    fn choice(&mut self, key: &Key, node: &Node, what: What) -> Option<Distribution> {
        const EXAMPLE: &str = "choice: [{value: 2 m, weight: 3}, {value: 4 m, weight: 1}]";
        let Value::List(items) = &node.value else {
            self.list(node, &key.span, 2, EXAMPLE);
            return None;
        };
        let (mut values, mut weights) = (Vec::new(), Vec::new());
        for item in items {
            let Some(table) = self.table(item, &key.span, "choice", &["value", "weight"]) else {
                continue;
            };
            values.push(self.value_of(&table, "value", what).unwrap_or(f64::NAN));
            weights.push(match table.get("weight") {
                None => 1.0,
                Some((key, node)) => {
                    let weight = What::not_negative(Dimension::Number);
                    self.value(node, &key.span, weight).unwrap_or(f64::NAN)
                }
            });
        }
        if values.iter().chain(&weights).any(|value| value.is_nan()) {
            return None;
        }
        self.made(Distribution::choice(&values, &weights), key, EXAMPLE)
    }

    /// A distribution, or why there is none.
    pub(crate) fn made(
        &mut self,
        made: Result<Distribution, DistributionError>,
        key: &Key,
        advice: &str,
    ) -> Option<Distribution> {
        let error = match made {
            Ok(distribution) => return Some(distribution),
            Err(error) => error,
        };
        let message = format!("this `{}` is impossible", key.name);
        let problem = Diagnostic::error("scenario::distribution", message)
            .at(key.span.clone(), error.to_string());
        self.report(if advice.is_empty() { problem } else { problem.help(advice) });
        None
    }

    /// Cuts off what physics forbids, and says so.
    fn bounded(
        &mut self,
        distribution: Distribution,
        key: &Key,
        what: What,
    ) -> Option<Distribution> {
        let (low, high) = what.bounds();
        let bounded = self.made(distribution.truncated(low, high), key, "")?;
        let share = bounded.cut();
        // Less than one flight in ten thousand: not worth a word.
        if share > 1e-4 {
            let percent = crate::quantity::significant(100.0 * share, 2);
            self.report(
                Diagnostic::warning("scenario::truncated", "part of this spread is impossible")
                    .at(key.span.clone(), format!("{percent} % of it is cut off"))
                    .help(what.objection(low - 1.0).unwrap_or_default()),
            );
        }
        Some(bounded)
    }
}

/// A spread in words, with the user's own values.
fn words(form: &str, node: &Node) -> String {
    let text = flat(node);
    let ends: Vec<&str> = text.split("; ").collect();
    match (form, ends.as_slice()) {
        ("range", [low, high]) => format!("anything from {low} to {high}"),
        ("triangle", [low, likely, high]) => format!("{low} to {high}, likeliest {likely}"),
        ("between", [low, high]) => format!("between {low} and {high}, 9 times in 10"),
        ("normal", _) => format!("normal: {}", ends.join(", ")),
        (other, _) => format!("{other}: {}", ends.join(", ")),
    }
}

fn flat(node: &Node) -> String {
    match &node.value {
        Value::Empty => String::new(),
        Value::Text(text) => text.clone(),
        Value::List(items) => items.iter().map(flat).collect::<Vec<_>>().join("; "),
        Value::Map(entries) => entries
            .iter()
            .map(|(key, node)| format!("{} {}", key.name, flat(node)))
            .collect::<Vec<_>>()
            .join("; "),
    }
}
