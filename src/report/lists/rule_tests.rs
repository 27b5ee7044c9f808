//! What came of the tests of a method.

use serde::{Deserialize, Serialize};

use crate::explain::{Failed, Instead, TestResult};
use crate::report::json::{FORMAT, PlaceDocument, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::{capital, instead, many, spaced, stood, stood_in_words};

document! {
    /// What came of the tests of a method.
    RuleTestsDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The tests, by id.
        tests: Vec<RuleTestDocument>,
    }
}

document! {
    /// What came of one test.
    RuleTestDocument {
        /// The test.
        test: String,
        /// Where it stands.
        place: PlaceDocument,
        /// What it shows.
        because: String,
        /// How often an expectation held, in each variant that it is about.
        held: u64,
        /// What does not hold.
        failed: Vec<FailedDocument>,
        /// Variants that were not answered within the limit of work; empty for the case itself.
        unanswered: Vec<String>,
    }
}

document! {
    /// An expectation that does not hold.
    FailedDocument {
        /// The word of its kind.
        kind: String,
        /// The expectation.
        expectation: String,
        /// Where it stands.
        place: PlaceDocument,
        /// The variant in which it fails.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        variant: Option<String>,
        /// What stood there instead, in words.
        instead: String,
        /// The items that stood there.
        items: Vec<StandingDocument>,
    }
}

document! {
    /// An item that stood in a week.
    StandingDocument {
        /// Day of the week, 1 (Monday) to 7.
        day: u8,
        /// Part of the session.
        part: String,
        /// What it is in the week for.
        role: String,
        /// The exercise.
        exercise: String,
        /// Sets.
        sets: i64,
        /// Repetitions of one set.
        reps: i64,
        /// Percent of the reference, low and high end.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        percent: Option<(i64, i64)>,
    }
}

/// What came of tests, as a document.
#[must_use]
pub fn rule_tests_document(results: &[TestResult]) -> RuleTestsDocument {
    RuleTestsDocument {
        format: FORMAT,
        tests: results.iter().map(test_document).collect(),
    }
}

fn test_document(result: &TestResult) -> RuleTestDocument {
    RuleTestDocument {
        test: result.test.to_string(),
        place: (&result.place).into(),
        because: result.because.clone(),
        held: u64::try_from(result.held).unwrap_or(u64::MAX),
        failed: result.failed.iter().map(failed_document).collect(),
        unanswered: result
            .unanswered
            .iter()
            .map(|variant| {
                variant
                    .as_ref()
                    .map_or_else(String::new, ToString::to_string)
            })
            .collect(),
    }
}

fn failed_document(failed: &Failed) -> FailedDocument {
    FailedDocument {
        kind: failed.kind.to_owned(),
        expectation: failed.expectation.to_string(),
        place: (&failed.place).into(),
        variant: failed.variant.as_ref().map(ToString::to_string),
        instead: instead(&failed.instead),
        items: items(&failed.instead),
    }
}

fn items(instead: &Instead) -> Vec<StandingDocument> {
    stood(instead)
        .into_iter()
        .map(|standing| StandingDocument {
            day: standing.day,
            part: standing.part.to_string(),
            role: standing.role.to_string(),
            exercise: standing.exercise.to_string(),
            sets: standing.sets,
            reps: standing.reps,
            percent: standing.percent,
        })
        .collect()
}

/// What came of tests, as text: what fails and what was not answered, and how much held.
#[must_use]
pub fn rule_tests_text(results: &[TestResult], colour: bool) -> String {
    let mut page = Page::new(colour);
    for result in results {
        if result.failed.is_empty() && result.unanswered.is_empty() {
            continue;
        }
        page.say(
            0,
            &format!("{} ({})", spaced(result.test.as_str()), result.place),
            Tone::Strong,
        );
        page.say(2, &result.because, Tone::Faint);
        for failed in &result.failed {
            let variant = match &failed.variant {
                Some(variant) => format!(" in {variant}"),
                None => String::new(),
            };
            let (kind, id) = (failed.kind, &failed.expectation);
            page.say(
                2,
                &format!("{kind}.{id}{variant} ({})", failed.place),
                Tone::Plain,
            );
            page.say(4, &capital(&instead(&failed.instead)), Tone::Plain);
            for line in stood_in_words(&failed.instead) {
                page.say(6, &line, Tone::Plain);
            }
        }
        for variant in &result.unanswered {
            let which = match variant {
                Some(variant) => format!("the variant {variant}"),
                None => String::from("the case"),
            };
            page.say(
                2,
                &format!("No answer to {which} within the limit of work"),
                Tone::Plain,
            );
        }
        page.gap();
    }
    let sum = |of: fn(&TestResult) -> usize| {
        i64::try_from(results.iter().map(of).sum::<usize>()).unwrap_or(i64::MAX)
    };
    let tests = many(
        i64::try_from(results.len()).unwrap_or(i64::MAX),
        "test",
        "tests",
    );
    let held = many(
        sum(|result| result.held),
        "expectation holds",
        "expectations hold",
    );
    let failed = many(sum(|result| result.failed.len()), "does not", "do not");
    let silent = sum(|result| result.unanswered.len());
    let silent = if silent == 0 {
        String::new()
    } else {
        format!(", {} without an answer", many(silent, "case", "cases"))
    };
    page.say(
        0,
        &format!("{tests}: {held}, {failed}{silent}."),
        Tone::Plain,
    );
    page.done()
}
