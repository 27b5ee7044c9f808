//! Weeks in a row: a case after a week, and a whole training block.

use std::collections::BTreeSet;

use crate::base::{At, Cancel, CaseFieldId, TrainingBlockId};
use crate::explain::{
    After, Answer, Beyond, BlockWeek, Called, Named, Plan, Saying, Says, TrainingBlock, changes,
    day_in_words, figures, of_the_rules, take_back, value_in_words,
};
use crate::plan::course::{Laid, laid};
use crate::rules::case_check::{Before, Value};
use crate::rules::vocab;

use super::{Case, Error, ErrorKind, KnowledgeBase, Work};

/// The most points of each search that asks what something would cost.
const ASKING_WORK: u64 = 3_000_000;

/// Days of a week.
const WEEK: i64 = 7;

/// The first Monday that is not before a day.
const fn monday(day: i64) -> i64 {
    // 1970-01-01 was a Thursday.
    day + (4 - day).rem_euclid(WEEK)
}

/// The week that a day is in, counted from 1 from the Monday on which a block begins.
const fn week_in(begins: i64, day: i64) -> i64 {
    (day - begins).div_euclid(WEEK) + 1
}

/// A block that was chosen, with the weeks that it has.
struct Chosen<'a> {
    id: &'a At<TrainingBlockId>,
    block: &'a vocab::TrainingBlock,
    weeks: u16,
}

impl KnowledgeBase {
    /// The case of the week after: the same, after a week that was made for it. That week's exercises are those of the week
    /// before, with their sets and loads and for how many weeks in a row they have been done.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case or week of other rules.
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::KnowledgeBase;
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules.case().phase("general").field("days", "2").build()?;
    /// let week = rules.solve(&case)?.into_week().expect("a plain case has a week");
    /// let next = rules.week_after(&case, &week)?;
    /// assert!(rules.solve(&next)?.into_week().is_some());
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn week_after(&self, case: &Case, week: &Plan) -> Result<Case, Error> {
        self.is_of_these_rules(week)?;
        self.is_case_of_these_rules(case)?;
        let mut next = case.clone();
        let items = week.sessions.iter().flat_map(|session| &session.items);
        let before = items.map(|item| Before {
            exercise: item.exercise.clone(),
            role: item.role.clone(),
            sets: item.sets,
            reps: item.reps,
            percent: item.percent.map(|(_, high)| high),
            weeks: case.checked.weeks_in_a_row(&item.exercise) + 1,
        });
        next.checked.week_before = before.collect();
        next.checked.week_before.sort();
        next.checked.did_last_week.clear();
        next.checked.so_far = Default::default();
        if let Some(today) = &mut next.checked.today {
            *today += WEEK;
        }
        Ok(next)
    }

    /// A training block for a case: so many weeks, or as many as there are to the day on which it is to end. How they are
    /// laid out is a matter of the rules (`training-blocks`). They are made one after the other, each the best after the one
    /// before it; that no other row of weeks would be better together is neither asked nor proven. What changes from week to
    /// week comes with its reasons, and each week with its figures (`week-figures`).
    ///
    /// Weeks begin on Mondays, the first on the day that the case calls today or after it.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case of other rules, [`ErrorKind::Open`] where no or several blocks of the rules fit,
    /// where the week has begun, and as for [`KnowledgeBase::solve`].
    ///
    /// # Examples
    ///
    /// ```no_run
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::{Cancel, KnowledgeBase, Work};
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules.case().phase("general").field("days", "3").build()?;
    /// let block = rules.block(&case, Some(4), Work::default(), &Cancel::new())?;
    /// for week in &block.weeks {
    ///     println!("{}: {}, {} repetitions", week.number, week.phase.name, week.plan.lifts);
    /// }
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn block(
        &self,
        case: &Case,
        weeks: Option<u16>,
        work: Work,
        cancel: &Cancel,
    ) -> Result<TrainingBlock, Error> {
        Ok(self.block_of_cases(case, weeks, work, cancel)?.0)
    }

