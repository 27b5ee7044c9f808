//! A base of rules: built once, asked many times, from any number of threads.

mod audit;
mod builder;
mod compose;
mod course;
mod error;
mod fingerprint;
mod list;
mod naming;
mod open;
#[cfg(feature = "render")]
mod render;
mod rest;
mod review;
mod rule_tests;
mod see;
mod solve;
mod track;
mod unlisted;

use std::fmt;
use std::sync::{Arc, OnceLock};

use crate::base::{Diagnostic, Place};
use crate::explain::Glossary;
use crate::graph::naming::Lexicon;
use crate::graph::{Graph, build};
use crate::rules::case_check;
use crate::rules::case_check::{check_tests_with, read_case};
#[cfg(feature = "builtin")]
use crate::rules::formed::pack_of;
use crate::rules::load::load;
use crate::rules::pack::Pack;
#[cfg(feature = "builtin")]
use crate::rules::read::{Form, parse_known};
use crate::rules::read::{Limits, Lost, not_utf8, parse};

pub use crate::plan::flat::OpenModel;
pub use audit::WrittenWeek;
pub use builder::CaseBuilder;
pub use error::{Error, ErrorKind};
pub use open::Aim;
pub use review::TrainingLog;
pub use see::Watched;
pub use solve::Work;
pub use track::{Track, TrackSetup};

/// A checked set of rule files, ready to be asked. Cloning one is cheap and shares it.
#[derive(Clone)]
pub struct KnowledgeBase(Arc<Inner>);

struct Inner {
    pack: Pack,
    graph: Graph,
    /// Made when a name is first read, where it is known to be sound.
    lexicon: OnceLock<Lexicon>,
    glossary: Arc<Glossary>,
    fingerprint: String,
    limits: Limits,
}

impl fmt::Debug for KnowledgeBase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("KnowledgeBase")
            .field("fingerprint", &self.0.fingerprint)
            .finish_non_exhaustive()
    }
}

/// A question about one lifter, checked against the rules that it is asked of.
#[derive(Clone, Debug)]
pub struct Case {
    pub(crate) checked: case_check::Case,
    fingerprint: String,
}

impl Case {
    fn new(checked: case_check::Case, fingerprint: &str) -> Self {
        Self {
            checked,
            fingerprint: fingerprint.to_owned(),
        }
    }

    /// The label of the case; it may be empty.
    #[must_use]
    pub fn lifter(&self) -> &str {
        &self.checked.lifter
    }
}

impl Inner {
    /// All that follows from a pack.
    ///
    /// # Errors
    ///
    /// Every problem of its exercises and words.
    fn of(pack: Pack, fingerprint: String, limits: Limits) -> Result<Self, Vec<Diagnostic>> {
        let mut inner = Self::with_words_known(pack, fingerprint, limits)?;
        inner.lexicon = OnceLock::from(Lexicon::of(&inner.pack, &inner.graph)?);
        Ok(inner)
    }

    /// The same of a pack whose words are known to have no problems.
    ///
    /// # Errors
    ///
    /// Every problem of its exercises.
    fn with_words_known(
        pack: Pack,
        fingerprint: String,
        limits: Limits,
    ) -> Result<Self, Vec<Diagnostic>> {
        let graph = build(&pack)?;
        let glossary = Arc::new(Glossary::of(&pack, &graph));
        Ok(Self {
            pack,
            graph,
            lexicon: OnceLock::new(),
            glossary,
            fingerprint,
            limits,
        })
    }

    fn lexicon(&self) -> &Lexicon {
        self.lexicon
            .get_or_init(|| Lexicon::of(&self.pack, &self.graph).unwrap_or_default())
    }

    /// The built-in method as it was checked beforehand; none where its texts were changed since.
    #[cfg(feature = "builtin")]
    fn beforehand() -> Option<Self> {
        let form = Form::of(crate::builtin::FORM)?;
        let fingerprint = fingerprint::of(crate::builtin::FILES.iter().copied());
        if form.fingerprint != fingerprint {
            return None;
        }
        Self::with_words_known(pack_of(&form)?, fingerprint, Limits::default()).ok()
    }
}

