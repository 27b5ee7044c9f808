//! Every rule of the built-in method decides something: `cases.txt` names, for each, a case written by hand
//! whose answer is another one without that rule.
//!
//! After a change of the method a rule may need another case:
//! `cargo test --release --test main every_rule::found -- --ignored --nocapture` looks for one.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use drillwright::explain::{Item, Plan};
use drillwright::{Answer, Error, ErrorKind, KnowledgeBase, Work};
use serde_yaml::{Mapping, Value};

use crate::corpus::{ALL, BASE, NODES, Solved, named, on_two_threads, texts};

/// The kind of a rule and its id.
type Key = (String, String);

/// What a lifter reads of an answer, reasons aside.
#[derive(Debug, PartialEq, Eq)]
enum Shown {
    Week(Vec<String>),
    /// No week, and what is said about it.
    None(Vec<String>),
    /// The rules leave open what they must decide.
    Refused,
}

/// One line of a sheet: what, how often, how heavy.
fn line(item: &Item) -> String {
    let load = item.load.as_ref().map(|load| (&load.low, &load.high));
    format!(
        "{} {} {}: {} x {:?}, {:?}, {load:?}, rest {}, after {:?}, watch {:?}, notes {:?}",
        item.part,
        item.role,
        item.exercise,
        item.sets,
        item.round,
        item.percent,
        item.rest_seconds,
        item.lighter_sets,
        item.watch
            .as_ref()
            .map(|watch| (&watch.look, &watch.lighten)),
        item.notes
            .iter()
            .map(|said| &said.words)
            .collect::<Vec<_>>()
    )
}

fn sheet(plan: &Plan) -> Vec<String> {
    let mut all = vec![format!("{}", plan.layout)];
    all.extend(
        plan.focus
            .iter()
            .map(|on| format!("on {} {}", on.skill, on.cause)),
    );
    for session in &plan.sessions {
        let (day, minutes) = (session.day, session.minutes());
        all.push(format!("day {day} {}, {minutes} minutes", session.effort));
        all.extend(session.items.iter().map(line));
    }
    let missed = plan.shortfalls.iter();
    all.extend(missed.map(|one| format!("missed {} {} {:?}", one.ruling, one.units, one.days)));
    let instead = plan.stand_ins.iter();
    all.extend(instead.map(|one| format!("{:?} for {}", one.exercise, one.of)));
    all.extend(plan.cautions.iter().map(|said| said.words.clone()));
    all
}

/// None where the search ends before the answer is proven: such answers may differ by chance.
fn shown(answer: &Result<Answer, Error>) -> Option<Shown> {
    match answer {
        Ok(Answer::Week(plan)) if plan.bound.is_none() => Some(Shown::Week(sheet(plan))),
        Ok(Answer::NoWeek(none)) => Some(Shown::None(
            none.cautions
                .iter()
                .map(|said| said.words.clone())
                .collect(),
        )),
        Err(error) if error.kind() == ErrorKind::Open => Some(Shown::Refused),
        _ => None,
    }
}

/// The rule files, and what they hold where they hold rules.
struct Files(Vec<(String, String, Option<Mapping>)>);

impl Files {
    fn read() -> Self {
        let file = |(name, text): (String, String)| {
            let whole: Value = serde_yaml::from_str(&text).unwrap();
            let held = whole.get("rules").and_then(Value::as_mapping).cloned();
            (name, text, held)
        };
        Self(texts("rules").into_iter().map(file).collect())
    }

    fn rules(&self) -> BTreeSet<Key> {
        let word = |value: &Value| value.as_str().unwrap().to_owned();
        self.0
            .iter()
            .filter_map(|(_, _, held)| held.as_ref())
            .flatten()
            .flat_map(|(kind, of_kind)| {
                let ids = of_kind.as_mapping().unwrap().keys();
                ids.map(move |id| (word(kind), word(id)))
            })
            .collect()
    }

    /// The method less one rule, which nothing else names any more either.
    fn without(&self, (kind, id): &Key) -> KnowledgeBase {
        let files = self.0.iter().filter_map(|(name, text, held)| {
            let Some(held) = held.as_ref().filter(|_| text.contains(id.as_str())) else {
                return Some((name.clone(), text.clone()));
            };
            let mut held = held.clone();
            if let Some(of_kind) = held.get_mut(kind).and_then(Value::as_mapping_mut) {
                of_kind.remove(id);
                for (_, rule) in of_kind.iter_mut() {
                    strike(rule.as_mapping_mut().unwrap(), id);
                }
            }
            held.retain(|_, of_kind| !of_kind.as_mapping().unwrap().is_empty());
            let mut whole = Mapping::new();
            whole.insert(Value::from("format"), Value::from(1));
            whole.insert(Value::from("rules"), Value::Mapping(held.clone()));
            // Some readers take the bare word for a truth value.
            let text = serde_yaml::to_string(&whole)
                .unwrap()
                .replace("\n      on:", "\n      'on':");
            (!held.is_empty()).then_some((name.clone(), text))
        });
        KnowledgeBase::from_texts(files).unwrap_or_else(|error| panic!("{kind} {id}: {error}"))
    }
}