    /// A block with the case of each of its weeks, and that of the week at which it stopped.
    pub(super) fn block_of_cases(
        &self,
        case: &Case,
        weeks: Option<u16>,
        work: Work,
        cancel: &Cancel,
    ) -> Result<(TrainingBlock, Vec<Case>), Error> {
        self.is_case_of_these_rules(case)?;
        if case.checked.so_far != Default::default() {
            return Err(Error::new(
                ErrorKind::Open,
                "a block begins with a whole week, and this one has begun; make the rest of it first",
            ));
        }
        let begins = case.checked.today.map(monday);
        let Chosen { id, block, weeks } = self.chosen(case, weeks, begins)?;
        let mut made = TrainingBlock {
            fingerprint: self.fingerprint().to_owned(),
            lifter: case.checked.lifter.clone(),
            laid_out: Called::new(self.glossary(), Named::TrainingBlock, &id.value),
            because: Says {
                path: format!("training-blocks.{id}"),
                place: id.place.clone(),
                because: block.because.clone(),
            },
            figures: of_the_rules(self.pack(), self.glossary()),
            beyond: self.beyond(case, begins, weeks),
            weeks: Vec::new(),
            stopped: None,
        };
        let mut cases = Vec::new();
        let mut next = case.clone();
        next.checked.today = begins;
        for (number, laid) in (1..).zip(laid(self.pack(), block, weeks)) {
            self.say(&mut next, &laid);
            if number == weeks {
                self.ends_before(&next, block)?;
            }
            let was = made.weeks.last().map(|week| &week.plan);
            let (answer, told) = self.solve_then(&next, (work, cancel), |held, plan| {
                let handing = self.handing(held.setting, held.week, held.loads);
                let changes = was.map_or_else(Vec::new, |was| {
                    changes(&After {
                        held,
                        handing: &handing,
                        was,
                        is: plan,
                        work: ASKING_WORK,
                        cancel,
                    })
                });
                (figures(&handing, held.days), changes)
            })?;
            let (plan, (figures, changes)) = match (answer, told) {
                (Answer::Week(plan), Some(told)) => (plan, told),
                (other, _) => {
                    made.stopped = Some(Box::new(other));
                    cases.push(next);
                    break;
                }
            };
            let begins = next.checked.today.map(day_in_words);
            let after = self.week_after(&next, &plan)?;
            cases.push(std::mem::replace(&mut next, after));
            made.weeks.push(BlockWeek {
                number,
                begins,
                phase: Called::new(self.glossary(), Named::Phase, &laid.phase),
                says: laid.says.map(|(field, value)| {
                    let says = value_in_words(self.glossary(), &field, &Value::Word(value));
                    (field, says)
                }),
                plan: *plan,
                figures,
                changes,
            });
        }
        Ok((made, cases))
    }

    /// The days to which blocks of the rules lead and that lie after so many weeks.
    fn beyond(&self, case: &Case, begins: Option<i64>, weeks: u16) -> Vec<Beyond> {
        let blocks = self.pack().training_blocks.values();
        let ends: BTreeSet<_> = blocks
            .filter_map(|block| Some(&block.ends_on.as_ref()?.value))
            .collect();
        let of = |field: &CaseFieldId| {
            let Some(Value::Date(on)) = case.checked.fields.get(field) else {
                return None;
            };
            let week = week_in(begins?, *on);
            (week > i64::from(weeks)).then(|| Beyond {
                field: Called::new(self.glossary(), Named::CaseField, field),
                on: day_in_words(*on),
                week,
            })
        };
        ends.into_iter().filter_map(of).collect()
    }

    /// Refuses a last week that trains on the day on which the block is to end, or after it.
    fn ends_before(&self, case: &Case, block: &vocab::TrainingBlock) -> Result<(), Error> {
        let said = block.ends_on.as_ref();
        let date = said.and_then(|field| Some((field, case.checked.fields.get(&field.value)?)));
        let (Some((field, Value::Date(date))), Some(begins)) = (date, case.checked.today) else {
            return Ok(());
        };
        let setting = self.setting(case)?;
        let layout = self.week(&setting)?;
        let its_day = date - begins + 1;
        let mut days = layout
            .days
            .iter()
            .map(|day| i64::from(day.layout.day.value));
        match days.find(|day| *day >= its_day) {
            Some(day) => Err(Error::new(
                ErrorKind::Open,
                format!(
                    "the week in which the block ends has a session on day {day}, and `{field}` is on day {its_day} of it; let the case name days before that (`training-days:`)"
                ),
            )),
            None => Ok(()),
        }
    }

