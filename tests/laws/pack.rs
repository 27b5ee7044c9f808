//! A pack and a case as values that can be changed.

use std::collections::BTreeSet;

use drillwright::explain::{Plan, Proof};
use drillwright::{Answer, Error, KnowledgeBase, Work};
use std::collections::BTreeMap;

use serde_yaml::{Mapping, Value};

use crate::oracle::sized::make;

/// Kinds whose entries stand one level deeper, under a variant.
const WITH_VARIANTS: [&str; 7] = [
    "exercises",
    "causes",
    "factors",
    "case-fields",
    "rules",
    "sources",
    "reviews",
];

/// How much each search of a comparison may do: the few packs that need many times as much as the others are left out.
const RANKED_WORK: Work = Work::nodes(8_000_000);

/// A pack by kind, and a case.
#[derive(Clone, Debug)]
pub struct Pack {
    pub kinds: Mapping,
    pub case: Value,
}

/// How good the best week is, the less the better: units missed, then worth turned round. None is no week.
pub type Rank = Option<([i64; 3], i64)>;

fn lay_over(whole: &mut Mapping, file: Mapping) {
    for (key, value) in file {
        match (whole.get_mut(&key), value) {
            (Some(Value::Mapping(held)), Value::Mapping(more)) => lay_over(held, more),
            (_, value) => {
                whole.insert(key, value);
            }
        }
    }
}

impl Pack {
    pub fn new(files: &[(String, String)], case: &str) -> Self {
        let mut kinds = Mapping::new();
        for (_, text) in files {
            let Value::Mapping(mut file) = serde_yaml::from_str(text).unwrap() else {
                panic!("a file is a map")
            };
            file.remove("format");
            lay_over(&mut kinds, file);
        }
        let case: Value = serde_yaml::from_str(case).unwrap();
        Self { kinds, case }
    }

    /// A pack made at random, without what stands in for full forms.
    pub fn made(seed: u64) -> Self {
        let made = make(seed);
        let mut pack = Self::new(&made.files, &made.case);
        pack.section("rules").remove("fullest");
        pack
    }

    /// The built-in pack and one of the cases.
    pub fn builtin(case: &str) -> Self {
        Self::new(
            &crate::corpus::texts("rules"),
            &crate::corpus::named_text(case),
        )
    }

    pub fn section(&mut self, kind: &str) -> &mut Mapping {
        self.kinds.get_mut(kind).unwrap().as_mapping_mut().unwrap()
    }

    pub fn files(&self) -> Vec<(String, String)> {
        let file = |(kind, body): (&Value, &Value)| {
            let kind = kind.as_str().unwrap().to_owned();
            let mut whole = Mapping::new();
            whole.insert(Value::from("format"), Value::from(1));
            whole.insert(Value::from(kind.as_str()), body.clone());
            // Some readers take the bare word for a truth value.
            let text = serde_yaml::to_string(&whole)
                .unwrap()
                .replace("\n      on:", "\n      'on':");
            (format!("{kind}.yaml"), text)
        };
        self.kinds.iter().map(file).collect()
    }

    pub fn case_text(&self) -> String {
        serde_yaml::to_string(&self.case).unwrap()
    }

    pub fn try_base(&self) -> Result<KnowledgeBase, Error> {
        KnowledgeBase::from_texts(self.files())
    }

    pub fn try_answer(&self) -> Result<Answer, Error> {
        self.answer_within(Work::default())
    }

    fn answer_within(&self, work: Work) -> Result<Answer, Error> {
        let base = self.try_base()?;
        let case = base.case_from_text("case.yaml", &self.case_text())?;
        base.solve_within(&case, work)
    }

    pub fn answer(&self) -> Answer {
        self.try_answer()
            .unwrap_or_else(|error| panic!("{error}\n{}", self.shown()))
    }

    pub fn plan(&self) -> Option<Plan> {
        self.answer().into_week()
    }

