//! The case fields of a case: each value as its field wants it.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use crate::base::{At, CaseFieldId, Code, Place, SkillId, ValueId};

use super::case::FieldValue;
use super::case_check::Value;
use super::case_read::Checking;
use super::check::declared::{dangling, meant};
use super::check::sections::Sort;

/// What a case says of fields, by field.
type Said = IndexMap<At<CaseFieldId>, At<FieldValue>>;

/// The values of all fields, defaults filled in, and the fields that the case itself says.
pub(super) fn fields(
    checking: &mut Checking<'_>,
    said: &Said,
) -> (BTreeMap<CaseFieldId, Value>, BTreeSet<CaseFieldId>) {
    let mut values = BTreeMap::new();
    let mut stated = BTreeSet::new();
    for (id, value) in said {
        stated.insert(id.value.clone());
        if let Some(value) = checking.field(id, value) {
            values.insert(id.value.clone(), value);
        }
    }
    let pack = checking.pack;
    let mut fill = |id: &At<CaseFieldId>, value: Option<Value>| {
        if let (false, Some(value)) = (stated.contains(&id.value), value) {
            values.insert(id.value.clone(), value);
        }
    };
    for (id, field) in &pack.one_of {
        fill(
            id,
            field
                .if_missing
                .as_ref()
                .map(|word| Value::Word(word.value.clone())),
        );
    }
    for (id, field) in &pack.whole {
        fill(
            id,
            field
                .if_missing
                .as_ref()
                .map(|number| Value::Number(number.value)),
        );
    }
    for (id, field) in &pack.some_of {
        let words = field.if_missing.as_ref();
        fill(
            id,
            words.map(|words| Value::Words(words.iter().map(|word| word.value.clone()).collect())),
        );
    }
    (values, stated)
}

/// What a case says of fields for one skill each.
pub(super) fn fields_by_skill(
    checking: &mut Checking<'_>,
    said: &IndexMap<At<SkillId>, Said>,
) -> BTreeMap<(SkillId, CaseFieldId), Value> {
    let pack = checking.pack;
    let mut all = BTreeMap::new();
    for (skill, said) in said {
        let skill = checking.item(Sort::Skill, &pack.skills, skill);
        for (id, value) in said {
            let by_skill = pack
                .one_of
                .get(&id.value)
                .is_some_and(|field| field.by_skill);
            let there = checking.is_field(id);
            if there && !by_skill {
                checking.problem(
                    Code::Contradiction,
                    &id.place,
                    format!("`{id}` cannot be said by skill"),
                    "say it once under `fields`; only a one-of field with `by-skill: true` is said by skill",
                );
            } else if let Some(value) = checking.field(id, value)
                && let Some(skill) = &skill
            {
                all.insert((skill.clone(), id.value.clone()), value);
            }
        }
    }
    all
}

impl Checking<'_> {
    pub(super) fn is_field(&self, id: &CaseFieldId) -> bool {
        let pack = self.pack;
        pack.one_of.contains_key(id)
            || pack.whole.contains_key(id)
            || pack.some_of.contains_key(id)
            || pack.dates.contains_key(id)
    }

    /// The value of a field as the field wants it.
    pub(super) fn field(&mut self, id: &At<CaseFieldId>, said: &At<FieldValue>) -> Option<Value> {
        let pack = self.pack;
        let place = &said.place;
        if let Some(field) = pack.one_of.get(&id.value) {
            let word = self.single(id.as_str(), said, "one of its values")?;
            return self
                .word((Sort::CaseField, id.as_str()), word, &field.values, place)
                .map(Value::Word);
        }
        if let Some(field) = pack.some_of.get(&id.value) {
            let FieldValue::Some(words) = &said.value else {
                let what = format!("`{id}` holds a list of words, not a single one");
                self.problem(
                    Code::WrongType,
                    place,
                    what,
                    "write a list, such as `[one, two]`; `[]` says that there is none",
                );
                return None;
            };
            let mut all = BTreeSet::new();
            let mut whole = true;
            for word in words {
                match self.word((Sort::CaseField, id.as_str()), word, &field.values, place) {
                    Some(id) if all.contains(&id) => {
                        let what = format!("`{word}` stands twice");
                        self.problem(Code::DuplicateId, place, what, "take one out");
                        whole = false;
                    }
                    Some(id) => {
                        all.insert(id);
                    }
                    None => whole = false,
                }
            }
            return whole.then_some(Value::Words(all));
        }
        if let Some(field) = pack.whole.get(&id.value) {
            let text = self.single(id.as_str(), said, "a whole number")?;
            let (from, to, unit) = (field.from, field.to, &field.unit);
            let number = whole_number(text);
            if let Some(number) = number.filter(|number| (from..=to).contains(number)) {
                return Some(Value::Number(number));
            }
            let (code, what) = match number {
                Some(number) => (
                    Code::OutOfRange,
                    format!("`{id}` cannot be {number} {unit}"),
                ),
                None if is_digits(text) => {
                    (Code::OutOfRange, format!("`{id}` cannot be {text} {unit}"))
                }
                None => {
                    let what = format!("`{id}` is a whole number of {unit}, not `{text}`");
                    (Code::BadNumber, what)
                }
            };
            let help = format!("write a whole number from {from} to {to}");
            self.problem(code, place, what, help);
            return None;
        }
        if pack.dates.contains_key(&id.value) {
            let text = self.single(id.as_str(), said, "a date")?;
            return self.date(text, place).map(Value::Date);
        }
        let known = pack
            .one_of
            .keys()
            .chain(pack.some_of.keys())
            .chain(pack.whole.keys())
            .chain(pack.dates.keys());
        let known: Vec<&str> = known.map(|id| id.as_str()).collect();
        self.out
            .push(dangling(Sort::CaseField, id.as_str(), &id.place, &known));
        None
    }

    pub(super) fn single<'v>(
        &mut self,
        id: &str,
        said: &'v At<FieldValue>,
        wanted: &str,
    ) -> Option<&'v str> {
        match &said.value {
            FieldValue::One(word) => Some(word),
            FieldValue::Some(_) => {
                let what = format!("`{id}` holds {wanted}, not a list");
                self.problem(
                    Code::WrongType,
                    &said.place,
                    what,
                    "write it without brackets or hyphens",
                );
                None
            }
        }
    }

    /// A value of a field, if it is one.
    pub(super) fn word<V>(
        &mut self,
        (sort, id): (Sort, &str),
        word: &str,
        values: &IndexMap<At<ValueId>, V>,
        place: &Place,
    ) -> Option<ValueId> {
        if let Some(found) = values.keys().find(|value| value.as_str() == word) {
            return Some(found.value.clone());
        }
        let known: Vec<&str> = values.keys().map(|value| value.as_str()).collect();
        let what = format!("`{word}` is no value of `{id}`");
        self.problem(
            Code::DanglingId,
            place,
            what,
            meant(
                word,
                &known,
                "its values",
                &format!("listed in `{}`", sort.words().2),
            ),
        );
        None
    }
}

/// Whether this is a number that is just too large to be read.
fn is_digits(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text);
    !digits.starts_with('0') && !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit())
}

/// A whole number written in digits, with no sign but a minus and no nought in front.
pub(super) fn whole_number(text: &str) -> Option<i64> {
    let number: i64 = text.parse().ok()?;
    (number.to_string() == text).then_some(number)
}
