//! Running the command in a directory of its own.

use longodds_sim::findings::Findings;
use std::{
    fs,
    io::Write,
    path::{Path, PathBuf},
    process::{Command, Output, Stdio},
    thread,
    time::Duration,
};

/// A directory for one test, emptied when the test starts.
pub(crate) struct Dir(PathBuf);

impl Dir {
    /// Makes the directory of the test with this name.
    pub(crate) fn new(test: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(test);
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    /// The path of one of its files.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    /// Writes a file into it.
    pub(crate) fn file(&self, name: &str, text: impl AsRef<[u8]>) -> &Self {
        fs::write(self.path(name), text).unwrap();
        self
    }

    /// The names of its files, sorted.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.0).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    /// The command with these arguments, in the directory, with nothing of the
    /// environment.
    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_longodds"));
        command.args(args).current_dir(&self.0).env_clear();
        command
    }

    /// Runs `longodds` in it.
    pub(crate) fn longodds(&self, args: &[&str]) -> Answer {
        Answer::new(&self.command(args).output().unwrap())
    }

    /// Runs `longodds` in it, with one Ctrl-C after two seconds.
    pub(crate) fn interrupted(&self, args: &[&str]) -> Answer {
        let mut command = self.command(args);
        let child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        thread::sleep(Duration::from_secs(2));
        let pid = child.id().to_string();
        assert!(Command::new("kill").args(["-INT", &pid]).status().unwrap().success());
        Answer::new(&child.wait_with_output().unwrap())
    }

    /// Runs `longodds` in it twice, for its words and for its findings. The words
    /// are one line, whatever the width of a terminal.
    pub(crate) fn told_twice(&self, args: &[&str]) -> (String, Findings) {
        let words = self.longodds(args);
        assert_eq!(words.status, 0, "{}", words.err);
        let json = self.longodds(&[args, &["--json"]].concat());
        let words = words.out.split_whitespace().collect::<Vec<_>>().join(" ");
        (words, serde_json::from_str(&json.out).unwrap())
    }

    /// Runs `longodds` in it with a text on standard input.
    pub(crate) fn longodds_with(&self, args: &[&str], input: &str) -> Answer {
        let mut command = self.command(args);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
        Answer::new(&child.wait_with_output().unwrap())
    }
}

/// What a run said.
#[derive(Debug)]
pub(crate) struct Answer {
    /// Exit status; -1 if a signal ended it.
    pub(crate) status: i32,
    /// Standard output.
    pub(crate) out: String,
    /// Standard error.
    pub(crate) err: String,
}

impl Answer {
    pub(crate) fn new(output: &Output) -> Self {
        Self {
            status: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout.clone()).unwrap(),
            err: String::from_utf8(output.stderr.clone()).unwrap(),
        }
    }
}

/// A whole scenario to spoil.
pub(crate) const SCENARIO: &str = "\
claim: A spanner knocked off a platform falls through the roof light below.
object:
  shape: {rod: {length: 32 cm, diameter: 22 mm}}
  mass: 0.9 kg
release:
  dropped:
    height: {range: [7 m, 9 m]}
    spin: {normal: {mean: 0 rpm, sd: 60 rpm}}
target:
  stands: {at: 0.2 m}
  faces:
    roof_light:
      centre: [0 m, 0 m, 3 m]
      width: 2 m
      height: 1.8 m
      rake: 85 deg
      barrier: {energy: {between: [8 J, 35 J], skew: true, unknown: true}}
      aim: true
chain: [released, reaches, strikes, perforates]
";
