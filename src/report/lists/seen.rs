//! What watched attempts say.

use serde::{Deserialize, Serialize};

use crate::explain::{Evidence, FaultFinding, Findings, Verdict};
use crate::report::json::{FORMAT, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::finding;

document! {
    /// What watched attempts say.
    FindingsDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        rules: String,
        /// The label of the file; it may be empty.
        lifter: String,
        /// What was attempted.
        skill: String,
        /// How many attempts were watched.
        attempts: u16,
        /// Nothing is concluded from fewer.
        attempts_at_least: u16,
        /// Faults that were seen: what is concluded first.
        faults: Vec<FaultFindingDocument>,
        /// Faults that could be seen and were not.
        not_seen: Vec<NotSeenDocument>,
        /// Further looks of which something is known.
        looks: Vec<LookDocument>,
        /// Causes, the most demand first.
        causes: Vec<CauseFindingDocument>,
        /// The look that would tell two causes apart best.
        further: Option<FurtherLookDocument>,
        /// Attempts that went wrong and show no fault.
        unexplained: u16,
        /// What nobody said and what may change what is concluded.
        questions: Vec<QuestionDocument>,
    }
}

document! {
    /// A fault that was seen.
    FaultFindingDocument {
        /// The fault.
        fault: String,
        /// Its name.
        name: String,
        /// What it is about.
        aspect: String,
        /// What is made of it: `concluded`, `too-seldom`, `may-be-chance` or `too-few-attempts`.
        verdict: String,
        /// In which grade.
        grade: String,
        /// 1 to 3.
        severity: u8,
        /// In how many attempts it was seen.
        seen: u16,
        /// In how many it could be.
        of: u16,
        /// The load at which it starts, in percent of the best.
        from_percent: Option<u8>,
        /// Attempts that show it.
        for_it: Vec<AttemptsDocument>,
        /// Attempts that were free of it.
        against_it: Vec<AttemptsDocument>,
    }
}

document! {
    /// Attempts that were alike.
    AttemptsDocument {
        /// In percent of the best, where it is known.
        percent: Option<u8>,
        /// How many.
        times: u16,
    }
}

document! {
    /// A fault that could be seen and was not.
    NotSeenDocument {
        /// The fault.
        fault: String,
        /// Its name.
        name: String,
        /// In how many attempts it could be seen.
        of: u16,
    }
}

document! {
    /// What is known of a further look.
    LookDocument {
        /// The look.
        look: String,
        /// Its name.
        name: String,
        /// Whether it is true; null where too little was seen of it.
        is_true: Option<bool>,
        /// In how many attempts it was true; null where it was said or measured as a whole.
        seen: Option<u16>,
        /// In how many it was looked at.
        of: Option<u16>,
    }
}

document! {
    /// A cause behind what is concluded.
    CauseFindingDocument {
        /// The cause.
        cause: String,
        /// Its name.
        name: String,
        /// How much speaks for it, 0 to 300.
        demand: i64,
        /// What to look for.
        look_for: String,
        /// What speaks for it.
        for_it: Vec<EvidenceDocument>,
        /// What speaks against it.
        against_it: Vec<EvidenceDocument>,
    }
}

document! {
    /// Something that speaks for a cause or against it.
    EvidenceDocument {
        /// The fault of which the cause has a share.
        fault: String,
        /// The look, where it is one that speaks.
        look: Option<String>,
        /// Percent of the fault, or percent points by which the look raises it; null where it rules the cause out.
        percent: Option<u8>,
        /// The same in words.
        says: String,
    }
}

document! {
    /// The look that would tell two causes apart best.
    FurtherLookDocument {
        /// The look.
        look: String,
        /// What to look at.
        says: String,
        /// The cause for which more speaks now.
        one: String,
        /// The other.
        other: String,
        /// What speaks for the two now.
        now: [i64; 2],
        /// What would speak for the two if it is true.
        if_true: [i64; 2],
    }
}

document! {
    /// What nobody said of attempts that show a fault.
    QuestionDocument {
        /// The field in which it is said.
        field: String,
        /// The question.
        asks: String,
        /// The fault that the answer may speak against.
        fault: String,
        /// In how many of its attempts it was not said.
        times: u16,
    }
}

