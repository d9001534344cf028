//! What is written, where, and what is never written over.

use std::process::Stdio;

use crate::sandbox::{LINE, Sandbox};

const DRAWN: [&str; 5] = ["forecast", "line.toml", "--paths=20", "--plot", "a.svg"];

const SWEPT: [&str; 6] = [
    "sweep",
    "line.toml",
    "--vary=triggers_per_day=5:15:5",
    "--paths=5",
    "--csv",
    "a.csv",
];

fn text(sandbox: &Sandbox, name: &str) -> String {
    std::fs::read_to_string(sandbox.path().join(name)).expect("a file")
}

#[test]
fn what_was_written_is_said_and_may_be_written_again() {
    let sandbox = Sandbox::with_line(LINE);
    for _ in 0..2 {
        let answer = sandbox.run(&DRAWN);
        assert_eq!((answer.code, &answer.err[..]), (Some(0), "wrote a.svg\n"));
        let answer = sandbox.run(&SWEPT);
        assert_eq!((answer.code, &answer.err[..]), (Some(0), "wrote a.csv\n"));
    }
    let png = ["sun", "line.toml", "--plot", "a.png"];
    sandbox.run(&png).good();
    sandbox.run(&png).good();
    assert_eq!(sandbox.names(), ["a.csv", "a.png", "a.svg", "line.toml"]);
}

#[test]
fn a_file_of_somebody_else_stays_unless_it_is_forced() {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\"/>";
    for (args, name, other) in [
        (&DRAWN[..], "a.svg", svg),
        (&SWEPT[..], "a.csv", "camera,days\nford,3\n"),
    ] {
        let sandbox = Sandbox::with_line(LINE);
        sandbox.write(name, other);
        let said = sandbox.run(args).refused();
        assert!(said.contains("--force") && said.contains(name), "{said}");
        assert_eq!(text(&sandbox, name), other);
        sandbox.run(&[args, &["--force"]].concat()).good();
        assert_ne!(text(&sandbox, name), other);
        // Nothing is lost with an empty file.
        sandbox.write(name, "");
        sandbox.run(args).good();
    }
}

#[test]
fn no_input_is_written_over_whatever_it_is_called() {
    let weather = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/data/climate/greensboro-tmy3.csv"
    );
    let climate = "climate = \"boreal-inland\"";
    let sandbox = Sandbox::with_line(LINE.replace(climate, "weather = \"weather.csv\""));
    std::fs::copy(weather, sandbox.path().join("weather.csv")).expect("a weather file");
    std::fs::hard_link(
        sandbox.path().join("weather.csv"),
        sandbox.path().join("hard.csv"),
    )
    .expect("a link");
    let before = text(&sandbox, "weather.csv");
    let mut names = vec!["weather.csv", "./weather.csv", "hard.csv"];
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("weather.csv", sandbox.path().join("soft.csv")).expect("a link");
        names.push("soft.csv");
    }
    for name in names {
        let args = [&SWEPT[..5], &[name, "--force"]].concat();
        let said = sandbox.run(&args).refused();
        assert!(said.contains("a file that this run reads"), "{said}");
        assert_eq!(text(&sandbox, "weather.csv"), before);
    }
}

#[test]
fn standard_output_takes_a_file_in_place_of_the_answer() {
    let sandbox = Sandbox::with_line(LINE);
    let to = |name| [&SWEPT[..5], &[name]].concat();
    let table = sandbox.run(&to("-")).good();
    sandbox.run(&SWEPT).good();
    assert_eq!(table, text(&sandbox, "a.csv"));
    let said = sandbox.run(&[&to("-")[..], &["--json"]].concat()).refused();
    assert!(said.contains("both ask for standard output"), "{said}");
    let out = std::fs::File::create(sandbox.path().join("x.owb")).expect("a file");
    let answer = sandbox.run_into(&["embed", "line.toml", "-o", "-"], out);
    assert_eq!(answer.code, Some(0), "{}", answer.err);
    let told = sandbox.run(&["embed", "--show", "x.owb"]).good();
    assert!(told.starts_with("Blob of "), "{told}");
}

#[cfg(unix)]
mod on_unix {
    use std::fs::Permissions;
    use std::io::Read;
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::process::Command;

    use super::*;

    fn mode(sandbox: &Sandbox, name: &str) -> u32 {
        let meta = std::fs::metadata(sandbox.path().join(name)).expect("a file");
        meta.permissions().mode() & 0o777
    }

    #[test]
    fn a_new_file_has_the_mode_of_any_and_an_old_one_keeps_its_own() {
        let sandbox = Sandbox::with_line(LINE);
        let shell = |umask: &str| {
            let program = env!("CARGO_BIN_EXE_overwinter");
            let script = format!("umask {umask}; exec {program} sun line.toml --plot a.svg");
            let mut shell = Command::new("sh");
            shell.args(["-c", &script]).current_dir(sandbox.path());
            assert!(shell.output().expect("a shell").status.success());
        };
        shell("027");
        assert_eq!(mode(&sandbox, "a.svg"), 0o640);
        let path = sandbox.path().join("a.svg");
        std::fs::set_permissions(path, Permissions::from_mode(0o604)).expect("a mode");
        shell("077");
        assert_eq!(mode(&sandbox, "a.svg"), 0o604);
    }

