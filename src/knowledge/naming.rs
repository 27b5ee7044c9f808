//! Written names: free text to exercises.

use crate::base::{Code, Diagnostic, ExerciseId, Place, nearest};
use crate::explain::{Misread, NameReading, misread as told, name_reading};
use crate::graph::naming::{Added, Meant, Naming, Reading, added, name_of};
use crate::report::{misread, misread_help};
use crate::rules::case_names::{Exercises, Unnamed};

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
        let found = |problem| Error::found(ErrorKind::Name, vec![problem], Vec::new());
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
    fn naming(&self) -> Naming<'_> {
        Naming {
            pack: &self.pack,
            graph: &self.graph,
            lexicon: &self.lexicon,
        }
    }

    /// What a text means.
    ///
    /// # Errors
    ///
    /// Its problem, at no place.
    pub(super) fn read_exercise(&self, text: &str) -> Result<Reading, Diagnostic> {
        self.naming().read(text).map_err(|wrong| {
            let told = told(&self.pack, &self.graph, &self.glossary, &wrong);
            self.problem(text, &told)
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
                );
            }
        }
        problem_of(text, wrong)
    }
}

impl Exercises for Inner {
    fn exercise(&self, text: &str) -> Result<Option<ExerciseId>, Unnamed> {
        let unnamed = |problem: Diagnostic| Unnamed {
            code: problem.code,
            what: problem.what,
            help: problem.help,
        };
        let reading = self.read_exercise(text).map_err(unnamed)?;
        match &reading.meant {
            Meant::Listed(at) => Ok(self.graph.ids.get(*at).cloned()),
            meant => Err(Unnamed {
                code: Code::DanglingId,
                what: format!(
                    "`{text}` is “{}”, which the rules do not list",
                    name_of(&self.pack, &self.graph, meant)
                ),
                help: String::from(
                    "name an exercise that is listed, or list this one under `exercises`",
                ),
            }),
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