fn attempts(all: &[(Option<u8>, u16)]) -> Vec<AttemptsDocument> {
    let of = |(percent, times): &(Option<u8>, u16)| AttemptsDocument {
        percent: *percent,
        times: *times,
    };
    all.iter().map(of).collect()
}

fn evidence(all: &[Evidence]) -> Vec<EvidenceDocument> {
    let of = |held: &Evidence| {
        let (fault, look, percent) = match held {
            Evidence::Share { fault, percent } => (fault, None, Some(*percent)),
            Evidence::Raises {
                look,
                fault,
                points,
            }
            | Evidence::Lacks {
                look,
                fault,
                points,
            } => (fault, Some(look), Some(*points)),
            Evidence::RulesOut { look, fault } => (fault, Some(look), None),
        };
        EvidenceDocument {
            fault: fault.id.to_string(),
            look: look.map(|look| look.id.to_string()),
            percent,
            says: finding::evidence(held),
        }
    };
    all.iter().map(of).collect()
}

fn of_fault(held: &FaultFinding) -> FaultFindingDocument {
    FaultFindingDocument {
        fault: held.fault.id.to_string(),
        name: held.fault.name.clone(),
        aspect: held.aspect.clone(),
        verdict: held.verdict.as_str().to_owned(),
        grade: held.grade.to_string(),
        severity: held.severity,
        seen: held.seen,
        of: held.of,
        from_percent: held.from_percent,
        for_it: attempts(&held.for_it),
        against_it: attempts(&held.against_it),
    }
}

/// What watched attempts say, as a document.
#[must_use]
pub fn findings_document(findings: &Findings) -> FindingsDocument {
    FindingsDocument {
        format: FORMAT,
        rules: findings.fingerprint.clone(),
        lifter: findings.lifter.clone(),
        skill: findings.skill.to_string(),
        attempts: findings.attempts,
        attempts_at_least: findings.attempts_at_least,
        faults: findings.faults.iter().map(of_fault).collect(),
        not_seen: findings
            .not_seen
            .iter()
            .map(|(fault, of)| NotSeenDocument {
                fault: fault.id.to_string(),
                name: fault.name.clone(),
                of: *of,
            })
            .collect(),
        looks: findings
            .looks
            .iter()
            .map(|held| LookDocument {
                look: held.look.id.to_string(),
                name: held.look.name.clone(),
                is_true: held.is_true,
                seen: held.times.map(|(seen, _)| seen),
                of: held.times.map(|(_, of)| of),
            })
            .collect(),
        causes: findings
            .causes
            .iter()
            .map(|held| CauseFindingDocument {
                cause: held.cause.id.to_string(),
                name: held.cause.name.clone(),
                demand: held.demand,
                look_for: held.look_for.clone(),
                for_it: evidence(&held.for_it),
                against_it: evidence(&held.against_it),
            })
            .collect(),
        further: findings.further.as_ref().map(|held| FurtherLookDocument {
            look: held.look.id.to_string(),
            says: held.says.clone(),
            one: held.one.id.to_string(),
            other: held.other.id.to_string(),
            now: [held.now.0, held.now.1],
            if_true: [held.if_true.0, held.if_true.1],
        }),
        unexplained: findings.unexplained,
        questions: findings
            .questions
            .iter()
            .map(|held| QuestionDocument {
                field: held.field.to_string(),
                asks: held.asks.clone(),
                fault: held.fault.id.to_string(),
                times: held.times,
            })
            .collect(),
    }
}