/// The text of a file that was handed in as bytes.
///
/// # Errors
///
/// An error of this kind with the place of what is not UTF-8.
fn text_of<'b>(name: &str, bytes: &'b [u8], kind: ErrorKind) -> Result<&'b str, Error> {
    std::str::from_utf8(bytes).map_err(|error| {
        let place = Place::of_bad_byte(&Arc::from(name), bytes, error.valid_up_to());
        Error::found(kind, vec![not_utf8(place)], Vec::new())
    })
}

impl KnowledgeBase {
    /// The built-in method.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Rules`] if it has problems, which the tests of this library rule out.
    #[cfg(feature = "builtin")]
    pub fn builtin() -> Result<Self, Error> {
        Inner::beforehand().map_or_else(Self::builtin_texts, |inner| Ok(Self(Arc::new(inner))))
    }

    /// The built-in method, read and checked anew.
    #[cfg(feature = "builtin")]
    fn builtin_texts() -> Result<Self, Error> {
        let files = crate::builtin::FILES.iter().copied();
        let files: Vec<_> = files
            .map(|(name, text)| (Arc::from(name), Arc::from(text)))
            .collect();
        let limits = Limits::default();
        // Tests of this library read these texts with the second reader too.
        let pack = load(parse_known, &files, Vec::new(), &limits);
        Self::made(pack, files, limits)
    }

    /// Rules from names and texts of files, in any order; names only serve to say where things are.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Rules`] with every problem of every file.
    pub fn from_texts<N: AsRef<str>, T: AsRef<str>>(
        files: impl IntoIterator<Item = (N, T)>,
    ) -> Result<Self, Error> {
        let files = files
            .into_iter()
            .map(|(name, text)| (Arc::from(name.as_ref()), Arc::from(text.as_ref())));
        Self::from_files(files.collect(), Vec::new(), Limits::default())
    }

    /// Rules from names and bytes of files.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Rules`] with every problem of every file; bytes that are not UTF-8 are one.
    pub fn from_bytes<N: AsRef<str>, B: AsRef<[u8]>>(
        files: impl IntoIterator<Item = (N, B)>,
    ) -> Result<Self, Error> {
        let (mut texts, mut lost) = (Vec::new(), Vec::new());
        for (name, bytes) in files {
            let name: Arc<str> = Arc::from(name.as_ref());
            match std::str::from_utf8(bytes.as_ref()) {
                Ok(text) => texts.push((name, Arc::from(text))),
                Err(error) => {
                    lost.push(Lost::garbled(&name, bytes.as_ref(), error.valid_up_to()));
                }
            }
        }
        Self::from_files(texts, lost, Limits::default())
    }

    /// Rules from all `.yaml` and `.yml` files of a folder and the folders inside it.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Rules`] with every problem, those of reading the folder among them.
    #[cfg(feature = "files")]
    pub fn from_folder(path: impl AsRef<std::path::Path>) -> Result<Self, Error> {
        let limits = Limits::default();
        let held = crate::rules::read::read_folder(path.as_ref(), &limits);
        if held.texts.is_empty() && held.lost.is_empty() {
            let name: Arc<str> = Arc::from(path.as_ref().display().to_string());
            let wrong = Diagnostic::new(
                crate::base::Code::UnreadFile,
                Place::start_of(&name),
                "there is no rule file in this folder",
                "point to the folder that holds the `.yaml` files",
            );
            return Err(Error::found(ErrorKind::Rules, vec![wrong], Vec::new()));
        }
        Self::from_files(
            held.texts
                .into_iter()
                .map(|(name, text)| (name, Arc::from(text)))
                .collect(),
            held.lost,
            limits,
        )
    }

    fn from_files(
        mut files: Vec<(Arc<str>, Arc<str>)>,
        lost: Vec<Lost>,
        limits: Limits,
    ) -> Result<Self, Error> {
        files.sort();
        Self::made(load(parse, &files, lost, &limits), files, limits)
    }