/// Takes a rule out of what another stands instead of.
fn strike(rule: &mut Mapping, id: &str) {
    let Some(Value::Sequence(of)) = rule.get_mut("instead-of") else {
        return;
    };
    of.retain(|one| one.as_str() != Some(id));
    if of.is_empty() {
        rule.remove("instead-of");
    }
}

/// A case that is another one without a rule.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Line {
    case: String,
    /// Whether variations that nobody listed are asked for.
    composed: bool,
}

/// By rule its line.
fn table() -> BTreeMap<Key, Line> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/every_rule/cases.txt");
    let text = fs::read_to_string(path).unwrap();
    let mut table = BTreeMap::new();
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        let mut words = line.splitn(3, ' ');
        let (Some(kind), Some(id), Some(rest)) = (words.next(), words.next(), words.next()) else {
            panic!("no line of kind, rule and case: {line:?}");
        };
        let (case, composed) = match rest.strip_suffix(" --compose") {
            Some(case) => (case, true),
            None => (rest, false),
        };
        let line = Line {
            case: case.to_owned(),
            composed,
        };
        let before = table.insert((kind.to_owned(), id.to_owned()), line);
        assert!(before.is_none(), "{kind} {id} stands twice");
    }
    table
}

/// What a case comes to without a rule, however much of the usual work it takes.
fn answer(base: &KnowledgeBase, solved: &Solved, composed: bool) -> Option<Shown> {
    let case = base.case_from_text(&solved.name, &solved.text).unwrap();
    let [_, nodes] = NODES;
    if composed {
        let (base, case) = base.composed(&case).unwrap();
        shown(&base.solve_within(&case, Work::nodes(nodes)))
    } else {
        shown(&base.solve_within(&case, Work::nodes(nodes)))
    }
}

/// The rules that say what to look at in a case's week.
fn watches(solved: &Solved) -> BTreeSet<String> {
    let sessions = solved
        .answer
        .week()
        .into_iter()
        .flat_map(|plan| &plan.sessions);
    sessions
        .flat_map(|session| &session.items)
        .filter_map(|item| item.watch.as_ref().map(|watch| watch.rule.to_string()))
        .collect()
}

#[test]
fn has_a_line() {
    let (rules, table) = (Files::read().rules(), table());
    let bare: Vec<_> = rules
        .iter()
        .filter(|key| !table.contains_key(*key))
        .collect();
    assert!(bare.is_empty(), "rules without a case: {bare:#?}");
    let stray: Vec<_> = table.keys().filter(|key| !rules.contains(*key)).collect();
    assert!(stray.is_empty(), "lines without a rule: {stray:#?}");
}

#[test]
fn decides_something_in_its_case() {
    let (files, table) = (Files::read(), table());
    let lines: Vec<(Key, Line)> = table.into_iter().collect();
    let wrong: Vec<String> = on_two_threads(&lines, |(key, Line { case, composed })| {
        let solved = named(case);
        assert!(solved.by_hand(), "{case} is varied from another case");
        let with = if *composed {
            answer(&BASE, solved, true)
        } else {
            shown(&Ok(solved.answer.clone()))
        };
        assert!(with.is_some(), "{case} is not proven");
        // What is only said is said by the rule that the item names; another week needs no search for it.
        if key.0 == "watch" {
            let said = watches(solved).contains(&key.1);
            return (!said).then(|| format!("{} {}: {case}", key.0, key.1));
        }
        let without = answer(&files.without(key), solved, *composed);
        let is_open = if without.is_none() {
            " (not proven)"
        } else {
            ""
        };
        (without.is_none() || without == with)
            .then(|| format!("{} {}: {case}{is_open}", key.0, key.1))
    })
    .into_iter()
    .flatten()
    .collect();
    assert!(
        wrong.is_empty(),
        "the same without the rule, or not proven: {wrong:#?}"
    );
}

/// Cases for rules whose line is missing or says nothing any more.
#[test]
#[ignore = "looks for new lines of cases.txt"]
fn found() {
    let (files, table) = (Files::read(), table());
    for key in files.rules() {
        let base = files.without(&key);
        let decides = |solved: &Solved| {
            let with = shown(&Ok(solved.answer.clone()));
            let without = answer(&base, solved, false);
            with.is_some() && without.is_some() && with != without
        };
        if let Some(line) = table.get(&key)
            && !line.composed
            && decides(named(&line.case))
        {
            continue;
        }
        let case = ALL
            .iter()
            .find(|solved| solved.by_hand() && decides(solved));
        let name = case.map_or("(none)", |solved| solved.name.trim_end_matches(".yaml"));
        println!("{} {} {name}", key.0, key.1);
    }
}
