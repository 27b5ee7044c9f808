//! The cases of `tests/cases`, each solved once with the built-in rules, and small questions about what came out.
//!
//! The limit of work is small: what is asserted of a week here holds of every
//! week that is handed out, best or not.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;
use std::thread;

use drillwright::explain::{ExerciseEntry, Item, Plan, Session};
use drillwright::{Answer, Case, KnowledgeBase, Work};
use serde_yaml::Value;

/// Nodes for one case; more where so many find no week.
pub const NODES: [u64; 2] = [24_000_000, 60_000_000];

/// A case and its answer.
#[derive(Debug)]
pub struct Solved {
    pub name: String,
    pub text: String,
    /// What stands under `case`.
    pub said: Value,
    pub case: Case,
    pub answer: Answer,
}

pub static BASE: LazyLock<KnowledgeBase> = LazyLock::new(|| KnowledgeBase::builtin().unwrap());

pub static ALL: LazyLock<Vec<Solved>> =
    LazyLock::new(|| on_two_threads(&texts("tests/cases"), solved));

/// What `each` makes of all of these, in their order.
pub fn on_two_threads<T: Sync, R: Send>(all: &[T], each: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let (half, each) = (all.len().div_ceil(2).max(1), &each);
    thread::scope(|scope| {
        let threads: Vec<_> = all
            .chunks(half)
            .map(|part| scope.spawn(move || part.iter().map(each).collect::<Vec<_>>()))
            .collect();
        threads
            .into_iter()
            .flat_map(|thread| thread.join().unwrap())
            .collect()
    })
}

static ENTRIES: LazyLock<BTreeMap<String, ExerciseEntry>> = LazyLock::new(|| {
    let entries = BASE.exercises().into_iter();
    entries.map(|entry| (entry.id.to_string(), entry)).collect()
});

/// Names and texts of the YAML files of a folder of this package, by name.
pub fn texts(folder: &str) -> Vec<(String, String)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut all: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "yaml"))
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect();
    all.sort();
    all
}

fn solved((name, text): &(String, String)) -> Solved {
    let case = BASE.case_from_text(name, text).unwrap();
    let answers = NODES
        .into_iter()
        .map(|nodes| BASE.solve_within(&case, Work::nodes(nodes)).unwrap());
    let mut last = None;
    for answer in answers {
        let none = matches!(answer, Answer::NotFound(_));
        last = Some(answer);
        if !none {
            break;
        }
    }
    let answer = last.unwrap();
    let whole: Value = serde_yaml::from_str(text).unwrap();
    Solved {
        name: name.clone(),
        text: text.clone(),
        said: whole["case"].clone(),
        case,
        answer,
    }
}

impl Solved {
    /// The word that the case says in a field; empty where it says none.
    pub fn word(&self, field: &str) -> &str {
        self.said["fields"]
            .get(field)
            .and_then(Value::as_str)
            .unwrap_or("")
    }

    /// The words that the case says in a field that holds several.
    pub fn words(&self, field: &str) -> Vec<&str> {
        self.said["fields"]
            .get(field)
            .and_then(Value::as_sequence)
            .map(|words| words.iter().filter_map(Value::as_str).collect())
            .unwrap_or_default()
    }

    /// Whether it was written by hand, not varied from another.
    pub fn by_hand(&self) -> bool {
        !self.text.contains("# Varied from ")
    }

    pub fn phase(&self) -> &str {
        self.said["phase"].as_str().unwrap()
    }
}

/// All cases that have a week.
pub fn weeks() -> impl Iterator<Item = (&'static Solved, &'static Plan)> {
    ALL.iter()
        .filter_map(|solved| Some((solved, solved.answer.week()?)))
}

/// Every item of every week.
pub fn items() -> impl Iterator<Item = (&'static Solved, &'static Session, &'static Item)> {
    weeks().flat_map(|(solved, week)| {
        week.sessions.iter().flat_map(move |session| {
            session
                .items
                .iter()
                .map(move |item| (solved, session, item))
        })
    })
}

/// A week of the general phase with both full lifts, whose lifter is no novice.
pub fn plain() -> (&'static Solved, &'static Plan) {
    let whole = |plan: &Plan, lift: &str| {
        let mut items = plan.sessions.iter().flat_map(|session| &session.items);
        items.any(|item| item.exercise.as_str() == lift && item.role.as_str() == "competition")
    };
    weeks()
        .find(|(solved, plan)| {
            solved.phase() == "general"
                && solved.word("level") != "novice"
                && whole(plan, "snatch")
                && whole(plan, "clean-and-jerk")
        })
        .unwrap()
}

pub fn named(name: &str) -> &'static Solved {
    let file = format!("{name}.yaml");
    ALL.iter().find(|solved| solved.name == file).unwrap()
}

pub fn entry(item: &Item) -> &'static ExerciseEntry {
    &ENTRIES[item.exercise.as_str()]
}

pub fn skills(item: &Item) -> BTreeSet<&'static str> {
    entry(item)
        .skills
        .iter()
        .map(|skill| skill.as_str())
        .collect()
}

pub fn is_of(item: &Item, wanted: &[&str]) -> bool {
    skills(item).iter().any(|skill| wanted.contains(skill))
}

pub fn has(item: &Item, constraint: &str) -> bool {
    item.constraints
        .iter()
        .any(|held| held.as_str() == constraint)
}

/// A snatch, clean or jerk that is received: no pull and no press, or a complex of such.
pub fn is_lift(item: &Item) -> bool {
    is_of(item, &["snatch", "clean", "jerk"])
        && (entry(item).complex
            || !["no-turnover", "high-pull", "strict-press", "no-rebend"]
                .iter()
                .any(|held| has(item, held)))
}

/// A pull without going under the bar, done alone.
pub fn is_pull(item: &Item) -> bool {
    !entry(item).complex && has(item, "no-turnover")
}

/// The text of a case.
pub fn named_text(name: &str) -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("tests/cases/{name}.yaml"));
    fs::read_to_string(path).unwrap()
}
