//! What watched attempts say: faults, looks and causes with what speaks for and against each.

use crate::base::{
    AttemptFieldId, CauseId, FaultId, GradeId, ObservationId, SkillId, TrackMeasureId,
};
use crate::infer::{Conclusion, FaultSeen, LookSeen, Speaks, Verdict as Found};
use crate::rules::pack::Pack;
use crate::rules::watched::Watched;

use super::entries::Called;
use super::glossary::{Glossary, Named};

/// What watched attempts at one lift say.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Findings {
    /// The label of the file; it may be empty.
    pub lifter: String,
    /// What was attempted.
    pub skill: SkillId,
    /// How many attempts were watched.
    pub attempts: u16,
    /// Nothing is concluded from fewer attempts than this.
    pub attempts_at_least: u16,
    /// Faults that were seen at least once: what is concluded first, each by severity times the part of the attempts.
    pub faults: Vec<FaultFinding>,
    /// Faults that could be seen in so many attempts and were in none, by id.
    pub not_seen: Vec<(Called<FaultId>, u16)>,
    /// Further looks of which something is known, by id.
    pub looks: Vec<LookFinding>,
    /// Causes behind what is concluded, the most demand first, then by id.
    pub causes: Vec<CauseFinding>,
    /// What would tell two of the causes apart best.
    pub further: Option<FurtherLook>,
    /// What nobody said of attempts that show a fault, and what may make them another one.
    pub questions: Vec<Question>,
    /// Attempts that went wrong and show no fault: something of them was not said, or no sign of the rules fits them.
    pub unexplained: u16,
    /// Measured values that were said, in the measure's unit, by id.
    pub measured: Vec<(TrackMeasureId, i64)>,
    /// The fingerprint of the rules that it follows from.
    pub fingerprint: String,
}

/// What is made of a fault.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Verdict {
    /// It is there.
    Concluded,
    /// It was seen in fewer than so many percent of the attempts in which it could be.
    TooSeldom(u8),
    /// It was seen fewer times than this, and may be chance.
    MayBeChance(u16),
    /// Fewer attempts were watched than anything is concluded from.
    TooFewAttempts,
}

impl Verdict {
    /// The word of output: lower-case words joined by hyphens.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Concluded => "concluded",
            Self::TooSeldom(_) => "too-seldom",
            Self::MayBeChance(_) => "may-be-chance",
            Self::TooFewAttempts => "too-few-attempts",
        }
    }
}

/// A fault that was seen.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct FaultFinding {
    /// The fault.
    pub fault: Called<FaultId>,
    /// What it is about, such as path or height.
    pub aspect: String,
    /// What is made of it.
    pub verdict: Verdict,
    /// In which grade.
    pub grade: GradeId,
    /// What that looks like.
    pub says: String,
    /// 1 to 3.
    pub severity: u8,
    /// In how many attempts it was seen.
    pub seen: u16,
    /// In how many it could be seen.
    pub of: u16,
    /// The load at which it starts, in percent of the best, where enough lighter attempts were free of it.
    pub from_percent: Option<u8>,
    /// Attempts that show it: percent of the best where that is known, and how many were alike.
    pub for_it: Vec<(Option<u8>, u16)>,
    /// Attempts that were free of it.
    pub against_it: Vec<(Option<u8>, u16)>,
}

/// What is known of a further look.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LookFinding {
    /// The look.
    pub look: Called<ObservationId>,
    /// Whether it is true; none where too little was seen of it.
    pub is_true: Option<bool>,
    /// In how many attempts it was true, of those in which it was looked at; none where it was said or measured as a whole.
    pub times: Option<(u16, u16)>,
}

/// Something that speaks for a cause or against it.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Evidence {
    /// The fault has it behind it, so many percent of it by itself.
    Share {
        /// The fault.
        fault: Called<FaultId>,
        /// In percent.
        percent: u8,
    },
    /// The look is true and raises its share of the fault.
    Raises {
        /// The look.
        look: Called<ObservationId>,
        /// The fault.
        fault: Called<FaultId>,
        /// By so many percent points.
        points: u8,
    },
    /// The look is true and rules it out behind the fault.
    RulesOut {
        /// The look.
        look: Called<ObservationId>,
        /// The fault.
        fault: Called<FaultId>,
    },
    /// The look would raise its share of the fault, and is not true.
    Lacks {
        /// The look.
        look: Called<ObservationId>,
        /// The fault.
        fault: Called<FaultId>,
        /// By so many percent points.
        points: u8,
    },
}

/// A cause behind what is concluded.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct CauseFinding {
    /// The cause.
    pub cause: Called<CauseId>,
    /// How much speaks for it, 0 to 300, on the scale of demand.
    pub demand: i64,
    /// What to look for.
    pub look_for: String,
    /// What speaks for it.
    pub for_it: Vec<Evidence>,
    /// What speaks against it.
    pub against_it: Vec<Evidence>,
}

/// The look that would tell two causes apart best.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct FurtherLook {
    /// The look.
    pub look: Called<ObservationId>,
    /// What to look at.
    pub says: String,
    /// The cause for which more speaks now.
    pub one: Called<CauseId>,
    /// The other.
    pub other: Called<CauseId>,
    /// What speaks for the two now.
    pub now: (i64, i64),
    /// What would speak for the two if it turns out to be true; if it does not, nothing changes.
    pub if_true: (i64, i64),
}

