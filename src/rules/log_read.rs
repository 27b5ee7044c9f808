//! From the text of a log to its entries, with every problem at once.

use std::sync::Arc;

use crate::base::{At, Code, Decimal, Diagnostic, FaultId, GradeId, Place, SkillId, nearest};

use super::case::FieldValue;
use super::case_names::Later;
use super::case_read::Checking;
use super::check::declared::list;
use super::log::{
    Entry, EntryFault, EntryText, MOST_ENTRIES, MOST_FAULTS, MOST_IN_ENTRY, MOST_REPETITIONS,
    several,
};
use super::log_csv::read_csv;
use super::pack::Pack;
use super::read::Limits;
use super::sole::{Sole, read_sole};
use super::vocab::MOST_LOAD;

const LOG: Sole = Sole {
    key: "log",
    called: "a training log",
    holds: "the list of its entries",
};

/// Reads a log: a file whose name ends in `.csv` as such, any other as YAML. Names of exercises are left as written.
/// What is handed out beside problems is what could be read.
pub(crate) fn read_log(
    name: &Arc<str>,
    text: &str,
    pack: &Pack,
    limits: &Limits,
) -> (Vec<Entry>, Vec<Diagnostic>) {
    let is_csv = name
        .rsplit_once('.')
        .is_some_and(|(_, end)| end.eq_ignore_ascii_case("csv"));
    let mut entries = Vec::new();
    if is_csv {
        let mut out = Vec::new();
        let texts = read_csv(name, text, limits, &mut out);
        check_entries(&texts, &Place::start_of(name), pack, &mut entries, &mut out);
        out.sort();
        out.dedup();
        return (entries, out);
    }
    let read = read_sole(
        &LOG,
        (name, text),
        limits,
        |texts: Vec<At<EntryText>>, place, _, out| {
            check_entries(&texts, place, pack, &mut entries, out);
            Some(())
        },
    );
    (entries, read.err().unwrap_or_default())
}

/// Checks entries, but for the names of exercises; `whole` is the place of the log.
pub(crate) fn check_entries(
    texts: &[At<EntryText>],
    whole: &Place,
    pack: &Pack,
    entries: &mut Vec<Entry>,
    out: &mut Vec<Diagnostic>,
) {
    let mut checking = Checking {
        pack,
        names: &Later,
        out,
    };
    if texts.is_empty() && checking.out.is_empty() {
        checking.problem(
            Code::EmptyMap,
            whole,
            "the log has no entry",
            "write one for each set: date, exercise, load, repetitions made and missed, fault seen",
        );
    }
    if let Some(first) = texts.get(MOST_ENTRIES) {
        checking.problem(
            Code::TooLarge,
            &first.date.place,
            format!("the log has {} entries", texts.len()),
            format!("write {MOST_ENTRIES} at the most: half a year or less"),
        );
        return;
    }
    let mut all = 0_u64;
    for text in texts {
        let entry = checking.entry(text);
        let before = all;
        all += u64::from(entry.repetitions());
        if before <= MOST_REPETITIONS && all > MOST_REPETITIONS {
            checking.problem(
                Code::TooLarge,
                &text.date.place,
                format!("with this entry the log has more than {MOST_REPETITIONS} repetitions"),
                "that is half a year of much training; review less at once",
            );
        }
        entries.push(entry);
    }
}