    /// None where the search gives up before it has an answer.
    pub fn rank(&self) -> Option<Rank> {
        let answer = self.answer_within(RANKED_WORK);
        rank(&answer.unwrap_or_else(|error| panic!("{error}\n{}", self.shown())))
    }

    /// Without what gives way or only says what a week is worth: whether there is a week is the same.
    pub fn bare(&self) -> Self {
        let mut other = self.clone();
        let rules = other.section("rules");
        for kind in ["prefer", "quality-worth"] {
            rules.remove(kind);
        }
        for (_, section) in rules.iter_mut() {
            section.as_mapping_mut().unwrap().retain(|_, rule| {
                rule.get("yields")
                    .is_none_or(|yields| yields.as_str() == Some("never"))
            });
        }
        rules.retain(|_, section| !section.as_mapping().unwrap().is_empty());
        other
    }

    pub fn shown(&self) -> String {
        format!(
            "{}\n{}",
            serde_yaml::to_string(&self.kinds).unwrap(),
            self.case_text()
        )
    }

    /// Ids and what stands under them, of all entries of a kind.
    pub fn entries(&self, kind: &str) -> Vec<(String, Value)> {
        let Some(Value::Mapping(body)) = self.kinds.get(kind) else {
            return Vec::new();
        };
        let of = |map: &Mapping| -> Vec<(String, Value)> {
            map.iter()
                .map(|(id, entry)| (id.as_str().unwrap().to_owned(), entry.clone()))
                .collect()
        };
        if WITH_VARIANTS.contains(&kind) {
            body.iter()
                .filter_map(|(_, map)| map.as_mapping())
                .flat_map(of)
                .collect()
        } else {
            of(body)
        }
    }

    /// The same, with the constraints of an axis in its place.
    pub fn single_entries(&self, kind: &str) -> Vec<(String, Value)> {
        let single = |(id, entry): (String, Value)| match entry
            .get("constraints")
            .and_then(Value::as_mapping)
        {
            Some(held) => held
                .iter()
                .map(|(id, held)| (id.as_str().unwrap().to_owned(), held.clone()))
                .collect(),
            None => vec![(id, entry)],
        };
        self.entries(kind).into_iter().flat_map(single).collect()
    }

    /// The basis of every source, as rule files call it, by the source's id.
    pub fn bases(&self) -> BTreeMap<String, String> {
        let mut bases = BTreeMap::new();
        for (basis, listed) in self.kinds["sources"].as_mapping().unwrap() {
            for id in listed.as_mapping().unwrap().keys() {
                let basis = basis.as_str().unwrap().to_owned();
                bases.insert(id.as_str().unwrap().to_owned(), basis);
            }
        }
        bases
    }

    /// Kind and id of every rule that a week can break.
    pub fn hard_rules(&self) -> Vec<(String, String)> {
        let rules = self.kinds.get("rules").and_then(Value::as_mapping).unwrap();
        let mut all = Vec::new();
        for (kind, section) in rules {
            for (id, rule) in section.as_mapping().unwrap() {
                let hard = rule.get("yields").and_then(Value::as_str) == Some("never");
                if hard || kind.as_str() == Some("least-load") {
                    all.push((
                        kind.as_str().unwrap().to_owned(),
                        id.as_str().unwrap().to_owned(),
                    ));
                }
            }
        }
        all
    }

    pub fn without_rule(&self, kind: &str, id: &str) -> Self {
        let mut other = self.clone();
        let section = other
            .section("rules")
            .get_mut(kind)
            .unwrap()
            .as_mapping_mut()
            .unwrap();
        assert!(section.remove(id).is_some());
        if section.is_empty() {
            other.section("rules").remove(kind);
        }
        other
    }

    pub fn rule_mut(&mut self, kind: &str, id: &str) -> &mut Mapping {
        let section = self.section("rules").get_mut(kind).unwrap();
        section.get_mut(id).unwrap().as_mapping_mut().unwrap()
    }

