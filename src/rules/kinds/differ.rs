//! How many exercises two days may share.
//!
//! Scope: two days. For each pair of days, each shared exercise above the bound
//! is one unit missed.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// How many exercises two days may share.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Differ {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// Most exercises that any two days share.
    pub(crate) shared_at_most: At<u8>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
