//! Ids: one type for each kind of thing that rule files name, so that no id is taken for another.

use std::borrow::Borrow;
use std::fmt;
use std::sync::Arc;

use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::ser::{Serialize, Serializer};

/// The most characters an id may have.
pub const LONGEST_ID: usize = 64;

/// The pattern that every id matches.
pub const ID_PATTERN: &str = "^[a-z][a-z0-9-]*$";

/// The name under which ids announce themselves, so that the located reader can tell a word that
/// is no id from any other bad text. Other readers ignore it.
pub(crate) const ID_MARK: &str = "$drillwright::Id";

/// Words that some YAML readers take for a truth value or for nothing.
const TAKEN_OTHERWISE: [&str; 9] = ["yes", "no", "on", "off", "y", "n", "true", "false", "null"];

/// Why a word is not an id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadId {
    word: String,
    why: Why,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Why {
    Empty,
    TooLong,
    Letters,
    TakenOtherwise,
}

impl BadId {
    /// The word that was refused, shortened if it is very long.
    #[must_use]
    pub fn word(&self) -> &str {
        &self.word
    }
}

impl fmt::Display for BadId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = &self.word;
        match self.why {
            Why::Empty => write!(f, "an id must not be empty"),
            Why::TooLong => write!(
                f,
                "`{word}…` is not an id: it has more than {LONGEST_ID} characters"
            ),
            Why::Letters => write!(
                f,
                "`{word}` is not an id: an id has small letters a to z, digits and hyphens, and \
                 starts with a letter"
            ),
            Why::TakenOtherwise => write!(
                f,
                "`{word}` is not an id: other YAML readers take it for a truth value or for nothing"
            ),
        }
    }
}

impl std::error::Error for BadId {}

fn check(word: &str) -> Result<Arc<str>, BadId> {
    let bad = |why| {
        Err(BadId {
            word: word.chars().take(LONGEST_ID).collect(),
            why,
        })
    };
    // What has no more bytes has no more characters either, and is not counted.
    if word.len() > LONGEST_ID && word.chars().nth(LONGEST_ID).is_some() {
        return bad(Why::TooLong);
    }
    let mut bytes = word.bytes();
    let Some(first) = bytes.next() else {
        return bad(Why::Empty);
    };
    if !first.is_ascii_lowercase()
        || !bytes.all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
    {
        return bad(Why::Letters);
    }
    if TAKEN_OTHERWISE.contains(&word) {
        return bad(Why::TakenOtherwise);
    }
    Ok(Arc::from(word))
}

/// Takes an id from any reader's text; the mark only matters to the located reader.
struct IdVisitor;

impl<'de> Visitor<'de> for IdVisitor {
    type Value = Arc<str>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an id")
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Self::Value, E> {
        check(text).map_err(E::custom)
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, inner: D) -> Result<Self::Value, D::Error> {
        inner.deserialize_str(IdVisitor)
    }
}

macro_rules! id_type {
    ($($(#[doc = $doc:literal])+ $name:ident,)+) => {$(
        $(#[doc = $doc])+
        ///
        /// It matches `[a-z][a-z0-9-]*`, has at most 64 characters, and is none of the words that
        /// some YAML readers take for a truth value or for nothing (`yes`, `no`, `on`, `off`, `y`,
        /// `n`, `true`, `false`, `null`). Ids sort by their text, and cloning one is cheap.
        #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(Arc<str>);

        impl $name {
            /// The id with this text.
            ///
            /// # Errors
            ///
            /// [`BadId`] if the text is not an id.
            pub fn new(text: &str) -> Result<Self, BadId> {
                check(text).map(Self)
            }

            /// The id's text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, concat!(stringify!($name), "({})"), &self.0)
            }
        }

        impl AsRef<str> for $name {
            fn as_ref(&self) -> &str {
                &self.0
            }
        }

        impl Borrow<str> for $name {
            fn borrow(&self) -> &str {
                &self.0
            }
        }

        impl std::str::FromStr for $name {
            type Err = BadId;

            fn from_str(text: &str) -> Result<Self, BadId> {
                Self::new(text)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(&self.0)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                deserializer.deserialize_newtype_struct(ID_MARK, IdVisitor).map(Self)
            }
        }

        #[cfg(feature = "schema")]
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({
                    "type": "string",
                    "pattern": ID_PATTERN,
                    "maxLength": LONGEST_ID,
                })
            }
        }
    )+};
}

