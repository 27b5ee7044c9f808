//! Where what a pack says comes from.

use serde::{Deserialize, Serialize};

/// Something published.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct PublishedSource {
    /// Author, title, year.
    pub(crate) cite: String,
    /// How it was read.
    pub(crate) read: ReadAs,
}

/// How a publication was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum ReadAs {
    /// The whole text.
    Whole,
    /// Its abstract or opening page.
    Abstract,
    /// Only a secondary copy.
    Secondary,
    /// From memory, not read again.
    Memory,
    /// Computed from figures that were read.
    Computed,
}

/// What the trade holds true.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct CommonSource {
    /// What is said, and how widely.
    pub(crate) note: String,
}

/// A value that the method's authors set.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct ExpertSource {
    /// Who set it.
    pub(crate) by: String,
    /// When, as YYYY-MM-DD.
    pub(crate) date: String,
    /// Why this value, where there is more to say.
    pub(crate) note: Option<String>,
}
