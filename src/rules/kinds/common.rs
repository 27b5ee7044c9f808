//! What several rule kinds share.

use serde::Deserialize;

/// What a bound is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Per {
    /// Each session by itself.
    Session,
    /// The week as a whole.
    Week,
}

/// What is counted of an item.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Default)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum CountedIn {
    /// Items.
    #[default]
    Items,
    /// Sets.
    Sets,
    /// Repetitions: sets times repetitions, all components of a complex.
    Reps,
    /// Days that have at least one.
    Days,
}

/// Words to be said, by language.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Say {
    /// In English, one or two short sentences.
    pub(crate) en: String,
}
