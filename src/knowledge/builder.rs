//! A case put together in code. Ids are plain text and are checked together when it is built.

use std::sync::Arc;

use crate::base::{At, BadId, BadWeekday, CaseFieldId, Code, Decimal, Diagnostic, Place, Weekday};
use crate::rules::case::{Best, CaseText, FieldValue, Pairs, SeenFault, SureOf, Tried};
use crate::rules::vocab::Came;

use super::{Case, Error, ErrorKind, KnowledgeBase};

/// A case on the way. Every problem is told at [`CaseBuilder::build`], all at once.
#[derive(Clone, Debug)]
#[must_use]
pub struct CaseBuilder {
    base: KnowledgeBase,
    text: CaseText,
    wrong: Vec<Diagnostic>,
    /// The name and text of the file that it goes on from.
    files: Vec<(Arc<str>, Arc<str>)>,
}

/// Makes an id of any kind from its text.
trait FromText: Sized {
    fn from_text(text: &str) -> Result<Self, BadId>;
}

impl<I: std::str::FromStr<Err = BadId>> FromText for I {
    fn from_text(text: &str) -> Result<Self, BadId> {
        text.parse()
    }
}

impl CaseBuilder {
    pub(super) fn new(base: KnowledgeBase) -> Self {
        Self {
            base,
            text: CaseText::default(),
            wrong: Vec::new(),
            files: Vec::new(),
        }
    }

    /// A case that goes on from what a file says.
    pub(super) fn on(base: KnowledgeBase, text: CaseText, file: (Arc<str>, Arc<str>)) -> Self {
        Self {
            base,
            text,
            wrong: Vec::new(),
            files: vec![file],
        }
    }

    /// Tells that the file says something already, where it stands there.
    fn said_in_file(&mut self, there: Option<Place>, what: &str) {
        if let Some(place) = there.filter(|place| !place.is_unknown()) {
            self.wrong.push(Diagnostic::new(
                Code::Contradiction,
                place,
                format!("the case file says {what} already"),
                "say it once: take it out here, or leave out what says it again",
            ));
        }
    }

    fn problem(&mut self, code: Code, what: String, help: &str) {
        self.wrong
            .push(Diagnostic::new(code, Place::unknown(), what, help));
    }

    fn id<I: FromText>(&mut self, text: &str) -> Option<At<I>> {
        match I::from_text(text) {
            Ok(id) => Some(At::nowhere(id)),
            Err(bad) => {
                self.problem(Code::BadId, bad.to_string(), "write an id of the rules");
                None
            }
        }
    }

    fn decimal(&mut self, text: &str) -> Option<Decimal> {
        match text.parse() {
            Ok(number) => Some(number),
            Err(bad) => {
                self.problem(
                    Code::BadNumber,
                    format!("`{text}` is no load: {bad}"),
                    "write a number such as 92.5",
                );
                None
            }
        }
    }

    /// A label for the sheet; it decides nothing.
    pub fn lifter(mut self, label: &str) -> Self {
        self.text.lifter = Some(label.to_owned());
        self
    }

    /// The day from which dates are counted, as YYYY-MM-DD.
    pub fn today(mut self, date: &str) -> Self {
        let there = self.text.today.as_ref().map(|held| held.place.clone());
        self.said_in_file(there, "what day it is");
        self.text.today = Some(At::nowhere(date.to_owned()));
        self
    }

    /// Phase of training.
    pub fn phase(mut self, phase: &str) -> Self {
        let there = self.text.phase.as_ref().map(|held| held.place.clone());
        self.said_in_file(there, "the phase");
        self.text.phase = self.id(phase);
        self
    }

    /// A layout of the days by name, where the rules should not choose it.
    pub fn layout(mut self, layout: &str) -> Self {
        let there = self.text.layout.as_ref().map(|held| held.place.clone());
        self.said_in_file(there, "the layout");
        self.text.layout = self.id(layout);
        self
    }

    /// A fault that was seen, in its only skill.
    pub fn fault(self, fault: &str, grade: &str) -> Self {
        self.saw(fault, None, grade)
    }

    /// A fault that was seen in one of several skills.
    pub fn fault_of(self, fault: &str, skill: &str, grade: &str) -> Self {
        self.saw(fault, Some(skill), grade)
    }

    fn saw(mut self, fault: &str, skill: Option<&str>, grade: &str) -> Self {
        let (fault, grade) = (self.id(fault), self.id(grade));
        let of = skill.and_then(|skill| self.id(skill));
        if let (Some(fault), Some(grade), true) = (fault, grade, skill.is_some() == of.is_some()) {
            self.text.faults.push(At::nowhere(SeenFault {
                fault,
                skill: of,
                grade,
                seen: None,
                of: None,
                from_percent: None,
            }));
        }
        self
    }