/// What watched attempts say, as text in lines of at most 80 columns.
#[must_use]
pub fn findings_text(findings: &Findings, colour: bool) -> String {
    let mut page = Page::new(colour);
    page.say(0, &finding::head(findings), Tone::Strong);
    for caution in finding::cautions(findings) {
        page.hang(2, "! ", &caution, Tone::Warning);
    }
    let concluded = |held: &&FaultFinding| held.verdict == Verdict::Concluded;
    if findings.faults.iter().any(|held| concluded(&held)) {
        page.gap();
        page.say(0, "Faults", Tone::Strong);
        for held in findings.faults.iter().filter(concluded) {
            let name = format!("{} ({})", held.fault.name, held.aspect);
            page.say(2, &name, Tone::Plain);
            page.hang(4, "grade: ", &held.says, Tone::Plain);
            page.hang(4, "for: ", &finding::seen_in(findings, held), Tone::Plain);
            page.hang(4, "against: ", &finding::free_of(held), Tone::Plain);
            let asked = findings.questions.iter();
            for question in asked.filter(|question| question.fault == held.fault) {
                page.hang(4, "not said: ", &finding::question(question), Tone::Faint);
            }
        }
    }
    if findings.faults.iter().any(|held| !concluded(&held)) {
        page.gap();
        page.say(0, "Not concluded", Tone::Strong);
        for held in findings.faults.iter().filter(|held| !concluded(held)) {
            page.hang(
                2,
                &format!("{}: ", held.fault.name),
                &finding::why_not(held),
                Tone::Plain,
            );
        }
    }
    if !findings.causes.is_empty() {
        page.gap();
        page.say(0, "What may be behind it", Tone::Strong);
        for held in &findings.causes {
            let name = format!("{}, {} of 300", held.cause.name, held.demand);
            page.say(2, &name, Tone::Plain);
            for (mark, all) in [("for: ", &held.for_it), ("against: ", &held.against_it)] {
                let all: Vec<String> = all.iter().map(finding::evidence).collect();
                if !all.is_empty() {
                    page.hang(4, mark, &all.join("; "), Tone::Plain);
                }
            }
            page.hang(4, "look for: ", &held.look_for, Tone::Faint);
        }
    }
    if let Some(further) = &findings.further {
        page.gap();
        page.say(0, "One more look", Tone::Strong);
        page.say(2, &further.says, Tone::Plain);
        page.say(2, &finding::further(further), Tone::Faint);
    }
    if !findings.not_seen.is_empty() {
        page.gap();
        page.say(0, "Watched for and not seen", Tone::Strong);
        let all = findings.not_seen.iter();
        let all: Vec<String> = all
            .map(|(fault, of)| format!("{} (0 of {of})", fault.name))
            .collect();
        page.say(2, &all.join(", "), Tone::Faint);
    }
    page.gap();
    page.hang(0, "! ", finding::CAUTION, Tone::Warning);
    page.gap();
    page.say(0, "For the case file", Tone::Strong);
    for line in findings_case(findings).lines() {
        page.say(
            2 + line.len() - line.trim_start().len(),
            line.trim_start(),
            Tone::Plain,
        );
    }
    page.done()
}

/// What is concluded as a case file, without anything else that a case says.
#[must_use]
pub fn findings_case(findings: &Findings) -> String {
    let mut text = String::from("format: 1\ncase:\n");
    if !findings.lifter.is_empty() {
        // A label may hold anything; JSON's quotes are YAML's.
        let label = findings.lifter.replace('\\', "\\\\").replace('"', "\\\"");
        text.push_str(&format!("  lifter: \"{label}\"\n"));
    }
    let concluded = findings.faults.iter();
    let concluded: Vec<&FaultFinding> = concluded
        .filter(|held| held.verdict == Verdict::Concluded)
        .collect();
    if concluded.is_empty() {
        text.push_str("  faults: []\n");
    } else {
        text.push_str("  faults:\n");
    }
    for held in concluded {
        text.push_str(&format!("    - fault: {}\n", held.fault.id));
        text.push_str(&format!("      skill: {}\n", findings.skill));
        text.push_str(&format!("      grade: {}\n", held.grade));
        text.push_str(&format!(
            "      seen: {}\n      of: {}\n",
            held.seen, held.of
        ));
        if let Some(percent) = held.from_percent {
            text.push_str(&format!("      from-percent: {percent}\n"));
        }
    }
    let looks = findings
        .looks
        .iter()
        .filter(|look| look.is_true == Some(true));
    let looks: Vec<String> = looks
        .map(|look| format!("    - {}\n", look.look.id))
        .collect();
    if !looks.is_empty() {
        text.push_str("  observed:\n");
        text.extend(looks);
    }
    if !findings.measured.is_empty() {
        text.push_str("  measured:\n");
        for (measure, value) in &findings.measured {
            text.push_str(&format!("    {measure}: {value}\n"));
        }
    }
    text
}
