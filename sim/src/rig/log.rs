//! A shot log: one line per real shot, CSV with a heading line.
//!
//! | column | what |
//! |---|---|
//! | `shot` | a name or number (else the line's number) |
//! | `setting` | the launcher's setting, with its unit |
//! | `speed`, `speed_uncertainty` | measured speed and one standard deviation |
//! | `frames`, `distance`, `frame_rate` | instead of a speed: from the camera |
//! | `mass` | of the object, where it differs from the rig's |
//! | `result` | `misfire`, `missed`, `stopped`, `through`, `harmless`, `harmful` |
//! | `remarks` | anything |
//!
//! Columns that start with `predicted` are the test-day sheet's own and are
//! passed over, and so is a line without a speed, frames or a result. Lines
//! that start with `#` are talk.

use super::{
    calibrate::Shot,
    camera::{Measured, Passage},
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::{Dimension, read},
    text::{Sort, nearest::nearest},
};
use serde::Serialize;

/// Longest log that is read, in bytes.
pub const LONGEST: usize = 4 << 20;

const COLUMNS: [&str; 10] = [
    "shot",
    "setting",
    "speed",
    "speed_uncertainty",
    "frames",
    "distance",
    "frame_rate",
    "mass",
    "result",
    "remarks",
];

/// How a shot ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ShotResult {
    /// The object did not leave as it should.
    Misfire,
    /// It did not strike the target.
    Missed,
    /// It struck and did not go through.
    Stopped,
    /// It went through.
    Through,
    /// It went through and what arrived was harmless.
    Harmless,
    /// It went through and what arrived was harmful.
    Harmful,
}

const RESULTS: [(&str, ShotResult); 6] = [
    ("misfire", ShotResult::Misfire),
    ("missed", ShotResult::Missed),
    ("stopped", ShotResult::Stopped),
    ("through", ShotResult::Through),
    ("harmless", ShotResult::Harmless),
    ("harmful", ShotResult::Harmful),
];

/// One line of a log, SI.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedShot {
    /// Name, or the line's number in words.
    pub name: String,
    /// Line in the file, from 1.
    pub line: usize,
    /// The launcher's setting, if written.
    pub setting: Option<f64>,
    /// Speed, if measured.
    pub speed: Option<Measured>,
    /// Mass of the object, if written, in kg.
    pub mass: Option<f64>,
    /// How it ended, if written.
    pub result: Option<ShotResult>,
    /// Remarks.
    pub remark: String,
}

/// What a shot without a name is called.
fn unnamed(line: usize) -> String {
    format!("line {line}")
}

impl LoggedShot {
    /// Whether another says the same of a shot.
    fn is_like(&self, other: &Self) -> bool {
        let told = |shot: &Self| (shot.setting, shot.speed, shot.mass, shot.result);
        told(self) == told(other)
    }
}

/// A shot log.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShotLog {
    /// The shots that were shot, in order.
    pub shots: Vec<LoggedShot>,
}

impl ShotLog {
    /// Shots that go by one name more than once, to be asked about: they count
    /// as often as they are written.
    #[must_use]
    pub fn repeated(&self) -> Vec<String> {
        let named = |shot: &&LoggedShot| shot.name != unnamed(shot.line);
        let mut asked: Vec<&str> = Vec::new();
        let mut questions = Vec::new();
        for shot in self.shots.iter().filter(named) {
            let same: Vec<&LoggedShot> =
                self.shots.iter().filter(|other| other.name == shot.name).collect();
            if same.len() < 2 || asked.contains(&shot.name.as_str()) {
                continue;
            }
            asked.push(&shot.name);
            let lines: Vec<String> = same.iter().map(|one| one.line.to_string()).collect();
            let (name, count, lines) = (&shot.name, lines.len(), lines.join(", "));
            questions.push(if same.iter().all(|other| other.is_like(shot)) {
                format!(
                    "lines {lines} are all shot `{name}` and say the same: one shot written down \
                     {count} times, or {count} shots? They are taken as {count} shots"
                )
            } else {
                format!(
                    "lines {lines} are all called shot `{name}`: they are taken as {count} shots"
                )
            });
        }
        questions
    }

