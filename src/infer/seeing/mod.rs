//! From attempts that were watched to faults, further looks and causes, each with what speaks for and against it.
//!
//! An attempt shows something, does not, or leaves it open: a sign is there if all of `seen` holds and nothing of
//! `unless`; it is open if too little is said to know `seen`. What `unless` asks and nobody said leaves a
//! sign standing, with a question. Numbers come from judgements alone.

mod behind;
mod look;

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{AttemptFieldId, FaultId, GradeId, ObservationId};
use crate::rules::pack::Pack;
use crate::rules::vocab::{AttemptTest, Fault, Judgement, Range, Sign, is_of};
use crate::rules::watched::{Attempt, Said, Watched};

pub(crate) use behind::{CauseSeen, Further, Speaks};
pub(crate) use look::LookSeen;

/// From how much something is concluded of one skill: the largest of each number of the judgements that are of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Least {
    pub(crate) attempts: u16,
    pub(crate) fault_seen: u16,
    pub(crate) fault_percent: u8,
    pub(crate) grade_seen: u16,
    pub(crate) look_seen: u16,
    pub(crate) look_percent: u8,
    pub(crate) sound_below: u16,
}

impl Least {
    fn of(pack: &Pack, watched: &Watched) -> Self {
        let all = || {
            let judgements = pack.judgements.values();
            judgements.filter(|judgement| is_of(&judgement.skills, &watched.skill))
        };
        let times = |number: fn(&Judgement) -> u16| all().map(number).max().unwrap_or(1);
        let percent = |number: fn(&Judgement) -> u8| all().map(number).max().unwrap_or(0);
        Self {
            attempts: times(|held| held.attempts_at_least.value),
            fault_seen: times(|held| held.fault_seen_at_least.value),
            fault_percent: percent(|held| held.fault_percent_at_least.value),
            grade_seen: times(|held| held.grade_seen_at_least.value),
            look_seen: times(|held| held.look_seen_at_least.value),
            look_percent: percent(|held| held.look_percent_at_least.value),
            sound_below: times(|held| held.sound_below_onset_at_least.value),
        }
    }
}

/// What is made of a fault that was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Verdict {
    /// It is there.
    Concluded,
    /// It was seen in too small a part of the attempts.
    TooSeldom,
    /// It was seen so few times that it may be chance.
    MayBeChance,
    /// Too few attempts were watched to say anything.
    TooFew,
}

/// A fault that was seen at least once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct FaultSeen {
    pub(crate) fault: FaultId,
    pub(crate) verdict: Verdict,
    pub(crate) grade: GradeId,
    pub(crate) severity: u8,
    pub(crate) seen: u16,
    /// Attempts in which it could be seen.
    pub(crate) of: u16,
    /// The lightest load at which it was seen, where enough lighter attempts were free of it.
    pub(crate) from_percent: Option<i64>,
    /// By attempt, in the order of the file: whether it was seen; none where that is open.
    pub(crate) by_attempt: Vec<Option<bool>>,
}

/// A question about attempts that show a fault: its answer may make it another one.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Question {
    pub(crate) field: AttemptFieldId,
    pub(crate) fault: FaultId,
    /// In how many of the attempts that show the fault it was not said.
    pub(crate) times: u16,
}

/// All that attempts say.
#[derive(Debug, Clone)]
pub(crate) struct Conclusion {
    pub(crate) attempts: u16,
    pub(crate) least: Least,
    /// What is concluded first; then by severity times the part of the attempts, the most first, and by id.
    pub(crate) faults: Vec<FaultSeen>,
    /// Faults that could be seen in so many attempts, and were not.
    pub(crate) not_seen: Vec<(FaultId, u16)>,
    pub(crate) looks: BTreeMap<ObservationId, LookSeen>,
    /// By what speaks for them, the most first, then by id.
    pub(crate) causes: Vec<CauseSeen>,
    pub(crate) further: Option<Further>,
    pub(crate) questions: Vec<Question>,
    /// Attempts that went wrong and show no fault.
    pub(crate) unexplained: u16,
}

/// What an attempt shows of something.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Shown {
    Yes {
        /// What would have had to be said to be sure that nothing speaks for something else.
        unsaid: BTreeSet<AttemptFieldId>,
    },
    No,
    Open,
}

