//! A number of a scenario: one value, or how it is spread.

use super::{
    measured,
    reader::{Reader, Table},
    row::{Group, Kind, Row, Unwritten, flag, sub, text, value},
    what::What,
    yaml::{Key, Node, Value},
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::{Dimension, significant},
    sampling::slot_of,
    uncertain::{Distribution, DistributionError, Input, InputId, LogNormal},
};

/// The ways to say how a number is spread.
pub(crate) fn group(what: What) -> Group {
    let list = |names: &[&'static str]| {
        Kind::Tuple(names.iter().map(|name| (*name, Kind::Value(what))).collect())
    };
    let form = Row::new;
    let (positive, pure) = (What::positive(what.dimension), Dimension::Number);
    let normal = vec![
        value("mean", what, "Its middle."),
        value("sd", what.spread(), "Its standard deviation."),
    ];
    let lognormal = vec![
        value("median", positive, "Half of all are below it."),
        value(
            "sigma_log",
            What::positive(pure).within(1e-6, 5.0),
            "Standard deviation of the natural logarithm.",
        ),
        value("p95", positive, "95 % are below it."),
    ];
    let weibull = vec![
        value("scale", positive, "63 % are below it."),
        value("shape", What::positive(pure).within(0.1, 100.0), "Near 2 for mean wind speeds."),
    ];
    let choice = vec![
        value("value", what, "One of the values."),
        value("weight", What::not_negative(pure), "How often, beside the others.").or(1.0),
    ];
    let measured = vec![
        text("file", "speeds.csv", "A CSV file, from the folder of the scenario."),
        text("column", "speed", "Heading of the column."),
        text("unit", "mph", "Unit of its numbers.").may("in its cells"),
    ];
    let forms = vec![
        form("range", list(&["low", "high"]), "Anything in between, all alike."),
        form("triangle", list(&["low", "likely", "high"]), "Lowest, likeliest, highest."),
        form("between", list(&["low", "high"]), "The bell curve, nine in ten in between."),
        sub("normal", Group::new("The bell curve.", normal)),
        sub(
            "lognormal",
            Group::new("Positive, with a long upper tail.", lognormal)
                .choose(&["sigma_log", "p95"]),
        ),
        sub("weibull", Group::new("Wind speeds, strengths.", weibull)),
        form(
            "choice",
            Kind::List(Box::new(Kind::Group(Group::new("A value and its weight.", choice)))),
            "One of a few values, by weight.",
        ),
        sub("measured", Group::new("As a column of a CSV file has it.", measured)),
    ];
    Group::choice("How the number is spread.", forms).and(vec![
        flag("unknown", "One value that is always the same, but not known."),
        flag("skew", "All ratios alike (`range`), or lognormal (`between`)."),
    ])
}

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
    /// The input under a key, or what holds where it is not written, or a
    /// problem.
    pub(crate) fn number(&mut self, table: &Table<'_>, name: &str) -> InputId {
        let unwritten = table.row(name).unwritten;
        self.number_or(table, name, unwritten)
    }

    /// The same, where what is not written follows from something else.
    pub(crate) fn number_or(
        &mut self,
        table: &Table<'_>,
        name: &str,
        unwritten: Unwritten,
    ) -> InputId {
        let (path, row) = (table.path_of(name), table.row(name));
        let what = row.what();
        if let Some((key, node)) = table.get(name) {
            return self.number_at(node, &key.span, path, what);
        }
        let place = table.at.clone();
        match unwritten {
            Unwritten::Open { range, ratio } => {
                self.unknown_within(path, what.dimension, range, ratio, place)
            }
            Unwritten::Value(value) => {
                self.assume(path, what.dimension, Distribution::fixed(value), place)
            }
            Unwritten::Needed | Unwritten::Words(_) => {
                self.missing(table, name);
                self.assume(path, what.dimension, Distribution::fixed(f64::NAN), place)
            }
        }
    }

    /// The input under a key, if it is written.
    pub(crate) fn told(&mut self, table: &Table<'_>, name: &str) -> Option<InputId> {
        table.get(name).map(|_| self.number(table, name))
    }

    /// An unknown within the range that is assumed for it: by its logarithm, if
    /// it is a `ratio`.
    fn unknown_within(
        &mut self,
        name: String,
        dimension: Dimension,
        [low, high]: [f64; 2],
        ratio: bool,
        place: Span,
    ) -> InputId {
        let spread = if ratio { Distribution::log_uniform } else { Distribution::uniform };
        let shown = |end: f64| significant(end, 2);
        let middle = Distribution::fixed(f64::midpoint(low, high));
        let input = Input {
            slot: slot_of(&name),
            name,
            dimension,
            distribution: spread(low, high).unwrap_or(middle),
            unknown: true,
            assumed: true,
            written: format!("anything between {} and {}", shown(low), shown(high)),
        };
        self.add(input, place)
    }

    /// The inputs of a list along x, y and z, under the key of an entry.
    pub(crate) fn point(
        &mut self,
        table: &Table<'_>,
        key: &Key,
        node: &Node,
    ) -> Option<[InputId; 3]> {
        let row = table.row(&key.name);
        let example = format!("{}: {}", key.name, row.example());
        let items = self.list(node, &key.span, 3, &example)?;
        let path = table.path_of(&key.name);
        let mut axis = |i: usize, axis: &str| {
            self.number_at(&items[i], &key.span, format!("{path}.{axis}"), row.what())
        };
        Some([axis(0, "x"), axis(1, "y"), axis(2, "z")])
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
                let forms = group(what);
                let table = self.group(node, at, path, &forms, &[])?;
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
        let (key, node) = self.chosen(table)?;
        if skew && !["between", "range"].contains(&key.name.as_str()) {
            let message = "`skew` goes with `between` and `range` only";
            self.report(
                Diagnostic::error("scenario::alternatives", message)
                    .at(key.span.clone(), "this has a shape of its own"),
            );
        }
        let distribution = self.shaped(table, key, node, what, skew)?;
        let distribution = self.bounded(distribution, key, what)?;
        Some(Read { distribution, unknown, written: words(&key.name, node) })
    }

    fn shaped(
        &mut self,
        forms: &Table<'_>,
        key: &Key,
        node: &Node,
        what: What,
        skew: bool,
    ) -> Option<Distribution> {
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
            "choice" => self.choice(forms, key, node),
            form => {
                let table =
                    self.group(node, &key.span, form, forms.row(form).kind.group()?, &[])?;
                match form {
                    "normal" => self.normal(&table, key),
                    "lognormal" => self.lognormal(&table, key),
                    "weibull" => self.weibull(&table, key),
                    _ => measured::read(self, &table, key, what),
                }
            }
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

    fn normal(&mut self, table: &Table<'_>, key: &Key) -> Option<Distribution> {
        let (mean, sd) = (self.value_of(table, "mean"), self.value_of(table, "sd"));
        self.made(Distribution::normal(mean?, sd?), key, "")
    }

    fn lognormal(&mut self, table: &Table<'_>, key: &Key) -> Option<Distribution> {
        let median = self.value_of(table, "median");
        let told = (table.get("sigma_log"), table.get("p95"));
        if let (None, None) | (Some(_), Some(_)) = told {
            let at = told.1.map_or(&key.span, |(key, _)| &key.span);
            self.report(
                Diagnostic::error("scenario::alternatives", "how wide is the lognormal?")
                    .at(at.clone(), "needs either `sigma_log` or `p95`")
                    .help(
                        "`sigma_log` is the standard deviation of the natural logarithm, \
                         `p95` the value that 95 % stay below",
                    ),
            );
            return None;
        }
        let sigma = if told.0.is_some() {
            self.value_of(table, "sigma_log")
        } else {
            let p95 = self.value_of(table, "p95");
            p95.zip(median).map(|(p95, median)| crate::math::ln(p95 / median) / Z95)
        };
        let made = LogNormal::new(crate::math::ln(median?), sigma?).map(Distribution::LogNormal);
        self.made(made, key, "`p95` must be greater than `median`")
    }

    fn weibull(&mut self, table: &Table<'_>, key: &Key) -> Option<Distribution> {
        let (scale, shape) = (self.value_of(table, "scale"), self.value_of(table, "shape"));
        self.made(Distribution::weibull(scale?, shape?), key, "")
    }

    fn choice(&mut self, forms: &Table<'_>, key: &Key, node: &Node) -> Option<Distribution> {
        const EXAMPLE: &str = "choice: [{value: 2 m, weight: 3}, {value: 4 m, weight: 1}]";
        let Value::List(items) = &node.value else {
            self.list(node, &key.span, 2, EXAMPLE);
            return None;
        };
        let group = forms.row("choice").kind.group()?;
        let (mut values, mut weights) = (Vec::new(), Vec::new());
        for item in items {
            let Some(table) = self.group(item, &key.span, "choice", group, &[]) else { continue };
            values.push(self.value_of(&table, "value").unwrap_or(f64::NAN));
            weights.push(self.value_of(&table, "weight").unwrap_or(f64::NAN));
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
            let percent = significant(100.0 * share, 2);
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