    /// In how many attempts of how many the fault that was named last was seen.
    pub fn times(mut self, seen: u16, of: u16) -> Self {
        match self.text.faults.last_mut() {
            Some(fault) => {
                fault.value.seen = Some(At::nowhere(seen));
                fault.value.of = Some(At::nowhere(of));
            }
            None => self.before_a_fault("how often it was seen"),
        }
        self
    }

    /// The load at which the fault that was named last starts, in percent of the best.
    pub fn from_percent(mut self, percent: u8) -> Self {
        match self.text.faults.last_mut() {
            Some(fault) => fault.value.from_percent = Some(At::nowhere(percent)),
            None => self.before_a_fault("the load at which it starts"),
        }
        self
    }

    fn before_a_fault(&mut self, what: &str) {
        let what = format!("{what} is said of a fault, and none has been named");
        self.problem(Code::Contradiction, what, "name the fault first");
    }

    /// A further look that was taken and was true.
    pub fn observed(mut self, observation: &str) -> Self {
        let id = self.id(observation);
        self.text.observed.extend(id);
        self
    }

    /// A measured value, in the measure's whole units.
    pub fn measured(mut self, measure: &str, value: i64) -> Self {
        let id = self.id(measure);
        self.text.measured.extend(id.map(|id| (id, value)));
        self
    }

    /// A cause that the coach has ruled out.
    pub fn ruled_out(mut self, cause: &str) -> Self {
        let id = self.id(cause);
        self.text.ruled_out.extend(id);
        self
    }

    /// A cause of which the coach is sure, in the only skill that it can be meant of.
    pub fn sure_of(self, cause: &str) -> Self {
        self.sure(cause, None)
    }

    /// A cause of one of several skills of which the coach is sure.
    pub fn sure_of_in(self, cause: &str, skill: &str) -> Self {
        self.sure(cause, Some(skill))
    }

    fn sure(mut self, cause: &str, skill: Option<&str>) -> Self {
        let cause = self.id(cause);
        let of = skill.and_then(|skill| self.id(skill));
        if let (Some(cause), true) = (cause, skill.is_some() == of.is_some()) {
            self.text
                .sure_of
                .push(At::nowhere(SureOf { cause, skill: of }));
        }
        self
    }

    /// A best, in the bar's measure, such as `"92.5"`.
    pub fn best(self, reference: &str, load: &str) -> Self {
        self.lifted(reference, load, None)
    }

    /// A best with the day on which it was lifted, as YYYY-MM-DD, which is not after today.
    pub fn best_on(self, reference: &str, load: &str, date: &str) -> Self {
        self.lifted(reference, load, Some(date))
    }

    fn lifted(mut self, reference: &str, load: &str, date: Option<&str>) -> Self {
        if let (Some(id), Some(load)) = (self.id(reference), self.decimal(load)) {
            let best = Best {
                weight: At::nowhere(load),
                on: date.map(|date| At::nowhere(date.to_owned())),
            };
            let there = self
                .text
                .bests
                .get_key_value(&id)
                .map(|(id, _)| id.place.clone());
            self.said_in_file(there, &format!("`{id}`"));
            self.text.bests.insert(id, At::nowhere(best));
        }
        self
    }

    /// What the case says in a field: a word, a whole number or a date; in a field that holds any
    /// number of words, words with commas between them, or an empty text for none.
    pub fn field(mut self, field: &str, value: &str) -> Self {
        if let Some(id) = self.id::<CaseFieldId>(field) {
            let value = if self.base.pack().some_of.contains_key(&id.value) {
                let words = value.split(',').map(|word| word.trim().to_owned());
                FieldValue::Some(if value.trim().is_empty() {
                    Vec::new()
                } else {
                    words.collect()
                })
            } else {
                FieldValue::One(value.to_owned())
            };
            self.put(id, value);
        }
        self
    }