    /// Has the case say what its place in the block says.
    fn say(&self, case: &mut Case, laid: &Laid) {
        let checked = &mut case.checked;
        checked.phase = laid.phase.clone();
        let blocks = self.pack().training_blocks.values();
        let waves = blocks.flat_map(|held| &held.stretches);
        for wave in waves.filter_map(|stretch| stretch.wave.as_ref()) {
            // What a week before said of such a field is said of that week alone.
            let said = Saying::Field(wave.field.value.clone());
            take_back(self.pack(), checked, &said);
        }
        if let Some((field, value)) = &laid.says {
            checked
                .fields
                .insert(field.clone(), Value::Word(value.clone()));
            checked.stated.insert(field.clone());
        }
    }

    /// The only block of the rules that fits the case and has so many weeks; one that ends on a day that the case says is
    /// taken before others.
    fn chosen(
        &self,
        case: &Case,
        weeks: Option<u16>,
        begins: Option<i64>,
    ) -> Result<Chosen<'_>, Error> {
        let setting = self.setting(case)?;
        let open = |what: String| Error::new(ErrorKind::Open, what);
        let blocks = &self.pack().training_blocks;
        let speaking = blocks.iter().filter(|(_, block)| {
            let when = block.when.as_ref();
            when.is_none_or(|when| setting.holds(when) == Some(true))
        });
        let (mut ending, mut others) = (Vec::new(), Vec::new());
        for (id, block) in speaking {
            let fits =
                |weeks: u16| (block.weeks.value.from..=block.weeks.value.to).contains(&weeks);
            let Some(field) = &block.ends_on else {
                others.extend(weeks.filter(|weeks| fits(*weeks)).map(|weeks| Chosen {
                    id,
                    block,
                    weeks,
                }));
                continue;
            };
            let Some(Value::Date(day)) = case.checked.fields.get(&field.value) else {
                continue;
            };
            let Some(begins) = begins else {
                return Err(open(format!(
                    "the case says `{field}` and not what day it is, so nobody knows how many weeks there are; say `today` too"
                )));
            };
            let to_it = u16::try_from(week_in(begins, *day)).unwrap_or(0);
            match weeks {
                Some(asked) if asked > to_it => {
                    return Err(open(format!(
                        "`{field}` is in week {to_it} of a block that begins on {}; ask for as many weeks, and for another block after it",
                        day_in_words(begins)
                    )));
                }
                Some(asked) if asked < to_it => {}
                _ if fits(to_it) => ending.push(Chosen {
                    id,
                    block,
                    weeks: to_it,
                }),
                _ => {}
            }
        }
        let all = if ending.is_empty() { others } else { ending };
        let mut all = all.into_iter();
        match (all.next(), all.next()) {
            (Some(only), None) => Ok(only),
            (Some(one), Some(other)) => Err(open(format!(
                "several blocks of the rules fit: `{}` ({}) and `{}` ({}); let their `when` or their weeks keep them apart",
                one.id, one.id.place, other.id, other.id.place
            ))),
            (None, _) => {
                let listed = blocks.iter().map(|(id, block)| {
                    let weeks = block.weeks.value;
                    format!("`{id}` ({} to {} weeks)", weeks.from, weeks.to)
                });
                let listed: Vec<String> = listed.collect();
                let asked = weeks.map_or_else(
                    || String::from("no block of the rules fits, and nothing says how many weeks there are; say how many"),
                    |weeks| format!("no block of the rules fits the case with {weeks} weeks; ask for other weeks, or for another phase"),
                );
                Err(open(format!(
                    "{asked}. The rules have {}",
                    listed.join(", ")
                )))
            }
        }
    }
}
