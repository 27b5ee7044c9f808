//! Words in which exercises are written down by those who write by hand.

use serde::Deserialize;

use crate::base::At;

use super::Sourced;

/// A word or words of written names, and what they stand for.
///
/// Case, punctuation and hyphens say nothing. `means` is written in the words of names: nothing
/// where the words say nothing, one text where they are short for it, several where they leave open
/// which is meant.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Word {
    /// Ways in which it is written.
    pub(crate) write: Vec<At<String>>,
    /// What it stands for; nothing, one text, or several.
    #[serde(default)]
    pub(crate) means: Vec<At<String>>,
    /// Whether it may also stand between movements that are done in one round.
    #[serde(default)]
    pub(crate) joins: bool,
    pub(crate) source: Sourced,
}
