//! What is wrong with rule files, a case, or what was asked.

use serde::{Deserialize, Serialize};

use crate::base::{Candidate, Diagnostic, Place};
use crate::report::json::{FORMAT, PlaceDocument, document, this_format};

document! {
    /// What is wrong with rule files or a case.
    ProblemsDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The problems, by place; none where all is well.
        problems: Vec<ProblemDocument>,
        /// What is no problem and yet may be amiss, by place; absent where there is nothing.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        remarks: Vec<ProblemDocument>,
    }
}

document! {
    /// One problem.
    ProblemDocument {
        /// What kind of problem; stable.
        code: String,
        /// Where it is; absent where it is in no file.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<PlaceDocument>,
        /// What it is.
        what: String,
        /// What would put it right.
        help: String,
        /// Other places that belong to it; absent where there is none.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        also: Vec<AlsoDocument>,
        /// What may be written in place of a name that was not read; absent where there is nothing.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        candidates: Vec<CandidateDocument>,
    }
}

document! {
    /// Another place that belongs to a problem.
    AlsoDocument {
        /// Where it is.
        place: PlaceDocument,
        /// What stands there.
        note: String,
    }
}

document! {
    /// Something that may be written in place of a name that was not read.
    CandidateDocument {
        /// What to write.
        name: String,
        /// The id of the exercise that it names, where it is listed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        id: Option<String>,
    }
}

/// Problems as a document.
#[must_use]
pub fn problems_document(problems: &[Diagnostic]) -> ProblemsDocument {
    ProblemsDocument {
        format: FORMAT,
        problems: listed(problems),
        remarks: Vec::new(),
    }
}

/// Remarks on rules that have no problem as a document.
#[must_use]
pub fn remarks_document(remarks: &[Diagnostic]) -> ProblemsDocument {
    ProblemsDocument {
        format: FORMAT,
        problems: Vec::new(),
        remarks: listed(remarks),
    }
}

fn also((place, note): &(Place, String)) -> AlsoDocument {
    AlsoDocument {
        place: PlaceDocument::from(place),
        note: note.clone(),
    }
}

fn candidate(candidate: &Candidate) -> CandidateDocument {
    CandidateDocument {
        name: candidate.name.clone(),
        id: candidate.id.clone(),
    }
}

fn listed(problems: &[Diagnostic]) -> Vec<ProblemDocument> {
    let all = problems.iter().map(|problem| ProblemDocument {
        code: problem.code.to_string(),
        place: (!problem.place.is_unknown()).then(|| PlaceDocument::from(&problem.place)),
        what: problem.what.clone(),
        help: problem.help.clone(),
        also: problem.also.iter().map(also).collect(),
        candidates: problem.candidates.iter().map(candidate).collect(),
    });
    all.collect()
}

/// One problem that is in no file.
#[must_use]
pub fn problem_document(code: &str, what: &str) -> ProblemsDocument {
    ProblemsDocument {
        format: FORMAT,
        problems: vec![ProblemDocument {
            code: code.to_owned(),
            place: None,
            what: what.to_owned(),
            help: String::new(),
            also: Vec::new(),
            candidates: Vec::new(),
        }],
        remarks: Vec::new(),
    }
}