id_type! {
    /// The id of a skill: what is trained as a whole and has a competition form or a best.
    SkillId,
    /// The id of a stage: a section of a skill's movement in time.
    StageId,
    /// The id of an axis: what a constraint is about.
    AxisId,
    /// The id of a constraint: one thing an exercise imposes or takes away.
    ConstraintId,
    /// The id of an exercise.
    ExerciseId,
    /// The id of a fault: what can be seen to go wrong.
    FaultId,
    /// The id of a grade of a fault.
    GradeId,
    /// The id of a cause of faults.
    CauseId,
    /// The id of an observation: what else was seen.
    ObservationId,
    /// The id of a quality: what training develops.
    QualityId,
    /// The id of a role: what an exercise is in the week for.
    RoleId,
    /// The id of a part of a session.
    PartId,
    /// The id of a day's effort.
    EffortId,
    /// The id of a phase.
    PhaseId,
    /// The id of a layout of days.
    LayoutId,
    /// The id of a dose.
    DoseId,
    /// The id of a reference that loads are a share of.
    ReferenceId,
    /// The id of a measure: a unit with the pieces that make up a load in it.
    MeasureId,
    /// The id of a piece of equipment.
    PieceId,
    /// The id of a bar.
    BarId,
    /// The id of a source.
    SourceId,
    /// The id of a field of a case.
    CaseFieldId,
    /// The id of a value that a case field may have.
    ValueId,
    /// The id of something that can be said of an attempt.
    AttemptFieldId,
    /// The id of a sign: what an attempt shows.
    SignId,
    /// The id of a judgement: from how much something is concluded.
    JudgementId,
    /// The id of what is asked of a sound week.
    SoundWeekId,
    /// The id of a training block: how several weeks are laid out.
    TrainingBlockId,
    /// The id of a figure of a week.
    WeekFigureId,
    /// The id of what says how much of a log is looked at.
    ReviewWindowId,
    /// The id of a decision that a log may lead to.
    ReviewDecisionId,
    /// The id of what says where faults can be seen.
    SeenWhereId,
    /// The id of what says of which exercises a load is a best.
    BestFromId,
    /// The id of an estimate of a best.
    EstimateId,
    /// The id of a group: a named selector.
    GroupId,
    /// The id of a rule.
    RuleId,
    /// The id of a table of numbers.
    TableId,
    /// The id of a kind of stress.
    StressId,
    /// The id of a mark: something a rule file says of an exercise or constraint for rules to read.
    MarkId,
    /// The id of a factor: a number that something else is multiplied by.
    FactorId,
    /// The id of something that is measured from week to week.
    TrackMeasureId,
    /// The id of a moment that is sought in a track.
    TrackEventId,
    /// The id of how tracks are made smooth.
    TrackFilterId,
    /// The id of a remark on what was measured.
    TrackRemarkId,
    /// The id of a caution.
    CautionId,
    /// The id of a zone of loads.
    ZoneId,
    /// The id of a table of zones of loads: volume by intensity.
    ZoneTableId,
    /// The id of an aspect: what a fault is about, such as path or height.
    AspectId,
    /// The id of a test of the method: a case with what its answer must show.
    RuleTestId,
    /// The id of a variant of a test's case.
    CaseVariantId,
    /// The id of an expectation of a test.
    ExpectationId,
    /// The id of an entry on how exercises are written.
    WordId,
    /// The id of a rule whose kind is not said.
    NamedRuleId,
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::collections::BTreeMap;

    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("a")]
    #[case("hang-snatch-2")]
    #[case("not")]
    #[case("yes-and-no")]
    #[case(&"a".repeat(64))]
    fn takes_ids(#[case] text: &str) {
        let id = SkillId::new(text).unwrap();
        assert_eq!(id.as_str(), text);
        assert_eq!(id.to_string(), text);
        assert_eq!(format!("{id:?}"), format!("SkillId({text})"));
    }

    #[rstest]
    #[case("", "empty")]
    #[case("Snatch", "small letters")]
    #[case("1-a", "starts with a letter")]
    #[case("-a", "starts with a letter")]
    #[case("a b", "hyphens")]
    #[case("é", "small letters")]
    #[case("a_b", "hyphens")]
    #[case("no", "truth value")]
    #[case("y", "truth value")]
    #[case("null", "nothing")]
    #[case(&"a".repeat(65), "64")]
    #[case(&"é".repeat(65), "64")]
    fn refuses_other_words(#[case] text: &str, #[case] wanted: &str) {
        let error = SkillId::new(text).unwrap_err();
        assert!(error.to_string().contains(wanted), "{error}");
        assert!(error.word().chars().count() <= 64);
        let error = serde_json::from_value::<SkillId>(text.into()).unwrap_err();
        assert!(error.to_string().contains(wanted), "{error}");
    }

    #[test]
    fn goes_through_other_readers_as_value_and_as_key() {
        let json = r#"{"leg-strength":"snatch"}"#;
        let map: BTreeMap<QualityId, SkillId> = serde_json::from_str(json).unwrap();
        assert_eq!(map.get("leg-strength").unwrap().as_ref(), "snatch");
        assert_eq!(serde_json::to_string(&map).unwrap(), json);
        let map: BTreeMap<QualityId, SkillId> =
            serde_yaml::from_str("leg-strength: snatch").unwrap();
        assert_eq!(map.len(), 1);
        assert!(serde_json::from_str::<BTreeMap<QualityId, SkillId>>(r#"{"No":"a"}"#).is_err());
    }

    #[cfg(feature = "schema")]
    #[test]
    fn has_a_schema_with_its_pattern() {
        let schema = schemars::schema_for!(SkillId);
        assert_eq!(schema.get("pattern").unwrap(), ID_PATTERN);
        assert_eq!(schema.get("title").unwrap(), "SkillId");
    }
}