/// What nobody said of attempts that show a fault.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Question {
    /// The field in which it is said.
    pub field: AttemptFieldId,
    /// The question.
    pub asks: String,
    /// The fault that the answer may speak against.
    pub fault: Called<FaultId>,
    /// In how many of its attempts it was not said.
    pub times: u16,
}

/// What follows from attempts, in the words of a pack.
pub(crate) fn findings(
    pack: &Pack,
    glossary: &Glossary,
    watched: &Watched,
    conclusion: &Conclusion,
    fingerprint: &str,
) -> Findings {
    let fault = |id: &FaultId| Called::new(glossary, Named::Fault, id);
    let cause = |id: &CauseId| Called::new(glossary, Named::Cause, id);
    let look = |id: &ObservationId| Called::new(glossary, Named::Observation, id);
    let evidence = |speaks: &Speaks| match speaks {
        Speaks::Fault(of, percent) => Evidence::Share {
            fault: fault(of),
            percent: *percent,
        },
        Speaks::Raises(of, by, points) => Evidence::Raises {
            look: look(by),
            fault: fault(of),
            points: *points,
        },
        Speaks::RulesOut(of, by) => Evidence::RulesOut {
            look: look(by),
            fault: fault(of),
        },
        Speaks::NotSeen(of, by, points) => Evidence::Lacks {
            look: look(by),
            fault: fault(of),
            points: *points,
        },
    };
    let demand = |id: &CauseId| {
        let held = conclusion.causes.iter().find(|held| held.cause == *id);
        held.map_or(0, |held| held.demand)
    };
    Findings {
        lifter: watched.lifter.clone(),
        skill: watched.skill.clone(),
        attempts: conclusion.attempts,
        attempts_at_least: conclusion.least.attempts,
        faults: conclusion
            .faults
            .iter()
            .map(|seen| of_fault(pack, glossary, watched, conclusion, seen))
            .collect(),
        not_seen: conclusion
            .not_seen
            .iter()
            .map(|(id, of)| (fault(id), *of))
            .collect(),
        looks: conclusion
            .looks
            .iter()
            .map(|(id, LookSeen { is_true, times })| LookFinding {
                look: look(id),
                is_true: *is_true,
                times: *times,
            })
            .collect(),
        causes: conclusion
            .causes
            .iter()
            .map(|held| {
                let (for_it, against_it): (Vec<&Speaks>, Vec<&Speaks>) =
                    held.speaks.iter().partition(|speaks| speaks.is_for());
                CauseFinding {
                    cause: cause(&held.cause),
                    demand: held.demand,
                    look_for: glossary.look_for(held.cause.as_str()).to_owned(),
                    for_it: for_it.into_iter().map(evidence).collect(),
                    against_it: against_it.into_iter().map(evidence).collect(),
                }
            })
            .collect(),
        further: conclusion.further.as_ref().map(|further| FurtherLook {
            look: look(&further.look),
            says: glossary.look(further.look.as_str()).to_owned(),
            one: cause(&further.one),
            other: cause(&further.other),
            now: (demand(&further.one), demand(&further.other)),
            if_true: further.if_true,
        }),
        questions: conclusion
            .questions
            .iter()
            .map(|question| Question {
                field: question.field.clone(),
                asks: asks(pack, &question.field),
                fault: fault(&question.fault),
                times: question.times,
            })
            .collect(),
        unexplained: conclusion.unexplained,
        measured: watched
            .measured
            .iter()
            .map(|(id, value)| (id.clone(), *value))
            .collect(),
        fingerprint: fingerprint.to_owned(),
    }
}

fn of_fault(
    pack: &Pack,
    glossary: &Glossary,
    watched: &Watched,
    conclusion: &Conclusion,
    seen: &FaultSeen,
) -> FaultFinding {
    let attempts = |wanted: bool| {
        let all = watched.attempts.iter().zip(&seen.by_attempt);
        let of_it = all.filter(|(_, shown)| **shown == Some(wanted));
        of_it
            .map(|(attempt, _)| (attempt.percent.and_then(small), attempt.times))
            .collect()
    };
    FaultFinding {
        fault: Called::new(glossary, Named::Fault, &seen.fault),
        aspect: pack
            .faults
            .get(&seen.fault)
            .map_or_else(String::new, |fault| fault.aspect.to_string()),
        verdict: match seen.verdict {
            Found::Concluded => Verdict::Concluded,
            Found::TooSeldom => Verdict::TooSeldom(conclusion.least.fault_percent),
            Found::MayBeChance => Verdict::MayBeChance(conclusion.least.fault_seen),
            Found::TooFew => Verdict::TooFewAttempts,
        },
        says: glossary
            .grade(seen.fault.as_str(), seen.grade.as_str())
            .to_owned(),
        grade: seen.grade.clone(),
        severity: seen.severity,
        seen: seen.seen,
        of: seen.of,
        from_percent: seen.from_percent.and_then(small),
        for_it: attempts(true),
        against_it: attempts(false),
    }
}

/// A percent of the best; all that are read fit.
fn small(percent: i64) -> Option<u8> {
    u8::try_from(percent).ok()
}

/// The question that a field answers.
fn asks(pack: &Pack, field: &AttemptFieldId) -> String {
    let one_of = pack.attempt_one_of.get(field).map(|field| &field.asks);
    let whole = || pack.attempt_whole.get(field).map(|field| &field.asks);
    one_of.or_else(whole).cloned().unwrap_or_default()
}