    /// The shots that can calibrate a rig: those with a setting and a speed.
    #[must_use]
    pub fn calibration(&self) -> Vec<Shot> {
        self.shots
            .iter()
            .filter_map(|shot| {
                Some(Shot {
                    setting: shot.setting?,
                    speed: shot.speed?,
                    mass: shot.mass,
                    name: shot.name.clone(),
                    remark: shot.remark.clone(),
                })
            })
            .collect()
    }
}

/// What cells mean where they do not say so themselves.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Defaults {
    /// What a setting measures; `None`: settings are not read.
    pub setting: Option<Dimension>,
    /// Distance in the picture, in m, where a line gives none.
    pub distance: Option<f64>,
    /// Frame rate, in frames per second, where a line gives none.
    pub frame_rate: Option<f64>,
}

/// Reads a log.
///
/// # Errors
///
/// Everything that is wrong with it, each with its place.
pub fn parse(text: &str, defaults: &Defaults) -> Result<ShotLog, Vec<Diagnostic>> {
    let mut rows = text
        .split_inclusive('\n')
        .scan((0, 0), |(offset, line), row| {
            let start = *offset;
            *offset += row.len();
            *line += 1;
            Some((*line, start, row.trim_end_matches(['\n', '\r'])))
        })
        .filter(|(_, _, row)| !row.trim().is_empty() && !row.trim_start().starts_with('#'));
    let Some((_, start, heading)) = rows.next() else {
        return Err(vec![
            Diagnostic::error("shots::empty", "the shot log is empty")
                .help(format!("the first line names the columns: {}", COLUMNS.join(", "))),
        ]);
    };
    if let Some(mistaken) = Sort::ShotLog.mistaken(text, None) {
        return Err(vec![mistaken]);
    }
    let columns = headings(heading, start)?;
    let mut problems = Vec::new();
    let mut log = ShotLog::default();
    for (line, start, row) in rows {
        let mut reader = Row { columns: &columns, cells: cells(row, start), problems: Vec::new() };
        reader.check_width(row, start);
        if let Some(shot) = reader.shot(line, defaults) {
            log.shots.push(shot);
        }
        problems.append(&mut reader.problems);
    }
    if problems.is_empty() { Ok(log) } else { Err(problems) }
}

/// A cell and where it stands.
#[derive(Clone, Debug)]
struct Cell {
    text: String,
    span: Span,
}

/// Splits a row at its commas; quotes keep a comma, a doubled quote is one.
fn cells(row: &str, start: usize) -> Vec<Cell> {
    let mut cells = Vec::new();
    let (mut text, mut from, mut quoted) = (String::new(), 0, false);
    let mut chars = row.char_indices().peekable();
    while let Some((i, c)) = chars.next() {
        match c {
            '"' if quoted && chars.peek().is_some_and(|(_, next)| *next == '"') => {
                text.push('"');
                chars.next();
            }
            '"' => quoted = !quoted,
            ',' if !quoted => {
                cells.push(cell(&text, row, start, from..i));
                text.clear();
                from = i + 1;
            }
            _ => text.push(c),
        }
    }
    cells.push(cell(&text, row, start, from..row.len()));
    cells
}

/// The span without the blanks around what was written.
fn cell(text: &str, row: &str, start: usize, range: Span) -> Cell {
    let raw = &row[range.clone()];
    let lead = raw.len() - raw.trim_start().len();
    let span = start + range.start + lead..start + range.start + lead + raw.trim().len();
    Cell { text: text.trim().to_owned(), span }
}

fn headings(row: &str, start: usize) -> Result<Vec<String>, Vec<Diagnostic>> {
    let cells = cells(row, start);
    let mut problems = Vec::new();
    let mut names: Vec<String> = Vec::new();
    for cell in cells {
        let name = cell.text.trim_start_matches('\u{feff}').to_lowercase();
        let known = COLUMNS.contains(&name.as_str()) || name.starts_with("predicted");
        if !known {
            problems.push(unknown_column(&cell, &name));
        } else if names.contains(&name) {
            let problem = Diagnostic::error("shots::column", "a column is there twice");
            problems.push(problem.at(cell.span, format!("`{name}` again")));
        }
        names.push(name);
    }
    if problems.is_empty() { Ok(names) } else { Err(problems) }
}

