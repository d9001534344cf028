//! A folder to run the program in, and what it answered.

use std::io::PipeWriter;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

/// A line that may be run, for tests to spoil.
pub(crate) const LINE: &str = r#"[site]
latitude_deg = 61.2
longitude_deg = 14.6
utc_offset_h = 1
climate = "boreal-inland"

[season]
start = 2026-11-01
end = 2026-12-15

[pack]
cell = "alkaline-aa"
series = 8

[activity]
triggers_per_day = 8

[[camera]]
name = "ford"
"#;

/// What a run gave back.
pub(crate) struct Answer {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Answer {
    pub(crate) fn new(output: &Output) -> Self {
        let text =
            |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("the program says UTF-8");
        let answer = Self {
            code: output.status.code(),
            out: text(&output.stdout),
            err: text(&output.stderr),
        };
        assert!(!answer.err.contains("panicked"), "{}", answer.err);
        answer
    }

    /// Standard output of a run that went well: on standard error stands nothing but what was written.
    pub(crate) fn good(self) -> String {
        assert_eq!(self.code, Some(0), "{}", self.err);
        let said = self.err.lines().filter(|line| !line.starts_with("wrote "));
        assert_eq!(said.collect::<String>(), "");
        self.out
    }

    /// The JSON document of a run that went well.
    pub(crate) fn json(self) -> Value {
        serde_json::from_str(&self.good()).expect("one JSON document")
    }

    /// What was said to a wrong input.
    pub(crate) fn refused(self) -> String {
        assert_eq!(self.code, Some(2), "{}{}", self.out, self.err);
        assert_eq!(self.out, "");
        self.err
    }
}

/// An empty folder.
pub(crate) struct Sandbox {
    folder: TempDir,
}

impl Sandbox {
    pub(crate) fn new() -> Self {
        Self {
            folder: TempDir::new().expect("a temporary folder"),
        }
    }

    /// A sandbox with `text` as its `line.toml`.
    pub(crate) fn with_line(text: impl AsRef<[u8]>) -> Self {
        let sandbox = Self::new();
        sandbox.write("line.toml", text);
        sandbox
    }

    pub(crate) fn path(&self) -> &Path {
        self.folder.path()
    }

    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.path().join(name), bytes).expect("a file in the sandbox");
    }

    /// The names of all that is in the folder.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(self.path()).expect("the sandbox");
        let name = |entry: std::io::Result<std::fs::DirEntry>| entry.expect("an entry").file_name();
        let mut names: Vec<String> = entries
            .map(|entry| name(entry).into_string().expect("a name in UTF-8"))
            .collect();
        names.sort();
        names
    }

    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_overwinter"));
        command.args(args).current_dir(self.path());
        command.env_remove("NO_COLOR").stdin(Stdio::null());
        command
    }

    pub(crate) fn run(&self, args: &[&str]) -> Answer {
        Answer::new(&self.command(args).output().expect("the program starts"))
    }

    /// A run with so many threads.
    pub(crate) fn run_on(&self, threads: u32, args: &[&str]) -> Answer {
        let mut command = self.command(args);
        command.env("RAYON_NUM_THREADS", threads.to_string());
        Answer::new(&command.output().expect("the program starts"))
    }

    /// A run that may not have more than so many megabytes of memory.
    #[cfg(target_os = "linux")]
    pub(crate) fn run_within(&self, megabytes: u32, args: &[&str]) -> Answer {
        let mut command = Command::new("sh");
        let limited = format!("ulimit -v {}; exec \"$0\" \"$@\"", 1000 * megabytes);
        command.args(["-c", &limited, env!("CARGO_BIN_EXE_overwinter")]);
        command.args(args).current_dir(self.path());
        command.env_remove("NO_COLOR").stdin(Stdio::null());
        // Each thread reserves memory for itself, which a machine with many cores would have many of.
        command.env("RAYON_NUM_THREADS", "2");
        Answer::new(&command.output().expect("the program starts"))
    }

    /// A run whose standard output goes elsewhere.
    pub(crate) fn run_into(&self, args: &[&str], out: impl Into<Stdio>) -> Answer {
        let mut command = self.command(args);
        command.stdout(out).stderr(Stdio::piped());
        let child = command.spawn().expect("the program starts");
        Answer::new(&child.wait_with_output().expect("the program ends"))
    }
}

/// A pipe that nobody reads any more.
pub(crate) fn closed_pipe() -> PipeWriter {
    let (reader, writer) = std::io::pipe().expect("a pipe");
    drop(reader);
    writer
}
