//! The example command line, run as a program: what it prints, in which form, with which exit status.

mod answers;
mod check;
mod clash;
mod colour;
mod demo;
mod errors;
mod json;
mod models;
mod names;
mod pages;
mod readme;
mod rule_tests;
mod said;
pub mod schemas;
mod track;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

use drillwright::{Answer, Error, KnowledgeBase};

/// What a run of the program came to.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// The output as JSON.
    #[track_caller]
    pub fn json(&self) -> serde_json::Value {
        match serde_json::from_str(&self.out) {
            Ok(value) => value,
            Err(error) => panic!("no JSON ({error}): {}{}", self.out, self.err),
        }
    }
}

/// The folder of the project, where the program is run.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The program that cargo has built beside the tests.
pub fn binary() -> PathBuf {
    let tests = std::env::current_exe().unwrap();
    let built = tests.parent().and_then(Path::parent).unwrap();
    let path = built
        .join("examples")
        .join(format!("coach{}", std::env::consts::EXE_SUFFIX));
    assert!(
        path.exists(),
        "{} is not there: `cargo test` builds the examples, `cargo test --test main` does not; \
         run `cargo build --examples` with the same profile first",
        path.display()
    );
    path
}

pub fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(binary());
    command
        .args(arguments)
        .current_dir(root())
        .env_remove("NO_COLOR")
        .stdin(Stdio::null());
    command
}

pub fn coach(arguments: &[&str]) -> Ran {
    let output = command(arguments).output().unwrap();
    Ran {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// The path of a kept case, as it is given to the program.
pub fn kept(case: &str) -> String {
    format!("tests/cases/{case}.yaml")
}

/// The built-in rules, read once for all tests.
pub fn rules() -> &'static KnowledgeBase {
    static RULES: OnceLock<KnowledgeBase> = OnceLock::new();
    RULES.get_or_init(|| KnowledgeBase::builtin().unwrap())
}

/// The library's answer to a case file.
pub fn answer(path: &str) -> Answer {
    let text = std::fs::read_to_string(root().join(path)).unwrap();
    let case = rules().case_from_text(path, &text).unwrap();
    rules().solve(&case).unwrap()
}

/// Cases of different kinds that are decided in about a second at most.
pub const QUICK: [&str; 8] = [
    "sore-shoulder-4-days",
    "novice-without-full-lifts",
    "last-week-3-days",
    "three-days-half-an-hour",
    "competition-4-days-jerk",
    "pound-gym-4-days",
    "clean-not-stood-up-legs",
    "opposite-causes",
];

/// A folder of its own for one test, taken away when it is done.
pub struct Folder(PathBuf);

impl Folder {
    pub fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("drillwright-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    pub fn path(&self) -> &str {
        self.0.to_str().unwrap()
    }

    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        let path = self.0.join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _kept_if_it_cannot_go = std::fs::remove_dir_all(&self.0);
    }
}

/// The built-in rules with some text in one of their files replaced.
pub fn rules_with(from: &str, to: &str) -> KnowledgeBase {
    let mut files = rule_files();
    let held = files.iter_mut().find(|(_, text)| text.contains(from));
    let held = held.unwrap();
    held.1 = held.1.replacen(from, to, 1);
    KnowledgeBase::from_texts(files).unwrap()
}

/// The built-in rules with a file `t.yaml` beside them: this text, with some of it replaced.
pub fn rules_and(text: &str, from: &str, to: &str) -> Result<KnowledgeBase, Error> {
    assert!(text.contains(from), "{from}");
    rules_beside(&[("t.yaml", &text.replacen(from, to, 1))])
}

/// The built-in rules with these files beside them.
pub fn rules_beside(more: &[(&str, &str)]) -> Result<KnowledgeBase, Error> {
    let mut files = rule_files();
    files.extend(
        more.iter()
            .map(|(name, text)| ((*name).to_owned(), (*text).to_owned())),
    );
    KnowledgeBase::from_texts(files)
}

/// That a problem in `t.yaml` says this, or helps with it.
pub fn assert_told(wrong: &Error, what: &str) {
    let mut all = wrong.diagnostics().iter();
    let found = all.any(|told| {
        let said = format!("{told} {}", told.help);
        said.contains(what) && &*told.place.file == "t.yaml"
    });
    assert!(found, "{what}: {wrong}");
}

/// Names and texts of the rule files.
pub fn rule_files() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(root().join("rules")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            all.push((name, std::fs::read_to_string(&path).unwrap()));
        }
    }
    all.sort();
    all
}