    /// A base of a pack that was read from files.
    fn made(
        pack: Result<Pack, Vec<Diagnostic>>,
        files: Vec<(Arc<str>, Arc<str>)>,
        limits: Limits,
    ) -> Result<Self, Error> {
        let built = pack.and_then(|pack| {
            // Tests of the rules change no answer, so they are no part of what the rules are.
            let is_rules = |name: &Arc<str>| !pack.test_ids().any(|id| id.place.file == *name);
            let of_rules = files.iter().filter(|(name, _)| is_rules(name));
            let fingerprint = fingerprint::of(of_rules.map(|(name, text)| (&**name, &**text)));
            Inner::of(pack, fingerprint, limits)
        });
        let inner = match built {
            Ok(inner) => inner,
            Err(wrong) => return Err(Error::found(ErrorKind::Rules, wrong, files)),
        };
        // Names of exercises are read with the rules whole.
        let base = Self(Arc::new(inner));
        let mut wrong = Vec::new();
        check_tests_with(base.pack(), &*base.0, &mut wrong);
        base.0.check_logs(&mut wrong);
        for test in base.pack().tests.values() {
            base.week_of_test(test, &mut wrong);
        }
        if wrong.is_empty() {
            Ok(base)
        } else {
            wrong.sort();
            wrong.dedup();
            Err(Error::found(ErrorKind::Rules, wrong, files))
        }
    }

    /// The fingerprint of the rules: 16 hexadecimal digits that change with any file name or text,
    /// and with nothing else.
    #[must_use]
    pub fn fingerprint(&self) -> &str {
        &self.0.fingerprint
    }

    /// A case put together in code.
    pub fn case(&self) -> CaseBuilder {
        CaseBuilder::new(self.clone())
    }

    /// A case that goes on from the bytes of a case file, which need not say all that a case must; what the file says
    /// cannot be said again. The name only serves to say where things are.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Case`] with every problem of reading the file; what is wrong with what it says is told when the
    /// case is built.
    pub fn case_on_bytes(&self, name: &str, bytes: &[u8]) -> Result<CaseBuilder, Error> {
        let text = text_of(name, bytes, ErrorKind::Case)?;
        let file = Arc::from(name);
        match case_check::read_case_text(&file, text, &self.0.limits) {
            Ok(held) => Ok(CaseBuilder::on(self.clone(), held, (file, Arc::from(text)))),
            Err(wrong) => {
                let files = vec![(file, Arc::from(text))];
                Err(Error::found(ErrorKind::Case, wrong, files))
            }
        }
    }

    /// A case from the text of a case file; the name only serves to say where things are.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Case`] with every problem of the text.
    pub fn case_from_text(&self, name: &str, text: &str) -> Result<Case, Error> {
        let name: Arc<str> = Arc::from(name);
        match read_case(&name, text, &self.0.pack, &*self.0, &self.0.limits) {
            Ok(case) => Ok(Case::new(case, self.fingerprint())),
            Err(wrong) => Err(Error::found(
                ErrorKind::Case,
                wrong,
                vec![(name, Arc::from(text))],
            )),
        }
    }

    /// A case from the bytes of a case file.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Case`] with every problem; bytes that are not UTF-8 are one.
    pub fn case_from_bytes(&self, name: &str, bytes: &[u8]) -> Result<Case, Error> {
        self.case_from_text(name, text_of(name, bytes, ErrorKind::Case)?)
    }

    pub(crate) fn pack(&self) -> &Pack {
        &self.0.pack
    }

    pub(crate) fn graph(&self) -> &Graph {
        &self.0.graph
    }

    pub(crate) fn glossary(&self) -> &Arc<Glossary> {
        &self.0.glossary
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    /// The built-in rules are read by one reader alone, since this holds of them.
    #[cfg(feature = "builtin")]
    #[test]
    fn the_built_in_rules_are_read_alike_by_two_readers() {
        use super::KnowledgeBase;

        let files = crate::builtin::FILES.iter().copied();
        let twice = KnowledgeBase::from_texts(files).unwrap();
        let once = KnowledgeBase::builtin_texts().unwrap();
        assert_eq!(twice.fingerprint(), once.fingerprint());
        assert_eq!(format!("{:?}", twice.pack()), format!("{:?}", once.pack()));
    }

    /// What was checked beforehand is used, and is what the texts say.
    #[cfg(feature = "builtin")]
    #[test]
    fn the_built_in_rules_come_from_their_form() {
        use super::{Inner, KnowledgeBase};

        let texts = KnowledgeBase::builtin_texts().unwrap();
        let held = Inner::beforehand().unwrap();
        assert_eq!(held.fingerprint, texts.fingerprint());
        assert_eq!(held.glossary, texts.0.glossary);
        assert_eq!(
            format!("{:?}", held.lexicon()),
            format!("{:?}", texts.0.lexicon())
        );
    }
}