/// Whether a test holds of an attempt; none where the attempt does not say.
fn holds(
    attempt: &Attempt,
    field: &AttemptFieldId,
    test: &AttemptTest,
    implied_too: bool,
) -> Option<bool> {
    if !implied_too && attempt.implied.contains(field) {
        return None;
    }
    let range = Range {
        at_least: test.at_least,
        at_most: test.at_most,
    };
    Some(match attempt.said.get(field)? {
        Said::Word(word) => test.is.iter().any(|id| id.value == *word),
        Said::Number(number) => range.holds(*number),
    })
}

/// What one sign says of an attempt. What is only implied speaks for and against faults, and says nothing of looks: nobody
/// looked.
fn shown(sign: &Sign, attempt: &Attempt) -> Shown {
    let implied_too = sign.look.is_none();
    let mut open = false;
    for (field, test) in &sign.seen {
        match holds(attempt, &field.value, test, implied_too) {
            Some(false) => return Shown::No,
            Some(true) => {}
            None => open = true,
        }
    }
    if open {
        return Shown::Open;
    }
    let mut unsaid = BTreeSet::new();
    for (field, test) in &sign.unless {
        match holds(attempt, &field.value, test, implied_too) {
            Some(true) => return Shown::No,
            Some(false) => {}
            None => {
                unsaid.insert(field.value.clone());
            }
        }
    }
    Shown::Yes { unsaid }
}

/// The mildest to the severest place of a grade in its fault.
fn rank(fault: &Fault, grade: &GradeId) -> usize {
    fault.grades.get_index_of(grade).unwrap_or(0)
}

/// What an attempt shows of a fault, and in which grade.
fn of_fault(
    (id, fault): (&FaultId, &Fault),
    signs: &[&Sign],
    attempt: &Attempt,
) -> (Shown, Option<GradeId>) {
    let mut worst = attempt.faults.get(id).cloned();
    let mut unsaid: Option<BTreeSet<AttemptFieldId>> = worst.as_ref().map(|_| BTreeSet::new());
    let mut open = signs.is_empty() && attempt.said.is_empty() && attempt.faults.is_empty();
    for sign in signs {
        match (shown(sign, attempt), &sign.grade) {
            (Shown::Yes { unsaid: more }, Some(grade)) => {
                let worse = worst
                    .as_ref()
                    .is_none_or(|held| rank(fault, held) < rank(fault, &grade.value));
                if worse {
                    worst = Some(grade.value.clone());
                }
                // What one sign is sure of needs no answer for another.
                unsaid = Some(match unsaid {
                    Some(held) => held.intersection(&more).cloned().collect(),
                    None => more,
                });
            }
            (Shown::Open, _) => open = true,
            (Shown::Yes { .. } | Shown::No, _) => {}
        }
    }
    match (unsaid, open) {
        (Some(unsaid), _) => (Shown::Yes { unsaid }, worst),
        (None, true) => (Shown::Open, None),
        (None, false) => (Shown::No, None),
    }
}