fn unknown_column(cell: &Cell, name: &str) -> Diagnostic {
    let near = nearest(name, COLUMNS.into_iter());
    let help = match near {
        Some(column) => format!("did you mean `{column}`?"),
        None => format!("the columns are {}", COLUMNS.join(", ")),
    };
    Diagnostic::error("shots::column", format!("the shot log has no column `{name}`"))
        .at(cell.span.clone(), "not a column known here")
        .help(help)
}

struct Row<'a> {
    columns: &'a [String],
    cells: Vec<Cell>,
    problems: Vec<Diagnostic>,
}

impl Row<'_> {
    fn check_width(&mut self, row: &str, start: usize) {
        if self.cells.len() > self.columns.len() {
            let message =
                format!("{} cells under {} columns", self.cells.len(), self.columns.len());
            self.problems.push(
                Diagnostic::error("shots::width", message)
                    .at(start..start + row.len(), "this line is too long")
                    .help("put remarks with a comma in \"quotes\""),
            );
        }
    }

    /// What is written under a column, if anything.
    fn get(&self, column: &str) -> Option<Cell> {
        let at = self.columns.iter().position(|name| name == column)?;
        self.cells.get(at).filter(|cell| !cell.text.is_empty()).cloned()
    }

    fn shot(&mut self, line: usize, defaults: &Defaults) -> Option<LoggedShot> {
        let written = ["speed", "frames", "result"].iter().any(|name| self.get(name).is_some());
        if !written {
            return None;
        }
        let setting = defaults.setting.and_then(|dimension| self.positive("setting", dimension));
        let speed = if self.get("frames").is_some() {
            self.camera(defaults)
        } else {
            self.positive("speed", Dimension::Speed).map(|value| Measured {
                value,
                uncertainty: self.quantity("speed_uncertainty", Dimension::Speed).unwrap_or(0.0),
            })
        };
        let name = self.get("shot").map_or_else(|| unnamed(line), |cell| cell.text);
        Some(LoggedShot {
            name,
            line,
            setting,
            speed,
            mass: self.positive("mass", Dimension::Mass),
            result: self.result(),
            remark: self.get("remarks").map_or_else(String::new, |cell| cell.text),
        })
    }

    fn quantity(&mut self, column: &str, dimension: Dimension) -> Option<f64> {
        let cell = self.get(column)?;
        match read(&cell.text, cell.span, dimension) {
            Ok(value) => Some(value),
            Err(problem) => {
                self.problems.push(problem);
                None
            }
        }
    }

    fn positive(&mut self, column: &str, dimension: Dimension) -> Option<f64> {
        let value = self.quantity(column, dimension)?;
        let cell = self.get(column)?;
        if value > 0.0 {
            return Some(value);
        }
        let message = format!("`{}` is out of range", cell.text);
        self.problems.push(
            Diagnostic::error("shots::range", message)
                .at(cell.span, format!("the {column} must be above zero")),
        );
        None
    }

    fn camera(&mut self, defaults: &Defaults) -> Option<Measured> {
        let frames = self.positive("frames", Dimension::Number)?;
        let distance = self.positive("distance", Dimension::Length).or(defaults.distance);
        let frame_rate = self.positive("frame_rate", Dimension::Frequency).or(defaults.frame_rate);
        let cell = self.get("frames")?;
        let (Some(distance), Some(frame_rate)) = (distance, frame_rate) else {
            if self.problems.is_empty() {
                self.problems.push(
                    Diagnostic::error("shots::camera", "frames without distance or frame rate")
                        .at(cell.span, "how far, at how many frames per second?")
                        .help(
                            "fill the columns `distance` (`1 ft`) and `frame_rate` \
                             (`1000 frames/s`)",
                        ),
                );
            }
            return None;
        };
        match Passage::plain(frames, distance, frame_rate).speed() {
            Ok(speed) => Some(Measured { value: speed.speed, uncertainty: speed.uncertainty }),
            Err(error) => {
                let problem = Diagnostic::error("shots::camera", error.to_string());
                self.problems.push(problem.at(cell.span, "these frames"));
                None
            }
        }
    }

    fn result(&mut self) -> Option<ShotResult> {
        let cell = self.get("result")?;
        let word = cell.text.to_lowercase();
        let found = RESULTS.iter().find(|(name, _)| *name == word);
        if found.is_none() {
            let words: Vec<&str> = RESULTS.iter().map(|(name, _)| *name).collect();
            self.problems.push(
                Diagnostic::error("shots::result", format!("`{}` is no result", cell.text))
                    .at(cell.span, "not one of the words known here")
                    .help(format!("write one of: {}", words.join(", "))),
            );
        }
        found.map(|(_, result)| *result)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PULL: Defaults =
        Defaults { setting: Some(Dimension::Length), distance: None, frame_rate: None };

    fn problem(text: &str) -> (String, String) {
        let problems = parse(text, &PULL).unwrap_err();
        assert_eq!(problems.len(), 1, "{problems:?}");
        let span = problems[0].label.clone().unwrap().0;
        (text[span].to_owned(), problems[0].to_string())
    }

    #[test]
    fn speeds_and_frames_are_read() {
        let text = "# our own demonstration\nshot,setting,speed,frames,distance,frame_rate,\
                    result,remarks\n1,6 ft,40 mph,,,,missed,\"high, left\"\n\n\
                    2, 3 ft ,,34,1 ft,1000 frames/s,stopped,\n3,9 ft,,,,,,not shot\n";
        let log = parse(text, &PULL).unwrap();
        assert_eq!(log.shots.len(), 2);
        assert_eq!(log.shots[0].remark, "high, left");
        assert_eq!(log.shots[0].line, 3);
        assert!((log.shots[1].setting.unwrap() - 0.9144).abs() < 1e-12);
        let speed = log.shots[1].speed.unwrap();
        assert!((speed.value - 304.8 / 34.0).abs() < 1e-9 && speed.uncertainty > 0.0);
        assert_eq!(log.calibration().len(), 2);
    }

    #[test]
    fn every_problem_has_its_place() {
        assert_eq!(problem("setting,sped\n1 ft,3 mph\n").0, "sped");
        assert_eq!(problem("setting,speed\n1 ft,3 kg\n").0, "3 kg");
        assert_eq!(problem("setting,speed\n-1 ft,3 mph\n").0, "-1 ft");
        assert_eq!(problem("setting,speed,result\n1 ft,3 mph,broke\n").0, "broke");
        assert_eq!(problem("setting,frames\n1 ft,20\n").0, "20");
        assert_eq!(problem("setting,speed\n1 ft,3 mph,x,y\n").0, "1 ft,3 mph,x,y");
        assert!(parse("", &PULL).is_err());
    }

    #[test]
    fn a_name_that_comes_twice_is_asked_about() {
        let read = |text: &str| parse(text, &PULL).unwrap().repeated();
        let same = read("shot,speed\n1,40 mph\n1,40 mph\n1,40 mph\n2,40 mph\n");
        assert!(same.len() == 1 && same[0].contains("lines 2, 3, 4"), "{same:?}");
        assert!(same[0].contains("one shot written down 3 times, or 3 shots?"));
        let other = read("shot,speed\n1,40 mph\n1,41 mph\n");
        assert!(other[0].contains("all called shot `1`"), "{other:?}");
        assert!(read("speed\n40 mph\n40 mph\n").is_empty(), "without a name each is one");
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in "[-a-z0-9, \n\r\"#.ü]{0,80}", heading in "(setting|speed|shot|frames|,){1,4}") {
            for problem in parse(&format!("{heading}\n{text}"), &PULL).err().unwrap_or_default() {
                let whole = format!("{heading}\n{text}");
                if let Some((span, _)) = problem.label {
                    proptest::prop_assert!(whole.get(span).is_some());
                }
            }
        }
    }
}