    /// What the case says in a field that holds any number of values.
    pub fn field_of_many<'a>(
        mut self,
        field: &str,
        values: impl IntoIterator<Item = &'a str>,
    ) -> Self {
        if let Some(id) = self.id(field) {
            let values = values.into_iter().map(str::to_owned).collect();
            self.put(id, FieldValue::Some(values));
        }
        self
    }

    fn put(&mut self, id: At<CaseFieldId>, value: FieldValue) {
        let there = self.text.fields.get_key_value(&id);
        let there = there.map(|(id, _)| id.place.clone());
        self.said_in_file(there, &format!("`{id}`"));
        self.text.fields.insert(id, At::nowhere(value));
    }

    /// What the case says in a field for one skill.
    pub fn field_of_skill(mut self, skill: &str, field: &str, value: &str) -> Self {
        if let (Some(skill), Some(field)) = (self.id(skill), self.id(field)) {
            let held = self.text.by_skill.entry(skill).or_default();
            held.insert(field, At::nowhere(FieldValue::One(value.to_owned())));
        }
        self
    }

    /// A day of the week that is trained, `monday` to `sunday`; where none is named, the days are those of the
    /// layout. How many are named is what the case says of the field that counts training days.
    pub fn training_day(mut self, day: &str) -> Self {
        if let Some(day) = self.weekday(day) {
            self.text.training_days.entry(day).or_default();
        }
        self
    }

    /// What the case says in a field for one day of the week, which so is trained.
    pub fn field_of_day(mut self, day: &str, field: &str, value: &str) -> Self {
        if let (Some(day), Some(field)) = (self.weekday(day), self.id(field)) {
            let held = self.text.training_days.entry(day).or_default();
            held.insert(field, At::nowhere(FieldValue::One(value.to_owned())));
        }
        self
    }

    fn weekday(&mut self, word: &str) -> Option<At<Weekday>> {
        match word.parse() {
            Ok(day) => Some(At::nowhere(day)),
            Err(bad) => {
                let bad: BadWeekday = bad;
                let help = "write `monday` to `sunday`";
                self.problem(Code::BadValue, bad.to_string(), help);
                None
            }
        }
    }

    /// The bar; the first by id where nothing is said.
    pub fn bar(mut self, bar: &str) -> Self {
        let there = self.text.gym.bar.as_ref().map(|held| held.place.clone());
        self.said_in_file(there, "the bar");
        self.text.gym.bar = self.id(bar);
        self
    }

    /// A further bar of the same measure that the gym has, for what is too light for the bar.
    pub fn other_bar(mut self, bar: &str) -> Self {
        let bar = self.id(bar);
        self.text.gym.other_bars.extend(bar);
        self
    }

    /// Whether collars are on; true where nothing is said.
    pub fn collars(mut self, on: bool) -> Self {
        self.text.gym.collars = Some(on);
        self
    }

    /// Pairs of one piece that the gym has; any number of all pieces where nothing is said.
    pub fn pairs(mut self, weight: &str, pairs: u8) -> Self {
        if let Some(weight) = self.decimal(weight) {
            self.text
                .gym
                .pairs
                .push(At::nowhere(Pairs { weight, pairs }));
        }
        self
    }

    /// An exercise that the lifter has not done before, by id or as it is written.
    pub fn new_to(mut self, exercise: &str) -> Self {
        self.text.new.push(At::nowhere(exercise.to_owned()));
        self
    }

    /// An exercise that the lifter dislikes, by id or as it is written.
    pub fn disliked(mut self, exercise: &str) -> Self {
        self.text.disliked.push(At::nowhere(exercise.to_owned()));
        self
    }

    /// An exercise that was tried, by id or as it is written, and what came of it: `better`, `learned`,
    /// `same` or `worse`.
    pub fn tried(mut self, exercise: &str, came: &str) -> Self {
        match Came::ALL.into_iter().find(|word| word.as_str() == came) {
            Some(came) => self.text.tried.push(At::nowhere(Tried {
                exercise: At::nowhere(exercise.to_owned()),
                came,
            })),
            None => self.problem(
                Code::BadValue,
                format!("`{came}` is not what can come of an exercise"),
                "write `better`, `learned`, `same` or `worse`",
            ),
        }
        self
    }

    /// An exercise of the week before, by id or as it is written.
    pub fn did_last_week(mut self, exercise: &str) -> Self {
        self.text
            .did_last_week
            .push(At::nowhere(exercise.to_owned()));
        self
    }

    /// Checks the case against its rules.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Case`] with every problem that was found.
    pub fn build(self) -> Result<Case, Error> {
        let base = &self.base;
        let checked = crate::rules::case_check::check_case(self.text, base.pack(), &*base.0);
        match checked {
            Ok(case) if self.wrong.is_empty() => Ok(Case::new(case, self.base.fingerprint())),
            Ok(_) => Err(Error::found(ErrorKind::Case, self.wrong, self.files)),
            Err(more) => {
                let mut wrong = self.wrong;
                wrong.extend(more);
                wrong.sort();
                Err(Error::found(ErrorKind::Case, wrong, self.files))
            }
        }
    }
}