/// What attempts say of one fault, with what is left to be asked; none where it could not be seen in any.
fn watched_for(
    pack: &Pack,
    watched: &Watched,
    least: &Least,
    (id, fault): (&FaultId, &Fault),
) -> Option<(FaultSeen, Vec<Question>)> {
    let of_it = |sign: &&Sign| {
        let is_it = sign.fault.as_ref().is_some_and(|of| of.value == *id);
        is_it && is_of(&sign.skills, &watched.skill)
    };
    let signs: Vec<&Sign> = pack.signs.values().filter(of_it).collect();
    if signs.is_empty()
        && !watched
            .attempts
            .iter()
            .any(|attempt| attempt.faults.contains_key(id))
    {
        return None;
    }
    let (mut seen, mut of) = (0u16, 0u16);
    let mut by_attempt = Vec::new();
    let mut grades: BTreeMap<usize, u16> = BTreeMap::new();
    let mut questions: BTreeMap<AttemptFieldId, u16> = BTreeMap::new();
    let (mut lightest, mut sound) = (None::<i64>, Vec::new());
    for attempt in &watched.attempts {
        let (shown, grade) = of_fault((id, fault), &signs, attempt);
        by_attempt.push(match &shown {
            Shown::Yes { .. } => Some(true),
            Shown::No => Some(false),
            Shown::Open => None,
        });
        match shown {
            Shown::Yes { unsaid } => {
                (seen, of) = (seen + attempt.times, of + attempt.times);
                if let Some(grade) = grade {
                    *grades.entry(rank(fault, &grade)).or_default() += attempt.times;
                }
                for field in unsaid {
                    *questions.entry(field).or_default() += attempt.times;
                }
                lightest = match (lightest, attempt.percent) {
                    (Some(held), Some(percent)) => Some(percent.min(held)),
                    (held, percent) => held.or(percent),
                };
            }
            Shown::No => {
                of += attempt.times;
                sound.extend(attempt.percent.map(|percent| (percent, attempt.times)));
            }
            Shown::Open => {}
        }
    }
    if of == 0 {
        return None;
    }
    let lighter = |lightest: i64| -> u16 {
        let below = sound.iter().filter(|(percent, _)| *percent < lightest);
        below.map(|(_, times)| *times).sum()
    };
    let from_percent = lightest.filter(|lightest| lighter(*lightest) >= least.sound_below);
    let (grade, severity) = graded(fault, &grades, least)?;
    let all: u16 = watched.attempts.iter().map(|attempt| attempt.times).sum();
    let verdict = if all < least.attempts {
        Verdict::TooFew
    } else if seen < least.fault_seen {
        Verdict::MayBeChance
    } else if u32::from(seen) * 100 < u32::from(least.fault_percent) * u32::from(of) {
        Verdict::TooSeldom
    } else {
        Verdict::Concluded
    };
    let held = FaultSeen {
        fault: id.clone(),
        verdict,
        grade,
        severity,
        seen,
        of,
        from_percent,
        by_attempt,
    };
    let questions = questions.into_iter().map(|(field, times)| Question {
        field,
        fault: id.clone(),
        times,
    });
    Some((held, questions.collect()))
}

/// The severest grade that was seen often enough, it or a worse one; else the mildest that was seen, or the mildest of all
/// where none was.
fn graded(fault: &Fault, seen: &BTreeMap<usize, u16>, least: &Least) -> Option<(GradeId, u8)> {
    let often = |rank: &usize| seen.range(rank..).map(|(_, times)| *times).sum::<u16>();
    let enough = seen
        .keys()
        .rev()
        .find(|rank| often(rank) >= least.grade_seen);
    let rank = enough.or_else(|| seen.keys().next()).copied().unwrap_or(0);
    let (id, grade) = fault.grades.get_index(rank)?;
    Some((id.value.clone(), grade.severity.value))
}

/// What attempts say.
pub(crate) fn conclude(pack: &Pack, watched: &Watched) -> Conclusion {
    let least = Least::of(pack, watched);
    let attempts = watched.attempts.iter().map(|attempt| attempt.times).sum();
    let (mut faults, mut not_seen, mut questions) = (Vec::new(), Vec::new(), Vec::new());
    let of_skill = pack
        .faults
        .iter()
        .filter(|(_, fault)| is_of(&fault.skills, &watched.skill));
    for (id, fault) in of_skill {
        match watched_for(pack, watched, &least, (&id.value, fault)) {
            Some((held, more)) if held.seen > 0 => {
                if held.verdict == Verdict::Concluded {
                    questions.extend(more);
                }
                faults.push(held);
            }
            Some((held, _)) => not_seen.push((held.fault, held.of)),
            None => {}
        }
    }
    let weight = |held: &FaultSeen| {
        u32::from(held.severity) * u32::from(held.seen) * 100 / u32::from(held.of).max(1)
    };
    faults.sort_by_key(|held| {
        (
            held.verdict,
            std::cmp::Reverse(weight(held)),
            held.fault.clone(),
        )
    });
    questions.sort();
    let shows_one = |at: usize| {
        let mut shown = faults.iter().map(|held| held.by_attempt.get(at).copied());
        shown.any(|shown| shown == Some(Some(true)))
    };
    let attempts_with = watched.attempts.iter().enumerate();
    let unexplained = attempts_with.filter(|(at, attempt)| attempt.went_wrong && !shows_one(*at));
    let unexplained = unexplained.map(|(_, attempt)| attempt.times).sum();
    let looks = look::all(pack, watched, &least, &faults);
    let (causes, further) = behind::behind(pack, &faults, &looks);
    Conclusion {
        attempts,
        least,
        faults,
        not_seen,
        looks,
        causes,
        further,
        questions,
        unexplained,
    }
}
