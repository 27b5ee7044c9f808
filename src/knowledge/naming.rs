//! Written names: free text to exercises.

use crate::base::{Candidate, Code, Diagnostic, ExerciseId, Place, nearest};
use crate::explain::{Called, Misread, NameReading, misread as told, name_reading};
use crate::graph::naming::{Added, Meant, Naming, Reading, added, name_of};
use crate::report::{misread, misread_help};
use crate::rules::case_names::Exercises;

use super::{Error, ErrorKind, Inner, KnowledgeBase};

impl KnowledgeBase {
    /// Reads the name of an exercise as a coach writes it: its id, or words in any order with the
    /// trade's abbreviations, constraints stacked, movements of a complex with plus signs between
    /// them and, where wanted, how often each is done (`2+1`). Case, punctuation and hyphens say
    /// nothing.
    ///
    /// What is meant is the listed exercise with just these constraints, or, where none is listed,
    /// one that follows from them, with numbers that are worked out as the listed ones' are and a
    /// load that is marked as an estimate.
    ///
    /// # Errors
    ///
    /// [`Misread`]: a word that is not known, an exercise that is missing or one too many, two
    /// constraints that exclude each other, or several readings that are equally good.
    /// [`KnowledgeBase::name_error`] makes an [`Error`] of it that says what to do.
    ///
    /// # Examples
    ///
    /// ```
    /// use drillwright::KnowledgeBase;
    /// use drillwright::explain::Misread;
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let read = rules.read_name("pwr sn no contact").unwrap();
    /// assert_eq!(read.exercise.name, "no-contact power snatch");
    /// let wrong = rules.read_name("pull").unwrap_err();
    /// assert!(matches!(wrong, Misread::NoExercise { could_be } if could_be.len() == 2));
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn read_name(&self, text: &str) -> Result<NameReading, Misread> {
        let inner = &self.0;
        let (pack, graph, glossary) = (&inner.pack, &inner.graph, &inner.glossary);
        let reading = inner.naming().read(text);
        let reading = reading.map_err(|wrong| told(pack, graph, glossary, &wrong))?;
        name_reading(pack, graph, glossary, text, &reading).ok_or(Misread::TooLong)
    }
}

impl KnowledgeBase {
    /// The rules with the exercise that a text means, listed or not.
    pub(super) fn with_named(&self, text: &str) -> Result<Added<'_>, Error> {
        let found =
            |problem: Box<Diagnostic>| Error::found(ErrorKind::Name, vec![*problem], Vec::new());
        let reading = self.0.read_exercise(text).map_err(found)?;
        added(self.pack(), self.graph(), &reading.meant).ok_or_else(|| {
            let what = format!("`{text}` was read and could not be worked out");
            Error::new(ErrorKind::Internal, what)
        })
    }

    /// A name that was not read, as an error that says what to do; `text` is what was written.
    #[must_use]
    pub fn name_error(&self, text: &str, wrong: &Misread) -> Error {
        Error::found(
            ErrorKind::Name,
            vec![self.0.problem(text, wrong)],
            Vec::new(),
        )
    }
}

impl Inner {
    pub(super) fn naming(&self) -> Naming<'_> {
        Naming {
            pack: &self.pack,
            graph: &self.graph,
            lexicon: self.lexicon(),
        }
    }

    /// What a text means.
    ///
    /// # Errors
    ///
    /// Its problem, at no place.
    pub(super) fn read_exercise(&self, text: &str) -> Result<Reading, Box<Diagnostic>> {
        self.naming().read(text).map_err(|wrong| {
            let told = told(&self.pack, &self.graph, &self.glossary, &wrong);
            Box::new(self.problem(text, &told))
        })
    }

    fn problem(&self, text: &str, wrong: &Misread) -> Diagnostic {
        // What looks like an id was most likely meant to be one.
        let no_word = matches!(
            wrong,
            Misread::UnknownWord { .. } | Misread::LeftOver { .. }
        );
        if no_word && text.parse::<ExerciseId>().is_ok() {
            let known = self.graph.ids.iter().map(|(_, id)| id.as_str());
            if let Some(near) = nearest(text, known) {
                return Diagnostic::new(
                    Code::DanglingId,
                    Place::unknown(),
                    format!("the rules have no exercise `{text}`"),
                    format!("did you mean `{near}`?"),
                )
                .with_candidates(vec![Candidate::new(near, Some(near.to_owned()))]);
            }
        }
        problem_of(text, wrong).with_candidates(candidates(text, wrong))
    }
}

impl Exercises for Inner {
    fn exercise(&self, text: &str) -> Result<Option<ExerciseId>, Box<Diagnostic>> {
        let reading = self.read_exercise(text)?;
        match &reading.meant {
            Meant::Listed(at) => Ok(self.graph.ids.get(*at).cloned()),
            meant => Err(Box::new(Diagnostic::new(
                Code::DanglingId,
                Place::unknown(),
                format!(
                    "`{text}` is “{}”, which the rules do not list",
                    name_of(&self.pack, &self.graph, meant)
                ),
                "name an exercise that is listed, or list this one under `exercises`",
            ))),
        }
    }
}

/// A name that was not read, as a problem at no place.
fn problem_of(text: &str, wrong: &Misread) -> Diagnostic {
    let code = match wrong {
        Misread::Ambiguous { .. } | Misread::NoExercise { .. } => Code::Ambiguous,
        Misread::Excluded { .. } | Misread::Elsewhere { .. } | Misread::Several { .. } => {
            Code::Contradiction
        }
        Misread::Count { .. } => Code::BadNumber,
        Misread::TooLong => Code::TooLarge,
        Misread::UnknownWord { .. } | Misread::LeftOver { .. } => Code::UnknownWord,
        Misread::Empty => Code::BadValue,
    };
    Diagnostic::new(
        code,
        Place::unknown(),
        misread(text, wrong),
        misread_help(wrong),
    )
}

/// What may be written in place of a text that was not read.
fn candidates(text: &str, wrong: &Misread) -> Vec<Candidate> {
    let listed = |all: &[Called<ExerciseId>]| {
        let all = all.iter();
        all.map(|called| Candidate::new(called.name.as_str(), Some(called.id.to_string())))
            .collect()
    };
    match wrong {
        Misread::Ambiguous { between } => {
            let all = between.iter();
            all.map(|may_be| {
                let id = may_be.listed.as_ref().map(ToString::to_string);
                Candidate::new(may_be.name.as_str(), id)
            })
            .collect()
        }
        Misread::NoExercise { could_be } => listed(could_be),
        Misread::Several { exercises } => listed(exercises),
        Misread::UnknownWord {
            word,
            nearest: Some(near),
        } => vec![Candidate::new(with_word(text, word.from, near), None)],
        _ => Vec::new(),
    }
}

/// A text with the word that begins after so many characters put right.
fn with_word(text: &str, from: usize, right: &str) -> String {
    let mut put_right: String = text.chars().take(from).collect();
    put_right.push_str(right);
    let in_word = |c: &char| c.is_alphanumeric() || matches!(c, '\'' | '’' | '´' | '`');
    put_right.extend(text.chars().skip(from).skip_while(in_word));
    put_right
}
