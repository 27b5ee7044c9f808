//! What watched attempts say, in words.

use crate::explain::{Evidence, FaultFinding, Findings, FurtherLook, Question, Verdict};

use super::phrase::{many, spaced};

/// What was watched.
pub(crate) fn head(findings: &Findings) -> String {
    let attempts = many(findings.attempts.into(), "attempt", "attempts");
    let of = format!("{attempts} at the {}", spaced(findings.skill.as_str()));
    if findings.lifter.is_empty() {
        of
    } else {
        format!("{}: {of}", findings.lifter)
    }
}

/// What must be said before anything else.
pub(crate) fn cautions(findings: &Findings) -> Vec<String> {
    let mut all = Vec::new();
    if findings.attempts < findings.attempts_at_least {
        all.push(format!(
            "Nothing is concluded from fewer than {} attempts; watch more of them.",
            findings.attempts_at_least
        ));
    } else if !findings
        .faults
        .iter()
        .any(|held| held.verdict == Verdict::Concluded)
    {
        all.push(String::from(
            if findings.faults.is_empty() && findings.unexplained > 0 {
                "No fault is concluded."
            } else if findings.faults.is_empty() {
                "No fault was seen in what was said of these attempts."
            } else {
                "Nothing was seen often enough to be called a fault."
            },
        ));
    }
    if findings.unexplained > 0 {
        all.push(format!(
            "{} went wrong, and nothing that was said shows why: say more of what was seen, or name the fault.",
            many(findings.unexplained.into(), "attempt", "attempts")
        ));
    }
    all
}

fn attempts(all: &[(Option<u8>, u16)]) -> String {
    let of = |(percent, times): &(Option<u8>, u16)| {
        let at = percent.map_or_else(
            || String::from("a load not said"),
            |percent| format!("{percent} %"),
        );
        if *times == 1 {
            at
        } else {
            format!("{at} ({times} times)")
        }
    };
    let all: Vec<String> = all.iter().map(of).collect();
    all.join(", ")
}

/// In which attempts a fault was seen.
pub(crate) fn seen_in(findings: &Findings, held: &FaultFinding) -> String {
    let onset = held.from_percent.map_or_else(String::new, |percent| {
        format!("; starts at {percent} % of the best")
    });
    let silent = findings.attempts.saturating_sub(held.of);
    let of = if silent == 0 {
        held.of.to_string()
    } else {
        format!("the {} that say; {silent} say nothing of it", held.of)
    };
    format!(
        "seen in {} of {of}; at {}{onset}.",
        held.seen,
        attempts(&held.for_it)
    )
}

/// Which attempts were free of it.
pub(crate) fn free_of(held: &FaultFinding) -> String {
    if held.against_it.is_empty() {
        String::from("no attempt was free of it.")
    } else {
        format!("not seen at {}.", attempts(&held.against_it))
    }
}

/// Why a fault that was seen is not concluded.
pub(crate) fn why_not(held: &FaultFinding) -> String {
    let seen = format!("seen in {} of {}", held.seen, held.of);
    match held.verdict {
        Verdict::Concluded => seen,
        Verdict::TooSeldom(percent) => {
            format!("{seen}, which is less than {percent} %. Watch on.")
        }
        Verdict::MayBeChance(least) => {
            format!(
                "{seen}, at {}: it may be chance, {least} are needed. Watch for it again.",
                attempts(&held.for_it)
            )
        }
        Verdict::TooFewAttempts => format!("{seen}, of too few attempts to say."),
    }
}

/// One thing that speaks for a cause or against it.
pub(crate) fn evidence(evidence: &Evidence) -> String {
    match evidence {
        Evidence::Share { fault, percent } => format!("{percent} % of “{}”", fault.name),
        Evidence::Raises {
            look,
            fault,
            points,
        } => format!("{}, {points} more of “{}”", look.name, fault.name),
        Evidence::RulesOut { look, fault } => {
            format!("{} rules it out behind “{}”", look.name, fault.name)
        }
        Evidence::Lacks {
            look,
            fault,
            points,
        } => format!(
            "not seen: {}, which would be {points} more of “{}”",
            look.name, fault.name
        ),
    }
}

/// What a further look would do.
pub(crate) fn further(further: &FurtherLook) -> String {
    format!(
        "It tells “{}” from “{}”: now {} and {}; if so, {} and {}; if not, it stays as it is.",
        further.one.name,
        further.other.name,
        further.now.0,
        further.now.1,
        further.if_true.0,
        further.if_true.1
    )
}

/// What nobody said.
pub(crate) fn question(question: &Question) -> String {
    format!(
        "{} (of {}, as `{}`)",
        question.asks,
        many(question.times.into(), "attempt", "attempts"),
        question.field
    )
}

/// What is said of every finding.
pub(crate) const CAUTION: &str = "This follows from what was written down and from rules that anyone can read. A qualified coach decides; pain is for a clinician.";
