//! Rules that cannot all be kept whatever the week: orders in a circle, and doses, stand-ins and
//! worths of which only one can speak.

use std::collections::BTreeMap;

use crate::base::{At, Code, Diagnostic, ExerciseId, RuleId};
use crate::rules::kinds::{Before, DoseRule};
use crate::rules::vocab::Yields;

use super::Checks;
use super::circle::Links;
use super::names::canonical;
use super::sections::Sort;

/// A dose rule with its id.
type Ruled = (At<RuleId>, DoseRule);

/// Checks rules of one kind among themselves.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    before(checks);
    doses(checks);
    stand_ins(checks);
    one_worth(checks);
}

/// Two selectors count as the same when they are written the same, the order of keys and lists aside.
fn written(checks: &Checks<'_, '_>, kind: &'static str, id: &str, key: &str) -> String {
    canonical(
        checks
            .node(Sort::Rule(kind), id)
            .and_then(|node| node.entry(key))
            .map(|(_, node)| node),
    )
}

fn before(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let mut hard: Vec<(&At<RuleId>, String, String)> = Vec::new();
    for (id, rule) in &pack.rules.before {
        let (first, then) = (
            written(checks, "before", id.as_str(), "first"),
            written(checks, "before", id.as_str(), "then"),
        );
        if first == then {
            let what = format!(
                "`{id}` asks the same of what stands first and of what comes then, so it asks for nothing"
            );
            checks.problem(
                Code::Contradiction,
                id.place.clone(),
                what,
                "let `first` and `then` select different things",
            );
        } else if is_hard(rule) {
            hard.push((id, first, then));
        }
    }
    // Of rules that say the same the first by id speaks for all.
    let mut links = Links::default();
    let mut said_by: BTreeMap<(&str, &str), &At<RuleId>> = BTreeMap::new();
    for (id, first, then) in &hard {
        links.add(first, then, &id.place);
        said_by.entry((first, then)).or_insert(id);
    }
    for path in links.circles() {
        let steps = path.iter().zip(path.iter().cycle().skip(1));
        let mut rules: Vec<&At<RuleId>> = steps
            .filter_map(|(first, then)| said_by.get(&(*first, *then)).copied())
            .collect();
        let least = rules
            .iter()
            .enumerate()
            .min_by_key(|(_, id)| **id)
            .map_or(0, |(at, _)| at);
        rules.rotate_left(least);
        let Some((start, others)) = rules.split_first() else {
            continue;
        };
        let shown: Vec<&str> = rules.iter().chain([start]).map(|id| id.as_str()).collect();
        let mut problem = Diagnostic::new(
            Code::BeforeCircle,
            start.place.clone(),
            format!(
                "no session can keep these rules of order, which run in a circle: {}",
                shown.join(" → ")
            ),
            "take one of them out, or let one give way with `yields`",
        );
        for other in others {
            problem = problem.with_also(other.place.clone(), format!("`{other}` stands here"));
        }
        checks.out.push(problem);
    }
}

fn is_hard(rule: &Before) -> bool {
    rule.yields == Yields::Never && rule.when.is_none()
}

fn doses(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let mut links = Links::default();
    // By `what` and `when` as written.
    let mut same: BTreeMap<(String, String), Vec<&Ruled>> = BTreeMap::new();
    for rule in &pack.rules.dose {
        let (id, body) = rule;
        for other in &body.instead_of {
            if checks.declared.has(Sort::Rule("dose"), other.as_str()) {
                links.add(id.as_str(), other.as_str(), &other.place);
            }
        }
        let key = (
            written(checks, "dose", id.as_str(), "what"),
            written(checks, "dose", id.as_str(), "when"),
        );
        let group = same.entry(key).or_default();
        let clash = group.iter().find(|(other, held)| {
            !held.instead_of.iter().any(|named| named == id)
                && !body.instead_of.iter().any(|named| named == other)
        });
        if let Some((other, _)) = clash {
            let (late, early) = if other.place > id.place {
                (other, id)
            } else {
                (id, other)
            };
            checks.out.push(
                Diagnostic::new(
                    Code::Contradiction,
                    late.place.clone(),
                    format!("`{early}` and `{late}` always speak of the same, and only one dose can be given"),
                    format!("add `instead-of: [{early}]` to `{late}`, or select something else"),
                )
                .with_also(early.place.clone(), format!("`{early}` stands here")),
            );
        }
        group.push(rule);
    }
    for path in links.circles() {
        let help = "take one of the names out of `instead-of`";
        let what = "these dose rules stand instead of one another in a circle";
        checks
            .out
            .extend(links.problem(Code::Circle, &path, what, help));
    }
}

/// Competition forms have one stand-in rule each, and it looks under roots.
fn stand_ins(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let mut held: BTreeMap<&str, &At<ExerciseId>> = BTreeMap::new();
    let mut rules: Vec<_> = pack.rules.fullest.iter().collect();
    rules.sort_by(|(_, one), (_, other)| one.of.place.cmp(&other.of.place));
    for (_, rule) in rules {
        checks.competition_root(
            rule.of.as_str(),
            &rule.of.place,
            "`of` names a competition form",
        );
        for other in &rule.or_of {
            if checks.declared.is_read(Sort::Exercise, other.as_str())
                && !pack.roots.contains_key(&other.value)
            {
                let what = format!("`or-of` names roots, and `{other}` is none");
                checks.problem(
                    Code::Contradiction,
                    other.place.clone(),
                    what,
                    "write the root that it comes from",
                );
            }
        }
        if let Some(first) = held.get(rule.of.as_str()) {
            checks.out.push(
                Diagnostic::new(
                    Code::Contradiction,
                    rule.of.place.clone(),
                    format!("two rules say what stands in for `{}`", rule.of),
                    "keep one of them; it can look under several roots with `or-of`",
                )
                .with_also(first.place.clone(), "the other stands here"),
            );
        } else {
            held.insert(rule.of.as_str(), &rule.of);
        }
    }
}

/// Exactly one rule says what help is worth, so two may not always speak.
fn one_worth(checks: &mut Checks<'_, '_>) {
    let mut always: Vec<&At<RuleId>> = checks
        .pack
        .rules
        .help_worth
        .iter()
        .filter(|(_, rule)| rule.when.is_none())
        .map(|(id, _)| id)
        .collect();
    always.sort_by(|one, other| one.place.cmp(&other.place));
    if let Some((first, others)) = always.split_first() {
        for other in others {
            checks.out.push(
                Diagnostic::new(
                    Code::Contradiction,
                    other.place.clone(),
                    format!("`{first}` and `{other}` both always say what help is worth"),
                    "keep one of them, or say with `when` which speaks",
                )
                .with_also(first.place.clone(), format!("`{first}` stands here")),
            );
        }
    }
}