    #[test]
    fn a_file_that_may_only_be_read_is_asked_about() {
        let sandbox = Sandbox::with_line(LINE);
        sandbox.run(&DRAWN).good();
        let path = sandbox.path().join("a.svg");
        std::fs::set_permissions(path, Permissions::from_mode(0o444)).expect("a mode");
        let said = sandbox.run(&DRAWN).refused();
        assert!(said.contains("may only be read"), "{said}");
        sandbox.run(&[&DRAWN[..], &["--force"]].concat()).good();
    }

    #[test]
    fn links_are_followed_to_what_they_name() {
        let sandbox = Sandbox::with_line(LINE);
        std::fs::create_dir(sandbox.path().join("far")).expect("a folder");
        symlink("far/real.svg", sandbox.path().join("a.svg")).expect("a link");
        for _ in 0..2 {
            sandbox.run(&DRAWN).good();
            let link = std::fs::symlink_metadata(sandbox.path().join("a.svg")).expect("a link");
            assert!(link.is_symlink());
            assert!(text(&sandbox, "far/real.svg").contains("written by overwinter"));
        }
        symlink("round.svg", sandbox.path().join("round.svg")).expect("a link");
        let answer = sandbox.run(&[&DRAWN[..4], &["round.svg"]].concat());
        assert_eq!(answer.code, Some(1), "{}", answer.err);
    }

    #[test]
    fn two_outputs_are_never_one_file() {
        let sandbox = Sandbox::with_line(LINE);
        symlink("q.svg", sandbox.path().join("q.csv")).expect("a link");
        for more in [&[][..], &["--force"]] {
            let args = [&SWEPT[..5], &["q.csv", "--plot", "q.svg"], more].concat();
            let said = sandbox.run(&args).refused();
            assert!(said.contains("are the same file"), "{said}");
            assert_eq!(sandbox.names(), ["line.toml", "q.csv"]);
        }
    }

    #[test]
    fn pipes_and_devices_get_the_bytes_and_nobody_waits() {
        let sandbox = Sandbox::with_line(LINE);
        let embed = |to| ["embed", "line.toml", "-o", to];
        sandbox.run(&embed("x.owb")).good();
        let blob = std::fs::read(sandbox.path().join("x.owb")).expect("a blob");
        sandbox.run(&embed("/dev/null")).good();
        let (mut reader, writer) = std::io::pipe().expect("a pipe");
        let answer = sandbox.run_into(&embed("/dev/stdout"), writer);
        assert_eq!(answer.code, Some(0), "{}", answer.err);
        let mut piped = Vec::new();
        reader.read_to_end(&mut piped).expect("bytes");
        assert_eq!(piped, blob);
        let path = sandbox.path().join("fifo");
        let made = Command::new("mkfifo").arg(&path).status();
        if !made.is_ok_and(|status| status.success()) {
            println!("skipped: no mkfifo here");
            return;
        }
        let reader = std::thread::spawn(move || std::fs::read(path).expect("bytes"));
        sandbox.run(&embed("fifo")).good();
        assert_eq!(reader.join().expect("a reader"), blob);
        if std::path::Path::new("/dev/full").exists() {
            let answer = sandbox.run(&embed("/dev/full"));
            assert_eq!(answer.code, Some(1), "{}", answer.err);
        }
    }

    /// So many kills at moments spread over a run.
    const KILLS: u32 = 25;

    #[test]
    fn a_killed_run_leaves_the_old_file_or_the_new_one_and_the_next_clears_up() {
        let sandbox = Sandbox::with_line(format!("{LINE}facing_deg = 170\n"));
        let args = ["sun", "line.toml", "--plot", "a.png"];
        let picture = || std::fs::read(sandbox.path().join("a.png")).expect("a picture");
        let began = std::time::Instant::now();
        sandbox.run(&args).good();
        let whole = began.elapsed();
        let new = picture();
        sandbox
            .run(&[&args[..], &["--within-deg=60"]].concat())
            .good();
        let old = picture();
        assert!(old != new);
        for kill in 0..KILLS {
            let mut child = sandbox.command(&args);
            let child = child.stdout(Stdio::null()).stderr(Stdio::null());
            let mut child = child.spawn().expect("the program starts");
            std::thread::sleep(whole * kill / KILLS);
            child.kill().expect("a kill");
            child.wait().expect("an end");
            let left = picture();
            assert!(left == old || left == new, "after {kill} of {KILLS}");
        }
        sandbox.run(&args).good();
        assert_eq!(sandbox.names(), ["a.png", "line.toml"]);
    }
}