    pub fn add_rule(&mut self, kind: &str, id: &str, text: &str) {
        let rules = self.section("rules");
        if !rules.contains_key(kind) {
            rules.insert(Value::from(kind), Value::Mapping(Mapping::new()));
        }
        let mut rule: Mapping = serde_yaml::from_str(text).unwrap();
        let source: Value = self.sources();
        rule.insert(Value::from("because"), Value::from("For a test."));
        rule.insert(Value::from("source"), source);
        let section = self.section("rules").get_mut(kind).unwrap();
        section
            .as_mapping_mut()
            .unwrap()
            .insert(Value::from(id), Value::Mapping(rule));
    }

    /// A source that the pack has.
    pub fn sources(&self) -> Value {
        let id = self.entries("sources").pop().unwrap().0;
        let mut source = Mapping::new();
        source.insert(Value::from(id), Value::from("for a test"));
        Value::Mapping(source)
    }

    /// Takes an exercise away, and its id out of every list that names it beside others; none where
    /// something would be left with no name at all.
    pub fn without_exercise(&self, id: &str) -> Option<Self> {
        let mut other = self.clone();
        for (_, section) in other.section("exercises") {
            section.as_mapping_mut().unwrap().remove(id);
        }
        let mut whole = Value::Mapping(other.kinds);
        strike(&mut whole, id)?;
        strike(&mut other.case, id)?;
        let Value::Mapping(kinds) = whole else {
            return None;
        };
        other.kinds = kinds;
        Some(other)
    }
}

fn strike(value: &mut Value, id: &str) -> Option<()> {
    match value {
        Value::Sequence(items) => {
            let before = items.len();
            items.retain(|item| item.as_str() != Some(id));
            if items.len() < before && items.is_empty() {
                return None;
            }
            items.iter_mut().try_for_each(|item| strike(item, id))
        }
        Value::Mapping(map) => map.iter_mut().try_for_each(|(_, item)| strike(item, id)),
        _ => Some(()),
    }
}

/// None where the search gives up before the answer is proven: a law compares proven weeks.
pub fn rank(answer: &Answer) -> Option<Rank> {
    match answer {
        Answer::Week(plan) if plan.proof == Proof::Claimed => {
            let missed = [plan.missed.last, plan.missed.middle, plan.missed.first];
            Some(Some((missed, -plan.worth)))
        }
        Answer::NoWeek(_) => Some(None),
        _ => None,
    }
}

/// How many comparisons were made, how many could not be for want of an answer, and how many made a difference.
#[derive(Debug, Default)]
pub struct Tally {
    pub compared: u32,
    pub unanswered: u32,
    pub differed: u32,
}

impl Tally {
    /// Both ranks, if both are there.
    pub fn both(&mut self, first: Option<Rank>, second: Option<Rank>) -> Option<(Rank, Rank)> {
        match (first, second) {
            (Some(first), Some(second)) => {
                self.compared += 1;
                self.differed += u32::from(first != second);
                Some((first, second))
            }
            _ => {
                self.unanswered += 1;
                None
            }
        }
    }

    pub fn enough(&self, compared: u32, differed: u32) {
        assert!(
            self.compared >= compared && self.differed >= differed,
            "{self:?}"
        );
        assert!(self.unanswered * 10 <= self.compared, "{self:?}");
    }
}

/// Whether the second is worse than the first.
pub fn worse(first: Rank, second: Rank) -> bool {
    match (first, second) {
        (Some(_), None) => true,
        (None, _) => false,
        (Some(first), Some(second)) => second > first,
    }
}

/// Exercises that stand in a week.
pub fn used(plan: &Plan) -> BTreeSet<String> {
    plan.sessions
        .iter()
        .flat_map(|session| &session.items)
        .map(|item| item.exercise.to_string())
        .collect()
}
