//! The faults that the rules know.

use serde::{Deserialize, Serialize};

use crate::explain::FaultEntry;
use crate::report::json::{FORMAT, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::{spaced, texts};

document! {
    /// All faults of the rules.
    FaultsDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The faults, by id.
        faults: Vec<FaultDocument>,
    }
}

document! {
    /// A fault.
    FaultDocument {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// Skills in which it is seen.
        skills: Vec<String>,
        /// Grades, mildest first.
        grades: Vec<GradeDocument>,
        /// Causes, the largest share first.
        causes: Vec<ShareDocument>,
        /// Why it matters.
        because: String,
    }
}

document! {
    /// A grade of a fault.
    GradeDocument {
        /// Its id.
        id: String,
        /// 1 (mild) to 3.
        severity: u8,
        /// What it looks like.
        says: String,
    }
}

document! {
    /// How much of a fault a cause explains.
    ShareDocument {
        /// The cause.
        cause: String,
        /// Its name.
        name: String,
        /// In percent.
        percent: u8,
    }
}

/// All faults as a document.
#[must_use]
pub fn faults_document(faults: &[FaultEntry]) -> FaultsDocument {
    let all = faults.iter().map(|fault| FaultDocument {
        id: fault.id.to_string(),
        name: fault.name.clone(),
        skills: texts(&fault.skills),
        grades: fault
            .grades
            .iter()
            .map(|grade| GradeDocument {
                id: grade.id.to_string(),
                severity: grade.severity,
                says: grade.says.clone(),
            })
            .collect(),
        causes: fault
            .causes
            .iter()
            .map(|(cause, percent)| ShareDocument {
                cause: cause.id.to_string(),
                name: cause.name.clone(),
                percent: *percent,
            })
            .collect(),
        because: fault.because.clone(),
    });
    FaultsDocument {
        format: FORMAT,
        faults: all.collect(),
    }
}

/// All faults as text in lines of at most 80 columns.
#[must_use]
pub fn faults_text(faults: &[FaultEntry], colour: bool) -> String {
    let mut page = Page::new(colour);
    for (at, fault) in faults.iter().enumerate() {
        if at > 0 {
            page.gap();
        }
        page.say(0, &format!("{}: {}", fault.id, fault.name), Tone::Strong);
        page.hang(2, "seen in ", &texts(&fault.skills).join(", "), Tone::Plain);
        for grade in &fault.grades {
            page.hang(
                2,
                &format!("--grade {}: ", grade.id),
                &grade.says,
                Tone::Plain,
            );
        }
        let causes = fault
            .causes
            .iter()
            .map(|(cause, percent)| format!("{} {percent} %", cause.name));
        page.hang(
            2,
            "behind it: ",
            &causes.collect::<Vec<_>>().join(", "),
            Tone::Plain,
        );
        for (other, look) in &fault.not_to_confuse {
            page.hang(
                2,
                &format!("not {}: ", spaced(other.as_str())),
                look,
                Tone::Faint,
            );
        }
    }
    page.done()
}