impl Checking<'_> {
    fn entry(&mut self, text: &EntryText) -> Entry {
        let date = self.date(text.date.as_str(), &text.date.place);
        if let Some(load) = &text.load
            && !(1..=MOST_LOAD * 1_000).contains(&load.thousandths())
        {
            self.problem(
                Code::OutOfRange,
                &load.place,
                format!("a load cannot be {load}"),
                format!("write a number above 0, {MOST_LOAD} at the most, or leave it out"),
            );
        }
        let made = self.within(&text.made, "made", 0, MOST_IN_ENTRY);
        let missed = text
            .missed
            .as_ref()
            .map_or(0, |missed| self.within(missed, "missed", 0, MOST_IN_ENTRY));
        let sets = text
            .sets
            .as_ref()
            .map_or(1, |sets| self.within(sets, "sets", 1, 50));
        let repetitions = made.saturating_add(missed);
        if repetitions == 0 {
            self.problem(
                Code::OutOfRange,
                &text.made.place,
                "nothing was made and nothing missed",
                "write how many repetitions were made and missed, or take the entry out",
            );
        } else if repetitions < sets
            && let Some(held) = &text.sets
        {
            self.problem(
                Code::Contradiction,
                &held.place,
                format!("{sets} sets cannot have {repetitions} repetitions in all"),
                "write the repetitions of all the sets together, or fewer sets",
            );
        }
        let faults = self.entry_faults(text, (made, missed));
        Entry {
            // One that is none has been told.
            date: date.unwrap_or_default(),
            exercise: text.exercise.clone(),
            load: text.load.as_ref().map(|load: &At<Decimal>| load.value),
            sets,
            made,
            missed,
            faults,
        }
    }

    /// A number within its range; says of one that is not.
    pub(super) fn within(&mut self, number: &At<u16>, key: &str, least: u16, most: u16) -> u16 {
        if !(least..=most).contains(&number.value) {
            self.problem(
                Code::OutOfRange,
                &number.place,
                format!("`{key}` cannot be {number}"),
                format!("write {least} to {most}"),
            );
        }
        number.value.clamp(least, most)
    }

    fn entry_faults(&mut self, text: &EntryText, (made, missed): (u16, u16)) -> Vec<EntryFault> {
        let Some(named) = &text.fault else {
            let beside = [
                ("skill", &text.skill),
                ("grade", &text.grade),
                ("seen", &text.seen),
            ];
            for (key, value) in beside {
                if let Some(value) = value {
                    self.problem(
                        Code::Contradiction,
                        &value.place,
                        format!("`{key}` is of a fault, and the entry names none"),
                        format!("name the fault, or take `{key}` out"),
                    );
                }
            }
            return Vec::new();
        };
        let names = several(&named.value);
        if names.len() > MOST_FAULTS {
            self.problem(
                Code::TooLarge,
                &named.place,
                format!("the entry names {} faults", names.len()),
                format!("name {MOST_FAULTS} at the most"),
            );
            return Vec::new();
        }
        let skills = self.beside(&text.skill, "skill", names.len());
        let grades = self.beside(&text.grade, "grade", names.len());
        let times = self.beside(&text.seen, "seen", names.len());
        let mut all: Vec<EntryFault> = Vec::new();
        for (at, name) in names.iter().enumerate() {
            let Some(fault) = self.fault_named(name, &named.place) else {
                continue;
            };
            let of = |all: &Option<Vec<(String, Place)>>| {
                let one = all.as_ref().and_then(|all| all.get(at));
                one.filter(|(word, _)| !word.is_empty()).cloned()
            };
            let skill =
                of(&skills).and_then(|(word, place)| self.skill_in_log(&fault, &word, &place));
            let grade = of(&grades).and_then(|(word, place)| self.grade_of(&fault, &word, &place));
            let said = of(&times);
            let is_said = said.is_some();
            let seen = match said {
                Some((word, place)) => self.times_seen(&word, &place, made.saturating_add(missed)),
                None if missed > 0 => missed,
                None => made,
            };
            if all
                .iter()
                .any(|held| held.fault == fault && held.skill == skill)
            {
                self.problem(
                    Code::DuplicateId,
                    &named.place,
                    format!("the entry names `{fault}` twice"),
                    "name it once",
                );
                continue;
            }
            all.push(EntryFault {
                fault,
                place: named.place.clone(),
                skill,
                grade,
                seen,
                is_said,
            });
        }
        all
    }

    /// What stands beside the faults, one for each.
    fn beside(
        &mut self,
        value: &Option<At<FieldValue>>,
        key: &str,
        faults: usize,
    ) -> Option<Vec<(String, Place)>> {
        let value = value.as_ref()?;
        let words = several(&value.value);
        if words.len() != faults {
            self.problem(
                Code::Contradiction,
                &value.place,
                format!("`{key}` says {} things of {faults} faults", words.len()),
                "say it of each fault, in the same order, with `|` between them",
            );
            return None;
        }
        let at_place = |word: &&str| ((*word).to_owned(), value.place.clone());
        Some(words.iter().map(at_place).collect())
    }

    /// The fault with an id or a name.
    fn fault_named(&mut self, text: &str, place: &Place) -> Option<FaultId> {
        let pack = self.pack;
        let plain = |text: &str| text.replace('-', " ").to_lowercase();
        let wanted = plain(text);
        let mut all = pack.faults.iter();
        let found = all.find(|(id, fault)| {
            let mut names = fault.names.en.iter();
            plain(id.as_str()) == wanted || names.any(|name| plain(name) == wanted)
        });
        if let Some((id, _)) = found {
            return Some(id.value.clone());
        }
        let known: Vec<&str> = pack.faults.keys().map(|id| id.as_str()).collect();
        let help = match nearest(&text.replace(' ', "-"), known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("write one of {}, or its name", list(&known)),
        };
        let what = format!("the rules have no fault `{text}`");
        self.problem(Code::DanglingId, place, what, help);
        None
    }

    fn skill_in_log(&mut self, fault: &FaultId, word: &str, place: &Place) -> Option<SkillId> {
        let skills = self.pack.faults.get(fault).map(|held| &held.skills)?;
        let found = skills.iter().find(|skill| skill.as_str() == word);
        if found.is_none() {
            let known: Vec<&str> = skills.iter().map(|id| id.as_str()).collect();
            self.problem(
                Code::DanglingId,
                place,
                format!("`{fault}` is not seen in `{word}`"),
                format!("write one of {}", list(&known)),
            );
        }
        found.map(|skill| skill.value.clone())
    }

    fn grade_of(&mut self, fault: &FaultId, word: &str, place: &Place) -> Option<GradeId> {
        let of = self.pack.faults.get(fault)?;
        match word.parse::<GradeId>() {
            Ok(grade) => {
                let grade = At::new(grade, place.clone());
                self.grade((fault, of), &grade)?;
                Some(grade.value)
            }
            Err(bad) => {
                self.problem(
                    Code::BadId,
                    place,
                    format!("`{word}` is no grade: {bad}"),
                    format!("write a grade of `{fault}` as the rules list it"),
                );
                None
            }
        }
    }

    fn times_seen(&mut self, word: &str, place: &Place, of: u16) -> u16 {
        match word.parse::<u16>() {
            Ok(seen) if (1..=of).contains(&seen) => seen,
            Ok(seen) => {
                self.problem(
                    Code::OutOfRange,
                    place,
                    format!("a fault cannot be seen in {seen} of {of} repetitions"),
                    format!("write 1 to {of}, or leave the fault out"),
                );
                of
            }
            Err(_) => {
                self.problem(
                    Code::BadNumber,
                    place,
                    format!("`{word}` is no number of repetitions"),
                    "write a whole number such as 2",
                );
                of
            }
        }
    }
}
