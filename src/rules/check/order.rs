//! Rules that cannot all be kept whatever the week: orders in a circle, and doses, stand-ins and
//! worths of which only one can speak.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, Code, Diagnostic, ExerciseId, RuleId};
use crate::rules::kinds::DoseRule;
use crate::rules::vocab::Yields;

use super::Checks;
use super::circle::Links;
use super::names::canonical;
use super::reach::{Exercises, Reach};
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

/// A hard rule of order with what it reaches.
struct Order<'p, 't> {
    id: &'p At<RuleId>,
    /// When it speaks, as written; empty where it always does.
    when: String,
    first: Reach<'p, 't>,
    then: Reach<'p, 't>,
}

impl Order<'_, '_> {
    /// Whether what comes last here stands first in another: one lies within the other, and is not
    /// what stands first here, of which the order is free.
    fn leads_to(&self, other: &Self) -> bool {
        let both = if self.then.within(&other.first) {
            &self.then
        } else if other.first.within(&self.then) {
            &other.first
        } else {
            return false;
        };
        !both.is_nothing() && !both.within(&self.first)
    }
}

/// So many steps are taken to compare hard rules of order, each with each; no method has as many
/// rules as that allows, and no input takes long.
const MOST_STEPS: usize = 50_000_000;

fn before(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    // Of rules that say the same the first by id speaks for all.
    let mut hard: BTreeMap<[String; 3], &At<RuleId>> = BTreeMap::new();
    for (id, rule) in &pack.rules.before {
        let written = |key| written(checks, "before", id.as_str(), key);
        if written("first") == written("then") {
            let what = format!(
                "`{id}` asks the same of what stands first and of what comes then, so it asks for nothing"
            );
            checks.problem(
                Code::Contradiction,
                id.place.clone(),
                what,
                "let `first` and `then` select different things",
            );
        } else if rule.yields == Yields::Never {
            let same = [written("when"), written("first"), written("then")];
            hard.entry(same).or_insert(id);
        }
    }
    if hard.len() < 2 {
        return;
    }
    let exercises = Exercises::of(pack);
    let most = (MOST_STEPS / exercises.len().max(1)).isqrt();
    let hard: Vec<Order<'_, '_>> = hard
        .into_iter()
        .take(most)
        .map(|([when, _, _], id)| {
            let node = checks.node(Sort::Rule("before"), id.as_str());
            let reach = |key| {
                let selector = node.and_then(|node| node.entry(key));
                exercises.reach(checks, selector.map(|(_, selector)| selector))
            };
            Order {
                id,
                when,
                first: reach("first"),
                then: reach("then"),
            }
        })
        .collect();
    // Rules that always speak are told by themselves, then with those that speak when they do.
    let mut whens: BTreeSet<&str> = hard.iter().map(|order| order.when.as_str()).collect();
    whens.insert("");
    for when in whens {
        let speaks = |order: &&Order<'_, '_>| order.when.is_empty() || order.when == when;
        let orders: Vec<&Order<'_, '_>> = hard.iter().filter(speaks).collect();
        let mut links = Links::default();
        for order in &orders {
            for next in orders.iter().filter(|next| order.leads_to(next)) {
                links.add(order.id.as_str(), next.id.as_str(), &order.id.place);
            }
        }
        for path in links.circles() {
            let order = |id: &&str| orders.iter().find(|order| order.id.as_str() == *id);
            let rules: Vec<&Order<'_, '_>> = path.iter().filter_map(order).copied().collect();
            if rules.iter().any(|order| order.when == when) {
                checks.out.extend(circle(&rules));
            }
        }
    }
}

fn circle(rules: &[&Order<'_, '_>]) -> Option<Diagnostic> {
    let (start, others) = rules.split_first()?;
    let shown: Vec<&str> = rules
        .iter()
        .chain([start])
        .map(|order| order.id.as_str())
        .collect();
    let mut problem = Diagnostic::new(
        Code::BeforeCircle,
        start.id.place.clone(),
        format!(
            "no session can keep these rules of order, which run in a circle: {}",
            shown.join(" → ")
        ),
        "take one of them out, or let one give way with `yields`",
    );
    let mut before = start.id;
    for order in others {
        let note = format!("`{}` puts first what `{before}` puts last", order.id);
        problem = problem.with_also(order.id.place.clone(), note);
        before = order.id;
    }
    Some(problem)
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
